package engine

import (
	"math"
	"strconv"
	"sync"

	"fullyon/engine/formula"
	"fullyon/engine/si"
)

// figures is how many figures a computed value is printed with: no input bears more.
const figures = 3

var percent = si.MustUnit("%")

// inWords prints a value for a sentence: as it stands where it is short, else rounded.
func inWords(v float64, d si.Dim) string {
	q := si.Of(v, d)
	if si.Round(v, figures) == v {
		return q.String()
	}
	return q.Figures(figures)
}

// parsed keeps the formulas that were read and their text with symbols. There are
// only as many as the engine knows, so it stays small.
var parsed sync.Map // source → shown

type shown struct {
	formula *formula.Formula
	symbols string
}

func readFormula(source string) shown {
	if p, ok := parsed.Load(source); ok {
		return p.(shown)
	}
	f, err := formula.Parse(source)
	if err != nil {
		return shown{} // a test reads every formula of the engine
	}
	p := shown{f, f.Text(func(name string) formula.Shown {
		n, ok := byName[name]
		if !ok {
			return formula.Shown{}
		}
		return formula.Shown{Text: table[n].symbolText}
	})}
	parsed.Store(source, p)
	return p
}

// symbols writes a formula with the symbols of its names.
func (s *Sizing) symbols(source string) string { return readFormula(source).symbols }

// numbers writes a formula with this circuit's numbers; empty where one is missing.
func (s *Sizing) numbers(source string) string {
	f := readFormula(source).formula
	if f == nil {
		return ""
	}
	whole := true
	text := f.Text(func(name string) formula.Shown {
		n, ok := byName[name]
		if !ok || !s.has(n) {
			whole = false
			return formula.Shown{}
		}
		return formula.Shown{Text: inWords(s.value[n], table[n].Dim), Compound: true}
	})
	if !whole {
		return ""
	}
	return text
}

// Symbols is the formula of a quantity as it served here, "P = R × I²", in plain text; empty where it has none.
func (s *Sizing) Symbols(n ID) string {
	if f := s.equation(n); f != "" {
		return s.symbols(f)
	}
	return ""
}

// Numbers is Symbols with this circuit's numbers.
func (s *Sizing) Numbers(n ID) string {
	if f := s.equation(n); f != "" {
		return s.numbers(f)
	}
	return ""
}

// equation is "name = formula", or empty.
func (s *Sizing) equation(n ID) string {
	f := s.Formula(n)
	if f == "" || n < inputCount {
		return ""
	}
	return table[n].Name + " = " + f
}

// upTo rounds up, and downTo down, to two figures: a mended value must not
// fall back across the limit by rounding.
func upTo(v float64, d si.Dim) string   { return si.Of(twoFigures(v, math.Ceil), d).String() }
func downTo(v float64, d si.Dim) string { return si.Of(twoFigures(v, math.Floor), d).String() }

func twoFigures(v float64, round func(float64) float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	e := int(math.Floor(math.Log10(math.Abs(v)))) - 1
	m := v / math.Pow(10, float64(e))
	if near := math.Round(m); math.Abs(m-near) < 1e-7 { // 25.000000001 is 25
		m = near
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(round(m), 'f', 0, 64)+"e"+strconv.Itoa(e), 64)
	return r
}
