package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// TestGroupKeepsTheGoodOnes: of many writes that share commits, each that fails
// or panics leaves nothing, and each other one stays.
func TestGroupKeepsTheGoodOnes(t *testing.T) {
	ctx := context.Background()
	d, err := Open(ctx, filepath.Join(t.TempDir(), "group.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	refused := errors.New("refused")
	const n = 300
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() {
			id := fmt.Sprint("l", i)
			err := d.engine.write(ctx, func(t tx) error {
				if err := addLearner(t, Learner{ID: id}); err != nil {
					return err
				}
				switch i % 3 {
				case 1:
					return refused
				case 2:
					panic("out of order")
				}
				return nil
			})
			switch {
			case i%3 == 0 && err != nil,
				i%3 == 1 && !errors.Is(err, refused),
				i%3 == 2 && (err == nil || !strings.Contains(err.Error(), "out of order")):
				t.Errorf("write %d: error %v", i, err)
			}
		})
	}
	wg.Wait()
	for i := range n {
		_, err := d.Learner(ctx, fmt.Sprint("l", i))
		if kept := err == nil; kept != (i%3 == 0) {
			t.Errorf("learner %d: %v", i, err)
		}
	}
}

// TestFactsNeverChange: not even a statement that somebody adds later may edit
// what was handed out or answered.
func TestFactsNeverChange(t *testing.T) {
	ctx := context.Background()
	d, err := Open(ctx, filepath.Join(t.TempDir(), "facts.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	l, err := d.LocalLearner(ctx)
	if err != nil {
		t.Fatal(err)
	}
	h, err := d.Hand(ctx, NewHanded{Learner: l.ID, Key: "k", Source: Source{Hash: "h", Template: "t", Text: "x"}, Kept: []byte(`{}`)})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.Submit(ctx, Submission{Handed: h.ID, Answers: []Answer{{Key: "k", Question: "a", Outcome: "right", Result: []byte(`{}`)}}}); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		`update attempt set marks = 99`, `update handed set kept = '[]'`, `update template_source set source = 'y'`,
	} {
		err := d.engine.write(ctx, func(t tx) error { _, err := t.exec(text); return err })
		if err == nil || !strings.Contains(err.Error(), "never changes") {
			t.Errorf("%s: error %v, want a refusal", text, err)
		}
	}
}
