package web

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"

	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"

	"github.com/go-chi/chi/v5"
)

// whys are the reasons a problem came, by the word that a form sends.
var whys = map[string]string{
	"lesson": "you chose it from the lesson.",
	"again":  "you asked for another of the same kind, with fresh numbers.",
	"next":   "it is the next one that you have not had right at the first try.",
	"pause":  "it stands before the first problem that could be built.",
}

// beginView is what begin.html shows: a problem before it is handed out.
type beginView struct {
	Shell
	Kind    string
	Skills  []*lessons.Skill
	Marks   string
	OnPaper bool
	Lesson  link
	Begin   beginForm
	Pause   *pauseCard
	Say     template.HTML
}

// beginPage leads to the open problem of this kind, or offers to begin one:
// GET /problem/{template}. Drawing one is a change and needs a POST.
func (s *Server) beginPage(w http.ResponseWriter, r *http.Request) error {
	t, err := s.course.Template(chi.URLParam(r, "template"))
	if err != nil {
		return err
	}
	if t.Pause {
		return seeOther(w, r, "/pause/"+t.ID)
	}
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	if k, err := s.unfinished(r, learner, t); err != nil {
		return err
	} else if k != nil {
		return seeOther(w, r, "/work/"+k.work.Handed.ID)
	}
	v := &beginView{
		Shell: Shell{Title: t.Title, Here: "path"}, Kind: describe(t), OnPaper: t.OnPaper,
		Marks: plural(t.Marks(), "mark", "marks"),
		Begin: beginForm{Template: t.ID, Title: t.Title, Label: "Begin", Why: "lesson", Key: newKey()},
	}
	for _, id := range t.Skills {
		if k, err := s.course.Skill(id); err == nil {
			v.Skills = append(v.Skills, k)
		}
	}
	if l := s.course.Numbered(t.Lesson); l != nil {
		v.Lesson = lessonLink(l)
		v.Crumb = []link{v.Lesson}
	}
	done, err := s.done(r, learner)
	if err != nil {
		return err
	}
	if id := s.pauseBefore(t, done); id != "" {
		v.Pause = s.pauseCard(id, done)
	}
	return s.render(w, r, http.StatusOK, "begin", v)
}

// begin hands out a problem, or leads to the open one: POST /problem/{template}.
func (s *Server) begin(w http.ResponseWriter, r *http.Request) error {
	t, err := s.course.Template(chi.URLParam(r, "template"))
	if err != nil {
		return err
	}
	if t.Pause {
		return seeOther(w, r, "/pause/"+t.ID)
	}
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	key, err := formKey(r)
	if err != nil {
		return err
	}
	done, err := s.done(r, learner)
	if err != nil {
		return err
	}
	if id := s.pauseBefore(t, done); id != "" {
		return seeOther(w, r, "/pause/"+id+"?then="+url.QueryEscape(t.ID))
	}
	if r.PostForm.Get("new") == "" {
		if k, err := s.unfinished(r, learner, t); err != nil {
			return err
		} else if k != nil {
			return seeOther(w, r, "/work/"+k.work.Handed.ID)
		}
	}
	h, err := s.hand(r, learner, key, t, r.PostForm.Get("why"))
	if err != nil {
		return err
	}
	return seeOther(w, r, "/work/"+h.ID)
}

// hand draws a problem and keeps it as handed out, for a reason that is a word of whys.
func (s *Server) hand(r *http.Request, learner, key string, t *problem.Template, why string) (store.Handed, error) {
	say, ok := whys[why]
	if !ok {
		say = whys["lesson"]
	}
	return s.handWith(r, learner, key, t, say, help{})
}

// handWith is hand with a reason in words and with help beside the problem.
func (s *Server) handWith(r *http.Request, learner, key string, t *problem.Template, say string, h help) (store.Handed, error) {
	v, err := t.Draw(s.seed() & problem.MaxSeed)
	if err != nil {
		return store.Handed{}, err
	}
	kept, err := keep(v, h)
	if err != nil {
		return store.Handed{}, fmt.Errorf("template %s, seed %d: %w", t.ID, v.Seed, err)
	}
	return s.store.Hand(r.Context(), store.NewHanded{
		Learner: learner, Key: key, Program: s.program, Seed: v.Seed, Kept: kept, Why: say, Made: s.now(),
		Source: store.Source{Hash: t.Hash, Template: t.ID, Text: string(t.Text)},
	})
}

// unfinished is the last problem of a kind if it is still open; nil otherwise.
func (s *Server) unfinished(r *http.Request, learner string, t *problem.Template) (*task, error) {
	h, err := s.store.LatestHanded(r.Context(), learner, t.ID)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	k, err := s.task(r.Context(), learner, h.ID)
	if err != nil || k.closed() || k.changed {
		return nil, err
	}
	return k, nil
}

// next proposes what to do after a problem: the next of its lesson that was not
// right at a first try, going round; then the first such of the lessons behind.
func (s *Server) next(r *http.Request, now *problem.Template) (beginForm, error) {
	learner, err := s.who(r)
	if err != nil {
		return beginForm{}, err
	}
	done, err := s.done(r, learner)
	if err != nil {
		return beginForm{}, err
	}
	if t := s.following(now, done); t != nil {
		return beginForm{Template: t.ID, Title: t.Title, Label: "Next problem", Why: "next", Key: newKey()}, nil
	}
	return beginForm{}, nil
}

func (s *Server) following(now *problem.Template, done *doneBy) *problem.Template {
	wants := func(t *problem.Template) bool {
		return t != now && t.ID != now.ID && !t.Pause && done.templates[t.ID].RightFirstTry == 0
	}
	own := s.course.TemplatesOf(now.Lesson)
	at := 0
	for i, t := range own {
		if t.ID == now.ID {
			at = i + 1
		}
	}
	for i := range own {
		if t := own[(at+i)%len(own)]; wants(t) {
			return t
		}
	}
	for _, l := range s.course.Lessons {
		if l.Number <= now.Lesson {
			continue
		}
		for _, t := range s.course.TemplatesOf(l.Number) {
			if wants(t) {
				return t
			}
		}
	}
	return nil
}
