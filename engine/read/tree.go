package read

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strconv"
	"unicode/utf16"

	"go.yaml.in/yaml/v4"
)

// Kind says what a node is.
type Kind int

// The kinds of node. None is a node that is not there.
const (
	None Kind = iota
	Scalar
	List
	Mapping
)

// String names the kind as the messages do.
func (k Kind) String() string {
	switch k {
	case Scalar:
		return "a value"
	case List:
		return "a list"
	case Mapping:
		return "a map of keys"
	}
	return "nothing"
}

// tree is a node as we keep it, free of the YAML library.
type tree struct {
	kind  Kind
	pos   Pos
	text  string  // of a scalar
	null  bool    // a scalar without value
	quote bool    // a scalar in quotes, or a block of text
	keys  []entry // of a map, in order
	items []*tree // of a list
	m     *Map    // the one view of a map, which remembers the known keys
}

type entry struct {
	key   string
	pos   Pos
	value *tree
}

// builder turns the library's nodes into a tree and notes what is refused.
type builder struct {
	doc   *Doc
	shift int // lines of the file before the document
}

func (b *builder) build(n *yaml.Node, depth int) *tree {
	t := &tree{pos: Pos{max(n.Line, 1) + b.shift, max(n.Column, 1)}}
	switch {
	case depth > maxDepth:
		b.doc.Errorf(t.pos, "maps and lists lie more than %d deep here; nothing that the program reads does", maxDepth)
		return t
	case n.Kind == yaml.AliasNode:
		b.doc.Errorf(t.pos, "*%s refers to another place, which is not taken here; write the value out, or in quotes", n.Value)
		return t
	case n.Anchor != "":
		b.doc.Errorf(t.pos, "&%s names this place for reuse, which is not taken here; remove it, or put the value in quotes", n.Anchor)
	case n.Style&yaml.TaggedStyle != 0:
		b.doc.Errorf(t.pos, "the tag %s is not taken here; remove it, or put the value in quotes", n.Tag)
	}
	switch n.Kind {
	case yaml.ScalarNode:
		t.kind, t.text = Scalar, n.Value
		t.quote = n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
		t.null = !t.quote && (n.Value == "" || n.Value == "~" || n.Tag == "!!null")
	case yaml.SequenceNode:
		t.kind = List
		t.items = make([]*tree, 0, len(n.Content))
		for _, c := range n.Content {
			t.items = append(t.items, b.build(c, depth+1))
		}
	case yaml.MappingNode:
		t.kind = Mapping
		b.entries(t, n, depth)
	}
	return t
}

// startsLikeNumber finds the second half of a decimal comma that split a value
// inside { }: {i_d: 1,5 A} reads as i_d: 1 and a key "5 A" without value.
var startsLikeNumber = regexp.MustCompile(`^\d`)

func (b *builder) entries(t *tree, n *yaml.Node, depth int) {
	t.keys = make([]entry, 0, len(n.Content)/2)
	var seen map[string]Pos
	if len(n.Content) > 32 { // few keys are quicker to look through
		seen = make(map[string]Pos, len(n.Content)/2)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		at := Pos{max(k.Line, 1) + b.shift, max(k.Column, 1)}
		v := b.build(n.Content[i+1], depth+1)
		switch {
		case k.Kind != yaml.ScalarNode:
			b.doc.Errorf(at, "a key must be a word; this is %s", plainKind(k.Kind))
			continue
		case k.Anchor != "" || k.Style&yaml.TaggedStyle != 0:
			b.doc.Errorf(at, "anchors and tags are not taken here; write the key alone")
			continue
		case k.Value == "<<" && k.Style == 0:
			b.doc.Errorf(at, "<< takes keys from another place, which is not done here; write the keys out")
			continue
		case v.null && v.pos.Line == at.Line && startsLikeNumber.MatchString(k.Value) && n.Style&yaml.FlowStyle != 0:
			b.doc.Errorf(at, "inside { } a comma ends a value, so %q stands alone; write a decimal point, or put the value in quotes", k.Value)
			continue
		}
		if first, ok := t.find(k.Value, seen); ok {
			b.doc.Errorf(at, "the key %q stands here a second time; the first is in line %d", k.Value, first.Line)
			continue
		}
		if seen != nil {
			seen[k.Value] = at
		}
		t.keys = append(t.keys, entry{k.Value, at, v})
	}
}

func (t *tree) find(key string, seen map[string]Pos) (Pos, bool) {
	if seen != nil {
		p, ok := seen[key]
		return p, ok
	}
	for i := range t.keys {
		if t.keys[i].key == key {
			return t.keys[i].pos, true
		}
	}
	return Pos{}, false
}

func plainKind(k yaml.Kind) string {
	switch k {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "a map"
	}
	return "a reference"
}

var surrogates = regexp.MustCompile(`\\u[dD][89abAB][0-9a-fA-F]{2}\\u[dD][c-fC-F][0-9a-fA-F]{2}`)

// plainJSON smooths the two points in which JSON is not YAML for the library:
// tabs between tokens, and characters written as two escapes.
func plainJSON(src []byte) string {
	head := bytes.TrimLeft(src, " \t\r\n")
	if len(head) == 0 || head[0] != '{' && head[0] != '[' || !json.Valid(src) {
		return string(src)
	}
	src = bytes.ReplaceAll(src, []byte("\t"), []byte(" ")) // valid JSON has no tab inside a text
	src = surrogates.ReplaceAllFunc(src, func(m []byte) []byte {
		hi, _ := strconv.ParseUint(string(m[2:6]), 16, 32)
		lo, _ := strconv.ParseUint(string(m[8:12]), 16, 32)
		return []byte(string(utf16.DecodeRune(rune(hi), rune(lo))))
	})
	return string(src)
}
