package si

import "strings"

// atom is one unit symbol as it may stand in a unit: a base unit with or without a prefix.
type atom struct {
	base   string // canonical symbol without prefix: "Ω"
	prefix string // canonical prefix: "m", "µ", "k", or ""
	dim    Dim
	exp    int  // decimal exponent, prefix included
	pre    int  // the part of exp that comes from the prefix
	scaled bool // takes prefixes when printed
	kilo   bool // typed with K for kilo
}

// prefixes of the SI that the trade uses, as typed.
var prefixes = []struct {
	typed, sym, word string
	exp              int
}{
	{"p", "p", "pico", -12}, {"n", "n", "nano", -9}, {"u", "µ", "micro", -6},
	{"\u00b5", "µ", "", -6}, {"\u03bc", "µ", "", -6}, {"m", "m", "milli", -3},
	{"k", "k", "kilo", 3}, {"K", "k", "", 3}, {"M", "M", "mega", 6}, {"G", "G", "giga", 9}, {"T", "T", "tera", 12},
}

// barePrefix gives canonical prefix and exponent of a prefix standing alone.
func barePrefix(token string) (sym string, exp int, ok bool) {
	for _, p := range prefixes {
		if p.typed == token || p.word == token && p.word != "" {
			return p.sym, p.exp, true
		}
	}
	return "", 0, false
}

// prefixSymbol is the printed prefix of a decimal exponent from −12 to 12 in steps of three.
func prefixSymbol(exp int) string {
	return [...]string{"p", "n", "µ", "m", "", "k", "M", "G", "T"}[exp/3+4]
}

var celsius = atom{base: "°C", dim: Temperature}

// symbols holds every spelling that is read exactly as typed, words those that
// are read in any case. Capitals tell milli from mega, so symbols keep theirs.
var symbols, words = spellings()

func spellings() (sym, word map[string]atom) {
	sym, word = map[string]atom{}, map[string]atom{}
	for _, u := range []struct {
		base   string
		dim    Dim
		exp    int
		scaled bool
		also   string // further symbols that take prefixes, separated by spaces
		small  string // careless lower-case symbol
		words  string // words that take prefix words
	}{
		{"Ω", Resistance, 0, true, "\u2126 ohm ohms Ohm Ohms OHM R", "", "ohm ohms"},
		{"V", Voltage, 0, true, "", "v", "volt volts"},
		{"A", Current, 0, true, "Amp Amps amp amps", "a", "amp amps ampere amperes"},
		{"W", Power, 0, true, "", "w", "watt watts"},
		{"s", Time, 0, true, "sec secs", "", "second seconds sec secs"},
		{"Hz", Frequency, 0, true, "HZ", "hz", "hertz"},
		{"F", Capacitance, 0, true, "", "f", "farad farads"},
		{"H", Inductance, 0, true, "", "h", "henry henries henrys"},
		{"J", Energy, 0, true, "", "j", "joule joules"},
		{"C", Charge, 0, true, "", "", "coulomb coulombs"},
		{"K", TemperatureDifference, 0, false, "", "", "kelvin kelvins"},
		{"m", Length, 0, true, "", "", "metre metres meter meters"},
		{"g", Dim{Kg: 1}, -3, false, "", "", "gram grams"},
	} {
		for _, s := range append(strings.Fields(u.also), u.base) {
			add(sym, s, u.base, u.dim, u.exp, u.scaled)
		}
		if u.small != "" {
			add(sym, u.small, u.base, u.dim, u.exp, u.scaled)
		}
		for _, s := range strings.Fields(u.words) {
			word[s] = atom{base: u.base, dim: u.dim, exp: u.exp, scaled: u.scaled}
			for _, p := range prefixes {
				if p.word != "" {
					word[p.word+s] = atom{base: u.base, prefix: p.sym, dim: u.dim, exp: u.exp + p.exp, pre: p.exp, scaled: u.scaled}
				}
			}
		}
	}
	for _, s := range []string{"ohm", "ohms"} { // the vowel is dropped: kilohm, megohm
		word["kil"+s], word["meg"+s] = word["kilo"+s], word["mega"+s]
	}
	// A lone f, h is left out: an hour is more likely. So is mhz, which may be meant either way.
	for _, s := range []string{"f", "h", "mhz", "kg"} {
		delete(sym, s)
	}
	sym["kg"] = atom{base: "kg", dim: Dim{Kg: 1}}
	sym["Kg"] = atom{base: "kg", dim: Dim{Kg: 1}, kilo: true}
	word["kilogram"], word["kilograms"] = sym["kg"], sym["kg"]
	sym["cm"] = atom{base: "m", prefix: "c", dim: Length, exp: -2, pre: -2, scaled: true}
	sym["dm"] = atom{base: "m", prefix: "d", dim: Length, exp: -1, pre: -1, scaled: true}
	word["centimetre"], word["centimetres"], word["centimeter"], word["centimeters"] = sym["cm"], sym["cm"], sym["cm"], sym["cm"]
	sym["VDC"], sym["Vdc"] = sym["V"], sym["V"]
	sym["%"] = atom{base: "%", exp: -2}
	word["percent"], word["ppm"] = sym["%"], atom{base: "ppm", exp: -6}
	sym["\u2103"], word["celsius"], word["degc"] = celsius, celsius, celsius
	sym["c"] = sym["C"]
	return sym, word
}

// add enters one symbol with all its prefixes.
func add(m map[string]atom, typed, base string, d Dim, exp int, scaled bool) {
	m[typed] = atom{base: base, dim: d, exp: exp, scaled: scaled}
	for _, p := range prefixes {
		m[p.typed+typed] = atom{base: base, prefix: p.sym, dim: d, exp: exp + p.exp, pre: p.exp, scaled: scaled, kilo: p.typed == "K"}
	}
}

// lookup finds a unit symbol or word.
func lookup(token string) (atom, bool) {
	if a, ok := symbols[token]; ok {
		return a, true
	}
	a, ok := words[token]
	if !ok {
		a, ok = words[strings.ToLower(token)]
	}
	return a, ok
}

// coherent lists how the unprefixed unit of a dimension is written.
var coherent = map[Dim]Unit{}

func init() {
	for _, text := range []string{"m", "m2", "s", "Hz", "A", "coulomb", "J", "W", "V", "ohm", "F", "H", "V/s", "°C", "K",
		"K/W", "1/K", "V/K", "ohm·m", "J/K", "W/K", "ohm/m", "A/s", "A^2·s", "A^2", "V^2"} {
		u := MustUnit(text)
		coherent[u.Dim] = u
	}
	coherent[One] = Unit{}
}
