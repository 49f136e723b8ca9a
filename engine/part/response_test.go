package part

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/si"
)

func response(n Network, cells ...[2]float64) Response {
	r := Response{To: AtCase, Network: n}
	for _, c := range cells {
		r.Cells = append(r.Cells, Cell{si.Of(c[0], si.ThermalResistance), si.Of(c[1], si.Time)})
	}
	return r
}

// engine-checks Z7 (a published Foster list), Z10 and Z11 (a published list that
// only fits its sheet's curve as a ladder; values by a circuit solver), and the
// same numbers read as a Foster chain by the same solver.
func TestPublishedResponses(t *testing.T) {
	z7 := response(Foster, [2]float64{0.003454, 13.68748}, [2]float64{0.17246, 7.21e-5}, [2]float64{0.786312, 0.001227}, [2]float64{1.368218, 0.007178})
	if got := z7.Steady(); math.Abs(got-2.330444) > 1e-9 {
		t.Errorf("Z7: the cells add up to %v, want 2.330444", got)
	}
	cells := [][2]float64{{0.6086, 0.00026}, {0.9926, 0.001228}, {0.5203, 0.00812}}
	ladder, chain := response(Cauer, cells...), response(Foster, cells...)
	if got := ladder.At(10); math.Abs(got-2.1215) > 1e-6 {
		t.Errorf("Z10: the ladder settles at %v, want 2.1215", got)
	}
	for _, tt := range []struct{ t, ladder, chain float64 }{
		{1e-6, 0.002336, 0.0032}, {10e-6, 0.02296, 0.031649}, {100e-6, 0.1959, 0.278311},
		{1e-3, 0.8675, 1.208830}, {10e-3, 1.8505, 1.969364}, {100e-3, 2.1215, 2.121498},
	} {
		if got := ladder.At(tt.t); math.Abs(got/tt.ladder-1) > 3e-4 {
			t.Errorf("Z11: ladder at %v s: %v, want %v", tt.t, got, tt.ladder)
		}
		if got := chain.At(tt.t); math.Abs(got/tt.chain-1) > 2e-2 || tt.t > 5e-6 && math.Abs(got-tt.chain) > 1e-5 {
			t.Errorf("chain at %v s: %v, want %v", tt.t, got, tt.chain)
		}
	}
}

func TestResponseEdges(t *testing.T) {
	one := response(Cauer, [2]float64{2, 0.5}) // one cell is the same in both networks
	if got, want := one.At(0.5), 2*(1-math.Exp(-1)); math.Abs(got-want) > 1e-12 {
		t.Errorf("one cell: %v, want %v", got, want)
	}
	for _, at := range []float64{0, -1, math.NaN()} {
		if got := one.At(at); got != 0 {
			t.Errorf("at %v s: %v, want 0", at, got)
		}
	}
	if got := (Response{}).At(1); got != 0 {
		t.Errorf("no cells: %v", got)
	}
	if got := one.At(math.Inf(1)); math.Abs(got-2) > 1e-12 {
		t.Errorf("after ever: %v, want 2", got)
	}
}

// integrate follows a ladder by the trapezoidal rule: slow, but another method than At.
func integrate(r Response, until float64, steps int) float64 {
	n := len(r.Cells)
	x := make([]float64, n)
	h := until / float64(steps)
	c, g := make([]float64, n), make([]float64, n)
	for i, cell := range r.Cells {
		c[i], g[i] = cell.Tau.Value/cell.R.Value, 1/cell.R.Value
	}
	// (2C/h + G) x' = (2C/h − G) x + 2 P e₁, a tridiagonal system at each step
	for range steps {
		b, diag, off := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range n {
			left, next, before := 0.0, 0.0, 0.0
			if i > 0 {
				left, before = g[i-1], x[i-1]
			}
			if i+1 < n {
				next = x[i+1]
			}
			diag[i] = 2*c[i]/h + g[i] + left
			off[i] = -g[i]
			b[i] = (2*c[i]/h-g[i]-left)*x[i] + left*before + g[i]*next
		}
		b[0] += 2
		for i := 1; i < n; i++ {
			m := off[i-1] / diag[i-1]
			diag[i] -= m * off[i-1]
			b[i] -= m * b[i-1]
		}
		for i := n - 1; i >= 0; i-- {
			x[i] = b[i]
			if i+1 < n {
				x[i] -= off[i] * x[i+1]
			}
			x[i] /= diag[i]
		}
	}
	return x[0]
}

func TestLadderAgreesWithIntegration(t *testing.T) {
	r := response(Cauer, [2]float64{0.6086, 0.00026}, [2]float64{0.9926, 0.001228}, [2]float64{0.5203, 0.00812})
	for _, at := range []float64{1e-4, 1e-3, 1e-2} {
		if got, want := r.At(at), integrate(r, at, 20000); math.Abs(got-want) > 1e-6 {
			t.Errorf("at %v s: %v, integrated %v", at, got, want)
		}
	}
}

// Any ladder, with time constants over ten decades: the response starts with
// slope R_1/τ_1, never falls, and ends at the sum of its resistances.
func TestLadderProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "cells")
		r, first := Response{Network: Cauer}, math.Inf(1)
		for range n {
			tau := math.Pow(10, rapid.Float64Range(-6, 4).Draw(t, "log tau"))
			res := math.Pow(10, rapid.Float64Range(-2, 2).Draw(t, "log R"))
			first = min(first, tau, tau*res)
			r.Cells = append(r.Cells, Cell{si.Of(res, si.ThermalResistance), si.Of(tau, si.Time)})
		}
		if got, want := r.FosterForm().Steady(), r.Steady(); math.Abs(got/want-1) > 1e-6 {
			t.Fatalf("the chain adds up to %v, the ladder to %v", got, want)
		}
		last := 0.0
		for e := -9.0; e < 9; e += 0.25 {
			z := r.At(math.Pow(10, e))
			if !(z >= last*(1-1e-9)) || z > r.Steady()*(1+1e-6) {
				t.Fatalf("at 1e%v s the response goes from %v to %v", e, last, z)
			}
			last = z
		}
		short := first * 1e-6
		slope := r.Cells[0].R.Value / r.Cells[0].Tau.Value
		if z := r.At(short); math.Abs(z/(slope*short)-1) > 1e-2 {
			t.Fatalf("the first slope is %v, want %v", z/short, slope)
		}
	})
}
