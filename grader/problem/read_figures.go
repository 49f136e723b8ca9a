package problem

import (
	"fmt"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"

	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// FigureKinds lists what can be drawn beside a situation: curves of the datasheet
// by their ids, and drawings by name. ratio_curve is another name of r_ds_on_ratio.
func FigureKinds() []string {
	kinds := []string{"schematic", "datasheet", "ratio_curve"}
	kinds = append(kinds, part.CurveIDs()...)
	return append(kinds, "cross_section", "thermal_ladder", "waveforms", "kick", "rush", "bipolar", "bench")
}

// BenchThings lists what can lie on a drawn bench.
func BenchThings() []string {
	return []string{"supply", "board", "mat", "strap", "breadboard", "capacitor", "hot_tab", "iron", "meter", "goggles", "mug",
		"cracked_flex", "fleece", "loose_part", "foam", "metal_watch", "plastic_bag", "side_cutters", "fire_blanket", "mains_plug"}
}

// IsCurve tells whether a figure is a curve of the datasheet.
func IsCurve(figure string) bool {
	return figure == "ratio_curve" || slices.Contains(part.CurveIDs(), figure)
}

// CurveID is the engine's name of a curve.
func CurveID(figure string) string {
	if figure == "ratio_curve" {
		return "r_ds_on_ratio"
	}
	return figure
}

// curveAxes are the dimensions of a curve, and whether it has several lines, of
// which one must be named.
type curveAxes struct {
	x, y  si.Dim
	lines bool
}

var axesOf = map[string]curveAxes{
	"transfer":      {si.Voltage, si.Current, false},
	"output":        {si.Voltage, si.Current, true},
	"r_ds_on":       {si.Voltage, si.Resistance, true},
	"r_ds_on_ratio": {si.Temperature, si.One, false},
	"gate_charge":   {si.Charge, si.Voltage, false},
	"z_th":          {si.Time, si.ThermalResistance, false}, // a single pulse, when none is named
	"soa":           {si.Voltage, si.Current, true},
	"derating":      {si.Temperature, si.Current, false},
	"power":         {si.Temperature, si.Power, false},
}

// figures reads which figures stand beside the situation, and what lies on a bench.
func (r *reader) figures(m *read.Map) {
	t := r.t
	t.Figures, t.Rows, t.Bench = m.Texts("figures"), m.Texts("rows"), m.Texts("bench")
	for _, n := range m.List("figures") {
		n.TextOf(FigureKinds()...)
		r.t.needs(n.Text())
	}
	drawn := slices.Contains(t.Figures, "bench")
	if drawn && len(t.Bench) == 0 {
		r.errorf(m.Node("figures"), "bench: is missing; list there what lies on the bench")
	}
	if m.Has("bench") && !drawn {
		r.errorf(m.Node("bench"), "things lie on a bench that is not drawn; add bench to figures")
	}
	for i, n := range m.List("bench") {
		n.TextOf(BenchThings()...)
		if slices.Contains(t.Bench[:min(i, len(t.Bench))], n.Text()) {
			r.errorf(n, "%s lies on the bench already", n.Text())
		}
	}
}

// needs notes a curve that the part of every draw must have.
func (t *Template) needs(figure string) {
	if id := CurveID(figure); IsCurve(figure) && !slices.Contains(t.curves, id) {
		t.curves = append(t.curves, id)
	}
}

// readOff reads which curve a read-off is about, and where it is read.
func (r *reader) readOff(q *Question, m *read.Map) {
	m.Require("curve", "at", "tolerance")
	n := m.Node("curve")
	if n.Kind == read.None {
		return
	}
	q.Curve = CurveID(n.TextOf(append(part.CurveIDs(), "ratio_curve")...))
	axes, ok := axesOf[q.Curve]
	if !ok {
		return
	}
	r.t.needs(q.Curve)
	if t := r.t; !slices.ContainsFunc(t.Figures, func(f string) bool { return CurveID(f) == q.Curve }) {
		t.Figures = append(t.Figures, q.Curve) // what is to be read off is drawn
	}
	at := m.Node("at")
	if at.Kind == read.None {
		return
	}
	f := r.formula(at, r.n)
	switch {
	case f == nil || !r.wants(at, f, number):
	case f.term.dim != axes.x:
		r.errorf(at, "the curve %s is read at %s; this is %s", q.Curve, axes.x.Name(), f.term.dim.Name())
	default:
		q.at = f
	}
}

// fitsCurve proves that the answer of a read-off is what stands upwards on its curve.
func (r *reader) fitsCurve(q *Question, m *read.Map) {
	axes, ok := axesOf[q.Curve]
	if ok && q.answer != nil && q.answer.term.kind == number && q.answer.term.dim != axes.y {
		r.errorf(m.Node("answer"), "the curve %s gives %s; the answer is %s", q.Curve, axes.y.Name(), q.answer.term.dim.Name())
	}
}

// hasCurves tells whether the part of a draw has all curves that are drawn or read.
func (t *Template) hasCurves(v *Values) error {
	for _, id := range t.curves {
		if v.Part == nil {
			return fmt.Errorf("there is no part whose curve %s could be drawn", id)
		}
		if _, err := v.Part.Curve(id); err != nil {
			return err
		}
	}
	return nil
}

// AskedAt gives the places, in unprefixed SI units, at which questions want a curve
// read. Before these are answered, nothing on the page may hold its value there.
func (v *Values) AskedAt(curve string) []float64 {
	var out []float64
	s := v.scope()
	if v.key != nil {
		v.Template.bind(v.key, s)
	}
	for i := range v.Template.Questions {
		if q := &v.Template.Questions[i]; q.at != nil && q.Curve == CurveID(curve) {
			if x := q.at.value(s); s.err == nil {
				out = append(out, x)
			}
		}
	}
	return out
}

// buildReadOff makes read_off('curve', x) and read_off('curve', x, 'line'): what the
// curve of the part gives at x, as drawn.
func buildReadOff(c *compiler, n ast.Node, args []ast.Node) term {
	const use = "write it as read_off('derating', T), or read_off('soa', V, '1 ms') with the name of a line"
	id, ok := c.textArg(args, 0)
	axes, known := axesOf[CurveID(id)]
	if !ok || !known || len(args) < 2 || len(args) > 3 {
		return c.bad(n, "%s; the curves are %s", use, strings.Join(part.CurveIDs(), ", "))
	}
	line := ""
	if len(args) == 3 {
		if line, ok = c.textArg(args, 2); !ok {
			return c.bad(args[2], use)
		}
	} else if axes.lines {
		return c.bad(n, "the curve %s has several lines; %s", id, use)
	}
	x := c.term(args[1])
	if !c.want(args[1], x, number) || x.dim != axes.x {
		return c.bad(args[1], "the curve %s is read at %s", id, axes.x.Name())
	}
	return term{dim: axes.y, sheet: true, num: func(s *scope) float64 {
		if s.sizing == nil {
			return s.fail(fmt.Errorf("no curve is known before the part is"))
		}
		curve, err := s.sizing.Circuit().Part.Curve(CurveID(id))
		if err != nil {
			return s.fail(err)
		}
		i := lineOf(curve, line)
		if i < 0 {
			return s.fail(fmt.Errorf("the curve %s has no line %q", id, line))
		}
		y, err := curve.At(x.num(s), i)
		if err != nil {
			return s.fail(err)
		}
		return y
	}}
}

// lineOf finds a line by its name or the beginning of it: max is "max, 25 °C", and
// 4.5 V is "V_{GS} = 4.5 V". Without a name it is the first.
func lineOf(c *part.Curve, name string) int {
	if name == "" {
		return 0
	}
	return slices.IndexFunc(c.Series, func(s part.Series) bool {
		label := strings.ReplaceAll(s.Label, "\u00a0", " ")
		return label == name || strings.HasPrefix(label, name+",") || strings.HasSuffix(label, "= "+name)
	})
}
