package storetest

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"fullyon/web/store"
)

func submit(t *testing.T, s store.Store) {
	ctx := context.Background()
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	answer := store.Answer{
		Key: "f1/current", Question: "current", Text: "2 A", Working: "24 W / 12 V", Outcome: "slip", Slip: "reciprocal",
		Marks: 0.8, Try: 1, Result: json.RawMessage(`{"read":"2 A"}`),
	}
	got := send(t, s, h.ID, 1, answer, Reply("f1/heat", "heat", "0.12 W", "right"))
	if len(got) != 2 || !idForm.MatchString(got[0].ID) {
		t.Fatalf("Submit = %+v, want two attempts with random ids", got)
	}
	diff(t, "Submit", got[0], store.Attempt{
		ID: got[0].ID, Handed: h.ID, Question: "current", Key: "f1/current", Number: 1, Try: 1,
		Text: "2 A", Working: "24 W / 12 V", Outcome: "slip", Slip: "reciprocal", Marks: 0.8,
		Result: answer.Result, Made: at(1),
	})
	third := send(t, s, h.ID, 2, Reply("f2/current", "current", "2.0 A", "right"))
	if third[0].Number != 2 {
		t.Errorf("second answer to a question has number %d, want 2", third[0].Number)
	}
	diff(t, "AttemptsOf", must(s.AttemptsOf(ctx, h.ID))(t), append(got, third...))
	diff(t, "Attempt", must(s.Attempt(ctx, got[1].ID))(t), got[1])
	if got := must(s.AttemptsOf(ctx, "nothing"))(t); len(got) != 0 {
		t.Errorf("AttemptsOf(nothing) = %v", got)
	}
	_, err := s.Attempt(ctx, "nothing")
	wantErr(t, "Attempt(nothing)", err, store.ErrNotFound)
}

func submitAgain(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	h, other := newProblem(t, s, l, "1", "tape-current"), newProblem(t, s, l, "2", "tape-current")
	state := must(s.Work(ctx, h.ID))(t).Seen()
	first := send(t, s, h.ID, 1, Reply("f/a", "a", "2 A", "wrong"))

	// Even with another text, at another time, and marked against a state long past.
	again := must(s.Submit(ctx, store.Submission{
		Handed: h.ID, Answers: []store.Answer{Reply("f/a", "a", "3 A", "right")}, Made: at(9), After: state,
	}))(t)
	diff(t, "Submit again", again, first)

	// Together with a new question only the new one is added.
	both := send(t, s, h.ID, 2, Reply("f/b", "b", "1 W", "right"), Reply("f/a", "a", "3 A", "right"))
	diff(t, "Submit again with more", both[1], first[0])
	diff(t, "AttemptsOf", must(s.AttemptsOf(ctx, h.ID))(t), []store.Attempt{first[0], both[0]})

	for name, sub := range map[string]store.Submission{
		"another problem":  {Handed: other.ID, Answers: []store.Answer{Reply("f/a", "a", "2 A", "wrong")}},
		"another question": {Handed: h.ID, Answers: []store.Answer{Reply("f/a", "b", "2 A", "wrong")}},
	} {
		got, err := s.Submit(ctx, sub)
		wantErr(t, "Submit with a key of "+name, err, store.ErrKeyReused)
		if got != nil {
			t.Errorf("Submit with a key of %s gives away %+v", name, got)
		}
	}
}

func submitStale(t *testing.T, s store.Store) {
	ctx := context.Background()
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	try := func(key string, after *store.Seen) error {
		_, err := s.Submit(ctx, store.Submission{Handed: h.ID, After: after, Answers: []store.Answer{Reply(key, "a", "2 A", "wrong")}})
		return err
	}
	seen := must(s.Work(ctx, h.ID))(t).Seen()
	if err := try("1", seen); err != nil {
		t.Fatalf("Submit after the current state: %v", err)
	}
	wantErr(t, "Submit after an attempt in another tab", try("2", seen), store.ErrStale)
	seen = must(s.Work(ctx, h.ID))(t).Seen()
	must(s.AddOpened(ctx, store.NewOpened{Handed: h.ID, Question: "a", What: store.Hint, Number: 1}))(t)
	wantErr(t, "Submit after a hint in another tab", try("2", seen), store.ErrStale)
	if err := try("2", must(s.Work(ctx, h.ID))(t).Seen()); err != nil {
		t.Errorf("Submit marked again: %v", err)
	}
	if got := must(s.AttemptsOf(ctx, h.ID))(t); len(got) != 2 {
		t.Errorf("%d attempts kept, want 2", len(got))
	}
}

func submitAllOrNone(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	h, other := newProblem(t, s, l, "1", "tape-current"), newProblem(t, s, l, "2", "tape-current")
	send(t, s, other.ID, 1, Reply("taken", "a", "2 A", "wrong"))
	_, err := s.Submit(ctx, store.Submission{Handed: h.ID, Answers: []store.Answer{
		Reply("fresh", "a", "2 A", "right"), Reply("taken", "b", "2 A", "right"),
	}})
	wantErr(t, "Submit of one good and one bad answer", err, store.ErrKeyReused)
	if got := must(s.AttemptsOf(ctx, h.ID))(t); len(got) != 0 {
		t.Errorf("kept %+v of a refused submission", got)
	}
}

func submitRefused(t *testing.T, s store.Store) {
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	good := Reply("k", "a", "2 A", "right")
	for _, c := range []struct {
		name   string
		handed string
		change func(*store.Answer)
		want   error
	}{
		{"unknown problem", "nothing", func(*store.Answer) {}, store.ErrNotFound},
		{"no key", h.ID, func(a *store.Answer) { a.Key = "" }, store.ErrInvalid},
		{"no question", h.ID, func(a *store.Answer) { a.Question = "" }, store.ErrInvalid},
		{"no outcome", h.ID, func(a *store.Answer) { a.Outcome = "" }, store.ErrInvalid},
		{"result not JSON", h.ID, func(a *store.Answer) { a.Result = []byte("right") }, store.ErrInvalid},
		{"marks not a number", h.ID, func(a *store.Answer) { a.Marks = math.NaN() }, store.ErrInvalid},
		{"negative try", h.ID, func(a *store.Answer) { a.Try = -1 }, store.ErrInvalid},
	} {
		a := good
		c.change(&a)
		_, err := s.Submit(context.Background(), store.Submission{Handed: c.handed, Answers: []store.Answer{a}})
		wantErr(t, "Submit: "+c.name, err, c.want)
	}
	_, err := s.Submit(context.Background(), store.Submission{Handed: h.ID, Answers: []store.Answer{good, good}})
	wantErr(t, "Submit: one key twice", err, store.ErrInvalid)
}

func anyText(t *testing.T, s store.Store) {
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	for i, c := range []struct{ text, want string }{
		{"", ""},
		{"20\u202fmΩ − ½", "20\u202fmΩ − ½"},
		{"a\x00b", "a\ufffdb"},
		{"\xff2 A", "\ufffd2 A"},
		{"'); drop table attempt; --", "'); drop table attempt; --"},
		{"$1 \\ % _ \r\n\t", "$1 \\ % _ \r\n\t"},
	} {
		a := Reply(fmt.Sprintf("k%d", i), "a", c.text, "wrong")
		a.Working = c.text
		id := send(t, s, h.ID, i, a)[0].ID
		got := must(s.Attempt(context.Background(), id))(t)
		if got.Text != c.want || got.Working != c.want {
			t.Errorf("text %q read back as %q, working as %q, want %q", c.text, got.Text, got.Working, c.want)
		}
	}
}

func opened(t *testing.T, s store.Store) {
	ctx := context.Background()
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	var want []store.Opened
	for i, n := range []store.NewOpened{
		{Handed: h.ID, Question: "a", What: store.Hint, Number: 1},
		{Handed: h.ID, Question: "a", What: store.Hint, Number: 2},
		{Handed: h.ID, Question: "b", What: store.Hint, Number: 1},
		{Handed: h.ID, Question: "a", What: store.NotThat, Number: 1},
		{Handed: h.ID, Question: "a", What: store.CarryOn},
		{Handed: h.ID, Question: "b", What: store.ShownKey},
		{Handed: h.ID, Question: "b", What: store.Explained},
	} {
		n.Made = at(i)
		o := must(s.AddOpened(ctx, n))(t)
		diff(t, "AddOpened", o, store.Opened{ID: o.ID, Handed: h.ID, Question: n.Question, What: n.What, Number: n.Number, Made: at(i)})
		n.Made = at(50)
		diff(t, "AddOpened again", must(s.AddOpened(ctx, n))(t), o)
		want = append(want, o)
	}
	diff(t, "OpenedOf", must(s.OpenedOf(ctx, h.ID))(t), want)

	_, err := s.AddOpened(ctx, store.NewOpened{Handed: "nothing", Question: "a", What: store.Hint})
	wantErr(t, "AddOpened in no problem", err, store.ErrNotFound)
	_, err = s.AddOpened(ctx, store.NewOpened{Handed: h.ID, Question: "a", What: "window"})
	wantErr(t, "AddOpened of a window", err, store.ErrInvalid)

	// Help counts for the answers after it, to the same question.
	for _, c := range []struct {
		question string
		want     int
	}{{"a", 3}, {"b", 3}, {"c", 0}} {
		if got := send(t, s, h.ID, 51, Reply(c.question, c.question, "x", "right"))[0].Helped; got != c.want {
			t.Errorf("answer to %s: helped %d, want %d", c.question, got, c.want)
		}
	}
}

func work(t *testing.T, s store.Store) {
	ctx := context.Background()
	h := newProblem(t, s, newLearner(t, s), "1", "tape-current")
	diff(t, "Work of a fresh problem", must(s.Work(ctx, h.ID))(t), store.Work{Handed: h})
	a := send(t, s, h.ID, 1, Reply("k", "a", "2 A", "wrong"))
	o := must(s.AddOpened(ctx, store.NewOpened{Handed: h.ID, Question: "a", What: store.Hint, Number: 1}))(t)
	w := must(s.Work(ctx, h.ID))(t)
	diff(t, "Work", w, store.Work{Handed: h, Attempts: a, Opened: []store.Opened{o}})
	diff(t, "Seen", *w.Seen(), store.Seen{Attempts: 1, Opened: 1})
	_, err := s.Work(ctx, "nothing")
	wantErr(t, "Work(nothing)", err, store.ErrNotFound)
}
