package si

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Series is a series of preferred values of IEC 60063: so many values a decade.
type Series int

// The series. E6 to E24 have values of two digits, E48 and E96 of three.
const (
	E3 Series = iota
	E6
	E12
	E24
	E48
	E96
)

var e24 = []int{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}

// series holds the values of one decade. E3 to E12 are every eighth, fourth and
// second value of E24. E96 is 100·10^(i/96) rounded, which gives the standard's
// values; E24 is not given by such a formula (eight values differ), so it is a table.
var series = func() (s [6][]int) {
	s[E24] = e24
	for i, v := range e24 {
		if i%8 == 0 {
			s[E3] = append(s[E3], v)
		}
		if i%4 == 0 {
			s[E6] = append(s[E6], v)
		}
		if i%2 == 0 {
			s[E12] = append(s[E12], v)
		}
	}
	for i := range 96 {
		v := int(math.Round(100 * math.Pow(10, float64(i)/96)))
		s[E96] = append(s[E96], v)
		if i%2 == 0 {
			s[E48] = append(s[E48], v)
		}
	}
	return s
}()

var seriesNames = [...]string{"E3", "E6", "E12", "E24", "E48", "E96"}

// SeriesOf finds a series by its name, "E12".
func SeriesOf(name string) (Series, error) {
	for i, n := range seriesNames {
		if strings.EqualFold(strings.TrimSpace(name), n) {
			return Series(i), nil
		}
	}
	return 0, fmt.Errorf("there is no series %q; the series are %s", name, strings.Join(seriesNames[:], ", "))
}

// String is the name of the series.
func (s Series) String() string {
	if s < E3 || s > E96 {
		return "Series(" + strconv.Itoa(int(s)) + ")"
	}
	return seriesNames[s]
}

// Values are the values of one decade as whole numbers: 10 … 91, or 100 … 976.
// The slice is the caller's.
func (s Series) Values() []int { return append([]int(nil), series[s]...) }

// slack is the number of digits to which a value counts as one of the series,
// so that a computed 179.99999999999997 is 180.
const slack = 12

// at is the i-th preferred value counted from 1, over all decades; exact in
// decimal, so that 180 × 10⁻⁹ is the float that "180 n" reads as.
func (s Series) at(i int) float64 {
	n := len(series[s])
	k := i / n
	if i%n < 0 {
		k--
	}
	m := series[s][i-k*n]
	if m < 100 {
		k--
	} else {
		k -= 2
	}
	var buf [24]byte
	b := strconv.AppendInt(buf[:0], int64(m), 10)
	b = append(b, 'e')
	b = strconv.AppendInt(b, int64(k), 10)
	v, _ := strconv.ParseFloat(string(b), 64)
	return v
}

// floor is the index of the largest value not above v, and whether it is v. The
// value must be positive and finite.
func (s Series) floor(v float64) (int, bool) {
	x := decimalOf(v)
	x.round(slack)
	m := x.float(2 - x.exp) // 100 … 999.999
	list, scale := series[s], 1.0
	if list[0] < 100 {
		scale = 10
	}
	i := len(list) - 1
	for float64(list[i])*scale > m {
		i--
	}
	return x.exp*len(list) + i, float64(list[i])*scale == m
}

func usable(v float64) bool { return v >= 1e-30 && v <= 1e30 }

// AtMost is the largest preferred value not above v. Like the methods below it
// is NaN for a v that is not positive or lies outside 10⁻³⁰ to 10³⁰.
func (s Series) AtMost(v float64) float64 {
	if !usable(v) {
		return math.NaN()
	}
	i, _ := s.floor(v)
	return s.at(i)
}

// AtLeast is the smallest preferred value not below v.
func (s Series) AtLeast(v float64) float64 {
	if !usable(v) {
		return math.NaN()
	}
	i, is := s.floor(v)
	if !is {
		i++
	}
	return s.at(i)
}

// Nearest is the preferred value nearest to v by ratio, since the steps of a
// series are ratios; the lower of two that are equally near.
func (s Series) Nearest(v float64) float64 {
	if !usable(v) {
		return math.NaN()
	}
	i, is := s.floor(v)
	low := s.at(i)
	if is {
		return low
	}
	if high := s.at(i + 1); high/v < v/low {
		return high
	}
	return low
}

// Has tells whether v is a preferred value.
func (s Series) Has(v float64) bool {
	if !usable(v) {
		return false
	}
	_, is := s.floor(v)
	return is
}

// Between are the preferred values from lo to hi, both included. There are none
// unless both are positive and in order.
func (s Series) Between(lo, hi float64) []float64 {
	if !usable(lo) || !usable(hi) {
		return nil
	}
	i, is := s.floor(lo)
	if !is {
		i++
	}
	j, _ := s.floor(hi)
	var list []float64
	for ; i <= j; i++ {
		list = append(list, s.at(i))
	}
	return list
}
