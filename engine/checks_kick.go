package engine

import (
	"fmt"

	"fullyon/engine/si"
)

func isInductive(s *Sizing) bool { return s.circuit.Inductive() }

// judgeFreewheel asks of the diode: current, and voltage with the usual margin.
// Without a diode the part itself takes the kick; that is tight at best, and
// fails where the part is not rated for it.
func judgeFreewheel(j *judgement) {
	if !j.s.clamped() {
		j.Mend = "holds with a diode across the load, its cathode to the positive end"
		if j.s.has(supplyMaximum) && j.s.has(switchCurrent) {
			j.Mend += fmt.Sprintf(", for %s and %s or more", upTo(j.highest(), si.Current), upTo(usualMargin*j.q(supplyMaximum), si.Voltage))
		}
		if !j.s.has(eas) {
			j.Verdict, j.Because = Fails, "The load has inductance and no diode: when the switch opens, its current drives the drain up until the part breaks down, and the part is not rated for that."
			return
		}
		j.Verdict, j.Because = Tight, "The load has inductance and no diode: the part itself takes the kick, see avalanche; a diode is the usual way (common practice)."
		return
	}
	if !j.need(switchCurrent, iF, vRR, supplyMaximum) {
		return
	}
	block := j.q(supplyMaximum)
	j.least(j.q(vRR), block, usualMargin, si.Voltage)
	volts := j.Check
	j.most(j.highest(), j.q(iF), 1, si.Current)
	if j.s.has(rippleCurrent) {
		j.source, j.result = "switch_current + ripple_current / 2", j.words(j.highest(), si.Current)
	} else {
		j.source = map[bool]string{true: "running_current <= i_f", false: "running_current > i_f"}[j.Verdict != Fails]
	}
	carry := fmt.Sprintf("the diode takes over %s and may carry %s", j.words(j.highest(), si.Current), j.t(iF))
	hold := fmt.Sprintf("it has to block %s and may block %s%s", j.t(supplyMaximum), j.t(vRR), map[bool]string{true: " (the usual margin is 1.25 times, common practice)"}[volts.Verdict == Tight])
	j.Because = fmt.Sprintf("When the switch opens, %s; %s.", carry, hold)
	j.Mend = "holds with a diode for I_F ≥ " + upTo(j.highest(), si.Current) + " and V_RRM ≥ " + upTo(usualMargin*block, si.Voltage)
	if volts.Verdict.Worse(j.Verdict) {
		j.Verdict, j.Value, j.Limit, j.Ratio, j.Edges, j.Most = volts.Verdict, volts.Value, volts.Limit, volts.Ratio, volts.Edges, volts.Most
		j.source, j.result = "v_rrm / supply_maximum", j.words(volts.Ratio.Value, si.One)
	}
}

// judgeAvalanche holds energy and current of the kick against the single-pulse
// ratings, the energy derated in a straight line to nothing at the rated junction
// temperature (as published curves are).
func judgeAvalanche(j *judgement) {
	j.Mend = "holds with a freewheel diode across the load"
	j.source = j.s.equation(avalancheEnergy)
	if !j.need(avalancheEnergy, eas, ias, junctionTemperature, tj) {
		return
	}
	e, i := j.q(avalancheEnergy), j.q(runningCurrent)
	limit := j.q(eas) * (j.q(tj) - j.q(junctionTemperature)) / (j.q(tj) - 25)
	j.most(e, limit, usualMargin, si.Energy)
	j.Row = j.rowOf(eas, ias, vds)
	if limit > j.q(eas) {
		j.most(e, j.q(eas), usualMargin, si.Energy)
		limit = j.q(eas)
	}
	j.Because = fmt.Sprintf("The kick puts %s into the part, which may take %s once at %s%s.", j.t(avalancheEnergy), j.words(max(0, limit), si.Energy), j.t(junctionTemperature),
		j.as("", "; the usual margin is 1.25 times (common practice)", ""))
	switch {
	case isSwitched(j.s):
		j.Verdict = Fails
		j.Because = fmt.Sprintf("The kick puts %s into the part at each of %s periods a second; the rating is for a single pulse.", j.t(avalancheEnergy), j.words(j.q(frequency), si.One))
	case i > j.q(ias)*(1+near) && j.Verdict != Fails:
		j.most(i, j.q(ias), 1, si.Current)
		j.Because = fmt.Sprintf("The kick begins at %s, and the part may break down at %s at most.", j.t(runningCurrent), j.t(ias))
	}
}

// judgeStuckOn: a switch of this kind mostly fails closed. A strip of LEDs or a
// capacitor then merely stays as it is; anything that heats or moves needs
// something that stops it.
func judgeStuckOn(j *judgement) {
	c := j.s.circuit
	switch {
	case c.Load.CutOut == "":
		j.Because = "Switches of this kind mostly fail closed, and the file does not say what stops the load then (load.cut_out): a thermal cut-out, a supply switch in reach."
	case c.Load.CutOut != NoFreewheel:
		j.Verdict = Holds
		j.Because = "Switches of this kind mostly fail closed; then the load is stopped by this: " + c.Load.CutOut + "."
	case c.Load.Kind == LEDStrip || c.Load.Kind == Capacitive:
		j.Verdict = Holds
		j.Because = "Switches of this kind mostly fail closed; the load then stays on as it would in long use, and nothing stops it but the plug."
	default:
		j.Verdict = Fails
		j.Because = "Switches of this kind mostly fail closed, and nothing stops a load that heats or moves."
		j.Mend = "holds with a thermal cut-out, an end switch or a supply switch in reach"
	}
}
