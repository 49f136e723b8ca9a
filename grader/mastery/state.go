package mastery

import (
	"slices"
	"time"
)

// Try is a first attempt at a question, with what it says of one skill. A
// response that was not an answer (unreadable, without its unit) is no try; an
// answer after an opened hint counts as not right.
type Try struct {
	Skill    string
	Template string
	Task     string  // the method the template asks for
	Draw     string  // which draw it was, so that successes on one draw count once
	Guess    float64 // how likely the answer is right by chance
	Right    bool
	At       time.Time
}

// What mastery asks for besides a probability.
const (
	masteredAt = 0.95
	shakyBelow = 0.6
	successes  = 3
)

// Standing is how a skill stands.
type Standing string

// The standings, from nothing to mastery.
const (
	New      Standing = "not begun"
	Learning Standing = "learning"
	Shaky    Standing = "shaky" // was better once, or wrong more than right of late
	Can      Standing = "can do"
)

// Skill is what is known of a learner's skill.
type Skill struct {
	ID       string
	P        float64 // that it is known
	Tries    int
	Rights   int
	Draws    int // different draws solved at the first try
	Days     int // different days on which one was
	Last     time.Time
	LastOK   bool
	Interval int       // days until it returns, once it can be done
	Due      time.Time // when it returns; zero before mastery

	draws []string
	days  []int
	ever  bool // was mastered once
	wrong int  // wrong answers in a row, up to the last
}

// Standing says how the skill stands.
func (s *Skill) Standing() Standing {
	switch {
	case s == nil || s.Tries == 0:
		return New
	case s.mastered():
		return Can
	case s.ever || s.Tries >= 3 && s.P < shakyBelow:
		return Shaky
	}
	return Learning
}

// mastered: probable enough, on three different draws, on two days at least, and
// not lost since: after many right answers the equations hardly notice two wrong
// ones in a row, a teacher does.
func (s *Skill) mastered() bool {
	return s.P >= masteredAt && s.Draws >= successes && s.Days >= 2 && s.wrong < 2
}

// Wants says what is missing for mastery, in words; empty when nothing is.
func (s *Skill) Wants() string {
	switch {
	case s == nil || s.Tries == 0:
		return "not begun"
	case s.mastered():
		return ""
	case s.Draws < successes:
		return plural(successes-s.Draws, "more first-try success", "more first-try successes") + " on new numbers"
	case s.Days < 2:
		return "one more success on a later day"
	}
	return "surer answers: the last ones were mixed"
}

// State holds the skills of one learner by id.
type State map[string]*Skill

// intervals are the days after which a mastered skill returns: each about two
// and a half times the one before, so that it bridges ever longer spans.
var intervals = []int{2, 5, 12, 30, 75}

// Of computes the state from all tries. They are taken in order of time; equal
// times keep their order.
func Of(tries []Try, p Params) State {
	tries = slices.Clone(tries)
	slices.SortStableFunc(tries, func(a, b Try) int { return a.At.Compare(b.At) })
	st := State{}
	for i := range tries {
		st.take(&tries[i], p)
	}
	return st
}

func (st State) take(t *Try, p Params) {
	s := st[t.Skill]
	if s == nil {
		s = &Skill{ID: t.Skill, P: p.Known}
		st[t.Skill] = s
	}
	was := s.mastered()
	p.Guess = t.Guess
	s.P = p.Next(s.P, t.Right)
	s.Tries++
	s.Last, s.LastOK = t.At, t.Right
	s.wrong++
	if t.Right {
		s.wrong = 0
		s.Rights++
		if !slices.Contains(s.draws, t.Draw) {
			s.draws = append(s.draws, t.Draw)
		}
		if day := dayOf(t.At); !slices.Contains(s.days, day) {
			s.days = append(s.days, day)
		}
		s.Draws, s.Days = len(s.draws), len(s.days)
	}
	s.schedule(t, was)
}

// schedule sets when a mastered skill returns: the interval grows with each
// success at its time, and begins anew after a failure.
func (s *Skill) schedule(t *Try, was bool) {
	switch {
	case !s.mastered():
		s.Due, s.Interval = time.Time{}, 0
	case !was:
		s.Interval = intervals[0]
		s.ever = true
		s.Due = t.At.AddDate(0, 0, s.Interval)
	case !t.Right:
		s.Interval = 1
		s.Due = t.At.AddDate(0, 0, 1)
	case !t.At.Before(s.Due):
		s.Interval = longer(s.Interval)
		s.Due = t.At.AddDate(0, 0, s.Interval)
	}
}

func longer(days int) int {
	for _, i := range intervals {
		if i > days {
			return i
		}
	}
	return intervals[len(intervals)-1]
}

// dayOf numbers the days in coordinated universal time.
func dayOf(t time.Time) int { return int(t.Unix() / 86400) }
