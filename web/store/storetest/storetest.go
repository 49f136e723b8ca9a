// Package storetest is the contract of store.Store as tests. Each kind of
// database runs all of it against fresh, empty stores.
package storetest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fullyon/web/store"
)

// Run runs the contract. open returns an empty store that closes with the test.
func Run(t *testing.T, open func(t *testing.T) store.Store) {
	for _, c := range []struct {
		name string
		test func(*testing.T, store.Store)
	}{
		{"learners", learners},
		{"hand", hand},
		{"hand refused", handRefused},
		{"latest handed", latestHanded},
		{"submit", submit},
		{"submit again: the first text wins", submitAgain},
		{"submit after a stale state", submitStale},
		{"submit all or none", submitAllOrNone},
		{"submit refused", submitRefused},
		{"text of any kind", anyText},
		{"opened", opened},
		{"work", work},
		{"history", history},
		{"progress", progress},
		{"pauses", pauses},
		{"settings", settings},
		{"ended context", endedContext},
		{"many at once", manyAtOnce},
		{"random sequences", randomSequences},
		{"instance secret", instanceSecret},
		{"doors", doors},
		{"one invitation, many hands", doorRace},
		{"accounts", accounts},
		{"sessions", sessions},
		{"knocks", knocks},
		{"members", members},
		{"random rosters", randomMembers},
		{"problem sets", sets},
		{"draws", draws},
		{"overrides", overrides},
		{"second looks", looks},
		{"drafts", drafts},
		{"privacy", privacy},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, open(t)) })
	}
	t.Run("closed", func(t *testing.T) { closed(t, open(t)) })
}

// at is a fixed moment, n minutes later.
func at(n int) time.Time { return time.Date(2026, 3, 1, 18, n, 0, 0, time.UTC) }

// must returns v or ends the test.
func must[T any](v T, err error) func(t testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func wantErr(t testing.TB, call string, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("%s: error %v, want %v", call, err, want)
	}
}

func diff(t testing.TB, call string, got, want any) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%s: (-want +got)\n%s", call, d)
	}
}

// Problem is a problem to hand out, for tests.
func Problem(learner, key, template string) store.NewHanded {
	return store.NewHanded{
		Learner: learner, Key: key, Program: "0.1.0", Seed: 42,
		Source: store.Source{Hash: "sha256-" + template, Template: template, Text: "---\nid: " + template + "\n---\nThe footlights draw {{I}}.\n"},
		Kept:   json.RawMessage(`{"values":{"V":"12 V"}}`), Why: "first problem of this lesson", Made: at(0),
	}
}

// Reply is a marked answer, for tests.
func Reply(key, question, text, outcome string) store.Answer {
	a := store.Answer{
		Key: key, Question: question, Text: text, Outcome: outcome, Try: 1,
		Result: json.RawMessage(fmt.Sprintf(`{"outcome":%q}`, outcome)),
	}
	if outcome == "right" {
		a.Marks = 2.5
	}
	return a
}

func newLearner(t testing.TB, s store.Store) string {
	t.Helper()
	return must(s.AddLearner(context.Background(), "Ada"))(t).ID
}

func newProblem(t testing.TB, s store.Store, learner, key, template string) store.Handed {
	t.Helper()
	return must(s.Hand(context.Background(), Problem(learner, key, template)))(t)
}

func send(t testing.TB, s store.Store, handed string, minute int, answers ...store.Answer) []store.Attempt {
	t.Helper()
	return must(s.Submit(context.Background(), store.Submission{Handed: handed, Answers: answers, Made: at(minute)}))(t)
}
