package lessons

import (
	"strconv"
	"strings"

	"fullyon/lessons/math"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// plainWriter writes Markdown as plain text: marks resolved, formulas as text,
// lists and the rows of tables as lines.
type plainWriter struct {
	src []byte
}

// blocks writes the blocks inside a node, parted by an empty line, or by a line
// break only where the list they stand in is tight.
func (p plainWriter) blocks(n ast.Node, between string) string {
	var parts []string
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if s := p.block(c); s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, between)
}

func (p plainWriter) block(n ast.Node) string {
	switch n := n.(type) {
	case *ast.List:
		return p.list(n)
	case *ast.FencedCodeBlock:
		code := strings.TrimRight(string(n.Lines().Value(p.src)), "\n")
		if string(n.Language(p.src)) != "math" {
			return code
		}
		if k, ok := n.AttributeString(formulaNumber); ok {
			return string(firstFormula + rune(k.(int)-1))
		}
		return math.Text(code)
	case *ast.CodeBlock:
		return strings.TrimRight(string(n.Lines().Value(p.src)), "\n")
	case *ast.HTMLBlock:
		return htmlBlock(n, p.src)
	case *ast.ThematicBreak, *ast.LinkReferenceDefinition:
		return ""
	case *extast.Table:
		return p.blocks(n, "\n")
	case *extast.TableHeader, *extast.TableRow:
		return p.blocks(n, " | ")
	case *ast.Blockquote, *boxNode, *ast.Document:
		return p.blocks(n, "\n\n")
	}
	var b strings.Builder
	p.inline(&b, n)
	return strings.TrimSpace(b.String())
}

func (p plainWriter) list(n *ast.List) string {
	between := "\n\n"
	if n.IsTight {
		between = "\n"
	}
	var items []string
	number := n.Start
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		mark := "- "
		if n.IsOrdered() {
			mark = strconv.Itoa(number) + ". "
			number++
		}
		indent := "\n" + strings.Repeat(" ", len(mark))
		items = append(items, mark+strings.ReplaceAll(p.blocks(c, between), "\n", indent))
	}
	return strings.Join(items, between)
}

// inline writes running text.
func (p plainWriter) inline(b *strings.Builder, n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			p.text(b, c, n.Kind() == ast.KindCodeSpan)
		case *ast.String:
			b.Write(c.Value)
		case *formulaNode:
			if c.number > 0 {
				b.WriteRune(firstFormula + rune(c.number-1))
			} else {
				b.WriteString(math.Text(c.tex))
			}
		case *ast.AutoLink:
			b.Write(c.Label(p.src))
		case *ast.RawHTML:
			b.Write(c.Segments.Value(p.src))
		default:
			p.inline(b, c)
		}
	}
}

func (p plainWriter) text(b *strings.Builder, t *ast.Text, code bool) {
	s := t.Segment.Value(p.src)
	if !code && !t.IsRaw() {
		s = util.ResolveNumericReferences(util.ResolveEntityNames(util.UnescapePunctuations(s)))
	}
	b.Write(s)
	switch {
	case t.HardLineBreak():
		b.WriteByte('\n')
	case t.SoftLineBreak():
		b.WriteByte(' ')
	}
}
