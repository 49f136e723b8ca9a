package figure

import (
	"math"
	"strconv"
	"strings"
)

// title says all that the line shows.
func (d *answerLine) title() string {
	parts := d.said()
	if len(parts) == 0 {
		return "Answer line, empty"
	}
	return "Answer line: " + strings.Join(parts, "; ")
}

// said lists what the line shows, in reading order.
func (d *answerLine) said() []string {
	out := make([]string, 0, 4)
	if !math.IsNaN(d.yours) {
		out = append(out, "yours "+d.text(d.yours))
	}
	if t := d.accepted(); t != "" {
		if !math.IsNaN(d.key) && !strings.HasPrefix(t, "answer") {
			t += ", key " + d.text(d.key)
		}
		out = append(out, t)
	}
	if len(d.marks) > 0 {
		t := "slips: "
		for i, m := range d.marks {
			if i > 0 {
				t += ", "
			}
			t += d.mark(m)
		}
		out = append(out, t)
	}
	return out
}

// mark says one slip.
func (d *answerLine) mark(m Mark) string {
	t := d.text(m.Value) + " (" + m.Label + ")"
	if m.Count > 1 {
		t += " by " + strconv.Itoa(m.Count)
	}
	if m.Yours {
		t += ", which yours matches"
	}
	return t
}

// desc says how the axis runs.
func (d *answerLine) desc() string {
	kind := "Linear"
	if d.axis.log {
		kind = "Logarithmic"
	}
	t := kind + " axis from " + d.text(d.axis.min) + " to " + d.text(d.axis.max) + "."
	off := 0
	for _, m := range d.marks {
		if d.off(m.Value) != 0 {
			off++
		}
	}
	if !math.IsNaN(d.yours) && d.off(d.yours) != 0 {
		t += " Your answer lies beyond it."
	}
	switch {
	case off == 1:
		t += " One slip lies beyond it."
	case off > 1:
		t += " " + strconv.Itoa(off) + " slips lie beyond it."
	}
	return t
}

// facts gives the same as a list.
func (d *answerLine) facts() []string {
	var out []string
	if !math.IsNaN(d.yours) {
		out = append(out, "Yours: "+d.text(d.yours))
	}
	if t := d.accepted(); t != "" {
		out = append(out, strings.ToUpper(t[:1])+t[1:])
	}
	if !math.IsNaN(d.key) {
		out = append(out, "Key: "+d.text(d.key))
	}
	for _, m := range d.marks {
		out = append(out, "Slip: "+d.mark(m))
	}
	return out
}

// Text writes the line for a terminal of so many columns, at least 40: the axis
// with its marks, then what each mark is.
func (a Line) Text(width int) string {
	d := a.resolve()
	d.axis = d.spread()
	width = max(width, 40)
	left, right := " "+plainSpaces(d.text(d.axis.min))+" ", " "+plainSpaces(d.text(d.axis.max))
	n := max(width-columns(left)-columns(right)-2, 10)
	d.axis.p0, d.axis.p1 = 0, float64(n-1)
	row := make([]rune, n)
	for i := range row {
		row[i] = '─'
	}
	put := func(v float64, r rune) {
		if !math.IsNaN(v) {
			i := int(math.Round(min(max(d.axis.at(max(v, d.axis.min)), 0), float64(n-1))))
			switch d.off(v) {
			case -1:
				i, r = 0, '◂'
			case 1:
				i, r = n-1, '▸'
			}
			row[i] = r
		}
	}
	for _, m := range d.marks {
		put(m.Value, '○')
	}
	if x0, x1, ok := d.bandEnds(); ok {
		lo, hi := max(x0, 0), min(x1, float64(n-1))
		if hi-lo == 4 && !math.IsNaN(d.low) && !math.IsNaN(d.high) { // the least width is for drawings
			lo, hi = d.axis.at(d.low), d.axis.at(d.high)
		}
		for i := int(math.Round(max(lo, 0))); i <= int(math.Round(min(hi, float64(n-1)))); i++ {
			row[i] = '▒'
		}
	}
	put(d.key, '█')
	put(d.yours, '◆')
	var b strings.Builder
	b.WriteString(left + "├" + string(row) + "┤" + right + "\n")
	entry := func(sign, s string) {
		b.WriteString(wrapped(" "+sign+" ", plainSpaces(s), width))
	}
	if !math.IsNaN(d.yours) {
		entry("◆", "yours "+d.text(d.yours))
	}
	if t := d.accepted(); t != "" {
		entry("▒", t)
	}
	if !math.IsNaN(d.key) {
		entry("█", "key "+d.text(d.key))
	}
	for _, m := range d.marks {
		entry("○", d.mark(m))
	}
	return b.String()
}

func plainSpaces(s string) string { return strings.ReplaceAll(s, nbsp, " ") }

// wrapped breaks a text into lines, all but the first set in below it.
func wrapped(head, text string, width int) string {
	indent := strings.Repeat(" ", columns(head))
	line, out := head, ""
	for i, w := range strings.Fields(text) {
		if i > 0 && columns(line)+columns(w)+1 > width && strings.TrimSpace(line) != "" {
			out += line + "\n"
			line = indent + w
			continue
		}
		if line != head && line != indent {
			line += " "
		}
		line += w
	}
	return out + line + "\n"
}
