package problem

import (
	"fmt"

	"fullyon/engine"
	"fullyon/engine/si"
)

// scope is what a formula is evaluated over: the values of the template's own
// names, and the sizing that answers for the engine's names.
type scope struct {
	nums   []float64
	texts  []string
	sizing *engine.Sizing
	err    error // the first thing that went wrong
}

// fail notes the first error; the value returned then no longer matters.
func (s *scope) fail(err error) float64 {
	if s.err == nil {
		s.err = err
	}
	return 0
}

func (s *scope) engine(n engine.ID) float64 {
	if s.sizing == nil {
		return s.fail(fmt.Errorf("%s is not known before the circuit is", engine.Describe(n).Name))
	}
	q, err := s.sizing.Get(n)
	if err != nil {
		return s.fail(err)
	}
	return q.Value
}

// kind is what sort of thing a name or formula stands for.
type kind uint8

const (
	number kind = iota // with a dimension
	word               // text
	truth              // true or false
)

func (k kind) String() string { return [...]string{"a quantity", "a text", "true or false"}[k] }

// slot is one of the template's own names.
type slot struct {
	name   string
	kind   kind
	dim    si.Dim
	at     int    // in scope.nums or scope.texts
	symbol string // TeX
	unit   *si.Unit
	figs   int // figures to print with; 0 prints as drawn
}

// names are the names that a formula may use at some place of a template.
type names struct {
	own   []*slot
	index map[string]*slot
	nums  int
	texts int
}

func newNames() *names { return &names{index: map[string]*slot{}} }

// add makes a new name known to all formulas that follow.
func (n *names) add(s *slot) {
	if s.kind == word {
		s.at = n.texts
		n.texts++
	} else {
		s.at = n.nums
		n.nums++
	}
	n.own = append(n.own, s)
	n.index[s.name] = s
}

func (n *names) scope(z *engine.Sizing) *scope {
	return &scope{nums: make([]float64, n.nums), texts: make([]string, n.texts), sizing: z}
}
