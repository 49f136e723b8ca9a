package storetest

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fullyon/grader/class"
	"fullyon/web/store"
)

// far is later than anything that a test does.
func far() time.Time { return time.Now().Add(time.Hour) }

// setUp makes the first instructor and a class that can be joined with "word".
func setUp(t testing.TB, s store.Store) (store.Account, store.Class) {
	t.Helper()
	ctx := context.Background()
	if err := s.Invite(ctx, store.Invitation{Hash: "first", Role: store.RoleInstructor, Setup: true, Expires: far()}); err != nil {
		t.Fatal(err)
	}
	a := must(s.Enter(ctx, store.Door{Invitation: "first"}, store.NewAccount{Name: "Ines", Login: "ines", Passphrase: "$hash"}))(t)
	c := must(s.AddClass(ctx, "Tuesday workshop", a.ID))(t)
	if err := s.SetJoining(ctx, c.ID, 1, "word"); err != nil {
		t.Fatal(err)
	}
	return a, must(s.Class(ctx, c.ID))(t)
}

func joined(t testing.TB, s store.Store, name string) store.Account {
	t.Helper()
	return must(s.Enter(context.Background(), store.Door{Joining: "word"}, store.NewAccount{Name: name, Login: "in-" + name, Passphrase: "$" + name}))(t)
}

func instanceSecret(t *testing.T, s store.Store) {
	ctx := context.Background()
	secrets := make([]string, 8)
	var wg sync.WaitGroup
	for i := range secrets {
		wg.Go(func() {
			b, err := s.InstanceSecret(ctx)
			if err != nil {
				t.Error(err)
			}
			secrets[i] = string(b)
		})
	}
	wg.Wait()
	for _, b := range secrets {
		if len(b) != class.SecretSize || b != secrets[0] {
			t.Errorf("secrets of %d and %d bytes, want one of %d for all", len(b), len(secrets[0]), class.SecretSize)
		}
	}
}

func doors(t *testing.T, s store.Store) {
	ctx := context.Background()
	if yes := must(s.HasInstructor(ctx))(t); yes {
		t.Error("an empty store has an instructor")
	}
	for _, hash := range []string{"a", "b"} { // two servers that start at once print two links
		if err := s.Invite(ctx, store.Invitation{Hash: hash, Role: store.RoleInstructor, Setup: true, Expires: far()}); err != nil {
			t.Fatal(err)
		}
	}
	diff(t, "DoorLeads(setup)", must(s.DoorLeads(ctx, store.Door{Invitation: "a"}, time.Now()))(t), store.Leads{Role: store.RoleInstructor, Setup: true})
	_, err := s.DoorLeads(ctx, store.Door{Invitation: "a"}, far())
	wantErr(t, "DoorLeads after its end", err, store.ErrDoor)

	first := must(s.Enter(ctx, store.Door{Invitation: "a"}, store.NewAccount{Name: "Ines", Login: "ines", Passphrase: "$1"}))(t)
	if !first.Instructor || !first.Active || !must(s.HasInstructor(ctx))(t) {
		t.Errorf("the first account is %+v, want an active instructor", first)
	}
	for _, hash := range []string{"a", "b", "never", ""} {
		_, err := s.Enter(ctx, store.Door{Invitation: hash}, store.NewAccount{Name: "x", Login: "x" + hash, Passphrase: "$"})
		wantErr(t, "Enter through "+hash, err, store.ErrDoor)
	}

	c := must(s.AddClass(ctx, "Tuesday", first.ID))(t)
	if len(c.Secret) != class.SecretSize || c.Joining {
		t.Errorf("new class %+v, want a secret and no joining word", c)
	}
	if other := must(s.AddClass(ctx, "Friday", first.ID))(t); string(other.Secret) == string(c.Secret) {
		t.Error("two classes share a secret")
	} else {
		if err := s.SetJoining(ctx, c.ID, 1, "word"); err != nil {
			t.Fatal(err)
		}
		wantErr(t, "SetJoining with another class's word", s.SetJoining(ctx, other.ID, 1, "word"), store.ErrTaken)
	}
	mo := joined(t, s, "Mo")
	if mo.Instructor {
		t.Error("who joined with a word is an instructor")
	}
	_, err = s.Enter(ctx, store.Door{Joining: "word"}, store.NewAccount{Name: "Mo", Login: "in-Mo", Passphrase: "$"})
	wantErr(t, "Enter with a taken sign-in name", err, store.ErrTaken)
	_, err = s.Enter(ctx, store.Door{Joining: "word"}, store.NewAccount{Name: "Mo"})
	wantErr(t, "Enter without a way to sign in", err, store.ErrInvalid)
	if err := s.SetJoining(ctx, c.ID, 2, ""); err != nil {
		t.Fatal(err)
	}
	_, err = s.Enter(ctx, store.Door{Joining: "word"}, store.NewAccount{Name: "Late", Login: "late", Passphrase: "$"})
	wantErr(t, "Enter with a word taken back", err, store.ErrDoor)

	if err := s.Invite(ctx, store.Invitation{Hash: "help", Class: c.ID, Role: store.RoleAssistant, Expires: far()}); err != nil {
		t.Fatal(err)
	}
	leads := must(s.EnterAs(ctx, store.Door{Invitation: "help"}, mo.ID, time.Now()))(t)
	diff(t, "EnterAs", leads, store.Leads{Class: c.ID, Title: "Tuesday", Role: store.RoleAssistant})
	if m := must(s.Member(ctx, c.ID, mo.ID))(t); m.Role != store.RoleLearner {
		t.Errorf("a member who took an invitation is now %s, want the role to stay", m.Role)
	}
	_, err = s.EnterAs(ctx, store.Door{Invitation: "help"}, mo.ID, time.Now())
	wantErr(t, "EnterAs a second time", err, store.ErrDoor)
	wantErr(t, "Invite an assistant to no class", s.Invite(ctx, store.Invitation{Hash: "z", Role: store.RoleAssistant, Expires: far()}), store.ErrInvalid)
}

// One invitation, many hands: one gets in.
func doorRace(t *testing.T, s store.Store) {
	ctx := context.Background()
	if err := s.Invite(ctx, store.Invitation{Hash: "one", Role: store.RoleInstructor, Setup: true, Expires: far()}); err != nil {
		t.Fatal(err)
	}
	in := make(chan string, 10)
	var wg sync.WaitGroup
	for i := range 10 {
		wg.Go(func() {
			a, err := s.Enter(ctx, store.Door{Invitation: "one"}, store.NewAccount{Name: "x", Login: fmt.Sprint("x", i), Passphrase: "$"})
			if err == nil {
				in <- a.ID
			} else {
				wantErr(t, "Enter", err, store.ErrDoor)
			}
		})
	}
	wg.Wait()
	if len(in) != 1 {
		t.Errorf("%d came in through one invitation", len(in))
	}
}

func accounts(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, c := setUp(t, s)
	mo := joined(t, s, "Mo")
	diff(t, "Account", must(s.Account(ctx, mo.ID))(t), mo)
	diff(t, "AccountOf", must(s.AccountOf(ctx, mo.Learner))(t), mo)
	diff(t, "AccountByLogin", must(s.AccountByLogin(ctx, "in-Mo"))(t), mo)
	for _, login := range []string{"in-mo", "nobody", ""} {
		_, err := s.AccountByLogin(ctx, login)
		wantErr(t, "AccountByLogin "+login, err, store.ErrNotFound)
	}

	start := func(hash string) {
		t.Helper()
		if err := s.StartSession(ctx, store.Session{Hash: hash, Account: mo.ID, Made: at(0), Expires: at(30)}, ""); err != nil {
			t.Fatal(err)
		}
	}
	alive := func(hash string) bool {
		_, _, err := s.Session(ctx, hash, at(1))
		return err == nil
	}
	start("s1")
	if err := s.SetCode(ctx, mo.ID, "code"); err != nil {
		t.Fatal(err)
	}
	if got := must(s.AccountByCode(ctx, "code"))(t); got.Passphrase != "" || !got.Card || alive("s1") {
		t.Errorf("after a new card: %+v, session alive %v; want no passphrase and no session", got, alive("s1"))
	}
	start("s2")
	if err := s.SetSignIn(ctx, mo.ID, "mo the second", "$2"); err != nil {
		t.Fatal(err)
	}
	if alive("s2") {
		t.Error("a session outlives the passphrase")
	}
	wantErr(t, "SetSignIn to a taken name", s.SetSignIn(ctx, mo.ID, "ines", "$2"), store.ErrTaken)
	start("s3")
	if err := s.SetActive(ctx, mo.ID, false); err != nil {
		t.Fatal(err)
	}
	if alive("s3") {
		t.Error("who is shut out is still signed in")
	}
	wantErr(t, "StartSession of one shut out", s.StartSession(ctx, store.Session{Hash: "s4", Account: mo.ID, Expires: at(9)}, ""), store.ErrNotFound)
	wantErr(t, "SetActive(last instructor)", s.SetActive(ctx, ines.ID, false), store.ErrLast)
	wantErr(t, "DeleteLearner(last instructor)", s.DeleteLearner(ctx, ines.Learner), store.ErrLast)
	diff(t, "ClassesOf", must(s.ClassesOf(ctx, ines.ID))(t)[0].Role, store.RoleInstructor)
	_, err := s.Member(ctx, c.ID, "nobody")
	wantErr(t, "Member(nobody)", err, store.ErrNotFound)
}

func sessions(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, _ := setUp(t, s)
	add := func(hash, instead string) {
		t.Helper()
		if err := s.StartSession(ctx, store.Session{Hash: hash, Account: ines.ID, Made: at(0), Expires: at(30)}, instead); err != nil {
			t.Fatal(err)
		}
	}
	add("a", "")
	got, account, err := s.Session(ctx, "a", at(29))
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "Session", got, store.Session{Hash: "a", Account: ines.ID, Made: at(0), Seen: at(0), Expires: at(30)})
	diff(t, "account of a session", account, ines)
	if err := s.TouchSession(ctx, "a", at(5)); err != nil {
		t.Fatal(err)
	}
	if got, _, _ := s.Session(ctx, "a", at(29)); got.Seen != at(5) {
		t.Errorf("seen %v, want %v", got.Seen, at(5))
	}
	gone := func(hash string, now time.Time) {
		t.Helper()
		_, _, err := s.Session(ctx, hash, now)
		wantErr(t, "Session "+hash, err, store.ErrNotFound)
	}
	gone("a", at(30))
	gone("none", at(1))
	add("b", "a")
	gone("a", at(1))
	add("c", "")
	if err := s.EndSessions(ctx, ines.ID, "c"); err != nil {
		t.Fatal(err)
	}
	gone("b", at(1))
	if _, _, err := s.Session(ctx, "c", at(1)); err != nil {
		t.Errorf("the session kept: %v", err)
	}
	if err := s.Sweep(ctx, at(40)); err != nil {
		t.Fatal(err)
	}
	gone("c", at(1))
	add("d", "")
	if err := s.EndSession(ctx, "d"); err != nil {
		t.Fatal(err)
	}
	gone("d", at(1))
}

func knocks(t *testing.T, s store.Store) {
	ctx := context.Background()
	knock := func(now int, names ...string) []int {
		t.Helper()
		return must(s.Knock(ctx, names, at(now), at(now+15)))(t)
	}
	diff(t, "first", knock(0, "a", "b"), []int{1, 1})
	diff(t, "second", knock(1, "a"), []int{2})
	diff(t, "the window does not move", knock(14, "a"), []int{3})
	diff(t, "a new window", knock(15, "a"), []int{1})
	for _, n := range []int{1, 5} {
		if err := s.Forgive(ctx, "a", n); err != nil {
			t.Fatal(err)
		}
	}
	diff(t, "after forgiving", knock(16, "a"), []int{1})
	if err := s.Forgive(ctx, "never", 1); err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() { _, _ = s.Knock(ctx, []string{"many"}, at(0), at(15)) })
	}
	wg.Wait()
	diff(t, "after twenty at once", knock(1, "many"), []int{21})
}

// randomMembers: however often a roster comes in, each person of it is there once.
func randomMembers(t *testing.T, s store.Store) {
	ctx := context.Background()
	ines, _ := setUp(t, s)
	n := 0
	rapid.Check(t, func(rt *rapid.T) {
		c, err := s.AddClass(ctx, "c", ines.ID)
		if err != nil {
			rt.Fatal(err)
		}
		want := map[string]string{}
		for range rapid.IntRange(1, 3).Draw(rt, "imports") {
			var people []store.NewMember
			for _, id := range rapid.SliceOfNDistinct(rapid.IntRange(1, 6), 1, 4, rapid.ID).Draw(rt, "ids") {
				n++
				p := store.NewMember{External: fmt.Sprint(id), Name: fmt.Sprint("n", n), Role: store.RoleLearner, Code: fmt.Sprint("code", n)}
				people, want[p.External] = append(people, p), p.Name
			}
			if _, err := s.AddMembers(ctx, c.ID, people); err != nil {
				rt.Fatal(err)
			}
		}
		got := map[string]string{}
		members, err := s.Members(ctx, c.ID)
		if err != nil {
			rt.Fatal(err)
		}
		for _, m := range members {
			if m.Role == store.RoleLearner {
				got[m.External] = m.Name
			}
		}
		if len(members) != len(want)+1 || fmt.Sprint(got) != fmt.Sprint(want) {
			rt.Fatalf("members %v, want %v", got, want)
		}
	})
}
