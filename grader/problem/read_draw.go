package problem

import (
	"math"
	"strings"
	"sync"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// maxValues is how many values one drawing may choose from.
const maxValues = 2000

// draws reads what is drawn, in the order written: a later one may use an earlier one.
func (r *reader) draws(m *read.Map) {
	if m == nil {
		return
	}
	for _, k := range m.Keys() {
		r.drawing(k.Name, m.Node(k.Name), m.Sub(k.Name))
	}
	m.Close()
}

func (r *reader) drawing(name string, at read.Node, m *read.Map) {
	if m == nil || !r.newName(at, name) {
		return
	}
	d := drawing{slot: &slot{name: name, symbol: m.Text("symbol"), figs: intOr(m, "figures", 0)}}
	switch {
	case m.Has("any"):
		r.anyOf(&d, m.List("any"))
	case m.Has("from"):
		r.between(&d, m)
	case m.Has("words"):
		d.slot.kind, d.words = word, m.Texts("words")
		if len(d.words) == 0 {
			r.errorf(m.Node("words"), "write at least one text to choose from")
		}
	case m.Has("drawer"):
		r.drawer(&d, m.Node("drawer"))
	case m.Has("generate"):
		r.generate(&d, m.Node("generate"))
	case m.Has("is"):
		if d.is = r.formula(m.Node("is"), r.n); d.is != nil {
			d.slot.kind, d.slot.dim = d.is.term.kind, d.is.term.dim
			if d.slot.kind == truth {
				r.errorf(m.Node("is"), "a value that is true or false cannot be named; write the condition where it is used")
			}
		}
	default:
		r.errorf(at, "%s needs one of any, from … to, words, drawer, generate or is", name)
	}
	if d.slot.kind == number {
		d.slot.unit = r.unit(m.Node("unit"), d.slot.dim)
	}
	if d.slot.symbol == "" {
		d.slot.symbol = name
	}
	m.Close()
	r.n.add(d.slot)
	r.t.draws = append(r.t.draws, d)
}

func intOr(m *read.Map, key string, or int) int {
	if !m.Has(key) {
		return or
	}
	return m.Int(key, 1, 10)
}

// anyOf reads a list of quantities of one kind.
func (r *reader) anyOf(d *drawing, list []read.Node) {
	for i, n := range list {
		q, err := anyQuantity(n.Text())
		switch {
		case err != nil:
			r.errorf(n, "%v", err)
			continue
		case i > 0 && q.Dim != d.slot.dim:
			r.errorf(n, "%s stands among %s", q.Dim.Name(), d.slot.dim.Name())
			continue
		}
		d.slot.dim = q.Dim
		d.values = append(d.values, q.Value)
	}
	if len(list) == 0 {
		r.errorf(r.doc.Root(), "any: needs at least one value")
	}
}

// anyQuantity reads a quantity of whatever dimension its unit has.
func anyQuantity(s string) (si.Quantity, error) {
	if q, ok := literalQuantity(s); ok {
		return q, nil
	}
	return si.Parse(s, si.One)
}

// between reads from … to with a step, or with a series of preferred values.
func (r *reader) between(d *drawing, m *read.Map) {
	from, err := anyQuantity(m.Text("from"))
	if err != nil {
		r.errorf(m.Node("from"), "%v", err)
		return
	}
	d.slot.dim = from.Dim
	to := m.Quantity("to", from.Dim)
	m.Require("to")
	if m.Has("series") {
		s, err := si.SeriesOf(m.Text("series"))
		if err != nil {
			r.errorf(m.Node("series"), "%v", err)
			return
		}
		d.values = s.Between(from.Value, to.Value)
	} else {
		by := from.Dim
		if by == si.Temperature {
			by = si.TemperatureDifference
		}
		step := m.Quantity("step", by)
		if !m.Require("step") || step.Value <= 0 || (to.Value-from.Value)/step.Value > maxValues {
			r.errorf(m.Node("from"), "from … to needs a step above zero that makes at most %d values, or a series", maxValues)
			return
		}
		for i := 0; float64(i) <= (to.Value-from.Value)/step.Value+1e-9; i++ {
			d.values = append(d.values, si.Round(from.Value+float64(i)*step.Value, 10))
		}
	}
	if len(d.values) == 0 {
		r.errorf(m.Node("from"), "there is no value between from and to")
	}
}

// drawer reads the condition that a part of the drawer must meet; it speaks of the part alone.
func (r *reader) drawer(d *drawing, n read.Node) {
	d.slot.kind = word
	f := r.formula(n, newNames())
	if f == nil || !r.wants(n, f, truth) {
		return
	}
	d.parts = shelf.meeting(f)
	if len(d.parts) == 0 {
		r.errorf(n, "no part of the drawer meets this condition")
	}
}

// shelf holds the parts of the drawer with what is computed of each alone, so
// that the conditions of many templates do not compute it over and over.
var shelf drawerShelf

type drawerShelf struct {
	once  sync.Once
	mu    sync.Mutex // a sizing is not for several goroutines
	parts []part.Part
	alone []*engine.Sizing
}

// meeting are the parts that meet a condition.
func (d *drawerShelf) meeting(f *Formula) []part.Part {
	d.once.Do(func() {
		d.parts = part.Drawer()
		for _, p := range d.parts {
			d.alone = append(d.alone, engine.NewSizing(&engine.Circuit{Part: p}))
		}
	})
	d.mu.Lock()
	defer d.mu.Unlock()
	var out []part.Part
	for i, p := range d.parts {
		s := newNames().scope(d.alone[i])
		if f.term.truth(s) && s.err == nil {
			out = append(out, p)
		}
	}
	return out
}

// circuit reads the circuit of a draw: circuit-file text in which a value that
// begins with = is a formula over the drawn names.
func (r *reader) circuit(m *read.Map) {
	if m == nil {
		return
	}
	r.t.circuit = true
	r.block("", m)
}

func (r *reader) block(prefix string, m *read.Map) {
	for _, k := range m.Keys() {
		n, path := m.Node(k.Name), prefix+k.Name
		if path == "part" && n.Kind == read.Scalar {
			r.partOf(n)
			continue
		}
		if n.Kind == read.Mapping {
			r.block(path+".", n.Map())
			continue
		}
		r.set(path, n)
	}
}

// partOf reads `part: =name` of a drawn part, or the name of a part of the drawer.
func (r *reader) partOf(n read.Node) {
	name, drawn := strings.CutPrefix(strings.TrimSpace(n.Text()), "=")
	if !drawn {
		p, ok := part.Find(name)
		if !ok {
			r.errorf(n, "there is no part %q in the drawer; the nearest is %q", name, part.NearestName(name))
			return
		}
		r.t.base.Part = p
		return
	}
	for i := range r.t.draws {
		if d := &r.t.draws[i]; d.slot.name == strings.TrimSpace(name) && (d.parts != nil || d.wishes != nil) {
			r.t.setters = append(r.t.setters, setter{part: d})
			return
		}
	}
	r.errorf(n, "%q is no drawn part; draw it first with drawer: or generate:", name)
}

func (r *reader) set(path string, n read.Node) {
	formula := strings.HasPrefix(n.Text(), "=")
	if in, ok := engine.InputByPath(path); ok {
		if !formula {
			in.Set(&r.t.base, n.Quantity(in.Dim))
			return
		}
		f := r.formula(n, r.n)
		switch {
		case f == nil || !r.wants(n, f, number):
		case f.term.dim != in.Dim:
			r.errorf(n, "%s is %s; %s is asked for here", f.Source, f.term.dim.Name(), in.Dim.Name())
		default:
			r.t.setters = append(r.t.setters, setter{input: in, value: f})
		}
		return
	}
	w, ok := engine.WordByPath(path)
	switch {
	case !ok && path == "surroundings.heatsink" && n.Text() == "none":
	case !ok:
		r.errorf(n, "a circuit has no %q; the nearest is %q", path, engine.NearestPath(path))
	case formula:
		if f := r.formula(n, r.n); f != nil && r.wants(n, f, word) {
			r.t.setters = append(r.t.setters, setter{word: w, value: f})
		}
	case len(w.Choices) > 0:
		w.Set(&r.t.base, n.TextOf(w.Choices...))
	default:
		w.Set(&r.t.base, n.Text())
	}
}

// shownEnough tells whether a drawn value is one that a datasheet would print: at most three figures.
func shownEnough(v float64) bool {
	return v == 0 || math.Abs(si.Round(v, 3)-v) <= 1e-12*math.Abs(v)
}
