// Package read reads YAML and JSON strictly. Every file that a person writes for
// the program (circuits, parts, problem templates, the front matter of lessons)
// passes through it, so that each mistake is told in the same way: file, line,
// column, what is wrong and what to do.
//
// A reader walks the document by key: each access notes the key as known and
// notes the mistakes it meets in the Doc; Map.Close reports the keys that nobody
// asked for. Doc.Err gives all mistakes at once.
//
// Only the plain part of YAML is taken: maps, lists and scalars. Anchors,
// aliases, tags, merge keys, repeated keys and further documents are refused.
// The YAML library stays behind this package.
package read

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

const (
	maxSize   = 1 << 20 // bytes; the longest file of ours is a tenth of it
	maxDepth  = 30      // maps and lists inside one another
	maxErrors = 100     // more mistakes than these help nobody
)

// Doc is a document that was read, with the mistakes found in it so far.
// It is not for use by several goroutines at once.
type Doc struct {
	file string
	root *tree
	errs Errors
}

// Root is the outermost node.
func (d *Doc) Root() Node { return Node{Pos: d.root.pos, Kind: d.root.kind, doc: d, tree: d.root} }

// File is the name that the document was read under.
func (d *Doc) File() string { return d.file }

// Errorf notes a mistake at a place: a Node, a *Map or a Pos.
func (d *Doc) Errorf(at Place, format string, args ...any) {
	if len(d.errs) >= maxErrors {
		return
	}
	p := at.Position()
	d.errs = append(d.errs, &Error{d.file, p.Line, p.Col, fmt.Sprintf(format, args...)})
}

// Err gives all mistakes noted so far as Errors, or nil.
func (d *Doc) Err() error {
	if len(d.errs) == 0 {
		return nil
	}
	d.errs = d.errs.sort()
	return d.errs
}

// Parse reads one document. The name of the file appears in the mistakes. The
// error is an Errors; it holds what makes the document unreadable as a whole.
func Parse(file string, src []byte) (*Doc, error) { return ParseAt(file, src, 1) }

// ParseAt reads a document that begins at the line firstLine of its file, such
// as the front matter of a lesson.
func ParseAt(file string, src []byte, firstLine int) (*Doc, error) {
	d := &Doc{file: file}
	first := Pos{firstLine, 1}
	src = trimBOM(src)
	switch at, ok := validText(src); {
	case len(src) > maxSize:
		d.Errorf(first, "the file has %d bytes; at most %d are read, so split it", len(src), maxSize)
		return nil, d.Err()
	case !ok:
		at.Line += firstLine - 1
		d.Errorf(at, "this character is not text in UTF-8, or is a control character; save the file as UTF-8 text")
		return nil, d.Err()
	}
	top, err := d.load(src, firstLine)
	if err != nil {
		return nil, err
	}
	b := builder{doc: d, shift: firstLine - 1}
	d.root = b.build(top, 0)
	if err := d.Err(); err != nil {
		return nil, err
	}
	return d, nil
}

// load hands the text to the YAML library and returns its one document's content.
func (d *Doc) load(src []byte, firstLine int) (*yaml.Node, error) {
	shift := firstLine - 1
	l, err := yaml.NewLoader(strings.NewReader(plainJSON(src)))
	if err != nil {
		d.Errorf(Pos{firstLine, 1}, "this cannot be read: %v", err)
		return nil, d.Err()
	}
	var doc, next yaml.Node
	switch err := l.Load(&doc); {
	case errors.Is(err, io.EOF):
		d.Errorf(Pos{firstLine, 1}, "there is nothing in this document; write its keys, one a line")
		return nil, d.Err()
	case err != nil:
		d.syntax(err, shift)
		return nil, d.Err()
	case doc.Kind != yaml.DocumentNode || len(doc.Content) != 1:
		d.Errorf(Pos{firstLine, 1}, "there is nothing in this document; write its keys, one a line")
		return nil, d.Err()
	}
	switch err := l.Load(&next); {
	case errors.Is(err, io.EOF):
		return doc.Content[0], nil
	case err != nil:
		d.syntax(err, shift)
	default:
		d.Errorf(Pos{max(next.Line, 1) + shift, max(next.Column, 1)},
			"a second document begins here; a file holds one, so remove the line ---")
	}
	return nil, d.Err()
}

// hints says in plain words what the commonest complaints of the YAML library mean.
var hints = []struct{ message, hint string }{
	{"mapping values are not allowed", "a colon with a space after it stands where no key can stand: check the indent, or put the text in quotes"},
	{"cannot start any token", "a tab or a reserved character stands here: indent with spaces, put text that begins with @ ` % or a tab in quotes"},
	{"could not find expected ':'", "this line has no key: write key: value, and check the indent"},
	{"did not find expected key", "the indent does not fit the lines above, or a key is missing"},
	{"did not find expected ',' or ']'", "a list that begins with [ is not closed with ], or lacks a comma"},
	{"did not find expected ',' or '}'", "a map that begins with { is not closed with }, or lacks a comma"},
	{"did not find expected '-' indicator", "the indent does not fit the list above"},
	{"did not find expected node content", "a value is missing here, or a [ or { before it is not closed"},
	{"found unexpected end of stream", "a quote is not closed"},
	{"unknown anchor", "a value that begins with * refers to another place, which is not taken here: write the value out, or in quotes"},
	{"exceeded max depth", "maps and lists lie too deep inside one another"},
	{"incompatible YAML document", "leave out the line that begins with %"},
}

// syntax notes an error of the YAML library.
func (d *Doc) syntax(err error, shift int) {
	at, msg := Pos{1, 1}, err.Error()
	var one *yaml.LoadError
	if errors.As(err, &one) {
		m := one.Mark
		if one.ContextMark.Line > 0 { // where the unfinished quote, list, … began
			m = one.ContextMark
		}
		at, msg = Pos{max(m.Line, 1), max(m.Column, 1)}, one.Message
	}
	at.Line += shift
	for _, h := range hints {
		if strings.Contains(msg, h.message) {
			d.Errorf(at, "this is not readable as YAML: %s", h.hint)
			return
		}
	}
	d.Errorf(at, "this is not readable as YAML: %s", msg)
}

// validText finds the first byte that is not UTF-8, or the first control
// character that no text file needs.
func validText(src []byte) (Pos, bool) {
	at := Pos{1, 1}
	for i := 0; i < len(src); {
		r, n := rune(src[i]), 1
		if r >= utf8.RuneSelf {
			r, n = utf8.DecodeRune(src[i:])
		}
		switch {
		case r == utf8.RuneError && n == 1,
			r < ' ' && r != '\t' && r != '\n' && r != '\r', r == 0x7f, r >= 0x80 && r < 0xa0 && r != 0x85:
			return at, false
		case r == '\n':
			at = Pos{at.Line + 1, 1}
		default:
			at.Col++
		}
		i += n
	}
	return Pos{}, true
}
