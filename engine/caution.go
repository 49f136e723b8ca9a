package engine

import "fmt"

// Caution is something that can hurt whoever builds the circuit, apart from
// whether the part holds.
type Caution struct {
	ID   string // voltage, heat, touch, energy, battery
	Text string
}

// Temperatures in °C of a surface: hot to the touch, and not to be touched
// (EN ISO 13732-1: burn thresholds of bare metal for short contact lie at 65 °C;
// 50 °C is the usual limit for metal that is held, common practice).
const (
	hotTab   = 50.0
	burnsTab = 65.0
)

// muchEnergy is the stored energy in J above which a circuit stays on paper.
const muchEnergy = 1.0

func (s *Sizing) cautions() []Caution {
	var out []Caution
	add := func(id, format string, args ...any) { out = append(out, Caution{id, fmt.Sprintf(format, args...)}) }
	t := func(n ID) string { return inWords(s.value[n], table[n].Dim) }
	if s.has(supplyMaximum) && s.q(supplyMaximum) > cautionVoltage {
		add("voltage", "The supply reaches %s. Above 30 V work with one hand, dry, with the supply off while you change anything, and never alone.", t(supplyMaximum))
	}
	if s.has(tabTemperature) {
		switch v := s.q(tabTemperature); {
		case v > burnsTab:
			add("touch", "The tab reaches %s. Do not touch it: metal above 65 °C burns the skin at once. Let it cool, and keep cables and cloth away.", t(tabTemperature))
		case v > hotTab:
			add("heat", "The tab reaches %s, hot to the touch. Let it cool before you touch it.", t(tabTemperature))
		}
	}
	switch {
	case s.has(storedEnergy) && s.q(storedEnergy) > muchEnergy:
		add("energy", "The capacitor holds %s. On paper only: so much stored energy can burn, blind and kill after the supply is off.", t(storedEnergy))
	case s.has(storeVoltage) && s.q(storeVoltage) > cautionVoltage:
		add("energy", "The capacitor is charged to %s. On paper only: it keeps its charge after the supply is off.", t(storeVoltage))
	}
	if s.circuit.Supply.Kind == Battery {
		add("battery", "A shorted battery can give hundreds of amperes. Put the fuse at its terminal first, take off rings and watches, and connect it last.")
	}
	return out
}
