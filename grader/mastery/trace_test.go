package mastery

import (
	"math"
	"testing"
)

// Sequences with their values. Parameter sets: code citing Baker's course slides
// (.4 .1 .3 .2), a knowledge-tracing help page (.5 .4 .2 .2), and two of our own;
// the values were computed a second time, independently, from the published equations.
func TestTraceAgreesWithPublishedEquations(t *testing.T) {
	for _, c := range []struct {
		name      string
		p         Params
		responses string
		next      []float64 // after each response
	}{
		{"slides", Params{.4, .1, .2, .3}, "01100", []float64{0.280000, 0.618824, 0.865312, 0.736009, 0.560010}},
		{"help page", Params{.5, .4, .2, .2}, "0011101101", []float64{0.520000, 0.527869, 0.890355, 0.982080, 0.997275, 0.993514, 0.999022, 0.999853, 0.999648, 0.999947}},
		{"three right", Params{.25, .2, .2, .1}, "111", []float64{0.680000, 0.924260, 0.985692}},
		{"a guess is rare", Params{.3, .1, .02, .1}, "1", []float64{0.955634}},
		{"wrong, then right", Params{.3, .1, .02, .1}, "0111", []float64{0.137709, 0.890064, 0.997536, 0.999951}},
	} {
		l := c.p.Known
		for i, r := range c.responses {
			l = c.p.Next(l, r == '1')
			if !(math.Abs(l-c.next[i]) <= 5.1e-7) {
				t.Errorf("%s, response %d: %.6f, want %.6f", c.name, i+1, l, c.next[i])
			}
		}
	}
}

// By hand, in fractions: L0 = 2/5, T = 1/10, S = 3/10, G = 1/5. Wrong:
// posterior = (2/5·3/10)/(2/5·3/10 + 3/5·4/5) = 1/5; next = 1/5 + 4/5·1/10 = 7/25.
// Right: posterior = (7/25·7/10)/(7/25·7/10 + 18/25·1/5) = 49/85;
// next = 49/85 + 36/85·1/10 = 263/425.
func TestTraceByHand(t *testing.T) {
	p := Params{Known: .4, Learn: .1, Guess: .2, Slip: .3}
	l := p.Next(p.Known, false)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"posterior after wrong", p.Posterior(.4, false), 1.0 / 5},
		{"next after wrong", l, 7.0 / 25},
		{"P(right)", p.Right(7.0 / 25), 0.34},
		{"posterior after right", p.Posterior(7.0/25, true), 49.0 / 85},
		{"next after right", p.Next(l, true), 263.0 / 425},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-9) {
			t.Errorf("%s: %.12f, want %.12f", c.what, c.got, c.want)
		}
	}
}
