package figure

import "fullyon/engine/part"

// Circuit symbols in the manner of IEC 60617, drawn upright. (x, y) is the middle
// of a symbol unless said otherwise.

// The pens of a schematic: wires, outlines filled with the page, solid marks, fine lines.
var (
	wire    = Pen{Stroke: Ink, Width: 1.6}
	outline = Pen{Stroke: Ink, Fill: Paper, Width: 1.6}
	mark    = Pen{Stroke: Ink, Fill: Ink, Width: 1}
	fine    = Pen{Stroke: Ink, Width: 1.2}
	fineOut = Pen{Stroke: Ink, Fill: Paper, Width: 1.2}
	heavyUp = Pen{Stroke: Ink, Width: 2.2}
	frame   = Pen{Stroke: Soft, Width: 1.1, Dash: Dashed}
	casing  = Pen{Stroke: Soft, Fill: Wash, Width: 1.2}
)

const (
	dotRadius      = 2.6
	terminalRadius = 3.8
)

// dot joins wires; a crossing without one does not connect.
func (s *Scene) dot(x, y float64) { s.circle(mark, x, y, dotRadius-0.5) }

func (s *Scene) terminal(x, y float64) { s.circle(outline, x, y, terminalRadius) }

// resistor is the rectangle of IEC, upright, with its leads from y0 to y1.
func (s *Scene) resistor(x, y0, y1, w, h float64) {
	m := (y0 + y1) / 2
	s.poly(wire, x, y0, x, m-h/2)
	s.poly(wire, x, m+h/2, x, y1)
	s.rect(outline, x-w/2, m-h/2, w, h)
}

// levelResistor lies in a level wire from x0 to x1; w is its length.
func (s *Scene) levelResistor(x0, x1, y, w float64) {
	const h = 15.0
	m := (x0 + x1) / 2
	s.poly(wire, x0, y, m-w/2, y)
	s.poly(wire, m+w/2, y, x1, y)
	s.rect(outline, m-w/2, y-h/2, w, h)
}

// fuse is a rectangle with the wire drawn through it.
func (s *Scene) fuse(x, y0, y1 float64) {
	m := (y0 + y1) / 2
	s.rect(outline, x-6, m-14, 12, 28)
	s.poly(wire, x, y0, x, y1)
}

// diode points up or down; the bar is its cathode. A zener diode has its bar bent.
func (s *Scene) diode(p Pen, x, y, r float64, up, zener bool) {
	d := r
	if up {
		d = -r
	}
	s.shape(p, x-r, y-d, x+r, y-d, x, y+d)
	bar := Pen{Stroke: Ink, Width: p.Width + 0.2}
	if zener {
		s.poly(bar, x-r-3, y+d+3.5*d/r, x-r, y+d, x+r, y+d, x+r+3, y+d-3.5*d/r)
	} else {
		s.poly(bar, x-r, y+d, x+r, y+d)
	}
}

// ground is the 0 V symbol hanging below (x, y).
func (s *Scene) ground(x, y float64) {
	s.poly(wire, x, y, x, y+10)
	s.poly(wire, x-13, y+10, x+13, y+10)
	s.poly(wire, x-8, y+15, x+8, y+15)
	s.poly(wire, x-3, y+20, x+3, y+20)
}

// The measures of a transistor: the gate's plate stands gateToDrain left of the
// line through drain and source, whose ends lie lead above and below the middle.
const (
	gateToDrain = 32.0
	half        = 18.0 // from the middle to the drain's and the source's part of the channel
	bodyAside   = 22.0 // the body diode right of the drain's line
)

// mosfet draws an enhancement type: the channel is broken, since none is there
// until the gate makes it. (x, y) is the middle of the line through drain and
// source. The source is below for an N channel, above for a P channel, and the
// gate's lead stands level with it. The arrow goes from P to N silicon: to the
// channel when that is N. Either way the body diode lets pass from low to high.
func (s *Scene) mosfet(x, y float64, channel part.Channel, bodyDiode bool) {
	g := x - gateToDrain
	ch := g + 7
	source := y + half
	if channel == part.P {
		source = y - half
	}
	s.poly(wire, ch, y-half, x, y-half)
	s.poly(wire, ch, y+half, x, y+half)
	s.poly(wire, ch, y, x, y, x, source)
	if bodyDiode {
		s.poly(fine, x, y-half, x+bodyAside, y-half, x+bodyAside, y+half, x, y+half)
		s.diode(fineOut, x+bodyAside, y, 5.5, true, false)
	}
	s.poly(heavyUp, g, y-half-4, g, y+half+4)
	for _, m := range [3]float64{-half, 0, half} {
		s.poly(heavyUp, ch, y+m-6.5, ch, y+m+6.5)
	}
	if channel == part.P {
		s.shape(mark, ch+16, y, ch+7, y-4.5, ch+7, y+4.5)
	} else {
		s.shape(mark, ch+3, y, ch+12, y-4.5, ch+12, y+4.5)
	}
}

// npn draws a bipolar transistor; x is the line through collector and emitter,
// whose ends lie 20 above and below.
func (s *Scene) npn(x, y float64) {
	b := x - 17
	s.poly(heavyUp, b, y-13, b, y+13)
	s.poly(wire, b, y-5, x, y-16, x, y-20)
	s.poly(wire, b, y+5, x, y+16, x, y+20)
	s.shape(mark, x-1.5, y+15, x-7.5, y+7, x-11, y+14) // the arrow of the emitter points outwards
}

// coil is a winding of four turns, upright, with leads from y0 to y1.
func (s *Scene) coil(x, y0, y1 float64) {
	const r = 7.0
	const k = 0.5523 * r // a quarter of a circle as a Bézier curve
	m := (y0 + y1) / 2
	y := m - 4*r
	s.move(x, y0)
	s.line(x, y)
	for range 4 {
		s.curve(x+k+2, y, x+r+4, y+r-k, x+r+4, y+r)
		s.curve(x+r+4, y+r+k, x+k+2, y+2*r, x, y+2*r)
		y += 2 * r
	}
	s.line(x, y1)
	s.stroke(wire)
}

// lamp is a circle with a cross.
func (s *Scene) lamp(x, y0, y1 float64) {
	const r, d = 16.0, 11.3
	m := (y0 + y1) / 2
	s.poly(wire, x, y0, x, m-r)
	s.poly(wire, x, m+r, x, y1)
	s.circle(outline, x, m, r)
	s.poly(wire, x-d, m-d, x+d, m+d)
	s.poly(wire, x-d, m+d, x+d, m-d)
}

// motor is a circle with M above the sign of direct current.
func (s *Scene) motor(x, y0, y1 float64) {
	const r = 18.0
	m := (y0 + y1) / 2
	s.poly(wire, x, y0, x, m-r)
	s.poly(wire, x, m+r, x, y1)
	s.circle(outline, x, m, r)
	s.label(Ink, 15, x, m+2.5, Middle, "M")
	s.poly(fine, x-7, m+8, x+7, m+8)
	s.poly(Pen{Stroke: Ink, Width: 1.2, Dash: Dashed}, x-7, m+11.5, x+7, m+11.5)
}

// tape is one section of an LED tape in its outline: a resistor and a diode that shines.
func (s *Scene) tape(x, y0, y1 float64) {
	m := (y0 + y1) / 2
	s.rect(frame, x-20, m-36, 40, 72)
	s.poly(wire, x, y0, x, m-28)
	s.poly(wire, x, m-4, x, y1)
	s.rect(outline, x-5, m-28, 10, 24)
	s.diode(outline, x, m+14, 8, false, false)
	s.poly(fine, x, m+6, x, m+22)
	for _, dy := range [2]float64{0, 8} {
		s.poly(fine, x+8.5, m+11+dy, x+16, m+5+dy)
		s.shape(mark, x+17, m+4.2+dy, x+12.6, m+4.9+dy, x+15.2, m+8.2+dy)
	}
}

// store is a load with a capacitor across it, in its outline; ESR adds the
// resistance in series with the capacitor.
func (s *Scene) store(x, y0, y1 float64, esr bool) {
	m := (y0 + y1) / 2
	a, b := x-13, x+13
	s.rect(frame, x-24, m-36, 48, 72)
	s.poly(wire, x, y0, x, m-30)
	s.poly(wire, x, m+30, x, y1)
	top := m - 4.0
	if esr {
		s.rect(outline, a-4.5, m-25, 9, 20)
		s.poly(wire, a, m-25, a, m-30, b, m-30, b, m-16)
		s.poly(wire, a, m-5, a, m+8)
		top = m + 8
	} else {
		s.poly(wire, a, top, a, m-30, b, m-30, b, m-16)
	}
	s.poly(wire, b, m+16, b, m+30, a, m+30, a, top+6)
	s.poly(heavyUp, a-8, top, a+8, top)
	s.poly(heavyUp, a-8, top+6, a+8, top+6)
	s.rect(outline, b-5.5, m-16, 11, 32)
	s.dot(x, m-30)
	s.dot(x, m+30)
}
