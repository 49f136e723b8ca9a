package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"
)

// questionView is one question with its box, what was said of the answer, and
// what opens when it closes.
type questionView struct {
	Path, ID, Key string
	Number, Count int
	Kind          string
	Several       bool
	Ask           template.HTML
	Label         template.HTML
	LabelText     string // the same as text, for the script
	Unit          string
	UnitSay       string // "in mW"
	Terms         string // marks and what attempts and hints cost, told beforehand
	State         string
	Text          string
	Options       []optionView
	Places        []int
	Grounds       []optionView // of a paired question
	FirstAsk      string       // what each half of a paired question asks for
	GroundAsk     string
	Sheets        []template.HTML // of a part question: the datasheets to pick from
	Invalid       string          // why the text could not be taken
	Said          *saidView
	Faded         []fadedLine   // the working, with steps left open
	Working       string        // what was noted beside the answer
	Accepts       string        // how near an answer must come
	RowsNeeded    template.HTML // the datasheet rows again, for narrow pages
	Earlier       []earlierView // answers before the last
	Hints         []template.HTML
	HintsLeft     int
	HintNumber    int
	MayShow       bool
	ShowSay       string // what "show me" costs
	Carry         bool   // later questions go on from this one
	Locked        bool   // nothing can be sent
	Closed        bool
	Right         bool
	Reveal        *revealView // the whole answer, once it may be shown
	RevealLater   bool        // it opens with the questions before
	Then          string      // of a pause: the problem that waits

	rows []string // the datasheet rows that the template shows
}

type optionView struct {
	ID      string
	Text    template.HTML
	Checked bool
	Place   string
	Answer  bool // right; only once revealed
}

// saidView is what marking said of the last answer.
type saidView struct {
	Good     bool
	Head     string
	Title    string
	Off      string // too low or too high, and by about how much
	Because  template.HTML
	Hint     template.HTML
	Line     template.HTML // the learner's own point, nothing else
	Withdraw int           // number of the attempt whose diagnosis may be withdrawn; 0 for none
	Gone     bool          // it was withdrawn
}

// viewQuestion makes the view of question i.
func (s *Server) viewQuestion(k *task, i int, lines []problem.Line, over *overlay) (*questionView, error) {
	st, asked := &k.states[i], &k.page.Questions[i]
	q := &questionView{
		Path: "/work/" + k.work.Handed.ID, ID: asked.ID, Key: newKey(),
		Number: i + 1, Count: len(k.states),
		Kind: string(formKind(asked.Kind)), Several: asked.Several,
		Ask: lessons.HTML(asked.Ask), Label: lessons.Inline(asked.Label), LabelText: lessons.PlainInline(asked.Label),
		Unit: asked.Unit, UnitSay: unitSay(st.q),
		Terms:  s.terms(st, asked.Hints, k.t.Pause),
		Closed: st.closed(), Right: st.right, Locked: k.changed, rows: k.t.Rows,
	}
	last := st.last()
	if last != nil {
		q.Text, q.Working = last.Text, last.Working
	}
	reopened := last != nil && !q.Closed
	if over != nil && over.question == asked.ID {
		q.Text, q.Invalid, reopened = over.text, over.say, false
	}
	q.State = s.stateSay(st, k.t.Pause)
	if last != nil {
		var m grader.Marked
		if err := json.Unmarshal(last.Result, &m); err != nil {
			return nil, fmt.Errorf("the kept result of attempt %s: %w", last.ID, err)
		}
		if m.Outcome.CostsAttempt() {
			q.Said = said(st, &k.key.Answers[i], &m, st.not[last.Number], last.Number)
		} else if reopened {
			q.Invalid = sentence(lessons.PlainInline(m.Because))
		}
	}
	if err := q.hints(k, st, asked); err != nil {
		return nil, err
	}
	if !q.Closed && !k.t.Pause {
		q.MayShow = i == 0 || k.reveals(i-1)
		q.ShowSay = "closes this question without marks"
		q.Carry = i+1 < len(k.states)
		if q.Carry {
			q.ShowSay = "closes this question without marks; the later ones keep theirs"
		}
	}
	if q.Closed {
		if k.reveals(i) {
			if err := q.reveal(k, i, lines); err != nil {
				return nil, err
			}
		} else {
			q.RevealLater = true
		}
	}
	q.options(st, asked, over)
	q.Faded = s.fade(k, i, lines, over)
	if !q.Closed && st.q.Kind.Numeric() {
		q.Accepts = st.q.Accepts()
		if k.v.Part != nil && len(k.t.Rows) > 0 && (i == 0 || k.states[i-1].closed()) {
			t := figure.Datasheet(k.v.Part, k.t.Rows)
			q.RowsNeeded = template.HTML(t.HTML("rows-" + asked.ID))
		}
	}
	return q, q.earlier(st)
}

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	s = string(unicode.ToUpper(r)) + s[n:]
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

// hints shows those opened and offers the next.
func (q *questionView) hints(k *task, st *state, asked *problem.Asked) error {
	for n := range min(st.hints, asked.Hints) {
		h, err := k.t.Hint(k.v, st.q, n)
		if err != nil {
			return err
		}
		q.Hints = append(q.Hints, lessons.HTML(h))
	}
	q.HintNumber = st.hints
	if !q.Closed {
		q.HintsLeft = max(0, asked.Hints-st.hints)
	}
	return nil
}

// options shows the options of a choice, the steps of an order, or go and stop.
func (q *questionView) options(st *state, asked *problem.Asked, over *overlay) {
	switch asked.Kind {
	case problem.Quantity, problem.ReadOff:
		return
	case problem.Verdict, problem.Fault, problem.Part:
		q.pair(asked)
		return
	case problem.Stop:
		q.Options = []optionView{{ID: "go", Text: "Go on"}, {ID: "stop", Text: "Stop here"}}
	default:
		for _, o := range asked.Options {
			q.Options = append(q.Options, optionView{ID: o.ID, Text: lessons.Inline(o.Text)})
			q.Places = append(q.Places, len(q.Places)+1)
		}
	}
	for i := range q.Options {
		o := &q.Options[i]
		place, yes := chosen(q.Text, o.ID)
		o.Checked = yes
		if yes {
			o.Place = strconv.Itoa(place)
		}
		if over != nil && over.question == q.ID && over.places[o.ID] != "" {
			o.Place = over.places[o.ID]
		}
		if q.Reveal != nil && asked.Kind != problem.Order {
			for _, right := range q.Reveal.right {
				o.Answer = o.Answer || right == o.ID
			}
		}
	}
	if st.q.Kind == problem.Order && q.Reveal != nil {
		q.Reveal.Steps = q.ordered(q.Reveal.right)
		if !st.right {
			q.Reveal.Own = q.ordered(strings.Split(st.text(), ","))
		}
	}
}

// ordered lists the steps of an order in a sequence.
func (q *questionView) ordered(ids []string) []stepView {
	var out []stepView
	for n, id := range ids {
		for i := range q.Options {
			if q.Options[i].ID == id {
				out = append(out, stepView{n + 1, q.Options[i].Text})
			}
		}
	}
	return out
}

// unitSay tells the unit asked.
func unitSay(q *problem.Question) string {
	switch {
	case !q.Kind.Numeric():
		return ""
	case q.Unit.Symbol == "" && q.Unit.Dim == si.One:
		return "a number without a unit"
	case q.UnitCounts:
		return "number and unit, such as 1 " + q.Unit.Symbol
	}
	return "in " + q.Unit.Symbol + ", or with a unit of your own"
}

// said puts a marking into words.
func said(st *state, a *problem.Answer, m *grader.Marked, withdrawn bool, number int) *saidView {
	v := &saidView{Good: m.Outcome == grader.Right, Head: "Not yet", Title: m.Title, Because: lessons.HTML(m.Because), Hint: lessons.HTML(m.Hint)}
	switch {
	case v.Good && m.Followed:
		v.Head = "Right from your own " + m.From
	case v.Good:
		v.Head = "Right"
		if m.Because.Markdown == "Right." {
			v.Because = ""
		}
	case st.closed():
		v.Head = "Not right"
	}
	if m.Outcome == grader.Slip && st.q.Kind.Numeric() {
		v.Off = off(a.Value, m.Quantity, m.Read)
	}
	if withdrawn {
		v.Title, v.Because, v.Gone = "", "", true
	} else if m.Outcome == grader.Slip && st.q.Kind.Numeric() {
		v.Withdraw = number
	}
	if st.q.Kind.Numeric() && !v.Good && !st.closed() {
		v.Line = ownPoint(st.q, m.Quantity)
	}
	return v
}

// off says of a slip's value in which direction it lies, and how far only where
// that does not give the answer away. Of other wrong values marking says it.
func off(key, own si.Quantity, read string) string {
	way := "too high"
	if own.Value < key.Value {
		way = "too low"
	}
	if f := own.Value / key.Value; key.Dim != si.Temperature && f > 0 {
		if f < 1 {
			f = 1 / f
		}
		if f >= 1.95 {
			return fmt.Sprintf("%s is %s by a factor of about %.2g.", read, way, si.Round(f, 1))
		}
	}
	return read + " is " + way + "."
}

var ordinals = []string{"first", "second", "third", "fourth", "fifth"}

// terms tells beforehand what the question is worth.
func (s *Server) terms(st *state, hints int, pause bool) string {
	if pause {
		return "No marks here: a pause is met, not marked."
	}
	out := plural(st.q.Marks, "mark", "marks")
	if st.allowed == 1 {
		out += "; one attempt"
	}
	for n := 1; n < st.allowed && n < len(s.rules.Shares) && n < len(ordinals); n++ {
		if n == 1 {
			out += "; second attempt"
		} else {
			out += ", " + ordinals[n]
		}
		out += fmt.Sprintf(" %g %%", 100*s.rules.Shares[n])
	}
	if hints > 0 {
		out += "; a hint takes a tenth"
	}
	if st.q.Kind.Numeric() {
		out += "; a wrong prefix takes one mark and no attempt, once"
	}
	return out + "."
}

// stateSay tells where the learner stands with a question.
func (s *Server) stateSay(st *state, pause bool) string {
	of := fmt.Sprintf("%s of %s", marksText(st.marks), plural(st.q.Marks, "mark", "marks"))
	used := fmt.Sprintf("%d of %d", st.tries, st.allowed)
	switch {
	case pause && st.right:
		return "Met."
	case pause && st.closed():
		return "Two answers were not right; the reason stands below."
	case pause:
		return ""
	case st.right && st.allowed > 1:
		return "Closed: right at attempt " + used + " · " + of + "."
	case st.shown && st.tries > 0:
		return "Closed: you asked to be shown after attempt " + used + " · " + of + "."
	case st.shown:
		return "Closed: you asked to be shown · " + of + "."
	case st.closed():
		return "Closed · " + of + "."
	}
	possible := marksText(s.rules.Possible(st.q, st.tries, st.hints)) + " of " + plural(st.q.Marks, "mark", "marks")
	if st.tries == 0 && st.hints == 0 {
		return ""
	}
	if st.tries == 0 {
		return "No attempt used; " + possible + " still possible."
	}
	return "Attempt " + used + " used; " + possible + " still possible."
}
