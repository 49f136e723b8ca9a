package problem_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fullyon/engine/read"
	"fullyon/grader/problem"
)

// good is a template that keeps all rules; tests break it in one place each.
const good = `---
id: good
title: Heat in the footlight switch
lesson: 8
skills: [conduction-loss]
level: 1
minutes: 5
task: heat from current
draw:
  I: {from: 1.2 A, to: 3.5 A, step: 0.1 A}
  part: {drawer: "channel == 'N' and gate_level == 'logic' and i_d >= '4 A'"}
circuit:
  supply: {kind: adapter, voltage: 12 V}
  load: {kind: led_strip, current: =I}
  drive: {logic_high: 5 V, logic_high_min: 4.75 V}
  part: =part
where:
  - v_ds >= '15 V'
rows: [r_ds_on]
questions:
  - id: heat
    kind: quantity
    ask: How much heat does the switch make at 25 °C?
    answer: I^2 * rds_on_cold
    unit: mW
    slips:
      - id: not-squared
        title: I × R, not I² × R
        value: quantity(number(I, 'A') * number(rds_on_cold, 'ohm'), 'W')
        says: "{{I; A; 2}} times {{rds_on_cold}} is a voltage. Multiply by the current once more."
    hints:
      - Which row holds at {{vgs_on}}?
worked:
  - is: I^2 * rds_on_cold
    symbol: P
    row: r_ds_on
    answers: heat
---
The footlights draw {{I}} through {{part}}.
`

func compile(src string) (*problem.Template, error) {
	return problem.Compile("good.md", []byte(src), problem.Context{
		Lessons: map[int]bool{8: true},
		Skills:  map[string]bool{"conduction-loss": true, "max-column": true},
		Sources: map[string]bool{"AND9093": true},
	})
}

func must(t testing.TB, src string) *problem.Template {
	t.Helper()
	tpl, err := compile(src)
	if err != nil {
		t.Fatal(err)
	}
	return tpl
}

func TestGoodTemplateKeepsAllRules(t *testing.T) {
	for _, e := range must(t, good).Check(2000) {
		t.Error(e)
	}
}

// Each mistake is told at its line and column, with what to do.
func TestMistakesInTemplates(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", "minutes: 5", "minuets: 5", `7:1: unknown key "minuets"; the nearest known is "minutes"`},
		{"missing key", "task: heat from current\n", "", "task"},
		{"id unlike the file", "id: good", "id: better", `make them the same`},
		{"level out of range", "level: 1", "level: 7", "6:8: "},
		{"unknown lesson", "lesson: 8", "lesson: 9", "4:9: there is no lesson 9"},
		{"unknown skill", "[conduction-loss]", "[conduction-los]", `the nearest is "conduction-loss"`},
		{"unknown row", "rows: [r_ds_on]", "rows: [r_ds_onn]", "no datasheet row"},
		{"wrong dimension in a step", "step: 0.1 A}", "step: 0.1 V}", "10:"},
		{"too many values", "step: 0.1 A}", "step: 0.0001 A}", "at most 2000 values"},
		{"nothing between", "from: 1.2 A, to: 3.5 A", "from: 5 A, to: 3.5 A", "no value between"},
		{"no part", "i_d >= '4 A'", "i_d >= '4 kA'", "no part of the drawer"},
		{"part condition of a drawn value", "i_d >= '4 A'", "i_d >= I", `no name "I"`},
		{"the engine's name", "  I: {from", "  duty: {from", "the name \"duty\" is the engine's"},
		{"unknown circuit field", "voltage: 12 V", "volts: 12 V", "a circuit has no \"supply.volts\""},
		{"unknown word", "kind: led_strip", "kind: led_stripe", "led_strip"},
		{"unit that does not fit", "unit: mW", "unit: mV", "no unit of a power"},
		{"formula of the wrong kind", "answer: I^2 * rds_on_cold", "answer: I > '2 A'", "true or false"},
		{"dimension in a condition", "v_ds >= '15 V'", "v_ds >= '15 A'", "18:10: "},
		{"slip of the wrong dimension", "value: quantity(number(I, 'A') * number(rds_on_cold, 'ohm'), 'W')", "value: I * rds_on_cold", "the slip gives a voltage; the answer is a power"},
		{"unknown place", "through {{part}}", "through {{prat}}", `39:37: there is no name "prat"`},
		{"open place", "through {{part}}", "through {{part", "never closed"},
		{"no situation", "The footlights draw {{I}} through {{part}}.", "", "the situation is missing"},
		{"four hints", "    hints:\n", "    hints:\n      - a\n      - b\n      - c\n", "at most three hints"},
		{"no worked step", "    answers: heat\n", "    let: P\n", "no step of the worked answer"},
		{"twice the same slip", "        says: \"", "        skill: nope\n        says: \"", `there is no skill "nope"`},
		{"anchors", "skills: [conduction-loss]", "skills: &s [conduction-loss]", "5:"},
		{"private-use character", "The footlights", "The \ue001 footlights", "private-use"},
	} {
		src := strings.Replace(good, c.old, c.new, 1)
		if src == good {
			t.Fatalf("%s: the test changes nothing", c.name)
		}
		_, err := compile(src)
		var es read.Errors
		if err == nil || !errors.As(err, &es) {
			t.Errorf("%s: %v, want positioned errors", c.name, err)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s:\n%v\nwant …%s…", c.name, err, c.want)
		}
		for _, e := range es {
			if e.Line < 1 || e.Col < 1 || e.File != "good.md" {
				t.Errorf("%s: no place: %v", c.name, e)
			}
		}
	}
}

// One broken template for each rule that is checked over many seeds.
func TestRulesAreSeenBroken(t *testing.T) {
	for _, c := range []struct {
		rule     int
		old, new string
	}{
		{1, "v_ds >= '15 V'", "v_ds >= '15 kV'"},
		{1, "number(rds_on_cold, 'ohm'), 'W')", "number(rds_on_cold, 'ohm') * number(I, 'A'), 'W')"}, // a slip that is the answer
		{3, "step: 0.1 A}", "step: 0.12345 A}"},
		{5, "is: I^2 * rds_on_cold\n    symbol", "is: I^2 * rds_on_cold * 1.2\n    symbol"},
		{6, "through {{part}}", "through {{part}}, which makes {{I^2 * rds_on_cold; mW}}"},
		{7, "rows: [r_ds_on]", "shape: \"I > '3.45 A' and v_ds > '90 V' ? 'rare' : 'common'\"\nrows: [r_ds_on]"},
		{8, "rows: [r_ds_on]", "rows: [r_ds_on, v_ds, v_gs, i_d, t_j]"},
	} {
		errs := must(t, strings.Replace(good, c.old, c.new, 1)).Check(2000)
		found := false
		for _, e := range errs {
			found = found || strings.Contains(e.Msg, fmt.Sprintf("rule %d:", c.rule))
		}
		if !found {
			t.Errorf("rule %d is broken and not seen: %v", c.rule, errs)
		}
	}
}

func TestSameSeedSameDraw(t *testing.T) {
	tpl := must(t, good)
	again := must(t, good)
	for seed := range uint64(200) {
		a, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		b, err := again.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(a.Given()) != fmt.Sprint(b.Given()) || tpl.Key(a).Answers[0].Value != again.Key(b).Answers[0].Value {
			t.Fatalf("seed %d: %v and %v", seed, a.Given(), b.Given())
		}
	}
}

func TestDrawAlike(t *testing.T) {
	tpl := must(t, strings.Replace(good, "rows: [r_ds_on]", "shape: \"I > '2.4 A' ? 'many' : 'few'\"\nrows: [r_ds_on]", 1))
	for seed := range uint64(100) {
		v, err := tpl.DrawAlike(seed, "many")
		if err != nil || v.Shape != "many" {
			t.Fatalf("seed %d: %v, %v", seed, v, err)
		}
	}
	if _, err := tpl.DrawAlike(1, "none such"); err == nil || !strings.Contains(err.Error(), "200 tries") {
		t.Errorf("an impossible shape: %v", err)
	}
}

func FuzzCompile(f *testing.F) {
	f.Add(good)
	files, _ := filepath.Glob("../../lessons/problems/*.md")
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
	}
	f.Fuzz(func(t *testing.T, src string) {
		tpl, err := compile(src)
		if err != nil {
			return
		}
		for seed := range uint64(3) {
			v, err := tpl.Draw(seed)
			if err != nil {
				return
			}
			if _, err := tpl.Page(v); err != nil && strings.Contains(err.Error(), "panic") {
				t.Error(err)
			}
			tpl.Worked(v)
		}
	})
}

func BenchmarkDraw(b *testing.B) {
	tpl := must(b, good)
	seed, tries := uint64(0), 0
	for b.Loop() {
		v, err := tpl.Draw(seed)
		if err != nil {
			b.Fatal(err)
		}
		tries += v.Tries + 1
		seed++
	}
	b.ReportMetric(float64(tries)/float64(b.N), "tries/op")
}

func BenchmarkCompile(b *testing.B) {
	for b.Loop() {
		if _, err := compile(good); err != nil {
			b.Fatal(err)
		}
	}
}

// A standard value and an exact one are printed in the unit that is asked for, with
// all their digits.
func TestKeyIsPrintedInTheAskedUnit(t *testing.T) {
	for _, c := range []struct{ answer, want string }{
		{"answer: \"'33 mohm'\"\n    unit: ohm\n    accept: {from: \"'33 mohm'\", to: \"'39 mohm'\", series: E12}", "0.033 Ω"},
		{"answer: \"'4.7 kohm'\"\n    unit: ohm\n    tolerance: exact", "4700 Ω"},
		{"answer: \"'1.25 A'\"\n    unit: mA\n    tolerance: exact", "1250 mA"},
	} {
		head, rest, _ := strings.Cut(good, "    answer: I^2 * rds_on_cold\n    unit: mW\n")
		_, rest, _ = strings.Cut(rest, "    hints:")
		rest = strings.Replace(rest, "is: I^2 * rds_on_cold", "is: "+c.answer[len("answer: "):strings.Index(c.answer, "\n")], 1)
		v, err := must(t, head+"    "+c.answer+"\n    hints:"+rest).Draw(1)
		if err != nil {
			t.Fatal(err)
		}
		if got := v.Template.Key(v).Answers[0].Text; got != c.want {
			t.Errorf("%s: %q, want %q", c.answer, got, c.want)
		}
	}
}
