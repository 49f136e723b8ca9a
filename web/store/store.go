// Package store remembers what learners did: the problems handed to them, every
// answer, opened hints, pauses met and settings. It knows SQL and nothing of
// pages; what a problem or a result means is the caller's matter, and both are
// kept as the JSON they came in.
//
// Rules that hold for every database behind it:
//
//   - A method that writes returns without error only once the record is
//     durable. A process killed at any moment loses nothing acknowledged.
//   - Everything that a browser may send twice carries a key. The first record
//     under a key stays; repeating it returns that record unchanged.
//   - Problems handed out and attempts are facts. They are added, never changed;
//     mastery and marks are computed from them.
//   - Ids are 16 random bytes in base32. Times are UTC with milliseconds.
//   - Text may hold anything a person can send. Bytes that no database can keep
//     (NUL, broken UTF-8) become U+FFFD.
//   - A missing record is ErrNotFound, a missing list is an empty one.
//
// The statements are the same for both kinds of database and stand in sql.go;
// opening, writing and migrating differ.
package store

import (
	"context"
	"time"
)

// A Store keeps the records. Open returns one on SQLite, OpenPostgres one on
// PostgreSQL. All methods may be called at once from many goroutines.
type Store interface {
	Classes // of class mode

	// AddLearner makes a learner. The name may be empty.
	AddLearner(ctx context.Context, name string) (Learner, error)
	// LocalLearner returns the one learner of local mode, made when first asked for.
	LocalLearner(ctx context.Context) (Learner, error)
	// Learner returns the learner with this id.
	Learner(ctx context.Context, id string) (Learner, error)
	// NameLearner changes the displayed name.
	NameLearner(ctx context.Context, id, name string) error

	// Hand keeps a drawn problem as handed out, with its template's source. If
	// the learner already has one under this key, that one is returned and
	// nothing is kept.
	Hand(ctx context.Context, h NewHanded) (Handed, error)
	// Handed returns a problem handed out.
	Handed(ctx context.Context, id string) (Handed, error)
	// LatestHanded returns the last problem of this template handed to the learner.
	LatestHanded(ctx context.Context, learner, template string) (Handed, error)
	// Source returns a template's source by its hash.
	Source(ctx context.Context, hash string) (Source, error)

	// Submit keeps the marked answers to one problem, all or none, and returns
	// one attempt for each in the order given. An answer whose key is known
	// returns the attempt kept first. ErrKeyReused: the key belongs to another
	// problem or question. ErrStale: something was added since the state the
	// answers were marked against; read again, mark again.
	Submit(ctx context.Context, s Submission) ([]Attempt, error)
	// Attempt returns one attempt.
	Attempt(ctx context.Context, id string) (Attempt, error)
	// AttemptsOf returns the attempts at a problem, oldest first.
	AttemptsOf(ctx context.Context, handed string) ([]Attempt, error)
	// AddOpened keeps that a hint or an answer was opened, or a diagnosis
	// withdrawn. The same opening twice is kept once.
	AddOpened(ctx context.Context, o NewOpened) (Opened, error)
	// OpenedOf returns what was opened in a problem, oldest first.
	OpenedOf(ctx context.Context, handed string) ([]Opened, error)
	// Work returns a problem with all its attempts and openings.
	Work(ctx context.Context, handed string) (Work, error)

	// History returns a learner's attempts in the order they were kept.
	History(ctx context.Context, learner string, page Page) ([]Past, error)
	// Progress returns a learner's totals for each template handed to them, by
	// template id.
	Progress(ctx context.Context, learner string) ([]Progress, error)

	// MeetPause keeps that a learner got through a pause with this problem. The
	// same problem counts once.
	MeetPause(ctx context.Context, m NewPauseMet) error
	// PausesMet returns the pauses a learner has met, by pause id.
	PausesMet(ctx context.Context, learner string) ([]PauseMet, error)

	// Set keeps a setting of a learner.
	Set(ctx context.Context, learner, name, value string) error
	// Settings returns all settings of a learner by name.
	Settings(ctx context.Context, learner string) (map[string]string, error)

	// Version returns the number of the last migration the database has.
	Version(ctx context.Context) (int64, error)
	// Backup writes a whole copy to a new file while the store stays in use.
	Backup(ctx context.Context, file string) error
	// Close ends the store once the writes under way are finished.
	Close() error
}

var _ Store = (*DB)(nil)

// stampLayout is how times are kept: UTC, milliseconds, fixed width, so that
// text order is time order.
const stampLayout = "2006-01-02T15:04:05.000Z"

// moment returns t as it will be read back; the zero time means now.
func moment(t time.Time) time.Time {
	if t.IsZero() {
		t = time.Now()
	}
	return t.UTC().Truncate(time.Millisecond)
}
