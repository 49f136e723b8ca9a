package web

import (
	"encoding/json"
	"errors"
	"net/http"
	"net/url"
	"strconv"

	"fullyon/grader"
	"fullyon/web/store"

	"github.com/go-chi/chi/v5"
)

// staleTries is how often an answer is marked anew because another one, from a
// second tab, came in between.
const staleTries = 5

// answer takes an answer to one question: POST /work/{handed}/answer.
func (s *Server) answer(w http.ResponseWriter, r *http.Request) error {
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	key, err := formKey(r)
	if err != nil {
		return err
	}
	for range staleTries {
		err = s.take(w, r, learner, key)
		if !errors.Is(err, store.ErrStale) {
			return err
		}
	}
	return &pageError{status: http.StatusConflict, title: "Several answers at once", say: "Other answers to this problem came in at the same moment, and yours was not marked. Go back and send it again.", typed: r.PostForm.Get("text")}
}

// take marks and keeps one answer, and sends the browser back to the problem.
func (s *Server) take(w http.ResponseWriter, r *http.Request, learner, key string) error {
	k, err := s.task(r.Context(), learner, chi.URLParam(r, "handed"))
	if err != nil {
		return err
	}
	st, _, ok := k.find(r.PostForm.Get("q"))
	if !ok {
		return badRequest("The problem has no such question. Load its page again.")
	}
	text, complaint := typed(r, st.q)
	back := k.address(r) + "#" + anchor(st.q.ID)
	for _, a := range st.attempts {
		if a.Key != key {
			continue
		}
		if a.Text == text && complaint == "" {
			return seeOther(w, r, back) // the same form once more: one attempt
		}
		return s.again(w, r, k, st, text, http.StatusConflict, "This form was sent before with another answer, and that one was marked. Your new answer is in the box; send it again if you mean it.")
	}
	switch {
	case k.changed:
		return s.again(w, r, k, st, text, http.StatusConflict, "")
	case st.closed():
		return s.again(w, r, k, st, text, http.StatusConflict, "This question closed in the meantime, perhaps in another window. What you sent was not marked.")
	case complaint != "":
		return s.again(w, r, k, st, text, http.StatusUnprocessableEntity, complaint)
	}
	result, err := grader.Mark(k.t, k.v, k.key, k.response(st.q.ID, text))
	if err != nil {
		return err
	}
	m := result.Questions[st.q.ID]
	a := store.Answer{Key: key, Question: st.q.ID, Text: text, Working: r.PostForm.Get("working"), Outcome: string(m.Outcome), Slip: m.Slip}
	switch {
	case !m.Outcome.CostsAttempt():
	case m.Outcome == grader.WrongUnit && !k.t.Pause && !k.prefixForgiven():
		// Once a problem a wrong prefix may be corrected: a mark, and no attempt.
	default:
		a.Try = st.tries + 1
		if !k.t.Pause {
			a.Marks = max(0, s.rules.Earned(m.Marks, st.tries, st.hints)-st.unitCost(s.rules))
		}
	}
	if a.Result, err = json.Marshal(m); err != nil {
		return err
	}
	if _, err := s.store.Submit(r.Context(), store.Submission{Handed: k.work.Handed.ID, Answers: []store.Answer{a}, After: k.work.Seen(), Made: s.now()}); err != nil {
		return err
	}
	if k.t.Pause {
		if err := s.met(r, learner, k.work.Handed.ID); err != nil {
			return err
		}
	}
	return seeOther(w, r, back)
}

// again shows the problem once more with what was typed, where it could not be taken.
func (s *Server) again(w http.ResponseWriter, r *http.Request, k *task, st *state, text string, status int, say string) error {
	over := &overlay{question: st.q.ID, text: text, say: say, places: map[string]string{}}
	for _, o := range st.q.Options {
		over.places[o.ID] = r.PostForm.Get("place-" + o.ID)
	}
	return s.showTask(w, r, k, over, status)
}

// open opens a hint or the answer, or withdraws a diagnosis: POST /work/{handed}/open.
func (s *Server) open(w http.ResponseWriter, r *http.Request) error {
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	if _, err := formKey(r); err != nil {
		return err
	}
	k, err := s.task(r.Context(), learner, chi.URLParam(r, "handed"))
	if err != nil {
		return err
	}
	st, i, ok := k.find(r.PostForm.Get("q"))
	if !ok {
		return badRequest("The problem has no such question. Load its page again.")
	}
	o := store.NewOpened{Handed: k.work.Handed.ID, Question: st.q.ID, What: r.PostForm.Get("what"), Made: s.now()}
	o.Number, _ = strconv.Atoi(r.PostForm.Get("number"))
	may := false
	switch o.What {
	case store.Hint: // one by one
		may = !st.closed() && o.Number == st.hints && o.Number < k.page.Questions[i].Hints
	case store.ShownKey, store.CarryOn:
		o.Number = 0
		may = !st.closed() && !k.t.Pause && (i == 0 || k.reveals(i-1))
	case store.NotThat:
		last := st.last()
		may = last != nil && last.Number == o.Number && last.Outcome == string(grader.Slip)
	default:
		return badRequest("There is nothing of that kind to open. Load the page again.")
	}
	if may && !k.changed {
		if _, err := s.store.AddOpened(r.Context(), o); err != nil {
			return err
		}
	}
	return seeOther(w, r, k.address(r)+"#"+anchor(st.q.ID))
}

// address is the page on which a task is worked on.
func (k *task) address(r *http.Request) string {
	if !k.t.Pause {
		return "/work/" + k.work.Handed.ID
	}
	to := "/pause/" + k.t.ID
	if then := r.FormValue("then"); then != "" {
		to += "?then=" + url.QueryEscape(then)
	}
	return to
}

func anchor(question string) string { return "q-" + question }
