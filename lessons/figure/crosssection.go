package figure

import (
	"fullyon/engine"
	"fullyon/engine/part"
)

// CrossSection draws one cell of an enhancement type, off and on: the gate on its
// oxide above the body, the channel that comes into being under it, the way of the
// current down to the drain, and the diode that body and drain always are. It is a
// diagram: widths and depths are not to scale. The voltages are those of the circuit.
func CrossSection(c *engine.Circuit) (Figure, error) {
	k := knownOf(c)
	on, off := k.get("vgs_on"), k.get("vgs_off")
	if k.err != nil {
		return Figure{}, k.err
	}
	if th := c.Part.Characteristics.VGSTh.Min; th.Known() && off.Value >= th.Value {
		off.Value = 0 // this circuit does not switch off; the section shows what off is
	}
	n, p, minus := "n", "p", ""
	if c.Part.Channel == part.P {
		n, p, minus = "p", "n", "−"
	}
	s := newScene("cross-section", 60)
	s.Width, s.Height = 330, 452
	th := c.Part.Characteristics.VGSTh
	least := "below the threshold"
	if th.Min.Known() {
		least += " of " + minus + bound(th.Min.Figures(2)) + " at the least"
	}
	gateOff, gateOn := minus+bound(on.Figures(2)), ""
	gateOff, gateOn = "V_{GS} = "+zero(off.Value, minus, bound(off.Figures(2))), "V_{GS} = "+gateOff
	s.cell(0, n, p, "off: "+gateOff, false)
	s.cell(226, n, p, "on: "+gateOn, true)
	current, stays := "from drain to source", "Minus at the gate pulls holes under it"
	if c.Part.Channel == part.N {
		stays = "Plus at the gate pulls electrons under it"
	} else {
		current = "from source to drain"
	}
	f := Figure{Title: "Section through one cell" + ofPart(&c.Part), Scene: s,
		Desc: "One cell of an enhancement type, cut through, off and on; not to scale."}
	f.Facts = []string{
		"Off, " + flat(gateOff) + ", " + least + ": between source and drain lies " + p + " silicon without a channel, and nothing flows but a leak.",
		"On, " + flat(gateOn) + ": " + stays + ", through the oxide, and a channel joins source and drain; current flows " + current + ".",
		"The oxide insulates the gate: no current goes through it, and it is so thin that a charged finger can pierce it.",
		"Body and drain form a diode that is always there, gate or no gate.",
	}
	return f, nil
}

// zero prints nought without a sign or prefix.
func zero(v float64, minus, text string) string {
	if v == 0 {
		return "0" + nbsp + "V"
	}
	return minus + text
}

// cell draws one state, from y downwards.
func (s *Scene) cell(y float64, n, p, title string, on bool) {
	s.label(Ink, 14, 165, y+20, Middle, title).Bold = true
	const left, right = 20.0, 250.0
	const mid = (left + right) / 2
	top := y + 84 // surface of the silicon
	bottom := y + 186
	block := Pen{Stroke: Soft, Fill: Wash, Width: 1}
	s.rect(block, left, top, right-left, bottom-top)
	s.rect(Pen{Stroke: None, Fill: Ink}, left, bottom, right-left, 6)
	well := Pen{Stroke: Soft, Fill: Paper, Width: 1}
	s.rect(well, left, top, 88, 56)
	s.rect(well, right-88, top, 88, 56)
	s.rect(block, left+34, top, 34, 20)
	s.rect(block, right-68, top, 34, 20)
	s.rect(Pen{Stroke: None, Fill: Ink}, left, top-12, 50, 12)
	s.rect(Pen{Stroke: None, Fill: Ink}, right-50, top-12, 50, 12)
	// oxide and gate reach from one source to the other
	s.rect(Pen{Stroke: Soft, Fill: Paper, Width: 1}, left+58, top-7, right-left-116, 7)
	s.rect(Pen{Stroke: None, Fill: Soft}, left+60, top-19, right-left-120, 12)
	s.poly(wire, mid, top-19, mid, top-34)
	s.poly(wire, left+24, top-12, left+24, top-34)
	s.label(Ink, 13, mid, top-39, Middle, "gate")
	s.label(Ink, 13, left+24, top-39, Middle, "source")
	s.label(Ink, 13, left+51, top+15, Middle, n+"+")
	s.label(Ink, 13, right-51, top+15, Middle, n+"+")
	s.label(Ink, 13, left+14, top+47, Middle, p)
	s.label(Ink, 13, right-14, top+47, Middle, p)
	s.label(Ink, 13, left+20, bottom-8, Middle, n+"−")
	s.label(Ink, 13, mid, bottom+22, Middle, "drain")
	s.label(Soft, 12, right+8, top, Start, "oxide")
	s.poly(Pen{Stroke: Soft, Width: 0.8}, right+6, top-4, right-62, top-4)
	s.bodyDiode(right-26, top+50, bottom-6, n == "p")
	s.label(Soft, 12, right+8, top+66, Start, "body diode")
	s.poly(Pen{Stroke: Soft, Width: 0.8}, right+6, top+62, right-14, top+68)
	if !on {
		return
	}
	flow := Pen{Stroke: Accent, Width: 3}
	for _, side := range [2]float64{-1, 1} {
		edge := mid + side*(mid-left-88) // of the body's well
		s.poly(flow, mid+side*(mid-left-68), top+2, edge, top+2)
		s.poly(Pen{Stroke: Accent, Width: 1.6}, edge, top+2, edge-side*12, top+14, edge-side*12, bottom-4)
		x, tip, back := edge-side*12, bottom-30.0, bottom-20.0
		if n == "p" {
			tip, back = back, tip
		}
		s.shape(Pen{Stroke: Accent, Fill: Accent, Width: 1}, x, tip, x-4, back, x+4, back)
	}
	x := right - 88 + 6
	s.poly(Pen{Stroke: Accent, Width: 0.8}, x, top+5, x, top+62)
	s.label(Accent, 12, x-6, top+73, Start, "channel")
	s.label(Accent, 12, x-6, top+90, Start, "current")
}

// bodyDiode stands between body and drain; its bar is at the N side.
func (s *Scene) bodyDiode(x, y0, y1 float64, pChannel bool) {
	m := (y0 + y1) / 2
	s.poly(fine, x, y0, x, y1)
	s.diode(fineOut, x, m, 6, pChannel, false)
}
