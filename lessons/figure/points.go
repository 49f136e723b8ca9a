package figure

import "strings"

// Points is the table that serves in place of a curve: a caption, a heading for
// each column with its unit, and the values as printed.
type Points struct {
	Caption string
	Columns []string // marked texts
	Rows    [][]string
}

// HTML writes the table; the first column heads its row.
func (p *Points) HTML(id string) string {
	b := append(make([]byte, 0, 2048), `<table class="points" id="`...)
	b = append(b, cleanID(id)...)
	b = append(b, `"><caption>`...)
	b = html(b, p.Caption)
	b = append(b, `</caption><thead><tr>`...)
	for _, c := range p.Columns {
		b = append(b, `<th scope="col" class="n">`...)
		b = html(b, c)
		b = append(b, `</th>`...)
	}
	b = append(b, `</tr></thead><tbody>`...)
	for _, r := range p.Rows {
		b = append(b, `<tr>`...)
		for i, v := range r {
			if i == 0 {
				b = append(escape(append(b, `<th scope="row" class="n">`...), v), `</th>`...)
			} else {
				b = append(escape(append(b, `<td class="n">`...), v), `</td>`...)
			}
		}
		b = append(b, `</tr>`...)
	}
	return string(append(b, `</tbody></table>`...))
}

// Text writes the table for a terminal.
func (p *Points) Text() string {
	rows := make([][]string, 0, len(p.Rows)+1)
	head := make([]string, len(p.Columns))
	for i, c := range p.Columns {
		head[i] = flat(c)
	}
	rows = append(append(rows, head), p.Rows...)
	var b strings.Builder
	b.WriteString(flat(p.Caption) + "\n")
	align(&b, rows, func(int) bool { return true })
	return b.String()
}

// align writes rows in columns; right tells which columns stand to the right.
func align(b *strings.Builder, rows [][]string, right func(column int) bool) {
	var wide []int
	for _, r := range rows {
		for i, v := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], columns(v))
		}
	}
	for _, r := range rows {
		line := ""
		for i, v := range r {
			pad := strings.Repeat(" ", wide[i]-columns(v))
			if right(i) {
				line += pad + v + "  "
			} else {
				line += v + pad + "  "
			}
		}
		b.WriteString("  " + strings.TrimRight(line, " ") + "\n")
	}
}

// columns counts the places that a text takes in a terminal.
func columns(s string) int {
	n := 0
	for _, r := range s {
		if r >= 0x1100 && (r < 0x2000 || r >= 0x2e80) {
			n++
		}
		n++
	}
	return n
}
