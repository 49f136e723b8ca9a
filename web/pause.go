package web

import (
	"context"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"time"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/web/store"

	"github.com/go-chi/chi/v5"
)

// pauseView is what pause.html shows: a safety prompt that has to be met.
type pauseView struct {
	*workView
	ID       string
	Begun    bool
	Since    string // the day on which it was met before; empty on the first time
	Met      bool   // all questions right
	Explains bool   // a question closed without a right answer: the reason stands, a fresh one can be asked for
	Then     string // id of the problem that waits
	ThenName string
	Key      string
}

// pauseBefore is the pause that has to be met before this problem; empty for none.
// That is the one of its lesson, the first time; later the one that was met and has
// waited longest for its return, once a day. Problems on paper have none before them.
func (s *Server) pauseBefore(t *problem.Template, done *doneBy) string {
	l := s.course.Numbered(t.Lesson)
	if l == nil || t.OnPaper {
		return ""
	}
	if l.Pause != "" {
		if _, met := done.met[l.Pause]; !met {
			return l.Pause
		}
	}
	return s.returning(done.met, s.now())
}

// returning is the pause whose return is due for longest; empty for none, or when
// one was met on this day already.
func (s *Server) returning(met map[string]store.PauseMet, now time.Time) string {
	found := ""
	for _, id := range slices.Sorted(maps.Keys(met)) {
		m := met[id]
		if mastery.SameDay(m.Last, now) {
			return ""
		}
		if t, err := s.course.Template(id); err != nil || !t.Pause {
			continue // it was taken out of the course
		}
		if mastery.Returns(m.Times, m.Last, now) && (found == "" || m.Last.Before(met[found].Last)) {
			found = id
		}
	}
	return found
}

// returns tells whether a pause is due again, and when it was met last; the zero
// time if never. What was handed out since then is its return and no longer waits.
func (s *Server) returns(r *http.Request, learner, pause string, handed time.Time) (bool, time.Time, error) {
	done, err := s.done(r, learner)
	if err != nil {
		return false, time.Time{}, err
	}
	m, ok := done.met[pause]
	return ok && mastery.Returns(m.Times, m.Last, s.now()) && !handed.After(m.Last), m.Last, nil
}

// pausePage shows a pause: GET /pause/{id}.
func (s *Server) pausePage(w http.ResponseWriter, r *http.Request) error {
	t, err := s.pauseTemplate(r)
	if err != nil {
		return err
	}
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	h, err := s.store.LatestHanded(r.Context(), learner, t.ID)
	if errors.Is(err, store.ErrNotFound) {
		return s.offerPause(w, r, t, "")
	}
	if err != nil {
		return err
	}
	k, err := s.task(r.Context(), learner, h.ID)
	if err != nil {
		return err
	}
	if due, last, err := s.returns(r, learner, t.ID, h.Made); err != nil {
		return err
	} else if due {
		return s.offerPause(w, r, t, last.In(s.now().Location()).Format("2 January"))
	}
	return s.showTask(w, r, k, nil, http.StatusOK)
}

func (s *Server) pauseTemplate(r *http.Request) (*problem.Template, error) {
	t, err := s.course.Template(chi.URLParam(r, "id"))
	if err != nil {
		return nil, err
	}
	if !t.Pause {
		return nil, notFound("There is no pause of that name.", link{"/problem/" + t.ID, t.Title}, link{"/", "The path of lessons"})
	}
	return t, nil
}

// offerPause shows a pause before it is asked: for the first time, or again since it
// was met on some day.
func (s *Server) offerPause(w http.ResponseWriter, r *http.Request, t *problem.Template, since string) error {
	p := &pauseView{workView: &workView{Shell: Shell{Title: t.Title, Here: "path"}}, ID: t.ID, Since: since}
	return s.renderPause(w, r, p, http.StatusOK)
}

func (s *Server) showPause(w http.ResponseWriter, r *http.Request, k *task, v *workView, status int) error {
	p := &pauseView{workView: v, ID: k.t.ID, Begun: true, Met: k.right(), Explains: k.failed()}
	return s.renderPause(w, r, p, status)
}

func (s *Server) renderPause(w http.ResponseWriter, r *http.Request, p *pauseView, status int) error {
	p.Key = newKey()
	if t, err := s.course.Template(r.FormValue("then")); err == nil && !t.Pause {
		p.Then, p.ThenName = t.ID, t.Title
	}
	for i := range p.Questions {
		p.Questions[i].Then = p.Then
	}
	return s.render(w, r, status, "pause", p)
}

// pauseBegin asks a pause, afresh if the last one was explained, or goes on to
// what waits behind it when it is met: POST /pause/{id}.
func (s *Server) pauseBegin(w http.ResponseWriter, r *http.Request) error {
	t, err := s.pauseTemplate(r)
	if err != nil {
		return err
	}
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	key, err := formKey(r)
	if err != nil {
		return err
	}
	then, err := s.course.Template(r.PostForm.Get("then"))
	if err != nil || then.Pause {
		then = nil
	}
	h, err := s.store.LatestHanded(r.Context(), learner, t.ID)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	here := "/pause/" + t.ID
	if then != nil {
		here += "?then=" + url.QueryEscape(then.ID)
	}
	if err == nil && h.Key != key {
		k, err := s.task(r.Context(), learner, h.ID)
		if err != nil {
			return err
		}
		due, _, err := s.returns(r, learner, t.ID, h.Made)
		if err != nil {
			return err
		}
		switch {
		case due: // asked again, with fresh numbers
		case k.right():
			if err := s.met(r, learner, h.ID); err != nil {
				return err
			}
			if r.PostForm.Get("new") != "" {
				break
			}
			return s.goOn(w, r, learner, key, t, then)
		case !k.failed() && !k.changed:
			return seeOther(w, r, here)
		}
	}
	if _, err := s.hand(r, learner, key, t, "pause"); err != nil {
		return err
	}
	return seeOther(w, r, here)
}

// goOn leads from a pause that is met to the problem that waited for it.
func (s *Server) goOn(w http.ResponseWriter, r *http.Request, learner, key string, t, then *problem.Template) error {
	if then == nil {
		if l := s.course.Numbered(t.Lesson); l != nil {
			return seeOther(w, r, "/lesson/"+l.ID+"#problems")
		}
		return seeOther(w, r, "/")
	}
	if k, err := s.unfinished(r, learner, then); err != nil {
		return err
	} else if k != nil {
		return seeOther(w, r, "/work/"+k.work.Handed.ID)
	}
	h, err := s.hand(r, learner, key, then, "lesson")
	if err != nil {
		return err
	}
	return seeOther(w, r, "/work/"+h.ID)
}

// met keeps that a pause was got through, if every answer of it is right, and
// that it explained itself, if one closed without.
func (s *Server) met(r *http.Request, learner, handed string) error {
	// Once the answer is kept, what follows from it is kept too, even when the
	// reader has gone.
	ctx := context.WithoutCancel(r.Context())
	k, err := s.task(ctx, learner, handed)
	if err != nil {
		return err
	}
	if k.right() {
		return s.store.MeetPause(ctx, store.NewPauseMet{Learner: learner, Pause: k.t.ID, Handed: handed, Made: s.now()})
	}
	for i := range k.states {
		if st := &k.states[i]; st.closed() && !st.right {
			if _, err := s.store.AddOpened(ctx, store.NewOpened{Handed: handed, Question: st.q.ID, What: store.Explained, Made: s.now()}); err != nil {
				return err
			}
		}
	}
	return nil
}
