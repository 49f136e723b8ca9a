package web

import (
	"errors"
	"net/http"
	"strconv"

	"fullyon/grader"
	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/web/store"

	"github.com/go-chi/chi/v5"
)

// help is what stands beside a problem until a skill has grown: a whole example
// with other numbers, or the working with steps left open.
type help struct {
	Support mastery.Support `json:"support,omitempty"`
	Gaps    int             `json:"gaps,omitempty"` // steps left open
}

// fadedLine is one line of a working with steps left open.
type fadedLine struct {
	workLine
	Index         int
	Open          bool // to be filled in
	Path, Key, ID string
	Text, Say     string // what was typed and could not be taken as right
}

// filled is what was typed into an open step and is not right yet.
type filled struct {
	index     int
	text, say string
}

// fade is the working of question i with its steps left open: the lines before
// the one that answers it, as long as the question is open. Its numbers hold
// earlier answers, so those have to be closed.
func (s *Server) fade(k *task, i int, lines []problem.Line, over *overlay) []fadedLine {
	if k.help.Support != mastery.Faded || k.states[i].closed() || i > 0 && !k.reveals(i-1) {
		return nil
	}
	from, to := workOf(k.t, i, lines)
	open := map[int]bool{}
	for _, n := range grader.Gaps(lines[from:to], k.help.Gaps) {
		open[from+n] = !k.filledIn(k.states[i].q.ID, from+n)
	}
	var out []fadedLine
	for n, line := range workedLines(k.v.Part, lines[from:to], nil) {
		at := from + n
		if lines[at].Answers != "" { // that is the question
			break
		}
		f := fadedLine{workLine: line, Index: at, Open: open[at], Path: "/work/" + k.work.Handed.ID, Key: newKey(), ID: k.states[i].q.ID}
		if over != nil && over.step != nil && over.step.index == at {
			f.Text, f.Say = over.step.text, over.step.say
		}
		out = append(out, f)
		if f.Open {
			break // what follows holds its value
		}
	}
	return out
}

// filledIn tells whether an open step was filled in right.
func (k *task) filledIn(question string, line int) bool {
	for _, o := range k.work.Opened {
		if o.What == store.Step && o.Question == question && o.Number == line {
			return true
		}
	}
	return false
}

// fillStep takes the value of an open step: POST /work/{handed}/step. It costs nothing.
func (s *Server) fillStep(w http.ResponseWriter, r *http.Request) error {
	who, err := s.who(r)
	if err != nil {
		return err
	}
	if _, err := formKey(r); err != nil {
		return err
	}
	k, err := s.task(r.Context(), who, chi.URLParam(r, "handed"))
	if err != nil {
		return err
	}
	st, i, ok := k.find(r.PostForm.Get("q"))
	n, err := strconv.Atoi(r.PostForm.Get("line"))
	if !ok || err != nil {
		return badRequest("The problem has no such step. Load its page again.")
	}
	lines, err := k.t.Worked(k.v)
	if err != nil {
		return err
	}
	back := "/work/" + k.work.Handed.ID + "#" + anchor(st.q.ID)
	asked := false
	for _, f := range s.fade(k, i, lines, nil) {
		asked = asked || f.Index == n && f.Open
	}
	if !asked || k.changed {
		return seeOther(w, r, back)
	}
	text := r.PostForm.Get("text")
	m, err := grader.MarkStep(&lines[n], text)
	if err != nil {
		return err
	}
	if m.Outcome != grader.Right {
		over := &overlay{step: &filled{n, text, sentence(m.Because.Plain())}}
		return s.showTask(w, r, k, over, http.StatusUnprocessableEntity)
	}
	if _, err := s.store.AddOpened(r.Context(), store.NewOpened{Handed: k.work.Handed.ID, Question: st.q.ID, What: store.Step, Number: n, Made: s.now()}); err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	return seeOther(w, r, back)
}

// exampleSeed is the seed of the example beside a problem: other numbers, the
// same whenever the page is looked at.
func exampleSeed(seed uint64) uint64 { return (seed + 1) % (problem.MaxSeed + 1) }

// example is the worked example that stands before a problem; nil without one.
func (s *Server) example(k *task) (*workedView, error) {
	if k.help.Support != mastery.Example || k.t.Pause {
		return nil, nil
	}
	v, err := s.worked(k.t.ID, "example", exampleSeed(k.work.Handed.Seed))
	if v != nil {
		v.Again = ""
	}
	return v, err
}
