package si

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// The limits of what is read. They keep a reader's work small and a typing
// accident from becoming a number.
const (
	maxText     = 200 // characters of the whole text; a unit's bytes
	maxNumber   = 64  // characters of one number
	maxBrackets = 20  // nested brackets
	maxExponent = 30  // written powers of ten
)

// number is a number as typed: digits without marks, and a power of ten.
type number struct {
	buf     [maxNumber]byte
	n       int  // digits kept, leading zeros dropped
	exp     int  // the power of ten of the last digit
	figs    int  // significant figures typed
	integer bool // digits only: no mark, no exponent
	ten     bool // has a × 10^n
	end     int
}

// float is the nearest float64 to the number × 10^shift.
func (x *number) float(shift int, neg bool) float64 {
	if x.n == 0 {
		return 0
	}
	var buf [maxNumber + 16]byte
	b := buf[:0]
	if neg {
		b = append(b, '-')
	}
	b = append(b, x.buf[:x.n]...)
	b = append(b, 'e')
	b = strconv.AppendInt(b, int64(x.exp+shift), 10)
	v, _ := strconv.ParseFloat(string(b), 64) // out of range gives ±Inf, which the caller refuses
	return v
}

func isDigit(s string, i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }

// digits counts the digits at i.
func digits(s string, i int) int {
	n := 0
	for isDigit(s, i+n) {
		n++
	}
	return n
}

// startsNumber tells whether a number begins at i: a digit, or a mark before one.
func startsNumber(s string, i int) bool {
	return isDigit(s, i) || i < len(s) && (s[i] == '.' || s[i] == ',') && isDigit(s, i+1)
}

// number reads digits, marks, digit groups and a power of ten. splitTen leaves
// a × 10^n to the sum around it.
func (p *reader) number(x *number) error {
	start, i := p.pos, p.pos
	var marks [maxNumber]struct {
		c  byte
		at int // digits before it
	}
	nm, total, spaced, last := 0, 0, false, -1
	for i < len(p.s) {
		c := p.s[i]
		switch {
		case c >= '0' && c <= '9':
			if total < maxNumber {
				x.buf[total] = c
			}
			total++
			i++
		case (c == '.' || c == ',') && (isDigit(p.s, i+1) || c == '.' && last != i-1 && i > start && !strings.HasPrefix(p.s[i+1:], ".")):
			if nm < len(marks) {
				marks[nm].c, marks[nm].at = c, total
			}
			nm, last = nm+1, i
			i++
		default:
			// a space between digits parts groups of three
			j := skipSpace(p.s, i)
			if j == i || digits(p.s, j) != 3 || !p.groupable(start, i) {
				goto counted
			}
			spaced = true
			i = j
		}
		if i-start > maxNumber {
			return p.fail(TooLong, start, "the number has more than 64 characters; write it with a power of ten, as in 1.5e-3")
		}
	}
counted:
	x.end = i
	frac, err := p.marks(x, start, total, spaced, marks[:nm])
	if err != nil {
		return err
	}
	x.integer = nm == 0 && !spaced
	z := 0
	for z < total && x.buf[z] == '0' {
		z++
	}
	x.n, x.figs = copy(x.buf[:], x.buf[z:total]), max(total-z, 1)
	x.exp = -frac
	return p.exponent(x)
}

// groupable tells whether the digits that end at i may be followed by a group of
// three: they are one to three after the start, or three after another space or a mark.
func (p *reader) groupable(start, i int) bool {
	k := i
	for k > start && isDigit(p.s, k-1) {
		k--
	}
	return i-k == 3 || i-k > 0 && i-k < 3 && k == start
}

// marks settles which mark is the decimal one and returns the digits behind it.
func (p *reader) marks(x *number, start, total int, spaced bool, m []struct {
	c  byte
	at int
}) (int, error) {
	bad := func() (int, error) {
		return 0, p.fail(Unreadable, start, "the marks in "+quote(p.s[start:x.end])+" do not make one number; write it with one decimal point, as in 1234.5")
	}
	if len(m) == 0 {
		return 0, nil
	}
	end := m[len(m)-1]
	frac := total - end.at
	// grouped tells whether the marks given part groups of three and end three digits before n.
	grouped := func(g []struct {
		c  byte
		at int
	}, n int) bool {
		if spaced || g[0].at < 1 || g[0].at > 3 || x.buf[0] == '0' {
			return false
		}
		for i, k := range g {
			next := n
			if i+1 < len(g) {
				next = g[i+1].at
			}
			if k.c != g[0].c || next-k.at != 3 {
				return false
			}
		}
		return true
	}
	switch {
	case len(m) == 1 && end.c == '.':
		return frac, nil
	case len(m) == 1:
		if grouped(m, total) {
			p.seen |= readThousands
			if p.mode&readThousands != 0 {
				return 0, nil
			}
		}
		return frac, nil
	case end.c == m[0].c:
		if !grouped(m, total) {
			return bad()
		}
		return 0, nil
	default:
		if !grouped(m[:len(m)-1], end.at) {
			return bad()
		}
		return frac, nil
	}
}

// exponent reads e-3, x 10^-3, ×10⁻³ behind the digits.
func (p *reader) exponent(x *number) error {
	i := x.end
	if i < len(p.s) && (p.s[i] == 'e' || p.s[i] == 'E') {
		j, neg := sign(p.s, i+1)
		if !isDigit(p.s, j) {
			return nil
		}
		return p.power10(x, j, neg)
	}
	i = skipSpace(p.s, i)
	r, w := utf8.DecodeRuneInString(p.s[i:])
	if !isTimes(r) && r != 'x' && r != 'X' {
		return nil
	}
	i = skipSpace(p.s, i+w)
	if !strings.HasPrefix(p.s[i:], "10") {
		return nil
	}
	i += 2
	super, w := utf8.DecodeRuneInString(p.s[i:])
	_, ok := superDigit(super)
	caret := super == '^'
	if !caret && !ok && super != '⁻' {
		return nil
	}
	if p.afterSlash {
		p.seen |= readSplitTen
		if p.mode&readSplitTen != 0 {
			return nil
		}
	}
	x.ten = true
	if !caret {
		return p.super10(x, i)
	}
	j, neg := sign(p.s, i+w)
	if !isDigit(p.s, j) {
		return p.fail(Unreadable, i, "a power of ten needs a whole number, as in 10^-3")
	}
	return p.power10(x, j, neg)
}

func (p *reader) power10(x *number, i int, neg bool) error {
	n := digits(p.s, i)
	e, err := strconv.Atoi(p.s[i : i+n])
	if err != nil || e > maxExponent {
		return p.fail(Unreadable, i, "a power of ten beyond 30 is no value of this trade; check the exponent")
	}
	if neg {
		e = -e
	}
	x.exp += e
	x.end, x.integer = i+n, false
	return nil
}

func (p *reader) super10(x *number, i int) error {
	e, end, ok := superInt(p.s, i)
	if !ok || e > maxExponent || e < -maxExponent {
		return p.fail(Unreadable, i, "a power of ten beyond 30 is no value of this trade; check the exponent")
	}
	x.exp += e
	x.end, x.integer = end, false
	return nil
}

// superInt reads a whole number in superscripts.
func superInt(s string, i int) (v, end int, ok bool) {
	neg := false
	if r, w := utf8.DecodeRuneInString(s[i:]); r == '⁻' {
		neg, i = true, i+w
	}
	n := 0
	for n < 4 {
		r, w := utf8.DecodeRuneInString(s[i:])
		c, is := superDigit(r)
		if !is {
			break
		}
		v, i, n = v*10+int(c-'0'), i+w, n+1
	}
	if neg {
		v = -v
	}
	return v, i, n > 0 && n < 4
}

// sign reads an optional sign.
func sign(s string, i int) (end int, neg bool) {
	switch r, w := utf8.DecodeRuneInString(s[i:]); r {
	case '-', '−', '–':
		return i + w, true
	case '+':
		return i + w, false
	}
	return i, false
}

func isTimes(r rune) bool { return r == '*' || r == '×' || r == '·' || r == '⋅' || r == '∙' }
