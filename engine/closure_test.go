package engine

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/si"
)

// Each printed formula, worked out from the printed names, gives the computed
// value in its dimension. So what a learner reads is what was computed.
func TestFormulasAreTrue(t *testing.T) {
	served := map[ID]bool{}
	for name, c := range yard(t) {
		if _, refused := Refusal(&c); refused {
			continue
		}
		if msg := formulasTrue(&c, served); msg != "" {
			t.Fatalf("%s: %s", name, msg)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		if msg := formulasTrue(&c, served); msg != "" {
			t.Fatal(msg)
		}
	})
	c := mustRead(t, whole)
	if msg := formulasTrue(&c, served); msg != "" {
		t.Error(msg)
	}
	for _, d := range Quantities() {
		if d.Formula != "" && !served[d.ID] {
			t.Errorf("the formula of %s was never worked out", d.Name)
		}
	}
}

func formulasTrue(c *Circuit, served map[ID]bool) string {
	s := NewSizing(c)
	for _, d := range Quantities() {
		got, err := s.Get(d.ID)
		f := s.Formula(d.ID)
		if err != nil || f == "" {
			continue
		}
		served[d.ID] = true
		e := evaluator{s: s, src: f}
		want, err := e.run()
		if err != nil {
			return fmt.Sprintf("%s = %s: %v", d.Name, f, err)
		}
		if want.Value == 0 && want.Dim == si.One {
			want.Dim = got.Dim // a formula that is just 0
		}
		if want.Dim != got.Dim {
			return fmt.Sprintf("%s is %s, its formula %s makes %s", d.Name, got.Dim.Name(), f, want.Dim.Name())
		}
		if diff := math.Abs(want.Value - got.Value); diff > 1e-6*math.Abs(got.Value)+1e-15 {
			return fmt.Sprintf("%s is %v, its formula %s makes %v", d.Name, got.Value, f, want.Value)
		}
		if s.Symbols(d.ID) == "" || s.Numbers(d.ID) == "" {
			return fmt.Sprintf("%s = %s is not written out: %q, %q", d.Name, f, s.Symbols(d.ID), s.Numbers(d.ID))
		}
	}
	return ""
}

// evaluator works out a formula over quantities; dimensions are checked at each step.
type evaluator struct {
	s   *Sizing
	src string
	pos int
}

func (e *evaluator) run() (q si.Quantity, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	q = e.sum()
	if e.pos != len(e.src) {
		return q, fmt.Errorf("unread: %q", e.src[e.pos:])
	}
	return q, nil
}

func must(q si.Quantity, err error) si.Quantity {
	if err != nil {
		panic(err)
	}
	return q
}

func (e *evaluator) next(ops string) byte {
	for e.pos < len(e.src) && e.src[e.pos] == ' ' {
		e.pos++
	}
	if e.pos < len(e.src) && strings.IndexByte(ops, e.src[e.pos]) >= 0 {
		e.pos++
		return e.src[e.pos-1]
	}
	return 0
}

func (e *evaluator) sum() si.Quantity {
	q := e.product()
	for {
		switch e.next("+-") {
		case '+':
			q = must(q.Add(e.product()))
		case '-':
			q = must(q.Sub(e.product()))
		default:
			return q
		}
	}
}

func (e *evaluator) product() si.Quantity {
	q := e.power()
	for {
		switch e.next("*/") {
		case '*':
			q = must(q.Mul(e.power()))
		case '/':
			q = must(q.Div(e.power()))
		default:
			return q
		}
	}
}

func (e *evaluator) power() si.Quantity {
	q := e.value()
	if e.next("^") != 0 {
		return must(q.Pow(int(e.value().Value)))
	}
	return q
}

func (e *evaluator) word(chars string) string {
	start := e.pos
	for e.pos < len(e.src) && strings.IndexByte(chars, e.src[e.pos]) >= 0 {
		e.pos++
	}
	return e.src[start:e.pos]
}

func (e *evaluator) value() si.Quantity {
	switch {
	case e.next("(") != 0:
		q := e.sum()
		e.close()
		return q
	case e.next("-") != 0:
		q := e.value()
		q.Value = -q.Value
		return q
	}
	if name := e.word("abcdefghijklmnopqrstuvwxyz_"); name != "" {
		if e.next("(") != 0 {
			return e.call(name)
		}
		return must(e.s.Quantity(name))
	}
	text := e.word("0123456789.")
	if e.pos < len(e.src) && e.src[e.pos] == 'e' {
		text += e.word("e-0123456789")
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err)
	}
	if v == copperResistivity { // the one constant with a unit
		return si.Of(v, si.Resistivity)
	}
	return si.Of(v, si.One)
}

func (e *evaluator) close() {
	if e.next(")") == 0 {
		panic("a bracket is not closed at " + e.src[e.pos:])
	}
}

func (e *evaluator) call(name string) si.Quantity {
	a := e.sum()
	if name == "max" {
		if e.next(",") == 0 {
			panic("max needs two values")
		}
		b := e.sum()
		e.close()
		if a.Value == 0 {
			a.Dim = b.Dim
		}
		if a.Dim != b.Dim {
			panic("max of unlike quantities")
		}
		return si.Of(math.Max(a.Value, b.Value), a.Dim)
	}
	e.close()
	if name == "sqrt" {
		d, err := a.Dim.Root()
		if err != nil {
			panic(err)
		}
		return si.Of(math.Sqrt(a.Value), d)
	}
	if a.Dim != si.One {
		panic(name + " of " + a.Dim.Name())
	}
	switch name {
	case "ln":
		return si.Of(math.Log(a.Value), si.One)
	case "exp":
		return si.Of(math.Exp(a.Value), si.One)
	}
	panic("no function " + name)
}
