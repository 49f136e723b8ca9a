package web

import (
	"net/http"
	"strings"
	"sync"
	"testing"

	"fullyon/engine/si"
	"fullyon/grader/problem"
	"fullyon/web/store"
)

// twoStep is a built-in template whose second question leans on its first.
const twoStep = "warm-footlights"

// first is the first question of a task, with its key.
func first(k *task) (*problem.Question, *problem.Answer) { return &k.t.Questions[0], &k.key.Answers[0] }

func TestSlipIsNamedThenRight(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	slip := a.Slips[0]
	g := w.answer(k, q.ID, slip.Text).want(http.StatusOK)
	g.says("said-"+q.ID, "Not yet: "+slip.Slip.Title)
	g.says("said-"+q.ID, " is too ")
	g.says("q-"+q.ID, "Attempt 1 of 3 used")
	if g.typed(q.ID) != slip.Text {
		t.Errorf("the box holds %q, want %q", g.typed(q.ID), slip.Text)
	}
	if g.id("reveal-"+q.ID) != nil {
		t.Error("the answer stands in the page while attempts remain")
	}
	for _, other := range a.Slips[1:] {
		if strings.Contains(g.body, other.Slip.Title) {
			t.Errorf("the slip %q stands in the page while attempts remain", other.Slip.Title)
		}
	}
	g = w.answer(k, q.ID, a.Text)
	g.says("q-"+q.ID, "1 earlier answer "+slip.Text+" not right: "+slip.Slip.Title)
	g.says("said-"+q.ID, "Right")
	g.says("reveal-"+q.ID, "The answer: "+a.Text)
	g.says("q-"+q.ID, "Closed: right at attempt 2 of 3 · "+marksText(tenth(0.8*float64(q.Marks))))
	if len(g.class("matches")) == 0 {
		t.Error("no line of the working is marked as the learner's own")
	}
	for _, s := range a.Slips {
		if !strings.Contains(text(g.id("reveal-"+q.ID)), s.Slip.Title) {
			t.Errorf("the answer line does not show the slip %q", s.Slip.Title)
		}
	}
}

func TestNoAttemptLeft(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	for range 3 {
		w.answer(k, q.ID, a.Slips[0].Text)
	}
	g := w.get("/work/" + k.work.Handed.ID)
	g.says("q-"+q.ID, "Closed · 0 of").says("said-"+q.ID, "Not right").says("reveal-"+q.ID, a.Text)
	// A fourth answer is refused, and comes back with what was typed.
	g = w.answer(k, q.ID, a.Text).want(http.StatusConflict)
	g.says("bad-"+q.ID, "not marked").says("bad-"+q.ID, a.Text)
	if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 3 {
		t.Errorf("%d attempts are kept, want 3", n)
	}
}

func TestRightFromOwnAnswer(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	second := &k.t.Questions[1]
	x := a.Slips[0]
	own, err := k.t.KeyAfter(k.v, map[string]si.Quantity{q.ID: si.Of(x.Value, a.Value.Dim)})
	if err != nil {
		t.Fatal(err)
	}
	w.answer(k, q.ID, x.Text)
	g := w.answer(k, second.ID, own.Answers[1].Text)
	g.says("said-"+second.ID, "Right from your own "+x.Text)
	g.says("q-"+second.ID, "opens when the questions before it have closed")
	if g.id("reveal-"+second.ID) != nil {
		t.Error("the working of the second question stands in the page while the first is open")
	}
	w.post("/work/"+k.work.Handed.ID+"/open", map[string][]string{"key": {"k"}, "q": {q.ID}, "what": {"answer"}})
	w.get("/work/"+k.work.Handed.ID).says("reveal-"+second.ID, k.key.Answers[1].Text)
}

func TestHintsCost(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	open := func(number string) *got {
		return w.post("/work/"+k.work.Handed.ID+"/open", map[string][]string{"key": {newKey()}, "q": {q.ID}, "what": {"hint"}, "number": {number}})
	}
	open("1") // the second cannot be opened before the first
	if n := len(w.task(k.work.Handed.ID).work.Opened); n != 0 {
		t.Fatalf("%d hints were opened out of order", n)
	}
	open("0")
	g := open("0") // the same twice is one
	if got := len(g.class("hint")); got != 1 {
		t.Fatalf("%d hints are shown, want 1", got)
	}
	g.says("q-"+q.ID, "No attempt used; "+marksText(tenth(0.9*float64(q.Marks))))
	g = w.answer(k, q.ID, a.Text)
	g.says("q-"+q.ID, marksText(tenth(0.9*float64(q.Marks)))+" of")
}

func TestWithdrawnDiagnosis(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	w.answer(k, q.ID, a.Slips[0].Text)
	g := w.post("/work/"+k.work.Handed.ID+"/open", map[string][]string{"key": {newKey()}, "q": {q.ID}, "what": {"not_that"}, "number": {"1"}})
	g.says("said-"+q.ID, "withdrawn")
	if strings.Contains(text(g.id("said-"+q.ID)), a.Slips[0].Slip.Title) {
		t.Error("the withdrawn diagnosis still stands in the page")
	}
	past, err := w.store.History(t.Context(), w.learner, store.Page{})
	if err != nil || len(past) != 1 || !past[0].Withdrawn {
		t.Errorf("history %+v, %v: want one withdrawn attempt", past, err)
	}
}

// What cannot be taken as an answer costs no attempt, keeps what was typed, and
// says why beside the box.
func TestBadAnswers(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, _ := first(k)
	for _, c := range []struct{ name, text, says string }{
		{"unreadable", "about a lot", "."},
		{"wrong dimension", "12 V", "voltage"},
		{"unknown unit", "12 flurbs", "flurbs"},
		{"two readings", "1,234", "1"},
		{"empty", "", "Nothing was answered"},
		{"blank", "  ", "Nothing was answered"},
		{"not a number", "NaN", "."},
		{"infinite", "1e999 W", "."},
		{"too long", strings.Repeat("9", 5000), "."},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := w.answer(k, q.ID, c.text).want(http.StatusOK)
			g.says("bad-"+q.ID, "no attempt used").says("bad-"+q.ID, c.says)
			if g.typed(q.ID) != c.text {
				t.Errorf("the box holds %q, want %q", g.typed(q.ID), c.text)
			}
			box := g.id("in-" + q.ID)
			if attr(box, "aria-invalid") != "true" || !strings.Contains(attr(box, "aria-describedby"), "bad-"+q.ID) {
				t.Error("the message is not tied to its box")
			}
			if got := w.task(k.work.Handed.ID).states[0].tries; got != 0 {
				t.Errorf("%d attempts were used", got)
			}
		})
	}
	// A long text of many lines is kept as it was.
	q2 := &k.t.Questions[1]
	for _, text := range []string{"<b>12</b> W", `" onfocus="alert(1)`, "12\u202e W", "&amp;"} {
		if g := w.answer(k, q2.ID, text); g.typed(q2.ID) != text {
			t.Errorf("the box holds %q, want %q", g.typed(q2.ID), text)
		}
	}
}

func TestMissingUnit(t *testing.T) {
	w := newSite(t)
	for _, tmpl := range w.s.course.Templates {
		for i := range tmpl.Questions {
			q := &tmpl.Questions[i]
			if !q.UnitCounts || tmpl.Pause || q.Unit.Dim == si.One {
				continue
			}
			g := w.answer(w.handed(tmpl.ID), q.ID, "17")
			g.says("bad-"+q.ID, "without a unit")
			if g.typed(q.ID) != "17" {
				t.Errorf("the box holds %q", g.typed(q.ID))
			}
			return
		}
	}
	t.Fatal("no template asks for the unit")
}

func TestOneMegabyte(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, _ := first(k)
	g := w.answer(k, q.ID, strings.Repeat("1", 1<<20)).want(http.StatusRequestEntityTooLarge)
	g.says("", "too long for an answer").says("", "still in the box")
	if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 0 {
		t.Errorf("%d attempts are kept", n)
	}
	if g.header.Get("Cache-Control") == "no-store" {
		t.Error("no-store would lose what was typed on going back")
	}
}

func TestResend(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	form := w.form(k, q.ID, a.Slips[0].Text)
	address := "/work/" + k.work.Handed.ID + "/answer"
	var all sync.WaitGroup
	for range 20 { // a nervous finger
		all.Go(func() {
			if g := w.do(request("POST", address, form)); g.status != http.StatusSeeOther {
				t.Errorf("status %d", g.status)
			}
		})
	}
	all.Wait()
	if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 1 {
		t.Fatalf("%d attempts are kept, want 1", n)
	}
	// The form of a page that was gone back to, with another text: the text comes
	// back in the box with a fresh key.
	form.Set("text", a.Text)
	g := w.post(address, form).want(http.StatusConflict)
	g.says("bad-"+q.ID, "sent before")
	if g.typed(q.ID) != a.Text {
		t.Errorf("the box holds %q, want %q", g.typed(q.ID), a.Text)
	}
	if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 1 {
		t.Fatalf("%d attempts are kept, want 1", n)
	}
}

func TestTwoTabs(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	var all sync.WaitGroup
	for _, text := range []string{a.Slips[0].Text, a.Slips[1].Text, "1 W", "2 W", "3 W", "4 W"} {
		all.Go(func() { w.do(request("POST", "/work/"+k.work.Handed.ID+"/answer", w.form(k, q.ID, text))) })
	}
	all.Wait()
	now := w.task(k.work.Handed.ID)
	tries := map[int]bool{}
	for _, a := range now.work.Attempts {
		if tries[a.Try] {
			t.Errorf("two attempts count as number %d", a.Try)
		}
		tries[a.Try] = true
	}
	if len(now.work.Attempts) > now.states[0].allowed {
		t.Errorf("%d attempts were taken, allowed are %d", len(now.work.Attempts), now.states[0].allowed)
	}
}

func TestChoiceAndOrder(t *testing.T) {
	w := newSite(t)
	seen := map[problem.Kind]bool{}
	for _, tmpl := range w.s.course.Templates {
		if tmpl.Pause {
			continue
		}
		for i := range tmpl.Questions {
			q := &tmpl.Questions[i]
			if seen[q.Kind] || i > 0 || q.Kind != problem.Choice && q.Kind != problem.Order {
				continue
			}
			seen[q.Kind] = true
			k := w.handed(tmpl.ID)
			a, _ := k.key.Answer(q.ID)
			w.answer(k, q.ID, a.Text).says("said-"+q.ID, "Right")
			k = w.handed(tmpl.ID)
			a, _ = k.key.Answer(q.ID)
			if q.Kind == problem.Order {
				form := w.form(k, q.ID, a.Text)
				form.Set("place-"+q.Options[0].ID, "2") // the second place twice
				g := w.post("/work/"+k.work.Handed.ID+"/answer", form).want(http.StatusUnprocessableEntity)
				g.says("bad-"+q.ID, "given twice")
				form.Del("place-" + q.Options[0].ID)
				g = w.post("/work/"+k.work.Handed.ID+"/answer", form).want(http.StatusUnprocessableEntity)
				g.says("bad-"+q.ID, "every step")
				continue
			}
			for _, o := range q.Options {
				if !strings.Contains(a.Text, o.ID) {
					g := w.answer(k, q.ID, o.ID)
					g.says("said-"+q.ID, "Not right")
					if len(g.class("right")) == 0 || len(g.class("yours")) == 0 {
						t.Error("right and chosen options are not told apart")
					}
					break
				}
			}
		}
	}
	if len(seen) != 2 {
		t.Errorf("kinds seen: %v", seen)
	}
}
