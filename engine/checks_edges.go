package engine

import (
	"fmt"
	"math"

	"fullyon/engine/si"
)

func isSwitched(s *Sizing) bool { return s.q(frequency) > 0 }

// judgeEdges: both edges together should take 5 % of the period at most, and
// must fit into the shorter of on-time and off-time, or the part is never wholly
// on or off.
func judgeEdges(j *judgement) {
	if j.s.has(vgsOn) && j.s.has(vPlateau) && j.q(vgsOn) <= j.q(vPlateau) {
		j.Verdict = Fails
		j.Value, j.Limit = si.Of(j.q(vgsOn), si.Voltage), si.Of(j.q(vPlateau), si.Voltage)
		j.Because = fmt.Sprintf("The gate gets %s and its plateau lies at %s, so the turn-on edge never ends.", j.t(vgsOn), j.t(vPlateau))
		j.Row = j.rowOf(vPlateau)
		j.Mend = "holds with a gate voltage well above " + j.t(vPlateau)
		return
	}
	if !j.need(turnOnTime, turnOffTime, frequency, duty) {
		return
	}
	share := (j.q(turnOnTime) + j.q(turnOffTime)) * j.q(frequency)
	room := 1.0
	if d := j.q(duty); d < 1 {
		room = math.Min(d, 1-d)
	}
	j.most(share, room, math.Max(1, room/edgeShare), si.One)
	j.source, j.result = "(turn_on_time + turn_off_time) * frequency", j.words(share, si.One)
	j.Row = j.rowOf(qgd, qgs, vPlateau)
	j.Because = fmt.Sprintf("Both edges take %s together, that is %s of the period; 5 %% is usual (common practice), and at %s they no longer fit.",
		j.words(j.q(turnOnTime)+j.q(turnOffTime), si.Time), si.Of(share, si.One).FiguresIn(percent, 2), si.Of(room, si.One).FiguresIn(percent, 2))
	limit := math.Min(j.q(frequencyMaxEdges), j.q(frequencyMaxEdges)*room/edgeShare)
	j.Mend = "holds below " + downTo(limit, si.Frequency)
}

// judgeSwitchingLoss holds the frequency against the one at which the junction
// reaches its limit; above it but below the rating is tight, as in junction.
func judgeSwitchingLoss(j *judgement) {
	if !j.need(frequency, frequencyMax, lossSwitching) {
		return
	}
	f, most := j.q(frequency), j.q(frequencyMax)
	j.source = j.s.equation(lossSwitching)
	j.most(f, most, 1, si.Frequency)
	if j.Verdict == Fails && j.s.has(junctionTemperature) && j.s.has(tj) && j.q(junctionTemperature) <= j.q(tj)*(1+near) {
		j.Verdict = Tight
	}
	j.Row = j.rowOf(qgd, qgs, vPlateau, cOss)
	if most <= 0 {
		j.Because = fmt.Sprintf("The edges make %s of heat, and the conducting channel alone takes the junction to its limit.", j.t(lossSwitching))
		j.Mend = "holds at no frequency: mend the heat of conduction first"
		return
	}
	j.Because = fmt.Sprintf("The edges make %s of heat at %s; the junction reaches its limit of %s at %s.", j.t(lossSwitching), j.t(frequency), j.t(junctionLimit), j.t(frequencyMax))
	j.Mend = "holds below " + downTo(most, si.Frequency)
}
