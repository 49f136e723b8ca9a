// Package learner joins what was kept of somebody's work with what the course
// teaches: the tries from which mastery is computed, and what comes next. The
// pages and the terminal both stand on it; it knows neither.
package learner

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"fullyon/grader"
	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"
)

// page is how many attempts are read at a time.
const page = 1000

// History reads all attempts of a learner, oldest first.
func History(ctx context.Context, s store.Store, id string) ([]store.Past, error) {
	var all []store.Past
	for {
		p := store.Page{Limit: page}
		if len(all) > 0 {
			p.After = all[len(all)-1].Seq
		}
		some, err := s.History(ctx, id, p)
		if err != nil {
			return nil, err
		}
		all = append(all, some...)
		if len(some) < page {
			return all, nil
		}
	}
}

// Tries picks from a history what speaks of mastery: of each question of each
// problem the first attempt that counted. A wrong prefix that was corrected at
// the next attempt is forgiven. An answer after an opened hint is not right.
// Pauses, and questions that the course no longer has, are left out.
func Tries(c *lessons.Course, history []store.Past) []mastery.Try {
	type place struct{ handed, question string }
	at := map[place]int{} // where the question's try stands in out
	forgiven := map[place]bool{}
	var out []mastery.Try
	for i := range history {
		p := &history[i]
		t, err := c.Template(p.Template)
		if err != nil || t.Pause || p.Try < 1 {
			continue
		}
		q, ok := t.Question(p.Question)
		if !ok {
			continue
		}
		here := place{p.Handed, p.Question}
		try := mastery.Try{
			Skill: q.Skill, Template: t.ID, Task: t.Task, Draw: p.Handed, Guess: Guess(q),
			Right: p.Outcome == string(grader.Right) && p.Helped == 0, At: p.Made,
		}
		n, seen := at[here]
		switch {
		case !seen:
			at[here] = len(out)
			forgiven[here] = p.Outcome == string(grader.WrongUnit)
			out = append(out, try)
		case forgiven[here]:
			forgiven[here] = false
			out[n] = try
		}
	}
	return out
}

// mostGuess bounds how much a right answer may count as luck: beyond it the
// equations of knowledge tracing lose their meaning.
const mostGuess = 0.3

// Guess is how likely a question is answered right by chance.
func Guess(q *problem.Question) float64 {
	g := 0.02 // a free number
	switch n := float64(len(q.Options)); {
	case q.Kind == problem.Order:
		g = 1 / math.Gamma(n+1)
	case q.Kind == problem.Choice && q.Several:
		g = 1 / (math.Exp2(n) - 1)
	case q.Kind == problem.Choice:
		g = 1 / n
	case q.Kind == problem.Stop:
		g = 0.5
	case q.Kind == problem.Part:
		g = 0.25 / float64(len(q.Grounds))
	case q.Kind.Paired():
		g = 1 / (n * float64(len(q.Grounds)))
	}
	return min(g, mostGuess)
}

// Goals are the skills that some problem exercises, in the order of the path.
func Goals(c *lessons.Course) []mastery.Goal {
	exercised := map[string]bool{}
	for _, t := range c.Templates {
		if t.Pause {
			continue
		}
		for i := range t.Questions {
			exercised[t.Questions[i].Skill] = true
		}
	}
	var out []mastery.Goal
	for _, s := range c.Skills {
		if !exercised[s.ID] {
			continue
		}
		g := mastery.Goal{ID: s.ID, Title: strings.TrimPrefix(s.Title, "I can ")}
		for _, n := range s.Needs {
			if exercised[n] {
				g.Needs = append(g.Needs, n)
			}
		}
		out = append(out, g)
	}
	return out
}

// Items are the problems to choose from, each with the skills that its questions exercise.
func Items(c *lessons.Course) []mastery.Item {
	var out []mastery.Item
	for _, t := range c.Templates {
		if t.Pause {
			continue
		}
		i := mastery.Item{ID: t.ID, Task: t.Task, Level: t.Level}
		for j := range t.Questions {
			i.Skills = append(i.Skills, t.Questions[j].Skill)
		}
		out = append(out, i)
	}
	return out
}

// Plan is how somebody stands and what comes next.
type Plan struct {
	Goals []mastery.Goal
	Tries []mastery.Try
	State mastery.State
	Next  mastery.Choice
	Any   bool // whether there is a next one
}

// PlanFor computes the plan from a history.
func PlanFor(c *lessons.Course, history []store.Past, now time.Time) *Plan {
	p := &Plan{Goals: Goals(c), Tries: Tries(c, history)}
	p.State = mastery.Of(p.Tries, mastery.Default)
	p.Next, p.Any = mastery.Next(p.Goals, Items(c), p.Tries, p.State, now)
	return p
}

// Within is the plan's choice among the problems of one skill or one lesson; false where it has none.
func (p *Plan) Within(c *lessons.Course, now time.Time, keep func(*problem.Template, string) bool) (mastery.Choice, bool) {
	var goals []mastery.Goal
	var items []mastery.Item
	for _, i := range Items(c) {
		t, err := c.Template(i.ID)
		if err != nil {
			continue
		}
		var skills []string
		for _, s := range i.Skills {
			if keep(t, s) {
				skills = append(skills, s)
			}
		}
		if skills != nil {
			i.Skills = skills
			items = append(items, i)
		}
	}
	for _, g := range p.Goals {
		for _, i := range items {
			if slices.Contains(i.Skills, g.ID) {
				g.Needs = nil // who asks for a skill gets it, whatever comes before
				goals = append(goals, g)
				break
			}
		}
	}
	return mastery.Next(goals, items, p.Tries, p.State, now)
}

// Without is the plan's choice with some problems left out; false where none is left.
func (p *Plan) Without(c *lessons.Course, now time.Time, skipped map[string]bool) (mastery.Choice, bool) {
	items := slices.DeleteFunc(Items(c), func(i mastery.Item) bool { return skipped[i.ID] })
	return mastery.Next(p.Goals, items, p.Tries, p.State, now)
}

// Gaps is how many steps of the working are left open for somebody who stands so.
func Gaps(s *mastery.Skill) int {
	if s == nil || s.Tries < 2 {
		return 1
	}
	return 2
}
