package store

import (
	"context"
	"errors"
	"math"
)

// Submit keeps the marked answers to one problem, all or none, and returns one
// attempt for each in the order given. See Store.Submit.
func (d *DB) Submit(ctx context.Context, s Submission) ([]Attempt, error) {
	made := moment(s.Made)
	wanted := make([]Attempt, len(s.Answers))
	keys := map[string]bool{}
	for i, a := range s.Answers {
		switch {
		case a.Key == "" || a.Question == "" || a.Outcome == "":
			return nil, invalid("an answer without key, question or outcome")
		case keys[a.Key]:
			return nil, invalid("two answers under the key %q", a.Key)
		case math.IsNaN(a.Marks) || math.IsInf(a.Marks, 0):
			return nil, invalid("marks of %v", a.Marks)
		case a.Try < 0:
			return nil, invalid("try %d", a.Try)
		}
		keys[a.Key] = true
		result, err := cleanJSON("the result of marking", a.Result)
		if err != nil {
			return nil, err
		}
		wanted[i] = Attempt{
			ID: newID(), Handed: s.Handed, Question: clean(a.Question), Key: clean(a.Key), Try: a.Try,
			Text: clean(a.Text), Working: clean(a.Working), Outcome: a.Outcome, Slip: a.Slip,
			Marks: a.Marks, Result: []byte(result), Made: made,
		}
	}
	var kept []Attempt
	err := d.engine.write(ctx, func(t tx) (err error) {
		kept, err = submit(t, s, wanted)
		return err
	})
	if err != nil {
		return nil, err
	}
	return kept, nil
}

func submit(t tx, s Submission, wanted []Attempt) ([]Attempt, error) {
	kept := make([]Attempt, len(wanted))
	repeated := make([]bool, len(wanted))
	news := false
	for i, a := range wanted {
		first, err := scanAttempt(t.queryRow(stmts.attemptByKey, a.Key))
		switch err = readError(err); {
		case errors.Is(err, ErrNotFound):
			news = true
		case err != nil:
			return nil, err
		case first.Handed != a.Handed || first.Question != a.Question:
			return nil, ErrKeyReused // never show what is kept under it: it may be another learner's
		default:
			kept[i], repeated[i] = first, true
		}
	}
	if !news && len(wanted) > 0 {
		return kept, nil
	}
	var now Seen
	if err := t.queryRow(stmts.seen, s.Handed).Scan(&now.Attempts, &now.Opened); err != nil {
		return nil, readError(err)
	}
	if s.After != nil && *s.After != now {
		return nil, ErrStale
	}
	for i, a := range wanted {
		if repeated[i] {
			continue
		}
		err := t.queryRow(stmts.addAttempt, a.ID, a.Handed, a.Question, a.Key, a.Try, a.Text, a.Working,
			a.Outcome, a.Slip, a.Marks, string(a.Result), stampText(a.Made)).Scan(&a.Number, &a.Helped)
		if err != nil {
			return nil, err
		}
		kept[i] = a
	}
	return kept, nil
}

// Attempt returns one attempt.
func (d *DB) Attempt(ctx context.Context, id string) (Attempt, error) {
	return one(ctx, d, scanAttempt, stmts.attempt, id)
}

// AttemptsOf returns the attempts at a problem, oldest first.
func (d *DB) AttemptsOf(ctx context.Context, handed string) ([]Attempt, error) {
	return list(ctx, d, scanAttempt, stmts.attemptsOf, handed)
}

// AddOpened keeps that a hint or an answer was opened, or a diagnosis withdrawn.
// The same opening twice is kept once.
func (d *DB) AddOpened(ctx context.Context, n NewOpened) (Opened, error) {
	switch n.What {
	case Hint, ShownKey, CarryOn, NotThat, Explained, Step:
	default:
		return Opened{}, invalid("%q cannot be opened", n.What)
	}
	if n.Question == "" {
		return Opened{}, invalid("an opening without a question")
	}
	made := stampText(moment(n.Made))
	var kept Opened
	err := d.engine.write(ctx, func(t tx) error {
		var now Seen
		if err := t.queryRow(stmts.seen, n.Handed).Scan(&now.Attempts, &now.Opened); err != nil {
			return readError(err)
		}
		question := clean(n.Question)
		if _, err := t.exec(stmts.addOpened, newID(), n.Handed, question, n.What, n.Number, made); err != nil {
			return err
		}
		var err error
		kept, err = scanOpened(t.queryRow(stmts.openedOnce, n.Handed, question, n.What, n.Number))
		return err
	})
	return kept, err
}

// OpenedOf returns what was opened in a problem, oldest first.
func (d *DB) OpenedOf(ctx context.Context, handed string) ([]Opened, error) {
	return list(ctx, d, scanOpened, stmts.openedOf, handed)
}

// Work returns a problem with all its attempts and openings. These are read one
// after the other; since both lists only grow, Submit notices if something came
// in between.
func (d *DB) Work(ctx context.Context, handed string) (w Work, err error) {
	if w.Handed, err = d.Handed(ctx, handed); err != nil {
		return Work{}, err
	}
	if w.Attempts, err = d.AttemptsOf(ctx, handed); err != nil {
		return Work{}, err
	}
	if w.Opened, err = d.OpenedOf(ctx, handed); err != nil {
		return Work{}, err
	}
	return w, nil
}

// pageLimit is the length of a page of history when none is asked for.
const pageLimit = 1000

// History returns a learner's attempts in the order they were kept.
func (d *DB) History(ctx context.Context, learner string, p Page) ([]Past, error) {
	if p.Limit <= 0 {
		p.Limit = pageLimit
	}
	return list(ctx, d, scanPast, stmts.history, learner, p.After, stampText(p.Since), p.Limit)
}

// Progress returns a learner's totals for each template handed to them, by
// template id.
func (d *DB) Progress(ctx context.Context, learner string) ([]Progress, error) {
	return list(ctx, d, scanProgress, stmts.progress, learner)
}
