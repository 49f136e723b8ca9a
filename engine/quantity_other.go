package engine

import (
	"math"

	"fullyon/engine/si"
)

// otherQuantities stand beside the switch: batteries, stored charge, a charged
// person, and the bipolar transistor one might take instead.
func otherQuantities() []Definition {
	return []Definition{
		{ID: shortCircuitCurrent, Name: "short_circuit_current", Symbol: `I_{short}`, Meaning: "current of a shorted battery", Dim: si.Current,
			Formula: "supply_voltage / loop_resistance", Source: "Ohm's law",
			compute: func(s *Sizing) float64 { return s.q(supplyVoltage) / s.q(loopResistance) }},
		{ID: storedEnergy, Name: "stored_energy", Symbol: `E_C`, Meaning: "energy in a charged capacitor", Dim: si.Energy,
			Formula: "store_capacitance * store_voltage^2 / 2", Source: "energy of a capacitance", compute: func(s *Sizing) float64 {
				c, v := storeCapacitance, storeVoltage
				if !s.given(c) && s.given(loadCapacitance) {
					c, v = loadCapacitance, supplyMaximum
					s.formula("load_capacitance * supply_maximum^2 / 2")
				}
				return s.q(c) * s.q(v) * s.q(v) / 2
			}},
		{ID: dischargeTime, Name: "discharge_time", Symbol: `t_{dis}`, Meaning: "time until a capacitor has fallen to a voltage", Dim: si.Time,
			Formula: "store_resistance * store_capacitance * ln(store_voltage / store_down_to)", Source: "RC discharge",
			compute: func(s *Sizing) float64 {
				v0, v1 := s.q(storeVoltage), s.q(storeDownTo)
				if v1 >= v0 {
					s.formula("0")
					return 0
				}
				return s.q(storeResistance) * s.q(storeCapacitance) * math.Log(v0/v1)
			}},
		{ID: sharedChargeVoltage, Name: "shared_charge_voltage", Symbol: `V_{shared}`, Meaning: "gate voltage after a charged person has touched it", Dim: si.Voltage,
			Formula: "body_voltage * body_capacitance / (body_capacitance + c_iss)", Source: "charge is kept when two capacitors are joined",
			compute: func(s *Sizing) float64 {
				cb := s.q(bodyCapacitance)
				return s.q(bodyVoltage) * cb / (cb + s.q(cIss))
			}},
		{ID: baseCurrent, Name: "base_current", Symbol: `I_B`, Meaning: "base current for saturation", Dim: si.Current,
			Formula: "running_current / forced_beta", Source: "saturation is usually specified at a forced ratio of 10",
			compute: func(s *Sizing) float64 { return s.q(runningCurrent) / s.q(forcedBeta) }},
		{ID: baseResistor, Name: "base_resistor", Symbol: `R_B`, Meaning: "resistor from pin to base", Dim: si.Resistance,
			Formula: "(logic_high_min - v_be) / base_current - pin_resistance", Source: "Ohm's law",
			compute: func(s *Sizing) float64 {
				r := (s.q(logicHighMin)-s.q(vBE))/s.q(baseCurrent) - s.q(pinResistance)
				if r < 0 {
					return s.lack(pinResistance, "the pin cannot give so much base current even without a resistor")
				}
				return r
			}},
		{ID: lossBJT, Name: "loss_bjt", Symbol: `P_{BJT}`, Meaning: "heat of the bipolar transistor", Dim: si.Power,
			Formula: "v_ce_sat * running_current + v_be * base_current", Source: "power of both junctions",
			compute: func(s *Sizing) float64 { return s.q(vCE)*s.q(runningCurrent) + s.q(vBE)*s.q(baseCurrent) }},
	}
}
