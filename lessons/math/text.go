package math

import (
	"strings"
	"unicode/utf8"
)

// textRow writes nodes as one line of plain text. A product without a sign
// stays without one: the parts only keep a space between them.
func textRow(nodes []node) string {
	var b strings.Builder
	var prev node
	for i, n := range nodes {
		s := textNode(n)
		var next node
		if i+1 < len(nodes) {
			next = nodes[i+1]
		}
		if _, ok := n.(fraction); ok && (binds(prev, closing) || binds(next, opening)) {
			s = "(" + s + ")"
		}
		if b.Len() > 0 && gap(prev, n) {
			b.WriteByte(' ')
		}
		b.WriteString(s)
		prev = n
	}
	return b.String()
}

// binds reports whether n, beside a fraction, would be taken for a part of it:
// a value or a bracket of the given form, or a sign of multiplication or division.
func binds(n node, bracket signForm) bool {
	switch n := n.(type) {
	case nil, space:
		return false
	case sign:
		return n.form == bracket || n.form == prefix || n.form == tight || n.s == "×" || n.s == "⋅" || n.s == "÷"
	}
	return true
}

// gap reports whether a space stands between two neighbours.
func gap(prev, n node) bool {
	if p, ok := prev.(sign); ok {
		switch p.form {
		case opening, prefix:
			return false
		case infix, tight, comma:
			return true
		}
	}
	switch n := bare(n).(type) {
	case space:
		return false
	case sign:
		if n.form == comma || n.form == closing || n.s == "!" {
			return false
		}
	case letter:
		if _, ok := prev.(digits); ok && (n.s == "%" || n.s == "°") {
			return false
		}
	}
	switch p := prev.(type) {
	case space:
		return !strings.HasPrefix(string(p), "-")
	case letter:
		if p.s == "Δ" || p.s == "∂" || p.s == "°" { // ΔT, °C
			_, isSign := n.(sign)
			return isSign
		}
	case words:
		return !strings.HasSuffix(string(p), " ")
	}
	if w, ok := n.(words); ok {
		return !strings.HasPrefix(string(w), " ")
	}
	return !isFunction(prev) || !opens(n)
}

func textNode(n node) string {
	switch n := n.(type) {
	case group:
		return textRow(n)
	case letter:
		return n.s
	case digits:
		return string(n)
	case words:
		return string(n)
	case sign:
		if n.s == "⋅" {
			return "·"
		}
		return n.s
	case function:
		return n.name
	case big:
		return n.s
	case script:
		return textScript(n)
	case fraction:
		num, den := textNode(n.num), textNode(n.den)
		if k := looseness(n.num); k > product {
			num = "(" + num + ")"
		}
		if looseness(n.den) > single {
			den = "(" + den + ")"
		}
		return num + " / " + den
	case root:
		mark := ""
		if n.index != nil {
			if mark = textNode(n.index); isInteger(mark) {
				mark = superscript(mark)
			} else {
				mark = "[" + mark + "]"
			}
		}
		return mark + "√(" + textNode(n.x) + ")"
	case accent:
		s := textNode(n.x)
		_, size := utf8.DecodeRuneInString(s)
		return s[:size] + n.mark.combining + s[size:]
	case bold:
		return textNode(n.x)
	case fenced:
		return n.open + textRow(n.x) + n.close
	case quantity:
		return textQuantity(n)
	case table:
		return textTable(n)
	}
	return ""
}

// How loosely a part of a fraction or a power hangs together.
const (
	single  = iota
	product // several values side by side or multiplied
	other   // a sum, a division, a comparison
)

func looseness(n node) int {
	nodes := []node{n}
	for len(nodes) == 1 { // {{x}} is x
		g, ok := nodes[0].(group)
		if !ok {
			break
		}
		nodes = g
	}
	if len(nodes) == 1 {
		switch n := nodes[0].(type) {
		case fraction, table:
			return other
		case quantity:
			for _, u := range n.unit {
				if u.sign != "" {
					return product
				}
			}
		}
		return single
	}
	kind, depth, values := single, 0, 0
	for i, n := range nodes {
		s, isSign := bare(n).(sign)
		switch {
		case isSign && s.form == opening:
			if depth == 0 && (i == 0 || !isFunction(nodes[i-1])) {
				values++
			}
			depth++
		case isSign && s.form == closing:
			depth--
		case depth > 0:
		case isSign && (s.s == "×" || s.s == "⋅"):
			kind = max(kind, product)
		case isSign:
			kind = other
		default:
			if _, ok := n.(fraction); ok {
				kind = max(kind, product)
			}
			if _, ok := n.(fenced); !ok || i == 0 || !isFunction(nodes[i-1]) {
				values++
			}
		}
	}
	if values > 1 {
		kind = max(kind, product)
	}
	return kind
}

func textScript(n script) string {
	s := textNode(n.base)
	if n.base != nil && looseness(n.base) > single || isQuantity(n.base) {
		s = "(" + s + ")"
	}
	if n.sub != nil {
		sub := textNode(n.sub)
		if looseness(n.sub) == other && strings.ContainsAny(sub, "=<>≤≥→+−/") {
			sub = "(" + sub + ")"
		}
		s += "_" + strings.ReplaceAll(sub, " ", "")
	}
	s += strings.Repeat("′", n.primes)
	if n.sup == nil {
		return s
	}
	switch sup := textNode(n.sup); {
	case sup == "∘":
		return s + "°"
	case isInteger(sup):
		return s + superscript(sup)
	case utf8.RuneCountInString(sup) == 1:
		return s + "^" + sup
	default:
		return s + "^(" + sup + ")"
	}
}

func isQuantity(n node) bool {
	if g, ok := n.(group); ok && len(g) == 1 {
		n = g[0]
	}
	_, ok := n.(quantity)
	return ok
}

func isInteger(s string) bool {
	s = strings.TrimPrefix(s, "−")
	return s != "" && strings.Trim(s, "0123456789") == ""
}

var superscripts = strings.NewReplacer("−", "⁻", "-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³",
	"4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹")

func superscript(s string) string { return superscripts.Replace(s) }

func textQuantity(q quantity) string {
	var b strings.Builder
	if q.number.digits != "" {
		b.WriteString(q.number.digits)
		if q.number.exponent != "" {
			b.WriteString(" × 10" + superscript(q.number.exponent))
		}
		if spaceBefore(q.unit) {
			b.WriteByte(' ')
		}
	}
	for _, u := range q.unit {
		// Fonts for text have the micro sign more often than the Greek letter.
		b.WriteString(strings.ReplaceAll(u.symbol, "μ", "µ") + superscript(u.power) + u.sign)
	}
	return b.String()
}

func textTable(t table) string {
	between, opening, closing, cell := "; ", "", "", ", "
	switch t.name {
	case "aligned":
		between, cell = "\n", " "
	case "cases":
		opening, closing, cell = "{ ", " }", " "
	case "pmatrix":
		opening, closing = "(", ")"
	default:
		opening, closing = "[", "]"
	}
	rows := make([]string, len(t.rows))
	for i, row := range t.rows {
		cells := make([]string, len(row))
		for j := range row {
			cells[j] = strings.TrimSpace(textRow(row[j]))
		}
		rows[i] = strings.TrimSpace(strings.Join(cells, cell))
	}
	return opening + strings.Join(rows, between) + closing
}
