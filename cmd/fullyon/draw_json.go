package main

import (
	"slices"
	"strings"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
)

// The JSON of a draw. Names and order are stable.
type (
	drawJSON struct {
		Template  string         `json:"template"`
		Version   string         `json:"version"` // hash of the template's source
		Seed      uint64         `json:"seed"`
		Situation string         `json:"situation"`
		Part      string         `json:"part,omitempty"`
		Parts     string         `json:"parts,omitempty"` // to pick from
		Circuit   string         `json:"circuit,omitempty"`
		Questions []questionJSON `json:"questions"`
		*keyJSON
	}
	questionJSON struct {
		ID      string       `json:"id"`
		Kind    problem.Kind `json:"kind"`
		Prompt  string       `json:"prompt"`
		Unit    *string      `json:"unit,omitempty"` // of a quantity; "" for a ratio
		Options []optionJSON `json:"options,omitempty"`
		Grounds []optionJSON `json:"grounds,omitempty"` // of a paired answer, OPTION/GROUND
	}
	optionJSON struct {
		ID   string `json:"id"`
		Text string `json:"text"`
	}
	keyJSON struct {
		Answers byID[answerJSON] `json:"answers"`
		Slips   byID[[]slipJSON] `json:"slips"`
		Worked  []lineJSON       `json:"worked"`
	}
	answerJSON struct {
		Value any      `json:"value"` // a number in unit, or a list of ids
		Unit  string   `json:"unit"`
		Text  string   `json:"text"`
		Low   *float64 `json:"low"`
		High  *float64 `json:"high"`
	}
	slipJSON struct {
		ID      string `json:"id"`
		Value   any    `json:"value"`
		Text    string `json:"text"`
		Because string `json:"because"`
	}
	lineJSON struct {
		Say     string           `json:"say,omitempty"`
		Row     string           `json:"row,omitempty"`
		Symbol  string           `json:"symbol,omitempty"`
		Formula string           `json:"formula,omitempty"`
		Numbers string           `json:"numbers,omitempty"`
		Value   *si.JSONQuantity `json:"value,omitempty"`
		Answers string           `json:"answers,omitempty"`
		Round   int              `json:"round,omitempty"`
	}
)

func (d *drawn) json(key bool) (*drawJSON, error) {
	out := &drawJSON{
		Template: d.template.ID, Version: d.template.Hash, Seed: d.values.Seed,
		Situation: plain(d.page.Situation), Part: d.partText(), Parts: d.page.Parts, Circuit: d.page.Circuit,
	}
	for _, q := range d.page.Questions {
		one := questionJSON{ID: q.ID, Kind: q.Kind, Prompt: plain(q.Ask)}
		if q.Kind.Numeric() {
			one.Unit = &q.Unit
		}
		one.Options, one.Grounds = optionsOf(q.Options), optionsOf(q.Grounds)
		out.Questions = append(out.Questions, one)
	}
	if !key {
		return out, nil
	}
	var err error
	out.keyJSON, err = d.keyJSON()
	return out, err
}

// partText is a circuit file that holds the part and nothing else; a P-channel
// part is valid there only on the high side.
func (d *drawn) partText() string {
	if p := d.values.Part; p != nil && p.Channel == part.P {
		return "placement: " + engine.HighSide + "\n" + d.page.Part
	}
	return d.page.Part
}

func optionsOf(list []problem.AskedOption) []optionJSON {
	var out []optionJSON
	for _, o := range list {
		out = append(out, optionJSON{o.ID, plain(o.Text)})
	}
	return out
}

func (d *drawn) keyJSON() (*keyJSON, error) {
	k := &keyJSON{}
	key := d.template.Key(d.values)
	for i := range key.Answers {
		a := &key.Answers[i]
		slips, err := d.slipsOf(i)
		if err != nil {
			return nil, err
		}
		k.Answers = append(k.Answers, member[answerJSON]{a.ID, answerOf(d.template.Questions[i].Kind, a)})
		k.Slips = append(k.Slips, member[[]slipJSON]{a.ID, slips})
	}
	lines, err := d.template.Worked(d.values)
	if err != nil {
		return nil, err
	}
	k.Worked = []lineJSON{}
	for i := range lines {
		k.Worked = append(k.Worked, lineOf(&lines[i]))
	}
	return k, nil
}

func answerOf(kind problem.Kind, a *problem.Answer) answerJSON {
	switch {
	case kind.Numeric():
		v := a.Value.JSON()
		return answerJSON{v.Value, v.Unit, a.Text, bound(a.Low), bound(a.High)}
	case kind.Paired():
		return answerJSON{Value: strings.Split(a.Text, "/"), Text: a.Text}
	}
	return answerJSON{Value: a.Right, Text: a.Text}
}

// slipsOf lists the slips of the i-th question when it asks for a quantity, and
// its wrong options when it asks to choose.
func (d *drawn) slipsOf(i int) ([]slipJSON, error) {
	out := []slipJSON{}
	q, a := &d.template.Questions[i], &d.template.Key(d.values).Answers[i]
	for j := range a.Slips {
		s := &a.Slips[j]
		because, err := d.template.SaySlip(d.values, s.Slip)
		if err != nil {
			return nil, err
		}
		out = append(out, slipJSON{s.Slip.ID, si.Round(s.Value, 10), s.Text, plain(because)})
	}
	if q.Kind != problem.Choice && !q.Kind.Paired() {
		return out, nil
	}
	for _, o := range d.page.Questions[i].Options {
		if slices.Contains(a.Right, o.ID) {
			continue
		}
		text := o.ID
		if q.Kind.Paired() {
			text += "/" + a.Grounds[0]
		}
		r, err := grader.Mark(d.template, d.values, d.template.Key(d.values), grader.Response{q.ID: text})
		if err != nil {
			return nil, err
		}
		out = append(out, slipJSON{o.ID, strings.Split(text, "/"), text, plain(r.Questions[q.ID].Because)})
	}
	return out, nil
}

func lineOf(l *problem.Line) lineJSON {
	out := lineJSON{Say: plain(l.Say), Row: l.Row, Symbol: symbol(l.Symbol), Answers: l.Answers, Round: l.Round}
	if l.Formula != nil {
		out.Formula, out.Numbers = l.Formula.Text(l.PlainSymbols), l.Formula.Text(l.PlainNumbers)
	}
	if l.Symbol != "" {
		v := l.Value.JSON()
		v.Text = l.Shown
		out.Value = &v
	}
	return out
}
