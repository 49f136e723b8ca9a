package si

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"strings"
	"unicode/utf8"
)

// What is read:
//
//	text     = [ "=" ] sum [ "." ]
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
	p.pos = skipSpace(p.s, 0)
	if p.pos < len(p.s) && p.s[p.pos] == '=' {
		p.pos = skipSpace(p.s, p.pos+1)
	}
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

func (p *reader) space() { p.pos = skipSpace(p.s, p.pos) }

// rest says why reading stopped before the end.
func (p *reader) rest() error {
	i := p.pos
	if j := tokenEnd(p.s, i); j > i {
		return p.fail(UnknownUnit, i, quote(p.s[i:j])+" is not a unit this program knows; write it as in mΩ, V, A, W or K/W"+hint(p.s[i:j]))
	}
	if p.s[i] == '(' || startsNumber(p.s, i) {
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

// fit turns a value into the quantity asked, or says why it is not one.
func (p *reader) fit(v *value) (Reading, error) {
	r := Reading{Prefix: p.prefix, Sum: p.ops > 0}
	a := p.asked
	if p.file && r.Sum {
		return r, p.fail(Unreadable, 0, "a calculation cannot stand here; give the value and its unit")
	}
	if !r.Sum {
		r.Figures = v.num.figs
	}
	switch {
	case !p.units:
		if p.file && a.Dim != One {
			return r, p.fail(MissingUnit, len(p.s), fmt.Sprintf("the unit is missing; %s is asked, as in %s", a.Dim.Name(), example(a)))
		}
		if err := p.assume(&r, v); err != nil {
			return r, err
		}
	case v.q.Dim == a.Dim:
		r.Quantity = v.q
	case !r.Sum && v.q.Dim == TemperatureDifference && a.Dim == Temperature:
		x := decimalOf(v.q.Value - 273.15)
		x.round(13)
		r.Quantity = Of(x.float(0), Temperature)
		r.Notes = append(r.Notes, "kelvin turned into degrees Celsius by taking off 273.15")
	case !r.Sum && v.q.Dim == Temperature && a.Dim == TemperatureDifference:
		r.Quantity = Of(v.q.Value, TemperatureDifference)
		r.Notes = append(r.Notes, "read as a difference; differences are best given in K")
	case names[v.q.Dim] == "":
		return r, p.fail(WrongDimension, 0, fmt.Sprintf("the units do not come out as %s, as in %s; check each unit and each sign", a.Dim.Name(), example(a)))
	default:
		return r, p.fail(WrongDimension, 0, fmt.Sprintf("that is %s; %s is asked, as in %s", v.q.Dim.Name(), a.Dim.Name(), example(a)))
	}
	if !r.Quantity.Finite() {
		return r, p.fail(Unreadable, 0, "the value is too large to be a number here; check the powers of ten")
	}
	x := decimalOf(r.Quantity.Value)
	x.round(printed)
	if e := x.exp - a.exp; max(x.exp, e) > maxExponent || min(x.exp, e) < -maxExponent {
		return r, p.fail(Unreadable, 0, "a value beyond 10^30 or below 10^-30 is none of this trade; check the powers of ten")
	}
	if p.kilo {
		r.Notes = append(r.Notes, "K read as kilo; kilo is written with a small k")
	}
	r.Text = r.describe(a)
	return r, nil
}

// assume gives a number without a unit the unit asked.
func (p *reader) assume(r *Reading, v *value) error {
	a := p.asked
	r.Assumed = a.Symbol != ""
	switch {
	case p.prefixed && !a.scaled:
		return p.fail(UnknownUnit, 0, fmt.Sprintf("a prefix alone is not understood where %s is asked; write the whole unit, as in %s", a.Dim.Name(), example(a)))
	case r.Sum && p.prefixed: // the prefixes were typed, so the result is unprefixed
		r.Quantity = Of(shift(v.q.Value, a.exp-a.pre), a.Dim)
	case r.Sum && a.Dim == One && a.exp != 0:
		return p.ambiguous([]Reading{{Quantity: Of(shift(v.q.Value, a.exp), One)}, {Quantity: v.q}})
	case r.Sum:
		r.Quantity = Of(shift(v.q.Value, a.exp), a.Dim)
	case p.prefixed:
		r.Quantity = Of(v.num.float(v.exp+a.exp-a.pre, v.neg), a.Dim)
	default:
		r.Quantity = Of(v.num.float(a.exp, v.neg), a.Dim)
	}
	return nil
}

// example is a quantity in the asked unit, for a message.
func example(a Unit) string {
	if a.Symbol == "" {
		return "0.6"
	}
	return strings.TrimSpace("12 " + strings.TrimPrefix(a.Symbol, "1"))
}

// describe prints a reading in the asked unit with the figures typed, or with
// another prefix where the asked unit would need many noughts.
func (r *Reading) describe(a Unit) string {
	n := r.Figures
	if n == 0 {
		x := decimalOf(r.Quantity.Value)
		x.round(6)
		n = max(x.n, 3)
	}
	n = min(n, printed)
	v := math.Abs(r.Quantity.Value)
	if a.exp != 0 {
		v = shift(v, -a.exp)
	}
	if v != 0 && (v < 1e-3 || v >= 1e5) {
		return r.Quantity.Figures(n)
	}
	return r.Quantity.FiguresIn(a, n)
}

// AsReadError is the *ReadError in an error from Read or Parse.
func AsReadError(err error) (*ReadError, bool) {
	var e *ReadError
	ok := errors.As(err, &e)
	return e, ok
}
