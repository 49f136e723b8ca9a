package formula

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Error says what is wrong with a formula, where, and what to write instead.
type Error struct {
	Off int // byte offset in the source
	Msg string
}

func (e *Error) Error() string { return fmt.Sprintf("formula: offset %d: %s", e.Off, e.Msg) }

func errorAt(off int, format string, args ...any) *Error {
	return &Error{Off: off, Msg: fmt.Sprintf(format, args...)}
}

type tokenKind uint8

const (
	tokenEnd    tokenKind = iota
	tokenNumber           // text: mantissa, extra: exponent
	tokenName
	tokenQuote
	tokenOperator // op
	tokenSuper    // text: digits, extra: "-" for a negative power
	tokenMark     // text: one of ( ) , | √
)

type token struct {
	kind        tokenKind
	off         int
	text, extra string
	op          operator
}

// spelled is the token as the writer of the source sees it, for messages.
func (t token) spelled(src string) string {
	if t.kind == tokenEnd {
		return "the end"
	}
	rest := src[t.off:]
	n := len(t.text)
	if t.kind != tokenName {
		_, n = utf8.DecodeRuneInString(rest)
	}
	return fmt.Sprintf("%q", rest[:n])
}

// operators are tried in order, so the longer spelling of two stands first.
var operators = []struct {
	spelling string
	op       operator
}{
	{"<=", opLessEqual}, {"≤", opLessEqual}, {"<", opLess},
	{">=", opGreaterEqual}, {"≥", opGreaterEqual}, {">", opGreater},
	{"==", opEqual}, {"=", opEqual}, {"!=", opNotEqual}, {"≠", opNotEqual},
	{"**", opPower}, {"^", opPower},
	{"*", opMultiply}, {"×", opMultiply}, {"·", opMultiply}, {"⋅", opMultiply},
	{"/", opDivide}, {"÷", opDivide},
	{"+", opAdd}, {"-", opSubtract}, {"−", opSubtract},
}

const superDigits = "⁰¹²³⁴⁵⁶⁷⁸⁹"

// superscript writes an integer ("-3") in superscript digits.
func superscript(integer string) string {
	var b strings.Builder
	digits := []rune(superDigits)
	for _, c := range integer {
		if c == '-' {
			b.WriteRune('⁻')
		} else {
			b.WriteRune(digits[c-'0'])
		}
	}
	return b.String()
}

// readSuperscript reads superscript digits at the start of s; n is their length in bytes.
func readSuperscript(s string) (sign, digits string, n int) {
	if strings.HasPrefix(s, "⁻") {
		sign, n = "-", len("⁻")
	}
	for n < len(s) {
		r, size := utf8.DecodeRuneInString(s[n:])
		d := -1
		for i, c := range []rune(superDigits) {
			if c == r {
				d = i
			}
		}
		if d < 0 {
			break
		}
		digits += string(rune('0' + d))
		n += size
	}
	return sign, digits, n
}

// scan returns the token at or after off, and the offset behind it.
func scan(src string, off int) (token, int, error) {
	for off < len(src) && strings.IndexByte(" \t\r\n", src[off]) >= 0 {
		off++
	}
	t := token{off: off}
	if off == len(src) {
		return t, off, nil
	}
	rest := src[off:]
	r, size := utf8.DecodeRuneInString(rest)
	switch {
	case isDigit(rest[0]) || rest[0] == '.':
		return scanNumber(src, off)
	case isNameStart(r):
		n := size
		for n < len(rest) {
			r, size = utf8.DecodeRuneInString(rest[n:])
			if !isNameStart(r) && !unicode.IsDigit(r) {
				break
			}
			n += size
		}
		t.kind, t.text = tokenName, rest[:n]
		return t, off + n, nil
	case r == '"' || r == '\'':
		end := strings.IndexByte(rest[1:], rest[0])
		if end < 0 {
			return t, off, errorAt(off, "the quoted text is never closed; add %c", r)
		}
		t.kind, t.text = tokenQuote, rest[1:1+end]
		if i := strings.IndexFunc(t.text, notInQuote); i >= 0 {
			return t, off, errorAt(off+1+i, "this character cannot stand in a quoted text; write letters, digits, spaces and plain punctuation only")
		}
		return t, off + end + 2, nil
	case strings.ContainsRune("(),|√", r):
		t.kind, t.text = tokenMark, rest[:size]
		return t, off + size, nil
	}
	if sign, digits, n := readSuperscript(rest); digits != "" {
		t.kind, t.text, t.extra = tokenSuper, digits, sign
		return t, off + n, nil
	}
	for _, o := range operators {
		if strings.HasPrefix(rest, o.spelling) {
			t.kind, t.op, t.text = tokenOperator, o.op, o.spelling
			return t, off + len(o.spelling), nil
		}
	}
	return t, off, errorAt(off, "%q cannot stand in a formula; use names, numbers, + - * / ^, brackets, one comparison and functions", rest[:size])
}

// scanNumber reads 12, 0.5, .5, 1e-3 and 1.5×10⁻³.
func scanNumber(src string, off int) (token, int, error) {
	t := token{kind: tokenNumber, off: off}
	i := skipDigits(src, off)
	whole := src[off:i]
	t.text = strings.TrimLeft(whole, "0")
	if t.text == "" {
		t.text = "0"
	}
	if i < len(src) && src[i] == '.' {
		j := skipDigits(src, i+1)
		if j == i+1 {
			return t, i, errorAt(i, "a point must be followed by digits; write %s.0 or drop the point", t.text)
		}
		t.text += src[i:j]
		i = j
	}
	if i < len(src) && (src[i] == 'e' || src[i] == 'E') {
		j := i + 1
		if j < len(src) && (src[j] == '-' || src[j] == '+') {
			j++
		}
		if k := skipDigits(src, j); k > j {
			t.extra = exponent(strings.TrimPrefix(src[i+1:j], "+"), src[j:k])
			i = k
		}
	} else if s, ok := strings.CutPrefix(src[i:], "×10"); ok {
		if sign, digits, n := readSuperscript(s); digits != "" {
			t.extra = exponent(sign, digits)
			i += len("×10") + n
		}
	}
	if len(strings.TrimPrefix(t.extra, "-")) > 3 {
		return t, off, errorAt(off, "the exponent of ten is too large; write at most three digits")
	}
	if r, _ := utf8.DecodeRuneInString(src[i:]); i < len(src) && (isNameStart(r) || r == '.') {
		return t, i, errorAt(i, "%q follows a number directly; write a sign between them, such as *", string(r))
	}
	return t, i, nil
}

func exponent(sign, digits string) string {
	digits = strings.TrimLeft(digits, "0")
	if digits == "" {
		return "0"
	}
	return sign + digits
}

func skipDigits(s string, i int) int {
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return i
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isNameStart(r rune) bool { return r == '_' || unicode.IsLetter(r) }

// notInQuote keeps out what would mean something in TeX.
func notInQuote(r rune) bool {
	return r < ' ' || r == utf8.RuneError || strings.ContainsRune(`\{}$"'`, r) || !unicode.IsPrint(r)
}
