package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fullyon/grader"
	"fullyon/grader/mastery"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/learner"
	"fullyon/web/store"
)

// talk is the talk about one problem.
type talk struct {
	*session
	k       *learner.Task
	d       *drawn
	working []problem.Line
	told    int // questions whose answer was shown, from the first on
}

// work shows a problem and takes answers until every question of it has closed.
func (s *session) work(k *learner.Task) error {
	lines, err := k.Template.Worked(k.Values)
	if err != nil {
		return err
	}
	t := &talk{session: s, k: k, d: &drawn{k.Template, k.Values, k.Page}, working: lines}
	if k.Help.Support == mastery.Example && !k.Template.Pause {
		if err := t.example(); err != nil {
			return err
		}
	}
	t.situation()
	for i := range k.Questions {
		if k.Questions[i].Closed() { // in an earlier sitting
			fmt.Fprintf(s.w.stdout, "\n%d. %s: closed before, %s\n", i+1, k.Questions[i].Question.ID, t.earned(i))
			if t.told == i {
				t.told++
			}
			continue
		}
		if err := t.question(i); err != nil {
			return err
		}
	}
	if !k.Template.Pause {
		total := 0.0
		for i := range k.Questions {
			total += k.Questions[i].Marks
		}
		fmt.Fprintf(s.w.stdout, "\nThis problem: %.4g of %s\n", total, count(k.Template.Marks(), "mark"))
	}
	return nil
}

// example shows a whole worked answer with other numbers.
func (t *talk) example() error {
	v, err := t.k.Template.Draw(learner.ExampleSeed(t.k.Work.Handed.Seed))
	if err != nil {
		return err
	}
	page, err := t.k.Template.Page(v)
	if err != nil {
		return err
	}
	lines, err := t.k.Template.Worked(v)
	if err != nil {
		return err
	}
	out := t.w.stdout
	heading(out, "First an example, worked with other numbers")
	d := &drawn{t.k.Template, v, page}
	d.printSituation(out, nil)
	for i := range page.Questions {
		q := &page.Questions[i]
		fmt.Fprintln(out)
		table(out, 0, [][]string{{fmt.Sprintf("%d.", i+1), plain(q.Ask)}})
		from, to := learner.WorkOf(t.k.Template, i, lines)
		for n, step := range lessons.Work(lines[from:to]) {
			printStep(out, n+1, &step)
		}
		if a, ok := t.k.Template.Key(v).Answer(q.ID); ok {
			fmt.Fprintf(out, "    Answer: %s\n", a.Text)
		}
	}
	heading(out, "Now yours")
	return nil
}

// situation shows what is given.
func (t *talk) situation() {
	fmt.Fprintln(t.w.stdout)
	t.d.printSituation(t.w.stdout, t.k.AskedAt)
}

// question asks question i until it has closed.
func (t *talk) question(i int) error {
	t.ask(i)
	if err := t.steps(i); err != nil {
		return err
	}
	for !t.k.Questions[i].Closed() {
		text, err := t.in.ask(t.k.Questions[i].Question.ID + ">")
		if err != nil {
			return err
		}
		if done, err := t.command(i, text); err != nil {
			return err
		} else if done {
			continue
		}
		m, err := t.desk.Answer(t.ctx, t.k, i, text)
		if errors.Is(err, learner.ErrClosed) {
			para(t.w.stdout, 0, "This question closed in the meantime, on a page perhaps. What you typed was not marked.")
			break
		}
		if err != nil {
			return err
		}
		t.marked(i, m)
	}
	return t.reveal()
}

// steps asks for the steps of the working that are left open, as long as a skill is
// young. Enter alone leaves them.
func (t *talk) steps(i int) error {
	if t.k.Help.Support != mastery.Faded || i > 0 && !t.k.Reveals(i-1) {
		return nil
	}
	from, to := learner.WorkOf(t.k.Template, i, t.working)
	lines := t.working[from:to]
	open := grader.Gaps(lines, t.k.Help.Gaps)
	if len(open) == 0 {
		return nil
	}
	para(t.w.stdout, 4, "The working begins like this. Fill in what is left open: it costs nothing, and Enter alone goes to the question.")
	for n, step := range lessons.Work(lines) {
		if lines[n].Answers != "" {
			return nil
		}
		if !slices.Contains(open, n) || t.k.FilledIn(t.k.Questions[i].Question.ID, from+n) {
			printStep(t.w.stdout, n+1, &step)
			continue
		}
		blank := step
		blank.PlainMath = step.PlainBlank
		printStep(t.w.stdout, n+1, &blank)
		if left, err := t.step(i, from+n, n+1); err != nil || left {
			return err
		}
		para(t.w.stdout, 7, step.PlainMath)
	}
	return nil
}

// step asks for one open step; left tells that it was not filled in.
func (t *talk) step(i, line, number int) (left bool, err error) {
	for {
		text, err := t.in.ask(fmt.Sprintf("step %d>", number))
		if err != nil || text == "" {
			return true, err
		}
		if done, err := t.command(i, text); err != nil || t.k.Questions[i].Closed() {
			return true, err
		} else if done {
			continue
		}
		m, err := grader.MarkStep(&t.working[line], text)
		if err != nil {
			return true, err
		}
		if m.Read != "" {
			table(t.w.stdout, 2, [][]string{{"read as", m.Read}})
		}
		para(t.w.stdout, 2, plain(m.Because))
		if m.Outcome == grader.Right {
			return false, t.desk.Open(t.ctx, t.k, i, store.Step, line)
		}
	}
}

// command does what is typed instead of an answer; false for an answer.
func (t *talk) command(i int, text string) (done bool, err error) {
	out, st := t.w.stdout, &t.k.Questions[i]
	switch strings.ToLower(text) {
	case "quit":
		return true, errOver
	case "skip":
		return true, errSkip
	case "":
		para(out, 2, "Nothing was typed. "+t.form(i)+", or ? for what else can be typed.")
	case "?", "help":
		para(out, 2, t.form(i)+". What else can be typed:")
		table(out, 4, [][]string{
			{"hint", "the next hint; it takes a tenth of the marks"},
			{"show", "the answer; it closes the question without marks"},
			{"not that", "after a named mistake: that is not what I did"},
			{"again", "the problem and the question once more"},
			{"skip", "leave this problem as it stands and take another"},
			{"quit", "end; what you did is kept"},
		})
	case "again":
		t.d.printSituation(out, t.k.AskedAt)
		t.ask(i)
	case "hint":
		return true, t.hint(i)
	case "show":
		if t.k.Template.Pause {
			para(out, 2, "A pause is not shown: answer it, and the reason follows.")
			return true, nil
		}
		return true, t.desk.Open(t.ctx, t.k, i, store.ShownKey, 0)
	case "not that":
		if a := st.Last(); a != nil && a.Outcome == string(grader.Slip) && st.Question.Kind.Numeric() {
			para(out, 2, "The diagnosis is withdrawn. Look at each step once more.")
			return true, t.desk.Open(t.ctx, t.k, i, store.NotThat, a.Number)
		}
		para(out, 2, "There is no named mistake to withdraw.")
	default:
		return false, nil
	}
	return true, nil
}

// hint opens the next hint.
func (t *talk) hint(i int) error {
	st := &t.k.Questions[i]
	if st.Hints >= t.k.Page.Questions[i].Hints {
		para(t.w.stdout, 2, "There is no further hint.")
		return nil
	}
	h, err := t.k.Template.Hint(t.k.Values, st.Question, st.Hints)
	if err != nil {
		return err
	}
	para(t.w.stdout, 2, fmt.Sprintf("Hint %d of %d: %s", st.Hints+1, t.k.Page.Questions[i].Hints, plain(h)))
	return t.desk.Open(t.ctx, t.k, i, store.Hint, st.Hints)
}
