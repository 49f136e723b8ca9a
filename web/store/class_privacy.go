package store

import (
	"context"
	"errors"
)

// Export returns all that is kept of a learner.
func (d *DB) Export(ctx context.Context, learner string) (Export, error) {
	var e Export
	var err error
	if e.Learner, err = d.Learner(ctx, learner); err != nil {
		return Export{}, err
	}
	a, err := d.AccountOf(ctx, learner)
	switch {
	case err == nil:
		e.Login = a.Login
		err = errors.Join(
			into(&e.Classes)(d.ClassesOf(ctx, a.ID)),
			into(&e.Sessions)(list(ctx, d, scanSession, classStmts.sessionsOf, a.ID)),
		)
	case errors.Is(err, ErrNotFound): // local mode
		err = nil
	}
	err = errors.Join(err,
		into(&e.Settings)(d.Settings(ctx, learner)),
		into(&e.Handed)(list(ctx, d, scanHanded, classStmts.handedOfLearner, learner)),
		into(&e.Attempts)(list(ctx, d, scanAttempt, classStmts.attemptsOfLearner, learner)),
		into(&e.Opened)(list(ctx, d, scanOpened, classStmts.openedOfLearner, learner)),
		into(&e.Pauses)(d.PausesMet(ctx, learner)),
		into(&e.Draws)(list(ctx, d, scanDraw, classStmts.drawsOfLearner, learner)),
		into(&e.Allowances)(allowances(ctx, d, classStmts.allowancesOf, learner)),
		into(&e.Overrides)(list(ctx, d, scanOverride, classStmts.overridesOfLearner, learner)),
		into(&e.Looks)(list(ctx, d, scanLook, classStmts.looksOfLearner, learner)),
		into(&e.Drafts)(list(ctx, d, scanDraft, classStmts.draftsOfLearner, learner)),
	)
	if err != nil {
		return Export{}, err
	}
	return e, nil
}

// into keeps a value and passes its error on.
func into[T any](to *T) func(T, error) error {
	return func(v T, err error) error {
		*to = v
		return err
	}
}

// DeleteLearner removes a learner with all that is kept of them.
func (d *DB) DeleteLearner(ctx context.Context, learner string) error {
	return d.engine.write(ctx, func(t tx) error {
		var account string
		var instructor bool
		err := readError(t.queryRow(classStmts.accountInstructor, learner).Scan(&account, flag{&instructor}))
		if err == nil && instructor {
			err = another(t, account)
		}
		if err != nil && !errors.Is(err, ErrNotFound) {
			return err
		}
		n, err := t.exec(classStmts.dropLearner, learner)
		if err == nil && n == 0 {
			err = ErrNotFound
		}
		return err
	})
}
