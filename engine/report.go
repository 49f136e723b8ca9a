package engine

import (
	"bytes"
	"encoding/json"
	"strings"

	"fullyon/engine/si"
)

// Report is the whole answer on one circuit.
type Report struct {
	Title    string
	Verdict  Verdict // the worst of the checks, or Refused
	Deciding string  // id of the check that decides; empty for a refusal
	Because  string  // the deciding check's reason, or that of the refusal
	Advice   string  // beside a refusal: where to read on, and to whom such work belongs

	Quantities []Computed // what could be computed, in the order of a sizing
	Absent     []*Absent  // what could not, and why
	Checks     []Check
	Defaults   []Default // what was taken where the file is silent
	Cautions   []Caution
}

// Computed is a quantity with its value and the formula that served.
type Computed struct {
	*Definition
	Value si.Quantity

	sizing *Sizing
}

// Symbols is the formula that served, with symbols, in plain text; empty where the value comes from a table or a solution.
func (c *Computed) Symbols() string { return c.sizing.Symbols(c.ID) }

// Numbers is Symbols with this circuit's numbers.
func (c *Computed) Numbers() string { return c.sizing.Numbers(c.ID) }

// Default is a value that a result leans on without its having been given.
type Default struct {
	Name string // of the input, or the path of a word
	Text string // the value and its ground
}

// Size sizes a circuit and checks it. A circuit outside extra-low voltage is
// refused: there are no quantities and no checks then.
func Size(c *Circuit) Report {
	s := NewSizing(c)
	r := Report{Title: c.Title}
	if s.outside() {
		r.Verdict, r.Because, r.Advice = Refused, OutsideExtraLowVoltage, RefusalAdvice
		return r
	}
	r.Checks = s.Checks()
	d := Deciding(r.Checks)
	r.Verdict, r.Deciding, r.Because = d.Verdict, d.ID, d.Because
	r.Quantities = make([]Computed, 0, idCount-inputCount)
	for n := inputCount; n < idCount; n++ {
		if !s.has(n) {
			r.Absent = append(r.Absent, s.absent[n])
			continue
		}
		r.Quantities = append(r.Quantities, Computed{&table[n], si.Of(s.value[n], table[n].Dim), s})
	}
	r.Defaults = s.defaults()
	r.Cautions = s.cautions()
	return r
}

// Quantity finds a computed quantity by name.
func (r *Report) Quantity(name string) (si.Quantity, bool) {
	for i := range r.Quantities {
		if r.Quantities[i].Name == name {
			return r.Quantities[i].Value, true
		}
	}
	return si.Quantity{}, false
}

// Check finds a check by id.
func (r *Report) Check(id string) (Check, bool) {
	for _, c := range r.Checks {
		if c.ID == id {
			return c, true
		}
	}
	return Check{}, false
}

// defaults lists what the computed quantities and the checks leaned on without
// its having been given: numbers, words, and the rule for a missing curve.
func (s *Sizing) defaults() []Default {
	compared := s.given(vCE) || s.given(vBE) || s.given(forcedBeta) // with a bipolar transistor
	var leant idSet
	for n := inputCount; n < idCount; n++ {
		if s.state[n] == known && (compared || n != baseCurrent && n != baseResistor && n != lossBJT) {
			leant.join(&s.leans[n])
		}
	}
	leant.add(junctionLimit) // checks hold against these by themselves
	leant.add(supplyMaximum)
	var out []Default
	for n := ID(0); n < inputCount; n++ {
		if leant.has(n) && s.state[n] == known && !s.given(n) {
			out = append(out, Default{table[n].Name, s.defaultText(n)})
		}
	}
	if leant.has(rdsOnRatio) || s.state[junctionTemperature] == known {
		if k, fromTable := s.circuit.Part.Ratio(125); !fromTable && s.circuit.HasPart() {
			out = append(out, Default{table[rdsOnRatio].Name, "the file has no curve, so R_DS(on) is taken to rise by " +
				si.Of((k-1)/100, si.One).FiguresIn(percent, 2) + " of its value at 25 °C for each kelvin (upper side of published datasheets)"})
		}
	}
	for i := range words {
		if w := &words[i]; w.Default != "" && w.Get(s.circuit) == "" && w.matters(s.circuit) {
			out = append(out, Default{w.Path, w.Default})
		}
	}
	return out
}

// matters tells whether the default of a word has any effect in this circuit.
func (w *Word) matters(c *Circuit) bool {
	switch w.Path {
	case "freewheel.kind":
		return c.Inductive()
	case "wiring.strand":
		return c.Wiring.CrossSection.Known()
	case "drive.stage":
		return c.Placement == HighSide
	}
	return true
}

// defaultText is the value and the ground of a default: "25 Ω, common practice".
func (s *Sizing) defaultText(n ID) string {
	value, why := inWords(s.value[n], table[n].Dim), table[n].input.why
	if strings.HasPrefix(why, value) || strings.HasPrefix(why, si.Of(s.value[n], table[n].Dim).Plain()) {
		return why
	}
	return value + ": " + why
}

// JSON forms. A quantity or text that is not there is left out.
type (
	reportJSON struct {
		Verdict    Verdict                    `json:"verdict"`
		Because    string                     `json:"because,omitempty"`
		Quantities map[string]si.JSONQuantity `json:"quantities"`
		Checks     []checkJSON                `json:"checks"`
		Defaults   map[string]string          `json:"defaults,omitempty"`
	}
	checkJSON struct {
		ID       string           `json:"id"`
		Question string           `json:"question"`
		Verdict  Verdict          `json:"verdict"`
		Value    *si.JSONQuantity `json:"value,omitempty"`
		Limit    *si.JSONQuantity `json:"limit,omitempty"`
		Ratio    *float64         `json:"ratio,omitempty"`
		Because  string           `json:"because"`
		Formula  string           `json:"formula,omitempty"`
		Numbers  string           `json:"numbers,omitempty"`
		Row      string           `json:"row,omitempty"`
		Mend     string           `json:"mend,omitempty"`
	}
)

// MarshalJSON gives the stable form of `fullyon size --json`.
func (r Report) MarshalJSON() ([]byte, error) {
	out := reportJSON{Verdict: r.Verdict, Quantities: map[string]si.JSONQuantity{}, Checks: []checkJSON{}}
	if r.Verdict == Refused {
		out.Because = r.Because
		return encode(out)
	}
	for _, q := range r.Quantities {
		out.Quantities[q.Name] = q.Value.JSON()
	}
	for i := range r.Checks {
		out.Checks = append(out.Checks, r.Checks[i].json())
	}
	out.Defaults = map[string]string{}
	for _, d := range r.Defaults {
		out.Defaults[d.Name] = d.Text
	}
	return encode(out)
}

// JSON is MarshalJSON over several lines, indented, with a line end.
func (r Report) JSON() []byte {
	src, err := r.MarshalJSON()
	var b bytes.Buffer
	if err != nil || json.Indent(&b, src, "", "  ") != nil {
		return nil // only values that are not finite could lead here, and none leaves a Sizing
	}
	b.WriteByte('\n')
	return b.Bytes()
}

// encode leaves <, > and & as they are: this is not HTML.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSpace(b.Bytes()), nil
}

func (c *Check) json() checkJSON {
	out := checkJSON{ID: c.ID, Question: c.Question, Verdict: c.Verdict, Because: c.Because, Formula: c.Formula, Numbers: c.Numbers, Row: c.Row, Mend: c.Mend}
	if c.Value.Known() {
		q := c.Value.JSON()
		out.Value = &q
	}
	if c.Limit.Known() {
		q := c.Limit.JSON()
		out.Limit = &q
	}
	if c.Ratio.Known() {
		v := si.Round(c.Ratio.Value, 10)
		out.Ratio = &v
	}
	return out
}
