package part

import (
	"cmp"
	"math"
	"slices"
)

// gateShare is the share of R_DS(on) that lies in the channel under the gate,
// and so falls as 1/(V_GS − V_th), where only one row tells of it (common practice).
const gateShare = 0.4

// poleBelow keeps the threshold that a curve rises at below its lowest row.
const poleBelow = 0.95

// hyperbola is R_DS(on) against V_GS: with u = 1/(V_GS − pole) a monotone cubic
// through the rows, straight in u outside them. So R → ∞ at the pole, as
// R = R_rest + R_channel/(V_GS − V_th) has it.
type hyperbola struct {
	pole float64
	u, r []float64 // rising u: from the highest row down
	d    []float64 // dR/du at the rows
}

// through lays the curve through voltages and resistances of rising voltage.
func through(pole float64, vgs, r []float64) hyperbola {
	n := len(vgs)
	h := hyperbola{math.Min(pole, poleBelow*vgs[0]), make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range vgs {
		h.u[n-1-i], h.r[n-1-i] = 1/(vgs[i]-h.pole), r[i]
	}
	h.slopes()
	return h
}

// slopes sets the derivative at each row: between rows the weighted harmonic mean
// of the chords, which keeps each piece monotone; at the ends the chord.
// (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300–304.)
func (h *hyperbola) slopes() {
	n := len(h.u)
	chord := func(i int) float64 { return math.Max(0, (h.r[i+1]-h.r[i])/(h.u[i+1]-h.u[i])) }
	for i := range h.d {
		switch {
		case n == 1:
			h.d[i] = gateShare * h.r[i] / h.u[i]
		case i == 0:
			h.d[i] = math.Min(chord(0), h.r[0]/h.u[0]*(1-gateShare)) // R stays above gateShare of the highest row
		case i == n-1:
			h.d[i] = chord(n - 2)
		default:
			a, b := chord(i-1), chord(i)
			if a > 0 && b > 0 {
				w1, w2 := 2*(h.u[i+1]-h.u[i])+(h.u[i]-h.u[i-1]), (h.u[i+1]-h.u[i])+2*(h.u[i]-h.u[i-1])
				h.d[i] = (w1 + w2) / (w1/a + w2/b)
			}
		}
	}
}

// at is the resistance at a V_GS above the pole, Ω.
func (h *hyperbola) at(vgs float64) float64 {
	u := 1 / (vgs - h.pole)
	n := len(h.u)
	switch {
	case u <= h.u[0]:
		return h.r[0] + h.d[0]*(u-h.u[0])
	case u >= h.u[n-1]:
		return h.r[n-1] + h.steep()*(u-h.u[n-1])
	}
	i, _ := slices.BinarySearch(h.u, u)
	if h.u[i] == u {
		return h.r[i]
	}
	i--
	w := h.u[i+1] - h.u[i]
	t := (u - h.u[i]) / w
	s := 1 - t
	return h.r[i] + t*t*(1+2*s)*(h.r[i+1]-h.r[i]) + w*t*s*(s*h.d[i]-t*h.d[i+1])
}

// voltageOf is the V_GS at which the curve reaches a resistance above its rows.
func (h *hyperbola) voltageOf(r float64) float64 {
	n := len(h.u)
	return h.pole + 1/(h.u[n-1]+(r-h.r[n-1])/h.steep())
}

// steep is dR/du below the lowest row. Rows may be equal in the table; the channel
// still holds part of the resistance, so that the curve rises without bound.
func (h *hyperbola) steep() float64 {
	n := len(h.u)
	return math.Max(h.d[n-1], gateShare/2*h.r[n-1]/h.u[n-1])
}

// RDSOnOverVGS is R_DS(on) at 25 °C against V_GS: one line through every typ of
// the rows, one through every max. Both fall monotonically with V_GS and rise
// without bound towards the threshold, the typical one or the highest (see hyperbola).
func (p *Part) RDSOnOverVGS() (*Curve, error) {
	rows := p.Characteristics.RDSOn
	if len(rows) == 0 {
		return nil, &NoCurve{"r_ds_on", "the sheet gives no r_ds_on"}
	}
	typical, midway, ok := p.typicalThreshold()
	if !ok {
		return nil, &NoCurve{"r_ds_on", "the sheet gives no threshold at which the resistance begins to fall"}
	}
	highest := typical
	if m := p.Characteristics.VGSTh.Max; m.Known() {
		highest = m.Value
	}
	var notes []string
	if midway {
		notes = append(notes, midwayNote)
	}
	var tv, tr, mv, mr []float64
	for _, r := range rows {
		if r.Typ.Known() {
			tv, tr = append(tv, r.VGS.Value), append(tr, r.Typ.Value)
		}
		if r.Max.Known() {
			mv, mr = append(mv, r.VGS.Value), append(mr, r.Max.Value)
		}
	}
	end := math.Max(rows[len(rows)-1].VGS.Value, p.Ratings.VGSMax.Value)
	out := &Curve{ID: "r_ds_on", Title: "On-resistance over gate voltage", Notes: notes,
		X: Axis{Symbol: "V_{GS}", Unit: volts, Max: roundUp(end)}, Y: Axis{Symbol: "R_{DS(on)}", Unit: milliohm}}
	out.Y.Max = roundUp(4 * slices.Max(append(slices.Clone(tr), mr...)))
	add := func(label string, pole float64, vgs, r []float64) {
		if len(vgs) == 0 || !slices.IsSorted(vgs) {
			return
		}
		if !slices.IsSortedFunc(r, func(a, b float64) int { return cmp.Compare(b, a) }) {
			out.Notes = append(out.Notes, "The "+label[:3]+" column rises with V_GS, which no channel does, so it is not drawn.")
			return
		}
		h := through(pole, vgs, r)
		from := h.voltageOf(out.Y.Max)
		// Steps of equal ratio above the pole follow the steep part.
		xs := byDecade(from-h.pole, end-h.pole, 40)
		for i := range xs {
			xs[i] += h.pole
		}
		xs[len(xs)-1] = math.Max(end, xs[len(xs)-1])
		s := line(label, h.at, xs, vgs...)
		s.from, s.open = h.pole, true
		out.Series = append(out.Series, s)
	}
	add("typ, 25 °C", typical, tv, tr)
	add("max, 25 °C", highest, mv, mr)
	if len(out.Series) == 0 {
		return nil, &NoCurve{"r_ds_on", "the rows of r_ds_on hold no resistance that falls as v_gs rises"}
	}
	return out, nil
}

// coldest is where curves over the junction temperature begin, °C: where sheets begin them.
const coldest = -55

// RatioCurve is k(T_J), R_DS(on) over its value at 25 °C, as Part.Ratio has it:
// straight between the sheet's points, or the usual rise of the voltage class.
func (p *Part) RatioCurve() (*Curve, error) {
	if !p.Ratings.VDS.Known() && len(p.Characteristics.Ratio) < 2 {
		return nil, &NoCurve{"r_ds_on_ratio", "the sheet gives neither r_ds_on_ratio nor the v_ds by which the usual rise is chosen"}
	}
	hot := 150.0
	if p.Ratings.Junction.Known() {
		hot = p.Ratings.Junction.Value
	}
	k := func(t float64) float64 { v, _ := p.Ratio(t); return v }
	var table []float64
	for _, point := range p.Characteristics.Ratio {
		table = append(table, point.Temperature.Value)
	}
	grid := evenly(coldest, hot, 8)
	out := &Curve{ID: "r_ds_on_ratio", Title: "On-resistance over temperature", Series: []Series{line("typical", k, grid, append(table, 25)...)},
		X: Axis{Symbol: "T_J", Unit: celsius, Min: coldest, Max: hot}, Y: Axis{Symbol: "R_{DS(on)}/R_{DS(on),25}", Unit: ratio}}
	out.Y.Max = math.Ceil(k(hot)*4) / 4
	if _, own := p.Ratio(25); !own {
		out.Notes = []string{"The sheet gives no curve; this is the usual rise for its voltage."}
	}
	return out, nil
}
