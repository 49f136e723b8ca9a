package grader

import (
	"math"

	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// stepTolerance is how far the value of an open step may lie from the worked one.
const stepTolerance = 0.02

// Gaps chooses the steps of a worked answer that are left open for a learner to
// fill: the first so many that have a value and are not the answer itself. Gaps
// open from the first step on, which in circuit analysis did better than from
// the last (Moreno, Reisslein and Ozogul, J. Eng. Educ. 98, 2009).
func Gaps(lines []problem.Line, count int) []int {
	var open []int
	for i := range lines {
		if lines[i].Symbol != "" && lines[i].Answers == "" && len(open) < count {
			open = append(open, i)
		}
	}
	return open
}

// MarkStep marks what was filled into an open step. It costs nothing.
func MarkStep(line *problem.Line, text string) (*Marked, error) {
	one := &Marked{Outcome: Unanswered}
	got, err := si.Read(text, line.Value.Dim.Unit())
	if err != nil {
		return one, (&marker{}).unread(nil, err, one)
	}
	one.Quantity, one.Read = got.Quantity, got.Text
	x := typed{got.Quantity.Value, figures(text, got), got.Figures}
	width := stepTolerance * math.Abs(line.Value.Value)
	if line.Value.Dim == si.Temperature {
		width = 1 // kelvin
	}
	if math.Abs(x.value-line.Value.Value) <= width || x.rounds(line.Value.Value) {
		one.Outcome, one.Because = Right, say("Right.")
		return one, nil
	}
	one.Outcome = Wrong
	one.Because = say("Not yet: put the numbers into the formula of this line once more, without prefixes first.")
	return one, nil
}

// Matches finds the line of a worked answer whose value a response comes to,
// other than the answer's own: the step where it parted. −1 where there is none.
func Matches(lines []problem.Line, answer string, value si.Quantity) int {
	for i := len(lines) - 1; i >= 0; i-- {
		l := &lines[i]
		if l.Symbol == "" || l.Answers == answer || l.Value.Dim != value.Dim {
			continue
		}
		if math.Abs(value.Value-l.Value.Value) <= closeFit*math.Abs(l.Value.Value) {
			return i
		}
	}
	return -1
}
