package si_test

import (
	"fmt"

	"fullyon/engine/si"
)

func ExampleRead() {
	r, _ := si.Read("2^2 * 30m", si.MustUnit("W"))
	fmt.Println(r.Text, r.Sum, r.Assumed)
	// Output: 0.120 W true true
}

func ExampleRead_ambiguous() {
	_, err := si.Read("1,234", si.MustUnit("A"))
	e, _ := si.AsReadError(err)
	fmt.Println(e.Kind == si.Ambiguous, e.Candidates)
	// Output: true [1.234 A 1.234 kA]
}

func ExampleParse() {
	q, _ := si.Parse("4k7", si.Resistance)
	fmt.Println(q, q.Plain())
	// Output: 4.7 kΩ 4700 Ω
}

func ExampleParse_missing() {
	_, err := si.Parse("12", si.Voltage)
	fmt.Println(err)
	// Output: the unit is missing; a voltage is asked, as in 12 V
}

func ExampleQuantity_Figures() {
	q := si.Of(9.996, si.Voltage)
	fmt.Println(q.Figures(3), q.FiguresIn(si.MustUnit("mV"), 2))
	// Output: 10.0 V 10000 mV
}

func ExampleSeries_AtLeast() {
	fmt.Println(si.E12.AtLeast(100), si.E12.AtLeast(101), si.E24.Nearest(4600))
	// Output: 100 120 4700
}
