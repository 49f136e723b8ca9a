package figure

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/si"
)

// randomLine draws a key, a band, slips near and far, and an answer.
func randomLine(r *rand.Rand) Line {
	units := []string{"mW", "W", "°C", "ohm", "V", "A", "%", "", "us", "K/W"}
	u, err := si.UnitOf(units[r.IntN(len(units))])
	if err != nil {
		panic(err)
	}
	key := math.Pow(10, r.Float64()*7-4)
	if u.Dim == si.Temperature {
		key = 20 + 140*r.Float64()
	} else if r.IntN(8) == 0 {
		key = -key
	}
	tol := math.Abs(key) * []float64{0.005, 0.02, 0.05, 0.3}[r.IntN(4)]
	l := Line{Asked: u, Key: at(key), Low: at(key - tol), High: at(key + tol), Open: r.IntN(6) > 0, Figures: r.IntN(4)}
	if r.IntN(6) == 0 {
		l.Low = nil
	}
	if r.IntN(6) == 0 {
		l.High = nil
	}
	if r.IntN(8) == 0 {
		l.Key = nil
	}
	names := []string{"typical, not max", "row at 10 V", "I × R, not I² × R", "cold resistance in a hot part", "milli forgotten", "square",
		"the sheet’s headline current taken for the current that this part can carry here", "<b>", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"}
	for range r.IntN(11) {
		f := math.Pow(10, r.NormFloat64()*[]float64{0.02, 0.2, 1.5}[r.IntN(3)])
		l.Slips = append(l.Slips, Mark{Label: names[r.IntN(len(names))], Value: key * f, Yours: r.IntN(8) == 0, Count: r.IntN(4)})
	}
	if r.IntN(6) > 0 {
		l.Yours = at(key * math.Pow(10, r.NormFloat64()))
		if n := len(l.Slips); n > 0 && r.IntN(2) == 0 {
			l.Yours = at(l.Slips[r.IntN(n)].Value * (1 + 0.01*r.Float64()))
		}
	}
	if r.IntN(3) == 0 {
		l.Width = lineNarrow
	}
	return l
}

func TestAnswerLineIsLegible(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	bad := 0
	for i := range 800 {
		l := randomLine(r)
		f := AnswerLine(l)
		if s := crowded(withoutAxis(f.Scene)); s != "" {
			t.Errorf("line %d: %s\n%s", i, s, f.Title)
			if bad++; bad > 10 {
				t.FailNow()
			}
		}
		if err := wellFormed(f.SVG("x"), "x"); err != nil {
			t.Fatalf("line %d: %v", i, err)
		}
		for _, line := range strings.Split(l.Text(60), "\n") {
			if columns(line) > 60 && len(strings.Fields(line)) > 2 {
				t.Errorf("line %d: %q is wider than 60", i, line)
			}
		}
	}
}

// withoutAxis leaves the marks' own circles out: a number may stand right above one.
func withoutAxis(s *Scene) *Scene {
	c := *s
	c.Shapes = nil
	for _, p := range s.Shapes {
		if p.Kind != Circle {
			c.Shapes = append(c.Shapes, p)
		}
	}
	return &c
}

// While the question is not closed, nothing may depend on the key, the band or the slips.
func TestAnswerLineKeepsTheKey(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		l := randomLine(r)
		l.Open = false
		if l.Yours == nil {
			l.Yours = at(1)
		}
		alone := Line{Asked: l.Asked, Yours: l.Yours, Figures: l.Figures, Width: l.Width}
		f, g := AnswerLine(l), AnswerLine(alone)
		if f.SVG("a") != g.SVG("a") || l.Text(70) != alone.Text(70) || !cmp.Equal(f.Facts, g.Facts) {
			t.Fatalf("the line of an open question tells more than the answer:\n%s\n%s", f.SVG("a"), g.SVG("a"))
		}
	}
}

func TestAnswerLineWords(t *testing.T) {
	l := lineExamples()[0]
	f := AnswerLine(l)
	want := "Answer line: yours 120 mW; accepted 132–140 mW, key 136 mW; slips: 60.0 mW (I × R, not I² × R), 98.0 mW (row at 10 V), " +
		"108 mW (typical, not max), 120 mW (cold resistance in a hot part), which yours matches"
	if got := plainSpaces(f.Title); got != want {
		t.Errorf("title\n got %s\nwant %s", got, want)
	}
	facts := []string{"Yours: 120 mW", "Accepted 132–140 mW", "Key: 136 mW", "Slip: 60.0 mW (I × R, not I² × R)", "Slip: 98.0 mW (row at 10 V)",
		"Slip: 108 mW (typical, not max)", "Slip: 120 mW (cold resistance in a hot part), which yours matches"}
	got := strings.Split(plainSpaces(strings.Join(f.Facts, "\n")), "\n")
	if d := cmp.Diff(facts, got); d != "" {
		t.Error(d)
	}
}

// The axis is logarithmic beyond about six times, and never for temperatures.
func TestAnswerLineScale(t *testing.T) {
	w, c := si.MustUnit("W"), si.MustUnit("°C")
	for _, x := range []struct {
		name string
		line Line
		log  bool
	}{
		{"near", Line{Asked: w, Key: at(1), Yours: at(5), Open: true}, false},
		{"far", Line{Asked: w, Key: at(1), Yours: at(8), Open: true}, true},
		{"too far for the axis", Line{Asked: w, Key: at(1), Yours: at(1000), Open: true}, false},
		{"temperatures", Line{Asked: c, Key: at(10), Yours: at(100), Open: true}, false},
		{"negative", Line{Asked: w, Key: at(-1), Yours: at(5), Open: true}, false},
	} {
		d := x.line.resolve()
		if got := d.spread().log; got != x.log {
			t.Errorf("%s: logarithmic %v", x.name, got)
		}
	}
}

func TestAnswerLineText(t *testing.T) {
	got := lineExamples()[3].Text(60)
	for _, want := range []string{"▸", "◆ yours 1.36 kW", "▒ accepted 132–140 mW", "█ key 136 mW", "○ 98.0 mW (row at 10 V)"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
}

func BenchmarkAnswerLine(b *testing.B) {
	l := lineExamples()[0]
	b.ReportAllocs()
	for b.Loop() {
		f := AnswerLine(l)
		f.SVG("a")
	}
}
