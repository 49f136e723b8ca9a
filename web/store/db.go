package store

import (
	"context"
	"database/sql"
	"errors"
	"sync"
	"sync/atomic"
)

// DB is a Store over an SQL database.
type DB struct {
	engine engine
	read   *reader
}

// An engine is one kind of database: how it writes, copies itself and closes.
type engine interface {
	// write runs f in a transaction that is durable when write returns nil.
	// f may be run again, and must do nothing but call its tx.
	write(ctx context.Context, f func(tx) error) error
	backup(ctx context.Context, file string) error
	// copied is called once all records of another database were copied in.
	copied(ctx context.Context) error
	close() error
}

// A tx is a running transaction.
type tx interface {
	queryRow(text string, args ...any) row
	exec(text string, args ...any) (changed int64, err error)
}

// A row is one result row, or the reason why there is none.
type row interface {
	Scan(dest ...any) error
}

// reader runs queries on the reading connections, each prepared once.
type reader struct {
	db       *sql.DB
	prepared sync.Map // text → *sql.Stmt
	closed   atomic.Bool
}

func (r *reader) stmt(ctx context.Context, text string) (*sql.Stmt, error) {
	if s, ok := r.prepared.Load(text); ok {
		return s.(*sql.Stmt), nil
	}
	s, err := r.db.PrepareContext(ctx, text)
	if err != nil {
		return nil, err
	}
	if first, loaded := r.prepared.LoadOrStore(text, s); loaded {
		s.Close()
		return first.(*sql.Stmt), nil
	}
	return s, nil
}

// close closes statements and connections.
func (r *reader) close() error {
	r.closed.Store(true)
	r.prepared.Range(func(_, s any) bool { s.(*sql.Stmt).Close(); return true })
	return r.db.Close()
}

// one reads a single record; none is ErrNotFound.
func one[T any](ctx context.Context, d *DB, scan func(row) (T, error), text string, args ...any) (T, error) {
	s, err := d.read.stmt(ctx, text)
	if err != nil {
		var none T
		return none, d.read.failed(err)
	}
	v, err := scan(s.QueryRowContext(ctx, args...))
	return v, d.read.failed(err)
}

// list reads all records of a query.
func list[T any](ctx context.Context, d *DB, scan func(row) (T, error), text string, args ...any) ([]T, error) {
	s, err := d.read.stmt(ctx, text)
	if err != nil {
		return nil, d.read.failed(err)
	}
	rows, err := s.QueryContext(ctx, args...)
	if err != nil {
		return nil, d.read.failed(err)
	}
	defer rows.Close()
	var all []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, d.read.failed(err)
		}
		all = append(all, v)
	}
	return all, d.read.failed(rows.Err())
}

// failed says what an error of a query means; nil stays nil.
func (r *reader) failed(err error) error {
	if err != nil && r.closed.Load() {
		return ErrClosed
	}
	return readError(err)
}

func readError(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	return err
}

// Version returns the number of the last migration the database has.
func (d *DB) Version(ctx context.Context) (int64, error) {
	return one(ctx, d, scanOne[int64], versionQuery)
}

// Backup writes a whole copy to a new file while the store stays in use.
func (d *DB) Backup(ctx context.Context, file string) error { return d.engine.backup(ctx, file) }

// Close ends the store once the writes under way are finished.
func (d *DB) Close() error { return errors.Join(d.read.close(), d.engine.close()) }

func scanOne[T any](r row) (v T, err error) {
	err = r.Scan(&v)
	return v, err
}
