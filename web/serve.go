package web

import (
	"bytes"
	"context"
	"net/http"
	"runtime/debug"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
)

// gzipLevel: on pages of this kind level 5 sends a few per cent less than level
// 2 and takes twice the time.
const gzipLevel = 2

type requestKey struct{}

// requestNumber is the number under which a request stands in the log.
func requestNumber(r *http.Request) string {
	n, _ := r.Context().Value(requestKey{}).(uint64)
	return strconv.FormatUint(n, 10)
}

// route is the pattern a request matched: a log holds no ids and no answers.
func route(r *http.Request) string {
	if c := chi.RouteContext(r.Context()); c != nil && c.RoutePattern() != "" {
		return c.RoutePattern()
	}
	return "none"
}

// logged numbers each request and logs it when done.
func (s *Server) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		n := s.requests.Add(1)
		r = r.WithContext(context.WithValue(r.Context(), requestKey{}, n))
		ww := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		start := time.Now()
		next.ServeHTTP(ww, r)
		s.log.Debug("request", "request", n, "method", r.Method, "route", route(r), "status", ww.Status(), "bytes", ww.BytesWritten(), "took", time.Since(start))
	})
}

// recovered turns a panic into the page of an unknown failure.
func (s *Server) recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			p := recover()
			if p == nil {
				return
			}
			if p == http.ErrAbortHandler {
				panic(p) // net/http's own way to end a connection
			}
			s.log.Error("panic", "request", requestNumber(r), "route", route(r), "panic", p, "stack", string(debug.Stack()))
			s.fail(w, r, errPanicked)
		}()
		next.ServeHTTP(w, r)
	})
}

// render makes a page whole and then sends it.
func (s *Server) render(w http.ResponseWriter, r *http.Request, status int, name string, data view) error {
	data.shell().Looks = looksOf(r).classes()
	var b bytes.Buffer
	b.Grow(48 << 10)
	if err := s.pages[name].Execute(&b, data); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	// Not no-store: going back has to bring what was typed.
	h.Set("Cache-Control", "private, no-cache")
	w.WriteHeader(status)
	_, err := w.Write(b.Bytes())
	if err != nil {
		s.log.Debug("page not sent", "page", name, "error", err.Error())
	}
	return nil
}

// seeOther sends the browser to a page that can be loaded again.
func seeOther(w http.ResponseWriter, r *http.Request, to string) error {
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
