package mastery

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"
)

var day0 = time.Date(2030, 1, 7, 18, 0, 0, 0, time.UTC)

func right(skill, draw string, days int) Try {
	return Try{Skill: skill, Template: "t-" + skill, Task: skill, Draw: draw, Guess: .02, Right: true, At: day0.AddDate(0, 0, days)}
}

func wrong(skill, draw string, days int) Try {
	t := right(skill, draw, days)
	t.Right = false
	return t
}

func TestStandings(t *testing.T) {
	for _, c := range []struct {
		name  string
		tries []Try
		want  Standing
	}{
		{"nothing", nil, New},
		{"one right answer is not mastery", []Try{right("s", "1", 0)}, Learning},
		{"three on one day are not either", []Try{right("s", "1", 0), right("s", "2", 0), right("s", "3", 0)}, Learning},
		{"the same draw counts once", []Try{right("s", "1", 0), right("s", "1", 1), right("s", "1", 2)}, Learning},
		{"three draws, two days", []Try{right("s", "1", 0), right("s", "2", 0), right("s", "3", 1)}, Can},
		{"lost again", []Try{right("s", "1", 0), right("s", "2", 0), right("s", "3", 1), wrong("s", "4", 9), wrong("s", "5", 9)}, Shaky},
		{"wrong from the start", []Try{wrong("s", "1", 0), wrong("s", "2", 0), wrong("s", "3", 0)}, Shaky},
	} {
		if got := Of(c.tries, Default)["s"].Standing(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestReturnIntervalsGrow(t *testing.T) {
	tries := []Try{right("s", "1", 0), right("s", "2", 0), right("s", "3", 1)}
	at := 1
	for i, want := range []int{2, 5, 12, 30, 75, 75} {
		s := Of(tries, Default)["s"]
		if s.Interval != want {
			t.Fatalf("return %d: after %d days, want %d", i, s.Interval, want)
		}
		at += s.Interval
		tries = append(tries, right("s", fmt.Sprint("r", i), at))
	}
	tries = append(tries, wrong("s", "x", at+1), right("s", "y", at+1), right("s", "z", at+1))
	if s := Of(tries, Default)["s"]; s.Interval > 2 {
		t.Errorf("after a failure it returns after %d days, want at most 2", s.Interval)
	}
}

func TestSameTriesSameState(t *testing.T) {
	tries := []Try{right("a", "1", 0), wrong("b", "1", 0), right("b", "2", 1), right("a", "2", 2)}
	mixed := []Try{tries[3], tries[0], tries[2], tries[1]}
	if a, b := Of(tries, Default), Of(mixed, Default); !reflect.DeepEqual(a, b) {
		t.Errorf("the state depends on the order in which attempts are read:\n%v\n%v", a["b"], b["b"])
	}
}

var path = []Goal{{ID: "a", Title: "A first"}, {ID: "b", Title: "B then", Needs: []string{"a"}}, {ID: "c", Title: "C last", Needs: []string{"b"}}}

var bank = []Item{
	{"a1", "ta", 1, []string{"a"}}, {"a2", "ta", 2, []string{"a"}}, {"a3", "ta2", 3, []string{"a"}},
	{"b1", "tb", 1, []string{"b"}}, {"b2", "tb2", 2, []string{"b"}}, {"c1", "tc", 1, []string{"c"}},
}

func TestNext(t *testing.T) {
	known := []Try{right("a", "1", 0), right("a", "2", 0), right("a", "3", 1)}
	for _, c := range []struct {
		name     string
		tries    []Try
		days     int
		template string
		support  Support
		why      string
	}{
		{"the path begins at its beginning", nil, 0, "a1", Example, "comes next"},
		{"after a wrong answer steps are left open", []Try{wrong("a", "1", 0)}, 0, "a1", Faded, "half learnt"},
		{"a mastered skill opens what builds on it", known, 1, "b1", Example, "comes next"},
		{"a mastered skill returns on its day", known, 4, "a3", Bare, "last met"},
		{"a weak skill comes before a new one", append(known, wrong("b", "1", 1), wrong("b", "2", 1), wrong("b", "3", 1)), 2, "b1", Faded, "shaky"},
	} {
		st := Of(c.tries, Default)
		got, ok := Next(path, bank, c.tries, st, day0.AddDate(0, 0, c.days))
		if !ok || got.Support != c.support || !strings.Contains(got.Why, c.why) || got.Template[:1] != c.template[:1] {
			t.Errorf("%s: %+v, want a template like %s, %s, why …%s…", c.name, got, c.template, c.support, c.why)
		}
	}
}

func TestNoTwoInARowByOneMethod(t *testing.T) {
	tries := []Try{}
	for i := range 3 {
		tries = append(tries, Try{Skill: "a", Template: "a1", Task: "ta", Draw: fmt.Sprint(i), Guess: .02, Right: true, At: day0})
	}
	got, ok := Next(path, bank, tries, Of(tries, Default), day0)
	if !ok {
		t.Fatal("nothing to do")
	}
	for _, i := range bank {
		if i.ID == got.Template && i.Task == "ta" {
			t.Errorf("a fourth problem in a row by the same method: %+v", got)
		}
	}
}

// A cohort whose true parameters are known reaches mastery of all skills in fewer
// problems in the adaptive order than in a fixed one, which goes through the skills
// in turn, four problems each, and begins again until all are mastered.
func TestAdaptiveOrderNeedsFewerProblems(t *testing.T) {
	goals, items := chain(8)
	adaptive, fixed := 0, 0
	const learners = 300
	for l := range uint64(learners) {
		n := practise(goals, items, l)
		adaptive += n
	}
	for l := range uint64(learners) {
		fixed += inOrder(goals, l)
	}
	t.Logf("adaptive %.1f problems a learner, fixed order %.1f, ratio %.2f", float64(adaptive)/learners, float64(fixed)/learners, float64(adaptive)/float64(fixed))
	if !(adaptive < fixed) {
		t.Errorf("adaptive %d, fixed %d", adaptive, fixed)
	}
}
