package engine

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Every row of testdata/published is computed by the engine: a quantity of a
// circuit in which only what the source states is given.
func TestPublished(t *testing.T) {
	files, err := filepath.Glob("../testdata/published/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no published values found: ", err)
	}
	rows := 0
	seen := map[string]bool{}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := read.Parse(filepath.Base(file), src)
		if err != nil {
			t.Fatal(err)
		}
		top := doc.Root().Map()
		parts := map[string]part.Part{}
		if m := top.Sub("parts"); m != nil {
			for _, key := range m.Keys() {
				parts[key.Name] = part.Read(m.Sub(key.Name))
			}
		}
		for _, n := range top.List("rows") {
			row := readRow(t, n.Map(), parts)
			rows++
			if seen[row.id] {
				t.Errorf("the id %s stands twice", row.id)
			}
			seen[row.id] = true
			t.Run(row.id, row.check)
		}
		top.Close()
		if err := doc.Err(); err != nil {
			t.Error(err)
		}
	}
	if rows < 120 {
		t.Errorf("only %d rows were read", rows)
	}
}

// published is one row.
type published struct {
	id, quantity, bound string
	circuit             Circuit
	given               []givenValue
	absent              bool
	want, tolerance     float64
}

type givenValue struct {
	name string
	q    si.Quantity
}

func readRow(t *testing.T, m *read.Map, parts map[string]part.Part) published {
	t.Helper()
	r := published{id: m.Text("id"), quantity: m.Text("quantity"), bound: m.TextOf("bound", "at_least", "at_most")}
	m.Require("id", "quantity", "published", "source", "status")
	m.TextOf("status", "R", "Rg", "D", "S", "common practice")
	m.Text("source")
	if text := m.Text("circuit"); text != "" {
		c, err := ReadCircuit(r.id, []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		r.circuit = c
	}
	if name := m.Text("part"); name != "" {
		p, ok := parts[name]
		if !ok {
			m.Errorf(m.Node("part"), "no part %q in this file", name)
		}
		r.circuit.Part = p
	}
	if g := m.Sub("given"); g != nil {
		for _, key := range g.Keys() {
			n, ok := Lookup(key.Name)
			if !ok {
				g.Errorf(key, "there is no input or quantity %q; the nearest is %q", key.Name, Nearest(key.Name))
				continue
			}
			r.given = append(r.given, givenValue{key.Name, g.Quantity(key.Name, Describe(n).Dim)})
		}
	}
	if m.Text("published") == "absent" {
		r.absent = true
	} else {
		d := r.dim()
		r.want = m.Quantity("published", d).Value
		if text := m.Text("tolerance"); strings.HasSuffix(text, "%") {
			r.tolerance = m.Quantity("tolerance", si.One).Value * math.Abs(r.want)
		} else {
			d.Point = false // a tolerance is a difference
			r.tolerance = m.Quantity("tolerance", d).Value
		}
	}
	m.Close()
	return r
}

// dim is the dimension of what is asked; "avalanche limit" and "runaway value" ask for a number of a check.
func (r *published) dim() si.Dim {
	if n, ok := Lookup(r.quantity); ok {
		return Describe(n).Dim
	}
	switch r.quantity {
	case "avalanche limit":
		return si.Energy
	}
	return si.One
}

func (r *published) check(t *testing.T) {
	s := NewSizing(&r.circuit)
	for _, g := range r.given {
		var err error
		if s, err = s.With(g.name, g.q); err != nil {
			t.Fatal(err)
		}
	}
	got, err := r.ask(s)
	switch {
	case r.absent:
		if err == nil {
			t.Errorf("%s is %s; nothing is guaranteed here", r.quantity, got)
		}
		return
	case err != nil:
		t.Error(err)
		return
	}
	low, high := r.want-r.tolerance, r.want+r.tolerance
	switch r.bound {
	case "at_least":
		low = r.want
	case "at_most":
		high = r.want
	}
	slack := 1e-12 * math.Abs(r.want)
	if !(got.Value >= low-slack && got.Value <= high+slack) {
		t.Errorf("%s is %v, published %s, accepted from %v to %v", r.quantity, got.Value, si.Of(r.want, got.Dim), low, high)
	}
}

func (r *published) ask(s *Sizing) (si.Quantity, error) {
	id, what, special := strings.Cut(r.quantity, " ")
	if !special {
		return s.Quantity(r.quantity)
	}
	k, ok := s.Check(id)
	if !ok {
		return si.Quantity{}, &Absent{Name: r.quantity, Because: "the check does not apply"}
	}
	q := map[string]si.Quantity{"limit": k.Limit, "value": k.Value}[what]
	if !q.Known() {
		return q, &Absent{Name: r.quantity, Because: k.Because}
	}
	return q, nil
}
