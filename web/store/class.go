package store

import (
	"context"
	"encoding/base64"
	"errors"
	"time"

	"crypto/rand"

	"fullyon/grader/class"
)

// Classes is the part of a Store for class mode. A person who signs in has an
// Account, whose learner answers problems; a Member is an account in a class.
//
// Passphrases, sign-in codes, joining words, session tokens and invitations come
// as hashes made by the caller: the store compares and never sees what was typed.
//
// In short, for those who build on it:
//
//	secrets   InstanceSecret; Class.Secret (with class.Seed: the seeds of its sets)
//	doors     Invite, DoorLeads, Enter, EnterAs
//	accounts  Account, AccountOf, AccountByLogin, AccountByCode, SetSignIn, SetCode,
//	          SetActive, HasInstructor
//	sessions  StartSession, Session, TouchSession, EndSession, EndSessions, Knock, Forgive, Sweep
//	classes   AddClass, RenameClass, SetJoining, Class, ClassesOf, Member, Members,
//	          AddMembers, SetRole, RemoveMember, EndClass
//	sets      AddSet, ChangeSet, ReleaseSet, ProblemSet, SetsOf, SetAllowance, Allowance, Allowances
//	draws     HandInSet, SetDrawOf, DrawsOf, DrawsIn, AttemptsIn
//	marks     AddOverride, OverridesOf, OverridesIn, AskLook, AnswerLook, Look, LooksOf, LooksIn
//	drafts    SaveDraft, DraftsOf, DraftsIn
//	privacy   Export, DeleteLearner, EndClass
type Classes interface {
	// InstanceSecret is the secret of this database, made when first asked for.
	InstanceSecret(ctx context.Context) ([]byte, error)

	// Invite keeps a link that opens once.
	Invite(ctx context.Context, i Invitation) error
	// DoorLeads tells where a door leads; ErrDoor if it opens nothing.
	DoorLeads(ctx context.Context, d Door, now time.Time) (Leads, error)
	// Enter makes an account that comes in through a door. ErrDoor: it opens
	// nothing. ErrTaken: the sign-in name is somebody else's.
	Enter(ctx context.Context, d Door, n NewAccount) (Account, error)
	// EnterAs lets an account that exists in through a door.
	EnterAs(ctx context.Context, d Door, account string, now time.Time) (Leads, error)

	// Account returns an account; AccountOf the one of a learner; AccountByLogin
	// and AccountByCode the one that signs in so.
	Account(ctx context.Context, id string) (Account, error)
	AccountOf(ctx context.Context, learner string) (Account, error)
	AccountByLogin(ctx context.Context, login string) (Account, error)
	AccountByCode(ctx context.Context, code string) (Account, error)
	// SetSignIn changes sign-in name and passphrase, and ends all sessions.
	SetSignIn(ctx context.Context, account, login, passphrase string) error
	// SetCode gives a new sign-in code in place of the old code and of the
	// passphrase, and ends all sessions: a lost card opens nothing any more.
	SetCode(ctx context.Context, account, code string) error
	// SetActive lets an account in or shuts it out. ErrLast: it is the only
	// instructor that can still sign in.
	SetActive(ctx context.Context, account string, active bool) error
	// HasInstructor tells whether there is an instructor who can sign in.
	HasInstructor(ctx context.Context) (bool, error)

	// StartSession keeps a session; another one, if given, ends with it.
	StartSession(ctx context.Context, s Session, instead string) error
	// Session returns a session that has not expired, with its account.
	// ErrNotFound also if the account is shut out.
	Session(ctx context.Context, hash string, now time.Time) (Session, Account, error)
	// TouchSession keeps when a session was last used.
	TouchSession(ctx context.Context, hash string, seen time.Time) error
	// EndSession ends one; EndSessions all of an account but one.
	EndSession(ctx context.Context, hash string) error
	EndSessions(ctx context.Context, account, but string) error
	// Knock counts a try under each name and returns the counts, in order. A
	// count begins anew once its time is over.
	Knock(ctx context.Context, names []string, now, until time.Time) ([]int, error)
	// Forgive takes tries back, down to none.
	Forgive(ctx context.Context, name string, tries int) error
	// Sweep drops sessions, invitations and counts whose time is over.
	Sweep(ctx context.Context, now time.Time) error

	// AddClass makes a class with a secret of its own, led by an account.
	AddClass(ctx context.Context, title, account string) (Class, error)
	RenameClass(ctx context.Context, id, title string) error
	// SetJoining sets the round and the hash of the joining word; without a hash
	// nobody can join. ErrTaken: another class has this word.
	SetJoining(ctx context.Context, id string, round int, hash string) error
	Class(ctx context.Context, id string) (Class, error)
	// ClassesOf returns the memberships of an account, oldest class first.
	ClassesOf(ctx context.Context, account string) ([]Member, error)
	// Member returns an account's place in a class.
	Member(ctx context.Context, class, account string) (Member, error)
	// Members returns all of a class by name.
	Members(ctx context.Context, class string) ([]Member, error)
	// AddMembers takes people from a roster, all or none. Whoever is there
	// already under the same external id is changed instead of added twice.
	AddMembers(ctx context.Context, class string, n []NewMember) ([]Member, error)
	// SetRole changes what a member may do, and whether they still belong.
	SetRole(ctx context.Context, class, account string, role Role, active bool) error
	// EndClass ends a class: no more answers, and whoever was in no other class
	// loses name and sign-in. Marks and answers stay for the statistics.
	EndClass(ctx context.Context, id string, now time.Time) error

	// AddSet makes a problem set.
	AddSet(ctx context.Context, class string, rules class.Set) (ProblemSet, error)
	// ChangeSet changes one. ErrStale: it has another revision meanwhile.
	ChangeSet(ctx context.Context, id string, revision int, rules class.Set) (ProblemSet, error)
	// ReleaseSet says when the marks were shown to the learners; zero: not yet.
	ReleaseSet(ctx context.Context, id string, at time.Time) error
	ProblemSet(ctx context.Context, id string) (ProblemSet, error)
	// SetsOf returns the sets of a class, oldest first.
	SetsOf(ctx context.Context, class string) ([]ProblemSet, error)
	// SetAllowance keeps what a learner gets beyond the others.
	SetAllowance(ctx context.Context, set, learner string, a class.Allowance) error
	// Allowance returns it; the zero allowance if there is none.
	Allowance(ctx context.Context, set, learner string) (class.Allowance, error)
	// Allowances returns all of a set by learner.
	Allowances(ctx context.Context, set string) (map[string]class.Allowance, error)

	// HandInSet hands out a draw of a set. If the learner has this draw already,
	// that one is returned and nothing is kept. ErrEnded: the class is over.
	// ErrNotFound: the learner does not belong to it.
	HandInSet(ctx context.Context, d SetDraw, h NewHanded) (Handed, error)
	// SetDrawOf tells which draw of which set a problem is; ErrNotFound: of none.
	SetDrawOf(ctx context.Context, handed string) (SetDraw, error)
	// DrawsOf returns a learner's draws of a set, DrawsIn those of all.
	DrawsOf(ctx context.Context, set, learner string) ([]SetDraw, error)
	DrawsIn(ctx context.Context, set string) ([]SetDraw, error)
	// AttemptsIn returns all attempts in a set, in the order of writing.
	AttemptsIn(ctx context.Context, set string) ([]SetAttempt, error)

	// AddOverride keeps marks given by a person; they are added, never changed,
	// and the last one of a question counts. The same key is kept once.
	AddOverride(ctx context.Context, o NewOverride) (Override, error)
	OverridesOf(ctx context.Context, handed string) ([]Override, error)
	OverridesIn(ctx context.Context, set string) ([]Override, error)
	// AskLook keeps a learner's wish for a second look at a problem of a set.
	AskLook(ctx context.Context, l NewLook) (Look, error)
	// AnswerLook answers one. ErrStale: it is no longer in the state given.
	AnswerLook(ctx context.Context, id, was string, a LookAnswer) (Look, error)
	Look(ctx context.Context, id string) (Look, error)
	LooksOf(ctx context.Context, handed string) ([]Look, error)
	// LooksIn returns those of a class in one state, oldest first.
	LooksIn(ctx context.Context, class, state string) ([]Look, error)

	// SaveDraft keeps what is being typed; the latest wins.
	SaveDraft(ctx context.Context, d Draft) error
	DraftsOf(ctx context.Context, handed string) ([]Draft, error)
	DraftsIn(ctx context.Context, set string) ([]Draft, error)

	// Export returns all that is kept of a learner.
	Export(ctx context.Context, learner string) (Export, error)
	// DeleteLearner removes a learner with all that is kept of them. ErrLast: it
	// is the only instructor.
	DeleteLearner(ctx context.Context, learner string) error
}

// Kinds of refusal in class mode; test with errors.Is.
var (
	ErrTaken = errors.New("taken by somebody else")
	ErrDoor  = errors.New("opens nothing, or no longer")
	ErrLast  = errors.New("the only instructor who can sign in")
	ErrEnded = errors.New("the class has ended")
)

// newSecret is a secret as it is kept.
func newSecret() string {
	b := make([]byte, class.SecretSize)
	rand.Read(b) // never fails
	return base64.RawStdEncoding.EncodeToString(b)
}

// InstanceSecret is the secret of this database, made when first asked for.
func (d *DB) InstanceSecret(ctx context.Context) ([]byte, error) {
	secret, err := one(ctx, d, scanSecret, classStmts.instance)
	if !errors.Is(err, ErrNotFound) {
		return secret, err
	}
	err = d.engine.write(ctx, func(t tx) error {
		if _, err := t.exec(classStmts.addInstance, newSecret(), stampText(moment(time.Time{}))); err != nil {
			return err
		}
		var err error
		secret, err = scanSecret(t.queryRow(classStmts.instance))
		return err
	})
	return secret, err
}
