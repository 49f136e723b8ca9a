package lessons

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"fullyon/engine/read"
	"fullyon/grader/problem"
)

// What a lesson and a template have to keep to.
const (
	minWords     = 400
	maxWords     = 900
	minTemplates = 4    // of a lesson, its pauses not counted
	minDistinct  = 200  // draws that differ …
	ofDraws      = 2000 // … of so many
	textSeeds    = 5    // draws whose texts are rendered and looked at
)

// Check proves what Load cannot see: templates over seeds 0 … seeds−1 (rules 1
// to 8 of problem.Template.Check), that their draws differ and their texts can
// be rendered, the length of lessons and how hard they read, and that skills can be
// reached.
// A lesson that is not written yet is not missed.
func (c *Course) Check(seeds int) read.Errors {
	errs := c.checkTemplates(seeds)
	for _, l := range c.Lessons {
		errs = append(errs, c.checkLesson(l)...)
	}
	errs = append(errs, c.checkSkills()...)
	slices.SortStableFunc(errs, func(a, b *read.Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return errs
}

// checkTemplates proves the templates, two at a time.
func (c *Course) checkTemplates(seeds int) read.Errors {
	found := make([]read.Errors, len(c.Templates))
	next := make(chan int)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for i := range next {
				found[i] = checkTemplate(c.Templates[i], seeds)
			}
		})
	}
	for i := range c.Templates {
		next <- i
	}
	close(next)
	wg.Wait()
	return slices.Concat(found...)
}

func checkTemplate(t *problem.Template, seeds int) read.Errors {
	errs := t.Check(seeds)
	if n := t.Distinct(ofDraws); !t.Pause && len(errs) == 0 && n < minDistinct {
		errs = append(errs, &read.Error{File: t.File, Line: 1, Col: 1, Msg: fmt.Sprintf(
			"only %d of %d draws differ; at least %d are wanted, so draw from wider ranges or longer lists", n, ofDraws, minDistinct)})
	}
	errs = append(errs, checkAuthor(t, seeds)...)
	told := map[string]bool{}
	for seed := range uint64(min(seeds, textSeeds)) {
		texts, err := textsOf(t, seed)
		if err != nil {
			continue // told by Check
		}
		for _, text := range texts {
			for _, m := range mistakes(text) {
				if !told[m.msg] {
					told[m.msg] = true
					at := placeOf(t.Text, m.quote)
					errs = append(errs, &read.Error{File: t.File, Line: at.Line, Col: at.Col, Msg: m.msg})
				}
			}
		}
	}
	return errs
}

// textsOf are all texts that a learner may meet in a draw.
func textsOf(t *problem.Template, seed uint64) ([]problem.Text, error) {
	v, err := t.Draw(seed)
	if err != nil {
		return nil, err
	}
	page, err := t.Page(v)
	if err != nil {
		return nil, err
	}
	texts := []problem.Text{page.Situation}
	add := func(text problem.Text, e error) {
		texts = append(texts, text)
		err = cmp.Or(err, e)
	}
	for i := range t.Questions {
		q := &t.Questions[i]
		asked := &page.Questions[i]
		texts = append(texts, asked.Ask, asked.Label)
		for n := range asked.Hints {
			add(t.Hint(v, q, n))
		}
		for j := range q.Slips {
			add(t.SaySlip(v, &q.Slips[j]))
		}
		for j := range q.Options {
			add(t.OptionText(v, &q.Options[j]))
			add(t.SayOption(v, &q.Options[j]))
		}
		for j := range q.Before {
			add(t.SayBefore(v, &q.Before[j]))
		}
	}
	lines, e := t.Worked(v)
	for i := range lines {
		add(lines[i].Say, nil)
	}
	return texts, cmp.Or(err, e)
}

// placeOf finds a piece of text in a file; the file's beginning when it is not there as such.
func placeOf(src []byte, quote string) read.Pos {
	s := string(src)
	i := strings.Index(s, quote)
	if quote == "" || i < 0 {
		return read.Pos{Line: 1, Col: 1}
	}
	return read.Pos{Line: 1 + strings.Count(s[:i], "\n"), Col: 1 + len([]rune(s[strings.LastIndexByte(s[:i], '\n')+1:i]))}
}

// checkLesson proves the length of a lesson and what belongs to it.
func (c *Course) checkLesson(l *Lesson) read.Errors {
	var errs read.Errors
	tell := func(at read.Pos, format string, args ...any) {
		errs = append(errs, &read.Error{File: l.File, Line: at.Line, Col: at.Col, Msg: fmt.Sprintf(format, args...)})
	}
	if l.Words < minWords || l.Words > maxWords {
		tell(l.at.body, "the lesson has %d words; %d to %d are wanted", l.Words, minWords, maxWords)
	}
	if g := Grade(l.prose); g > maxGrade {
		tell(l.at.body, "the text reads like one for school year %.1f; at most %v is wanted, so make sentences and words shorter", g, maxGrade)
	}
	if len(l.Headings) < 2 {
		tell(l.at.body, "the lesson has %d headings; part it with two or more", len(l.Headings))
	}
	if n := len(c.TemplatesOf(l.Number)); n < minTemplates {
		tell(l.at.title, "the lesson has %d problem templates; it needs %d or more", n, minTemplates)
	}
	c.checkFigures(l, tell)
	own := map[string]bool{}
	for _, id := range l.Skills {
		own[id] = true
	}
	for _, s := range c.SkillsOf(l.Number) {
		if !own[s.ID] {
			tell(l.at.title, "skills.yaml says that this lesson teaches %s; name it under skills", s.ID)
		}
	}
	return errs
}
