package main

import (
	"encoding/json"
	"fmt"
	"slices"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"
	"fullyon/web/learner"
)

// forms tell how each kind of question is answered.
var forms = map[problem.Kind]string{
	problem.Quantity: "Type a number with its unit",
	problem.ReadOff:  "Type a number with its unit",
	problem.Choice:   "Type the word that stands before the right one",
	problem.Order:    "Type the words before the steps in their order, with commas between",
	problem.Stop:     "Type go or stop",
	problem.Verdict:  "Type a verdict and what it rests on, with a slash between",
	problem.Fault:    "Type a cause and the measurement that proves it, with a slash between",
	problem.Part:     "Type a part and what rules out the most tempting other, with a slash between",
}

func (t *talk) form(i int) string {
	q := &t.k.Page.Questions[i]
	if q.Kind == problem.Choice && q.Several {
		return "Type the words before all that are right, with commas between"
	}
	return forms[q.Kind]
}

// ask prints question i, how it is answered, and what attempts cost.
func (t *talk) ask(i int) {
	out, q, st := t.w.stdout, &t.k.Page.Questions[i], &t.k.Questions[i]
	if t.k.Template.Pause {
		q = unmarked(q)
	}
	printQuestion(out, i+1, q, t.k.Template.Rows)
	say := t.form(i) + "."
	switch {
	case t.k.Template.Pause:
		say += " There are no marks here."
	case st.Allowed == 1:
		say += " There is one attempt."
	default:
		say += fmt.Sprintf(" There are %d attempts; the second earns %g %% and the third %g %% of the marks.", st.Allowed, 100*t.desk.Rules.Shares[1], 100*t.desk.Rules.Shares[2])
	}
	para(out, 4, say)
	if st.Question.Kind.Numeric() {
		para(out, 4, st.Question.Accepts())
	}
}

// unmarked is a question of a pause, which is met and not marked.
func unmarked(q *problem.Asked) *problem.Asked {
	out := *q
	out.Marks = 0
	return &out
}

// earned is what a question has brought.
func (t *talk) earned(i int) string {
	st := &t.k.Questions[i]
	return fmt.Sprintf("%.4g of %s", st.Marks, count(st.Question.Marks, "mark"))
}

// marked says what marking made of the last answer to question i.
func (t *talk) marked(i int, m *grader.Marked) {
	out, st := t.w.stdout, &t.k.Questions[i]
	right := m.Outcome == grader.Right
	head := inWords[m.Outcome]
	switch {
	case right && m.Followed:
		head = "right from your own " + m.From
	case !m.Outcome.CostsAttempt():
		head += "; no attempt used"
	case m.Outcome == grader.WrongUnit && st.Last().Try == 0:
		head += "; once a problem that takes a mark and no attempt"
	}
	if m.Title != "" {
		head += ": " + m.Title
	}
	para(out, 2, head)
	var rows [][]string
	if m.Read != "" && st.Question.Kind.Numeric() {
		rows = append(rows, []string{"read as", m.Read})
	}
	if because := plain(m.Because); because != "" && because != "Right." {
		rows = append(rows, []string{"why", because})
	}
	if !m.Hint.Empty() {
		rows = append(rows, []string{"hint", plain(m.Hint)})
	}
	table(out, 2, rows)
	if st.Question.Kind.Numeric() && m.Outcome.CostsAttempt() && !st.Closed() {
		own := figure.Line{Asked: st.Question.Unit, Yours: &m.Quantity.Value}
		verbatim(out, 2, own.Text(width-2))
	}
	switch {
	case t.k.Template.Pause:
	case st.Closed():
		para(out, 2, t.earned(i))
	case st.Tries > 0:
		possible := t.desk.Rules.Possible(st.Question, st.Tries, st.Hints)
		para(out, 2, fmt.Sprintf("Attempt %d of %d used; %.4g of %s still possible.", st.Tries, st.Allowed, possible, count(st.Question.Marks, "mark")))
	}
}

// reveal shows the answers of the questions that have closed, as far as none before
// them is open: the working of a later one holds the answers of those before.
func (t *talk) reveal() error {
	for ; t.told < len(t.k.Questions) && t.k.Reveals(t.told); t.told++ {
		if err := t.answer(t.told); err != nil {
			return err
		}
	}
	return nil
}

// answer shows the answer of question i with its line and its working.
func (t *talk) answer(i int) error {
	out, st := t.w.stdout, &t.k.Questions[i]
	a := &t.k.Key.Answers[i]
	fmt.Fprintf(out, "\n  Answer: %s\n", a.Text)
	if st.Question.Kind.Numeric() {
		if err := t.line(st, a); err != nil {
			return err
		}
	} else if err := t.because(st, a); err != nil {
		return err
	}
	from, to := learner.WorkOf(t.k.Template, i, t.working)
	if from < to {
		fmt.Fprintln(out, "  Worked:")
	}
	for n, step := range lessons.Work(t.working[from:to]) {
		printStep(out, n+1, &step)
	}
	return nil
}

// line draws the answer line: what is accepted, where the known mistakes lie, and
// the answer given last.
func (t *talk) line(st *learner.State, a *problem.Answer) error {
	q := st.Question
	l := figure.Line{Asked: q.Unit, Low: bound(a.Low), High: bound(a.High), Key: &a.Value.Value, Open: true, Figures: q.Figures}
	slip := ""
	if last := st.Counted(); last != nil {
		var m grader.Marked
		if err := json.Unmarshal(last.Result, &m); err != nil {
			return fmt.Errorf("the kept result of attempt %s: %w", last.ID, err)
		}
		if m.Quantity.Dim == a.Value.Dim {
			l.Yours = &m.Quantity.Value
		}
		if !st.Not[last.Number] {
			slip = m.Slip
		}
	}
	for i := range a.Slips {
		x := &a.Slips[i]
		l.Slips = append(l.Slips, figure.Mark{Label: x.Slip.Title, Value: x.Value, Yours: x.Slip.ID == slip})
	}
	verbatim(t.w.stdout, 2, l.Text(width-2))
	return nil
}

// because says why a chosen answer is right, where that was not said in marking it.
func (t *talk) because(st *learner.State, a *problem.Answer) error {
	out, q, v := t.w.stdout, st.Question, t.k.Values
	if q.Kind == problem.Part {
		var rows [][]string
		for _, p := range v.CandidatesOf(q) {
			if b := v.RuledOut(q, p.Name); b != "" {
				rows = append(rows, []string{p.Name, b})
			}
		}
		table(out, 2, rows)
	}
	if st.Right || q.Kind == problem.Part || q.Kind == problem.Order {
		return nil
	}
	if q.Kind == problem.Verdict {
		if c, ok := v.Checked(a.Grounds[0]); ok {
			para(out, 2, c.Because)
		}
		return nil
	}
	for _, list := range [][]problem.Option{q.Options, q.Grounds} {
		for i := range list {
			o := &list[i]
			if q.Kind != problem.Stop && !slices.Contains(a.Right, o.ID) && !slices.Contains(a.Grounds, o.ID) {
				continue
			}
			because, err := t.k.Template.SayOption(v, o)
			if err != nil {
				return err
			}
			para(out, 2, plain(because))
		}
	}
	return nil
}
