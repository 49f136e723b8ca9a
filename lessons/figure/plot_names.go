package figure

import (
	"math"
	"slices"
	"sort"
	"strings"
)

// spot is a place for a label.
type spot struct {
	x, y float64
	a    Anchor
}

// around are the places for a label about a point of a line.
func around(p XY) [8]spot {
	return [8]spot{
		{p.X + 7, p.Y - 5, Start}, {p.X - 7, p.Y - 6, End}, {p.X, p.Y - 8, Middle},
		{p.X - 7, p.Y + 15, End}, {p.X + 7, p.Y + 15, Start}, {p.X, p.Y + 17, Middle},
		{p.X + 6, p.Y + 4, Start}, {p.X - 6, p.Y + 4, End},
	}
}

// name writes a series' name at its curve. Where it lies on other curves up to its
// end, so that it cannot be told from them, the label names them all.
func (d *plotting) name(n int) {
	s := &d.p.Series[n]
	role := s.Role
	if role == None {
		role = Ink
	}
	whole := []int{n} // curves that lie on this one all the way
	ends := []int{n}  // curves that end where this one ends
	for j := range d.p.Series {
		if j == n {
			continue
		}
		if same(d.runs[n], d.runs[j]) {
			whole = append(whole, j)
		}
		if endTogether(d.runs[n], d.runs[j]) {
			ends = append(ends, j)
		}
	}
	if d.named[n] || d.tag(role, d.names(whole), n, whole) {
		d.mark(whole)
		return
	}
	if len(ends) > len(whole) && d.tag(role, d.names(ends), n, ends) {
		d.mark(ends)
		return
	}
	d.lead(Shape{Kind: Text, Pen: Pen{Fill: role}, Text: s.Name, Size: plotText}, n)
}

// mark notes which curves have their names.
func (d *plotting) mark(ns []int) {
	for _, n := range ns {
		d.named[n] = true
	}
}

// names joins the names of curves in their order.
func (d *plotting) names(ns []int) string {
	ns = slices.Sorted(slices.Values(ns))
	out := make([]string, len(ns))
	for i, n := range ns {
		out[i] = d.p.Series[n].Name
	}
	return strings.Join(out, ", ")
}

// endTogether tells whether two lines come to lie on one another before their end.
func endTogether(a, b []XY) bool {
	if len(a) < 3 || len(b) < 3 {
		return false
	}
	for k := 1; k <= 2; k++ {
		p, q := a[len(a)-k], b[len(b)-k]
		if math.Abs(p.X-q.X) > 1.5 || math.Abs(p.Y-q.Y) > 1.5 {
			return false
		}
	}
	return true
}

// limitNames writes the names of the limits.
func (d *plotting) limitNames() {
	for i, l := range d.p.Limits {
		n := len(d.p.Series) + i
		if !d.tag(Fails, l.Label, n, []int{n}) && !l.upright() {
			d.lead(Shape{Kind: Text, Pen: Pen{Fill: Fails}, Text: l.Label, Size: plotText}, n)
		}
	}
}

// same tells whether two lines cannot be told apart on the page.
func same(a, b []XY) bool {
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	for i := range a {
		if math.Abs(a[i].X-b[i].X) > 1 || math.Abs(a[i].Y-b[i].Y) > 1 {
			return false
		}
	}
	return true
}

// tag sets a label about a line at the first place where it lies inside the frame,
// clear of all lines and labels, and plainly nearer to its own line than to any
// other. Where none is quite plain it takes the one that is least doubtful. The
// lines of own numbers are those that it names.
func (d *plotting) tag(role Role, text string, n int, own []int) bool {
	if text == "" || len(d.runs[n]) < 2 {
		return true
	}
	t := Shape{Kind: Text, Pen: Pen{Fill: role}, Text: text, Size: plotText}
	wide := t.measure()
	best, doubt := spot{}, math.Inf(1)
	for _, at := range d.stations(d.runs[n]) {
		for _, s := range around(at) {
			x := s.x
			switch s.a {
			case Middle:
				x -= wide / 2
			case End:
				x -= wide
			}
			b := Box{x, s.y - 0.76*plotText, x + wide, s.y + 0.24*plotText}
			if b.X0 < d.x.p0+2 || b.X1 > d.x.p1-1 || b.Y0 < d.y.p1+1 || b.Y1 > d.y.p0-2 || d.taken(b) {
				continue
			}
			mine, others := d.distances(b, own)
			if mine < 1.5 || others < max(3, mine+1.5) {
				continue
			}
			if unsure := mine + 2 - others; unsure < doubt {
				best, doubt = s, unsure
			}
		}
		if doubt <= 0 {
			break
		}
	}
	if math.IsInf(doubt, 1) {
		return false
	}
	t.X, t.Y, t.Anchor = best.x, best.y, best.a
	d.seen = append(d.seen, t.box())
	d.Shapes = append(d.Shapes, t)
	return true
}

// lead sets a label where there is room and leads a fine line from it to its curve.
func (d *plotting) lead(t Shape, n int) {
	if !d.leadTo(t, n, false) {
		d.leadTo(t, n, true)
	}
}

// leadTo does so if it can; a leader may cross other curves only when nothing else is left.
func (d *plotting) leadTo(t Shape, n int, across bool) bool {
	wide := t.measure()
	for _, off := range [...]XY{{24, 22}, {-24, -22}, {-16, 24}, {16, -20}, {-26, 44}, {26, -40}, {40, 40}, {-40, -40}, {24, 60}, {-24, -60}, {70, 24}, {-70, -24}, {60, 90}, {-60, -90}, {20, 120}, {100, 60}} {
		for _, at := range d.stations(d.runs[n]) {
			x, y := at.X+off.X, at.Y+off.Y
			b := Box{x, y - 0.76*plotText, x + wide, y + 0.24*plotText}
			end := XY{x - 3, y - 4}
			if off.X < 0 {
				b.X0, b.X1 = x-wide, x
				end.X = x + 3
			}
			if b.X0 < d.x.p0+2 || b.X1 > d.x.p1-1 || b.Y0 < d.y.p1+1 || b.Y1 > d.y.p0-2 || d.taken(b) {
				continue
			}
			if mine, others := d.distances(b, []int{n}); mine < 3 || others < 3 || d.barred(at, end, n, across) {
				continue
			}
			t.X, t.Y, t.Anchor = b.X0, y, Start
			d.seen = append(d.seen, t.box())
			d.poly(Pen{Stroke: Soft, Width: 0.8}, at.X, at.Y, end.X, end.Y)
			d.Shapes = append(d.Shapes, t)
			return true
		}
	}
	return false
}

// barred tells whether a leader would run through a label or another line.
func (d *plotting) barred(p, q XY, n int, across bool) bool {
	for _, b := range d.seen {
		if b.crossedBy(p.X, p.Y, q.X, q.Y) {
			return true
		}
	}
	spot := Box{p.X - 2, p.Y - 2, p.X + 2, p.Y + 2}
	for i, run := range d.runs {
		for j := 1; i != n && j < len(run); j++ {
			if n >= len(d.p.Series) { // a limit may lie on a curve
				break
			}
			if !across && cross(p, q, run[j-1], run[j]) || i < len(d.p.Series) && spot.distance(run[j-1], run[j]) < 2 {
				return true
			}
		}
	}
	return false
}

// stations are places along a line at which its name is tried, from the end at
// which names are to stand.
func (d *plotting) stations(run []XY) []XY {
	const most = 24
	long := 0.0
	for i := 1; i < len(run); i++ {
		long += math.Hypot(run[i].X-run[i-1].X, run[i].Y-run[i-1].Y)
	}
	if long == 0 {
		return run[:1]
	}
	step := max(long/most, 9)
	out := make([]XY, 0, most+2)
	if d.p.NameFirst {
		next, gone := 0.0, 0.0
		for i := 1; i < len(run); i++ {
			gone, next = along(&out, run[i-1], run[i], gone, next, step)
		}
		return out
	}
	next, gone := 0.0, 0.0
	for i := len(run) - 1; i > 0; i-- {
		gone, next = along(&out, run[i], run[i-1], gone, next, step)
	}
	return out
}

// along adds the stations between two points; gone is the way before a.
func along(out *[]XY, a, b XY, gone, next, step float64) (float64, float64) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	for ; next <= gone+l && l > 0; next += step {
		f := (next - gone) / l
		*out = append(*out, XY{a.X + f*(b.X-a.X), a.Y + f*(b.Y-a.Y)})
	}
	return gone + l, next
}

func (d *plotting) taken(b Box) bool {
	for _, o := range d.seen {
		if o.hits(b) {
			return true
		}
	}
	return false
}

// near is as far as distances are told apart.
const near = 14.0

// distances gives how far a box lies from its own lines and from all others, at
// most [near]; 0 when a line runs through it.
func (d *plotting) distances(b Box, own []int) (mine, others float64) {
	mine, others = near, near
	wide := Box{b.X0 - near, b.Y0 - near, b.X1 + near, b.Y1 + near}
	for i, run := range d.rough {
		least, limit := &others, i >= len(d.p.Series)
		for _, o := range own {
			if o == i {
				least = &mine
			}
		}
		if len(run) < 2 {
			continue
		}
		first := 1
		if d.rising[i] {
			first += sort.Search(len(run)-2, func(j int) bool { return run[j+1].X >= wide.X0 })
		}
		for j := first; j < len(run); j++ {
			p, q := run[j-1], run[j]
			if d.rising[i] && p.X > wide.X1 {
				break
			}
			if max(p.X, q.X) < wide.X0 || min(p.X, q.X) > wide.X1 || max(p.Y, q.Y) < wide.Y0 || min(p.Y, q.Y) > wide.Y1 {
				continue
			}
			gap := b.distance(p, q)
			if gap < 1.5 {
				return 0, 0 // no place for a label
			}
			if limit && least == &others { // a limit has a colour and is not mistaken
				continue
			}
			*least = min(*least, gap)
		}
	}
	return mine, others
}
