package part

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"testing"

	"fullyon/engine/read"
)

// wishes are one of each kind of datasheet.
func wishes() []Wish {
	var out []Wish
	for _, ch := range []Channel{N, P} {
		for _, v := range []float64{20, 30, 40, 60, 100} {
			for _, gate := range []string{"logic", "standard"} {
				for _, pkg := range Packages() {
					out = append(out, Wish{ch, v, gate, pkg})
				}
			}
		}
	}
	return out
}

// Every generated sheet is one that a circuit file may hold: no contradictions,
// and the text reads back as the same part.
func TestGeneratedPartsReadBack(t *testing.T) {
	for n, w := range wishes() {
		for seed := range uint64(20) {
			p := Generate(seed*1000+uint64(n), w)
			doc, err := read.Parse("part", []byte("part:\n"+Write(p, 2)))
			if err != nil {
				t.Fatal(err)
			}
			got := Read(doc.Root().Map().Sub("part"))
			if err := doc.Err(); err != nil {
				t.Fatalf("%+v seed %d: %v\n%s", w, seed, err, Write(p, 2))
			}
			if fmt.Sprint(got) != fmt.Sprint(p) {
				t.Fatalf("reads back as another part:\n%v\n%v", got, p)
			}
			if p.LogicLevel() != (w.Gate == "logic") {
				t.Fatalf("%+v seed %d: logic level %v", w, seed, p.LogicLevel())
			}
		}
	}
}

// The rules that hold for the drawer hold for generated sheets too.
func TestGeneratedPartsArePhysical(t *testing.T) {
	for n, w := range wishes() {
		for seed := range uint64(20) {
			p := Generate(seed*1000+uint64(n), w)
			c := &p.Characteristics
			k, _ := p.Ratio(p.Ratings.Junction.Value)
			theta := p.Thermal.JunctionAmbient.Value
			if p.Ratings.IDAt == AtCase {
				theta = p.Thermal.JunctionCase.Value
			}
			best := c.RDSOn[len(c.RDSOn)-1]
			most := math.Sqrt((p.Ratings.Junction.Value - 25) / (theta * best.Max.Value * k))
			if p.Ratings.ID.Value > most*1.0001 {
				t.Errorf("%s: headline %v A, the heat allows %v A", p.Name, p.Ratings.ID.Value, most)
			}
			if v := c.VPlateau.Value; v <= c.VGSTh.Typ.Value || v >= c.RDSOn[0].VGS.Value {
				t.Errorf("%s: plateau %v V", p.Name, v)
			}
			if s := c.ZTh.Steady(); math.Abs(s-map[Rated]float64{AtCase: p.Thermal.JunctionCase.Value, AtAmbient: p.Thermal.JunctionAmbient.Value}[c.ZTh.To]) > 1e-6 {
				t.Errorf("%s: the cells sum to %v K/W", p.Name, s)
			}
			if w.Gate == "logic" && c.VGSTh.Max.Value > 3 || w.Gate == "standard" && (c.VGSTh.Min.Value < 1.8 || c.VGSTh.Max.Value > 4.4) {
				t.Errorf("%s: threshold %v", p.Name, c.VGSTh)
			}
			if !slices.IsSortedFunc(c.RDSOn, func(a, b Row) int { return -int(math.Copysign(1, a.Max.Value-b.Max.Value)) }) {
				t.Errorf("%s: resistance does not fall with the gate voltage", p.Name)
			}
		}
	}
}

// figure is one number by which datasheets of a class are compared.
type figure struct {
	name string
	of   func(p *Part) float64
}

var figures = []figure{
	{"R_DS(on) max in the highest row, mΩ", func(p *Part) float64 {
		rows := p.Characteristics.RDSOn
		return rows[len(rows)-1].Max.Value * 1000
	}},
	{"Q_G × R_DS(on) at the charge's own voltage, nC mΩ per volt", func(p *Part) float64 {
		rows := p.Characteristics.RDSOn
		return p.Characteristics.QG.Value * 1e9 * rows[len(rows)-1].Max.Value * 1000 / p.Characteristics.QGAt.Value
	}},
	{"Q_GD / Q_G", func(p *Part) float64 { return p.Characteristics.QGD.Value / p.Characteristics.QG.Value }},
	{"θ_JC, K/W", func(p *Part) float64 { return p.Thermal.JunctionCase.Value }},
	{"θ_JA, K/W", func(p *Part) float64 { return p.Thermal.JunctionAmbient.Value }},
	{"V_GS(th) max, V", func(p *Part) float64 { return p.Characteristics.VGSTh.Max.Value }},
	{"rise of R_DS(on) to 100 °C", func(p *Part) float64 { k, _ := p.Ratio(100); return k }},
	{"headline I_D, A", func(p *Part) float64 { return p.Ratings.ID.Value }},
}

// published are datasheet figures in the order of figures; NaN where the sheet
// has none. Sources: IRLZ44N (PD-9.1346B), IRF540N (PD-91341B), IRF530
// (PD-9.307O), IRF9540N (PD-94790A), IRFZ44N (PD-94053), IRLB8721 (PD-97390),
// IRFB3806 (PD-97310), IRLML6344 (2014), AO3400A (Rev 3.1), AO3401 (Rev 6.1),
// FQP27P06 (Rev A2), BUK7Y12-55B through AN11158.
var nan = math.NaN()

var published = []struct {
	name string
	wish Wish
	x    []float64
}{
	{"IRLZ44N", Wish{N, 60, "logic", "TO-220"}, []float64{22, 48 * 22.0 / 5, 25.0 / 48, 1.4, 62, 2.0, 1.55, 47}},
	{"IRF540N", Wish{N, 100, "standard", "TO-220"}, []float64{44, 71 * 44.0 / 10, 21.0 / 71, 1.15, 62, 4.0, 1.8, 33}},
	{"IRF530", Wish{N, 100, "standard", "TO-220"}, []float64{160, 26 * 160.0 / 10, 11.0 / 26, 1.7, 62, 4.0, nan, 14}},
	{"IRF520", Wish{N, 100, "standard", "TO-220"}, []float64{270, 16 * 270.0 / 10, 7.7 / 16, 2.5, 62, 4.0, nan, 9.2}},
	{"IRFZ44N", Wish{N, 60, "standard", "TO-220"}, []float64{17.5, 63 * 17.5 / 10, 23.0 / 63, 1.5, 62, 4.0, nan, 49}},
	{"IRFB3806", Wish{N, 60, "standard", "TO-220"}, []float64{15.8, 30 * 15.8 / 10, 6.3 / 22, 2.12, 62, 4.0, 1.55, 43}},
	{"IRLB8721", Wish{N, 30, "logic", "TO-220"}, []float64{8.7, 13 * 8.7 / 4.5, 3.4 / 7.6, 2.3, 62, 2.35, nan, 62}},
	{"IRLML6344", Wish{N, 30, "logic", "SOT-23"}, []float64{29, 6.8 * 29 / 4.5, 2.4 / 6.8, nan, 100, 1.1, nan, 5.0}},
	{"AO3400A", Wish{N, 30, "logic", "SOT-23"}, []float64{26.5, 7 * 26.5 / 4.5, 1.8 / 6, nan, 125, 1.45, nan, 5.7}},
	{"IRF9540N", Wish{P, 100, "standard", "TO-220"}, []float64{117, 97 * 117.0 / 10, 51.0 / 97, 1.1, 62, 4.0, nan, 23}},
	{"AO3401", Wish{P, 30, "logic", "SOT-23"}, []float64{50, 14 * 50.0 / 10, 2.5 / 14, nan, 125, 1.3, nan, 4.0}},
	{"FQP27P06", Wish{P, 60, "standard", "TO-220"}, []float64{70, 43 * 70.0 / 10, 18.0 / 33, 1.25, 62.5, 4.0, nan, 27}},
}

// A published sheet lies within the generator's own spread: each of its figures
// between the smallest and the largest of 4,000 sheets drawn for the same class.
func TestPublishedPartsLieInTheSpread(t *testing.T) {
	for _, pub := range published {
		for i, f := range figures {
			x := pub.x[i]
			if math.IsNaN(x) {
				continue
			}
			drawn := make([]float64, 4000)
			for seed := range drawn {
				p := Generate(uint64(seed), pub.wish)
				drawn[seed] = f.of(&p)
			}
			sort.Float64s(drawn)
			rank := float64(sort.SearchFloat64s(drawn, x)) / float64(len(drawn))
			if !(x >= drawn[0] && x <= drawn[len(drawn)-1]) {
				t.Errorf("%s: %s is %.4g, drawn are %.4g … %.4g", pub.name, f.name, x, drawn[0], drawn[len(drawn)-1])
			}
			t.Logf("%-10s %-55s %8.4g at %3.0f %%", pub.name, f.name, x, 100*rank)
		}
	}
}

func BenchmarkGenerate(b *testing.B) {
	seed := uint64(0)
	for b.Loop() {
		Generate(seed, Wish{})
		seed++
	}
}
