package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
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
