package part

import (
	"math"
	"slices"
	"testing"

	"fullyon/engine/si"
)

// Published values that the curves must reproduce. Keys are those of the list of
// engine checks; tolerances are half a unit of the last printed digit, wider where
// the source rounds on the way or the value was read off a graph.

func celsiusOf(v float64) si.Quantity { return si.Of(v, si.Temperature) }
func kelvinPerWatt(v float64) si.Quantity {
	return si.Of(v, si.ThermalResistance)
}

func TestPublishedDerating(t *testing.T) {
	rated := func(i, hot float64, at Rated) Part {
		return Part{Ratings: Ratings{ID: ampere(i), IDAt: at, Junction: celsiusOf(hot)}}
	}
	for _, tt := range []struct {
		source      string
		part        Part
		temperature float64
		want, tol   float64
	}{
		{"J4: AN11158 eq. 2", rated(61.8, 175, AtCase), 75, 50, 1},
		{"J5: AN11158 table 3", rated(61.8, 175, AtCase), 100, 43.7, 0.05},
		{"J7: IRLZ44N", rated(47, 175, AtCase), 100, 33, 0.5},
		{"J7: IRF540N", rated(33, 175, AtCase), 100, 23, 0.5},
		{"J7: IRF520", rated(9.2, 175, AtCase), 100, 6.5, 0.05},
		{"J7: IRF530, rounded up by the sheet", rated(14, 175, AtCase), 100, 10, 0.2},
		{"J7: IRF9540N, two digits", rated(23, 175, AtCase), 100, 16, 0.5},
		{"J7: IRLB8721", rated(62, 175, AtCase), 100, 44, 0.5},
		{"J7: IRFZ44N", rated(49, 175, AtCase), 100, 35, 0.5},
		{"J7: IRLIZ44G", rated(30, 175, AtCase), 100, 21, 0.5},
		{"J7: FQP27P06", rated(27, 175, AtCase), 100, 19.1, 0.05},
		{"J7: IRFB3806 prints 31 A, 2 % above the formula", rated(43, 175, AtCase), 100, 31, 0.7},
		{"J8: IRLML6344, air", rated(5, 150, AtAmbient), 70, 4, 1e-9},
	} {
		c, err := tt.part.Derating()
		if err != nil {
			t.Fatalf("%s: %v", tt.source, err)
		}
		if got, err := c.At(tt.temperature, 0); err != nil || math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s: I_D at %v °C = %v, %v; want %v ± %v", tt.source, tt.temperature, got, err, tt.want, tt.tol)
		}
		if want := map[Rated]string{AtCase: "T_C", AtAmbient: "T_A"}[tt.part.Ratings.IDAt]; c.X.Symbol != want {
			t.Errorf("%s: the axis is %s, want %s", tt.source, c.X.Symbol, want)
		}
	}
}

func TestPublishedPower(t *testing.T) {
	path := func(theta, hot float64, at Rated) Part {
		p := Part{Ratings: Ratings{IDAt: at, Junction: celsiusOf(hot)}, Thermal: Thermal{JunctionCase: kelvinPerWatt(theta)}}
		if at == AtAmbient {
			p.Thermal = Thermal{JunctionAmbient: kelvinPerWatt(theta)}
		}
		return p
	}
	for _, tt := range []struct {
		source      string
		part        Part
		temperature float64
		want, tol   float64
	}{
		{"J1: AN11158 eq. 5", path(1.42, 175, AtCase), 25, 105.63, 0.005},
		{"J6: AN11158 eq. 3, 105 W at 25 °C", path(150.0/105, 175, AtCase), 75, 70, 0.5},
		{"J9: FQP27P06", path(1.25, 175, AtCase), 25, 120, 0.5},
		{"J9: IRF520", path(2.5, 175, AtCase), 25, 60, 0.5},
		{"J9: IRF540N", path(1.15, 175, AtCase), 25, 130, 0.5},
		{"J9: IRF530", path(1.7, 175, AtCase), 25, 88, 0.5},
		{"J9: IRFB3806", path(2.12, 175, AtCase), 25, 71, 0.5},
		{"J9: IRLB8721", path(2.3, 175, AtCase), 25, 65, 0.5},
		{"J9: IRLB8721, case at 100 °C", path(2.3, 175, AtCase), 100, 33, 0.5},
		{"J9: 2N7000 (ST)", path(125, 150, AtAmbient), 25, 1.0, 0.005},
		{"J9: 2N7000 (Diotec)", path(357, 150, AtAmbient), 25, 0.35, 0.005},
		{"J9: AO3400A, 10 s", path(90, 150, AtAmbient), 25, 1.4, 0.05},
		{"J9: AO3400A in air of 70 °C", path(90, 150, AtAmbient), 70, 0.9, 0.05},
	} {
		c, err := tt.part.PowerDerating()
		if err != nil {
			t.Fatalf("%s: %v", tt.source, err)
		}
		if got, err := c.At(tt.temperature, 0); err != nil || math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s: P at %v °C = %v, %v; want %v ± %v", tt.source, tt.temperature, got, err, tt.want, tt.tol)
		}
	}
	// J10: the derating factor printed beside it is the slope, 1/θ.
	for name, tt := range map[string][2]float64{"FQP27P06": {1.25, 0.8}, "IRF520": {2.5, 0.40}, "IRF540N": {1.15, 0.87}, "IRLZ44N": {1.4, 0.71}, "IRF9540N": {1.1, 0.91}, "IRLB8721": {2.3, 0.43}} {
		p := path(tt[0], 175, AtCase)
		c, _ := p.PowerDerating()
		a, _ := c.At(50, 0)
		b, _ := c.At(60, 0)
		if slope := (a - b) / 10; math.Abs(slope-tt[1]) > 0.005 {
			t.Errorf("J10 %s: %v W/K, want %v", name, slope, tt[1])
		}
	}
}

func cells(network Network, to Rated, rt ...float64) Response {
	z := Response{To: to, Network: network}
	for i := 0; i < len(rt); i += 2 {
		z.Cells = append(z.Cells, cell(rt[i], rt[i+1]))
	}
	return z
}

func TestPublishedThermalResponse(t *testing.T) {
	// DS IRLB8721 (PD-97390) fig. 11 and DS IRFB3806 (PD-97310) fig. 13.
	foster := cells(Foster, AtCase, 0.003454, 13.68748, 0.17246, 7.21e-5, 0.786312, 0.001227, 1.368218, 0.007178)
	cauer := cells(Cauer, AtCase, 0.6086, 0.00026, 0.9926, 0.001228, 0.5203, 0.00812)
	for _, tt := range []struct {
		source     string
		response   Response
		series     int
		t          float64
		want, part float64 // part: relative tolerance
	}{
		{"Z7: IRLB8721, sum against R_θJC", foster, 0, 100, 2.3, 0.015},
		{"Z9: IRLB8721, short pulses at D = 0.5", foster, 1, 1e-6, 1.15, 0.05},
		{"Z9: at D = 0.2", foster, 2, 1e-6, 0.46, 0.05},
		{"Z9: at D = 0.1", foster, 3, 1e-6, 0.23, 0.05},
		{"Z10: IRFB3806, sum against R_θJC", cauer, 0, 100, 2.12, 0.001},
		{"Z11: read off the graph", cauer, 0, 1e-6, 0.0023, 0.05},
		{"Z11", cauer, 0, 1e-5, 0.023, 0.05},
		{"Z11", cauer, 0, 1e-4, 0.20, 0.05},
		{"Z11", cauer, 0, 1e-3, 0.9, 0.05},
		{"Z11", cauer, 0, 1e-2, 1.9, 0.05},
		{"Z11", cauer, 0, 1e-1, 2.1, 0.05},
		{"Z11: a solver's ladder", cauer, 0, 1e-3, 0.8675, 1e-3},
		{"Z11: a solver's ladder", cauer, 0, 1e-2, 1.8505, 1e-3},
	} {
		p := Part{Characteristics: Characteristics{ZTh: tt.response}}
		c, err := p.ZTh()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := c.At(tt.t, tt.series); err != nil || math.Abs(got-tt.want) > tt.part*tt.want {
			t.Errorf("%s: Z(%v s) = %v, %v; want %v within %v", tt.source, tt.t, got, err, tt.want, tt.part)
		}
	}
}

// Repeated pulses, summed one by one, lead to the closed form.
func TestRepeatedPulsesAddUp(t *testing.T) {
	z := cells(Foster, AtCase, 0.17246, 7.21e-5, 0.786312, 0.001227, 1.368218, 0.007178)
	for _, duty := range dutyFamily {
		const length = 2e-4
		period, sum := length/duty, 0.0
		for _, c := range z.Cells { // each pulse decays from its own end to that of the last one
			one := c.R.Value * -math.Expm1(-length/c.Tau.Value)
			for n := range 4000 {
				sum += one * math.Exp(-float64(n)*period/c.Tau.Value)
			}
		}
		if got := z.Repeated(length, duty); math.Abs(got-sum) > 1e-9*sum {
			t.Errorf("D = %v: %v, summed %v", duty, got, sum)
		}
	}
	if got := z.Repeated(1e-3, 0); got != z.At(1e-3) {
		t.Errorf("a duty of 0 is %v, the single pulse %v", got, z.At(1e-3))
	}
	if got := z.Repeated(0, 0.5); got != 0 {
		t.Errorf("no pulse: %v", got)
	}
}

func TestPublishedOperatingArea(t *testing.T) {
	// Z6: AND9093 p. 6. P 1 W, 45 A, R_hot 33.5 mΩ, 30 V.
	andArea := Part{
		Ratings:         Ratings{VDS: volt(30), IDPulse: ampere(45), Junction: celsiusOf(150)},
		Thermal:         Thermal{JunctionAmbient: kelvinPerWatt(125)},
		Characteristics: Characteristics{RDSOn: []Row{{VGS: volt(4.5), Max: ohm(0.0335 / 1.5)}}, Ratio: []Point{{celsiusOf(25), si.Of(1, si.One)}, {celsiusOf(150), si.Of(1.5, si.One)}}},
	}
	c, err := andArea.SOA()
	if err != nil {
		t.Fatal(err)
	}
	corner := 0.0 // where the R_DS(on) edge meets that of heat
	best := 0.0
	for i, y := range c.Series[0].Y {
		if y > best {
			best, corner = y, c.Series[0].X[i]
		}
	}
	within := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
		}
	}
	within("Z6: current at the corner", best, 5.464, 0.0005)
	within("Z6: voltage at the corner", corner, 0.1830, 0.00005)
	at30, err := c.At(30, 0)
	if err != nil {
		t.Fatal(err)
	}
	within("Z6: current at 30 V", at30, 0.0333, 0.00005)

	// Z5: AN11158 §3.1.2.2. 30 A for 1 ms: 20 V allowed from 25 °C, 10 V from 100 °C, 15 V refused.
	z := 150.0 / (30 * 20) // K/W at 1 ms, from the printed point
	linear := Part{
		Ratings: Ratings{VDS: volt(55), IDPulse: ampere(240), IDAt: AtCase, Junction: celsiusOf(175)},
		Thermal: Thermal{JunctionCase: kelvinPerWatt(1.42)},
		Characteristics: Characteristics{
			RDSOn: []Row{{VGS: volt(10), Max: ohm(0.012)}},
			ZTh:   cells(Foster, AtCase, z/-math.Expm1(-1), 1e-3, 1.42-z/-math.Expm1(-1), 10),
		},
	}
	for _, tt := range []struct{ from, v float64 }{{25, 20}, {100, 10}} {
		c, err := linear.SOAAt(tt.from)
		if err != nil {
			t.Fatal(err)
		}
		i, err := c.At(tt.v, 2)
		if err != nil || c.Series[2].Label != "1 ms" {
			t.Fatal(err, c.Series[2].Label)
		}
		// The slow second cell adds 0.01 % at 1 ms.
		within("Z5: current of 1 ms from "+celsiusOf(tt.from).String(), i, 30, 0.02)
		if more, _ := c.At(tt.v*1.5, 2); more >= 30 {
			t.Errorf("Z5: half more voltage still carries %v A", more)
		}
	}

	// Z4: AN11158 eq. 12. DC in linear mode, BUK9277-55A: 40 V, θ 2.93.
	dc := Part{
		Ratings:         Ratings{VDS: volt(55), IDAt: AtCase, Junction: celsiusOf(175)},
		Thermal:         Thermal{JunctionCase: kelvinPerWatt(2.93)},
		Characteristics: Characteristics{RDSOn: []Row{{VGS: volt(5), Max: ohm(0.077)}}},
	}
	if c, err = dc.SOA(); err != nil {
		t.Fatal(err)
	}
	got, err := c.At(40, 0)
	if err != nil {
		t.Fatal(err)
	}
	within("Z4: DC at 40 V", got, 1.28, 0.005)

	if _, err := linear.SOAAt(175); err == nil {
		t.Error("a start at the highest junction temperature leaves room")
	}
}

// The square law through two points: SLUP170 A3.
func TestPublishedSquareLaw(t *testing.T) {
	l := throughTwo(4.13, 3, 5.67, 20)
	for _, tt := range []struct {
		source         string
		got, want, tol float64
	}{
		{"S17: V_TH", l.zero(), 3.157, 0.001},
		{"S18: K; the source goes on from V_TH rounded to 3.157 V", l.rise * l.rise, 3.169, 0.004},
		{"S18: Miller level at 5 A", l.gate(5), 4.413, 0.001},
		{"first point", l.current(4.13), 3, 1e-9},
		{"second point", l.current(5.67), 20, 1e-9},
		{"below V_0", l.current(3), 0, 0},
	} {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("%s: %v, want %v", tt.source, tt.got, tt.want)
		}
	}
}

// The edge of thermal instability bends the lines of long pulses only, and falls
// twice as steeply as that of heat.
func TestInstabilityBendsLongPulses(t *testing.T) {
	tabs := slices.DeleteFunc(Drawer(), func(p Part) bool {
		return p.Ratings.IDAt != AtCase || p.Ratings.VDS.Value != 60 || len(p.Characteristics.ZTh.Cells) == 0
	})
	p := tabs[0]
	c, err := p.SOA()
	if err != nil {
		t.Fatal(err)
	}
	steepness := func(series int) float64 {
		a, err1 := c.At(40, series)
		b, err2 := c.At(60, series)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		return math.Log(b/a) / math.Log(60.0/40)
	}
	if got := steepness(0); math.Abs(got+2) > 1e-9 {
		t.Errorf("%s: DC falls as V^%v, want V^−2", p.Name, got)
	}
	if got := steepness(len(c.Series) - 1); got < -1-1e-9 {
		t.Errorf("%s: 10 µs falls as V^%v, no steeper than heat wanted", p.Name, got)
	}
}
