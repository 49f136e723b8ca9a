package lessons

import (
	"flag"
	"html/template"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"fullyon/grader/problem"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the expected output of fixtures anew")

// fixture is a file of sections that begin with "== name".
type fixture struct {
	path     string
	sections map[string]string
}

func fixtures(t testing.TB, dir string) []fixture {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("testdata", dir, "*.txt"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no fixtures in testdata/%s: %v", dir, err)
	}
	var out []fixture
	for _, p := range paths {
		src, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		f := fixture{p, map[string]string{}}
		for _, s := range strings.Split("\n"+string(src), "\n== ")[1:] {
			name, body, _ := strings.Cut(s, "\n")
			f.sections[name] = strings.Trim(body, "\n")
		}
		out = append(out, f)
	}
	return out
}

// text makes {{0}} the place of the first value.
func (f fixture) text() problem.Text {
	md := regexp.MustCompile(`\{\{[0-9]\}\}`).ReplaceAllStringFunc(f.sections["markdown"], func(s string) string {
		return string(problem.FirstPlace + rune(s[2]-'0'))
	})
	return problem.Text{Markdown: md, Values: strings.Split(f.sections["values"], "\n")}
}

func TestTextFixtures(t *testing.T) {
	for _, f := range fixtures(t, "text") {
		t.Run(filepath.Base(f.path), func(t *testing.T) {
			text := f.text()
			got := map[string]string{"html": string(HTML(text)), "inline": string(Inline(text)), "plain": Plain(text)}
			if *update {
				out := "== markdown\n" + f.sections["markdown"] + "\n== values\n" + f.sections["values"]
				for _, k := range []string{"html", "inline", "plain"} {
					out += "\n== " + k + "\n" + got[k]
				}
				if err := os.WriteFile(f.path, []byte(out+"\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			for _, k := range []string{"html", "inline", "plain"} {
				if d := cmp.Diff(f.sections[k], got[k]); d != "" && !*update {
					t.Errorf("%s differs (−want +got):\n%s", k, d)
				}
			}
			harmless(t, template.HTML(got["html"]))
			harmless(t, template.HTML(got["inline"]))
		})
	}
}

// The elements and attributes that rendered text may hold.
var (
	tag     = regexp.MustCompile(`<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:[^>"]|"[^"]*")*)>`)
	attr    = regexp.MustCompile(`^\s+([a-zA-Z-]+)="([^"<>]*)"`)
	element = regexp.MustCompile(`^(p|br|hr|em|strong|code|pre|blockquote|ul|ol|li|a|h[1-6]|table|thead|tbody|tr|th|td|section|math|semantics|annotation|m[a-z]+)$`)
	allow   = regexp.MustCompile(`^(href|class|id|start|xmlns|display|encoding|stretchy|symmetric|fence|separator|accent|accentunder|mathvariant|minsize|maxsize|form|lspace|rspace|movablelimits|largeop|width|height|depth|linethickness|columnalign|displaystyle|scriptlevel)$`)
)

// harmless fails when text holds anything but the elements and attributes above,
// or a link that leaves the site.
func harmless(t interface {
	Helper()
	Fatalf(string, ...any)
}, out template.HTML) {
	t.Helper()
	s := string(out)
	if !utf8.ValidString(s) {
		t.Fatalf("no UTF-8: %q", s)
	}
	rest := tag.ReplaceAllStringFunc(s, func(m string) string {
		g := tag.FindStringSubmatch(m)
		if !element.MatchString(g[2]) {
			t.Fatalf("element %s in %s", g[2], s)
		}
		for a := strings.TrimRight(g[3], " /"); a != ""; {
			f := attr.FindStringSubmatch(a)
			if f == nil || !allow.MatchString(f[1]) {
				t.Fatalf("attribute %q in %s", a, s)
			}
			if f[1] == "href" && !staysHere([]byte(f[2])) {
				t.Fatalf("link to %q in %s", f[2], s)
			}
			a = a[len(f[0]):]
		}
		return ""
	})
	if strings.ContainsAny(rest, "<") {
		t.Fatalf("a bare < in %s", s)
	}
}

// What is drawn from is rich in what could break out of text.
var shards = []string{"<script>", "</math>", "\"", "'", " onclick=", "javascript:", "](", "[", "`", "```math\n", "\n", "\n\n", "$", "{", "}", "\\", "\\text{", "*", "_", "|", "|-|\n", "- ", "1. ", "# ", "&lt;", "&#x3c;", "&#xE000;", "\ue000", "\ue001", "\ue400", "\uf8ff", "::: belief\n", ":::\n", "x", "2.0 A", "\xff", "<!--", "-->", "<?", "]]>", "//", "/a", "#b", ">"}

func TestNoValueBecomesMarkup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) string {
			return strings.Join(rapid.SliceOfN(rapid.SampledFrom(shards), 0, 25).Draw(t, label), "")
		}
		text := problem.Text{Markdown: draw("markdown"), Values: []string{draw("first"), draw("second")}}
		for i, v := range text.Values {
			text.Values[i] = strings.ToValidUTF8(v, "?")
		}
		harmless(t, HTML(text))
		harmless(t, Inline(text))
		Plain(text)
	})
}

func FuzzText(f *testing.F) {
	for _, fx := range fixtures(f, "text") {
		text := fx.text()
		f.Add(text.Markdown, text.Values[0])
	}
	f.Fuzz(func(t *testing.T, markdown, value string) {
		if len(markdown) > 4000 || !utf8.ValidString(value) {
			return
		}
		text := problem.Text{Markdown: markdown, Values: []string{value}}
		harmless(t, HTML(text))
		harmless(t, Inline(text))
		if got := Plain(problem.Text{Markdown: string(problem.FirstPlace), Values: []string{value}}); got != value {
			t.Errorf("plain value %q became %q", value, got)
		}
	})
}

func TestValuesAsTeX(t *testing.T) {
	for value, want := range map[string]string{
		"2.0 A":      `\qty{2.0}{A}`,
		"−40 °C":     `\qty{−40}{°C}`,
		"1.22":       `1.22`,
		"LY_N30 4":   `\text{LY\_N30 4}`,
		`50 \x{y}`:   `\text{50 x\{y\}}`,
		"2 loose of": `\text{2 loose of}`,
	} {
		if got := texValue(value); got != want {
			t.Errorf("texValue(%q) = %q, want %q", value, got, want)
		}
	}
}

func TestCacheForManyReaders(t *testing.T) {
	want := HTML(problem.Text{Markdown: "*a* " + string(problem.FirstPlace), Values: []string{"1 A"}})
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for i := range 300 {
				if got := HTML(problem.Text{Markdown: "*a* " + string(problem.FirstPlace), Values: []string{"1 A"}}); got != want {
					t.Errorf("got %q, want %q", got, want)
				}
				HTML(problem.Text{Markdown: strings.Repeat("b ", 200+i) + "end"})
			}
		})
	}
	wg.Wait()
}

func TestCacheIsBounded(t *testing.T) {
	for i := range 200 {
		Plain(problem.Text{Markdown: strings.Repeat("word ", 12000+i)})
	}
	cache.RLock()
	defer cache.RUnlock()
	for _, generation := range []map[cacheKey]rendered{cache.young, cache.old} {
		size := 0
		for k := range generation {
			size += len(k.markdown)
		}
		if size > maxCached {
			t.Errorf("a generation holds %d bytes of Markdown, more than %d", size, maxCached)
		}
	}
}

func BenchmarkHTMLCached(b *testing.B) {
	text := problem.Text{Markdown: "In the \ue000 air of the box, \ue001 of LED tape runs on \ue002 all evening, and $P = I^2 R$.", Values: []string{"25 °C", "2.0 A", "5 V"}}
	for b.Loop() {
		HTML(text)
	}
}

func BenchmarkHTMLRendered(b *testing.B) {
	for b.Loop() {
		render(asBlocks, "In the \ue000 air of the box, \ue001 of LED tape runs on \ue002 all evening, and $P = I^2 R$.")
	}
}
