package web

import (
	"fmt"
	"net/http"
	"slices"

	"fullyon/lessons"
)

// sourcesView is what sources.html shows: what the course leans on.
type sourcesView struct {
	Shell
	Sources []sourceRow
}

type sourceRow struct {
	*lessons.Source
	Lessons []link
	Bears   []bornClaim // what lessons say on its ground
}

type bornClaim struct {
	Lesson link
	Says   string
}

// sourcesPage lists the sources: GET /sources.
func (s *Server) sourcesPage(w http.ResponseWriter, r *http.Request) error {
	v := &sourcesView{Shell: Shell{Title: "Sources", Here: "sources"}}
	for _, src := range s.course.Sources {
		row := sourceRow{Source: src}
		for _, l := range s.course.Lessons {
			for _, id := range l.Sources {
				if id == src.ID {
					row.Lessons = append(row.Lessons, lessonLink(l))
				}
			}
		}
		for _, c := range s.course.Claims {
			if l := s.course.Numbered(c.Lesson); l != nil && slices.Contains(c.Sources, src.ID) {
				row.Bears = append(row.Bears, bornClaim{link{"/lesson/" + l.ID, fmt.Sprintf("Lesson %d", l.Number)}, c.Says})
			}
		}
		v.Sources = append(v.Sources, row)
	}
	return s.render(w, r, http.StatusOK, "sources", v)
}

// aboutView is what about.html shows.
type aboutView struct {
	Shell
	Program string
	Data    string
}

// aboutPage says what is kept, where, and what the program will not do: GET /about.
func (s *Server) aboutPage(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, r, http.StatusOK, "about", &aboutView{Shell: Shell{Title: "About this program", Here: "about"}, Program: s.program, Data: s.data})
}
