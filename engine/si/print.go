package si

import (
	"strconv"
	"strings"
)

// How numbers are printed: point as decimal sign, leading zero, the minus of the
// SI brochure (U+2212), one plain space before the unit. Prefixes go in steps of
// a thousand and stand on the first symbol of a unit only; °C, K, K/W, % and
// ratios take none, nor does a time above one second. Areas print in mm² or m².
// A number that would need a long row of noughts prints as 1.5×10⁻²⁰.

// printed is the largest number of significant digits that String gives.
const printed = 10

const minus = "−"

// String prints up to ten significant digits, no more than needed, with an
// engineering prefix: "20 mΩ", "1.2 mH", "35 °C", "0.6" for a ratio.
func (q Quantity) String() string {
	if !q.Finite() {
		return "undefined"
	}
	x := decimalOf(q.Value)
	x.round(printed)
	u := q.Dim.Unit()
	return write(x, u.engineering(x, printed), 0)
}

// Figures prints n significant figures with the engineering prefix for which
// the number lies from 1 to 999; with n below 3 the next prefix is taken where
// the last digit before the point would not be significant. A half is rounded
// away from zero, in decimal: 9.996 Ω at three figures is "10.0 Ω".
func (q Quantity) Figures(n int) string {
	if !q.Finite() {
		return "undefined"
	}
	n = min(max(n, 1), carried)
	x := decimalOf(q.Value)
	x.round(n)
	u := q.Dim.Unit()
	return write(x, u.engineering(x, n), n)
}

// FiguresIn prints n significant figures in the unit u: "0.120 W", "60 %". With
// a unit of another dimension it prints as Figures does.
func (q Quantity) FiguresIn(u Unit, n int) string {
	if q.Dim != u.Dim || !q.Finite() {
		return q.Figures(n)
	}
	n = min(max(n, 1), carried)
	x := decimalOf(q.Value)
	x.round(n)
	return write(x, u, n)
}

// StringIn prints like String, in the unit u: "0.033 Ω", "4700 Ω". With a unit of
// another dimension it prints as String does.
func (q Quantity) StringIn(u Unit) string {
	if q.Dim != u.Dim || !q.Finite() {
		return q.String()
	}
	x := decimalOf(q.Value)
	x.round(printed)
	return write(x, u, 0)
}

// Plain prints like String but without a prefix from 0.001 up to 100000: "0.02 Ω".
func (q Quantity) Plain() string {
	if !q.Finite() {
		return "undefined"
	}
	x := decimalOf(q.Value)
	x.round(printed)
	u := q.Dim.Unit()
	if x.exp < -3 || x.exp > 4 {
		u = u.engineering(x, printed)
	}
	return write(x, u, 0)
}

// engineering is the unit with the prefix that suits a value in the unprefixed unit.
func (u Unit) engineering(x decimal, figs int) Unit {
	switch {
	case x.n == 0:
		return u
	case u.Dim == Area:
		if x.exp < -2 && x.exp >= -12 {
			return squareMillimetre
		}
		return u
	case !u.scaled || x.exp < -15 || x.exp > 17:
		return u
	}
	p := x.exp / 3
	if x.exp < 0 && x.exp%3 != 0 {
		p--
	}
	if x.exp-3*p+1 > figs {
		p++
	}
	top := 4
	if u.Dim == Time {
		top = 0
	}
	p = 3 * min(max(p, -4), top)
	u.exp, u.pre, u.Symbol = p, p, prefixSymbol(p)+u.stem
	return u
}

var squareMillimetre = MustUnit("mm2")

// write prints x, which is in the unprefixed unit, in the unit u with at least figs digits.
func write(x decimal, u Unit, figs int) string {
	var buf [64]byte
	b := buf[:0]
	if x.neg {
		b = append(b, minus...)
	}
	e := x.exp - u.exp
	if x.n > 0 && (e < -7 || e > 15) {
		y := x
		y.exp = 0
		b = y.append(b, 0, figs)
		b = append(b, "×10"...)
		if e == 1 {
			b = append(b, "¹"...)
		}
		b = append(b, superscript(e)...)
	} else {
		b = x.append(b, -u.exp, figs)
	}
	if u.Symbol != "" {
		b = append(b, ' ')
		b = append(b, strings.TrimPrefix(u.Symbol, "1")...) // 1/K prints as 0.004 /K
	}
	return string(b)
}

// JSONQuantity is a quantity in the program's JSON: the value in the unprefixed
// unit with at most ten significant digits, and the text as printed.
type JSONQuantity struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Text  string  `json:"text"`
}

// JSON is the form of q for JSON. A value that is not finite must be left out by
// the caller, since JSON has no number for it.
func (q Quantity) JSON() JSONQuantity {
	return JSONQuantity{Round(q.Value, printed), q.Dim.Unit().Symbol, q.String()}
}

// quote marks what was typed in a message.
func quote(s string) string { return strconv.Quote(s) }
