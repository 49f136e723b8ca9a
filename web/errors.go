package web

import (
	"context"
	"errors"
	"maps"
	"net/http"
	"path"
	"slices"

	"fullyon/engine/read"
	"fullyon/lessons"
	"fullyon/web/store"
)

// Who sees which message: a pageError is said to the reader as it stands. Any
// other error is logged with the request's number, and the reader is told only
// that number. Nothing here shows a path, a query or a cause.

// pageError is a failure that the reader can do something about.
type pageError struct {
	status int
	title  string
	say    string // what was wrong and what to do
	links  []link // where to go instead
	typed  string // what was typed, so that it is not lost
}

func (e *pageError) Error() string { return e.title + ": " + e.say }

var errPanicked = errors.New("panicked")

type link struct{ To, Text string }

func notFound(say string, links ...link) error {
	return &pageError{status: http.StatusNotFound, title: "Not found", say: say, links: links}
}

func badRequest(say string) error {
	return &pageError{status: http.StatusBadRequest, title: "That could not be taken", say: say}
}

// errorPage is what error.html shows.
type errorPage struct {
	Shell
	Status  int
	Say     string
	Links   []link
	Typed   string
	Request string // number of the request in the log; empty where it helps nobody
}

// handle turns a handler that returns errors into one that shows them.
func (s *Server) handle(f func(w http.ResponseWriter, r *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := f(w, r); err != nil {
			s.fail(w, r, err)
		}
	}
}

// fail shows an error as a page.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if errors.Is(err, context.Canceled) && r.Context().Err() != nil {
		return // nobody waits for the answer
	}
	page := explain(err)
	if page == nil {
		n := requestNumber(r)
		s.log.Error("page failed", "request", n, "method", r.Method, "route", route(r), "error", err.Error())
		page = &pageError{
			status: http.StatusInternalServerError,
			title:  "Something went wrong here",
			say:    "The program could not make this page. What you did before is kept. Go back and try again; if it stays, the log has the reason under the number below.",
		}
		s.showError(w, r, page, n)
		return
	}
	s.showError(w, r, page, "")
}

func (s *Server) showError(w http.ResponseWriter, r *http.Request, e *pageError, request string) {
	links := e.links
	if len(links) == 0 {
		links = []link{{"/", "The path of lessons"}}
	}
	p := errorPage{Shell: Shell{Title: e.title}, Status: e.status, Say: e.say, Links: links, Typed: e.typed, Request: request}
	if err := s.render(w, r, e.status, "error", &p); err != nil {
		s.log.Error("error page failed", "error", err.Error())
		http.Error(w, e.title+". "+e.say, e.status)
	}
}

// explain gives the page for the kinds of error that a reader can act on; nil for all others.
func explain(err error) *pageError {
	var page *pageError
	var tooLong *http.MaxBytesError
	var unknown *lessons.UnknownError
	switch {
	case errors.As(err, &page):
		return page
	case errors.As(err, &unknown):
		e := &pageError{status: http.StatusNotFound, title: "Not found", say: "There is no " + unknown.What + " of that name."}
		if to := map[string]string{"lesson": "/lesson/", "template": "/problem/"}[unknown.What]; to != "" && unknown.Nearest != "" {
			e.links = []link{{to + unknown.Nearest, unknown.Nearest}, {"/", "The path of lessons"}}
		}
		return e
	case errors.As(err, &tooLong):
		return &pageError{
			status: http.StatusRequestEntityTooLarge,
			title:  "That is too long for an answer",
			say:    "An answer has a few dozen signs, and this was more than 64 thousand. Nothing was marked and no attempt was used. Go back: what you typed is still in the box; shorten it and send it again.",
		}
	case errors.Is(err, store.ErrNotFound):
		return &pageError{
			status: http.StatusNotFound,
			title:  "Not found",
			say:    "There is no such problem here. It may have been made on another machine or with another data folder.",
			links:  []link{{"/", "The path of lessons"}, {"/progress", "What you have done"}},
		}
	case errors.Is(err, store.ErrKeyReused):
		return &pageError{status: http.StatusConflict, title: "This form was used before", say: "It was sent already for another question. Go back, load the page again, and send your answer from there."}
	case errors.Is(err, store.ErrFull), errors.Is(err, store.ErrUnwritable), errors.Is(err, store.ErrLocked):
		return &pageError{
			status: http.StatusServiceUnavailable,
			title:  "Your answer could not be kept",
			say:    "The program cannot write to its data folder: the disk is full, locked or read-only. Nothing was marked. Make room, then go back and send the answer again: it is still in the box.",
		}
	case errors.Is(err, context.DeadlineExceeded):
		return &pageError{status: http.StatusServiceUnavailable, title: "That took too long", say: "The machine is busy. Go back and try again."}
	}
	return nil
}

// nearest proposes the page whose address is nearest to one that does not exist.
func (s *Server) nearest(address string) []link {
	known := map[string]link{}
	add := func(to, text string) { known[path.Base(to)] = link{to, text} }
	add("/progress", "What you have done")
	add("/glossary", "Glossary")
	add("/card", "Reference card")
	add("/sources", "Sources")
	add("/about", "About this program")
	add("/reading", "Text and colours")
	for _, l := range s.course.Lessons {
		add("/lesson/"+l.ID, l.Title)
	}
	for _, t := range s.course.Templates {
		if !t.Pause {
			add("/problem/"+t.ID, t.Title)
		}
	}
	links := []link{}
	if n := read.Nearest(path.Base(address), slices.Collect(maps.Keys(known))); n != "" {
		links = append(links, known[n])
	}
	return append(links, link{"/", "The path of lessons"})
}

func (s *Server) missing(w http.ResponseWriter, r *http.Request) error {
	return notFound("There is no page under this address.", s.nearest(r.URL.Path)...)
}
