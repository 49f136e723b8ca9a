package si_test

import (
	"math"
	"strings"
	"testing"

	"fullyon/engine/si"
)

// TestRead holds the spellings of course.md ("Marking"), of the table "What
// learners type" and of learning-and-standards.md §2.6.
func TestRead(t *testing.T) {
	for _, c := range []struct {
		text, asked string
		want        float64
		read        string // Reading.Text
	}{
		{"20 mΩ", "ohm", 0.02, "0.020 Ω"},
		{"20mohm", "ohm", 0.02, "0.020 Ω"},
		{"0.02 ohm", "ohm", 0.02, "0.02 Ω"},
		{"20 m", "ohm", 0.02, "0.020 Ω"},
		{"20 m", "mohm", 0.02, "20 mΩ"},
		{"20", "mohm", 0.02, "20 mΩ"},
		{"4k7", "ohm", 4700, "4700 Ω"},
		{"4K7", "ohm", 4700, "4700 Ω"},
		{"4R7", "ohm", 4.7, "4.7 Ω"},
		{"R47", "ohm", 0.47, "0.47 Ω"},
		{"470R", "ohm", 470, "470 Ω"},
		{"47K3", "ohm", 47300, "47300 Ω"},
		{"4M7", "ohm", 4.7e6, "4.7 MΩ"},
		{"100k", "ohm", 1e5, "100 kΩ"},
		{"4n7", "F", 4.7e-9, "4.7 nF"},
		{"4n7F", "F", 4.7e-9, "4.7 nF"},
		{"4.7K", "ohm", 4700, "4700 Ω"},
		{"4,7 k", "ohm", 4700, "4700 Ω"},
		{"4.7 k ohm", "ohm", 4700, "4700 Ω"},
		{"4.7e3", "ohm", 4700, "4700 Ω"},
		{"4.7 x 10^3", "ohm", 4700, "4700 Ω"},
		{"4.7×10³ Ω", "ohm", 4700, "4700 Ω"},
		{"5 kilohms", "ohm", 5000, "5000 Ω"},
		{"5 kilohm", "kohm", 5000, "5 kΩ"},
		{"3V3", "V", 3.3, "3.3 V"},
		{"1,5 A", "A", 1.5, "1.5 A"},
		{"1.5e-3 A", "A", 0.0015, "0.0015 A"},
		{"1.5 x 10^-3 A", "A", 0.0015, "0.0015 A"},
		{"1.5×10⁻³ A", "A", 0.0015, "0.0015 A"},
		{"3 milliamps", "mA", 0.003, "3 mA"},
		{"12 volts", "V", 12, "12 V"},
		{"12 v", "V", 12, "12 V"},
		{"5 hz", "Hz", 5, "5 Hz"},
		{"3 \u2126", "ohm", 3, "3 Ω"},
		{"3 \u03a9", "ohm", 3, "3 Ω"},
		{"3 \u00b5s", "us", 3e-6, "3 µs"},
		{"3 \u03bcs", "us", 3e-6, "3 µs"},
		{"250uA", "uA", 250e-6, "250 µA"},
		{"−3 A", "A", -3, "−3 A"},
		{"12\u202f345,5 Ω", "ohm", 12345.5, "12345.5 Ω"},
		{"12 345.5 Ω", "ohm", 12345.5, "12345.5 Ω"},
		{"47.1 °C", "°C", 47.1, "47.1 °C"},
		{"47.1 degC", "°C", 47.1, "47.1 °C"},
		{"47.1 deg C", "°C", 47.1, "47.1 °C"},
		{"47.1 C", "°C", 47.1, "47.1 °C"},
		{"47.1", "°C", 47.1, "47.1 °C"},
		{"300 K", "°C", 26.85, "26.9 °C"},
		{"7.44 °C", "K", 7.44, "7.44 K"},
		{"90 K/W", "K/W", 90, "90 K/W"},
		{"90 °C/W", "K/W", 90, "90 K/W"},
		{"90 C/W", "K/W", 90, "90 K/W"},
		{"90 k/W", "K/W", 90, "90 K/W"},
		{"10 %", "%", 0.1, "10 %"},
		{"10%", "", 0.1, "0.10"},
		{"10 percent", "%", 0.1, "10 %"},
		{"10", "%", 0.1, "10 %"},
		{"0.6", "", 0.6, "0.6"},
		{"5 V/µs", "V/us", 5e6, "5 V/µs"},
		{"0.4 %/K", "%/K", 0.004, "0.4 %/K"},
		{"0.5 mm2", "mm2", 5e-7, "0.5 mm²"},
		{"0.5 mm²", "mm2", 5e-7, "0.5 mm²"},
		{"2 C", "coulomb", 2, "2 C"},
		{"9 nC", "nC", 9e-9, "9 nC"},
		{"20 m", "m", 20, "20 m"},
		{"0,123 A", "A", 0.123, "0.123 A"},
		{"1,2345 A", "A", 1.2345, "1.2345 A"},
		{"1,234.5 V", "V", 1234.5, "1234.5 V"},
		{"1.234,5 V", "V", 1234.5, "1234.5 V"},
		{"1,234,567 V", "V", 1234567, "1.234567 MV"},
		{"P = 0.12 W", "W", 0.12, "0.12 W"},
		{"R_DS(on)=20 mΩ", "mohm", 0.02, "20 mΩ"},
		{"≈ 5 V", "V", 5, "5 V"},
		{"12 V DC", "V", 12, "12 V"},
		{"12 VDC", "V", 12, "12 V"},
		{"100 s^-1", "Hz", 100, "100 Hz"},
		{"100 1/s", "Hz", 100, "100 Hz"},
		{"1e5", "W", 1e5, "100 kW"},
		{"12 V·A", "W", 12, "12 W"},
		{"4k7 Ω", "ohm", 4700, "4700 Ω"},
		{"12V2", "V", 12.2, "12.2 V"},
		{"2m2", "m2", 2, "2 m²"},
		{"= 0.12 W.", "W", 0.12, "0.12 W"},
		{"2^2 * 30m", "W", 0.12, "0.120 W"},
		{"2² × 30m", "mW", 0.12, "120 mW"},
		{"(2 A)^2 * 30 mΩ", "W", 0.12, "0.120 W"},
		{"12 V / 6 ohm", "A", 2, "2.00 A"},
		{"12 V / 6 Ω", "A", 2, "2.00 A"},
		{"25 °C + 0.12 W * 62 K/W", "°C", 32.44, "32.44 °C"},
		{"(125 °C - 35 °C)/(2 W)", "K/W", 45, "45.0 K/W"},
		{"12 V / 24 V", "%", 0.5, "50.0 %"},
		{"(2 + 3) V", "V", 5, "5.00 V"},
		{"2 x 3 A", "A", 6, "6.00 A"},
		{"3*0.1 A", "A", 0.3, "0.300 A"},
		{"6/2 x 10^3 V", "V", 3000, "3000 V"},
		{"-2^2 V", "V", -4, "−4.00 V"},
		{"2 A / 1 s * 1 s", "A", 2, "2.00 A"},
	} {
		r, err := si.Read(c.text, si.MustUnit(c.asked))
		if err != nil {
			t.Errorf("Read(%q, %s): %v", c.text, c.asked, err)
			continue
		}
		if r.Quantity.Value != c.want || r.Text != c.read {
			t.Errorf("Read(%q, %s) = %v, %q; want %v, %q", c.text, c.asked, r.Quantity.Value, r.Text, c.want, c.read)
		}
	}
}

// What a Reading says about how it was read.
func TestReadingSays(t *testing.T) {
	for _, c := range []struct {
		text, asked string
		assumed     bool
		prefix      string
		figures     int
		sum         bool
		note        string // part of the only note, "" for none
	}{
		{"20 mΩ", "ohm", false, "m", 2, false, ""},
		{"20 m", "ohm", true, "m", 2, false, ""},
		{"20", "mohm", true, "", 2, false, ""},
		{"20 MΩ", "mohm", false, "M", 2, false, ""},
		{"3 uA", "A", false, "µ", 1, false, ""},
		{"0.6", "", false, "", 1, false, ""},
		{"4k7", "ohm", false, "k", 2, false, ""},
		{"4.7k", "ohm", true, "k", 2, false, ""},
		{"4k7", "Hz", true, "k", 2, false, ""},
		{"4K7", "ohm", false, "k", 2, false, "K read as kilo"},
		{"4.7K", "ohm", true, "k", 2, false, "K read as kilo"},
		{"4.7 KΩ", "ohm", false, "k", 2, false, "K read as kilo"},
		{"300 K", "°C", false, "", 3, false, "273.15"},
		{"7 °C", "K", false, "", 1, false, "difference"},
		{"0.00045 A", "A", false, "", 2, false, ""},  // N28
		{"0.000450 A", "A", false, "", 3, false, ""}, // N28
		{"1250 A", "A", false, "", 4, false, ""},     // N28: 3 or 4; the larger is told
		{"2^2*30m", "W", true, "m", 0, true, ""},
		{"2 A * 3 V", "W", false, "", 0, true, ""},
		{"2 MV/s", "V/s", false, "M", 1, false, ""},
	} {
		r, err := si.Read(c.text, si.MustUnit(c.asked))
		notes := strings.Join(r.Notes, "; ")
		if err != nil || r.Assumed != c.assumed || r.Prefix != c.prefix || r.Figures != c.figures || r.Sum != c.sum ||
			!strings.Contains(notes, c.note) || c.note == "" && notes != "" {
			t.Errorf("Read(%q, %s) = %+v, %v; want %+v", c.text, c.asked, r, err, c)
		}
	}
}

func TestReadErrors(t *testing.T) {
	for _, c := range []struct {
		text, asked string
		kind        si.Kind
		pos         int
		msg         string // part of the message
	}{
		{"", "V", si.Empty, 0, "nothing"},
		{"  ", "V", si.Empty, 2, "nothing"},
		{strings.Repeat("1+", 101) + "1", "V", si.TooLong, 0, "200"},
		{strings.Repeat("1", 65), "V", si.TooLong, 0, "64"},
		{"1,234 W", "W", si.Ambiguous, 0, "1.234 W or as 1234 W"},
		{"12,345", "W", si.Ambiguous, 0, "12.345 W or as 12345 W"},
		{"1/4", "%", si.Ambiguous, 0, ""},
		{"2 A^2 * 30 mΩ", "W", si.Ambiguous, 0, "0.06 W or as 0.12 W"},
		{"6/2 x 10^3", "V", si.Ambiguous, 0, "0.003 V or as 3000 V"},
		{"12 V / 2", "W", si.WrongDimension, 0, "voltage"},
		{"12 V / 2 mΩ / 1 s", "W", si.WrongDimension, 0, "check each unit"},
		{"12 V", "W", si.WrongDimension, 0, "that is a voltage; a power is asked"},
		{"20 m", "K/W", si.UnknownUnit, 0, "prefix"},
		{"300 K", "W", si.WrongDimension, 0, "temperature difference"},
		{"4R7", "V", si.WrongDimension, 0, "resistance"},
		{"2^2 * 30 mΩ", "W", si.WrongDimension, 0, "resistance"},
		{"25 °C + 7.44", "°C", si.WrongDimension, 7, "cannot be added"},
		{"12 furlongs", "V", si.UnknownUnit, 3, "furlongs"},
		{"5 V (max)", "V", si.Unreadable, 4, "too many"},
		{"2 A = 3", "A", si.Unreadable, 4, "="},
		{"4K7K", "ohm", si.UnknownUnit, 3, "cannot follow"},
		{"12 VAC", "V", si.UnknownUnit, 3, "VAC"},
		{"490 mhz", "Hz", si.UnknownUnit, 4, "MHz"},
		{"NaN", "V", si.Unreadable, 0, "finite"},
		{"inf", "V", si.Unreadable, 0, "finite"},
		{"0x10", "V", si.Unreadable, 0, "hexadecimal"},
		{"1e31 V", "V", si.Unreadable, 2, "beyond 30"},
		{"1" + strings.Repeat("0", 31) + " V", "V", si.Unreadable, 0, "beyond 10^30"},
		{"1×10⁻³¹ V", "V", si.Unreadable, -1, "beyond 30"},
		{strings.Repeat("(", 21) + "1", "V", si.Unreadable, 20, "20 brackets"},
		{"(1 V", "V", si.Unreadable, 0, "not closed"},
		{"1 V 2 V", "V", si.Unreadable, 4, "second number"},
		{"1.2.3", "V", si.Unreadable, 0, "marks"},
		{"2^0.5", "V", si.Unreadable, 2, "whole"},
		{"1/0", "V", si.Unreadable, 1, "zero"},
		{"about 5", "V", si.Unreadable, 0, "number is expected"},
		{"10 ± 1 V", "V", si.Unreadable, 3, "±"},
		{"5 °F", "°C", si.UnknownUnit, 2, ""},
	} {
		r, err := si.Read(c.text, si.MustUnit(c.asked))
		e, ok := si.AsReadError(err)
		if !ok {
			t.Errorf("Read(%q, %s) = %v, %v; want an error", c.text, c.asked, r, err)
			continue
		}
		if e.Kind != c.kind || c.pos >= 0 && e.Pos != c.pos || !strings.Contains(e.Msg, c.msg) || e.Text != c.text {
			t.Errorf("Read(%q, %s): kind %d at %d: %s; want kind %d at %d: %s", c.text, c.asked, e.Kind, e.Pos, e.Msg, c.kind, c.pos, c.msg)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		d    si.Dim
		want float64
	}{
		// the spellings of the circuit file in design/engine.md §1
		{"12.6 V", si.Voltage, 12.6}, {"100 kohm", si.Resistance, 1e5}, {"30 mohm", si.Resistance, 0.03}, {"490 Hz", si.Frequency, 490},
		{"20 mJ", si.Energy, 0.02}, {"700 pF", si.Capacitance, 7e-10}, {"9 nC", si.Charge, 9e-9}, {"0.4 K/W", si.ThermalResistance, 0.4},
		{"20 us", si.Time, 2e-5}, {"3 m", si.Length, 3}, {"0.5 mm2", si.Area, 5e-7}, {"1.2 mH", si.Inductance, 0.0012}, {"35 C", si.Temperature, 35},
		{"4k7", si.Resistance, 4700}, {"100k", si.Resistance, 1e5}, {"4n7", si.Capacitance, 4.7e-9},
		{"0 C", si.Charge, 0}, {"150 C", si.Temperature, 150}, {"0.6", si.One, 0.6}, {"60 %", si.One, 0.6},
		{"2.3 Ω·m", si.Resistivity, 2.3}, {"0.006 /K", si.PerKelvin, 0.006}, {"0.006 1/K", si.PerKelvin, 0.006},
		{"-2 mV/K", si.VoltagePerKelvin, -0.002}, {"250 uA", si.Current, 250e-6},
	} {
		q, err := si.Parse(c.text, c.d)
		if err != nil || q != si.Of(c.want, c.d) {
			t.Errorf("Parse(%q) = %v, %v; want %v", c.text, q, err, c.want)
		}
	}
	for _, c := range []struct {
		text string
		d    si.Dim
		kind si.Kind
	}{
		{"12", si.Voltage, si.MissingUnit}, {"20 m", si.Resistance, si.MissingUnit}, {"1 V + 1 V", si.Voltage, si.Unreadable},
		{"12 VAC", si.Voltage, si.UnknownUnit}, {"12 V~", si.Voltage, si.Unreadable}, {"12 V", si.Current, si.WrongDimension},
	} {
		_, err := si.Parse(c.text, c.d)
		if e, ok := si.AsReadError(err); !ok || e.Kind != c.kind {
			t.Errorf("Parse(%q): %v; want kind %d", c.text, err, c.kind)
		}
	}
}

func TestPrint(t *testing.T) {
	for _, c := range []struct {
		v    float64
		unit string
		n    int // 0: String, −1: Plain
		want string
	}{
		{0.02, "ohm", 0, "20 mΩ"}, {0.0012, "H", 0, "1.2 mH"}, {35, "°C", 0, "35 °C"}, {0.6, "", 0, "0.6"},
		{0.02, "ohm", -1, "0.02 Ω"}, {9e-9, "coulomb", -1, "9 nC"}, {-3, "A", 0, "−3 A"}, {0, "V", 0, "0 V"},
		{5e-7, "m2", 0, "0.5 mm²"}, {0.006, "1/K", 0, "0.006 /K"}, {3600, "s", 0, "3600 s"}, {1e-20, "m2", 0, "1×10⁻²⁰ m²"},
		{1.0 / 3, "V", 0, "333.3333333 mV"}, {999.9999999999, "V", 0, "1 kV"},
		// N27, N28
		{3.175, "V", 3, "3.18 V"}, {3.1749, "V", 3, "3.17 V"}, {-3.175, "V", 3, "−3.18 V"},
		{9.996, "V", 3, "10.0 V"}, {99.95, "V", 3, "100 V"}, {0.00045, "V", 2, "0.45 mV"}, {0.00045, "V", 3, "450 µV"},
		{0.12, "W", 3, "120 mW"}, {1500, "ohm", 2, "1.5 kΩ"}, {0.9996, "ohm", 3, "1.00 Ω"}, {47.12, "°C", 3, "47.1 °C"},
		{123456, "°C", 3, "123000 °C"}, {1500, "Hz", 1, "2 kHz"}, {150, "Hz", 1, "0.2 kHz"}, {0, "W", 3, "0 W"},
	} {
		q := si.Of(c.v, si.MustUnit(c.unit).Dim)
		got := ""
		switch c.n {
		case 0:
			got = q.String()
		case -1:
			got = q.Plain()
		default:
			got = q.Figures(c.n)
		}
		if got != c.want {
			t.Errorf("%v %s at %d: %q, want %q", c.v, c.unit, c.n, got, c.want)
		}
	}
	for _, c := range []struct {
		v    float64
		unit string
		n    int
		want string
	}{{0.12, "W", 3, "0.120 W"}, {0.6, "%", 2, "60 %"}, {5e6, "V/us", 2, "5.0 V/µs"}, {0.07, "mohm", 2, "70 mΩ"}} {
		u := si.MustUnit(c.unit)
		if got := si.Of(c.v, u.Dim).FiguresIn(u, c.n); got != c.want {
			t.Errorf("%v in %s: %q, want %q", c.v, c.unit, got, c.want)
		}
	}
	for _, c := range []struct {
		v          float64
		unit, want string
	}{{0.033, "ohm", "0.033 Ω"}, {4700, "ohm", "4700 Ω"}, {0.12345, "mW", "123.45 mW"}, {0.6, "%", "60 %"}, {0.033, "W/K", "33 mΩ"}} {
		u := si.MustUnit(c.unit)
		d := u.Dim
		if c.want == "33 mΩ" {
			d = si.Resistance // of another dimension
		}
		if got := si.Of(c.v, d).StringIn(u); got != c.want {
			t.Errorf("%v in %s: %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestUnit(t *testing.T) {
	for text, want := range map[string]string{"mohm": "mΩ", "°C/W": "K/W", "V/us": "V/µs", "mm2": "mm²", "%/K": "%/K", "1": "", "": "",
		"C": "°C", "K": "K", "mV/K": "mV/K", "1/K": "1/K", "/K": "1/K", "kilohms": "kΩ", "uF": "µF", "nC": "nC"} {
		if u, err := si.UnitOf(text); err != nil || u.Symbol != want {
			t.Errorf("UnitOf(%q) = %q, %v; want %q", text, u.Symbol, err, want)
		}
	}
	if got := si.Of(0.07, si.Resistance).In(si.MustUnit("mohm")); got != 70 {
		t.Errorf("0.07 Ω in mΩ = %v", got)
	}
	if got := si.Of(1, si.Voltage).In(si.MustUnit("A")); !math.IsNaN(got) {
		t.Errorf("1 V in A = %v, want NaN", got)
	}
	for _, text := range []string{"furlong", "V V", "V/A·s", "2", "V/", "m°C"} {
		if u, err := si.UnitOf(text); err == nil {
			t.Errorf("UnitOf(%q) = %v, want an error", text, u)
		}
	}
	if got, want := si.Of(1.0/3, si.Voltage).JSON(), (si.JSONQuantity{0.3333333333, "V", "333.3333333 mV"}); got != want {
		t.Errorf("JSON = %v, want %v", got, want)
	}
}
