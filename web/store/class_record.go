package store

import (
	"time"

	"fullyon/grader/class"
)

// Role is what somebody may do in a class.
type Role string

// The roles. An assistant sees work and gives marks, but not the roster.
const (
	RoleInstructor Role = "instructor"
	RoleAssistant  Role = "assistant"
	RoleLearner    Role = "learner"
)

func (r Role) valid() bool {
	return r == RoleInstructor || r == RoleAssistant || r == RoleLearner
}

// An Account is a person who can sign in.
type Account struct {
	ID, Learner string
	Name        string // shown; empty once a class ended
	Login       string // the name typed to sign in, as the caller folds it; empty: none
	Passphrase  string // its hash; empty: none
	Card        bool   // there is a sign-in code
	Instructor  bool   // may make classes and invite instructors
	Active      bool
	Made        time.Time
}

// NewAccount is a person about to come in.
type NewAccount struct {
	Name, Login, Passphrase, Code string
	Made                          time.Time // zero: now
}

// A Door is what lets somebody in: the hash of an invitation, or of a joining word.
type Door struct {
	Invitation, Joining string
}

// An Invitation is a link that opens once, by its hash.
type Invitation struct {
	Hash    string
	Class   string // empty: whoever comes becomes an instructor with classes of their own
	Role    Role
	Setup   bool      // only good while there is no instructor
	Made    time.Time // zero: now
	Expires time.Time
}

// Leads is where a door leads.
type Leads struct {
	Class, Title string // empty: to no class
	Role         Role
	Setup        bool
}

// A Session is a browser that is signed in, by the hash of its token.
type Session struct {
	Hash, Account       string
	Made, Seen, Expires time.Time
}

// A Class is a group of learners. Its secret gives the seeds of its sets.
type Class struct {
	ID, Title string
	Secret    []byte
	Round     int  // of the joining word
	Joining   bool // there is a joining word
	Made      time.Time
	Ended     time.Time // zero: not yet
}

// A Member is an account in a class.
type Member struct {
	Class, Title             string
	Ended                    time.Time // of the class; zero: not yet
	Account, Learner         string
	Name                     string // empty once the class ended
	Role                     Role
	External, Team           string // as the roster says
	Passphrase, Card, Active bool   // what they can sign in with; whether they still belong
	Made                     time.Time
}

// NewMember is a person of a roster.
type NewMember struct {
	Name, External, Team string
	Role                 Role
	Code                 string // hash of a sign-in code, for those who are new
}

// A ProblemSet is a set of problems of a class.
type ProblemSet struct {
	ID, Class string
	Rules     class.Set
	Revision  int // counts its changes, from 1
	Made      time.Time
	Released  time.Time // when marks were shown; zero: not yet
}

// A SetDraw says which draw of a set a problem handed out is.
type SetDraw struct {
	Set, Learner, Template string
	N                      int // from 1
	Handed                 string
}

// A SetAttempt is an attempt in a set, without working and full result.
type SetAttempt struct {
	SetDraw
	Attempt, Question string
	Text              string
	Number, Try       int
	Helped            int
	Outcome, Slip     string
	Marks             float64
	Withdrawn         bool // the learner said "that is not what I did"
	Made              time.Time
}

// NewOverride gives marks by hand.
type NewOverride struct {
	Key              string
	Handed, Question string
	Attempt          string // the attempt looked at; may be empty
	Marks            float64
	Reason           string
	Author           string    // account
	Made             time.Time // zero: now
}

// An Override is marks given by hand, as kept.
type Override struct {
	ID string
	NewOverride
}

// The states of a second look.
const (
	LookOpen    = "open"
	LookKept    = "kept"    // the marks stay
	LookChanged = "changed" // the marks changed
)

// NewLook is a learner's wish for a second look.
type NewLook struct {
	Key                       string
	Learner, Handed, Question string
	Text                      string
	Made                      time.Time // zero: now
}

// A Look is a second look, as kept.
type Look struct {
	ID, Class, Set   string
	Handed, Question string
	Text             string
	State, Reply     string
	Author           string // account that answered
	Made, Answered   time.Time
}

// LookAnswer is what came of a second look.
type LookAnswer struct {
	State, Reply, Author string
	Made                 time.Time // zero: now
}

// A Draft is what is being typed into a question.
type Draft struct {
	Handed, Question, Text, Working string
	Made                            time.Time // zero: now
}

// Export is all that is kept of a learner. Secrets and hashes are left out.
type Export struct {
	Learner    Learner
	Login      string
	Classes    []Member
	Settings   map[string]string
	Handed     []Handed
	Attempts   []Attempt
	Opened     []Opened
	Pauses     []PauseMet
	Draws      []SetDraw
	Allowances map[string]class.Allowance // by set
	Overrides  []Override
	Looks      []Look
	Drafts     []Draft
	Sessions   []Session // without their hashes
}
