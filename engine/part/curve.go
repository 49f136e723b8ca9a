package part

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"fullyon/engine/si"
)

// Curve is one diagram of a datasheet, as points. It passes exactly through the
// values of the sheet's tables; between them stands the model that each function
// documents. Values are unprefixed SI (temperatures in °C); those of a P-channel
// part are magnitudes.
type Curve struct {
	ID     string // one of CurveIDs
	Title  string
	X, Y   Axis
	Series []Series
	Limits []Limit  // edges that close the diagram, such as V_DSS
	Notes  []string // what was taken where the sheet is silent, a sentence each
}

// Axis is one side of a diagram.
type Axis struct {
	Symbol   string // TeX
	Unit     si.Unit
	Log      bool
	Min, Max float64
}

// Series is one line of a diagram. Between its points it is straight on the
// curve's axes, or close to it; Curve.At has the exact value.
type Series struct {
	Label string
	X, Y  []float64

	at   func(x float64) float64 // nil: straight between the points
	from float64                 // where At begins, if before the first point; see open
	open bool                    // from is set, and itself not part of the line
}

// Limit is a line that belongs to no series.
type Limit struct {
	Label string
	X, Y  []float64
}

// NoCurve says why a sheet has no such curve.
type NoCurve struct {
	ID      string
	Because string // in one clause: "the sheet gives no v_plateau"
}

func (e *NoCurve) Error() string { return "there is no curve " + e.ID + ": " + e.Because }

// maker draws one kind of curve.
type maker struct {
	id   string
	make func(*Part) (*Curve, error)
}

func makers() []maker {
	return []maker{
		{"transfer", (*Part).Transfer},
		{"output", (*Part).Output},
		{"r_ds_on", (*Part).RDSOnOverVGS},
		{"r_ds_on_ratio", (*Part).RatioCurve},
		{"gate_charge", (*Part).GateCharge},
		{"z_th", (*Part).ZTh},
		{"soa", (*Part).SOA},
		{"derating", (*Part).Derating},
		{"power", (*Part).PowerDerating},
	}
}

// CurveIDs lists the curves in the order of a datasheet.
func CurveIDs() []string {
	var ids []string
	for _, m := range makers() {
		ids = append(ids, m.id)
	}
	return ids
}

// Curves gives every curve that the sheet has the rows for, and why the others are absent.
func (p *Part) Curves() (curves []*Curve, absent []*NoCurve) {
	for _, m := range makers() {
		c, err := m.make(p)
		if err != nil {
			absent = append(absent, err.(*NoCurve)) // no maker gives another error
			continue
		}
		curves = append(curves, c)
	}
	return curves, absent
}

// Curve gives one curve by its id. The error is a *NoCurve.
func (p *Part) Curve(id string) (*Curve, error) {
	for _, m := range makers() {
		if m.id == id {
			return m.make(p)
		}
	}
	return nil, &NoCurve{id, "no curve is called that"}
}

// At reads a series at x. Outside the line that is drawn there is nothing to read, and that is an error.
func (c *Curve) At(x float64, series int) (float64, error) {
	if series < 0 || series >= len(c.Series) {
		return 0, fmt.Errorf("the curve %s has %d series, and there is no number %d", c.ID, len(c.Series), series)
	}
	s := &c.Series[series]
	lo, hi := s.X[0], s.X[len(s.X)-1]
	if s.open {
		lo = s.from
	}
	if !(x >= lo && x <= hi) || s.open && x == lo {
		return 0, fmt.Errorf("%s lies outside the curve %s, which runs from %s to %s", c.X.text(x), c.ID, c.X.text(lo), c.X.text(hi))
	}
	if s.at != nil {
		return s.at(x), nil
	}
	return straight(s.X, s.Y, x), nil
}

func (a Axis) text(v float64) string { return si.Of(v, a.Unit.Dim).Figures(4) }

// straight reads a broken line; of an upright step it takes the lower end.
func straight(xs, ys []float64, x float64) float64 {
	i, found := slices.BinarySearch(xs, x)
	if found {
		return ys[i]
	}
	a, b := i-1, i
	return ys[a] + (ys[b]-ys[a])*(x-xs[a])/(xs[b]-xs[a])
}

// line makes a series of a function: the points of the grid from lo to hi, and
// those of the table, at which the line must be exact.
func line(label string, at func(float64) float64, grid []float64, table ...float64) Series {
	lo, hi := grid[0], grid[len(grid)-1]
	xs := grid
	for _, x := range table {
		if x > lo && x < hi {
			xs = append(xs, x)
		}
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	s := Series{Label: label, X: xs, Y: make([]float64, len(xs)), at: at}
	for i, x := range xs {
		s.Y[i] = at(x)
	}
	return s
}

// evenly are n steps from lo to hi, with room for a few more values.
func evenly(lo, hi float64, n int) []float64 {
	xs := make([]float64, n+1, n+9)
	for i := range xs {
		xs[i] = lo + (hi-lo)*float64(i)/float64(n)
	}
	xs[n] = hi
	return xs
}

// byDecade are steps of equal ratio from lo to hi, about so many a decade.
func byDecade(lo, hi float64, perDecade int) []float64 {
	n := max(1, int(math.Ceil(math.Log10(hi/lo)*float64(perDecade))))
	xs := make([]float64, n+1, n+9)
	for i := range xs {
		xs[i] = lo * math.Pow(hi/lo, float64(i)/float64(n))
	}
	xs[0], xs[n] = lo, hi
	return xs
}

// roundUp is the next end for an axis: 1, 1.5, 2, 3, 4, 5, 6 or 8 times a power of ten.
func roundUp(v float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
		if m*decade >= v*(1-same) {
			return m * decade
		}
	}
	return 10 * decade
}

func decadeBelow(v float64) float64 { return math.Pow(10, math.Floor(math.Log10(v)+same)) }
func decadeAbove(v float64) float64 { return math.Pow(10, math.Ceil(math.Log10(v)-same)) }

// The units of the axes.
var (
	volts    = si.MustUnit("V")
	amperes  = si.MustUnit("A")
	milliohm = si.MustUnit("mohm")
	nanocoul = si.MustUnit("nC")
	seconds  = si.MustUnit("s")
	watts    = si.MustUnit("W")
	celsius  = si.MustUnit("C")
	perWatt  = si.MustUnit("K/W")
	ratio    = si.MustUnit("1")
)

type (
	axisJSON struct {
		Symbol string  `json:"symbol"`
		Unit   string  `json:"unit"`
		Log    bool    `json:"log"`
		Min    float64 `json:"min"`
		Max    float64 `json:"max"`
	}
	lineJSON struct {
		Label string    `json:"label"`
		X     []float64 `json:"x"`
		Y     []float64 `json:"y"`
	}
	curveJSON struct {
		ID     string     `json:"id"`
		Title  string     `json:"title"`
		X      axisJSON   `json:"x"`
		Y      axisJSON   `json:"y"`
		Series []lineJSON `json:"series"`
		Limits []lineJSON `json:"limits,omitempty"`
		Notes  []string   `json:"notes,omitempty"`
	}
)

// MarshalJSON gives the stable form of a curve in the program's JSON. Values are
// unprefixed SI with at most ten digits; unit is the one that the axis is printed in.
func (c *Curve) MarshalJSON() ([]byte, error) {
	out := curveJSON{ID: c.ID, Title: c.Title, X: c.X.json(), Y: c.Y.json(), Series: []lineJSON{}, Notes: c.Notes}
	for _, s := range c.Series {
		out.Series = append(out.Series, lineJSON{s.Label, tenDigits(s.X), tenDigits(s.Y)})
	}
	for _, l := range c.Limits {
		out.Limits = append(out.Limits, lineJSON{l.Label, tenDigits(l.X), tenDigits(l.Y)})
	}
	return json.Marshal(out)
}

func (a Axis) json() axisJSON {
	return axisJSON{a.Symbol, a.Unit.Symbol, a.Log, si.Round(a.Min, 10), si.Round(a.Max, 10)}
}

func tenDigits(vs []float64) []float64 {
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = si.Round(v, 10)
	}
	return out
}
