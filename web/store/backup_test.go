package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/web/store"
	"fullyon/web/store/storetest"
)

// TestBackup copies while answers come in: the copy opens and holds everything
// acknowledged before it began.
func TestBackup(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := openAt(t, filepath.Join(dir, "live.db"))
	l, err := s.LocalLearner(ctx)
	if err != nil {
		t.Fatal(err)
	}
	h, err := s.Hand(ctx, storetest.Problem(l.ID, "k", "tape-current"))
	if err != nil {
		t.Fatal(err)
	}
	send := func(n int) {
		if _, err := s.Submit(ctx, store.Submission{Handed: h.ID, Answers: []store.Answer{storetest.Reply(fmt.Sprint("k", n), "a", "2 A", "right")}}); err != nil {
			t.Errorf("submit during the backup: %v", err)
		}
	}
	for n := range 50 {
		send(n)
	}
	before, err := s.AttemptsOf(ctx, h.ID)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	stop := make(chan struct{})
	wg.Go(func() {
		for n := 50; ; n++ {
			select {
			case <-stop:
				return
			default:
				send(n)
			}
		}
	})
	file := filepath.Join(dir, "it's a backup.db")
	err = s.Backup(ctx, file)
	close(stop)
	wg.Wait()
	if err != nil {
		t.Fatal(err)
	}

	copied := openAt(t, file)
	after, err := copied.AttemptsOf(ctx, h.ID)
	if err != nil {
		t.Fatal(err)
	}
	if len(after) < len(before) {
		t.Fatalf("the copy has %d attempts, %d were acknowledged before it", len(after), len(before))
	}
	if d := cmp.Diff(before, after[:len(before)]); d != "" {
		t.Errorf("the copy differs (-live +copy)\n%s", d)
	}
	if got, err := copied.LocalLearner(ctx); err != nil || got != l {
		t.Errorf("local learner of the copy = %v, %v, want %v", got, err, l)
	}

	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	err = s.Backup(ctx, file)
	if want := file + ": exists already; give a new name for the backup"; err == nil || err.Error() != want || !errors.Is(err, store.ErrExists) {
		t.Errorf("backup over a file: %v, want %s", err, want)
	}
	if now, err := os.ReadFile(file); err != nil || string(now) != string(old) {
		t.Errorf("backup over a file changed it")
	}
	if err := s.Backup(ctx, filepath.Join(dir, "none", "b.db")); !errors.Is(err, store.ErrUnwritable) {
		t.Errorf("backup into a folder that does not exist: %v", err)
	}
	ended, cancel := context.WithCancel(ctx)
	cancel()
	if err := s.Backup(ended, filepath.Join(dir, "ended.db")); !errors.Is(err, context.Canceled) {
		t.Errorf("backup with an ended context: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.part")); len(left) != 0 {
		t.Errorf("parts left behind: %v", left)
	}
}
