package engine

import (
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// ReadCircuit reads a circuit file, YAML or JSON. The error is read.Errors: all
// mistakes, each with file, line, column and what to do.
func ReadCircuit(file string, src []byte) (Circuit, error) {
	doc, err := read.Parse(file, src)
	if err != nil {
		return Circuit{}, err
	}
	c := CircuitFrom(doc.Root().Map())
	if err := doc.Err(); err != nil {
		return Circuit{}, err
	}
	return c, nil
}

// CircuitFrom reads a circuit out of a map; mistakes are noted in its document.
// A nil map gives the zero Circuit.
func CircuitFrom(m *read.Map) Circuit {
	if m == nil {
		return Circuit{}
	}
	r := &circuitReader{m: m, blocks: map[string]*read.Map{"": m}, nodes: map[string]read.Node{}}
	for i := range words {
		r.word(&words[i])
	}
	for n := ID(0); n < inputCount; n++ {
		if in := table[n].input; !strings.HasPrefix(in.Path, "part.") {
			r.number(n, in)
		}
	}
	r.part()
	for name, b := range r.blocks {
		if b != nil && name != "part" {
			b.Close()
		}
	}
	r.contradictions()
	return r.c
}

// circuitReader walks a circuit file by the tables of words and inputs.
type circuitReader struct {
	m      *read.Map
	c      Circuit
	blocks map[string]*read.Map // by path; nil where absent or none
	nodes  map[string]read.Node // what was read, by path
}

// split parts "surroundings.heatsink.theta_sa" into block and key.
func split(path string) (block, key string) {
	i := strings.LastIndexByte(path, '.')
	if i < 0 {
		return "", path
	}
	return path[:i], path[i+1:]
}

// block gives the map at a path. Two blocks may be the word none instead.
func (r *circuitReader) block(path string) *read.Map {
	if b, ok := r.blocks[path]; ok {
		return b
	}
	outer, key := split(path)
	n := r.block(outer).Node(key)
	var b *read.Map
	switch none := n.Kind == read.Scalar && n.Raw() == NoFreewheel; {
	case none && path == "freewheel":
		r.c.Freewheel.Kind = NoFreewheel
	case none && path == "surroundings.heatsink":
	default:
		b = n.Map()
	}
	r.blocks[path] = b
	return b
}

func (r *circuitReader) node(path string) read.Node {
	block, key := split(path)
	n := r.block(block).Node(key)
	if n.Kind != read.None {
		r.nodes[path] = n
	}
	return n
}

// place is where something was read, or where its block or the file begins.
func (r *circuitReader) place(path string) read.Place {
	for ; path != ""; path, _ = split(path) {
		if n, ok := r.nodes[path]; ok {
			return n
		}
		if b := r.blocks[path]; b != nil {
			return b
		}
	}
	return r.m
}

func (r *circuitReader) word(w *Word) {
	n := r.node(w.Path)
	switch {
	case n.Kind == read.None:
		if w.Path == "freewheel.kind" {
			if b := r.block("freewheel"); b != nil {
				b.Require("kind")
			}
		}
		return
	case w.Choices == nil:
		w.Set(&r.c, n.Text())
	case w.Path == "supply.kind" && alternatingWord(n.Raw()):
		w.Set(&r.c, AC)
	default:
		w.Set(&r.c, n.TextOf(w.Choices...))
	}
}

func (r *circuitReader) number(id ID, in *Input) {
	n := r.node(in.Path)
	if id == pullDown {
		n = r.pull()
	}
	switch {
	case n.Kind == read.None:
		return
	case in.Dim == si.Voltage && strings.HasPrefix(in.Path, "supply."):
		in.Set(&r.c, r.supplyVoltage(n))
	default:
		in.Set(&r.c, n.Quantity(in.Dim))
	}
	r.judge(id, n, in.Get(&r.c))
}

// pull reads the resistor from gate to source under the name that suits the side.
func (r *circuitReader) pull() read.Node {
	down, up := r.node("drive.pull_down"), r.node(pullUpPath)
	switch {
	case r.c.Placement == HighSide && down.Kind != read.None:
		r.m.Errorf(down, "on the high side the source is at the supply, so its resistor to the gate pulls up: write pull_up")
	case r.c.Placement != HighSide && up.Kind != read.None:
		r.m.Errorf(up, "on the low side the source is at 0 V, so its resistor to the gate pulls down: write pull_down")
	case up.Kind != read.None:
		return up
	}
	return down
}

// supplyVoltage reads a voltage that may be marked as alternating, as in `12 VAC`
// or `V~`. Such a mark is never a mistake of the unit: it makes the supply one that is refused.
func (r *circuitReader) supplyVoltage(n read.Node) si.Quantity {
	if n.Kind != read.Scalar || n.IsNull() {
		return n.Quantity(si.Voltage)
	}
	text, alternating := stripMarks(n.Raw())
	if !alternating && text == n.Raw() {
		return n.Quantity(si.Voltage)
	}
	q, err := si.Parse(text, si.Voltage)
	if alternating {
		r.c.Supply.Kind = AC
		if err != nil || q.Value < 0 {
			return si.Quantity{}
		}
		return q
	}
	if err != nil {
		return n.Quantity(si.Voltage) // tells the mistake with the text as it was written
	}
	return q
}

// part reads the part, from the drawer when only its name is given.
func (r *circuitReader) part() {
	m := r.block("part")
	p := part.Read(m)
	if m != nil && p.Channel == "" && p.Name != "" && len(m.Keys()) == 1 {
		found, ok := part.Find(p.Name)
		if !ok {
			r.unknownPart(m.Node("name"), p.Name)
		}
		p = found
	}
	r.c.Part = p
	for n := ID(0); n < inputCount; n++ {
		if in := table[n].input; strings.HasPrefix(in.Path, "part.") && in.Get(&r.c).Known() {
			r.inRange(r.partPlace(in.Path), in.Get(&r.c))
		}
	}
	for _, row := range p.Characteristics.RDSOn {
		for _, q := range []si.Quantity{row.VGS, row.ID, row.Typ, row.Max} {
			r.inRange(r.partPlace("part.characteristics.r_ds_on"), q)
		}
	}
	for _, point := range p.Characteristics.Ratio {
		r.inRange(r.partPlace("part.characteristics.r_ds_on_ratio"), point.Temperature)
		r.inRange(r.partPlace("part.characteristics.r_ds_on_ratio"), point.Ratio)
	}
	for _, cell := range p.Characteristics.ZTh.Cells {
		r.inRange(r.partPlace("part.characteristics.z_th"), cell.R)
		r.inRange(r.partPlace("part.characteristics.z_th"), cell.Tau)
	}
}

func (r *circuitReader) unknownPart(at read.Place, name string) {
	var known []string
	for _, p := range part.Drawer() {
		known = append(known, p.Name)
	}
	if near := read.Nearest(name, known); near != "" {
		r.m.Errorf(at, "the drawer has no part %q; the nearest is %q", name, near)
		return
	}
	r.m.Errorf(at, "the drawer has no part %q; write one of its names, or all the ratings of the part", name)
}

// partPlace is the innermost place inside the part that lies on a path.
func (r *circuitReader) partPlace(path string) read.Place {
	n := r.m.Node("part")
	for _, key := range strings.Split(path, ".")[1:] {
		if n.Kind != read.Mapping || !n.Map().Has(key) {
			break
		}
		n = n.Map().Node(key)
	}
	return n
}
