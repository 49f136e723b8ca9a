package formula

import (
	"errors"
	"strings"
)

// Limits of a formula that is to be read by people.
const (
	MaxLength = 2000 // bytes of source
	MaxDepth  = 50   // brackets, calls, signs and powers inside one another
)

// Parse reads a formula. The error is an *Error with a byte offset into src.
func Parse(src string) (*Formula, error) {
	if len(src) > MaxLength {
		return nil, errorAt(MaxLength, "the formula is longer than %d bytes; split it into steps", MaxLength)
	}
	p := &parser{src: src}
	if err := p.advance(); err != nil {
		return nil, err
	}
	root, err := p.comparison()
	if err != nil {
		return nil, err
	}
	if p.tok.kind != tokenEnd {
		return nil, p.leftOver()
	}
	return &Formula{root: root, names: p.names}, nil
}

type parser struct {
	src   string
	tok   token
	next  int // offset behind tok
	depth int
	names []string
}

func (p *parser) advance() (err error) {
	p.tok, p.next, err = scan(p.src, p.next)
	return err
}

func (p *parser) isOperator(ops ...operator) bool {
	if p.tok.kind != tokenOperator {
		return false
	}
	for _, o := range ops {
		if p.tok.op == o {
			return true
		}
	}
	return false
}

func (p *parser) isMark(mark string) bool { return p.tok.kind == tokenMark && p.tok.text == mark }

// leftOver explains a token that cannot follow a whole formula.
func (p *parser) leftOver() error {
	switch {
	case p.isMark(")"):
		return errorAt(p.tok.off, "')' closes nothing; drop it or add '(' before it")
	case p.isMark(","):
		return errorAt(p.tok.off, "',' stands outside a function's brackets; write a decimal point in numbers")
	case p.tok.kind == tokenOperator && p.tok.op.level() == levelCompare:
		return errorAt(p.tok.off, "a second comparison; a formula holds one, outside all brackets")
	}
	return errorAt(p.tok.off, "%s follows a value directly; write a sign such as * between them", p.tok.spelled(p.src))
}

// enter guards every way of nesting, so that no source can exhaust the stack.
func (p *parser) enter() error {
	if p.depth++; p.depth > MaxDepth {
		return errorAt(p.tok.off, "nested more than %d deep; split the formula into steps", MaxDepth)
	}
	return nil
}

func (p *parser) comparison() (node, error) {
	return p.chain(p.sum, true, opLess, opLessEqual, opGreater, opGreaterEqual, opEqual, opNotEqual)
}

func (p *parser) sum() (node, error) { return p.chain(p.product, false, opAdd, opSubtract) }

func (p *parser) product() (node, error) { return p.chain(p.signed, false, opMultiply, opDivide) }

// chain reads parts joined by any of ops, grouped from the left.
func (p *parser) chain(part func() (node, error), once bool, ops ...operator) (node, error) {
	x, err := part()
	for err == nil && p.isOperator(ops...) {
		op := p.tok.op
		if err = p.advance(); err != nil {
			break
		}
		var y node
		y, err = part()
		x = binary{op, x, y}
		if once {
			break
		}
	}
	if err != nil {
		return nil, err
	}
	return x, nil
}

func (p *parser) signed() (node, error) {
	if err := p.enter(); err != nil {
		return nil, err
	}
	defer func() { p.depth-- }()
	if !p.isOperator(opSubtract) {
		return p.power()
	}
	if err := p.advance(); err != nil {
		return nil, err
	}
	x, err := p.signed()
	if err != nil {
		return nil, err
	}
	return negate{x}, nil
}

func (p *parser) power() (node, error) {
	x, err := p.value()
	if err != nil {
		return nil, err
	}
	var y node
	switch {
	case p.tok.kind == tokenSuper:
		y = number{mantissa: trimZeros(p.tok.text)}
		if p.tok.extra == "-" {
			y = negate{y}
		}
		err = p.advance()
	case p.isOperator(opPower):
		if err = p.advance(); err == nil {
			y, err = p.signed()
		}
	default:
		return x, nil
	}
	if err != nil {
		return nil, err
	}
	if p.tok.kind == tokenSuper || p.isOperator(opPower) {
		return nil, errorAt(p.tok.off, "a power directly after a power; put the first into brackets")
	}
	return binary{opPower, x, y}, nil
}

func trimZeros(digits string) string {
	if digits = strings.TrimLeft(digits, "0"); digits == "" {
		return "0"
	}
	return digits
}

func (p *parser) value() (node, error) {
	t := p.tok
	switch {
	case t.kind == tokenNumber:
		return number{t.text, t.extra}, p.advance()
	case t.kind == tokenName:
		if err := p.advance(); err != nil {
			return nil, err
		}
		if p.isMark("(") {
			return p.call(t)
		}
		p.note(t.text)
		return name{t.text}, nil
	case p.isMark("("):
		return p.enclosed(t, ")")
	case p.isMark("|"):
		x, err := p.enclosed(t, "|")
		return call{"abs", []node{x}}, err
	case p.isMark("√"):
		if err := p.advance(); err != nil {
			return nil, err
		}
		if !p.isMark("(") {
			return nil, errorAt(p.tok.off, "√ needs brackets; write √(…) or sqrt(…)")
		}
		x, err := p.enclosed(p.tok, ")")
		return call{"sqrt", []node{x}}, err
	case t.kind == tokenQuote:
		return nil, errorAt(t.off, "a quoted text can only be an argument of a function")
	}
	return nil, errorAt(t.off, "%s where a value is expected; write a name, a number or '('", t.spelled(p.src))
}

func (p *parser) note(n string) {
	for _, known := range p.names {
		if known == n {
			return
		}
	}
	p.names = append(p.names, n)
}

// enclosed reads a sum between the opening token, which is the present one, and end.
func (p *parser) enclosed(open token, end string) (node, error) {
	if err := p.advance(); err != nil {
		return nil, err
	}
	x, err := p.sum()
	if err != nil {
		return nil, err
	}
	return x, p.closing(open, end)
}

func (p *parser) closing(open token, end string) error {
	switch {
	case p.isMark(end):
		return p.advance()
	case p.tok.kind == tokenEnd:
		return errorAt(open.off, "%q is never closed; add %q", open.text, end)
	case p.tok.kind == tokenOperator && p.tok.op.level() == levelCompare:
		return errorAt(p.tok.off, "a comparison inside brackets; a formula holds one, outside all brackets")
	case p.isMark(",") && end == ")" && open.kind == tokenMark:
		return errorAt(p.tok.off, "',' stands outside a function's brackets; write a decimal point in numbers")
	}
	return errorAt(p.tok.off, "%s where %q is expected; write a sign such as * before it, or close the brackets", p.tok.spelled(p.src), end)
}

// arguments are the functions whose number of arguments is known.
var arguments = map[string]int{"sqrt": 1, "ln": 1, "exp": 1, "abs": 1}

func (p *parser) call(fn token) (node, error) {
	open := p.tok
	open.kind = tokenName // a comma belongs here
	if err := p.advance(); err != nil {
		return nil, err
	}
	c := call{fn: fn.text}
	for !p.isMark(")") || len(c.args) > 0 {
		arg, err := p.argument()
		if err != nil {
			return nil, err
		}
		c.args = append(c.args, arg)
		if !p.isMark(",") {
			break
		}
		if err := p.advance(); err != nil {
			return nil, err
		}
	}
	if err := p.closing(open, ")"); err != nil {
		return nil, err
	}
	if len(c.args) == 0 {
		return nil, errorAt(fn.off, "%s has nothing in its brackets; give it an argument or drop the brackets", fn.text)
	}
	if want, known := arguments[fn.text]; known && len(c.args) != want {
		return nil, errorAt(fn.off, "%s takes one argument, not %d", fn.text, len(c.args))
	}
	for _, a := range c.args {
		if _, quoted := a.(quote); quoted && known(fn.text) {
			return nil, errorAt(fn.off, "%s takes a number, not a quoted text", fn.text)
		}
	}
	return c, nil
}

func known(fn string) bool { return arguments[fn] > 0 || fn == "min" || fn == "max" }

func (p *parser) argument() (node, error) {
	if p.tok.kind == tokenQuote {
		text := p.tok.text
		return quote{text}, p.advance()
	}
	return p.sum()
}

// Offset returns the byte offset of an error of Parse, and whether it has one.
func Offset(err error) (int, bool) {
	var e *Error
	if errors.As(err, &e) {
		return e.Off, true
	}
	return 0, false
}
