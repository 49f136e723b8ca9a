package problem

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// maxTries is how many draws are thrown away before a seed counts as impossible.
const maxTries = 200

// MaxSeed is the largest seed: 2^53 − 1, which every JSON reader holds exactly.
const MaxSeed = 1<<53 - 1

// Values are what one seed makes of a template: the drawn values, the circuit
// with its part, and the order in which options are shown. They do not change.
type Values struct {
	Template *Template
	Seed     uint64
	Tries    int    // draws thrown away before this one
	Shape    string // what the draw has in common with others as hard as it

	Circuit engine.Circuit // meaningless unless Template.HasCircuit
	Part    *part.Part     // the drawn part; nil without one

	base  []float64 // nums of the scope as drawn
	texts []string
	shown [][]int // per question, the order of its options

	Candidates [][]part.Part // per question of the kind part: the parts to pick from
	outlook    [][]prospect  // what the engine says of them
	key        *Key

	generated []generated // the parts made for this draw
}

// generated is a part with the drawing that made it.
type generated struct {
	by   *drawing
	part part.Part
}

// Draw makes the problem of a seed, the same for ever for one version of the
// template and the program. It fails only when no draw meets the template's
// conditions in 200 tries, which checking the template rules out.
func (t *Template) Draw(seed uint64) (*Values, error) { return t.DrawAlike(seed, "") }

// DrawAlike is Draw, held to one shape, so that all members of a class get
// problems as hard as one another's. An empty shape allows any.
func (t *Template) DrawAlike(seed uint64, shape string) (*Values, error) {
	h := fnv.New64a()
	h.Write([]byte(t.ID))
	rng := rand.New(rand.NewPCG(seed, h.Sum64()))
	var why error
	for try := range maxTries {
		v, err := t.try(rng)
		if err == nil && shape != "" && v.Shape != shape {
			err = fmt.Errorf("the shape is %s", v.Shape)
		}
		if err == nil {
			v.Seed, v.Tries = seed, try
			return v, nil
		}
		why = err
	}
	return nil, fmt.Errorf("template %s: no draw for seed %d in %d tries; the last was thrown away since %w", t.ID, seed, maxTries, why)
}

// try makes one draw, or says why it has to be thrown away.
func (t *Template) try(rng *rand.Rand) (*Values, error) {
	v := &Values{Template: t, base: make([]float64, t.names.nums), texts: make([]string, t.names.texts)}
	s := &scope{nums: v.base, texts: v.texts}
	for i := range t.draws {
		v.draw(&t.draws[i], s, rng)
	}
	if s.err != nil {
		return nil, s.err
	}
	if t.circuit {
		v.Circuit = t.base
		for i := range t.setters {
			v.set(&t.setters[i], s)
		}
		if s.err != nil {
			return nil, s.err
		}
		s.sizing = engine.NewSizing(&v.Circuit)
		if v.Circuit.HasPart() {
			v.Part = &v.Circuit.Part
		}
	}
	for _, f := range t.where {
		if !f.term.truth(s) || s.err != nil {
			return nil, or(s.err, fmt.Errorf("%s does not hold", f.Source))
		}
	}
	if err := t.hasCurves(v); err != nil {
		return nil, err
	}
	v.shown = make([][]int, len(t.Questions))
	for i := range t.Questions {
		v.shown[i] = rng.Perm(len(t.Questions[i].Options))
	}
	if err := t.pick(v, s, rng); err != nil {
		return nil, err
	}
	key, err := t.keyOver(v, s, nil)
	if err != nil {
		return nil, err
	}
	if err := t.apart(key); err != nil {
		return nil, err
	}
	v.key, v.Shape = key, t.shapeOf(s)
	return v, s.err
}

func or(first, second error) error {
	if first != nil {
		return first
	}
	return second
}

// draw makes one drawn value.
func (v *Values) draw(d *drawing, s *scope, rng *rand.Rand) {
	at := d.slot.at
	switch {
	case d.values != nil:
		s.nums[at] = d.values[rng.IntN(len(d.values))]
	case d.words != nil:
		s.texts[at] = d.words[rng.IntN(len(d.words))]
	case d.parts != nil:
		i := rng.IntN(len(d.parts))
		s.texts[at] = d.parts[i].Name
		s.sizing = engine.NewSizing(&engine.Circuit{Part: d.parts[i]}) // later drawings may speak of the part
	case d.wishes != nil:
		p := d.wishes.draw(rng)
		v.generated = append(v.generated, generated{d, p})
		s.texts[at] = p.Name
		s.sizing = engine.NewSizing(&engine.Circuit{Part: p})
	case d.slot.kind == word:
		s.texts[at] = d.is.term.text(s)
	default:
		s.nums[at] = si.Round(d.is.value(s), 10)
	}
}

// set writes one value of the draw into its circuit.
func (v *Values) set(w *setter, s *scope) {
	switch {
	case w.part != nil && w.part.wishes != nil:
		for _, g := range v.generated {
			if g.by == w.part {
				v.Circuit.Part = g.part
			}
		}
	case w.part != nil:
		name := s.texts[w.part.slot.at]
		for i := range w.part.parts {
			if w.part.parts[i].Name == name {
				v.Circuit.Part = w.part.parts[i]
			}
		}
	case w.word != nil:
		w.word.Set(&v.Circuit, w.value.term.text(s))
	default:
		w.input.Set(&v.Circuit, w.value.quantity(s))
	}
}

// shapeOf tells draws of one difficulty from others: what the author says, or
// the datasheet row that serves.
func (t *Template) shapeOf(s *scope) string {
	if t.shape != nil {
		return t.shape.term.text(s)
	}
	if s.sizing == nil {
		return "plain"
	}
	v, err := s.sizing.Quantity("vgs_on")
	p := &s.sizing.Circuit().Part
	if err != nil || p.Channel == "" {
		return "plain"
	}
	for i, r := range p.Characteristics.RDSOn {
		if row, _ := p.RowFor(v.Value); row == r {
			return fmt.Sprintf("row %d of %d", i+1, len(p.Characteristics.RDSOn))
		}
	}
	return "no row"
}

// scope is the scope of a finished draw, with a sizing of its own.
func (v *Values) scope() *scope {
	s := &scope{nums: append([]float64(nil), v.base...), texts: v.texts}
	if v.Template.circuit {
		s.sizing = engine.NewSizing(&v.Circuit)
	}
	return s
}

// Given lists the drawn values by name, printed as a learner sees them.
func (v *Values) Given() map[string]string {
	out := map[string]string{}
	for i := range v.Template.draws {
		d := &v.Template.draws[i]
		if d.slot.kind == word {
			out[d.slot.name] = v.texts[d.slot.at]
		} else {
			out[d.slot.name] = d.slot.print(v.base[d.slot.at])
		}
	}
	return out
}

// Sizing is a new sizing of the draw's circuit; nil where none is drawn.
func (v *Values) Sizing() *engine.Sizing { return v.scope().sizing }
