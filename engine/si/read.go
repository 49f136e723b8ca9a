package si

import (
	"errors"
	"fmt"
	"math/bits"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What is read:
//
//	text     = [ [ name ] "=" | "≈" | "~" ] sum [ "." ]
//	sum      = term { ("+" | "-") term }
//	term     = factor { ("*" | "×" | "·" | "x" | "/" | "÷" | ":") factor }
//	factor   = [ "+" | "-" ] factor | primary [ ("^" | "**") whole | superscripts ]
//	primary  = quantity | "(" sum ")" [ unit ]
//	quantity = number [ unit ] | number prefix | code [ unit ]
//	number   = digits with one decimal point or comma [ "e" whole | "x 10^" whole | "×10" superscripts ]
//	code     = digits letter digits, or R digits: 4k7, 4R7, R47, 4n7, 3V3 (IEC 60062)
//	unit     = as in unitscan.go
//
// Spaces of every kind are allowed between these. Digits may be grouped by
// spaces in threes, or by one kind of mark when the other is the decimal mark.
// A sign may be any of - − –; Ω and µ may be either of their two characters.
//
// A stroke with a letter behind it belongs to the unit (90 K/W), with a number
// or bracket behind it it divides (12 V / 6 Ω).
//
// Some texts have two readings. Each is a bit of a mode; all that the text
// gives rise to are tried, those whose dimension is not the asked one fall away,
// and what is left must be one value. Two values left are an Ambiguous error
// with both as candidates: nothing is guessed.
const (
	readThousands = 1 << iota // the comma of 1,234 parts thousands; else it is the decimal mark
	readPower                 // 2 A^2 within a sum is (2 A)²; else 2·A²
	readSplitTen              // 6/2 x 10^3 is (6/2)·10³; else 6/(2·10³)
	readMetre                 // a lone m is the metre; else the prefix milli
	readKilo                  // a lone K is kilo; else the kelvin
	readCoulomb               // C is the coulomb; else the degree Celsius
	readCode                  // 4k7 is a resistance, 4n7 a capacitance; else prefix and asked unit
)

// Kind says why a text could not be read.
type Kind int

// The kinds of a ReadError. MissingUnit comes from Parse only.
const (
	Unreadable Kind = iota
	Empty
	TooLong
	Ambiguous
	WrongDimension
	UnknownUnit
	MissingUnit
)

// ReadError says what could not be read, where, and what to do about it.
type ReadError struct {
	Kind       Kind
	Text       string     // what was typed
	Pos        int        // byte offset in Text
	Msg        string     // plain English
	Candidates []Quantity // the readings of an ambiguous text
}

func (e *ReadError) Error() string { return e.Msg }

// Reading is a quantity and how it was understood.
type Reading struct {
	Quantity Quantity
	Text     string   // as it was read, in the asked unit: "0.120 W"
	Assumed  bool     // no unit was typed, the asked one is understood
	Prefix   string   // the prefix typed: "M", "m", "µ", ""
	Figures  int      // significant figures typed, noughts at the end counted; 0 for sums
	Sum      bool     // something was calculated
	Notes    []string // on style, such as "K read as kilo; kilo is written k"
}

// Read reads what a learner typed in answer to a question that asks for the
// unit given. A number alone takes the asked unit; a prefix alone (20 m) goes before
// it. The error is a *ReadError. The dimension of the result is always that asked.
func Read(text string, asked Unit) (Reading, error) { return read(text, asked, false) }

// Parse reads a quantity in a file. The grammar is that of Read without sums,
// and the unit must be written, unless a ratio is asked or the text is a resistor
// or capacitor code (4k7, 100k, 4n7). The error is a *ReadError.
func Parse(text string, d Dim) (Quantity, error) {
	r, err := read(text, d.Unit(), true)
	return r.Quantity, err
}

// reader is one pass over a text in one mode.
type reader struct {
	s          string
	pos        int
	asked      Unit
	file       bool
	mode, seen int
	depth      int
	ops        int    // operators and brackets met
	units      bool   // a unit was typed somewhere
	prefixed   bool   // a bare prefix was typed somewhere
	prefix     string // of the first unit
	kilo       bool   // K was typed for kilo
	afterSlash bool   // the number to come is a divisor
}

func (p *reader) fail(k Kind, pos int, msg string) error {
	return &ReadError{Kind: k, Text: p.s, Pos: pos, Msg: msg}
}

func read(text string, asked Unit, file bool) (Reading, error) {
	p := reader{s: text, asked: asked, file: file}
	if err := p.check(); err != nil {
		return Reading{}, err
	}
	first, err := p.pass()
	seen := p.seen
	if err == nil && !first.Sum {
		seen &^= readPower // 2 A² alone is what it says
	}
	if seen == 0 {
		return first, err
	}
	// Try every combination of the readings met; a pass may meet more of them.
	fits := []Reading{}
	done := 0
	for mode := 0; mode < 1<<bits.Len(uint(seen)); mode++ {
		if mode&^seen != 0 {
			continue
		}
		if done++; done > 64 {
			break
		}
		q := reader{s: text, asked: asked, file: file, mode: mode}
		r, e := q.pass()
		seen |= q.seen
		if e != nil {
			continue
		}
		same := false
		for i := range fits {
			if fits[i].Quantity == r.Quantity {
				same = true
				if fits[i].Assumed && !r.Assumed {
					fits[i] = r
				}
			}
		}
		if !same {
			fits = append(fits, r)
		}
	}
	switch len(fits) {
	case 0:
		return Reading{}, err
	case 1:
		return fits[0], nil
	}
	return Reading{}, p.ambiguous(fits)
}

func (p *reader) ambiguous(fits []Reading) error {
	e := &ReadError{Kind: Ambiguous, Text: p.s}
	var ways []string
	for _, f := range fits {
		e.Candidates = append(e.Candidates, f.Quantity)
		ways = append(ways, f.Quantity.Plain())
	}
	e.Msg = fmt.Sprintf("%s can be read as %s; write it so that only one is meant, with a decimal point and no mark between thousands, and brackets where something is calculated",
		quote(strings.TrimSpace(p.s)), strings.Join(ways, " or as "))
	return e
}

// check refuses what should not be looked at further.
func (p *reader) check() error {
	if len(p.s) > maxText && utf8.RuneCountInString(p.s) > maxText {
		return p.fail(TooLong, 0, "the text has more than 200 characters; give the value and its unit only")
	}
	i := skipSpace(p.s, 0)
	if i == len(p.s) {
		return p.fail(Empty, i, "nothing was typed; give a number and its unit, as in 20 mΩ")
	}
	if !utf8.ValidString(p.s) {
		return p.fail(Unreadable, i, "the text holds bytes that are no characters; type it again")
	}
	return nil
}

// pass reads the whole text in one mode.
func (p *reader) pass() (Reading, error) {
	p.pos = p.lead()
	var v value
	if err := p.sum(&v); err != nil {
		return Reading{}, err
	}
	p.space()
	if p.pos == len(p.s)-1 && p.s[p.pos] == '.' {
		p.pos++
	}
	if p.pos < len(p.s) {
		return Reading{}, p.rest()
	}
	return p.fit(&v)
}

// lead steps over what learners put before an answer: "P =", "=", "≈", "~".
func (p *reader) lead() int {
	i := skipSpace(p.s, 0)
	if p.file {
		return i
	}
	for j, r := range p.s[i:] {
		switch {
		case r == '=' || r == '≈' || r == '~':
			return skipSpace(p.s, i+j+utf8.RuneLen(r))
		case unicode.IsLetter(r), j > 0 && (unicode.IsDigit(r) || strings.ContainsRune("_() ", r)):
		default:
			return i
		}
	}
	return i
}

func (p *reader) space() { p.pos = skipSpace(p.s, p.pos) }

// rest says why reading stopped before the end.
func (p *reader) rest() error {
	i := p.pos
	if j := tokenEnd(p.s, i); j > i {
		return p.fail(UnknownUnit, i, quote(p.s[i:j])+" is not a unit this program knows; write it as in mΩ, V, A, W or K/W"+hint(p.s[i:j]))
	}
	if p.s[i] == '(' {
		return p.fail(Unreadable, i, quote(p.s[i:])+" is one thing too many; write one number and its unit, or the sign between")
	}
	if startsNumber(p.s, i) {
		return p.fail(Unreadable, i, "there is a second number at "+quote(p.s[i:])+"; write one number, or the sign between them")
	}
	r, _ := utf8.DecodeRuneInString(p.s[i:])
	return p.fail(Unreadable, i, quote(string(r))+" is not understood here; give a number and its unit, as in 20 mΩ")
}

func hint(token string) string {
	switch strings.ToLower(token) {
	case "mhz":
		return "; millihertz is mHz, megahertz is MHz"
	case "h":
		return "; the henry is H, an hour is 3600 s"
	case "f":
		return "; the farad is F, a temperature is given in °C"
	}
	return ""
}

// AsReadError is the *ReadError in an error from Read or Parse.
func AsReadError(err error) (*ReadError, bool) {
	var e *ReadError
	ok := errors.As(err, &e)
	return e, ok
}
