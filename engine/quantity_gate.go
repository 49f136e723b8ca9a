package engine

import (
	"math"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// gateQuantities are what the pin does to the gate and the gate to the pin.
func gateQuantities() []Definition {
	return []Definition{
		{ID: vgsOn, Name: "vgs_on", Symbol: `V_{GS}`, Meaning: "gate-source voltage that is really reached", Dim: si.Voltage,
			Formula: "logic_high_min", Source: "voltage divider of series resistor and pull-down", compute: computeVGSOn},
		{ID: vgsOff, Name: "vgs_off", Symbol: `V_{GS,off}`, Meaning: "gate-source voltage left when off", Dim: si.Voltage,
			Formula: "logic_low", Source: "voltage divider of series resistor and pull-down", compute: computeVGSOff},
		{ID: vgsRequired, Name: "vgs_required", Symbol: `V_{GS,row}`, Meaning: "lowest gate-source voltage with a guaranteed resistance", Dim: si.Voltage,
			Source: "lowest R_DS(on) row of the datasheet", compute: func(s *Sizing) float64 {
				r, ok := s.circuit.Part.LowestRow()
				if !ok {
					return s.lack(vgsRequired, "part.characteristics.r_ds_on has no row")
				}
				return r.VGS.Value
			}},
		{ID: gateResistance, Name: "gate_resistance", Symbol: `R_G`, Meaning: "all resistance on the way to the gate", Dim: si.Resistance,
			Formula: "pin_resistance + series_resistor + r_gate", Source: "resistances in series",
			compute: func(s *Sizing) float64 { return s.q(pinResistance) + s.q(seriesResistor) + s.q(rGate) }},
		{ID: gatePeakCurrent, Name: "gate_peak_current", Symbol: `I_{G,peak}`, Meaning: "current of the pin in the first moment", Dim: si.Current,
			Formula: "logic_high / (pin_resistance + series_resistor)", Source: "V/R into an empty gate; the same for ever into a gate shorted to source",
			compute: func(s *Sizing) float64 { return s.q(logicHigh) / (s.q(pinResistance) + s.q(seriesResistor)) }},
		{ID: gateShortCurrent, Name: "gate_short_current", Symbol: `I_{G,short}`, Meaning: "current into the pin when drain and gate are shorted inside", Dim: si.Current,
			Formula: "supply_maximum / (pin_resistance + series_resistor)", Source: "Ohm's law",
			compute: func(s *Sizing) float64 { return s.q(supplyMaximum) / (s.q(pinResistance) + s.q(seriesResistor)) }},
		{ID: gateResistorMin, Name: "gate_resistor_min", Symbol: `R_{series,min}`, Meaning: "smallest series resistor for the pin's absolute maximum", Dim: si.Resistance,
			Formula: "max(0, logic_high / pin_current_max - pin_resistance)", Source: "Ohm's law",
			compute: func(s *Sizing) float64 {
				return math.Max(0, s.q(logicHigh)/s.q(pinCurrentMax)-s.q(pinResistance))
			}},
		{ID: gateResistorMinRecommended, Name: "gate_resistor_min_recommended", Symbol: `R_{series,rec}`, Meaning: "smallest series resistor for the pin's recommended current", Dim: si.Resistance,
			Formula: "max(0, logic_high / pin_current - pin_resistance)", Source: "Ohm's law",
			compute: func(s *Sizing) float64 { return math.Max(0, s.q(logicHigh)/s.q(pinCurrent)-s.q(pinResistance)) }},
		{ID: gateCharge, Name: "gate_charge", Symbol: `Q_{G,on}`, Meaning: "gate charge at the voltage really reached", Dim: si.Charge,
			Formula: "q_gs + q_gd + (q_g - q_gs - q_gd) * (vgs_on - v_plateau) / (q_g_at - v_plateau)", Source: "AND9083/D appendix A: region C scales with the voltage above the plateau", compute: computeGateCharge},
		{ID: gateChargeSwitching, Name: "gate_charge_switching", Symbol: `Q_{sw}`, Meaning: "charge that moves while current and voltage swing", Dim: si.Charge,
			Formula: "q_gd + q_gs * (1 - v_gs_th_typ / v_plateau)", Source: "AND9083/D eq. 5",
			compute: func(s *Sizing) float64 {
				if s.q(vthTyp) >= s.q(vPlateau) {
					return s.lack(vPlateau, "the plateau does not lie above the threshold")
				}
				return s.q(qgd) + s.q(qgs)*(1-s.q(vthTyp)/s.q(vPlateau))
			}},
		{ID: turnOnDelay, Name: "turn_on_delay", Symbol: `t_{d(on)}`, Meaning: "time until the threshold is reached", Dim: si.Time,
			Formula: "gate_resistance * c_iss * ln(vgs_on / (vgs_on - v_gs_th_typ))", Source: "AN608A eq. 10",
			compute: func(s *Sizing) float64 {
				v, r, f := s.q(vgsOn), s.q(gateResistance), "gate_resistance"
				if s.shifted() {
					r, f = s.shiftedOn()
				}
				s.formula(f + " * c_iss * ln(vgs_on / (vgs_on - v_gs_th_typ))")
				if v <= s.q(vthTyp) {
					return s.lack(vgsOn, "the gate voltage does not rise above the threshold")
				}
				return r * s.q(cIss) * math.Log(v/(v-s.q(vthTyp)))
			}},
		{ID: turnOffDelay, Name: "turn_off_delay", Symbol: `t_{d(off)}`, Meaning: "time until the gate has fallen to the plateau", Dim: si.Time,
			Formula: "gate_resistance * c_iss * ln(vgs_on / v_plateau)", Source: "AN608A eq. 15",
			compute: func(s *Sizing) float64 {
				v, r, f := s.q(vgsOn), s.q(gateResistance), "gate_resistance"
				if s.shifted() {
					r, f = s.shiftedOff()
				}
				s.formula(f + " * c_iss * ln(vgs_on / v_plateau)")
				if v <= s.q(vPlateau) {
					return s.lack(vgsOn, "the gate voltage does not rise above the plateau")
				}
				return r * s.q(cIss) * math.Log(v/s.q(vPlateau))
			}},
		{ID: turnOnTime, Name: "turn_on_time", Symbol: `t_{on}`, Meaning: "length of the turn-on edge", Dim: si.Time,
			Formula: "gate_charge_switching * gate_resistance / (vgs_on - v_plateau)", Source: "AND9083/D eq. 6", compute: computeTurnOnTime},
		{ID: turnOffTime, Name: "turn_off_time", Symbol: `t_{off}`, Meaning: "length of the turn-off edge", Dim: si.Time,
			Formula: "gate_charge_switching * gate_resistance / (v_plateau - logic_low)", Source: "AND9083/D eq. 7", compute: computeTurnOffTime},
		{ID: gateAverageCurrent, Name: "gate_average_current", Symbol: `I_{G,avg}`, Meaning: "mean current that the gate takes from the pin", Dim: si.Current,
			Formula: "gate_charge * frequency", Source: "charge per period times periods per second",
			compute: func(s *Sizing) float64 { return s.q(gateCharge) * s.q(frequency) }},
		{ID: gateDrivePower, Name: "gate_drive_power", Symbol: `P_G`, Meaning: "power spent on charging the gate", Dim: si.Power,
			Formula: "gate_average_current * logic_high", Source: "AN978 section 4", compute: func(s *Sizing) float64 { return s.q(gateAverageCurrent) * s.q(logicHigh) }},
		{ID: gatesPerPin, Name: "gates_per_pin", Symbol: `n`, Meaning: "how many such gates one pin may drive", Dim: si.One,
			Source: "pin's absolute maximum; edges at most 5 % of the period (common practice)", compute: computeGatesPerPin},
	}
}

// divider is the share of a voltage that the pull resistor leaves to the gate; 1 without one.
func (s *Sizing) divider() float64 {
	if !s.given(pullDown) {
		return 1
	}
	return s.q(pullDown) / (s.q(pullDown) + s.q(seriesResistor))
}

// shifted tells whether a second transistor pulls the high-side gate down.
func (s *Sizing) shifted() bool {
	return s.circuit.Placement == HighSide && s.circuit.Drive.Stage == LevelShift
}

func computeVGSOn(s *Sizing) float64 {
	share := ""
	if s.given(pullDown) {
		share = " * pull_down / (pull_down + series_resistor)"
	}
	switch {
	case s.circuit.Placement != HighSide:
		s.formula("logic_high_min" + share)
		return s.q(logicHighMin) * s.divider()
	case s.shifted():
		s.formula("supply_minimum" + share)
		return s.q(supplyMinimum) * s.divider()
	}
	s.formula("(supply_minimum - logic_low)" + share)
	return (s.q(supplyMinimum) - s.q(logicLow)) * s.divider()
}

func computeVGSOff(s *Sizing) float64 {
	switch {
	case s.circuit.Placement != HighSide:
		if s.given(pullDown) {
			s.formula("logic_low * pull_down / (pull_down + series_resistor)")
		}
		return s.q(logicLow) * s.divider()
	case s.shifted():
		s.formula("0")
		return 0
	}
	s.formula("max(0, supply_maximum - logic_high_min)")
	if s.given(pullDown) {
		s.formula("max(0, supply_maximum - logic_high_min) * pull_down / (pull_down + series_resistor)")
	}
	return math.Max(0, s.q(supplyMaximum)-s.q(logicHighMin)) * s.divider()
}

func computeGateCharge(s *Sizing) float64 {
	v, at := s.q(vgsOn), s.q(qgAt)
	if math.Abs(v-at) < 1e-9*at {
		s.formula("q_g")
		return s.q(qg)
	}
	knee, plateau := s.q(qgs)+s.q(qgd), s.q(vPlateau)
	if v < plateau {
		return s.lack(vgsOn, "the gate voltage does not reach the plateau, so the charge beyond it never flows")
	}
	return knee + (s.q(qg)-knee)*(v-plateau)/(at-plateau)
}

func computeTurnOnTime(s *Sizing) float64 {
	above := s.q(vgsOn) - s.q(vPlateau)
	if above <= 0 {
		return s.lack(vgsOn, "the gate voltage does not rise above the plateau, so the edge never ends")
	}
	if s.shifted() {
		r, f := s.shiftedOn()
		s.formula("gate_charge_switching * " + f + " / (vgs_on - v_plateau)")
		return s.q(gateChargeSwitching) * r / above
	}
	return s.q(gateChargeSwitching) * s.q(gateResistance) / above
}

func computeTurnOffTime(s *Sizing) float64 {
	switch {
	case s.shifted():
		r, f := s.shiftedOff()
		s.formula("gate_charge_switching * " + f + " / v_plateau")
		return s.q(gateChargeSwitching) * r / s.q(vPlateau)
	case s.circuit.Placement == HighSide:
		// The pin's high level lifts the gate of a P-channel part towards the supply.
		s.formula("gate_charge_switching * gate_resistance / (v_plateau - vgs_off)")
		return s.offTime(s.q(vPlateau) - s.q(vgsOff))
	}
	return s.offTime(s.q(vPlateau) - s.q(logicLow))
}

// shiftedOn is the resistance that the gate sees while a level shifter pulls it
// down: R_up and R_low side by side, and the gate's own. Also as a formula.
func (s *Sizing) shiftedOn() (float64, string) {
	up, low := s.q(pullDown), s.q(seriesResistor)
	return up*low/(up+low) + s.q(rGate), "(pull_down * series_resistor / (pull_down + series_resistor) + r_gate)"
}

// shiftedOff is the same while R_up alone takes the gate back to its source.
func (s *Sizing) shiftedOff() (float64, string) {
	return s.q(pullDown) + s.q(rGate), "(pull_down + r_gate)"
}

func (s *Sizing) offTime(drive float64) float64 {
	if drive <= 0 {
		return s.lack(vPlateau, "the off level does not lie below the plateau, so the edge never ends")
	}
	return s.q(gateChargeSwitching) * s.q(gateResistance) / drive
}

// mostGates is where counting stops: no drawing has more.
const mostGates = 100

// computeGatesPerPin finds the largest n with n V/(n R_pin + R_series) within
// the pin's absolute maximum and, when switched at a frequency, with the edges
// of n gates (each then sees n R_pin) within 5 % of the period.
func computeGatesPerPin(s *Sizing) float64 {
	v, limit, rp, rs := s.q(logicHigh), s.q(pinCurrentMax), s.q(pinResistance), s.q(seriesResistor)
	f := s.q(frequency)
	for n := 1.0; n <= mostGates; n++ {
		if n*v/(n*rp+rs) > limit*(1+1e-12) {
			return n - 1
		}
		if f > 0 {
			scale := (n*rp + rs + s.q(rGate)) / s.q(gateResistance)
			if (s.q(turnOnTime)+s.q(turnOffTime))*scale*f > edgeShare {
				return n - 1
			}
		}
	}
	return mostGates
}

// edgeShare is the share of a period that both edges together may take (common practice).
const edgeShare = 0.05

// row is the datasheet row that serves at the gate voltage reached.
func (s *Sizing) row() (part.Row, part.RowFit) { return s.circuit.Part.RowFor(s.q(vgsOn)) }
