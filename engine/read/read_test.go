package read

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/si"
)

// parse reads a document that must be readable as a whole.
func parse(t *testing.T, src string) *Doc {
	t.Helper()
	d, err := Parse("f.yaml", []byte(src))
	if err != nil {
		t.Fatalf("Parse: %v", err)
	}
	return d
}

func TestParseRefuses(t *testing.T) {
	tests := []struct{ name, src, want string }{
		{"empty", "", "f.yaml:1:1: there is nothing in this document; write its keys, one a line"},
		{"only a comment", "# nothing\n", "f.yaml:1:1: there is nothing in this document; write its keys, one a line"},
		{"two documents", "a: 1\n---\nb: 2\n", "f.yaml:2:1: a second document begins here"},
		{"repeated key", "a: 1\nb: 2\na: 3\n", `f.yaml:3:1: the key "a" stands here a second time; the first is in line 1`},
		{"repeated key within", "x: {a: 1, a: 2}\n", `f.yaml:1:11: the key "a" stands here a second time`},
		{"anchor", "a: &x 1\n", "f.yaml:1:4: &x names this place for reuse"},
		{"alias", "a: &x 1\nb: *x\n", "f.yaml:2:4: *x refers to another place"},
		{"unknown alias", "a: *x\n", "f.yaml:1:4: this is not readable as YAML: a value that begins with * refers"},
		{"tag", "a: !!int 3\n", "f.yaml:1:4: the tag !!int is not taken here"},
		{"merge", "<<: {b: 1}\na: 2\n", "f.yaml:1:1: << takes keys from another place"},
		{"list as key", "? [a]\n: b\n", "f.yaml:1:3: a key must be a word; this is a list"},
		{"decimal comma in braces", "r: {i: 1,5 A, v: 2 V}\n", `f.yaml:1:10: inside { } a comma ends a value, so "5 A" stands alone`},
		{"unclosed list", "a: [1\n", "f.yaml:1:4: this is not readable as YAML: a list that begins with [ is not closed"},
		{"unclosed map", "a: {b: 1\n", "f.yaml:1:4: this is not readable as YAML: a map that begins with { is not closed"},
		{"unclosed quote", "a: \"x\n", "f.yaml:1:4: this is not readable as YAML: a quote is not closed"},
		{"colon in text", "a: b: c\n", "f.yaml:1:5: this is not readable as YAML: a colon with a space"},
		{"tab", "\ta: 1\n", "f.yaml:1:1: this is not readable as YAML: a tab or a reserved character"},
		{"no key", "a: 1\nb\n", "f.yaml:2:1: this is not readable as YAML: this line has no key"},
		{"directive", "%YAML 1.2\n---\na: 1\n", "f.yaml:1:1: this is not readable as YAML: leave out the line"},
		{"not UTF-8", "a: 1\nµ: \xff\n", "f.yaml:2:4: this character is not text in UTF-8"},
		{"control character", "a: \x01\n", "f.yaml:1:4: this character is not text in UTF-8, or is a control"},
		{"too deep", strings.Repeat("[", 40) + strings.Repeat("]", 40), "f.yaml:1:32: maps and lists lie more than 30 deep"},
		{"far too deep", strings.Repeat("[", 20000), "f.yaml:1:10001: this is not readable as YAML: maps and lists lie too deep"},
		{"too large", "a: " + strings.Repeat("x", maxSize), "f.yaml:1:1: the file has 1048579 bytes; at most 1048576"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Parse("f.yaml", []byte(tt.src))
			var all Errors
			if !errors.As(err, &all) {
				t.Fatalf("got %v, want an Errors", err)
			}
			found := false
			for _, e := range all {
				found = found || strings.HasPrefix(e.Error(), tt.want)
			}
			if !found {
				t.Errorf("got\n%v\nwant a line that begins with\n%s", err, tt.want)
			}
		})
	}
}

func TestContentMistakes(t *testing.T) {
	tests := []struct {
		name, src string
		read      func(m *Map)
		want      string // beginning of the only mistake; "" for none
	}{
		{"wrong choice", "kind: lampp\n", func(m *Map) { m.TextOf("kind", "lamp", "motor") },
			`f.yaml:1:7: kind: "lampp" is not known here; the nearest is "lamp", of lamp, motor`},
		{"no choice near", "kind: window\n", func(m *Map) { m.TextOf("kind", "lamp", "motor") },
			`f.yaml:1:7: kind: "window" is not known here; write one of lamp, motor`},
		{"good choice", "kind: lamp\n", func(m *Map) { m.TextOf("kind", "lamp", "motor") }, ""},
		{"map for a text", "title: {a: 1}\n", func(m *Map) { m.Text("title") },
			"f.yaml:1:8: title: a text is asked for here, and this is a map of keys"},
		{"empty value", "title:\n", func(m *Map) { m.Text("title") }, "f.yaml:1:7: title: a value is missing"},
		{"text for a map", "supply: 12 V\n", func(m *Map) { m.Sub("supply") },
			"f.yaml:1:9: supply: keys with values are asked for here, and this is a value"},
		{"text for a list", "rows: 12 V\n", func(m *Map) { m.List("rows") },
			"f.yaml:1:7: rows: a list is asked for here, and this is a value"},
		{"not a whole number", "n: 1.5\n", func(m *Map) { m.Int("n", 1, 4) },
			`f.yaml:1:4: n: "1.5" is not a whole number; write one from 1 to 4`},
		{"out of range", "n: 7\n", func(m *Map) { m.Int("n", 1, 4) },
			"f.yaml:1:4: n: 7 is out of range; write a whole number from 1 to 4"},
		{"not a number", "n: NaN\n", func(m *Map) { m.Float("n") }, `f.yaml:1:4: n: "NaN" is not a number`},
		{"yes", "b: yes\n", func(m *Map) { m.Bool("b") }, `f.yaml:1:4: b: "yes" is neither true nor false`},
		{"wrong dimension", "v: 12 A\n", func(m *Map) { m.Quantity("v", si.Voltage) }, "f.yaml:1:4: v: "},
		{"not readable", "v: twelve\n", func(m *Map) { m.Quantity("v", si.Voltage) }, "f.yaml:1:4: v: "},
		{"required", "a: {b: 1}\n", func(m *Map) { m.Sub("a").Require("b", "c") }, `f.yaml:1:4: a lacks the key "c"`},
		{"absent is fine", "a: 1\n", func(m *Map) {
			m.Text("x")
			m.Sub("x").Sub("y").Quantity("z", si.Voltage)
			m.Sub("x").Require("q")
			m.Sub("x").Close()
			m.Node("x").List()
		}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := parse(t, tt.src)
			tt.read(d.Root().Map())
			tt.read(d.Root().Map()) // asked twice, told once
			err := d.Err()
			switch {
			case tt.want == "" && err != nil:
				t.Errorf("got %v, want no mistake", err)
			case tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), tt.want) || strings.Contains(err.Error(), "\n")):
				t.Errorf("got  %v\nwant %s…", err, tt.want)
			}
		})
	}
}

func TestCloseNamesTheNearestKey(t *testing.T) {
	d := parse(t, "supplly: 1\nLoad: 2\nzzz: 3\ni-d: 4\n")
	m := d.Root().Map()
	m.Known("supply", "load", "i_d")
	m.Close()
	want := strings.Join([]string{
		`f.yaml:1:1: unknown key "supplly"; the nearest known is "supply"`,
		`f.yaml:2:1: unknown key "Load"; the nearest known is "load"`,
		`f.yaml:3:1: unknown key "zzz"; known here are supply, load, i_d`,
		`f.yaml:4:1: unknown key "i-d"; the nearest known is "i_d"`,
	}, "\n")
	if diff := cmp.Diff(want, d.Err().Error()); diff != "" {
		t.Error(diff)
	}
}

func TestQuantitiesNeedNoQuotes(t *testing.T) {
	tests := []struct {
		text string
		dim  si.Dim
		want float64
	}{
		{"12 V", si.Voltage, 12},
		{"4k7", si.Resistance, 4700},
		{"20 mohm", si.Resistance, 0.02},
		{"1,5 A", si.Current, 1.5},
		{"60 %", si.One, 0.6},
		{"0.5", si.One, 0.5},
		{"35 C", si.Temperature, 35},
		{"-8 V", si.Voltage, -8},
		{"90 K/W", si.ThermalResistance, 90},
		{"250 uA", si.Current, 250e-6},
		{`"12 V"`, si.Voltage, 12},
	}
	for _, tt := range tests {
		for _, src := range []string{"q: " + tt.text + "\n", `{"q": "` + strings.Trim(tt.text, `"`) + `"}`} {
			d := parse(t, src)
			got := d.Root().Map().Quantity("q", tt.dim)
			if err := d.Err(); err != nil {
				t.Errorf("%q: %v", src, err)
			} else if math.Abs(got.Value-tt.want) > 1e-12*math.Abs(tt.want) || got.Dim != tt.dim {
				t.Errorf("%q: got %v, want %v", src, got, tt.want)
			}
		}
	}
}

func TestScalarsKeepTheirText(t *testing.T) {
	d := parse(t, "n: N\noff: no\nz: 0x10\nlist: [a, 1.0, 'x y']\nblock: |\n  one\n  two\n")
	m := d.Root().Map()
	got := []string{m.Text("n"), m.Text("off"), m.Text("z"), strings.Join(m.Texts("list"), "|"), m.Text("block")}
	m.Close()
	if diff := cmp.Diff([]string{"N", "no", "0x10", "a|1.0|x y", "one\ntwo\n"}, got); diff != "" || d.Err() != nil {
		t.Error(diff, d.Err())
	}
	if diff := cmp.Diff(Key{Pos{4, 1}, "list"}, m.Keys()[3]); diff != "" {
		t.Error(diff)
	}
}

func TestJSON(t *testing.T) {
	d := parse(t, "{\n\t\"a\":\t\"\\ud83d\\ude00 \\/ \\u00b5\",\n\t\"b\":[1,2],\n\t\"c\":{\"d\":true}\n}")
	m := d.Root().Map()
	if got := m.Text("a"); got != "😀 / µ" {
		t.Errorf("a = %q", got)
	}
	if got := len(m.List("b")); got != 2 {
		t.Errorf("b has %d items", got)
	}
	if !m.Sub("c").Bool("d") || d.Err() != nil {
		t.Errorf("c.d is not true: %v", d.Err())
	}
	if got := m.Node("c").Pos; got != (Pos{4, 6}) {
		t.Errorf("c stands at %v", got)
	}
}

func TestParseAtCountsFromTheFirstLine(t *testing.T) {
	src := "\xef\xbb\xbf---\r\ntitle: x\r\nsuply: 1\r\n---\r\nbody\r\n"
	front, body, line, err := SplitFrontMatter([]byte(src))
	if err != nil {
		t.Fatal(err)
	}
	if string(body) != "body\n" || line != 5 {
		t.Errorf("body %q at line %d", body, line)
	}
	d, err := ParseAt("l.md", front, 2)
	if err != nil {
		t.Fatal(err)
	}
	m := d.Root().Map()
	m.Known("title", "supply")
	m.Close()
	if got, want := d.Err().Error(), `l.md:3:1: unknown key "suply"; the nearest known is "supply"`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if _, err = ParseAt("l.md", []byte("a: [1\n"), 2); err == nil || !strings.HasPrefix(err.Error(), "l.md:2:4: ") {
		t.Errorf("a syntax error stands at %v", err)
	}
}

func TestSplitFrontMatter(t *testing.T) {
	tests := []struct {
		src, front, body string
		line             int
		bad              bool
	}{
		{"text\n", "", "text\n", 1, false},
		{"---\n---\ntext", "", "text", 3, false},
		{"---\na: 1\n---", "a: 1\n", "", 4, false},
		{"---\na: 1\n--- \n\nb\n", "a: 1\n", "\nb\n", 4, false},
		{"---\na: 1\n----\n", "", "", 0, true},
		{"---", "", "", 0, true},
		{"----\n", "", "----\n", 1, false},
	}
	for _, tt := range tests {
		front, body, line, err := SplitFrontMatter([]byte(tt.src))
		if string(front) != tt.front || string(body) != tt.body || line != tt.line || (err != nil) != tt.bad {
			t.Errorf("%q: got %q, %q, %d, %v", tt.src, front, body, line, err)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"supply", "load", "logic_high", "logic_high_min", "v_ds", "i_d"}
	for word, want := range map[string]string{
		"supplly": "supply", "SUPPLY": "supply", "laod": "load", "logic-high": "logic_high",
		"logic_high_mim": "logic_high_min", "vds": "v_ds", "id": "i_d", "temperature": "", "": "",
		strings.Repeat("x", 5000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("Nearest(%.20q) = %q, want %q", word, got, want)
		}
	}
}

func TestManyMistakesAreCapped(t *testing.T) {
	d := parse(t, strings.Repeat("- {x: y}\n", 300))
	for _, n := range d.Root().List() {
		n.Map().Close()
	}
	var all Errors
	if errors.As(d.Err(), &all); len(all) != maxErrors {
		t.Errorf("%d mistakes are told, want %d", len(all), maxErrors)
	}
}
