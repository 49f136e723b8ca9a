package storetest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"fullyon/grader/class"
	"fullyon/web/store"
)

// Rules are those of a problem set, for tests.
var Rules = class.Set{
	Title: "Week 3 “Ω”", Purpose: class.Counts, Templates: []string{"tape-current", "coil-kick"}, PerTemplate: 2,
	Opens: at(0), Due: at(50), Late: 0.1, Attempts: 3, Hints: true, Follow: true, AnswersAt: class.AfterDue,
}

func members(t *testing.T, s store.Store) {
	ctx := context.Background()
	_, c := setUp(t, s)
	got := must(s.AddMembers(ctx, c.ID, []store.NewMember{
		{Name: "Ada", External: "17", Team: "bell relay", Role: store.RoleLearner, Code: "c1"},
		{Name: "Ada", Role: store.RoleLearner, Code: "c2"},
		{Name: "Tobin", Role: store.RoleAssistant, Code: "c3"},
	}))(t)
	if len(got) != 3 || got[0].Account == got[1].Account || !got[0].Card || got[0].Passphrase || got[2].Role != store.RoleAssistant {
		t.Fatalf("AddMembers = %+v", got)
	}
	if all := must(s.Members(ctx, c.ID))(t); len(all) != 4 {
		t.Errorf("%d members, want 4", len(all))
	}
	again := must(s.AddMembers(ctx, c.ID, []store.NewMember{{Name: "Ada L.", External: "17", Team: "fan", Role: store.RoleLearner, Code: "c9"}}))(t)
	if again[0].Account != got[0].Account || again[0].Name != "Ada L." || again[0].Team != "fan" {
		t.Errorf("the same person again: %+v, want %s renamed", again[0], got[0].Account)
	}
	_, err := s.AccountByCode(ctx, "c9")
	wantErr(t, "a code for one who has a card", err, store.ErrNotFound)
	_, err = s.AddMembers(ctx, c.ID, []store.NewMember{{Name: "New", Role: store.RoleLearner, Code: "c10"}, {Name: "Bad", Role: "queen", Code: "c11"}})
	wantErr(t, "AddMembers with an unknown role", err, store.ErrInvalid)
	_, err = s.AccountByCode(ctx, "c10")
	wantErr(t, "all or none", err, store.ErrNotFound)
	if err := s.SetRole(ctx, c.ID, got[1].Account, store.RoleLearner, false); err != nil {
		t.Fatal(err)
	}
	if m := must(s.Member(ctx, c.ID, got[1].Account))(t); m.Active {
		t.Error("who was removed still belongs")
	}
	wantErr(t, "SetRole(nobody)", s.SetRole(ctx, c.ID, "nobody", store.RoleLearner, true), store.ErrNotFound)
	if err := s.RenameClass(ctx, c.ID, "Wednesday"); err != nil {
		t.Fatal(err)
	}
	wantErr(t, "RenameClass(nothing)", s.RenameClass(ctx, "nothing", "x"), store.ErrNotFound)
	diff(t, "title", must(s.Class(ctx, c.ID))(t).Title, "Wednesday")
}

func sets(t *testing.T, s store.Store) {
	ctx := context.Background()
	_, c := setUp(t, s)
	mo := joined(t, s, "Mo")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	want := store.ProblemSet{ID: p.ID, Class: c.ID, Rules: Rules, Revision: 1, Made: p.Made}
	diff(t, "AddSet", p, want)
	diff(t, "SetsOf", must(s.SetsOf(ctx, c.ID))(t), []store.ProblemSet{want})
	changed := Rules
	changed.Due = at(55).In(time.FixedZone("", 3600))
	p = must(s.ChangeSet(ctx, p.ID, 1, changed))(t)
	if p.Revision != 2 || p.Rules.Due != at(55) {
		t.Errorf("ChangeSet = revision %d, due %v", p.Revision, p.Rules.Due)
	}
	_, err := s.ChangeSet(ctx, p.ID, 1, Rules)
	wantErr(t, "ChangeSet of an old revision", err, store.ErrStale)
	_, err = s.ChangeSet(ctx, "nothing", 1, Rules)
	wantErr(t, "ChangeSet(nothing)", err, store.ErrNotFound)
	if err := s.ReleaseSet(ctx, p.ID, at(9)); err != nil {
		t.Fatal(err)
	}
	diff(t, "released", must(s.ProblemSet(ctx, p.ID))(t).Released, at(9))

	a := class.Allowance{Due: at(59), Attempts: 2, NoDelay: true, Excused: []string{"coil-kick"}}
	diff(t, "no allowance", must(s.Allowance(ctx, p.ID, mo.Learner))(t), class.Allowance{})
	if err := s.SetAllowance(ctx, p.ID, mo.Learner, a); err != nil {
		t.Fatal(err)
	}
	diff(t, "Allowance", must(s.Allowance(ctx, p.ID, mo.Learner))(t), a)
	diff(t, "Allowances", must(s.Allowances(ctx, p.ID))(t), map[string]class.Allowance{mo.Learner: a})
	wantErr(t, "SetAllowance for a stranger", s.SetAllowance(ctx, p.ID, newLearner(t, s), a), store.ErrNotFound)
}

// handedIn hands the n-th draw of a template to a learner in a set.
func handedIn(s store.Store, set, learner, template string, n int) (store.Handed, error) {
	return s.HandInSet(context.Background(), store.SetDraw{Set: set, Learner: learner, Template: template, N: n},
		Problem(learner, fmt.Sprintf("set/%s/%s/%d", set, template, n), template))
}

func draws(t *testing.T, s store.Store) {
	ctx := context.Background()
	_, c := setUp(t, s)
	mo, ada := joined(t, s, "Mo"), joined(t, s, "Ada")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	first := must(handedIn(s, p.ID, mo.Learner, "tape-current", 1))(t)
	diff(t, "HandInSet again", must(handedIn(s, p.ID, mo.Learner, "tape-current", 1))(t), first)
	second := must(handedIn(s, p.ID, mo.Learner, "tape-current", 2))(t)
	other := must(handedIn(s, p.ID, ada.Learner, "tape-current", 1))(t)
	want := store.SetDraw{Set: p.ID, Learner: mo.Learner, Template: "tape-current", N: 1, Handed: first.ID}
	diff(t, "SetDrawOf", must(s.SetDrawOf(ctx, first.ID))(t), want)
	if got := must(s.DrawsOf(ctx, p.ID, mo.Learner))(t); len(got) != 2 || got[1].Handed != second.ID {
		t.Errorf("DrawsOf = %+v", got)
	}
	if got := must(s.DrawsIn(ctx, p.ID))(t); len(got) != 3 {
		t.Errorf("DrawsIn = %+v", got)
	}
	loose := newProblem(t, s, mo.Learner, "loose", "tape-current")
	_, err := s.SetDrawOf(ctx, loose.ID)
	wantErr(t, "SetDrawOf of none", err, store.ErrNotFound)
	_, err = handedIn(s, p.ID, newLearner(t, s), "tape-current", 1)
	wantErr(t, "HandInSet to a stranger", err, store.ErrNotFound)
	_, err = handedIn(s, p.ID, mo.Learner, "tape-current", 0)
	wantErr(t, "HandInSet of draw 0", err, store.ErrInvalid)
	_, err = s.HandInSet(ctx, store.SetDraw{Set: p.ID, Learner: mo.Learner, Template: "tape-current", N: 3}, Problem(mo.Learner, first.Key, "tape-current"))
	wantErr(t, "HandInSet under the key of another draw", err, store.ErrKeyReused)

	send(t, s, first.ID, 1, Reply("k1", "a", "2 A", "wrong"))
	send(t, s, other.ID, 2, Reply("k2", "a", "3 A", "right"))
	send(t, s, loose.ID, 3, Reply("k3", "a", "4 A", "right"))
	got := must(s.AttemptsIn(ctx, p.ID))(t)
	if len(got) != 2 || got[0].SetDraw != want || got[0].Text != "2 A" || got[1].Learner != ada.Learner || got[1].Marks != 2.5 || got[1].Made != at(2) {
		t.Errorf("AttemptsIn = %+v", got)
	}
}

func overrides(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, c := setUp(t, s)
	mo := joined(t, s, "Mo")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	h := must(handedIn(s, p.ID, mo.Learner, "tape-current", 1))(t)
	n := store.NewOverride{Key: "k", Handed: h.ID, Question: "a", Marks: 1.5, Reason: "the sketch was right", Author: ines.ID, Made: at(3)}
	o := must(s.AddOverride(ctx, n))(t)
	diff(t, "AddOverride", o.NewOverride, n)
	again := n
	again.Marks = 0
	diff(t, "the same key again", must(s.AddOverride(ctx, again))(t), o)
	n.Key, n.Marks = "k2", 2
	second := must(s.AddOverride(ctx, n))(t)
	diff(t, "OverridesOf", must(s.OverridesOf(ctx, h.ID))(t), []store.Override{o, second})
	diff(t, "OverridesIn", must(s.OverridesIn(ctx, p.ID))(t), []store.Override{o, second})
	n.Question = "b"
	_, err := s.AddOverride(ctx, n)
	wantErr(t, "a key of another question", err, store.ErrKeyReused)
	n.Key, n.Reason = "k3", ""
	_, err = s.AddOverride(ctx, n)
	wantErr(t, "without a reason", err, store.ErrInvalid)
	n.Handed, n.Reason = "nothing", "x"
	_, err = s.AddOverride(ctx, n)
	wantErr(t, "of nothing", err, store.ErrNotFound)
}

func looks(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, c := setUp(t, s)
	mo, ada := joined(t, s, "Mo"), joined(t, s, "Ada")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	h := must(handedIn(s, p.ID, mo.Learner, "tape-current", 1))(t)
	n := store.NewLook{Key: "k", Learner: mo.Learner, Handed: h.ID, Question: "a", Text: "I meant 2 A", Made: at(1)}
	l := must(s.AskLook(ctx, n))(t)
	want := store.Look{ID: l.ID, Class: c.ID, Set: p.ID, Handed: h.ID, Question: "a", Text: "I meant 2 A", State: store.LookOpen, Made: at(1)}
	diff(t, "AskLook", l, want)
	diff(t, "AskLook again", must(s.AskLook(ctx, n))(t), want)
	diff(t, "LooksIn", must(s.LooksIn(ctx, c.ID, store.LookOpen))(t), []store.Look{want})
	n.Key, n.Learner = "k2", ada.Learner
	_, err := s.AskLook(ctx, n)
	wantErr(t, "AskLook at another's work", err, store.ErrNotFound)
	loose := newProblem(t, s, mo.Learner, "loose", "tape-current")
	_, err = s.AskLook(ctx, store.NewLook{Key: "k3", Learner: mo.Learner, Handed: loose.ID, Question: "a", Text: "x"})
	wantErr(t, "AskLook at a problem of no set", err, store.ErrNotFound)
	want.State, want.Reply, want.Author, want.Answered = store.LookKept, "2 A is the load's", ines.ID, at(5)
	answer := store.LookAnswer{State: store.LookKept, Reply: want.Reply, Author: ines.ID, Made: at(5)}
	diff(t, "AnswerLook", must(s.AnswerLook(ctx, l.ID, store.LookOpen, answer))(t), want)
	_, err = s.AnswerLook(ctx, l.ID, store.LookOpen, answer)
	wantErr(t, "AnswerLook by a second marker", err, store.ErrStale)
	diff(t, "LooksOf", must(s.LooksOf(ctx, h.ID))(t), []store.Look{want})
	if open := must(s.LooksIn(ctx, c.ID, store.LookOpen))(t); len(open) != 0 {
		t.Errorf("still open: %v", open)
	}
}

func drafts(t *testing.T, s store.Store) {
	ctx := context.Background()
	_, c := setUp(t, s)
	mo := joined(t, s, "Mo")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	h := must(handedIn(s, p.ID, mo.Learner, "tape-current", 1))(t)
	for i, text := range []string{"1", "1,", "1,2 A\x00"} {
		if err := s.SaveDraft(ctx, store.Draft{Handed: h.ID, Question: "a", Text: text, Working: "V / R", Made: at(i)}); err != nil {
			t.Fatal(err)
		}
	}
	want := []store.Draft{{Handed: h.ID, Question: "a", Text: "1,2 A\ufffd", Working: "V / R", Made: at(2)}}
	diff(t, "DraftsOf", must(s.DraftsOf(ctx, h.ID))(t), want)
	diff(t, "DraftsIn", must(s.DraftsIn(ctx, p.ID))(t), want)
	wantErr(t, "SaveDraft of nothing", s.SaveDraft(ctx, store.Draft{Handed: "nothing", Question: "a"}), store.ErrNotFound)
}

// privacy: what one learner exports is theirs, what they delete is gone, and when
// a class ends its names go and its marks stay.
func privacy(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, c := setUp(t, s)
	mo, ada := joined(t, s, "Mo"), joined(t, s, "Ada")
	p := must(s.AddSet(ctx, c.ID, Rules))(t)
	work := map[string]store.Handed{}
	for _, a := range []store.Account{mo, ada} {
		h := must(handedIn(s, p.ID, a.Learner, "tape-current", 1))(t)
		work[a.ID] = h
		send(t, s, h.ID, 1, Reply("k"+a.Name, "a", "2 A", "right"))
		if _, err := s.AskLook(ctx, store.NewLook{Key: a.ID, Learner: a.Learner, Handed: h.ID, Question: "a", Text: "by " + a.Name}); err != nil {
			t.Fatal(err)
		}
		if err := s.SaveDraft(ctx, store.Draft{Handed: h.ID, Question: "a", Text: "by " + a.Name}); err != nil {
			t.Fatal(err)
		}
		if _, err := s.AddOverride(ctx, store.NewOverride{Key: "o" + a.ID, Handed: h.ID, Question: "a", Marks: 1, Reason: "by " + a.Name, Author: ines.ID}); err != nil {
			t.Fatal(err)
		}
		if err := s.SetAllowance(ctx, p.ID, a.Learner, class.Allowance{Attempts: 1}); err != nil {
			t.Fatal(err)
		}
		if err := s.StartSession(ctx, store.Session{Hash: "s" + a.ID, Account: a.ID, Made: at(0), Expires: at(30)}, ""); err != nil {
			t.Fatal(err)
		}
	}
	e := must(s.Export(ctx, mo.Learner))(t)
	if e.Learner.Name != "Mo" || e.Login != "in-Mo" || len(e.Classes) != 1 || len(e.Handed) != 1 || len(e.Attempts) != 1 ||
		len(e.Draws) != 1 || len(e.Overrides) != 1 || len(e.Looks) != 1 || len(e.Drafts) != 1 || len(e.Allowances) != 1 ||
		len(e.Sessions) != 1 || e.Sessions[0].Hash != "" {
		t.Errorf("Export = %+v", e)
	}
	if e.Looks[0].Text != "by Mo" || e.Attempts[0].Handed != work[mo.ID].ID {
		t.Errorf("the export has somebody else's: %+v", e)
	}
	_, err := s.Export(ctx, "nobody")
	wantErr(t, "Export(nobody)", err, store.ErrNotFound)

	if err := s.DeleteLearner(ctx, mo.Learner); err != nil {
		t.Fatal(err)
	}
	_, err = s.Export(ctx, mo.Learner)
	wantErr(t, "Export of one deleted", err, store.ErrNotFound)
	_, err = s.Handed(ctx, work[mo.ID].ID)
	wantErr(t, "work of one deleted", err, store.ErrNotFound)
	_, err = s.AccountByLogin(ctx, "in-Mo")
	wantErr(t, "sign-in of one deleted", err, store.ErrNotFound)
	wantErr(t, "DeleteLearner again", s.DeleteLearner(ctx, mo.Learner), store.ErrNotFound)
	if left := must(s.Members(ctx, c.ID))(t); len(left) != 2 {
		t.Errorf("members left: %+v", left)
	}

	both := joined(t, s, "Both") // is in a second class, so the name stays
	friday := must(s.AddClass(ctx, "Friday", ines.ID))(t)
	if err := s.SetJoining(ctx, friday.ID, 1, "other"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.EnterAs(ctx, store.Door{Joining: "other"}, both.ID, time.Now()); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := s.EndClass(ctx, c.ID, at(58)); err != nil {
			t.Fatal(err)
		}
	}
	wantErr(t, "EndClass(nothing)", s.EndClass(ctx, "nothing", at(1)), store.ErrNotFound)
	for _, m := range must(s.Members(ctx, c.ID))(t) {
		if m.Name != "" || m.Team != "" || m.Ended != at(58) {
			t.Errorf("a member of an ended class is %+v", m)
		}
	}
	if l := must(s.Learner(ctx, ada.Learner))(t); l.Name != "" {
		t.Errorf("the name %q stays", l.Name)
	}
	if l := must(s.Learner(ctx, both.Learner))(t); l.Name != "Both" {
		t.Errorf("who is in another class is now called %q", l.Name)
	}
	if _, _, err := s.Session(ctx, "s"+ada.ID, at(1)); err == nil {
		t.Error("a session outlives the class")
	}
	if got := must(s.AttemptsIn(ctx, p.ID))(t); len(got) != 1 || got[0].Text != "2 A" {
		t.Errorf("attempts after the end: %+v", got)
	}
	if o := must(s.OverridesIn(ctx, p.ID))(t); len(o) != 1 || o[0].Marks != 1 || o[0].Reason != "" {
		t.Errorf("overrides after the end: %+v", o)
	}
	if l := must(s.LooksOf(ctx, work[ada.ID].ID))(t); l[0].Text != "" {
		t.Errorf("second looks after the end: %+v", l)
	}
	if f := must(s.DraftsIn(ctx, p.ID))(t); len(f) != 0 {
		t.Errorf("drafts after the end: %+v", f)
	}
	_, err = s.Enter(ctx, store.Door{Joining: "word"}, store.NewAccount{Name: "Late", Login: "late", Passphrase: "$"})
	wantErr(t, "joining an ended class", err, store.ErrDoor)
	_, err = handedIn(s, p.ID, both.Learner, "tape-current", 1)
	wantErr(t, "HandInSet in an ended class", err, store.ErrEnded)
	_, err = s.AddSet(ctx, c.ID, Rules)
	wantErr(t, "AddSet in an ended class", err, store.ErrEnded)
	_, err = s.AddMembers(ctx, c.ID, nil)
	wantErr(t, "AddMembers in an ended class", err, store.ErrEnded)
	wantErr(t, "SetRole in an ended class", s.SetRole(ctx, c.ID, both.ID, store.RoleAssistant, true), store.ErrEnded)
}
