package web

import (
	"net/http"

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
