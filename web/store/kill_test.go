package store_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fullyon/web/store"
	"fullyon/web/store/storetest"
)

// killEnv holds the database path in the process that is going to be killed.
const killEnv = "FULLYON_STORE_KILL"

func TestMain(m *testing.M) {
	if path := os.Getenv(killEnv); path != "" {
		writeUntilKilled(path, os.Getenv(killEnv+"_ROUND"), os.Stdout)
		return
	}
	os.Exit(m.Run())
}

// writeUntilKilled sends answers from eight goroutines and prints the key of each
// once it is acknowledged. Each is sent twice, as a browser would after a pause.
func writeUntilKilled(path, round string, out io.Writer) {
	ctx := context.Background()
	fail := func(err error) {
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	s, err := store.Open(ctx, path)
	fail(err)
	l, err := s.LocalLearner(ctx)
	fail(err)
	h, err := s.Hand(ctx, storetest.Problem(l.ID, "k", "tape-current"))
	fail(err)
	var mu sync.Mutex
	for w := range 8 {
		go func() {
			for i := 0; ; i++ {
				key := fmt.Sprintf("%s-%d-%d", round, w, i)
				for range 2 {
					_, err := s.Submit(ctx, store.Submission{Handed: h.ID, Answers: []store.Answer{storetest.Reply(key, "a", key, "right")}})
					fail(err)
				}
				mu.Lock()
				fmt.Fprintln(out, key)
				mu.Unlock()
			}
		}()
	}
	go handUntilKilled(ctx, s, round, fail, func(key string) {
		mu.Lock()
		defer mu.Unlock()
		fmt.Fprintln(out, key)
	})
	select {}
}

// TestKill kills a writing process without warning, 20 times over the same
// database: everything acknowledged is there, once.
func TestKill(t *testing.T) {
	path := filepath.Join(t.TempDir(), "killed.db")
	before := openAt(t, path)
	keepClass(t, before)
	if err := before.Close(); err != nil {
		t.Fatal(err)
	}
	acknowledged := map[string]bool{}
	for round := range 20 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), killEnv+"="+path, fmt.Sprintf("%s_ROUND=%d", killEnv, round))
		var said strings.Builder
		cmd.Stderr = &said
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewReader(out)
		for n := 0; ; n++ {
			if n == 20+13*round { // a different moment each round
				cmd.Process.Kill()
			}
			line, err := lines.ReadString('\n')
			if err != nil { // half a line was not acknowledged in full
				break
			}
			acknowledged[strings.TrimSpace(line)] = true
		}
		cmd.Wait() // its error is the kill
		if said.Len() > 0 {
			t.Fatalf("round %d: the writer failed by itself: %s", round, said.String())
		}
		checkKept(t, path, acknowledged)
		checkDraws(t, path, acknowledged)
	}
	if len(acknowledged) < 20*20 {
		t.Errorf("only %d answers acknowledged in 20 rounds", len(acknowledged))
	}
}

func checkKept(t *testing.T, path string, acknowledged map[string]bool) {
	t.Helper()
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	l, err := s.LocalLearner(ctx)
	if err != nil {
		t.Fatal(err)
	}
	h, err := s.LatestHanded(ctx, l.ID, "tape-current")
	if err != nil {
		t.Fatal(err)
	}
	attempts, err := s.AttemptsOf(ctx, h.ID)
	if err != nil {
		t.Fatal(err)
	}
	kept := map[string]int{}
	for _, a := range attempts {
		kept[a.Key]++
		if a.Text != a.Key {
			t.Errorf("attempt %s has the text %q", a.Key, a.Text)
		}
	}
	for key := range acknowledged {
		if !isDraw(key) && kept[key] != 1 {
			t.Fatalf("acknowledged answer %s is there %d times", key, kept[key])
		}
	}
	for key, n := range kept {
		if n != 1 {
			t.Fatalf("answer %s is there %d times", key, n)
		}
	}
}
