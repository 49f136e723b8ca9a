package main

import (
	"bytes"
	"encoding/json"
	"math"

	"fullyon/engine/si"
)

// writeJSON prints a value as JSON, the same bytes for the same value.
func (w *world) writeJSON(v any) error {
	e := json.NewEncoder(w.stdout)
	e.SetEscapeHTML(false) // < in a sentence stays <: this is no HTML
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// byID is a JSON object whose members keep the order of the template.
type byID[T any] []member[T]

type member[T any] struct {
	id    string
	value T
}

// MarshalJSON writes the members in their order.
func (o byID[T]) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := e.Encode(m.id); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := e.Encode(m.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// bound is one end of a band with ten digits; nil where the band is open.
func bound(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	v = si.Round(v, 10)
	return &v
}
