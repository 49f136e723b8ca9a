package main

import (
	"encoding/json"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/lessons"
)

// TestKeyTypedBack gives what `draw --key --json` prints back to `mark`: every
// answer is right and every slip is that slip, and what it prints of circuit and
// part reads as a circuit file.
func TestKeyTypedBack(t *testing.T) {
	course, err := lessons.Built()
	if err != nil {
		t.Fatal(err)
	}
	for _, tpl := range course.Templates {
		t.Run(tpl.ID, func(t *testing.T) {
			t.Parallel()
			for _, seed := range []string{"0", "7", "9007199254740991"} {
				typedBack(t, tpl.ID, seed)
			}
		})
	}
}

// key is what is read of the JSON of a draw.
type key struct {
	Part, Circuit string
	Questions     []struct{ ID string }
	Answers       map[string]struct{ Text string }
	Slips         map[string][]struct{ ID, Text string }
}

func typedBack(t *testing.T, id, seed string) {
	t.Helper()
	drawn := fullyon(t, nil, "", "draw", id, "--seed", seed, "--json", "--key")
	if drawn.status != fine {
		t.Fatalf("draw --seed %s: %d %s", seed, drawn.status, drawn.stderr)
	}
	var k key
	if err := json.Unmarshal([]byte(drawn.stdout), &k); err != nil {
		t.Fatal(err)
	}
	if k.Circuit != "" {
		if _, err := engine.ReadCircuit("circuit", []byte(k.Circuit)); err != nil {
			t.Errorf("seed %s: the circuit cannot be read: %v", seed, err)
		}
	}
	if k.Part != "" {
		if _, err := engine.ReadCircuit("part", []byte(k.Part)); err != nil {
			t.Errorf("seed %s: the part cannot be read: %v", seed, err)
		}
	}
	right := []string{"mark", id, "--seed", seed, "--json"}
	for q, a := range k.Answers {
		right = append(right, "--answer", q+"="+a.Text)
	}
	if got := fullyon(t, nil, "", right...); got.status != fine {
		t.Errorf("seed %s: the key typed back: exit status %d, want %d\n%s", seed, got.status, fine, got.stdout)
	}
	for q, slips := range k.Slips {
		for _, s := range slips {
			got := fullyon(t, nil, "", "mark", id, "--seed", seed, "--json", "--answer", q+"="+s.Text)
			var r resultOfJSON
			if err := json.Unmarshal([]byte(got.stdout), &r); err != nil {
				t.Fatal(err)
			}
			if m := r.Questions[q]; got.status != notRight || m.Outcome != "slip" {
				t.Errorf("seed %s: %s=%s: exit status %d, %s %s; want %d, slip %s", seed, q, s.Text, got.status, m.Outcome, m.Slip, notRight, s.ID)
			}
		}
	}
}

// resultOfJSON is what is read of the JSON of a marking.
type resultOfJSON struct {
	Questions map[string]struct{ Outcome, Slip, Because string }
}

// TestHugeAnswer: a megabyte is no answer; it is told so in a few words, and
// nothing breaks. (No command line is that long: the program is run in place.)
func TestHugeAnswer(t *testing.T) {
	for _, text := range []string{strings.Repeat("9", 1<<20), strings.Repeat("mW ", 1<<19)} {
		got := fullyon(t, nil, "", "mark", "warm-footlights", "--seed", "7", "--answer", "heat="+text)
		if got.status != notRight || !strings.Contains(got.stdout, "heat: not readable") || len(got.stdout) > 2000 {
			t.Errorf("exit status %d, want %d, and a short message:\n%.300s", got.status, notRight, got.stdout)
		}
	}
}
