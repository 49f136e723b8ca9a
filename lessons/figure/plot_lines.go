package figure

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// places finds where the points of all curves and limits come to lie. A curve that
// leaves the frame is cut at its edge.
func (d *plotting) places() {
	n := 0
	for i := range d.p.Series {
		n += len(d.p.Series[i].Points)
	}
	room := make([]XY, 0, n+8*len(d.p.Limits))
	d.runs = make([][]XY, 0, len(d.p.Series)+len(d.p.Limits))
	put := func(pts []XY) {
		from := len(room)
		for i, p := range pts {
			x, y := d.p.X.in(p.X), d.p.Y.in(p.Y)
			in := d.x.holds(x) && d.y.holds(y)
			if i > 0 {
				before := pts[i-1]
				bx, by := d.p.X.in(before.X), d.p.Y.in(before.Y)
				if was := d.x.holds(bx) && d.y.holds(by); was != in {
					if at, ok := d.edge(bx, by, x, y); ok {
						room = append(room, at)
					}
				}
			}
			if in {
				room = append(room, XY{d.x.at(x), d.y.at(y)})
			}
		}
		run := room[from:len(room):len(room)]
		d.runs, d.rough = append(d.runs, run), append(d.rough, thinned(run))
		d.rising = append(d.rising, slices.IsSortedFunc(run, func(a, b XY) int { return cmp.Compare(a.X, b.X) }))
	}
	for i := range d.p.Series {
		put(d.p.Series[i].Points)
	}
	for _, l := range d.p.Limits {
		switch {
		case l.Points != nil:
			put(l.Points)
		case l.Upright:
			put([]XY{{l.Value, d.p.Y.Min}, {l.Value, d.p.Y.Max}})
		default:
			put([]XY{{d.p.X.Min, l.Value}, {d.p.X.Max, l.Value}})
		}
	}
}

// thinned leaves points out that lie on the line between others, as far as the eye can tell.
func thinned(run []XY) []XY {
	if len(run) < 12 {
		return run
	}
	out := make([]XY, 0, len(run)/2)
	from := 0
	out = append(out, run[0])
	for i := 2; i < len(run); i++ {
		for j := from + 1; j < i; j++ {
			if apart(run[j], run[from], run[i]) > 0.4 {
				from = i - 1
				out = append(out, run[from])
				break
			}
		}
	}
	return append(out, run[len(run)-1])
}

// apart is how far a point lies from the line through two others.
func apart(p, a, b XY) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	long := math.Sqrt(dx*dx + dy*dy)
	if long == 0 {
		return 0
	}
	return math.Abs(dx*(p.Y-a.Y)-dy*(p.X-a.X)) / long
}

// edge is where the line between a point within the frame and one without leaves it.
func (d *plotting) edge(x0, y0, x1, y1 float64) (XY, bool) {
	if d.x.log && (x0 <= 0 || x1 <= 0) || d.y.log && (y0 <= 0 || y1 <= 0) {
		return XY{}, false
	}
	px0, py0, px1, py1 := d.x.at(x0), d.y.at(y0), d.x.at(x1), d.y.at(y1)
	if !d.x.holds(x0) || !d.y.holds(y0) {
		px0, py0, px1, py1 = px1, py1, px0, py0
	}
	t := 1.0
	for _, c := range [...]struct{ from, to, low, high float64 }{{px0, px1, d.x.p0, d.x.p1}, {py0, py1, d.y.p1, d.y.p0}} {
		switch {
		case c.to > c.high:
			t = min(t, (c.high-c.from)/(c.to-c.from))
		case c.to < c.low:
			t = min(t, (c.low-c.from)/(c.to-c.from))
		}
	}
	return XY{px0 + t*(px1-px0), py0 + t*(py1-py0)}, t > 1e-6 && t < 1
}

// limits draws the lines not to be passed.
func (d *plotting) limits() {
	for _, run := range d.runs[len(d.p.Series):] {
		d.trail(run, limitPen)
	}
}

// trail draws a line through places.
func (d *plotting) trail(run []XY, pen Pen) *Shape {
	if len(run) < 2 {
		return nil
	}
	d.move(run[0].X, run[0].Y)
	for _, p := range run[1:] {
		d.line(p.X, p.Y)
	}
	return d.stroke(pen)
}

// curve draws one series, with its points for the crosshair.
func (d *plotting) curve(s *Series, run []XY) {
	pen := Pen{Stroke: s.Role, Width: 2, Dash: s.Dash}
	if s.Role == None {
		pen.Stroke = Ink
	}
	shape := d.trail(run, pen)
	if shape == nil {
		return
	}
	data := make([]byte, 0, 20*len(s.Points))
	for _, p := range s.Points {
		x, y := d.p.X.in(p.X), d.p.Y.in(p.Y)
		if !d.x.holds(x) || !d.y.holds(y) {
			continue
		}
		if len(data) > 0 {
			data = append(data, ' ')
		}
		data = strconv.AppendFloat(data, x, 'g', 5, 64)
		data = strconv.AppendFloat(append(data, ','), y, 'g', 4, 64)
	}
	shape.Data = []Attr{{"name", flat(s.Name)}, {"points", string(data)}}
}

// marked turns a symbol of TeX with one-letter subscripts into a marked text:
// I_D becomes I_{D}.
func marked(tex string) string {
	var b strings.Builder
	for i := 0; i < len(tex); i++ {
		b.WriteByte(tex[i])
		if tex[i] == '_' && i+1 < len(tex) && tex[i+1] != '{' {
			b.WriteString("{" + tex[i+1:i+2] + "}")
			i++
		}
	}
	return b.String()
}
