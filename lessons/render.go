package lessons

import (
	"bytes"
	"html/template"
	"strings"

	"fullyon/grader/problem"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
)

// formulaNumber is the attribute of a fenced formula that holds values. No
// attribute of a fence is ever written.
const formulaNumber = "formula"

// HTML renders a text in blocks: paragraphs, lists, tables.
func HTML(t problem.Text) template.HTML {
	return template.HTML(cached(asBlocks, t.Markdown).html(t.Values))
}

// Inline renders a text to stand inside a line, such as an option or a label.
// Lists, headings and tables are not known there; paragraphs are joined with <br>.
func Inline(t problem.Text) template.HTML {
	return template.HTML(cached(asLine, t.Markdown).html(t.Values))
}

// Plain renders a text for terminals and JSON: without marks, with formulas as
// text and lists as lines.
func Plain(t problem.Text) string { return cached(asPlain, t.Markdown).plain(t.Values) }

// PlainInline is Plain for a text that Inline would show.
func PlainInline(t problem.Text) string { return cached(asPlainLine, t.Markdown).plain(t.Values) }

// form is what a text is rendered as.
type form uint8

const (
	asBlocks form = iota
	asLine
	asPlain
	asPlainLine
)

// render does the work that does not depend on the values.
func render(f form, markdown string) rendered {
	src := []byte(clean(markdown))
	md := blockMarkdown
	if f == asLine || f == asPlainLine {
		md = inlineMarkdown
	}
	doc := md.Parser().Parse(text.NewReader(src))
	formulas := number(doc, src)
	if f == asPlain || f == asPlainLine {
		return split(plainWriter{src}.blocks(doc, "\n\n"), formulas)
	}
	return split(write(md, src, doc), formulas)
}

// write gives the HTML of a node.
func write(md goldmark.Markdown, src []byte, n ast.Node) string {
	var b bytes.Buffer
	if err := md.Renderer().Render(&b, src, n); err != nil {
		// A bytes.Buffer takes everything, and no writer of ours fails.
		return template.HTMLEscapeString(string(src))
	}
	return strings.TrimSpace(b.String())
}

// clean takes out the characters that stand for formulas in the output, and what is no UTF-8.
func clean(markdown string) string {
	return strings.Map(func(r rune) rune {
		if r >= firstFormula && r <= '\uf8ff' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(markdown, "�"))
}

// number prepares a parsed text: it gives each formula that holds values its
// number, and cells of numbers their class.
func number(doc ast.Node, src []byte) []holding {
	var formulas []holding
	note := func(tex string, display bool) int {
		if !holdsPlace(tex) || len(formulas) == maxHolding {
			return 0
		}
		formulas = append(formulas, holding{tex, display})
		return len(formulas)
	}
	_ = ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if !in {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *formulaNode:
			n.number = note(n.tex, false)
		case *ast.FencedCodeBlock:
			if string(n.Language(src)) == "math" {
				if k := note(string(n.Lines().Value(src)), true); k > 0 {
					n.SetAttributeString(formulaNumber, k)
				}
			}
		case *extast.TableCell:
			if n.Alignment == extast.AlignRight {
				n.SetAttributeString("class", []byte("n"))
			}
		}
		return ast.WalkContinue, nil
	})
	return formulas
}

// maxHolding bounds the formulas that hold values: there are as many characters for them.
const maxHolding = 2000
