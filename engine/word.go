package engine

import "slices"

// Word is one text that a circuit file can give.
type Word struct {
	Path    string
	Meaning string
	Choices []string // the words that may stand there; nil for free text
	Default string   // what is taken where the file is silent; empty for none

	at func(*Circuit) *string
}

// words lists every text of a circuit file once; a part has its own reader.
var words = []Word{
	{Path: "title", Meaning: "name of the circuit", at: func(c *Circuit) *string { return &c.Title }},
	{Path: "supply.kind", Meaning: "what feeds the load", Choices: []string{Adapter, Bench, Battery, AC}, at: func(c *Circuit) *string { return &c.Supply.Kind }},
	{Path: "load.kind", Meaning: "what is switched", Choices: []string{Resistive, LEDStrip, Lamp, Motor, Coil, Capacitive}, Default: Resistive, at: func(c *Circuit) *string { return &c.Load.Kind }},
	{Path: "load.cut_out", Meaning: "what stops the load if the switch stays closed", at: func(c *Circuit) *string { return &c.Load.CutOut }},
	{Path: "placement", Meaning: "which side of the load the switch is on", Choices: []string{LowSide, HighSide}, Default: LowSide, at: func(c *Circuit) *string { return &c.Placement }},
	{Path: "drive.stage", Meaning: "what pulls the gate", Choices: []string{Direct, LevelShift}, Default: Direct, at: func(c *Circuit) *string { return &c.Drive.Stage }},
	{Path: "freewheel.kind", Meaning: "what carries the load's current when the switch opens", Choices: []string{NoFreewheel, Diode, Zener}, Default: NoFreewheel, at: func(c *Circuit) *string { return &c.Freewheel.Kind }},
	{Path: "wiring.strand", Meaning: "how the wires are made", Choices: []string{Solid, Flexible}, Default: Solid, at: func(c *Circuit) *string { return &c.Wiring.Strand }},
}

// Words lists the texts of a circuit file.
func Words() []Word { return slices.Clone(words) }

// WordByPath finds a text of a circuit file by its path, as in "load.kind".
func WordByPath(path string) (*Word, bool) {
	for i := range words {
		if words[i].Path == path {
			return &words[i], true
		}
	}
	return nil, false
}

// Get is what the circuit gives; empty where it gives nothing.
func (w *Word) Get(c *Circuit) string { return *w.at(c) }

// Set writes the text into a circuit. It does not look at Choices.
func (w *Word) Set(c *Circuit, s string) { *w.at(c) = s }

// InputByPath finds a number of a circuit file by its path, as in "drive.duty".
// drive.pull_up is the name of drive.pull_down on the high side.
func InputByPath(path string) (*Input, bool) {
	if path == pullUpPath {
		return table[pullDown].input, true
	}
	for n := ID(0); n < inputCount; n++ {
		if table[n].input.Path == path {
			return table[n].input, true
		}
	}
	return nil, false
}

const pullUpPath = "drive.pull_up"
