package store

import (
	"context"
	"errors"
	"time"
)

// Invite keeps a link that opens once.
func (d *DB) Invite(ctx context.Context, i Invitation) error {
	switch {
	case i.Hash == "" || !i.Role.valid() || i.Expires.IsZero():
		return invalid("an invitation without hash, role or end")
	case i.Class == "" && i.Role != RoleInstructor:
		return invalid("an invitation to no class for a role of %s", i.Role)
	}
	return d.engine.write(ctx, func(t tx) error {
		if i.Class != "" {
			if err := live(t, i.Class); err != nil {
				return err
			}
		}
		_, err := t.exec(classStmts.addInvitation, i.Hash, i.Class, string(i.Role), number(i.Setup), stampText(moment(i.Made)), stampText(i.Expires))
		return err
	})
}

// DoorLeads tells where a door leads; ErrDoor if it opens nothing.
func (d *DB) DoorLeads(ctx context.Context, door Door, now time.Time) (Leads, error) {
	var l Leads
	var err error
	if door.Invitation != "" {
		l, err = one(ctx, d, scanLeads, classStmts.invitation, door.Invitation, stampText(now))
	} else {
		l, err = one(ctx, d, scanLeads, classStmts.byJoining, door.Joining)
	}
	if err == nil && l.Setup {
		var made bool
		if made, err = d.HasInstructor(ctx); made {
			err = ErrNotFound
		}
	}
	if errors.Is(err, ErrNotFound) {
		return Leads{}, ErrDoor
	}
	return l, err
}

// through opens a door inside a transaction; an invitation is used up by it.
func through(t tx, door Door, now time.Time) (l Leads, err error) {
	if door.Invitation != "" {
		l, err = scanLeads(t.queryRow(classStmts.invitation, door.Invitation, stampText(now)))
	} else {
		l, err = scanLeads(t.queryRow(classStmts.byJoining, door.Joining))
	}
	if errors.Is(readError(err), ErrNotFound) {
		return l, ErrDoor
	}
	if err != nil || door.Invitation == "" {
		return l, err
	}
	if l.Setup {
		made, err := scanFlag(t.queryRow(classStmts.hasInstructor))
		if err != nil {
			return l, err
		}
		if made {
			return l, ErrDoor
		}
		_, err = t.exec(classStmts.dropSetups)
		return l, err
	}
	_, err = t.exec(classStmts.useInvitation, door.Invitation)
	return l, err
}

// Enter makes an account that comes in through a door.
func (d *DB) Enter(ctx context.Context, door Door, n NewAccount) (Account, error) {
	if (n.Login == "") != (n.Passphrase == "") || n.Login == "" && n.Code == "" {
		return Account{}, invalid("an account without a way to sign in")
	}
	var a Account
	made := moment(n.Made)
	err := d.engine.write(ctx, func(t tx) error {
		l, err := through(t, door, made)
		if err != nil {
			return err
		}
		if a, err = addAccount(t, n, l.Class == "", made); err != nil || l.Class == "" {
			return err
		}
		_, err = t.exec(classStmts.addMember, l.Class, a.ID, string(l.Role), "", "", stampText(made))
		return err
	})
	if err != nil {
		return Account{}, err
	}
	return a, nil
}

func addAccount(t tx, n NewAccount, instructor bool, made time.Time) (Account, error) {
	login := clean(n.Login)
	if login != "" {
		if err := free(t, login, ""); err != nil {
			return Account{}, err
		}
	}
	learner := Learner{ID: newID(), Name: clean(n.Name), Made: made}
	if err := addLearner(t, learner); err != nil {
		return Account{}, err
	}
	a := Account{
		ID: newID(), Learner: learner.ID, Name: learner.Name, Login: login, Passphrase: n.Passphrase,
		Card: n.Code != "", Instructor: instructor, Active: true, Made: made,
	}
	_, err := t.exec(classStmts.addAccount, a.ID, a.Learner, a.Login, a.Passphrase, n.Code, number(instructor), stampText(made))
	return a, err
}

// free tells by ErrTaken that a sign-in name is another account's.
func free(t tx, login, account string) error {
	taken, err := scanFlag(t.queryRow(classStmts.loginTaken, login, account))
	if err == nil && taken {
		err = ErrTaken
	}
	return err
}

// EnterAs lets an account that exists in through a door. Somebody who is in the
// class already keeps their role.
func (d *DB) EnterAs(ctx context.Context, door Door, account string, now time.Time) (l Leads, err error) {
	now = moment(now)
	err = d.engine.write(ctx, func(t tx) (err error) {
		if l, err = through(t, door, now); err != nil {
			return err
		}
		if _, err := scanAccount(t.queryRow(classStmts.account, account)); err != nil {
			return readError(err)
		}
		if l.Class == "" {
			_, err = t.exec(classStmts.makeInstructor, account)
		} else {
			_, err = t.exec(classStmts.addMember, l.Class, account, string(l.Role), "", "", stampText(now))
		}
		return err
	})
	return l, err
}

// Account returns an account.
func (d *DB) Account(ctx context.Context, id string) (Account, error) {
	return one(ctx, d, scanAccount, classStmts.account, id)
}

// AccountOf returns the account of a learner.
func (d *DB) AccountOf(ctx context.Context, learner string) (Account, error) {
	return one(ctx, d, scanAccount, classStmts.accountOf, learner)
}

// AccountByLogin returns the account with a sign-in name.
func (d *DB) AccountByLogin(ctx context.Context, login string) (Account, error) {
	return one(ctx, d, scanAccount, classStmts.byLogin, clean(login))
}

// AccountByCode returns the account with a sign-in code, by its hash.
func (d *DB) AccountByCode(ctx context.Context, code string) (Account, error) {
	return one(ctx, d, scanAccount, classStmts.byCode, code)
}

// SetSignIn changes sign-in name and passphrase, and ends all sessions.
func (d *DB) SetSignIn(ctx context.Context, account, login, passphrase string) error {
	if login == "" || passphrase == "" {
		return invalid("a sign-in without name or passphrase")
	}
	return d.engine.write(ctx, func(t tx) error {
		if err := free(t, clean(login), account); err != nil {
			return err
		}
		return changed(t, account, classStmts.setSignIn, account, clean(login), passphrase)
	})
}

// SetCode gives a new sign-in code in place of the old code and of the
// passphrase, and ends all sessions.
func (d *DB) SetCode(ctx context.Context, account, code string) error {
	if code == "" {
		return invalid("a card without a code")
	}
	return d.engine.write(ctx, func(t tx) error { return changed(t, account, classStmts.setCode, account, code) })
}

// SetActive lets an account in or shuts it out.
func (d *DB) SetActive(ctx context.Context, account string, active bool) error {
	return d.engine.write(ctx, func(t tx) error {
		a, err := scanAccount(t.queryRow(classStmts.account, account))
		if err != nil {
			return readError(err)
		}
		if a.Instructor && !active {
			if err := another(t, account); err != nil {
				return err
			}
		}
		return changed(t, account, classStmts.setActive, account, number(active))
	})
}

// changed runs an update of an account and ends its sessions.
func changed(t tx, account, text string, args ...any) error {
	n, err := t.exec(text, args...)
	if err == nil && n == 0 {
		err = ErrNotFound
	}
	if err == nil {
		_, err = t.exec(classStmts.endAllSessions, account)
	}
	return err
}

// another tells by ErrLast that no other instructor could sign in.
func another(t tx, account string) error {
	others, err := scanFlag(t.queryRow(classStmts.otherInstructor, account))
	if err == nil && !others {
		err = ErrLast
	}
	return err
}

// HasInstructor tells whether there is an instructor who can sign in.
func (d *DB) HasInstructor(ctx context.Context) (bool, error) {
	return one(ctx, d, scanFlag, classStmts.hasInstructor)
}
