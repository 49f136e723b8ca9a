package class

import (
	"fmt"
	"slices"
	"time"

	"fullyon/grader"
)

// Purpose says what the marks of a set are for.
type Purpose string

// The purposes. This program can compute every answer, and so can everybody who
// has it: marks that must stand alone want paper under supervision.
const (
	Practice   Purpose = "practice"
	Counts     Purpose = "counts"
	Supervised Purpose = "supervised"
)

// Set is a problem set as an instructor wrote it.
type Set struct {
	Title       string
	Purpose     Purpose
	Templates   []string // by id, in order
	PerTemplate int      // draws of each template
	SameDraw    bool     // the same numbers for all
	Shape       bool     // draws of one template are held to one shape, so that they are as hard

	Opens time.Time
	Due   time.Time
	// Late is what an answer after Due is still worth, per day begun: 0.1 takes a
	// tenth a day. 1 or more closes the set at its due time.
	Late float64

	Attempts   int  // of a quantity or an order
	Hints      bool // hints may be opened
	Follow     bool // a later answer is marked from the learner's own earlier one
	AnswersAt  When // when the worked answers open
	Pauses     bool // the safety prompts of the lessons come first
	Blind      bool // whoever marks sees no names
	CarryGiven bool // "give me a value to carry on" is offered
}

// When says when worked answers open.
type When string

// Worked answers open with the question, or once the set is due.
const (
	AtOnce   When = "at once"
	AfterDue When = "after due"
)

// Allowance is what one learner gets beyond the others, in private.
type Allowance struct {
	Due      time.Time // in place of the set's; zero for none
	Attempts int       // more attempts
	NoDelay  bool      // hints open without waiting
	Excused  []string  // templates that do not count
}

// Grace is how long after the due time a submission begun before it still
// arrives in time; it is kept and flagged.
const Grace = 60 * time.Second

// Check tells what is wrong with a set, one sentence each.
func (s *Set) Check() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if s.Title == "" {
		say("Give the set a title.")
	}
	if len(s.Templates) == 0 {
		say("Choose at least one problem.")
	}
	for i, id := range s.Templates {
		if slices.Contains(s.Templates[:i], id) {
			say("%s is chosen twice; ask for two draws of it instead.", id)
		}
	}
	if s.PerTemplate < 1 || s.PerTemplate > 20 {
		say("Ask for 1 to 20 draws of each problem.")
	}
	if !s.Due.IsZero() && !s.Opens.IsZero() && !s.Due.After(s.Opens) {
		say("The set is due before it opens.")
	}
	if s.Late < 0 {
		say("What a late day takes cannot be negative.")
	}
	if s.Attempts < 1 || s.Attempts > 10 {
		say("Allow 1 to 10 attempts.")
	}
	return out
}

// Open tells whether answers are taken at a time.
func (s *Set) Open(now time.Time, a Allowance) bool {
	if now.Before(s.Opens) {
		return false
	}
	due := s.due(a)
	return due.IsZero() || !now.After(due.Add(Grace)) || s.Late < 1 && s.Share(now, a) > 0
}

func (s *Set) due(a Allowance) time.Time {
	if !a.Due.IsZero() {
		return a.Due
	}
	return s.Due
}

// Share is what an answer arriving at a time is worth: 1 until the due time and
// its grace, then less by Late for each day begun, down to nothing.
func (s *Set) Share(at time.Time, a Allowance) float64 {
	due := s.due(a)
	if due.IsZero() || !at.After(due.Add(Grace)) {
		return 1
	}
	days := float64(1 + at.Sub(due)/(24*time.Hour))
	return max(0, 1-days*s.Late)
}

// Flagged tells whether an answer came after the due time but within the grace.
func (s *Set) Flagged(at time.Time, a Allowance) bool {
	due := s.due(a)
	return !due.IsZero() && at.After(due) && !at.After(due.Add(Grace))
}

// Rules are the marking rules of the set for a learner.
func (s *Set) Rules(a Allowance) grader.Rules {
	r := grader.DefaultRules
	r.Attempts = s.Attempts + a.Attempts
	shares := make([]float64, r.Attempts)
	for i := range shares {
		shares[i] = r.Shares[min(i, len(r.Shares)-1)]
	}
	r.Shares = shares
	return r
}

// AnswersOpen tells whether the worked answer of a closed question may be shown.
func (s *Set) AnswersOpen(now time.Time, a Allowance) bool {
	return s.AnswersAt == AtOnce || s.due(a).IsZero() || now.After(s.due(a).Add(Grace))
}

// Excused tells whether a template does not count for a learner.
func (a Allowance) Excuses(template string) bool { return slices.Contains(a.Excused, template) }
