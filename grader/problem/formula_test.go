package problem

import (
	"errors"
	"math"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// bench is a scope with a few names and the part of the handbook example: 12 V,
// 2 A, 35 °C, LY-N30-4 behind a 5 V pin.
func bench(t testing.TB) (*names, *scope) {
	t.Helper()
	p, ok := part.Find("LY-N30-4")
	if !ok {
		t.Fatal("the drawer has no LY-N30-4")
	}
	c := &engine.Circuit{Part: p}
	c.Supply.Voltage = si.Of(12, si.Voltage)
	c.Load.Current = si.Of(2, si.Current)
	c.Drive.LogicHigh = si.Of(5, si.Voltage)
	c.Surroundings.Ambient = si.Of(35, si.Temperature)
	n := newNames()
	n.add(&slot{name: "I", dim: si.Current, symbol: "I"})
	n.add(&slot{name: "T", dim: si.Temperature, symbol: "T"})
	n.add(&slot{name: "load", kind: word})
	s := n.scope(engine.NewSizing(c))
	s.nums[0], s.nums[1], s.texts[0] = 2, 35, "tape"
	return n, s
}

func TestFormulas(t *testing.T) {
	n, s := bench(t)
	for _, c := range []struct {
		src  string
		want float64
		dim  si.Dim
	}{
		{"1 + 2 * 3", 7, si.One},
		{"7 / 2", 3.5, si.One},
		{"-2^2", -4, si.One},
		{"2^0.5", math.Sqrt2, si.One},
		{"I^2 * '30 mohm'", 0.12, si.Power},
		{"I * '12 V'", 24, si.Power},
		{"'12 V' / I", 6, si.Resistance},
		{"T + theta_ja * loss_conduction", 47.2412, si.Temperature}, // closed form: (35 + 10.8 × 0.85)/(1 − 0.0648)
		{"T - '25 C'", 10, si.TemperatureDifference},
		{"sqrt('4 W' / '1 ohm')", 2, si.Current},
		{"row(vgs_on, 'max')", 0.030, si.Resistance},
		{"row('10 V', 'typ')", 0.018, si.Resistance},
		{"with('rds_on_ratio', 1, 'loss_conduction')", 0.12, si.Power},
		{"with('ambient', '25 C', 'rds_on_ratio', 1, 'junction_temperature')", 35.8, si.Temperature},
		{"number('30 mohm', 'mohm')", 30, si.One},
		{"quantity(30, 'mohm')", 0.03, si.Resistance},
		{"above('E12', '171 ohm')", 180, si.Resistance},
		{"below('E12', '171 ohm')", 150, si.Resistance},
		{"max('3 V', '5 V')", 5, si.Voltage},
		{"abs('3 V' - '5 V')", 2, si.Voltage},
		{"round('171 ohm', 2)", 170, si.Resistance},
		{"I > '1 A' ? 10 : 20", 10, si.One},
		{"load == 'tape' and channel == 'N' ? 1 : 2", 1, si.One},
		{"ratio_at('125 C')", 1.6, si.One}, // 1 + 0.006/K × 100 K up to 40 V
		{"ln(exp(2))", 2, si.One},
	} {
		f, err := compile(c.src, n)
		if err != nil {
			t.Errorf("%s: %v", c.src, err)
			continue
		}
		s.err = nil
		got := f.value(s)
		if s.err != nil || f.term.dim != c.dim || !(math.Abs(got-c.want) <= 2e-4*math.Abs(c.want)) {
			t.Errorf("%s = %v of %s (%v), want %v of %s", c.src, got, f.term.dim.Name(), s.err, c.want, c.dim.Name())
		}
	}
}

func TestFormulasRefused(t *testing.T) {
	n, _ := bench(t)
	for _, c := range []struct {
		src string
		off int
		msg string
	}{
		{"I + '3 V'", 2, "cannot be added"},
		{"T + T", 2, "two temperatures cannot be added"},
		{"T * 2", 2, "cannot be multiplied"},
		{"I > 3", 2, "cannot be compared"},
		{"I == '2 A'", 2, "cannot be compared with =="},
		{"load + 1", 0, "a text stands here"},
		{"I > '1 A' ? I : T", 0, "one branch is"},
		{"false ? I + '3 V' : I", 10, "cannot be added"},
		{"I ^ 0.5", 4, "whole number"},
		{"ln(I)", 3, "plain number"},
		{"sqrt(I)", 0, "no square root"},
		{"loss_conducton", 0, `the nearest is "loss_conduction"`},
		{"J", 0, `there is no name "J"`},
		{"with('ambiant', 1, 'loss_total')", 5, `the nearest is "ambient"`},
		{"with('ambient', '3 V', 'loss_total')", 16, "is a temperature, not a voltage"},
		{"row(vgs_on, 'maximum')", 0, "row(v, 'max')"},
		{"map(1..9, #)", 0, "there is no function"},
		{"1..9", 0, "cannot stand in a formula"},
		{"let x = 1; x", 0, "cannot stand in a formula"},
		{"$env", 0, "there is no name"},
		{"foo.bar", 0, "cannot stand in a formula"},
		{"[1, 2]", 0, "cannot stand in a formula"},
		{"I ?? 1", 0, ""},
		{"'a' matches 'b'", 0, "cannot stand in a formula"},
		{"1 +", 0, "cannot be read"},
		{"verdict('junctoin')", 0, "id of a check"},
		{strings.Repeat("1+", 150) + "1", 0, "more than 200 parts"},
		{strings.Repeat("(", 700), 0, "longer than"},
	} {
		_, err := compile(c.src, n)
		if err == nil {
			t.Errorf("%s: compiled", c.src)
			continue
		}
		var fe *formulaError
		if !errors.As(err, &fe) || !strings.Contains(fe.msg, c.msg) || c.off > 0 && fe.off != c.off {
			t.Errorf("%s: %v, want %q at %d", c.src, err, c.msg, c.off)
		}
	}
}

func TestFormulasThatComeToNothing(t *testing.T) {
	n, s := bench(t)
	for _, src := range []string{"I / '0 A'", "sqrt(0 - 1)", "ln(0)", "avalanche_energy", "row('1 V', 'max')", "with('frequency', '1 kHz', 'ripple_current')"} {
		f, err := compile(src, n)
		if err != nil {
			t.Errorf("%s: %v", src, err)
			continue
		}
		s.err = nil
		if v := f.value(s); s.err == nil {
			t.Errorf("%s = %v, want an error", src, v)
		}
	}
}

func FuzzFormula(f *testing.F) {
	for _, s := range []string{"I^2 * row(vgs_on, 'max')", "T + theta_ja * loss_total", "with('ambient', '25 C', 'loss_total')", "I > '1 A' ? 1 : 2", "((((1))))", "'12 V' / '3 A'", "$env", "a.b[c]"} {
		f.Add(s)
	}
	n, s := bench(f)
	f.Fuzz(func(t *testing.T, src string) {
		fm, err := compile(src, n)
		if err != nil || fm.term.kind != number {
			return
		}
		s.err = nil
		if v := fm.value(s); s.err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%q gives %v", src, v)
		}
	})
}

func BenchmarkFormula(b *testing.B) {
	n, s := bench(b)
	f, err := compile("I*I*row(vgs_on, 'max') + 0.5*'12 V'*I*'3 us'*'1 kHz'", n)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		f.value(s)
	}
}
