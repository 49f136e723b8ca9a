package read

import (
	"errors"
	"testing"

	"fullyon/engine/si"
)

// FuzzParse: whatever the bytes, no panic; a refused file has at least one
// placed mistake; a taken one can be walked in every way.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"", "a: 12 V\nb: [1, {c: 60 %}]\n", "{\"a\": \"\\ud83d\\ude00\"}", "---\na: &x 1\n---\n", "a: |\n  text\n",
		"? a\n: b\n", "<<: {a: 1}\n", "\xef\xbb\xbfa: ~\n", "- - - x\n", "a: !!binary x\n", "[[[[", "a: \"\\x41\"\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		SplitFrontMatter(src)
		d, err := ParseAt("f", src, 3)
		if err != nil {
			var all Errors
			if !errors.As(err, &all) || len(all) == 0 || d != nil {
				t.Fatalf("refused without a placed mistake: %v", err)
			}
			for _, e := range all {
				if e.Line < 3 || e.Col < 1 || e.Msg == "" {
					t.Fatalf("a mistake has no place: %+v", *e)
				}
			}
			return
		}
		walk(d.Root())
		d.Err()
	})
}

func walk(n Node) {
	n.Text()
	n.Int(0, 9)
	n.Bool()
	n.Float()
	n.Quantity(si.Voltage)
	n.TextOf("a", "b")
	for _, item := range n.List() {
		walk(item)
	}
	m := n.Map()
	for i, k := range m.Keys() {
		if i%2 == 0 {
			walk(m.Node(k.Name))
		}
	}
	m.Require("a")
	m.Close()
}
