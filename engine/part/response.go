package part

import (
	"math"

	"fullyon/engine/si"
)

// Steady is the sum of the cells: the thermal resistance after a long time, K/W.
func (r Response) Steady() float64 {
	sum := 0.0
	for _, c := range r.Cells {
		sum += c.R.Value
	}
	return sum
}

// At is the thermal impedance of one rectangular pulse of t seconds, in K/W: the
// rise of the junction at its end for each watt. A Foster chain gives
// Σ R_i (1 − e^(−t/τ_i)); a Cauer ladder is turned into its Foster chain first.
// 0 for t ≤ 0 and for a response without cells.
func (r Response) At(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	sum := 0.0
	for _, c := range r.FosterForm().Cells {
		sum += c.R.Value * -math.Expm1(-t/c.Tau.Value)
	}
	return sum
}

// FosterForm is the Foster chain with the same impedance at its input. It is the
// response itself unless that is a Cauer ladder; convert once before a loop.
//
// Ladder with C_i = τ_i/R_i from node i to the reference, R_i from node i to node
// i+1 and the last R to the reference: C dθ/dt = −G θ + e₁ P. With C^½ θ as the
// unknown the matrix is A = B Bᵀ, where B = C^-½ D is bidiagonal, column i of D
// being √(1/R_i) (e_i − e_{i+1}). With A = V Λ Vᵀ the chain is τ_k = 1/λ_k and
// R_k = V_1k²/(C_1 λ_k). The λ are the squared singular values of B, found by
// one-sided Jacobi rotations, which keep small values accurate beside large
// ones: time constants here span from microseconds to minutes. (The rotations:
// Golub and Van Loan, Matrix Computations, 4th ed., §8.6.3.)
func (r Response) FosterForm() Response {
	n := len(r.Cells)
	if r.Network != Cauer || n == 0 {
		return r
	}
	rows, v := make([][]float64, n), make([][]float64, n) // Bᵀ and the rotations, by column
	for i := range rows {
		rows[i], v[i] = make([]float64, n), make([]float64, n)
		v[i][i] = 1
	}
	for i, c := range r.Cells {
		g := math.Sqrt(1 / c.R.Value)
		rows[i][i] = g / math.Sqrt(r.capacity(i))
		if i+1 < n {
			rows[i+1][i] = -g / math.Sqrt(r.capacity(i+1))
		}
	}
	orthogonalise(rows, v)
	out := Response{To: r.To, Network: Foster, Cells: make([]Cell, n)}
	for k, col := range rows {
		lambda := dot(col, col)
		out.Cells[k] = Cell{
			R:   si.Of(v[k][0]*v[k][0]/(r.capacity(0)*lambda), si.ThermalResistance),
			Tau: si.Of(1/lambda, si.Time),
		}
	}
	return out
}

// capacity is C_i of a ladder, J/K.
func (r Response) capacity(i int) float64 { return r.Cells[i].Tau.Value / r.Cells[i].R.Value }

// orthogonalise rotates pairs of columns of a (each slice is one column) until
// they stand square to one another, and turns the columns of v alongside.
func orthogonalise(a, v [][]float64) {
	for range 60 { // a handful of sweeps does it for any size that Read accepts
		turned := false
		for p := range a {
			for q := p + 1; q < len(a); q++ {
				pp, qq, pq := dot(a[p], a[p]), dot(a[q], a[q]), dot(a[p], a[q])
				if math.Abs(pq) <= 1e-15*math.Sqrt(pp*qq) {
					continue
				}
				turned = true
				zeta := (qq - pp) / (2 * pq)
				t := math.Copysign(1, zeta) / (math.Abs(zeta) + math.Hypot(1, zeta))
				c := 1 / math.Hypot(1, t)
				rotate(a[p], a[q], c, c*t)
				rotate(v[p], v[q], c, c*t)
			}
		}
		if !turned {
			return
		}
	}
}

func rotate(x, y []float64, c, s float64) {
	for i := range x {
		x[i], y[i] = c*x[i]-s*y[i], s*x[i]+c*y[i]
	}
}

func dot(x, y []float64) float64 {
	sum := 0.0
	for i := range x {
		sum += x[i] * y[i]
	}
	return sum
}
