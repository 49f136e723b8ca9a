package lessons

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"fullyon/engine/read"
	"fullyon/grader/problem"
	"fullyon/lessons/math"

	"github.com/yuin/goldmark/ast"
)

// builder turns the parsed Markdown of a lesson into its parts and notes mistakes.
type builder struct {
	l        *Lesson
	doc      *read.Doc
	src      []byte
	places   []gap
	values   []string
	bodyLine int
	anchors  map[string]bool
	links    []reference // to anchors of this lesson
	pending  []ast.Node  // blocks not yet rendered
	formulas []holding
	terms    []*Term
}

// at is the place in the file of an offset in the Markdown.
func (b *builder) at(off int) read.Pos {
	off = min(max(off, 0), len(b.src))
	line := 1 + strings.Count(string(b.src[:off]), "\n")
	start := strings.LastIndexByte(string(b.src[:off]), '\n') + 1
	col := 1 + len([]rune(string(b.src[start:off])))
	for _, g := range b.places {
		if g.off >= start && g.off < off {
			col += g.length - 1 // one character stands for it
		}
	}
	return read.Pos{Line: b.bodyLine + line - 1, Col: col}
}

func (b *builder) errorf(off int, format string, args ...any) {
	b.doc.Errorf(b.at(off), format, args...)
}

// build fills in the parts of the lesson.
func (b *builder) build(doc ast.Node) {
	b.look(doc)
	if b.doc.Err() != nil {
		return // rendering leans on what was looked at
	}
	linkTerms(doc, b.src, b.terms)
	b.formulas = number(doc, b.src)
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		if box, ok := n.(*boxNode); ok && boxes[box.name].slot {
			b.flush()
			b.l.Parts = append(b.l.Parts, b.slot(box))
			continue
		}
		b.pending = append(b.pending, n)
	}
	b.flush()
	b.l.body = split(plainWriter{b.src}.blocks(doc, "\n\n"), b.formulas).plain(b.values)
	b.l.prose = prose(doc, b.src)
	b.l.Words = len(strings.FieldsFunc(b.l.body, unicode.IsSpace))
	for i := range b.l.Headings {
		h := &b.l.Headings[i]
		h.Text = split(h.Text, b.formulas).plain(b.values)
	}
}

// flush renders the blocks before a slot.
func (b *builder) flush() {
	var out strings.Builder
	for _, n := range b.pending {
		out.WriteString(write(lessonMarkdown, b.src, n))
		out.WriteByte('\n')
	}
	if b.pending = nil; out.Len() > 0 {
		b.l.Parts = append(b.l.Parts, Part{HTML: b.fill(out.String())})
	}
}

func (b *builder) fill(out string) template.HTML {
	return template.HTML(split(out, b.formulas).html(b.values))
}

func (b *builder) slot(box *boxNode) Part {
	switch box.name {
	case "worked":
		return Part{Worked: &Worked{box.keys["template"].text}}
	case "pause":
		return Part{Pause: box.words[0].text}
	}
	var caption strings.Builder
	for n := box.FirstChild(); n != nil; n = n.NextSibling() {
		caption.WriteString(write(lessonMarkdown, b.src, n))
	}
	seed, _ := strconv.ParseUint(box.keys["seed"].text, 10, 64) // looked at
	return Part{Figure: &Figure{Kind: box.words[0].text, Template: box.keys["template"].text, Seed: seed,
		Rows: commas(box.keys["rows"].text), Things: commas(box.keys["things"].text), Caption: b.fill(caption.String()), at: b.at(box.off)}}
}

// look finds mistakes and gives headings their anchors.
func (b *builder) look(doc ast.Node) {
	level := 1
	_ = ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if !in {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *boxNode:
			b.box(n)
		case *formulaNode:
			b.formula(n.tex, n.off, false)
		case *ast.FencedCodeBlock:
			if string(n.Language(b.src)) == "math" && n.Lines().Len() > 0 {
				b.formula(string(n.Lines().Value(b.src)), n.Lines().At(0).Start, true)
			}
		case *ast.Heading:
			level = b.heading(n, level)
		case *ast.Link:
			b.link(n)
		case *ast.Image:
			b.errorf(offset(n), "an image stands here; draw it as a figure: ::: figure schematic template=ID")
		case *ast.AutoLink:
			b.errorf(offset(n), "a link leaves the site; name the source in sources.yaml and cite its id")
		case *ast.RawHTML:
			b.errorf(n.Segments.At(0).Start, "HTML stands in the text; write Markdown, or \\< for the sign itself")
		case *ast.HTMLBlock:
			off := 0
			if n.Lines().Len() > 0 {
				off = n.Lines().At(0).Start
			}
			b.errorf(off, "HTML stands in the text; write Markdown, or \\< for the sign itself")
		case *ast.Text:
			if strings.HasPrefix(string(n.Segment.Value(b.src)), ":::") && (n.PreviousSibling() == nil || breaks(n.PreviousSibling())) {
				b.errorf(n.Segment.Start, "this ::: ends nothing; a container within another is begun and ended with fewer colons than the outer one")
			}
		}
		return ast.WalkContinue, nil
	})
	for _, r := range b.links {
		if !b.anchors[r.id] {
			b.doc.Errorf(r.at, "no heading of this lesson has the anchor #%s%s", r.id, nearest(r.id, b.anchors))
		}
	}
}

func breaks(n ast.Node) bool {
	t, ok := n.(*ast.Text)
	return ok && (t.SoftLineBreak() || t.HardLineBreak())
}

// offset is where an inline node begins, as near as its text tells.
func offset(n ast.Node) int {
	for c := n.FirstChild(); c != nil; c = c.FirstChild() {
		if t, ok := c.(*ast.Text); ok {
			return t.Segment.Start
		}
	}
	if p := n.Pos(); p >= 0 {
		return p
	}
	for p := n.Parent(); p != nil; p = p.Parent() {
		if p.Type() == ast.TypeBlock && p.Lines().Len() > 0 {
			return p.Lines().At(0).Start
		}
	}
	return 0
}

func (b *builder) formula(tex string, off int, display bool) {
	filled := (&holding{tex: tex}).with(b.shown())
	if _, err := math.Convert(filled, display); err != nil {
		why := err.Error()
		if e, ok := err.(*math.Error); ok {
			why = e.Msg
			if filled == tex {
				off += e.Off
			}
		}
		b.errorf(off, "formula: %s", why)
	}
}

// shown gives every place a value, so that formulas can be looked at before the values are known.
func (b *builder) shown() []string {
	out := slices.Clone(b.values)
	for i, v := range out {
		if v == "" {
			out[i] = "1"
		}
	}
	return out
}

func (b *builder) heading(h *ast.Heading, before int) int {
	off := offset(h)
	switch {
	case h.Level == 1:
		b.errorf(off, "the title in the front matter is the only heading of the first level; begin with ##")
	case h.Level > before+1:
		b.errorf(off, "a heading of level %d stands below one of level %d; leave none out", h.Level, before)
	}
	var s strings.Builder
	plainWriter{b.src}.inline(&s, h)
	anchor := slug(s.String())
	for i := 2; b.anchors[anchor]; i++ {
		anchor = slug(s.String()) + "-" + strconv.Itoa(i)
	}
	b.anchors[anchor] = true
	h.SetAttributeString("id", []byte(anchor))
	b.l.Headings = append(b.l.Headings, Heading{h.Level, s.String(), anchor})
	return h.Level
}

// slug makes an anchor: letters and digits, the rest hyphens.
func slug(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return "section"
	}
	return strings.Join(words, "-")
}

func (b *builder) link(n *ast.Link) {
	off, dest := offset(n), string(n.Destination)
	switch {
	case !staysHere(n.Destination):
		b.errorf(off, "the link to %q leaves the site; link to /… or #…, and cite sources by their id", dest)
	case dest[0] == '#':
		b.links = append(b.links, reference{"anchor", dest[1:], b.at(off)})
	case strings.HasPrefix(dest, "/lesson/"):
		id, _, _ := strings.Cut(strings.TrimPrefix(dest, "/lesson/"), "#")
		b.l.refs = append(b.l.refs, reference{"lesson", strings.TrimSuffix(id, "/"), b.at(off)})
	case strings.HasPrefix(dest, "/problem/"):
		id, _, _ := strings.Cut(strings.TrimPrefix(dest, "/problem/"), "?")
		b.l.refs = append(b.l.refs, reference{"template", strings.TrimSuffix(id, "/"), b.at(off)})
	}
}

// box proves a container and its arguments.
func (b *builder) box(n *boxNode) {
	kind, ok := boxes[n.name]
	if !ok {
		b.errorf(n.off, "there is no container %q%s", n.name, nearest(n.name, boxes))
		return
	}
	if !n.closed {
		b.errorf(n.off, "::: %s is never ended; end it with a line of %s", n.name, strings.Repeat(":", n.fence))
	}
	if kind.slot && n.Parent().Kind() != ast.KindDocument {
		b.errorf(n.off, "::: %s stands inside something else; move it to the top level", n.name)
	}
	if kind.empty && n.FirstChild() != nil {
		b.errorf(n.off, "::: %s has no text of its own; move the text out of it", n.name)
	}
	if !kind.empty && n.FirstChild() == nil && n.name != "caution" {
		b.errorf(n.off, "::: %s is empty; write its text, or a figure's caption, before the line that ends it", n.name)
	}
	for _, key := range sortedKeys(n.keys) {
		if !slices.Contains(kind.keys, key) {
			b.errorf(n.keys[key].off, "::: %s knows no %s=%s", n.name, key, allowed(kind.keys))
		}
	}
	b.words(n, kind)
	b.keys(n)
}

func allowed(keys []string) string {
	if len(keys) == 0 {
		return "; it takes no such argument"
	}
	return "; it takes " + list(keys)
}

func (b *builder) words(n *boxNode, kind boxKind) {
	switch {
	case kind.word == "" && len(n.words) > 0:
		b.errorf(n.words[0].off, "::: %s takes no word behind it", n.name)
		return
	case kind.word == "":
		return
	case len(n.words) != 1:
		b.errorf(n.off, "::: %s takes one word behind it: %s", n.name, wordsOf(kind.word))
		return
	}
	w := n.words[0]
	switch kind.word {
	case "caution":
		if _, ok := cautions[w.text]; !ok {
			b.errorf(w.off, "there is no caution %q%s; there are %s", w.text, nearest(w.text, cautions), list(sortedKeys(cautions)))
		}
	case "figure":
		if !slices.Contains(figures, w.text) {
			b.errorf(w.off, "there is no figure %q; there are %s", w.text, list(figures))
		}
		b.shows(n, w.text)
		if _, ok := n.keys["template"]; !ok && w.text != "bench" && b.l.Circuit == nil && b.doc.Err() == nil {
			b.errorf(n.off, "there is nothing to draw: name a template, or give the lesson a circuit")
		}
	case "pause":
		b.l.refs = append(b.l.refs, reference{"pause", w.text, b.at(w.off)})
	}
}

func wordsOf(word string) string {
	switch word {
	case "caution":
		return list(sortedKeys(cautions))
	case "figure":
		return list(figures)
	}
	return "the id of a template"
}

func (b *builder) keys(n *boxNode) {
	t, ok := n.keys["template"]
	if ok {
		b.l.refs = append(b.l.refs, reference{"template", t.text, b.at(t.off)})
	} else if n.name == "worked" {
		b.errorf(n.off, "::: worked needs template=ID")
	}
	if s, given := n.keys["seed"]; given {
		if v, err := strconv.ParseUint(s.text, 10, 64); err != nil || v > problem.MaxSeed {
			b.errorf(s.off, "the seed %q is no whole number from 0 to %d", s.text, uint64(problem.MaxSeed))
		} else if !ok {
			b.errorf(s.off, "a seed is of a template; name it with template=ID, or leave the seed out")
		}
	}
}

// String is what a part is, for messages.
func (p Part) String() string {
	switch {
	case p.Figure != nil:
		return fmt.Sprintf("figure %s of %q, seed %d", p.Figure.Kind, p.Figure.Template, p.Figure.Seed)
	case p.Worked != nil:
		return fmt.Sprintf("worked example of %q", p.Worked.Template)
	case p.Pause != "":
		return fmt.Sprintf("pause %q", p.Pause)
	}
	return "text"
}
