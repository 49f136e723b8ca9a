package part

import (
	"math"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Read reads a part in the words of a circuit file. Mistakes and contradictions
// are noted in the document of m, each at its place. A minus sign before a
// voltage or current of a P-channel part is dropped. A map with the key `name`
// alone means a part of a drawer: the Part then holds the name and no channel,
// and the caller looks it up (see Find). A nil map gives the zero Part.
func Read(m *read.Map) Part {
	if m == nil {
		return Part{}
	}
	keys := m.Keys()
	if len(keys) == 1 && keys[0].Name == "name" {
		m.Node("name")
		return Part{Name: m.Text("name")}
	}
	p := Part{
		Name: m.Text("name"), Channel: Channel(m.TextOf("channel", string(N), string(P))),
		Package: m.Text("package"), Note: m.Text("note"),
	}
	m.Require("channel")
	r := &reader{m: m, p: p.Channel == P}
	p.Ratings = r.ratings(m.Sub("ratings"))
	p.Characteristics = r.characteristics(m.Sub("characteristics"))
	if t := m.Sub("thermal"); t != nil {
		p.Thermal.JunctionCase = r.positive(t, "theta_jc", si.ThermalResistance)
		p.Thermal.JunctionAmbient = r.positive(t, "theta_ja", si.ThermalResistance)
		t.Close()
	}
	m.Close()
	contradictions(m, &p)
	return p
}

// reader reads values by the sign rules of one channel.
type reader struct {
	m *read.Map
	p bool // a P channel: signs are dropped
}

// positive reads a value that only makes sense above zero.
func (r *reader) positive(m *read.Map, key string, d si.Dim) si.Quantity {
	return r.above(m.Node(key), d)
}

func (r *reader) above(n read.Node, d si.Dim) si.Quantity {
	q := n.Quantity(d)
	if q.Known() && q.Value <= 0 {
		n.Doc().Errorf(n, "%s must be above zero", label(n))
		return si.Quantity{}
	}
	return q
}

// magnitude reads a voltage or current that a P-channel sheet prints with a minus sign.
func (r *reader) magnitude(m *read.Map, key string, d si.Dim) si.Quantity {
	n := m.Node(key)
	q := n.Quantity(d)
	if r.p {
		q.Value = math.Abs(q.Value)
	}
	switch {
	case !q.Known() || q.Value > 0:
		return q
	case q.Value < 0:
		n.Doc().Errorf(n, "%s is negative; an N-channel part has it positive, so write channel: P if the sheet has the minus sign", label(n))
	default:
		n.Doc().Errorf(n, "%s must be above zero", label(n))
	}
	return si.Quantity{}
}

func label(n read.Node) string {
	if n.Key() != "" {
		return n.Key()
	}
	return "this value"
}

func (r *reader) ratings(m *read.Map) Ratings {
	if m == nil {
		return Ratings{}
	}
	q := Ratings{
		VDS: r.magnitude(m, "v_ds", si.Voltage), ID: r.magnitude(m, "i_d", si.Current),
		IDAt:     Rated(m.TextOf("i_d_at", string(AtCase), string(AtAmbient))),
		IDPulse:  r.magnitude(m, "i_d_pulse", si.Current),
		Junction: m.Quantity("t_j", si.Temperature),
		EAS:      r.positive(m, "e_as", si.Energy), IAS: r.magnitude(m, "i_as", si.Current),
	}
	if n := m.Node("v_gs"); n.Kind == read.Mapping {
		// A limit on either side of zero: which sign it has follows from its key.
		v := n.Map()
		for key, to := range map[string]*si.Quantity{"max": &q.VGSMax, "min": &q.VGSMin} {
			*to = v.Quantity(key, si.Voltage)
			to.Value = math.Abs(to.Value)
			if to.Known() && to.Value == 0 {
				v.Errorf(v.Node(key), "%s must not be zero", key)
			}
		}
		v.Require("max", "min")
		v.Close()
	} else {
		q.VGSMax = r.magnitude(m, "v_gs", si.Voltage)
		q.VGSMin = q.VGSMax
	}
	if m.Has("i_d") && !m.Has("i_d_at") {
		m.Errorf(m.Node("i_d"), "i_d needs i_d_at beside it: case, or ambient, as the sheet rates it")
	}
	if t := q.Junction; t.Known() && (t.Value < 50 || t.Value > 300) {
		m.Errorf(m.Node("t_j"), "t_j must lie from 50 C to 300 C; sheets print 125 C to 175 C")
	}
	m.Close()
	return q
}

func (r *reader) characteristics(m *read.Map) Characteristics {
	if m == nil {
		return Characteristics{}
	}
	c := Characteristics{
		QGS: r.positive(m, "q_gs", si.Charge), QGD: r.positive(m, "q_gd", si.Charge),
		VPlateau: r.magnitude(m, "v_plateau", si.Voltage), RGate: r.positive(m, "r_gate", si.Resistance),
		CIss: r.positive(m, "c_iss", si.Capacitance), COss: r.positive(m, "c_oss", si.Capacitance),
		CRss: r.positive(m, "c_rss", si.Capacitance), VSD: r.magnitude(m, "v_sd", si.Voltage),
	}
	if t := m.Sub("v_gs_th"); t != nil {
		c.VGSTh = MinTypMax{
			Min: r.magnitude(t, "min", si.Voltage), Typ: r.magnitude(t, "typ", si.Voltage), Max: r.magnitude(t, "max", si.Voltage),
		}
		if at := t.Sub("at"); at != nil {
			c.VGSTh.At = r.magnitude(at, "i_d", si.Current)
			at.Close()
		}
		t.Close()
	}
	if g := m.Sub("q_g"); g != nil {
		c.QG = r.positive(g, "value", si.Charge)
		if at := g.Sub("at"); at != nil {
			c.QGAt = r.magnitude(at, "v_gs", si.Voltage)
			at.Close()
		} else if g.Has("value") {
			g.Errorf(g, "q_g needs at: {v_gs: …} beside its value: the gate voltage that the charge was measured to")
		}
		g.Close()
	}
	for _, n := range m.List("r_ds_on") {
		row := n.Map()
		if row == nil {
			continue
		}
		c.RDSOn = append(c.RDSOn, Row{
			VGS: r.magnitude(row, "v_gs", si.Voltage), ID: r.magnitude(row, "i_d", si.Current),
			Typ: r.positive(row, "typ", si.Resistance), Max: r.positive(row, "max", si.Resistance),
		})
		row.Require("v_gs", "max")
		row.Close()
	}
	for _, n := range m.List("r_ds_on_ratio") {
		if a, b, ok := pair(n, "[temperature, ratio]"); ok {
			c.Ratio = append(c.Ratio, Point{a.Quantity(si.Temperature), r.above(b, si.One)})
		}
	}
	c.ZTh = r.response(m.Sub("z_th"))
	m.Close()
	return c
}

// maxCells bounds a thermal response; sheets print three to six cells.
const maxCells = 20

func (r *reader) response(m *read.Map) Response {
	if m == nil {
		return Response{}
	}
	z := Response{
		To:      Rated(m.TextOf("to", string(AtCase), string(AtAmbient))),
		Network: Network(m.TextOf("network", string(Foster), string(Cauer))),
	}
	m.Require("to", "network", "cells")
	for _, n := range m.List("cells") {
		a, b, ok := pair(n, "[R in K/W, time constant]")
		if !ok {
			continue
		}
		if len(z.Cells) == maxCells {
			m.Errorf(n, "z_th has more than %d cells; sheets print three to six", maxCells)
			break
		}
		if cell := (Cell{r.above(a, si.ThermalResistance), r.above(b, si.Time)}); cell.R.Known() && cell.Tau.Known() {
			z.Cells = append(z.Cells, cell)
		}
	}
	m.Close()
	return z
}

// pair takes a list of two values apart.
func pair(n read.Node, form string) (a, b read.Node, ok bool) {
	items := n.List()
	if n.Kind != read.List {
		return a, b, false
	}
	if len(items) != 2 {
		n.Doc().Errorf(n, "two values are asked for here, %s, and these are %d", form, len(items))
		return a, b, false
	}
	return items[0], items[1], true
}
