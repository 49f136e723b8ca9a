package math

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// unitPart is a symbol with its power, or one of the signs / · ( ).
type unitPart struct {
	symbol, power, sign string
}

var unitSpellings = strings.NewReplacer(
	`\ohm`, "Ω", `\Omega`, "Ω", `\micro`, "μ", `\mu`, "μ", `\degree`, "°", `\%`, "%",
	`\cdot`, "·", "*", "·", "⋅", "·", " ", "",
	// One code point for each letter, whatever was typed; the mathematical font
	// has the Greek mu but not the micro sign.
	"µ", "μ", "\u2126", "Ω",
	"²", "^2", "³", "^3", "⁻", "^-", "¹", "1",
)

// readUnit reads the inside of \unit{…}: m\ohm, K/W, A^2, W/(m·K), °C, %.
// It returns a message if it cannot.
func readUnit(s string) (parts []unitPart, problem string) {
	s = unitSpellings.Replace(s)
	if s == "" {
		return nil, `an empty unit; write one, such as \unit{A}`
	}
	for s != "" {
		r, size := utf8.DecodeRuneInString(s)
		switch {
		case strings.ContainsRune("/·()", r):
			parts = append(parts, unitPart{sign: s[:size]})
			s = s[size:]
			continue
		case !unitLetter(r):
			return nil, "cannot read the unit at " + quoted(s) + `; write symbols, / · ( ) and powers, such as \unit{W/(m·K)}`
		}
		n := size
		for n < len(s) {
			if r, size = utf8.DecodeRuneInString(s[n:]); !unitLetter(r) {
				break
			}
			n += size
		}
		p := unitPart{symbol: s[:n]}
		if s = s[n:]; strings.HasPrefix(s, "^") {
			if p.power, s = readPower(s[1:]); p.power == "" {
				return nil, "the power of a unit is a whole number, such as " + p.symbol + "^2"
			}
		}
		parts = append(parts, p)
	}
	return parts, ""
}

func unitLetter(r rune) bool { return unicode.IsLetter(r) || r == '°' || r == '%' }

// readPower reads 2, -1 or {-1}; the power is "" if there is none.
func readPower(s string) (power, rest string) {
	s, braced := strings.CutPrefix(s, "{")
	n := 0
	if strings.HasPrefix(s, "-") {
		n++
	}
	m := n
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	if n == m {
		return "", s
	}
	power, s = s[:n], s[n:]
	if braced {
		after, ok := strings.CutPrefix(s, "}")
		if !ok {
			return "", s
		}
		s = after
	}
	return power, s
}

// spaceBefore reports whether a number keeps its distance: 25 °C, 60 %, but 30°.
func spaceBefore(unit []unitPart) bool { return len(unit) != 1 || unit[0].symbol != "°" }

// scientific is the number of \qty: digits, and the power of ten if it has one.
type scientific struct{ digits, exponent string }

// readNumber reads 4.7, -5, 1.5e-3, 2–4, ±0.1.
func readNumber(s string) (scientific, bool) {
	s = strings.TrimSpace(s)
	var n scientific
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		sgn, rest := "", s[i+1:]
		if strings.HasPrefix(rest, "-") {
			sgn = "-"
		}
		rest = strings.TrimLeft(rest, "+-")
		if rest == "" || strings.Trim(rest, "0123456789") != "" || len(s)-i-1-len(rest) > 1 {
			return n, false
		}
		n.exponent, s = sgn+rest, s[:i]
	}
	if !strings.ContainsAny(s, "0123456789") || strings.Trim(s, "0123456789.,+-−–±… \u00a0\u2009\u202f") != "" {
		return n, false
	}
	n.digits = strings.ReplaceAll(s, "-", "−")
	return n, true
}
