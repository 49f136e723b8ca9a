package class

import "math"

// Scores is a table of marks: a row a learner, a column a question. An entry is
// the share of the question's marks, 0 to 1.
type Scores [][]float64

// Enough is how many learners item analysis needs before it says anything: with
// ten the standard error of a share is 0.16.
const Enough = 20

// totals sums each row, leaving out column skip; −1 leaves out none.
func (s Scores) totals(skip int) []float64 {
	out := make([]float64, len(s))
	for i, row := range s {
		for j, x := range row {
			if j != skip {
				out[i] += x
			}
		}
	}
	return out
}

func (s Scores) column(j int) []float64 {
	out := make([]float64, len(s))
	for i, row := range s {
		out[i] = row[j]
	}
	return out
}

// Questions is the number of columns.
func (s Scores) Questions() int {
	if len(s) == 0 {
		return 0
	}
	return len(s[0])
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// variance is that of a population: the sum of squares over n.
func variance(x []float64) float64 {
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return sum / float64(len(x))
}

// Difficulty is the mean share of marks that a question earned: low is hard.
func (s Scores) Difficulty(j int) float64 { return mean(s.column(j)) }

// Discrimination is the correlation of a question with the sum of all others; for
// right-or-wrong questions the corrected point-biserial coefficient. Below zero
// it says "check the key", never anything of the learners. NaN where a question
// or the rest has no spread.
func (s Scores) Discrimination(j int) float64 { return correlation(s.column(j), s.totals(j)) }

// PointBiserial is the correlation with the whole score, the question included.
func (s Scores) PointBiserial(j int) float64 { return correlation(s.column(j), s.totals(-1)) }

func correlation(x, y []float64) float64 {
	mx, my := mean(x), mean(y)
	var xy, xx, yy float64
	for i := range x {
		xy += (x[i] - mx) * (y[i] - my)
		xx += (x[i] - mx) * (x[i] - mx)
		yy += (y[i] - my) * (y[i] - my)
	}
	return xy / math.Sqrt(xx*yy)
}

// Alpha is the reliability of the whole score,
//
//	α = k/(k − 1) · (1 − Σ var_i / var_total)
//
// which for right-or-wrong questions is KR-20. NaN with fewer than two questions
// or without spread.
func (s Scores) Alpha() float64 { return s.alpha(-1) }

// AlphaWithout is Alpha with one question left out.
func (s Scores) AlphaWithout(j int) float64 { return s.alpha(j) }

func (s Scores) alpha(skip int) float64 {
	k, sum := 0, 0.0
	for j := range s.Questions() {
		if j != skip {
			k++
			sum += variance(s.column(j))
		}
	}
	if k < 2 {
		return math.NaN()
	}
	total := variance(s.totals(skip))
	if total == 0 {
		return math.NaN()
	}
	return float64(k) / float64(k-1) * (1 - sum/total)
}

// StandardError is that of one learner's score: SD √(1 − α).
func (s Scores) StandardError() float64 {
	return math.Sqrt(variance(s.totals(-1))) * math.Sqrt(1-s.Alpha())
}

// Lengthened is the reliability of a set n times as long with questions alike
// (Spearman and Brown): nα/(1 + (n − 1)α).
func Lengthened(alpha, n float64) float64 { return n * alpha / (1 + (n-1)*alpha) }
