package problem_test

import (
	"slices"
	"strings"
	"testing"

	"fullyon/engine"
)

// A part whose gate never turns it on has no heat to work out. It is ruled out
// all the same, by that check and by none that could not be judged; and exactly
// one candidate keeps all the usual margins, the others break a limit.
func TestCandidatesOfAWholeJob(t *testing.T) {
	const pick = `questions:
  - id: pick
    kind: part
    ask: "Which holds?"
    checks: [drain_voltage, fully_on, junction]
    drawer: "channel == 'N' and package == 'TO-220' and i_d >= '26 A'"
worked:
  - say: One is left.
    answers: pick
---
`
	head, _, _ := strings.Cut(good, "questions:")
	head = strings.NewReplacer("voltage: 12 V", "voltage: 24 V", "current: =I", "current: 5.5 A", "  part: =part\n", "").Replace(head)
	head, _, _ = strings.Cut(head, "where:")
	tpl, err := compile(head + pick + "A part is wanted for {{I}}.\n")
	if err != nil {
		t.Fatal(err)
	}
	neverOn := 0
	for seed := range uint64(40) {
		v, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		right := tpl.Key(v).Answers[0].Right[0]
		for _, p := range v.CandidatesOf(&tpl.Questions[0]) {
			c := v.Circuit
			c.Part = p
			z := engine.NewSizing(&c)
			worst := engine.Holds
			for _, id := range []string{"drain_voltage", "fully_on", "junction"} {
				if k, _ := z.Check(id); k.Verdict.Worse(worst) {
					worst = k.Verdict
				}
			}
			if want := map[bool]engine.Verdict{true: engine.Holds, false: engine.Fails}[p.Name == right]; worst != want {
				t.Errorf("seed %d: %s comes out as %s, want %s", seed, p.Name, worst, want)
			}
		}
		if grounds := tpl.Key(v).Answers[0].Grounds; slices.Contains(grounds, "fully_on") {
			neverOn++
			if slices.Contains(grounds, "junction") {
				t.Errorf("seed %d: the heat of a part that is never on counts as a ground: %v", seed, grounds)
			}
		}
	}
	if neverOn == 0 {
		t.Error("no draw had a tempting part that is never on; this test proves nothing")
	}
}
