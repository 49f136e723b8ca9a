package storetest

import (
	"context"
	"fmt"
	"testing"

	"fullyon/web/store"
)

func history(t *testing.T, s store.Store) {
	ctx := context.Background()
	l, other := newLearner(t, s), newLearner(t, s)
	h1, h2 := newProblem(t, s, l, "1", "tape-current"), newProblem(t, s, l, "2", "coil-kick")
	theirs := newProblem(t, s, other, "1", "tape-current")

	send(t, s, theirs.ID, 0, Reply("x", "a", "9 A", "wrong"))
	slip := Reply("1", "a", "0.5 A", "slip")
	slip.Slip = "reciprocal"
	first := send(t, s, h1.ID, 1, slip)[0]
	must(s.AddOpened(ctx, store.NewOpened{Handed: h1.ID, Question: "a", What: store.NotThat, Number: 1}))(t)
	must(s.AddOpened(ctx, store.NewOpened{Handed: h1.ID, Question: "a", What: store.Hint, Number: 1}))(t)
	again := Reply("2", "a", "2 A", "right")
	again.Try = 2
	second := send(t, s, h1.ID, 2, again)[0]
	third := send(t, s, h2.ID, 3, Reply("3", "volts", "24 V", "right"))[0]

	want := []store.Past{
		{
			Attempt: first.ID, Handed: h1.ID, Template: "tape-current", Source: "sha256-tape-current", Question: "a",
			Text: "0.5 A", Number: 1, Try: 1, Outcome: "slip", Slip: "reciprocal", Withdrawn: true, Made: at(1),
		},
		{
			Attempt: second.ID, Handed: h1.ID, Template: "tape-current", Source: "sha256-tape-current", Question: "a",
			Text: "2 A", Number: 2, Try: 2, Helped: 1, Outcome: "right", Marks: 2.5, Made: at(2),
		},
		{
			Attempt: third.ID, Handed: h2.ID, Template: "coil-kick", Source: "sha256-coil-kick", Question: "volts",
			Text: "24 V", Number: 1, Try: 1, Outcome: "right", Marks: 2.5, Made: at(3),
		},
	}
	all := must(s.History(ctx, l, store.Page{}))(t)
	if len(all) != len(want) {
		t.Fatalf("History has %d attempts, want %d", len(all), len(want))
	}
	for i := range want {
		want[i].Seq = all[i].Seq
		if i > 0 && all[i].Seq <= all[i-1].Seq {
			t.Errorf("Seq %d after %d", all[i].Seq, all[i-1].Seq)
		}
	}
	diff(t, "History", all, want)
	diff(t, "History since", must(s.History(ctx, l, store.Page{Since: at(2)}))(t), want[1:])
	diff(t, "History of one", must(s.History(ctx, l, store.Page{Limit: 1}))(t), want[:1])
	diff(t, "History after", must(s.History(ctx, l, store.Page{After: want[0].Seq, Limit: 1}))(t), want[1:2])
	if got := must(s.History(ctx, l, store.Page{After: want[2].Seq}))(t); len(got) != 0 {
		t.Errorf("History after the last = %v", got)
	}
}

func progress(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	if got := must(s.Progress(ctx, l))(t); len(got) != 0 {
		t.Errorf("Progress before anything = %v", got)
	}
	var tape []string
	for i := range 4 {
		tape = append(tape, newProblem(t, s, l, fmt.Sprint("t", i), "tape-current").ID)
	}
	newProblem(t, s, l, "c", "coil-kick")
	theirs := newProblem(t, s, newLearner(t, s), "t", "tape-current")
	send(t, s, theirs.ID, 30, Reply("theirs", "a", "2 A", "right"))

	unreadable := Reply("0", "a", "two", "unreadable")
	unreadable.Try = 0
	send(t, s, tape[0], 1, unreadable)                      // costs nothing
	send(t, s, tape[0], 2, Reply("1", "a", "2 A", "right")) // right at the first try
	send(t, s, tape[1], 3, Reply("2", "a", "3 A", "wrong")) // wrong, then right
	second := Reply("3", "a", "2 A", "right")               //
	second.Try = 2                                          //
	send(t, s, tape[1], 4, second)                          //
	must(s.AddOpened(ctx, store.NewOpened{Handed: tape[2], Question: "a", What: store.Hint, Number: 1}))(t)
	send(t, s, tape[2], 5, Reply("4", "a", "2 A", "right"), Reply("5", "b", "1 W", "right")) // a with a hint, b without

	diff(t, "Progress", must(s.Progress(ctx, l))(t), []store.Progress{
		{Template: "coil-kick", Handed: 1, Last: at(0)},
		{Template: "tape-current", Handed: 4, Attempts: 6, Questions: 4, RightFirstTry: 2, Last: at(5)},
	})
}
