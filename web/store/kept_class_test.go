package store_test

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fullyon/grader/class"
	"fullyon/web/store"
	"fullyon/web/store/storetest"
)

// The class in the kept databases from version 2 on: an instructor, a learner
// with a passphrase, one with a card; a set with a draw, an answer, an allowance,
// an override, a second look and a draft; a session, an invitation, a knock.

var keptExpiry = time.Date(2126, 1, 1, 0, 0, 0, 0, time.UTC)

// keepClass adds the class.
func keepClass(t *testing.T, s store.Store) {
	t.Helper()
	ctx := context.Background()
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := s.InstanceSecret(ctx)
	check(err)
	check(s.Invite(ctx, store.Invitation{Hash: "setup", Role: store.RoleInstructor, Setup: true, Expires: keptExpiry}))
	ines, err := s.Enter(ctx, store.Door{Invitation: "setup"}, store.NewAccount{Name: "Ines", Login: "ines", Passphrase: "$argon2id$kept"})
	check(err)
	c, err := s.AddClass(ctx, "Tuesday workshop", ines.ID)
	check(err)
	check(s.SetJoining(ctx, c.ID, 3, "joining"))
	mo, err := s.Enter(ctx, store.Door{Joining: "joining"}, store.NewAccount{Name: "Mo", Login: "mo", Passphrase: "$argon2id$mo"})
	check(err)
	_, err = s.AddMembers(ctx, c.ID, []store.NewMember{{Name: "Ada", External: "17", Team: "bell relay", Role: store.RoleLearner, Code: "ada-code"}})
	check(err)
	check(s.Invite(ctx, store.Invitation{Hash: "assistant", Class: c.ID, Role: store.RoleAssistant, Expires: keptExpiry}))
	check(s.StartSession(ctx, store.Session{Hash: "session", Account: mo.ID, Made: keptAt(5), Expires: keptExpiry}, ""))
	_, err = s.Knock(ctx, []string{"knock"}, keptAt(6), keptExpiry)
	check(err)

	p, err := s.AddSet(ctx, c.ID, storetest.Rules)
	check(err)
	check(s.ReleaseSet(ctx, p.ID, keptAt(20)))
	h, err := s.HandInSet(ctx, store.SetDraw{Set: p.ID, Learner: mo.Learner, Template: "tape-current", N: 1}, storetest.Problem(mo.Learner, "set", "tape-current"))
	check(err)
	_, err = s.Submit(ctx, store.Submission{Handed: h.ID, Made: keptAt(7), Answers: []store.Answer{storetest.Reply("set/a", "a", "2 A", "right")}})
	check(err)
	check(s.SetAllowance(ctx, p.ID, mo.Learner, class.Allowance{Due: keptAt(30), Attempts: 1}))
	_, err = s.AddOverride(ctx, store.NewOverride{Key: "o", Handed: h.ID, Question: "a", Marks: 2, Reason: "the sketch", Author: ines.ID, Made: keptAt(8)})
	check(err)
	_, err = s.AskLook(ctx, store.NewLook{Key: "l", Learner: mo.Learner, Handed: h.ID, Question: "a", Text: "I meant amperes", Made: keptAt(9)})
	check(err)
	check(s.SaveDraft(ctx, store.Draft{Handed: h.ID, Question: "b", Text: "0,", Made: keptAt(10)}))
}

// everyClass is all that the store tells of the class.
func everyClass(t *testing.T, s store.Store) map[string]any {
	t.Helper()
	ctx := context.Background()
	all := map[string]any{}
	add := func(name string, v any, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[name] = v
	}
	secret, err := s.InstanceSecret(ctx)
	add("secret", secret, err)
	ines, err := s.AccountByLogin(ctx, "ines")
	add("instructor", ines, err)
	mo, err := s.AccountByLogin(ctx, "mo")
	add("learner", mo, err)
	ada, err := s.AccountByCode(ctx, "ada-code")
	add("card", ada, err)
	session, _, err := s.Session(ctx, "session", keptAt(6))
	add("session", session, err)
	leads, err := s.DoorLeads(ctx, store.Door{Invitation: "assistant"}, keptAt(6))
	add("invitation", leads, err)
	joining, err := s.DoorLeads(ctx, store.Door{Joining: "joining"}, keptAt(6))
	add("joining", joining, err)
	c, err := s.Class(ctx, joining.Class)
	add("class", c, err)
	members, err := s.Members(ctx, joining.Class)
	add("members", members, err)
	sets, err := s.SetsOf(ctx, joining.Class)
	add("sets", sets, err)
	attempts, err := s.AttemptsIn(ctx, sets[0].ID)
	add("attempts", attempts, err)
	looks, err := s.LooksIn(ctx, joining.Class, store.LookOpen)
	add("looks", looks, err)
	export, err := s.Export(ctx, mo.Learner)
	add("export", export, err)
	return all
}

func checkClass(t *testing.T, s store.Store) {
	t.Helper()
	all := everyClass(t, s)
	sets := all["sets"].([]store.ProblemSet)
	if len(sets) != 1 || sets[0].Released != keptAt(20) {
		t.Fatalf("sets %+v", sets)
	}
	if d := cmp.Diff(storetest.Rules, sets[0].Rules); d != "" {
		t.Errorf("rules of the set (-want +got)\n%s", d)
	}
	if n := len(all["members"].([]store.Member)); n != 3 {
		t.Errorf("%d members, want 3", n)
	}
	if len(all["secret"].([]byte)) != class.SecretSize || len(all["class"].(store.Class).Secret) != class.SecretSize {
		t.Error("the secrets are not whole")
	}
	e := all["export"].(store.Export)
	want := store.Export{
		Learner: store.Learner{Name: "Mo"}, Login: "mo", Settings: map[string]string{},
		Overrides: []store.Override{{NewOverride: store.NewOverride{Key: "o", Question: "a", Marks: 2, Reason: "the sketch", Made: keptAt(8)}}},
		Looks:     []store.Look{{Question: "a", Text: "I meant amperes", State: store.LookOpen, Made: keptAt(9)}},
		Drafts:    []store.Draft{{Question: "b", Text: "0,", Made: keptAt(10)}},
	}
	random := cmp.Options{
		cmpopts.IgnoreFields(store.Learner{}, "ID", "Made"),
		cmpopts.IgnoreFields(store.Export{}, "Classes", "Handed", "Attempts", "Draws", "Allowances", "Sessions"),
		cmpopts.IgnoreFields(store.Override{}, "ID", "Handed", "Author"),
		cmpopts.IgnoreFields(store.Look{}, "ID", "Class", "Set", "Handed"),
		cmpopts.IgnoreFields(store.Draft{}, "Handed"),
		cmpopts.EquateEmpty(),
	}
	if d := cmp.Diff(want, e, random); d != "" {
		t.Errorf("the kept class (-want +got)\n%s", d)
	}
	if a := all["attempts"].([]store.SetAttempt); len(a) != 1 || a[0].Text != "2 A" || a[0].Made != keptAt(7) {
		t.Errorf("attempts in the set %+v", a)
	}
	if a := e.Allowances[sets[0].ID]; a.Attempts != 1 || a.Due != keptAt(30) {
		t.Errorf("allowance %+v", a)
	}
}

// handUntilKilled hands out draws of a set and keeps drafts in them, and tells
// each once it is acknowledged; see TestKill.
func handUntilKilled(ctx context.Context, s store.Store, round string, fail func(error), tell func(string)) {
	leads, err := s.DoorLeads(ctx, store.Door{Joining: "joining"}, time.Now())
	fail(err)
	sets, err := s.SetsOf(ctx, leads.Class)
	fail(err)
	mo, err := s.AccountByLogin(ctx, "mo")
	fail(err)
	first, err := strconv.Atoi(round)
	fail(err)
	for n := first*100000 + 2; ; n++ {
		key := fmt.Sprint("draw-", n)
		d := store.SetDraw{Set: sets[0].ID, Learner: mo.Learner, Template: "tape-current", N: n}
		h, err := s.HandInSet(ctx, d, storetest.Problem(mo.Learner, key, "tape-current"))
		fail(err)
		fail(s.SaveDraft(ctx, store.Draft{Handed: h.ID, Question: "a", Text: key}))
		tell(key)
	}
}

func isDraw(key string) bool { return strings.HasPrefix(key, "draw-") }

// checkDraws fails unless each draw acknowledged is there with its draft.
func checkDraws(t *testing.T, path string, acknowledged map[string]bool) {
	t.Helper()
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	leads, err := s.DoorLeads(ctx, store.Door{Joining: "joining"}, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	sets, err := s.SetsOf(ctx, leads.Class)
	if err != nil {
		t.Fatal(err)
	}
	drafts, err := s.DraftsIn(ctx, sets[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	kept := map[string]bool{}
	for _, f := range drafts {
		kept[f.Text] = true
	}
	for key := range acknowledged {
		if isDraw(key) && !kept[key] {
			t.Fatalf("the acknowledged %s is gone", key)
		}
	}
}
