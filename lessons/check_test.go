package lessons

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"fullyon/engine/formula"
	"fullyon/engine/si"
	"fullyon/grader/problem"

	"github.com/google/go-cmp/cmp"
)

// whole is a course that Check finds nothing in.
func whole() fstest.MapFS {
	m := good()
	long := strings.Replace(goodLesson, "A small resistance makes no heat.\n", strings.Repeat("A small resistance makes no heat. ", 70)+"\n", 1)
	m["08-heat.md"] = &fstest.MapFile{Data: []byte(long)}
	for _, n := range []string{"two", "three", "four"} {
		m["problems/"+n+"-heat.md"] = &fstest.MapFile{Data: []byte(strings.NewReplacer("id: one-heat", "id: "+n+"-heat", "skills: [heat]", "skills: [heat, milliohms]", "kind: quantity", "kind: quantity\n    skill: milliohms").Replace(oneHeat))}
	}
	return m
}

func TestCheck(t *testing.T) {
	edit := func(m fstest.MapFS, file, old, change string) {
		src := string(m[file].Data)
		if !strings.Contains(src, old) {
			panic(old + " is not in " + file)
		}
		m[file] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(src, old, change))}
	}
	for _, tt := range []struct {
		name   string
		change func(fstest.MapFS)
		want   string // a pattern; empty for no mistake
	}{
		{"nothing", func(fstest.MapFS) {}, ``},
		{"too short", func(m fstest.MapFS) {
			edit(m, "08-heat.md", strings.Repeat("A small resistance makes no heat. ", 60), "")
		},
			`08-heat.md:16:1: the lesson has \d+ words; 400 to 900 are wanted`},
		{"too long", func(m fstest.MapFS) {
			edit(m, "08-heat.md", "Ask before", strings.Repeat("Ask and ask again. ", 130)+"Ask before")
		}, `08-heat.md:16:1: the lesson has \d+ words; 400 to 900 are wanted`},
		{"no headings", func(m fstest.MapFS) {
			edit(m, "08-heat.md", "See [below](#the-sum-p-i-r).", "")
			edit(m, "08-heat.md", "## The sum $P = I^2 R$", "The sum.")
		}, `08-heat.md:16:1: the lesson has 1 headings; part it with two or more`},
		{"too few templates", func(m fstest.MapFS) { delete(m, "problems/four-heat.md") },
			`08-heat.md:3:8: the lesson has 3 problem templates; it needs 4 or more`},
		{"skill not practised", func(m fstest.MapFS) {
			for _, n := range []string{"two", "three", "four"} {
				edit(m, "problems/"+n+"-heat.md", "    skill: milliohms\n", "")
			}
		}, `skills.yaml:1:8: no question practises milliohms of lesson 8.*`},
		{"skill out of reach", func(m fstest.MapFS) {
			for _, n := range []string{"two", "three", "four"} {
				edit(m, "problems/"+n+"-heat.md", "    skill: milliohms\n", "")
			}
		}, `skills.yaml:2:8: heat cannot be reached: it needs milliohms, which no question practises`},
		{"no source", func(m fstest.MapFS) { edit(m, "problems/two-heat.md", "sources: [AN-1]\n", "") },
			`problems/two-heat.md:1:1: the template names no source.*`},
		{"a hint that tells", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "    unit: mW\n", "    unit: mW\n    hints:\n      - \"Square the current. {{I^2 * rds_on_cold; mW; 2}}, that is.\"\n      - It is near.\n")
		}, `problems/two-heat.md:\d+:5: seed 0: hint 1 of question heat holds the answer .* mW; only the last hint may`},
		{"the last hint may tell", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "    unit: mW\n", "    unit: mW\n    hints:\n      - Square the current.\n      - \"{{I^2 * rds_on_cold; mW; 2}}, that is.\"\n")
		}, ``},
		{"an answer that shows nothing", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "    unit: mW\n", "    unit: mV\n    tolerance: 30 %\n")
			edit(m, "problems/two-heat.md", "I^2 * rds_on_cold", "I * rds_on_cold")
		}, `problems/two-heat.md:\d+:5: seed 0: question heat accepts .* mV to .* mV, so .* A may be wrong by 20 % \(which moves the answer by .* mV\).*`},
		{"hard words", func(m fstest.MapFS) {
			edit(m, "08-heat.md", "Ask before", "Organisational responsibilities notwithstanding, ask before")
			edit(m, "08-heat.md", "makes no heat.", "indisputably necessitates insignificant temperature elevations")
		}, `08-heat.md:16:1: the text reads like one for school year \d+.\d; at most 8 is wanted.*`},
		{"skill not named", func(m fstest.MapFS) { edit(m, "08-heat.md", "skills: [milliohms, heat]", "skills: [heat]") },
			`08-heat.md:3:8: skills.yaml says that this lesson teaches milliohms; name it under skills`},
		{"few draws", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", `{drawer: "channel == 'N' and gate_level == 'logic' and v_ds >= '20 V'"}`, `{drawer: "channel == 'N' and gate_level == 'logic' and v_ds >= '100 V'"}`)
		}, `problems/two-heat.md:1:1: only \d+ of 2000 draws differ; at least 200 are wanted, so draw from wider ranges or longer lists`},
		{"formula in a text", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "ask: How much heat?", `ask: How much heat is $\frc{I}$?`)
		},
			`problems/two-heat.md:\d+:\d+: formula: unknown command \\frc.*`},
		{"HTML in a text", func(m fstest.MapFS) { edit(m, "problems/two-heat.md", "{{I}} of tape.", `{{I}} of <b>tape</b>.`) },
			`problems/two-heat.md:\d+:10: HTML stands in the text \(<b>\).*`},
		{"link in a text", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "{{I}} of tape.", `{{I}} of [tape](https://example.org).`)
		},
			`problems/two-heat.md:\d+:17: the link to "https://example.org" leaves the site.*`},
		{"a rule of templates", func(m fstest.MapFS) {
			edit(m, "problems/two-heat.md", "is: I^2 * rds_on_cold", "is: 2 * I^2 * rds_on_cold")
		},
			`problems/two-heat.md:\d+:\d+: rule 5: .*`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			files := whole()
			tt.change(files)
			c, err := Load(files)
			if err != nil {
				t.Fatal(err)
			}
			errs := c.Check(30)
			if tt.want == "" {
				if len(errs) > 0 {
					t.Errorf("mistakes were found:\n%v", errs)
				}
				return
			}
			for _, e := range errs {
				if regexp.MustCompile("^" + tt.want + "$").MatchString(e.Error()) {
					return
				}
			}
			t.Errorf("got\n%v\nwant\n%s", errs, tt.want)
		})
	}
}

// TestBuiltInCheck keeps the built-in content to its rules; `fullyon check` takes more seeds.
func TestBuiltInCheck(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range c.Check(100) {
		t.Error(e)
	}
}

func TestWork(t *testing.T) {
	f, err := formula.Parse("current_rms^2 * rds_on_cold")
	if err != nil {
		t.Fatal(err)
	}
	lines := []problem.Line{
		{Say: problem.Text{Markdown: "Look at *\ue000*.", Values: []string{"4.5 V"}}, Row: "r_ds_on"},
		{Symbol: "R_{DS(on)}", Formula: f, Value: si.Of(0.02, si.Resistance), Shown: "20 mΩ", Answers: "heat", Round: 1},
	}
	steps := Work(lines)
	if got, want := string(steps[0].Say), "Look at <em>4.5\u00a0V</em>."; got != want || steps[0].Math != "" || steps[0].PlainSay != "Look at 4.5 V." {
		t.Errorf("words %q %q %q", got, steps[0].Math, steps[0].PlainSay)
	}
	harmless(t, steps[1].Math)
	if s := steps[1]; s.Answers != "heat" || s.Round != 1 || s.Shown != "20 mΩ" || steps[0].Row != "r_ds_on" {
		t.Errorf("step %+v", s)
	}
}

// TestWorkOfTemplate: P = I²R with the numbers of a draw, as MathML and as text.
func TestWorkOfTemplate(t *testing.T) {
	c, err := Load(good())
	if err != nil {
		t.Fatal(err)
	}
	tmpl, err := c.Template("one-heat")
	if err != nil {
		t.Fatal(err)
	}
	v, err := tmpl.Draw(7)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := tmpl.Worked(v)
	if err != nil {
		t.Fatal(err)
	}
	s := Work(lines)[0]
	numbers := fmt.Sprintf("(%s)² × ", v.Given()["I"])
	if !strings.Contains(s.PlainMath, "I² × R_DS(on) = "+numbers) || !strings.HasSuffix(s.PlainMath, " = "+s.Shown) {
		t.Errorf("text %q", s.PlainMath)
	}
	// The bracket of the subscript R_DS(on) lies within the subscript.
	if !strings.Contains(string(s.Math), `<msub><mi>R</mi><mrow><mi>DS</mi><mo form="prefix" stretchy="false">(</mo><mi>on</mi><mo form="postfix" stretchy="false">)</mo></mrow></msub>`) {
		t.Errorf("MathML %s", s.Math)
	}
	harmless(t, s.Math)
}

func TestDistinctSides(t *testing.T) {
	if d := cmp.Diff([]string{"P", "x", "2 W"}, distinct([]string{"P", "x", "x", "2 W"})); d != "" {
		t.Error(d)
	}
}
