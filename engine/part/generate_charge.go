package part

import (
	"math"

	"fullyon/engine/si"
)

func coulomb(v float64) si.Quantity { return si.Of(v, si.Charge) }
func farad(v float64) si.Quantity   { return si.Of(v, si.Capacitance) }

// merit is the gate charge times resistance of a new process at 10 V, in nC mΩ,
// by voltage: about 90 at 30 V, rising as V^1.2.
func merit(volts float64) float64 { return 90 * math.Pow(volts/30, 1.2) }

// charge draws gate charge, plateau and capacitances.
func (g *generator) charge(p *Part, volts float64) {
	c := &p.Characteristics
	rows := c.RDSOn
	top, low := rows[len(rows)-1], rows[0]
	at := top.VGS.Value
	if low.VGS.Value >= 4 && p.LogicLevel() {
		at = low.VGS.Value
	}
	fom := merit(volts) * math.Pow(10, g.age) * g.between(0.7, 1.7)
	if p.Channel == P {
		fom *= 2.5
	}
	full := fom / (top.Max.Value * 1000) * at / 10 // nC at the test voltage; small-signal parts keep a floor
	full = math.Max(full, 0.6*at/5)
	// The plateau lies between the highest threshold and the lowest row.
	ceiling := low.VGS.Value * 0.92
	floor := c.VGSTh.Typ.Value + 0.15*(ceiling-c.VGSTh.Typ.Value)
	c.VPlateau = volt(tenths(floor + (ceiling-floor)*(0.25+0.45*g.rng.Float64())))
	gd := full * g.between(0.16, 0.58)
	gs := full * g.between(0.13, 0.22)
	c.QG, c.QGAt = coulomb(printed(full)*1e-9), volt(at)
	c.QGS, c.QGD = coulomb(printed(gs)*1e-9), coulomb(printed(gd)*1e-9)
	// q_gs fills C_iss up to the plateau.
	iss := gs / c.VPlateau.Value * g.between(0.9, 1.15) // nF
	c.CIss = farad(printed(iss) * 1e-9)
	c.CRss = farad(printed(iss*g.between(0.04, 0.1)) * 1e-9)
	c.COss = farad(printed(iss*g.between(0.12, 0.3)) * 1e-9)
	c.RGate = ohm(printed(g.between(0.8, 4)))
	c.VSD = volt(math.Round((0.78+0.2*g.rng.Float64())*100) / 100)
}

// headline computes the continuous and pulsed current from the heat they make.
func (g *generator) headline(p *Part, o outline) {
	rows := p.Characteristics.RDSOn
	r := rows[len(rows)-1]
	if !o.tab && len(rows) > 1 {
		r = rows[len(rows)-2] // small parts are rated at the row they are mostly used at
	}
	theta, at := p.Thermal.JunctionAmbient.Value, AtAmbient
	if o.tab {
		theta, at = p.Thermal.JunctionCase.Value, AtCase
	}
	k, _ := p.Ratio(o.hottest)
	i := math.Sqrt((o.hottest - 25) / (theta * r.Max.Value * k))
	p.Ratings.ID, p.Ratings.IDAt = ampere(down(i)), at
	p.Ratings.IDPulse = ampere(printed(down(i) * o.fastestPulse))
	test := printed(down(i) * 0.6)
	if !o.tab {
		test = down(i)
	}
	for n := range rows {
		rows[n].ID = ampere(test)
	}
}

// down rounds to two figures and never up: a rating promises no more than there is.
func down(v float64) float64 {
	r := printed(v)
	if r > v {
		step := math.Pow(10, math.Floor(math.Log10(v))-1)
		r = si.Round(r-step, 2)
	}
	return r
}

// avalanche rates the larger dies: energy grows with the area of the silicon.
func (g *generator) avalanche(p *Part, o outline) {
	if g.area < 1.5 {
		return
	}
	p.Ratings.EAS = si.Of(printed(g.about(12*g.area, 1.6))/1000, si.Energy)
	i := printed(p.Ratings.ID.Value * g.between(0.4, 0.7))
	if !o.tab {
		i = p.Ratings.ID.Value
	}
	p.Ratings.IAS = ampere(i)
}
