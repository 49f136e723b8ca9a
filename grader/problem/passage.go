package problem

import (
	"math/rand/v2"

	"fullyon/engine"
	"fullyon/engine/read"
)

// Passage is running text, such as that of a lesson, whose numbers are computed:
// it may name values and a circuit as a template does, each with one value, and
// put them or formulas over them into its Markdown.
type Passage struct {
	template *Template
}

// CompilePassage reads the keys draw and circuit of m, which may both be absent,
// and the Markdown that leans on them. Mistakes are noted in doc.
func CompilePassage(doc *read.Doc, m *read.Map, markdown string, at read.Pos) *Passage {
	t := &Template{names: newNames()}
	r := &reader{doc: doc, t: t, n: t.names}
	r.draws(m.Sub("draw"))
	r.circuit(m.Sub("circuit"))
	t.situation = r.prose(markdown, at, r.n)
	return &Passage{t}
}

// Text is the passage with its values, and the circuit that it speaks of; nil without one.
func (p *Passage) Text() (Text, *engine.Circuit, error) {
	v, err := p.template.try(rand.New(rand.NewPCG(0, 0)))
	if err != nil {
		return Text{}, nil, err
	}
	s := v.scope()
	text := p.template.situation.fill(s)
	if s.err != nil {
		return Text{}, nil, s.err
	}
	if !p.template.circuit {
		return text, nil, nil
	}
	return text, &v.Circuit, nil
}
