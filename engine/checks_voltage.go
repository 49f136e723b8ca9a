package engine

import (
	"fmt"
	"math"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

func judgeExtraLowVoltage(j *judgement) {
	if !j.need(supplyMaximum) {
		return
	}
	j.most(j.q(supplyMaximum), extraLowVoltage, 1, si.Voltage)
	j.source = "supply_maximum <= 60"
	j.Formula, j.Numbers = "V_M ≤ 60 V", j.t(supplyMaximum)+" ≤ 60 V"
	j.Because = fmt.Sprintf("The supply reaches at most %s, and this program sizes up to 60 V DC.", j.t(supplyMaximum))
}

// judgeDrainVoltage: an unclamped load is judged here by the standing voltage
// alone; what its kick does is another question (freewheel, avalanche).
func judgeDrainVoltage(j *judgement) {
	stress := vdsStress
	j.source = "v_ds / vds_stress"
	if j.s.unclamped() {
		stress, j.source = supplyMaximum, "v_ds / supply_maximum"
	}
	if !j.need(vds, stress) {
		return
	}
	j.most(j.q(stress), j.q(vds), usualMargin, si.Voltage)
	j.result = j.words(j.q(vds)/j.q(stress), si.One)
	j.Row = j.rowOf(vds)
	kick := ""
	if j.s.unclamped() {
		kick = "; the kick of the load comes on top, see avalanche"
	}
	j.Because = fmt.Sprintf("The rating of %s is %s times the %s between drain and source%s%s.", j.t(vds), j.result, j.t(stress),
		j.as("", ", less than the usual 1.25 times (common practice)", ", so it is exceeded"), kick)
	j.Mend = "holds with V_DSS ≥ " + upTo(usualMargin*j.q(stress), si.Voltage)
}

// gateStress is the highest gate-source voltage in the turn-on direction, in V,
// with its formula; the supply is then at its highest.
func (j *judgement) gateStress() (v float64, source string, ok bool) {
	s := j.s
	share := ""
	if s.given(pullDown) {
		share = " * pull_down / (pull_down + series_resistor)"
	}
	switch {
	case s.circuit.Placement != HighSide:
		if !j.need(logicHigh) {
			return 0, "", false
		}
		return j.q(logicHigh), "logic_high", true
	case !j.need(supplyMaximum, logicLow, seriesResistor):
		return 0, "", false
	case s.shifted():
		return j.q(supplyMaximum) * s.divider(), "supply_maximum" + share, true
	}
	return (j.q(supplyMaximum) - j.q(logicLow)) * s.divider(), "(supply_maximum - logic_low)" + share, true
}

func judgeGateRating(j *judgement) {
	v, source, ok := j.gateStress()
	if !ok || !j.need(vgs) {
		return
	}
	j.source = source + " <= v_gs"
	j.most(v, j.q(vgs), usualMargin, si.Voltage)
	if j.Verdict == Fails { // a comparison that is not true must not stand as if it were
		j.source = source + " > v_gs"
	}
	j.Row = j.rowOf(vgs)
	j.Because = fmt.Sprintf("The gate gets up to %s, and its rating is %s%s.", j.words(v, si.Voltage), j.t(vgs),
		j.as("", "; that is inside, but nearer than the usual margin of 1.25 times (common practice)", ""))
	j.Mend = "holds with a V_GS rating ≥ " + upTo(usualMargin*v, si.Voltage)
	if up := j.s.q(pullDown); j.s.shifted() && j.s.given(pullDown) {
		if low := up * (j.q(supplyMaximum)*usualMargin/j.q(vgs) - 1); low > 0 {
			j.Mend += ", or with R_series ≥ " + e24AtLeast(low)
		}
	}
}

func e24AtLeast(r float64) string { return si.Of(si.E24.AtLeast(r), si.Resistance).String() }
func e24AtMost(r float64) string  { return si.Of(si.E24.AtMost(r), si.Resistance).String() }

// overPin is how far a voltage at a pin may exceed its supply: the clamp diode inside conducts beyond (common practice).
const overPin = 0.3

func directHighSide(s *Sizing) bool {
	return s.circuit.Placement == HighSide && !s.shifted()
}

func judgePinOvervoltage(j *judgement) {
	if !j.need(supplyMaximum, logicHigh) {
		return
	}
	j.source = "supply_maximum <= logic_high + 0.3"
	j.most(j.q(supplyMaximum), j.q(logicHigh)+overPin, 1, si.Voltage)
	sign := j.as("≤", "≤", ">")
	j.Formula, j.Numbers = "V_M "+sign+" V_pin + 0.3 V", j.t(supplyMaximum)+" "+sign+" "+j.t(logicHigh)+" + 0.3 V"
	j.Because = fmt.Sprintf("The resistor from gate to source takes the pin to the supply, up to %s; %s than 0.3 V above its own %s.",
		j.t(supplyMaximum), j.as("that is no more", "", "that is more"), j.t(logicHigh))
	j.Mend = "holds with stage: level_shift, or with a supply of at most " + j.words(j.q(logicHigh)+overPin, si.Voltage)
}

func judgeFullyOn(j *judgement) {
	if len(j.s.circuit.Part.Characteristics.RDSOn) == 0 {
		j.Because = "This cannot be told: the file has no row of R_DS(on); look in the datasheet for the drain-source on-resistance and its V_GS condition."
		return
	}
	if !j.need(vgsOn, vgsRequired) {
		return
	}
	j.Value, j.Limit = si.Of(j.q(vgsOn), si.Voltage), si.Of(j.q(vgsRequired), si.Voltage)
	j.Ratio = si.Of(j.q(vgsOn)/j.q(vgsRequired), si.One)
	j.Edges = []float64{1 / 1.02, 1}
	j.source = j.s.equation(vgsOn)
	row, fit := j.s.row()
	switch fit {
	case part.Guaranteed:
		j.Verdict = Holds
		j.Because = fmt.Sprintf("The gate gets %s, and R_DS(on) is guaranteed from %s on.", j.t(vgsOn), row.VGS)
	case part.Tight:
		j.Verdict = Tight
		j.Because = fmt.Sprintf("The gate gets %s, which is less than the %s of the lowest row by 2 %% or less (common practice: it still serves).", j.t(vgsOn), row.VGS)
	default:
		j.Verdict = Fails
		j.Because = fmt.Sprintf("The gate gets %s, and R_DS(on) is guaranteed only from %s on; the threshold V_GS(th) is where a trickle begins, not where the part is on.", j.t(vgsOn), j.t(vgsRequired))
	}
	j.Row = j.resistanceRow()
	if j.Row == "" {
		lowest, _ := j.s.circuit.Part.LowestRow()
		j.Row = "R_DS(on) max " + lowest.Max.String() + " at V_GS " + lowest.VGS.String()
	}
	j.Mend = fmt.Sprintf("holds with a part whose R_DS(on) is guaranteed at V_GS ≤ %s, or with a gate voltage of at least %s", downTo(j.q(vgsOn), si.Voltage), j.t(vgsRequired))
}

// offLevelMatters: always on the high side; on the low side where the pin's low level is not 0 V.
func offLevelMatters(s *Sizing) bool {
	return s.circuit.Placement == HighSide || s.given(logicLow) && s.q(logicLow) > 0
}

func judgeTurnsOff(j *judgement) {
	if j.s.shifted() && !j.s.given(pullDown) {
		j.Verdict = Fails
		j.Because = "Nothing takes the gate back to its source: the level shift can only pull it down."
		j.Mend = "holds with a pull_up from gate to source, for instance 10 kΩ"
		return
	}
	if !j.need(vgsOff, vthMin) {
		return
	}
	j.source = j.s.equation(vgsOff)
	j.most(j.q(vgsOff), j.q(vthMin), usualMargin, si.Voltage)
	if j.q(vgsOff) >= j.q(vthMin)*(1-near) { // a trickle flows at the threshold itself
		j.Verdict = Fails
	}
	j.Row = j.rowOf(vthMin)
	j.Because = fmt.Sprintf("When off, %s is left from gate to source, and the part may begin to conduct at %s%s.", j.t(vgsOff), j.t(vthMin),
		j.as("", "; the usual margin is 1.25 times (common practice)", ""))
	if j.s.circuit.Placement == HighSide {
		j.Mend = "holds with stage: level_shift"
	} else {
		j.Mend = "holds with a low level of at most " + downTo(j.q(vthMin)/usualMargin, si.Voltage)
	}
}

// thresholdDrift is how much the threshold falls per kelvin, V/K (common practice).
const thresholdDrift = 5e-3

// judgeHeldOff compares the lift of the gate by a rising supply with the lowest
// threshold of the warm part. A gate that nothing holds is tight at best.
func judgeHeldOff(j *judgement) {
	warm := junctionTemperature
	if !j.s.has(warm) {
		warm = junctionLimit // whatever heats it, it is not to become warmer than that
	}
	if !j.need(gateBump, vthMin, warm) {
		return
	}
	limit := j.q(vthMin) - thresholdDrift*math.Max(0, j.q(warm)-25)
	j.source = j.s.equation(gateBump)
	j.most(j.q(gateBump), limit, usualMargin, si.Voltage)
	j.Row = j.rowOf(vthMin, cRss, cIss)
	lift := fmt.Sprintf("The supply comes up and lifts the gate by %s; at %s the part may begin to conduct at %s (5 mV less for each kelvin above 25 °C, common practice)", j.t(gateBump), j.t(warm), j.words(math.Max(0, limit), si.Voltage))
	if !j.s.given(pullDown) {
		if j.Verdict == Holds {
			j.Verdict = Tight
		}
		j.Because = lift + ", and no resistor from gate to source holds the gate while the pin is not yet an output."
		j.Mend = "holds with a resistor from gate to source, for instance 100 kΩ"
	} else {
		j.Because = lift + j.as("", "; the usual margin is 1.25 times", "") + "."
	}
	if r := limit / usualMargin * j.s.q(supplyRise) / (j.q(cRss) * j.q(supplyMaximum)); r > 0 && limit > 0 {
		j.Mend = "holds with R_pd ≤ " + e24AtMost(math.Min(r, handyPullDown))
	}
}

// handyPullDown is the largest resistor in Ω that still outweighs leakage and dirt on a board (common practice).
const handyPullDown = 1e6
