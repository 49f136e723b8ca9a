package store_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fullyon/web/store"
)

// A database of each schema version stays in testdata/store. Newer programs
// must open them all and find the same records. With FULLYON_STORE_KEEP=1 the
// test writes the one of the current version, if there is none: a kept database
// is never made again.

func keptFile(version int) string {
	return filepath.Join("..", "..", "testdata", "store", fmt.Sprintf("v%d.db", version))
}

func keptAt(minute int) time.Time { return time.Date(2026, 2, 14, 17, minute, 0, 0, time.UTC) }

// The records in all of them, without their random ids. What came with a later
// version stands in kept_class_test.go.
var (
	keptSource = store.Source{
		Hash: "sha256-9f2c", Template: "footlights-current",
		Text: "---\nid: footlights-current\n---\nThe footlights of Lantern Yard take {{P}} at {{V}}.\n",
	}
	keptHanded = store.Handed{
		Key: "first", Template: keptSource.Template, Source: keptSource.Hash, Program: "0.1.0", Seed: store.MaxSeed,
		Kept: json.RawMessage(`{"values":{"P":"24 W","V":"12 V"},"answers":{"current":{"value":2,"unit":"A"}}}`),
		Why:  "the first problem of lesson 1", Made: keptAt(0),
	}
	keptAttempts = []store.Attempt{
		{
			Question: "current", Key: "f1/current", Number: 1, Try: 1, Text: "0,5 A", Working: "12 / 24", Outcome: "slip",
			Slip: "reciprocal", Result: json.RawMessage(`{"read":"0.5 A"}`), Made: keptAt(1),
		},
		{
			Question: "current", Key: "f2/current", Number: 2, Try: 2, Helped: 1, Text: "2 A", Outcome: "right",
			Marks: 1.6, Result: json.RawMessage(`{"read":"2 A"}`), Made: keptAt(3),
		},
	}
	keptOpened = []store.Opened{
		{Question: "current", What: store.Hint, Number: 1, Made: keptAt(2)},
		{Question: "current", What: store.NotThat, Number: 1, Made: keptAt(2)},
	}
	keptProgress = []store.Progress{{
		Template: keptSource.Template, Handed: 1, Attempts: 2, Questions: 1, Last: keptAt(3),
	}}
	keptPauses   = []store.PauseMet{{Pause: "before-power", Times: 1, Last: keptAt(4)}}
	keptSettings = map[string]string{"decimal": ",", "theme": "dark"}
)

const keptName = "Mo at the follow-spot"

func TestKeptDatabase(t *testing.T) {
	if os.Getenv("FULLYON_STORE_KEEP") == "1" {
		if _, err := os.Stat(keptFile(store.SchemaVersion)); os.IsNotExist(err) {
			keep(t)
		}
	}
	for version := 1; version <= store.SchemaVersion; version++ {
		t.Run(fmt.Sprint("v", version), func(t *testing.T) { openKept(t, version) })
	}
}

func openKept(t *testing.T, version int) {
	content, err := os.ReadFile(keptFile(version))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "copy.db")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	for _, when := range []string{"opened the first time", "opened again"} {
		s, err := store.Open(ctx, path)
		if err != nil {
			t.Fatalf("%s: %v", when, err)
		}
		if v, err := s.Version(ctx); err != nil || v != store.SchemaVersion {
			t.Errorf("%s: schema %d, %v, want %d", when, v, err, store.SchemaVersion)
		}
		checkRecords(t, s)
		if version >= 2 {
			checkClass(t, s)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

func checkRecords(t *testing.T, s store.Store) {
	t.Helper()
	ctx := context.Background()
	l, err := s.LocalLearner(ctx)
	if err != nil {
		t.Fatal(err)
	}
	h, err := s.LatestHanded(ctx, l.ID, keptSource.Template)
	if err != nil {
		t.Fatal(err)
	}
	got, errs := map[string]any{"name": l.Name}, map[string]error{}
	keepErr := func(name string, v any, err error) { got[name], errs[name] = v, err }
	w, err := s.Work(ctx, h.ID)
	keepErr("work", w, err)
	source, err := s.Source(ctx, h.Source)
	keepErr("source", source, err)
	progress, err := s.Progress(ctx, l.ID)
	keepErr("progress", progress, err)
	pauses, err := s.PausesMet(ctx, l.ID)
	keepErr("pauses", pauses, err)
	settings, err := s.Settings(ctx, l.ID)
	keepErr("settings", settings, err)
	for name, err := range errs {
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	want := map[string]any{
		"name": keptName, "work": store.Work{Handed: keptHanded, Attempts: keptAttempts, Opened: keptOpened},
		"source": keptSource, "progress": keptProgress, "pauses": keptPauses, "settings": keptSettings,
	}
	random := cmp.Options{
		cmpopts.IgnoreFields(store.Handed{}, "ID", "Learner"),
		cmpopts.IgnoreFields(store.Attempt{}, "ID", "Handed"),
		cmpopts.IgnoreFields(store.Opened{}, "ID", "Handed"),
	}
	if d := cmp.Diff(want, got, random); d != "" {
		t.Errorf("records of the kept database (-want +got)\n%s", d)
	}
	past, err := s.History(ctx, l.ID, store.Page{})
	if err != nil || len(past) != 2 || !past[0].Withdrawn || past[0].Template != keptSource.Template {
		t.Errorf("history = %+v, %v, want two attempts, the first withdrawn", past, err)
	}
}

// keep writes the kept database of the current schema.
func keep(t *testing.T) {
	t.Helper()
	ctx := context.Background()
	s := openAt(t, filepath.Join(t.TempDir(), "keep.db"))
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	l, err := s.LocalLearner(ctx)
	check(err)
	check(s.NameLearner(ctx, l.ID, keptName))
	h, err := s.Hand(ctx, store.NewHanded{
		Learner: l.ID, Key: keptHanded.Key, Source: keptSource, Program: keptHanded.Program, Seed: keptHanded.Seed,
		Kept: keptHanded.Kept, Why: keptHanded.Why, Made: keptHanded.Made,
	})
	check(err)
	for i, a := range keptAttempts {
		_, err := s.Submit(ctx, store.Submission{Handed: h.ID, Made: a.Made, Answers: []store.Answer{{
			Key: a.Key, Question: a.Question, Text: a.Text, Working: a.Working, Outcome: a.Outcome, Slip: a.Slip,
			Marks: a.Marks, Try: a.Try, Result: a.Result,
		}}})
		check(err)
		if i > 0 {
			continue
		}
		for _, o := range keptOpened {
			_, err := s.AddOpened(ctx, store.NewOpened{Handed: h.ID, Question: o.Question, What: o.What, Number: o.Number, Made: o.Made})
			check(err)
		}
	}
	check(s.MeetPause(ctx, store.NewPauseMet{Learner: l.ID, Pause: keptPauses[0].Pause, Handed: h.ID, Made: keptPauses[0].Last}))
	for name, value := range keptSettings {
		check(s.Set(ctx, l.ID, name, value))
	}
	keepClass(t, s)
	check(s.Backup(ctx, keptFile(store.SchemaVersion)))
}
