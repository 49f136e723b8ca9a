package part

import (
	"fmt"
	"math"
)

// The span of a transient thermal diagram, s.
const (
	shortestPulse = 1e-6
	longestPulse  = 100.0
)

// dutyFamily are the duties of repeated pulses that sheets draw.
var dutyFamily = []float64{0.5, 0.2, 0.1, 0.05, 0.02}

// Repeated is the thermal impedance of an endless train of rectangular pulses of
// t seconds at a duty from 0 to 1, in K/W: the highest rise of the junction, at the
// end of each pulse, for each watt during it. Each cell of the Foster chain sums a
// geometric series: R (1 − e^(−t/τ))/(1 − e^(−t/(Dτ))). A duty of 0 is a single pulse.
func (r Response) Repeated(t, duty float64) float64 {
	return r.FosterForm().repeated(t, duty)
}

// repeated is Repeated for a Foster chain.
func (r Response) repeated(t, duty float64) float64 {
	if !(t > 0) {
		return 0
	}
	sum := 0.0
	for _, c := range r.Cells {
		z := c.R.Value * -math.Expm1(-t/c.Tau.Value)
		if duty > 0 {
			z /= -math.Expm1(-t / (duty * c.Tau.Value))
		}
		sum += z
	}
	return sum
}

// ZTh is the transient thermal impedance against the length of a rectangular
// pulse, 1 µs to 100 s: a single pulse (Response.At) first, then trains of pulses
// (Response.Repeated). Both axes are logarithmic. Rises with time and with duty.
func (p *Part) ZTh() (*Curve, error) {
	z := p.Characteristics.ZTh
	if len(z.Cells) == 0 {
		return nil, &NoCurve{"z_th", "the sheet gives no z_th"}
	}
	foster := z.FosterForm() // once, not at every point
	to := "JC"
	if z.To == AtAmbient {
		to = "JA"
	}
	out := &Curve{ID: "z_th", Title: "Transient thermal impedance",
		X: Axis{Symbol: "t_p", Unit: seconds, Log: true, Min: shortestPulse, Max: longestPulse},
		Y: Axis{Symbol: "Z_{th" + to + "}", Unit: perWatt, Log: true, Min: decadeBelow(foster.repeated(shortestPulse, 0)), Max: decadeAbove(foster.Steady())}}
	out.Series = append(out.Series, line("single pulse", foster.At, byDecade(shortestPulse, longestPulse, 8)))
	for _, d := range dutyFamily {
		out.Series = append(out.Series, line(fmt.Sprintf("D = %g", d),
			func(t float64) float64 { return foster.repeated(t, d) }, byDecade(shortestPulse, longestPulse, 8)))
	}
	return out, nil
}

// reference is the temperature that headline ratings start from, °C.
const reference = 25.0

// Derating is the continuous drain current against the temperature of the case or
// the air, whichever the headline is rated at: I_D √((T_J,max − T)/(T_J,max − 25 °C)),
// since the heat grows with the square of the current. It falls to 0 at T_J,max.
//
// Source: AN11158 eq. 2 (engine checks J4, J5, J7, J8).
func (p *Part) Derating() (*Curve, error) {
	r := &p.Ratings
	switch {
	case !r.ID.Known():
		return nil, &NoCurve{"derating", "the sheet gives no i_d"}
	case !r.Junction.Known() || r.Junction.Value <= reference:
		return nil, &NoCurve{"derating", "the sheet gives no t_j"}
	}
	hot := r.Junction.Value
	at := func(t float64) float64 {
		return r.ID.Value * math.Sqrt(math.Max(0, (hot-t)/(hot-reference)))
	}
	// Closer points towards the end, where the curve falls steeply.
	xs := evenly(0, 1, 32)
	for i, s := range xs {
		xs[i] = hot - (hot-reference)*(1-s)*(1-s)
	}
	xs[0], xs[len(xs)-1] = reference, hot
	return &Curve{ID: "derating", Title: "Continuous drain current", Series: []Series{line("I_D", at, xs)},
		X: Axis{Symbol: r.IDAt.temperature(), Unit: celsius, Min: reference, Max: hot},
		Y: Axis{Symbol: "I_D", Unit: amperes, Max: roundUp(r.ID.Value)}}, nil
}

// PowerDerating is the heat that may be made against the temperature of the case
// or the air: (T_J,max − T)/θ, a straight line down to 0 at T_J,max.
//
// Source: AN11158 eq. 3 and 5 (engine checks J6, J9, J10).
func (p *Part) PowerDerating() (*Curve, error) {
	r := &p.Ratings
	to, theta := p.headlinePath()
	switch {
	case !(theta > 0):
		return nil, &NoCurve{"power", "the sheet gives no thermal resistance from the junction"}
	case !r.Junction.Known() || r.Junction.Value <= reference:
		return nil, &NoCurve{"power", "the sheet gives no t_j"}
	}
	hot := r.Junction.Value
	most := (hot - reference) / theta
	return &Curve{ID: "power", Title: "Power dissipation", Series: []Series{{Label: "P", X: []float64{reference, hot}, Y: []float64{most, 0}}},
		X: Axis{Symbol: to.temperature(), Unit: celsius, Min: reference, Max: hot},
		Y: Axis{Symbol: "P", Unit: watts, Max: roundUp(most)}}, nil
}

// temperature is the symbol of the temperature that a rating starts from.
func (r Rated) temperature() string {
	if r == AtAmbient {
		return "T_A"
	}
	return "T_C"
}

// headlinePath is the way of the heat that the headline current is rated on,
// with its steady thermal resistance in K/W; 0 when the sheet has none. Where
// the headline names no way, the case is taken before the air.
func (p *Part) headlinePath() (to Rated, theta float64) {
	t := &p.Thermal
	switch {
	case p.Ratings.IDAt == AtAmbient || p.Ratings.IDAt == "" && !t.JunctionCase.Known():
		return AtAmbient, t.JunctionAmbient.Value
	default:
		return AtCase, t.JunctionCase.Value
	}
}
