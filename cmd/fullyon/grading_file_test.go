package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fullyon/grader"
)

// A fixture of testdata/grading; the language stands in the README there.
type (
	fixture struct {
		cases []gradingCase
	}
	gradingCase struct {
		template string
		seed     uint64
		answers  []given
	}
	given struct {
		line           int
		question, text string
		outcome        grader.Outcome
		slip           string
		followed       bool
		because, hint  []string
	}
)

// fixtureError is a mistake in a fixture.
type fixtureError struct {
	line int
	msg  string
}

func (e *fixtureError) Error() string { return fmt.Sprintf("line %d: %s", e.line, e.msg) }

// fixtureReader goes through a fixture line by line.
type fixtureReader struct {
	line     int
	template string
	seed     uint64
	out      fixture
}

// readFixture reads a fixture. It stops at the first mistake.
func readFixture(src string) (*fixture, error) {
	r := &fixtureReader{}
	for l := range strings.SplitSeq(src, "\n") {
		r.line++
		text := strings.TrimSpace(l)
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		word, rest, _ := strings.Cut(text, " ")
		if err := r.verb(word, strings.TrimSpace(rest)); err != nil {
			return nil, err
		}
	}
	if err := r.complete(); err != nil {
		return nil, err
	}
	if len(r.out.cases) == 0 {
		return nil, r.errorf("there is no answer in this file")
	}
	return &r.out, nil
}

func (r *fixtureReader) errorf(format string, args ...any) error {
	return &fixtureError{r.line, fmt.Sprintf(format, args...)}
}

func (r *fixtureReader) verb(word, rest string) error {
	switch word {
	case "template":
		return r.problem(rest)
	case "answer", "and":
		return r.answer(word, rest)
	case "expect", "because", "hint":
		g := r.last()
		if g == nil {
			return r.errorf("%s stands before any answer", word)
		}
		if word == "expect" {
			return r.expect(g, strings.Fields(rest))
		}
		if g.outcome == "" {
			return r.errorf("%s stands before expect", word)
		}
		words, err := r.quoted(rest)
		if word == "because" {
			g.because = append(g.because, words)
		} else {
			g.hint = append(g.hint, words)
		}
		return err
	}
	return r.errorf("%q is no word of this language; see the README", word)
}

// last is the answer that the lines below it speak of.
func (r *fixtureReader) last() *given {
	if len(r.out.cases) == 0 {
		return nil
	}
	c := &r.out.cases[len(r.out.cases)-1]
	return &c.answers[len(c.answers)-1]
}

// complete wants an expectation on the answer before.
func (r *fixtureReader) complete() error {
	if g := r.last(); g != nil && g.outcome == "" {
		return &fixtureError{g.line, "this answer has no expect"}
	}
	return nil
}

func (r *fixtureReader) problem(rest string) error {
	if err := r.complete(); err != nil {
		return err
	}
	f := strings.Fields(rest)
	if len(f) != 3 || f[1] != "seed" {
		return r.errorf("write it as: template ID seed N")
	}
	n, err := strconv.ParseUint(f[2], 10, 53)
	if err != nil {
		return r.errorf("%q is no seed", f[2])
	}
	r.template, r.seed = f[0], n
	return nil
}

func (r *fixtureReader) answer(word, rest string) error {
	question, text, _ := strings.Cut(rest, " ")
	text, err := r.quoted(text)
	g := given{line: r.line, question: question, text: text}
	switch {
	case err != nil:
		return err
	case r.template == "":
		return r.errorf("an answer stands before any template")
	case word == "and" && r.last() == nil:
		return r.errorf("and stands before any answer")
	}
	if err := r.complete(); err != nil {
		return err
	}
	if word == "answer" {
		r.out.cases = append(r.out.cases, gradingCase{r.template, r.seed, []given{g}})
		return nil
	}
	c := &r.out.cases[len(r.out.cases)-1]
	c.answers = append(c.answers, g)
	return nil
}

func (r *fixtureReader) quoted(s string) (string, error) {
	if text, err := strconv.Unquote(strings.TrimSpace(s)); err == nil && strings.HasPrefix(strings.TrimSpace(s), `"`) {
		return text, nil
	}
	return "", r.errorf("text stands in double quotes, as in \"2 A\"")
}

func (r *fixtureReader) expect(g *given, words []string) error {
	if g.outcome != "" {
		return r.errorf("the answer has an expect already")
	}
	if len(words) == 0 || !slices.Contains(grader.Outcomes(), grader.Outcome(words[0])) {
		return r.errorf("expect needs one of %v", grader.Outcomes())
	}
	outcome := grader.Outcome(words[0])
	switch {
	case outcome == grader.Slip && len(words) == 2:
		g.slip = words[1]
	case outcome == grader.Right && len(words) == 2 && words[1] == "followed":
		g.followed = true
	case outcome == grader.Slip:
		return r.errorf("write it as: expect slip ID")
	case len(words) > 1:
		return r.errorf("%q behind expect %s means nothing", words[1], outcome)
	}
	g.outcome = outcome
	return nil
}
