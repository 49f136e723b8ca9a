package web

import (
	"encoding/json"
	"html/template"
	"math"

	"fullyon/engine/part"
	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"
	texmath "fullyon/lessons/math"
	"fullyon/web/store"
)

// revealView is what opens when a question closes.
type revealView struct {
	Answer  string // the answer as printed
	Line    template.HTML
	Facts   []string   // what the line says, in words
	Steps   []stepView // of an order, as they should stand
	Own     []stepView // and as the learner put them, where that differs
	Because template.HTML
	Work    []workLine

	Ruled []ruledView // of a part question: what rules each other part out

	right, grounds []string
}

type stepView struct {
	Number int
	Text   template.HTML
}

// workLine is one line of the worked answer.
type workLine struct {
	lessons.Step
	Number  int
	RowName template.HTML // the datasheet row it leans on
	Matches bool          // the learner's answer matches this line
}

// reveal fills in the answer of question i, its line and its working.
func (q *questionView) reveal(k *task, i int, lines []problem.Line) error {
	st := &k.states[i]
	a, _ := k.key.Answer(st.q.ID)
	v := &revealView{right: a.Right}
	var own *si.Quantity
	slip := ""
	if last := counted(st); last != nil {
		var m grader.Marked
		if err := json.Unmarshal(last.Result, &m); err != nil {
			return err
		}
		own, slip = &m.Quantity, m.Slip
		if st.not[last.Number] {
			slip = ""
		}
	}
	switch st.q.Kind {
	case problem.Quantity, problem.ReadOff:
		v.Answer = a.Text
		v.Line, v.Facts = answerLine(st.q, a, own, slip)
	case problem.Verdict, problem.Fault, problem.Part:
		v.grounds = a.Grounds
		if err := v.pair(k, st, a); err != nil {
			return err
		}
	case problem.Choice, problem.Stop:
		for j := range st.q.Options {
			o := &st.q.Options[j]
			if st.q.Kind == problem.Choice && (len(a.Right) == 0 || o.ID != a.Right[0]) {
				continue
			}
			because, err := k.t.SayOption(k.v, o)
			if err != nil {
				return err
			}
			if !st.right { // otherwise it was said already
				v.Because = lessons.HTML(because)
			}
			break
		}
	}
	from, to := workOf(k.t, i, lines)
	v.Work = workedLines(k.v.Part, lines[from:to], own)
	q.Reveal = v
	return nil
}

// counted is the last attempt that counted; nil when there is none.
func counted(st *state) *store.Attempt {
	for i := len(st.attempts) - 1; i >= 0; i-- {
		if st.attempts[i].Try > 0 {
			return &st.attempts[i]
		}
	}
	return nil
}

// workOf tells which lines of the worked answer belong to question i: those up to
// the line that answers it, from the line after the one that answers an earlier
// question. What no question claims stands under the last.
func workOf(t *problem.Template, i int, lines []problem.Line) (from, to int) {
	ends := make([]int, len(t.Questions))
	at := 0
	for j := range t.Questions {
		for n := at; n < len(lines); n++ {
			if lines[n].Answers == t.Questions[j].ID {
				at = n + 1
			}
		}
		ends[j] = at
	}
	ends[len(ends)-1] = len(lines)
	if i > 0 {
		from = ends[i-1]
	}
	return from, ends[i]
}

// matchWithin is how near an answer must come to a line to match it: values on
// the way are printed in three figures.
const matchWithin = 0.007

// workedLines makes some lines of a worked answer ready, and marks those that the
// learner's own answer matches.
func workedLines(p *part.Part, lines []problem.Line, own *si.Quantity) []workLine {
	out := make([]workLine, len(lines))
	for i, step := range lessons.Work(lines) {
		w, l := &out[i], &lines[i]
		w.Step, w.Number = step, i+1
		if l.Row != "" {
			w.RowName = rowName(p, l.Row)
		}
		if own != nil && own.Known() && own.Dim == l.Value.Dim && l.Value.Value != 0 {
			w.Matches = math.Abs(own.Value-l.Value.Value) <= matchWithin*math.Abs(l.Value.Value)
		}
	}
	return out
}

// rowName is the symbol with which the datasheet of the draw heads a row.
func rowName(p *part.Part, row string) template.HTML {
	symbol := row
	if p != nil {
		for _, g := range figure.Datasheet(p, []string{row}).Groups {
			if len(g.Rows) > 0 {
				symbol = g.Rows[0].Symbol
				break
			}
		}
	}
	if out, err := texmath.Convert(symbol, false); err == nil && symbol != row {
		return template.HTML(out)
	}
	return template.HTML(template.HTMLEscapeString(symbol))
}

// answerLine draws the line of a closed question, for wide and narrow pages.
func answerLine(q *problem.Question, a *problem.Answer, own *si.Quantity, slip string) (template.HTML, []string) {
	l := figure.Line{Asked: q.Unit, Low: &a.Low, High: &a.High, Key: &a.Value.Value, Open: true, Figures: q.Figures}
	if own != nil && own.Dim == a.Value.Dim {
		l.Yours = &own.Value
	}
	for i := range a.Slips {
		x := &a.Slips[i]
		l.Slips = append(l.Slips, figure.Mark{Label: x.Slip.Title, Value: x.Value, Yours: x.Slip.ID == slip})
	}
	wide := figure.AnswerLine(l)
	l.Width = 320
	narrow := figure.AnswerLine(l)
	return template.HTML(figure.Responsive("line-"+q.ID, &wide, &narrow)), wide.Facts
}

// ownPoint draws the learner's answer alone: nothing tells where the rest lies.
func ownPoint(q *problem.Question, own si.Quantity) template.HTML {
	l := figure.Line{Asked: q.Unit, Yours: &own.Value}
	wide := figure.AnswerLine(l)
	l.Width = 320
	narrow := figure.AnswerLine(l)
	return template.HTML(figure.Responsive("own-"+q.ID, &wide, &narrow))
}
