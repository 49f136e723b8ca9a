package lessons

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
)

// linkTerms links the first place in a lesson at which a term of the glossary comes,
// never within a heading, a link or code.
func linkTerms(doc ast.Node, src []byte, terms []*Term) {
	left := map[string]*Term{} // words not yet linked, in small letters
	for _, t := range terms {
		for _, w := range t.words {
			left[strings.ToLower(w)] = t
		}
	}
	if len(left) == 0 {
		return
	}
	var texts []*ast.Text
	_ = ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if !in {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading, *ast.Link, *ast.CodeSpan, *ast.AutoLink, *extast.TableHeader:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			if !n.IsRaw() {
				texts = append(texts, n)
			}
		}
		return ast.WalkContinue, nil
	})
	for _, n := range texts {
		for n != nil {
			n = linkFirst(n, src, left)
		}
	}
}

// linkFirst links the first term in a piece of text and gives the piece behind it;
// nil when there is none.
func linkFirst(n *ast.Text, src []byte, left map[string]*Term) *ast.Text {
	from, to, t := firstTerm(string(n.Segment.Value(src)), left)
	if t == nil {
		return nil
	}
	for _, w := range t.words {
		delete(left, strings.ToLower(w))
	}
	start := n.Segment.Start
	piece := func(from, to int) *ast.Text { return ast.NewTextSegment(text.NewSegment(start+from, start+to)) }
	link := ast.NewLink()
	link.Destination = []byte(glossaryAt + t.ID)
	link.AppendChild(link, piece(from, to))
	rest := piece(to, n.Segment.Len())
	rest.SetSoftLineBreak(n.SoftLineBreak())
	rest.SetHardLineBreak(n.HardLineBreak())
	parent := n.Parent()
	if from > 0 {
		parent.InsertBefore(parent, n, piece(0, from))
	}
	parent.InsertBefore(parent, n, link)
	parent.ReplaceChild(parent, n, rest)
	return rest
}

// firstTerm finds where a term stands first, as a whole word or its plural; of two
// that begin at one place, the longer.
func firstTerm(s string, left map[string]*Term) (from, to int, t *Term) {
	low := strings.ToLower(s)
	if len(low) != len(s) {
		return 0, 0, nil // a letter whose small form is longer; no such word is a term
	}
	from = len(s)
	for _, w := range sortedKeys(left) {
		for at := 0; ; {
			i := strings.Index(low[at:], w)
			if i < 0 {
				break
			}
			i += at
			end := i + len(w)
			if strings.HasPrefix(low[end:], "s") && !strings.HasSuffix(w, "s") {
				end++
			}
			if alone(low, i, end) {
				if i < from || i == from && end > to {
					from, to, t = i, end, left[w]
				}
				break
			}
			at = i + 1
		}
	}
	return from, to, t
}

// alone tells whether a piece of text is no part of a longer word.
func alone(s string, from, to int) bool {
	before, _ := utf8.DecodeLastRuneInString(s[:from])
	after, _ := utf8.DecodeRuneInString(s[to:])
	joins := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_'
	}
	return (from == 0 || !joins(before)) && (to == len(s) || !joins(after))
}
