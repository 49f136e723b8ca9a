package figure

import "strings"

// HTML writes the extract as a section with tables. All ids start with id.
func (t *Table) HTML(id string) string {
	id = cleanID(id)
	b := make([]byte, 0, 8<<10)
	put := func(s ...string) {
		for _, x := range s {
			b = append(b, x...)
		}
	}
	put(`<section class="sheet" aria-labelledby="`, id, `-n"><p class="sheet-name" id="`, id, `-n">`)
	b = escape(b, t.title())
	put(`</p>`)
	if line := t.line(); line != "" {
		put(`<p class="sheet-line">`)
		b = escape(b, line)
		put(`</p>`)
	}
	for i := range t.Groups {
		g := &t.Groups[i]
		put(`<table class="sheet-table"><caption>`)
		b = html(b, g.Caption)
		put(`</caption><thead><tr>`)
		for i, h := range g.heads() {
			put(`<th scope="col"`)
			if g.number(i) {
				put(` class="n"`)
			}
			put(`>`, h, `</th>`)
		}
		put(`</tr></thead>`)
		b = g.body(b)
		put(`</table>`)
	}
	put(`</section>`)
	return string(b)
}

func (t *Table) title() string {
	if t.Name == "" {
		return t.Line
	}
	return t.Name + nbsp + nbsp + t.Line
}

// line is what stands below the name.
func (t *Table) line() string {
	var s []string
	for _, x := range []string{t.Package, t.Note} {
		if x != "" {
			s = append(s, x)
		}
	}
	if t.Extract {
		s = append(s, "extract")
	}
	return strings.Join(s, " · ")
}

var heads = [...][]string{
	Limits: {"Symbol", "Parameter", "Limit", "Unit"},
	Spread: {"Symbol", "Parameter, condition", "min", "typ", "max", "Unit"},
	Cells:  {"Cell", "R<sub>i</sub>", "τ<sub>i</sub>"},
}

// heads are the headings of the columns, as HTML.
func (g *Group) heads() []string { return heads[g.Kind] }

// number tells whether a column holds numbers.
func (g *Group) number(column int) bool {
	switch g.Kind {
	case Limits:
		return column == 2
	case Spread:
		return column >= 2 && column <= 4
	}
	return column > 0
}

// values are the cells of a row behind its symbol.
func (g *Group) values(r *TableRow) [5]string {
	switch g.Kind {
	case Limits:
		return [5]string{r.Meaning, r.Max, r.Unit}
	case Cells:
		return [5]string{r.Typ, r.Max}
	}
	return [5]string{r.Meaning, r.Min, r.Typ, r.Max, r.Unit}
}

// body writes the rows. Rows that share a symbol form a row group of their own, headed by it.
func (g *Group) body(b []byte) []byte {
	open := false
	for i := range g.Rows {
		r := &g.Rows[i]
		span := 1
		for i+span < len(g.Rows) && g.Rows[i+span].Symbol == "" {
			span++
		}
		first := r.Symbol != ""
		if first && (span > 1 || !open || i > 0 && g.Rows[i-1].Symbol == "") {
			if open {
				b = append(b, `</tbody>`...)
			}
			b = append(b, `<tbody>`...)
			open = true
		}
		b = append(b, `<tr>`...)
		switch {
		case first && span > 1:
			b = append(b, `<th scope="rowgroup" rowspan="`...)
			b = number(b, float64(span))
			b = append(b, `">`...)
		case first:
			b = append(b, `<th scope="row">`...)
		}
		if first {
			b = append(html(b, r.Symbol), `</th>`...)
		}
		v := g.values(r)
		for j := range g.heads()[1:] {
			b = append(b, `<td`...)
			if g.number(j + 1) {
				b = append(b, ` class="n"`...)
			}
			b = append(html(append(b, '>'), v[j]), `</td>`...)
		}
		b = append(b, `</tr>`...)
	}
	if open {
		b = append(b, `</tbody>`...)
	}
	return b
}

// Text writes the extract for a terminal.
func (t *Table) Text() string {
	var b strings.Builder
	b.WriteString(strings.ReplaceAll(t.title(), nbsp, " ") + "\n")
	if line := t.line(); line != "" {
		b.WriteString(line + "\n")
	}
	for i := range t.Groups {
		g := &t.Groups[i]
		head := make([]string, len(g.heads()))
		for i, h := range g.heads() {
			head[i] = strings.NewReplacer("<sub>", "_", "</sub>", "").Replace(h)
		}
		rows := [][]string{head}
		for j := range g.Rows {
			r := &g.Rows[j]
			row := []string{flat(r.Symbol)}
			v := g.values(r)
			for k := range g.heads()[1:] {
				row = append(row, strings.ReplaceAll(flat(v[k]), nbsp, " "))
			}
			rows = append(rows, row)
		}
		b.WriteString("\n" + strings.ReplaceAll(flat(g.Caption), nbsp, " ") + "\n")
		align(&b, rows, g.number)
	}
	return b.String()
}

// Facts says every row of the extract in words.
func (t *Table) Facts() []string {
	out := []string{t.title()}
	if line := t.line(); line != "" {
		out = append(out, line)
	}
	for i := range t.Groups {
		g := &t.Groups[i]
		symbol := ""
		for j := range g.Rows {
			r := &g.Rows[j]
			if r.Symbol != "" {
				symbol = flat(r.Symbol)
			}
			out = append(out, g.fact(symbol, r))
		}
	}
	return out
}

func (g *Group) fact(symbol string, r *TableRow) string {
	unit := ""
	if r.Unit != "" {
		unit = nbsp + r.Unit
	}
	switch g.Kind {
	case Limits:
		return symbol + ", " + flat(r.Meaning) + ": at most " + r.Max + unit
	case Cells:
		return "Thermal cell " + symbol + ": R = " + r.Typ + ", τ = " + r.Max
	}
	s := symbol + ", " + flat(r.Meaning) + ":"
	sep := " "
	for _, v := range [...]struct{ name, text string }{{"min ", r.Min}, {"typ ", r.Typ}, {"max ", r.Max}} {
		if v.text != "" {
			s += sep + v.name + v.text + unit
			sep = ", "
		}
	}
	return s
}
