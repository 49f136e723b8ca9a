package si_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"fullyon/engine/si"

	"pgregory.net/rapid"
)

var dims = []si.Dim{si.One, si.Length, si.Area, si.Time, si.Frequency, si.Current, si.Charge, si.Energy, si.Power, si.Voltage,
	si.Resistance, si.Capacitance, si.Inductance, si.SlewRate, si.Temperature, si.TemperatureDifference, si.ThermalResistance,
	si.PerKelvin, si.VoltagePerKelvin, si.Resistivity, {Kg: 1, M: 2, S: -2, K: -1}, {Kg: -1, M: 3, A: 2, K: -1}}

// drawValue draws a decimal of at most n digits and its text.
func drawValue(t *rapid.T, n, low, high int) (float64, string) {
	m := rapid.Int64Range(1, int64(math.Pow10(n))-1).Draw(t, "digits")
	e := rapid.IntRange(low, high).Draw(t, "exponent")
	s := strconv.FormatInt(m, 10) + "e" + strconv.Itoa(e)
	if rapid.Bool().Draw(t, "negative") {
		s = "-" + s
	}
	v, _ := strconv.ParseFloat(s, 64)
	return v, s
}

// What is printed reads back as the same float, for every dimension, in files
// and in answers.
func TestPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dims).Draw(t, "dimension")
		v, _ := drawValue(t, 10, -27, 12)
		q := si.Of(v, d)
		for _, text := range []string{q.String(), q.Plain(), q.Figures(10), q.FiguresIn(d.Unit(), 10)} {
			if got, err := si.Parse(text, d); err != nil || got != q {
				t.Fatalf("%v printed %q, read in a file as %v, %v", v, text, got.Value, err)
			}
			got, err := si.Read(text, d.Unit())
			if err != nil || got.Quantity != q {
				t.Fatalf("%v printed %q, read as %v, %v", v, text, got.Quantity.Value, err)
			}
			if got.Assumed || got.Sum {
				t.Fatalf("%q: assumed %v, sum %v", text, got.Assumed, got.Sum)
			}
		}
	})
}

// A code reads back as the value it stands for.
func TestCodeReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]si.Dim{si.Resistance, si.Capacitance}).Draw(t, "dimension")
		v, _ := drawValue(t, 4, -15, 9)
		q := si.Of(math.Abs(v), d)
		text := si.RKM(q)
		r, err := si.Read(text, d.Unit())
		if err != nil || r.Quantity != q {
			t.Fatalf("%v coded %q, read as %v, %v", q.Value, text, r.Quantity.Value, err)
		}
	})
}

// Figures lies within half a unit of the last figure, has that many figures and
// a mantissa from 1 to 999 where a prefix can be had.
func TestFiguresHalfUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dims).Draw(t, "dimension")
		v, _ := drawValue(t, 15, -24, 0)
		n := rapid.IntRange(1, 9).Draw(t, "figures")
		text := si.Of(v, d).Figures(n)
		got, err := si.Parse(text, d)
		if err != nil {
			t.Fatalf("%v at %d: %q: %v", v, n, text, err)
		}
		half := 0.5 * math.Pow10(int(math.Floor(math.Log10(math.Abs(v))))-n+1)
		if diff := math.Abs(got.Value - v); !(diff <= half*(1+1e-6)) {
			t.Fatalf("%v at %d: %q is off by %g, more than %g", v, n, text, diff, half)
		}
		if got.Value != si.Round(v, n) {
			t.Fatalf("%v at %d: %q is not Round = %v", v, n, text, si.Round(v, n))
		}
		r, err := si.Read(text, d.Unit())
		if err != nil || r.Figures < n {
			t.Fatalf("%v at %d: %q shows %d figures, %v", v, n, text, r.Figures, err)
		}
		if d == si.Resistance && n >= 3 {
			if x := math.Abs(got.In(si.MustUnit(r.Prefix + "Ω"))); math.Abs(v) > 1e-12 && math.Abs(v) < 9e14 && (x < 1 || x >= 1000) {
				t.Fatalf("%v at %d: mantissa of %q is %v", v, n, text, x)
			}
		}
	})
}

// All spellings of one value are the same value.
func TestSpellingsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(1, 999).Draw(t, "whole")
		part := rapid.IntRange(10, 99).Draw(t, "part")
		want, _ := strconv.ParseFloat(fmt.Sprintf("%d.%de-3", whole, part), 64)
		for _, f := range []string{"%d.%d mA", "%d,%d mA", "%d.%dma", "%d.%d milliamps", "%d.%d m", "%d.%de-3", "%d.%de-3 A", "%d.%d x 10^-3 A",
			"%d.%d×10⁻³ A", "%d.%d * 10^-3 amps", "%d.%d\u202fmA", "+%d.%d\u00a0mA", "%d.%d·10^−3 A", "%d.%d milli amps"} {
			text := fmt.Sprintf(f, whole, part)
			r, err := si.Read(text, si.MustUnit("A"))
			if err != nil || r.Quantity.Value != want {
				t.Fatalf("%q = %v, %v; want %v", text, r.Quantity.Value, err, want)
			}
		}
	})
}

// No text is read in two ways: one comma before three digits, behind one to
// three that do not begin with nought, is asked about; every other is not.
func TestCommaIsNeverGuessed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.StringMatching(`[0-9]{1,5}`).Draw(t, "whole")
		part := rapid.StringMatching(`[0-9]{1,5}`).Draw(t, "part")
		r, err := si.Read(whole+","+part+" V", si.MustUnit("V"))
		two := len(part) == 3 && len(whole) <= 3 && whole[0] != '0'
		if !two {
			want, _ := strconv.ParseFloat(whole+"."+part, 64)
			if err != nil || r.Quantity.Value != want {
				t.Fatalf("%s,%s = %v, %v; want %v", whole, part, r.Quantity.Value, err, want)
			}
			return
		}
		e, ok := si.AsReadError(err)
		if !ok || e.Kind != si.Ambiguous || len(e.Candidates) != 2 {
			t.Fatalf("%s,%s = %v, %v; want two candidates", whole, part, r.Quantity.Value, err)
		}
		a, _ := strconv.ParseFloat(whole+"."+part, 64)
		b, _ := strconv.ParseFloat(whole+part, 64)
		if e.Candidates[0].Value != a || e.Candidates[1].Value != b {
			t.Fatalf("%s,%s: candidates %v, want %v and %v", whole, part, e.Candidates, a, b)
		}
	})
}

// Each named dimension has a unit that reads as this dimension.
func TestDimensionsHaveUnits(t *testing.T) {
	for _, d := range dims {
		u := d.Unit()
		if u.Dim != d {
			t.Errorf("%s: unit %q has dimension %v", d.Name(), u.Symbol, u.Dim)
		}
		if d == si.Charge { // C alone is the degree Celsius
			continue
		}
		if back, err := si.UnitOf(u.Symbol); err != nil || back.Dim != d || back.Symbol != u.Symbol {
			t.Errorf("%s: unit %q reads as %v, %v", d.Name(), u.Symbol, back, err)
		}
	}
}
