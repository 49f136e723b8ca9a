package storetest

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"fullyon/web/store"
)

func endedContext(t *testing.T, s store.Store) {
	l := newLearner(t, s)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := s.Hand(ctx, Problem(l, "1", "tape-current"))
	wantErr(t, "Hand with an ended context", err, context.Canceled)
	_, err = s.LatestHanded(context.Background(), l, "tape-current")
	wantErr(t, "LatestHanded after it", err, store.ErrNotFound)
	_, err = s.Learner(ctx, l)
	wantErr(t, "Learner with an ended context", err, context.Canceled)
}

func closed(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	_, err := s.AddLearner(ctx, "late")
	wantErr(t, "AddLearner after Close", err, store.ErrClosed)
	_, err = s.Learner(ctx, l)
	wantErr(t, "Learner after Close", err, store.ErrClosed)
	if err := s.Close(); err != nil {
		t.Errorf("Close again: %v", err)
	}
}

// manyAtOnce sends each submission from two goroutines with different texts, next
// to readers and writes that are refused. Each is kept once, both senders are
// told the same, and numbers have no gap.
func manyAtOnce(t *testing.T, s store.Store) {
	ctx := context.Background()
	const clients, each = 16, 12
	l := newLearner(t, s)
	shared := newProblem(t, s, l, "shared", "tape-current")
	ids := make([][2]string, clients*each)
	var wg sync.WaitGroup
	for c := range clients {
		for twin := range 2 {
			wg.Go(func() {
				for i := range each {
					n := c*each + i
					got, err := s.Submit(ctx, store.Submission{Handed: shared.ID, Answers: []store.Answer{
						Reply(fmt.Sprint("key", n), "a", fmt.Sprint("from ", twin), "wrong"),
					}})
					if err != nil {
						t.Errorf("submit %d: %v", n, err)
						return
					}
					ids[n][twin] = got[0].ID
					if _, err := s.Submit(ctx, store.Submission{Handed: "nothing", Answers: []store.Answer{Reply("bad", "a", "", "wrong")}}); !errors.Is(err, store.ErrNotFound) {
						t.Errorf("submit to no problem: %v", err)
					}
					if _, err := s.History(ctx, l, store.Page{Limit: 10}); err != nil {
						t.Errorf("history: %v", err)
					}
					if h, err := s.Hand(ctx, Problem(l, "shared", "coil-kick")); err != nil || h.ID != shared.ID {
						t.Errorf("hand again = %v, %v, want %v", h.ID, err, shared.ID)
					}
				}
			})
		}
		wg.Go(func() {
			if _, err := s.LocalLearner(ctx); err != nil {
				t.Errorf("local learner: %v", err)
			}
		})
	}
	wg.Wait()
	for n, pair := range ids {
		if pair[0] == "" || pair[0] != pair[1] {
			t.Errorf("submission %d: senders were told %q and %q, want one id", n, pair[0], pair[1])
		}
	}
	kept := must(s.AttemptsOf(ctx, shared.ID))(t)
	if len(kept) != clients*each {
		t.Fatalf("%d attempts kept, want %d", len(kept), clients*each)
	}
	for i, a := range kept {
		if a.Number != i+1 {
			t.Fatalf("attempt %d in order has number %d", i+1, a.Number)
		}
	}
}

// randomSequences: whatever is sent, repeated and opened in whatever order, the
// store holds what a plain model holds: each attempt once, with its first text.
func randomSequences(t *testing.T, s store.Store) {
	ctx := context.Background()
	run := 0
	rapid.Check(t, func(rt *rapid.T) {
		run++
		l, err := s.AddLearner(ctx, "")
		if err != nil {
			rt.Fatal(err)
		}
		h, err := s.Hand(ctx, Problem(l.ID, "k", "tape-current"))
		if err != nil {
			rt.Fatal(err)
		}
		var order []string            // keys in the order first sent
		first := map[string]string{}  // key → id
		texts := map[string]string{}  // key → text sent first
		number := map[string]int{}    // question → answers so far
		helped := map[string]int{}    // question → hints so far
		hints := map[[2]string]bool{} // question, hint number
		question := rapid.SampledFrom([]string{"a", "b"})
		rt.Repeat(map[string]func(*rapid.T){
			"submit": func(rt *rapid.T) {
				q := question.Draw(rt, "question")
				key := fmt.Sprintf("%d/%s/%d", run, q, rapid.IntRange(0, 5).Draw(rt, "key"))
				text := rapid.StringN(0, 8, 40).Draw(rt, "text")
				got, err := s.Submit(ctx, store.Submission{Handed: h.ID, Answers: []store.Answer{Reply(key, q, text, "wrong")}})
				if err != nil {
					rt.Fatal(err)
				}
				if _, known := first[key]; !known {
					number[q]++
					order, first[key], texts[key] = append(order, key), got[0].ID, got[0].Text
					if got[0].Number != number[q] || got[0].Helped != helped[q] {
						rt.Fatalf("new attempt: number %d, helped %d, want %d, %d", got[0].Number, got[0].Helped, number[q], helped[q])
					}
				}
				if got[0].ID != first[key] || got[0].Text != texts[key] {
					rt.Fatalf("key %s: got %s %q, want %s %q", key, got[0].ID, got[0].Text, first[key], texts[key])
				}
			},
			"hint": func(rt *rapid.T) {
				q, n := question.Draw(rt, "question"), rapid.IntRange(1, 3).Draw(rt, "hint")
				if _, err := s.AddOpened(ctx, store.NewOpened{Handed: h.ID, Question: q, What: store.Hint, Number: n}); err != nil {
					rt.Fatal(err)
				}
				if k := [2]string{q, fmt.Sprint(n)}; !hints[k] {
					hints[k] = true
					helped[q]++
				}
			},
			"": func(rt *rapid.T) {
				w, err := s.Work(ctx, h.ID)
				if err != nil {
					rt.Fatal(err)
				}
				if len(w.Attempts) != len(order) || len(w.Opened) != len(hints) {
					rt.Fatalf("%d attempts, %d opened; want %d, %d", len(w.Attempts), len(w.Opened), len(order), len(hints))
				}
				for i, a := range w.Attempts {
					if a.Key != order[i] || a.ID != first[a.Key] || a.Text != texts[a.Key] {
						rt.Fatalf("attempt %d is %s %s %q, want %s %s %q", i, a.Key, a.ID, a.Text, order[i], first[order[i]], texts[order[i]])
					}
				}
			},
		})
	})
}
