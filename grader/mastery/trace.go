// Package mastery says what a learner can do, from first attempts alone: Bayesian
// knowledge tracing per skill, growing intervals after which a skill returns, and
// what comes next and why. It is pure: the same attempts in the same order give
// the same state, so that a state is never stored, only computed.
//
// Grounds: A. T. Corbett and J. R. Anderson, Knowledge tracing: modeling the
// acquisition of procedural knowledge, UMUAI 4 (1995), for the equations; a free
// numeric answer can hardly be guessed, so one right answer would look like
// mastery already, and mastery therefore asks for three first-try successes as
// well, one of them on a later day. Return intervals: Cepeda and others,
// Psychological Science 19 (2008): a tenth to a fifth of the time to be bridged.
package mastery

// Params are the four parameters of knowledge tracing for one skill.
type Params struct {
	Known float64 // L0: known before the first attempt
	Learn float64 // T: learnt at one attempt
	Guess float64 // G: right without knowing
	Slip  float64 // S: wrong in spite of knowing
}

// Default parameters: those of the early tutors, but for the guess, which each
// attempt brings along (from memory; Known and Learn are not fitted).
var Default = Params{Known: 0.3, Learn: 0.1, Guess: 0.02, Slip: 0.1}

// Right is the probability of a right answer when the skill is known with probability l.
//
//	P = L(1 − S) + (1 − L)G
func (p Params) Right(l float64) float64 { return l*(1-p.Slip) + (1-l)*p.Guess }

// Posterior is the probability that the skill was known, given the answer.
//
//	right: L(1 − S) / P(right)      wrong: L S / P(wrong)
func (p Params) Posterior(l float64, right bool) float64 {
	if right {
		return l * (1 - p.Slip) / p.Right(l)
	}
	return l * p.Slip / (1 - p.Right(l))
}

// Next is the probability after the attempt, with what was learnt at it.
//
//	L' = posterior + (1 − posterior)T
func (p Params) Next(l float64, right bool) float64 {
	q := p.Posterior(l, right)
	return q + (1-q)*p.Learn
}
