package web

import (
	"strings"
	"testing"

	"fullyon/engine"
)

// Every value of the engine and every other term stands on the page, with an example
// that another seed changes.
func TestGlossaryPage(t *testing.T) {
	w := newSite(t)
	g := w.get("/glossary").want(200)
	for _, term := range w.s.course.Glossary {
		n := g.id(term.ID)
		if n == nil {
			t.Errorf("%s is not on the page", term.ID)
		} else if !strings.EqualFold(text(n)[:1], term.Title[:1]) || !strings.Contains(strings.ToLower(text(n)), strings.ToLower(term.Title)) {
			t.Errorf("%s is called %q", term.ID, text(n))
		}
	}
	ids := map[string]bool{}
	for _, n := range g.all("dt") {
		if id := attr(n, "id"); ids[id] || id == "" {
			t.Errorf("the id %q comes twice, or is empty", id)
		} else {
			ids[id] = true
		}
	}
	if n := len(engine.Inputs()) + len(engine.Quantities()); len(ids) < n+30 {
		t.Errorf("%d terms, want the engine's %d and thirty words", len(ids), n)
	}
	g.says("main", "For example").says("main", "Also called")
	other := w.get("/glossary?again=2").want(200)
	if text(other.id("main")) == text(g.id("main")) {
		t.Error("other examples are the same")
	}
	w.get("/glossary?again=two").want(400)
}

// A lesson links its terms to places that are there.
func TestTermsLeadToTheGlossary(t *testing.T) {
	w := newSite(t)
	g := w.get("/glossary")
	for _, l := range w.s.course.Lessons {
		links := w.get("/lesson/" + l.ID).class("term")
		if len(links) == 0 {
			t.Errorf("lesson %d links no term", l.Number)
		}
		for _, n := range links {
			if id := strings.TrimPrefix(attr(n, "href"), "/glossary#"); g.id(id) == nil {
				t.Errorf("lesson %d links to %s, which is not there", l.Number, id)
			}
		}
	}
}

// The card holds every step with the engine's formulas, its rules of thumb are marked,
// and the mains is a stop.
func TestCard(t *testing.T) {
	w := newSite(t)
	g := w.get("/card").want(200)
	formulas := 0
	for _, s := range cardSteps {
		g.says("main", s.title)
		for _, name := range s.names {
			if _, ok := engine.Lookup(name); !ok {
				t.Errorf("%s: the engine computes no %s", s.title, name)
			}
			formulas++
		}
	}
	if got := len(g.class("formula")); got != formulas {
		t.Errorf("%d formulas, want %d", got, formulas)
	}
	for _, n := range g.class("formula") {
		if !strings.Contains(text(n), "=") {
			t.Errorf("a formula without its right side: %s", text(n))
		}
	}
	for _, name := range cardCautions {
		if len(g.says("main", "Mains can kill").class("card-care")) != 1 || text(g.class("card-care")[0]) == "" {
			t.Errorf("the caution %s is missing", name)
		}
	}
	if strings.Contains(g.body, "TeX") || len(g.class("thumb")) < 6 {
		t.Error("the rules of thumb are not marked")
	}
}

// The page of sources says what lessons state on the ground of each.
func TestSourcesTellWhatTheyBear(t *testing.T) {
	w := newSite(t)
	g := w.get("/sources").want(200)
	for _, c := range w.s.course.Claims {
		for _, id := range c.Sources {
			if n := g.id(id); n == nil {
				t.Errorf("the source %s is not on the page", id)
			}
		}
		g.says("main", strings.Join(strings.Fields(c.Says), " "))
	}
}
