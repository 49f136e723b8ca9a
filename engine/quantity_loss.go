package engine

import (
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// lossQuantities are the resistance of the channel and the heat it makes.
func lossQuantities() []Definition {
	return []Definition{
		{ID: RDSOnCold, Name: "rds_on_cold", Symbol: `R_{DS(on)}`, Meaning: "guaranteed resistance at 25 °C at the gate voltage reached", Dim: si.Resistance,
			Source: "max column of the row at or below the gate voltage reached", compute: func(s *Sizing) float64 {
				if len(s.circuit.Part.Characteristics.RDSOn) == 0 {
					return s.lack(RDSOnCold, "part.characteristics.r_ds_on has no row")
				}
				v := s.q(vgsOn)
				r, fit := s.circuit.Part.RowFor(v)
				if fit == part.None {
					return s.lack(RDSOnCold, "no row of R_DS(on) at or below %s is guaranteed; the lowest is at %s",
						inWords(v, si.Voltage), inWords(s.q(vgsRequired), si.Voltage))
				}
				if !r.Max.Known() {
					return s.lack(RDSOnCold, "the R_DS(on) row at %s has no max column", r.VGS)
				}
				return r.Max.Value
			}},
		{ID: rdsOnRatio, Name: "rds_on_ratio", Symbol: `k`, Meaning: "hot resistance over the resistance at 25 °C", Dim: si.One,
			Source: "curve of the datasheet, piecewise linear; else 0.6, 0.9 or 1.3 % per kelvin up to 40, 60 V and above",
			compute: func(s *Sizing) float64 {
				k, _ := s.circuit.Part.Ratio(s.q(junctionTemperature))
				return k
			}},
		{ID: rdsOnHot, Name: "rds_on_hot", Symbol: `R_{hot}`, Meaning: "resistance at the junction temperature that is reached", Dim: si.Resistance,
			Formula: "rds_on_cold * rds_on_ratio", Source: "AN11158 section 2: normalised R_DS(on) curve",
			compute: func(s *Sizing) float64 { return s.q(RDSOnCold) * s.q(rdsOnRatio) }},
		{ID: lossConduction, Name: "loss_conduction", Symbol: `P_{cond}`, Meaning: "heat of the conducting channel", Dim: si.Power,
			Formula: "current_rms^2 * rds_on_hot", Source: "AND9093/D page 2", compute: func(s *Sizing) float64 {
				i := s.q(currentRMS)
				return i * i * s.q(rdsOnHot)
			}},
		{ID: switchingEnergy, Name: "switching_energy", Symbol: `E_{sw}`, Meaning: "energy that the edges of one period turn into heat", Dim: si.Energy,
			Formula: "supply_maximum * switch_current * (turn_on_time + turn_off_time) / 6 + c_oss * supply_maximum^2 / 2",
			Source:  "AN558 (resistive, 1/6); AN5233 eq. 2 and SLUP169 p. 9 (inductive, 1/2); both edges summed",
			compute: func(s *Sizing) float64 { c := s.switching(); return c.overlap + c.square + c.fixed }},
		{ID: lossSwitching, Name: "loss_switching", Symbol: `P_{sw}`, Meaning: "heat of the edges", Dim: si.Power,
			Formula: "switching_energy * frequency", Source: "energy of a period times periods per second",
			compute: func(s *Sizing) float64 {
				f := s.q(frequency)
				if f == 0 { // no edges to speak of, so no gate data is needed either
					s.formula("0")
					return 0
				}
				return s.q(switchingEnergy) * f
			}},
		{ID: lossTotal, Name: "loss_total", Symbol: `P`, Meaning: "all heat of the part", Dim: si.Power,
			Formula: "loss_conduction + loss_switching", Source: "sum",
			compute: func(s *Sizing) float64 { return s.q(lossConduction) + s.q(lossSwitching) }},
		{ID: rdsOnLimit, Name: "rds_on_limit", Symbol: `R_{lim}`, Meaning: "resistance with the junction at its limit", Dim: si.Resistance,
			Source: "as rds_on_hot", compute: func(s *Sizing) float64 {
				k, _ := s.circuit.Part.Ratio(s.q(junctionLimit))
				return s.q(RDSOnCold) * k
			}},
		{ID: lossLimit, Name: "loss_limit", Symbol: `P_{lim}`, Meaning: "heat of the part with the junction at its limit", Dim: si.Power,
			Formula: "current_rms^2 * rds_on_limit + loss_switching", Source: "as loss_total",
			compute: func(s *Sizing) float64 {
				cold, rest, fixed := s.lossAt()
				if fixed {
					s.formula("loss_total")
					return rest
				}
				k, _ := s.circuit.Part.Ratio(s.q(junctionLimit))
				return cold*k + rest
			}},
		{ID: lossStall, Name: "loss_stall", Symbol: `P_{stall}`, Meaning: "heat of the part with the motor held still", Dim: si.Power,
			Source: "I²R with the hot resistance", compute: func(s *Sizing) float64 {
				k, _ := s.circuit.Part.Ratio(s.q(junctionTemperatureStall))
				i := s.q(peakCurrent)
				return i * i * s.q(RDSOnCold) * k
			}},
	}
}

// cycle is the energy that one period of switching costs, in J: overlap grows
// with the current, square with its square, the rest does not grow.
type cycle struct{ overlap, square, fixed float64 }

// switching gives the energy of one period.
//
//	resistive                ⅙ V_M I (t_on + t_off)       AN558: the exact integral of straight crossing ramps
//	inductive, diode         ½ V_M I (t_on + t_off) + V_M Q_rr
//	inductive, zener         ½ V_M I t_on + ½ (V_M + V_Z + V_F) I t_off + V_M Q_rr
//	inductive, no freewheel  as with a diode, + the avalanche energy
//
// each + ½ C_oss V_M².
func (s *Sizing) switching() cycle {
	v, i := s.q(supplyMaximum), s.q(switchCurrent)
	on, off := s.q(turnOnTime), s.q(turnOffTime)
	var c cycle
	tail := ""
	if s.given(cOss) {
		c.fixed = s.q(cOss) * v * v / 2
		tail = " + c_oss * supply_maximum^2 / 2"
	}
	switch {
	case !s.circuit.Inductive():
		s.formula("supply_maximum * switch_current * (turn_on_time + turn_off_time) / 6" + tail)
		c.overlap = v * i * (on + off) / 6
	case s.circuit.Freewheel.Kind == Zener:
		s.formula("(supply_maximum * turn_on_time + (supply_maximum + v_z + v_f) * turn_off_time) * switch_current / 2 + supply_maximum * q_rr" + tail)
		c.overlap = v*i*on/2 + (v+s.q(vZ)+s.q(vF))*i*off/2
		c.fixed += v * s.q(qRR)
	default:
		s.formula("supply_maximum * switch_current * (turn_on_time + turn_off_time) / 2 + supply_maximum * q_rr" + tail)
		c.overlap = v * i * (on + off) / 2
		if s.circuit.Freewheel.Kind == Diode {
			c.fixed += v * s.q(qRR)
		} else if s.given(inductance) {
			s.formula("supply_maximum * switch_current * (turn_on_time + turn_off_time) / 2 + avalanche_energy" + tail)
			c.square = s.q(avalancheEnergy)
		}
	}
	return c
}

// lossAt gives the heat in W as a function of the junction temperature,
// cold·k(T) + rest, honouring whatever With has fixed on the way; fixedRatio says
// that the temperature no longer matters.
func (s *Sizing) lossAt() (cold, rest float64, fixedRatio bool) {
	if s.state[lossTotal] == set {
		return 0, s.value[lossTotal], true
	}
	rest = s.q(lossSwitching)
	i := s.q(currentRMS)
	switch {
	case s.state[lossConduction] == set:
		return 0, rest + s.value[lossConduction], true
	case s.state[rdsOnHot] == set:
		return 0, rest + i*i*s.value[rdsOnHot], true
	case s.state[rdsOnRatio] == set:
		return 0, rest + i*i*s.q(RDSOnCold)*s.value[rdsOnRatio], true
	}
	return i * i * s.q(RDSOnCold), rest, false
}
