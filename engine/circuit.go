package engine

import (
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// Circuit is one load switched by one transistor: what a circuit file says. A
// value that the file does not give is the zero si.Quantity or the empty text.
type Circuit struct {
	Title        string
	Supply       Supply
	Load         Load
	Placement    string // LowSide or HighSide
	Drive        Drive
	Part         part.Part
	Surroundings Surroundings
	Freewheel    Freewheel
	Wiring       Wiring
	Bipolar      Bipolar
	Body         Body
	Store        Store
}

// The words of a circuit file.
const (
	Adapter = "adapter" // certified plug-in supply, extra-low voltage
	Bench   = "bench"   // current-limited bench supply
	Battery = "battery"
	AC      = "ac" // always refused; also what a voltage written as `12 VAC` or `12 V~` makes of it

	Resistive  = "resistive"
	LEDStrip   = "led_strip"
	Lamp       = "lamp"
	Motor      = "motor"
	Coil       = "coil"
	Capacitive = "capacitive"

	LowSide  = "low_side"
	HighSide = "high_side"

	Direct     = "direct"
	LevelShift = "level_shift"

	NoFreewheel = "none"
	Diode       = "diode"
	Zener       = "zener"

	Solid    = "solid"
	Flexible = "flexible"
)

// Supply is what feeds the load.
type Supply struct {
	Kind           string
	Voltage        si.Quantity // V, nominal
	Maximum        si.Quantity // V, the highest it can be
	Minimum        si.Quantity // V, the lowest it can be
	CurrentLimit   si.Quantity // A; limits a lasting stall, never a rush
	Fuse           si.Quantity // A
	LoopResistance si.Quantity // Ω, of a battery and its leads when shorted
}

// Load is what is switched.
type Load struct {
	Kind             string
	Current          si.Quantity // A, running current at the nominal voltage
	Power            si.Quantity // W, instead of Current
	Resistance       si.Quantity // Ω, instead of Current; of a coil's wire
	StallCurrent     si.Quantity // A
	StallTime        si.Quantity // s
	Inductance       si.Quantity // H
	ColdRatio        si.Quantity // current of a cold lamp over its running current
	InrushTime       si.Quantity // s
	Capacitance      si.Quantity // F
	SeriesResistance si.Quantity // Ω, in series with Capacitance
	CutOut           string      // what stops the load if the switch stays closed
}

// Drive is the pin and what stands between it and the gate.
type Drive struct {
	LogicHigh      si.Quantity // V
	LogicHighMin   si.Quantity // V
	LogicLow       si.Quantity // V
	PinCurrent     si.Quantity // A, recommended for one pin
	PinCurrentMax  si.Quantity // A, absolute maximum for one pin
	PinResistance  si.Quantity // Ω
	SeriesResistor si.Quantity // Ω
	PullDown       si.Quantity // Ω, gate to source (the file says pull_up on the high side)
	Stage          string      // Direct or LevelShift
	Frequency      si.Quantity // Hz
	Duty           si.Quantity // ratio
	SupplyRise     si.Quantity // s, how fast the supply comes up
}

// Surroundings are the air and the metal around the part.
type Surroundings struct {
	Ambient       si.Quantity // °C
	CaseSink      si.Quantity // K/W, case to heatsink
	SinkAmbient   si.Quantity // K/W, heatsink to air; known means there is a heatsink
	JunctionLimit si.Quantity // °C
}

// Freewheel is what carries the current of a coil or motor when the switch opens.
type Freewheel struct {
	Kind            string
	ForwardVoltage  si.Quantity // V
	ForwardCurrent  si.Quantity // A, what the diode may carry
	ReverseVoltage  si.Quantity // V, what the diode may block
	RecoveredCharge si.Quantity // C
	ZenerVoltage    si.Quantity // V
}

// Wiring is the cable to the load.
type Wiring struct {
	Length       si.Quantity // m, one way
	CrossSection si.Quantity // m²
	Strand       string      // Solid or Flexible
	Rating       si.Quantity // A
}

// Bipolar is a transistor to compare with.
type Bipolar struct {
	SaturationVoltage si.Quantity // V, collector to emitter
	BaseVoltage       si.Quantity // V, base to emitter
	ForcedBeta        si.Quantity // collector over base current
}

// Body is a charged person about to touch a gate.
type Body struct {
	Voltage     si.Quantity // V
	Capacitance si.Quantity // F
}

// Store is a charged capacitor that has to be emptied before work.
type Store struct {
	Capacitance si.Quantity // F
	Voltage     si.Quantity // V
	Resistance  si.Quantity // Ω, across it
	DownTo      si.Quantity // V
}

// Heatsinked tells whether a heatsink was given.
func (c *Circuit) Heatsinked() bool { return c.Surroundings.SinkAmbient.Known() }

// Inductive tells whether the load keeps its current going when the switch opens.
func (c *Circuit) Inductive() bool { return c.Load.Kind == Coil || c.Load.Kind == Motor }

// HasPart tells whether a part was named or written out.
func (c *Circuit) HasPart() bool { return c.Part.Channel != "" }
