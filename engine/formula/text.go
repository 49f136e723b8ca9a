package formula

import "strings"

// textMarks writes one line of plain text.
type textMarks struct{}

func (textMarks) operator(op operator) string {
	return [...]string{" + ", " − ", " × ", " / ", "^", " < ", " ≤ ", " > ", " ≥ ", " = ", " ≠ "}[op]
}

func (textMarks) minus() string              { return "−" }
func (textMarks) bracket(s string) string    { return "(" + s + ")" }
func (textMarks) quote(text string) string   { return `"` + text + `"` }
func (textMarks) unshown(name string) string { return name }
func (textMarks) root(x string) string       { return "√(" + x + ")" }
func (textMarks) absolute(x string) string   { return "|" + x + "|" }
func (textMarks) fraction() bool             { return false }
func (textMarks) divide(x, y string) string  { return x + " / " + y }

func (textMarks) call(fn string, args []string) string {
	return fn + "(" + strings.Join(args, ", ") + ")"
}

func (textMarks) number(n number) piece {
	p := piece{s: n.mantissa, level: levelValue}
	if n.exponent != "" {
		p.s += "×10" + superscript(n.exponent)
		p.compound = true
	}
	return p
}

func (textMarks) power(base string, exponent piece, integer string) string {
	switch {
	case integer != "":
		return base + superscript(integer)
	case exponent.level == levelValue && !exponent.compound && !exponent.signed:
		return base + "^" + exponent.s
	}
	return base + "^(" + exponent.s + ")"
}
