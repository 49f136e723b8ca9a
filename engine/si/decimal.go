package si

import "strconv"

// carried is the number of significant decimal digits taken from a float before
// anything is rounded further. A decimal of up to 15 digits survives the way
// through float64 unchanged, so a half that was typed is still a half here,
// although the float beside it may lie a little lower.
const carried = 15

// decimal is a number as decimal digits: d[0].d[1]d[2]… × 10^exp. Zero has no digits.
type decimal struct {
	neg bool
	d   [24]byte
	n   int
	exp int
}

// decimalOf takes the first 15 significant digits of a finite v, without trailing zeros.
func decimalOf(v float64) decimal {
	var x decimal
	var buf [32]byte
	s := strconv.AppendFloat(buf[:0], v, 'e', carried-1, 64)
	if s[0] == '-' {
		x.neg, s = true, s[1:]
	}
	i := 0
	for ; s[i] != 'e'; i++ {
		if s[i] != '.' {
			x.d[x.n] = s[i]
			x.n++
		}
	}
	neg := s[i+1] == '-'
	for _, c := range s[i+2:] {
		x.exp = x.exp*10 + int(c-'0')
	}
	if neg {
		x.exp = -x.exp
	}
	x.trim()
	return x
}

// trim drops trailing zeros.
func (x *decimal) trim() {
	for x.n > 0 && x.d[x.n-1] == '0' {
		x.n--
	}
	if x.n == 0 {
		x.neg, x.exp = false, 0
	}
}

// round keeps n significant digits, a half going away from zero, and drops
// trailing zeros. A carry moves the exponent: 9.996 at three digits is 1 × 10¹.
func (x *decimal) round(n int) {
	if n < 1 {
		n = 1
	}
	if x.n <= n {
		return
	}
	up := x.d[n] >= '5'
	x.n = n
	if up {
		i := n - 1
		for ; i >= 0 && x.d[i] == '9'; i-- {
		}
		if i < 0 {
			x.d[0], x.n = '1', 1
			x.exp++
			return
		}
		x.d[i]++
		x.n = i + 1
	}
	x.trim()
}

// float is the nearest float64 to the decimal × 10^shift.
func (x *decimal) float(shift int) float64 {
	if x.n == 0 {
		return 0
	}
	var buf [48]byte
	b := buf[:0]
	if x.neg {
		b = append(b, '-')
	}
	b = append(b, x.d[:x.n]...)
	b = append(b, 'e')
	b = strconv.AppendInt(b, int64(x.exp-(x.n-1)+shift), 10)
	v, _ := strconv.ParseFloat(string(b), 64) // out of range gives ±Inf, which Finite finds
	return v
}

// append writes the decimal × 10^shift in plain notation with at least figs
// significant digits; the sign is the caller's.
func (x *decimal) append(b []byte, shift, figs int) []byte {
	n := max(x.n, figs)
	digit := func(i int) byte {
		if i < x.n {
			return x.d[i]
		}
		return '0'
	}
	e := x.exp + shift
	if x.n == 0 {
		return append(b, '0')
	}
	if e < 0 {
		b = append(b, '0', '.')
		for i := e + 1; i < 0; i++ {
			b = append(b, '0')
		}
		for i := range n {
			b = append(b, digit(i))
		}
		return b
	}
	for i := 0; i <= e; i++ {
		b = append(b, digit(i))
	}
	if n > e+1 {
		b = append(b, '.')
		for i := e + 1; i < n; i++ {
			b = append(b, digit(i))
		}
	}
	return b
}

// Round gives v to n significant decimal digits, a half going away from zero as
// it is written in decimal: 3.175 to three digits is 3.18, although the float
// lies below. At most 15 digits are kept; a NaN or an infinity is returned as it is.
func Round(v float64, n int) float64 {
	if !(Quantity{Value: v}).Finite() {
		return v
	}
	x := decimalOf(v)
	x.round(n)
	return x.float(0)
}
