package lessons

import (
	"bytes"
	"html"
	"strings"

	"fullyon/lessons/math"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// htmlWriter writes what goldmark would write otherwise, or not at all: formulas,
// containers, and everything that could carry markup, a script or a foreign
// address into a page.
type htmlWriter struct {
	inline bool // paragraphs are joined with <br>
}

// RegisterFuncs tells goldmark which nodes are written here.
func (h htmlWriter) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(kindFormula, writeFormula)
	r.Register(kindBox, writeBox)
	r.Register(ast.KindFencedCodeBlock, writeFenced)
	r.Register(ast.KindLink, writeLink)
	r.Register(ast.KindImage, transparent)
	r.Register(ast.KindAutoLink, writeAutoLink)
	r.Register(ast.KindRawHTML, writeRawHTML)
	r.Register(ast.KindHTMLBlock, writeHTMLBlock)
	if h.inline {
		r.Register(ast.KindParagraph, writeJoined)
	}
}

// transparent writes only what is inside.
func transparent(util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error) {
	return ast.WalkContinue, nil
}

func writeJoined(w util.BufWriter, _ []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if !in && n.NextSibling() != nil {
		_, _ = w.WriteString("<br>\n")
	}
	return ast.WalkContinue, nil
}

func writeFormula(w util.BufWriter, _ []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if f := n.(*formulaNode); in {
		writeMath(w, f.tex, f.number, false)
	}
	return ast.WalkContinue, nil
}

// writeMath writes a formula, or the character that stands for it while its values are unknown.
func writeMath(w util.BufWriter, tex string, number int, display bool) {
	if number > 0 {
		_, _ = w.WriteString(string(firstFormula + rune(number-1)))
		return
	}
	out, err := math.Convert(tex, display)
	if err != nil {
		out = "<code>" + html.EscapeString(tex) + "</code>"
	}
	_, _ = w.WriteString(out)
}

func writeFenced(w util.BufWriter, src []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if !in {
		return ast.WalkContinue, nil
	}
	f := n.(*ast.FencedCodeBlock)
	if string(f.Language(src)) == "math" {
		number, _ := f.AttributeString(formulaNumber)
		k, _ := number.(int)
		writeMath(w, string(f.Lines().Value(src)), k, true)
		_, _ = w.WriteString("\n")
		return ast.WalkSkipChildren, nil
	}
	_, _ = w.WriteString("<pre><code>" + html.EscapeString(string(f.Lines().Value(src))) + "</code></pre>\n")
	return ast.WalkSkipChildren, nil
}

func writeLink(w util.BufWriter, _ []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	dest := n.(*ast.Link).Destination
	if !staysHere(dest) {
		return ast.WalkContinue, nil
	}
	if in {
		if bytes.HasPrefix(dest, []byte(glossaryAt)) {
			_, _ = w.WriteString(`<a class="term" href="`)
		} else {
			_, _ = w.WriteString(`<a href="`)
		}
		_, _ = w.Write(util.EscapeHTML(util.URLEscape(dest, true)))
		_, _ = w.WriteString(`">`)
	} else {
		_, _ = w.WriteString("</a>")
	}
	return ast.WalkContinue, nil
}

// staysHere tells whether an address is one of this site: /… or #….
func staysHere(dest []byte) bool {
	if len(dest) == 0 || bytes.ContainsFunc(dest, func(r rune) bool { return r <= ' ' || r == 0x7f || r == '\\' || isPlace(r) }) {
		return false
	}
	switch dest[0] {
	case '#':
		return true
	case '/':
		return len(dest) == 1 || dest[1] != '/'
	}
	return false
}

func writeAutoLink(w util.BufWriter, src []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if in {
		_, _ = w.Write(util.EscapeHTML(n.(*ast.AutoLink).Label(src)))
	}
	return ast.WalkSkipChildren, nil
}

func writeRawHTML(w util.BufWriter, src []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if in {
		_, _ = w.WriteString(html.EscapeString(string(n.(*ast.RawHTML).Segments.Value(src))))
	}
	return ast.WalkSkipChildren, nil
}

func writeHTMLBlock(w util.BufWriter, src []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	if in {
		_, _ = w.WriteString("<p>" + html.EscapeString(htmlBlock(n, src)) + "</p>\n")
	}
	return ast.WalkSkipChildren, nil
}

func htmlBlock(n ast.Node, src []byte) string {
	b := n.(*ast.HTMLBlock)
	s := string(b.Lines().Value(src))
	if b.HasClosure() {
		s += string(b.ClosureLine.Value(src))
	}
	return strings.TrimSpace(s)
}

// writeBox writes a container that is no slot.
func writeBox(w util.BufWriter, _ []byte, n ast.Node, in bool) (ast.WalkStatus, error) {
	b := n.(*boxNode)
	kind, ok := boxes[b.name]
	if !ok || kind.slot {
		return ast.WalkContinue, nil
	}
	if !in {
		_, _ = w.WriteString("</section>\n")
		return ast.WalkContinue, nil
	}
	title := kind.title
	class := "note " + b.name
	if b.name == "caution" && len(b.words) == 1 {
		title = cautions[b.words[0].text].title
	}
	_, _ = w.WriteString(`<section class="` + class + `"><p class="note-title">` + title + "</p>\n")
	if b.name == "caution" && len(b.words) == 1 {
		_, _ = w.WriteString("<p>" + html.EscapeString(cautions[b.words[0].text].text) + "</p>\n")
	}
	return ast.WalkContinue, nil
}
