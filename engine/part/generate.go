package part

import (
	"fmt"
	"math"
	"math/rand/v2"

	"fullyon/engine/si"
)

// Wish is what a generated datasheet is to be like; empty fields are left to the draw.
type Wish struct {
	Channel Channel
	Volts   float64 // V_DSS, one of the classes 20, 30, 40, 60, 100
	Gate    string  // "logic" or "standard"
	Package string  // one of Packages
}

// outline is what a package does to the part inside it.
type outline struct {
	name         string
	least, most  float64 // area of the die, mm²
	lead         float64 // resistance of bond and lead, mΩ
	ja           [2]float64
	spread       float64 // K/W between the case under the die and the case as measured
	tab          bool    // rated with the case held at 25 °C
	hottest      float64 // °C
	slowest      float64 // s, how long board or tab takes to warm
	fastestPulse float64 // pulse current over headline current
}

// The outlines, small to large (JEDEC and common names). Areas and resistances:
// common practice, bounded by the published parts that a test holds against them.
var outlines = []outline{
	{"SOT-23", 0.25, 3, 2, [2]float64{80, 250}, 25, false, 150, 8, 4},
	{"SOT-223", 0.8, 4, 4, [2]float64{55, 90}, 8, false, 150, 12, 4},
	{"SO-8", 1.5, 9, 2, [2]float64{45, 70}, 12, false, 150, 15, 4},
	{"DPAK", 2, 12, 2, [2]float64{45, 55}, 0.4, true, 175, 25, 4},
	{"TO-220", 3.5, 30, 1.5, [2]float64{60, 65}, 0.3, true, 175, 60, 4},
}

// Packages lists the packages that the generator knows.
func Packages() []string {
	names := make([]string, len(outlines))
	for i, o := range outlines {
		names[i] = o.name
	}
	return names
}

// classes are the voltage classes with their share of the draws.
var classes = []float64{20, 30, 30, 40, 60, 60, 100}

// Generate draws a whole datasheet whose values hang together as those of a real
// one do. The same seed and wish give the same part on every machine: each value
// is rounded to two figures as it is made, and later ones rest on what is printed.
//
//   - specific on-resistance rises as V_DSS^2.3, about 25 mΩ mm² at 30 V for a new
//     process and up to eight times that for an old one; P channel 2.5 times N
//   - gate charge times resistance follows the age of the process too
//   - R_DS(on) falls with V_GS as 1/(V_GS − V_th)
//   - C_iss carries q_gs up to the plateau; the plateau lies between threshold and lowest row
//   - headline I_D = √((T_J,max − 25 °C)/(θ R_hot)), at the case for parts with a tab
//
// Sources: the trends of engine conventions; published sheets bound the spread.
func Generate(seed uint64, wish Wish) Part {
	g := &generator{rng: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))}
	p := Part{Channel: wish.Channel}
	if p.Channel == "" {
		p.Channel = N
		if g.rng.IntN(3) == 0 {
			p.Channel = P
		}
	}
	volts := wish.Volts
	if volts == 0 {
		volts = classes[g.rng.IntN(len(classes))]
	}
	o := g.outline(wish.Package)
	logic := wish.Gate == "logic" || wish.Gate == "" && g.rng.IntN(5) < 3
	p.Package = o.name
	p.Ratings.VDS = volt(volts)
	g.gate(&p, logic, volts)
	g.channel(&p, o, volts)
	g.thermal(&p, o)
	g.charge(&p, volts)
	g.headline(&p, o)
	g.avalanche(&p, o)
	p.Name = fmt.Sprintf("LY-%s%g-G%04d", p.Channel, volts, seed%10000)
	p.Note = "generated datasheet"
	return p
}

type generator struct {
	rng  *rand.Rand
	age  float64 // of the process: 0 new, 1 old
	area float64 // of the die, mm²
	vth  float64 // typical threshold, V
	rows []float64
}

// between draws evenly on a logarithmic scale.
func (g *generator) between(lo, hi float64) float64 { return lo * math.Pow(hi/lo, g.rng.Float64()) }

// about draws near a value: within a factor of spread on either side.
func (g *generator) about(v, spread float64) float64 { return g.between(v/spread, v*spread) }

func (g *generator) outline(name string) outline {
	for _, o := range outlines {
		if o.name == name {
			return o
		}
	}
	return outlines[g.rng.IntN(len(outlines))]
}

// printed rounds to the two figures of a sheet.
func printed(v float64) float64 { return si.Round(v, 2) }

func volt(v float64) si.Quantity   { return si.Of(v, si.Voltage) }
func ampere(v float64) si.Quantity { return si.Of(v, si.Current) }
func ohm(v float64) si.Quantity    { return si.Of(v, si.Resistance) }

// tenths rounds a voltage to what a sheet prints.
func tenths(v float64) float64 { return math.Round(v*20) / 20 }

// gate draws threshold, rating and the voltages at which rows are guaranteed.
// Published: thresholds up to about 3 V with logic level, 2 to 4 V without; V_GS
// ratings of ±20 V for standard gates, ±8 to ±16 V mostly for logic level.
func (g *generator) gate(p *Part, logic bool, volts float64) {
	c, limit := &p.Characteristics, 20.0
	lo, hi := 2.0, 4.0
	g.rows = []float64{10}
	switch {
	case !logic:
	case volts <= 20 || volts <= 30 && g.rng.IntN(2) == 0:
		lo, hi, limit = 0.4, 1.0, 8
		g.rows = []float64{1.8, 2.5, 4.5}
		if g.rng.IntN(2) == 0 {
			lo, hi, limit = 0.6, 1.4, 12
			g.rows = []float64{2.5, 4.5, 10}
		}
	case volts <= 40:
		lo, hi, limit = 1.0, 2.3, []float64{16, 20}[g.rng.IntN(2)]
		g.rows = []float64{4.5, 10}
	default:
		lo, hi, limit = 1.0, 2.5, []float64{16, 20}[g.rng.IntN(2)]
		g.rows = [][]float64{{4.5, 10}, {5, 10}, {4, 5, 10}}[g.rng.IntN(3)]
	}
	lo, hi = tenths(lo*(0.92+0.16*g.rng.Float64())), tenths(hi*(0.8+0.28*g.rng.Float64()))
	g.vth = tenths((lo + hi) / 2)
	c.VGSTh = MinTypMax{Min: volt(lo), Typ: volt(g.vth), Max: volt(hi), At: ampere([]float64{50e-6, 250e-6, 250e-6, 1e-3}[g.rng.IntN(4)])}
	p.Ratings.VGSMax, p.Ratings.VGSMin = volt(limit), volt(limit)
}

// channel draws the resistance in each row and its rise with temperature.
func (g *generator) channel(p *Part, o outline, volts float64) {
	g.age = g.rng.Float64()
	g.area = g.between(o.least, o.most)
	specific := 25 * math.Pow(volts/30, 2.3) * math.Pow(8, g.age) // mΩ mm²
	if p.Channel == P {
		specific *= g.about(2.5, 1.2)
	}
	full := specific/g.area + o.lead // mΩ, typical, at the highest row
	top := g.rows[len(g.rows)-1]
	share := g.between(0.25, 0.55) // of the channel under the gate in all of it
	spread := 1.15 + 0.2*g.rng.Float64()
	for _, v := range g.rows {
		typ := full * (1 - share + share*(top-g.vth)/(v-g.vth))
		p.Characteristics.RDSOn = append(p.Characteristics.RDSOn, Row{
			VGS: volt(v), Typ: ohm(printed(typ) / 1000), Max: ohm(printed(typ*spread) / 1000),
		})
	}
	// The rise is steeper the more of the resistance lies in the drift layer.
	rise := 1.28 + 0.3*math.Log10(volts/20) + 0.35*g.rng.Float64() // at 100 °C
	for _, t := range []float64{25, 75, 100, 125, 150, 175} {
		if t > o.hottest {
			break
		}
		x := (t - 25) / 75
		k := 1 + (rise-1)*(0.92*x+0.08*x*x)
		p.Characteristics.Ratio = append(p.Characteristics.Ratio, Point{si.Of(t, si.Temperature), si.Of(math.Round(k*100)/100, si.One)})
	}
	p.Ratings.Junction = si.Of(o.hottest, si.Temperature)
}

// thermal draws the steady resistances and a Foster response that sums to them.
func (g *generator) thermal(p *Part, o outline) {
	jc := printed(g.about(7/g.area, 1.25) + o.spread)
	ja := printed(g.between(o.ja[0], o.ja[1]))
	jc = math.Min(jc, printed(0.6*ja))
	p.Thermal = Thermal{JunctionCase: si.Of(jc, si.ThermalResistance), JunctionAmbient: si.Of(ja, si.ThermalResistance)}
	die, attach := printed(0.07*jc), printed(0.28*jc)
	z := Response{To: AtCase, Network: Foster, Cells: []Cell{
		cell(die, 40e-6), cell(attach, 1e-3), cell(si.Round(jc-die-attach, 4), 15e-3),
	}}
	if !o.tab {
		z.To = AtAmbient
		z.Cells = append(z.Cells, cell(si.Round(ja-jc, 4), o.slowest))
	}
	p.Characteristics.ZTh = z
}

func cell(r, tau float64) Cell {
	return Cell{si.Of(r, si.ThermalResistance), si.Of(tau, si.Time)}
}
