package store

import (
	"context"
	"errors"
	"time"
)

// AddLearner makes a learner. The name may be empty.
func (d *DB) AddLearner(ctx context.Context, name string) (Learner, error) {
	l := newLearner(name)
	return l, d.engine.write(ctx, func(t tx) error { return addLearner(t, l) })
}

func newLearner(name string) Learner {
	return Learner{ID: newID(), Name: clean(name), Made: moment(time.Time{})}
}

func addLearner(t tx, l Learner) error {
	_, err := t.exec(stmts.addLearner, l.ID, l.Name, stampText(l.Made))
	return err
}

// LocalLearner returns the one learner of local mode, made when first asked for.
func (d *DB) LocalLearner(ctx context.Context) (Learner, error) {
	l, err := one(ctx, d, scanLearner, stmts.localLearner)
	if !errors.Is(err, ErrNotFound) {
		return l, err
	}
	err = d.engine.write(ctx, func(t tx) error {
		l = newLearner("")
		if err := addLearner(t, l); err != nil {
			return err
		}
		if n, err := t.exec(stmts.addLocal, l.ID); err != nil || n == 1 {
			return err
		}
		// Somebody was faster: theirs stays.
		if _, err := t.exec(stmts.dropLearner, l.ID); err != nil {
			return err
		}
		var err error
		l, err = scanLearner(t.queryRow(stmts.localLearner))
		return err
	})
	return l, err
}

// Learner returns the learner with this id.
func (d *DB) Learner(ctx context.Context, id string) (Learner, error) {
	return one(ctx, d, scanLearner, stmts.learner, id)
}

// NameLearner changes the displayed name.
func (d *DB) NameLearner(ctx context.Context, id, name string) error {
	return d.engine.write(ctx, func(t tx) error {
		n, err := t.exec(stmts.nameLearner, id, clean(name))
		if err == nil && n == 0 {
			return ErrNotFound
		}
		return err
	})
}

// MeetPause keeps that a learner got through a pause with this problem. The same
// problem counts once.
func (d *DB) MeetPause(ctx context.Context, m NewPauseMet) error {
	if m.Pause == "" {
		return invalid("a pause without an id")
	}
	made := stampText(moment(m.Made))
	return d.engine.write(ctx, func(t tx) error {
		h, err := scanHanded(t.queryRow(stmts.handed, m.Handed))
		if err != nil {
			return readError(err)
		}
		if h.Learner != m.Learner {
			return ErrNotFound
		}
		_, err = t.exec(stmts.meetPause, m.Learner, m.Pause, m.Handed, made)
		return err
	})
}

// PausesMet returns the pauses a learner has met, by pause id.
func (d *DB) PausesMet(ctx context.Context, learner string) ([]PauseMet, error) {
	return list(ctx, d, scanPauseMet, stmts.pausesMet, learner)
}

// Set keeps a setting of a learner.
func (d *DB) Set(ctx context.Context, learner, name, value string) error {
	if name == "" {
		return invalid("a setting without a name")
	}
	return d.engine.write(ctx, func(t tx) error {
		if _, err := scanLearner(t.queryRow(stmts.learner, learner)); err != nil {
			return readError(err)
		}
		_, err := t.exec(stmts.set, learner, clean(name), clean(value))
		return err
	})
}

// Settings returns all settings of a learner by name.
func (d *DB) Settings(ctx context.Context, learner string) (map[string]string, error) {
	type pair struct{ name, value string }
	pairs, err := list(ctx, d, func(r row) (p pair, err error) {
		err = r.Scan(&p.name, &p.value)
		return p, err
	}, stmts.settings, learner)
	if err != nil {
		return nil, err
	}
	all := make(map[string]string, len(pairs))
	for _, p := range pairs {
		all[p.name] = p.value
	}
	return all, nil
}
