package lessons

import (
	"slices"
	"strings"

	"fullyon/engine/read"
	"fullyon/grader/problem"
	"fullyon/lessons/figure"
)

// Draw draws a figure of a lesson. The error says what is missing for it.
func (c *Course) Draw(l *Lesson, f *Figure) (figure.Drawing, error) {
	s := figure.Subject{Circuit: l.Circuit, Rows: f.Rows, Bench: f.Things}
	if f.Template == "" {
		return figure.Draw(f.Kind, s)
	}
	t, err := c.Template(f.Template)
	if err != nil {
		return figure.Drawing{}, err
	}
	v, err := t.Draw(f.Seed)
	if err != nil {
		return figure.Drawing{}, err
	}
	if s.Rows == nil {
		s.Rows = t.Rows
	}
	s.Circuit, s.Asked = &v.Circuit, v.AskedAt
	return figure.Draw(f.Kind, s)
}

// checkFigures proves that the figures of a lesson can be drawn.
func (c *Course) checkFigures(l *Lesson, tell func(at read.Pos, format string, args ...any)) {
	for _, p := range l.Parts {
		if p.Figure == nil {
			continue
		}
		if _, err := c.Draw(l, p.Figure); err != nil {
			tell(p.Figure.at, "the figure %s cannot be drawn: %v", p.Figure.Kind, err)
		}
	}
}

// commas splits a list of words.
func commas(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

// shows proves the rows of a datasheet and the things on a bench.
func (b *builder) shows(n *boxNode, kind string) {
	rows, ok := n.keys["rows"]
	switch {
	case ok && kind != "datasheet":
		b.errorf(rows.off, "rows are of a datasheet; leave them out here")
	case ok:
		for _, r := range commas(rows.text) {
			if !figure.IsRow(r) {
				b.errorf(rows.off, "there is no datasheet row %q; write rows=r_ds_on,theta_ja", r)
			}
		}
	}
	things, ok := n.keys["things"]
	switch {
	case !ok && kind == "bench":
		b.errorf(n.off, "nothing lies on the bench; write things=mat,strap and so on")
	case ok && kind != "bench":
		b.errorf(things.off, "things lie on a bench; leave them out here")
	case ok:
		for _, t := range commas(things.text) {
			if all := problem.BenchThings(); !slices.Contains(all, t) {
				b.errorf(things.off, "there is no thing %q for a bench; there are %s", t, list(all))
			}
		}
	}
}
