package engine

import (
	"math"

	"fullyon/engine/si"
)

// loadQuantities are the currents that the load asks for, and the cable to it.
func loadQuantities() []Definition {
	return []Definition{
		{ID: loadCurrent, Name: "load_current", Symbol: `I_{load}`, Meaning: "running current at the nominal voltage", Dim: si.Current,
			Formula: "given_current", Source: "Ohm's law", compute: computeLoadCurrent},
		{ID: runningCurrent, Name: "running_current", Symbol: `I`, Meaning: "running current at the highest supply voltage", Dim: si.Current,
			Formula: "load_current * supply_maximum / supply_voltage", Source: "Ohm's law; the worst ordinary case",
			compute: func(s *Sizing) float64 { return s.q(loadCurrent) * s.overvoltage() }},
		{ID: peakCurrent, Name: "peak_current", Symbol: `I_{peak}`, Meaning: "highest current the load draws for a while", Dim: si.Current,
			Formula: "running_current", Source: "inrush and stall ratios: engine conventions, common practice", compute: computePeakCurrent},
		{ID: switchCurrent, Name: "switch_current", Symbol: `I_{sw}`, Meaning: "mean current while the switch is on", Dim: si.Current,
			Formula: "running_current", Source: "RL circuit, periodic steady state: both exponentials joined at their ends",
			compute: func(s *Sizing) float64 { iMax, iMin := s.swing(); return (iMax + iMin) / 2 }},
		{ID: rippleCurrent, Name: "ripple_current", Symbol: `\Delta I`, Meaning: "swing of a coil's current under PWM", Dim: si.Current,
			Source: "RL circuit, periodic steady state", compute: func(s *Sizing) float64 {
				if !s.choppedCoil() {
					return s.lack(rippleCurrent, "only a coil with a freewheel path, switched at a frequency, has a ripple that can be computed")
				}
				iMax, iMin := s.swing()
				return iMax - iMin
			}},
		{ID: currentRMS, Name: "current_rms", Symbol: `I_{RMS}`, Meaning: "root-mean-square current through the switch", Dim: si.Current,
			Formula: "switch_current * sqrt(duty)", Source: "definition of the root mean square over one period", compute: computeCurrentRMS},
		{ID: wireResistance, Name: "wire_resistance", Symbol: `R_{wire}`, Meaning: "resistance of the cable, there and back", Dim: si.Resistance,
			Formula: "2 * wire_length * 17.241e-9 / cross_section", Source: "IEC 60228 (class 2, class 5) where listed, else IEC 60028: 17.241 nΩ m", compute: computeWireResistance},
		{ID: wireDrop, Name: "wire_drop", Symbol: `V_{wire}`, Meaning: "voltage lost along the cable", Dim: si.Voltage,
			Formula: "running_current * wire_resistance", Source: "Ohm's law", compute: func(s *Sizing) float64 { return s.q(runningCurrent) * s.q(wireResistance) }},
		{ID: wireDropShare, Name: "wire_drop_share", Symbol: `V_{wire}/V_M`, Meaning: "share of the supply lost along the cable", Dim: si.One,
			Formula: "wire_drop / supply_maximum", Source: "definition", compute: func(s *Sizing) float64 { return s.q(wireDrop) / s.q(supplyMaximum) }},
	}
}

// overvoltage is V_M / V, by which currents grow in the worst ordinary case.
func (s *Sizing) overvoltage() float64 { return s.q(supplyMaximum) / s.q(supplyVoltage) }

func computeLoadCurrent(s *Sizing) float64 {
	switch {
	case s.given(givenCurrent):
		return s.q(givenCurrent)
	case s.given(loadPower):
		s.formula("load_power / supply_voltage")
		return s.q(loadPower) / s.q(supplyVoltage)
	case s.given(loadResistance) && s.circuit.Load.Kind != Motor: // a motor's is that of its winding
		s.formula("supply_voltage / load_resistance")
		return s.q(supplyVoltage) / s.q(loadResistance)
	case s.circuit.Load.Kind == Capacitive:
		s.formula("0")
		return 0 // nothing flows once it is charged
	}
	return s.lack(givenCurrent, "the load needs one of current, power or resistance")
}

// computePeakCurrent follows the kind of load: a stalled motor, a cold lamp, an empty capacitor.
func computePeakCurrent(s *Sizing) float64 {
	switch s.circuit.Load.Kind {
	case Motor:
		var i float64
		if s.given(loadResistance) && !s.given(stallCurrent) {
			s.formula("supply_maximum / load_resistance")
			i = s.q(supplyMaximum) / s.q(loadResistance)
		} else {
			s.formula("stall_current * supply_maximum / supply_voltage")
			i = s.q(stallCurrent) * s.overvoltage()
		}
		if s.given(currentLimit) && s.q(currentLimit) < i {
			s.formula("current_limit")
			return s.q(currentLimit)
		}
		return i
	case Lamp:
		s.formula("load_current * cold_ratio * supply_maximum / supply_voltage")
		return s.q(loadCurrent) * s.q(coldRatio) * s.overvoltage()
	case Capacitive:
		r, f := s.q(RDSOnCold), "rds_on_cold"
		if s.given(seriesResistance) {
			r, f = r+s.q(seriesResistance), f+" + series_resistance"
		}
		if s.has(wireResistance) {
			r, f = r+s.q(wireResistance), f+" + wire_resistance"
		}
		s.formula("supply_maximum / (" + f + ")")
		return s.q(supplyMaximum) / r
	}
	return s.q(runningCurrent)
}

// choppedCoil tells whether a coil's current is kept going between the pulses.
func (s *Sizing) choppedCoil() bool {
	return s.circuit.Load.Kind == Coil && s.clamped() && s.q(frequency) > 0 && s.q(duty) < 1
}

// clamped tells whether a diode or zener carries the coil's current on.
func (s *Sizing) clamped() bool {
	return s.circuit.Freewheel.Kind == Diode || s.circuit.Freewheel.Kind == Zener
}

// clampVoltage is the voltage that drives the coil's current down: V_F, or V_Z + V_F.
func (s *Sizing) clampVoltage() float64 {
	if s.circuit.Freewheel.Kind == Zener {
		return s.q(vZ) + s.q(vF)
	}
	return s.q(vF)
}

// coilResistance is the wire of the coil, or of a motor held still.
func (s *Sizing) coilResistance() float64 {
	switch {
	case s.given(loadResistance):
		return s.q(loadResistance)
	case s.circuit.Load.Kind == Motor && s.given(stallCurrent):
		return s.q(supplyVoltage) / s.q(stallCurrent)
	}
	return s.q(supplyVoltage) / s.q(loadCurrent)
}

// swing is the highest and lowest current of the on-time. A coil under PWM is
// taken in its periodic steady state: with τ = L/R, a = e^(−D/(fτ)) and
// b = e^(−(1−D)/(fτ)),
//
//	I_max = [(V_M/R)(1−a) − (V_F/R)(1−b)a] / (1−ab)
//	I_min = −V_F/R + (I_max + V_F/R) b
//
// and where I_min comes out below zero the current pauses: I_min = 0,
// I_max = (V_M/R)(1−a). Source: both exponentials joined at their ends.
func (s *Sizing) swing() (iMax, iMin float64) {
	if !s.choppedCoil() {
		i := s.q(runningCurrent)
		return i, i
	}
	s.formula(noFormula)
	r, vm, vf := s.coilResistance(), s.q(supplyMaximum), s.clampVoltage()
	x := s.q(frequency) * s.q(inductance) / r // f τ
	d := s.q(duty)
	a, b := math.Exp(-d/x), math.Exp(-(1-d)/x)
	iMax = ((vm/r)*(1-a) - (vf/r)*(1-b)*a) / (1 - a*b)
	iMin = -vf/r + (iMax+vf/r)*b
	if iMin < 0 {
		iMin, iMax = 0, (vm/r)*(1-a)
	}
	return iMax, iMin
}

// shortRise is the length of an on-time, in time constants, up to which a coil's
// current rises as good as straight: the root mean square is then within 0.5 %.
const shortRise = 0.04

// computeCurrentRMS: a current that does not change while the switch is on is
// I √D. A coil's rises; straight, over a short on-time, it gives
//
//	√(D (I_sw² + ΔI²/12))
//
// and along 1 − e^(−t/τ), over x = D/(fτ) time constants, with I∞ = V_M/R and
// d = I∞ − I_min, the mean square of the on-time is
//
//	I∞² − 2 I∞ d (1 − a)/x + d² (1 − a²)/(2x),  a = e^(−x)
//
// The straight rise alone would come out up to 42 % too low for long on-times, so
// the exact mean is taken there. Source: integral of the RL rise, term by term.
func computeCurrentRMS(s *Sizing) float64 {
	i, d := s.q(switchCurrent), s.q(duty)
	if !s.choppedCoil() {
		return i * math.Sqrt(d)
	}
	ripple := s.q(rippleCurrent)
	x := d * s.coilResistance() / (s.q(frequency) * s.q(inductance))
	if x <= shortRise || s.state[switchCurrent] == set || s.state[rippleCurrent] == set {
		s.formula("sqrt(duty * (switch_current^2 + ripple_current^2 / 12))")
		return math.Sqrt(d * (i*i + ripple*ripple/12))
	}
	s.formula(noFormula)
	end := s.q(supplyMaximum) / s.coilResistance()
	gap := end - (i - ripple/2)
	rise := -math.Expm1(-x)
	square := end*end - 2*end*gap*rise/x - gap*gap*math.Expm1(-2*x)/(2*x)
	return math.Sqrt(d * square)
}

// copper is the resistance of one conductor at 20 °C in ohms per kilometre, by
// its cross-section in square millimetres. Source: IEC 60228:2004, tables for
// plain copper, class 2 (stranded) and class 5 (flexible).
var copper = []struct{ mm2, class2, class5 float64 }{
	{0.5, 36.0, 39.0}, {0.75, 24.5, 26.0}, {1, 18.1, 19.5}, {1.5, 12.1, 13.3},
	{2.5, 7.41, 7.98}, {4, 4.61, 4.95}, {6, 3.08, 3.30}, {10, 1.83, 1.91},
}

// copperResistivity is that of annealed copper at 20 °C in Ω m (IEC 60028).
const copperResistivity = 17.241e-9

func computeWireResistance(s *Sizing) float64 {
	l, area := s.q(wireLength), s.q(crossSection)
	for _, c := range copper {
		if math.Abs(area*1e6-c.mm2) < 1e-6 {
			perKm := c.class2
			if s.circuit.Wiring.Strand == Flexible {
				perKm = c.class5
			}
			s.formula(noFormula)
			return 2 * l * perKm / 1000
		}
	}
	return 2 * l * copperResistivity / area
}
