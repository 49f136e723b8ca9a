package part

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"fullyon/engine/read"
)

// Bounds of a table of parts. They keep the memory that a file can ask for small.
const (
	maxRows     = 20_000
	maxTable    = 32 << 20 // bytes
	maxMistakes = 200      // after which reading stops
)

// ReadAnyDrawer reads a drawer by the extension of its file: .csv and .tsv as
// ReadCSV does, .yaml, .yml and .json as ReadDrawer does. Any other is told by its
// content: a drawer in YAML or JSON has the key `parts`.
func ReadAnyDrawer(file string, src []byte) ([]Part, error) {
	switch strings.ToLower(path.Ext(file)) {
	case ".csv", ".tsv":
		return ReadCSV(file, src)
	case ".yaml", ".yml", ".json":
		return ReadDrawer(file, src)
	}
	if beginsAsYAML(src) {
		return ReadDrawer(file, src)
	}
	return ReadCSV(file, src)
}

// beginsAsYAML tells whether the first line that says something belongs to a drawer in YAML or JSON.
func beginsAsYAML(src []byte) bool {
	for line := range bytes.Lines(trimMark(src)) {
		line = bytes.TrimSpace(line)
		if len(line) > 0 && line[0] != '#' && !bytes.Equal(line, []byte("---")) {
			return line[0] == '{' || bytes.HasPrefix(line, []byte("parts:"))
		}
	}
	return false
}

func trimMark(src []byte) []byte { return bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")) }

// ReadCSV reads a table with one part a line, as a spreadsheet saves it: fields
// parted by commas, semicolons or tabs, in quotes where needed, with or without a
// byte order mark. The first line names the columns, in any order; CSVTemplate
// has them all:
//
//   - name, channel, v_ds, v_gs, i_d, i_d_at, …: the flat names of the program
//   - r_ds_on@4.5V max, r_ds_on@4.5V typ, r_ds_on@4.5V i_d: one guaranteed row
//   - r_ds_on_ratio@100C: the rise of resistance; 1 at 25 °C goes without saying
//   - z_th_to, z_th_network, z_th_r1, z_th_tau1, z_th_r2, …: the thermal response
//
// A unit stands in the cell (30 V), or once in square brackets behind the name of
// the column (v_ds [V]). An empty cell is a value that the sheet does not give.
// A decimal comma is taken where no other reading is possible.
//
// The error is a read.Errors with the place of each mistake, up to 200 of them.
// A table may have 20,000 parts.
func ReadCSV(file string, src []byte) ([]Part, error) {
	t := &table{file: file}
	if err := t.prepare(src); err != nil {
		return nil, read.Errors{err}
	}
	parts := t.parts()
	if len(t.mistakes) > 0 {
		t.place()
		return nil, t.mistakes
	}
	return parts, nil
}

// table is a file of parts while it is read.
type table struct {
	file      string
	src       []byte
	firstLine int // of src in the file
	separator rune
	columns   []column
	mistakes  read.Errors // columns counted in bytes until place
}

func (t *table) mistake(at read.Pos, format string, args ...any) {
	t.mistakes = append(t.mistakes, &read.Error{File: t.file, Line: at.Line, Col: at.Col, Msg: fmt.Sprintf(format, args...)})
}

// prepare looks at the file as a whole: size, encoding, line ends, separator.
func (t *table) prepare(src []byte) *read.Error {
	refuse := func(line, col int, format string, args ...any) *read.Error {
		return &read.Error{File: t.file, Line: line, Col: col, Msg: fmt.Sprintf(format, args...)}
	}
	if len(src) > maxTable {
		return refuse(1, 1, "the file is larger than %d MiB; split it", maxTable>>20)
	}
	if bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) {
		return refuse(1, 1, "the file is written in UTF-16; save it as CSV in UTF-8")
	}
	src = trimMark(src)
	if !bytes.ContainsRune(src, '\n') { // line ends of very old systems
		src = bytes.ReplaceAll(src, []byte{'\r'}, []byte{'\n'})
	}
	if !utf8.Valid(src) {
		good := src
		for i := 0; i < len(src); {
			r, n := utf8.DecodeRune(src[i:])
			if r == utf8.RuneError && n == 1 {
				good = src[:i]
				break
			}
			i += n
		}
		line := bytes.Count(good, []byte{'\n'})
		col := utf8.RuneCount(good[bytes.LastIndexByte(good, '\n')+1:])
		return refuse(line+1, col+1, "the file is not written in UTF-8; save it as CSV in UTF-8")
	}
	t.src, t.firstLine = src, 1
	first, rest, _ := bytes.Cut(src, []byte{'\n'})
	first = bytes.TrimRight(first, "\r")
	// Some spreadsheets write the separator in a line of its own.
	if s, ok := strings.CutPrefix(string(first), "sep="); ok && len(s) == 1 && strings.Contains(",;\t", s) {
		t.src, t.firstLine, t.separator = rest, 2, rune(s[0])
		return nil
	}
	t.separator = separatorOf(first)
	return nil
}

// separatorOf finds what parts the fields of the header: a tab, a semicolon or a comma outside quotes.
func separatorOf(line []byte) rune {
	found, inside := ',', false
	for _, b := range line {
		switch {
		case b == '"':
			inside = !inside
		case inside:
		case b == '\t':
			return '\t'
		case b == ';':
			found = ';'
		}
	}
	return found
}

// batch is how many rows are read before they are worked on.
const batch = 512

func (t *table) parts() []Part {
	r := csv.NewReader(bytes.NewReader(t.src))
	r.Comma, r.FieldsPerRecord = t.separator, -1
	head, ok := t.next(r)
	if !ok {
		if len(t.mistakes) == 0 {
			t.mistake(read.Pos{Line: t.firstLine, Col: 1}, "the file is empty; its first line must name the columns")
		}
		return nil
	}
	t.columns = header(head.cells, func(field int, msg string) { t.mistake(head.at[field], "%s", msg) })
	if len(t.mistakes) > 0 {
		return nil // with unknown columns every row would be wrong
	}
	var parts []Part
	seen := map[string]int{}
	for more := true; more && len(t.mistakes) < maxMistakes; {
		var rows []tableRow
		for len(rows) < batch {
			row, ok := t.next(r)
			if !ok {
				more = false
				break
			}
			if t.usable(&row, head) {
				rows = append(rows, row)
			}
		}
		if len(parts)+len(rows) > maxRows {
			t.mistake(rows[0].at[0], "the file holds more than %d parts; split it", maxRows)
			return nil
		}
		parts = append(parts, t.work(rows, seen)...)
	}
	return parts
}

// next reads one line; false at the end and after a mistake that hides where the next one begins.
func (t *table) next(r *csv.Reader) (tableRow, bool) {
	cells, err := r.Read()
	if err == nil {
		row := tableRow{cells, make([]read.Pos, len(cells))}
		for i := range cells {
			line, col := r.FieldPos(i)
			row.at[i] = read.Pos{Line: line + t.firstLine - 1, Col: col}
		}
		return row, true
	}
	var wrong *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
	case errors.As(err, &wrong):
		at, msg := read.Pos{Line: wrong.Line + t.firstLine - 1, Col: max(wrong.Column, 1)}, wrong.Err.Error()
		switch {
		case errors.Is(err, csv.ErrBareQuote):
			msg = `a quote stands inside a field that does not begin with one; write the field in quotes, and each quote in it twice`
		case errors.Is(err, csv.ErrQuote):
			msg = `a field that begins with a quote is not closed by one before the next separator; each quote inside it is written twice`
		}
		t.mistake(at, "%s", msg)
	default:
		t.mistake(read.Pos{Line: t.firstLine, Col: 1}, "%v", err)
	}
	return tableRow{}, false
}

// usable brings a row to the width of the header; false for an empty one.
func (t *table) usable(row *tableRow, head tableRow) bool {
	empty := true
	for i, c := range row.cells {
		if strings.TrimSpace(c) == "" {
			continue
		}
		empty = false
		if i >= len(head.cells) {
			t.mistake(row.at[i], "this line has %d fields and the header names %d; a field that holds the separator %q must stand in quotes", len(row.cells), len(head.cells), t.separator)
			return false
		}
	}
	for len(row.cells) < len(head.cells) {
		row.cells, row.at = append(row.cells, ""), append(row.at, row.at[0])
	}
	return !empty
}

// worked is what became of one row.
type worked struct {
	part     Part
	mistakes []cellNote
}

// work turns rows into parts, on all processors, and notes mistakes in the order of the file.
func (t *table) work(rows []tableRow, seen map[string]int) []Part {
	done := make([]worked, len(rows))
	var wg sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), len(rows))
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(rows); i += workers {
				done[i] = t.part(rows[i].cells)
			}
		})
	}
	wg.Wait()
	parts := make([]Part, 0, len(rows))
	for i, d := range done {
		for _, m := range d.mistakes {
			t.mistake(rows[i].at[m.cell], "%s", m.msg)
		}
		if first, ok := seen[d.part.Name]; ok && d.part.Name != "" {
			t.mistake(rows[i].at[t.nameColumn()], "a part named %q stands in line %d already; each needs a name of its own", d.part.Name, first)
		}
		seen[d.part.Name] = rows[i].at[0].Line
		parts = append(parts, d.part)
	}
	return parts
}

func (t *table) nameColumn() int {
	for i, c := range t.columns {
		if c.key == "name" {
			return i
		}
	}
	return 0
}

// part reads one row.
func (t *table) part(cells []string) worked {
	w := compose(t.columns, cells, t.separator)
	doc, err := read.Parse(t.file, []byte(w.String()))
	if err != nil {
		return worked{mistakes: append(w.notes, w.lead(err)...)}
	}
	m := doc.Root().Map()
	m.Require("name", "channel")
	// Named alone, Read would take it for a part of a drawer.
	p := Read(m)
	return worked{p, append(w.notes, w.lead(doc.Err())...)}
}

// lead brings mistakes in the text of a row back to the cells.
func (w *rowText) lead(err error) []cellNote {
	var all read.Errors
	if !errors.As(err, &all) {
		return nil
	}
	var notes []cellNote
	for _, e := range all {
		cell := 0
		if i := e.Line - 1; i >= 0 && i < len(w.from) {
			cell = w.from[i]
		}
		notes = append(notes, cellNote{cell, e.Msg})
	}
	return notes
}

// place puts the mistakes in the order of the file and turns columns counted in
// bytes into columns counted in characters.
func (t *table) place() {
	slices.SortStableFunc(t.mistakes, func(a, b *read.Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	if len(t.mistakes) > maxMistakes {
		t.mistakes = t.mistakes[:maxMistakes]
	}
	lines := bytes.Split(t.src, []byte{'\n'})
	for _, e := range t.mistakes {
		if i := e.Line - t.firstLine; i >= 0 && i < len(lines) {
			n := min(e.Col-1, len(lines[i]))
			e.Col = utf8.RuneCount(lines[i][:n]) + 1
		}
	}
}
