package lessons

import (
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"fullyon/engine"

	"github.com/google/go-cmp/cmp"
)

// Every value that the engine takes or computes has its entry, and every entry an
// example from some drawn problem.
func TestGlossaryIsWhole(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	for _, list := range [][]*engine.Definition{engine.Inputs(), engine.Quantities()} {
		for _, d := range list {
			term, err := c.Term(d.Name)
			if err != nil {
				t.Errorf("glossary.yaml has no entry for %s, %s", d.Name, d.Meaning)
			} else if term.Definition != d {
				t.Errorf("the entry %s is not that of the engine's value", d.Name)
			}
		}
	}
	for _, term := range c.Glossary {
		if n := len(strings.Fields(term.Say)); n < 4 || n > 45 || !strings.HasSuffix(strings.TrimSuffix(term.Say, ")"), ".") {
			t.Errorf("%s is explained by %q", term.ID, term.Say)
		}
		if _, ok := c.Example(term, 1); !ok && c.Numbered(term.Lesson) != nil {
			t.Errorf("no problem gives an example of %s", term.ID)
		}
	}
}

// What an example shows is what the engine computes for that draw, and another seed
// shows another.
func TestExample(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	term, err := c.Term("junction_temperature")
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]bool{}
	for seed := range uint64(4) {
		e, ok := c.Example(term, seed)
		if !ok {
			t.Fatal("no example")
		}
		v, err := e.Template.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		q, err := v.Sizing().Quantity("junction_temperature")
		if err != nil || q.Figures(3) != e.Value {
			t.Errorf("seed %d: %s, the engine says %s, %v", seed, e.Value, q.Figures(3), err)
		}
		if want := "T_J = " + e.Value; !strings.HasPrefix(e.String(), want) || !strings.Contains(e.String(), e.Template.Title) {
			t.Errorf("in words: %s", e)
		}
		values[e.Value] = true
	}
	if len(values) < 2 {
		t.Errorf("all examples are alike: %v", values)
	}
}

// The first place of each term in a lesson is linked, no other, and none within a
// heading, a link, code or a longer word.
func TestTermsAreLinkedOnce(t *testing.T) {
	m := good()
	m["glossary.yaml"] = &fstest.MapFile{Data: []byte(`- {term: heat, words: [heat], lesson: 8, say: A kind of energy., example: loss_total}
- {term: heat loss, words: [heat loss], lesson: 8, say: Heat that is lost., example: loss_total}
- {term: gate, words: [gate], lesson: 8, say: A leg of the part., example: v_gs}
`)}
	m["08-heat.md"] = &fstest.MapFile{Data: []byte(strings.Replace(goodLesson, "## Small and not small\n", "## Small and not small heat\n\nA `gate`, [a heat](#the-sum-p-i-r), the preheated gateway, a *Gates* pair; heat loss\nand more heat, heat again, the gate's end.\n", 1))}
	c, err := Load(m)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, p := range c.Lessons[0].Parts {
		out.WriteString(string(p.HTML))
		harmless(t, p.HTML)
	}
	got := regexp.MustCompile(`<a class="term" href="/glossary#([a-z-]+)">([^<]*)</a>`).FindAllStringSubmatch(out.String(), -1)
	var links []string
	for _, g := range got {
		links = append(links, g[1]+": "+g[2])
	}
	if d := cmp.Diff([]string{"gate: Gates", "heat-loss: heat loss", "heat: heat"}, links); d != "" {
		t.Errorf("links (−want +got):\n%s\n%s", d, out.String())
	}
	if !strings.Contains(out.String(), `heat loss</a>
and more <a class="term" href="/glossary#heat">heat</a>, heat again`) || !strings.Contains(out.String(), "<code>gate</code>") {
		t.Errorf("the text has changed: %s", out.String())
	}
}

// In the built-in lessons no link stands within another element that must not hold one.
func TestBuiltInTerms(t *testing.T) {
	c, err := Built()
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	link := regexp.MustCompile(`([^>\n]{0,40})<a class="term" href="/glossary#([^"]+)">([^<]*)</a>([^<\n]{0,40})`)
	for _, l := range c.Lessons {
		once := map[string]bool{}
		for _, p := range l.Parts {
			shown := string(p.HTML)
			if p.Figure != nil {
				shown = string(p.Figure.Caption)
			}
			for _, m := range link.FindAllStringSubmatch(shown, -1) {
				t.Logf("%2d %-20s …%s[%s]%s…", l.Number, m[2], m[1], m[3], m[4])
				if _, err := c.Term(m[2]); err != nil || once[m[2]] {
					t.Errorf("lesson %d links %s twice, or it is no term: %v", l.Number, m[2], err)
				}
				once[m[2]], linked[m[2]] = true, true
			}
			if regexp.MustCompile(`<(h[2-6]|code|a)[^>]*>[^<]*<a class="term"`).MatchString(shown) {
				t.Errorf("lesson %d has a link within a heading, a link or code", l.Number)
			}
		}
	}
	for _, term := range c.Glossary {
		if len(term.words) > 0 && !linked[term.ID] && c.Numbered(term.Lesson) != nil {
			t.Errorf("no lesson links %s, though it has words", term.ID)
		}
	}
}

func TestGlossaryMistakes(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"- {term: gate, lesson: 3, say: A leg.}", `glossary.yaml:1:3: .*example.*`},
		{"- {name: v_dss, lesson: 3, say: A rating.}", `glossary.yaml:1:10: there is no value "v_dss"; the nearest is "v_ds"`},
		{"- {name: v_ds, lesson: 3}", `glossary.yaml:1:3: .*say.*`},
		{"- {name: v_ds, lesson: 3, say: A rating.}\n- {name: v_ds, lesson: 3, say: A rating.}", `glossary.yaml:2:3: the id "v_ds" comes twice`},
		{"- {name: v_ds, words: [gate], lesson: 3, say: A rating.}\n- {term: gate, words: [Gate], lesson: 3, say: A leg., example: v_gs}", `glossary.yaml:2:.*: "gate" is a word of "drain-source voltage rating" already`},
		{`- {term: gate, symbol: "\\frc", lesson: 3, say: A leg., example: v_gs}`, `glossary.yaml:1:.*: the symbol cannot be set.*`},
		{"nothing: here", `glossary.yaml:1:1: .*`},
	} {
		m := good()
		m["glossary.yaml"] = &fstest.MapFile{Data: []byte(c.line)}
		_, err := Load(m)
		if err == nil || !regexp.MustCompile(`(?m)^`+c.want+`$`).MatchString(err.Error()) {
			t.Errorf("%s\ngot  %v\nwant %s", c.line, err, c.want)
		}
	}
}

func FuzzGlossary(f *testing.F) {
	f.Add("- {term: gate, words: [gate], lesson: 3, say: A leg., example: v_gs}")
	f.Add("- {name: v_ds, lesson: 5, say: A rating.}")
	f.Fuzz(func(t *testing.T, src string) {
		terms, err := readGlossary("glossary.yaml", []byte(src))
		if err != nil {
			return
		}
		for _, term := range terms {
			if term.ID == "" || term.Title == "" || term.example == nil {
				t.Errorf("%q was taken as %+v", src, term)
			}
			harmless(t, term.Symbol())
		}
	})
}
