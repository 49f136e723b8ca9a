package problem_test

import (
	"strings"
	"testing"
)

// The question of a part problem may name the tempting candidate, which is known
// only once the candidates are drawn.
func TestAskNamesTheTemptingPart(t *testing.T) {
	const pick = `questions:
  - id: pick
    kind: part
    ask: "Which holds? And what rules out {{tempting}}?"
    checks: [drain_voltage, fully_on]
    drawer: "channel == 'N' and i_d >= '4 A' and (v_ds < '22 V' or v_ds >= '40 V' or gate_level == 'standard')"
    hints: ["{{tempting}} has the larger headline."]
worked:
  - say: "{{tempting}} goes out."
    answers: pick
---
`
	head, _, _ := strings.Cut(good, "questions:")
	head = strings.NewReplacer("voltage: 12 V", "voltage: 24 V", "  part: =part\n", "").Replace(head)
	head, _, _ = strings.Cut(head, "where:")
	tpl, err := compile(head + pick + "A part is wanted for {{I}}.\n")
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(20) {
		v, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		page, err := tpl.Page(v)
		if err != nil {
			t.Fatal(err)
		}
		want := "Which holds? And what rules out " + v.Tempting(&tpl.Questions[0]) + "?"
		if got := page.Questions[0].Ask.Plain(); got != want {
			t.Errorf("seed %d: asked %q, want %q", seed, got, want)
		}
	}
}
