package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"

	"github.com/go-chi/chi/v5"
)

// lessonView is what lesson.html shows.
type lessonView struct {
	Shell
	Number   int
	ID       string
	Minutes  int
	Further  bool
	Can      []string
	Needs    []link
	Headings []lessons.Heading
	Parts    []partView
	Pause    *pauseCard // stands before the problems
	Problems []problemCard
	Sources  []*lessons.Source
	Before   link // the lessons on both sides
	Next     link
}

// partView is a piece of a lesson; exactly one field is set.
type partView struct {
	HTML   template.HTML
	Figure *figureView
	Worked *workedView
	Pause  *pauseCard
}

type figureView struct {
	Drawing template.HTML
	Caption template.HTML
	Points  template.HTML
	Facts   []string
}

// workedView is a worked example, drawn afresh when asked.
type workedView struct {
	Anchor    string
	Title     string
	Situation template.HTML
	Strip     strip
	Questions []workedQuestion
	Again     string // address of another one
}

type workedQuestion struct {
	Ask    template.HTML
	Answer string
	Work   []workLine
}

type pauseCard struct {
	ID, Title string
	Met       bool
	Before    bool // the problems of the lesson wait behind it
}

// problemCard is one problem of a lesson with what was done on it.
type problemCard struct {
	Begin beginForm
	Kind  string
	State string
	Done  bool
}

// lessonPage shows a lesson: GET /lesson/{id}.
func (s *Server) lessonPage(w http.ResponseWriter, r *http.Request) error {
	l, err := s.course.Lesson(chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	done, err := s.done(r, learner)
	if err != nil {
		return err
	}
	seed := uint64(0)
	if again := r.URL.Query().Get("again"); again != "" {
		if seed, err = strconv.ParseUint(again, 10, 64); err != nil || seed > problem.MaxSeed {
			return badRequest("The number of the worked example has to be a whole number. Take “another one” from the lesson.")
		}
	}
	v := &lessonView{
		Shell:  Shell{Title: l.Title, Here: "path", Crumb: []link{{"", fmt.Sprintf("Lesson %d", l.Number)}}},
		Number: l.Number, ID: l.ID, Minutes: l.Minutes, Further: l.Further, Can: l.Can, Headings: outline(l.Headings),
	}
	for _, n := range l.Needs {
		if need := s.course.Numbered(n); need != nil {
			v.Needs = append(v.Needs, link{"/lesson/" + need.ID, need.Title})
		}
	}
	for i, p := range l.Parts {
		part, err := s.part(l, &p, i, seed, done)
		if err != nil {
			return err
		}
		v.Parts = append(v.Parts, part)
	}
	if l.Pause != "" {
		v.Pause = s.pauseCard(l.Pause, done)
		v.Pause.Before = true
	}
	for _, t := range s.course.TemplatesOf(l.Number) {
		v.Problems = append(v.Problems, card(t, done, "lesson"))
	}
	for _, id := range l.Sources {
		if src, err := s.course.Source(id); err == nil {
			v.Sources = append(v.Sources, src)
		}
	}
	for i, other := range s.course.Lessons {
		if other != l {
			continue
		}
		if i > 0 {
			v.Before = lessonLink(s.course.Lessons[i-1])
		}
		if i+1 < len(s.course.Lessons) {
			v.Next = lessonLink(s.course.Lessons[i+1])
		}
	}
	return s.render(w, r, http.StatusOK, "lesson", v)
}

func lessonLink(l *lessons.Lesson) link { return link{"/lesson/" + l.ID, lessonName(l)} }

func lessonName(l *lessons.Lesson) string { return fmt.Sprintf("Lesson %d · %s", l.Number, l.Title) }

// outline keeps the headings that a list of contents shows.
func outline(all []lessons.Heading) []lessons.Heading {
	var out []lessons.Heading
	for _, h := range all {
		if h.Level == 2 {
			out = append(out, h)
		}
	}
	if len(out) < 3 {
		return nil
	}
	return out
}

// part fills one piece of a lesson.
func (s *Server) part(l *lessons.Lesson, p *lessons.Part, i int, seed uint64, done *doneBy) (partView, error) {
	switch {
	case p.Figure != nil:
		f, err := s.figure(l, p.Figure, "fig-"+strconv.Itoa(i))
		return partView{Figure: f}, err
	case p.Worked != nil:
		w, err := s.worked(p.Worked.Template, "worked-"+strconv.Itoa(i), seed)
		return partView{Worked: w}, err
	case p.Pause != "":
		return partView{Pause: s.pauseCard(p.Pause, done)}, nil
	}
	return partView{HTML: p.HTML}, nil
}

// figure draws a figure of a lesson.
func (s *Server) figure(l *lessons.Lesson, f *lessons.Figure, id string) (*figureView, error) {
	d, err := s.course.Draw(l, f)
	if err != nil {
		return nil, err
	}
	return &figureView{Caption: f.Caption, Drawing: template.HTML(d.HTML(id)), Points: template.HTML(d.Points(id + "-points")), Facts: d.Facts()}, nil
}

// worked draws a worked example.
func (s *Server) worked(id, anchor string, seed uint64) (*workedView, error) {
	t, err := s.course.Template(id)
	if err != nil {
		return nil, err
	}
	v, err := t.Draw(seed)
	if err != nil {
		return nil, err
	}
	page, err := t.Page(v)
	if err != nil {
		return nil, err
	}
	lines, err := t.Worked(v)
	if err != nil {
		return nil, err
	}
	// A page of the next seed, so that "another one" can be shared and gone back to.
	next := s.seed() % 10_000
	if next == seed {
		next++
	}
	out := &workedView{Anchor: anchor, Title: t.Title, Situation: lessons.HTML(page.Situation), Again: fmt.Sprintf("?again=%d#%s", next, anchor)}
	out.Strip = drawStrip(&task{t: t, v: v}, anchor)
	key := t.Key(v)
	for i := range page.Questions {
		q := workedQuestion{Ask: lessons.HTML(page.Questions[i].Ask)}
		if t.Questions[i].Kind.Numeric() {
			q.Answer = key.Answers[i].Text
		}
		from, to := workOf(t, i, lines)
		q.Work = workedLines(v.Part, lines[from:to], nil)
		out.Questions = append(out.Questions, q)
	}
	return out, nil
}

func (s *Server) pauseCard(id string, done *doneBy) *pauseCard {
	_, met := done.met[id]
	c := &pauseCard{ID: id, Title: "A pause", Met: met}
	if t, err := s.course.Template(id); err == nil {
		c.Title = t.Title
	}
	return c
}

// describe tells level and length of a problem.
func describe(t *problem.Template) string {
	out := fmt.Sprintf("level %d of 4 · about %s", t.Level, plural(t.Minutes, "minute", "minutes"))
	if t.Task != "" {
		out += " · " + t.Task
	}
	return out
}

// card tells what was done on one kind of problem.
func card(t *problem.Template, done *doneBy, why string) problemCard {
	c := problemCard{Kind: describe(t), Begin: beginForm{Template: t.ID, Title: t.Title, Label: "Begin", Why: why, Key: newKey()}}
	p, ok := done.templates[t.ID]
	if !ok {
		return c
	}
	c.State = tried(p)
	c.Done = p.RightFirstTry > 0
	c.Begin.Label = "Go on"
	return c
}

// tried tells of the progress with one kind of problem.
func tried(p store.Progress) string {
	if p.Questions == 0 {
		return "begun"
	}
	return fmt.Sprintf("%d of %s right at the first try", p.RightFirstTry, plural(p.Questions, "question", "questions"))
}

// doneBy is what a learner did, by template, and the pauses met.
type doneBy struct {
	templates map[string]store.Progress
	met       map[string]store.PauseMet
}

func (s *Server) done(r *http.Request, learner string) (*doneBy, error) {
	d := &doneBy{map[string]store.Progress{}, map[string]store.PauseMet{}}
	all, err := s.store.Progress(r.Context(), learner)
	if err != nil {
		return nil, err
	}
	for _, p := range all {
		d.templates[p.Template] = p
	}
	met, err := s.store.PausesMet(r.Context(), learner)
	if err != nil {
		return nil, err
	}
	for _, m := range met {
		d.met[m.Pause] = m
	}
	return d, nil
}
