package figure

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
)

// crowded says what is wrong with the texts of a drawing: two that overlap, one
// that is cut by the edge, one with a line through it. It is empty when all is well.
func crowded(s *Scene) string {
	view := Box{s.Left, s.Top, s.Left + s.Width, s.Top + s.Height}
	var texts []*Shape
	for i := range s.Shapes {
		if s.Shapes[i].Kind == Text && s.Shapes[i].Text != "" {
			texts = append(texts, &s.Shapes[i])
		}
	}
	for i, t := range texts {
		b := t.box()
		if !(b.X0 >= view.X0 && b.X1 <= view.X1 && b.Y0 >= view.Y0 && b.Y1 <= view.Y1) {
			return fmt.Sprintf("%q is cut: %+v in %+v", t.Text, b, view)
		}
		// Boxes are on the wide side; half a unit of overlap cannot be seen.
		b = Box{b.X0 + 0.5, b.Y0 + 0.5, b.X1 - 0.5, b.Y1 - 0.5}
		for _, o := range texts[:i] {
			if o.box().hits(b) {
				return fmt.Sprintf("%q lies on %q", t.Text, o.Text)
			}
		}
		for k := range s.Shapes {
			if p := &s.Shapes[k]; p.Kind == Path && p.Pen.Stroke != Rule && p.Pen.Stroke != None && through(s, p, b) {
				return fmt.Sprintf("a line runs through %q at %+v", t.Text, b)
			}
			if p := &s.Shapes[k]; (p.Kind == Rect || p.Kind == Circle) && p.Pen.Stroke == Ink && t.Text != "M" {
				r := Box{p.X, p.Y, p.X + p.W, p.Y + p.H}
				if p.Kind == Circle {
					r = Box{p.X - p.R, p.Y - p.R, p.X + p.R, p.Y + p.R}
				}
				if r.hits(b) {
					return fmt.Sprintf("%q lies on a symbol at %+v", t.Text, r)
				}
			}
		}
	}
	return ""
}

// through tells whether a path runs through a box; a curve is taken as its chord,
// bulging to its control points.
func through(s *Scene, p *Shape, b Box) bool {
	var x, y, x0, y0 float64
	for _, t := range s.Steps(p) {
		switch t.Op {
		case MoveTo:
			x0, y0 = t.X, t.Y
		case ClosePath:
			if b.crossedBy(x, y, x0, y0) {
				return true
			}
			continue
		case CurveTo:
			if b.crossedBy(x, y, t.X1, t.Y1) || b.crossedBy(t.X1, t.Y1, t.X2, t.Y2) || b.crossedBy(t.X2, t.Y2, t.X, t.Y) {
				return true
			}
		default:
			if b.crossedBy(x, y, t.X, t.Y) {
				return true
			}
		}
		x, y = t.X, t.Y
	}
	return false
}

// wellFormed checks what every figure owes: XML that parses, an accessible name and
// description, ids that start with the given one, no style, no number that is none.
func wellFormed(svg, id string) error {
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		return errors.New("a coordinate is not a number")
	}
	d := xml.NewDecoder(strings.NewReader(svg))
	seen := map[string]bool{}
	var refs []string
	root := true
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if e.Name.Local == "style" {
			return errors.New("a style element")
		}
		have := map[string]string{}
		for _, a := range e.Attr {
			have[a.Name.Local] = a.Value
			if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
				return fmt.Errorf("attribute %s", a.Name.Local)
			}
		}
		if v, ok := have["id"]; ok {
			if !strings.HasPrefix(v, id+"-") || seen[v] {
				return fmt.Errorf("id %q", v)
			}
			seen[v] = true
		}
		if v := have["fill"]; strings.HasPrefix(v, "url(#") {
			refs = append(refs, strings.TrimSuffix(v[5:], ")"))
		}
		if root {
			if have["role"] != "img" || have["aria-labelledby"] != id+"-t" || have["aria-describedby"] != id+"-d" {
				return fmt.Errorf("root has %v", have)
			}
			root = false
		}
	}
	for _, r := range append(refs, id+"-t", id+"-d") {
		if !seen[r] {
			return fmt.Errorf("nothing has the id %q", r)
		}
	}
	return nil
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0, "0"}, {1, "1"}, {-1.5, "-1.5"}, {2.449, "2.4"}, {2.46, "2.5"}, {-0.04, "0"}, {1234.06, "1234.1"}, {-0.5, "-0.5"}} {
		if got := string(number(nil, c.v)); got != c.want {
			t.Errorf("number(%v) = %s, want %s", c.v, got, c.want)
		}
	}
}

func TestEscape(t *testing.T) {
	const in = "a<b>&\"c'\x00\x1f µ"
	if got, want := string(escape(nil, in)), "a&lt;b&gt;&amp;&#34;c&#39;   µ"; got != want {
		t.Errorf("escape(%q) = %q, want %q", in, got, want)
	}
}

func TestMarking(t *testing.T) {
	for _, c := range []struct{ in, html, flat string }{
		{"V_{GS} = 5", "V<sub>GS</sub> = 5", "V_GS = 5"},
		{"2×10^{-3}", "2×10<sup>-3</sup>", "2×10^-3"},
		{"plain_text", "plain_text", "plain_text"},
		{"open_{end", "open_{end", "open_{end"},
		{"_{a}<", "<sub>a</sub>&lt;", "_a<"},
	} {
		if got := string(html(nil, c.in)); got != c.html {
			t.Errorf("html(%q) = %q, want %q", c.in, got, c.html)
		}
		if got := flat(c.in); got != c.flat {
			t.Errorf("flat(%q) = %q, want %q", c.in, got, c.flat)
		}
	}
}

func TestCleanID(t *testing.T) {
	for in, want := range map[string]string{"q1": "q1", "": "fig", `a"><script>`: "a---script-", "µ": "--"} {
		if got := cleanID(in); got != want {
			t.Errorf("cleanID(%q) = %q, want %q", in, got, want)
		}
	}
}

// The middle of a text does not move when it is lowered, and a subscript is narrower than the same text upright.
func TestMeasure(t *testing.T) {
	up, sub := Shape{Text: "VGS", Size: 10}, Shape{Text: "V_{GS}", Size: 10}
	if up.measure() <= sub.measure() {
		t.Errorf("V_GS takes %v, VGS %v", sub.measure(), up.measure())
	}
	plain := Shape{Text: "V_{GS}", Plain: true, Size: 10}
	if plain.measure() <= up.measure() {
		t.Error("a plain text counts its marks as they are printed")
	}
	turned := Shape{Text: "VGS", Size: 10, Turned: true, X: 5, Y: 50, Anchor: Middle}
	if b := turned.box(); math.Abs((b.Y1-b.Y0)-up.measure()) > 1e-9 || math.Abs((b.Y0+b.Y1)/2-50) > 1e-9 {
		t.Errorf("a turned text covers %+v", b)
	}
}

func TestCrossedBy(t *testing.T) {
	b := Box{0, 0, 10, 10}
	for _, c := range []struct {
		x0, y0, x1, y1 float64
		want           bool
	}{{-5, 5, 15, 5, true}, {-5, -5, 15, 15, true}, {-5, 11, 15, 11, false}, {5, 5, 6, 6, true}, {-5, 8, 3, 15, false}, {0, -1, 0, 11, false}} {
		if got := b.crossedBy(c.x0, c.y0, c.x1, c.y1); got != c.want {
			t.Errorf("%v: %v", c, got)
		}
	}
}

// Two drawings of one figure on one page share no id.
func TestResponsive(t *testing.T) {
	wide, narrow := lineExamples()[0], lineExamples()[0]
	narrow.Width = lineNarrow
	w, n := AnswerLine(wide), AnswerLine(narrow)
	page := Responsive("q7", &w, &n)
	for _, id := range []string{"q7-w-t", "q7-w-d", "q7-w-h", "q7-n-t", "q7-n-d", "q7-n-h"} {
		if got := strings.Count(page, `id="`+id+`"`); got != 1 {
			t.Errorf("id %s stands %d times", id, got)
		}
	}
	if n.Scene.Width != lineNarrow || strings.Count(page, "fig-wide") != 1 || strings.Count(page, "fig-narrow") != 1 {
		t.Error(page)
	}
}
