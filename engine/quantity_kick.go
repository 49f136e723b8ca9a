package engine

import (
	"math"

	"fullyon/engine/si"
)

// kickQuantities are what a coil or motor does when the switch opens.
func kickQuantities() []Definition {
	return []Definition{
		{ID: vdsStress, Name: "vds_stress", Symbol: `V_{DS,peak}`, Meaning: "highest voltage from drain to source", Dim: si.Voltage,
			Formula: "supply_maximum", Source: "Kirchhoff's voltage law with the clamp conducting; unclamped: 1.3 times the rating (AN11158, common practice)", compute: computeVDSStress},
		{ID: vdsRatio, Name: "vds_ratio", Symbol: `V_{DSS}/V_{DS,peak}`, Meaning: "rating over the highest voltage", Dim: si.One,
			Formula: "v_ds / vds_stress", Source: "derating to 80 % of the rating: common practice", compute: func(s *Sizing) float64 {
				if s.unclamped() {
					return s.lack(vdsStress, "an unclamped coil drives the part into avalanche: see avalanche")
				}
				return s.q(vds) / s.q(vdsStress)
			}},
		{ID: inductiveEnergy, Name: "inductive_energy", Symbol: `E_L`, Meaning: "energy stored in the coil", Dim: si.Energy,
			Formula: "inductance * running_current^2 / 2", Source: "energy of an inductance", compute: func(s *Sizing) float64 {
				i := s.q(runningCurrent)
				return s.q(inductance) * i * i / 2
			}},
		{ID: freewheelDecayTime, Name: "freewheel_decay_time", Symbol: `t_{decay}`, Meaning: "time until the coil's current has died", Dim: si.Time,
			Formula: "inductance / load_resistance * ln(1 + running_current * load_resistance / v_f)", Source: "RL circuit against a constant voltage, closed form",
			compute: func(s *Sizing) float64 {
				if !s.clamped() {
					return s.lack(vF, "without a freewheel path the current does not die along a diode")
				}
				s.formula(noFormula)
				if s.given(loadResistance) {
					s.formula("inductance / load_resistance * ln(1 + running_current * load_resistance / " + s.clampFormula() + ")")
				}
				r := s.coilResistance()
				return s.q(inductance) / r * math.Log(1+s.q(runningCurrent)*r/s.clampVoltage())
			}},
		{ID: freewheelAverageCurrent, Name: "freewheel_average_current", Symbol: `I_{F,avg}`, Meaning: "mean current of the freewheel diode", Dim: si.Current,
			Formula: "(1 - duty) * switch_current", Source: "the diode carries the coil's current while the switch is off",
			compute: func(s *Sizing) float64 {
				if !s.clamped() {
					return s.lack(vF, "there is no freewheel diode")
				}
				return (1 - s.q(duty)) * s.q(switchCurrent)
			}},
		{ID: freewheelLoss, Name: "freewheel_loss", Symbol: `P_F`, Meaning: "heat of the freewheel diode", Dim: si.Power,
			Formula: "freewheel_average_current * v_f", Source: "constant forward voltage",
			compute: func(s *Sizing) float64 { return s.q(freewheelAverageCurrent) * s.q(vF) }},
		{ID: avalancheEnergy, Name: "avalanche_energy", Symbol: `E_{av}`, Meaning: "energy that the part itself must swallow", Dim: si.Energy,
			Formula: "inductance * running_current^2 / 2 * v_ds / (v_ds - supply_maximum)", Source: "convention of the published single-pulse test: the supply adds its share",
			compute: func(s *Sizing) float64 {
				if !s.unclamped() {
					return s.lack(vF, "a clamp takes the energy, or the load has no inductance")
				}
				v := s.q(vds)
				if v <= s.q(supplyMaximum) {
					return s.lack(vds, "the supply alone is above the rating")
				}
				return s.q(inductiveEnergy) * v / (v - s.q(supplyMaximum))
			}},
	}
}

// unclamped tells whether a coil or motor has nowhere to send its current but the part.
func (s *Sizing) unclamped() bool { return s.circuit.Inductive() && !s.clamped() }

// clampFormula is clampVoltage in the notation of package formula.
func (s *Sizing) clampFormula() string {
	if s.circuit.Freewheel.Kind == Zener {
		return "(v_z + v_f)"
	}
	return "v_f"
}

// avalancheFactor is the avalanche voltage over the rating (AN11158; common practice).
const avalancheFactor = 1.3

func computeVDSStress(s *Sizing) float64 {
	switch {
	case s.unclamped():
		s.formula("1.3 * v_ds")
		return avalancheFactor * s.q(vds)
	case s.circuit.Inductive():
		s.formula("supply_maximum + " + s.clampFormula())
		return s.q(supplyMaximum) + s.clampVoltage()
	}
	return s.q(supplyMaximum)
}
