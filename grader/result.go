package grader

import (
	"math"

	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// Outcome is what came of one response.
type Outcome string

// The outcomes. Unreadable, ambiguous, wrong_dimension, missing_unit and
// unanswered cost no attempt: the response was not yet an answer.
const (
	Right          Outcome = "right"
	WrongUnit      Outcome = "wrong_unit" // right digits, wrong prefix
	Slip           Outcome = "slip"       // a known mistake
	Wrong          Outcome = "wrong"
	Unreadable     Outcome = "unreadable"
	Ambiguous      Outcome = "ambiguous"
	WrongDimension Outcome = "wrong_dimension"
	MissingUnit    Outcome = "missing_unit"
	Unanswered     Outcome = "unanswered"
)

// Outcomes lists all outcomes.
func Outcomes() []Outcome {
	return []Outcome{Right, WrongUnit, Slip, Wrong, Unreadable, Ambiguous, WrongDimension, MissingUnit, Unanswered}
}

// CostsAttempt tells whether the response counts as an attempt.
func (o Outcome) CostsAttempt() bool {
	switch o {
	case Right, WrongUnit, Slip, Wrong:
		return true
	}
	return false
}

// Response is what was typed or chosen, by question id: a quantity as text,
// `a,c` for a choice, `c,a,b` for an order, `go` or `stop`, and `choice/ground`
// for a verdict, a fault or a part.
type Response map[string]string

// Result is the marking of one response.
type Result struct {
	Marks     float64
	Of        int
	Questions map[string]*Marked
}

// Right tells whether every question is right.
func (r *Result) Right() bool {
	for _, m := range r.Questions {
		if m.Outcome != Right {
			return false
		}
	}
	return true
}

// Marked is the marking of one question.
type Marked struct {
	Outcome  Outcome
	Slip     string       // id of the slip, the wrong option, or the generic slip
	Title    string       // name of the slip, in words
	Skill    string       // what the slip points to
	Read     string       // how the response was read
	Quantity si.Quantity  // the value read; zero where none was
	Marks    float64      // for a first attempt without hints
	Of       int          // marks of the question
	Followed bool         // right from the learner's own earlier answer
	From     string       // that earlier answer, as read
	Because  problem.Text // what was seen, why it cannot be right, what to do next
	Hint     problem.Text // where to look first
	Also     []string     // other slips that the response would fit as well
}

// tenth rounds marks to tenths, half away from zero.
func tenth(x float64) float64 { return math.Round(x*10) / 10 }
