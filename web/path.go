package web

import (
	"fmt"
	"net/http"
)

// pathView is what path.html shows: the lessons in order.
type pathView struct {
	Shell
	Lessons []pathLesson
	Start   link // where to begin or go on
	Begun   bool
}

type pathLesson struct {
	Number    int
	To        string
	Title     string
	Minutes   int
	Can       string // the first thing that it teaches
	Needs     []link
	State     string
	Stage     string // done, begun or new, for the mark on the wire
	Further   bool
	Here      bool   // go on here
	Milestone string // that stands behind it
	Reached   bool   // it and all before it are done
}

// milestones stand behind these lessons.
var milestones = map[int]string{9: "My LED tape holds", 18: "My circuit holds"}

// pathPage shows the lessons in order: GET /.
func (s *Server) pathPage(w http.ResponseWriter, r *http.Request) error {
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	done, err := s.done(r, learner)
	if err != nil {
		return err
	}
	v := &pathView{Shell: Shell{Title: "The path", Here: "path"}, Begun: len(done.templates) > 0}
	found, whole := false, true
	for _, l := range s.course.Lessons {
		p := pathLesson{Number: l.Number, To: "/lesson/" + l.ID, Title: l.Title, Minutes: l.Minutes, Further: l.Further, Milestone: milestones[l.Number]}
		if len(l.Can) > 0 {
			p.Can = l.Can[0]
		}
		for _, n := range l.Needs {
			if need := s.course.Numbered(n); need != nil {
				p.Needs = append(p.Needs, link{"/lesson/" + need.ID, need.Title})
			}
		}
		p.State, p.Stage = s.stage(l.Number, done)
		whole = whole && (p.Stage == "done" || l.Further)
		p.Reached = whole
		if !found && p.Stage != "done" && !l.Further {
			found, p.Here = true, true
			v.Start = link{p.To, l.Title}
		}
		v.Lessons = append(v.Lessons, p)
	}
	if v.Start.To == "" && len(v.Lessons) > 0 {
		v.Start = link{v.Lessons[0].To, v.Lessons[0].Title}
	}
	return s.render(w, r, http.StatusOK, "path", v)
}

// stage tells how far a lesson is done: each of its problems right once at the first try.
func (s *Server) stage(lesson int, done *doneBy) (say, stage string) {
	all := s.course.TemplatesOf(lesson)
	begun, right := 0, 0
	for _, t := range all {
		p, ok := done.templates[t.ID]
		if !ok {
			continue
		}
		begun++
		if p.RightFirstTry > 0 {
			right++
		}
	}
	switch {
	case len(all) == 0:
		return "", "new"
	case begun == 0:
		return plural(len(all), "problem", "problems"), "new"
	case right == len(all):
		return fmt.Sprintf("all %d problems right at a first try", len(all)), "done"
	}
	return fmt.Sprintf("%d of %s right at a first try", right, plural(len(all), "problem", "problems")), "begun"
}
