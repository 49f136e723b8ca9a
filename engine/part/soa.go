package part

import (
	"fmt"
	"math"
	"slices"

	"fullyon/engine/si"
)

// soaPulses are the single pulses of a diagram of the safe operating area, s.
var soaPulses = []struct {
	label   string
	seconds float64
}{{"10 ms", 10e-3}, {"1 ms", 1e-3}, {"100 µs", 100e-6}, {"10 µs", 10e-6}}

// Conventions of the thermal instability edge.
const (
	// thresholdDrift is how far V_GS(th) falls for each kelvin, V/K (common practice; engine check S19 has 7 mV/K).
	thresholdDrift = 5e-3
	// spreading is the time within which heat leaves the die, s. Differences of
	// temperature across the die feel only the impedance up to here (our convention).
	spreading = 10e-3
	// lowestDrain is where the diagram begins, V.
	lowestDrain = 0.1
)

// area is the safe operating area for one length of pulse: I_D may be at most
//
//	V_DS / R_hot                    the channel conducts no more
//	I_peak                          pulse rating; for DC the headline
//	(T_J,max − T) / (Z_th V_DS)     heat
//	1 / (4 c² K Z² V_DS²)           thermal instability
//
// The last: at a set V_GS the square law gives dI/dT = 2 c √(K I), c the drift of
// the threshold. A spot of the die that is warmer runs away once V Z dI/dT ≥ 1.
// The fall of K with temperature, which calms the part, is left out: the
// conservative side. On logarithmic axes the edge falls twice as steeply as heat.
//
// Sources: AND9093 p. 6 and AN11158 §3.1.2 for the first three (engine checks Z4,
// Z5, Z6). The last is derived here from the square law; sheets draw it from measurement.
type area struct {
	hot         float64 // Ω
	peak        float64 // A, may be +Inf
	heat        float64 // W, may be +Inf
	instability float64 // A V², may be +Inf
}

func (a area) current(vds float64) float64 {
	return min(vds/a.hot, a.peak, a.heat/vds, a.instability/(vds*vds))
}

// corners are the voltages at which one edge takes over from another.
func (a area) corners() []float64 {
	vs := []float64{
		a.peak * a.hot, math.Sqrt(a.heat * a.hot), math.Cbrt(a.instability * a.hot),
		a.heat / a.peak, math.Sqrt(a.instability / a.peak), a.instability / a.heat,
	}
	return slices.DeleteFunc(vs, func(v float64) bool { return !(v > 0) || math.IsInf(v, 0) })
}

// SOA is the safe operating area with the case or the air at 25 °C, as sheets
// print it. The name is the trade's; it promises nothing beyond single pulses of
// a part that starts cold. See SOAAt.
func (p *Part) SOA() (*Curve, error) { return p.SOAAt(reference) }

// SOAAt is I_D against V_DS for one pulse of each length from a start at t °C, at
// the case or in air as the thermal response goes, else as the headline is rated. The
// lines are the lower envelope of the edges that area names; they end at V_DSS.
// DC comes first. Pulses are drawn when the sheet gives z_th, the
// instability edge when it gives what Transfer needs.
func (p *Part) SOAAt(t float64) (*Curve, error) {
	no := func(because string) (*Curve, error) { return nil, &NoCurve{"soa", because} }
	r := &p.Ratings
	hot, ok := p.hotResistance()
	z := p.Characteristics.ZTh.FosterForm()
	to, theta := p.headlinePath()
	if len(z.Cells) > 0 {
		to = z.To
		theta = p.Thermal.JunctionCase.Value
		if to == AtAmbient {
			theta = p.Thermal.JunctionAmbient.Value
		}
		if theta == 0 {
			theta = z.Steady()
		}
	}
	switch {
	case !r.VDS.Known():
		return no("the sheet gives no v_ds")
	case r.VDS.Value <= lowestDrain:
		return no("v_ds lies below the diagram")
	case !r.Junction.Known():
		return no("the sheet gives no t_j")
	case !(t < r.Junction.Value):
		return no(fmt.Sprintf("the start at %s leaves no room below t_j", si.Of(t, si.Temperature)))
	case !ok:
		return no("the sheet gives no r_ds_on")
	case !(theta > 0):
		return no("the sheet gives no thermal resistance from the junction")
	}
	room := r.Junction.Value - t
	out := &Curve{ID: "soa", Title: "Safe operating area, single pulse, from " + si.Of(t, si.Temperature).String(),
		X: Axis{Symbol: "V_{DS}", Unit: volts, Log: true, Min: lowestDrain, Max: decadeAbove(r.VDS.Value)}, Y: Axis{Symbol: "I_D", Unit: amperes, Log: true}}
	law, notes, why := p.saturation()
	if why != "" {
		notes = []string{"No edge of thermal instability is drawn: " + why + "."}
	}
	if !r.IDPulse.Known() {
		notes = append(notes, "The sheet gives no i_d_pulse, so no pulse current bounds the lines.")
	}
	if len(z.Cells) == 0 {
		notes = append(notes, "The sheet gives no z_th, so the lines of pulses are absent.")
	}
	out.Notes = notes
	add := func(label string, peak, zth, die float64) {
		a := area{hot, orInf(peak), room / zth, math.Inf(1)}
		if why == "" {
			a.instability = 1 / (4 * thresholdDrift * thresholdDrift * law.rise * law.rise * die * die)
		}
		out.Series = append(out.Series, line(label, a.current, byDecade(lowestDrain, r.VDS.Value, 6), a.corners()...))
	}
	// Without a response the die's own share is unknown: the whole resistance is taken.
	die := theta
	if len(z.Cells) > 0 {
		die = math.Min(theta, z.At(spreading))
	}
	lasting := r.IDPulse.Value
	if r.ID.Known() && r.IDAt == to && t <= reference {
		lasting = r.ID.Value
	}
	add("DC", lasting, theta, die)
	if len(z.Cells) > 0 {
		for _, pulse := range soaPulses {
			zth := math.Min(theta, z.At(pulse.seconds))
			add(pulse.label, r.IDPulse.Value, zth, math.Min(zth, die))
		}
	}
	p.frame(out, hot)
	return out, nil
}

// hotResistance is the max of the highest row of R_DS(on), at T_J,max, in Ω.
func (p *Part) hotResistance() (float64, bool) {
	for _, r := range slices.Backward(p.Characteristics.RDSOn) {
		if r.Max.Known() {
			k, _ := p.Ratio(p.Ratings.Junction.Value)
			return r.Max.Value * k, true
		}
	}
	return 0, false
}

// frame sets the ends of the current axis and draws the edges that belong to no pulse.
func (p *Part) frame(out *Curve, hot float64) {
	lo, hi := math.Inf(1), 0.0
	for _, s := range out.Series {
		lo, hi = min(lo, slices.Min(s.Y)), max(hi, slices.Max(s.Y))
	}
	out.Y.Min, out.Y.Max = decadeBelow(lo), decadeAbove(hi)
	v := p.Ratings.VDS.Value
	out.Limits = []Limit{
		{Label: "V_DSS", X: []float64{v, v}, Y: []float64{out.Y.Min, hi}},
		{Label: "R_{DS(on)} hot", X: []float64{lowestDrain, math.Min(v, hi*hot)}, Y: []float64{lowestDrain / hot, math.Min(v/hot, hi)}},
	}
	if i := p.Ratings.IDPulse; i.Known() && i.Value*hot < v && i.Value*hot > lowestDrain {
		out.Limits = append(out.Limits, Limit{Label: "I_{DM}", X: []float64{i.Value * hot, v}, Y: []float64{i.Value, i.Value}})
	}
}
