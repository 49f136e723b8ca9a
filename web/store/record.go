package store

import (
	"encoding/json"
	"time"
)

// A Learner is somebody who answers. There is no other personal data than a
// name they chose.
type Learner struct {
	ID, Name string
	Made     time.Time
}

// A Source is the text of a problem template, kept because problems made from it
// were handed out.
type Source struct {
	Hash     string // of Text, computed by the caller
	Template string // the template's id
	Text     string
}

// MaxSeed is the largest seed, 2⁵³−1: a number that JSON readers keep exactly.
const MaxSeed = 1<<53 - 1

// NewHanded is a drawn problem about to be handed out.
type NewHanded struct {
	Learner string
	Key     string // made by the caller; one problem for each learner and key
	Source  Source // Text may be empty if this hash was kept before
	Program string // version of the program that drew it
	Seed    uint64 // at most MaxSeed
	Kept    json.RawMessage
	Why     string    // the reason shown to the learner
	Made    time.Time // zero: now
}

// Handed is a problem as it was handed out.
type Handed struct {
	ID, Learner, Key string
	Template, Source string // id, and hash of the source it was drawn from
	Program          string
	Seed             uint64
	Kept             json.RawMessage
	Why              string
	Made             time.Time
}

// A Submission is one press of the button: marked answers to questions of one
// problem.
type Submission struct {
	Handed  string
	Answers []Answer
	// After is the state the answers were marked against (Work.Seen); nil if
	// it does not matter.
	After *Seen
	Made  time.Time // zero: now
}

// An Answer is the text given to one question and what marking made of it.
type Answer struct {
	Key           string // made when the form was rendered, one for each question
	Question      string
	Text, Working string
	Outcome, Slip string
	Marks         float64
	// Try says which of the allowed attempts the answer used up, from 1; 0 if
	// it cost none.
	Try    int
	Result json.RawMessage
}

// An Attempt is an answer as kept.
type Attempt struct {
	ID, Handed, Question, Key string
	Number                    int // counts all answers to the question, from 1
	Try                       int // see Answer.Try
	Helped                    int // hints and answers of this question opened before it
	Text, Working             string
	Outcome, Slip             string
	Marks                     float64
	Result                    json.RawMessage
	Made                      time.Time
}

// What may be opened. All but NotThat and Step are help.
const (
	Hint      = "hint"     // Number: which hint
	ShownKey  = "answer"   // "show me"
	CarryOn   = "carry"    // a value to carry on with in later questions
	NotThat   = "not_that" // "that is not what I did"; Number: the attempt's
	Explained = "reveal"   // a pause explained itself
	Step      = "step"     // an open step of the working was filled in right; Number: its line
)

// NewOpened says what is being opened.
type NewOpened struct {
	Handed, Question string
	What             string // Hint, ShownKey, CarryOn, NotThat, Explained or Step
	Number           int
	Made             time.Time // zero: now
}

// Opened is an opening as kept.
type Opened struct {
	ID, Handed, Question, What string
	Number                     int
	Made                       time.Time
}

// Work is a problem with everything done on it so far.
type Work struct {
	Handed   Handed
	Attempts []Attempt
	Opened   []Opened
}

// Seen counts what had been added to a problem when its answers were marked.
type Seen struct {
	Attempts, Opened int
}

// Seen returns the state that answers marked against w have seen.
func (w Work) Seen() *Seen {
	return &Seen{Attempts: len(w.Attempts), Opened: len(w.Opened)}
}

// A Page selects a part of a history.
type Page struct {
	Since time.Time // made at or after; zero: from the beginning
	After int64     // Seq of the last one seen; 0: from the beginning
	Limit int       // at most so many; 0: 1,000
}

// Past is an attempt as mastery needs it: without working and full result.
type Past struct {
	Seq              int64 // grows with the order of writing
	Attempt, Handed  string
	Template, Source string
	Question, Text   string
	Number, Try      int
	Helped           int
	Outcome, Slip    string
	Marks            float64
	Withdrawn        bool // the learner said "that is not what I did"
	Made             time.Time
}

// Progress sums up one template for one learner.
type Progress struct {
	Template      string
	Handed        int // problems handed out
	Attempts      int // answers given, also those that cost no attempt
	Questions     int // questions with at least one answer that counted
	RightFirstTry int // of these, right at Try 1 with nothing opened before
	Last          time.Time
}

// NewPauseMet says which pause was met with which problem.
type NewPauseMet struct {
	Learner, Pause, Handed string
	Made                   time.Time // zero: now
}

// PauseMet tells when a pause was met last, so that it can be asked again after
// some days.
type PauseMet struct {
	Pause string
	Times int
	Last  time.Time
}
