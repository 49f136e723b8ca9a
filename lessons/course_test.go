package lessons

import (
	"html"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// good is a small course without a mistake.
func good() fstest.MapFS {
	return fstest.MapFS{
		"skills.yaml":             {Data: []byte("- {id: milliohms, title: I can work with milliohms, lesson: 8}\n- {id: heat, title: I can work out the heat, lesson: 8, needs: [milliohms]}\n")},
		"sources.yaml":            {Data: []byte("- {id: AN-1, title: A note, where: note 1, ground: read}\n")},
		"problems/one-heat.md":    {Data: []byte(oneHeat)},
		"problems/pause-heat.md":  {Data: []byte(pauseHeat)},
		"08-heat.md":              {Data: []byte(goodLesson)},
		"lessons.go":              {Data: []byte("package lessons\n")}, // what is no content is passed over
		"figure/draw.go":          {Data: []byte("package figure\n")},
		"testdata/broken/one.txt": {Data: []byte("no lesson\n")},
	}
}

const oneHeat = `---
id: one-heat
title: Heat in one switch
lesson: 8
skills: [heat]
level: 1
minutes: 3
task: heat
sources: [AN-1]
draw:
  I: {from: 1 A, to: 3 A, step: 0.1 A, symbol: I}
  part: {drawer: "channel == 'N' and gate_level == 'logic' and v_ds >= '20 V'"}
circuit:
  supply: {kind: adapter, voltage: 12 V}
  load: {kind: led_strip, current: =I}
  drive: {logic_high: 5 V, logic_high_min: 4.75 V}
  part: =part
questions:
  - id: heat
    kind: quantity
    ask: How much heat?
    answer: I^2 * rds_on_cold
    unit: mW
worked:
  - say: Heat grows with the square of the current.
    is: I^2 * rds_on_cold
    answers: heat
---
{{I}} of tape.
`

const pauseHeat = `---
id: pause-heat
title: Hot or not
lesson: 8
skills: [heat]
level: 1
minutes: 1
task: pause
pause: true
sources: [AN-1]
draw:
  P: {from: 1 W, to: 2 W, step: 0.1 W}
questions:
  - id: go
    kind: stop
    ask: Touch it?
    answer: "'stop'"
    because: It is hot.
---
A part makes {{P}}.
`

const goodLesson = `---
number: 8
title: Resistance and the heat it makes
can: [work out the heat in a switch]
skills: [milliohms, heat]
sources: [AN-1]
minutes: 10
pause: pause-heat
draw:
  I: {any: [2 A]}
  R: {any: [30 mohm]}
circuit:
  supply: {kind: adapter, voltage: 12 V}
  load: {kind: led_strip, current: =I}
---
## Small and not small

At {{I}} a switch of {{R}} makes {{I^2 * R; mW; 3}}. See [below](#the-sum-p-i-r).

::: figure schematic
The tape of *{{I}}* and its switch.
:::

## The sum $P = I^2 R$

:::: belief
A small resistance makes no heat.

::: caution heat
At {{I}}, too.
:::
::::

::: worked template=one-heat
:::
::: pause pause-heat
:::
::: stop
Ask before you go above 24 V.
:::
::: figure datasheet template=one-heat seed=7
Its sheet.
:::
`

func TestLoadGoodCourse(t *testing.T) {
	c, err := Load(good())
	if err != nil {
		t.Fatal(err)
	}
	l, err := c.Lesson("8")
	if err != nil {
		t.Fatal(err)
	}
	if byID, err := c.Lesson("heat"); err != nil || byID != l {
		t.Errorf("lesson heat: %v, %v", byID, err)
	}
	var kinds []string
	for _, p := range l.Parts {
		kinds = append(kinds, p.String())
	}
	want := []string{"text", `figure schematic of "", seed 0`, "text", `worked example of "one-heat"`, `pause "pause-heat"`, "text", `figure datasheet of "one-heat", seed 7`}
	if d := cmp.Diff(want, kinds); d != "" {
		t.Errorf("parts (−want +got):\n%s", d)
	}
	if d := cmp.Diff([]Heading{{2, "Small and not small", "small-and-not-small"}, {2, "The sum P = I² R", "the-sum-p-i-r"}}, l.Headings); d != "" {
		t.Errorf("headings (−want +got):\n%s", d)
	}
	// 2 A through 30 mΩ: 2² × 0.030 W = 120 mW.
	for _, s := range []string{`<h2 id="small-and-not-small">`, "makes 120\u00a0mW. See <a href=\"#the-sum-p-i-r\">below</a>"} {
		if !strings.Contains(string(l.Parts[0].HTML), s) {
			t.Errorf("%q is not in %s", s, l.Parts[0].HTML)
		}
	}
	if got, want := string(l.Parts[1].Figure.Caption), "<p>The tape of <em>2\u00a0A</em> and its switch.</p>"; got != want {
		t.Errorf("caption %q, want %q", got, want)
	}
	for _, s := range []string{`<section class="note belief">`, `<section class="note caution">`, html.EscapeString(cautions["heat"].text)} {
		if !strings.Contains(string(l.Parts[2].HTML), s) {
			t.Errorf("%q is not in %s", s, l.Parts[2].HTML)
		}
	}
	for _, p := range l.Parts {
		harmless(t, p.HTML)
	}
	if l.Circuit == nil {
		t.Error("the lesson has lost its circuit")
	}
	if n := len(c.TemplatesOf(8)); n != 1 {
		t.Errorf("lesson 8 has %d templates to practise, want 1: a pause is none", n)
	}
	if len(c.Pauses) != 1 || c.Pauses[0].ID != "pause-heat" {
		t.Errorf("pauses %v", c.Pauses)
	}
}
