package engine

// Verdict says how a check or a whole report came out. The order is
// holds < tight < unknown < fails; a refused circuit is not checked at all.
type Verdict string

const (
	// Holds: inside the limit with the customary margin.
	Holds Verdict = "holds"
	// Tight: inside the limit, but inside the customary margin too.
	Tight Verdict = "tight"
	// Unknown: a rating is missing. It never counts as holding.
	Unknown Verdict = "unknown"
	// Fails: beyond the limit.
	Fails Verdict = "fails"
	// Refused: outside extra-low voltage; nothing is sized.
	Refused Verdict = "refused"
)

// rank orders verdicts from good to bad. What is none of the known words ranks worst.
func (v Verdict) rank() int {
	switch v {
	case Holds:
		return 0
	case Tight:
		return 1
	case Unknown:
		return 2
	case Fails:
		return 3
	}
	return 4
}

// Worse tells whether v is worse than w.
func (v Verdict) Worse(w Verdict) bool { return v.rank() > w.rank() }

// OK tells whether a circuit may be built as far as this verdict goes: holds or tight.
func (v Verdict) OK() bool { return v == Holds || v == Tight }
