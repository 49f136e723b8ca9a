package web

import (
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"

	"github.com/go-chi/chi/v5"
)

// workView is what work.html shows: one problem, with what was done on it.
type workView struct {
	Shell
	Path      string // its address, to which the forms send
	Why       string
	Lesson    link
	Kind      string // level, minutes, method
	OnPaper   bool
	Changed   bool
	Strip     strip
	Example   *workedView // stands before the problem
	Situation template.HTML
	Questions []questionView
	Pause     bool
	Closed    bool
	Marks, Of string
	Again     beginForm // the same kind with fresh numbers
	Next      beginForm // what comes next; its Template is empty where nothing does
}

// strip is the situation as drawn: schematic, datasheet, curves and other drawings.
type strip struct {
	Schematic template.HTML
	Sheet     template.HTML
	Drawn     []figureView // below these
	Facts     []string
}

// beginForm is a button that hands out a problem.
type beginForm struct {
	Template, Title, Label string
	Why                    string // a word of whys
	Key                    string
	New                    bool // a fresh draw, even where one is open
}

// overlay is an answer that could not be taken, put back where it was typed.
type overlay struct {
	question, text, say string
	places              map[string]string
	step                *filled
}

// workPage shows a problem: GET /work/{handed}.
func (s *Server) workPage(w http.ResponseWriter, r *http.Request) error {
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	k, err := s.task(r.Context(), learner, chi.URLParam(r, "handed"))
	if err != nil {
		return err
	}
	if k.t.Pause && r.URL.Query().Get("then") != "" {
		return seeOther(w, r, k.address(r))
	}
	return s.showTask(w, r, k, nil, http.StatusOK)
}

// showTask renders a problem or a pause.
func (s *Server) showTask(w http.ResponseWriter, r *http.Request, k *task, over *overlay, status int) error {
	v, err := s.viewTask(r, k, over)
	if err != nil {
		return err
	}
	if k.t.Pause {
		return s.showPause(w, r, k, v, status)
	}
	if v.Closed && !k.changed {
		if v.Next, err = s.next(r, k.t); err != nil {
			return err
		}
		v.Again = beginForm{Template: k.t.ID, Label: "Another of the same kind", Why: "again", Key: newKey(), New: true}
	}
	return s.render(w, r, status, "work", v)
}

// viewTask is what a problem and a pause have in common.
func (s *Server) viewTask(r *http.Request, k *task, over *overlay) (*workView, error) {
	v := &workView{
		Shell:     Shell{Title: k.t.Title, Here: "path"},
		Path:      "/work/" + k.work.Handed.ID,
		Why:       k.work.Handed.Why,
		Kind:      describe(k.t),
		OnPaper:   k.t.OnPaper,
		Changed:   k.changed,
		Pause:     k.t.Pause,
		Situation: lessons.HTML(k.page.Situation),
		Closed:    k.closed(),
	}
	if l := s.course.Numbered(k.t.Lesson); l != nil {
		v.Lesson = link{"/lesson/" + l.ID, lessonName(l)}
		v.Crumb = []link{v.Lesson}
	}
	v.Strip = drawStrip(k, "now")
	total := 0.0
	of := 0
	var lines []problem.Line
	var err error
	if k.reveals(0) || k.help.Support == mastery.Faded {
		if lines, err = k.t.Worked(k.v); err != nil {
			return nil, err
		}
	}
	if v.Example, err = s.example(k); err != nil {
		return nil, err
	}
	for i := range k.states {
		q, err := s.viewQuestion(k, i, lines, over)
		if err != nil {
			return nil, err
		}
		v.Questions = append(v.Questions, *q)
		total += k.states[i].marks
		of += k.states[i].q.Marks
	}
	v.Marks, v.Of = marksText(tenth(total)), plural(of, "mark", "marks")
	return v, nil
}

// drawStrip draws the figures that the template asks for. Their ids begin with id.
func drawStrip(k *task, id string) strip {
	var s strip
	of := figure.Subject{Part: k.v.Part, Rows: k.t.Rows, Bench: k.t.Bench, Asked: k.askedAt}
	if k.t.HasCircuit() {
		of.Circuit = &k.v.Circuit
	}
	for _, name := range k.t.Figures {
		d, err := figure.Draw(name, of)
		if err != nil {
			continue // checking the template tells its author
		}
		own := id + "-" + name
		switch name {
		case "schematic":
			s.Schematic, s.Facts = template.HTML(d.HTML(own)), append(s.Facts, d.Facts()...)
		case "datasheet":
			s.Sheet = template.HTML(d.HTML(id + "-sheet"))
		default:
			s.Drawn = append(s.Drawn, figureView{Drawing: template.HTML(d.HTML(own)), Points: template.HTML(d.Points(own + "-points")), Facts: d.Facts()})
		}
	}
	return s
}

// askedAt gives the places at which a curve is still to be read off. What is drawn
// must not say its value there.
func (k *task) askedAt(curve string) []float64 {
	for i := range k.states {
		if q := k.states[i].q; q.Kind == problem.ReadOff && q.Curve == curve && !k.states[i].closed() {
			return k.v.AskedAt(curve)
		}
	}
	return nil
}

// readAnswer says how a text would be read, for the script beside the box:
// GET /read?unit=mW&text=120+m.
func (s *Server) readAnswer(w http.ResponseWriter, r *http.Request) error {
	query, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return badRequest("The address could not be read.")
	}
	return sendReading(w, strings.TrimSpace(query.Get("unit")), query.Get("text"))
}
