package figure

import (
	"math"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// edge is one change of the switch, in seconds from the step of the pin.
type edge struct {
	on    bool
	delay float64 // until the drain begins to move
	move  float64 // the edge itself
	first float64 // share of the edge in which the first of current and voltage moves
	tau   float64 // of the gate before and after the plateau, s
}

// wave holds what the panels draw.
type wave struct {
	vOn, vOff, vth, plateau float64    // of the gate, V
	vds, drop               float64    // drain to source, off and on, V
	amps                    [2]float64 // when switching on and when switching off
	high                    float64    // the larger of them
	sign                    string     // the minus of a P-channel part's symbols
	together                bool       // a load without inductance: current and voltage move together
}

// Waveforms draws the gate's voltage, the drain's voltage and the current at both
// edges, with the delays and edges of the engine, and under them the current of a
// coil over two periods where the circuit chops one. Along the edge the current
// moves while Q_GS is being moved, the voltage while Q_GD is (AND9083/D); a load
// without inductance lets both move together.
func Waveforms(c *engine.Circuit) (Figure, error) {
	k := knownOf(c)
	get := func(name string) float64 { return k.get(name).Value }
	on := edge{on: true, delay: get("turn_on_delay"), move: get("turn_on_time")}
	off := edge{delay: get("turn_off_delay"), move: get("turn_off_time")}
	w := wave{vOn: get("vgs_on"), vOff: get("vgs_off"), vth: get("v_gs_th_typ"), plateau: get("v_plateau"),
		vds: get("vds_stress"), together: !c.Inductive()}
	mean, ripple := get("switch_current"), 0.0
	if q, ok := k.maybe("ripple_current"); ok { // a coil's current rises while the switch is on
		ripple = q.Value
	}
	w.amps, w.high = [2]float64{max(0, mean-ripple/2), mean + ripple/2}, mean+ripple/2
	qsw, qgd := get("gate_charge_switching"), get("q_gd")
	if k.err != nil {
		return Figure{}, k.err
	}
	if c.Part.Channel == part.P {
		w.sign = "−"
	}
	if !c.Inductive() {
		w.vds = get("supply_maximum")
	}
	w.drop = mean * get("rds_on_hot")
	// The engine's delays are exponentials to the threshold and to the plateau.
	on.tau, off.tau = on.delay/math.Log(w.vOn/(w.vOn-w.vth)), off.delay/math.Log(w.vOn/w.plateau)
	if k.err != nil {
		return Figure{}, k.err
	}
	on.first, off.first = 1-qgd/qsw, qgd/qsw

	s := newScene("waveforms", 64)
	s.Width = 334
	f := Figure{Title: "Waveforms of the switch" + ofPart(&c.Part), Scene: s,
		Desc: "Gate voltage, drain voltage and drain current while switching on and while switching off, one time scale for each."}
	for i, e := range []edge{on, off} {
		s.edgeColumn(&w, e, 52+float64(i)*148, 124)
	}
	s.Height = 346
	words := func(name, text string) {
		f.Facts = append(f.Facts, text+": "+bound(k.get(name).Figures(3)))
	}
	words("turn_on_delay", "Delay before switching on")
	words("turn_on_time", "Edge while switching on")
	words("turn_off_delay", "Delay before switching off")
	words("turn_off_time", "Edge while switching off")
	words("v_plateau", "Plateau of the gate")
	words("vgs_on", "Gate when on")
	f.Facts = append(f.Facts, "Drain when off: "+bound(si.Of(w.vds, si.Voltage).Figures(3)), "Drain when on: "+bound(si.Of(w.drop, si.Voltage).Figures(2)),
		"Current when on: "+bound(si.Of(mean, si.Current).Figures(3)))
	if ripple > 0 {
		s.ripple(c, k, mean, ripple)
		f.Facts = append(f.Facts, "Ripple of the coil’s current: "+bound(si.Of(ripple, si.Current).Figures(3)))
		f.Desc += " Below, the current of the coil over two periods."
	}
	return f, k.err
}

// strip is one small panel: the place of its lowest and highest value.
type strip struct {
	x, w, top, bottom float64
	long              float64 // seconds across
	high              float64
}

func (p *strip) at(t, v float64) (x, y float64) {
	return p.x + p.w*t/p.long, p.bottom - (p.bottom-p.top)*v/p.high
}

// edgeColumn draws gate, drain and current of one edge, one below the other.
func (s *Scene) edgeColumn(w *wave, e edge, x, wide float64) {
	lead := 0.12 * (e.delay + e.move) // before the pin moves
	after := max(0.5*(e.delay+e.move), 1.2*e.tau)
	long := lead + e.delay + e.move + after
	title := "switching off"
	if e.on {
		title = "switching on"
	}
	s.label(Ink, 13, x+wide/2, 16, Middle, title).Bold = true
	gate := strip{x, wide, 38, 104, long, 1.3 * w.vOn}
	drain := strip{x, wide, 128, 198, long, 1.3 * w.vds}
	amps := strip{x, wide, 222, 292, long, 1.3 * w.high}
	first := e.on
	for _, p := range []struct {
		strip  *strip
		symbol string
		marks  []si.Quantity
	}{
		{&gate, "V_{GS}", []si.Quantity{si.Of(w.plateau, si.Voltage), si.Of(w.vOn, si.Voltage)}},
		{&drain, "V_{DS}", []si.Quantity{si.Of(w.vds, si.Voltage)}},
		{&amps, "I_{D}", []si.Quantity{si.Of(w.high, si.Current)}},
	} {
		q := p.strip
		for _, t := range [2]float64{lead + e.delay, lead + e.delay + e.move} {
			x, _ := q.at(t, 0)
			s.poly(minorPen, x, q.top, x, q.bottom)
		}
		last := math.Inf(1)
		for _, m := range p.marks {
			_, y := q.at(0, m.Value)
			s.poly(gridPen, q.x, y, q.x+q.w, y)
			if first && math.Abs(y-last) > 13 && y-5 > q.top {
				s.label(Soft, 12, q.x-4, y+4, End, bound(m.Figures(2))).numeric = true
				last = y
			}
		}
		if first {
			s.label(Ink, 13, q.x-4, q.top-1, End, w.sign+p.symbol)
		}
		s.poly(framePen, q.x, q.top, q.x, q.bottom, q.x+q.w, q.bottom)
	}
	s.trace(&gate, e.gate(w, lead, long))
	s.trace(&drain, e.swing(lead, long, w.vds, w.drop, e.on, w.together))
	current := w.amps[1]
	if e.on {
		current = w.amps[0]
	}
	s.trace(&amps, e.swing(lead, long, 0, current, !e.on, w.together))
	y := amps.bottom + 16
	a, _ := amps.at(lead, 0)
	b, _ := amps.at(lead+e.delay, 0)
	c, _ := amps.at(lead+e.delay+e.move, 0)
	s.span(a, b, y-6)
	s.span(b, c, y-6)
	d, m := si.Of(e.delay, si.Time), si.Of(e.move, si.Time)
	s.label(Soft, 12, x, y+14, Start, "delay "+bound(d.Figures(2)))
	s.label(Soft, 12, x, y+30, Start, "edge "+bound(m.Figures(2)))
}

// span is a measure along the time axis.
func (s *Scene) span(a, b, y float64) {
	s.poly(Pen{Stroke: Soft, Width: 1}, a, y-3, a, y+3)
	s.poly(Pen{Stroke: Soft, Width: 1}, a, y, b, y)
	s.poly(Pen{Stroke: Soft, Width: 1}, b, y-3, b, y+3)
}

// trace draws a line through times and values.
func (s *Scene) trace(p *strip, pts []XY) {
	for i, q := range pts {
		x, y := p.at(q.X, q.Y)
		if i == 0 {
			s.move(x, y)
		} else {
			s.line(x, y)
		}
	}
	s.stroke(Pen{Stroke: Accent, Width: 2})
}

// gate is V_GS over one edge: an exponential, the plateau, an exponential.
func (e *edge) gate(w *wave, lead, long float64) []XY {
	from, to := w.vOff, w.vOn
	if !e.on {
		from, to = w.vOn, w.vOff
	}
	out := []XY{{0, from}, {lead, from}}
	const n = 12
	level := func(t float64) float64 { return to + (from-to)*math.Exp(-t/e.tau) }
	for i := 1; i <= n; i++ {
		t := e.delay * float64(i) / n
		out = append(out, XY{lead + t, level(t)})
	}
	last := w.plateau
	up := lead + e.delay + e.move
	if e.on {
		out = append(out, XY{lead + e.delay + e.move*e.first, w.plateau}, XY{up, w.plateau})
	} else {
		out = append(out, XY{lead + e.delay + e.move*e.first, w.plateau}, XY{up, w.vth})
		last = w.vth
	}
	for i := 1; i <= n; i++ {
		t := (long - up) * float64(i) / n
		out = append(out, XY{up + t, to + (last-to)*math.Exp(-t/e.tau)})
	}
	return out
}

// swing is a value that goes from one level to another during the edge: off is its
// level while the switch is off. When second, it moves in the second part of it,
// after the other of voltage and current has moved.
func (e *edge) swing(lead, long, off, on float64, second, together bool) []XY {
	from, to := on, off
	if e.on {
		from, to = off, on
	}
	start, end := 0.0, 1.0
	switch {
	case together:
	case second:
		start = e.first
	default:
		end = e.first
	}
	return []XY{{0, from}, {lead + e.delay + e.move*start, from}, {lead + e.delay + e.move*end, to}, {long, to}}
}

// ripple draws the current of a chopped coil over two periods, below the edges.
func (s *Scene) ripple(c *engine.Circuit, k *known, mean, swing float64) {
	f, d := k.get("frequency").Value, k.get("duty").Value
	high, low := mean+swing/2, mean-swing/2
	p := strip{52, 272, 384, 454, 2 / f, 1.2 * high}
	s.label(Ink, 13, p.x+p.w/2, p.top-12, Middle, "coil current, two periods").Bold = true
	r := c.Supply.Voltage.Value / k.get("load_current").Value
	if c.Load.Resistance.Known() {
		r = c.Load.Resistance.Value
	}
	tau := c.Load.Inductance.Value / r
	var pts []XY
	for n := range 2 {
		begin := float64(n) / f
		pts = append(pts, bent(begin, low, begin+d/f, high, tau)...)
		pts = append(pts, bent(begin+d/f, high, begin+1/f, low, tau)...)
	}
	_, yh := p.at(0, high)
	_, yl := p.at(0, low)
	s.poly(gridPen, p.x, yh, p.x+p.w, yh)
	s.poly(gridPen, p.x, yl, p.x+p.w, yl)
	s.poly(framePen, p.x, p.top, p.x, p.bottom, p.x+p.w, p.bottom)
	s.trace(&p, pts)
	s.label(Soft, 12, p.x-4, yh+4, End, bound(si.Of(high, si.Current).Figures(2))).numeric = true
	if yl-yh > 14 && p.bottom-yl > 6 {
		s.label(Soft, 12, p.x-4, yl+4, End, bound(si.Of(low, si.Current).Figures(2))).numeric = true
	}
	s.label(Ink, 13, p.x-4, p.bottom+14, End, "I")
	s.label(Soft, 12, p.x+p.w, p.bottom+16, End, "2 periods = "+bound(si.Of(2/f, si.Time).Figures(3)))
	s.Height = p.bottom + 28
}

// bent runs from one point to another along e^(−t/τ).
func bent(t0, v0, t1, v1, tau float64) []XY {
	end := math.Exp(-(t1 - t0) / tau)
	out := make([]XY, 0, 17)
	for i := range 17 {
		t := (t1 - t0) * float64(i) / 16
		share := (1 - math.Exp(-t/tau)) / (1 - end)
		out = append(out, XY{t0 + t, v0 + (v1-v0)*share})
	}
	return out
}
