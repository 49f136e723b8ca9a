package problem

import (
	"fmt"

	"fullyon/engine"
	"fullyon/engine/formula"
	"fullyon/engine/si"
)

// Line is one line of a worked answer: what to do, the formula, the formula with
// this draw's numbers, the result, and the datasheet row it leans on.
type Line struct {
	Say     Text
	Row     string // flat name of the datasheet row; empty for none
	Symbol  string // TeX of the value found; empty for a line in words
	Formula *formula.Formula
	Value   si.Quantity
	Shown   string // the value as printed
	Answers string // id of the question that the line answers; empty for none
	Round   int    // of a loop in which a value feeds back; 0 for none

	names map[string]shownName
}

// shownName is how a name of a formula is shown in symbols and in numbers.
type shownName struct{ symbol, number string }

// Symbols shows a name by its symbol, as TeX.
func (l *Line) Symbols(name string) formula.Shown {
	return formula.Shown{Text: l.names[name].symbol}
}

// Numbers shows a name by its value, as TeX.
func (l *Line) Numbers(name string) formula.Shown {
	return formula.Shown{Text: texQuantity(l.names[name].number), Compound: true}
}

// PlainSymbols and PlainNumbers are the same for a line of text.
func (l *Line) PlainSymbols(name string) formula.Shown {
	return formula.Shown{Text: formula.TextSymbol(l.names[name].symbol)}
}

// PlainNumbers shows a name by its value, as text.
func (l *Line) PlainNumbers(name string) formula.Shown {
	return formula.Shown{Text: l.names[name].number, Compound: true}
}

// Worked is the worked answer of a draw.
func (t *Template) Worked(v *Values) ([]Line, error) {
	s := v.scope()
	t.bind(v.key, s)
	lines := make([]Line, len(t.steps))
	for i := range t.steps {
		st := &t.steps[i]
		l := &lines[i]
		l.Row, l.Answers, l.Round = st.row, st.answer, st.round
		if st.is != nil {
			l.Value = st.is.quantity(s)
			l.Shown = printed(l.Value, st.let.unit, st.let.figs)
			l.Symbol = st.let.symbol
			s.nums[st.let.at] = l.Value.Value
		}
		l.Say = st.say.fill(s)
		if st.math != "" {
			l.Formula, _ = formula.Parse(st.math)
			l.names = t.shown(l.Formula.Names(), s)
			for name, q := range st.literals {
				l.names[name] = shownName{texQuantity(q.String()), q.String()}
			}
		}
		if s.err != nil {
			return nil, fmt.Errorf("worked answer, step %d: %w", i+1, s.err)
		}
	}
	return lines, nil
}

// bind gives the questions' names their right answers.
func (t *Template) bind(k *Key, s *scope) {
	for i := range t.Questions {
		if q := &t.Questions[i]; q.stands != nil {
			s.nums[q.stands.at] = k.Answers[i].Value.Value
		}
	}
}

// shown gives symbol and printed value of the names of a formula.
func (t *Template) shown(list []string, s *scope) map[string]shownName {
	out := make(map[string]shownName, len(list))
	for _, name := range list {
		if own, ok := t.names.index[name]; ok {
			out[name] = shownName{own.symbol, own.print(s.nums[own.at])}
		} else if id, ok := engine.Lookup(name); ok {
			q, err := s.sizing.Get(id)
			if err != nil {
				s.fail(err)
				continue
			}
			out[name] = shownName{engine.Describe(id).Symbol, engineText(id, q)}
		}
	}
	return out
}

// engineText prints an engine's value: an input as it was given, a computed one to three figures.
func engineText(id engine.ID, q si.Quantity) string {
	if engine.Describe(id).Input() != nil {
		return q.String()
	}
	return printed(q, nil, 0)
}

// texQuantity writes a printed quantity as TeX: "2.0 A" becomes \qty{2.0}{A}.
func texQuantity(text string) string {
	for i := len(text) - 1; i > 0; i-- {
		if text[i] == ' ' {
			return `\qty{` + text[:i] + `}{` + text[i+1:] + `}`
		}
	}
	return text
}

// byHand works the answers out again as somebody does who reads the printed
// values and rounds each result to what is printed: the value of each question
// that a step answers.
func (t *Template) byHand(v *Values) (map[string]si.Quantity, error) {
	s := v.scope()
	out := map[string]si.Quantity{}
	for i := range t.steps {
		st := &t.steps[i]
		if st.is == nil {
			continue
		}
		q := st.is.quantity(s)
		if s.err != nil {
			return nil, fmt.Errorf("worked answer, step %d: %w", i+1, s.err)
		}
		rounded := si.Of(si.Round(q.Value, st.let.figs), q.Dim)
		s.nums[st.let.at] = rounded.Value
		if st.answer != "" {
			out[st.answer] = rounded
			if quest, ok := t.Question(st.answer); ok && quest.stands != nil {
				s.nums[quest.stands.at] = rounded.Value
			}
		}
	}
	return out, nil
}
