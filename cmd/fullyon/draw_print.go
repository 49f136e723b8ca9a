package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"fullyon/engine/si"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"
)

// print shows a problem as it is before marking.
func (d *drawn) print(w io.Writer) {
	t := d.template
	fmt.Fprintln(w, t.Title)
	fmt.Fprintf(w, "%s, seed %d · lesson %d · level %d · about %d min · %s\n\n", t.ID, d.values.Seed, t.Lesson, t.Level, t.Minutes, count(t.Marks(), "mark"))
	d.printSituation(w, d.values.AskedAt)
	for i := range d.page.Questions {
		printQuestion(w, i+1, &d.page.Questions[i], t.Rows)
	}
	fmt.Fprintln(w)
	verbatim(w, 0, d.howToAnswer())
}

// printSituation shows what is given: the text, the circuit, the datasheet and what
// is drawn. asked tells where a curve is still to be read off.
func (d *drawn) printSituation(w io.Writer, asked func(curve string) []float64) {
	t := d.template
	para(w, 0, plain(d.page.Situation))
	if t.OnPaper {
		fmt.Fprintln(w)
		para(w, 0, "On paper only: do not build this.")
	}
	if t.HasCircuit() && slices.Contains(t.Figures, "schematic") {
		heading(w, "The circuit")
		f := figure.Schematic(&d.values.Circuit, figure.Options{})
		for _, fact := range f.Facts {
			table(w, 2, [][]string{{"·", fact}})
		}
	}
	if d.values.Part != nil && slices.Contains(t.Figures, "datasheet") {
		heading(w, "From the datasheet")
		sheet := figure.Datasheet(d.values.Part, t.Rows)
		verbatim(w, 2, sheet.Text())
	}
	d.printFigures(w, asked)
}

func printQuestion(w io.Writer, n int, q *problem.Asked, rows []string) {
	fmt.Fprintln(w)
	table(w, 0, [][]string{{fmt.Sprintf("%d.", n), plain(q.Ask)}})
	about := q.ID
	if q.Marks > 0 {
		about += " · " + count(q.Marks, "mark")
	}
	if q.Kind.Numeric() && q.Unit != "" {
		about += fmt.Sprintf(" · answer in %s, or in another unit of its kind", q.Unit)
	}
	fmt.Fprintf(w, "    %s\n", about)
	printOptions(w, q.Options)
	for i := range q.Parts {
		fmt.Fprintln(w)
		sheet := figure.Datasheet(&q.Parts[i], rows)
		verbatim(w, 4, sheet.Text())
	}
	if len(q.Grounds) > 0 {
		fmt.Fprintln(w, "    which rests on")
		printOptions(w, q.Grounds)
	}
}

func printOptions(w io.Writer, list []problem.AskedOption) {
	var rows [][]string
	for _, o := range list {
		if text := plain(o.Text); text != o.ID {
			rows = append(rows, []string{o.ID, text})
		} else {
			rows = append(rows, []string{o.ID})
		}
	}
	table(w, 4, rows)
}

// howToAnswer is the command line that marks an answer to this problem.
func (d *drawn) howToAnswer() string {
	line := fmt.Sprintf("fullyon mark %s --seed %d", d.template.ID, d.values.Seed)
	for _, q := range d.page.Questions {
		form := "…"
		if q.Kind.Paired() {
			form = "…/…"
		}
		line += fmt.Sprintf(" --answer '%s=%s'", q.ID, form)
	}
	return "Answer with: " + line
}

// printKey shows answers, slips and the worked answer.
func (d *drawn) printKey(w io.Writer) error {
	key := d.template.Key(d.values)
	for i := range key.Answers {
		a, q := &key.Answers[i], &d.template.Questions[i]
		heading(w, "Key to "+a.ID)
		printed := "  " + a.Text
		if q.Kind.Numeric() {
			printed += "  " + accepted(a)
		}
		fmt.Fprintln(w, printed)
		slips, err := d.slipsOf(i)
		if err != nil {
			return err
		}
		if q.Kind.Numeric() {
			verbatim(w, 2, answerLine(q, a))
		}
		var rows [][]string
		for _, s := range slips {
			if _, numeric := s.Value.(float64); !numeric { // an option
				rows = append(rows, []string{s.ID, s.Because})
			} else {
				rows = append(rows, []string{s.ID, s.Text, s.Because})
			}
		}
		table(w, 4, rows)
	}
	lines, err := d.template.Worked(d.values)
	if err != nil {
		return err
	}
	if len(lines) > 0 {
		heading(w, "Worked answer")
	}
	for i, s := range lessons.Work(lines) {
		printStep(w, i+1, &s)
	}
	return nil
}

// printFigures writes curves as points and other drawings as what they show.
func (d *drawn) printFigures(w io.Writer, asked func(curve string) []float64) {
	t := d.template
	of := figure.Subject{Part: d.values.Part, Bench: t.Bench, Asked: asked}
	if t.HasCircuit() {
		of.Circuit = &d.values.Circuit
	}
	for _, name := range t.Figures {
		if name == "schematic" || name == "datasheet" {
			continue
		}
		drawing, err := figure.Draw(name, of)
		if err != nil {
			continue // checking the template tells its author
		}
		if problem.IsCurve(name) {
			heading(w, "The curve, as points")
		} else {
			heading(w, "What is drawn")
		}
		verbatim(w, 2, drawing.Text())
	}
}

// answerLine is the line with the accepted band and where each slip leads.
func answerLine(q *problem.Question, a *problem.Answer) string {
	l := figure.Line{Asked: q.Unit, Low: bound(a.Low), High: bound(a.High), Key: &a.Value.Value, Open: true, Figures: q.Figures}
	for i := range a.Slips {
		l.Slips = append(l.Slips, figure.Mark{Label: a.Slips[i].Slip.ID, Value: a.Slips[i].Value})
	}
	return l.Text(width - 2)
}

// accepted says in words which values are accepted.
func accepted(a *problem.Answer) string {
	at := func(v float64) string { return si.Of(v, a.Value.Dim).Figures(4) }
	switch {
	case math.IsInf(a.Low, 0):
		return "accepted: up to " + at(a.High)
	case math.IsInf(a.High, 0):
		return "accepted: from " + at(a.Low)
	case a.Low == a.High:
		return "accepted: just this"
	}
	return "accepted: from " + at(a.Low) + " to " + at(a.High)
}

func printStep(w io.Writer, n int, s *lessons.Step) {
	text := s.PlainSay
	if s.Row != "" {
		text += " (row " + s.Row + ")"
	}
	if text == "" {
		text = s.PlainMath
	}
	table(w, 2, [][]string{{fmt.Sprintf("%2d.", n), strings.TrimSpace(text)}})
	if s.PlainMath != "" && text != s.PlainMath {
		para(w, 7, s.PlainMath)
	}
}
