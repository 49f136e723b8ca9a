package part

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

func TestDrawerHoldsWhatItPromises(t *testing.T) {
	parts, err := ReadDrawer("drawer.yaml", drawerYAML)
	if err != nil {
		t.Fatalf("the drawer does not read:\n%v", err)
	}
	channels, volts := map[Channel]int{}, map[float64]int{}
	form := regexp.MustCompile(`^LY-[NP]\d+-\d+$`)
	for _, p := range parts {
		channels[p.Channel]++
		volts[p.Ratings.VDS.Value]++
		family := fmt.Sprintf("LY-%s%v-", p.Channel, p.Ratings.VDS.Value)
		if !form.MatchString(p.Name) || !strings.HasPrefix(p.Name, family) {
			t.Errorf("%s: the name does not begin with %s", p.Name, family)
		}
	}
	if channels[N] < 44 || channels[P] < 20 {
		t.Errorf("%d N and %d P parts, want 44 and 20", channels[N], channels[P])
	}
	for _, v := range []float64{20, 30, 40, 60, 100} {
		if volts[v] == 0 {
			t.Errorf("no part of %v V", v)
		}
	}
}

// rule is one thing that must hold of every invented part, with its ground.
type rule struct {
	name   string
	source string
	holds  func(p *Part) string // "" or what is wrong
}

// within complains when x lies outside [lo, hi].
func within(what string, x, lo, hi float64) string {
	if x >= lo && x <= hi {
		return ""
	}
	return fmt.Sprintf("%s = %.4g, want %.4g to %.4g", what, x, lo, hi)
}

var rules = []rule{
	{"headline current", "J2, J11: I_D = √((T_J − 25)/(θ R_hot)); as sheets do, rounded down", func(p *Part) string {
		theta, row := p.Thermal.JunctionCase.Value, p.Characteristics.RDSOn[len(p.Characteristics.RDSOn)-1]
		if p.Ratings.IDAt == AtAmbient {
			theta = p.Thermal.JunctionAmbient.Value
			if r, fit := p.RowFor(4.5); fit == Guaranteed {
				row = r
			}
		}
		k, _ := p.Ratio(p.Ratings.Junction.Value)
		full := math.Sqrt((p.Ratings.Junction.Value - 25) / (theta * row.Max.Value * k))
		return within("i_d over the thermal limit", p.Ratings.ID.Value/full, 0.9, 1)
	}},
	{"case or air", "engine.md §5: tab packages at case, small ones in air", func(p *Part) string {
		tab := p.Package == "TO-220" || p.Package == "DPAK"
		if tab != (p.Ratings.IDAt == AtCase) {
			return fmt.Sprintf("i_d_at %s does not go with %s", p.Ratings.IDAt, p.Package)
		}
		return ""
	}},
	{"package", "thermal resistances as in engine-checks §6: TO-220 62, SOT-23 90 to 357, small ones above their case's", func(p *Part) string {
		band := map[string][2]float64{"SOT-23": {80, 360}, "TO-92": {125, 200}, "SOT-223": {50, 80}, "SO-8": {40, 62.5}, "DPAK": {40, 60}, "TO-220": {60, 65}}[p.Package]
		return within("theta_ja of "+p.Package, p.Thermal.JunctionAmbient.Value, band[0], band[1])
	}},
	{"figure of merit", "engine-checks §6, typ R × Q_g at 10 V: AO3400A 230, IRLB8721 110, IRFB3806 280, IRF540N 2500, 2N7000 3500 mΩ nC; a P channel two to three times that", func(p *Part) string {
		c := &p.Characteristics
		last := c.RDSOn[len(c.RDSOn)-1]
		q10 := c.QG.Value + (c.QG.Value-c.QGS.Value-c.QGD.Value)/(c.QGAt.Value-c.VPlateau.Value)*(10-c.QGAt.Value)
		fom := last.Typ.Value * q10 * 1e12
		if p.Channel == P {
			fom /= 2.6
		}
		band := map[float64][2]float64{20: {50, 400}, 30: {80, 600}, 40: {120, 700}, 60: {200, 3500}, 100: {500, 4500}}[p.Ratings.VDS.Value]
		return within("R × Q_g in mΩ nC", fom, band[0], band[1])
	}},
	{"capacitance and charge", "charge slope past the plateau over C_iss: IRFB3806 1.9, AO3400A 1.7, IRF520 2.4; Q_gs over C_iss V_pl: AO3400A 1.15, IRFB3806 0.87", func(p *Part) string {
		c := &p.Characteristics
		slope := (c.QG.Value - c.QGS.Value - c.QGD.Value) / (c.QGAt.Value - c.VPlateau.Value)
		if s := within("slope over c_iss", slope/c.CIss.Value, 0.9, 2.6); s != "" {
			return s
		}
		return within("q_gs over c_iss v_plateau", c.QGS.Value/(c.CIss.Value*c.VPlateau.Value), 0.5, 1.8)
	}},
	{"capacitances in order", "C_rss is part of C_iss and of C_oss (S16)", func(p *Part) string {
		c := &p.Characteristics
		if s := within("c_rss over c_iss", c.CRss.Value/c.CIss.Value, 0.01, 0.25); s != "" {
			return s
		}
		return within("c_oss over c_iss", c.COss.Value/c.CIss.Value, 0.05, 0.6)
	}},
	{"gate", "engine-checks §6: standard gate ±20 V and 2 to 4 V; logic level ±8 to ±16 V and at most 3 V", func(p *Part) string {
		r, th := &p.Ratings, &p.Characteristics.VGSTh
		if !p.LogicLevel() {
			if r.VGSMax.Value != 20 || th.Min.Value < 2 || th.Max.Value > 4 {
				return fmt.Sprintf("standard gate with ±%v V and %v to %v V", r.VGSMax.Value, th.Min.Value, th.Max.Value)
			}
			return ""
		}
		if th.Max.Value > 3 {
			return fmt.Sprintf("logic level with a threshold up to %v V", th.Max.Value)
		}
		return within("v_gs rating", r.VGSMax.Value, 8, 16)
	}},
	{"rise with temperature", "engine.md: without a table k = 1 + α (T − 25) is the upper side of the sheets; AO3400A at 125 °C 1.43 is the lower", func(p *Part) string {
		k, fromTable := p.Ratio(125)
		if !fromTable && p.Name != "LY-N30-4" {
			return "no table"
		}
		return within("k(125 °C)", k, 1.38, 1+p.alpha()*100+1e-9)
	}},
	{"columns", "typ over max of R_DS(on), engine-checks T2, T3: 0.68 and 0.82", func(p *Part) string {
		for _, r := range p.Characteristics.RDSOn {
			if s := within("typ over max", r.Typ.Value/r.Max.Value, 0.65, 0.9); s != "" {
				return s
			}
			if r.ID.Value > p.Ratings.ID.Value {
				return "a row is tested above the headline current"
			}
		}
		return ""
	}},
	{"thermal cells", "the cells of a response add up to the steady value (Z10)", func(p *Part) string {
		z, want := p.Characteristics.ZTh, p.Thermal.JunctionCase.Value
		if len(z.Cells) == 0 {
			return ""
		}
		if z.To == AtAmbient {
			want = p.Thermal.JunctionAmbient.Value
		}
		return within("sum of the cells over theta", z.Steady()/want, 0.999, 1.001)
	}},
	{"avalanche", "A15: t = 2E/(1.3 BV I), ΔT = ½ 1.3 BV I Z_th(t) must not pass the junction rating", func(p *Part) string {
		r := &p.Ratings
		if r.EAS.Known() != r.IAS.Known() {
			return "e_as and i_as go together"
		}
		if !r.EAS.Known() {
			return ""
		}
		power := 0.5 * 1.3 * r.VDS.Value * r.IAS.Value
		rise := power * p.Characteristics.ZTh.At(r.EAS.Value/power)
		return within("rise over the rating's room", rise/(r.Junction.Value-25), 0.5, 1)
	}},
}

func TestDrawerIsPhysical(t *testing.T) {
	for _, p := range Drawer() {
		for _, r := range rules {
			if wrong := r.holds(&p); wrong != "" {
				t.Errorf("%s: %s: %s (%s)", p.Name, r.name, wrong, r.source)
			}
		}
	}
}

// meanLog is the geometric mean of f over the logic-level parts of a channel and a voltage.
func meanLog(ch Channel, volts float64, f func(p *Part) float64) float64 {
	sum, n := 0.0, 0.0
	for _, p := range Drawer() {
		if p.Channel == ch && p.Ratings.VDS.Value == volts {
			sum, n = sum+math.Log(f(&p)), n+1
		}
	}
	return math.Exp(sum / n)
}

// R C_iss stands for the resistance at one die size. Holes move two to three
// times more slowly than electrons (engine-checks §6: AO3401 against AO3400A
// 50/26.5 mΩ × 645/630 pF; IRF9540N against IRF540N 117/44 × 1300/1960).
func TestPChannelIsTwoToThreeTimesWorse(t *testing.T) {
	product := func(p *Part) float64 {
		rows := p.Characteristics.RDSOn
		return rows[len(rows)-1].Typ.Value * p.Characteristics.CIss.Value
	}
	for _, v := range []float64{20, 30, 40, 60, 100} {
		if wrong := within("P over N", meanLog(P, v, product)/meanLog(N, v, product), 1.8, 3.3); wrong != "" {
			t.Errorf("%v V: %s", v, wrong)
		}
	}
}

// The figure of merit must rise with the voltage class (engine.md §5).
func TestResistanceRisesWithVoltage(t *testing.T) {
	product := func(p *Part) float64 {
		rows := p.Characteristics.RDSOn
		return rows[len(rows)-1].Typ.Value * p.Characteristics.CIss.Value
	}
	for _, ch := range []Channel{N, P} {
		last := 0.0
		for _, v := range []float64{20, 30, 40, 60, 100} {
			now := meanLog(ch, v, product)
			if now <= last {
				t.Errorf("%s at %v V: R C_iss %.3g is not above %.3g of the class below", ch, v, now, last)
			}
			last = now
		}
	}
}

func TestFind(t *testing.T) {
	p, ok := Find("LY-N30-4")
	if !ok || p.Characteristics.RDSOn[0].Max.Value != 0.03 || p.Ratings.ID.Value != 5 || p.Thermal.JunctionAmbient.Value != 90 {
		t.Errorf("LY-N30-4 is %+v", p)
	}
	if _, ok := Find("LY-N30-99"); ok {
		t.Error("LY-N30-99 was found")
	}
	if got := NearestName("ly-n30_4"); got != "LY-N30-4" {
		t.Errorf("the nearest of ly-n30_4 is %q", got)
	}
	Drawer()[0].Name = "changed"
	if Drawer()[0].Name == "changed" {
		t.Error("a caller can rename a part for everybody")
	}
}

func TestReadDrawerTellsMistakes(t *testing.T) {
	for src, want := range map[string]string{
		"parts:\n  - {name: A, channel: N}\n  - {name: A, channel: P}\n": `d.yaml:3:12: a part named "A" stands in line 2 already`,
		"part: []\n":              `d.yaml:1:1: the document lacks the key "parts"`,
		"parts:\n  - {name: A}\n": `d.yaml:2:5: this entry lacks the key "channel"`,
		"parts: [3]\n":            "d.yaml:1:9: keys with values are asked for",
		"":                        "d.yaml:1:1: there is nothing",
	} {
		if _, err := ReadDrawer("d.yaml", []byte(src)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %s", src, err, want)
		}
	}
}

func BenchmarkReadDrawer(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadDrawer("drawer.yaml", drawerYAML); err != nil {
			b.Fatal(err)
		}
	}
}
