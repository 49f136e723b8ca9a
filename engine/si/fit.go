package si

import (
	"fmt"
	"math"
	"strings"
)

// fit turns a value into the quantity asked, or says why it is not one.
func (p *reader) fit(v *value) (Reading, error) {
	r := Reading{Prefix: p.prefix, Sum: p.ops > 0}
	a := p.asked
	if p.file && r.Sum {
		return r, p.fail(Unreadable, 0, "a calculation cannot stand here; give the value and its unit")
	}
	if !r.Sum {
		r.Figures = v.num.figs
	}
	switch {
	case !p.units:
		if p.file && a.Dim != One {
			return r, p.fail(MissingUnit, len(p.s), fmt.Sprintf("the unit is missing; %s is asked, as in %s", a.Dim.Name(), example(a)))
		}
		if err := p.assume(&r, v); err != nil {
			return r, err
		}
	case v.q.Dim == a.Dim:
		r.Quantity = v.q
	case !r.Sum && v.q.Dim == TemperatureDifference && a.Dim == Temperature:
		x := decimalOf(v.q.Value - 273.15)
		x.round(13)
		r.Quantity = Of(x.float(0), Temperature)
		r.Notes = append(r.Notes, "kelvin turned into degrees Celsius by taking off 273.15")
	case !r.Sum && v.q.Dim == Temperature && a.Dim == TemperatureDifference:
		r.Quantity = Of(v.q.Value, TemperatureDifference)
		r.Notes = append(r.Notes, "read as a difference; differences are best given in K")
	case names[v.q.Dim] == "":
		return r, p.fail(WrongDimension, 0, fmt.Sprintf("the units do not come out as %s, as in %s; check each unit and each sign", a.Dim.Name(), example(a)))
	default:
		return r, p.fail(WrongDimension, 0, fmt.Sprintf("that is %s; %s is asked, as in %s", v.q.Dim.Name(), a.Dim.Name(), example(a)))
	}
	if !r.Quantity.Finite() {
		return r, p.fail(Unreadable, 0, "the value is too large to be a number here; check the powers of ten")
	}
	x := decimalOf(r.Quantity.Value)
	x.round(printed)
	if e := x.exp - a.exp; max(x.exp, e) > maxExponent || min(x.exp, e) < -maxExponent {
		return r, p.fail(Unreadable, 0, "a value beyond 10^30 or below 10^-30 is none of this trade; check the powers of ten")
	}
	if p.kilo {
		r.Notes = append(r.Notes, "K read as kilo; kilo is written with a small k")
	}
	r.Text = r.describe(a)
	return r, nil
}

// assume gives a number without a unit the unit asked.
func (p *reader) assume(r *Reading, v *value) error {
	a := p.asked
	r.Assumed = a.Symbol != ""
	switch {
	case p.prefixed && !a.scaled:
		return p.fail(UnknownUnit, 0, fmt.Sprintf("a prefix alone is not understood where %s is asked; write the whole unit, as in %s", a.Dim.Name(), example(a)))
	case r.Sum && p.prefixed: // the prefixes were typed, so the result is unprefixed
		r.Quantity = Of(shift(v.q.Value, a.exp-a.pre), a.Dim)
	case r.Sum && a.Dim == One && a.exp != 0:
		return p.ambiguous([]Reading{{Quantity: Of(shift(v.q.Value, a.exp), One)}, {Quantity: v.q}})
	case r.Sum:
		r.Quantity = Of(shift(v.q.Value, a.exp), a.Dim)
	case p.prefixed:
		r.Quantity = Of(v.num.float(v.exp+a.exp-a.pre, v.neg), a.Dim)
	default:
		r.Quantity = Of(v.num.float(a.exp, v.neg), a.Dim)
	}
	return nil
}

// example is a quantity in the asked unit, for a message.
func example(a Unit) string {
	if a.Symbol == "" {
		return "0.6"
	}
	return strings.TrimSpace("12 " + strings.TrimPrefix(a.Symbol, "1"))
}

// describe prints a reading in the asked unit with the figures typed, or with
// another prefix where the asked unit would need many noughts.
func (r *Reading) describe(a Unit) string {
	n := r.Figures
	if n == 0 {
		x := decimalOf(r.Quantity.Value)
		x.round(6)
		n = max(x.n, 3)
	}
	n = min(n, printed)
	v := math.Abs(r.Quantity.Value)
	if a.exp != 0 {
		v = shift(v, -a.exp)
	}
	if v != 0 && a.Dim != One && (v < 1e-3 || v >= 1e5) {
		x := decimalOf(r.Quantity.Value)
		x.round(n)
		u := a.Dim.Unit()
		return write(x, u.engineering(x, printed), n)
	}
	return r.Quantity.FiguresIn(a, n)
}
