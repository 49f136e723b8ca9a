package lessons

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"fullyon/engine/read"

	"github.com/google/go-cmp/cmp"
)

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
		l, err := readLesson("08-heat.md", src, nil)
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
