package main

import (
	"fmt"
	"io"

	"fullyon/engine"
	"fullyon/engine/formula"
	"fullyon/engine/part"
	"fullyon/lessons"
)

// listCmd lists what there is.
type listCmd struct {
	What string `arg:"" enum:"lessons,templates,skills,parts,terms" help:"One of lessons, templates, skills, parts, terms."`
	JSON bool   `help:"Print JSON."`
}

// Help shows an example.
func (listCmd) Help() string {
	return "Example:\n\n    fullyon list templates\n\nTerms are the quantities that the engine computes, with formula and source."
}

// The JSON of a list: an array of objects, each with at least id and title.
type (
	lessonItem struct {
		ID      string   `json:"id"`
		Title   string   `json:"title"`
		Number  int      `json:"number"`
		Skills  []string `json:"skills"`
		Problem []string `json:"templates"`
	}
	templateItem struct {
		ID        string   `json:"id"`
		Title     string   `json:"title"`
		Lesson    int      `json:"lesson"`
		Level     int      `json:"level"`
		Minutes   int      `json:"minutes"`
		Marks     int      `json:"marks"`
		Task      string   `json:"task"`
		Skills    []string `json:"skills"`
		Pause     bool     `json:"pause"`
		Questions []string `json:"questions"`
	}
	skillItem struct {
		ID     string   `json:"id"`
		Title  string   `json:"title"`
		Lesson int      `json:"lesson"`
		Needs  []string `json:"needs"`
	}
	partItem struct {
		ID      string `json:"id"`
		Title   string `json:"title"`
		Channel string `json:"channel"`
		Package string `json:"package"`
		VDS     string `json:"v_ds"`
		RDSOn   string `json:"r_ds_on"`
		VGSOn   string `json:"at_v_gs"`
	}
	termItem struct {
		ID      string `json:"id"`
		Title   string `json:"title"`
		Symbol  string `json:"symbol"`
		Unit    string `json:"unit"`
		Formula string `json:"formula"`
		Source  string `json:"source"`
	}
)

// Run prints the list.
func (c listCmd) Run(w *world) error {
	switch c.What {
	case "parts":
		return list(w, c.JSON, parts(), func(p partItem) []string {
			return []string{p.ID, p.Channel, p.Package, p.VDS, p.RDSOn + " at " + p.VGSOn, p.Title}
		})
	case "terms":
		if c.JSON {
			return w.writeJSON(terms())
		}
		printTerms(w.stdout)
		return nil
	}
	course, err := lessons.Built()
	if err != nil {
		return err
	}
	switch c.What {
	case "lessons":
		return list(w, c.JSON, lessonItems(course), func(l lessonItem) []string {
			return []string{fmt.Sprintf("%2d", l.Number), l.ID, fmt.Sprintf("%d problems", len(l.Problem)), l.Title}
		})
	case "skills":
		return list(w, c.JSON, skillItems(course), func(s skillItem) []string {
			return []string{s.ID, fmt.Sprintf("lesson %d", s.Lesson), s.Title}
		})
	}
	return list(w, c.JSON, templateItems(course), func(t templateItem) []string {
		kind := fmt.Sprintf("level %d", t.Level)
		if t.Pause {
			kind = "pause"
		}
		return []string{t.ID, fmt.Sprintf("lesson %d", t.Lesson), kind, t.Title}
	})
}

// list prints items as JSON or as a table.
func list[T any](w *world, asJSON bool, items []T, row func(T) []string) error {
	if asJSON {
		return w.writeJSON(items)
	}
	var rows [][]string
	for _, i := range items {
		rows = append(rows, row(i))
	}
	table(w.stdout, 0, rows)
	return nil
}

func lessonItems(c *lessons.Course) []lessonItem {
	out := []lessonItem{}
	for _, l := range c.Lessons {
		i := lessonItem{ID: l.ID, Title: l.Title, Number: l.Number, Skills: []string{}, Problem: []string{}}
		for _, s := range c.SkillsOf(l.Number) {
			i.Skills = append(i.Skills, s.ID)
		}
		for _, t := range c.TemplatesOf(l.Number) {
			i.Problem = append(i.Problem, t.ID)
		}
		out = append(out, i)
	}
	return out
}

func templateItems(c *lessons.Course) []templateItem {
	out := []templateItem{}
	for _, t := range c.Templates {
		i := templateItem{
			ID: t.ID, Title: t.Title, Lesson: t.Lesson, Level: t.Level, Minutes: t.Minutes, Marks: t.Marks(),
			Task: t.Task, Skills: t.Skills, Pause: t.Pause, Questions: []string{},
		}
		for _, q := range t.Questions {
			i.Questions = append(i.Questions, q.ID)
		}
		out = append(out, i)
	}
	return out
}

func skillItems(c *lessons.Course) []skillItem {
	out := []skillItem{}
	for _, s := range c.Skills {
		out = append(out, skillItem{s.ID, s.Title, s.Lesson, append([]string{}, s.Needs...)})
	}
	return out
}

func parts() []partItem {
	out := []partItem{}
	for _, p := range part.Drawer() {
		row, _ := p.LowestRow()
		out = append(out, partItem{
			ID: p.Name, Title: p.Note, Channel: string(p.Channel), Package: p.Package,
			VDS: p.Ratings.VDS.String(), RDSOn: row.Max.String(), VGSOn: row.VGS.String(),
		})
	}
	return out
}

func terms() []termItem {
	out := []termItem{}
	for _, d := range engine.Quantities() {
		out = append(out, termItem{d.Name, d.Meaning, formula.TextSymbol(d.Symbol), d.Dim.Unit().Symbol, formulaText(d), d.Source})
	}
	return out
}

// printTerms prints each term over two or more lines: its formula is as long as it is.
func printTerms(w io.Writer) {
	for _, t := range terms() {
		unit := ""
		if t.Unit != "" {
			unit = " in " + t.Unit
		}
		fmt.Fprintf(w, "%s (%s%s)\n", t.ID, t.Symbol, unit)
		text := t.Title
		if t.Formula != "" {
			text += ": " + t.Formula
		}
		para(w, 4, text)
		if t.Source != "" {
			para(w, 4, "Source: "+t.Source)
		}
	}
}

// formulaText is the general formula of a term in plain text; empty where it has none.
func formulaText(d *engine.Definition) string {
	f, err := formula.Parse(d.Formula)
	if err != nil {
		return ""
	}
	return f.Text(func(name string) formula.Shown {
		if id, ok := engine.Lookup(name); ok {
			return formula.Shown{Text: formula.TextSymbol(engine.Describe(id).Symbol)}
		}
		return formula.Shown{}
	})
}
