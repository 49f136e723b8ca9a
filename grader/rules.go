package grader

import "fullyon/grader/problem"

// Rules are the rules of marking that are printed before a problem is begun.
type Rules struct {
	Attempts int       // for a quantity or an order; a choice of any kind has one
	Shares   []float64 // of the marks, by attempt
	HintCost float64   // share of the marks that each opened hint takes
	UnitCost float64   // marks for a wrong prefix, once a problem
}

// DefaultRules: three attempts for full marks, 80 % and 60 %; a tenth for each
// hint; one mark once a problem for a prefix.
var DefaultRules = Rules{Attempts: 3, Shares: []float64{1, 0.8, 0.6}, HintCost: 0.1, UnitCost: 1}

// AttemptsFor is how many attempts a question has.
func (r Rules) AttemptsFor(k problem.Kind) int {
	if k == problem.Choice || k == problem.Stop || k.Paired() {
		return 1
	}
	return r.Attempts
}

// Possible is what a question can still earn at its n-th attempt, counted from
// 0, with so many hints opened.
func (r Rules) Possible(q *problem.Question, n, hints int) float64 {
	return r.Earned(float64(q.Marks), n, hints)
}

// Earned is what full marks come to at the n-th attempt, counted from 0.
func (r Rules) Earned(full float64, n, hints int) float64 {
	if n >= len(r.Shares) {
		return 0
	}
	return tenth(full * max(0, r.Shares[n]-r.HintCost*float64(hints)))
}
