package math

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// parser reads TeX into nodes. The first mistake is kept and ends the source,
// so that every loop comes to its end by itself.
type parser struct {
	s     string
	i     int
	err   *Error
	depth int
	// named is set inside a braced subscript, where letters together are one name.
	named bool
	sub   bool
	// bars counts open plain | in the present row.
	bars int
}

func parse(tex string) ([]node, error) {
	p := &parser{s: tex}
	if len(tex) > MaxLength {
		p.failAt(MaxLength, "longer than %d bytes; split it", MaxLength)
	}
	for i, r := range tex {
		if r < ' ' && r != '\n' && r != '\t' && r != '\r' || r == utf8.RuneError || r == 0xFFFE || r == 0xFFFF {
			p.failAt(i, "character %U is not allowed; delete it", r)
			break
		}
	}
	nodes := p.row("")
	if p.err == nil && p.i < len(p.s) {
		p.fail("%s has nothing to belong to; delete it, or write its partner", quoted(p.s[p.i:]))
	}
	if p.err != nil {
		return nil, p.err
	}
	return nodes, nil
}

func (p *parser) fail(format string, args ...any) { p.failAt(p.i, format, args...) }

func (p *parser) failAt(off int, format string, args ...any) {
	if p.err == nil {
		p.err = &Error{off, fmt.Sprintf(format, args...)}
	}
	p.i = len(p.s)
}

// quoted is the first sign or command of s, for messages.
func quoted(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	if s[0] == '\\' && len(s) > 1 {
		if n = 1 + letterRun(s[1:]); n == 1 {
			_, m := utf8.DecodeRuneInString(s[1:])
			n += m
		}
	}
	return fmt.Sprintf("'%s'", s[:n])
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

func letterRun(s string) int {
	n := 0
	for n < len(s) && isLetter(s[n]) {
		n++
	}
	return n
}

func (p *parser) skipSpace() {
	for p.i < len(p.s) && (p.s[p.i] == ' ' || p.s[p.i] == '\n' || p.s[p.i] == '\t' || p.s[p.i] == '\r') {
		p.i++
	}
}

// at reports whether the source goes on with c.
func (p *parser) at(c byte) bool { return p.i < len(p.s) && p.s[p.i] == c }

// atCommand reports whether the source goes on with the command \name.
func (p *parser) atCommand(name string) bool {
	rest := p.s[p.i:]
	return len(rest) > len(name) && rest[0] == '\\' && rest[1:1+len(name)] == name &&
		letterRun(rest[1:]) == len(name)
}

// row reads up to what can end one: the end, } & \\ \right \end, or the given sign.
func (p *parser) row(end string) []node {
	if p.depth++; p.depth > MaxDepth {
		p.fail("nested more than %d deep; split the formula", MaxDepth)
	}
	bars := p.bars
	p.bars = 0
	defer func() { p.depth--; p.bars = bars }()
	var nodes []node
	var before node
	for {
		p.skipSpace()
		if p.i >= len(p.s) || p.at('}') || p.at('&') || end != "" && strings.HasPrefix(p.s[p.i:], end) ||
			strings.HasPrefix(p.s[p.i:], `\\`) || p.atCommand("right") || p.atCommand("end") {
			return nodes
		}
		n := p.scripts(p.atom(before))
		nodes = append(nodes, n)
		if _, isSpace := n.(space); !isSpace {
			before = n
		}
	}
}

func (p *parser) scripts(base node) node {
	s := script{base: base}
	for {
		p.skipSpace()
		switch {
		case p.at('_') && s.sub == nil:
			was := p.sub
			p.sub = true
			s.sub = p.scriptArg()
			p.sub = was
		case p.at('^') && s.sup == nil:
			was := p.sub
			p.sub = false
			s.sup = p.scriptArg()
			p.sub = was
		case p.at('_') || p.at('^'):
			p.fail("a second '%c' on one value; put the first into braces", p.s[p.i])
		case p.at('\''):
			p.i++
			s.primes++
		case s.sub == nil && s.sup == nil && s.primes == 0:
			return base
		default:
			return s
		}
	}
}

// scriptArg reads what stands behind _ or ^. Of T_JA or x^12 TeX would take one
// sign only, which nobody means.
func (p *parser) scriptArg() node {
	p.i++
	p.skipSpace()
	start := p.i
	n := p.arg()
	if p.err != nil {
		return n
	}
	first, isLast := p.s[start], p.i == len(p.s)
	if !isLast && (isDigit(first) && isDigit(p.s[p.i]) || isLetter(first) && isLetter(p.s[p.i])) {
		p.failAt(start, "only '%c' would be raised or lowered; write {…} round all that belongs together, or a space", first)
	}
	return n
}

// arg reads {…} or one sign.
func (p *parser) arg() node {
	p.skipSpace()
	switch {
	case p.i >= len(p.s):
		p.fail("something is missing at the end; add {…}")
		return nil
	case p.at('{'):
		return p.braces()
	case p.at('}') || p.at('&'):
		p.fail("%s where a value is expected; add {…}", quoted(p.s[p.i:]))
		return nil
	case isDigit(p.s[p.i]):
		p.i++
		return digits(p.s[p.i-1 : p.i])
	}
	return p.atom(nil)
}

func (p *parser) braces() group {
	start, was := p.i, p.named
	p.i++
	p.named = p.sub
	nodes := p.row("}")
	p.named = was
	if !p.at('}') {
		p.failAt(start, "'{' is never closed; add '}'")
		return nil
	}
	p.i++
	return nodes
}

// raw reads {…} as it stands, for \text and its like; off is where the inside begins.
func (p *parser) raw() (inside string, off int) {
	p.skipSpace()
	if !p.at('{') {
		p.fail("'{' is expected here")
		return "", p.i
	}
	start, depth := p.i, 0
	for j := p.i; j < len(p.s); j++ {
		switch p.s[j] {
		case '\\':
			j++
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				p.i = j + 1
				return p.s[start+1 : j], start + 1
			}
		}
	}
	p.failAt(start, "'{' is never closed; add '}'")
	return "", start
}

// atom reads one value or sign; before is what stands in front of it.
func (p *parser) atom(before node) node {
	c := p.s[p.i]
	switch {
	case c == '{':
		return p.braces()
	case c == '\\':
		return p.command(before)
	case isDigit(c) || c == '.' && p.i+1 < len(p.s) && isDigit(p.s[p.i+1]):
		start := p.i
		for p.i < len(p.s) && (isDigit(p.s[p.i]) || p.at('.') && p.i+1 < len(p.s) && isDigit(p.s[p.i+1])) {
			p.i++
		}
		return digits(p.s[start:p.i])
	case isLetter(c):
		return p.letters()
	case c == '_' || c == '^' || c == '\'':
		return group(nil) // a script without a base
	}
	start := p.i
	r, n := utf8.DecodeRuneInString(p.s[p.i:])
	p.i += n
	switch {
	case c == '-':
		return joining("−", before)
	case c == '+' || r == '−' || r == '±':
		return joining(p.s[start:p.i], before)
	case c == '(' || c == '[':
		return sign{p.s[start:p.i], opening}
	case c == ')' || c == ']':
		return sign{p.s[start:p.i], closing}
	case c == '|':
		if p.bars++; p.bars%2 == 1 {
			return sign{"|", opening}
		}
		return sign{"|", closing}
	case c == '/':
		return sign{"/", tight}
	case c == ',' || c == ';':
		return sign{p.s[start:p.i], comma}
	case c == '~':
		return tieSpace
	case c == '%' || c == '$' || c == '#':
		p.failAt(start, "write \\%c for the sign itself", c)
		return nil
	case r == 'µ':
		return letter{"μ", true}
	case unicode.IsLetter(r) || r == '°':
		return letter{string(r), true}
	}
	return sign{s: string(r)}
}

// joining is + or −: between two values, or the sign of the one that follows.
func joining(s string, before node) sign {
	if isOperand(before) {
		return sign{s, infix}
	}
	return sign{s, prefix}
}

func (p *parser) letters() letter {
	n := 1
	if p.named {
		n = letterRun(p.s[p.i:])
	}
	s := p.s[p.i : p.i+n]
	p.i += n
	return letter{s, n > 1 || p.sub && s[0] <= 'Z'}
}
