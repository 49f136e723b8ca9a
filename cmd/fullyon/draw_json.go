package main

import (
	"fullyon/engine/si"
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
		Situation: plain(d.page.Situation), Part: d.page.Part, Circuit: d.page.Circuit,
	}
	for _, q := range d.page.Questions {
		one := questionJSON{ID: q.ID, Kind: q.Kind, Prompt: plain(q.Ask)}
		if q.Kind.Numeric() {
			one.Unit = &q.Unit
		}
		for _, o := range q.Options {
			one.Options = append(one.Options, optionJSON{o.ID, plain(o.Text)})
		}
		out.Questions = append(out.Questions, one)
	}
	if !key {
		return out, nil
	}
	var err error
	out.keyJSON, err = d.keyJSON()
	return out, err
}

func (d *drawn) keyJSON() (*keyJSON, error) {
	k := &keyJSON{}
	key := d.template.Key(d.values)
	for i := range key.Answers {
		a, q := &key.Answers[i], &d.template.Questions[i]
		slips, err := d.slipsJSON(q, a)
		if err != nil {
			return nil, err
		}
		k.Answers = append(k.Answers, member[answerJSON]{a.ID, answerOf(q, a)})
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

func answerOf(q *problem.Question, a *problem.Answer) answerJSON {
	if !q.Kind.Numeric() {
		return answerJSON{Value: a.Right, Text: a.Text}
	}
	v := a.Value.JSON()
	return answerJSON{v.Value, v.Unit, a.Text, bound(a.Low), bound(a.High)}
}

// slipsJSON lists the slips of a quantity and the wrong options of a choice.
func (d *drawn) slipsJSON(q *problem.Question, a *problem.Answer) ([]slipJSON, error) {
	out := []slipJSON{}
	for i := range a.Slips {
		s := &a.Slips[i]
		because, err := d.template.SaySlip(d.values, s.Slip)
		if err != nil {
			return nil, err
		}
		out = append(out, slipJSON{s.Slip.ID, si.Round(s.Value, 10), s.Text, plain(because)})
	}
	if q.Kind != problem.Choice {
		return out, nil
	}
	right := map[string]bool{}
	for _, id := range a.Right {
		right[id] = true
	}
	for i := range q.Options {
		o := &q.Options[i]
		if right[o.ID] {
			continue
		}
		because, err := d.template.SayOption(d.values, o)
		if err != nil {
			return nil, err
		}
		out = append(out, slipJSON{o.ID, []string{o.ID}, o.ID, plain(because)})
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
