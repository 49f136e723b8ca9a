package lessons

import (
	"fmt"
	"math"
	"strings"

	"fullyon/engine/read"
	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// taught is the relative change of the value that an answer leans on most, by which
// the answer has to leave its accepted band: a template in which it does not would
// call somebody right who has that value wrong.
const taught = 0.2

// leanSeeds are the draws in which answers and hints are looked at.
const leanSeeds = 12

// checkAuthor proves what an author easily misses in one template: that answers
// depend on what is taught, that hints keep the number to the last, and that the
// template says what it leans on.
func checkAuthor(t *problem.Template, seeds int) read.Errors {
	var errs read.Errors
	told := map[string]bool{}
	tell := func(at read.Pos, key, format string, args ...any) {
		if !told[key] {
			told[key] = true
			errs = append(errs, &read.Error{File: t.File, Line: at.Line, Col: at.Col, Msg: fmt.Sprintf(format, args...)})
		}
	}
	if len(t.Sources) == 0 {
		tell(read.Pos{Line: 1, Col: 1}, "sources", "the template names no source; list under sources what its statements lean on, or ARITHMETIC where all of it is computed")
	}
	for seed := range uint64(min(seeds, leanSeeds)) {
		v, err := t.Draw(seed)
		if err != nil {
			continue // told by Check
		}
		page, err := t.Page(v)
		if err != nil {
			continue
		}
		for i := range t.Questions {
			q := &t.Questions[i]
			a, ok := t.Key(v).Answer(q.ID)
			if !ok || !q.Kind.Numeric() {
				continue
			}
			if lean, moves := insensitive(t, v, q, a); moves != "" {
				tell(q.At, q.ID, "seed %d: question %s accepts %s to %s, so %s may be wrong by 20 %% (which moves the answer by %s) and the answer still counts as right; narrow the tolerance, or ask for what depends on it",
					seed, q.ID, bound(a.Low, a.Value.Dim), bound(a.High, a.Value.Dim), lean, moves)
			}
			for n := range page.Questions[i].Hints - 1 {
				hint, err := t.Hint(v, q, n)
				if err == nil && givesAway(Plain(hint), a) {
					tell(q.At, q.ID+" hint", "seed %d: hint %d of question %s holds the answer %s; only the last hint may", seed, n+1, q.ID, a.Text)
				}
			}
		}
	}
	return errs
}

// insensitive tells on what an answer leans most, and how far a change of it by a
// fifth moves the answer, when the answer stays in its band; empty otherwise.
func insensitive(t *problem.Template, v *problem.Values, q *problem.Question, a *problem.Answer) (lean, moves string) {
	most := 0.0
	for _, l := range t.Leans(v, q) {
		by := math.Abs(l.Share) * taught
		if x, err := si.Parse(l.Text, si.Temperature); err == nil && strings.HasSuffix(l.Text, "C") {
			by = math.Abs(l.Share*x.Value) * taught / 1000 // its share is that of one kelvin, not of a whole
		}
		if a.Value.Dim != si.Temperature {
			by *= math.Abs(a.Value.Value)
		}
		if by > most {
			most, lean = by, l.Text
		}
	}
	if lean == "" || a.Value.Value+most > a.High || a.Value.Value-most < a.Low {
		return "", ""
	}
	return lean, bound(most, a.Value.Dim)
}

func bound(x float64, dim si.Dim) string {
	switch {
	case math.IsInf(x, 1):
		return "no upper end"
	case math.IsInf(x, -1):
		return "no lower end"
	}
	return si.Of(x, dim).Figures(3)
}

// givesAway tells whether a hint holds the answer, in the figures of the key or fewer.
func givesAway(hint string, a *problem.Answer) bool {
	if holdsQuantity(hint, a.Text) {
		return true
	}
	for figures := 2; figures <= 4; figures++ {
		if holdsQuantity(hint, a.Value.Figures(figures)) {
			return true
		}
	}
	return false
}

// holdsQuantity tells whether a printed quantity stands in a text, not as the end or
// the beginning of a longer number.
func holdsQuantity(text, quantity string) bool {
	space := strings.NewReplacer("\u00a0", " ", "\u202f", " ")
	text, quantity = space.Replace(text), space.Replace(quantity)
	if quantity == "" {
		return false
	}
	for from := 0; ; {
		i := strings.Index(text[from:], quantity)
		if i < 0 {
			return false
		}
		i += from
		before, after := text[:i], text[i+len(quantity):]
		longer := before != "" && strings.ContainsRune("0123456789.,", rune(before[len(before)-1])) ||
			after != "" && strings.ContainsRune("0123456789", rune(after[0])) ||
			len(after) > 1 && (after[0] == '.' || after[0] == ',') && after[1] >= '0' && after[1] <= '9'
		unit := !strings.Contains(quantity, " ") && after != "" && !strings.ContainsRune(" .,;:!?)\n", rune(after[0]))
		if !longer && !unit {
			return true
		}
		from = i + 1
	}
}

// checkSkills proves that each skill of a lesson that is there is practised in some
// problem or pause, and can be reached: that what it needs is practised too.
func (c *Course) checkSkills() read.Errors {
	practised := map[string]bool{}
	for _, t := range c.Templates {
		for i := range t.Questions {
			practised[t.Questions[i].Skill] = true
		}
	}
	var errs read.Errors
	tell := func(s *Skill, format string, args ...any) {
		errs = append(errs, &read.Error{File: "skills.yaml", Line: s.at.Line, Col: s.at.Col, Msg: fmt.Sprintf(format, args...)})
	}
	for _, s := range c.Skills {
		if c.lessons[s.Lesson] == nil {
			continue
		}
		if !practised[s.ID] {
			tell(s, "no question practises %s of lesson %d; name it under skill in some template", s.ID, s.Lesson)
			continue
		}
		for _, id := range s.Needs {
			if n := c.skills[id]; n != nil && c.lessons[n.Lesson] != nil && !practised[id] {
				tell(s, "%s cannot be reached: it needs %s, which no question practises", s.ID, id)
			}
		}
	}
	return errs
}
