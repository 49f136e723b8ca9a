package si

import (
	"strings"
	"unicode/utf8"
)

// value is what a part of the text comes to. num, exp and neg hold a number
// without a unit as it was typed, for the case that it is all there is.
type value struct {
	q   Quantity
	num number
	exp int // of a bare prefix
	neg bool
}

// tidy drops the last binary digits of a result, so that 3 × 0.1 is 0.3.
func tidy(q Quantity) Quantity { q.Value = Round(q.Value, carried); return q }

func (p *reader) sum(v *value) error {
	if err := p.term(v); err != nil {
		return err
	}
	for {
		p.space()
		at := p.pos
		r, w := utf8.DecodeRuneInString(p.s[at:])
		minus := r == '-' || r == '−' || r == '–'
		if r != '+' && !minus {
			return nil
		}
		p.pos += w
		p.ops++
		var b value
		if err := p.term(&b); err != nil {
			return err
		}
		q, err := v.q, error(nil)
		if minus {
			q, err = q.Sub(b.q)
		} else {
			q, err = q.Add(b.q)
		}
		if err != nil {
			return p.fail(WrongDimension, at, err.Error())
		}
		v.q = tidy(q)
	}
}

func (p *reader) term(v *value) error {
	if err := p.factor(v); err != nil {
		return err
	}
	for {
		p.space()
		at := p.pos
		r, w := utf8.DecodeRuneInString(p.s[at:])
		div := r == '/' || r == '÷' || r == ':'
		if !isTimes(r) && !div && r != 'x' && r != 'X' {
			return nil
		}
		if r == 'x' || r == 'X' {
			if tokenEnd(p.s, at) != at+1 {
				return nil
			}
		}
		p.pos += w
		p.ops++
		p.afterSlash = div
		var b value
		if err := p.factor(&b); err != nil {
			return err
		}
		p.afterSlash = false
		q, err := v.q, error(nil)
		if div {
			q, err = q.Div(b.q)
		} else {
			q, err = q.Mul(b.q)
		}
		if err != nil {
			return p.fail(kindOf(v.q.Dim, b.q.Dim), at, err.Error())
		}
		v.q = tidy(q)
	}
}

// kindOf tells a clash of temperatures from a result that is no number.
func kindOf(d, e Dim) Kind {
	if d.Point || e.Point {
		return WrongDimension
	}
	return Unreadable
}

func (p *reader) factor(v *value) error {
	p.space()
	if j, neg := sign(p.s, p.pos); j > p.pos {
		if p.depth++; p.depth > maxBrackets {
			return p.fail(Unreadable, p.pos, "there are more than 20 signs and brackets inside one another; write it more simply")
		}
		p.pos = j
		err := p.factor(v)
		p.depth--
		if neg {
			v.q.Value, v.neg = -v.q.Value, !v.neg
		}
		return err
	}
	if err := p.primary(v); err != nil {
		return err
	}
	p.space()
	n, end, ok, err := p.wholePower()
	if err != nil || !ok {
		return err
	}
	if v.num.ten {
		return p.fail(Unreadable, p.pos, "a power of a number with × 10^n can be read in two ways; put the number in brackets")
	}
	return p.raise(v, n, end)
}

func (p *reader) raise(v *value, n, end int) error {
	at := p.pos
	p.pos = end
	p.ops++
	q, err := v.q.Pow(n)
	if err != nil {
		return p.fail(kindOf(v.q.Dim, One), at, err.Error())
	}
	v.q = tidy(q)
	p.space()
	if _, _, again, _ := p.wholePower(); again {
		return p.fail(Unreadable, p.pos, "a power of a power can be read in two ways; use brackets")
	}
	return p.unitBehind(v)
}

// wholePower reads ^2, ^-1, **2 or superscripts.
func (p *reader) wholePower() (n, end int, ok bool, err error) {
	i := p.pos
	switch {
	case strings.HasPrefix(p.s[i:], "^"):
		i++
	case strings.HasPrefix(p.s[i:], "**"):
		i += 2
	default:
		n, end, ok = superInt(p.s, i)
		return n, end, ok, nil
	}
	j, neg := sign(p.s, skipSpace(p.s, i))
	d := digits(p.s, j)
	if d == 0 || d > 2 || j+d < len(p.s) && (p.s[j+d] == '.' || p.s[j+d] == ',') && isDigit(p.s, j+d+1) {
		return 0, 0, false, p.fail(Unreadable, i, "a power must be a small whole number, as in 2^2")
	}
	for _, c := range p.s[j : j+d] {
		n = n*10 + int(c-'0')
	}
	if neg {
		n = -n
	}
	return n, j + d, true, nil
}

func (p *reader) primary(v *value) error {
	p.space()
	i := p.pos
	switch {
	case strings.HasPrefix(p.s[i:], "("):
		return p.bracket(v)
	case startsNumber(p.s, i):
		return p.quantity(v)
	case i < len(p.s) && p.s[i] == 'R' && isDigit(p.s, i+1):
		return p.code(v)
	}
	return p.noNumber(i)
}

func (p *reader) bracket(v *value) error {
	at := p.pos
	if p.depth++; p.depth > maxBrackets {
		return p.fail(Unreadable, at, "there are more than 20 brackets inside one another; write it more simply")
	}
	p.pos++
	p.ops++
	p.afterSlash = false
	if err := p.sum(v); err != nil {
		return err
	}
	p.space()
	if !strings.HasPrefix(p.s[p.pos:], ")") {
		if p.pos < len(p.s) {
			return p.rest()
		}
		return p.fail(Unreadable, at, "a bracket is opened and not closed")
	}
	p.pos++
	p.depth--
	v.num.ten = false
	return p.unitBehind(v)
}

// unitBehind reads a unit behind a bracket or a power: (2 + 3) V, 2^2 V.
func (p *reader) unitBehind(v *value) error {
	u := unitScanner{s: p.s, coulomb: p.mode&readCoulomb != 0}
	p.space()
	end, err := u.scan(p.pos)
	if err != nil {
		return p.fail(UnknownUnit, p.pos, err.Error())
	}
	if u.n == 0 || u.f[0].div {
		return nil
	}
	d, err := u.dim()
	if err != nil || v.q.Dim != One {
		return p.fail(UnknownUnit, p.pos, "there is a unit already; leave out the one behind it")
	}
	if u.cSeen {
		p.seen |= readCoulomb
	}
	p.pos = end
	p.take(&u)
	v.q = tidy(Of(shift(v.q.Value, u.exp()), d))
	return nil
}

// noNumber says what stands where a number should.
func (p *reader) noNumber(i int) error {
	if i >= len(p.s) {
		return p.fail(Unreadable, i, "a number is missing at the end")
	}
	t := strings.ToLower(p.s[i:tokenEnd(p.s, i)])
	if strings.HasPrefix(t, "nan") || strings.HasPrefix(t, "inf") || strings.HasPrefix(p.s[i:], "∞") {
		return p.fail(Unreadable, i, quote(p.s[i:])+" is not a number that can be marked; give a finite value")
	}
	return p.fail(Unreadable, i, "a number is expected at "+quote(p.s[i:])+"; give a number and its unit, as in 20 mΩ")
}

// quantity reads a number with what belongs to it.
func (p *reader) quantity(v *value) error {
	if s := p.s[p.pos:]; len(s) > 2 && s[0] == '0' && (s[1] == 'x' || s[1] == 'X') && isHex(s[2]) {
		return p.fail(Unreadable, p.pos, "hexadecimal numbers are not read here; write the value in decimal")
	}
	start := p.pos
	if err := p.number(&v.num); err != nil {
		return err
	}
	p.pos = v.num.end
	if v.num.integer {
		if r, w := utf8.DecodeRuneInString(p.s[p.pos:]); codeLetter(r) && isDigit(p.s, p.pos+w) {
			if r != 'm' || p.asked.Dim != Area && p.asked.Dim != Length {
				p.pos = start
				return p.code(v)
			}
		}
	}
	v.q = Of(v.num.float(0, false), One)
	return p.unit(v)
}

func isHex(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}

// unit reads the unit behind a number, or a prefix alone.
func (p *reader) unit(v *value) error {
	numEnd := p.pos
	at := skipSpace(p.s, p.pos)
	t := p.s[at:tokenEnd(p.s, at)]
	if t == "" && (at >= len(p.s) || p.s[at] != '/' && p.s[at] != '1') {
		return nil
	}
	u := unitScanner{s: p.s, coulomb: p.mode&readCoulomb != 0}
	end, err := u.scan(at)
	if err != nil {
		return p.fail(UnknownUnit, at, err.Error())
	}
	alone := u.n == 0 || u.n == 1 && end == at+len(t)
	if sym, exp, ok := barePrefix(t); ok && alone && p.takesPrefix(t) {
		if p.codeEnd(v, t, at == numEnd) {
			return p.codeUnit(v, t, at+len(t))
		}
		p.pos = at + len(t)
		p.kilo = p.kilo || t == "K"
		p.bare(v, sym, exp)
		return nil
	}
	if u.n == 0 {
		return nil
	}
	d, err := u.dim()
	if err != nil {
		return p.fail(UnknownUnit, at, err.Error())
	}
	if u.cSeen {
		p.seen |= readCoulomb
	}
	exp := u.exp()
	if u.n == 1 && u.powAt > 0 && u.f[0].base != "m" && u.f[0].pow > 0 && !u.f[0].div {
		// 2 A^2: the unit squared, or the whole
		p.seen |= readPower
		if p.mode&readPower != 0 {
			pow, _ := unitPower(p.s, u.powAt)
			u.f[0].pow = 1
			d, exp = u.f[0].dim, u.f[0].exp
			p.take(&u)
			v.q = Of(v.num.float(exp, false), d)
			return p.raise(v, pow, end)
		}
	}
	p.pos = end
	p.take(&u)
	v.q = Of(v.num.float(exp, false), d)
	return nil
}

// take notes what unit was typed.
func (p *reader) take(u *unitScanner) {
	if !p.units && u.n > 0 {
		p.prefix = u.f[0].prefix
	}
	p.units = true
	for _, f := range u.f[:u.n] {
		p.kilo = p.kilo || f.kilo
	}
}

func (p *reader) bare(v *value, sym string, exp int) {
	if !p.prefixed && !p.units {
		p.prefix = sym
	}
	p.prefixed = true
	v.exp = exp
	v.q = Of(v.num.float(exp, false), One)
}

// takesPrefix tells whether a lone letter is a prefix in this mode.
func (p *reader) takesPrefix(t string) bool {
	switch t {
	case "m":
		if p.asked.Dim == Length {
			return false
		}
		p.seen |= readMetre
		return p.mode&readMetre == 0
	case "K":
		if d := p.asked.Dim; d != Resistance && d != Frequency {
			return false
		}
		p.seen |= readKilo
		return p.mode&readKilo != 0
	}
	return true
}
