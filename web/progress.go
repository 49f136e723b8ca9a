package web

import (
	"fmt"
	"net/http"

	"fullyon/web/store"
)

// progressView is what progress.html shows.
type progressView struct {
	Shell
	Skills []skillRow
	Kinds  []kindRow
	Past   []pastRow
	More   int // older problems that are not listed
}

// skillRow and kindRow count questions right at the first try, with no hint opened.
type skillRow struct {
	Title        string
	Lesson       link
	Right, Asked int
}

type kindRow struct {
	Title, To string
	Handed    int
	Say       string
}

// pastRow is one problem that was answered.
type pastRow struct {
	To, Title string
	When      string
	Say       string
}

// listed is how many past problems are shown unless all are asked for.
const listed = 40

// progressPage shows what was done: GET /progress.
func (s *Server) progressPage(w http.ResponseWriter, r *http.Request) error {
	learner, err := s.who(r)
	if err != nil {
		return err
	}
	past, err := s.history(r, learner)
	if err != nil {
		return err
	}
	done, err := s.done(r, learner)
	if err != nil {
		return err
	}
	v := &progressView{Shell: Shell{Title: "What you have done", Here: "practice"}}
	v.Skills = s.skillRows(past)
	for _, t := range s.course.Templates {
		if p, ok := done.templates[t.ID]; ok && !t.Pause {
			v.Kinds = append(v.Kinds, kindRow{Title: t.Title, To: "/problem/" + t.ID, Handed: p.Handed, Say: tried(p)})
		}
	}
	v.Past = s.pastRows(past)
	if r.URL.Query().Get("all") == "" && len(v.Past) > listed {
		v.More = len(v.Past) - listed
		v.Past = v.Past[:listed]
	}
	return s.render(w, r, http.StatusOK, "progress", v)
}

// history is everything that a learner answered, oldest first.
func (s *Server) history(r *http.Request, learner string) ([]store.Past, error) {
	var all []store.Past
	page := store.Page{}
	for {
		some, err := s.store.History(r.Context(), learner, page)
		if err != nil || len(some) == 0 {
			return all, err
		}
		all = append(all, some...)
		page.After = some[len(some)-1].Seq
	}
}

// skillRows counts by skill, in the order of the course. Of each question of each
// problem only the first attempt counts.
func (s *Server) skillRows(past []store.Past) []skillRow {
	right, asked := map[string]int{}, map[string]int{}
	for _, p := range past {
		if p.Try != 1 {
			continue
		}
		t, err := s.course.Template(p.Template)
		if err != nil || t.Pause {
			continue
		}
		skills := t.Skills
		if q, ok := t.Question(p.Question); ok && q.Skill != "" {
			skills = []string{q.Skill}
		}
		for _, id := range skills {
			asked[id]++
			if p.Outcome == "right" && p.Helped == 0 {
				right[id]++
			}
		}
	}
	var rows []skillRow
	for _, k := range s.course.Skills {
		if asked[k.ID] == 0 {
			continue
		}
		row := skillRow{Title: k.Title, Right: right[k.ID], Asked: asked[k.ID]}
		if l := s.course.Numbered(k.Lesson); l != nil {
			row.Lesson = lessonLink(l)
		}
		rows = append(rows, row)
	}
	return rows
}

// pastRows lists the problems answered, the latest first.
func (s *Server) pastRows(past []store.Past) []pastRow {
	type sum struct {
		last  store.Past
		tries int
		right int
		marks map[string]float64
	}
	byHanded := map[string]*sum{}
	var order []string
	for _, p := range past {
		h := byHanded[p.Handed]
		if h == nil {
			h = &sum{marks: map[string]float64{}}
			byHanded[p.Handed] = h
			order = append(order, p.Handed)
		}
		h.last = p
		if p.Try > 0 {
			h.tries++
		}
		if p.Outcome == "right" {
			h.right++
		}
		h.marks[p.Question] = max(h.marks[p.Question], p.Marks)
	}
	rows := make([]pastRow, 0, len(order))
	for i := len(order) - 1; i >= 0; i-- {
		h := byHanded[order[i]]
		row := pastRow{To: "/work/" + order[i], Title: h.last.Template, When: h.last.Made.Local().Format("2 January 2006, 15:04")}
		t, err := s.course.Template(h.last.Template)
		if err == nil {
			row.Title = t.Title
		}
		total := 0.0
		for _, m := range h.marks {
			total += m
		}
		switch {
		case err == nil && t.Pause && h.right > 0:
			row.Say = "pause met"
		case err == nil && t.Pause:
			row.Say = "pause"
		default:
			row.Say = fmt.Sprintf("%s, %s", plural(h.tries, "attempt", "attempts"), marksSay(tenth(total)))
		}
		rows = append(rows, row)
	}
	return rows
}

func marksSay(m float64) string {
	if m == 1 {
		return "1 mark"
	}
	return marksText(m) + " marks"
}
