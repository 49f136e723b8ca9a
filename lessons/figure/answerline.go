package figure

import (
	"cmp"
	"math"
	"slices"

	"fullyon/engine/si"
)

// Line is what an answer line shows. All values are in unprefixed SI units
// (temperature points in °C) and are printed in the unit asked.
type Line struct {
	Asked     si.Unit
	Low, High *float64 // the accepted band; a nil end is open
	Key       *float64
	Yours     *float64 // the learner's own answer
	Slips     []Mark
	Open      bool // false: only the learner's own answer is shown, and nothing tells where the rest lies
	Figures   int  // significant figures of printed values; default 3
	Width     float64
}

// Mark is where a slip leads.
type Mark struct {
	Label string
	Value float64
	Yours bool // the learner's answer matches it
	Count int  // how many gave it; shown from 2 on
}

// The sizes of an answer line.
const (
	lineWidth  = 640.0
	lineNarrow = 320.0
	lineInset  = 34.0
	lineText   = 13.0
	lineRow    = 17.0
	mostRows   = 8 // beyond so many rows of labels the marks get numbers
)

// answerLine is an answer line being made; its values are in the unit asked.
type answerLine struct {
	*Scene
	a                     Line
	low, high, key, yours float64 // NaN when not given
	marks                 []Mark
	axis                  scale
	y                     float64
}

// resolve takes the values over into the unit asked and leaves out what is not to be seen.
func (a Line) resolve() answerLine {
	if a.Figures == 0 {
		a.Figures = 3
	}
	if a.Width == 0 {
		a.Width = lineWidth
	}
	a.Width = max(a.Width, 240)
	get := func(v *float64) float64 {
		if v == nil || math.IsInf(*v, 0) {
			return math.NaN()
		}
		return si.Of(*v, a.Asked.Dim).In(a.Asked)
	}
	d := answerLine{a: a, yours: get(a.Yours), low: math.NaN(), high: math.NaN(), key: math.NaN()}
	if !a.Open {
		return d
	}
	d.low, d.high, d.key = get(a.Low), get(a.High), get(a.Key)
	for _, m := range a.Slips {
		if m.Value = get(&m.Value); !math.IsNaN(m.Value) {
			d.marks = append(d.marks, m)
		}
	}
	slices.SortStableFunc(d.marks, func(x, y Mark) int { return cmp.Compare(x.Value, y.Value) })
	return d
}

// AnswerLine draws where an answer lies, the accepted band, and where each slip
// would have led. The axis is logarithmic where the values spread over more than
// about six times, and linear otherwise and for temperatures. What lies too far off is an
// arrow at the edge with its value. While the question is not closed (Open is
// false) the axis too is made from the learner's answer alone.
func AnswerLine(a Line) Figure {
	d := a.resolve()
	d.Scene = newScene("answer-line", 48)
	d.axis = d.spread()
	d.axis.p0, d.axis.p1 = lineInset, d.a.Width-lineInset
	bottom := d.draw()
	d.Width, d.Height = d.a.Width, bottom
	return Figure{Title: d.title(), Desc: d.desc(), Facts: d.facts(), Scene: d.Scene}
}

// widest is the largest spread that a logarithmic axis takes, and reachable how far a
// temperature may lie off, in kelvin. Beyond, the band would be a hair.
const (
	widest    = 60.0
	reachable = 120.0
)

// spread chooses the axis. The band and the key are always on it; slips and the
// learner's answer as long as the band can still be made out.
func (d *answerLine) spread() scale {
	var core []float64
	for _, v := range [3]float64{d.low, d.high, d.key} {
		if !math.IsNaN(v) {
			core = append(core, v)
		}
	}
	if len(core) == 0 && !math.IsNaN(d.yours) {
		core = append(core, d.yours)
	}
	if len(core) == 0 {
		for _, m := range d.marks {
			core = append(core, m.Value)
		}
	}
	if len(core) == 0 {
		core = append(core, 1)
	}
	s := scale{min: slices.Min(core), max: slices.Max(core)}
	temperature := d.a.Asked.Dim == si.Temperature
	s.log = s.min > 0 && !temperature
	rest := make([]float64, 0, len(d.marks)+1)
	rest = append(rest, d.yours)
	for _, m := range d.marks {
		rest = append(rest, m.Value)
	}
	// The nearest come first, so that one far away does not keep them off.
	middle := (s.min + s.max) / 2
	far := func(v float64) float64 {
		if s.log && v > 0 {
			return math.Abs(math.Log(v / middle))
		}
		return math.Abs(v - middle)
	}
	slices.SortStableFunc(rest, func(x, y float64) int { return cmp.Compare(far(x), far(y)) })
	reach := 8 * max(math.Abs(middle), s.max-s.min)
	if temperature {
		reach = reachable
	}
	for _, v := range rest {
		switch {
		case math.IsNaN(v), s.log && (v <= 0 || max(v, s.max)/min(v, s.min) > widest), !s.log && math.Abs(v-middle) > reach:
		default:
			s.min, s.max = min(s.min, v), max(s.max, v)
		}
	}
	return d.pad(s, temperature)
}

// pad gives the outermost values room and settles the kind of axis.
func (d *answerLine) pad(s scale, temperature bool) scale {
	if s.log && s.max/s.min > 6 {
		f := math.Pow(s.max/s.min, 0.09)
		s.min, s.max = s.min/f, s.max*f
		return s
	}
	s.log = false
	room := s.max - s.min
	switch {
	case room > 0 && (d.a.Open || temperature):
		room *= 0.14
	case temperature:
		room = 20
	case s.max != 0:
		room = math.Abs(s.max) * 0.6
	default:
		room = 1
	}
	positive := s.min > 0 && !temperature
	if room < math.Abs(s.max)*0.004 { // so near to one another that the ticks would need many digits
		room = math.Abs(s.max) * 0.004
	}
	s.min, s.max = s.min-room, s.max+room
	if positive {
		s.min = max(s.min, 0)
	}
	return s
}

// text prints a value in the unit asked, or with another prefix where that would
// take many noughts.
func (d *answerLine) text(v float64) string { return d.figures(v, d.a.Figures) }

func (d *answerLine) figures(v float64, n int) string {
	if a := math.Abs(v); a != 0 && (a >= 1e5 || a < 1e-3) && d.a.Asked.Dim != si.One {
		return bound(d.quantity(v).Figures(n))
	}
	return bound(d.quantity(v).FiguresIn(d.a.Asked, n))
}

// quantity is the SI quantity of a value in the unit asked.
func (d *answerLine) quantity(v float64) si.Quantity {
	one := si.Of(1, d.a.Asked.Dim).In(d.a.Asked)
	return si.Of(v/one, d.a.Asked.Dim)
}

// off tells whether a value is too far off for the axis, and on which side.
func (d *answerLine) off(v float64) (side int) {
	switch {
	case v < d.axis.min:
		return -1
	case v > d.axis.max:
		return 1
	}
	return 0
}

// place is where a value's mark stands; of one off the axis it is the edge.
func (d *answerLine) place(v float64) float64 {
	switch d.off(v) {
	case -1:
		return lineInset - 20
	case 1:
		return d.a.Width - lineInset + 20
	}
	return d.axis.at(v)
}

// bandEnds are the places of the band; an open end reaches to the edge.
func (d *answerLine) bandEnds() (x0, x1 float64, ok bool) {
	if math.IsNaN(d.low) && math.IsNaN(d.high) {
		return 0, 0, false
	}
	x0, x1 = d.axis.p0-10, d.axis.p1+10
	if !math.IsNaN(d.low) {
		x0 = d.axis.at(d.low)
	}
	if !math.IsNaN(d.high) {
		x1 = d.axis.at(d.high)
	}
	if x1-x0 < 4 { // a hair's breadth would not be seen
		m := (x0 + x1) / 2
		x0, x1 = m-2, m+2
	}
	return x0, x1, true
}
