package class

import (
	"math"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// worked is the published worked example: ten students, ten questions (East
// Carolina University, notes on KR-20).
func worked() Scores {
	var s Scores
	for _, row := range strings.Fields("1111110110 1011011101 1111011001 0010001000 0000010010 1110111111 1101110111 1111111101 0101111101 1101101110") {
		s = append(s, bits(row))
	}
	return s
}

func bits(row string) []float64 {
	out := make([]float64, len(row))
	for i, c := range row {
		out[i] = float64(c - '0')
	}
	return out
}

func TestPublishedWorkedExample(t *testing.T) {
	s := worked()
	// Published: totals, shares right and the population variance of 5.84.
	for i, want := range []float64{8, 7, 7, 2, 2, 9, 8, 9, 7, 7} {
		near(t, "total", s.totals(-1)[i], want, 0)
	}
	for j, want := range []float64{.7, .7, .6, .7, .6, .8, .7, .7, .5, .6} {
		near(t, "share right", s.Difficulty(j), want, 1e-12)
	}
	near(t, "variance of the total", variance(s.totals(-1)), 5.84, 1e-12)
	near(t, "KR-20", s.Alpha(), 0.696347, 5e-7)
	// With the sample variance it would be 0.737823: a slip that this must not make.
	if math.Abs(s.Alpha()-0.737823) < 1e-3 {
		t.Error("KR-20 with the sample variance of the total")
	}
	// Computed twice, the second time with R 4.2 (cor, psych::alpha).
	for j, want := range []float64{.794633, .794633, .202721, .614035, .709524, .434493, .162539, .794633, .082761, .625057} {
		near(t, "point-biserial", s.PointBiserial(j), want, 5e-7)
	}
	for j, want := range []float64{.705889, .705889, 0, .473589, .583874, .286147, -.027445, .705889, -.123613, .475867} {
		near(t, "corrected", s.Discrimination(j), want, 5e-7)
	}
	for j, want := range []float64{.608392, .608392, .735268, .652452, .628977, .684593, .735501, .608392, .756367, .650543} {
		near(t, "alpha without", s.AlphaWithout(j), want, 5e-7)
	}
	near(t, "doubled", Lengthened(s.Alpha(), 2), .820996, 5e-7)
	near(t, "standard error", s.StandardError(), 1.331666, 5e-7)
}

// lsat is LSAT section 6 (Bock and Lieberman 1970): 1,000 people, 5 questions, as
// counts of the answer patterns 00000, 00001, … 11111.
func lsat() Scores {
	var s Scores
	counts := []int{3, 6, 2, 11, 1, 1, 3, 4, 1, 8, 0, 16, 0, 3, 2, 15, 10, 29, 14, 81, 3, 28, 15, 80, 16, 56, 21, 173, 11, 61, 28, 298}
	for p, n := range counts {
		row := make([]float64, 5)
		for j := range row {
			row[j] = float64(p >> (4 - j) & 1)
		}
		for range n {
			s = append(s, row)
		}
	}
	return s
}

func TestPublishedLSAT(t *testing.T) {
	s := lsat()
	for j, want := range []float64{924, 709, 553, 763, 870} {
		near(t, "right", s.Difficulty(j)*1000, want, 1e-9)
	}
	near(t, "mean score", mean(s.totals(-1)), 3.819, 1e-9)
	near(t, "alpha", s.Alpha(), 0.294997, 5e-7)
	for j, want := range []float64{.3620, .5668, .6184, .5344, .4354} {
		near(t, "point-biserial", s.PointBiserial(j), want, 5e-5)
	}
	for j, want := range []float64{.1128, .1532, .1728, .1444, .1216} {
		near(t, "corrected", s.Discrimination(j), want, 5e-5)
	}
	for j, want := range []float64{.2754, .2376, .2168, .2459, .2663} {
		near(t, "alpha without", s.AlphaWithout(j), want, 5e-5)
	}
}

func TestNothingToSay(t *testing.T) {
	for name, s := range map[string]Scores{"nobody": nil, "one question": {{1}, {0}}, "no spread": {{1, 1}, {1, 1}}} {
		if a := s.Alpha(); !math.IsNaN(a) {
			t.Errorf("%s: reliability %v", name, a)
		}
	}
}
