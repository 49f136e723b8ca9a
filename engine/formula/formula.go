// Package formula shows arithmetic; it never works anything out. It reads the
// text of a formula as authors and the engine write it,
//
//	current_rms^2 * rds_on_hot
//	max(0, supply / coil_resistance - ripple / 2)
//	ratio >= 1.25 * demand
//
// and writes it as one line of text or as TeX, each name replaced by a symbol
// or by a value with its unit:
//
//	I_RMS² × R_DS(on)          (2.0 A)² × 32 mΩ          I_{RMS}^{2} \times R_{DS(on)}
//
// # Source text
//
//	formula    = sum [ ( "<" | "<=" | ">" | ">=" | "==" | "=" | "!=" ) sum ]
//	sum        = product { ( "+" | "-" ) product }
//	product    = signed { ( "*" | "/" ) signed }
//	signed     = "-" signed | power
//	power      = value [ ( "^" | "**" ) signed ]        a^b^c is a^(b^c), -a^2 is -(a^2)
//	value      = number | name | name "(" argument { "," argument } ")" | "(" sum ")"
//	argument   = sum | a text in double or single quotes
//
// The marks of the written text read back too: × · ÷ − ≤ ≥ ≠ √(x) |x| a² and
// 1.5×10⁻³ (without spaces, one number). A formula that is written with its
// names kept therefore reads back as the same formula.
//
// # Written text
//
// Brackets stand only where leaving them out would change the order of working,
// and in one more place: by the rule of ISO 80000-1:2009, 7.1.3 (clause from
// memory), no solidus is followed by another sign of multiplication or division
// on the same line without brackets, so a/b*c is written (a / b) × c.
package formula

// Shown is how a name is written in place of itself.
type Shown struct {
	// Text is a symbol or a value with its unit: plain text for Formula.Text,
	// TeX for Formula.TeX. When it is empty the name itself stands.
	Text string
	// Compound says that Text is more than one sign, as "2.0 A" is: it gets
	// brackets under a power.
	Compound bool
}

// Formula is a formula that has been read. It does not change and may be used
// by many goroutines.
type Formula struct {
	root  node
	names []string
}

// Names returns the names of values in the formula, each once, in order of
// first appearance. Names of functions are not among them.
func (f *Formula) Names() []string { return append([]string(nil), f.names...) }

// Text writes the formula as one line of plain text. With a nil show, or where
// show returns an empty text, a name stands as it is in the source.
func (f *Formula) Text(show func(name string) Shown) string {
	w := writer{show: show, marks: textMarks{}}
	return w.write(f.root).s
}

// TeX writes the formula in the subset of TeX that package lessons/math turns
// into MathML. show gives TeX for a name; a name it leaves empty is set upright.
func (f *Formula) TeX(show func(name string) Shown) string {
	w := writer{show: show, marks: texMarks{}}
	return w.write(f.root).s
}

// node is a part of a formula.
type node interface{ isNode() }

type (
	// number keeps the digits of the source: mantissa "1.5", exponent "-3" or "".
	number struct{ mantissa, exponent string }
	name   struct{ name string }
	quote  struct{ text string } // only as an argument of a function
	negate struct{ x node }
	// binary holds one of the operators of opXxx.
	binary struct {
		op   operator
		x, y node
	}
	call struct {
		fn   string
		args []node
	}
)

func (number) isNode() {}
func (name) isNode()   {}
func (quote) isNode()  {}
func (negate) isNode() {}
func (binary) isNode() {}
func (call) isNode()   {}

type operator uint8

const (
	opAdd operator = iota
	opSubtract
	opMultiply
	opDivide
	opPower
	opLess
	opLessEqual
	opGreater
	opGreaterEqual
	opEqual
	opNotEqual
)

// level is how tightly an operator binds; a value binds tightest.
type level uint8

const (
	levelCompare level = iota
	levelSum
	levelProduct
	levelSign
	levelPower
	levelValue
)

func (o operator) level() level {
	switch o {
	case opAdd, opSubtract:
		return levelSum
	case opMultiply, opDivide:
		return levelProduct
	case opPower:
		return levelPower
	}
	return levelCompare
}
