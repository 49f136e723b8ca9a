package main

import (
	"errors"
	"fmt"

	"fullyon/engine/formula"
	"fullyon/engine/read"
	"fullyon/grader/problem"
	"fullyon/lessons"
)

// template finds a built-in template.
func template(id string) (*problem.Template, error) {
	c, err := lessons.Built()
	if err != nil {
		return nil, err
	}
	t, err := c.Template(short(id))
	if u, ok := errors.AsType[*lessons.UnknownError](err); ok {
		hint := ""
		if u.Nearest == "" {
			hint = "; see fullyon list templates"
		}
		return nil, bad("%w%s", err, hint)
	}
	return t, err
}

// plain is a text for a terminal.
func plain(t problem.Text) string { return lessons.Plain(t) }

// symbol is a TeX symbol as plain text.
func symbol(tex string) string { return formula.TextSymbol(tex) }

// mistakes prints the mistakes of a circuit file, one a line with its place, so
// that an editor can jump there; any other error is left as it is.
func (w *world) mistakes(err error) error {
	list, ok := errors.AsType[read.Errors](err)
	if !ok {
		return err
	}
	for _, e := range list {
		fmt.Fprintln(w.stderr, oneLine(e.Error()))
	}
	return ends(badInput)
}
