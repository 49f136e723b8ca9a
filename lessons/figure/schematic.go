package figure

import (
	"unicode/utf8"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// Shifter is what pulls the gate of a high-side part down in a level shift.
type Shifter uint8

// The shifters: a bipolar transistor behind its base resistor, or a small
// N-channel part with a resistor from gate to source.
const (
	NPN Shifter = iota
	SmallN
)

// Options says how a schematic is drawn. The zero Options draws all that is known.
type Options struct {
	Title   string // in place of the title made from the circuit
	Load    string // what the load is called, such as "footlights"; else it is named by its kind
	Shifter Shifter
	Bare    bool // symbols and names without values, for a lesson about symbols
}

// The columns and sizes of a schematic.
const (
	boardX0     = 4.0
	boardX1     = 38.0 // the board's terminals
	nodeX       = 116.0
	drainX      = 192.0
	gateX       = drainX - gateToDrain
	wheelX      = drainX - 44 // the freewheel branch
	rightWheelX = drainX + 44
	aside       = drainX + 28 // labels right of the main line
	fullSize    = 14.0
	softSize    = 13.0
	pitch       = 16.0
	least       = 330.0 // the width of a usual drawing
	margin      = 4.0
)

// drawing is a schematic being made.
type drawing struct {
	*Scene
	c    *engine.Circuit
	o    Options
	high bool // the switch stands between the supply and the load
	rail float64
}

// Schematic draws a circuit: supply and fuse, load with what catches its kick, transistor,
// gate resistors and pin, and the 0 V that supply and board share. A value that the
// circuit does not give is not drawn. Title, Desc and Facts say the same in words.
func Schematic(c *engine.Circuit, o Options) Figure {
	d := drawing{newScene("schematic", 72), c, o, c.Placement == engine.HighSide, 0}
	top := d.supply()
	switch {
	case d.high && c.Drive.Stage == engine.LevelShift:
		d.highSide(top, true)
	case d.high:
		d.highSide(top, false)
	default:
		d.lowSide(top)
	}
	d.notes()
	d.fit()
	w := words{c: c, o: o}
	return Figure{Title: w.title(), Desc: w.desc(), Facts: w.facts(), Scene: d.Scene}
}

// supply draws the plus terminal and the fuse; it gives the y of the node behind them.
func (d *drawing) supply() float64 {
	p := &d.c.Supply
	const y = 18.0
	node := 64.0
	if p.Fuse.Known() {
		node = 82
		d.fuse(drainX, y+terminalRadius, node)
		d.stack(Ink, drainX+16, 55, Start, "fuse", d.val(p.Fuse))
	} else {
		d.poly(wire, drainX, y+terminalRadius, drainX, node)
	}
	d.terminal(drainX, y)
	plus := "+"
	if v := d.val(p.Voltage); v != "" {
		plus = "+" + v
		if p.Kind == engine.AC {
			plus = v + nbsp + "~"
		}
	}
	d.label(Ink, fullSize, drainX+14, y+5, Start, plus).Bold = true
	about := make([]string, 0, 3)
	if k := supplyKind[p.Kind]; k != "" {
		about = append(about, k)
	}
	if !d.o.Bare {
		switch {
		case p.Minimum.Known() && p.Maximum.Known() && p.Minimum != p.Maximum:
			about = append(about, short(p.Minimum)+" to "+short(p.Maximum))
		case p.Maximum.Known() && p.Maximum != p.Voltage:
			about = append(about, "at most "+short(p.Maximum))
		case p.Minimum.Known() && p.Minimum != p.Voltage:
			about = append(about, "at least "+short(p.Minimum))
		}
		if p.CurrentLimit.Known() {
			about = append(about, "limited to "+shortCurrent(p.CurrentLimit))
		}
	}
	for i, t := range about {
		d.label(Soft, softSize, drainX-16, y+4+pitch*float64(i), End, t)
	}
	return node
}

// lowSide puts the load on top of an N-channel part whose source is at 0 V.
func (d *drawing) lowSide(top float64) {
	n2 := top + 88
	y := n2 + 44
	gate := y + half
	d.rail = gate + 62
	d.load(top, n2)
	d.freewheel(top, n2)
	d.poly(wire, drainX, n2, drainX, y-half)
	d.poly(wire, drainX, y+half, drainX, d.rail)
	d.transistor(y, part.N)
	d.pin(gate, true)
	if r := d.c.Drive.PullDown; r.Known() {
		d.dot(nodeX, gate)
		d.resistor(nodeX, gate, d.rail, 15, 34)
		d.dot(nodeX, d.rail)
		d.label(Ink, fullSize, nodeX-14, gate+36, End, d.val(r))
	}
	d.zero()
	d.dot(drainX, d.rail)
}

// highSide puts a P-channel part on top of the load.
func (d *drawing) highSide(top float64, shift bool) {
	gate := top + 58
	y := gate + half
	n1 := y + 44
	pin := gate
	switch {
	case shift && d.o.Shifter == SmallN:
		pin = gate + 136
	case shift:
		pin = gate + 114
	}
	d.rail = max(n1+88, pin+64)
	d.poly(wire, drainX, top, drainX, y-half)
	d.poly(wire, drainX, y+half, drainX, n1)
	d.transistor(y, part.P)
	if r := d.c.Drive.PullDown; r.Known() {
		d.dot(drainX, top)
		d.poly(wire, drainX, top, nodeX, top)
		d.resistor(nodeX, top, gate, 15, 34)
		d.label(Ink, fullSize, nodeX+13, top+34, Start, d.val3(r))
		d.dot(nodeX, gate)
	}
	d.load(n1, d.rail)
	d.freewheel(n1, d.rail)
	if shift {
		d.shifter(gate, pin)
	} else {
		d.pin(gate, true)
	}
	d.zero()
	d.dot(drainX, d.rail)
}

// transistor draws the switch with the letters of its pins and its name.
func (d *drawing) transistor(y float64, want part.Channel) {
	ch := d.c.Part.Channel
	if ch == "" {
		ch = want
	}
	d.mosfet(drainX, y, ch, true)
	up, down := "D", "S"
	gate := y + half
	if ch == part.P {
		up, down, gate = "S", "D", y-half
	}
	if g := d.gateAt(y); g != gate { // a part that does not suit its place is drawn as it is
		d.poly(wire, nodeX, g, nodeX+18, g, nodeX+18, gate, gateX, gate)
	} else {
		d.poly(wire, nodeX, g, gateX, g)
	}
	d.label(Soft, 12, drainX-7, y-27, End, up)
	d.label(Soft, 12, drainX-7, y+36, End, down)
	d.label(Soft, 12, gateX-6, y+3, End, "G")
	text := atMost(3, lines(clip(d.c.Part.Name), fullSize, 100, true))
	base := y + 5 - pitch/2*float64(len(text)-1)
	if p := d.c.Part.Package; p != "" && len(text) > 0 {
		base -= pitch / 2
	}
	for _, t := range text {
		d.plain(Ink, fullSize, drainX+bodyAside+12, base, Start, t).Bold = true
		base += pitch
	}
	for _, t := range atMost(1, lines(clip(d.c.Part.Package), softSize, 100, false)) {
		d.plain(Soft, softSize, drainX+bodyAside+12, base, Start, t)
		base += pitch
	}
}

// gateAt is the height of the gate's wire: level with the source that the placement wants.
func (d *drawing) gateAt(y float64) float64 {
	if d.high {
		return y - half
	}
	return y + half
}

// load draws the load between two nodes of the main line, with its name and values.
func (d *drawing) load(y0, y1 float64) {
	l := &d.c.Load
	switch l.Kind {
	case engine.LEDStrip:
		d.tape(drainX, y0, y1)
	case engine.Lamp:
		d.lamp(drainX, y0, y1)
	case engine.Motor:
		d.motor(drainX, y0, y1)
	case engine.Coil:
		d.coil(drainX, y0, y1)
	case engine.Capacitive:
		d.store(drainX, y0, y1, l.SeriesResistance.Known())
	default:
		d.resistor(drainX, y0, y1, 20, 50)
	}
	text, named := d.loadText()
	x, y := aside, (y0+y1)/2
	n := len(text)
	switch {
	case d.besides(): // the freewheel branch stands on this side, and its text below this one
		x = rightWheelX + 14
		n += len(d.wheelText())
	case l.Kind == engine.Capacitive:
		x += 4
	}
	y = d.stackTop(y, n)
	for i, t := range text {
		d.plain(Ink, fullSize, x, y, Start, t).numeric = i >= named
		y += pitch
	}
}

// loadText is what stands beside the load, and how many lines of it are its name.
func (d *drawing) loadText() ([]string, int) {
	name := d.o.Load
	if name == "" {
		name = loadKind[d.c.Load.Kind]
	}
	text := atMost(2, lines(clip(name), fullSize, 104, false))
	named := len(text)
	if !d.o.Bare {
		text = append(text, loadValues(&d.c.Load)...)
	}
	return text, named
}

// stackTop is the baseline of the first of n lines around y; on the high side they stay
// clear of the name of the rail.
func (d *drawing) stackTop(y float64, n int) float64 {
	y += 5 - pitch/2*float64(n-1)
	if d.high {
		y -= max(0, y+pitch*float64(n-1)-(d.rail-16))
	}
	return y
}

// besides tells whether the freewheel branch stands right of the load, to make way for a level shift.
func (d *drawing) besides() bool {
	return d.high && d.c.Drive.Stage == engine.LevelShift && d.wheel()
}

// loadValues are the values written beside a load.
func loadValues(l *engine.Load) []string {
	out := make([]string, 0, 6)
	if l.Current.Known() {
		out = append(out, shortCurrent(l.Current))
	}
	for _, q := range [...]si.Quantity{l.Power, l.Resistance, l.Inductance} {
		if q.Known() {
			out = append(out, short(q))
		}
	}
	if l.StallCurrent.Known() {
		out = append(out, shortCurrent(l.StallCurrent)+" stalled")
	}
	if l.ColdRatio.Known() {
		out = append(out, "×"+short(l.ColdRatio)+" when cold")
	}
	for _, q := range [...]si.Quantity{l.Capacitance, l.SeriesResistance} {
		if q.Known() {
			out = append(out, short(q))
		}
	}
	return out
}

// val prints a value unless the drawing goes without them.
func (d *drawing) val(q si.Quantity) string {
	if d.o.Bare || !q.Known() {
		return ""
	}
	return short(q)
}

// val3 prints a value where there is room for three figures.
func (d *drawing) val3(q si.Quantity) string {
	s := d.val(q)
	if utf8.RuneCountInString(s) > 7 {
		s = bound(q.Figures(3))
	}
	return s
}

// stack writes lines of text around y, one below the other; empty lines are left out.
func (d *drawing) stack(role Role, x, y float64, a Anchor, text ...string) {
	n := 0
	for _, t := range text {
		if t != "" {
			n++
		}
	}
	y -= pitch / 2 * float64(n-1)
	for _, t := range text {
		if t != "" {
			d.label(role, fullSize, x, y, a, t)
			y += pitch
		}
	}
}
