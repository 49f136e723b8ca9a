package problem

import (
	"fullyon/engine"
	"fullyon/engine/part"
)

// Page is what a learner sees of a draw before marking: nothing in it gives an answer away.
type Page struct {
	Situation Text
	Part      string // circuit-file text of the part; empty without one
	Parts     string // circuit-file text of the parts to pick from; empty without any
	Circuit   string // circuit-file text; empty without a circuit
	Questions []Asked
}

// Asked is one question as it is put.
type Asked struct {
	ID      string
	Kind    Kind
	Ask     Text
	Label   Text // what the value is, as in "heat in LY-N30-4"
	Unit    string
	Marks   int
	Several bool
	Hints   int
	Options []AskedOption // in the order in which they are shown
	Grounds []AskedOption // of a paired question
	Parts   []part.Part   // of a part question: the sheets to pick from
	Curve   string        // of a read-off
}

// AskedOption is one option as it is put.
type AskedOption struct {
	ID   string
	Text Text
}

// Page is what is shown of a draw before marking.
func (t *Template) Page(v *Values) (*Page, error) {
	s := v.scope()
	p := &Page{Situation: t.situation.fill(s)}
	if v.Part != nil {
		p.Part = "part:\n" + part.Write(*v.Part, 2)
	}
	if t.circuit {
		p.Circuit = engine.WriteCircuit(&v.Circuit)
	}
	for i := range v.Candidates {
		for _, c := range v.Candidates[i] {
			p.Parts += "  -\n" + part.Write(c, 4)
		}
	}
	if p.Parts != "" {
		p.Parts = "parts:\n" + p.Parts
	}
	for i := range t.Questions {
		q := &t.Questions[i]
		a := Asked{ID: q.ID, Kind: q.Kind, Ask: q.ask.fill(s), Label: q.label.fill(s), Unit: q.Unit.Symbol, Marks: q.Marks, Several: q.Several, Hints: len(q.hints)}
		a.Curve = q.Curve
		for j := range q.Grounds {
			o := &q.Grounds[j]
			a.Grounds = append(a.Grounds, AskedOption{o.ID, o.text.fill(s)})
		}
		if q.Kind == Part {
			a.Parts = v.Candidates[i]
			for _, c := range a.Parts {
				a.Options = append(a.Options, AskedOption{c.Name, Text{Markdown: c.Name}})
			}
		} else if q.Kind != Stop {
			for _, j := range v.shown[i] {
				o := &q.Options[j]
				a.Options = append(a.Options, AskedOption{o.ID, o.text.fill(s)})
			}
		}
		p.Questions = append(p.Questions, a)
	}
	return p, s.err
}

// Hint is the n-th hint of a question, counted from 0.
func (t *Template) Hint(v *Values, q *Question, n int) (Text, error) {
	if n < 0 || n >= len(q.hints) {
		return Text{}, nil
	}
	return t.say(v, &q.hints[n])
}

// SaySlip is a slip's explanation with this draw's numbers.
func (t *Template) SaySlip(v *Values, s *Slip) (Text, error) { return t.say(v, &s.says) }

// SayOption is why an option is right or wrong.
func (t *Template) SayOption(v *Values, o *Option) (Text, error) { return t.say(v, &o.because) }

// OptionText is an option as it is put.
func (t *Template) OptionText(v *Values, o *Option) (Text, error) { return t.say(v, &o.text) }

// SayBefore is why one step must come before another.
func (t *Template) SayBefore(v *Values, b *Before) (Text, error) { return t.say(v, &b.because) }

func (t *Template) say(v *Values, p *Prose) (Text, error) {
	s := v.scope()
	t.bind(v.key, s)
	text := p.fill(s)
	return text, s.err
}
