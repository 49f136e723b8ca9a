package formula

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var compareTrees = cmp.AllowUnexported(number{}, name{}, quote{}, negate{}, binary{}, call{})

// drawNode draws a tree of the given height together with a source that
// brackets every part of it.
func drawNode(t *rapid.T, height int) (node, string) {
	kind := 0
	if height > 0 {
		kind = rapid.IntRange(0, 4).Draw(t, "kind")
	}
	switch kind {
	case 1:
		x, s := drawNode(t, height-1)
		return negate{x}, "-(" + s + ")"
	case 2, 3:
		o := rapid.SampledFrom([]struct {
			op   operator
			sign string
		}{{opAdd, "+"}, {opSubtract, "-"}, {opMultiply, "*"}, {opDivide, "/"}, {opPower, "^"}}).Draw(t, "operator")
		x, xs := drawNode(t, height-1)
		y, ys := drawNode(t, height-1)
		return binary{o.op, x, y}, "(" + xs + ")" + o.sign + "(" + ys + ")"
	case 4:
		fn := rapid.SampledFrom([]string{"sqrt", "ln", "exp", "abs", "max", "row"}).Draw(t, "function")
		x, s := drawNode(t, height-1)
		c := call{fn, []node{x}}
		if fn == "max" {
			y, ys := drawNode(t, height-1)
			c.args, s = append(c.args, y), s+","+ys
		}
		return c, fn + "(" + s + ")"
	}
	switch rapid.IntRange(0, 3).Draw(t, "value") {
	case 0:
		digits := rapid.SampledFrom([]string{"0", "2", "12", "1.25", "0.5"}).Draw(t, "digits")
		return number{digits, ""}, digits
	case 1:
		return number{"1.5", "-3"}, "1.5e-3"
	}
	n := rapid.SampledFrom([]string{"a", "b_2", "θ", "e"}).Draw(t, "name")
	return name{n}, n
}

// What is written, with names kept, reads back as the same tree: no bracket is
// missing and none changes the meaning.
func TestTextReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tree, src := drawNode(t, rapid.IntRange(0, 4).Draw(t, "height"))
		if len(src) > MaxLength {
			return
		}
		f, err := Parse(src)
		if err != nil {
			t.Fatalf("%s: %v", src, err)
		}
		if diff := cmp.Diff(tree, f.root, compareTrees); diff != "" {
			t.Fatalf("%s read wrong: %s", src, diff)
		}
		text := f.Text(nil)
		if strings.Count(text, "(") > strings.Count(src, "(")+strings.Count(src, "*")+strings.Count(src, "/") {
			t.Fatalf("%s has more brackets than its source %s", text, src)
		}
		again, err := Parse(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if diff := cmp.Diff(f.root, again.root, compareTrees); diff != "" {
			t.Fatalf("%s was written %s and read back otherwise: %s", src, text, diff)
		}
	})
}

// TeX balances its braces whatever the tree.
func TestTeXBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, src := drawNode(t, 4)
		if len(src) > MaxLength {
			return
		}
		f, err := Parse(src)
		if err != nil {
			t.Fatal(err)
		}
		tex := f.TeX(nil)
		for _, pair := range [][2]string{{"{", "}"}, {"(", ")"}, {`\left`, `\right`}} {
			if strings.Count(tex, pair[0]) != strings.Count(tex, pair[1]) {
				t.Fatalf("%s: %s and %s do not balance in %s", src, pair[0], pair[1], tex)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"current_rms^2 * rds_on_hot", "sqrt(duty * (i^2 + d^2/12))", "a >= 1.25 * b", `row(v, "max")`,
		"|a − b|² / √(1.5×10⁻³)", "-a^-2", "a/b*c", "((", "1.e", "²", "×10²",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, src string) {
		form, err := Parse(src)
		if err != nil {
			if off, ok := Offset(err); !ok || off < 0 || off > len(src) {
				t.Fatalf("%q: offset %d outside the source: %v", src, off, err)
			}
			return
		}
		form.TeX(nil)
		text := form.Text(nil)
		again, err := Parse(text)
		if err != nil {
			// Spaces and the brackets of (a / b) × c may pass a limit; nothing else may go wrong.
			if strings.Contains(err.Error(), "longer than") || strings.Contains(err.Error(), "nested more") {
				return
			}
			t.Fatalf("%q was written %q: %v", src, text, err)
		}
		if diff := cmp.Diff(form.root, again.root, compareTrees); diff != "" {
			t.Fatalf("%q was written %q: %s", src, text, diff)
		}
	})
}

func BenchmarkParseAndText(b *testing.B) {
	for b.Loop() {
		f, err := Parse("sqrt(duty * (current_rms^2 + ripple^2/12))")
		if err != nil {
			b.Fatal(err)
		}
		f.Text(nil)
	}
}
