package problem

import (
	"fmt"
	"math"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// Generic is a mistake that is tried on every quantity besides the template's own slips.
type Generic struct {
	ID     string
	Title  string
	Value  float64
	Prefix int  // the power of ten that the prefix is off by; 0 for other slips
	Says   Text // what was done and what to do instead
}

// Prefix is the id of the generic slip of a wrong prefix: right digits, wrong unit.
const PrefixSlip = "prefix"

// Generics lists the generic slips of a question that give another answer than
// the right one in this draw.
func (t *Template) Generics(v *Values, q *Question) []Generic {
	a, ok := v.key.Answer(q.ID)
	if !ok || !q.Kind.Numeric() {
		return nil
	}
	var out []Generic
	add := func(id, title string, value float64, says string, args ...any) {
		if value > 0 == (a.Value.Value > 0) && !math.IsInf(value, 0) && !a.Holds(value) {
			out = append(out, Generic{ID: id, Title: title, Value: value, Says: Text{Markdown: fmt.Sprintf(says, args...)}})
		}
	}
	x := a.Value.Value
	if a.Value.Dim == si.Temperature {
		add("kelvin", "Kelvin for degrees Celsius", x+273.15, "Your number is what the temperature would be in kelvin. Take 273 off to get degrees Celsius.")
		t.otherColumns(v, q, add)
		return out
	}
	for _, p := range []int{-9, -6, -3, 3, 6, 9} {
		add(PrefixSlip, "Right digits, wrong prefix", x*math.Pow(10, float64(p)), "The digits are right and the prefix is not: you are a factor of %s %s. Write the value without a prefix first, then count three places for each step of prefix.", powerOfTen(p), side(p))
		if k := len(out) - 1; k >= 0 && out[k].ID == PrefixSlip {
			out[k].Prefix = p
		}
	}
	for _, p := range []int{-2, -1, 1, 2} {
		add("power-of-ten", "Off by a power of ten", x*math.Pow(10, float64(p)), "The digits are right, and you are a factor of %s %s. Count the places of each prefix again: 0.02 Ω is 20 mΩ, not 2 mΩ.", powerOfTen(p), side(p))
	}
	add("factor-two", "A factor of two", 2*x, "Your answer is just twice what it should be. Look for a half that was left out, or a value that was counted twice.")
	add("factor-two", "A factor of two", x/2, "Your answer is just half of what it should be. Look for a half that does not belong there, or a value that was to be counted twice.")
	add("reciprocal", "Upside down", 1/x, "Your number is one over the right one: the division was turned round. Put the units in beside the numbers; only one way round gives the unit asked.")
	add("square", "Squared once too often", x*x, "Your number is the square of the right one. Look which value is squared in the formula, and which is not.")
	add("root", "A root too many", math.Sqrt(x), "Your number is the root of the right one. Look whether the formula takes a root at all.")
	t.otherColumns(v, q, add)
	return out
}

func powerOfTen(p int) string {
	return [...]string{"1", "10", "100", "1000", "", "", "1 000 000", "", "", "1 000 000 000"}[max(p, -p)]
}

func side(p int) string {
	if p > 0 {
		return "too high"
	}
	return "too low"
}

// otherColumns tries the answer with the typical column in place of the
// guaranteed one, and with the other rows of R_DS(on).
func (t *Template) otherColumns(v *Values, q *Question, add func(id, title string, value float64, says string, args ...any)) {
	if v.Part == nil || !t.circuit {
		return
	}
	with := func(ohms float64) (float64, bool) {
		s := v.scope()
		t.bind(v.key, s)
		s.sizing = s.sizing.Set(engine.RDSOnCold, ohms)
		x := q.answer.value(s)
		return x, s.err == nil
	}
	on, err := v.Sizing().Quantity("vgs_on")
	if err != nil {
		return
	}
	serves, fit := v.Part.RowFor(on.Value)
	if fit == part.None {
		return
	}
	if x, ok := with(serves.Typ.Value); ok && serves.Typ.Known() {
		add("typical", "Typical, not max", x, "That is what the typical column gives. Typical is what the maker often sees; only the max column is promised, so size with %s.", serves.Max)
	}
	for _, r := range v.Part.Characteristics.RDSOn {
		if r == serves || !r.Max.Known() {
			continue
		}
		if x, ok := with(r.Max.Value); ok {
			add("wrong-row", "Another row of the table", x, "That is what the row at %s gives. The gate reaches %s, so the row at %s is the one that is promised.", r.VGS, on.Figures(3), serves.VGS)
		}
	}
}
