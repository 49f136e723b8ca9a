package lessons

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Three kinds of Markdown are read. They are shared by all goroutines.
var (
	lessonMarkdown = markdown(boxParser{})
	blockMarkdown  = markdown()
	inlineMarkdown = paragraphs()
)

func markdown(blocks ...parser.BlockParser) goldmark.Markdown {
	m := goldmark.New()
	m.Parser().AddOptions(
		parser.WithInlineParsers(util.Prioritized(mathParser{}, 150)),
		parser.WithParagraphTransformers(util.Prioritized(tables{extension.NewTableParagraphTransformer()}, 200)),
		parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)))
	for _, b := range blocks {
		m.Parser().AddOptions(parser.WithBlockParsers(util.Prioritized(b, 90)))
	}
	m.Renderer().AddOptions(renderer.WithNodeRenderers(
		util.Prioritized(extension.NewTableHTMLRenderer(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)), 500),
		util.Prioritized(htmlWriter{}, 100)))
	return m
}

// paragraphs reads running text only: "4. none" and "- 5 V" stay as they are.
func paragraphs() goldmark.Markdown {
	inline := append(parser.DefaultInlineParsers(), util.Prioritized(mathParser{}, 150))
	return goldmark.New(
		goldmark.WithParser(parser.NewParser(
			parser.WithBlockParsers(util.Prioritized(parser.NewParagraphParser(), 1000)),
			parser.WithInlineParsers(inline...))),
		goldmark.WithRenderer(renderer.NewRenderer(renderer.WithNodeRenderers(
			util.Prioritized(html.NewRenderer(), 1000), util.Prioritized(htmlWriter{inline: true}, 100)))))
}

// tables reads tables that a page can show. A row of many thousand columns would
// be repeated for each line below it, and one file could eat all memory.
type tables struct{ parser.ParagraphTransformer }

const (
	maxBars = 14 // signs | in a line of a table
	maxRows = 60
)

// Transform leaves a paragraph with too many columns or rows as it is.
func (t tables) Transform(node *ast.Paragraph, r text.Reader, pc parser.Context) {
	if node.Lines().Len() > maxRows {
		return
	}
	for i := range node.Lines().Len() {
		line := node.Lines().At(i)
		if bytes.Count(line.Value(r.Source()), []byte("|")) > maxBars {
			return
		}
	}
	t.ParagraphTransformer.Transform(node, r, pc)
}

// formulaNode is $…$.
type formulaNode struct {
	ast.BaseInline
	tex string
	off int // in the Markdown
	// number is that of a formula with values in it, from 1; 0 without.
	number int
}

var kindFormula = ast.NewNodeKind("Formula")

func (*formulaNode) Kind() ast.NodeKind { return kindFormula }

// Dump is for debugging.
func (n *formulaNode) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"TeX": n.tex}, nil)
}

type mathParser struct{}

func (mathParser) Trigger() []byte { return []byte{'$'} }

// Parse takes $…$ as a formula when the opening $ is followed by a non-space,
// the closing $ is preceded by one and not followed by a digit, so that
// "$5 or $6" stays text. \$ is a dollar.
func (mathParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, seg := block.PeekLine()
	if len(line) < 3 || line[1] == ' ' || line[1] == '$' {
		return nil
	}
	for i := 2; i < len(line); i++ {
		if line[i] != '$' || line[i-1] == '\\' {
			continue
		}
		if line[i-1] == ' ' || i+1 < len(line) && line[i+1] >= '0' && line[i+1] <= '9' {
			return nil
		}
		block.Advance(i + 1)
		return &formulaNode{tex: string(line[1:i]), off: seg.Start + 1}
	}
	return nil
}

// boxNode is a container ::: name words key=value … :::.
type boxNode struct {
	ast.BaseBlock
	name   string
	words  []argument
	keys   map[string]argument
	off    int
	fence  int
	closed bool
}

// argument is a word behind the name of a container.
type argument struct {
	text string
	off  int
}

var kindBox = ast.NewNodeKind("Box")

func (*boxNode) Kind() ast.NodeKind { return kindBox }

// Dump is for debugging.
func (n *boxNode) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Name": n.name}, nil)
}

type boxParser struct{}

func (boxParser) Trigger() []byte { return []byte{':'} }

// colons counts the colons that a line begins with and gives the rest.
func colons(line []byte) (int, []byte) {
	n := 0
	for n < len(line) && line[n] == ':' {
		n++
	}
	return n, bytes.TrimRight(line[n:], " \t\r\n")
}

// Open begins a container.
func (boxParser) Open(_ ast.Node, r text.Reader, _ parser.Context) (ast.Node, parser.State) {
	line, seg := r.PeekLine()
	n, rest := colons(line)
	if n < 3 || len(bytes.TrimSpace(rest)) == 0 {
		return nil, parser.NoChildren
	}
	b := &boxNode{keys: map[string]argument{}, off: seg.Start, fence: n}
	for i, f := range fields(rest) {
		f.off += seg.Start + n
		key, value, ok := strings.Cut(f.text, "=")
		switch {
		case i == 0:
			b.name = f.text
		case ok:
			b.keys[key] = argument{value, f.off}
		default:
			b.words = append(b.words, f)
		}
	}
	r.AdvanceToEOL()
	return b, parser.HasChildren
}

// fields splits at spaces and keeps the places.
func fields(line []byte) []argument {
	var out []argument
	for i := 0; i < len(line); {
		if line[i] == ' ' || line[i] == '\t' {
			i++
			continue
		}
		j := i
		for j < len(line) && line[j] != ' ' && line[j] != '\t' {
			j++
		}
		out = append(out, argument{string(line[i:j]), i})
		i = j
	}
	return out
}

// Continue ends a container at a line of as many colons.
func (boxParser) Continue(node ast.Node, r text.Reader, _ parser.Context) parser.State {
	line, _ := r.PeekLine()
	b := node.(*boxNode)
	if n, rest := colons(line); n == b.fence && len(rest) == 0 {
		r.AdvanceToEOL()
		b.closed = true
		return parser.Close
	}
	return parser.Continue | parser.HasChildren
}

// Close has nothing to do.
func (boxParser) Close(ast.Node, text.Reader, parser.Context) {}

// CanInterruptParagraph is true: no empty line is needed before a container.
func (boxParser) CanInterruptParagraph() bool { return true }

// CanAcceptIndentedLine is false: four spaces make code.
func (boxParser) CanAcceptIndentedLine() bool { return false }
