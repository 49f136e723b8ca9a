package engine

import (
	"fullyon/engine/formula"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Definition is what the engine knows of an input or quantity besides its value.
// Formula is in the notation of package formula, over the names of other
// definitions; Source names the ground of the formula.
type Definition struct {
	ID      ID
	Name    string
	Symbol  string // TeX
	Meaning string
	Dim     si.Dim
	Formula string
	Source  string

	input      *Input
	compute    func(*Sizing) float64
	symbolText string // Symbol as plain text
}

// Input tells where in a circuit file the value is given; nil for a computed quantity.
func (d *Definition) Input() *Input { return d.input }

// table holds all definitions by number; it is filled once at start since the
// computations refer to one another through it.
var (
	table  [idCount]Definition
	byName map[string]ID
)

func init() {
	byName = make(map[string]ID, idCount)
	in := inputs()
	for n := range in {
		i := &in[n]
		table[n] = Definition{Name: i.Name, Symbol: i.Symbol, Meaning: i.Meaning, Dim: i.Dim, input: i, compute: i.compute(ID(n))}
	}
	for _, group := range [][]Definition{loadQuantities(), gateQuantities(), lossQuantities(), thermalQuantities(), kickQuantities(), pulseQuantities(), otherQuantities()} {
		for _, d := range group {
			table[d.ID] = d
		}
	}
	for n := range table {
		table[n].ID = ID(n)
		table[n].symbolText = formula.TextSymbol(table[n].Symbol)
		byName[table[n].Name] = ID(n)
	}
}

// compute reads the input from the circuit, or falls back on its default.
func (i *Input) compute(n ID) func(*Sizing) float64 {
	return func(s *Sizing) float64 {
		if q := i.at(s.circuit); q.Known() {
			return q.Value
		}
		if i.standIn != nil {
			return i.standIn(s)
		}
		return s.lack(n, "%s (%s) is not given", i.Path, i.Meaning)
	}
}

// Default says what stands in where the file is silent; empty where nothing does.
func (i *Input) Default() string { return i.why }

// Get is what the circuit gives for this input.
func (i *Input) Get(c *Circuit) si.Quantity { return *i.at(c) }

// Set writes the input into a circuit.
func (i *Input) Set(c *Circuit, q si.Quantity) { *i.at(c) = q }

// Lookup finds an input or quantity by name.
func Lookup(name string) (ID, bool) { n, ok := byName[name]; return n, ok }

// Nearest is the known name most like the given one, or empty.
func Nearest(name string) string {
	known := make([]string, 0, idCount)
	for n := range table {
		known = append(known, table[n].Name)
	}
	return read.Nearest(name, known)
}

// Describe gives the definition of an input or quantity.
func Describe(n ID) *Definition { return &table[n] }

// Inputs lists the inputs in the order of a circuit file.
func Inputs() []*Definition { return slice(0, inputCount) }

// Quantities lists the computed quantities in the order of a sizing.
func Quantities() []*Definition { return slice(inputCount, idCount) }

func slice(from, to ID) []*Definition {
	out := make([]*Definition, 0, to-from)
	for n := from; n < to; n++ {
		out = append(out, &table[n])
	}
	return out
}
