package part

import (
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// scale is a unit as a circuit file writes it, with its power of ten.
type scale struct {
	exp  int
	unit string
}

// scales are the ways to write a dimension, from the largest down.
var scales = map[si.Dim][]scale{
	si.Voltage:           {{0, "V"}, {-3, "mV"}},
	si.Current:           {{0, "A"}, {-3, "mA"}, {-6, "uA"}},
	si.Resistance:        {{3, "kohm"}, {0, "ohm"}, {-3, "mohm"}},
	si.Charge:            {{-6, "uC"}, {-9, "nC"}, {-12, "pC"}},
	si.Capacitance:       {{-6, "uF"}, {-9, "nF"}, {-12, "pF"}},
	si.Energy:            {{0, "J"}, {-3, "mJ"}, {-6, "uJ"}},
	si.Time:              {{0, "s"}, {-3, "ms"}, {-6, "us"}, {-9, "ns"}},
	si.Temperature:       {{0, "C"}},
	si.ThermalResistance: {{0, "K/W"}},
	si.One:               {{0, ""}},
}

// text writes a quantity as a circuit file has it, such that reading gives the same value again.
func text(q si.Quantity) string {
	ways := scales[q.Dim]
	if len(ways) == 0 {
		return q.String()
	}
	best := ""
	// A value read from a file is the nearest to a short decimal; a computed one may need all its digits.
	for _, digits := range []int{6, 9, 12, 15, 16, 17} {
		best = decimal(q.Value, digits, ways)
		if back, err := si.Parse(best, q.Dim); err == nil && back == q {
			break
		}
	}
	return best
}

// decimal writes a value with at most so many digits, in the largest unit in which it is not below 1.
func decimal(v float64, digits int, ways []scale) string {
	s := strconv.FormatFloat(v, 'e', digits-1, 64)
	sign := ""
	if s[0] == '-' {
		sign, s = "-", s[1:]
	}
	mantissa, e, _ := strings.Cut(s, "e")
	exp, _ := strconv.Atoi(e)
	way := ways[len(ways)-1]
	for _, w := range ways {
		if exp >= w.exp {
			way = w
			break
		}
	}
	d := strings.TrimRight(strings.Replace(mantissa, ".", "", 1), "0")
	if d == "" {
		d, exp = "0", way.exp
	}
	point := exp - way.exp + 1 // digits before the decimal point
	switch {
	case point <= 0:
		d = "0." + strings.Repeat("0", -point) + d
	case point >= len(d):
		d += strings.Repeat("0", point-len(d))
	default:
		d = d[:point] + "." + d[point:]
	}
	if way.unit != "" {
		d += " " + way.unit
	}
	return sign + d
}
