package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		name, text string
		width      int
		want       []string
	}{
		{"short", "one two", 20, []string{"one two"}},
		{"empty", "", 20, []string{""}},
		{"at the width", "1234 6789", 9, []string{"1234 6789"}},
		{"beyond", "1234 6789", 8, []string{"1234", "6789"}},
		{"a value keeps its unit", "the gate gets 4.74 V, and", 19, []string{"the gate gets", "4.74 V, and"}},
		{"so does one in brackets", "it is (6.2 A)² now", 10, []string{"it is", "(6.2 A)²", "now"}},
		{"a long word stands alone", "a resistance", 4, []string{"a", "resistance"}},
		{"signs count as one", "µΩ µΩ", 5, []string{"µΩ µΩ"}},
	} {
		if diff := cmp.Diff(c.want, wrap(c.text, c.width)); diff != "" {
			t.Errorf("%s: wrap(%q, %d) (-want +got):\n%s", c.name, c.text, c.width, diff)
		}
	}
}

func TestTable(t *testing.T) {
	var b strings.Builder
	table(&b, 2, [][]string{{"R", "20 mΩ", "of the lead"}, {"I_load", "2 A", strings.Repeat("word ", 20)}})
	want := `  R       20 mΩ  of the lead
  I_load  2 A    word word word word word word word word word word word word
                 word word word word word word word word
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("table (-want +got):\n%s", diff)
	}
}

func TestParagraphs(t *testing.T) {
	var b strings.Builder
	para(&b, 2, "First.\n\n- "+strings.Repeat("item ", 16)+"\n- two")
	want := `  First.

  - item item item item item item item item item item item item item item
    item item
  - two
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("para (-want +got):\n%s", diff)
	}
}

// TestWrapKeepsWords: wrapping changes nothing but where lines end, and no line
// is too long unless one word is.
func TestWrapKeepsWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zµΩ0-9(]{1,9}|[0-9]{1,3} (mV|A|Ω)`)).Draw(t, "words")
		n := rapid.IntRange(1, 40).Draw(t, "width")
		text := strings.Join(words, " ")
		lines := wrap(text, n)
		if got := strings.Join(lines, " "); got != text {
			t.Fatalf("wrap(%q, %d) = %q", text, n, lines)
		}
		for _, l := range lines {
			if columns(l) > n && len(wrapWords(valueAndUnit.ReplaceAllString(l, "${1}"+noBreak+"${2}"), 1)) > 1 {
				t.Fatalf("line %q of wrap(%q, %d) is too long", l, text, n)
			}
		}
	})
}
