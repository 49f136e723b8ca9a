package si

import (
	"strings"
	"unicode/utf8"
)

// The marking code of IEC 60062: a letter stands for the decimal point and
// gives the power of ten. R and V carry their unit, L is 10⁻³ Ω.

// codeLetter tells whether r may stand for the decimal point.
func codeLetter(r rune) bool {
	switch r {
	case 'R', 'r', 'L', 'k', 'K', 'M', 'G', 'T', 'm', 'u', '\u00b5', '\u03bc', 'n', 'p', 'V', 'v':
		return true
	}
	return false
}

// code reads 4k7, 4R7, R47.
func (p *reader) code(v *value) error {
	i := p.pos
	x := &v.num
	*x = number{}
	a := digits(p.s, i)
	r, w := utf8.DecodeRuneInString(p.s[i+a:])
	j := i + a + w
	b := digits(p.s, j)
	if a+b > maxNumber {
		return p.fail(TooLong, i, "the number has more than 64 characters; write it with a power of ten, as in 1.5e-3")
	}
	all := p.s[i:i+a] + p.s[j:j+b]
	for len(all) > 0 && all[0] == '0' {
		all = all[1:]
	}
	x.n, x.exp, x.figs, x.end = copy(x.buf[:], all), -b, max(len(all), 1), j+b
	p.pos = x.end
	switch r {
	case 'R', 'r':
		return p.coded(v, Resistance, 0, "")
	case 'V', 'v':
		return p.coded(v, Voltage, 0, "")
	case 'L':
		return p.coded(v, Resistance, -3, "m")
	}
	return p.codeUnit(v, p.s[i+a:j], x.end)
}

// codeEnd tells whether a prefix right behind whole digits makes a code, as in
// 100k and 10n. Milli does not: 20m has too many readings.
func (p *reader) codeEnd(v *value, t string, joined bool) bool {
	return joined && v.num.integer && t != "m" && len(t) <= 2 && t != "T"
}

// codeUnit gives a coded number its unit: the one typed behind it, or else, by
// mode, the one the code implies or none.
func (p *reader) codeUnit(v *value, letter string, end int) error {
	p.pos = end
	sym, exp, _ := barePrefix(letter)
	p.kilo = p.kilo || letter == "K"
	u := unitScanner{s: p.s, coulomb: true}
	at := skipSpace(p.s, end)
	stop, err := u.scan(at)
	if err != nil {
		return p.fail(UnknownUnit, at, err.Error())
	}
	if u.n > 0 && !u.f[0].div {
		if u.n > 1 || u.f[0].pow != 1 || u.f[0].pre != 0 || !u.f[0].scaled {
			return p.fail(UnknownUnit, at, quote(p.s[at:stop])+" cannot follow a number written with "+letter+" for the point; write it as in 4.7 kΩ")
		}
		p.pos = stop
		return p.coded(v, u.f[0].dim, exp, sym)
	}
	d := Resistance
	if exp < 0 {
		d = Capacitance
	}
	if letter != "m" {
		p.seen |= readCode
		if p.mode&readCode != 0 {
			return p.coded(v, d, exp, sym)
		}
	}
	p.bare(v, sym, exp)
	return nil
}

// coded ends a number whose unit is known.
func (p *reader) coded(v *value, d Dim, exp int, sym string) error {
	if !p.units {
		p.prefix = sym
	}
	p.units = true
	at := skipSpace(p.s, p.pos)
	u := unitScanner{s: p.s}
	if end, err := u.scan(at); err == nil && u.n == 1 && !u.f[0].div && u.f[0].pre == 0 && u.f[0].dim == d {
		p.pos = end // 4R7 Ω
	}
	v.q = Of(v.num.float(exp, false), d)
	return nil
}

// RKM writes a resistance or capacitance in the marking code of IEC 60062, where
// the letter stands for the decimal point: 4k7, 4R7, R47, 470R, 4n7. Kilo is the
// small k of the SI. What the code cannot write prints as String does.
func RKM(q Quantity) string {
	x := decimalOf(q.Value)
	letters, low, high := "", 0, 0
	switch q.Dim {
	case Resistance:
		letters, low, high = "R k M G", 0, 9
	case Capacitance:
		letters, low, high = "p n µ m F", -12, 0
	}
	if letters == "" || !q.Finite() || x.n == 0 || x.neg || x.exp >= high+3 || x.exp < low-3 {
		return q.String()
	}
	x.round(printed)
	p := low
	for p < high && x.exp >= p+3 {
		p += 3
	}
	b := string(x.append(nil, -p, 0))
	whole, part, _ := strings.Cut(b, ".")
	letter := strings.Fields(letters)[(p-low)/3]
	if whole == "0" && letter != "R" {
		return q.String()
	}
	if whole == "0" {
		whole = ""
	}
	if letter == "F" && part != "" {
		return q.String()
	}
	return whole + letter + part
}
