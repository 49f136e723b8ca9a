package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/mastery"
	"fullyon/web/store"
)

// practiced hands out a problem with help beside it.
func (w *site) practiced(template string, h help) *task {
	w.t.Helper()
	t, err := w.s.course.Template(template)
	if err != nil {
		w.t.Fatal(err)
	}
	handed, err := w.s.handWith(request("GET", "/", nil), w.learner, newKey(), t, "a test asks.", h)
	if err != nil {
		w.t.Fatal(err)
	}
	return w.task(handed.ID)
}

func TestPracticeSaysWhatComesNextAndWhy(t *testing.T) {
	w := newSite(t)
	g := w.get("/practice").want(http.StatusOK)
	for _, want := range []string{"This one because", "comes next on the path", "whole worked example first", "Not begun"} {
		if !strings.Contains(text(g.doc), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	g = w.post("/practice", url.Values{"key": {newKey()}}).want(http.StatusOK)
	if to := g.header.Get("Location"); !strings.HasPrefix(to, "/work/") && !strings.HasPrefix(to, "/pause/") {
		t.Errorf("practice leads to %q", to)
	}
	g = w.post("/practice", url.Values{"key": {newKey()}, "skill": {"conduction-loss"}}).want(http.StatusOK)
	if to := g.header.Get("Location"); !strings.HasPrefix(to, "/work/") && !strings.HasPrefix(to, "/pause/pause-hot") {
		t.Errorf("practice of one skill leads to %q", to)
	}
	w.post("/practice", url.Values{"key": {newKey()}, "skill": {"no-such-skill"}}).want(http.StatusBadRequest)
}

func TestExampleStandsBeforeTheProblem(t *testing.T) {
	w := newSite(t)
	k := w.practiced(twoStep, help{Support: mastery.Example, Gaps: 1})
	g := w.get("/work/" + k.work.Handed.ID)
	if g.id("example") == nil {
		t.Fatal("no worked example stands before the problem")
	}
	for i := range k.key.Answers {
		if a := k.key.Answers[i].Text; strings.Contains(text(g.id("example")), a) && strings.Contains(a, ".") {
			t.Errorf("the example holds this problem's own answer %s", a)
		}
	}
}

func TestOpenStepsAreFilledInOneByOne(t *testing.T) {
	w := newSite(t)
	k := w.practiced(twoStep, help{Support: mastery.Faded, Gaps: 1})
	q, a := first(k)
	address := "/work/" + k.work.Handed.ID
	g := w.get(address)
	faded := g.class("faded")
	if len(faded) == 0 {
		t.Fatal("no working with open steps stands beside the problem")
	}
	if strings.Contains(text(faded[0]), a.Text) {
		t.Error("the working holds the answer")
	}
	lines, err := k.t.Worked(k.v)
	if err != nil {
		t.Fatal(err)
	}
	from, to := workOf(k.t, 0, lines)
	open := from + grader.Gaps(lines[from:to], 1)[0]
	step := url.Values{"key": {newKey()}, "q": {q.ID}, "line": {strconv.Itoa(open)}, "text": {si.Of(lines[open].Value.Value*1.5, lines[open].Value.Dim).Figures(3)}}
	g = w.post(address+"/step", step).want(http.StatusUnprocessableEntity)
	if !strings.Contains(g.body, "Not yet") {
		t.Error("a wrong step is not told to be one")
	}
	step.Set("text", lines[open].Shown)
	before := len(text(faded[0]))
	g = w.post(address+"/step", step).want(http.StatusOK)
	if after := g.class("faded"); len(after) == 0 || len(text(after[0])) <= before/2 {
		t.Error("the rest of the working does not follow a step that was filled in")
	}
	if n := len(w.task(k.work.Handed.ID).work.Attempts); n != 0 {
		t.Errorf("open steps cost %d attempts", n)
	}
	// An open step that was filled in is no help: the answer still counts as unaided.
	w.answer(k, q.ID, a.Text)
	if got := w.task(k.work.Handed.ID).work.Attempts[0]; got.Helped != 0 {
		t.Errorf("the answer counts as helped %d times", got.Helped)
	}
}

func TestValueToCarryOnKeepsTheLaterQuestions(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	g := w.get("/work/" + k.work.Handed.ID)
	g.says("q-"+q.ID, "Give me a value to carry on")
	g = w.post("/work/"+k.work.Handed.ID+"/open", url.Values{"key": {newKey()}, "q": {q.ID}, "what": {store.CarryOn}})
	g.says("reveal-"+q.ID, a.Text)
	second := &k.t.Questions[1]
	w.answer(k, second.ID, k.key.Answers[1].Text)
	states := w.task(k.work.Handed.ID).states
	if states[0].marks != 0 || states[1].marks != float64(second.Marks) {
		t.Errorf("marks %g and %g, want 0 and %d", states[0].marks, states[1].marks, second.Marks)
	}
}

func TestWrongPrefixIsForgivenOnce(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	off := si.Of(a.Value.Value*1000, a.Value.Dim).Figures(3)
	w.answer(k, q.ID, off).says("said-"+q.ID, "wrong prefix")
	if st := w.task(k.work.Handed.ID).states[0]; st.tries != 0 {
		t.Fatalf("the first wrong prefix used up %d attempts", st.tries)
	}
	w.answer(k, q.ID, a.Text)
	if st := w.task(k.work.Handed.ID).states[0]; st.tries != 1 || st.marks != float64(q.Marks)-1 {
		t.Errorf("%d attempts and %g marks, want one attempt and %d marks", st.tries, st.marks, q.Marks-1)
	}
	second := &k.t.Questions[1]
	b := &k.key.Answers[1]
	if b.Value.Dim == si.Temperature {
		return
	}
	w.answer(k, second.ID, si.Of(b.Value.Value*1000, b.Value.Dim).Figures(3))
	if st := w.task(k.work.Handed.ID).states[1]; st.tries != 1 {
		t.Errorf("the second wrong prefix of a problem used up %d attempts, want 1", st.tries)
	}
}

func TestWorkingIsKeptWithTheAnswer(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	q, a := first(k)
	form := w.form(k, q.ID, a.Slips[0].Text)
	form.Set("working", "2² · 30m <b>")
	g := w.post("/work/"+k.work.Handed.ID+"/answer", form)
	if got := w.task(k.work.Handed.ID).work.Attempts[0].Working; got != "2² · 30m <b>" {
		t.Errorf("kept is %q", got)
	}
	if strings.Contains(g.body, "30m <b>") || !strings.Contains(g.body, "2² · 30m") {
		t.Error("the working does not stand in the page as it was typed")
	}
}
