package problem

import (
	"math"

	"github.com/expr-lang/expr/ast"

	"fullyon/engine/si"
)

func (c *compiler) binary(n *ast.BinaryNode) term {
	a, b := c.term(n.Left), c.term(n.Right)
	if c.err != nil {
		return a
	}
	switch n.Operator {
	case "&&", "and", "||", "or":
		return c.logic(n, a, b)
	case "==", "!=":
		return c.equal(n, a, b)
	case "<", "<=", ">", ">=":
		return c.compare(n, a, b)
	case "+", "-", "*", "/", "^", "**":
		if !c.want(n.Left, a, number) || !c.want(n.Right, b, number) {
			return a
		}
		return c.arithmetic(n, a, b)
	}
	return c.bad(n, "%q cannot stand in a formula", n.Operator)
}

func (c *compiler) logic(n *ast.BinaryNode, a, b term) term {
	t := term{kind: truth}
	if !c.want(n.Left, a, truth) || !c.want(n.Right, b, truth) {
		return t
	}
	if n.Operator == "&&" || n.Operator == "and" {
		t.truth = func(s *scope) bool { return a.truth(s) && b.truth(s) }
	} else {
		t.truth = func(s *scope) bool { return a.truth(s) || b.truth(s) }
	}
	return t
}

// equal compares texts and truths only: computed numbers are never exactly equal.
func (c *compiler) equal(n *ast.BinaryNode, a, b term) term {
	same := n.Operator == "=="
	switch {
	case a.kind != b.kind:
		return c.bad(n, "%s and %s cannot be equal", a.kind, b.kind)
	case a.kind == word:
		return term{kind: truth, truth: func(s *scope) bool { return (a.text(s) == b.text(s)) == same }}
	case a.kind == truth:
		return term{kind: truth, truth: func(s *scope) bool { return (a.truth(s) == b.truth(s)) == same }}
	}
	return c.bad(n, "quantities cannot be compared with %s; use < or >, or abs(a - b) < ...", n.Operator)
}

func (c *compiler) compare(n *ast.BinaryNode, a, b term) term {
	t := term{kind: truth}
	switch {
	case !c.want(n.Left, a, number) || !c.want(n.Right, b, number):
		return t
	case a.dim != b.dim:
		return c.bad(n, "%s cannot be compared with %s", a.dim.Name(), b.dim.Name())
	}
	switch n.Operator {
	case "<":
		t.truth = func(s *scope) bool { return a.num(s) < b.num(s) }
	case "<=":
		t.truth = func(s *scope) bool { return a.num(s) <= b.num(s) }
	case ">":
		t.truth = func(s *scope) bool { return a.num(s) > b.num(s) }
	default:
		t.truth = func(s *scope) bool { return a.num(s) >= b.num(s) }
	}
	return t
}

func (c *compiler) arithmetic(n *ast.BinaryNode, a, b term) term {
	t := term{fixed: a.fixed && b.fixed}
	var err error
	switch n.Operator {
	case "+":
		t.dim, err = a.dim.Add(b.dim)
		t.num = func(s *scope) float64 { return a.num(s) + b.num(s) }
	case "-":
		t.dim, err = a.dim.Sub(b.dim)
		t.num = func(s *scope) float64 { return a.num(s) - b.num(s) }
	case "*":
		t.dim, err = a.dim.Mul(b.dim)
		// The explicit rounding keeps a product from being fused with a later sum,
		// which would give other last digits on other processors.
		t.num = func(s *scope) float64 { return float64(a.num(s) * b.num(s)) }
	case "/":
		t.dim, err = a.dim.Div(b.dim)
		t.num = func(s *scope) float64 { return a.num(s) / b.num(s) }
	default:
		return c.power(n, a, b)
	}
	if err != nil {
		return c.bad(n, "%v", err)
	}
	return t
}

// power raises to a whole power that stands in the formula; a plain number may be raised to anything.
func (c *compiler) power(n *ast.BinaryNode, a, b term) term {
	if a.dim == si.One && b.dim == si.One {
		return term{num: func(s *scope) float64 { return math.Pow(a.num(s), b.num(s)) }, fixed: a.fixed && b.fixed}
	}
	e := b.num
	if !b.fixed || b.dim != si.One || e(nil) != math.Trunc(e(nil)) || math.Abs(e(nil)) > 8 {
		return c.bad(n.Right, "%s can only be raised to a whole number from -8 to 8", a.dim.Name())
	}
	p := int(e(nil))
	d, err := a.dim.Pow(p)
	if err != nil {
		return c.bad(n, "%v", err)
	}
	if p == 2 {
		return term{dim: d, num: func(s *scope) float64 { v := a.num(s); return float64(v * v) }, fixed: a.fixed}
	}
	return term{dim: d, num: func(s *scope) float64 { return math.Pow(a.num(s), float64(p)) }, fixed: a.fixed}
}
