package read

import (
	"slices"

	"fullyon/engine/si"
)

// Map gives access to the keys of a map. Each access makes its key a known one.
// A nil Map is a map that is not there: it has no keys, its readers give zero
// values, and nothing is reported.
type Map struct {
	node  Node
	known []string
}

// Position is where the map begins.
func (m *Map) Position() Pos {
	if m == nil {
		return Pos{1, 1}
	}
	return m.node.Pos
}

// Doc is the document of the map; nil for a map that is not there.
func (m *Map) Doc() *Doc {
	if m == nil {
		return nil
	}
	return m.node.doc
}

// Errorf notes a mistake at a place in the document; with a nil Map nothing happens.
func (m *Map) Errorf(at Place, format string, args ...any) {
	if m != nil {
		m.node.doc.Errorf(at, format, args...)
	}
}

// Node is the value of a key; a Node of Kind None when the key is absent.
func (m *Map) Node(key string) Node {
	if m == nil {
		return Node{}
	}
	if !slices.Contains(m.known, key) {
		m.known = append(m.known, key)
	}
	for i := range m.node.tree.keys {
		if e := &m.node.tree.keys[i]; e.key == key {
			return Node{Pos: e.value.pos, Kind: e.value.kind, doc: m.node.doc, tree: e.value, label: key}
		}
	}
	return Node{}
}

// Has tells whether the key is there.
func (m *Map) Has(key string) bool { return m.Node(key).Kind != None }

// Text, TextOf, Quantity, Int, Float, Bool, List, Texts and Sub read the value
// of a key as the methods of Node do; an absent key gives the zero value.

// Text is the text under a key.
func (m *Map) Text(key string) string { return m.Node(key).Text() }

// TextOf is a text under a key that must be one of the choices.
func (m *Map) TextOf(key string, choices ...string) string { return m.Node(key).TextOf(choices...) }

// Quantity is the quantity under a key.
func (m *Map) Quantity(key string, d si.Dim) si.Quantity { return m.Node(key).Quantity(d) }

// Int is a whole number under a key, from lo to hi; 0 when absent.
func (m *Map) Int(key string, lo, hi int) int { return m.Node(key).Int(lo, hi) }

// Float is a plain number under a key.
func (m *Map) Float(key string) float64 { return m.Node(key).Float() }

// Bool is true or false under a key.
func (m *Map) Bool(key string) bool { return m.Node(key).Bool() }

// List is the list under a key.
func (m *Map) List(key string) []Node { return m.Node(key).List() }

// Texts is a list of texts under a key.
func (m *Map) Texts(key string) []string { return m.Node(key).Texts() }

// Sub is the map under a key; nil when absent.
func (m *Map) Sub(key string) *Map { return m.Node(key).Map() }

// Key is a key with its place.
type Key struct {
	Pos
	Name string
}

// Keys are the keys in the order of the file. Reading them does not make them known.
func (m *Map) Keys() []Key {
	if m == nil {
		return nil
	}
	keys := make([]Key, len(m.node.tree.keys))
	for i, e := range m.node.tree.keys {
		keys[i] = Key{e.pos, e.key}
	}
	return keys
}

// Require notes each of the keys that is absent, and tells whether all are there.
func (m *Map) Require(keys ...string) bool {
	all := true
	for _, key := range keys {
		if m.Has(key) {
			continue
		}
		all = false
		if m == nil {
			continue
		}
		where := "the document"
		switch {
		case m.node.label != "":
			where = m.node.label
		case m.node.tree != m.node.doc.root:
			where = "this entry"
		}
		m.Errorf(m, "%s lacks the key %q", where, key)
	}
	return all
}

// Known makes keys known without reading them.
func (m *Map) Known(keys ...string) {
	for _, key := range keys {
		m.Node(key)
	}
}

// Close notes every key that nobody asked for, with the nearest known one.
func (m *Map) Close() {
	if m == nil {
		return
	}
	for _, e := range m.node.tree.keys {
		if slices.Contains(m.known, e.key) {
			continue
		}
		if near := Nearest(e.key, m.known); near != "" {
			m.Errorf(e.pos, "unknown key %q; the nearest known is %q", e.key, near)
		} else {
			m.Errorf(e.pos, "unknown key %q; known here are %s", e.key, quoteList(m.known))
		}
	}
}
