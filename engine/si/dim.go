package si

import "fmt"

// Dim is the dimension of a quantity: the exponents of kilogram, metre, second,
// ampere and kelvin. Point marks a temperature on the Celsius scale (a point),
// as against a difference of temperatures; it only ever stands with K == 1 and
// all other exponents zero.
type Dim struct {
	Kg, M, S, A, K int8
	Point          bool
}

// The dimensions of the trade. One is the dimension of ratios, percentages and counts.
var (
	One                   = Dim{}
	Length                = Dim{M: 1}
	Area                  = Dim{M: 2}
	Time                  = Dim{S: 1}
	Frequency             = Dim{S: -1}
	Current               = Dim{A: 1}
	Charge                = Dim{S: 1, A: 1}
	Energy                = Dim{Kg: 1, M: 2, S: -2}
	Power                 = Dim{Kg: 1, M: 2, S: -3}
	Voltage               = Dim{Kg: 1, M: 2, S: -3, A: -1}
	Resistance            = Dim{Kg: 1, M: 2, S: -3, A: -2}
	Capacitance           = Dim{Kg: -1, M: -2, S: 4, A: 2}
	Inductance            = Dim{Kg: 1, M: 2, S: -2, A: -2}
	SlewRate              = Dim{Kg: 1, M: 2, S: -4, A: -1}        // volts per second
	Temperature           = Dim{K: 1, Point: true}                // a point, held in degrees Celsius
	TemperatureDifference = Dim{K: 1}                             // held in kelvin
	ThermalResistance     = Dim{Kg: -1, M: -2, S: 3, K: 1}        // kelvin per watt
	PerKelvin             = Dim{K: -1}                            // a relative change per kelvin
	VoltagePerKelvin      = Dim{Kg: 1, M: 2, S: -3, A: -1, K: -1} // drift of a threshold
	Resistivity           = Dim{Kg: 1, M: 3, S: -3, A: -2}
)

// names says what a dimension is in a sentence such as "that is a voltage; a power is asked".
var names = map[Dim]string{
	One: "a plain number", Length: "a length", Area: "an area", Time: "a time",
	Frequency: "a frequency", Current: "a current", Charge: "a charge",
	Energy: "an energy", Power: "a power", Voltage: "a voltage",
	Resistance: "a resistance", Capacitance: "a capacitance", Inductance: "an inductance",
	SlewRate: "a rate of voltage rise", Temperature: "a temperature",
	TemperatureDifference: "a temperature difference", ThermalResistance: "a thermal resistance",
	PerKelvin: "a change per kelvin", VoltagePerKelvin: "a voltage drift per kelvin",
	Resistivity: "a resistivity",
}

// Name says in words what has this dimension, with its article: "a voltage".
// A dimension without a name of its own is given by its base units.
func (d Dim) Name() string {
	if n, ok := names[d]; ok {
		return n
	}
	return "a quantity in " + d.base()
}

// base writes the dimension in base units: "kg m² s⁻³".
func (d Dim) base() string {
	s := ""
	for _, f := range []struct {
		unit string
		exp  int8
	}{{"kg", d.Kg}, {"m", d.M}, {"s", d.S}, {"A", d.A}, {"K", d.K}} {
		switch {
		case f.exp == 0:
		case f.exp == 1:
			s += " " + f.unit
		default:
			s += fmt.Sprintf(" %s^%d", f.unit, f.exp)
		}
	}
	if s == "" {
		return "1"
	}
	return s[1:]
}

// difference drops the mark of a point: what is left when the zero of the scale no longer matters.
func (d Dim) difference() Dim { d.Point = false; return d }

// Add is the dimension of a sum. A point and a difference make a point; two
// points cannot be added, and unlike dimensions cannot be either.
func (d Dim) Add(e Dim) (Dim, error) {
	switch {
	case d.Point && e.Point:
		return Dim{}, fmt.Errorf("two temperatures cannot be added; a temperature and a difference in kelvin can")
	case d.difference() != e.difference():
		return Dim{}, fmt.Errorf("%s and %s cannot be added", d.Name(), e.Name())
	}
	d.Point = d.Point || e.Point
	return d, nil
}

// Sub is the dimension of a difference. Two points give a difference, a point
// less a difference gives a point, a difference less a point gives nothing.
func (d Dim) Sub(e Dim) (Dim, error) {
	switch {
	case d.difference() != e.difference():
		return Dim{}, fmt.Errorf("%s cannot be taken from %s", e.Name(), d.Name())
	case e.Point && !d.Point:
		return Dim{}, fmt.Errorf("a temperature cannot be taken from a temperature difference")
	}
	d.Point = d.Point && !e.Point
	return d, nil
}

// Mul is the dimension of a product. A temperature in °C has no product: only a difference has one.
func (d Dim) Mul(e Dim) (Dim, error) {
	if d.Point || e.Point {
		return Dim{}, fmt.Errorf("a temperature in °C cannot be multiplied or divided; take a difference first")
	}
	return Dim{Kg: d.Kg + e.Kg, M: d.M + e.M, S: d.S + e.S, A: d.A + e.A, K: d.K + e.K}, nil
}

// Div is the dimension of a quotient.
func (d Dim) Div(e Dim) (Dim, error) {
	inv, err := e.Pow(-1)
	if err != nil {
		return Dim{}, err
	}
	return d.Mul(inv)
}

// Pow is the dimension of a whole power, from −8 to 8.
func (d Dim) Pow(n int) (Dim, error) {
	if d.Point {
		return Dim{}, fmt.Errorf("a temperature in °C cannot be raised to a power; take a difference first")
	}
	if n < -8 || n > 8 {
		return Dim{}, fmt.Errorf("a power of %d is out of range", n)
	}
	m := int8(n)
	return Dim{Kg: d.Kg * m, M: d.M * m, S: d.S * m, A: d.A * m, K: d.K * m}, nil
}

// Root is the dimension of a square root; an odd exponent has none.
func (d Dim) Root() (Dim, error) {
	if d.Point || d.Kg%2 != 0 || d.M%2 != 0 || d.S%2 != 0 || d.A%2 != 0 || d.K%2 != 0 {
		return Dim{}, fmt.Errorf("%s has no square root among the units", d.Name())
	}
	return Dim{Kg: d.Kg / 2, M: d.M / 2, S: d.S / 2, A: d.A / 2, K: d.K / 2}, nil
}
