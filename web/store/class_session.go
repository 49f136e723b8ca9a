package store

import (
	"context"
	"time"
)

// StartSession keeps a session; another one, if given, ends with it.
func (d *DB) StartSession(ctx context.Context, s Session, instead string) error {
	if s.Hash == "" || s.Expires.IsZero() {
		return invalid("a session without hash or end")
	}
	made := stampText(moment(s.Made))
	return d.engine.write(ctx, func(t tx) error {
		a, err := scanAccount(t.queryRow(classStmts.account, s.Account))
		if err != nil {
			return readError(err)
		}
		if !a.Active {
			return ErrNotFound
		}
		if instead != "" {
			if _, err := t.exec(classStmts.endSession, instead); err != nil {
				return err
			}
		}
		_, err = t.exec(classStmts.addSession, s.Hash, s.Account, made, made, stampText(s.Expires))
		return err
	})
}

// Session returns a session that has not expired, with its account.
func (d *DB) Session(ctx context.Context, hash string, now time.Time) (Session, Account, error) {
	s, err := one(ctx, d, scanSession, classStmts.session, hash, stampText(now))
	if err != nil {
		return Session{}, Account{}, err
	}
	a, err := d.Account(ctx, s.Account)
	if err != nil {
		return Session{}, Account{}, err
	}
	return s, a, nil
}

// TouchSession keeps when a session was last used.
func (d *DB) TouchSession(ctx context.Context, hash string, seen time.Time) error {
	return d.run(ctx, classStmts.touchSession, hash, stampText(moment(seen)))
}

// EndSession ends a session; none is no mistake.
func (d *DB) EndSession(ctx context.Context, hash string) error {
	return d.run(ctx, classStmts.endSession, hash)
}

// EndSessions ends all sessions of an account but one.
func (d *DB) EndSessions(ctx context.Context, account, but string) error {
	return d.run(ctx, classStmts.endSessions, account, but)
}

// run runs one statement, whatever it changes.
func (d *DB) run(ctx context.Context, text string, args ...any) error {
	return d.engine.write(ctx, func(t tx) error {
		_, err := t.exec(text, args...)
		return err
	})
}

// must runs one statement that has to find a record.
func (d *DB) must(ctx context.Context, text string, args ...any) error {
	return d.engine.write(ctx, func(t tx) error {
		n, err := t.exec(text, args...)
		if err == nil && n == 0 {
			err = ErrNotFound
		}
		return err
	})
}

// Knock counts a try under each name and returns the counts, in order.
func (d *DB) Knock(ctx context.Context, names []string, now, until time.Time) ([]int, error) {
	counts := make([]int, len(names))
	err := d.engine.write(ctx, func(t tx) error {
		for i, name := range names {
			if err := t.queryRow(classStmts.knock, name, stampText(now), stampText(until)).Scan(&counts[i]); err != nil {
				return err
			}
		}
		return nil
	})
	return counts, err
}

// Forgive takes tries back, down to none.
func (d *DB) Forgive(ctx context.Context, name string, tries int) error {
	return d.run(ctx, classStmts.forgive, name, tries)
}

// Sweep drops sessions, invitations and counts whose time is over.
func (d *DB) Sweep(ctx context.Context, now time.Time) error {
	return d.engine.write(ctx, func(t tx) error {
		for _, text := range []string{classStmts.sweepSessions, classStmts.sweepInvitations, classStmts.sweepKnocks} {
			if _, err := t.exec(text, stampText(now)); err != nil {
				return err
			}
		}
		return nil
	})
}
