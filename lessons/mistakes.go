package lessons

import (
	"fmt"

	"fullyon/grader/problem"
	"fullyon/lessons/math"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// mistake is something in a text that cannot be shown as it was meant.
type mistake struct {
	msg   string
	quote string // from the text, to find it in its file
}

// mistakes looks a text through. What it finds does no harm on a page, but is
// not shown as the author meant it.
func mistakes(t problem.Text) []mistake {
	var out []mistake
	src := []byte(clean(t.Markdown))
	doc := blockMarkdown.Parser().Parse(text.NewReader(src))
	formula := func(tex string, display bool) {
		h := holding{tex: tex}
		if _, err := math.Convert(h.with(t.Values), display); err != nil {
			why := err.Error()
			if e, ok := err.(*math.Error); ok {
				why = e.Msg
			}
			out = append(out, mistake{"formula: " + why, tex})
		}
	}
	_ = ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if !in {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *formulaNode:
			formula(n.tex, false)
		case *ast.FencedCodeBlock:
			if string(n.Language(src)) == "math" {
				formula(string(n.Lines().Value(src)), true)
			}
		case *ast.Link:
			if !staysHere(n.Destination) {
				out = append(out, mistake{fmt.Sprintf("the link to %q leaves the site; link to /… or #…", n.Destination), string(n.Destination)})
			}
		case *ast.Image:
			out = append(out, mistake{"an image stands here; name what is drawn under figures", "!["})
		case *ast.AutoLink:
			label := string(n.Label(src))
			out = append(out, mistake{fmt.Sprintf("the link to %q leaves the site", label), label})
		case *ast.RawHTML:
			tag := string(n.Segments.Value(src))
			out = append(out, mistake{fmt.Sprintf("HTML stands in the text (%.40s); write Markdown, or \\< for the sign itself", tag), tag})
		case *ast.HTMLBlock:
			out = append(out, mistake{"HTML stands in the text; write Markdown, or \\< for the sign itself", htmlBlock(n, src)})
		case *ast.Heading:
			out = append(out, mistake{"a heading stands in the text of a problem; leave the # out", "#"})
		}
		return ast.WalkContinue, nil
	})
	return out
}
