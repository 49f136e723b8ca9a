package lessons

import (
	"errors"
	"html"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"fullyon/engine/read"

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

func TestUnknownIDs(t *testing.T) {
	c, err := Load(good())
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		look func(string) error
		id   string
		want string
	}{
		{func(id string) error { _, err := c.Template(id); return err }, "one-haet", `there is no template "one-haet"; the nearest is "one-heat"`},
		{func(id string) error { _, err := c.Skill(id); return err }, "miliohms", `there is no skill "miliohms"; the nearest is "milliohms"`},
		{func(id string) error { _, err := c.Source(id); return err }, "xyz", `there is no source "xyz"`},
		{func(id string) error { _, err := c.Lesson(id); return err }, "9", `there is no lesson "9"`},
		{func(id string) error { _, err := c.Lesson(id); return err }, "haet", `there is no lesson "haet"; the nearest is "heat"`},
	} {
		err := tt.look(tt.id)
		var unknown *UnknownError
		if !errors.As(err, &unknown) || err.Error() != tt.want {
			t.Errorf("%s: %v, want %s", tt.id, err, tt.want)
		}
	}
}

// TestBrokenLessons: each fixture is a change to the good lesson (the first section
// is replaced by the second) and the mistake that it makes.
func TestBrokenLessons(t *testing.T) {
	for _, f := range fixtures(t, "broken") {
		t.Run(filepath.Base(f.path), func(t *testing.T) {
			old, change := f.sections["instead of"], f.sections["write"]
			if strings.Count(goodLesson, old) != 1 {
				t.Fatalf("%q stands %d times in the good lesson", old, strings.Count(goodLesson, old))
			}
			files := good()
			files["08-heat.md"] = &fstest.MapFile{Data: []byte(strings.Replace(goodLesson, old, change, 1))}
			_, err := Load(files)
			got := "no mistake"
			if err != nil {
				got = err.Error()
			}
			if *update {
				out := "== instead of\n" + old + "\n== write\n" + change + "\n== mistake\n" + got + "\n"
				if err := os.WriteFile(f.path, []byte(out), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if d := cmp.Diff(f.sections["mistake"], got); d != "" {
				t.Errorf("(−want +got):\n%s", d)
			}
		})
	}
}

func TestBrokenFiles(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(fstest.MapFS)
		want   string
	}{
		{"name of a lesson", func(m fstest.MapFS) { m["8-heat.md"] = &fstest.MapFile{Data: []byte(goodLesson)} },
			"8-heat.md:1:1: a lesson's file is called NN-name.md: its number in two digits, then small letters, digits and single hyphens"},
		{"name of a template", func(m fstest.MapFS) { m["problems/One Heat.md"] = m["problems/one-heat.md"] },
			"problems/One Heat.md:1:1: a template's file is called id.md: small letters, digits and single hyphens; nothing else belongs into this folder"},
		{"stray file", func(m fstest.MapFS) { m["problems/notes.txt"] = &fstest.MapFile{Data: []byte("x")} },
			"problems/notes.txt:1:1: a template's file is called id.md: small letters, digits and single hyphens; nothing else belongs into this folder"},
		{"two lessons of one number", func(m fstest.MapFS) { m["08-watts.md"] = m["08-heat.md"] },
			"08-watts.md:1:1: lesson 8 is also 08-heat.md; give one of them another number"},
		{"too long", func(m fstest.MapFS) {
			m["08-heat.md"] = &fstest.MapFile{Data: []byte(goodLesson + strings.Repeat("word ", 13200))}
		}, "08-heat.md:1:1: this file is longer than 64 kB; split it"},
		{"no UTF-8", func(m fstest.MapFS) {
			m["08-heat.md"] = &fstest.MapFile{Data: []byte(strings.Replace(goodLesson, "no heat", "no \xff heat", 1))}
		}, "08-heat.md:27:29: this character is not text in UTF-8, or is a control character; save the file as UTF-8 text"},
		{"link", func(m fstest.MapFS) {
			m["problems/one-heat.md"] = &fstest.MapFile{Data: []byte("elsewhere.md"), Mode: fs.ModeSymlink | 0o777}
			m["08-heat.md"] = &fstest.MapFile{Data: []byte(strings.NewReplacer("one-heat", "pause-heat", "datasheet template=pause-heat seed=7", "datasheet").Replace(goodLesson))}
		}, "problems/one-heat.md:1:1: this is a link to another file; put the file itself here"},
		{"no front matter", func(m fstest.MapFS) { m["08-heat.md"] = &fstest.MapFile{Data: []byte("## Heat\n")} },
			"08-heat.md:1:1: a lesson begins with its front matter between two lines of ---"},
		{"front matter not closed", func(m fstest.MapFS) { m["08-heat.md"] = &fstest.MapFile{Data: []byte("---\nnumber: 8\n")} },
			"08-heat.md:1:1: the front matter that begins in line 1 is never closed; end it with a line ---"},
		{"skill in a circle", func(m fstest.MapFS) {
			m["skills.yaml"] = &fstest.MapFile{Data: []byte("- {id: milliohms, title: a, lesson: 8, needs: [heat]}\n- {id: heat, title: b, lesson: 8, needs: [milliohms]}\n")}
		}, "skills.yaml:2:8: heat needs milliohms, which in turn needs heat: take one of them out"},
		{"skill needs itself", func(m fstest.MapFS) {
			m["skills.yaml"] = &fstest.MapFile{Data: []byte("- {id: milliohms, title: a, lesson: 8}\n- {id: heat, title: b, lesson: 8, needs: [heat]}\n")}
		}, "skills.yaml:2:8: heat needs heat, which in turn needs heat: take one of them out"},
		{"unknown need", func(m fstest.MapFS) {
			m["skills.yaml"] = &fstest.MapFile{Data: []byte("- {id: milliohms, title: a, lesson: 8}\n- {id: heat, title: b, lesson: 8, needs: [miliohms]}\n")}
		}, `skills.yaml:2:8: heat needs the skill "miliohms", which is not in the list; the nearest is "milliohms"`},
		{"need of a later lesson", func(m fstest.MapFS) {
			m["skills.yaml"] = &fstest.MapFile{Data: []byte("- {id: milliohms, title: a, lesson: 9}\n- {id: heat, title: b, lesson: 8, needs: [milliohms]}\n")}
		}, "skills.yaml:2:8: heat of lesson 8 needs milliohms, which is taught only in lesson 9"},
		{"skill twice", func(m fstest.MapFS) {
			m["skills.yaml"] = &fstest.MapFile{Data: []byte("- {id: milliohms, title: a, lesson: 8}\n- {id: heat, title: b, lesson: 8}\n- {id: heat, title: c, lesson: 8}\n")}
		}, `skills.yaml:3:8: the id "heat" comes twice`},
		{"ground of a source", func(m fstest.MapFS) {
			m["sources.yaml"] = &fstest.MapFile{Data: []byte("- {id: AN-1, title: A note, where: note 1, ground: raed}\n")}
		}, `sources.yaml:1:52: ground: "raed" is not known here; the nearest is "read", of read, computed, common practice`},
		{"source read nowhere", func(m fstest.MapFS) {
			m["sources.yaml"] = &fstest.MapFile{Data: []byte("- {id: AN-1, title: A note, ground: read}\n")}
		}, "sources.yaml:1:3: a document that was read needs where: its edition, number or address"},
		{"unknown skill of a template", func(m fstest.MapFS) {
			m["problems/one-heat.md"] = &fstest.MapFile{Data: []byte(strings.Replace(oneHeat, "[heat]", "[haet]", 1))}
		}, `problems/one-heat.md:5:10: there is no skill "haet"; the nearest is "heat"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			files := good()
			tt.change(files)
			_, err := Load(files)
			if err == nil {
				t.Fatal("no mistake was found")
			}
			var list read.Errors
			if !errors.As(err, &list) {
				t.Fatalf("the error is a %T", err)
			}
			if !strings.Contains("\n"+err.Error()+"\n", "\n"+tt.want+"\n") {
				t.Errorf("got\n%v\nwant\n%s", err, tt.want)
			}
		})
	}
}

// TestLinksOnDisk: a link is refused where a real folder is read, whatever it points to.
func TestLinksOnDisk(t *testing.T) {
	dir, outside := t.TempDir(), filepath.Join(t.TempDir(), "outside.md")
	if err := os.WriteFile(outside, []byte(goodLesson), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "08-heat.md")); err != nil {
		t.Skipf("this system makes no links: %v", err)
	}
	c, err := Load(os.DirFS(dir))
	if err == nil || !strings.Contains(err.Error(), "08-heat.md:1:1: this is a link to another file") || len(c.Lessons) != 0 {
		t.Errorf("lessons %v, error %v", c.Lessons, err)
	}
}

// TestBuiltIn: everything on disk is embedded, and loads without a mistake.
func TestBuiltIn(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	for _, pattern := range []string{"*.md", "problems/*", "*.yaml"} {
		onDisk, err := fs.Glob(os.DirFS("."), pattern)
		if err != nil {
			t.Fatal(err)
		}
		embedded, err := fs.Glob(FS(), pattern)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(onDisk, embedded); d != "" {
			t.Errorf("%s (−on disk +embedded):\n%s", pattern, d)
		}
	}
	files, _ := fs.Glob(FS(), "problems/*.md")
	if len(c.Templates) != len(files) {
		t.Errorf("%d templates of %d files", len(c.Templates), len(files))
	}
	taught := map[int]int{}
	for _, s := range c.Skills {
		taught[s.Lesson]++
	}
	for n := 1; n <= 20; n++ {
		if taught[n] == 0 {
			t.Errorf("no skill belongs to lesson %d", n)
		}
	}
	for _, l := range c.Lessons {
		for _, p := range l.Parts {
			harmless(t, p.HTML)
			if p.Figure != nil {
				harmless(t, p.Figure.Caption)
			}
		}
	}
}

func FuzzLesson(f *testing.F) {
	f.Add([]byte(goodLesson))
	for _, fx := range fixtures(f, "broken") {
		f.Add([]byte(strings.Replace(goodLesson, fx.sections["instead of"], fx.sections["write"], 1)))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		if len(src) > 8000 {
			return
		}
		l, err := readLesson("08-heat.md", src)
		if err == nil {
			for _, p := range l.Parts {
				harmless(t, p.HTML)
			}
			return
		}
		var list read.Errors
		if !errors.As(err, &list) || len(list) == 0 {
			t.Fatalf("the error is a %T: %v", err, err)
		}
		for _, e := range list {
			if e.File != "08-heat.md" || e.Line < 1 || e.Col < 1 || e.Msg == "" {
				t.Errorf("a mistake without its place: %+v", e)
			}
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load(content); err != nil {
			b.Fatal(err)
		}
	}
}
