package figure

import (
	"math"

	"fullyon/engine/si"
)

// scale maps values to places along an axis, linear or logarithmic.
type scale struct {
	min, max float64
	log      bool
	p0, p1   float64 // the places of min and max
}

// at is the place of a value.
func (s scale) at(v float64) float64 {
	if s.log {
		return s.p0 + math.Log(v/s.min)/math.Log(s.max/s.min)*(s.p1-s.p0)
	}
	return s.p0 + (v-s.min)/(s.max-s.min)*(s.p1-s.p0)
}

// holds tells whether a value lies on the axis.
func (s scale) holds(v float64) bool { return v >= s.min && v <= s.max }

// niceSteps are the steps that people count in.
var niceSteps = [...]float64{1, 2, 2.5, 5, 10}

// linearStep is the smallest step that people count in and that is not below raw.
func linearStep(raw float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range niceSteps {
		if m*p >= raw*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// leastGap is how close the lines of the fine grid may stand.
const leastGap = 4.5

// minorStep parts a step of a linear axis so finely as can be told apart: in ten
// or five, or in four where the step is a two.
func (s scale) minorStep(step float64) float64 {
	lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
	parts := [...]float64{10, 5, 2}
	if lead > 1.5 && lead < 2.2 {
		parts = [...]float64{10, 4, 2}
	}
	for _, n := range parts {
		if math.Abs(s.p1-s.p0)*step/n/(s.max-s.min) >= leastGap {
			return step / n
		}
	}
	return step
}

// linearTicks are the multiples of step on the axis.
func (s scale) linearTicks(step float64) []float64 {
	var out []float64
	for k := math.Ceil(s.min/step - 1e-9); k*step <= s.max+step*1e-9 && len(out) < 200; k++ {
		out = append(out, si.Round(k*step, 10))
	}
	return out
}

// The digits at which a logarithmic axis has ticks, from many to few.
var logDigits = [...][]float64{
	{1, 2, 3, 4, 5, 6, 7, 8, 9},
	{1, 2, 3, 5, 7},
	{1, 2, 5},
	{1, 3},
	{1},
}

// fineDigits are the lines of a decade that is wide on the page.
var fineDigits = []float64{1, 1.2, 1.4, 1.6, 1.8, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9}

// logTicks are the digits of each decade on the axis.
func (s scale) logTicks(digits []float64) []float64 {
	var out []float64
	for e := math.Floor(math.Log10(s.min)); e <= math.Log10(s.max)+1 && len(out) < 200; e++ {
		for _, m := range digits {
			if v := si.Round(m*math.Pow(10, e), 10); v >= s.min*(1-1e-9) && v <= s.max*(1+1e-9) {
				out = append(out, v)
			}
		}
	}
	return out
}

// ticks gives the values to be labelled, as many as fit where a label of a value
// takes room(v) along the axis, and the values of the small ticks between them.
func (s scale) ticks(room func(v float64) float64) (labelled, all []float64) {
	long := math.Abs(s.p1 - s.p0)
	if !s.log {
		for n := 9.0; n >= 1; n-- {
			step := linearStep((s.max - s.min) / n)
			labelled = s.linearTicks(step)
			if len(labelled) <= 2 || s.fits(labelled, room) {
				return labelled, s.linearTicks(s.minorStep(step))
			}
		}
		return labelled, labelled
	}
	switch decade := long / math.Log10(s.max/s.min); {
	case decade >= 95:
		all = s.logTicks(fineDigits)
	case decade >= 28:
		all = s.logTicks(logDigits[0])
	case decade >= 14:
		all = s.logTicks(logDigits[2])
	default:
		all = s.logTicks(logDigits[len(logDigits)-1])
	}
	for _, d := range logDigits {
		labelled = s.logTicks(d)
		if s.fits(labelled, room) {
			return labelled, all
		}
	}
	for len(labelled) > 2 && !s.fits(labelled, room) { // every second decade, every fourth, …
		few := labelled[:0:0]
		for i := 0; i < len(labelled); i += 2 {
			few = append(few, labelled[i])
		}
		labelled = few
	}
	return labelled, all
}

// fits tells whether labels of these values stand clear of one another.
func (s scale) fits(vs []float64, room func(v float64) float64) bool {
	for i := 1; i < len(vs); i++ {
		if math.Abs(s.at(vs[i])-s.at(vs[i-1])) < (room(vs[i])+room(vs[i-1]))/2+7 {
			return false
		}
	}
	return true
}

// tickText prints the value of a tick; very large and small ones as powers of ten.
func tickText(v float64) string {
	if a := math.Abs(v); a != 0 && (a >= 1e6 || a < 1e-4) {
		e := math.Floor(math.Log10(a) + 1e-9)
		m := si.Round(v/math.Pow(10, e), 3)
		text := "10^{" + tidy(e) + "}"
		if m != 1 {
			text = tidy(m) + "×" + text
		}
		return text
	}
	return tidy(v)
}
