package engine

import (
	"math"

	"fullyon/engine/si"
)

// pulseQuantities are short heat, and what holds the gate down meanwhile.
func pulseQuantities() []Definition {
	return []Definition{
		{ID: zThStall, Name: "z_th_stall", Symbol: `Z_{th}(t_{stall})`, Meaning: "thermal impedance for as long as a stall lasts", Dim: si.ThermalResistance,
			Source: "transient thermal response of the datasheet", compute: func(s *Sizing) float64 { return s.impedance(s.q(stallTime)) }},
		{ID: zThPulse, Name: "z_th_pulse", Symbol: `Z_{th}(t)`, Meaning: "thermal impedance for as long as the rush lasts", Dim: si.ThermalResistance,
			Source: "transient thermal response of the datasheet", compute: func(s *Sizing) float64 { return s.impedance(s.rushTime()) }},
		{ID: pulsePower, Name: "pulse_power", Symbol: `P_{pulse}`, Meaning: "heat of the part during the rush", Dim: si.Power,
			Formula: "peak_current^2 * rds_on_hot", Source: "lamp: rectangular pulse for the inrush time (common practice); capacitor: energy shared between switch and resistance",
			compute: computePulsePower},
		{ID: pulseTemperatureRise, Name: "pulse_temperature_rise", Symbol: `\Delta T_{pulse}`, Meaning: "how much the rush heats the silicon", Dim: si.TemperatureDifference,
			Formula: "pulse_power * z_th_pulse", Source: "AN11158 section 3: single rectangular pulse",
			compute: func(s *Sizing) float64 { return s.q(pulsePower) * s.q(zThPulse) }},
		{ID: gateBump, Name: "gate_bump", Symbol: `V_{bump}`, Meaning: "gate voltage lifted by the rising supply", Dim: si.Voltage,
			Formula: "pull_down * c_rss * supply_maximum / supply_rise * (1 - exp(-supply_rise / (pull_down * c_iss)))", Source: "SLUP170 appendix D, with the input capacitance",
			compute: func(s *Sizing) float64 {
				v := s.q(supplyMaximum)
				if !s.given(pullDown) {
					s.formula("supply_maximum * c_rss / c_iss")
					return v * s.q(cRss) / s.q(cIss)
				}
				r, t := s.q(pullDown), s.q(supplyRise)
				return r * s.q(cRss) * v / t * (1 - math.Exp(-t/(r*s.q(cIss))))
			}},
		{ID: pullDownMax, Name: "pull_down_max", Symbol: `R_{pd,max}`, Meaning: "largest pull-down that keeps the gate below its threshold", Dim: si.Resistance,
			Formula: "v_gs_th_min * supply_rise / (c_rss * supply_maximum)", Source: "SLUP170 appendix D",
			compute: func(s *Sizing) float64 {
				return s.q(vthMin) * s.q(supplyRise) / (s.q(cRss) * s.q(supplyMaximum))
			}},
		{ID: pullDownDischargeTime, Name: "pull_down_discharge_time", Symbol: `t_{pd}`, Meaning: "time in which the pull-down alone switches off", Dim: si.Time,
			Formula: "pull_down * c_iss * ln(vgs_on / v_gs_th_min) + pull_down * q_gd / v_plateau", Source: "RC discharge, and the plateau at constant current",
			compute: func(s *Sizing) float64 {
				r := s.q(pullDown)
				if s.q(vgsOn) < s.q(vthMin) {
					return s.lack(vgsOn, "the gate never rises above its threshold")
				}
				return r*s.q(cIss)*math.Log(s.q(vgsOn)/s.q(vthMin)) + r*s.q(qgd)/s.q(vPlateau)
			}},
	}
}

// rushTime is how long the rush lasts in s: as given for a lamp; for a capacitor
// three time constants, or the edge where that is slower.
func (s *Sizing) rushTime() float64 {
	switch s.circuit.Load.Kind {
	case Lamp:
		return s.q(inrushTime)
	case Capacitive:
		return math.Max(3*s.rushResistance()*s.q(loadCapacitance), s.edge())
	}
	return s.lack(inrushTime, "the load draws no rush of current")
}

// rushResistance is all resistance in the way of a charging capacitor, V_M/I_peak.
func (s *Sizing) rushResistance() float64 { return s.q(supplyMaximum) / s.q(peakCurrent) }

// edge is the turn-on time where it can be had, else 0.
func (s *Sizing) edge() float64 {
	if s.has(turnOnTime) {
		return s.q(turnOnTime)
	}
	return 0
}

// computePulsePower for a capacitor: all of ½CV² falls in the switch when its
// edge is slower than the RC, else the share R_DS(on)/R_total of it; spread over
// the time of the rush.
func computePulsePower(s *Sizing) float64 {
	switch s.circuit.Load.Kind {
	case Lamp:
		i := s.q(peakCurrent)
		return i * i * s.q(rdsOnHot)
	case Capacitive:
		v, r := s.q(supplyMaximum), s.rushResistance()
		e := s.q(loadCapacitance) * v * v / 2
		s.formula(noFormula)
		if s.edge() <= r*s.q(loadCapacitance) {
			e *= s.q(RDSOnCold) / r
		}
		return e / s.rushTime()
	}
	return s.lack(inrushTime, "the load draws no rush of current")
}
