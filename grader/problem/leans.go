package problem

import (
	"math"
	"slices"

	"fullyon/engine"
	"fullyon/engine/si"
)

// Lean says how much an answer rests on one value: Share is by how many per cent
// it moves when the value moves by one per cent (a temperature: by one kelvin).
type Lean struct {
	Symbol string // TeX
	Text   string // the value as printed
	Share  float64
}

// nudge is the relative change by which leaning is measured.
const nudge = 1e-3

// leanOn are the engine's values that an answer may rest on besides what is drawn.
var leanOn = []string{"rds_on_cold", "vgs_on", "vgs_required", "theta_ja", "theta_jc", "q_g", "c_iss", "v_plateau", "stall_current"}

// Leans lists what the answer to a question rests on, most first: the drawn
// values, and what stands on the datasheet. A wrong answer is told to look at
// the first of them.
func (t *Template) Leans(v *Values, q *Question) []Lean {
	a, ok := v.key.Answer(q.ID)
	if !ok || !q.Kind.Numeric() || a.Value.Value == 0 {
		return nil
	}
	var out []Lean
	add := func(symbol, text string, s *scope) {
		x := q.answer.value(s)
		if s.err != nil {
			return
		}
		scale := a.Value.Value
		if a.Value.Dim == si.Temperature {
			scale = 1 // kelvin for a temperature, per cent for the rest
		}
		if share := (x - a.Value.Value) / scale / nudge; math.Abs(share) > 0.05 {
			out = append(out, Lean{symbol, text, share})
		}
	}
	for i := range t.draws {
		d := &t.draws[i]
		if d.slot.kind != number || d.is != nil || len(d.values) < 2 {
			continue
		}
		if s := t.nudged(v, d); s != nil {
			add(d.slot.symbol, d.slot.print(v.base[d.slot.at]), s)
		}
	}
	if t.circuit {
		for _, name := range leanOn {
			id, _ := engine.Lookup(name)
			s := v.scope()
			t.bind(v.key, s)
			x, err := s.sizing.Get(id)
			if err != nil {
				continue
			}
			s.sizing = s.sizing.Set(id, x.Value*(1+nudge))
			add(engine.Describe(id).Symbol, engineText(id, x), s)
		}
	}
	slices.SortStableFunc(out, func(a, b Lean) int { return -cmpAbs(a.Share, b.Share) })
	return out
}

func cmpAbs(a, b float64) int {
	switch a, b = math.Abs(a), math.Abs(b); {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// nudged is the scope of the draw with one drawn value a little larger; the
// values computed from it and the circuit follow. Nil where that leads nowhere.
func (t *Template) nudged(v *Values, d *drawing) *scope {
	w := &Values{Template: t, base: slices.Clone(v.base), texts: v.texts}
	s := &scope{nums: w.base, texts: w.texts}
	if t.circuit {
		s.sizing = engine.NewSizing(&v.Circuit)
	}
	if d.slot.dim == si.Temperature {
		s.nums[d.slot.at] += 1000 * nudge // one kelvin
	} else {
		s.nums[d.slot.at] *= 1 + nudge
	}
	for i := range t.draws {
		if e := &t.draws[i]; e.is != nil && e.slot.kind == number {
			s.nums[e.slot.at] = e.is.value(s)
		}
	}
	if t.circuit {
		w.Circuit = t.base
		for i := range t.setters {
			w.set(&t.setters[i], s)
		}
		s.sizing = engine.NewSizing(&w.Circuit)
	}
	for i := range t.Questions {
		if q := &t.Questions[i]; q.stands != nil { // earlier questions follow as well
			s.nums[q.stands.at] = q.answer.value(s)
		}
	}
	if s.err != nil {
		return nil
	}
	return s
}
