package figure

import (
	"math"
	"strings"
)

var (
	axisPen   = Pen{Stroke: Ink, Width: 1.4}
	tickPen   = Pen{Stroke: Soft, Width: 1}
	leaderPen = Pen{Stroke: Soft, Width: 1}
	bandPen   = Pen{Stroke: Holds, Fill: Hatch, Width: 1.3}
	hatchOnly = Pen{Fill: Hatch}
	bandEdge  = Pen{Stroke: Holds, Width: 1.3}
	keyPen    = Pen{Stroke: Holds, Width: 2.5}
	slipPen   = Pen{Stroke: Ink, Fill: Paper, Width: 1.3}
	yoursPen  = Pen{Stroke: Accent, Fill: Accent, Width: 1}
)

// The heights around the axis.
const (
	clearance = 22.0 // free of labels above the axis
	bandUp    = 16.0
	bandDown  = 7.0
	slipR     = 5.0
)

// draw draws all and gives the height of the figure.
func (d *answerLine) draw() float64 {
	tags := d.tags()
	top, ok := d.arrange(tags)
	var list []string
	if !ok {
		top, list = d.numbered(tags)
	}
	d.y = top + clearance + 6
	d.band()
	d.ticks()
	d.marked(tags, ok)
	bottom := d.y + 26
	if said := d.accepted(); said != "" {
		bottom = d.below(said, bottom)
	}
	for _, l := range list {
		for i, part := range wrap(l, lineText, d.a.Width-2*margin-20) {
			bottom += lineRow
			x := margin
			if i > 0 {
				x += 20
			}
			d.plain(Ink, lineText, x, bottom, Start, part)
		}
	}
	return bottom + 6
}

// band draws the accepted band, outlined and hatched, with the key in it.
func (d *answerLine) band() {
	x0, x1, ok := d.bandEnds()
	y0, y1 := d.y-bandUp, d.y+bandDown
	switch {
	case !ok:
	case !math.IsNaN(d.low) && !math.IsNaN(d.high):
		d.rect(bandPen, x0, y0, x1-x0, y1-y0)
	default: // an open end has no edge
		d.rect(hatchOnly, x0, y0, x1-x0, y1-y0)
		if math.IsNaN(d.high) {
			d.poly(bandEdge, x1, y0, x0, y0, x0, y1, x1, y1)
		} else {
			d.poly(bandEdge, x0, y0, x1, y0, x1, y1, x0, y1)
		}
	}
	if !math.IsNaN(d.key) && d.off(d.key) == 0 {
		x := d.axis.at(d.key)
		d.poly(keyPen, x, y0-4, x, y1+2)
	}
}

// ticks draws the axis with its values; the unit stands with the outer two.
func (d *answerLine) ticks() {
	d.poly(axisPen, d.axis.p0-10, d.y, d.axis.p1+10, d.y)
	unit := ""
	if d.a.Asked.Symbol != "" {
		unit = nbsp + d.a.Asked.Symbol
	}
	room := func(v float64) float64 {
		t := Shape{Text: tickText(v) + unit, Size: 12}
		return t.measure()
	}
	labelled, all := d.axis.ticks(room)
	for _, v := range all {
		x := d.axis.at(v)
		d.poly(tickPen, x, d.y+1, x, d.y+5)
	}
	for _, v := range labelled {
		x := d.axis.at(v)
		d.poly(tickPen, x, d.y-4, x, d.y+7)
	}
	for i, v := range labelled {
		text := tickText(v)
		if i == 0 || i == len(labelled)-1 {
			text += unit
		}
		half := room(v) / 2
		x := min(max(d.axis.at(v), half+margin), d.a.Width-half-margin)
		d.label(Soft, 12, x, d.y+22, Middle, text).numeric = true
	}
}

// marked draws the marks and their labels.
func (d *answerLine) marked(tags []tag, leaders bool) {
	for i := range tags {
		t := &tags[i]
		up := clearance
		foot := slipR
		if t.yours {
			foot = 9
		}
		switch {
		case !leaders:
		case t.x < t.box.X0 || t.x > t.box.X1: // beside its mark, at the lowest level
			edge := min(max(t.x, t.box.X0), t.box.X1)
			d.poly(leaderPen, t.x, d.y-foot-1, t.x, d.y-up-4, edge, d.y-up-4)
		case t.box.Y0 > 0 || !t.yours:
			d.poly(leaderPen, t.x, d.y-foot-1, t.x, d.y-up-t.box.Y0+1)
		}
	}
	for _, m := range d.marks {
		x := d.place(m.Value)
		if side := d.off(m.Value); side != 0 {
			d.arrow(slipPen, x, float64(side))
			continue
		}
		r := slipR
		if m.Yours && math.Abs(x-d.place(d.yours)) < 6 {
			r = 11 // a ring around the learner's own
		}
		d.circle(slipPen, x, d.y, r)
	}
	if !math.IsNaN(d.yours) {
		x := d.place(d.yours)
		if side := d.off(d.yours); side != 0 {
			d.arrow(yoursPen, x, float64(side))
		} else {
			d.shape(yoursPen, x, d.y-10, x+7, d.y, x, d.y+10, x-7, d.y)
		}
	}
	for i := range tags {
		t := &tags[i]
		for j, l := range t.lines {
			up := t.box.Y1 - lineRow*float64(j+1)
			x, a := (t.box.X0+t.box.X1)/2, Middle
			if t.x <= t.box.X0+8 {
				x, a = t.box.X0, Start
			} else if t.x >= t.box.X1-8 {
				x, a = t.box.X1, End
			}
			role := Ink
			if t.own(j) {
				role = Accent
			}
			d.plain(role, lineText, x, d.y-clearance-up-4, a, l).Bold = t.own(j)
		}
	}
}

// arrow points off the axis.
func (d *answerLine) arrow(p Pen, x, side float64) {
	d.shape(p, x+side*8, d.y, x-side*5, d.y-7, x-side*5, d.y+7)
}

// below writes the accepted band beneath the axis, under the band where it fits.
func (d *answerLine) below(said string, y float64) float64 {
	x := d.a.Width / 2
	if x0, x1, ok := d.bandEnds(); ok {
		x = (x0 + x1) / 2
	} else if !math.IsNaN(d.key) {
		x = d.axis.at(d.key)
	}
	for _, l := range wrap(said, lineText, d.a.Width-2*margin) {
		y += lineRow
		half := width(l, false)*lineText/2 + margin
		d.plain(Holds, lineText, min(max(x, half), d.a.Width-half), y, Middle, l)
	}
	return y
}

// accepted says the band in words.
func (d *answerLine) accepted() string {
	low, high := !math.IsNaN(d.low), !math.IsNaN(d.high)
	switch {
	case low && high && d.low == d.high:
		return "accepted " + d.text(d.low)
	case low && high:
		a, b := d.text(d.low), d.text(d.high)
		for n := d.a.Figures + 1; a == b && n < 8; n++ { // a narrow band needs more figures
			a, b = d.figures(d.low, n), d.figures(d.high, n)
		}
		if unit := nbsp + d.a.Asked.Symbol; d.a.Asked.Symbol != "" && d.low >= 0 && strings.HasSuffix(a, unit) {
			return "accepted " + strings.TrimSuffix(a, unit) + "–" + b
		}
		return "accepted " + a + " to " + b
	case low:
		return "accepted from " + d.text(d.low) + " up"
	case high:
		return "accepted up to " + d.text(d.high)
	case !math.IsNaN(d.key):
		return "answer " + d.text(d.key)
	}
	return ""
}
