package figure

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fullyon/engine/si"
)

func TestReadOff(t *testing.T) {
	s, a := si.MustUnit("s"), si.MustUnit("A")
	straight := Series{Points: []XY{{1, 10}, {100, 1000}}}
	for _, c := range []struct {
		name    string
		x, y    bool // logarithmic
		at      float64
		want    float64
		outside bool
	}{
		{"linear", false, false, 50.5, 505, false}, {"both logarithmic", true, true, 10, 100, false},
		{"half logarithmic", false, true, 50.5, 100, false}, {"end", true, true, 100, 1000, false}, {"outside", true, true, 101, 0, true},
	} {
		p := Plot{X: Axis{Unit: s, Min: 1, Max: 100, Log: c.x}, Y: Axis{Unit: a, Min: 10, Max: 1000, Log: c.y}}
		got, ok := p.read(&straight, c.at)
		if ok == c.outside || math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%s: %v %v", c.name, got, ok)
		}
	}
}

func TestPlotWithLimitsAndLogAxes(t *testing.T) {
	p := Plot{Title: "Area of operation", X: Axis{Label: "V_{DS}", Unit: si.MustUnit("V"), Min: 0.1, Max: 100, Log: true},
		Y:      Axis{Label: "I_{D}", Unit: si.MustUnit("A"), Min: 0.01, Max: 100, Log: true},
		Series: []Series{{Name: "1 ms", Points: []XY{{0.1, 5}, {1, 20}, {30, 1}}}, {Name: "10 ms", Points: []XY{{0.1, 5}, {1, 10}, {30, 0.2}}, Dash: Dashed}},
		Limits: []Limit{{Label: "V_{DSS}", Value: 30, Upright: true}, {Label: "I_{DM}", Value: 40}}}
	f := p.Draw()
	if s := crowded(f.Scene); s != "" {
		t.Error(s)
	}
	svg := f.SVG("soa")
	for _, want := range []string{`data-x-scale="log"`, `data-y-unit="A"`, `data-points="0.1,5 1,20 30,1"`, `data-name="10 ms"`, `class="fails"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("%s is missing in %s", want, svg)
		}
	}
	if facts := plainSpaces(strings.Join(f.Facts, "\n")); !strings.Contains(facts, "Limit, V_DSS: 30 V") {
		t.Error(facts)
	}
}

// Ticks lie on the axis, are labelled with room between, and there are two at least.
func TestTicks(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		low := math.Pow(10, r.Float64()*10-5)
		s := scale{min: low, max: low * math.Pow(10, 0.8+4*r.Float64()), log: true, p0: 30, p1: 600}
		if r.IntN(2) == 0 {
			s.log = false
			s.min = -s.max * r.Float64()
		}
		room := func(v float64) float64 { x := Shape{Text: tickText(v), Size: 12}; return x.measure() }
		labelled, all := s.ticks(room)
		if len(labelled) < 2 || len(all) > 120 {
			t.Fatalf("%+v: labels %v, %d ticks", s, labelled, len(all))
		}
		for _, v := range labelled {
			if p := s.at(v); p < s.p0-0.01 || p > s.p1+0.01 {
				t.Fatalf("%+v: %v is off the axis", s, v)
			}
		}
		if len(labelled) > 2 && !s.fits(labelled, room) {
			t.Fatalf("%+v: labels %v are too close", s, labelled)
		}
	}
}
