package grader

import (
	"slices"
	"strings"

	"fullyon/grader/problem"
)

// ids reads `a, c` as a list of ids; an id that is not among the options is told.
func (m *marker) ids(q *problem.Question, text string, one *Marked) ([]string, bool) {
	var got []string
	for _, id := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		id = strings.ToLower(id)
		if !slices.ContainsFunc(q.Options, func(o problem.Option) bool { return o.ID == id }) {
			one.Outcome = Unreadable
			one.Because = say("%q is none of the options; write their letters with commas between.", beginning(id))
			return nil, false
		}
		if !slices.Contains(got, id) {
			got = append(got, id)
		}
	}
	if len(got) == 0 {
		one.Outcome = Unreadable
		one.Because = say("No option was named; write the letters with commas between.")
		return nil, false
	}
	one.Read = strings.Join(got, ",")
	return got, true
}

// beginning keeps so much of a text as is worth telling again.
func beginning(s string) string {
	const told = 40
	if r := []rune(s); len(r) > told {
		return string(r[:told]) + "…"
	}
	return s
}

func option(q *problem.Question, id string) *problem.Option {
	i := slices.IndexFunc(q.Options, func(o problem.Option) bool { return o.ID == id })
	return &q.Options[i]
}

// choice marks one option, or several. A wrong option tells why it tempts and is
// wrong; of several, the first wrong or forgotten one is told, and each right
// one earns its share less the wrong ones.
func (m *marker) choice(q *problem.Question, a *problem.Answer, text string, one *Marked) error {
	got, ok := m.ids(q, text, one)
	if !ok {
		return nil
	}
	if !q.Several && len(got) > 1 {
		one.Outcome = Unreadable
		one.Because = say("Only one option can be taken here.")
		return nil
	}
	hits, wrong := 0, ""
	falses := 0
	for _, id := range got {
		if slices.Contains(a.Right, id) {
			hits++
			continue
		}
		falses++
		if wrong == "" {
			wrong = id
		}
	}
	tell := wrong
	switch {
	case wrong != "":
		one.Outcome, one.Slip = Slip, wrong
	case hits < len(a.Right):
		one.Outcome = Wrong
		one.Because = say("What you took is right, and something is still missing.")
	default:
		one.Outcome = Right
		tell = a.Right[0]
	}
	if q.Several && one.Outcome != Right {
		one.Marks = tenth(float64(q.Marks) * max(0, float64(hits-falses)) / float64(len(a.Right)))
	}
	if tell == "" {
		return nil
	}
	o := option(q, tell)
	one.Skill = o.Skill
	because, err := m.t.SayOption(m.v, o)
	one.Because = because
	return err
}

// order marks a sequence: every pair that matters must stand in its order.
func (m *marker) order(q *problem.Question, a *problem.Answer, text string, one *Marked) error {
	got, ok := m.ids(q, text, one)
	if !ok {
		return nil
	}
	if len(got) != len(q.Options) {
		one.Outcome = Unreadable
		one.Because = say("There are %d steps, and you put %d in order. Give each of them a place.", len(q.Options), len(got))
		return nil
	}
	at := func(id string) int { return slices.Index(got, id) }
	for i := range q.Before {
		b := &q.Before[i]
		if at(b.First) > at(b.Then) {
			one.Outcome, one.Slip = Slip, b.Then+"-before-"+b.First
			because, err := m.t.SayBefore(m.v, b)
			one.Because = because
			return err
		}
	}
	if len(q.Before) == 0 {
		for i, id := range a.Right {
			if got[i] != id {
				one.Outcome = Wrong
				one.Because = say("The first %d stand right; the next one is not in its place.", i)
				if i == 0 {
					one.Because = say("The first step is not the first.")
				}
				return nil
			}
		}
	}
	one.Outcome, one.Because = Right, say("Right.")
	return nil
}

// stop marks go or stop.
func (m *marker) stop(q *problem.Question, a *problem.Answer, text string, one *Marked) error {
	got := strings.ToLower(strings.TrimSpace(text))
	if got != "go" && got != "stop" {
		one.Outcome, one.Because = Unreadable, say("Answer go or stop.")
		return nil
	}
	one.Read = got
	because, err := m.t.SayOption(m.v, &q.Options[0])
	one.Because = because
	if got == a.Text {
		one.Outcome = Right
	} else {
		one.Outcome, one.Slip = Slip, got
	}
	return err
}
