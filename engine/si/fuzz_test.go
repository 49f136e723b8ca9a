package si_test

import (
	"testing"
	"unicode/utf8"

	"fullyon/engine/si"
)

// FuzzRead: nothing panics, a reading has the asked dimension and is finite, and
// what was read prints as a text that reads back as the same value.
func FuzzRead(f *testing.F) {
	asked := []si.Unit{}
	for _, u := range []string{"", "%", "ohm", "mohm", "V", "A", "W", "°C", "K", "K/W", "F", "s", "Hz", "m", "mm2", "V/us", "mV/K", "1/K", "coulomb", "J"} {
		asked = append(asked, si.MustUnit(u))
	}
	for _, s := range []string{"20 mΩ", "4k7", "R47", "1,234", "1.234,5 V", "1.5×10⁻³ A", "(2 A)^2 * 30 mΩ", "2 A^2*3", "12 V / 6 ohm", "90 K/W",
		"6/2 x 10^3", "4.7 k ohm", "5 milli amps", "deg C", "10 per cent", "0x10", "1/K", "((((1", "2²³", "100k", "3V3", "−1 °C", "1 234 567", "10000000000000000000000000000000", "1e-30", "130e-30", "P = 3 W", "12 V DC", "9.99999999999e30"} {
		for i := range asked {
			f.Add(s, byte(i))
		}
	}
	f.Fuzz(func(t *testing.T, text string, which byte) {
		u := asked[int(which)%len(asked)]
		r, err := si.Read(text, u)
		if err != nil {
			e, ok := si.AsReadError(err)
			switch {
			case !ok || e.Msg == "" || e.Text != text || e.Pos < 0 || e.Pos > len(text):
				t.Fatalf("Read(%q): error %#v", text, err)
			case utf8.ValidString(text) && e.Pos < len(text) && !utf8.RuneStart(text[e.Pos]):
				t.Fatalf("Read(%q): position %d is inside a character", text, e.Pos)
			case e.Kind == si.Ambiguous && len(e.Candidates) < 2:
				t.Fatalf("Read(%q): ambiguous with %d candidates", text, len(e.Candidates))
			}
			return
		}
		q := r.Quantity
		if q.Dim != u.Dim || !q.Finite() || r.Text == "" {
			t.Fatalf("Read(%q) = %#v", text, r)
		}
		want := si.Of(si.Round(q.Value, 10), q.Dim)
		for _, printed := range []string{q.FiguresIn(u, 10), q.String(), q.Plain()} {
			if u.Symbol == "%" && printed != q.FiguresIn(u, 10) {
				break // a bare number is a percentage where that is asked
			}
			back, err := si.Read(printed, u)
			if err != nil || back.Quantity != want {
				t.Fatalf("Read(%q) = %v, printed %q, read back as %v, %v", text, q.Value, printed, back.Quantity.Value, err)
			}
		}
		if _, err := si.Read(r.Text, u); err != nil {
			t.Fatalf("Read(%q) says %q, which does not read: %v", text, r.Text, err)
		}
	})
}

// FuzzUnitOf: whatever reads as a unit is written so that it reads as the same unit.
func FuzzUnitOf(f *testing.F) {
	for _, s := range []string{"mΩ", "K/W", "°C/W", "V/us", "mm2", "kg·m²·s⁻³", "1/K", "per cent", "k ohm", "V/A/s", "mm^-2", "Kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		u, err := si.UnitOf(text)
		if err != nil || u.Symbol == "C" {
			return
		}
		if back, err := si.UnitOf(u.Symbol); err != nil || back != u {
			t.Fatalf("UnitOf(%q) = %#v, which reads as %#v, %v", text, u, back, err)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	u := si.MustUnit("W")
	for _, s := range []string{"120 mW", "0.12", "2^2 * 30m", "1.5 x 10^-3 W"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := si.Read(s, u); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFigures(b *testing.B) {
	q := si.Of(0.1234567, si.Power)
	b.ReportAllocs()
	for b.Loop() {
		_ = q.Figures(3)
	}
}
