package grader_test

import (
	"strings"
	"testing"

	"fullyon/grader"
	"fullyon/grader/problem"
)

// lamp is a template whose every draw is the same, so that each outcome can be
// asked for by hand: 12 V over 6 Ω is 2 A, and 24 W; the lead is 20 mΩ.
const lamp = `---
id: lamp
title: A lamp on a lead
lesson: 1
skills: [ohm]
level: 1
minutes: 3
task: current
draw:
  V: {any: [12 V]}
  R: {any: [6 ohm]}
  lead: {any: [20 mohm]}
questions:
  - id: current
    kind: quantity
    ask: What current flows?
    answer: V / R
    unit: A
    slips:
      - {id: product, title: Times for over, value: "V * R / '1 ohm^2'", says: "That is {{V}} times {{R}}."}
    hints: [Which of the two is divided by the other?]
  - id: heat
    kind: quantity
    ask: How much heat is that?
    answer: current * V
    unit: W
    unit_counts: true
  - id: wire
    kind: quantity
    ask: What is the resistance of the lead?
    answer: lead
    unit: mohm
  - id: why
    kind: choice
    ask: Why does the lamp shine?
    options:
      - {id: a, text: It is hot., right: "1 < 2", because: Hot things shine.}
      - {id: b, text: It is cold., because: Cold things do not shine.}
  - id: both
    kind: choice
    several: true
    ask: What is true?
    options:
      - {id: a, text: One., right: "1 < 2", because: So it is.}
      - {id: b, text: Two., right: "1 < 2", because: So it is.}
      - {id: c, text: Three., because: So it is not.}
  - id: steps
    kind: order
    ask: In which order?
    steps:
      - {id: a, text: Off.}
      - {id: b, text: Measure.}
      - {id: c, text: Touch.}
    before:
      - {first: a, then: c, because: Off comes before touching.}
  - id: row
    kind: order
    ask: In which order, strictly?
    steps:
      - {id: a, text: One.}
      - {id: b, text: Two.}
  - id: go
    kind: stop
    ask: Go or stop?
    answer: "'stop'"
    because: The lead is bare.
worked:
  - {is: V / R, answers: current, symbol: I}
  - {is: current * V, answers: heat, symbol: P}
  - {is: lead * 1, answers: wire, symbol: R}
---
A lamp of {{R}} hangs on {{V}}.
`

func lampDraw(t testing.TB) (*problem.Template, *problem.Values) {
	t.Helper()
	tpl, err := problem.Compile("lamp.md", []byte(lamp), problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := tpl.Draw(0)
	if err != nil {
		t.Fatal(err)
	}
	return tpl, v
}

// What is told again of an answer that is none of the options is short, however
// long the answer was.
func TestUnknownOptionsAreToldShort(t *testing.T) {
	tpl, v := lampDraw(t)
	r, err := grader.Mark(tpl, v, tpl.Key(v), grader.Response{"why": strings.Repeat("Ω", 1<<20)})
	if err != nil {
		t.Fatal(err)
	}
	m := r.Questions["why"]
	if text := m.Because.Plain(); m.Outcome != grader.Unreadable || len([]rune(text)) > 120 || !strings.Contains(text, "ωω…") {
		t.Errorf("%s, %d characters: %.200s", m.Outcome, len([]rune(text)), text)
	}
}

// How far off a value is, is told in two figures and without powers of ten: beside
// 2 A, 472 A is 236 times too high.
func TestFactorsAreToldPlainly(t *testing.T) {
	tpl, v := lampDraw(t)
	for text, want := range map[string]string{
		"472 A":    "By a factor of about 240 too high.",
		"0.0084 A": "By a factor of about 240 too low.",
		"4.9 A":    "By a factor of about 2.5 too high.",
		"3.3 GA":   "By a factor of more than a million too high.",
	} {
		r, err := grader.Mark(tpl, v, tpl.Key(v), grader.Response{"current": text})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Questions["current"].Because.Plain(); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

// TestOutcomes has, for each outcome, responses that must get it and near misses
// that must not. The right values are 12 V / 6 Ω = 2 A, 24 W and 20 mΩ, accepted
// within 2 %: from 1.96 A to 2.04 A.
func TestOutcomes(t *testing.T) {
	tpl, v := lampDraw(t)
	for _, c := range []struct {
		question, text string
		want           grader.Outcome
		slip           string
	}{
		{"current", "2 A", grader.Right, ""},
		{"current", "2,0 amps", grader.Right, ""},
		{"current", "2000 mA", grader.Right, ""},
		{"current", "2", grader.Right, ""}, // the unit is understood
		{"current", "1.96 A", grader.Right, ""},
		{"current", "2.04 A", grader.Right, ""},
		{"current", "1.959 A", grader.Wrong, ""},
		{"current", "2.041 A", grader.Wrong, ""},
		{"current", "12 V / 6 ohm", grader.Right, ""},

		{"current", "2 mA", grader.WrongUnit, problem.PrefixSlip},
		{"current", "2 kA", grader.WrongUnit, problem.PrefixSlip},
		{"current", "2.1 mA", grader.Wrong, ""}, // 5 % off the digits
		{"wire", "20 uohm", grader.WrongUnit, problem.PrefixSlip},

		{"current", "72 A", grader.Slip, "product"},
		{"current", "72.4 A", grader.Slip, "product"},
		{"current", "77 A", grader.Wrong, ""}, // 7 % off the slip
		{"current", "20 A", grader.Slip, "power-of-ten"},
		{"current", "23 A", grader.Wrong, ""},
		{"heat", "12 W", grader.Slip, "factor-two"},
		{"heat", "13 W", grader.Wrong, ""},
		{"why", "b", grader.Slip, "b"},
		{"why", "a", grader.Right, ""},
		{"both", "a,b", grader.Right, ""},
		{"both", "b a", grader.Right, ""},
		{"both", "a,c", grader.Slip, "c"},
		{"both", "a", grader.Wrong, ""},
		{"steps", "a,b,c", grader.Right, ""},
		{"steps", "b,a,c", grader.Right, ""}, // b may stand anywhere
		{"steps", "c,a,b", grader.Slip, "c-before-a"},
		{"row", "b,a", grader.Wrong, ""},
		{"row", "a,b", grader.Right, ""},
		{"go", "stop", grader.Right, ""},
		{"go", "go", grader.Slip, "go"},

		{"current", "7 A", grader.Wrong, ""},

		{"current", "a lot", grader.Unreadable, ""},
		{"current", "2 A or so", grader.Unreadable, ""},
		{"why", "z", grader.Unreadable, ""},
		{"why", "a,b", grader.Unreadable, ""}, // only one can be taken
		{"steps", "a,b", grader.Unreadable, ""},
		{"go", "maybe", grader.Unreadable, ""},

		{"current", "2,000 A", grader.Ambiguous, ""},
		{"current", "2,00 A", grader.Right, ""},
		{"wire", "20 Mohm", grader.Ambiguous, ""}, // small m meant
		{"wire", "50 Mohm", grader.Wrong, ""},     // another value altogether
		{"wire", "20 mohm", grader.Right, ""},     //
		{"wire", "20", grader.Right, ""},          // mΩ understood
		{"current", "2 V", grader.WrongDimension, ""},
		{"current", "2 VA", grader.Unreadable, ""},
		{"heat", "24", grader.MissingUnit, ""},
		{"heat", "24 W", grader.Right, ""},
		{"heat", "12", grader.MissingUnit, ""}, // wrong besides, and that waits

		{"current", "", grader.Unanswered, ""},
		{"current", " \t", grader.Unanswered, ""},
		{"current", "?", grader.Unreadable, ""},
	} {
		t.Run(c.question+"="+c.text, func(t *testing.T) {
			r, err := grader.Mark(tpl, v, tpl.Key(v), grader.Response{c.question: c.text})
			if err != nil {
				t.Fatal(err)
			}
			m := r.Questions[c.question]
			if m.Outcome != c.want || m.Slip != c.slip {
				t.Errorf("Mark(%q) = %s %q (%s), want %s %q", c.text, m.Outcome, m.Slip, m.Because.Plain(), c.want, c.slip)
			}
			if m.Because.Empty() && m.Hint.Empty() {
				t.Errorf("Mark(%q) is %s and says nothing", c.text, m.Outcome)
			}
			if (m.Marks > 0) != (c.want == grader.Right) && c.question != "both" {
				t.Errorf("Mark(%q) is %s and earns %g marks", c.text, m.Outcome, m.Marks)
			}
		})
	}
}

// TestEveryOutcomeIsAsked keeps the table above whole.
func TestEveryOutcomeIsAsked(t *testing.T) {
	if n := len(grader.Outcomes()); n != 9 {
		t.Errorf("there are %d outcomes; give the new one must-gets and near misses in TestOutcomes", n)
	}
}

// TestFollowThrough: a later answer that is right from the learner's own earlier
// one earns its marks and says so; the same answer without the earlier one does not.
func TestFollowThrough(t *testing.T) {
	tpl, v := lampDraw(t)
	mark := func(response grader.Response) *grader.Marked {
		t.Helper()
		r, err := grader.Mark(tpl, v, tpl.Key(v), response)
		if err != nil {
			t.Fatal(err)
		}
		return r.Questions["heat"]
	}
	// 3 A × 12 V = 36 W
	if m := mark(grader.Response{"current": "3 A", "heat": "36 W"}); m.Outcome != grader.Right || !m.Followed || m.Marks != 3 || !strings.Contains(m.Because.Plain(), "3 A") {
		t.Errorf("36 W after 3 A is %+v, want right, followed, all marks, and the earlier answer named", m)
	}
	if m := mark(grader.Response{"heat": "36 W"}); m.Outcome != grader.Wrong || m.Followed {
		t.Errorf("36 W alone is %s, followed %t; want wrong", m.Outcome, m.Followed)
	}
	if m := mark(grader.Response{"current": "3 A", "heat": "40 W"}); m.Followed || m.Outcome == grader.Right {
		t.Errorf("40 W after 3 A is %s, followed %t; want neither", m.Outcome, m.Followed)
	}
	if m := mark(grader.Response{"current": "3 A", "heat": "24 W"}); m.Outcome != grader.Right || m.Followed {
		t.Errorf("24 W after 3 A is %s, followed %t; want right by itself", m.Outcome, m.Followed)
	}
}
