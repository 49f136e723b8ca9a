package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strings"
)

// table is one table of the schema, as copying needs to know it.
type table struct {
	name    string
	columns []string
	order   string
	seq     bool // seq is given by the database and kept when copied
}

// tables lists all tables, each after those it refers to.
var tables = []table{
	{"learner", []string{"seq", "id", "name", "made"}, "seq", true},
	{"local_learner", []string{"one", "learner"}, "one", false},
	{"template_source", []string{"hash", "template", "source", "made"}, "hash", false},
	{"handed", []string{"seq", "id", "learner", "key", "template", "source", "program", "seed", "kept", "why", "made"}, "seq", true},
	{"attempt", []string{"seq", "id", "handed", "learner", "question", "key", "number", "try", "helped", "text", "working", "outcome", "slip", "marks", "result", "made"}, "seq", true},
	{"opened", []string{"seq", "id", "handed", "question", "what", "number", "made"}, "seq", true},
	{"pause_met", []string{"learner", "pause", "handed", "made"}, "learner, pause, handed", false},
	{"setting", []string{"learner", "name", "value"}, "learner, name", false},
	{"instance", []string{"one", "secret", "made"}, "one", false},
	{"account", []string{"seq", "id", "learner", "login", "passphrase", "code", "instructor", "active", "made"}, "seq", true},
	{"class", []string{"seq", "id", "title", "secret", "round", "joining", "made", "ended"}, "seq", true},
	{"member", []string{"class", "account", "role", "external", "team", "active", "made"}, "class, account", false},
	{"session", []string{"hash", "account", "made", "seen", "expires"}, "hash", false},
	{"invitation", []string{"hash", "class", "role", "setup", "made", "expires"}, "hash", false},
	{"knock", []string{"name", "count", "until"}, "name", false},
	{"problem_set", []string{"seq", "id", "class", "rules", "revision", "made", "released"}, "seq", true},
	{"allowance", []string{"set_id", "learner", "rules", "made"}, "set_id, learner", false},
	{"set_draw", []string{"set_id", "learner", "template", "n", "handed"}, "set_id, learner, template, n", false},
	{"mark_override", []string{"seq", "id", "key", "handed", "question", "attempt", "marks", "reason", "author", "made"}, "seq", true},
	{"second_look", []string{"seq", "id", "key", "class", "set_id", "handed", "question", "text", "state", "reply", "author", "made", "answered"}, "seq", true},
	{"draft", []string{"handed", "question", "text", "working", "made"}, "handed, question", false},
}

// copyBatch is how many records go over in one transaction.
const copyBatch = 500

// CopyInto copies all records of d into an empty store of either kind: a class
// moves from SQLite to PostgreSQL or back, or from a backup, without loss. What
// is added to d meanwhile may be left out. A store with records is refused.
func (d *DB) CopyInto(ctx context.Context, to *DB) error {
	for _, t := range tables {
		full, err := one(ctx, to, scanOne[bool], `select exists (select 1 from `+t.name+`)`)
		if err != nil {
			return err
		}
		if full {
			return fmt.Errorf("%w: the database to copy into has records already; give an empty one", ErrExists)
		}
	}
	// One view of the source, so that no attempt arrives without its problem.
	view, err := d.read.db.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelSerializable, ReadOnly: true})
	if err != nil {
		return err
	}
	defer view.Rollback()
	for _, t := range tables {
		if err := copyTable(ctx, view, to, t); err != nil {
			return fmt.Errorf("copy of %s: %w", t.name, err)
		}
	}
	return to.engine.copied(ctx)
}

func copyTable(ctx context.Context, from *sql.Tx, to *DB, t table) error {
	rows, err := from.QueryContext(ctx, `select `+strings.Join(t.columns, ", ")+` from `+t.name+` order by `+t.order)
	if err != nil {
		return err
	}
	defer rows.Close()
	insert := t.insert()
	var batch [][]any
	flush := func() error {
		err := to.engine.write(ctx, func(x tx) error {
			for _, values := range batch {
				if _, err := x.exec(insert, values...); err != nil {
					return err
				}
			}
			return nil
		})
		batch = nil
		return err
	}
	for rows.Next() {
		values, places := make([]any, len(t.columns)), make([]any, len(t.columns))
		for i := range values {
			places[i] = &values[i]
		}
		if err := rows.Scan(places...); err != nil {
			return err
		}
		if batch = append(batch, values); len(batch) == copyBatch {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	return errors.Join(rows.Err(), flush())
}

func (t table) insert() string {
	places := make([]string, len(t.columns))
	for i := range places {
		places[i] = fmt.Sprint("$", i+1)
	}
	return `insert into ` + t.name + ` (` + strings.Join(t.columns, ", ") + `) values (` + strings.Join(places, ", ") + `)`
}

// copied sets what gives the next seq after those that were copied.
func (e *postgresEngine) copied(ctx context.Context) error {
	return e.write(ctx, func(x tx) error {
		for _, t := range tables {
			if !t.seq {
				continue
			}
			var next int64
			if err := x.queryRow(`select setval(pg_get_serial_sequence('` + t.name + `', 'seq'), (select coalesce(max(seq), 0) + 1 from ` + t.name + `), false)`).Scan(&next); err != nil {
				return err
			}
		}
		return nil
	})
}

// copied has nothing to do in SQLite: the next seq is one above the highest.
func (e *sqliteEngine) copied(context.Context) error { return nil }

// backupTo writes the records of d into a new SQLite file. The file gets its
// name only when it is whole.
func backupTo(ctx context.Context, d *DB, file string) (err error) {
	if _, err := os.Lstat(file); err == nil {
		return &FileError{Path: file, Problem: "exists already", Remedy: "give a new name for the backup", Kind: ErrExists}
	}
	part := file + "." + newID() + ".part"
	defer func() {
		if err != nil {
			os.Remove(part)
			os.Remove(part + "-wal")
			os.Remove(part + "-shm")
		}
	}()
	to, err := Open(ctx, part)
	if err != nil {
		return err
	}
	if err := d.CopyInto(ctx, to); err != nil {
		return errors.Join(err, to.Close())
	}
	if err := to.Backup(ctx, file); err != nil { // compacted, and without a log beside it
		return errors.Join(err, to.Close())
	}
	err = to.Close()
	os.Remove(part)
	os.Remove(part + "-wal")
	os.Remove(part + "-shm")
	return err
}
