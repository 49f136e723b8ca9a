package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"

	"golang.org/x/net/html"
)

// site is a server over the built-in course and a store of its own.
type site struct {
	t       testing.TB
	s       *Server
	store   *store.DB
	h       http.Handler
	learner string
}

func newSite(t testing.TB) *site {
	t.Helper()
	course, err := lessons.Built()
	if err != nil {
		t.Fatalf("the built-in course: %v", err)
	}
	db, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "records.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	var seed, clock atomic.Uint64
	s, err := New(Config{
		Course: course, Store: db, Program: "test", Data: "the test's folder",
		Now:  func() time.Time { return time.Unix(1_800_000_000+int64(clock.Add(1)), 0) },
		Seed: func() uint64 { return seed.Add(1) },
	})
	if err != nil {
		t.Fatal(err)
	}
	l, err := db.LocalLearner(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return &site{t, s, db, s.Handler(), l.ID}
}

// got is an answer of the server.
type got struct {
	t      testing.TB
	status int
	header http.Header
	body   string
	doc    *html.Node
}

func (w *site) do(r *http.Request) *got {
	w.t.Helper()
	rec := httptest.NewRecorder()
	w.h.ServeHTTP(rec, r)
	g := &got{t: w.t, status: rec.Code, header: rec.Header(), body: rec.Body.String()}
	var err error
	if g.doc, err = html.Parse(strings.NewReader(g.body)); err != nil {
		w.t.Fatal(err)
	}
	return g
}

func request(method, address string, form url.Values) *http.Request {
	r := httptest.NewRequest(method, "http://127.0.0.1:4180"+address, strings.NewReader(form.Encode()))
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	return r
}

func (w *site) get(address string) *got {
	w.t.Helper()
	return w.do(request("GET", address, nil))
}

// post sends a form and follows the redirect, as a browser does.
func (w *site) post(address string, form url.Values) *got {
	w.t.Helper()
	g := w.do(request("POST", address, form))
	if g.status == http.StatusSeeOther {
		to, _, _ := strings.Cut(g.header.Get("Location"), "#")
		g = w.get(to)
		g.header.Set("Location", to)
	}
	return g
}

// handed draws a problem past the pages, so that no pause stands before it.
func (w *site) handed(template string) *task {
	w.t.Helper()
	t, err := w.s.course.Template(template)
	if err != nil {
		w.t.Fatal(err)
	}
	h, err := w.s.hand(request("GET", "/", nil), w.learner, newKey(), t, "lesson")
	if err != nil {
		w.t.Fatal(err)
	}
	return w.task(h.ID)
}

func (w *site) task(handed string) *task {
	w.t.Helper()
	k, err := w.s.task(context.Background(), w.learner, handed)
	if err != nil {
		w.t.Fatal(err)
	}
	return k
}

// answer sends one answer to a question of a problem.
func (w *site) answer(k *task, question, text string) *got {
	w.t.Helper()
	return w.post("/work/"+k.work.Handed.ID+"/answer", w.form(k, question, text))
}

// form is what a browser sends for an answer in the writing of marking.
func (w *site) form(k *task, question, text string) url.Values {
	f := url.Values{"key": {newKey()}, "q": {question}}
	q, _ := k.t.Question(question)
	switch q.Kind {
	case problem.Order:
		for i, id := range strings.Split(text, ",") {
			f.Set("place-"+id, string(rune('1'+i)))
		}
	case problem.Choice:
		f["text"] = strings.Split(text, ",")
	case problem.Verdict, problem.Fault, problem.Part:
		first, ground, _ := strings.Cut(text, "/")
		f.Set("text", first)
		f.Set("ground", ground)
	default:
		f.Set("text", text)
	}
	return f
}

// walk calls f for every element.
func walk(n *html.Node, f func(*html.Node)) {
	if n.Type == html.ElementNode {
		f(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		walk(c, f)
	}
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func (g *got) all(tag string) []*html.Node {
	var out []*html.Node
	walk(g.doc, func(n *html.Node) {
		if n.Data == tag {
			out = append(out, n)
		}
	})
	return out
}

func (g *got) class(name string) []*html.Node {
	var out []*html.Node
	walk(g.doc, func(n *html.Node) {
		for _, c := range strings.Fields(attr(n, "class")) {
			if c == name {
				out = append(out, n)
			}
		}
	})
	return out
}

func (g *got) id(id string) *html.Node {
	var out *html.Node
	walk(g.doc, func(n *html.Node) {
		if attr(n, "id") == id {
			out = n
		}
	})
	return out
}

// text is the text of a node with single spaces; nil has none.
func text(n *html.Node) string {
	if n == nil {
		return ""
	}
	var b strings.Builder
	var add func(*html.Node)
	add = func(n *html.Node) {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + " ")
		}
		if n.Data == "annotation" { // TeX beside the formula
			return
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			add(c)
		}
	}
	add(n)
	return strings.Join(strings.Fields(b.String()), " ")
}

func (g *got) want(status int) *got {
	g.t.Helper()
	if g.status != status {
		g.t.Fatalf("status %d, want %d: %s", g.status, status, text(g.doc))
	}
	return g
}

// says fails unless the page, or the part of it with this id, holds a text.
func (g *got) says(id, want string) *got {
	g.t.Helper()
	n := g.doc
	if id != "" {
		if n = g.id(id); n == nil {
			g.t.Fatalf("there is no #%s in the page: %s", id, text(g.doc))
		}
	}
	if !strings.Contains(text(n), want) {
		g.t.Fatalf("#%s says %q, want it to hold %q", id, text(n), want)
	}
	return g
}

// typed is what stands in the box of a question.
func (g *got) typed(question string) string {
	g.t.Helper()
	n := g.id("in-" + question)
	if n == nil {
		g.t.Fatalf("question %s has no box", question)
	}
	return attr(n, "value")
}
