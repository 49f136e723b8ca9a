package lessons

import (
	"slices"
	"strings"

	"fullyon/grader/problem"
)

// boxKind is what is known of a kind of container.
type boxKind struct {
	title string // stands above it
	slot  bool   // the pages fill it
	word  string // what its one word is: a figure, a caution, a template; empty without a word
	keys  []string
	empty bool // it has no body
}

var boxes = map[string]boxKind{
	"belief":  {title: "A common belief, and what is wrong with it"},
	"try":     {title: "Try it"},
	"stop":    {title: "Stop here and ask"},
	"caution": {word: "caution"},
	"figure":  {slot: true, word: "figure", keys: []string{"template", "seed", "rows", "things"}},
	"worked":  {slot: true, keys: []string{"template"}, empty: true},
	"pause":   {slot: true, word: "pause", empty: true},
}

// figures are what a figure of a lesson can show.
var figures = problem.FigureKinds()

func list(words []string) string {
	words = slices.Clone(words)
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}
