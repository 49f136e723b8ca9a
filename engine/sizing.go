package engine

import (
	"fmt"
	"math"

	"fullyon/engine/si"
)

// Sizing computes the quantities of one circuit, each when it is first asked
// for, and remembers them. It is not for use by several goroutines at once.
type Sizing struct {
	circuit *Circuit
	value   [idCount]float64
	state   [idCount]state
	absent  [idCount]*Absent
	leans   [idCount]idSet // inputs that a value rests on
	open    []ID           // what is being computed, outermost first
	form    [idCount]string
}

// state is how far a value has come.
type state uint8

const (
	untouched state = iota
	computing
	known
	missing
	set // fixed by With: never computed
)

// Absent says why a quantity cannot be computed.
type Absent struct {
	Name    string // the quantity that was asked for
	Needs   string // the input or quantity that is missing, by name; may be empty
	Because string // in one clause: "the file gives no theta_ja"
}

func (a *Absent) Error() string { return a.Name + " cannot be computed: " + a.Because }

// NewSizing begins the sizing of a circuit. The circuit is not copied and must
// not change meanwhile.
func NewSizing(c *Circuit) *Sizing { return &Sizing{circuit: c} }

// Circuit is what is being sized.
func (s *Sizing) Circuit() *Circuit { return s.circuit }

// With is the same sizing with one input or quantity set to another value, and
// everything that follows from it computed anew. It serves the question "what if".
func (s *Sizing) With(name string, q si.Quantity) (*Sizing, error) {
	n, ok := Lookup(name)
	if !ok {
		return nil, fmt.Errorf("there is no quantity %q", name)
	}
	if d := table[n].Dim; d != q.Dim {
		return nil, fmt.Errorf("%s is %s, not %s", name, d.Name(), q.Dim.Name())
	}
	return s.with(n, q.Value), nil
}

// Set is With by number, for an SI value.
func (s *Sizing) Set(n ID, value float64) *Sizing { return s.with(n, value) }

func (s *Sizing) with(n ID, v float64) *Sizing {
	t := &Sizing{circuit: s.circuit}
	for i, st := range s.state {
		if st == set {
			t.state[i], t.value[i] = set, s.value[i]
		}
	}
	t.state[n], t.value[n] = set, v
	return t
}

// Quantity gives an input or a computed quantity by name, or the *Absent that
// says why it cannot be had.
func (s *Sizing) Quantity(name string) (si.Quantity, error) {
	n, ok := Lookup(name)
	if !ok {
		return si.Quantity{}, fmt.Errorf("there is no quantity %q", name)
	}
	return s.Get(n)
}

// Get is Quantity by number.
func (s *Sizing) Get(n ID) (si.Quantity, error) {
	v := s.q(n)
	if s.state[n] == missing {
		return si.Quantity{}, s.absent[n]
	}
	return si.Of(v, table[n].Dim), nil
}

// q is the value of n for use inside a computation, NaN when it is missing; the
// computation that asked then is missing too, for the reason first met.
func (s *Sizing) q(n ID) float64 {
	switch s.state[n] {
	case untouched:
		s.compute(n)
	case computing:
		s.lack(n, "it depends on itself")
		return math.NaN()
	}
	if k := len(s.open); k > 0 {
		outer := s.open[k-1]
		s.leans[outer].add(n)
		s.leans[outer].join(&s.leans[n])
		if s.state[n] == missing && s.absent[outer] == nil {
			a := s.absent[n]
			s.absent[outer] = &Absent{Name: table[outer].Name, Needs: a.Needs, Because: a.Because}
		}
	}
	if s.state[n] == missing {
		return math.NaN()
	}
	return s.value[n]
}

// has tells whether n can be had, without making the quantity in hand depend on it.
func (s *Sizing) has(n ID) bool {
	if s.state[n] == untouched {
		s.compute(n)
	}
	return s.state[n] == known || s.state[n] == set
}

// given tells whether an input was written in the file (or set), not defaulted.
func (s *Sizing) given(n ID) bool {
	return s.state[n] == set || n < inputCount && table[n].input.at(s.circuit).Known()
}

// lack says that the quantity in hand cannot be computed, and why.
func (s *Sizing) lack(needs ID, because string, args ...any) float64 {
	if k := len(s.open); k > 0 {
		n := s.open[k-1]
		if s.absent[n] == nil {
			s.absent[n] = &Absent{Name: table[n].Name, Needs: table[needs].Name, Because: fmt.Sprintf(because, args...)}
		}
	}
	return math.NaN()
}

// formula notes which form of a formula served the quantity in hand, where there are several.
func (s *Sizing) formula(f string) {
	if k := len(s.open); k > 0 {
		s.form[s.open[k-1]] = f
	}
}

// noFormula says that the value comes from a table or a solution, not from one line.
const noFormula = "-"

func (s *Sizing) compute(n ID) {
	s.state[n] = computing
	s.open = append(s.open, n)
	var v float64
	if n >= inputCount && s.outside() {
		v = s.lack(supplyVoltage, OutsideExtraLowVoltage)
	} else {
		v = table[n].compute(s)
	}
	s.open = s.open[:len(s.open)-1]
	switch {
	case s.absent[n] != nil:
	case math.IsNaN(v) || math.IsInf(v, 0):
		s.absent[n] = &Absent{Name: table[n].Name, Because: "the numbers given lead to no finite value"}
	default:
		s.value[n], s.state[n] = v, known
		return
	}
	s.value[n], s.state[n] = 0, missing
}

// Formula is the form of the quantity's formula that served for this circuit,
// in the notation of package formula; empty for an input.
func (s *Sizing) Formula(n ID) string {
	s.Get(n)
	switch f := s.form[n]; f {
	case "":
	case noFormula:
		return ""
	default:
		return f
	}
	return table[n].Formula
}

// Defaults lists the inputs that n leans on without their having been given.
func (s *Sizing) Defaults(n ID) []ID {
	s.Get(n)
	var out []ID
	for i := ID(0); i < inputCount; i++ {
		if (i == n || s.leans[n].has(i)) && !s.given(i) && s.state[i] == known {
			out = append(out, i)
		}
	}
	return out
}

// LeansOn tells whether the value of n rests on m.
func (s *Sizing) LeansOn(n, m ID) bool {
	s.Get(n)
	return s.leans[n].has(m)
}

// idSet is a small set of IDs.
type idSet [(idCount + 63) / 64]uint64

func (b *idSet) add(n ID)      { b[n/64] |= 1 << (n % 64) }
func (b *idSet) has(n ID) bool { return b[n/64]&(1<<(n%64)) != 0 }
func (b *idSet) join(o *idSet) {
	for i := range b {
		b[i] |= o[i]
	}
}
