package engine

import (
	"math"
	"regexp"
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Marks of alternating and of direct voltage, as people write them behind or before a value.
var (
	alternatingMark = regexp.MustCompile(`(?i)[~∼∿≈]|a\.?\s?c\b\.?|rms|eff|alternating`)
	directMark      = regexp.MustCompile(`(?i)[⎓⏛]|d\.?\s?c\b\.?|direct`)
)

// stripMarks takes the marks of alternating or direct voltage off: "12 VAC" is "12 V" and true.
func stripMarks(s string) (text string, alternating bool) {
	text = alternatingMark.ReplaceAllString(s, " ")
	alternating = text != s
	return strings.TrimSpace(directMark.ReplaceAllString(text, " ")), alternating
}

// alternatingWord tells whether a kind of supply means alternating voltage. The
// word mains counts: whatever stands behind it, it is not for this program.
func alternatingWord(s string) bool {
	rest, alternating := stripMarks(s)
	switch strings.ToLower(rest) {
	case "", "v", "voltage", "supply":
		return alternating
	case "mains":
		return true
	}
	return false
}

// mayBeZero are the inputs for which zero means something.
var mayBeZero = [inputCount]bool{
	logicLow: true, seriesResistor: true, pinResistance: true, frequency: true, seriesResistance: true,
	thetaCS: true, qRR: true, wireLength: true,
}

// judge notes a value that cannot be: out of all bounds, negative, or zero where that is impossible.
func (r *circuitReader) judge(n ID, at read.Node, q si.Quantity) {
	if !q.Known() {
		// A ratio of zero and a value that could not be read look alike; only the first parses.
		if zero, err := si.Parse(at.Raw(), table[n].Dim); err == nil && zero.Value == 0 && table[n].Dim == si.One {
			r.m.Errorf(at, "%s must be above zero", at.Key())
		}
		return
	}
	switch {
	case q.Dim == si.Temperature:
	case q.Value < 0:
		r.m.Errorf(at, "%s cannot be negative", at.Key())
		return
	case q.Value == 0 && !mayBeZero[n]:
		r.m.Errorf(at, "%s must be above zero; leave the key out where there is none", at.Key())
		return
	case n == duty && q.Value > 1:
		r.m.Errorf(at, "duty is a share of the time: above 0 and at most 100 %%; this is %s", q)
		return
	case n == coldRatio && q.Value < 1:
		r.m.Errorf(at, "cold_ratio is the cold current over the running current, so at least 1; this is %s", q)
		return
	}
	r.inRange(at, q)
}

// bounds are the values of each dimension beyond which a number is a slip of
// the pen, and beyond which results would not stay finite. Zero is always inside.
var bounds = map[si.Dim]struct{ low, high float64 }{
	si.One: {1e-6, 1e6}, si.Length: {1e-4, 1e5}, si.Area: {1e-10, 1}, si.Time: {1e-12, 1e7},
	si.Frequency: {1e-6, 1e9}, si.Current: {1e-12, 1e5}, si.Charge: {1e-15, 1}, si.Energy: {1e-12, 1e6},
	si.Power: {1e-9, 1e7}, si.Voltage: {1e-6, 1e6}, si.Resistance: {1e-6, 1e10}, si.Capacitance: {1e-15, 1e3},
	si.Inductance: {1e-12, 1e4}, si.ThermalResistance: {1e-6, 1e5}, si.Temperature: {-273.15, 1000},
}

func (r *circuitReader) inRange(at read.Place, q si.Quantity) {
	b, ok := bounds[q.Dim]
	if !ok || !q.Known() || q.Value == 0 {
		return
	}
	if !(q.Value >= b.low && q.Value <= b.high) {
		r.m.Errorf(at, "%s is out of all bounds here: from %s to %s; check the prefix and the power of ten", q, si.Of(b.low, q.Dim), si.Of(b.high, q.Dim))
	}
}

// contradictions notes what cannot be true together.
func (r *circuitReader) contradictions() {
	c := &r.c
	r.ordered("supply.minimum", "supply.voltage")
	r.ordered("supply.voltage", "supply.maximum")
	r.ordered("supply.minimum", "supply.maximum")
	r.ordered("drive.logic_high_min", "drive.logic_high")
	r.ordered("drive.logic_low", "drive.logic_high")
	r.ordered("drive.pin_current", "drive.pin_current_max")
	r.ordered("load.current", "load.stall_current")
	r.ordered("surroundings.junction_limit", "part.ratings.t_j")
	r.loadAgrees()
	switch {
	case c.Part.Channel == part.P && c.Placement != HighSide:
		r.m.Errorf(r.place("placement"), "a P-channel part switches the high side: write placement: high_side, or take an N-channel part")
	case c.Part.Channel == part.N && c.Placement == HighSide:
		r.m.Errorf(r.place("placement"), "an N-channel part on the high side needs a gate voltage above the supply: take a P-channel part, or write placement: low_side")
	}
	if c.Drive.Stage == LevelShift && c.Placement != HighSide {
		r.m.Errorf(r.place("drive.stage"), "a level shift serves the high side only: write placement: high_side, or stage: direct")
	}
	if c.Freewheel.ZenerVoltage.Known() && c.Freewheel.Kind != Zener {
		r.m.Errorf(r.place("freewheel.v_z"), "v_z belongs to a zener clamp: write kind: zener, or leave it out")
	}
	if c.Surroundings.CaseSink.Known() && !c.Heatsinked() {
		r.m.Errorf(r.place("surroundings.heatsink"), "a heatsink needs theta_sa, its thermal resistance to the air; or write heatsink: none")
	}
}

// ordered notes that the first value exceeds the second, when both are given.
func (r *circuitReader) ordered(low, high string) {
	l, _ := InputByPath(low)
	h, _ := InputByPath(high)
	a, b := l.Get(&r.c), h.Get(&r.c)
	if a.Known() && b.Known() && a.Value > b.Value {
		_, name := split(low)
		_, other := split(high)
		r.m.Errorf(r.place(low), "%s %s exceeds %s %s, which is %s; it can be at most that", name, a, other, b, h.Meaning)
	}
}

// agree is the relative difference up to which two ways to give a load count as
// one: a rating plate rounds its numbers.
const agree = 0.01

// loadAgrees compares current, power and resistance of the load. A motor's
// resistance is that of its winding, which sets its stall and not its running current.
func (r *circuitReader) loadAgrees() {
	c := &r.c
	v := c.Supply.Voltage.Value
	if v <= 0 {
		return
	}
	type way struct {
		path, name string
		amperes    float64
	}
	var ways []way
	if q := c.Load.Current; q.Known() {
		ways = append(ways, way{"load.current", "current", q.Value})
	}
	if q := c.Load.Power; q.Known() {
		ways = append(ways, way{"load.power", "power", q.Value / v})
	}
	if q := c.Load.Resistance; q.Known() && c.Load.Kind != Motor {
		ways = append(ways, way{"load.resistance", "resistance", v / q.Value})
	}
	for i := 1; i < len(ways); i++ {
		a, b := ways[0], ways[i]
		if math.Abs(a.amperes-b.amperes) > agree*math.Max(a.amperes, b.amperes) {
			r.m.Errorf(r.place(b.path), "%s makes %s at %s, and %s makes %s; give one of the two, or correct it",
				b.name, si.Of(b.amperes, si.Current).Figures(3), c.Supply.Voltage, a.name, si.Of(a.amperes, si.Current).Figures(3))
		}
	}
}
