package si

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Unit is a unit in which a quantity is asked or printed: mΩ, K/W, %, V/µs. Two
// units of the same Symbol and Dim are the same. The zero Unit is that of a ratio.
type Unit struct {
	Symbol string // canonical: "mΩ", "K/W", "mm²", "" for a ratio
	Dim    Dim
	exp    int    // decimal exponent of the scale: mΩ −3, % −2, mm² −6
	pre    int    // the part of exp from the prefix of the first symbol
	stem   string // Symbol without that prefix
	scaled bool   // the first symbol may take another prefix
}

// UnitOf reads a unit: "mΩ", "mohm", "K/W", "°C/W", "%", "V/us", "mm2", "mV/K",
// "%/K". "1" and "" are the unit of a ratio, "C" is the degree Celsius and "K" the
// kelvin of a temperature difference; the coulomb alone is written "coulomb".
func UnitOf(text string) (Unit, error) {
	t := strings.TrimSpace(text)
	if t == "" || t == "1" {
		return Unit{}, nil
	}
	s := unitScanner{s: text, lone: true}
	if len(text) > maxText {
		return Unit{}, fmt.Errorf("a unit of %d characters is too long", len(text))
	}
	end, err := s.scan(skipSpace(text, 0))
	if err != nil {
		return Unit{}, err
	}
	if end = skipSpace(text, end); s.n == 0 || end != len(text) {
		return Unit{}, fmt.Errorf("%q is not a unit this program knows; write it as in mΩ, V, K/W or mm²", text)
	}
	d, err := s.dim()
	if err != nil {
		return Unit{}, err
	}
	return s.unit(d), nil
}

// MustUnit is UnitOf for units written in the code; it panics on a unit it cannot read.
func MustUnit(text string) Unit {
	u, err := UnitOf(text)
	if err != nil {
		panic("si: " + err.Error())
	}
	return u
}

// Unit is the unprefixed unit of a dimension: Ω, V, °C for points, "" for
// ratios, K/W; a dimension without a usual unit is given in base units.
func (d Dim) Unit() Unit {
	if u, ok := coherent[d]; ok {
		return u
	}
	var s []string
	for _, f := range []struct {
		unit string
		exp  int8
	}{{"kg", d.Kg}, {"m", d.M}, {"s", d.S}, {"A", d.A}, {"K", d.K}} {
		if f.exp != 0 {
			s = append(s, f.unit+superscript(int(f.exp)))
		}
	}
	sym := strings.Join(s, "·")
	return Unit{Symbol: sym, Dim: d, stem: sym}
}

// In is the value of q in the unit u, exact in decimal: 0.07 Ω is 70 in mΩ. It is
// NaN when u has another dimension.
func (q Quantity) In(u Unit) float64 {
	switch {
	case q.Dim != u.Dim:
		return math.NaN()
	case u.exp == 0 || q.Value == 0 || !q.Finite():
		return q.Value
	}
	return shift(q.Value, -u.exp)
}

// shift is v × 10^n, rounded once.
func shift(v float64, n int) float64 {
	var buf [40]byte
	b := strconv.AppendFloat(buf[:0], v, 'e', -1, 64)
	for i := range b {
		if b[i] == 'e' {
			e, _ := strconv.Atoi(string(b[i+1:]))
			b = strconv.AppendInt(b[:i+1], int64(e+n), 10)
			break
		}
	}
	r, _ := strconv.ParseFloat(string(b), 64)
	return r
}

// superscript writes a power; the first power is not written.
func superscript(n int) string {
	if n == 1 {
		return ""
	}
	var b strings.Builder
	for _, c := range strconv.Itoa(n) {
		if c == '-' {
			b.WriteRune('⁻')
		} else {
			b.WriteRune([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹")[c-'0'])
		}
	}
	return b.String()
}

// superDigit gives the digit of a superscript rune.
func superDigit(r rune) (byte, bool) {
	switch r {
	case '⁰':
		return '0', true
	case '¹':
		return '1', true
	case '²':
		return '2', true
	case '³':
		return '3', true
	}
	if r >= '⁴' && r <= '⁹' {
		return '4' + byte(r-'⁴'), true
	}
	return 0, false
}

// skipSpace steps over every kind of space: plain, no-break, thin, figure space.
func skipSpace(s string, i int) int {
	for i < len(s) {
		if c := s[i]; c < utf8.RuneSelf {
			if c != ' ' && c != '\t' && c != '\n' && c != '\r' {
				return i
			}
			i++
			continue
		}
		r, w := utf8.DecodeRuneInString(s[i:])
		if r != '\u00a0' && r != '\u202f' && (r < '\u2000' || r > '\u200b') && r != '\u2060' && r != '\ufeff' {
			return i
		}
		i += w
	}
	return i
}
