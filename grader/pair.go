package grader

import (
	"slices"
	"strings"

	"fullyon/grader/problem"
)

// pair marks a choice with its ground: a verdict and the check that decides, a
// cause and the measurement that proves it, a part and the check that rules out
// the most tempting other. A right choice on a wrong ground earns half.
func (m *marker) pair(q *problem.Question, a *problem.Answer, text string, one *Marked) error {
	first, ground, both := strings.Cut(text, "/")
	first, ground = strings.TrimSpace(first), strings.TrimSpace(ground)
	if !m.offered(q, &first, &ground) || !both {
		one.Outcome = Unreadable
		one.Because = say("Both halves are asked for: the choice, and what it rests on.")
		return nil
	}
	one.Read = first + "/" + ground
	switch {
	case !slices.Contains(a.Right, first):
		one.Outcome, one.Slip = Slip, first
		return m.sayFirst(q, a, first, one)
	case !slices.Contains(a.Grounds, ground):
		one.Outcome, one.Slip = Slip, ground
		one.Marks = tenth(float64(q.Marks) / 2)
		return m.sayGround(q, a, ground, one)
	}
	one.Outcome = Right
	return m.sayGround(q, a, ground, one)
}

// offered finds both halves among what was offered, whatever their case.
func (m *marker) offered(q *problem.Question, first, ground *string) bool {
	firsts := make([]string, 0, len(q.Options))
	for i := range q.Options {
		firsts = append(firsts, q.Options[i].ID)
	}
	if q.Kind == problem.Part {
		for _, p := range m.v.CandidatesOf(q) {
			firsts = append(firsts, p.Name)
		}
	}
	grounds := make([]string, 0, len(q.Grounds))
	for i := range q.Grounds {
		grounds = append(grounds, q.Grounds[i].ID)
	}
	return among(firsts, first) && among(grounds, ground)
}

func among(list []string, s *string) bool {
	i := slices.IndexFunc(list, func(x string) bool { return strings.EqualFold(x, *s) })
	if i >= 0 {
		*s = list[i]
	}
	return i >= 0
}

// sayFirst says why the choice itself is wrong.
func (m *marker) sayFirst(q *problem.Question, a *problem.Answer, first string, one *Marked) (err error) {
	switch q.Kind {
	case problem.Verdict:
		c, _ := m.v.Checked(a.Grounds[0])
		one.Because = say("%s %s", c.Question, c.Because)
	case problem.Part:
		one.Because = say("%s does not hold. %s", first, m.v.RuledOut(q, first))
	default:
		o := option(q, first)
		one.Skill = o.Skill
		one.Because, err = m.t.SayOption(m.v, o)
	}
	return err
}

// sayGround says why the ground is wrong, or why the answer is right.
func (m *marker) sayGround(q *problem.Question, a *problem.Answer, ground string, one *Marked) (err error) {
	switch {
	case q.Kind == problem.Verdict:
		c, ok := m.v.Checked(ground)
		if !ok {
			one.Because = say("That question does not arise in this circuit.")
			return nil
		}
		one.Because = say("%s %s", c.Question, c.Because)
		if one.Outcome != Right {
			d, _ := m.v.Checked(a.Grounds[0])
			one.Because = say("The verdict is right, on another ground. %s What decides: %s", c.Because, d.Because)
		}
	case q.Kind == problem.Part:
		t := m.v.Tempting(q)
		one.Because = say("%s is ruled out. %s", t, m.v.RuledOut(q, t))
	default:
		for i := range q.Grounds {
			if q.Grounds[i].ID == ground {
				one.Because, err = m.t.SayOption(m.v, &q.Grounds[i])
			}
		}
	}
	return err
}
