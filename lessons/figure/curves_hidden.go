package figure

import (
	"math"
	"slices"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// The words that stand in place of a table row are to give the value at x to this share.
const straightEnough = 0.01

// hide takes x out of the table and out of the points for the crosshair, and puts
// rows on both sides of it.
func (k *Plot) hide(c *part.Curve, x float64) {
	at := func(v float64) bool { return k.at(v, x) }
	aside := 0.003 * (k.X.Max - k.X.Min)
	if k.X.Log {
		aside = 0.003 * x
	}
	low, high := k.beside(x, at)
	k.At = slices.DeleteFunc(append(slices.Clone(k.At), low, high), at)
	slices.Sort(k.At)
	k.At = slices.Compact(k.At)
	for i := range k.Series {
		s := &k.Series[i]
		var kept []XY
		for _, p := range s.Points {
			if !at(p.X) {
				kept = append(kept, p)
				continue
			}
			for _, v := range [2]float64{x - aside, x + aside} {
				if y, err := c.At(v, i); err == nil {
					kept = append(kept, XY{v, y})
				}
			}
		}
		s.Points = kept
	}
}

// at tells whether two places of the X axis are one.
func (k *Plot) at(v, x float64) bool {
	if k.X.Log {
		return math.Abs(v-x) <= 1e-6*x
	}
	return math.Abs(v-x) <= 1e-6*(k.X.Max-k.X.Min)
}

// beside finds round values on both sides of x between which every line is
// straight enough, if there are any; else values a little to each side.
func (k *Plot) beside(x float64, at func(float64) bool) (low, high float64) {
	s := scaleOver(k.X.scale(), 0, 1)
	for level := range 5 {
		low, high = k.X.Min, k.X.Max
		for _, v := range k.round(s, level) {
			switch {
			case at(v):
			case v < x:
				low = max(low, v)
			default:
				high = min(high, v)
			}
		}
		if k.straight(low, x, high) {
			return low, high
		}
	}
	for _, share := range [...]float64{0.1, 0.05, 0.03, 0.02, 0.01, 0.005} {
		low, high = max(k.X.Min, si.Round(x*(1-share), 3)), min(k.X.Max, si.Round(x*(1+share), 3))
		if k.straight(low, x, high) {
			break
		}
	}
	return low, high
}

// straight tells whether a straight line from low to high gives every curve at x.
func (k *Plot) straight(low, x, high float64) bool {
	for i := range k.Series {
		a, inA := k.read(&k.Series[i], low)
		b, inB := k.read(&k.Series[i], high)
		y, in := k.read(&k.Series[i], x)
		if in && !(inA && inB && math.Abs(a+(b-a)*(x-low)/(high-low)-y) <= straightEnough*math.Abs(y)) {
			return false
		}
	}
	return true
}
