package storetest

import (
	"context"
	"regexp"
	"testing"
	"time"

	"fullyon/web/store"
)

var idForm = regexp.MustCompile(`^[a-z2-7]{26}$`)

func learners(t *testing.T, s store.Store) {
	ctx := context.Background()
	before := time.Now().UTC().Truncate(time.Millisecond)
	l := must(s.LocalLearner(ctx))(t)
	if !idForm.MatchString(l.ID) || l.Name != "" || l.Made.Before(before) || l.Made.Location() != time.UTC {
		t.Errorf("LocalLearner() = %+v, want a random id, no name, made now in UTC", l)
	}
	diff(t, "LocalLearner again", must(s.LocalLearner(ctx))(t), l)

	a := must(s.AddLearner(ctx, "Ada\x00"))(t)
	if a.ID == l.ID || a.Name != "Ada\ufffd" {
		t.Errorf("AddLearner = %+v, want another id and a clean name", a)
	}
	if err := s.NameLearner(ctx, a.ID, "Ada of the bell relay"); err != nil {
		t.Fatal(err)
	}
	a.Name = "Ada of the bell relay"
	diff(t, "Learner", must(s.Learner(ctx, a.ID))(t), a)
	diff(t, "LocalLearner after others", must(s.LocalLearner(ctx))(t), l)

	_, err := s.Learner(ctx, "nobody")
	wantErr(t, "Learner(nobody)", err, store.ErrNotFound)
	wantErr(t, "NameLearner(nobody)", s.NameLearner(ctx, "nobody", "x"), store.ErrNotFound)
}

func hand(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	n := Problem(l, "k1", "tape-current")
	n.Seed = store.MaxSeed
	n.Made = time.Date(2026, 3, 1, 19, 0, 0, 123456789, time.FixedZone("", 3600))
	got := must(s.Hand(ctx, n))(t)
	want := store.Handed{
		ID: got.ID, Learner: l, Key: "k1", Template: "tape-current", Source: "sha256-tape-current", Program: "0.1.0",
		Seed: store.MaxSeed, Kept: n.Kept, Why: n.Why, Made: time.Date(2026, 3, 1, 18, 0, 0, 123e6, time.UTC),
	}
	if !idForm.MatchString(got.ID) {
		t.Errorf("id %q, want 26 of a-z2-7", got.ID)
	}
	diff(t, "Hand", got, want)
	diff(t, "Handed", must(s.Handed(ctx, got.ID))(t), want)
	diff(t, "Source", must(s.Source(ctx, n.Source.Hash))(t), n.Source)

	// The same key: the first draw stays, whatever is offered now.
	again := Problem(l, "k1", "coil-kick")
	diff(t, "Hand with the same key", must(s.Hand(ctx, again))(t), want)
	_, err := s.Source(ctx, again.Source.Hash)
	wantErr(t, "Source of the draw not kept", err, store.ErrNotFound)

	// A source kept before need not be given again.
	n.Key, n.Source.Text = "k2", ""
	second := must(s.Hand(ctx, n))(t)
	if second.ID == got.ID {
		t.Errorf("Hand under a new key returned the old problem")
	}
	// The key is the learner's own.
	other := newProblem(t, s, newLearner(t, s), "k1", "tape-current")
	if other.ID == got.ID {
		t.Errorf("two learners with the same key got one problem")
	}
}

func handRefused(t *testing.T, s store.Store) {
	l := newLearner(t, s)
	newProblem(t, s, l, "kept", "tape-current")
	for _, c := range []struct {
		name   string
		change func(*store.NewHanded)
		want   error
	}{
		{"no key", func(n *store.NewHanded) { n.Key = "" }, store.ErrInvalid},
		{"no hash", func(n *store.NewHanded) { n.Source.Hash = "" }, store.ErrInvalid},
		{"seed of 54 bits", func(n *store.NewHanded) { n.Seed = store.MaxSeed + 1 }, store.ErrInvalid},
		{"kept is not JSON", func(n *store.NewHanded) { n.Kept = []byte("{") }, store.ErrInvalid},
		{"nothing kept", func(n *store.NewHanded) { n.Kept = nil }, store.ErrInvalid},
		{"unknown learner", func(n *store.NewHanded) { n.Learner = "nobody" }, store.ErrNotFound},
		{"source never given", func(n *store.NewHanded) { n.Source = store.Source{Hash: "h", Template: "x"} }, store.ErrNoSource},
		{"hash with another text", func(n *store.NewHanded) { n.Source.Text = "changed" }, store.ErrSource},
		{"source with NUL", func(n *store.NewHanded) { n.Source = store.Source{Hash: "h", Template: "x", Text: "\x00"} }, store.ErrInvalid},
	} {
		n := Problem(l, "new", "tape-current")
		c.change(&n)
		got, err := s.Hand(context.Background(), n)
		wantErr(t, "Hand: "+c.name, err, c.want)
		diff(t, "Hand: "+c.name, got, store.Handed{})
	}
	_, err := s.Handed(context.Background(), "nothing")
	wantErr(t, "Handed(nothing)", err, store.ErrNotFound)
}

func latestHanded(t *testing.T, s store.Store) {
	ctx := context.Background()
	l, other := newLearner(t, s), newLearner(t, s)
	newProblem(t, s, l, "1", "tape-current")
	last := newProblem(t, s, l, "2", "tape-current")
	newProblem(t, s, l, "3", "coil-kick")
	newProblem(t, s, other, "4", "tape-current")
	diff(t, "LatestHanded", must(s.LatestHanded(ctx, l, "tape-current"))(t), last)
	_, err := s.LatestHanded(ctx, other, "coil-kick")
	wantErr(t, "LatestHanded of another learner's template", err, store.ErrNotFound)
}

func pauses(t *testing.T, s store.Store) {
	ctx := context.Background()
	l := newLearner(t, s)
	h1, h2 := newProblem(t, s, l, "1", "stop-heat"), newProblem(t, s, l, "2", "stop-heat")
	meet := func(pause, handed string, minute int) error {
		return s.MeetPause(ctx, store.NewPauseMet{Learner: l, Pause: pause, Handed: handed, Made: at(minute)})
	}
	if got := must(s.PausesMet(ctx, l))(t); len(got) != 0 {
		t.Errorf("PausesMet before any = %v", got)
	}
	for i, m := range []struct {
		pause, handed string
	}{{"stop-heat", h1.ID}, {"stop-heat", h1.ID}, {"stop-heat", h2.ID}, {"before-power", h1.ID}} {
		if err := meet(m.pause, m.handed, i); err != nil {
			t.Fatal(err)
		}
	}
	diff(t, "PausesMet", must(s.PausesMet(ctx, l))(t), []store.PauseMet{
		{Pause: "before-power", Times: 1, Last: at(3)},
		{Pause: "stop-heat", Times: 2, Last: at(2)},
	})
	wantErr(t, "MeetPause without a problem", meet("stop-heat", "nothing", 5), store.ErrNotFound)
	wantErr(t, "MeetPause without an id", meet("", h1.ID, 5), store.ErrInvalid)
	theirs := newProblem(t, s, newLearner(t, s), "1", "stop-heat")
	wantErr(t, "MeetPause with another learner's problem", meet("stop-heat", theirs.ID, 5), store.ErrNotFound)
}

func settings(t *testing.T, s store.Store) {
	ctx := context.Background()
	l, other := newLearner(t, s), newLearner(t, s)
	diff(t, "Settings of a new learner", must(s.Settings(ctx, l))(t), map[string]string{})
	for _, p := range [][2]string{{"theme", "dark"}, {"decimal", ","}, {"theme", "light"}, {"empty", ""}} {
		if err := s.Set(ctx, l, p[0], p[1]); err != nil {
			t.Fatal(err)
		}
	}
	diff(t, "Settings", must(s.Settings(ctx, l))(t), map[string]string{"theme": "light", "decimal": ",", "empty": ""})
	diff(t, "Settings of another", must(s.Settings(ctx, other))(t), map[string]string{})
	wantErr(t, "Set for nobody", s.Set(ctx, "nobody", "theme", "dark"), store.ErrNotFound)
	wantErr(t, "Set without a name", s.Set(ctx, l, "", "dark"), store.ErrInvalid)
}
