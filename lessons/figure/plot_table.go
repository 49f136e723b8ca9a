package figure

import (
	"math"
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// crosshair gives a script what it needs to read the plot off.
func (d *plotting) crosshair() {
	num := func(v float64) string { return strconv.FormatFloat(si.Round(v, 6), 'g', -1, 64) }
	kind := func(a *Axis) string {
		if a.Log {
			return "log"
		}
		return "linear"
	}
	d.Data = []Attr{
		{"x0", num(d.x.p0)}, {"x1", num(d.x.p1)}, {"y0", num(d.y.p0)}, {"y1", num(d.y.p1)},
		{"x-min", num(d.x.min)}, {"x-max", num(d.x.max)}, {"x-scale", kind(&d.p.X)}, {"x-unit", d.p.X.Unit.Symbol},
		{"y-min", num(d.y.min)}, {"y-max", num(d.y.max)}, {"y-scale", kind(&d.p.Y)}, {"y-unit", d.p.Y.Unit.Symbol},
	}
}

// Table gives the curves as a table, for those who cannot see them and for print.
// Between two points a value is read off a straight line on the plot's own scales.
func (p *Plot) Table() *Points {
	t := &Points{Caption: p.Title, Columns: []string{p.X.title()}}
	for _, s := range p.Series {
		head := p.Y.title()
		if s.Name != "" {
			head = s.Name + ", " + head
		}
		t.Columns = append(t.Columns, head)
	}
	at := p.At
	if at == nil && len(p.Series) > 0 {
		for _, pt := range p.Series[0].Points {
			at = append(at, pt.X)
		}
	}
	for _, x := range at {
		row := []string{p.X.cell(x)}
		for i := range p.Series {
			cell := "–"
			if y, ok := p.read(&p.Series[i], x); ok {
				cell = threeFigures(si.Of(y, p.Y.Unit.Dim), p.Y.Unit)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// cell prints an X at the head of a row.
func (a *Axis) cell(x float64) string {
	if a.Prefixed {
		return value(si.Of(si.Round(x, 4), a.Unit.Dim))
	}
	return tidy(si.Round(a.in(x), 4))
}

// threeFigures prints what can be read off a curve, without its unit.
func threeFigures(q si.Quantity, u si.Unit) string {
	number, _, _ := strings.Cut(q.FiguresIn(u, 3), " ")
	return number
}

// read reads a curve off at x.
func (p *Plot) read(s *Series, x float64) (float64, bool) {
	if s.at != nil {
		y, err := s.at(x)
		return y, err == nil
	}
	xs := scaleOver(p.X.scale(), 0, 1)
	ys := scaleOver(p.Y.scale(), 0, 1)
	for i := 1; i < len(s.Points); i++ {
		a, b := s.Points[i-1], s.Points[i]
		if x < a.X || x > b.X || a.X == b.X {
			continue
		}
		xa, xb := xs.at(p.X.in(a.X)), xs.at(p.X.in(b.X))
		f := (xs.at(p.X.in(x)) - xa) / (xb - xa)
		if !ys.log {
			return a.Y + f*(b.Y-a.Y), true
		}
		return a.Y * math.Pow(b.Y/a.Y, f), true
	}
	return 0, false
}

// facts says the axes, the limits and the points.
func (p *Plot) facts(t *Points) []string {
	out := []string{"Across: " + flat(p.X.title()) + ". Upwards: " + flat(p.Y.title()) + "."}
	for _, l := range p.Limits {
		a := &p.Y
		if l.Upright {
			a = &p.X
		}
		if l.Points != nil {
			from, to := l.Points[0], l.Points[len(l.Points)-1]
			if from.X == to.X {
				out = append(out, "Limit, "+flat(l.Label)+": "+value(si.Of(from.X, p.X.Unit.Dim)))
				continue
			}
			out = append(out, "Limit, "+flat(l.Label)+": from "+p.spell(from)+" to "+p.spell(to))
			continue
		}
		out = append(out, "Limit, "+flat(l.Label)+": "+value(si.Of(l.Value, a.Unit.Dim)))
	}
	for i := range p.Series {
		line := flat(p.Series[i].Name) + ":"
		for j, r := range t.Rows {
			if j > 0 {
				line += ";"
			}
			line += " " + r[i+1] + " at " + r[0]
		}
		out = append(out, line)
	}
	return out
}

// spell says where a point lies.
func (p *Plot) spell(at XY) string {
	x, y := si.Of(at.X, p.X.Unit.Dim), si.Of(at.Y, p.Y.Unit.Dim)
	return bound(y.Figures(3)) + " at " + bound(x.Figures(3))
}
