package problem

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"github.com/expr-lang/expr/ast"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// partWords are what a datasheet says in words.
var partWords = map[string]func(*part.Part) string{
	"channel": func(p *part.Part) string { return string(p.Channel) },
	"package": func(p *part.Part) string { return p.Package },
	"part":    func(p *part.Part) string { return p.Name },
	"gate_level": func(p *part.Part) string {
		if p.LogicLevel() {
			return "logic"
		}
		return "standard"
	},
	"i_d_at": func(p *part.Part) string { return string(p.Ratings.IDAt) },
}

// function is one that formulas may call.
type function struct {
	use   string // how it is written, for a message
	build func(c *compiler, n ast.Node, args []ast.Node) term
}

// functions is filled at start: its members refer to the compiler, and it to them.
var functions map[string]function

func init() {
	functions = map[string]function{
		"sqrt":     {"sqrt(x)", buildSqrt},
		"ln":       {"ln(x)", plain(math.Log)},
		"exp":      {"exp(x)", plain(math.Exp)},
		"abs":      {"abs(x)", buildAbs},
		"min":      {"min(a, b)", pick(math.Min)},
		"max":      {"max(a, b)", pick(math.Max)},
		"round":    {"round(x, figures)", buildRound},
		"above":    {"above('E12', x)", preferred(si.Series.AtLeast)},
		"below":    {"below('E12', x)", preferred(si.Series.AtMost)},
		"nearest":  {"nearest('E12', x)", preferred(si.Series.Nearest)},
		"row":      {"row(v, 'max')", buildRow},
		"with":     {"with('name', value, 'quantity')", buildWith},
		"number":   {"number(x, 'unit')", buildNumber},
		"z_th":     {"z_th(t)", buildZTh},
		"verdict":  {"verdict('check')", buildVerdict},
		"ratio_at": {"ratio_at(T)", buildRatioAt},
		"read_off": {"read_off('soa', V, '1 ms')", buildReadOff},
		"quantity": {"quantity(x, 'unit')", buildQuantity},
	}
}

func functionNames() []string { return slices.Sorted(maps.Keys(functions)) }

func (c *compiler) call(n ast.Node, name string, args []ast.Node) term {
	f, ok := functions[name]
	if !ok {
		return c.bad(n, "there is no function %q in formulas; there are %v", name, functionNames())
	}
	return f.build(c, n, args)
}

// numbers compiles arguments that must all be quantities, and so many of them.
func (c *compiler) numbers(n ast.Node, use string, args []ast.Node, count int) ([]term, bool) {
	if len(args) != count {
		c.bad(n, "write it as %s", use)
		return nil, false
	}
	out := make([]term, count)
	for i, a := range args {
		out[i] = c.term(a)
		if !c.want(a, out[i], number) {
			return nil, false
		}
	}
	return out, c.err == nil
}

// textArg is an argument that must be a text standing in the formula.
func (c *compiler) textArg(args []ast.Node, i int) (string, bool) {
	if i >= len(args) {
		return "", false
	}
	s, ok := args[i].(*ast.StringNode)
	if !ok {
		return "", false
	}
	return s.Value, true
}

func buildSqrt(c *compiler, n ast.Node, args []ast.Node) term {
	a, ok := c.numbers(n, "sqrt(x)", args, 1)
	if !ok {
		return constant(0, si.One)
	}
	d, err := a[0].dim.Root()
	if err != nil {
		return c.bad(n, "%v", err)
	}
	return term{dim: d, num: func(s *scope) float64 { return math.Sqrt(a[0].num(s)) }, fixed: a[0].fixed}
}

func buildAbs(c *compiler, n ast.Node, args []ast.Node) term {
	a, ok := c.numbers(n, "abs(x)", args, 1)
	if !ok {
		return constant(0, si.One)
	}
	return term{dim: a[0].dim, num: func(s *scope) float64 { return math.Abs(a[0].num(s)) }, fixed: a[0].fixed}
}

// plain makes a function of a plain number.
func plain(f func(float64) float64) func(*compiler, ast.Node, []ast.Node) term {
	return func(c *compiler, n ast.Node, args []ast.Node) term {
		a, ok := c.numbers(n, "f(x)", args, 1)
		if !ok {
			return constant(0, si.One)
		}
		if a[0].dim != si.One {
			return c.bad(args[0], "this takes a plain number, not %s; divide by a value of its kind first", a[0].dim.Name())
		}
		return term{num: func(s *scope) float64 { return f(a[0].num(s)) }, fixed: a[0].fixed}
	}
}

// pick makes min and max, of two quantities of a kind.
func pick(f func(a, b float64) float64) func(*compiler, ast.Node, []ast.Node) term {
	return func(c *compiler, n ast.Node, args []ast.Node) term {
		a, ok := c.numbers(n, "max(a, b)", args, 2)
		if !ok {
			return constant(0, si.One)
		}
		if a[0].dim != a[1].dim {
			return c.bad(n, "%s and %s have no larger or smaller", a[0].dim.Name(), a[1].dim.Name())
		}
		return term{dim: a[0].dim, num: func(s *scope) float64 { return f(a[0].num(s), a[1].num(s)) }, fixed: a[0].fixed && a[1].fixed}
	}
}

// buildRound makes round(x, figures): to so many significant figures.
func buildRound(c *compiler, n ast.Node, args []ast.Node) term {
	a, ok := c.numbers(n, "round(x, figures)", args, 2)
	if !ok {
		return constant(0, si.One)
	}
	if !a[1].fixed || a[1].dim != si.One {
		return c.bad(args[1], "the number of figures must stand in the formula")
	}
	figs := int(a[1].num(nil))
	return term{dim: a[0].dim, num: func(s *scope) float64 { return si.Round(a[0].num(s), figs) }}
}

// preferred makes the choice of a standard value (IEC 60063).
func preferred(f func(si.Series, float64) float64) func(*compiler, ast.Node, []ast.Node) term {
	return func(c *compiler, n ast.Node, args []ast.Node) term {
		name, ok := c.textArg(args, 0)
		series, err := si.SeriesOf(name)
		if !ok || err != nil || len(args) != 2 {
			return c.bad(n, "write it as above('E12', x), with a series from E3 to E96")
		}
		x := c.term(args[1])
		c.want(args[1], x, number)
		return term{dim: x.dim, num: func(s *scope) float64 { return f(series, x.num(s)) }}
	}
}

// buildRow makes row(v, column): R_DS(on) at 25 °C in the row that serves at the gate voltage v.
func buildRow(c *compiler, n ast.Node, args []ast.Node) term {
	column, ok := c.textArg(args, 1)
	if !ok || len(args) != 2 || column != "max" && column != "typ" {
		return c.bad(n, "write it as row(v, 'max') or row(v, 'typ')")
	}
	v := c.term(args[0])
	if !c.want(args[0], v, number) || v.dim != si.Voltage {
		return c.bad(args[0], "a row is chosen by a gate voltage")
	}
	return term{dim: si.Resistance, sheet: true, num: func(s *scope) float64 {
		if s.sizing == nil {
			return s.fail(fmt.Errorf("no row is known before the part is"))
		}
		volts := v.num(s)
		r, fit := s.sizing.Circuit().Part.RowFor(volts)
		q := r.Max
		if column == "typ" {
			q = r.Typ
		}
		if fit == part.None || !q.Known() {
			return s.fail(fmt.Errorf("the part has no %s row at %s", column, si.Of(volts, si.Voltage)))
		}
		return q.Value
	}}
}

// buildWith makes with('name', value, …, 'quantity'): the quantity computed anew
// with one or more inputs or quantities set to other values.
func buildWith(c *compiler, n ast.Node, args []ast.Node) term {
	const use = "write it as with('name', value, 'quantity'), with as many pairs of name and value as it takes"
	type change struct {
		id    engine.ID
		value term
	}
	if len(args) < 3 || len(args)%2 == 0 {
		return c.bad(n, use)
	}
	var changes []change
	for i := 0; i+1 < len(args); i += 2 {
		id, ok := c.engineName(args, i)
		if !ok {
			return c.bad(args[i], use)
		}
		v := c.term(args[i+1])
		if !c.want(args[i+1], v, number) {
			return v
		}
		if d := engine.Describe(id); d.Dim != v.dim {
			return c.bad(args[i+1], "%s is %s, not %s", d.Name, d.Dim.Name(), v.dim.Name())
		}
		changes = append(changes, change{id, v})
	}
	out, ok := c.engineName(args, len(args)-1)
	if !ok {
		return c.bad(args[len(args)-1], use)
	}
	return term{dim: engine.Describe(out).Dim, num: func(s *scope) float64 {
		if s.sizing == nil {
			return s.engine(out)
		}
		z := s.sizing
		for _, ch := range changes {
			z = z.Set(ch.id, ch.value.num(s))
		}
		q, err := z.Get(out)
		if err != nil {
			return s.fail(err)
		}
		return q.Value
	}}
}

func (c *compiler) engineName(args []ast.Node, i int) (engine.ID, bool) {
	name, ok := c.textArg(args, i)
	if !ok {
		return 0, false
	}
	id, ok := engine.Lookup(name)
	if !ok {
		c.bad(args[i], "the engine has no quantity %q; the nearest is %q", name, engine.Nearest(name))
	}
	return id, ok
}

// buildNumber makes number(x, 'unit'): the bare number of a quantity in a unit.
func buildNumber(c *compiler, n ast.Node, args []ast.Node) term {
	u, ok := c.unitArg(args)
	if !ok {
		return c.bad(n, "write it as number(x, 'mV')")
	}
	x := c.term(args[0])
	if !c.want(args[0], x, number) || x.dim != u.Dim {
		return c.bad(args[0], "%s has no number in %s", x.dim.Name(), u.Symbol)
	}
	return term{num: func(s *scope) float64 { return si.Of(x.num(s), x.dim).In(u) }}
}

// buildQuantity makes quantity(x, 'unit'): a bare number taken in a unit.
func buildQuantity(c *compiler, n ast.Node, args []ast.Node) term {
	u, ok := c.unitArg(args)
	if !ok {
		return c.bad(n, "write it as quantity(x, 'mV')")
	}
	x := c.term(args[0])
	if !c.want(args[0], x, number) || x.dim != si.One {
		return c.bad(args[0], "a plain number is asked for here, not %s", x.dim.Name())
	}
	one := 1 / si.Of(1, u.Dim).In(u)
	return term{dim: u.Dim, num: func(s *scope) float64 { return float64(x.num(s) * one) }}
}

func (c *compiler) unitArg(args []ast.Node) (si.Unit, bool) {
	name, ok := c.textArg(args, 1)
	if !ok || len(args) != 2 {
		return si.Unit{}, false
	}
	u, err := si.UnitOf(name)
	return u, err == nil
}

// buildVerdict makes verdict('check'): holds, tight, unknown or fails, as the
// engine's check says; verdict('all') is the worst of all checks.
func buildVerdict(c *compiler, n ast.Node, args []ast.Node) term {
	id, ok := c.textArg(args, 0)
	known := id == "all" || slices.ContainsFunc(engine.Checks(), func(k engine.CheckKind) bool { return k.ID == id })
	if !ok || len(args) != 1 || !known {
		return c.bad(n, "write it as verdict('junction'), with the id of a check, or verdict('all')")
	}
	return term{kind: word, text: func(s *scope) string {
		if s.sizing == nil {
			s.fail(fmt.Errorf("no verdict is known before the circuit is"))
			return ""
		}
		if id == "all" {
			return string(engine.Deciding(s.sizing.Checks()).Verdict)
		}
		check, ok := s.sizing.Check(id)
		if !ok {
			s.fail(fmt.Errorf("the check %s does not apply to this circuit", id))
		}
		return string(check.Verdict)
	}}
}

// buildZTh makes z_th(t): the thermal impedance of the part for a pulse of length t.
func buildZTh(c *compiler, n ast.Node, args []ast.Node) term {
	a, ok := c.numbers(n, "z_th(t)", args, 1)
	if !ok || a[0].dim != si.Time {
		return c.bad(n, "write it as z_th(t), with a time")
	}
	return term{dim: si.ThermalResistance, num: func(s *scope) float64 {
		if s.sizing == nil || len(s.sizing.Circuit().Part.Characteristics.ZTh.Cells) == 0 {
			return s.fail(fmt.Errorf("the part has no thermal response"))
		}
		return s.sizing.Circuit().Part.Characteristics.ZTh.At(a[0].num(s))
	}}
}

// buildRatioAt makes ratio_at(T): k, the resistance at a junction temperature over that at 25 °C.
func buildRatioAt(c *compiler, n ast.Node, args []ast.Node) term {
	a, ok := c.numbers(n, "ratio_at(T)", args, 1)
	if !ok || a[0].dim != si.Temperature {
		return c.bad(n, "write it as ratio_at(T), with a temperature in °C")
	}
	return term{num: func(s *scope) float64 {
		if s.sizing == nil {
			return s.fail(fmt.Errorf("no ratio is known before the part is"))
		}
		k, _ := s.sizing.Circuit().Part.Ratio(a[0].num(s))
		return k
	}}
}
