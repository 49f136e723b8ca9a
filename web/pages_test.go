package web

import (
	"bytes"
	"net/http"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fullyon/grader/problem"

	"golang.org/x/net/html"
)

// Every template is executed with zero and with filled values, since html/template
// finds a misspelt field only then.
func TestTemplates(t *testing.T) {
	w := newSite(t)
	views := map[string]any{
		"path": &pathView{}, "lesson": &lessonView{}, "begin": &beginView{}, "work": &workView{}, "pause": &pauseView{workView: &workView{}},
		"progress": &progressView{}, "sources": &sourcesView{}, "glossary": &glossaryView{}, "card": &cardView{}, "about": &aboutView{}, "reading": &readingView{}, "practice": &practiceView{}, "error": &errorPage{},
	}
	for name := range w.s.pages {
		view, ok := views[name]
		if !ok {
			t.Errorf("the page %s is not tested here", name)
			continue
		}
		for _, filled := range []bool{false, true} {
			if filled {
				fill(reflect.ValueOf(view).Elem(), 0)
			}
			var b bytes.Buffer
			if err := w.s.pages[name].Execute(&b, view); err != nil {
				t.Errorf("%s, filled %v: %v", name, filled, err)
			}
			if !strings.HasSuffix(strings.TrimSpace(b.String()), "</html>") {
				t.Errorf("%s, filled %v: the page is not whole", name, filled)
			}
		}
	}
	if len(w.s.pages) != len(views) {
		t.Errorf("%d pages, %d views", len(w.s.pages), len(views))
	}
}

// fill gives every field a value that is not zero.
func fill(v reflect.Value, depth int) {
	if !v.CanSet() || depth > 6 {
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString("value")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(2)
	case reflect.Uint64:
		v.SetUint(2)
	case reflect.Float64:
		v.SetFloat(2.5)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), depth+1)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), depth+1)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), depth+1)
		}
	}
}

// everyPage gives the addresses of all pages, with problems and pauses in several states.
func everyPage(w *site) []string {
	return append(pagesOf(w, w.s.course.Templates), "/no-such-page")
}

func pagesOf(w *site, templates []*problem.Template) []string {
	out := []string{"/", "/practice", "/progress", "/progress?all=1", "/sources", "/glossary", "/card", "/about", "/reading"}
	for _, l := range w.s.course.Lessons {
		out = append(out, "/lesson/"+l.ID, "/lesson/"+l.ID+"?again=7")
	}
	for _, t := range templates {
		out = append(out, "/problem/"+t.ID)
		fresh, slipped, closed := w.handed(t.ID), w.handed(t.ID), w.handed(t.ID)
		for i := range t.Questions {
			q, a := &t.Questions[i], &closed.key.Answers[i]
			w.answer(closed, q.ID, a.Text)
			b := &slipped.key.Answers[i]
			switch {
			case len(b.Slips) > 0:
				w.answer(slipped, q.ID, b.Slips[0].Text)
			case q.Kind.Numeric():
				w.answer(slipped, q.ID, "1 furlong")
			case q.Kind == problem.Order:
				rev := slices.Clone(b.Right)
				slices.Reverse(rev)
				w.answer(slipped, q.ID, strings.Join(rev, ","))
			}
		}
		if t.Pause {
			out = append(out, "/pause/"+t.ID)
			continue
		}
		out = append(out, "/work/"+fresh.work.Handed.ID, "/work/"+slipped.work.Handed.ID, "/work/"+closed.work.Handed.ID)
	}
	return out
}

func TestEveryPage(t *testing.T) {
	w := newSite(t)
	links := map[string]string{}
	for _, address := range everyPage(w) {
		t.Run(address, func(t *testing.T) {
			g := w.get(address)
			g.t = t
			if to := g.header.Get("Location"); to != "" { // an open problem, or a pause
				g = w.get(to)
			}
			if g.status != http.StatusOK && address != "/no-such-page" {
				t.Fatalf("status %d: %s", g.status, text(g.doc))
			}
			checkPage(t, g)
			for _, a := range g.all("a") {
				if to, _, _ := strings.Cut(attr(a, "href"), "#"); to != "" && !strings.HasPrefix(to, "?") {
					links[to] = address
				}
			}
		})
	}
	for to, from := range links {
		if g := w.get(to); g.status >= 400 {
			t.Errorf("%s links to %s, which answers %d", from, to, g.status)
		}
	}
}

// checkPage proves what holds for every page.
func checkPage(t *testing.T, g *got) {
	t.Helper()
	for tag, want := range map[string]int{"h1": 1, "main": 1, "title": 1, "style": 0, "iframe": 0, "object": 0, "embed": 0, "base": 0, "script": 2} {
		n := 0
		for _, x := range g.all(tag) {
			if tag != "title" || x.Namespace == "" { // an SVG has titles of its own
				n++
			}
		}
		if n != want {
			t.Errorf("%d elements %s, want %d", n, tag, want)
		}
	}
	ids := map[string]bool{}
	labelled := map[string]bool{}
	level := 0
	walk(g.doc, func(n *html.Node) {
		for _, a := range n.Attr {
			if strings.HasPrefix(strings.ToLower(a.Key), "on") || a.Key == "style" || a.Key == "srcdoc" {
				t.Errorf("<%s> carries %s", n.Data, a.Key)
			}
			if (a.Key == "href" || a.Key == "src" || a.Key == "action") && !strings.HasPrefix(a.Val, "/") && !strings.HasPrefix(a.Val, "#") && !strings.HasPrefix(a.Val, "?") {
				t.Errorf("<%s %s=%q> leaves the site", n.Data, a.Key, a.Val)
			}
		}
		if id := attr(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("the id %q comes twice", id)
			}
			ids[id] = true
		}
		if n.Data == "label" {
			labelled[attr(n, "for")] = true
		}
		if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
			if now := int(n.Data[1] - '0'); now > level+1 {
				t.Errorf("a heading h%d stands below h%d", now, level)
			} else {
				level = now
			}
		}
		if n.Data == "form" {
			if attr(n, "method") != "post" {
				t.Errorf("a form goes to %s by %q", attr(n, "action"), attr(n, "method"))
			}
			keyed := false
			walk(n, func(c *html.Node) { keyed = keyed || attr(c, "name") == "key" && attr(c, "value") != "" })
			if !keyed {
				t.Errorf("the form to %s has no key", attr(n, "action"))
			}
		}
	})
	walk(g.doc, func(n *html.Node) {
		if n.Data == "input" && attr(n, "type") == "text" && !labelled[attr(n, "id")] {
			t.Errorf("the box %q has no label", attr(n, "name"))
		}
		for _, name := range []string{"aria-describedby", "aria-labelledby", "for"} {
			for _, id := range strings.Fields(attr(n, name)) {
				if !ids[id] {
					t.Errorf("<%s %s=%q> points nowhere", n.Data, name, id)
				}
			}
		}
	})
	if strings.Contains(g.body, "ZgotmplZ") {
		t.Error("a value was put where html/template does not allow it")
	}
}
