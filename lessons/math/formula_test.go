package math

import (
	"testing"

	"fullyon/engine/formula"
	"pgregory.net/rapid"
)

// drawSource draws the source of a formula with every kind of part in it.
func drawSource(t *rapid.T, height int) string {
	if height == 0 {
		return rapid.SampledFrom([]string{"current_rms", "rds_on_hot", "unknown_name", "2", "1.25", "1.5e-3"}).Draw(t, "value")
	}
	x, y := drawSource(t, height-1), drawSource(t, height-1)
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return rapid.SampledFrom([]string{"sqrt", "ln", "exp", "abs", "row", "with_one"}).Draw(t, "function") + "(" + x + ")"
	case 1:
		return "max(-(" + x + "), " + y + ")"
	}
	return "(" + x + ")" + rapid.SampledFrom([]string{"+", "-", "*", "/", "^"}).Draw(t, "sign") + "(" + y + ")"
}

// The TeX that package formula writes is within the subset of this package,
// whether names stand as symbols, as values or as they are.
func TestConvertTakesFormulas(t *testing.T) {
	shows := map[string]map[string]formula.Shown{
		"symbols": {"current_rms": {Text: "I_{RMS}"}, "rds_on_hot": {Text: "R_{DS(on)}"}},
		"values":  {"current_rms": {Text: `\qty{-2.0}{A}`, Compound: true}, "rds_on_hot": {Text: `\qty{32e-3}{Ω}`, Compound: true}},
	}
	rapid.Check(t, func(t *rapid.T) {
		src := drawSource(t, rapid.IntRange(0, 4).Draw(t, "height"))
		f, err := formula.Parse(src)
		if err != nil {
			t.Fatalf("%s: %v", src, err)
		}
		for kind, show := range shows {
			tex := f.TeX(func(n string) formula.Shown { return show[n] })
			out, err := Convert(tex, true)
			if err != nil {
				t.Fatalf("%s in %s is %s: %v", src, kind, tex, err)
			}
			if problem := checkMathML(out, tex); problem != "" {
				t.Fatalf("%s in %s is %s: %s", src, kind, tex, problem)
			}
		}
	})
}
