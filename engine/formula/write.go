package formula

import "strings"

// piece is a written part with what its surroundings must know about it.
type piece struct {
	s        string
	level    level
	signed   bool // begins with a sign
	slash    bool // holds a solidus that could be read as part of a division
	compound bool // needs brackets under a power
}

// marks are the signs of one way of writing.
type marks interface {
	operator(op operator) string // with its spaces
	minus() string
	bracket(s string) string
	number(n number) piece
	quote(text string) string
	unshown(name string) string
	power(base string, exponent piece, integer string) string // integer: "2", "-3", or ""
	root(x string) string
	absolute(x string) string
	call(fn string, args []string) string
	fraction() bool // a division is set one above the other
	divide(x, y string) string
}

// writer walks a formula. The rules for brackets are here, the signs in marks.
type writer struct {
	show  func(string) Shown
	marks marks
	small int // > 0 inside a fraction or an exponent, where divisions use a solidus
}

func (w *writer) write(n node) piece {
	switch n := n.(type) {
	case number:
		return w.marks.number(n)
	case name:
		return w.name(n.name)
	case quote:
		return piece{s: w.marks.quote(n.text), level: levelValue}
	case negate:
		x := w.write(n.x)
		return piece{s: w.marks.minus() + w.unless(x.level >= levelPower && !x.signed, x), level: levelSign, signed: true, slash: x.slash}
	case call:
		return w.call(n)
	case binary:
		switch n.op {
		case opPower:
			return w.power(n)
		case opDivide:
			return w.division(n)
		}
		return w.joined(n)
	}
	return piece{}
}

// unless puts x in brackets unless it may stand bare.
func (w *writer) unless(bare bool, x piece) string {
	if bare {
		return x.s
	}
	return w.marks.bracket(x.s)
}

func (w *writer) name(n string) piece {
	var sh Shown
	if w.show != nil {
		sh = w.show(n)
	}
	if sh.Text == "" {
		sh = Shown{Text: w.marks.unshown(n)}
	}
	return piece{
		s: sh.Text, level: levelValue, compound: sh.Compound,
		signed: beginsWithSign(sh.Text),
		slash:  sh.Compound && strings.ContainsAny(sh.Text, "/·⋅×"),
	}
}

// beginsWithSign also looks into \qty{-5}{°C}.
func beginsWithSign(s string) bool {
	s = strings.TrimPrefix(s, `\qty{`)
	for _, sign := range []string{"-", "−", "+", "±"} {
		if strings.HasPrefix(s, sign) {
			return true
		}
	}
	return false
}

// joined writes a sum, a product or a comparison.
func (w *writer) joined(n binary) piece {
	x, y := w.write(n.x), w.write(n.y)
	own := n.op.level()
	left, right := x.level >= own, y.level > own && !y.signed
	switch own {
	case levelProduct:
		// After a solidus another × needs brackets to be plain (package comment).
		left = left && !w.solidus(n.x)
	case levelCompare:
		left, right = true, true
	}
	return piece{
		s:     w.unless(left, x) + w.marks.operator(n.op) + w.unless(right, y),
		level: own, signed: x.signed && left,
	}
}

// solidus reports whether n is a division that is written on one line.
func (w *writer) solidus(n node) bool {
	b, ok := n.(binary)
	return ok && b.op == opDivide && (!w.marks.fraction() || w.small > 0)
}

func (w *writer) division(n binary) piece {
	if w.marks.fraction() && w.small == 0 {
		if neg, ok := n.x.(negate); ok { // the sign stands before the bar, not above it
			n.x = neg.x
			p := w.division(n)
			return piece{s: w.marks.minus() + w.unless(!p.signed, p), level: levelSign, signed: true}
		}
		w.small++
		x, y := w.write(n.x), w.write(n.y)
		w.small--
		return piece{s: w.marks.divide(x.s, y.s), level: levelValue, compound: true}
	}
	x, y := w.write(n.x), w.write(n.y)
	left := x.level >= levelProduct && !w.solidus(n.x) && !x.slash
	right := y.level > levelSign && !y.signed && !y.slash
	return piece{
		s:     w.unless(left, x) + w.marks.operator(opDivide) + w.unless(right, y),
		level: levelProduct, signed: x.signed && left,
	}
}

func (w *writer) power(n binary) piece {
	x := w.write(n.x)
	base := w.unless(x.level == levelValue && !x.compound && !x.signed, x)
	w.small++
	y := w.write(n.y)
	w.small--
	return piece{s: w.marks.power(base, y, integer(n.y)), level: levelPower}
}

// integer returns the digits of a whole number with its sign, or "".
func integer(n node) string {
	sign := ""
	if neg, ok := n.(negate); ok {
		sign, n = "-", neg.x
	}
	if num, ok := n.(number); ok && num.exponent == "" && !strings.Contains(num.mantissa, ".") {
		return sign + num.mantissa
	}
	return ""
}

// call writes a function. Its brackets end it, yet under a power it gets more:
// ln(x)² could be read as the logarithm of a square.
func (w *writer) call(c call) piece {
	p := piece{level: levelValue, compound: true}
	args := make([]string, len(c.args))
	for i, a := range c.args {
		args[i] = w.write(a).s
	}
	switch c.fn {
	case "sqrt":
		p.s = w.marks.root(args[0])
	case "abs":
		p.s, p.compound = w.marks.absolute(args[0]), false
	default:
		p.s = w.marks.call(c.fn, args)
	}
	return p
}
