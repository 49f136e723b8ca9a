package store

import (
	"context"
	"errors"
	"math"
)

// AddOverride keeps marks given by a person.
func (d *DB) AddOverride(ctx context.Context, n NewOverride) (o Override, err error) {
	switch {
	case n.Key == "" || n.Question == "" || n.Author == "" || n.Reason == "":
		return o, invalid("an override without key, question, author or reason")
	case math.IsNaN(n.Marks) || math.IsInf(n.Marks, 0) || n.Marks < 0:
		return o, invalid("marks of %v", n.Marks)
	}
	made := stampText(moment(n.Made))
	err = d.engine.write(ctx, func(t tx) error {
		if o, err = scanOverride(t.queryRow(classStmts.overrideByKey, n.Key)); err == nil {
			if o.Handed != n.Handed || o.Question != clean(n.Question) {
				return ErrKeyReused
			}
			return nil
		} else if !errors.Is(readError(err), ErrNotFound) {
			return err
		}
		if _, err := scanHanded(t.queryRow(stmts.handed, n.Handed)); err != nil {
			return readError(err)
		}
		if _, err := t.exec(classStmts.addOverride, newID(), n.Key, n.Handed, clean(n.Question), n.Attempt, n.Marks,
			clean(n.Reason), n.Author, made); err != nil {
			return err
		}
		o, err = scanOverride(t.queryRow(classStmts.overrideByKey, n.Key))
		return err
	})
	if err != nil {
		return Override{}, err
	}
	return o, nil
}

// OverridesOf returns the overrides of a problem, oldest first.
func (d *DB) OverridesOf(ctx context.Context, handed string) ([]Override, error) {
	return list(ctx, d, scanOverride, classStmts.overridesOf, handed)
}

// OverridesIn returns the overrides in a set, oldest first.
func (d *DB) OverridesIn(ctx context.Context, set string) ([]Override, error) {
	return list(ctx, d, scanOverride, classStmts.overridesIn, set)
}

// AskLook keeps a learner's wish for a second look at a problem of a set.
func (d *DB) AskLook(ctx context.Context, n NewLook) (l Look, err error) {
	if n.Key == "" || n.Question == "" || n.Text == "" {
		return l, invalid("a second look without key, question or text")
	}
	made := stampText(moment(n.Made))
	err = d.engine.write(ctx, func(t tx) error {
		if l, err = scanLook(t.queryRow(classStmts.lookByKey, n.Key)); err == nil {
			if l.Handed != n.Handed || l.Question != clean(n.Question) {
				return ErrKeyReused
			}
			return nil
		} else if !errors.Is(readError(err), ErrNotFound) {
			return err
		}
		added, err := t.exec(classStmts.addLook, newID(), n.Key, n.Handed, clean(n.Question), clean(n.Text), made, n.Learner)
		if err != nil {
			return err
		}
		if added == 0 { // not in a set, or not this learner's
			return ErrNotFound
		}
		if l, err = scanLook(t.queryRow(classStmts.lookByKey, n.Key)); err != nil {
			return err
		}
		return live(t, l.Class)
	})
	if err != nil {
		return Look{}, err
	}
	return l, nil
}

// AnswerLook answers a second look that is still in the state given.
func (d *DB) AnswerLook(ctx context.Context, id, was string, a LookAnswer) (l Look, err error) {
	switch a.State {
	case LookOpen, LookKept, LookChanged:
	default:
		return l, invalid("the state %q of a second look", a.State)
	}
	made := stampText(moment(a.Made))
	err = d.engine.write(ctx, func(t tx) error {
		n, err := t.exec(classStmts.answerLook, id, was, a.State, clean(a.Reply), a.Author, made)
		if err != nil {
			return err
		}
		if l, err = scanLook(t.queryRow(classStmts.look, id)); err != nil {
			return readError(err)
		}
		if n == 0 {
			return ErrStale
		}
		return nil
	})
	if err != nil {
		return Look{}, err
	}
	return l, nil
}

// Look returns a second look.
func (d *DB) Look(ctx context.Context, id string) (Look, error) {
	return one(ctx, d, scanLook, classStmts.look, id)
}

// LooksOf returns the second looks at a problem, oldest first.
func (d *DB) LooksOf(ctx context.Context, handed string) ([]Look, error) {
	return list(ctx, d, scanLook, classStmts.looksOf, handed)
}

// LooksIn returns the second looks of a class in one state, oldest first.
func (d *DB) LooksIn(ctx context.Context, class, state string) ([]Look, error) {
	return list(ctx, d, scanLook, classStmts.looksIn, class, state)
}

// SaveDraft keeps what is being typed; the latest wins.
func (d *DB) SaveDraft(ctx context.Context, f Draft) error {
	if f.Question == "" {
		return invalid("a draft without a question")
	}
	made := stampText(moment(f.Made))
	return d.engine.write(ctx, func(t tx) error {
		if _, err := scanHanded(t.queryRow(stmts.handed, f.Handed)); err != nil {
			return readError(err)
		}
		_, err := t.exec(classStmts.saveDraft, f.Handed, clean(f.Question), clean(f.Text), clean(f.Working), made)
		return err
	})
}

// DraftsOf returns what is being typed into a problem, by question.
func (d *DB) DraftsOf(ctx context.Context, handed string) ([]Draft, error) {
	return list(ctx, d, scanDraft, classStmts.draftsOf, handed)
}

// DraftsIn returns what is being typed in a set.
func (d *DB) DraftsIn(ctx context.Context, set string) ([]Draft, error) {
	return list(ctx, d, scanDraft, classStmts.draftsIn, set)
}
