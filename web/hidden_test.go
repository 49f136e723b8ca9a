package web

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"fullyon/grader/problem"

	"golang.org/x/net/html"
)

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
	for i := range view.Questions { // the rows of the strip, repeated for narrow pages
		view.Questions[i].RowsNeeded = ""
	}
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
		if q.Kind.Numeric() {
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
