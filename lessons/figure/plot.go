package figure

import "fullyon/engine/si"

// Axis is one side of a plot. Values are in unprefixed SI units and are printed in Unit.
type Axis struct {
	Label    string // a marked text without the unit
	Unit     si.Unit
	Min, Max float64
	Log      bool
	Step     float64 // between labelled values of a linear axis; chosen to fit when zero
	Prefixed bool    // values stand with their unit and prefix: 10 µs; Unit is one without prefix
}

// XY is a point of a curve.
type XY struct{ X, Y float64 }

// Series is a curve with its name written at it.
type Series struct {
	Name   string // a marked text
	Points []XY
	Dash   Dash
	Role   Role // Ink when None

	at func(x float64) (float64, error) // reads the curve exactly; nil: straight between the points
}

// Limit is a line that is not to be passed, level at a Y. Upright limits stand at
// an X; limits with points run through them.
type Limit struct {
	Label   string // a marked text
	Value   float64
	Upright bool
	Points  []XY
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
	NameEnds      bool      // names stand in a column right of the frame, led to where the curves end
	NameFirst     bool      // names stand at the beginning of the curves, where these run apart
}

const (
	plotText = 12.0
	gridGap  = 5.0
)

var (
	gridPen  = Pen{Stroke: Rule, Width: 1.1}
	minorPen = Pen{Stroke: Rule, Width: 0.5}
	framePen = Pen{Stroke: Ink, Width: 1.2}
	limitPen = Pen{Stroke: Fails, Width: 1.4, Dash: Dashed}
)

// plotting is a plot being drawn.
type plotting struct {
	*Scene
	p      *Plot
	x, y   scale
	seen   []Box    // labels already set
	ends   []ending // of curves that are named where they end
	named  []bool   // of each series
	rising []bool   // of each run: its points are in the order of X
	runs   [][]XY   // the places of each series' points, then of each limit's
	rough  [][]XY   // the same with fewer points, to measure distances by
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
	d.named = make([]bool, len(p.Series))
	d.x = p.X.scale()
	d.y = p.Y.scale()
	left := 30.0
	yl, yAll := scaleOver(d.y, h-46, 14).ticks(func(float64) float64 { return plotText })
	for _, v := range yl {
		left = max(left, 34+p.Y.room(v))
	}
	d.y = scaleOver(d.y, h-46, 22)
	right := 14.0
	if p.NameEnds {
		right = d.endNames()
	}
	d.x = scaleOver(d.x, left, w-right)
	d.grid(yl, yAll)
	d.places()
	d.limits()
	for i := range p.Series {
		d.curve(&p.Series[i], d.runs[i])
	}
	if p.NameEnds {
		d.nameEnds()
	} else {
		for i := range p.Series {
			d.name(i)
		}
	}
	d.limitNames()
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
	if a.Unit.Symbol == "" || a.Prefixed {
		return a.Label
	}
	return a.Label + " in " + a.Unit.Symbol
}

func (a *Axis) room(v float64) float64 {
	t := Shape{Text: a.text(v), Size: plotText}
	return t.measure()
}

// text prints a value of the axis.
func (a *Axis) text(v float64) string {
	if a.Prefixed {
		return value(si.Of(si.Round(v, 4), a.Unit.Dim))
	}
	return tickText(v)
}

// grid draws the printed grid, the frame and the axes' values.
func (d *plotting) grid(yl, yAll []float64) {
	x0, x1, y0, y1 := d.x.p0, d.x.p1, d.y.p0, d.y.p1
	xl, xAll := d.x.ticks(d.p.X.room)
	if step := d.p.X.in(d.p.X.Step); step > 0 && !d.x.log {
		if own := d.x.linearTicks(step); d.x.fits(own, d.p.X.room) {
			xl, xAll = own, d.x.linearTicks(d.x.minorStep(step))
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
		d.label(Soft, plotText, min(d.x.at(v), d.Width-half), y0+16, Middle, d.p.X.text(v)).numeric = true
	}
	for _, v := range yl {
		d.label(Soft, plotText, x0-gridGap, d.y.at(v)+4, End, d.p.Y.text(v)).numeric = true
	}
	d.label(Ink, plotText, (x0+x1)/2, d.Height-10, Middle, d.p.X.title())
	t := d.label(Ink, plotText, 14, (y0+y1)/2, Middle, d.p.Y.title())
	t.Turned = true
}
