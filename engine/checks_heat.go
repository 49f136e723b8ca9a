package engine

import (
	"fmt"
	"math"

	"fullyon/engine/si"
)

// heatKnown tells whether there is a temperature, or a reason in the physics why there is none.
func heatKnown(s *Sizing) bool {
	return s.has(junctionTemperature) && s.q(currentRMS) > 0 || !s.has(junctionTemperature) && s.absent[junctionTemperature].Because == Runaway
}

// settled is the share of each degree that the heat may bring back before the
// temperature is called hard to foresee (our convention).
const settled = 0.5

// judgeRunaway asks how many degrees one degree brings with it; at 1 or above
// nothing settles.
func judgeRunaway(j *judgement) {
	if !j.need(thetaTotal, currentRMS, RDSOnCold) {
		return
	}
	j.most(j.s.gain(), 1, 1/settled, si.One)
	j.Row = j.resistanceRow()
	most := j.q(thetaTotal) * settled / j.Value.Value
	if j.s.has(junctionTemperature) {
		j.Because = fmt.Sprintf("Each degree brings %s of a degree more with it through the rising resistance%s.", j.words(j.Value.Value, si.One),
			j.as(", so the temperature settles", "; it settles, but small changes have large effects above 0.5 (our convention)", ""))
	} else {
		j.Because = "No temperature below 1000 °C is reached at which the part settles: each degree raises the resistance, and that makes more heat than the surroundings take away."
		if j.Verdict != Fails { // it would settle in the end, but not as a part
			j.Because = "The heat would take the silicon above 1000 °C: there is far more of it than the surroundings take away."
			j.Ratio, j.Edges = si.Quantity{}, nil
		}
		j.Verdict = Fails
		if j.s.has(lossLimit) && j.s.has(junctionLimit) && j.s.has(ambient) {
			most = math.Min(most, (j.q(junctionLimit)-j.q(ambient))/j.q(lossLimit))
		}
	}
	j.Mend = "holds with less heat or cooler air"
	if j.Verdict == Holds || !(most > 0) || math.IsInf(most, 0) {
		return
	}
	// The rise of the resistance is another one at another temperature.
	for range 10 {
		theta := twoFigures(most, math.Floor)
		if cooler := j.s.with(thetaTotal, theta); cooler.has(junctionTemperature) && cooler.gain() <= settled {
			j.Mend = "holds with θ ≤ " + si.Of(theta, si.ThermalResistance).String()
			return
		}
		most *= 0.9
	}
}

// gain is how many degrees one degree brings with it, θ I² R_25 dk/dT, at the
// temperature reached, or at 1000 °C where none is.
func (s *Sizing) gain() float64 {
	at := 1.0 * runawayAt
	if s.has(junctionTemperature) {
		at = s.q(junctionTemperature)
	}
	up, _ := s.circuit.Part.Ratio(at + 0.5)
	down, _ := s.circuit.Part.Ratio(at - 0.5)
	i := s.q(currentRMS)
	return s.q(thetaTotal) * i * i * s.q(RDSOnCold) * (up - down)
}

// heat judges a temperature in °C against the rated one. The margin is that of
// the limit below the rating; ratios are those of the rises above the air.
func (j *judgement) heat(t float64) bool {
	if !j.need(ambient) {
		return false
	}
	air := j.q(ambient)
	rated, comfort := tj, 1.0
	switch {
	case !j.s.has(tj) && !j.s.given(junctionLimit):
		j.need(tj)
		return false
	case !j.s.has(tj):
		rated = junctionLimit
	case j.q(tj) > air:
		comfort = math.Max(0, math.Min(1, (j.q(junctionLimit)-air)/(j.q(tj)-air)))
	}
	j.Most = true
	j.rate(t-air, j.q(rated)-air, comfort)
	j.Value, j.Limit = si.Of(t, si.Temperature), si.Of(j.q(rated), si.Temperature)
	j.Row = j.rowOf(tj)
	return true
}

// margins says how a temperature lies against limit and rating.
func (j *judgement) margins() string {
	if !j.s.has(tj) {
		return j.as(", within the limit of "+j.t(junctionLimit), "", ", above the limit of "+j.t(junctionLimit))
	}
	return j.as(
		fmt.Sprintf(", at most the limit of %s and below the rating of %s", j.t(junctionLimit), j.t(tj)),
		fmt.Sprintf(", below the rating of %s but above the limit of %s that keeps the margin", j.t(tj), j.t(junctionLimit)),
		fmt.Sprintf(", above the rating of %s", j.t(tj)))
}

func judgeJunction(j *judgement) {
	j.source = j.s.equation(junctionTemperature)
	if !j.need(junctionTemperature) {
		j.mendHeat()
		return
	}
	if !j.heat(j.q(junctionTemperature)) {
		return
	}
	if row := j.resistanceRow(); row != "" {
		j.Row = row + ", " + j.Row
	}
	j.Because = fmt.Sprintf("%s of heat take the silicon to %s%s.", j.t(lossTotal), j.t(junctionTemperature), j.margins())
	if j.q(lossTotal) == 0 {
		j.Because = fmt.Sprintf("No heat is made, and the silicon stays at %s%s.", j.t(junctionTemperature), j.margins())
	}
	j.mendHeat()
}

// mendHeat gives the thermal resistance and the load current at which the junction keeps its limit.
func (j *judgement) mendHeat() {
	if !j.s.has(lossLimit) || !j.s.has(junctionLimit) || !j.s.has(ambient) || j.q(lossLimit) <= 0 {
		return
	}
	room := j.q(junctionLimit) - j.q(ambient)
	if room <= 0 {
		j.Mend = "holds with cooler air only: it is at the limit by itself"
		return
	}
	j.Mend = "holds with θ ≤ " + downTo(room/j.q(lossLimit), si.ThermalResistance) + " from junction to air"
	if j.s.has(currentMaxThermal) && j.q(currentMaxThermal) > 0 {
		j.Mend += ", or with a load of at most " + downTo(j.q(currentMaxThermal), si.Current)
	}
}

func isMotor(s *Sizing) bool { return s.circuit.Load.Kind == Motor }

func judgeStall(j *judgement) {
	j.source = j.s.equation(junctionTemperatureStall)
	ok := j.need(junctionTemperatureStall)
	if ok && !j.heat(j.q(junctionTemperatureStall)) {
		return
	}
	lasts := "for ever"
	if j.s.given(stallTime) {
		lasts = "for " + j.t(stallTime)
	}
	if ok {
		j.Because = fmt.Sprintf("Held still %s, the motor draws %s, which takes the silicon to %s%s.", lasts, j.t(peakCurrent), j.t(junctionTemperatureStall), j.margins())
	}
	if j.s.has(rdsOnLimit) && j.s.has(thetaTotal) && j.s.has(junctionLimit) && j.s.has(ambient) {
		if room := j.q(junctionLimit) - j.q(ambient); room > 0 {
			j.Mend = "holds with a lasting stall of at most " + downTo(math.Sqrt(room/(j.q(thetaTotal)*j.q(rdsOnLimit))), si.Current) + ", by a current limit or a thermal cut-out"
		}
	}
}

// judgeHeatsink asks the same as junction in thermal resistances: what the heat
// at the limit allows against what there is.
func judgeHeatsink(j *judgement) {
	if !j.need(thetaTotal, lossLimit, junctionLimit, ambient) {
		return
	}
	room, p := j.q(junctionLimit)-j.q(ambient), j.q(lossLimit)
	if p <= 0 {
		j.Verdict, j.Because = Holds, "No heat is made, so no heatsink is needed."
		return
	}
	sink := j.s.circuit.Heatsinked() || j.s.state[thetaSA] == set
	allowed, there, source := room/p, j.q(thetaTotal), "(junction_limit - ambient) / loss_limit"
	if sink {
		allowed, there = j.q(heatsinkRequired), j.q(thetaSA)
		source = j.s.equation(heatsinkRequired)
		j.Row = j.rowOf(thetaJC)
	} else {
		j.Row = j.rowOf(thetaJA)
	}
	j.source = source
	if !sink {
		j.result = j.perWatt(allowed)
	}
	j.most(there, allowed, 1, si.ThermalResistance)
	if j.Verdict == Fails && j.s.has(junctionTemperature) && j.s.has(tj) && j.q(junctionTemperature) <= j.q(tj)*(1+near) {
		j.Verdict = Tight // as junction says: below the rating, above the limit
	}
	part := "Without a heatsink"
	if sink {
		part = "The heatsink"
	}
	j.Because = fmt.Sprintf("%s %s stand against the %s that the heat of %s at the limit allows.", part, j.perWatt(there), j.perWatt(math.Max(0, allowed)), j.t(lossLimit))
	if !sink {
		j.Because = fmt.Sprintf("Without a heatsink %s from junction to air stand against the %s that the heat of %s at the limit allows%s.", j.perWatt(there), j.perWatt(math.Max(0, allowed)), j.t(lossLimit),
			j.as(", so none is needed", ", so one is needed to keep the limit", ", so one is needed"))
	}
	switch {
	case !j.s.has(heatsinkRequired):
		j.Mend = "a heatsink can be sized once the datasheet's thermal resistance from junction to case is given"
	case j.q(heatsinkRequired) <= 0:
		j.Mend = "no heatsink will do: the part needs less heat or a lower R_θJC"
	default:
		j.Mend = "holds with a heatsink of θ_SA ≤ " + downTo(j.q(heatsinkRequired), si.ThermalResistance)
	}
}

func (j *judgement) perWatt(v float64) string { return j.words(v, si.ThermalResistance) }

func loadInrushes(s *Sizing) bool {
	return s.circuit.Load.Kind == Lamp || s.circuit.Load.Kind == Capacitive
}

// judgeInrush: the rush comes on top of the running temperature, as when a lamp
// is switched off and on again.
func judgeInrush(j *judgement) {
	if len(j.s.circuit.Part.Characteristics.ZTh.Cells) == 0 {
		j.Because = "This cannot be told: the file has no transient thermal response (z_th); look in the datasheet for the transient thermal impedance."
		return
	}
	j.source = j.s.equation(pulseTemperatureRise)
	if !j.need(pulseTemperatureRise, junctionTemperature) || !j.heat(j.q(junctionTemperature)+j.q(pulseTemperatureRise)) {
		return
	}
	j.Row = "transient thermal response"
	j.Because = fmt.Sprintf("The rush of %s heats the silicon by %s to %s%s.", j.t(peakCurrent), j.t(pulseTemperatureRise), j.words(j.Value.Value, si.Temperature), j.margins())
	if j.Verdict == Holds {
		return
	}
	room := j.q(junctionLimit) - j.q(junctionTemperature)
	switch {
	case room <= 0:
		j.Mend = "holds with a part that runs cooler"
	case j.s.circuit.Load.Kind == Lamp:
		j.Mend = "holds with R_DS(on) ≤ " + downTo(j.q(RDSOnCold)*room/j.q(pulseTemperatureRise), si.Resistance)
	default:
		j.Mend = "holds with a slower way to fill the capacitor, or another part"
		if c := j.largestCapacitance(room); c > 0 {
			j.Mend = "holds with a capacitance ≤ " + downTo(c, si.Capacitance) + ", or with more resistance in the way of the rush"
		}
	}
}

// largestCapacitance finds how much may be filled at once, in F; 0 where even a
// thousandth is too much. The heat of a fill has no simple law: its time grows with it.
func (j *judgement) largestCapacitance(room float64) float64 {
	fits := func(c float64) bool {
		s := j.s.with(loadCapacitance, c)
		return s.has(pulseTemperatureRise) && s.q(pulseTemperatureRise) <= room
	}
	high := j.s.q(loadCapacitance)
	low := high
	for range 10 {
		low /= 2
		if fits(low) {
			for range 6 {
				if mid := math.Sqrt(low * high); fits(mid) {
					low = mid
				} else {
					high = mid
				}
			}
			return low
		}
		high = low
	}
	return 0
}
