package problem

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"fullyon/engine"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Limits of one formula: parentheses are not nodes, so the length is bounded too.
const (
	maxFormula = 600 // bytes
	maxNodes   = 200
)

// Formula is an expr-lang expression over quantities, checked for dimensions on
// all its branches and ready to be evaluated. The language is a part of
// expr-lang's: numbers, texts, names, + − * / ^, comparisons, and/or/not, the
// conditional c ? a : b, and the functions of this package. A text that reads as
// a quantity, such as '12 V', is one. There are no loops, so that the work is
// bounded by the length.
type Formula struct {
	Source string
	term   term
}

// term is a checked part of a formula.
type term struct {
	kind   kind
	dim    si.Dim
	num    func(*scope) float64
	text   func(*scope) string
	truth  func(*scope) bool
	fixed  bool // does not depend on the scope
	engine bool // a bare engine name
	sheet  bool // read off a row of the datasheet, not worked out
	id     engine.ID
}

// formulaError is a mistake at a place in a formula, counted in runes from 0.
type formulaError struct {
	off int
	msg string
}

func (e *formulaError) Error() string { return e.msg }

// compile checks a formula over the names known at its place.
func compile(src string, n *names) (*Formula, error) {
	if len(src) > maxFormula {
		return nil, &formulaError{0, fmt.Sprintf("the formula is longer than %d characters; split it into named values", maxFormula)}
	}
	tree, err := parser.Parse(src)
	if err != nil {
		var fe *file.Error
		if errors.As(err, &fe) {
			return nil, &formulaError{fe.From, "the formula cannot be read: " + fe.Message}
		}
		return nil, &formulaError{0, "the formula cannot be read: " + err.Error()}
	}
	c := &compiler{names: n}
	t := c.term(tree.Node)
	if c.err != nil {
		return nil, c.err
	}
	return &Formula{Source: src, term: t}, nil
}

// value evaluates a formula for a number; the result is finite or the scope has an error.
func (f *Formula) value(s *scope) float64 {
	v := f.term.num(s)
	if s.err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		s.fail(fmt.Errorf("%s gives no finite number", f.Source))
	}
	return v
}

// quantity evaluates a formula for a quantity.
func (f *Formula) quantity(s *scope) si.Quantity { return si.Of(f.value(s), f.term.dim) }

type compiler struct {
	names *names
	nodes int
	err   *formulaError
}

// bad notes the first mistake and gives a term that goes with anything.
func (c *compiler) bad(n ast.Node, format string, args ...any) term {
	if c.err == nil {
		c.err = &formulaError{n.Location().From, fmt.Sprintf(format, args...)}
	}
	return constant(0, si.One)
}

func constant(v float64, d si.Dim) term {
	return term{dim: d, num: func(*scope) float64 { return v }, fixed: true}
}

func (c *compiler) term(n ast.Node) term {
	if c.nodes++; c.nodes > maxNodes {
		return c.bad(n, "the formula has more than %d parts; split it into named values", maxNodes)
	}
	switch x := n.(type) {
	case *ast.IntegerNode:
		return constant(float64(x.Value), si.One)
	case *ast.FloatNode:
		return constant(x.Value, si.One)
	case *ast.BoolNode:
		return term{kind: truth, truth: func(*scope) bool { return x.Value }, fixed: true}
	case *ast.StringNode:
		return c.literal(x)
	case *ast.IdentifierNode:
		return c.identifier(x)
	case *ast.UnaryNode:
		return c.unary(x)
	case *ast.BinaryNode:
		return c.binary(x)
	case *ast.ConditionalNode:
		return c.conditional(x)
	case *ast.CallNode:
		if f, ok := x.Callee.(*ast.IdentifierNode); ok {
			return c.call(x, f.Value, x.Arguments)
		}
	case *ast.BuiltinNode:
		return c.call(x, x.Name, x.Arguments)
	}
	return c.bad(n, "this cannot stand in a formula; use numbers, names, + - * / ^, comparisons, c ? a : b and %s", strings.Join(functionNames(), ", "))
}

// literal takes '12 V' for a quantity and everything else for a text.
func (c *compiler) literal(n *ast.StringNode) term {
	if q, ok := literalQuantity(n.Value); ok {
		return constant(q.Value, q.Dim)
	}
	return term{kind: word, text: func(*scope) string { return n.Value }, fixed: true}
}

// literalQuantity reads a text that begins with a digit or sign and has a unit.
func literalQuantity(s string) (si.Quantity, bool) {
	if s == "" || !strings.ContainsRune("0123456789.-−+", []rune(s)[0]) {
		return si.Quantity{}, false
	}
	i := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.,eE-−+ ", r) })
	if i < 0 {
		return si.Quantity{}, false
	}
	unit := s[i:]
	u, err := si.UnitOf(strings.TrimSpace(unit))
	if err != nil {
		return si.Quantity{}, false
	}
	q, err := si.Parse(s, u.Dim)
	return q, err == nil
}

func (c *compiler) identifier(n *ast.IdentifierNode) term {
	if s, ok := c.names.index[n.Value]; ok {
		at := s.at
		switch s.kind {
		case word:
			return term{kind: word, text: func(s *scope) string { return s.texts[at] }}
		default:
			return term{dim: s.dim, num: func(s *scope) float64 { return s.nums[at] }}
		}
	}
	if w, ok := partWords[n.Value]; ok {
		return term{kind: word, text: func(s *scope) string {
			if s.sizing == nil {
				s.fail(fmt.Errorf("%s is not known before the part is", n.Value))
				return ""
			}
			return w(&s.sizing.Circuit().Part)
		}}
	}
	if id, ok := engine.Lookup(n.Value); ok {
		return term{dim: engine.Describe(id).Dim, num: func(s *scope) float64 { return s.engine(id) }, engine: true, id: id}
	}
	known := make([]string, 0, len(c.names.own))
	for _, s := range c.names.own {
		known = append(known, s.name)
	}
	if near := read.Nearest(n.Value, known); near != "" {
		return c.bad(n, "there is no name %q here; the nearest is %q", n.Value, near)
	}
	if near := engine.Nearest(n.Value); near != "" {
		return c.bad(n, "there is no name %q here; the nearest is %q", n.Value, near)
	}
	return c.bad(n, "there is no name %q here; draw it, or take one of the engine's quantities", n.Value)
}

// want checks that a part of a formula is of the kind asked for.
func (c *compiler) want(n ast.Node, t term, k kind) bool {
	if t.kind != k {
		c.bad(n, "%s stands here where %s is asked for", t.kind, k)
		return false
	}
	return true
}

func (c *compiler) unary(n *ast.UnaryNode) term {
	t := c.term(n.Node)
	switch n.Operator {
	case "-":
		if !c.want(n.Node, t, number) {
			return t
		}
		return term{dim: t.dim, num: func(s *scope) float64 { return -t.num(s) }, fixed: t.fixed}
	case "+":
		c.want(n.Node, t, number)
		return t
	case "!", "not":
		if !c.want(n.Node, t, truth) {
			return term{kind: truth}
		}
		return term{kind: truth, truth: func(s *scope) bool { return !t.truth(s) }}
	}
	return c.bad(n, "%q cannot stand in a formula", n.Operator)
}

func (c *compiler) conditional(n *ast.ConditionalNode) term {
	q, a, b := c.term(n.Cond), c.term(n.Exp1), c.term(n.Exp2)
	switch {
	case !c.want(n.Cond, q, truth):
		return a
	case a.kind != b.kind:
		return c.bad(n, "one branch is %s, the other %s", a.kind, b.kind)
	case a.dim != b.dim:
		return c.bad(n, "one branch is %s, the other %s", a.dim.Name(), b.dim.Name())
	}
	t := term{kind: a.kind, dim: a.dim}
	switch a.kind {
	case number:
		t.num = func(s *scope) float64 {
			if q.truth(s) {
				return a.num(s)
			}
			return b.num(s)
		}
	case word:
		t.text = func(s *scope) string {
			if q.truth(s) {
				return a.text(s)
			}
			return b.text(s)
		}
	case truth:
		t.truth = func(s *scope) bool {
			if q.truth(s) {
				return a.truth(s)
			}
			return b.truth(s)
		}
	}
	return t
}
