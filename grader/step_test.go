package grader_test

import (
	"strings"
	"testing"

	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
)

// loop is a small template with three steps, of which the last is the answer.
const loop = `---
id: loop
title: A warm switch
lesson: 9
skills: [heat]
level: 2
minutes: 5
task: heat and temperature
draw:
  I: {any: [1.5 A, 2 A, 2.5 A], symbol: I}
  R: {any: [30 mohm, 40 mohm], symbol: R}
  theta: {any: [50 K/W, 90 K/W], symbol: "\\theta_{JA}"}
questions:
  - id: rise
    kind: quantity
    ask: How far above the air does it settle, with the cold resistance?
    answer: I^2 * R * theta
    unit: K
    slips:
      - id: ten
        title: Milliohms ten times too big
        value: I^2 * R * theta * 10
        says: ten
      - id: half
        title: Only half of it
        value: I^2 * R * theta * 0.65
        says: half
worked:
  - let: P
    symbol: P
    is: I^2 * R
  - say: per watt {{theta}}
  - is: P * theta
    symbol: "\\Delta T"
    answers: rise
---
A switch carries {{I}} through {{R}}.
`

func warm(t *testing.T, seed uint64) (*problem.Template, *problem.Values, []problem.Line) {
	t.Helper()
	tpl, err := problem.Compile("loop.md", []byte(loop), problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := tpl.Draw(seed)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := tpl.Worked(v)
	if err != nil {
		t.Fatal(err)
	}
	return tpl, v, lines
}

func TestGapsOpenFromTheFirstStep(t *testing.T) {
	_, _, lines := warm(t, 1)
	if got := grader.Gaps(lines, 5); len(got) != 1 || got[0] != 0 {
		t.Errorf("open steps %v, want the first alone: the second is words, the third the answer", got)
	}
	if got := grader.Gaps(lines, 0); got != nil {
		t.Errorf("open steps %v, want none", got)
	}
}

func TestMarkStep(t *testing.T) {
	_, _, lines := warm(t, 1)
	p := lines[0].Value
	for _, c := range []struct {
		text string
		want grader.Outcome
	}{
		{p.Figures(3), grader.Right},
		{si.Of(p.Value*1.019, p.Dim).Figures(4), grader.Right},
		{si.Of(p.Value*1.08, p.Dim).Figures(4), grader.Wrong},
		{"12 V", grader.WrongDimension},
		{"?!", grader.Unreadable},
	} {
		m, err := grader.MarkStep(&lines[0], c.text)
		if err != nil || m.Outcome != c.want {
			t.Errorf("%q: %v %v, want %s", c.text, m.Outcome, err, c.want)
		}
	}
}

func TestMatchesFindsTheStepWhereTheAnswerParted(t *testing.T) {
	_, _, lines := warm(t, 1)
	if got := grader.Matches(lines, "rise", lines[0].Value); got != 0 {
		t.Errorf("the value of step 1 matches step %d", got+1)
	}
	if got := grader.Matches(lines, "rise", lines[2].Value); got != -1 {
		t.Errorf("the answer itself matches step %d, want none", got+1)
	}
}

// A wrong answer that fits nothing is told what the answer leans on most: here
// the current, which goes in squared.
func TestWrongAnswersAreToldWhereToLook(t *testing.T) {
	tpl, v, _ := warm(t, 1)
	key := tpl.Key(v)
	leans := tpl.Leans(v, &tpl.Questions[0])
	if len(leans) != 3 || leans[0].Symbol != "I" || !(leans[0].Share > 1.99 && leans[0].Share < 2.01) {
		t.Fatalf("leans on %+v, want I with 2, then R and θ with 1", leans)
	}
	x := key.Answers[0].Value
	for _, c := range []struct {
		factor  float64
		outcome grader.Outcome
		hint    string
	}{
		{1.37, grader.Wrong, "leans most on I"},
		{6.5, grader.Wrong, "two slips at once"},
		{10, grader.Slip, ""},
	} {
		r, err := grader.Mark(tpl, v, key, grader.Response{"rise": si.Of(x.Value*c.factor, x.Dim).Figures(4)})
		if err != nil {
			t.Fatal(err)
		}
		m := r.Questions["rise"]
		if m.Outcome != c.outcome || !strings.Contains(strings.ToLower(m.Hint.Plain()), strings.ToLower(c.hint)) {
			t.Errorf("%g times: %s, hint %q, want %s, %q", c.factor, m.Outcome, m.Hint.Plain(), c.outcome, c.hint)
		}
	}
}
