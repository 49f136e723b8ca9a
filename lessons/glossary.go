package lessons

import (
	"fmt"
	"html/template"
	"strings"
	"sync"

	"fullyon/engine"
	"fullyon/engine/formula"
	"fullyon/engine/read"
	"fullyon/grader/problem"
	"fullyon/lessons/math"
)

// Term is an entry of the glossary: a word of the trade, or a value that the engine
// takes or computes.
type Term struct {
	ID         string // of its place on the page of the glossary
	Title      string
	Also       []string // names on datasheets and elsewhere
	Lesson     int      // in which it is explained
	Say        string   // one sentence or two
	Definition *engine.Definition

	symbol  string // TeX
	words   []string
	example *engine.Definition
}

// glossaryAt is where the glossary stands on the site.
const glossaryAt = "/glossary#"

// readGlossary reads glossary.yaml.
func readGlossary(file string, src []byte) ([]*Term, error) {
	doc, err := read.Parse(file, src)
	if err != nil {
		return nil, err
	}
	var terms []*Term
	at, words := map[*Term]read.Pos{}, map[string]string{}
	for _, n := range doc.Root().List() {
		m := n.Map()
		if m == nil {
			continue
		}
		m.Require("lesson", "say")
		t := &Term{Title: m.Text("term"), Also: m.Texts("also"), Lesson: m.Int("lesson", 1, 99), Say: m.Text("say"), symbol: m.Text("symbol"), words: m.Texts("words")}
		t.define(m)
		for _, w := range t.words {
			w = strings.ToLower(w)
			if words[w] != "" {
				m.Errorf(m.Node("words"), "%q is a word of %q already", w, words[w])
			}
			words[w] = t.Title
		}
		m.Close()
		at[t] = n.Pos
		terms = append(terms, t)
	}
	index(doc, terms, func(t *Term) (string, read.Pos) { return t.ID, at[t] })
	return terms, doc.Err()
}

// define takes over from the engine what it knows of the term.
func (t *Term) define(m *read.Map) {
	find := func(key string) *engine.Definition {
		id, ok := engine.Lookup(m.Text(key))
		if !ok {
			m.Errorf(m.Node(key), "there is no value %q; the nearest is %q", m.Text(key), engine.Nearest(m.Text(key)))
			return nil
		}
		return engine.Describe(id)
	}
	switch {
	case m.Has("name"):
		if t.Definition = find("name"); t.Definition == nil {
			return
		}
		t.ID, t.symbol, t.example = t.Definition.Name, t.Definition.Symbol, t.Definition
		if t.Title == "" {
			t.Title = t.Definition.Meaning
		}
	default:
		m.Require("term", "example")
		t.ID = slug(t.Title)
		if m.Has("example") {
			t.example = find("example")
		}
	}
	if _, err := math.Convert(t.symbol, false); t.symbol != "" && err != nil {
		m.Errorf(m.Node("symbol"), "the symbol cannot be set: %v", err)
	}
}

// Term finds an entry of the glossary by its id. The error is an *UnknownError.
func (c *Course) Term(id string) (*Term, error) {
	byID := make(map[string]*Term, len(c.Glossary))
	for _, t := range c.Glossary {
		byID[t.ID] = t
	}
	return find("term", byID, id)
}

// Symbol is the symbol as MathML; empty where the term has none.
func (t *Term) Symbol() template.HTML { return setInline(t.symbol) }

// PlainSymbol is the symbol as text.
func (t *Term) PlainSymbol() string { return formula.TextSymbol(t.symbol) }

func setInline(tex string) template.HTML {
	if tex == "" {
		return ""
	}
	out, err := math.Convert(tex, false)
	if err != nil {
		return template.HTML(template.HTMLEscapeString(tex))
	}
	return template.HTML(out)
}

// Unit is the sign of its unit; empty for a number and for a term without a value.
func (t *Term) Unit() string {
	if t.Definition == nil {
		return ""
	}
	return t.Definition.Dim.Unit().Symbol
}

// Formula is how it is computed, as MathML; empty for what is given.
func (t *Term) Formula() template.HTML {
	f, ok := t.general()
	if !ok {
		return ""
	}
	return setInline(f.TeX(general(func(d *engine.Definition) string { return d.Symbol })))
}

// PlainFormula is Formula as text.
func (t *Term) PlainFormula() string {
	f, ok := t.general()
	if !ok {
		return ""
	}
	return f.Text(general(func(d *engine.Definition) string { return formula.TextSymbol(d.Symbol) }))
}

func (t *Term) general() (*formula.Formula, bool) {
	if t.Definition == nil || t.Definition.Formula == "" {
		return nil, false
	}
	f, err := formula.Parse(t.Definition.Formula)
	return f, err == nil
}

// general shows names by their symbols.
func general(symbol func(*engine.Definition) string) func(string) formula.Shown {
	return func(name string) formula.Shown {
		if id, ok := engine.Lookup(name); ok {
			return formula.Shown{Text: symbol(engine.Describe(id))}
		}
		return formula.Shown{}
	}
}

// Example is a value of a term in a drawn problem, or in the circuit of a lesson.
type Example struct {
	Of       *engine.Definition // the value shown: of the term itself, or one that goes with it
	Value    string
	Part     string            // the part in it; may be empty
	Template *problem.Template // nil for the circuit of a lesson
	Lesson   *Lesson           // nil for a problem; both are nil for the glossary's own circuit
}

// Example draws problems until one has a value of the term: first those of its own
// lesson, then the others, then pauses; at last it looks at the lessons' circuits and one of
// its own.
// The seed makes it another one. It returns false where nothing has such a value.
func (c *Course) Example(t *Term, seed uint64) (Example, bool) {
	if t.example == nil {
		return Example{}, false
	}
	for _, wanted := range []func(*problem.Template) bool{
		func(p *problem.Template) bool { return !p.Pause && p.Lesson == t.Lesson },
		func(p *problem.Template) bool { return !p.Pause && p.Lesson != t.Lesson },
		func(p *problem.Template) bool { return p.Pause },
	} {
		for _, p := range c.Templates {
			if !p.HasCircuit() || !wanted(p) {
				continue
			}
			v, err := p.Draw(seed)
			if err != nil {
				continue
			}
			if value := shownValue(t.example, v.Sizing()); value != "" {
				return Example{t.example, value, v.Circuit.Part.Name, p, nil}, true
			}
		}
	}
	for _, l := range c.Lessons {
		if l.Circuit == nil {
			continue
		}
		if value := shownValue(t.example, engine.NewSizing(l.Circuit)); value != "" {
			return Example{t.example, value, l.Circuit.Part.Name, nil, l}, true
		}
	}
	if value := shownValue(t.example, engine.NewSizing(farMotor())); value != "" {
		return Example{t.example, value, farMotor().Part.Name, nil, nil}, true
	}
	return Example{}, false
}

// farMotor is a circuit with what hardly any other has: a long lead, and a motor that
// is stopped only after a while.
var farMotor = sync.OnceValue(func() *engine.Circuit {
	c, err := engine.ReadCircuit("curtain motor", []byte(`title: Curtain motor
supply: {kind: adapter, voltage: 12 V, maximum: 12.6 V}
load: {kind: motor, current: 0.8 A, stall_current: 4 A, stall_time: 2 s, cut_out: an end switch}
drive: {logic_high: 5 V, logic_high_min: 4.75 V, series_resistor: 180 ohm, pull_down: 100 kohm}
part: {name: LY-N30-4}
freewheel: {kind: diode, v_f: 0.7 V, i_f: 5 A, v_rrm: 40 V}
wiring: {length: 6 m, cross_section: 0.75 mm²}
`))
	if err != nil {
		return &engine.Circuit{} // a test reads it
	}
	return &c
})

// shownValue prints what is given as it is given, and what is computed in three
// figures; empty where there is nothing to print.
func shownValue(d *engine.Definition, s *engine.Sizing) string {
	q, err := s.Quantity(d.Name)
	switch {
	case err != nil || !q.Known() || !q.Finite():
		return ""
	case d.Input() != nil:
		return q.String()
	}
	return q.Figures(3)
}

// Symbol is the symbol of the value shown, as MathML.
func (e Example) Symbol() template.HTML { return setInline(e.Of.Symbol) }

// Where names the problem or the lesson that the example is from.
func (e Example) Where() string {
	if e.Template != nil {
		return e.Template.Title
	}
	if e.Lesson != nil {
		return e.Lesson.Title
	}
	return "a curtain motor at the end of a long lead"
}

// String is what an example says, in plain text.
func (e Example) String() string {
	out := fmt.Sprintf("%s = %s", formula.TextSymbol(e.Of.Symbol), e.Value)
	if e.Part != "" {
		out += " with " + e.Part
	}
	return out + " in “" + e.Where() + "”"
}
