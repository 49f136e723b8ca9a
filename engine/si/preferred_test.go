package si_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"fullyon/engine/si"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// IEC 60063 by way of reference/engine-checks.md §3.
func TestSeriesValues(t *testing.T) {
	for _, c := range []struct {
		name string
		want []int
	}{
		{"E3", []int{10, 22, 47}},
		{"E6", []int{10, 15, 22, 33, 47, 68}},
		{"E12", []int{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}},
		{"e24", []int{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}},
		{"E96", []int{100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169, 174,
			178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309, 316, 324,
			332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511, 523, 536, 549, 562, 576, 590, 604,
			619, 634, 649, 665, 681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976}},
	} {
		s, err := si.SeriesOf(c.name)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, s.Values()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
	e96, e48 := si.E96.Values(), si.E48.Values()
	for i, v := range e48 {
		if v != e96[2*i] {
			t.Errorf("E48 value %d is %d, want %d", i, v, e96[2*i])
		}
	}
	if _, err := si.SeriesOf("E5"); err == nil {
		t.Error("E5 was found")
	}
}

func TestSeriesSteps(t *testing.T) {
	for _, c := range []struct {
		s                       si.Series
		v, most, least, nearest float64
	}{
		{si.E12, 180e-9, 1.8e-7, 1.8e-7, 1.8e-7},
		{si.E12, 179.99999999999997, 180, 180, 180},
		{si.E12, 100, 100, 100, 100},
		{si.E12, 99.9, 82, 100, 100},
		{si.E12, 9.5, 8.2, 10, 10},
		{si.E24, 9.5, 9.1, 10, 9.1}, // 9.5/9.1 = 1.044, 10/9.5 = 1.053
		{si.E3, 3.2, 2.2, 4.7, 2.2},
		{si.E96, 985, 976, 1000, 976},
		{si.E6, 0.05, 0.047, 0.068, 0.047},
	} {
		if m, l, n := c.s.AtMost(c.v), c.s.AtLeast(c.v), c.s.Nearest(c.v); m != c.most || l != c.least || n != c.nearest {
			t.Errorf("%v %v: at most %v, at least %v, nearest %v; want %v, %v, %v", c.s, c.v, m, l, n, c.most, c.least, c.nearest)
		}
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), 1e-31} {
		if !math.IsNaN(si.E12.AtMost(v)) || !math.IsNaN(si.E12.AtLeast(v)) || !math.IsNaN(si.E12.Nearest(v)) || si.E12.Has(v) {
			t.Errorf("E12 of %v is not NaN", v)
		}
	}
	if diff := cmp.Diff([]float64{82, 100, 120, 150}, si.E12.Between(80, 150)); diff != "" {
		t.Errorf("between (-want +got):\n%s", diff)
	}
	if got := si.E12.Between(150, 80); got != nil {
		t.Errorf("between 150 and 80: %v", got)
	}
}

// Every preferred value is exactly the float its text reads as, belongs to its
// series, and is its own neighbour.
func TestPreferredAreExactDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := si.Series(rapid.IntRange(0, 5).Draw(t, "series"))
		m := rapid.SampledFrom(s.Values()).Draw(t, "value")
		e := rapid.IntRange(-14, 8).Draw(t, "exponent")
		r, err := si.Read(fmt.Sprintf("%de%d", m, e), si.MustUnit("ohm"))
		if err != nil {
			t.Fatal(err)
		}
		v := r.Quantity.Value
		if !s.Has(v) || s.AtMost(v) != v || s.AtLeast(v) != v || s.Nearest(v) != v || !slices.Equal(s.Between(v, v), []float64{v}) {
			t.Fatalf("%v: %v is not its own neighbour: %v %v %v", s, v, s.AtMost(v), s.AtLeast(v), s.Nearest(v))
		}
	})
}

func TestPreferredBracket(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := si.Series(rapid.IntRange(0, 5).Draw(t, "series"))
		v := math.Abs(rapid.Float64Range(1e-9, 1e9).Draw(t, "v"))
		lo, hi, near := s.AtMost(v), s.AtLeast(v), s.Nearest(v)
		if !(lo <= v*(1+1e-11) && v <= hi*(1+1e-11)) || near != lo && near != hi {
			t.Fatalf("%v: %v lies not between %v and %v, nearest %v", s, v, lo, hi, near)
		}
		if n := len(s.Between(lo, hi)); n > 2 || n < 1 {
			t.Fatalf("%v: %d values between neighbours %v and %v", s, n, lo, hi)
		}
	})
}

// IEC 60062 by way of reference/engine-checks.md §3 (RKM), with the small k of the SI.
func TestRKM(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    si.Dim
		want string
	}{
		{0.47, si.Resistance, "R47"}, {4.7, si.Resistance, "4R7"}, {470, si.Resistance, "470R"}, {4700, si.Resistance, "4k7"},
		{47000, si.Resistance, "47k"}, {47300, si.Resistance, "47k3"}, {470e3, si.Resistance, "470k"}, {4.7e6, si.Resistance, "4M7"},
		{0.1, si.Resistance, "R1"}, {0.02, si.Resistance, "R02"}, {1000, si.Resistance, "1k"}, {2.2e6, si.Resistance, "2M2"},
		{4.7e-9, si.Capacitance, "4n7"}, {100e-9, si.Capacitance, "100n"}, {470e-12, si.Capacitance, "470p"}, {2.2e-6, si.Capacitance, "2µ2"},
		{12, si.Voltage, "12 V"}, {-1, si.Resistance, "−1 Ω"},
	} {
		if got := si.RKM(si.Of(c.v, c.d)); got != c.want {
			t.Errorf("RKM(%v) = %q, want %q", c.v, got, c.want)
		}
	}
}
