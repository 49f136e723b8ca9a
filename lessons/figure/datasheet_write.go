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
		put(`<th scope="col">`, g.symbolHead(), `</th>`)
		columns := g.columns()
		for _, h := range columns {
			put(`<th scope="col"`)
			if h.number {
				put(` class="n"`)
			}
			b = html(append(b, '>'), h.name)
			put(`</th>`)
		}
		put(`</tr></thead>`)
		b = g.body(b, columns)
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

// heading is one column of a table.
type heading struct {
	name   string // marked
	number bool
	cell   func(*TableRow) string
}

var (
	meaningHead = func(r *TableRow) string { return r.Meaning }
	minHead     = heading{"min", true, func(r *TableRow) string { return r.Min }}
	typHead     = heading{"typ", true, func(r *TableRow) string { return r.Typ }}
	maxHead     = heading{"max", true, func(r *TableRow) string { return r.Max }}
	unitHead    = heading{"Unit", false, func(r *TableRow) string { return r.Unit }}
)

// columns are the columns behind the symbol. A spread leaves out min or typ when no row has
// one, which matters on a narrow screen.
func (g *Group) columns() []heading {
	switch g.Kind {
	case Limits:
		limit := maxHead
		limit.name = "Limit"
		return []heading{{"Parameter", false, meaningHead}, limit, unitHead}
	case Cells:
		r, tau := typHead, maxHead
		r.name, tau.name = "R_{i}", "τ_{i}"
		return []heading{r, tau}
	}
	var low, mid bool
	for i := range g.Rows {
		low = low || g.Rows[i].Min != ""
		mid = mid || g.Rows[i].Typ != ""
	}
	out := append(make([]heading, 0, 5), heading{"Parameter, condition", false, meaningHead})
	if low {
		out = append(out, minHead)
	}
	if mid {
		out = append(out, typHead)
	}
	return append(out, maxHead, unitHead)
}

// symbolHead is the heading of the first column.
func (g *Group) symbolHead() string {
	if g.Kind == Cells {
		return "Cell"
	}
	return "Symbol"
}

// body writes the rows. Rows that share a symbol form a row group of their own, headed by it.
func (g *Group) body(b []byte, columns []heading) []byte {
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
		for _, h := range columns {
			b = append(b, `<td`...)
			if h.number {
				b = append(b, ` class="n"`...)
			}
			b = append(html(append(b, '>'), h.cell(r)), `</td>`...)
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
	b.WriteString(plainSpaces(t.title()) + "\n")
	if line := t.line(); line != "" {
		b.WriteString(line + "\n")
	}
	for i := range t.Groups {
		g := &t.Groups[i]
		columns := g.columns()
		head := []string{g.symbolHead()}
		for _, h := range columns {
			head = append(head, flat(h.name))
		}
		rows := [][]string{head}
		for j := range g.Rows {
			row := []string{flat(g.Rows[j].Symbol)}
			for _, h := range columns {
				row = append(row, plainSpaces(flat(h.cell(&g.Rows[j]))))
			}
			rows = append(rows, row)
		}
		b.WriteString("\n" + plainSpaces(flat(g.Caption)) + "\n")
		align(&b, rows, func(c int) bool { return c > 0 && columns[c-1].number })
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
