package problem

import (
	"strconv"
	"strings"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Prose is Markdown with places for values: {{name}}, {{formula; unit}} or
// {{formula; unit; figures}}. A value is put in after the Markdown was parsed,
// so that none can become markup.
type Prose struct {
	markdown string // each place is one private-use character, firstPlace + its number
	places   []place
	at       read.Pos
}

// place is where a value goes.
type place struct {
	formula *Formula
	unit    *si.Unit
	figs    int
	own     *slot // a bare name of the template, printed as it was drawn
}

// Text is prose with its values. Place i is the character FirstPlace + i.
type Text struct {
	Markdown string
	Values   []string
}

// FirstPlace is the private-use character that stands for the first value.
const (
	FirstPlace rune = '\uE000'
	maxPlaces       = 200
	lastPlace       = FirstPlace + maxPlaces
)

// Plain is the text with its values and its Markdown marks as they are.
func (t Text) Plain() string {
	if len(t.Values) == 0 {
		return t.Markdown
	}
	var b strings.Builder
	for _, r := range t.Markdown {
		if i := int(r - FirstPlace); i >= 0 && i < len(t.Values) {
			b.WriteString(t.Values[i])
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Empty tells whether nothing was written.
func (t Text) Empty() bool { return t.Markdown == "" }

// prose reads Markdown with places; mistakes are noted at their place in the file.
func (r *reader) prose(src string, at read.Pos, n *names) Prose {
	p := Prose{at: at}
	if i := strings.IndexFunc(src, func(c rune) bool { return c >= FirstPlace && c <= lastPlace }); i >= 0 {
		r.errorf(advance(at, src[:i]), "a private-use character stands in the text; take it out")
		return p
	}
	var b strings.Builder
	rest, pos := src, at
	for {
		i := strings.Index(rest, "{{")
		if i < 0 {
			b.WriteString(rest)
			break
		}
		b.WriteString(rest[:i])
		pos = advance(pos, rest[:i+2])
		end := strings.Index(rest[i:], "}}")
		if end < 0 {
			r.errorf(pos, "{{ is never closed with }}")
			return p
		}
		if len(p.places) == maxPlaces {
			r.errorf(pos, "more than %d values stand in one text", maxPlaces)
			return p
		}
		inner := rest[i+2 : i+end]
		p.places = append(p.places, r.place(inner, pos, n))
		b.WriteRune(FirstPlace + rune(len(p.places)-1))
		pos = advance(pos, inner+"}}")
		rest = rest[i+end+2:]
	}
	p.markdown = b.String()
	return p
}

// place reads "formula; unit; figures".
func (r *reader) place(src string, at read.Pos, n *names) place {
	fields := splitOutsideQuotes(src)
	f := r.formulaAt(fields[0], at, n)
	pl := place{formula: f}
	if f == nil {
		return pl
	}
	if s, ok := n.index[strings.TrimSpace(fields[0])]; ok {
		pl.own = s
	}
	for _, opt := range fields[1:] {
		opt = strings.TrimSpace(opt)
		if v, err := strconv.Atoi(opt); err == nil && v >= 1 && v <= 10 {
			pl.figs, pl.own = v, nil
			continue
		}
		u, err := si.UnitOf(opt)
		if err != nil || f.term.kind != number || u.Dim != f.term.dim {
			r.errorf(at, "%q is neither a unit for %s nor a number of figures from 1 to 10", opt, f.Source)
			continue
		}
		pl.unit, pl.own = &u, nil
	}
	if f.term.kind == truth {
		r.errorf(at, "%s is true or false and cannot be printed", f.Source)
	}
	return pl
}

// splitOutsideQuotes cuts at each semicolon that does not stand in a quoted text.
func splitOutsideQuotes(src string) []string {
	var fields []string
	var quote rune
	from := 0
	for i, c := range src {
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '\'' || c == '"':
			quote = c
		case c == ';':
			fields, from = append(fields, src[from:i]), i+1
		}
	}
	return append(fields, src[from:])
}

// fill evaluates the places.
func (p *Prose) fill(s *scope) Text {
	t := Text{Markdown: p.markdown}
	for i := range p.places {
		t.Values = append(t.Values, p.places[i].print(s))
	}
	return t
}

func (p *place) print(s *scope) string {
	switch {
	case p.formula.term.kind == word:
		return p.formula.term.text(s)
	case p.own != nil:
		return p.own.print(s.nums[p.own.at])
	}
	return printed(p.formula.quantity(s), p.unit, p.figs)
}

// print writes a drawn value as it was drawn, or in its unit and figures.
func (s *slot) print(v float64) string {
	q := si.Of(v, s.dim)
	if s.unit == nil && s.figs == 0 {
		return q.String()
	}
	return printed(q, s.unit, s.figs)
}

// shownFigures is how many significant figures a computed value is printed with
// unless the author asks for others.
const shownFigures = 3

func printed(q si.Quantity, u *si.Unit, figs int) string {
	switch {
	case u == nil && figs == 0 && si.Round(q.Value, shownFigures) == q.Value:
		return q.String() // 16 mΩ from a datasheet is not 16.0 mΩ
	case figs == 0:
		figs = shownFigures
	}
	if u != nil {
		return q.FiguresIn(*u, figs)
	}
	return q.Figures(figs)
}

// advance moves a place in the file past a piece of text.
func advance(p read.Pos, s string) read.Pos {
	if i := strings.LastIndexByte(s, '\n'); i >= 0 {
		return read.Pos{Line: p.Line + strings.Count(s, "\n"), Col: 1 + len([]rune(s[i+1:]))}
	}
	return read.Pos{Line: p.Line, Col: p.Col + len([]rune(s))}
}
