package figure

import (
	"math"
	"slices"
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// ratioCurve is the name by which early templates ask for the curve r_ds_on_ratio.
const ratioCurve = "ratio_curve"

// The sizes of a curve. Drawn at full size it can be read off to 5 % by eye.
const (
	curveWide, curveHigh     = 540.0, 400.0
	decadesHigh              = 470.0 // of a curve on two logarithmic axes
	curveNarrow, curveLow    = 340.0, 340.0
	decadesNarrow            = 400.0
	usualStep                = 25.0 // between labelled temperatures, K
	mostSeriesPointsOfTables = 8    // a curve of no more points is made of the sheet's own values
)

// Curve draws one diagram of a datasheet by its id, one of [part.CurveIDs], and
// gives its points as a table. The error is a *part.NoCurve. Axes of a P-channel
// part carry the minus in their symbol, as sheets print them.
func Curve(p *part.Part, id string) (Figure, error) {
	return curve(p, id, curveWide, nil)
}

// CurveAround is Curve before answers that are read off at these x (in SI units)
// have been marked: neither the table nor any other words hold the values there, and
// rows on both sides stand so near that a straight line between them gives the value
// to about 1 %, where a curve has no corner at x.
func CurveAround(p *part.Part, id string, x ...float64) (Figure, error) {
	return curve(p, id, curveWide, x)
}

// RatioCurve is the curve r_ds_on_ratio, or an empty figure where the part gives
// nothing to draw it from.
func RatioCurve(p *part.Part) Figure {
	f, err := Curve(p, ratioCurve)
	if err != nil {
		return Figure{Title: "Rise of R_DS(on) with temperature", Desc: err.Error(), Scene: newScene("plot", 0), Table: &Points{}}
	}
	return f
}

// CurveName is the id under which the engine knows a curve.
func CurveName(id string) string {
	if id == ratioCurve {
		return "r_ds_on_ratio"
	}
	return id
}

func curve(p *part.Part, id string, width float64, avoid []float64) (Figure, error) {
	c, err := p.Curve(CurveName(id))
	if err != nil {
		return Figure{}, err
	}
	k := plotOf(p, c, width)
	k.At = k.rows(p, c)
	for _, x := range avoid {
		k.hide(c, x)
	}
	if len(avoid) > 1 { // a row put beside one place is not to be another
		k.At = slices.DeleteFunc(k.At, func(v float64) bool { return slices.ContainsFunc(avoid, func(x float64) bool { return k.at(v, x) }) })
	}
	return k.Draw(), nil
}

// plotOf lays a curve out.
func plotOf(p *part.Part, c *part.Curve, width float64) *Plot {
	sign := ""
	if p.Channel == part.P {
		sign = "−"
	}
	k := &Plot{Title: c.Title + ofPart(p), X: axisOf(c.X, sign), Y: axisOf(c.Y, sign), Width: width, Height: curveHigh}
	switch both := c.X.Log && c.Y.Log; {
	case width < curveWide && both:
		k.Height = decadesNarrow
	case width < curveWide:
		k.Height = curveLow
	case both:
		k.Height = decadesHigh
	}
	k.NameFirst, k.NameEnds = c.ID == "z_th", c.ID == "soa"
	if c.ID == "soa" {
		k.X.Max = p.Ratings.VDS.Value // beyond it nothing is drawn
	}
	for i := range c.Series {
		s := &c.Series[i]
		out := Series{Name: seriesName(s.Label, sign), Points: make([]XY, len(s.X)), at: func(x float64) (float64, error) { return c.At(x, i) }}
		for j := range s.X {
			out.Points[j] = XY{s.X[j], s.Y[j]}
		}
		if c.ID == "r_ds_on" && len(c.Series) == 2 && i == 0 {
			out.Dash = Dashed // the typical one, on which nothing is to be built
		}
		if c.ID == "output" && width < curveWide && i > 0 { // there is little room; the first name says what it is
			out.Name = strings.TrimPrefix(out.Name, bound(gateAt))
		}
		k.Series = append(k.Series, out)
	}
	if k.Y.Log {
		k.crop()
	}
	for _, l := range c.Limits {
		limit := Limit{Label: limitName(l.Label, sign)}
		for j := range l.X {
			limit.Points = append(limit.Points, XY{l.X[j], l.Y[j]})
		}
		k.Limits = append(k.Limits, limit)
	}
	k.Desc = k.words(c)
	return k
}

// crop takes the empty ends off a logarithmic Y axis.
func (k *Plot) crop() {
	low, high := math.Inf(1), 0.0
	for i := range k.Series {
		for _, p := range k.Series[i].Points {
			low, high = min(low, p.Y), max(high, p.Y)
		}
	}
	for _, v := range (scale{min: k.Y.Min, max: k.Y.Max, log: true}).logTicks([]float64{1, 2, 5}) {
		if v <= low {
			k.Y.Min = v
		}
		if v >= 1.05*high {
			k.Y.Max = v
			break
		}
	}
}

// axisWords say in words what stands on an axis.
var axisWords = map[string]string{
	"V_{GS}": "gate–source voltage", "V_{DS}": "drain–source voltage", "I_{D}": "drain current", "R_{DS(on)}": "on-resistance",
	"T_{J}": "junction temperature", "T_{A}": "temperature of the air", "T_{C}": "temperature of the case", "Q_{G}": "gate charge",
	"t_{p}": "length of the pulse", "Z_{thJC}": "thermal impedance", "Z_{thJA}": "thermal impedance", "P": "heat that may be made",
	"R_{DS(on)}/R_{DS(on),25}": "on-resistance over its value at 25" + nbsp + "°C",
}

func axisOf(a part.Axis, sign string) Axis {
	symbol := marked(a.Symbol)
	out := Axis{Label: axisWords[symbol], Unit: a.Unit, Min: a.Min, Max: a.Max, Log: a.Log, Prefixed: a.Unit.Dim == si.Time}
	switch d := a.Unit.Dim; {
	case out.Label == "":
		out.Label = symbol
	case d == si.Voltage || d == si.Current:
		out.Label += " " + sign + symbol
	case a.Unit.Symbol != "":
		out.Label += " " + symbol
	}
	if a.Unit.Dim == si.Temperature {
		out.Step = usualStep
	}
	return out
}

// gateAt begins the label of a line at one gate voltage.
const gateAt = "V_{GS} = "

// seriesName gives the label of a line its sign: "V_{GS} = 4.5 V" is −4.5 V of a P-channel part.
func seriesName(label, sign string) string {
	if rest, ok := strings.CutPrefix(label, gateAt); ok {
		return bound(gateAt + sign + rest)
	}
	return bound(marked(label))
}

func limitName(label, sign string) string {
	switch label {
	case "V_DSS":
		return sign + "V_{DSS}"
	case "I_{DM}":
		return sign + label
	case "R_{DS(on)} hot":
		return "limit of R_{DS(on)}, hot"
	}
	return marked(label)
}

// words says what a curve shows.
func (k *Plot) words(c *part.Curve) string {
	out := upper(flat(k.Y.title())) + ", against " + flat(k.X.title()) + "."
	switch {
	case c.X.Log && c.Y.Log:
		out += " Both axes are logarithmic."
	case c.X.Log || c.Y.Log:
		out += " One axis is logarithmic."
	}
	if c.ID == "r_ds_on_ratio" {
		out += " Typical."
	}
	if len(k.Series) > 1 {
		out += " Lines: "
		for i := range k.Series {
			if i > 0 {
				out += "; "
			}
			out += flat(k.Series[i].Name)
		}
		out += "."
	}
	for _, n := range c.Notes {
		out += " " + n
	}
	return out
}

// rows are the places that the table gives: the sheet's own corners where a curve
// is made of these alone, else round values.
func (k *Plot) rows(p *part.Part, c *part.Curve) []float64 {
	if s := &c.Series[0]; len(c.Series) == 1 && len(s.X) <= mostSeriesPointsOfTables && c.ID != "power" {
		return s.X
	}
	out := k.round(k.X.scale(), 0)
	switch c.ID { // the sheet's own points
	case "r_ds_on_ratio":
		for _, t := range p.Characteristics.Ratio {
			out = append(out, t.Temperature.Value)
		}
		out = append(out, k.X.Max)
	case "r_ds_on":
		for _, r := range p.Characteristics.RDSOn {
			out = append(out, r.VGS.Value)
		}
	}
	out = slices.DeleteFunc(out, func(x float64) bool { return x < k.X.Min || x > k.X.Max })
	slices.Sort(out)
	return slices.Compact(out)
}

// round are round values along the X axis, in SI units, the finer the higher the level.
func (k *Plot) round(s scale, level int) []float64 {
	var at []float64
	if s.log {
		digits := [...][]float64{{1}, {1, 3}, {1, 2, 5}, logDigits[0], fineDigits}
		at = s.logTicks(digits[min(level, len(digits)-1)])
	} else {
		step := linearStep((s.max - s.min) / 8)
		if k.X.Step > 0 {
			step = k.X.Step
		}
		at = s.linearTicks(step / [...]float64{1, 2, 5, 10, 20}[min(level, 4)])
	}
	one := si.Of(1, k.X.Unit.Dim).In(k.X.Unit)
	if k.X.Unit.Dim == si.Temperature {
		one = 1 // °C are kept as they are
	}
	for i := range at {
		at[i] = si.Round(at[i]/one, 10)
	}
	return at
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	if c := s[0]; c >= 'a' && c <= 'z' {
		return string(c-'a'+'A') + s[1:]
	}
	return s
}

// ofPart names the part in a title.
func ofPart(p *part.Part) string {
	if p.Name == "" {
		return ""
	}
	return ", " + p.Name
}
