package learner

import (
	"encoding/json"
	"fmt"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/web/store"
)

// Task is a problem that was handed out, with all that was done on it.
type Task struct {
	Work      store.Work
	Template  *problem.Template
	Values    *problem.Values
	Key       *problem.Key
	Page      *problem.Page
	Questions []State
	Help      Help
	// Changed: this version of the program no longer draws what was handed out,
	// so it can be looked at and not answered.
	Changed bool
}

// State is where a learner stands with one question.
type State struct {
	Question *problem.Question
	Attempts []store.Attempt // all, oldest first
	Tries    int             // attempts used up
	Allowed  int
	Hints    int // opened
	Shown    bool
	Right    bool
	Marks    float64      // earned
	Not      map[int]bool // attempts whose diagnosis was withdrawn, by number
}

// PauseTries is how many wrong answers a pause takes before it explains itself.
const PauseTries = 2

// NewTask works out where a learner stands with a draw from what was kept of it.
func NewTask(w store.Work, v *problem.Values, page *problem.Page, rules grader.Rules) (*Task, error) {
	k := &Task{Work: w, Template: v.Template, Values: v, Key: v.Template.Key(v), Page: page}
	var was Kept
	if err := json.Unmarshal(w.Handed.Kept, &was); err != nil {
		return nil, fmt.Errorf("what was kept of the draw: %w", err)
	}
	k.Changed, k.Help = Differs(v, &was), was.Help
	k.Questions = States(v.Template, &w, rules)
	return k, nil
}

// States works out the state of each question from what was kept.
func States(t *problem.Template, w *store.Work, rules grader.Rules) []State {
	out := make([]State, len(t.Questions))
	at := make(map[string]*State, len(out))
	for i := range t.Questions {
		q := &t.Questions[i]
		out[i] = State{Question: q, Allowed: rules.AttemptsFor(q.Kind), Not: map[int]bool{}}
		if t.Pause {
			out[i].Allowed = PauseTries
		}
		at[q.ID] = &out[i]
	}
	for _, a := range w.Attempts {
		st := at[a.Question]
		if st == nil {
			continue
		}
		st.Attempts = append(st.Attempts, a)
		st.Tries = max(st.Tries, a.Try)
		st.Right = st.Right || a.Outcome == string(grader.Right)
		st.Marks = max(st.Marks, a.Marks)
	}
	for _, o := range w.Opened {
		st := at[o.Question]
		if st == nil {
			continue
		}
		switch o.What {
		case store.Hint:
			st.Hints++
		case store.ShownKey, store.CarryOn:
			st.Shown = true
		case store.NotThat:
			st.Not[o.Number] = true
		}
	}
	return out
}

// Closed tells whether nothing more can be answered.
func (s *State) Closed() bool { return s.Right || s.Shown || s.Tries >= s.Allowed }

// Last is the latest answer; nil when there is none.
func (s *State) Last() *store.Attempt {
	if len(s.Attempts) == 0 {
		return nil
	}
	return &s.Attempts[len(s.Attempts)-1]
}

// Counted is the latest answer that used up an attempt; nil when there is none.
func (s *State) Counted() *store.Attempt {
	for i := len(s.Attempts) - 1; i >= 0; i-- {
		if s.Attempts[i].Try > 0 {
			return &s.Attempts[i]
		}
	}
	return nil
}

// Text is the latest answer that counted.
func (s *State) Text() string {
	if a := s.Counted(); a != nil {
		return a.Text
	}
	return ""
}

// Forgiven tells whether a wrong prefix in this question was forgiven.
func (s *State) Forgiven() bool {
	for i := range s.Attempts {
		if s.Attempts[i].Outcome == string(grader.WrongUnit) && s.Attempts[i].Try == 0 {
			return true
		}
	}
	return false
}

// Closed tells whether every question has closed.
func (k *Task) Closed() bool {
	for i := range k.Questions {
		if !k.Questions[i].Closed() {
			return false
		}
	}
	return true
}

// Right tells whether every question is right.
func (k *Task) Right() bool {
	for i := range k.Questions {
		if !k.Questions[i].Right {
			return false
		}
	}
	return true
}

// Reveals tells whether the working of question i may be shown: it and all
// before it have closed, since its numbers hold their answers.
func (k *Task) Reveals(i int) bool {
	for j := range k.Questions[:i+1] {
		if !k.Questions[j].Closed() {
			return false
		}
	}
	return true
}

// AskedAt gives the places at which a curve is still to be read off. What is drawn
// must not say its value there.
func (k *Task) AskedAt(curve string) []float64 {
	for i := range k.Questions {
		if q := k.Questions[i].Question; q.Kind == problem.ReadOff && q.Curve == curve && !k.Questions[i].Closed() {
			return k.Values.AskedAt(curve)
		}
	}
	return nil
}

// FilledIn tells whether an open step of the working was filled in right.
func (k *Task) FilledIn(question string, line int) bool {
	for _, o := range k.Work.Opened {
		if o.What == store.Step && o.Question == question && o.Number == line {
			return true
		}
	}
	return false
}

// Response is the latest answer to every question, with that to question i replaced.
func (k *Task) Response(i int, text string) grader.Response {
	r := grader.Response{}
	for j := range k.Questions {
		r[k.Questions[j].Question.ID] = k.Questions[j].Text()
	}
	r[k.Questions[i].Question.ID] = text
	return r
}

// Marked marks an answer to question i, and says what it costs and earns: what
// cannot be read costs nothing, and once a problem a wrong prefix takes a mark and
// no attempt. A pause has no marks.
func (k *Task) Marked(i int, text string, rules grader.Rules) (store.Answer, *grader.Marked, error) {
	st := &k.Questions[i]
	result, err := grader.Mark(k.Template, k.Values, k.Key, k.Response(i, text))
	if err != nil {
		return store.Answer{}, nil, err
	}
	m := result.Questions[st.Question.ID]
	a := store.Answer{Question: st.Question.ID, Text: text, Outcome: string(m.Outcome), Slip: m.Slip}
	switch {
	case !m.Outcome.CostsAttempt():
	case m.Outcome == grader.WrongUnit && !k.Template.Pause && !k.prefixForgiven():
	default:
		a.Try = st.Tries + 1
		if !k.Template.Pause {
			cost := 0.0
			if st.Forgiven() {
				cost = rules.UnitCost
			}
			a.Marks = max(0, rules.Earned(m.Marks, st.Tries, st.Hints)-cost)
		}
	}
	a.Result, err = json.Marshal(m)
	return a, m, err
}

func (k *Task) prefixForgiven() bool {
	for i := range k.Questions {
		if k.Questions[i].Forgiven() {
			return true
		}
	}
	return false
}
