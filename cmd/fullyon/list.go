package main

import (
	"fmt"
	"io"
	"strings"

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
	return "Example:\n\n    fullyon list templates\n\nTerms are the glossary: words of the trade, and every value with its formula, source and an example."
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

		Say     string   `json:"say"`
		Also    []string `json:"also"`
		Lesson  int      `json:"lesson"`
		Example string   `json:"example"`
	}
)

// Run prints the list.
func (c listCmd) Run(w *world) error {
	switch c.What {
	case "parts":
		return list(w, c.JSON, parts(), func(p partItem) []string {
			return []string{p.ID, p.Channel, p.Package, p.VDS, p.RDSOn + " at " + p.VGSOn, p.Title}
		})
	}
	course, err := lessons.Built()
	if err != nil {
		return err
	}
	switch c.What {
	case "terms":
		if c.JSON {
			return w.writeJSON(terms(course))
		}
		printTerms(w.stdout, terms(course))
		return nil
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

// terms are the entries of the glossary, in its order.
func terms(c *lessons.Course) []termItem {
	out := []termItem{}
	for _, t := range c.Glossary {
		item := termItem{ID: t.ID, Title: t.Title, Symbol: t.PlainSymbol(), Unit: t.Unit(), Formula: t.PlainFormula(), Say: t.Say, Lesson: t.Lesson, Also: append([]string{}, t.Also...)}
		if t.Definition != nil {
			item.Source = t.Definition.Source
		}
		if e, ok := c.Example(t, 1); ok {
			item.Example = e.String()
		}
		out = append(out, item)
	}
	return out
}

// printTerms prints each term over two or more lines: its formula is as long as it is.
func printTerms(w io.Writer, all []termItem) {
	for _, t := range all {
		mark := t.Symbol
		if t.Unit != "" {
			mark += " in " + t.Unit
		}
		if mark != "" {
			mark = " (" + mark + ")"
		}
		fmt.Fprintf(w, "%s%s, lesson %d\n", t.ID, mark, t.Lesson)
		text := t.Title
		if t.Formula != "" {
			text += ": " + t.Formula
		}
		para(w, 4, text)
		para(w, 4, t.Say)
		if len(t.Also) > 0 {
			para(w, 4, "Also called "+strings.Join(t.Also, ", ")+".")
		}
		if t.Example != "" {
			para(w, 4, "For example "+t.Example+".")
		}
		if t.Source != "" {
			para(w, 4, "Source: "+t.Source)
		}
	}
}
