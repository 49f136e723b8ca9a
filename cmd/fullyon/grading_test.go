package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fullyon/grader"
)

// TestGrading runs every fixture of testdata/grading through the grader and
// through the command.
func TestGrading(t *testing.T) {
	files, err := filepath.Glob("../../testdata/grading/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no fixtures found: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			f, err := readFixture(string(src))
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			for i := range f.cases {
				for _, m := range f.cases[i].run(t) {
					t.Errorf("%s: %s", filepath.Base(file), m)
				}
			}
		})
	}
}

// run marks one response both ways and tells what differs from what is expected.
func (c *gradingCase) run(t *testing.T) []string {
	t.Helper()
	d, err := drawOf(c.template, seed(c.seed))
	if err != nil {
		return []string{fmt.Sprintf("line %d: %v", c.answers[0].line, err)}
	}
	response := grader.Response{}
	args := []string{"mark", c.template, "--seed", strconv.FormatUint(c.seed, 10), "--json"}
	for _, g := range c.answers {
		if _, ok := d.template.Question(g.question); !ok {
			return []string{fmt.Sprintf("line %d: there is no question %q in %s", g.line, g.question, c.template)}
		}
		response[g.question] = g.text
		args = append(args, "--answer", g.question+"="+g.text)
	}
	r, err := grader.Mark(d.template, d.values, d.template.Key(d.values), response)
	if err != nil {
		t.Fatal(err)
	}
	got := fullyon(t, nil, "", args...)
	var said struct {
		Questions map[string]markedJSON `json:"questions"`
	}
	if err := json.Unmarshal([]byte(got.stdout), &said); err != nil {
		t.Fatalf("%v: %v\n%s", args, err, got.stderr)
	}
	if want := map[bool]int{true: fine, false: notRight}[r.Right()]; got.status != want {
		t.Errorf("%v: exit status %d, want %d", args, got.status, want)
	}
	var out []string
	for i := range c.answers {
		g, m := &c.answers[i], r.Questions[c.answers[i].question]
		direct := markedJSON{Outcome: m.Outcome, Slip: m.Slip, Followed: m.Followed, Because: plain(m.Because), Hint: plain(m.Hint)}
		out = append(out, g.differs("grader", direct)...)
		out = append(out, g.differs("fullyon mark", said.Questions[g.question])...)
	}
	return out
}

// differs tells how a marking differs from what is expected.
func (g *given) differs(by string, m markedJSON) []string {
	var out []string
	tell := func(format string, args ...any) {
		out = append(out, fmt.Sprintf("line %d: %s: %s %q: ", g.line, by, g.question, g.text)+fmt.Sprintf(format, args...))
	}
	if m.Outcome != g.outcome || g.slip != "" && m.Slip != g.slip || m.Followed != g.followed {
		tell("%s %s, followed %t (%s); want %s %s, followed %t", m.Outcome, m.Slip, m.Followed, m.Because, g.outcome, g.slip, g.followed)
	}
	for _, words := range g.because {
		if !strings.Contains(m.Because, words) {
			tell("the reason %q lacks %q", m.Because, words)
		}
	}
	for _, words := range g.hint {
		if !strings.Contains(m.Hint, words) {
			tell("the hint %q lacks %q", m.Hint, words)
		}
	}
	return out
}

// TestGradingFixtureMistakes has fixtures that must not be taken.
func TestGradingFixtureMistakes(t *testing.T) {
	const head = "template warm-footlights seed 7\n"
	for _, c := range []struct{ name, src, want string }{
		{"nothing", "# only a remark\n", "line 2: there is no answer in this file"},
		{"unknown word", head + "anwser heat \"1 W\"\n", `line 2: "anwser" is no word of this language; see the README`},
		{"misspelt outcome", head + "answer heat \"1 W\"\n  expect rihgt\n", "line 3: expect needs one of [right wrong_unit slip wrong unreadable ambiguous wrong_dimension missing_unit unanswered]"},
		{"no expect", head + "answer heat \"1 W\"\nanswer heat \"2 W\"\n  expect wrong\n", "line 2: this answer has no expect"},
		{"no expect at the end", head + "answer heat \"1 W\"\n", "line 2: this answer has no expect"},
		{"two expects", head + "answer heat \"1 W\"\n  expect wrong\n  expect right\n", "line 4: the answer has an expect already"},
		{"slip without id", head + "answer heat \"1 W\"\n  expect slip\n", "line 3: write it as: expect slip ID"},
		{"word too many", head + "answer heat \"1 W\"\n  expect wrong by-far\n", `line 3: "by-far" behind expect wrong means nothing`},
		{"no quotes", head + "answer heat 1 W\n", `line 2: text stands in double quotes, as in "2 A"`},
		{"no template", "answer heat \"1 W\"\n", "line 1: an answer stands before any template"},
		{"bad seed", "template warm-footlights seed x\n", `line 1: "x" is no seed`},
		{"bad template line", "template warm-footlights 7\n", "line 1: write it as: template ID seed N"},
		{"expect alone", head + "expect right\n", "line 2: expect stands before any answer"},
		{"because too early", head + "answer heat \"1 W\"\n  because \"x\"\n", "line 3: because stands before expect"},
		{"and too early", head + "and heat \"1 W\"\n", "line 2: and stands before any answer"},
	} {
		_, err := readFixture(c.src)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: the error is %v, want %s", c.name, err, c.want)
		}
	}
}

// TestGradingFixturesCatch has fixtures that read well and expect what is not so.
func TestGradingFixturesCatch(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"wrong called right", "answer heat \"1 mW\"\n  expect right\n", "want right"},
		{"another slip", "answer heat \"346 mW\"\n  expect slip typical\n", "want slip typical"},
		{"another reason", "answer heat \"346 mW\"\n  expect slip cold\n  because \"the moon\"\n", `lacks "the moon"`},
		{"no such question", "answer haet \"1 mW\"\n  expect wrong\n", `no question "haet"`},
		{"not followed", "answer heat \"388 mW\"\n  expect right followed\n", "followed true"},
	} {
		f, err := readFixture("template warm-footlights seed 7\n" + c.src)
		if err != nil {
			t.Fatal(err)
		}
		if got := f.cases[0].run(t); len(got) == 0 || !strings.Contains(got[0], c.want) {
			t.Errorf("%s: the fixture passes or says %q, want %q", c.name, got, c.want)
		}
	}
}
