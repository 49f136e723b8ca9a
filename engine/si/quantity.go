package si

import (
	"fmt"
	"math"
)

// Quantity is a value with its dimension. Value is in unprefixed SI units; a
// temperature point is in degrees Celsius, a temperature difference in kelvin,
// a percentage is a ratio (60 % is 0.6).
//
// The zero Quantity means "not given": see Known. A ratio of exactly zero
// therefore reads as not given, which no quantity of this trade needs.
type Quantity struct {
	Value float64
	Dim   Dim
}

// Of makes a quantity from an SI value and its dimension.
func Of(value float64, d Dim) Quantity { return Quantity{value, d} }

// Known tells whether the quantity was given at all.
func (q Quantity) Known() bool { return q != Quantity{} }

// Finite tells whether the value is a number that can be printed.
func (q Quantity) Finite() bool { return !math.IsNaN(q.Value) && !math.IsInf(q.Value, 0) }

// Add adds two quantities of like dimension; see Dim.Add for temperatures.
func (q Quantity) Add(p Quantity) (Quantity, error) {
	d, err := q.Dim.Add(p.Dim)
	return finite(q.Value+p.Value, d, err)
}

// Sub takes p from q; see Dim.Sub for temperatures.
func (q Quantity) Sub(p Quantity) (Quantity, error) {
	d, err := q.Dim.Sub(p.Dim)
	return finite(q.Value-p.Value, d, err)
}

// Mul multiplies two quantities.
func (q Quantity) Mul(p Quantity) (Quantity, error) {
	d, err := q.Dim.Mul(p.Dim)
	return finite(q.Value*p.Value, d, err)
}

// Div divides q by p. A zero divisor is an error.
func (q Quantity) Div(p Quantity) (Quantity, error) {
	d, err := q.Dim.Div(p.Dim)
	if err == nil && p.Value == 0 {
		err = fmt.Errorf("a division by zero")
	}
	return finite(q.Value/p.Value, d, err)
}

// Pow raises q to a whole power.
func (q Quantity) Pow(n int) (Quantity, error) {
	d, err := q.Dim.Pow(n)
	return finite(math.Pow(q.Value, float64(n)), d, err)
}

func finite(v float64, d Dim, err error) (Quantity, error) {
	if err != nil {
		return Quantity{}, err
	}
	q := Quantity{v, d}
	if !q.Finite() {
		return Quantity{}, fmt.Errorf("the result is not a finite number")
	}
	return q, nil
}
