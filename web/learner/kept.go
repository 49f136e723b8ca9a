package learner

import (
	"encoding/json"
	"math"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
)

// Help is what stands beside a problem until a skill has grown: a whole example
// with other numbers, or the working with steps left open.
type Help struct {
	Support mastery.Support `json:"support,omitempty"`
	Gaps    int             `json:"gaps,omitempty"` // steps left open
}

// ExampleSeed is the seed of the example beside a problem: other numbers, the
// same whenever the problem is looked at.
func ExampleSeed(seed uint64) uint64 { return (seed + 1) % (problem.MaxSeed + 1) }

// Kept is what is kept of a draw: enough to prove later that it is the same.
type Kept struct {
	Given   map[string]string `json:"given"`
	Shape   string            `json:"shape,omitempty"`
	Part    string            `json:"part,omitempty"`
	Answers []KeptAnswer      `json:"answers"`
	Worked  []string          `json:"worked,omitempty"`
	Help
}

// KeptAnswer is the key of one question as it was when the draw was handed out.
type KeptAnswer struct {
	ID    string            `json:"id"`
	Text  string            `json:"text"`
	Low   *float64          `json:"low,omitempty"` // absent where the range is open
	High  *float64          `json:"high,omitempty"`
	Slips map[string]string `json:"slips,omitempty"`
}

// Keep is the record of a draw, with the help that stands beside it.
func Keep(v *problem.Values, beside Help) (json.RawMessage, error) {
	t := v.Template
	k := Kept{Given: v.Given(), Shape: v.Shape, Help: beside}
	if v.Part != nil {
		k.Part = v.Part.Name
	}
	for i := range t.Key(v).Answers {
		a := &t.Key(v).Answers[i]
		one := KeptAnswer{ID: a.ID, Text: a.Text}
		if q, ok := t.Question(a.ID); ok && q.Kind.Numeric() {
			one.Low, one.High = finite(a.Low), finite(a.High)
		}
		for j := range a.Slips {
			if one.Slips == nil {
				one.Slips = map[string]string{}
			}
			one.Slips[a.Slips[j].Slip.ID] = a.Slips[j].Text
		}
		k.Answers = append(k.Answers, one)
	}
	lines, err := t.Worked(v)
	if err != nil {
		return nil, err
	}
	for i := range lines {
		k.Worked = append(k.Worked, lines[i].Shown)
	}
	return json.Marshal(k)
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// Differs tells whether a draw is another one than was handed out.
func Differs(v *problem.Values, was *Kept) bool {
	given := v.Given()
	if len(given) != len(was.Given) {
		return true
	}
	for name, text := range given {
		if was.Given[name] != text {
			return true
		}
	}
	answers := v.Template.Key(v).Answers
	if len(answers) != len(was.Answers) {
		return true
	}
	for i := range answers {
		if answers[i].ID != was.Answers[i].ID || answers[i].Text != was.Answers[i].Text {
			return true
		}
	}
	return false
}

// WorkOf tells which lines of the worked answer belong to question i: those up to
// the line that answers it, from the line after the one that answers an earlier
// question. What no question claims stands under the last.
func WorkOf(t *problem.Template, i int, lines []problem.Line) (from, to int) {
	ends := make([]int, len(t.Questions))
	at := 0
	for j := range t.Questions {
		for n := at; n < len(lines); n++ {
			if lines[n].Answers == t.Questions[j].ID {
				at = n + 1
			}
		}
		ends[j] = at
	}
	ends[len(ends)-1] = len(lines)
	if i > 0 {
		from = ends[i-1]
	}
	return from, ends[i]
}
