package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"fullyon/grader/problem"
	"fullyon/web/store"
)

// A lesson's pause stands before its first problem that could be built, explains
// itself after two wrong answers, asks afresh, and is then met for good.
func TestPauseStandsBefore(t *testing.T) {
	w := newSite(t)
	waiting, pause := behindAPause(t, w)
	g := w.do(request("POST", "/problem/"+waiting.ID, url.Values{"key": {"begin-1"}})).want(http.StatusSeeOther)
	to := g.header.Get("Location")
	if to != "/pause/"+pause.ID+"?then="+waiting.ID {
		t.Fatalf("the way leads to %s", to)
	}
	w.get(to).says("main", "Begin")
	begin := url.Values{"key": {"pause-1"}, "then": {waiting.ID}}
	w.post("/pause/"+pause.ID, begin).want(http.StatusOK)
	g = w.post("/pause/"+pause.ID, begin) // twice is once
	g.says("main", waiting.Title)
	k := w.latest(pause.ID)
	before := k.work.Handed.ID

	q, wrong := wrongAnswer(k)
	for n := range pauseTries {
		form := w.form(k, q, wrong)
		form.Set("then", waiting.ID)
		g = w.post("/work/"+k.work.Handed.ID+"/answer", form)
		if n == 0 && g.id("reveal-"+q) != nil {
			t.Error("the pause explains itself after one answer")
		}
	}
	g.says("reveal-"+q, "").says("main", "Ask me afresh")
	for _, a := range w.latest(pause.ID).work.Attempts {
		if a.Marks != 0 {
			t.Errorf("a pause gave %v marks", a.Marks)
		}
	}
	if o := w.latest(pause.ID).work.Opened; len(o) != 1 || o[0].What != store.Explained {
		t.Errorf("opened: %+v, want that it explained itself", o)
	}
	w.post("/pause/"+pause.ID, url.Values{"key": {"pause-2"}, "then": {waiting.ID}})
	k = w.latest(pause.ID)
	if k.work.Handed.ID == before {
		t.Fatal("the pause was not asked afresh")
	}
	if met, err := w.store.PausesMet(t.Context(), w.learner); err != nil || len(met) != 0 {
		t.Fatalf("met before it was: %v, %v", met, err)
	}
	for i := range k.t.Questions {
		g = w.answer(k, k.t.Questions[i].ID, k.key.Answers[i].Text)
	}
	g.says("main", "You may go on")
	if met, err := w.store.PausesMet(t.Context(), w.learner); err != nil || len(met) != 1 || met[0].Pause != pause.ID {
		t.Fatalf("pauses met: %v, %v", met, err)
	}
	g = w.do(request("POST", "/pause/"+pause.ID, url.Values{"key": {"on"}, "then": {waiting.ID}})).want(http.StatusSeeOther)
	if !strings.HasPrefix(g.header.Get("Location"), "/work/") {
		t.Errorf("from the pause the way leads to %s", g.header.Get("Location"))
	}
	// From now on nothing stands before it.
	g = w.do(request("POST", "/problem/"+waiting.ID, url.Values{"key": {"begin-2"}, "new": {"1"}})).want(http.StatusSeeOther)
	if !strings.HasPrefix(g.header.Get("Location"), "/work/") {
		t.Errorf("the pause stands in the way again: %s", g.header.Get("Location"))
	}
	lesson := w.s.course.Numbered(waiting.Lesson)
	w.get("/lesson/"+lesson.ID).says("main", "Met.")
}

func behindAPause(t *testing.T, w *site) (waiting, pause *problem.Template) {
	t.Helper()
	for _, l := range w.s.course.Lessons {
		for _, x := range w.s.course.TemplatesOf(l.Number) {
			if l.Pause != "" && !x.OnPaper {
				p, err := w.s.course.Template(l.Pause)
				if err != nil {
					t.Fatal(err)
				}
				return x, p
			}
		}
	}
	t.Fatal("no lesson has a pause before its problems")
	return nil, nil
}

func (w *site) latest(template string) *task {
	w.t.Helper()
	h, err := w.store.LatestHanded(w.t.Context(), w.learner, template)
	if err != nil {
		w.t.Fatal(err)
	}
	return w.task(h.ID)
}

// wrongAnswer is an answer to the first question of a problem that is not right.
func wrongAnswer(k *task) (question, text string) {
	q, a := first(k)
	switch q.Kind {
	case problem.Quantity:
		return q.ID, a.Slips[0].Text
	case problem.Stop:
		if a.Text == "go" {
			return q.ID, "stop"
		}
		return q.ID, "go"
	case problem.Order:
		return q.ID, strings.Join([]string{a.Right[len(a.Right)-1], strings.Join(a.Right[:len(a.Right)-1], ",")}, ",")
	}
	for _, o := range q.Options {
		if !strings.Contains(a.Text, o.ID) {
			return q.ID, o.ID
		}
	}
	return q.ID, ""
}

// Beginning a problem resumes the open one; asking for another draws anew.
func TestBeginResumes(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	meetAll(w)
	g := w.do(request("GET", "/problem/"+twoStep, nil)).want(http.StatusSeeOther)
	if to := g.header.Get("Location"); to != "/work/"+k.work.Handed.ID {
		t.Errorf("the way leads to %s", to)
	}
	g = w.do(request("POST", "/problem/"+twoStep, url.Values{"key": {"a"}}))
	if to := g.header.Get("Location"); to != "/work/"+k.work.Handed.ID {
		t.Errorf("the way leads to %s", to)
	}
	form := url.Values{"key": {"b"}, "new": {"1"}, "why": {"again"}}
	one := w.do(request("POST", "/problem/"+twoStep, form)).header.Get("Location")
	two := w.do(request("POST", "/problem/"+twoStep, form)).header.Get("Location")
	if one != two || one == "/work/"+k.work.Handed.ID {
		t.Errorf("sent twice, the form leads to %s and %s", one, two)
	}
	w.get(one).says("main", "This one because you asked for another of the same kind")
}

func meetAll(w *site) {
	for _, p := range w.s.course.Pauses {
		k := w.handed(p.ID)
		for i := range p.Questions {
			w.answer(k, p.Questions[i].ID, k.key.Answers[i].Text)
		}
	}
}

// After a problem comes the next one that was not right at a first try.
func TestNextProblem(t *testing.T) {
	w := newSite(t)
	k := w.handed(twoStep)
	for i := range k.t.Questions {
		w.answer(k, k.t.Questions[i].ID, k.key.Answers[i].Text)
	}
	g := w.get("/work/" + k.work.Handed.ID)
	next := ""
	for _, f := range g.all("form") {
		if to := attr(f, "action"); strings.HasPrefix(to, "/problem/") && to != "/problem/"+twoStep {
			next = strings.TrimPrefix(to, "/problem/")
		}
	}
	x, err := w.s.course.Template(next)
	if err != nil {
		t.Fatal(err)
	}
	if x.Pause || x.Lesson < k.t.Lesson {
		t.Errorf("%s of lesson %d comes next", x.ID, x.Lesson)
	}
	g.says("after", "of").says("desk", "Another of the same kind")
}

func TestProgressPage(t *testing.T) {
	w := newSite(t)
	w.get("/progress").says("main", "Nothing yet")
	right, slipped := w.handed(twoStep), w.handed(twoStep)
	q, a := first(right)
	w.answer(right, q.ID, a.Text)
	_, b := first(slipped)
	w.answer(slipped, q.ID, b.Slips[0].Text)
	w.answer(slipped, q.ID, b.Text)
	g := w.get("/progress")
	g.says("main", "1 of 2 questions right at the first try").says("main", "1 of 2")
	g.says("main", "2 attempts, "+marksSay(tenth(0.8*float64(q.Marks))))
	found := 0
	for _, link := range g.all("a") {
		if to := attr(link, "href"); to == "/work/"+right.work.Handed.ID || to == "/work/"+slipped.work.Handed.ID {
			w.get(to).want(http.StatusOK).says("reveal-"+q.ID, "The answer")
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d of 2 problems can be opened again", found)
	}
	w.get("/").says("main", "Go on")
}

// Nobody sees another learner's work.
func TestAnothersWork(t *testing.T) {
	w := newSite(t)
	other, err := w.store.AddLearner(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	x, err := w.s.course.Template(twoStep)
	if err != nil {
		t.Fatal(err)
	}
	h, err := w.s.hand(request("GET", "/", nil), other.ID, newKey(), x, "lesson")
	if err != nil {
		t.Fatal(err)
	}
	w.get("/work/" + h.ID).want(http.StatusNotFound)
	w.post("/work/"+h.ID+"/answer", url.Values{"key": {"k"}, "q": {x.Questions[0].ID}, "text": {"1 W"}}).want(http.StatusNotFound)
	w.post("/work/"+h.ID+"/open", url.Values{"key": {"k"}, "q": {x.Questions[0].ID}, "what": {"answer"}}).want(http.StatusNotFound)
	if got, err := w.store.Work(t.Context(), h.ID); err != nil || len(got.Attempts)+len(got.Opened) != 0 {
		t.Errorf("something was added: %+v, %v", got, err)
	}
}

// A problem handed out from an earlier text of its template stays as it was.
func TestEarlierTemplate(t *testing.T) {
	w := newSite(t)
	x, err := w.s.course.Template(twoStep)
	if err != nil {
		t.Fatal(err)
	}
	old, err := problem.Compile(twoStep+".md", []byte(strings.Replace(string(x.Text), x.Title, "An earlier title", 1)), problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	h, err := w.s.hand(request("GET", "/", nil), w.learner, newKey(), old, "lesson")
	if err != nil {
		t.Fatal(err)
	}
	w.get("/work/"+h.ID).want(http.StatusOK).says("main", "An earlier title")
	k := w.task(h.ID)
	q, a := first(k)
	w.answer(k, q.ID, a.Text).says("said-"+q.ID, "Right")
}

// What this version would draw differently is shown and not marked.
func TestDrawnDifferently(t *testing.T) {
	w := newSite(t)
	x, err := w.s.course.Template(twoStep)
	if err != nil {
		t.Fatal(err)
	}
	v, err := x.Draw(5)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := keep(v, help{})
	if err != nil {
		t.Fatal(err)
	}
	h, err := w.store.Hand(t.Context(), store.NewHanded{Learner: w.learner, Key: "k", Program: "0", Seed: 6, Kept: kept,
		Source: store.Source{Hash: x.Hash, Template: x.ID, Text: string(x.Text)}})
	if err != nil {
		t.Fatal(err)
	}
	g := w.get("/work/" + h.ID).want(http.StatusOK)
	g.says("main", "earlier version")
	if len(g.class("answer")) != 0 {
		t.Error("it can be answered")
	}
	k := w.task(h.ID)
	q, a := first(k)
	w.answer(k, q.ID, a.Text).want(http.StatusConflict)
	if got, err := w.store.Work(t.Context(), h.ID); err != nil || len(got.Attempts) != 0 {
		t.Errorf("it was marked: %+v, %v", got, err)
	}
}

func TestNearestPage(t *testing.T) {
	w := newSite(t)
	for address, want := range map[string]string{
		"/progres": "/progress", "/problem/warm-footlihgts": "/problem/" + twoStep, "/lesson/resistance-and-haet": "/lesson/resistance-and-heat", "/sorces": "/sources",
	} {
		g := w.get(address).want(http.StatusNotFound)
		found := false
		for _, a := range g.all("a") {
			found = found || attr(a, "href") == want
		}
		if !found {
			t.Errorf("%s does not propose %s", address, want)
		}
	}
}

func TestWorkedExampleAfresh(t *testing.T) {
	w := newSite(t)
	for _, l := range w.s.course.Lessons {
		a, b, again := w.get("/lesson/"+l.ID+"?again=1"), w.get("/lesson/"+l.ID+"?again=2"), w.get("/lesson/"+l.ID+"?again=1")
		if len(a.class("example")) == 0 {
			t.Errorf("lesson %d has no worked example", l.Number)
			continue
		}
		one := func(g *got) string { return text(g.class("example")[0]) }
		if one(a) == one(b) || one(a) != one(again) {
			t.Errorf("lesson %d: the worked example does not follow its number", l.Number)
		}
	}
	w.get("/lesson/" + w.s.course.Lessons[0].ID + "?again=-1").want(http.StatusBadRequest)
}

func TestReadBesideTheBox(t *testing.T) {
	w := newSite(t)
	for _, c := range []struct{ unit, text, want string }{
		{"mW", "120 m", `{"read":"120 mW"}`},
		{"mW", "0.12", `"0.12`},
		{"Ω", "4k7", `"read":"4`},
		{"mW", "12 V", `"say":"`},
		{"mW", "", `{}`},
		{"°C", "53.2", `"read":"53.2 °C"`},
	} {
		g := w.get("/read?" + url.Values{"unit": {c.unit}, "text": {c.text}}.Encode()).want(http.StatusOK)
		if !strings.Contains(g.body, c.want) {
			t.Errorf("%q in %s reads %s, want %s", c.text, c.unit, g.body, c.want)
		}
	}
	w.get("/read?unit=flurb&text=1").want(http.StatusBadRequest)
}
