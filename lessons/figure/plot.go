package figure

import (
	"math"
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// Axis is one side of a plot. Values are in unprefixed SI units and are printed in Unit.
type Axis struct {
	Label    string // a marked text without the unit
	Unit     si.Unit
	Min, Max float64
	Log      bool
	Step     float64 // between labelled values of a linear axis; chosen to fit when zero
}

// XY is a point of a curve.
type XY struct{ X, Y float64 }

// Series is a curve with its name written at it.
type Series struct {
	Name   string // a marked text
	Points []XY
	Dash   Dash
	Role   Role // Ink when None
}

// Limit is a line that is not to be passed. Upright limits stand at an X.
type Limit struct {
	Label   string // a marked text
	Value   float64
	Upright bool
}

// Plot is a diagram with a printed grid.
type Plot struct {
	Title         string // marked
	Desc          string
	X, Y          Axis
	Series        []Series
	Limits        []Limit
	Width, Height float64   // 420 by 300 when zero
	At            []float64 // the X for which the table gives values; the points of the first series when nil
}

const (
	plotText = 12.0
	gridGap  = 5.0
)

var (
	gridPen  = Pen{Stroke: Rule, Width: 1}
	minorPen = Pen{Stroke: Rule, Width: 0.5}
	framePen = Pen{Stroke: Ink, Width: 1.2}
	limitPen = Pen{Stroke: Fails, Width: 1.4, Dash: Dashed}
)

// plotting is a plot being drawn.
type plotting struct {
	*Scene
	p    *Plot
	x, y scale
	seen []Box // labels already set
}

// Draw draws the plot. The scene carries data-* attributes from which a script can
// place a crosshair: the frame (data-x0, data-x1, data-y0, data-y1), for each
// axis its ends, kind and unit, and on each curve its name and points as printed.
func (p *Plot) Draw() Figure {
	w, h := p.Width, p.Height
	if w == 0 || h == 0 {
		w, h = 420, 300
	}
	d := plotting{Scene: newScene("plot", 48), p: p}
	d.Width, d.Height = w, h
	d.x = p.X.scale()
	d.y = p.Y.scale()
	left := 30.0
	yl, yAll := scaleOver(d.y, h-46, 14).ticks(func(float64) float64 { return plotText })
	for _, v := range yl {
		left = max(left, 34+p.Y.room(v))
	}
	d.x = scaleOver(d.x, left, w-14)
	d.y = scaleOver(d.y, h-46, 22)
	d.grid(yl, yAll)
	d.limits()
	for i := range p.Series {
		d.curve(&p.Series[i])
	}
	for i := range p.Series {
		d.name(&p.Series[i])
	}
	d.crosshair()
	f := Figure{Title: flat(p.Title), Desc: p.Desc, Scene: d.Scene, Table: p.Table()}
	f.Facts = p.facts(f.Table)
	return f
}

func (a *Axis) scale() scale {
	return scale{min: a.in(a.Min), max: a.in(a.Max), log: a.Log}
}

func scaleOver(s scale, p0, p1 float64) scale {
	s.p0, s.p1 = p0, p1
	return s
}

// in takes a value over into the unit of the axis.
func (a *Axis) in(v float64) float64 { return si.Of(v, a.Unit.Dim).In(a.Unit) }

// title is the label with the unit.
func (a *Axis) title() string {
	if a.Unit.Symbol == "" {
		return a.Label
	}
	return a.Label + " in " + a.Unit.Symbol
}

func (a *Axis) room(v float64) float64 {
	t := Shape{Text: tickText(v), Size: plotText}
	return t.measure()
}

// grid draws the printed grid, the frame and the axes' values.
func (d *plotting) grid(yl, yAll []float64) {
	x0, x1, y0, y1 := d.x.p0, d.x.p1, d.y.p0, d.y.p1
	xl, xAll := d.x.ticks(d.p.X.room)
	if step := d.p.X.in(d.p.X.Step); step > 0 && !d.x.log {
		if own := d.x.linearTicks(step); d.x.fits(own, d.p.X.room) {
			xl, xAll = own, own
		}
	}
	for _, v := range xAll {
		d.poly(minorPen, d.x.at(v), y0, d.x.at(v), y1)
	}
	for _, v := range yAll {
		d.poly(minorPen, x0, d.y.at(v), x1, d.y.at(v))
	}
	for _, v := range xl {
		d.poly(gridPen, d.x.at(v), y0, d.x.at(v), y1)
	}
	for _, v := range yl {
		d.poly(gridPen, x0, d.y.at(v), x1, d.y.at(v))
	}
	d.poly(framePen, x0, y1, x0, y0, x1, y0)
	for _, v := range xl {
		half := d.p.X.room(v)/2 + 2
		d.label(Soft, plotText, min(d.x.at(v), d.Width-half), y0+16, Middle, tickText(v)).numeric = true
	}
	for _, v := range yl {
		d.label(Soft, plotText, x0-gridGap, d.y.at(v)+4, End, tickText(v)).numeric = true
	}
	d.label(Ink, plotText, (x0+x1)/2, d.Height-10, Middle, d.p.X.title())
	t := d.label(Ink, plotText, 14, (y0+y1)/2, Middle, d.p.Y.title())
	t.Turned = true
}

// limits draws the lines not to be passed.
func (d *plotting) limits() {
	for _, l := range d.p.Limits {
		if l.Upright {
			v := d.p.X.in(l.Value)
			if !d.x.holds(v) {
				continue
			}
			x := d.x.at(v)
			d.poly(limitPen, x, d.y.p0, x, d.y.p1)
			d.tag(Fails, l.Label, [][3]float64{{x - 5, d.y.p1 + 14, 2}, {x + 5, d.y.p1 + 14, 0}, {x - 5, d.y.p0 - 8, 2}, {x - 5, d.y.p1 + 30, 2}})
			continue
		}
		v := d.p.Y.in(l.Value)
		if !d.y.holds(v) {
			continue
		}
		y := d.y.at(v)
		d.poly(limitPen, d.x.p0, y, d.x.p1, y)
		d.tag(Fails, l.Label, [][3]float64{{d.x.p0 + 6, y - 5, 0}, {d.x.p1 - 4, y - 5, 2}, {d.x.p0 + 6, y + 14, 0}})
	}
}

// curve draws one series, with its points for the crosshair.
func (d *plotting) curve(s *Series) {
	pen := Pen{Stroke: s.Role, Width: 2, Dash: s.Dash}
	if s.Role == None {
		pen.Stroke = Ink
	}
	var data strings.Builder
	drawn := 0
	for _, p := range s.Points {
		x, y := d.p.X.in(p.X), d.p.Y.in(p.Y)
		if !d.x.holds(x) || !d.y.holds(y) {
			continue
		}
		if drawn == 0 {
			d.move(d.x.at(x), d.y.at(y))
		} else {
			d.line(d.x.at(x), d.y.at(y))
			data.WriteByte(' ')
		}
		data.WriteString(strconv.FormatFloat(si.Round(x, 5), 'g', -1, 64) + "," + strconv.FormatFloat(si.Round(y, 4), 'g', -1, 64))
		drawn++
	}
	if drawn == 0 {
		return
	}
	shape := d.Scene.stroke(pen)
	shape.Data = []Attr{{"name", flat(s.Name)}, {"points", data.String()}}
}

// name writes a series' name at its curve, at the first place from its end where it is clear.
func (d *plotting) name(s *Series) {
	var spots [][3]float64
	for i := len(s.Points) - 1; i >= 0; i-- {
		x, y := d.p.X.in(s.Points[i].X), d.p.Y.in(s.Points[i].Y)
		if d.x.holds(x) && d.y.holds(y) {
			px, py := d.x.at(x), d.y.at(y)
			spots = append(spots, [3]float64{px - 8, py - 7, 2}, [3]float64{px - 4, py + 17, 2}, [3]float64{px + 6, py + 17, 0})
		}
	}
	role := s.Role
	if role == None {
		role = Ink
	}
	d.tag(role, s.Name, spots)
}

// tag sets a label at the first of some spots (x, y, anchor) where it lies inside the
// frame, clear of the curves and of other labels. Failing that it is left to the table.
func (d *plotting) tag(role Role, text string, spots [][3]float64) {
	if text == "" {
		return
	}
next:
	for _, s := range spots {
		t := Shape{Kind: Text, Pen: Pen{Fill: role}, X: s[0], Y: s[1], Anchor: Anchor(s[2]), Text: text, Size: plotText}
		b := t.box()
		if b.X0 < d.x.p0+2 || b.X1 > d.x.p1 || b.Y0 < d.y.p1 || b.Y1 > d.y.p0 {
			continue
		}
		for _, o := range d.seen {
			if o.hits(b) {
				continue next
			}
		}
		if d.crossed(b) {
			continue
		}
		d.seen = append(d.seen, b)
		d.Shapes = append(d.Shapes, t)
		return
	}
}

// crossed tells whether a curve or a limit runs through a box.
func (d *plotting) crossed(b Box) bool {
	for i := range d.p.Series {
		pts := d.p.Series[i].Points
		for j := 1; j < len(pts); j++ {
			p, q := pts[j-1], pts[j]
			if b.crossedBy(d.x.at(d.p.X.in(p.X)), d.y.at(d.p.Y.in(p.Y)), d.x.at(d.p.X.in(q.X)), d.y.at(d.p.Y.in(q.Y))) {
				return true
			}
		}
	}
	for _, l := range d.p.Limits {
		if l.Upright {
			x := d.x.at(d.p.X.in(l.Value))
			if b.crossedBy(x, d.y.p0, x, d.y.p1) {
				return true
			}
		} else if y := d.y.at(d.p.Y.in(l.Value)); b.crossedBy(d.x.p0, y, d.x.p1, y) {
			return true
		}
	}
	return false
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
