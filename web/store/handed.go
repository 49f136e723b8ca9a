package store

import (
	"context"
	"errors"
)

// Hand keeps a drawn problem as handed out, with its template's source. If the
// learner already has one under this key, that one is returned and nothing is kept.
func (d *DB) Hand(ctx context.Context, n NewHanded) (Handed, error) {
	h, kept, err := newHanded(n)
	if err != nil {
		return Handed{}, err
	}
	var first Handed
	err = d.engine.write(ctx, func(t tx) (err error) {
		first, err = hand(t, h, kept, n.Source)
		return err
	})
	if err != nil {
		return Handed{}, err
	}
	return first, nil
}

// newHanded is the record of a problem to be handed out, and what is kept of its
// draw as text.
func newHanded(n NewHanded) (h Handed, kept string, err error) {
	switch {
	case n.Key == "":
		return h, "", invalid("a problem handed out without a key")
	case n.Source.Hash == "" || n.Source.Template == "":
		return h, "", invalid("a problem handed out without its template's id and hash")
	case n.Seed > MaxSeed:
		return h, "", invalid("seed %d is above 2^53-1", n.Seed)
	}
	if kept, err = cleanJSON("what is kept of a draw", n.Kept); err != nil {
		return h, "", err
	}
	return Handed{
		ID: newID(), Learner: n.Learner, Key: clean(n.Key),
		Template: n.Source.Template, Source: n.Source.Hash, Program: clean(n.Program),
		Seed: n.Seed, Kept: []byte(kept), Why: clean(n.Why), Made: moment(n.Made),
	}, kept, nil
}

// hand keeps h unless the learner has a problem under its key: then that one is returned.
func hand(t tx, h Handed, kept string, source Source) (Handed, error) {
	first, err := scanHanded(t.queryRow(stmts.handedByKey, h.Learner, h.Key))
	if err == nil || !errors.Is(readError(err), ErrNotFound) {
		return first, err
	}
	if _, err := scanLearner(t.queryRow(stmts.learner, h.Learner)); err != nil {
		return Handed{}, readError(err)
	}
	if err := keepSource(t, source, stampText(h.Made)); err != nil {
		return Handed{}, err
	}
	if _, err := t.exec(stmts.addHanded, h.ID, h.Learner, h.Key, h.Template, h.Source, h.Program,
		int64(h.Seed), kept, h.Why, stampText(h.Made)); err != nil {
		return Handed{}, err
	}
	return scanHanded(t.queryRow(stmts.handedByKey, h.Learner, h.Key))
}

// keepSource keeps s unless its hash is kept already, with the same text.
func keepSource(t tx, s Source, made string) error {
	old, err := scanSource(t.queryRow(stmts.source, s.Hash))
	switch err = readError(err); {
	case err == nil && s.Text != "" && old.Text != s.Text:
		return ErrSource
	case !errors.Is(err, ErrNotFound):
		return err
	case s.Text == "":
		return ErrNoSource
	case clean(s.Text) != s.Text: // it would no longer match its hash
		return invalid("a template's source is not UTF-8 text")
	}
	_, err = t.exec(stmts.addSource, s.Hash, s.Template, s.Text, made)
	return err
}

// Handed returns a problem handed out.
func (d *DB) Handed(ctx context.Context, id string) (Handed, error) {
	return one(ctx, d, scanHanded, stmts.handed, id)
}

// LatestHanded returns the last problem of this template handed to the learner.
func (d *DB) LatestHanded(ctx context.Context, learner, template string) (Handed, error) {
	return one(ctx, d, scanHanded, stmts.latestHanded, learner, template)
}

// Source returns a template's source by its hash.
func (d *DB) Source(ctx context.Context, hash string) (Source, error) {
	return one(ctx, d, scanSource, stmts.source, hash)
}
