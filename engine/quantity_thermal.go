package engine

import (
	"math"

	"fullyon/engine/si"
)

// thermalQuantities take the heat to a temperature, and a temperature back to what is allowed.
func thermalQuantities() []Definition {
	return []Definition{
		{ID: thetaTotal, Name: "theta_total", Symbol: `\theta`, Meaning: "thermal resistance from junction to air", Dim: si.ThermalResistance,
			Formula: "theta_ja", Source: "AN936 section 6: thermal resistances in series", compute: func(s *Sizing) float64 {
				if s.circuit.Heatsinked() || s.state[thetaSA] == set {
					s.formula("theta_jc + theta_cs + theta_sa")
					return s.q(thetaJC) + s.q(thetaCS) + s.q(thetaSA)
				}
				return s.q(thetaJA)
			}},
		{ID: junctionTemperature, Name: "junction_temperature", Symbol: `T_J`, Meaning: "temperature of the silicon once it has settled", Dim: si.Temperature,
			Formula: "ambient + theta_total * loss_total", Source: "AN558 eq. 4, solved for the temperature at which the hot resistance makes just that heat",
			compute: func(s *Sizing) float64 {
				cold, rest, fixed := s.lossAt()
				return s.settle(s.q(ambient), s.q(thetaTotal), cold, rest, fixed)
			}},
		{ID: junctionTemperatureStall, Name: "junction_temperature_stall", Symbol: `T_{J,stall}`, Meaning: "temperature of the silicon with the motor held still", Dim: si.Temperature,
			Formula: "ambient + theta_total * loss_stall", Source: "as junction_temperature; with a stall time, transient thermal impedance (AN11158 section 3)",
			compute: computeStall},
		{ID: tabTemperature, Name: "tab_temperature", Symbol: `T_{tab}`, Meaning: "temperature of the case or tab", Dim: si.Temperature,
			Formula: "junction_temperature - theta_jc * loss_total", Source: "AN558 eq. 5",
			compute: func(s *Sizing) float64 { return s.q(junctionTemperature) - s.q(thetaJC)*s.q(lossTotal) }},
		{ID: heatsinkRequired, Name: "heatsink_required", Symbol: `\theta_{SA,max}`, Meaning: "largest thermal resistance that a heatsink may have", Dim: si.ThermalResistance,
			Formula: "(junction_limit - ambient) / loss_limit - theta_jc - theta_cs", Source: "AN936 section 6, AN558 eq. 4 and 5",
			compute: func(s *Sizing) float64 {
				p := s.q(lossLimit)
				if p == 0 {
					return s.lack(lossTotal, "no heat is made, so no heatsink is asked for")
				}
				return (s.q(junctionLimit)-s.q(ambient))/p - s.q(thetaJC) - s.q(thetaCS)
			}},
		{ID: currentMaxThermal, Name: "current_max_thermal", Symbol: `I_{max}`, Meaning: "load current at which the junction reaches its limit in these surroundings", Dim: si.Current,
			Source: "AN11158 eq. 5 with these surroundings in place of a case at 25 °C", compute: computeCurrentMax},
		{ID: frequencyMax, Name: "frequency_max", Symbol: `f_{max}`, Meaning: "frequency at which the junction reaches its limit", Dim: si.Frequency,
			Source: "loss per period against the heat that the surroundings take", compute: computeFrequencyMax},
		{ID: frequencyMaxEdges, Name: "frequency_max_edges", Symbol: `f_{edges}`, Meaning: "frequency at which both edges take 5 % of the period", Dim: si.Frequency,
			Formula: "0.05 / (turn_on_time + turn_off_time)", Source: "common practice",
			compute: func(s *Sizing) float64 { return edgeShare / (s.q(turnOnTime) + s.q(turnOffTime)) }},
	}
}

// runawayAt is the temperature in °C below which a settled point must lie; beyond it none is looked for.
const runawayAt = 1000

// settle finds the lowest T with T = start + theta (cold k(T) + rest). k is
// piecewise linear, so each piece is solved exactly. Without a point below
// 1000 °C the heat runs away.
func (s *Sizing) settle(start, theta, cold, rest float64, fixedRatio bool) float64 {
	if fixedRatio || cold == 0 {
		t := start + theta*(cold+rest)
		if t >= runawayAt {
			return s.runaway()
		}
		return t
	}
	excess := func(t float64) float64 {
		k, _ := s.circuit.Part.Ratio(t)
		return start + theta*(cold*k+rest) - t
	}
	a, ga := start, excess(start)
	if math.IsNaN(ga) {
		return ga
	}
	try := func(b float64) (float64, bool) {
		gb := excess(b)
		if gb <= 0 {
			return a + (b-a)*ga/(ga-gb), true
		}
		a, ga = b, gb
		return 0, false
	}
	for _, p := range s.circuit.Part.Characteristics.Ratio {
		if t := p.Temperature.Value; t > a && t < runawayAt {
			if r, ok := try(t); ok {
				return r
			}
		}
	}
	if r, ok := try(runawayAt); ok {
		return r
	}
	return s.runaway()
}

// runaway marks the quantity in hand as having no settled temperature.
func (s *Sizing) runaway() float64 {
	return s.lack(junctionTemperature, "%s", Runaway)
}

// Runaway is the reason given where no temperature below 1000 °C settles: heat and
// resistance drive each other up without end, or the heat is beyond all bounds.
const Runaway = "runaway: no temperature below 1000 °C is reached at which the part settles"

func computeStall(s *Sizing) float64 {
	if s.circuit.Load.Kind != Motor {
		return s.lack(stallCurrent, "only a motor stalls")
	}
	i := s.q(peakCurrent)
	cold := i * i * s.q(RDSOnCold)
	if s.given(stallTime) && len(s.circuit.Part.Characteristics.ZTh.Cells) > 0 {
		s.formula("junction_temperature + z_th_stall * loss_stall")
		return s.settle(s.q(junctionTemperature), s.q(zThStall), cold, 0, false)
	}
	return s.settle(s.q(ambient), s.q(thetaTotal), cold, 0, false)
}

// longPulse is the time in s beyond which the case no longer counts as standing still.
const longPulse = 1.0

// impedance is Z_th in K/W for a single pulse of t seconds: the datasheet's
// response, or the steady resistance where a response to the case cannot speak
// for so long a time.
func (s *Sizing) impedance(t float64) float64 {
	z := s.circuit.Part.Characteristics.ZTh
	if z.To == "case" && t > longPulse {
		return s.q(thetaTotal)
	}
	return z.At(t)
}

// computeCurrentMax solves θ (s² (P_cond + P_avalanche) + s P_overlap + P_fixed) = T_lim − T_A
// for the factor s by which the load current may grow, all at the limit.
func computeCurrentMax(s *Sizing) float64 {
	room := (s.q(junctionLimit) - s.q(ambient)) / s.q(thetaTotal)
	i, rms := s.q(loadCurrent), s.q(currentRMS)
	if i == 0 {
		return s.lack(loadCurrent, "no load current is given to scale")
	}
	a := rms * rms * s.q(rdsOnLimit)
	var b, c float64
	if f := s.q(frequency); f > 0 {
		e := s.switching()
		s.formula(noFormula)
		a, b, c = a+e.square*f, e.overlap*f, e.fixed*f
	}
	if room <= c {
		return 0
	}
	grow := 2 * (room - c) / (b + math.Sqrt(b*b+4*a*(room-c))) // the root of a s² + b s = room − c that keeps its digits
	return grow * i
}

// computeFrequencyMax divides the heat left over by the energy of a period. A
// coil's current depends on the frequency, so it is gone round until it settles.
func computeFrequencyMax(s *Sizing) float64 {
	at, f := s, 0.0
	for range 50 {
		i := at.q(currentRMS)
		left := (at.q(junctionLimit)-at.q(ambient))/at.q(thetaTotal) - i*i*at.q(rdsOnLimit)
		next := left / at.q(switchingEnergy)
		switch {
		case left <= 0:
			return 0
		case s.circuit.Load.Kind != Coil, math.Abs(next-f) <= 1e-7*next:
			return next
		}
		f = next
		at = s.with(frequency, f)
	}
	return f
}
