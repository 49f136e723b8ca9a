package part

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// near is how exactly a curve must pass through its table.
const near = 1e-9

func closeTo(got, want float64) bool {
	return math.Abs(got-want) <= near*math.Max(math.Abs(want), 1e-12)
}

// anyPart draws a generated datasheet of any kind.
func anyPart(t *rapid.T) Part {
	return Generate(rapid.Uint64().Draw(t, "seed"), Wish{
		Channel: rapid.SampledFrom([]Channel{N, P}).Draw(t, "channel"),
		Volts:   rapid.SampledFrom([]float64{20, 30, 40, 60, 100}).Draw(t, "volts"),
		Gate:    rapid.SampledFrom([]string{"logic", "standard"}).Draw(t, "gate"),
		Package: rapid.SampledFrom(Packages()).Draw(t, "package"),
	})
}

// complain reports a failed check of a part.
type complain func(format string, args ...any)

// Every generated sheet has all its curves, and they keep the rules.
func TestCurvesOfGeneratedParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPart(t)
		curves, absent := p.Curves()
		if len(absent) > 0 {
			t.Fatalf("%s: %v", p.Name, absent[0])
		}
		if len(curves) != len(CurveIDs()) {
			t.Fatalf("%s: %d curves", p.Name, len(curves))
		}
		wellFormed(t.Errorf, curves)
		throughTables(t.Errorf, &p)
	})
}

func TestCurvesOfTheDrawer(t *testing.T) {
	without := map[string]int{}
	for _, p := range Drawer() {
		curves, absent := p.Curves()
		for _, a := range absent {
			without[a.ID]++
		}
		wellFormed(t.Errorf, curves)
		throughTables(t.Errorf, &p)
	}
	// Three sheets of the drawer print no z_th; they have all other curves.
	if len(without) != 1 || without["z_th"] != 3 {
		t.Errorf("curves that are absent: %v", without)
	}
}

// directions say how a curve runs: +1 never falls, −1 never rises.
var directions = map[string]int{
	"transfer": 1, "output": 1, "r_ds_on": -1, "r_ds_on_ratio": 1, "gate_charge": 1, "z_th": 1, "soa": 0, "derating": -1, "power": -1,
}

// wellFormed checks what holds of every curve: finite points inside the axes,
// rising x, the direction of the physics, and At equal to the points.
func wellFormed(errorf complain, curves []*Curve) {
	for _, c := range curves {
		direction, known := directions[c.ID]
		if !known || len(c.Series) == 0 || c.X.Max <= c.X.Min || c.Y.Max <= c.Y.Min || c.Title == "" {
			errorf("%s is not whole: %+v", c.ID, *c)
			continue
		}
		if c.X.Log && c.X.Min <= 0 || c.Y.Log && c.Y.Min <= 0 {
			errorf("%s: a logarithmic axis begins at or below zero", c.ID)
		}
		for n, s := range c.Series {
			if len(s.X) != len(s.Y) || len(s.X) < 2 {
				errorf("%s %s: %d and %d values", c.ID, s.Label, len(s.X), len(s.Y))
				continue
			}
			for i, x := range s.X {
				y := s.Y[i]
				slack := near * math.Max(math.Abs(c.Y.Max), math.Abs(y))
				if math.IsNaN(x) || math.IsInf(x, 0) || math.IsNaN(y) || math.IsInf(y, 0) {
					errorf("%s %s: point (%v, %v)", c.ID, s.Label, x, y)
				}
				if x < c.X.Min-near*math.Abs(c.X.Min) || x > c.X.Max*(1+near) || y < c.Y.Min-slack || y > c.Y.Max+slack {
					errorf("%s %s: (%v, %v) lies outside the axes %+v %+v", c.ID, s.Label, x, y, c.X, c.Y)
				}
				if got, err := c.At(x, n); err != nil || !closeTo(got, y) {
					errorf("%s %s: At(%v) = %v, %v; the point says %v", c.ID, s.Label, x, got, err, y)
				}
				if i == 0 {
					continue
				}
				if x <= s.X[i-1] {
					errorf("%s %s: x does not rise at %v", c.ID, s.Label, x)
				}
				if rise := y - s.Y[i-1]; float64(direction)*rise < -1e-12*math.Abs(y) {
					errorf("%s %s: runs the wrong way at %v: %v after %v", c.ID, s.Label, x, y, s.Y[i-1])
				}
			}
		}
	}
}

// throughTables checks that the curves pass through the rows of their sheet.
func throughTables(errorf complain, p *Part) {
	c := &p.Characteristics
	reads := func(id string, series int, x, want float64) {
		k, err := p.Curve(id)
		if err != nil {
			errorf("%s %s: %v", p.Name, id, err)
			return
		}
		if got, err := k.At(x, series); err != nil || !closeTo(got, want) {
			errorf("%s %s at %v: got %v, %v; the sheet says %v", p.Name, id, x, got, err, want)
		}
	}
	amps, _ := p.plateauCurrent()
	reads("transfer", 0, c.VGSTh.Typ.Value, c.VGSTh.At.Value)
	reads("transfer", 0, c.VPlateau.Value, amps)
	for i, r := range c.RDSOn {
		reads("output", i, r.Typ.Value*r.ID.Value, r.ID.Value)
		reads("output", i, 1e-6, 1e-6/r.Typ.Value)
		reads("r_ds_on", 0, r.VGS.Value, r.Typ.Value)
		reads("r_ds_on", 1, r.VGS.Value, r.Max.Value)
	}
	for _, k := range c.Ratio {
		if k.Temperature.Value <= p.Ratings.Junction.Value {
			reads("r_ds_on_ratio", 0, k.Temperature.Value, k.Ratio.Value)
		}
	}
	reads("gate_charge", 0, c.QGS.Value, c.VPlateau.Value)
	reads("gate_charge", 0, c.QGS.Value+c.QGD.Value, c.VPlateau.Value)
	reads("gate_charge", 0, c.QG.Value, c.QGAt.Value)
	if len(c.ZTh.Cells) > 0 {
		for _, t := range []float64{1e-6, 1e-4, 1e-2, 1, 100} {
			reads("z_th", 0, t, c.ZTh.At(t))
		}
	}
	reads("derating", 0, 25, p.Ratings.ID.Value)
	reads("derating", 0, p.Ratings.Junction.Value, 0)
	_, theta := p.headlinePath()
	reads("power", 0, 25, (p.Ratings.Junction.Value-25)/theta)
}

// More gate voltage never carries less, nor has a higher resistance, and the max
// line never lies below the typical one where both are drawn.
func TestLinesKeepTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPart(t)
		out, err := p.Output()
		if err != nil {
			t.Fatal(err)
		}
		x := rapid.Float64Range(0, out.X.Max).Draw(t, "v_ds")
		for i := 1; i < len(out.Series); i++ {
			low, err1 := out.At(x, i-1)
			high, err2 := out.At(x, i)
			if err1 == nil && err2 == nil && high < low*(1-near) {
				t.Fatalf("%s at %v V: %s carries %v A, %s carries %v A", p.Name, x, out.Series[i-1].Label, low, out.Series[i].Label, high)
			}
		}
		soa, err := p.SOA()
		if err != nil {
			t.Fatal(err)
		}
		v := rapid.Float64Range(lowestDrain, p.Ratings.VDS.Value).Draw(t, "v_ds of the area")
		last := 0.0
		for i := range soa.Series { // from DC to the shortest pulse
			y, err := soa.At(v, i)
			if err != nil || y < last*(1-near) {
				t.Fatalf("%s at %v V: %s allows %v A, the longer pulse %v A (%v)", p.Name, v, soa.Series[i].Label, y, last, err)
			}
			last = y
		}
		z, err := p.ZTh()
		if err != nil {
			t.Fatal(err)
		}
		for i := 2; i < len(z.Series); i++ { // duties fall, the single pulse is below all
			for k := range z.Series[i].Y {
				if z.Series[i].Y[k] > z.Series[i-1].Y[k]*(1+near) || z.Series[0].Y[k] > z.Series[i].Y[k]*(1+near) {
					t.Fatalf("%s: %s crosses another line at %v s", p.Name, z.Series[i].Label, z.Series[i].X[k])
				}
			}
		}
	})
}

// Towards the threshold the resistance passes every bound, and at it there is nothing to read.
func TestResistanceRisesWithoutBound(t *testing.T) {
	p := Generate(3, Wish{Gate: "logic"})
	c, err := p.RDSOnOverVGS()
	if err != nil {
		t.Fatal(err)
	}
	th := p.Characteristics.VGSTh.Typ.Value
	last := 0.0
	for _, above := range []float64{1e-1, 1e-3, 1e-6, 1e-9} {
		y, err := c.At(th+above, 0)
		if err != nil || y <= last {
			t.Fatalf("at %v V above the threshold: %v, %v after %v", above, y, err, last)
		}
		last = y
	}
	if last < 1e5 {
		t.Errorf("1 nV above the threshold only %v Ω", last)
	}
	for _, x := range []float64{th, 0, -1, math.NaN(), math.Inf(1), 50} {
		if y, err := c.At(x, 0); err == nil {
			t.Errorf("At(%v) = %v, want an error", x, y)
		}
	}
	if _, err := c.At(5, 9); err == nil || !strings.Contains(err.Error(), "9") {
		t.Errorf("series 9: %v", err)
	}
}

// A row with no test current, no typ, equal rows, a single row: what a sheet may lack.
func TestCurvesOfThinSheets(t *testing.T) {
	whole := func() Part { p, _ := readText(sheet); return p }
	none := si.Quantity{}
	for _, c := range []struct {
		name   string
		change func(*Part)
		absent map[string]string // id → part of the reason
	}{
		{"whole", func(*Part) {}, nil},
		{"no plateau", func(p *Part) { p.Characteristics.VPlateau = none }, map[string]string{"transfer": "v_plateau", "gate_charge": "v_plateau"}},
		{"no threshold", func(p *Part) { p.Characteristics.VGSTh = MinTypMax{} }, map[string]string{"transfer": "v_gs_th", "r_ds_on": "threshold"}},
		{"threshold without current", func(p *Part) { p.Characteristics.VGSTh.At = none }, map[string]string{"transfer": "current"}},
		{"threshold without typ", func(p *Part) { p.Characteristics.VGSTh.Typ = none }, nil},
		{"plateau at the threshold", func(p *Part) { p.Characteristics.VPlateau = p.Characteristics.VGSTh.Typ }, map[string]string{"transfer": "above"}},
		{"no rows", func(p *Part) { p.Characteristics.RDSOn = nil }, map[string]string{"output": "r_ds_on", "r_ds_on": "r_ds_on", "soa": "r_ds_on"}},
		{"rows without typ", func(p *Part) { p.Characteristics.RDSOn = []Row{{VGS: volt(4.5), Max: ohm(0.03)}} }, map[string]string{"output": "typ"}},
		{"equal rows", func(p *Part) {
			p.Characteristics.RDSOn = []Row{{VGS: volt(4.5), Typ: ohm(0.03), Max: ohm(0.03)}, {VGS: volt(10), Typ: ohm(0.03), Max: ohm(0.03)}}
		}, nil},
		{"threshold's max at the row", func(p *Part) { p.Characteristics.VGSTh.Max = volt(4.5) }, nil},
		{"no ratio", func(p *Part) { p.Characteristics.Ratio = nil }, nil},
		{"no ratio, no voltage", func(p *Part) { p.Characteristics.Ratio, p.Ratings.VDS = nil, none }, map[string]string{"r_ds_on_ratio": "v_ds", "soa": "v_ds"}},
		{"no charges", func(p *Part) { p.Characteristics.QGD = none }, map[string]string{"gate_charge": "q_gd"}},
		{"all charge at the plateau", func(p *Part) { p.Characteristics.QG = coulomb(5e-9) }, map[string]string{"gate_charge": "above the plateau"}},
		{"no response", func(p *Part) { p.Characteristics.ZTh = Response{} }, map[string]string{"z_th": "z_th"}},
		{"no thermal table", func(p *Part) { p.Thermal = Thermal{} }, map[string]string{"power": "thermal resistance"}},
		{"nothing thermal", func(p *Part) { p.Thermal, p.Characteristics.ZTh = Thermal{}, Response{} }, map[string]string{"power": "thermal", "soa": "thermal", "z_th": "z_th"}},
		{"no junction rating", func(p *Part) { p.Ratings.Junction = none }, map[string]string{"power": "t_j", "derating": "t_j", "soa": "t_j"}},
		{"no headline", func(p *Part) { p.Ratings.ID, p.Ratings.IDAt = none, "" }, map[string]string{"derating": "i_d"}},
		{"no pulse rating", func(p *Part) { p.Ratings.IDPulse = none }, nil},
		{"nothing", func(p *Part) { *p = Part{} }, map[string]string{"transfer": "", "output": "", "r_ds_on": "", "r_ds_on_ratio": "", "gate_charge": "", "z_th": "", "soa": "", "derating": "", "power": ""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := whole()
			c.change(&p)
			curves, absent := p.Curves()
			wellFormed(t.Errorf, curves)
			if len(absent) != len(c.absent) || len(curves)+len(absent) != len(CurveIDs()) {
				t.Errorf("absent %v, want %v", absent, c.absent)
			}
			for _, a := range absent {
				if want, ok := c.absent[a.ID]; !ok || !strings.Contains(a.Error(), want) {
					t.Errorf("%v, want a reason with %q", a, want)
				}
			}
		})
	}
	if _, err := (&Part{}).Curve("no_such"); err == nil {
		t.Error("an unknown curve is drawn")
	}
}

func TestCurveJSON(t *testing.T) {
	p := Generate(11, Wish{})
	for _, id := range CurveIDs() {
		c, err := p.Curve(id)
		if err != nil {
			t.Fatal(err)
		}
		src, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		var back struct {
			ID     string
			X, Y   struct{ Unit, Symbol string }
			Series []struct{ X, Y []float64 }
		}
		if err := json.Unmarshal(src, &back); err != nil {
			t.Fatal(err)
		}
		if back.ID != id || back.X.Symbol == "" || len(back.Series) != len(c.Series) {
			t.Errorf("%s: %s", id, src)
		}
		if got, want := back.Series[0].Y, c.Series[0].Y; !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }) {
			t.Errorf("%s: y is %v, want %v", id, got, want)
		}
	}
}

// A generated datasheet with all the points of its curves.
func BenchmarkSheetWithCurves(b *testing.B) {
	seed := uint64(0)
	b.ReportAllocs()
	for b.Loop() {
		p := Generate(seed, Wish{})
		if _, absent := p.Curves(); len(absent) > 0 {
			b.Fatal(absent[0])
		}
		seed++
	}
}

// Sheets with values missing or far from the usual, as a person may type them:
// whatever is drawn is finite, inside its axes, and runs the right way.
func TestCurvesOfOddSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPart(t)
		c := &p.Characteristics
		fields := []*si.Quantity{
			&p.Ratings.VDS, &p.Ratings.VGSMax, &p.Ratings.ID, &p.Ratings.IDPulse, &p.Ratings.Junction,
			&c.VGSTh.Min, &c.VGSTh.Typ, &c.VGSTh.Max, &c.VGSTh.At, &c.QG, &c.QGAt, &c.QGS, &c.QGD, &c.VPlateau,
			&p.Thermal.JunctionCase, &p.Thermal.JunctionAmbient,
		}
		for i := range c.RDSOn {
			fields = append(fields, &c.RDSOn[i].ID, &c.RDSOn[i].Typ, &c.RDSOn[i].Max)
		}
		for i := range c.ZTh.Cells {
			fields = append(fields, &c.ZTh.Cells[i].R, &c.ZTh.Cells[i].Tau)
		}
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			q := fields[rapid.IntRange(0, len(fields)-1).Draw(t, "field")]
			switch rapid.IntRange(0, 2).Draw(t, "change") {
			case 0:
				if q.Dim != si.ThermalResistance && q.Dim != si.Time { // a response without a value in a cell cannot be read
					*q = si.Quantity{}
				}
			case 1:
				q.Value *= math.Pow(10, rapid.Float64Range(-4, 4).Draw(t, "decades"))
			default:
				q.Value *= rapid.Float64Range(0.5, 2).Draw(t, "factor")
			}
		}
		doc, err := read.Parse("p", []byte(Write(p, 0)))
		if err != nil {
			t.Skip("does not write")
		}
		Read(doc.Root().Map())
		if doc.Err() != nil {
			t.Skip("refused as contradictory")
		}
		curves, _ := p.Curves()
		wellFormed(t.Errorf, curves)
	})
}
