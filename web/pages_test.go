package web

import (
	"bytes"
	"fmt"
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
		"progress": &progressView{}, "sources": &sourcesView{}, "about": &aboutView{}, "error": &errorPage{},
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
	out := []string{"/", "/progress", "/progress?all=1", "/sources", "/about"}
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
			case q.Kind == problem.Quantity:
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
	for tag, want := range map[string]int{"h1": 1, "main": 1, "title": 1, "style": 0, "iframe": 0, "object": 0, "embed": 0, "base": 0, "script": 1} {
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

// Nothing on a page tells an answer before it is marked. What is drawn, the
// schematic and the datasheet, holds the givens, among which an answer may lie.
func TestNoAnswerBeforeMarking(t *testing.T) {
	w := newSite(t)
	draws := 200
	if testing.Short() {
		draws = 20
	}
	for _, tmpl := range w.s.course.Templates {
		// What stands on the page of another draw as well tells nothing.
		_, always, err := shownBefore(w, tmpl, problem.MaxSeed)
		if err != nil {
			t.Fatal(err)
		}
		for seed := range uint64(draws) {
			if err := tellsNothing(w, tmpl, seed, always); err != nil {
				t.Errorf("template %s, seed %d: %v", tmpl.ID, seed, err)
				break
			}
		}
	}
}

// shownBefore renders a draw as it is before anything was answered, without its figures.
func shownBefore(w *site, tmpl *problem.Template, seed uint64) (*task, string, error) {
	v, err := tmpl.Draw(seed)
	if err != nil {
		return nil, "", err
	}
	page, err := tmpl.Page(v)
	if err != nil {
		return nil, "", err
	}
	k := &task{t: tmpl, v: v, key: tmpl.Key(v), page: page}
	k.read(w.s.rules)
	view, err := w.s.viewTask(request("GET", "/", nil), k, nil)
	if err != nil {
		return nil, "", err
	}
	view.Strip = strip{}
	var b bytes.Buffer
	err = w.s.pages["work"].Execute(&b, view)
	return k, b.String(), err
}

func tellsNothing(w *site, tmpl *problem.Template, seed uint64, always string) error {
	k, body, err := shownBefore(w, tmpl, seed)
	if err != nil {
		return err
	}
	v, page := k.v, k.page
	doc, err := html.Parse(strings.NewReader(body))
	if err != nil {
		return err
	}
	words := text(doc)
	for i := range tmpl.Questions {
		q, a := &tmpl.Questions[i], &k.key.Answers[i]
		if q.Kind == problem.Quantity {
			if standsIn(words, a.Text) && !standsIn(always, a.Text) {
				return fmt.Errorf("the answer %s to %s stands in the page: %s", a.Text, q.ID, words)
			}
			for _, end := range []float64{a.Low, a.High} {
				if s := fmt.Sprint(end); len(s) > 6 && strings.Contains(body, s) {
					return fmt.Errorf("an end of the band, %s, stands in the page", s)
				}
			}
		}
		for _, s := range a.Slips {
			if strings.Contains(words, s.Slip.Title) {
				return fmt.Errorf("the slip %q stands in the page", s.Slip.Title)
			}
			if says, err := tmpl.SaySlip(v, s.Slip); err != nil || strings.Contains(words, says.Plain()) {
				return fmt.Errorf("the words of the slip %s stand in the page (%v)", s.Slip.ID, err)
			}
		}
		for n := range page.Questions[i].Hints {
			if h, err := tmpl.Hint(v, q, n); err != nil || strings.Contains(words, h.Plain()) {
				return fmt.Errorf("hint %d of %s stands in the page (%v)", n, q.ID, err)
			}
		}
		for j := range q.Options {
			because, err := tmpl.SayOption(v, &q.Options[j])
			if err != nil || !because.Empty() && strings.Contains(words, because.Plain()) {
				return fmt.Errorf("the reason of option %s stands in the page (%v)", q.Options[j].ID, err)
			}
		}
	}
	g := &got{doc: doc, body: body}
	for _, class := range []string{"reveal", "right", "answer-is", "worked", "matches", "said"} {
		if len(g.class(class)) > 0 {
			return fmt.Errorf("a part of class %s stands in the page", class)
		}
	}
	return nil
}

// standsIn tells whether a printed quantity stands in a text, not as part of a longer number.
func standsIn(words, quantity string) bool {
	for from := 0; ; {
		i := strings.Index(words[from:], quantity)
		if i < 0 {
			return false
		}
		i += from
		end := i + len(quantity)
		if (i == 0 || !strings.ContainsRune("0123456789.,", rune(words[i-1]))) && (end == len(words) || !strings.ContainsRune("0123456789", rune(words[end]))) {
			return true
		}
		from = i + 1
	}
}

// The options of a choice are sent in the same way whether right or not.
func TestOptionsAreAlike(t *testing.T) {
	w := newSite(t)
	for _, tmpl := range w.s.course.Templates {
		for i := range tmpl.Questions {
			if q := &tmpl.Questions[i]; q.Kind == problem.Choice && !tmpl.Pause {
				g := w.get("/work/" + w.handed(tmpl.ID).work.Handed.ID)
				for _, li := range g.id("q-" + q.ID).Parent.LastChild.Attr {
					if li.Key == "class" && strings.Contains(li.Val, "right") {
						t.Error("a right option can be told")
					}
				}
				inputs := 0
				for _, in := range g.all("input") {
					if attr(in, "name") == "text" && (attr(in, "type") == "radio" || attr(in, "type") == "checkbox") {
						inputs++
						if len(in.Attr) != 3 {
							t.Errorf("an option carries %v", in.Attr)
						}
					}
				}
				if inputs < len(q.Options) {
					t.Errorf("%d boxes for %d options", inputs, len(q.Options))
				}
			}
		}
	}
}
