package figure

import (
	"fullyon/engine"
	"fullyon/engine/part"
)

// wheel tells whether something catches the current of the load when the switch opens.
func (d *drawing) wheel() bool {
	k := d.c.Freewheel.Kind
	return k == engine.Diode || k == engine.Zener
}

// freewheel draws the branch across the load. The current of a coil goes on in
// the direction it had, so out of the load's lower end and back into its upper
// end: the diode points up. A zener in series with it points down: it is to break
// down while the diode conducts. On the right the branch makes way for a level shift.
func (d *drawing) freewheel(y0, y1 float64) {
	if !d.wheel() {
		return
	}
	m := (y0 + y1) / 2
	x, a, tx := wheelX, End, wheelX-16
	right := d.besides()
	if right {
		x, a, tx = rightWheelX, Start, rightWheelX+14
	}
	zener := d.c.Freewheel.Kind == engine.Zener
	d.poly(wire, drainX, y0, x, y0, x, y1)
	if y1 < d.rail { // the rail itself joins them otherwise
		d.poly(wire, x, y1, drainX, y1)
	}
	d.dot(drainX, y0)
	if y1 < d.rail {
		d.dot(drainX, y1)
	} else if !right {
		d.dot(x, y1)
	}
	if zener {
		d.diode(outline, x, m-17, 8, true, false)
		d.poly(fine, x, m-25, x, m-9)
		d.diode(outline, x, m+17, 8, false, true)
		d.poly(fine, x, m+9, x, m+25)
	} else {
		d.diode(outline, x, m, 8.5, true, false)
		d.poly(fine, x, m-8, x, m+8)
	}
	text := d.wheelText()
	y := m + 5 - pitch/2*float64(len(text)-1)
	if right {
		load, _ := d.loadText()
		y = d.stackTop(m, len(load)+len(text)) + pitch*float64(len(load))
	}
	for _, t := range text {
		d.label(Ink, softSize, tx, y, a, t)
		y += pitch
	}
}

// wheelText is what stands beside the freewheel branch.
func (d *drawing) wheelText() []string {
	f := &d.c.Freewheel
	zener := f.Kind == engine.Zener
	if d.o.Bare {
		if zener {
			return []string{"diode", "zener"}
		}
		return []string{"diode"}
	}
	out := make([]string, 0, 4)
	out = append(out, "diode")
	if f.ForwardVoltage.Known() {
		out[0] = "diode" + nbsp + short(f.ForwardVoltage)
	}
	switch {
	case f.ForwardCurrent.Known() && f.ReverseVoltage.Known():
		out = append(out, shortCurrent(f.ForwardCurrent)+", "+short(f.ReverseVoltage))
	case f.ForwardCurrent.Known():
		out = append(out, shortCurrent(f.ForwardCurrent))
	case f.ReverseVoltage.Known():
		out = append(out, short(f.ReverseVoltage))
	}
	if zener {
		z := "zener"
		if f.ZenerVoltage.Known() {
			z += nbsp + short(f.ZenerVoltage)
		}
		out = append(out, z)
	}
	return out
}

// pin draws the board with its pin at height y, the series resistor and the wire
// to the gate's node.
func (d *drawing) pin(y float64, series bool) {
	d.board(y)
	from := boardX1 + terminalRadius
	if r := d.c.Drive.SeriesResistor; series && r.Known() {
		d.levelResistor(from, nodeX, y, 46)
		d.label(Ink, fullSize, (from+nodeX)/2, y-13, Middle, d.val3(r))
		return
	}
	d.poly(wire, from, y, nodeX, y)
}

// board draws the edge of the controller's board: its pin and its 0 V.
func (d *drawing) board(y float64) {
	d.rect(casing, boardX0, y-17, boardX1-boardX0, d.rail-y+34)
	d.terminal(boardX1, y)
	d.label(Ink, 12, (boardX0+boardX1)/2-3, y+4, Middle, "pin")
	d.label(Ink, 12, (boardX0+boardX1)/2-3, d.rail+4, Middle, "0"+nbsp+"V")
	v := &d.c.Drive
	if d.o.Bare {
		return
	}
	at := y - 31
	if d.high && v.Stage == engine.LevelShift && d.o.Shifter == SmallN {
		at = y - 50 // above the small transistor
	}
	if v.LogicHighMin.Known() && v.LogicHighMin != v.LogicHigh {
		d.label(Soft, softSize, boardX0, at, Start, "at least "+short(v.LogicHighMin))
		at -= pitch
	}
	if v.LogicHigh.Known() {
		d.label(Ink, fullSize, boardX0, at, Start, "pin "+short(v.LogicHigh))
	}
}

// zero draws the 0 V that the board and the supply share.
func (d *drawing) zero() {
	end := drainX + 42
	if d.besides() {
		end = rightWheelX + 24
		d.dot(rightWheelX, d.rail)
	}
	d.poly(wire, boardX1+terminalRadius, d.rail, end-terminalRadius, d.rail)
	d.ground(drainX, d.rail)
	d.terminal(boardX1, d.rail)
	d.terminal(end, d.rail)
	d.label(Ink, fullSize, end+11, d.rail+5, Start, "0"+nbsp+"V").Bold = true
}

// shifter draws the level shift: the pin turns a small transistor on, which pulls
// the gate down through the series resistor.
func (d *drawing) shifter(gate, pin float64) {
	d.board(pin)
	low := gate + 54
	if r := d.c.Drive.SeriesResistor; r.Known() {
		d.resistor(nodeX, gate, low, 15, 34)
		d.label(Ink, fullSize, nodeX-14, gate+32, End, d.val3(r))
	} else {
		d.poly(wire, nodeX, gate, nodeX, low)
	}
	from := boardX1 + terminalRadius
	if d.o.Shifter == SmallN {
		y := pin - half
		x := nodeX
		g := x - gateToDrain
		d.poly(wire, from, pin, g, pin)
		d.mosfet(x, y, part.N, false)
		d.poly(wire, x, low, x, y-half)
		d.poly(wire, x, y+half, x, d.rail)
		d.dot(66, pin)
		d.resistor(66, pin, d.rail, 13, 30)
		d.dot(66, d.rail)
		d.dot(x, d.rail)
		return
	}
	base := nodeX - 17
	d.levelResistor(from, base, pin, 34)
	d.label(Ink, softSize, (from+base)/2, pin-13, Middle, "R_{B}")
	d.poly(wire, nodeX, low, nodeX, pin-20)
	d.npn(nodeX, pin)
	d.poly(wire, nodeX, pin+20, nodeX, d.rail)
	d.dot(nodeX, d.rail)
}

// notes writes what belongs to no symbol below the drawing.
func (d *drawing) notes() {
	if d.o.Bare {
		return
	}
	y := d.rail + 42
	for _, t := range d.noteText() {
		d.label(Soft, softSize, boardX0, y, Start, t)
		y += 17
	}
}

func (d *drawing) noteText() []string {
	c := d.c
	out := make([]string, 0, 5)
	if c.Surroundings.Ambient.Known() {
		out = append(out, "air around the part: "+short(c.Surroundings.Ambient))
	}
	if c.Heatsinked() {
		t := "heatsink: " + short(c.Surroundings.SinkAmbient)
		if c.Surroundings.CaseSink.Known() {
			t += ", mounting " + short(c.Surroundings.CaseSink)
		}
		out = append(out, t)
	}
	if t := switching(&c.Drive, short(c.Drive.Frequency), short(c.Drive.Duty)); t != "" {
		out = append(out, t)
	}
	if c.Drive.PinCurrent.Known() || c.Drive.PinCurrentMax.Known() {
		t := "pin:"
		if c.Drive.PinCurrent.Known() {
			t += " " + short(c.Drive.PinCurrent) + " recommended"
		}
		if c.Drive.PinCurrentMax.Known() {
			if c.Drive.PinCurrent.Known() {
				t += ","
			}
			t += " " + short(c.Drive.PinCurrentMax) + " at most"
		}
		out = append(out, t)
	}
	if w := &c.Wiring; w.Length.Known() {
		t := "cable: " + short(w.Length) + " one way"
		if w.CrossSection.Known() {
			t += ", " + short(w.CrossSection)
		}
		out = append(out, t)
	}
	return out
}

// fit sets the size so that every text lies inside.
func (d *drawing) fit() {
	left, right, bottom := 0.0, least, d.rail+28
	for i := range d.Shapes {
		if t := &d.Shapes[i]; t.Kind == Text {
			b := t.box()
			left, right, bottom = min(left, b.X0-margin), max(right, b.X1+margin), max(bottom, b.Y1+margin)
		}
	}
	d.Left, d.Width, d.Height = left, right-left, bottom
}
