package engine

import (
	"fmt"
	"math"
	"strings"

	"fullyon/engine/si"
)

// pinDrivesGate: with a level shift the pin drives another transistor.
func pinDrivesGate(s *Sizing) bool { return !s.shifted() }

func judgePinCurrent(j *judgement) {
	if !j.need(logicHigh, pinResistance, seriesResistor) {
		return
	}
	j.source = "gate_peak_current = logic_high / (pin_resistance + series_resistor)"
	if !j.s.has(pinCurrentMax) && !j.s.has(pinCurrent) {
		j.need(pinCurrentMax)
		return
	}
	limit, most := pinCurrentMax, pinCurrent
	if !j.s.has(limit) {
		limit = pinCurrent
	}
	if j.s.has(most) {
		j.Mend = "holds with R_series ≥ " + mendResistor(j.q(gateResistorMinRecommended))
	} else {
		j.Mend = "holds with R_series ≥ " + mendResistor(j.q(gateResistorMin))
	}
	if !j.s.has(gatePeakCurrent) {
		j.Verdict, j.Because = Fails, "Nothing limits the current that the empty gate takes from the pin."
		return
	}
	margin := 1.0
	if j.s.has(most) {
		margin = math.Max(1, j.q(limit)/j.q(most))
	}
	j.most(j.q(gatePeakCurrent), j.q(limit), margin, si.Current)
	advised := ""
	if j.s.has(most) && limit != most {
		advised = fmt.Sprintf(" and %s advised", j.t(most))
	}
	j.Because = fmt.Sprintf("The empty gate takes %s at first, and so does a gate shorted to its source for ever; the pin may give %s at most%s.", j.t(gatePeakCurrent), j.t(limit), advised)
}

// mendResistor is the E24 value that a computed least resistance asks for.
func mendResistor(r float64) string {
	if r <= 0 {
		return "0 Ω"
	}
	return e24AtLeast(r)
}

// highest is the highest current in ordinary running, A: with the ripple of a coil on top.
func (j *judgement) highest() float64 {
	i := j.q(switchCurrent)
	if j.s.has(rippleCurrent) {
		i += j.q(rippleCurrent) / 2
	}
	return i
}

func judgeRunningCurrent(j *judgement) {
	if !j.need(switchCurrent, id) {
		return
	}
	i := j.highest()
	j.source = j.s.equation(runningCurrent)
	if j.s.has(rippleCurrent) {
		j.source, j.result = "switch_current + ripple_current / 2", j.words(i, si.Current)
	}
	j.most(i, j.q(id), usualMargin, si.Current)
	j.Row = j.rowOf(id)
	j.Because = fmt.Sprintf("The load takes up to %s, and the headline current of the part is %s%s; heat may allow less, see junction.", j.words(i, si.Current), j.t(id),
		j.as("", ", nearer than the usual margin of 1.25 times (common practice)", ""))
	j.Mend = "holds with I_D ≥ " + upTo(usualMargin*i, si.Current)
	if j.Verdict == Fails {
		return
	}
	if !j.s.has(RDSOnCold) {
		j.need(RDSOnCold)
		return
	}
	if row, _ := j.s.row(); row.ID.Known() && i > row.ID.Value*(1+near) && !(j.s.has(idPulse) && i <= j.q(idPulse)) {
		j.Verdict = Unknown
		j.Because = fmt.Sprintf("The resistance is guaranteed up to %s at this gate voltage, and the load takes %s: beyond it the part may no longer act as a resistance; look in the datasheet for the output characteristics and the pulsed drain current.", row.ID, j.words(i, si.Current))
	}
}

// currentFlows is false for what draws nothing in the long run, as a capacitor once it is full.
func currentFlows(s *Sizing) bool { return !s.has(runningCurrent) || s.q(runningCurrent) > 0 }

// loadRushes tells whether the load draws more than its running current for a while.
func loadRushes(s *Sizing) bool {
	switch s.circuit.Load.Kind {
	case Motor, Lamp, Capacitive:
		return true
	}
	return false
}

func judgePeakCurrent(j *judgement) {
	if !j.need(peakCurrent) {
		return
	}
	limit := idPulse
	if !j.s.has(idPulse) && j.s.has(id) && j.q(peakCurrent) <= j.q(id) {
		limit = id
	}
	j.source = j.s.equation(peakCurrent)
	if !j.need(limit) {
		return
	}
	j.most(j.q(peakCurrent), j.q(limit), usualMargin, si.Current)
	j.Row = j.rowOf(limit)
	what := map[string]string{Motor: "The motor held still", Lamp: "The cold lamp", Capacitive: "The empty capacitor"}[j.s.circuit.Load.Kind]
	j.Because = fmt.Sprintf("%s draws %s, and the part may carry %s for a short time%s.", what, j.t(peakCurrent), j.t(limit),
		j.as("", "; the usual margin is 1.25 times (common practice)", ""))
	j.Mend = "holds with a pulsed drain current ≥ " + upTo(usualMargin*j.q(peakCurrent), si.Current)
	if j.s.circuit.Load.Kind != Motor {
		r := j.q(supplyMaximum)/(j.q(limit)/usualMargin) - j.q(supplyMaximum)/j.q(peakCurrent)
		j.Mend += ", or with " + upTo(r, si.Resistance) + " more in the way of the rush"
	}
}

// supplyLimited: a bench supply always has a limit, other supplies where it is given.
func supplyLimited(s *Sizing) bool {
	return currentFlows(s) && (s.given(currentLimit) || s.circuit.Supply.Kind == Bench)
}

func judgeSupplyCurrent(j *judgement) {
	if !j.need(runningCurrent, currentLimit) {
		return
	}
	j.source = j.s.equation(runningCurrent)
	j.most(j.q(runningCurrent), j.q(currentLimit), usualMargin, si.Current)
	j.Because = fmt.Sprintf("The load takes %s, and the supply gives %s at most%s.", j.t(runningCurrent), j.t(currentLimit),
		j.as("", "; the usual margin is 1.25 times (common practice)", ""))
	j.Mend = "holds with a supply for at least " + upTo(usualMargin*j.q(runningCurrent), si.Current)
}

func fused(s *Sizing) bool {
	return s.circuit.Supply.Kind == Battery || currentFlows(s) && s.given(fuse)
}

// judgeFuse: 1.25 I ≤ fuse ≤ wire rating. Below 1.25 I it may blow in ordinary
// use (tight), below I it will; above the wire's rating it protects nothing.
func judgeFuse(j *judgement) {
	if !j.need(runningCurrent) {
		return
	}
	i := j.q(runningCurrent)
	j.Mend = "holds with a fuse of " + j.words(usualMargin*i, si.Current) + " or the next above"
	if j.s.has(wireRating) {
		j.Mend = "holds with a fuse from " + j.words(usualMargin*i, si.Current) + " to " + j.t(wireRating)
		if usualMargin*i > j.q(wireRating) {
			j.Mend = "holds with wires rated for " + upTo(usualMargin*i, si.Current) + " or more, and a fuse of that value"
		}
	}
	if !j.s.given(fuse) {
		j.Verdict, j.Because = Fails, "A battery can drive a short circuit for a long time, and no fuse stands at its terminal."
		return
	}
	j.source = "fuse / running_current"
	j.least(j.q(fuse), i, usualMargin, si.Current)
	j.result = j.words(j.Ratio.Value, si.One)
	switch {
	case j.Verdict == Fails:
		j.Because = fmt.Sprintf("The fuse of %s is smaller than the running current of %s.", j.t(fuse), j.t(runningCurrent))
	case !j.s.has(wireRating):
		j.need(wireRating)
	case j.q(fuse) > j.q(wireRating)*(1+near):
		j.source, j.result = "fuse > wire_rating", ""
		j.most(j.q(fuse), j.q(wireRating), 1, si.Current)
		j.Because = fmt.Sprintf("The fuse of %s lets through more than the wires can carry, %s, so the wires would be the fuse.", j.t(fuse), j.t(wireRating))
	default:
		j.Because = fmt.Sprintf("The fuse of %s lies above the running current of %s%s and not above what the wires can carry, %s.", j.t(fuse), j.t(runningCurrent),
			j.as("", " (nearer than the usual 1.25 times, so it may tire and blow)", ""), j.t(wireRating))
	}
}

func wired(s *Sizing) bool {
	return currentFlows(s) && (s.given(wireLength) || s.given(crossSection) || s.given(wireRating))
}

// dropShare is the share of the supply that may be lost along the cable (common practice).
const dropShare = 0.05

func judgeWiring(j *judgement) {
	if !j.need(runningCurrent, wireRating) {
		return
	}
	j.source = "running_current / wire_rating"
	j.most(j.q(runningCurrent), j.q(wireRating), usualMargin, si.Current)
	j.result = j.words(j.Ratio.Value, si.One)
	j.Because = fmt.Sprintf("The cable carries %s and is rated for %s%s.", j.t(runningCurrent), j.t(wireRating),
		j.as("", "; the usual margin is 1.25 times (common practice)", ""))
	j.Mend = "holds with a cable rated for " + upTo(usualMargin*j.q(runningCurrent), si.Current) + " or more"
	if !j.s.has(wireDropShare) {
		return
	}
	lost := j.q(wireDropShare)
	share := si.Of(lost, si.One).FiguresIn(percent, 2)
	little := lost <= dropShare*(1+near)
	thicker := "a cable of at most " + downTo(j.q(wireResistance)*dropShare/lost, si.Resistance) + " there and back"
	if j.s.has(crossSection) {
		thicker += " (copper of about " + upTo(j.q(crossSection)*lost/dropShare, si.Area) + ")"
	}
	if little || j.Verdict != Holds {
		j.Because = strings.TrimSuffix(j.Because, ".") + fmt.Sprintf(", and %s of the supply, %s, is lost along it.", share, j.t(wireDrop))
		if !little {
			j.Mend += ", and " + thicker
		}
		return
	}
	j.source, j.result = j.s.equation(wireDropShare), ""
	j.most(lost, dropShare, 1, si.One)
	j.Verdict = Tight // the load still works, on less than it was made for
	j.Because = fmt.Sprintf("Along the cable %s of the supply is lost, %s, more than the usual 5 %% (common practice); the load gets less than it was made for.", share, j.t(wireDrop))
	j.Mend = "holds with " + thicker
}
