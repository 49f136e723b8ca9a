package lessons

import (
	"html"
	"strings"
	"unicode/utf8"

	"fullyon/grader/problem"
	"fullyon/lessons/math"
)

// A rendered text is pieces of output between which values go. Values are put
// in last and escaped there, so that none can become markup.
type rendered struct {
	pieces []piece
}

type piece struct {
	text    string
	value   int      // of the Text, counted from 1; 0 for none
	formula *holding // with values in it; nil for none
}

// holding is a formula that holds values, so that it is turned into MathML only
// once they are known.
type holding struct {
	tex     string
	display bool
}

// firstFormula is the private-use character that stands for the first formula
// that holds values, in rendered output only.
const firstFormula = problem.FirstPlace + 0x400

func isPlace(r rune) bool { return r >= problem.FirstPlace && r < firstFormula }

// holdsPlace tells whether a value is to come into a text.
func holdsPlace(s string) bool { return strings.IndexFunc(s, isPlace) >= 0 }

// split cuts output at the characters that stand for values and formulas.
func split(out string, formulas []holding) rendered {
	var r rendered
	start := 0
	for i, c := range out {
		p := piece{}
		switch k := int(c - firstFormula); {
		case isPlace(c):
			p.value = int(c-problem.FirstPlace) + 1
		case k >= 0 && k < len(formulas):
			p.formula = &formulas[k]
		default:
			continue
		}
		if i > start {
			r.pieces = append(r.pieces, piece{text: out[start:i]})
		}
		r.pieces = append(r.pieces, p)
		start = i + utf8.RuneLen(c)
	}
	if start < len(out) {
		r.pieces = append(r.pieces, piece{text: out[start:]})
	}
	return r
}

// html puts the values in as text of HTML.
func (r rendered) html(values []string) string {
	if len(r.pieces) == 1 && r.pieces[0].value == 0 && r.pieces[0].formula == nil {
		return r.pieces[0].text
	}
	var b strings.Builder
	for _, p := range r.pieces {
		switch {
		case p.formula != nil:
			b.WriteString(p.formula.mathML(values))
		case p.value > 0:
			if p.value <= len(values) {
				b.WriteString(html.EscapeString(unbroken(values[p.value-1])))
			}
		default:
			b.WriteString(p.text)
		}
	}
	return b.String()
}

// plain puts the values in as they are.
func (r rendered) plain(values []string) string {
	var b strings.Builder
	for _, p := range r.pieces {
		switch {
		case p.formula != nil:
			b.WriteString(math.Text(p.formula.with(values)))
		case p.value > 0:
			if p.value <= len(values) {
				b.WriteString(values[p.value-1])
			}
		default:
			b.WriteString(p.text)
		}
	}
	return b.String()
}

// mathML is the formula with its values. What cannot be set as a formula is shown as text.
func (h *holding) mathML(values []string) string {
	tex := h.with(values)
	out, err := math.Convert(tex, h.display)
	if err != nil {
		return "<code>" + html.EscapeString(tex) + "</code>"
	}
	return out
}

// with writes the values into the TeX source.
func (h *holding) with(values []string) string {
	var b strings.Builder
	for _, c := range h.tex {
		switch i := int(c - problem.FirstPlace); {
		case !isPlace(c):
			b.WriteRune(c)
		case i < len(values):
			b.WriteString(texValue(values[i]))
		}
	}
	return b.String()
}

// unbroken keeps a number and its unit on one line: "2.0 A" with U+00A0.
func unbroken(value string) string {
	if number, unit, ok := quantity(value); ok {
		return number + "\u00a0" + unit
	}
	return value
}

// texValue writes a value as TeX: "2.0 A" becomes \qty{2.0}{A}, a word becomes \text{word}.
func texValue(value string) string {
	if number, unit, ok := quantity(value); ok {
		return `\qty{` + number + `}{` + unit + `}`
	}
	if isNumber(value) {
		return value
	}
	var b strings.Builder
	b.WriteString(`\text{`)
	for _, c := range value {
		switch c {
		case '\\': // has no place in a text of TeX
			continue
		case '_', '%', '&', '#', '$', '{', '}':
			b.WriteByte('\\')
		}
		b.WriteRune(c)
	}
	b.WriteString("}")
	return b.String()
}

// quantity takes "2.0 A" apart.
func quantity(value string) (number, unit string, ok bool) {
	number, unit, ok = strings.Cut(value, " ")
	return number, unit, ok && unit != "" && isNumber(number) && !strings.ContainsAny(unit, " {}\\$")
}

func isNumber(s string) bool {
	digits := false
	for i, c := range s {
		switch {
		case c >= '0' && c <= '9':
			digits = true
		case c == '.', c == '\u202f', c == '\u00a0', i == 0 && (c == '-' || c == '−' || c == '+'):
		default:
			return false
		}
	}
	return digits
}
