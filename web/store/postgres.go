package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// maxConnections bounds the connections of one process, so that several
// processes fit the hundred that a server allows as it comes.
const maxConnections = 20

// OpenPostgres opens a PostgreSQL database by its URL (postgres://…) and brings
// it up to SchemaVersion; of several processes that start at once, one migrates
// and the others wait. Any number of processes may share a database. Errors name
// the server and the database, never the password.
func OpenPostgres(ctx context.Context, url string) (*DB, error) {
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return nil, errors.New("the database address cannot be read; write it as postgres://user@host:5432/name")
	}
	e := &postgresEngine{name: fmt.Sprintf("database %s on %s:%d", config.Database, config.Host, config.Port)}
	e.db = stdlib.OpenDB(*config)
	e.db.SetMaxOpenConns(maxConnections)
	e.db.SetMaxIdleConns(maxConnections)
	if err := e.migrate(ctx); err != nil {
		return nil, errors.Join(e.named(err), e.db.Close())
	}
	return &DB{engine: e, read: &reader{db: e.db}}, nil
}

type postgresEngine struct {
	name   string
	db     *sql.DB
	closed atomic.Bool
}

// named says which database an error of opening is about.
func (e *postgresEngine) named(err error) error {
	var newer newerError
	if errors.As(err, &newer) {
		return fmt.Errorf("%s: written by a newer Fully On (schema %d, this one knows %d); run that version, or give another database: %w", e.name, int64(newer), SchemaVersion, ErrNewer)
	}
	var c *pgconn.ConnectError
	if errors.As(err, &c) {
		return fmt.Errorf("%s cannot be reached; see that the server runs, and that address, user and password are right: %w", e.name, ErrUnreachable)
	}
	return fmt.Errorf("%s: %w", e.name, err)
}

func (e *postgresEngine) migrate(ctx context.Context) error {
	if err := e.db.PingContext(ctx); err != nil {
		return err
	}
	dir, err := fs.Sub(migrations, "migrations/postgres")
	if err != nil {
		return err
	}
	locker, err := lock.NewPostgresSessionLocker()
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectPostgres, e.db, dir, goose.WithSessionLocker(locker),
		goose.WithDisableGlobalRegistry(true), goose.WithLogger(goose.NopLogger()))
	if err != nil {
		return fmt.Errorf("migrations: %w", err)
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("migrate to schema %d: %w", SchemaVersion, err)
	}
	var version int64
	if err := e.db.QueryRowContext(ctx, versionQuery).Scan(&version); err != nil {
		return err
	}
	if version > SchemaVersion {
		return newerError(version)
	}
	return nil
}

// maxRetries is how often a transaction that met another one is run again.
const maxRetries = 12

// write runs f in one serializable transaction. Where two transactions met, the
// database lets one of them fail, and that one is run again a little later.
func (e *postgresEngine) write(ctx context.Context, f func(tx) error) error {
	for try := 0; ; try++ {
		if e.closed.Load() {
			return ErrClosed
		}
		err := e.once(ctx, f)
		if try == maxRetries || !met(err) {
			return err
		}
		pause := time.Duration(1+rand.IntN(4<<min(try, 6))) * time.Millisecond
		select {
		case <-time.After(pause):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// met tells whether an error comes from two transactions that met: a
// serialization failure, a deadlock, or a row that the other one added first.
func met(err error) bool {
	var pg *pgconn.PgError
	if !errors.As(err, &pg) {
		return false
	}
	switch pg.Code {
	case "40001", "40P01", "23505":
		return true
	}
	return false
}

func (e *postgresEngine) once(ctx context.Context, f func(tx) error) (err error) {
	t, err := e.db.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelSerializable})
	if err != nil {
		return err
	}
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("store: write panicked: %v", p)
		}
		if err != nil {
			t.Rollback()
		}
	}()
	if err := f(postgresTx{ctx, t}); err != nil {
		return err
	}
	return t.Commit()
}

func (e *postgresEngine) close() error {
	e.closed.Store(true)
	return e.db.Close()
}

// backup copies all records into a new SQLite file, which this program can open
// and restore from on any machine.
func (e *postgresEngine) backup(ctx context.Context, file string) error {
	return backupTo(ctx, &DB{engine: e, read: &reader{db: e.db}}, file)
}

// postgresTx is a running transaction of PostgreSQL. pgx keeps each statement
// prepared on its connection.
type postgresTx struct {
	ctx context.Context
	tx  *sql.Tx
}

func (t postgresTx) queryRow(text string, args ...any) row {
	return t.tx.QueryRowContext(t.ctx, text, args...)
}

func (t postgresTx) exec(text string, args ...any) (int64, error) {
	res, err := t.tx.ExecContext(t.ctx, text, args...)
	if err != nil {
		return 0, err
	}
	return res.RowsAffected()
}
