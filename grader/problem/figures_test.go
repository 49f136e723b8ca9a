package problem_test

import (
	"math"
	"strings"
	"testing"

	"fullyon/engine/part"
	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// readOff is a template that has a curve read.
const readOff = `---
id: good
title: How long may it burn
lesson: 8
skills: [conduction-loss]
level: 1
minutes: 5
task: read a curve
figures: [z_th, bench]
bench: [mat, strap, hot_tab]
draw:
  t: {any: [1 ms, 5 ms, 20 ms]}
  part: {drawer: "channel == 'N'"}
circuit:
  supply: {kind: adapter, voltage: 12 V}
  load: {kind: led_strip, current: 1 A}
  drive: {logic_high: 5 V, logic_high_min: 4.75 V}
  part: =part
questions:
  - id: impedance
    kind: read-off
    curve: z_th
    at: t
    ask: What is the thermal impedance for one pulse of {{t}}?
    answer: read_off('z_th', t)
    unit: K/W
    tolerance: 10 %
    slips:
      - id: other-line
        title: the line of a train of pulses
        value: read_off('z_th', t, 'D = 0.5')
        says: That is the line of pulses that follow one another.
worked:
  - say: Read the line of the single pulse.
    is: read_off('z_th', t)
    unit: K/W
    answers: impedance
---
The part is {{part}}.
`

func TestReadOffTemplate(t *testing.T) {
	tp, err := compile(readOff)
	if err != nil {
		t.Fatal(err)
	}
	if q := tp.Questions[0]; q.Curve != "z_th" || len(tp.Bench) != 3 {
		t.Errorf("curve %q, bench %v", q.Curve, tp.Bench)
	}
	for seed := range uint64(50) {
		v, err := tp.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		at := v.AskedAt("z_th")
		if len(at) != 1 || len(v.AskedAt("soa")) != 0 {
			t.Fatalf("asked at %v", at)
		}
		want := v.Part.Characteristics.ZTh.At(at[0])
		if got := tp.Key(v).Answers[0].Value.Value; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s at %g s: %g, want %g", v.Part.Name, at[0], got, want)
		}
	}
}

// A draw without the curve is thrown away; when all are, that is said.
func TestDrawsWithoutTheCurve(t *testing.T) {
	src := strings.Replace(readOff, "  part: =part\n", "", 1)
	tp, err := compile(src)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = tp.Draw(1); err == nil || !strings.Contains(err.Error(), "z_th") {
		t.Errorf("error %v", err)
	}
}

func TestFiguresRefused(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"no such figure", "figures: [z_th, bench]", "figures: [z_thh, bench]", "z_thh"},
		{"no bench drawn", "figures: [z_th, bench]", "figures: [z_th]", "not drawn"},
		{"an empty bench", "bench: [mat, strap, hot_tab]\n", "", "bench: is missing"},
		{"twice on the bench", "[mat, strap, hot_tab]", "[mat, strap, mat]", "already"},
		{"no such thing", "[mat, strap, hot_tab]", "[mat, unicorn]", "unicorn"},
		{"no such curve", "curve: z_th", "curve: zth", "zth"},
		{"where is not said", "    at: t\n", "", "at"},
		{"read at a voltage", "at: t\n", "at: \"'3 V'\"\n", "voltage"},
		{"the answer is of another kind", "answer: read_off('z_th', t)", "answer: t", "the curve z_th gives"},
		{"a line must be named", "read_off('z_th', t, 'D = 0.5')", "read_off('soa', '3 V')", "several lines"},
		{"a curve that is none", "read_off('z_th', t, 'D = 0.5')", "read_off('zz', t)", "the curves are"},
		{"read at a wrong kind", "read_off('z_th', t, 'D = 0.5')", "read_off('z_th', '3 V')", "is read at"},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := strings.Replace(readOff, c.from, c.to, 1)
			if src == readOff {
				t.Fatal("nothing was changed")
			}
			if _, err := compile(src); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

// The compiler knows of each curve what stands on its axes.
func TestCurveAxes(t *testing.T) {
	p := part.Generate(1, part.Wish{})
	lines := map[string]string{"output": "10 V", "r_ds_on": "max", "soa": "1 ms"}
	for _, id := range part.CurveIDs() {
		c, err := p.Curve(id)
		if err != nil {
			t.Fatal(err)
		}
		one := map[si.Dim]string{si.Voltage: "3 V", si.Temperature: "50 °C", si.Time: "1 ms", si.Charge: "1 nC"}[c.X.Unit.Dim]
		call := "read_off('" + id + "', '" + one + "'"
		if lines[id] != "" {
			call += ", '" + lines[id] + "'"
		}
		src := strings.Replace(readOff, "read_off('z_th', t, 'D = 0.5')", call+") / "+call+") * read_off('z_th', t)", 1)
		if _, err := compile(src); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
	if k := problem.FigureKinds(); len(k) < len(part.CurveIDs())+8 {
		t.Errorf("kinds of figure: %v", k)
	}
}
