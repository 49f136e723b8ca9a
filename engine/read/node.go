package read

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// Node is a value in a document. The zero Node is a value that is not there: it
// has Kind None, and all its readers give zero values without complaint.
type Node struct {
	Pos
	Kind  Kind
	doc   *Doc
	tree  *tree
	label string // the key that it stands under
}

// Doc is the document of the node; nil for a node that is not there.
func (n Node) Doc() *Doc { return n.doc }

// Key is the key that the node stands under; "" for an item of a list.
func (n Node) Key() string { return n.label }

// IsNull tells whether the node stands in the file without a value (`key:`, `~`, `null`).
func (n Node) IsNull() bool { return n.tree != nil && n.tree.null }

// Raw is the text of a scalar as it stands in the file, without complaint; "" for anything else.
func (n Node) Raw() string {
	if n.Kind != Scalar {
		return ""
	}
	return n.tree.text
}

// Quoted tells whether a scalar stands in quotes or is a block of text.
func (n Node) Quoted() bool { return n.tree != nil && n.tree.quote }

// named puts the key before a message.
func (n Node) named() string {
	if n.label == "" {
		return ""
	}
	return n.label + ": "
}

// scalar gives the text of a scalar; anything else, also an empty value, is a mistake.
func (n Node) scalar(want string) (string, bool) {
	switch {
	case n.Kind == None:
		return "", false
	case n.Kind != Scalar:
		n.doc.Errorf(n, "%s%s is asked for here, and this is %s", n.named(), want, n.Kind)
		return "", false
	case n.tree.null:
		n.doc.Errorf(n, "%sa value is missing; write %s, or remove the key", n.named(), want)
		return "", false
	}
	return n.tree.text, true
}

// Text is the text of a scalar; numbers are given as they are written.
func (n Node) Text() string {
	s, _ := n.scalar("a text")
	return s
}

// TextOf is a text that must be one of the choices.
func (n Node) TextOf(choices ...string) string {
	s, ok := n.scalar("one of " + quoteList(choices))
	if !ok || slices.Contains(choices, s) {
		return s
	}
	if near := Nearest(s, choices); near != "" {
		n.doc.Errorf(n, "%s%q is not known here; the nearest is %q, of %s", n.named(), s, near, quoteList(choices))
	} else {
		n.doc.Errorf(n, "%s%q is not known here; write one of %s", n.named(), s, quoteList(choices))
	}
	return ""
}

// Quantity is a scalar with a unit of the given dimension, in quotes or not. A
// plain number is taken for a ratio. The zero Quantity stands for a mistake.
func (n Node) Quantity(d si.Dim) si.Quantity {
	s, ok := n.scalar(d.Name() + " with its unit")
	if !ok {
		return si.Quantity{}
	}
	q, err := si.Parse(s, d)
	if err != nil {
		n.doc.Errorf(n, "%s%v", n.named(), err)
		return si.Quantity{}
	}
	return q
}

// Int is a whole number from lo to hi.
func (n Node) Int(lo, hi int) int {
	s, ok := n.scalar("a whole number")
	if !ok {
		return 0
	}
	v, err := strconv.Atoi(s)
	if err != nil {
		n.doc.Errorf(n, "%s%q is not a whole number; write one from %d to %d", n.named(), s, lo, hi)
		return 0
	}
	if v < lo || v > hi {
		n.doc.Errorf(n, "%s%d is out of range; write a whole number from %d to %d", n.named(), v, lo, hi)
		return 0
	}
	return v
}

// Float is a plain number without unit.
func (n Node) Float() float64 {
	s, ok := n.scalar("a number")
	if !ok {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(s, "xXpP_") {
		n.doc.Errorf(n, "%s%q is not a number; write one such as 0.5", n.named(), s)
		return 0
	}
	return v
}

// Bool is true or false, written so.
func (n Node) Bool() bool {
	s, ok := n.scalar("true or false")
	switch {
	case !ok || s == "false":
		return false
	case s == "true":
		return true
	}
	n.doc.Errorf(n, "%s%q is neither true nor false; write one of these", n.named(), s)
	return false
}

// List gives the items of a list; anything else is a mistake.
func (n Node) List() []Node {
	switch {
	case n.Kind == None:
		return nil
	case n.Kind != List:
		what := n.Kind.String()
		if n.tree.null {
			what = "nothing"
		}
		n.doc.Errorf(n, "%sa list is asked for here, and this is %s; write [ ] around the items, or - before each", n.named(), what)
		return nil
	}
	items := make([]Node, len(n.tree.items))
	for i, t := range n.tree.items {
		items[i] = Node{Pos: t.pos, Kind: t.kind, doc: n.doc, tree: t}
	}
	return items
}

// Texts gives the items of a list of texts.
func (n Node) Texts() []string {
	var texts []string
	for _, item := range n.List() {
		texts = append(texts, item.Text())
	}
	return texts
}

// Map gives the keys of a map; anything else is a mistake, and the Map is then
// nil. Each call for one node gives the same Map.
func (n Node) Map() *Map {
	switch {
	case n.Kind == None:
		return nil
	case n.Kind != Mapping:
		what := n.Kind.String()
		if n.tree.null {
			what = "nothing"
		}
		n.doc.Errorf(n, "%skeys with values are asked for here, and this is %s", n.named(), what)
		return nil
	}
	if n.tree.m == nil {
		n.tree.m = &Map{node: n}
	}
	return n.tree.m
}

func quoteList(words []string) string { return strings.Join(words, ", ") }
