package part

import (
	"math"
	"slices"
)

// squareLaw is I_D = K (V_GS − V_0)², laid through two points. V_0 lies a little
// below the printed threshold, at which a trickle flows already.
//
// Source: the two-point method of SLUP170, appendix A (engine checks S17, S18).
type squareLaw struct {
	v, root float64 // V and √A: the lower point
	rise    float64 // √K, √A/V
}

// throughTwo lays the law through two points with rising voltage and current.
func throughTwo(v1, i1, v2, i2 float64) squareLaw {
	return squareLaw{v1, math.Sqrt(i1), (math.Sqrt(i2) - math.Sqrt(i1)) / (v2 - v1)}
}

// current is the drain current in saturation, A; 0 below V_0.
func (l squareLaw) current(vgs float64) float64 {
	root := math.Max(0, l.root+l.rise*(vgs-l.v))
	return root * root
}

// gate is the V_GS that a current takes.
func (l squareLaw) gate(current float64) float64 {
	return l.v + (math.Sqrt(current)-l.root)/l.rise
}

// zero is V_0.
func (l squareLaw) zero() float64 { return l.v - l.root/l.rise }

// typicalThreshold is the typ column of V_GS(th), or the middle of min and max where a sheet has no typ.
func (p *Part) typicalThreshold() (v float64, midway, ok bool) {
	th := &p.Characteristics.VGSTh
	switch {
	case th.Typ.Known():
		return th.Typ.Value, false, true
	case th.Min.Known() && th.Max.Known():
		return (th.Min.Value + th.Max.Value) / 2, true, true
	}
	return 0, false, false
}

const midwayNote = "The sheet prints no typical threshold; the middle of its min and max is taken."

// plateauCurrent is the current that the plateau belongs to: the test current of
// the highest row of R_DS(on) that names one, else the headline I_D.
func (p *Part) plateauCurrent() (amps float64, ok bool) {
	rows := p.Characteristics.RDSOn
	for _, r := range slices.Backward(rows) {
		if r.ID.Known() {
			return r.ID.Value, true
		}
	}
	return p.Ratings.ID.Value, p.Ratings.ID.Known()
}

// saturation is the square law of the part through (V_GS(th) typ, its test
// current) and (V_plateau, test current of the row); why is the reason where there is none.
func (p *Part) saturation() (l squareLaw, notes []string, why string) {
	c := &p.Characteristics
	th, midway, ok := p.typicalThreshold()
	amps, given := p.plateauCurrent()
	switch {
	case !ok:
		return l, nil, "the sheet gives no typical v_gs_th"
	case !c.VGSTh.At.Known():
		return l, nil, "the sheet gives no current at which v_gs_th is measured"
	case !c.VPlateau.Known():
		return l, nil, "the sheet gives no v_plateau"
	case !given:
		return l, nil, "no row of r_ds_on names its test current, and there is no i_d"
	case c.VPlateau.Value <= th*(1+same):
		return l, nil, "v_plateau does not lie above the typical threshold"
	case amps <= c.VGSTh.At.Value:
		return l, nil, "the test current of the row does not exceed that of the threshold"
	}
	if midway {
		notes = append(notes, midwayNote)
	}
	return throughTwo(th, c.VGSTh.At.Value, c.VPlateau.Value, amps), notes, ""
}

// Transfer is I_D against V_GS in saturation, typical, at 25 °C: a square law
// through (V_GS(th) typ, its test current) and (V_plateau, the test current of
// the highest row of R_DS(on)), see squareLaw. Rises monotonically.
func (p *Part) Transfer() (*Curve, error) {
	l, notes, why := p.saturation()
	if why != "" {
		return nil, &NoCurve{"transfer", why}
	}
	c := &p.Characteristics
	amps, _ := p.plateauCurrent()
	most := math.Max(1.25*amps, math.Min(4*amps, orInf(p.Ratings.IDPulse.Value)))
	end := l.gate(most)
	if limit := p.Ratings.VGSMax.Value; limit > c.VPlateau.Value && limit < end {
		end, most = limit, l.current(limit)
	}
	th, _, _ := p.typicalThreshold()
	out := &Curve{ID: "transfer", Title: "Transfer", Notes: notes,
		X: Axis{Symbol: "V_{GS}", Unit: volts, Max: roundUp(end)}, Y: Axis{Symbol: "I_D", Unit: amperes, Max: roundUp(most)}}
	start := math.Max(0, l.zero())
	out.Series = []Series{line("typical, 25 °C", l.current, append([]float64{0}, evenly(start, end, 48)...), th, c.VPlateau.Value)}
	return out, nil
}

// orInf turns a value that is not given into one that never limits.
func orInf(v float64) float64 {
	if v == 0 {
		return math.Inf(1)
	}
	return v
}

// channel is I_D against V_DS at one V_GS: straight with slope 1/R up to the
// current knee, then bent as a parabola that meets the saturation current level.
type channel struct {
	r, knee, level float64 // Ω, A, A; level may be +Inf
}

func (c channel) current(vds float64) float64 {
	i := vds / c.r
	over := i - c.knee
	d := c.level - c.knee
	switch {
	case over <= 0 || math.IsInf(d, 1):
		return i
	case over >= 2*d:
		return c.level
	}
	return i - over*over/(4*d)
}

// drop is the V_DS at which a current below the level flows.
func (c channel) drop(amps float64) float64 {
	d := c.level - c.knee
	if amps <= c.knee || math.IsInf(d, 1) {
		return c.r * amps
	}
	// y − y²/(4d) = amps − knee, the smaller root
	y := 2 * d * (1 - math.Sqrt(math.Max(0, 1-(amps-c.knee)/d)))
	return c.r * (c.knee + y)
}

// Output is I_D against V_DS, typical, at 25 °C, one line for each row of
// R_DS(on) with a typ: straight with slope 1/R_DS(on) through the row's own
// point (R I, I) and up to half the saturation current, then bending to that
// current, which Transfer has. Lines never fall and a higher V_GS never carries less.
func (p *Part) Output() (*Curve, error) {
	rows := p.Characteristics.RDSOn
	l, notes, why := p.saturation()
	if why != "" {
		notes = []string{"Where the lines bend is not known: " + why + "."}
	}
	amps, _ := p.plateauCurrent()
	top := math.Min(4*amps, orInf(p.Ratings.IDPulse.Value))
	if amps == 0 {
		top = p.Ratings.IDPulse.Value
	}
	var lines []channel
	var labels []string
	knee, level, end := 0.0, 0.0, 0.0
	for _, r := range rows {
		if !r.Typ.Known() {
			continue
		}
		top = math.Max(top, 1.25*r.ID.Value)
		sat := math.Inf(1)
		if why == "" {
			sat = l.current(r.VGS.Value)
		}
		// The row promises its resistance at its test current: no bend below that.
		knee = math.Max(knee, r.ID.Value)
		if !math.IsInf(sat, 1) {
			knee = math.Max(knee, sat/2)
		}
		level = math.Max(level, math.Max(sat, knee))
		lines = append(lines, channel{r.Typ.Value, knee, level})
		labels = append(labels, "V_{GS} = "+r.VGS.String())
	}
	switch {
	case len(rows) == 0:
		return nil, &NoCurve{"output", "the sheet gives no r_ds_on"}
	case len(lines) == 0:
		return nil, &NoCurve{"output", "no row of r_ds_on gives a typ"}
	case !(top > 0):
		return nil, &NoCurve{"output", "the sheet gives no current to draw the curve up to: neither a test current, i_d nor i_d_pulse"}
	}
	for _, c := range lines {
		if c.level < top {
			end = math.Max(end, 1.3*c.r*(2*c.level-c.knee))
		} else {
			end = math.Max(end, c.drop(top))
		}
	}
	end = math.Min(roundUp(end), orInf(p.Ratings.VDS.Value))
	out := &Curve{ID: "output", Title: "Output", Notes: notes,
		X: Axis{Symbol: "V_{DS}", Unit: volts, Max: end}, Y: Axis{Symbol: "I_D", Unit: amperes, Max: roundUp(top)}}
	i := 0
	for _, r := range rows {
		if !r.Typ.Known() {
			continue
		}
		c := lines[i]
		to := end
		if c.level >= top {
			to = math.Min(end, c.drop(top))
		}
		out.Series = append(out.Series, line(labels[i], c.current, evenly(0, to, 32), c.r*r.ID.Value, c.r*c.knee))
		i++
	}
	return out, nil
}

// GateCharge is V_GS against the charge put into the gate, typical: up to the
// plateau at q_gs, level until q_gs + q_gd, then up through (q_g, its voltage) and
// on with the same slope to the V_GS rating. Never falls.
func (p *Part) GateCharge() (*Curve, error) {
	c := &p.Characteristics
	for _, need := range []struct {
		known bool
		name  string
	}{{c.QGS.Known(), "q_gs"}, {c.QGD.Known(), "q_gd"}, {c.VPlateau.Known(), "v_plateau"}, {c.QG.Known() && c.QGAt.Known(), "q_g with its voltage"}} {
		if !need.known {
			return nil, &NoCurve{"gate_charge", "the sheet gives no " + need.name}
		}
	}
	plateau, at := c.VPlateau.Value, c.QGAt.Value
	flat, full := c.QGS.Value+c.QGD.Value, c.QG.Value
	if full <= flat*(1+same) || at <= plateau*(1+same) {
		return nil, &NoCurve{"gate_charge", "q_g at its voltage leaves nothing above the plateau"}
	}
	xs := []float64{0, c.QGS.Value, flat, full}
	ys := []float64{0, plateau, plateau, at}
	if limit := p.Ratings.VGSMax.Value; limit > at {
		xs = append(xs, full+(full-flat)/(at-plateau)*(limit-at))
		ys = append(ys, limit)
	}
	last := len(xs) - 1
	return &Curve{ID: "gate_charge", Title: "Gate charge",
		X: Axis{Symbol: "Q_G", Unit: nanocoul, Max: roundUp(xs[last])}, Y: Axis{Symbol: "V_{GS}", Unit: volts, Max: roundUp(ys[last])},
		Series: []Series{{Label: "typical", X: xs, Y: ys}}}, nil
}
