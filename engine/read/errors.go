package read

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in a file. Line and Col count from 1; Col counts characters, not bytes.
type Pos struct {
	Line, Col int
}

// Position gives the place itself, so that a Pos can stand where a Place is asked for.
func (p Pos) Position() Pos { return p }

// Place is anything that knows where it stands: a Pos, a Node or a *Map.
type Place interface {
	Position() Pos
}

// Error is one mistake in a file.
type Error struct {
	File      string
	Line, Col int
	Msg       string
}

// Error gives "FILE:LINE:COL: message".
func (e *Error) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.Msg)
}

// Errors are all mistakes found in a file, in the order of their places.
type Errors []*Error

// Error gives one line a mistake.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// sort puts the mistakes in the order of their places and drops repetitions,
// which come up when a reader asks for the same value twice.
func (es Errors) sort() Errors {
	slices.SortStableFunc(es, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return slices.CompactFunc(es, func(a, b *Error) bool { return *a == *b })
}
