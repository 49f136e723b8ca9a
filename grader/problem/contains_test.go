package problem

import "testing"

func TestContains(t *testing.T) {
	for _, c := range []struct {
		text, quantity string
		want           bool
	}{
		{"it makes 136 mW there", "136 mW", true},
		{"it makes 1136 mW there", "136 mW", false},
		{"through 330 Ω", "3", false},
		{"a pin of 3.3 V", "3", false},
		{"a pin of 3 V", "3", false},
		{"behind 3 Ω", "3", false},
		{"3 such gates", "3", true},
		{"there are 3.", "3", true},
		{"1.3 times", "3", false},
	} {
		if got := contains(c.text, c.quantity); got != c.want {
			t.Errorf("contains(%q, %q) = %v", c.text, c.quantity, got)
		}
	}
}
