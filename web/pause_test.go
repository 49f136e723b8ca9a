package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"fullyon/web/store"
)

// meets answers every question of the pause that is open.
func (w *site) meets(pause string) *got {
	w.t.Helper()
	k := w.latest(pause)
	var g *got
	for i := range k.t.Questions {
		g = w.answer(k, k.t.Questions[i].ID, k.key.Answers[i].Text)
	}
	return g
}

// A pause that was met comes back after three days, before the first problem that
// could be built, with fresh numbers, and once only on that day.
func TestPauseReturns(t *testing.T) {
	w := newSite(t)
	waiting, pause := behindAPause(t, w)
	at := time.Date(2027, 3, 1, 18, 0, 0, 0, time.UTC)
	w.s.now = func() time.Time { at = at.Add(time.Second); return at }
	begin := func(key string) string {
		t.Helper()
		return w.do(request("POST", "/problem/"+waiting.ID, url.Values{"key": {key}, "new": {"1"}})).want(http.StatusSeeOther).header.Get("Location")
	}
	stands := "/pause/" + pause.ID + "?then=" + waiting.ID
	if to := begin("first"); to != stands {
		t.Fatalf("before the first problem the way leads to %s", to)
	}
	w.post("/pause/"+pause.ID, url.Values{"key": {"p-1"}, "then": {waiting.ID}})
	w.meets(pause.ID).says("main", "You may go on")
	first := w.latest(pause.ID).work.Handed.ID

	at = at.AddDate(0, 0, 2)
	if to := begin("second"); !strings.HasPrefix(to, "/work/") {
		t.Errorf("two days later the way leads to %s", to)
	}
	w.get("/pause/"+pause.ID).says("main", "You may go on")

	at = at.AddDate(0, 0, 1)
	if to := begin("third"); to != stands {
		t.Fatalf("three days later the way leads to %s", to)
	}
	w.get(stands).says("main", "You got through this pause on 1 March").says("main", "Begin")
	again := url.Values{"key": {"p-2"}, "then": {waiting.ID}}
	w.post("/pause/"+pause.ID, again)
	w.post("/pause/"+pause.ID, again) // twice is once
	if w.latest(pause.ID).work.Handed.ID == first {
		t.Fatal("the old pause was shown, not a fresh one")
	}
	if to := begin("fourth"); to != stands {
		t.Errorf("while it is open the way leads to %s", to)
	}
	w.meets(pause.ID).says("main", "You may go on")
	met, err := w.store.PausesMet(t.Context(), w.learner)
	if err != nil || len(met) != 1 || met[0].Times != 2 {
		t.Fatalf("pauses met: %+v, %v; want one, met twice", met, err)
	}
	if to := begin("fifth"); !strings.HasPrefix(to, "/work/") {
		t.Errorf("on the same day it stands in the way again: %s", to)
	}
	at = at.AddDate(0, 0, 9)
	if to := begin("sixth"); !strings.HasPrefix(to, "/work/") {
		t.Errorf("nine days later the way leads to %s", to)
	}
	at = at.AddDate(0, 0, 1)
	if to := begin("seventh"); to != stands {
		t.Errorf("ten days later the way leads to %s", to)
	}
}

// Of several that are due the one that waited longest comes, one a day.
func TestWhichPauseReturns(t *testing.T) {
	w := newSite(t)
	now := time.Date(2027, 5, 20, 10, 0, 0, 0, time.UTC)
	day := func(n int) time.Time { return now.AddDate(0, 0, -n) }
	a, b := w.s.course.Pauses[0].ID, w.s.course.Pauses[1].ID
	for _, c := range []struct {
		name string
		met  map[string]store.PauseMet
		want string
	}{
		{"none", nil, ""},
		{"fresh", map[string]store.PauseMet{a: {Pause: a, Times: 1, Last: day(2)}}, ""},
		{"one due", map[string]store.PauseMet{a: {Pause: a, Times: 1, Last: day(4)}, b: {Pause: b, Times: 2, Last: day(4)}}, a},
		{"two due", map[string]store.PauseMet{a: {Pause: a, Times: 1, Last: day(4)}, b: {Pause: b, Times: 2, Last: day(12)}}, b},
		{"one was met today", map[string]store.PauseMet{a: {Pause: a, Times: 1, Last: day(4)}, b: {Pause: b, Times: 3, Last: now.Add(-time.Hour)}}, ""},
		{"taken out of the course", map[string]store.PauseMet{"gone": {Pause: "gone", Times: 1, Last: day(40)}}, ""},
	} {
		if got := w.s.returning(c.met, now); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
