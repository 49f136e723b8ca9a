package si

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// How a unit is written:
//
//	unit   = [ "1" ] "/" factor | factor { ("·" | "*" | ".") factor } { ("/" | "per") factor }
//	factor = symbol [ power ]
//	symbol = [ prefix ] base | word | "deg" "C" | "°" "C" | "V" "DC"
//	power  = digit | "^" [ sign ] digit | superscripts
//
// A prefix may be parted from its unit by a space ("4.7 k ohm"). A product after
// a quotient ("V/A·s") is refused: people read it in two ways.

// factor is one symbol of a unit with its power; div is set behind a stroke.
type factor struct {
	atom
	pow int
	div bool
}

// unitScanner reads one unit out of a text.
type unitScanner struct {
	s       string
	coulomb bool // C is the coulomb, not the degree
	lone    bool // a lone m is the metre, K the kelvin: no bare prefixes
	f       [6]factor
	n       int
	cSeen   bool // a C was met, which has two readings
	tokenAt int  // where the last symbol began
	powAt   int  // where the power of the last symbol began, 0 if it has none
}

// scan reads the unit that begins at i and returns where it ends. Where no unit
// begins, n stays 0. A symbol that is no unit ends the scan in front of it.
func (u *unitScanner) scan(i int) (int, error) {
	end := i
	if strings.HasPrefix(u.s[i:], "1") {
		if j := skipSpace(u.s, i+1); j < len(u.s) && u.s[j] == '/' {
			i = j
		}
	}
	div := false
	if i < len(u.s) && u.s[i] == '/' {
		div = true
		i = skipSpace(u.s, i+1)
	}
	for {
		a, j, ok := u.symbol(i)
		if !ok {
			return end, nil
		}
		if u.n == len(u.f) {
			return end, fmt.Errorf("a unit of more than %d symbols is not read", len(u.f))
		}
		u.tokenAt = i
		pow, k := unitPower(u.s, j)
		u.powAt = 0
		if k > j {
			u.powAt = j
		}
		u.f[u.n] = factor{a, pow, div}
		u.n++
		end = k
		wasDiv := div
		j = skipSpace(u.s, end)
		switch r, w := utf8.DecodeRuneInString(u.s[j:]); {
		case r == '/':
			div, i = true, skipSpace(u.s, j+w)
		case r == '·' || r == '⋅' || r == '*' || r == '.':
			div, i = false, skipSpace(u.s, j+w)
			if wasDiv {
				if _, _, ok := u.symbol(i); ok {
					return end, fmt.Errorf("a product after a stroke in a unit can be read in two ways; write one stroke at the end")
				}
			}
		case strings.HasPrefix(u.s[j:], "per "):
			div, i = true, skipSpace(u.s, j+4)
		default:
			return end, nil
		}
	}
}

// symbol reads one unit symbol at i.
func (u *unitScanner) symbol(i int) (atom, int, bool) {
	j := tokenEnd(u.s, i)
	if j == i {
		return atom{}, i, false
	}
	t := u.s[i:j]
	switch strings.ToLower(t) {
	case "°", "º", "deg", "degs", "degree", "degrees":
		k := skipSpace(u.s, j)
		switch e := tokenEnd(u.s, k); strings.ToLower(u.s[k:e]) {
		case "c", "celsius":
			return celsius, e, true
		case "":
			return celsius, j, true
		}
		return atom{}, i, false
	case "per":
		if k := skipSpace(u.s, j); strings.HasPrefix(u.s[k:], "cent") {
			return symbols["%"], k + 4, true
		}
		return atom{}, i, false
	case "°c", "ºc":
		return celsius, j, true
	case "c":
		u.cSeen = true
		if !u.coulomb {
			return celsius, j, true
		}
	case "k":
		if t == "k" && u.n > 0 || t == "k" && u.strokeFollows(j) {
			return symbols["K"], j, true
		}
	}
	// "4.7 k ohm", "5 milli amps": the prefix stands apart.
	if _, _, ok := barePrefix(t); ok {
		if k := skipSpace(u.s, j); k > j {
			if e := tokenEnd(u.s, k); e > k {
				if a, ok := lookup(u.s[k:e]); ok && a.pre == 0 && a.scaled {
					if b, ok := lookup(t + u.s[k:e]); ok {
						return b, e, true
					}
				}
			}
		}
	}
	a, ok := lookup(t)
	if ok && a.base == "V" {
		// direct voltage: 12 V DC; VDC is in the table
		if k := skipSpace(u.s, j); k > j && strings.EqualFold(u.s[k:tokenEnd(u.s, k)], "DC") {
			j = k + 2
		}
	}
	return a, j, ok
}

func (u *unitScanner) strokeFollows(i int) bool {
	i = skipSpace(u.s, i)
	return i < len(u.s) && u.s[i] == '/' && tokenEnd(u.s, skipSpace(u.s, i+1)) > skipSpace(u.s, i+1)
}

// tokenEnd is the end of the run of letters and unit signs at i.
func tokenEnd(s string, i int) int {
	for i < len(s) {
		if c := s[i]; c < utf8.RuneSelf {
			if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' {
				i++
				continue
			}
			if c == '%' {
				i++
			}
			return i
		}
		switch r, w := utf8.DecodeRuneInString(s[i:]); r {
		case '\u2126', '\u03a9', '\u00b5', '\u03bc', '°', 'º', '\u2103':
			i += w
		default:
			return i
		}
	}
	return i
}

// unitPower reads the power behind a unit symbol; without one it is 1.
func unitPower(s string, i int) (pow, end int) {
	j, neg := i, false
	if j < len(s) && s[j] == '^' {
		j++
		if r, w := utf8.DecodeRuneInString(s[j:]); r == '-' || r == '−' {
			neg, j = true, j+w
		}
	} else if r, w := utf8.DecodeRuneInString(s[j:]); r == '⁻' {
		neg, j = true, j+w
	}
	if j < len(s) && s[j] >= '1' && s[j] <= '9' && (j+1 == len(s) || s[j+1] < '0' || s[j+1] > '9') {
		pow, end = int(s[j]-'0'), j+1
	} else if r, w := utf8.DecodeRuneInString(s[j:]); j < len(s) {
		if c, ok := superDigit(r); ok && c != '0' {
			pow, end = int(c-'0'), j+w
		}
	}
	if pow == 0 {
		return 1, i
	}
	if neg {
		pow = -pow
	}
	return pow, end
}

// dim is the dimension of the unit read. Within a compound a degree Celsius is a difference.
func (u *unitScanner) dim() (Dim, error) {
	if u.n == 1 && u.f[0].pow == 1 && !u.f[0].div {
		return u.f[0].dim, nil
	}
	d := One
	for _, f := range u.f[:u.n] {
		e, err := f.dim.difference().Pow(f.power())
		if err == nil {
			d, err = d.Mul(e)
		}
		if err != nil {
			return Dim{}, err
		}
	}
	return d, nil
}

func (f factor) power() int {
	if f.div {
		return -f.pow
	}
	return f.pow
}

// exp is the decimal exponent of the unit read.
func (u *unitScanner) exp() int {
	e := 0
	for _, f := range u.f[:u.n] {
		e += f.atom.exp * f.power()
	}
	return e
}

// unit composes the canonical unit of what was read.
func (u *unitScanner) unit(d Dim) Unit {
	var stem strings.Builder
	first := u.f[0]
	for i, f := range u.f[:u.n] {
		base := f.base
		if u.n > 1 || f.pow != 1 || f.div {
			if base == "°C" {
				base = "K"
			}
		}
		switch {
		case f.div && i == 0:
			stem.WriteString("1/")
		case f.div:
			stem.WriteByte('/')
		case i > 0:
			stem.WriteString("·")
		}
		if i > 0 || f.div || f.pow != 1 {
			stem.WriteString(f.prefix)
		}
		stem.WriteString(base + superscript(f.pow))
	}
	r := Unit{Dim: d, exp: u.exp(), stem: stem.String()}
	r.Symbol = r.stem
	if first.pow == 1 && !first.div {
		r.pre, r.scaled = first.pre, first.scaled
		r.Symbol = first.prefix + r.stem
	}
	return r
}
