package store

import (
	"context"
	"errors"
	"time"
)

// AddClass makes a class with a secret of its own, led by an account.
func (d *DB) AddClass(ctx context.Context, title, account string) (Class, error) {
	id, made := newID(), moment(time.Time{})
	var c Class
	err := d.engine.write(ctx, func(t tx) error {
		if _, err := scanAccount(t.queryRow(classStmts.account, account)); err != nil {
			return readError(err)
		}
		if _, err := t.exec(classStmts.addClass, id, clean(title), newSecret(), stampText(made)); err != nil {
			return err
		}
		if _, err := t.exec(classStmts.addMember, id, account, string(RoleInstructor), "", "", stampText(made)); err != nil {
			return err
		}
		var err error
		c, err = scanClass(t.queryRow(classStmts.class, id))
		return err
	})
	return c, err
}

// RenameClass changes the title.
func (d *DB) RenameClass(ctx context.Context, id, title string) error {
	return d.must(ctx, classStmts.renameClass, id, clean(title))
}

// SetJoining sets the round and the hash of the joining word.
func (d *DB) SetJoining(ctx context.Context, id string, round int, hash string) error {
	return d.engine.write(ctx, func(t tx) error {
		if err := live(t, id); err != nil {
			return err
		}
		taken, err := scanFlag(t.queryRow(classStmts.joiningTaken, hash, id))
		if err != nil {
			return err
		}
		if taken && hash != "" {
			return ErrTaken
		}
		_, err = t.exec(classStmts.setJoining, id, round, hash)
		return err
	})
}

// live tells by an error that a class does not exist or has ended.
func live(t tx, id string) error {
	c, err := scanClass(t.queryRow(classStmts.class, id))
	if err == nil && !c.Ended.IsZero() {
		err = ErrEnded
	}
	return readError(err)
}

// Class returns a class.
func (d *DB) Class(ctx context.Context, id string) (Class, error) {
	return one(ctx, d, scanClass, classStmts.class, id)
}

// ClassesOf returns the memberships of an account, oldest class first.
func (d *DB) ClassesOf(ctx context.Context, account string) ([]Member, error) {
	return list(ctx, d, scanMember, classStmts.classesOf, account)
}

// Member returns an account's place in a class.
func (d *DB) Member(ctx context.Context, class, account string) (Member, error) {
	return one(ctx, d, scanMember, classStmts.member, class, account)
}

// Members returns all of a class by name.
func (d *DB) Members(ctx context.Context, class string) ([]Member, error) {
	return list(ctx, d, scanMember, classStmts.members, class)
}

// AddMembers takes people from a roster, all or none.
func (d *DB) AddMembers(ctx context.Context, class string, people []NewMember) ([]Member, error) {
	var out []Member
	made := moment(time.Time{})
	err := d.engine.write(ctx, func(t tx) error {
		out = make([]Member, len(people))
		if err := live(t, class); err != nil {
			return err
		}
		for i, n := range people {
			account, err := enrol(t, class, n, made)
			if err != nil {
				return err
			}
			if out[i], err = scanMember(t.queryRow(classStmts.member, class, account)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// enrol adds a person of a roster, or changes the one that is there already: a
// name that somebody chose for signing in stays theirs.
func enrol(t tx, class string, n NewMember, made time.Time) (account string, err error) {
	if !n.Role.valid() {
		return "", invalid("the role %q", n.Role)
	}
	external := clean(n.External)
	if external != "" {
		m, err := scanMember(t.queryRow(classStmts.byExternal, class, external))
		if err = readError(err); err == nil {
			if n.Name != "" && !m.Passphrase {
				if _, err := t.exec(stmts.nameLearner, m.Learner, clean(n.Name)); err != nil {
					return "", err
				}
			}
			_, err = t.exec(classStmts.changeMember, class, m.Account, clean(n.Team))
			return m.Account, err
		} else if !errors.Is(err, ErrNotFound) {
			return "", err
		}
	}
	if n.Code == "" {
		return "", invalid("a person of a roster without a sign-in code")
	}
	a, err := addAccount(t, NewAccount{Name: n.Name, Code: n.Code}, false, made)
	if err != nil {
		return "", err
	}
	_, err = t.exec(classStmts.addMember, class, a.ID, string(n.Role), external, clean(n.Team), stampText(made))
	return a.ID, err
}

// SetRole changes what a member may do, and whether they still belong.
func (d *DB) SetRole(ctx context.Context, class, account string, role Role, active bool) error {
	if !role.valid() {
		return invalid("the role %q", role)
	}
	return d.engine.write(ctx, func(t tx) error {
		if err := live(t, class); err != nil {
			return err
		}
		n, err := t.exec(classStmts.setRole, class, account, string(role), number(active))
		if err == nil && n == 0 {
			err = ErrNotFound
		}
		return err
	})
}

// EndClass ends a class. Names of people who were in no other class, their
// sign-in, what they wrote to their instructor and what was being typed go;
// answers and marks stay.
func (d *DB) EndClass(ctx context.Context, id string, now time.Time) error {
	return d.engine.write(ctx, func(t tx) error {
		n, err := t.exec(classStmts.endClass, id, stampText(moment(now)))
		if err != nil {
			return err
		}
		if n == 0 { // unknown, or ended before
			_, err := scanClass(t.queryRow(classStmts.class, id))
			return readError(err)
		}
		for _, text := range []string{
			classStmts.endDrafts, classStmts.endLooks, classStmts.endOverrides, classStmts.endMembers, classStmts.endInvitations,
			classStmts.forgetName, classStmts.forgetSessions, classStmts.forgetSignIn,
		} {
			if _, err := t.exec(text, id); err != nil {
				return err
			}
		}
		return nil
	})
}
