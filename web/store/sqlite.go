package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// applicationID marks our files, as PRAGMA application_id: "Fuln" in ASCII.
const applicationID = 0x46756c6e

// busyTimeout is how long another process may hold the database before we say so.
const busyTimeout = 5 * time.Second

// Open opens the SQLite database at path, makes it (with its directory, readable
// by this user alone) if there is none, and brings it up to SchemaVersion. What
// can be wrong with the file is told by a *FileError.
//
// Several processes may have the same file open.
func Open(ctx context.Context, path string) (*DB, error) {
	return open(ctx, path, busyTimeout)
}

func open(ctx context.Context, path string, busy time.Duration) (*DB, error) {
	e := &sqliteEngine{path: path, busy: busy}
	if err := e.open(ctx); err != nil {
		return nil, errors.Join(e.fileError(err), e.close())
	}
	return &DB{engine: e, read: &reader{db: e.reads}}, nil
}

type sqliteEngine struct {
	path   string
	busy   time.Duration
	reads  *sql.DB
	writes *sql.DB
	group  *group
}

func (e *sqliteEngine) open(ctx context.Context) error {
	fresh, err := touch(e.path)
	if err != nil {
		return err
	}
	version := int64(0)
	if !fresh {
		if version, err = e.probe(ctx); err != nil {
			return err
		}
	}
	if e.writes, err = sql.Open("sqlite", e.dsn("journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "temp_store(MEMORY)", "cache_size(-16000)")+"&_txlock=immediate"); err != nil {
		return err
	}
	e.writes.SetMaxOpenConns(1)
	if version < SchemaVersion {
		if err := migrateSQLite(ctx, e.writes); err != nil {
			return err
		}
	}
	conn, err := e.writes.Conn(ctx)
	if err != nil {
		return err
	}
	e.group = newGroup(conn)
	if e.reads, err = sql.Open("sqlite", e.dsn("query_only(1)", "temp_store(MEMORY)", "cache_size(-16000)")); err != nil {
		return err
	}
	n := max(4, runtime.GOMAXPROCS(0))
	e.reads.SetMaxOpenConns(n)
	e.reads.SetMaxIdleConns(n)
	return nil
}

// dsn names the file and what every new connection is told first. The time-out
// comes before the rest, which may have to wait for a lock.
func (e *sqliteEngine) dsn(pragmas ...string) string {
	q := url.Values{"_pragma": append([]string{fmt.Sprintf("busy_timeout(%d)", e.busy.Milliseconds())}, pragmas...)}
	p := filepath.ToSlash(e.path)
	return "file:" + (&url.URL{Path: p}).EscapedPath() + "?" + q.Encode()
}

// touch makes sure that path is a file that we may read and write and that is
// empty (fresh) or begins as an SQLite database does. SQLite itself would take a
// very short file of another kind for an empty one.
func touch(path string) (fresh bool, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return false, err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return false, err
	}
	defer f.Close()
	begin, err := io.ReadAll(io.LimitReader(f, int64(len(fileMagic))))
	if err == nil && len(begin) > 0 && string(begin) != fileMagic {
		err = errNotDatabase
	}
	return len(begin) == 0, err
}

// fileMagic is how every SQLite database begins.
const fileMagic = "SQLite format 3\x00"

var errNotDatabase = errors.New("not an SQLite database")

// probe tells whose database a file is before anything in it is touched, and
// returns its schema version.
func (e *sqliteEngine) probe(ctx context.Context) (version int64, err error) {
	db, err := sql.Open("sqlite", e.dsn("query_only(1)"))
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	tx, err := db.BeginTx(ctx, nil) // one view: another process may be just making it
	if err != nil {
		return 0, err
	}
	defer tx.Rollback()
	var id, tables int64
	if err := tx.QueryRowContext(ctx, "pragma application_id").Scan(&id); err != nil {
		return 0, err
	}
	if err := tx.QueryRowContext(ctx, "select count(*) from sqlite_schema where name not like 'goose%' and name not like 'sqlite%'").Scan(&tables); err != nil {
		return 0, err
	}
	if tables == 0 && (id == 0 || id == applicationID) {
		return 0, nil // empty so far
	}
	if id != applicationID {
		return 0, ErrNotOurs
	}
	if err := tx.QueryRowContext(ctx, versionQuery).Scan(&version); err != nil {
		return 0, err
	}
	if version > SchemaVersion {
		return 0, newerError(version)
	}
	return version, nil
}

func (e *sqliteEngine) write(ctx context.Context, f func(tx) error) error {
	err := e.group.write(ctx, f)
	if code(err) != 0 {
		return e.fileError(err)
	}
	return err
}

func (e *sqliteEngine) close() error {
	var errs []error
	if e.group != nil {
		errs = append(errs, e.group.close())
	}
	if e.reads != nil {
		errs = append(errs, e.reads.Close())
	}
	if e.writes != nil {
		errs = append(errs, e.writes.Close())
	}
	return errors.Join(errs...)
}

// code is SQLite's primary result code in err, or 0.
func code(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}

// fileError says what err means for the person who started the program.
func (e *sqliteEngine) fileError(err error) error {
	tell := func(kind error, problem, remedy string) error {
		return &FileError{Path: e.path, Problem: problem, Remedy: remedy, Kind: kind, Cause: err}
	}
	var newer newerError
	var path *fs.PathError
	switch c := code(err); {
	case errors.As(err, &newer):
		return tell(ErrNewer,
			fmt.Sprintf("was written by a newer Fully On (schema %d, this one knows %d)", int64(newer), int64(SchemaVersion)),
			"start the newer program, or choose another data folder")
	case errors.Is(err, ErrNotOurs):
		return tell(ErrNotOurs, "is a database of another program", "choose another data folder or file")
	case c == sqlite3.SQLITE_NOTADB, errors.Is(err, errNotDatabase):
		return tell(ErrNotOurs, "is not a database", "choose another data folder or file, or restore a backup")
	case c == sqlite3.SQLITE_BUSY, c == sqlite3.SQLITE_LOCKED:
		return tell(ErrLocked, "is locked by another process",
			"close the other program that uses it (another Fully On, a backup, a database browser) and try again")
	case c == sqlite3.SQLITE_CORRUPT:
		return tell(ErrDamaged, "is damaged", "restore the latest backup")
	case c == sqlite3.SQLITE_FULL:
		return tell(ErrFull, "cannot grow: the disk is full", "make room and try again")
	case c == sqlite3.SQLITE_CANTOPEN, c == sqlite3.SQLITE_READONLY, c == sqlite3.SQLITE_PERM, errors.Is(err, fs.ErrPermission):
		return tell(ErrUnwritable, "cannot be written",
			"give this user the right to write the file and its folder "+filepath.Dir(e.path)+", or choose another data folder")
	case errors.As(err, &path):
		return tell(ErrUnwritable, fmt.Sprintf("cannot be made or opened (%v)", path.Err), "choose another data folder")
	}
	return fmt.Errorf("%s: %w", e.path, err)
}
