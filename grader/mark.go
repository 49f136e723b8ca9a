package grader

import (
	"fmt"
	"strings"

	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// Mark marks a response to a draw. Questions that the response does not answer
// come out unanswered. Marks are those of a first attempt without hints; see
// Rules for what an attempt is worth.
func Mark(t *problem.Template, v *problem.Values, key *problem.Key, response Response) (*Result, error) {
	r := &Result{Questions: make(map[string]*Marked, len(t.Questions))}
	m := &marker{t: t, v: v, key: key, own: map[string]si.Quantity{}}
	for i := range t.Questions {
		q := &t.Questions[i]
		one, err := m.question(q, response[q.ID])
		if err != nil {
			return nil, err
		}
		r.Questions[q.ID] = one
		r.Marks += one.Marks
		r.Of += q.Marks
	}
	r.Marks = tenth(r.Marks)
	return r, nil
}

// marker marks the questions of one draw in turn and remembers the learner's own
// answers for those that follow.
type marker struct {
	t   *problem.Template
	v   *problem.Values
	key *problem.Key
	own map[string]si.Quantity // answers that were not right, by question
	was string                 // the first of them, as read
}

func (m *marker) question(q *problem.Question, text string) (*Marked, error) {
	one := &Marked{Of: q.Marks, Outcome: Unanswered}
	a, ok := m.key.Answer(q.ID)
	if !ok {
		return nil, fmt.Errorf("the key has no question %q", q.ID)
	}
	if strings.TrimSpace(text) == "" {
		one.Because = say("Nothing was answered yet.")
		return one, nil
	}
	var err error
	switch q.Kind {
	case problem.Quantity, problem.ReadOff:
		err = m.quantity(q, a, text, one)
	case problem.Choice:
		err = m.choice(q, a, text, one)
	case problem.Order:
		err = m.order(q, a, text, one)
	case problem.Verdict, problem.Fault, problem.Part:
		err = m.pair(q, a, text, one)
	case problem.Stop:
		err = m.stop(q, a, text, one)
	default:
		err = fmt.Errorf("question %s is of the kind %q, which cannot be marked", q.ID, q.Kind)
	}
	if one.Outcome == Right {
		one.Marks = float64(q.Marks)
	}
	return one, err
}

// say makes a text of words without values.
func say(format string, args ...any) problem.Text {
	return problem.Text{Markdown: fmt.Sprintf(format, args...)}
}
