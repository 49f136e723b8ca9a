package part

import "math"

// RowFit says how far a guaranteed row of R_DS(on) serves at a gate voltage.
type RowFit int

// None: no row lies at or below the voltage, so nothing is guaranteed. Tight:
// only a row slightly above it serves. Guaranteed: a row lies at or below it.
const (
	None RowFit = iota
	Tight
	Guaranteed
)

// String names the fit.
func (f RowFit) String() string {
	switch f {
	case Tight:
		return "tight"
	case Guaranteed:
		return "guaranteed"
	}
	return "none"
}

// reach is how far above the gate voltage a row may lie and still serve (common
// practice: the few millivolts that a gate divider takes do not change the channel).
const reach = 0.02

// same is the relative difference below which two gate voltages count as equal.
// Processors round a product in different ways; a branch must not follow them.
const same = 1e-9

// RowFor chooses the row that holds at a gate-source voltage, in volts; the sign
// is dropped. It is the row with the highest V_GS at or below it. Where there is
// none, the lowest row still serves if it lies at most 2 % above, and the fit is
// Tight. Otherwise the fit is None and the Row is zero.
func (p *Part) RowFor(vgs float64) (Row, RowFit) {
	vgs = math.Abs(vgs)
	rows := p.Characteristics.RDSOn
	for i := len(rows) - 1; i >= 0; i-- {
		if rows[i].VGS.Value <= vgs*(1+same) {
			return rows[i], Guaranteed
		}
	}
	if len(rows) > 0 && rows[0].VGS.Value <= vgs*(1+reach+same) {
		return rows[0], Tight
	}
	return Row{}, None
}

// LowestRow is the row with the lowest V_GS: the voltage that the part needs to be fully on.
func (p *Part) LowestRow() (Row, bool) {
	if len(p.Characteristics.RDSOn) == 0 {
		return Row{}, false
	}
	return p.Characteristics.RDSOn[0], true
}

// Ratio is k(T_J): R_DS(on) at a junction temperature in °C, over its value at
// 25 °C. With a table it is piecewise linear, the outer slopes continued. Without
// one it is 1 + α (T_J − 25 °C), α = 0.006/K for parts up to 40 V, 0.009/K up to
// 60 V, 0.013/K above: the upper side of published datasheets. fromTable tells
// which. k never goes below 0.1, where a continued slope means nothing.
func (p *Part) Ratio(tj float64) (k float64, fromTable bool) {
	table := p.Characteristics.Ratio
	if len(table) < 2 {
		return math.Max(lowestRatio, 1+p.alpha()*(tj-25)), false
	}
	i := 1
	for i < len(table)-1 && tj > table[i].Temperature.Value {
		i++
	}
	a, b := table[i-1], table[i]
	slope := (b.Ratio.Value - a.Ratio.Value) / (b.Temperature.Value - a.Temperature.Value)
	return math.Max(lowestRatio, a.Ratio.Value+slope*(tj-a.Temperature.Value)), true
}

const lowestRatio = 0.1

// alpha is the rise of R_DS(on) per kelvin for a part without a table, 1/K.
func (p *Part) alpha() float64 {
	switch v := p.Ratings.VDS.Value; {
	case v <= 40:
		return 0.006
	case v <= 60:
		return 0.009
	}
	return 0.013
}
