package figure

import "math"

// cross tells whether two straight lines meet.
func cross(a, b, c, d XY) bool {
	side := func(p, q, r XY) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0
}

// distance is how far a straight line from p to q stays from the box.
func (b Box) distance(p, q XY) float64 {
	if b.crossedBy(p.X, p.Y, q.X, q.Y) {
		return 0
	}
	outside := func(p XY) float64 {
		return math.Hypot(max(b.X0-p.X, 0, p.X-b.X1), max(b.Y0-p.Y, 0, p.Y-b.Y1))
	}
	least := min(outside(p), outside(q))
	dx, dy := q.X-p.X, q.Y-p.Y
	if l := dx*dx + dy*dy; l > 0 {
		for _, c := range [4]XY{{b.X0, b.Y0}, {b.X1, b.Y0}, {b.X0, b.Y1}, {b.X1, b.Y1}} {
			f := min(1, max(0, ((c.X-p.X)*dx+(c.Y-p.Y)*dy)/l))
			least = min(least, math.Hypot(p.X+f*dx-c.X, p.Y+f*dy-c.Y))
		}
	}
	return least
}

// crossedBy tells whether a straight line from (x0, y0) to (x1, y1) enters the box
// (clipping after Liang and Barsky).
func (b Box) crossedBy(x0, y0, x1, y1 float64) bool {
	t0, t1 := 0.0, 1.0
	for _, c := range [4][2]float64{{x0 - x1, x0 - b.X0}, {x1 - x0, b.X1 - x0}, {y0 - y1, y0 - b.Y0}, {y1 - y0, b.Y1 - y0}} {
		p, q := c[0], c[1]
		switch {
		case p == 0 && q <= 0:
			return false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	return t0 < t1
}
