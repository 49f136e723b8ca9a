package lessons_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"

	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
)

// draws is how many draws of each template the simulated learners work: 500 in
// full, fewer on an everyday run.
func draws() uint64 {
	if os.Getenv("FULLYON_TEST_ALL") == "1" {
		return 500
	}
	return 60
}

// tally counts what became of answers of one sort.
type tally struct{ good, all int }

func (t *tally) add(ok bool) {
	t.all++
	if ok {
		t.good++
	}
}

func (t tally) share() float64 {
	if t.all == 0 {
		return 1
	}
	return float64(t.good) / float64(t.all)
}

// Simulated learners answer every quantity of every template: the right answer,
// each slip's answer, and numbers drawn at random within two decades about the
// right one, each typed as people do.
func TestSimulatedLearners(t *testing.T) {
	course, err := lessons.Built()
	if err != nil {
		t.Fatal(err)
	}
	var right, named, random tally
	slips := map[string]*tally{}
	rng := rand.New(rand.NewPCG(1, 2))
	for _, tpl := range course.Templates {
		for seed := range draws() {
			v, err := tpl.Draw(seed)
			if err != nil {
				t.Error(err)
				break
			}
			key := tpl.Key(v)
			for i := range tpl.Questions {
				q, a := &tpl.Questions[i], &key.Answers[i]
				if !q.Kind.Numeric() {
					continue
				}
				mark := func(text string) *grader.Marked {
					r, err := grader.Mark(tpl, v, key, grader.Response{q.ID: text})
					if err != nil {
						t.Fatalf("%s seed %d: %v", tpl.ID, seed, err)
					}
					return r.Questions[q.ID]
				}
				text := typed(rng, a.Value, q, a)
				m := mark(text)
				right.add(m.Outcome == grader.Right)
				if m.Outcome != grader.Right {
					t.Errorf("%s seed %d: the right answer %s to %s, typed %q, is %s %s (%s)", tpl.ID, seed, a.Value.Figures(5), q.ID, text, m.Outcome, m.Slip, m.Because.Plain())
				}
				for j := range a.Slips {
					s := &a.Slips[j]
					text := typed(rng, si.Of(s.Value, a.Value.Dim), q, nil)
					m := mark(text)
					ok := m.Slip == s.Slip.ID || m.Slip != "" && (m.Slip == s.Slip.SameAs || sameAs(a, m.Slip) == s.Slip.ID)
					named.add(ok)
					id := tpl.ID + " " + q.ID + " " + s.Slip.ID
					if slips[id] == nil {
						slips[id] = &tally{}
					}
					slips[id].add(ok)
					if !ok && testing.Verbose() {
						t.Logf("%s seed %d: slip %s (%s), typed %q, is %s %s", tpl.ID, seed, s.Slip.ID, s.Text, text, m.Outcome, m.Slip)
					}
				}
				if x, ok := stray(rng, a); ok {
					m := mark(si.Of(x, a.Value.Dim).FiguresIn(q.Unit, 4))
					if m.Outcome != grader.Right {
						random.add(m.Slip == "")
					}
				}
			}
		}
	}
	worst := make([]string, 0, len(slips))
	for id := range slips {
		worst = append(worst, id)
	}
	sort.Slice(worst, func(i, j int) bool { return slips[worst[i]].share() < slips[worst[j]].share() })
	var table strings.Builder
	fmt.Fprintf(&table, "right answers marked right    %6d of %6d  %6.2f %%\n", right.good, right.all, 100*right.share())
	fmt.Fprintf(&table, "slips named as themselves     %6d of %6d  %6.2f %%\n", named.good, named.all, 100*named.share())
	fmt.Fprintf(&table, "random answers left unnamed   %6d of %6d  %6.2f %%\n", random.good, random.all, 100*random.share())
	for _, id := range worst[:min(12, len(worst))] {
		fmt.Fprintf(&table, "  %-60s %6.2f %%\n", id, 100*slips[id].share())
	}
	t.Log("\n" + table.String())
	if right.share() < 1 {
		t.Error("a right answer was not marked right")
	}
	if named.share() < 0.99 {
		t.Error("fewer than 99 % of the slips were named")
	}
	if random.share() < 0.97 {
		t.Error("more than 3 % of random answers were named as some slip")
	}
}

func sameAs(a *problem.Answer, id string) string {
	for i := range a.Slips {
		if a.Slips[i].Slip.ID == id {
			return a.Slips[i].Slip.SameAs
		}
	}
	return ""
}

// typed writes a value as people do: two to four figures, this or that prefix,
// with a comma, without a space. A standard value or count keeps its digits.
func typed(rng *rand.Rand, q si.Quantity, question *problem.Question, exact *problem.Answer) string {
	if exact != nil && (exact.Standard != nil || exact.Low == exact.High) {
		return q.String()
	}
	figs := 2 + rng.IntN(3)
	if q.Dim == si.Temperature {
		figs = 3 + rng.IntN(2)
	}
	text := q.Figures(figs)
	if rng.IntN(2) == 0 || q.Dim == si.One {
		text = q.FiguresIn(question.Unit, figs)
	}
	if rng.IntN(4) == 0 && strings.Count(text, ".") == 1 && !ambiguousWithComma(text) {
		text = strings.Replace(text, ".", ",", 1)
	}
	if rng.IntN(3) == 0 {
		text = strings.Replace(text, " ", "", 1)
	}
	return text
}

// ambiguousWithComma tells whether three digits follow the point: with a comma
// that could be thousands, and the reader rightly asks.
func ambiguousWithComma(text string) bool {
	_, after, _ := strings.Cut(text, ".")
	n := 0
	for n < len(after) && after[n] >= '0' && after[n] <= '9' {
		n++
	}
	return n == 3
}

// stray is a number within a decade on either side of the right one; a
// temperature within 60 K.
func stray(rng *rand.Rand, a *problem.Answer) (float64, bool) {
	if a.Value.Dim == si.Temperature {
		return a.Value.Value + 120*(rng.Float64()-0.5), true
	}
	x := a.Value.Value * math.Pow(10, 2*(rng.Float64()-0.5))
	return x, x != 0
}
