package store_test

import (
	"context"
	"fmt"
	"path/filepath"
	"sync/atomic"
	"testing"

	"fullyon/web/store"
	"fullyon/web/store/storetest"
)

func benchStore(b *testing.B) (*store.DB, store.Handed) {
	ctx := context.Background()
	s := openAt(b, filepath.Join(b.TempDir(), "bench.db"))
	l, err := s.LocalLearner(ctx)
	if err != nil {
		b.Fatal(err)
	}
	h, err := s.Hand(ctx, storetest.Problem(l.ID, "k", "tape-current"))
	if err != nil {
		b.Fatal(err)
	}
	return s, h
}

func BenchmarkPointRead(b *testing.B) {
	ctx := context.Background()
	s, h := benchStore(b)
	b.Run("one", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Handed(ctx, h.ID); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("parallel", func(b *testing.B) {
		b.RunParallel(func(p *testing.PB) {
			for p.Next() {
				if _, err := s.Handed(ctx, h.ID); err != nil {
					b.Fatal(err)
				}
			}
		})
	})
}

// BenchmarkSubmit measures durable answers with so many clients waiting.
func BenchmarkSubmit(b *testing.B) {
	ctx := context.Background()
	for _, clients := range []int{1, 8, 64} {
		b.Run(fmt.Sprint("clients=", clients), func(b *testing.B) {
			s, h := benchStore(b)
			problems := make([]string, clients)
			for i := range problems {
				p, err := s.Hand(ctx, storetest.Problem(h.Learner, fmt.Sprint("k", i), "tape-current"))
				if err != nil {
					b.Fatal(err)
				}
				problems[i] = p.ID
			}
			var n, client atomic.Int64
			b.ResetTimer()
			done := make(chan error, clients)
			for range clients {
				go func() {
					id := problems[client.Add(1)-1]
					for {
						i := n.Add(1)
						if i > int64(b.N) {
							done <- nil
							return
						}
						// A new question for every 20 answers, as in use: few answers each.
						a := storetest.Reply(fmt.Sprint("key", i), fmt.Sprint("q", i/20), "2 A", "right")
						if _, err := s.Submit(ctx, store.Submission{Handed: id, Answers: []store.Answer{a}}); err != nil {
							done <- err
							return
						}
					}
				}()
			}
			for range clients {
				if err := <-done; err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "answers/s")
		})
	}
}

func BenchmarkOpen(b *testing.B) {
	ctx := context.Background()
	dir := b.TempDir()
	open := func(b *testing.B, path string) {
		s, err := store.Open(ctx, path)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.LocalLearner(ctx); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		s.Close()
		b.StartTimer()
	}
	b.Run("new", func(b *testing.B) {
		for i := range b.N {
			open(b, filepath.Join(dir, fmt.Sprintf("%d-%d.db", b.N, i)))
		}
	})
	b.Run("existing", func(b *testing.B) {
		for range b.N {
			open(b, filepath.Join(dir, "existing.db"))
		}
	})
}

// BenchmarkHistory reads what mastery is computed from: 1,000 attempts.
func BenchmarkHistory(b *testing.B) {
	ctx := context.Background()
	s, h := benchStore(b)
	for i := range 50 {
		var answers []store.Answer
		for j := range 20 {
			answers = append(answers, storetest.Reply(fmt.Sprint(i, "/", j), fmt.Sprint("q", j), "2 A", "right"))
		}
		if _, err := s.Submit(ctx, store.Submission{Handed: h.ID, Answers: answers}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		if got, err := s.History(ctx, h.Learner, store.Page{}); err != nil || len(got) != 1000 {
			b.Fatal(len(got), err)
		}
	}
}
