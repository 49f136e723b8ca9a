package store

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"fullyon/grader/class"
)

// asRules is a set as it is kept: its times are UTC, so that they are read back alike.
func asRules(rules class.Set) (string, error) {
	rules.Opens, rules.Due = inUTC(rules.Opens), inUTC(rules.Due)
	text, err := json.Marshal(rules)
	return clean(string(text)), err
}

func inUTC(t time.Time) time.Time {
	if t.IsZero() {
		return time.Time{}
	}
	return moment(t)
}

// AddSet makes a problem set.
func (d *DB) AddSet(ctx context.Context, class string, rules class.Set) (p ProblemSet, err error) {
	text, err := asRules(rules)
	if err != nil {
		return p, err
	}
	id, made := newID(), stampText(moment(time.Time{}))
	err = d.engine.write(ctx, func(t tx) error {
		if err := live(t, class); err != nil {
			return err
		}
		if _, err := t.exec(classStmts.addSet, id, class, text, made); err != nil {
			return err
		}
		p, err = scanSet(t.queryRow(classStmts.problemSet, id))
		return err
	})
	return p, err
}

// ChangeSet changes a problem set that still has this revision.
func (d *DB) ChangeSet(ctx context.Context, id string, revision int, rules class.Set) (p ProblemSet, err error) {
	text, err := asRules(rules)
	if err != nil {
		return p, err
	}
	err = d.engine.write(ctx, func(t tx) error {
		n, err := t.exec(classStmts.changeSet, id, revision, text)
		if err != nil {
			return err
		}
		if p, err = scanSet(t.queryRow(classStmts.problemSet, id)); err != nil {
			return readError(err)
		}
		if n == 0 {
			return ErrStale
		}
		return live(t, p.Class)
	})
	if err != nil {
		return ProblemSet{}, err
	}
	return p, nil
}

// ReleaseSet says when the marks were shown to the learners; zero: not yet.
func (d *DB) ReleaseSet(ctx context.Context, id string, at time.Time) error {
	return d.must(ctx, classStmts.releaseSet, id, stampMaybeText(at))
}

// ProblemSet returns a problem set.
func (d *DB) ProblemSet(ctx context.Context, id string) (ProblemSet, error) {
	return one(ctx, d, scanSet, classStmts.problemSet, id)
}

// SetsOf returns the sets of a class, oldest first.
func (d *DB) SetsOf(ctx context.Context, class string) ([]ProblemSet, error) {
	return list(ctx, d, scanSet, classStmts.setsOf, class)
}

// SetAllowance keeps what a learner gets beyond the others.
func (d *DB) SetAllowance(ctx context.Context, set, learner string, a class.Allowance) error {
	a.Due = inUTC(a.Due)
	text, err := json.Marshal(a)
	if err != nil {
		return err
	}
	made := stampText(moment(time.Time{}))
	return d.engine.write(ctx, func(t tx) error {
		if err := mayDraw(t, set, learner); err != nil {
			return err
		}
		_, err := t.exec(classStmts.setAllowance, set, learner, clean(string(text)), made)
		return err
	})
}

// mayDraw tells by an error that a learner does not belong to the class of a set,
// or that it has ended.
func mayDraw(t tx, set, learner string) error {
	var ended time.Time
	if err := t.queryRow(classStmts.mayDraw, set, learner).Scan(stampMaybe{&ended}); err != nil {
		return readError(err)
	}
	if !ended.IsZero() {
		return ErrEnded
	}
	return nil
}

// Allowance returns what a learner gets beyond the others; zero if nothing.
func (d *DB) Allowance(ctx context.Context, set, learner string) (class.Allowance, error) {
	a, err := one(ctx, d, scanAllowed, classStmts.allowance, set, learner)
	if errors.Is(err, ErrNotFound) {
		err = nil
	}
	return a.a, err
}

// Allowances returns all of a set by learner.
func (d *DB) Allowances(ctx context.Context, set string) (map[string]class.Allowance, error) {
	return allowances(ctx, d, classStmts.allowances, set)
}

func allowances(ctx context.Context, d *DB, text, of string) (map[string]class.Allowance, error) {
	all, err := list(ctx, d, scanAllowed, text, of)
	if err != nil {
		return nil, err
	}
	out := make(map[string]class.Allowance, len(all))
	for _, a := range all {
		out[a.of] = a.a
	}
	return out, nil
}

// HandInSet hands out a draw of a set. If the learner has this draw already,
// that one is returned and nothing is kept.
func (d *DB) HandInSet(ctx context.Context, s SetDraw, n NewHanded) (Handed, error) {
	if s.N < 1 || s.Template != n.Source.Template || s.Learner != n.Learner {
		return Handed{}, invalid("draw %d of %s for a problem of %s", s.N, s.Template, n.Source.Template)
	}
	h, kept, err := newHanded(n)
	if err != nil {
		return Handed{}, err
	}
	var first Handed
	err = d.engine.write(ctx, func(t tx) (err error) {
		if first, err = scanHanded(t.queryRow(classStmts.draw, s.Set, s.Learner, s.Template, s.N)); err == nil {
			return nil
		} else if !errors.Is(readError(err), ErrNotFound) {
			return err
		}
		if err := mayDraw(t, s.Set, s.Learner); err != nil {
			return err
		}
		if first, err = hand(t, h, kept, n.Source); err != nil {
			return err
		}
		if _, err := scanDraw(t.queryRow(classStmts.drawOf, first.ID)); !errors.Is(readError(err), ErrNotFound) {
			return errors.Join(ErrKeyReused, err) // it is another draw already
		}
		_, err = t.exec(classStmts.addDraw, s.Set, s.Learner, s.Template, s.N, first.ID)
		return err
	})
	if err != nil {
		return Handed{}, err
	}
	return first, nil
}

// SetDrawOf tells which draw of which set a problem is; ErrNotFound: of none.
func (d *DB) SetDrawOf(ctx context.Context, handed string) (SetDraw, error) {
	return one(ctx, d, scanDraw, classStmts.drawOf, handed)
}

// DrawsOf returns a learner's draws of a set.
func (d *DB) DrawsOf(ctx context.Context, set, learner string) ([]SetDraw, error) {
	return list(ctx, d, scanDraw, classStmts.drawsOf, set, learner)
}

// DrawsIn returns all draws of a set.
func (d *DB) DrawsIn(ctx context.Context, set string) ([]SetDraw, error) {
	return list(ctx, d, scanDraw, classStmts.drawsIn, set)
}

// AttemptsIn returns all attempts in a set, in the order of writing.
func (d *DB) AttemptsIn(ctx context.Context, set string) ([]SetAttempt, error) {
	return list(ctx, d, scanSetAttempt, classStmts.attemptsIn, set)
}
