package learner

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"time"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"
)

// Desk is where one learner works when nobody else is in between: it hands out
// problems and keeps what is done on them, in the records that the pages use too.
type Desk struct {
	Course  *lessons.Course
	Store   store.Store
	Learner string // id
	Rules   grader.Rules
	Program string           // version of the program, kept with each problem
	Now     func() time.Time // when it is
	Seed    func() uint64    // of a new problem
}

// Plan is where the learner stands and what comes next.
func (d *Desk) Plan(ctx context.Context) (*Plan, error) {
	past, err := History(ctx, d.Store, d.Learner)
	if err != nil {
		return nil, err
	}
	return PlanFor(d.Course, past, d.Now()), nil
}

// PauseBefore is the pause that has to be met before a problem; nil for none.
func (d *Desk) PauseBefore(ctx context.Context, t *problem.Template) (*problem.Template, error) {
	list, err := d.Store.PausesMet(ctx, d.Learner)
	if err != nil {
		return nil, err
	}
	met := make(map[string]store.PauseMet, len(list))
	for _, m := range list {
		met[m.Pause] = m
	}
	id := PauseBefore(d.Course, t, met, d.Now())
	if id == "" {
		return nil, nil
	}
	return d.Course.Template(id)
}

// Hand draws a problem and keeps it as handed out, with its reason in words and the
// help that stands beside it.
func (d *Desk) Hand(ctx context.Context, t *problem.Template, why string, beside Help) (*Task, error) {
	v, err := t.Draw(d.Seed())
	if err != nil {
		return nil, err
	}
	kept, err := Keep(v, beside)
	if err != nil {
		return nil, fmt.Errorf("template %s, seed %d: %w", t.ID, v.Seed, err)
	}
	h, err := d.Store.Hand(ctx, store.NewHanded{
		Learner: d.Learner, Key: rand.Text(), Program: d.Program, Seed: v.Seed, Kept: kept, Why: why, Made: d.Now(),
		Source: store.Source{Hash: t.Hash, Template: t.ID, Text: string(t.Text)},
	})
	if err != nil {
		return nil, err
	}
	return d.taskOf(store.Work{Handed: h}, v)
}

// Unfinished is the last problem of a kind if it is still open; nil otherwise. One
// that was handed out from another version of its template is left to the pages.
func (d *Desk) Unfinished(ctx context.Context, t *problem.Template) (*Task, error) {
	h, err := d.Store.LatestHanded(ctx, d.Learner, t.ID)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil || h.Source != t.Hash {
		return nil, err
	}
	w, err := d.Store.Work(ctx, h.ID)
	if err != nil {
		return nil, err
	}
	v, err := t.Draw(h.Seed)
	if err != nil {
		return nil, err
	}
	k, err := d.taskOf(w, v)
	if err != nil || k.Closed() || k.Changed {
		return nil, err
	}
	return k, nil
}

func (d *Desk) taskOf(w store.Work, v *problem.Values) (*Task, error) {
	page, err := v.Template.Page(v)
	if err != nil {
		return nil, err
	}
	return NewTask(w, v, page, d.Rules)
}

// again reads what was kept of a task anew.
func (d *Desk) again(ctx context.Context, k *Task) error {
	w, err := d.Store.Work(ctx, k.Work.Handed.ID)
	if err != nil {
		return err
	}
	k.Work, k.Questions = w, States(k.Template, &w, d.Rules)
	return nil
}

// staleTries is how often an answer is marked anew because another one, from a page
// that stands open beside, came in between.
const staleTries = 5

// ErrClosed tells that a question was closed meanwhile, from somewhere else.
var ErrClosed = errors.New("the question closed in the meantime; what was typed was not marked")

// Answer marks and keeps an answer to question i.
func (d *Desk) Answer(ctx context.Context, k *Task, i int, text string) (*grader.Marked, error) {
	key := rand.Text()
	for try := 1; ; try++ {
		if k.Questions[i].Closed() {
			return nil, ErrClosed
		}
		a, m, err := k.Marked(i, text, d.Rules)
		if err != nil {
			return nil, err
		}
		a.Key = key
		_, err = d.Store.Submit(ctx, store.Submission{Handed: k.Work.Handed.ID, Answers: []store.Answer{a}, After: k.Work.Seen(), Made: d.Now()})
		if err != nil && (!errors.Is(err, store.ErrStale) || try == staleTries) {
			return nil, err
		}
		if again := d.again(ctx, k); again != nil || err == nil {
			return m, again
		}
	}
}

// Open keeps that something of question i was opened, one of the words of the store.
func (d *Desk) Open(ctx context.Context, k *Task, i int, what string, number int) error {
	_, err := d.Store.AddOpened(ctx, store.NewOpened{Handed: k.Work.Handed.ID, Question: k.Questions[i].Question.ID, What: what, Number: number, Made: d.Now()})
	if err != nil {
		return err
	}
	return d.again(ctx, k)
}

// Met keeps that a pause was got through, if every answer of it is right, and that
// it explained itself where one closed without.
func (d *Desk) Met(ctx context.Context, k *Task) error {
	if k.Right() {
		return d.Store.MeetPause(ctx, store.NewPauseMet{Learner: d.Learner, Pause: k.Template.ID, Handed: k.Work.Handed.ID, Made: d.Now()})
	}
	for i := range k.Questions {
		if st := &k.Questions[i]; st.Closed() && !st.Right {
			if err := d.Open(ctx, k, i, store.Explained, 0); err != nil {
				return err
			}
		}
	}
	return nil
}
