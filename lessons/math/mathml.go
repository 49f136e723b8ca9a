package math

import (
	"html"
	"strings"
	"unicode/utf8"
)

// mathml writes nodes as MathML Core.
type mathml struct{ strings.Builder }

func (w *mathml) element(tag, content string) {
	w.WriteString("<" + tag + ">" + html.EscapeString(content) + "</" + tag + ">")
}

// upright sets a name. One letter alone would slope; more are upright by themselves.
func (w *mathml) upright(s string) {
	if utf8.RuneCountInString(s) != 1 {
		w.element("mi", s)
		return
	}
	w.WriteString(`<mi mathvariant="normal">` + html.EscapeString(s) + "</mi>")
}

func (w *mathml) space(width space) {
	w.WriteString(`<mspace width="` + string(width) + `"></mspace>`)
}

// row writes nodes side by side, with TeX's thin space round a function's name.
// A value with a unit keeps the same distance, or 2 A 3 V would run together.
func (w *mathml) row(nodes []node) {
	for i, n := range nodes {
		if i > 0 && keepsApart(nodes[i-1], n) {
			w.space(thinSpace)
		}
		w.node(n)
		if !isFunction(n) {
			continue
		}
		w.WriteString("<mo>\u2061</mo>") // function application
		if i+1 < len(nodes) && !isFunction(nodes[i+1]) && !opens(nodes[i+1]) {
			w.space(thinSpace)
		}
	}
}

func keepsApart(prev, n node) bool {
	_, isSign := bare(n).(sign)
	return isOperand(prev) && !isSign && !isFunction(prev) && (isFunction(n) || isQuantity(n) || isQuantity(prev) && isOperand(n))
}

func isFunction(n node) bool {
	_, ok := bare(n).(function)
	return ok
}

// opens reports whether n begins with a bracket or keeps its own distance.
func opens(n node) bool {
	switch n := bare(n).(type) {
	case sign:
		return n.form != prefix
	case fenced:
		return n.open != ""
	case space:
		return true
	}
	return false
}

// one writes n as exactly one element.
func (w *mathml) one(n node) {
	switch n := n.(type) {
	case nil:
		w.WriteString("<mrow></mrow>")
	case group:
		if len(n) == 1 && !isFunction(n[0]) {
			w.one(n[0])
			return
		}
		w.WriteString("<mrow>")
		w.row(n)
		w.WriteString("</mrow>")
	default:
		w.node(n)
	}
}

// node writes one element for every node.
func (w *mathml) node(n node) {
	switch n := n.(type) {
	case nil, group:
		w.one(n)
	case letter:
		if n.upright {
			w.upright(n.s)
		} else {
			w.element("mi", n.s)
		}
	case digits:
		w.element("mn", string(n))
	case words:
		w.element("mtext", strings.ReplaceAll(string(n), " ", "\u00a0"))
	case space:
		w.space(n)
	case sign:
		w.sign(n)
	case function:
		w.element("mi", n.name)
	case big:
		w.WriteString(`<mo largeop="true"`)
		if n.limits {
			w.WriteString(` movablelimits="true"`)
		}
		w.WriteString(">" + n.s + "</mo>")
	case script:
		w.script(n)
	case fraction:
		if n.display {
			w.WriteString(`<mstyle displaystyle="true">`)
		}
		w.WriteString("<mfrac>")
		w.one(n.num)
		w.one(n.den)
		w.WriteString("</mfrac>")
		if n.display {
			w.WriteString("</mstyle>")
		}
	case root:
		tag := "msqrt"
		if n.index != nil {
			tag = "mroot"
		}
		w.WriteString("<" + tag + ">")
		w.one(n.x)
		if n.index != nil {
			w.one(n.index)
		}
		w.WriteString("</" + tag + ">")
	case accent:
		stretchy := "false"
		if n.across {
			stretchy = "true"
		}
		w.WriteString(`<mover accent="true">`)
		w.one(n.x)
		w.WriteString(`<mo stretchy="` + stretchy + `">` + n.mark.spacing + "</mo></mover>")
	case bold:
		w.WriteString(`<mrow class="math-bold">`)
		w.one(n.x)
		w.WriteString("</mrow>")
	case fenced:
		w.WriteString("<mrow>")
		w.fence(n.open, "prefix")
		w.WriteString("<mrow>")
		w.row(n.x)
		w.WriteString("</mrow>")
		w.fence(n.close, "postfix")
		w.WriteString("</mrow>")
	case quantity:
		w.quantity(n)
	case table:
		w.table(n)
	}
}

func (w *mathml) sign(n sign) {
	attributes := ""
	switch n.form {
	case prefix:
		attributes = ` form="prefix"`
	case tight:
		attributes = ` lspace="0" rspace="0"`
	case comma:
		attributes = ` separator="true"`
	case opening:
		attributes = ` form="prefix" stretchy="false"`
	case closing:
		attributes = ` form="postfix" stretchy="false"`
	}
	w.WriteString("<mo" + attributes + ">" + html.EscapeString(n.s) + "</mo>")
}

func (w *mathml) fence(s, form string) {
	if s != "" {
		w.WriteString(`<mo form="` + form + `" fence="true" stretchy="true">` + s + "</mo>")
	}
}

func (w *mathml) script(n script) {
	limits := false
	switch b := n.base.(type) {
	case function:
		limits = b.limits
	case big:
		limits = b.limits
	}
	raised := n.sup != nil || n.primes > 0
	tag := "msubsup"
	switch {
	case limits && n.sub != nil && raised:
		tag = "munderover"
	case limits && raised:
		tag = "mover"
	case limits:
		tag = "munder"
	case n.sub == nil:
		tag = "msup"
	case !raised:
		tag = "msub"
	}
	w.WriteString("<" + tag + ">")
	w.one(n.base)
	if n.sub != nil {
		w.one(n.sub)
	}
	lean := raised && !limits && leans(n.base)
	grouped := lean || n.primes > 0
	if grouped {
		w.WriteString("<mrow>")
	}
	if lean {
		w.space(leanSpace)
	}
	if n.primes > 0 {
		w.WriteString("<mo>" + strings.Repeat("′", n.primes) + "</mo>")
	}
	if n.sup != nil {
		w.one(n.sup)
	}
	if grouped {
		w.WriteString("</mrow>")
	}
	w.WriteString("</" + tag + ">")
}

// leans reports whether n is a sloping letter whose top would touch what is
// raised beside it, as in I²: browsers leave its italic correction out.
func leans(n node) bool {
	l, ok := n.(letter)
	return ok && !l.upright && (l.s[0] <= 'Z' || l.s == "f")
}

func (w *mathml) quantity(q quantity) {
	w.WriteString("<mrow>")
	if q.number.digits != "" {
		w.element("mn", q.number.digits)
		if e := q.number.exponent; e != "" {
			w.WriteString("<mo>×</mo><msup><mn>10</mn>")
			w.element("mn", strings.ReplaceAll(e, "-", "−"))
			w.WriteString("</msup>")
		}
		if spaceBefore(q.unit) {
			w.space(thinSpace)
		}
	}
	for _, u := range q.unit {
		switch {
		case u.sign != "":
			w.WriteString(`<mo lspace="0" rspace="0" stretchy="false">` + strings.ReplaceAll(u.sign, "·", "⋅") + "</mo>")
		case u.power != "":
			w.WriteString("<msup>")
			w.upright(u.symbol)
			w.element("mn", strings.ReplaceAll(u.power, "-", "−"))
			w.WriteString("</msup>")
		default:
			w.upright(u.symbol)
		}
	}
	w.WriteString("</mrow>")
}

func (w *mathml) table(t table) {
	class := func(int) string { return "" }
	opening, closing, attributes := "", "", ""
	switch t.name {
	case "aligned":
		attributes = ` displaystyle="true"`
		class = func(col int) string { return [...]string{` class="math-right"`, ` class="math-left"`}[col%2] }
	case "cases":
		opening = "{"
		class = func(col int) string {
			if col == 0 {
				return ` class="math-left"`
			}
			return ` class="math-case"`
		}
	case "pmatrix":
		opening, closing = "(", ")"
	case "bmatrix":
		opening, closing = "[", "]"
	}
	w.WriteString("<mrow>")
	w.fence(opening, "prefix")
	w.WriteString("<mtable" + attributes + ">")
	for _, row := range t.rows {
		w.WriteString("<mtr>")
		for col, cell := range row {
			w.WriteString("<mtd" + class(col) + "><mrow>")
			w.row(cell)
			w.WriteString("</mrow></mtd>")
		}
		w.WriteString("</mtr>")
	}
	w.WriteString("</mtable>")
	w.fence(closing, "postfix")
	w.WriteString("</mrow>")
}
