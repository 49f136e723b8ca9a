package web

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/web/store"
)

// task is a problem that was handed out, with all that was done on it.
type task struct {
	work   store.Work
	t      *problem.Template
	v      *problem.Values
	key    *problem.Key
	page   *problem.Page
	states []state
	help   help
	// changed: this version of the program no longer draws what was handed out,
	// so it can be looked at and not answered.
	changed bool
}

// state is where a learner stands with one question.
type state struct {
	q        *problem.Question
	attempts []store.Attempt // all, oldest first
	tries    int             // attempts used up
	allowed  int
	hints    int // opened
	shown    bool
	right    bool
	marks    float64 // earned
	not      map[int]bool
}

func (s *state) closed() bool { return s.right || s.shown || s.tries >= s.allowed }

// last is the latest answer; nil when there is none.
func (s *state) last() *store.Attempt {
	if len(s.attempts) == 0 {
		return nil
	}
	return &s.attempts[len(s.attempts)-1]
}

// text is the latest answer that counted.
func (s *state) text() string {
	for i := len(s.attempts) - 1; i >= 0; i-- {
		if s.attempts[i].Try > 0 {
			return s.attempts[i].Text
		}
	}
	return ""
}

// task reads a problem of a learner's.
func (s *Server) task(ctx context.Context, learner, id string) (*task, error) {
	w, err := s.store.Work(ctx, id)
	if err != nil {
		return nil, err
	}
	if w.Handed.Learner != learner {
		return nil, store.ErrNotFound
	}
	k := &task{work: w}
	if k.t, err = s.templateOf(ctx, &w.Handed); err != nil {
		return nil, err
	}
	if k.v, k.page, err = s.drawn(k.t, w.Handed.Seed); err != nil {
		return nil, err
	}
	k.key = k.t.Key(k.v)
	var was handed
	if err := json.Unmarshal(w.Handed.Kept, &was); err != nil {
		return nil, fmt.Errorf("what was kept of the draw: %w", err)
	}
	k.changed, k.help = differs(k.v, &was), was.help
	k.read(s.rules)
	return k, nil
}

// drawnKey tells draws apart.
type drawnKey struct {
	source string // hash of the template
	seed   uint64
}

// drawn is a draw with its page. A problem is looked at several times in a row,
// and drawing it is half the work of showing it.
func (s *Server) drawn(t *problem.Template, seed uint64) (*problem.Values, *problem.Page, error) {
	key := drawnKey{t.Hash, seed}
	s.cache.Lock()
	p := s.draws[key]
	s.cache.Unlock()
	if p != nil {
		return p.v, p.page, nil
	}
	v, err := t.Draw(seed)
	if err != nil {
		return nil, nil, err
	}
	page, err := t.Page(v)
	if err != nil {
		return nil, nil, err
	}
	s.cache.Lock()
	defer s.cache.Unlock()
	if len(s.draws) >= mostDraws {
		clear(s.draws)
	}
	s.draws[key] = &cachedDraw{v, page}
	return v, page, nil
}

type cachedDraw struct {
	v    *problem.Values
	page *problem.Page
}

// mostDraws and mostTemplates bound what is kept in memory.
const (
	mostDraws     = 256
	mostTemplates = 200
)

// templateOf is the template as it was when the problem was handed out.
func (s *Server) templateOf(ctx context.Context, h *store.Handed) (*problem.Template, error) {
	if t, err := s.course.Template(h.Template); err == nil && t.Hash == h.Source {
		return t, nil
	}
	s.cache.Lock()
	defer s.cache.Unlock()
	if t := s.compiled[h.Source]; t != nil {
		return t, nil
	}
	src, err := s.store.Source(ctx, h.Source)
	if err != nil {
		return nil, err
	}
	t, err := problem.Compile(h.Template+".md", []byte(src.Text), problem.Context{})
	if err != nil {
		return nil, fmt.Errorf("the kept template %s no longer compiles: %w", h.Template, err)
	}
	if len(s.compiled) >= mostTemplates { // earlier versions are seldom looked at
		clear(s.compiled)
	}
	s.compiled[h.Source] = t
	return t, nil
}

// prefixForgiven tells whether the one free correction of a prefix was used up.
func (k *task) prefixForgiven() bool {
	for i := range k.states {
		if k.states[i].forgiven() {
			return true
		}
	}
	return false
}

// forgiven tells whether a wrong prefix in this question was forgiven.
func (s *state) forgiven() bool {
	for i := range s.attempts {
		if s.attempts[i].Outcome == string(grader.WrongUnit) && s.attempts[i].Try == 0 {
			return true
		}
	}
	return false
}

// unitCost is what a forgiven prefix takes from the marks of the question.
func (s *state) unitCost(rules grader.Rules) float64 {
	if s.forgiven() {
		return rules.UnitCost
	}
	return 0
}

// pauseTries is how many wrong answers a pause takes before it explains itself.
const pauseTries = 2

// read works out the states from what was kept.
func (k *task) read(rules grader.Rules) {
	k.states = make([]state, len(k.t.Questions))
	at := make(map[string]*state, len(k.states))
	for i := range k.t.Questions {
		q := &k.t.Questions[i]
		k.states[i] = state{q: q, allowed: rules.AttemptsFor(q.Kind), not: map[int]bool{}}
		if k.t.Pause {
			k.states[i].allowed = pauseTries
		}
		at[q.ID] = &k.states[i]
	}
	for _, a := range k.work.Attempts {
		st := at[a.Question]
		if st == nil {
			continue
		}
		st.attempts = append(st.attempts, a)
		st.tries = max(st.tries, a.Try)
		st.right = st.right || a.Outcome == string(grader.Right)
		st.marks = max(st.marks, a.Marks)
	}
	for _, o := range k.work.Opened {
		st := at[o.Question]
		if st == nil {
			continue
		}
		switch o.What {
		case store.Hint:
			st.hints++
		case store.ShownKey, store.CarryOn:
			st.shown = true
		case store.NotThat:
			st.not[o.Number] = true
		}
	}
}

// find gives the state of a question.
func (k *task) find(question string) (*state, int, bool) {
	for i := range k.states {
		if k.states[i].q.ID == question {
			return &k.states[i], i, true
		}
	}
	return nil, 0, false
}

// closed tells whether every question has closed; right, whether each was right.
func (k *task) closed() bool {
	for i := range k.states {
		if !k.states[i].closed() {
			return false
		}
	}
	return true
}

func (k *task) right() bool {
	for i := range k.states {
		if !k.states[i].right {
			return false
		}
	}
	return true
}

// failed tells whether a question closed without a right answer.
func (k *task) failed() bool {
	for i := range k.states {
		if k.states[i].closed() && !k.states[i].right {
			return true
		}
	}
	return false
}

// reveals tells whether the working of question i may be shown: it and all
// before it have closed, since its numbers hold their answers.
func (k *task) reveals(i int) bool {
	for j := range k.states[:i+1] {
		if !k.states[j].closed() {
			return false
		}
	}
	return true
}

// response is the latest answer to every question, with one replaced.
func (k *task) response(question, text string) grader.Response {
	r := grader.Response{}
	for i := range k.states {
		r[k.states[i].q.ID] = k.states[i].text()
	}
	r[question] = text
	return r
}

// handed is what is kept of a draw: enough to prove later that it is the same.
type handed struct {
	Given   map[string]string `json:"given"`
	Shape   string            `json:"shape,omitempty"`
	Part    string            `json:"part,omitempty"`
	Answers []handedAnswer    `json:"answers"`
	Worked  []string          `json:"worked,omitempty"`
	help
}

type handedAnswer struct {
	ID    string            `json:"id"`
	Text  string            `json:"text"`
	Low   *float64          `json:"low,omitempty"` // absent where the range is open
	High  *float64          `json:"high,omitempty"`
	Slips map[string]string `json:"slips,omitempty"`
}

// keep is the record of a draw, with the help that stands beside it.
func keep(v *problem.Values, beside help) (json.RawMessage, error) {
	t := v.Template
	h := handed{Given: v.Given(), Shape: v.Shape, help: beside}
	if v.Part != nil {
		h.Part = v.Part.Name
	}
	for i := range t.Key(v).Answers {
		a := &t.Key(v).Answers[i]
		one := handedAnswer{ID: a.ID, Text: a.Text}
		if q, ok := t.Question(a.ID); ok && q.Kind.Numeric() {
			one.Low, one.High = finite(a.Low), finite(a.High)
		}
		for j := range a.Slips {
			if one.Slips == nil {
				one.Slips = map[string]string{}
			}
			one.Slips[a.Slips[j].Slip.ID] = a.Slips[j].Text
		}
		h.Answers = append(h.Answers, one)
	}
	lines, err := t.Worked(v)
	if err != nil {
		return nil, err
	}
	for i := range lines {
		h.Worked = append(h.Worked, lines[i].Shown)
	}
	return json.Marshal(h)
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// differs tells whether a draw is another one than was handed out.
func differs(v *problem.Values, was *handed) bool {
	given := v.Given()
	if len(given) != len(was.Given) {
		return true
	}
	for name, text := range given {
		if was.Given[name] != text {
			return true
		}
	}
	answers := v.Template.Key(v).Answers
	if len(answers) != len(was.Answers) {
		return true
	}
	for i := range answers {
		if answers[i].ID != was.Answers[i].ID || answers[i].Text != was.Answers[i].Text {
			return true
		}
	}
	return false
}
