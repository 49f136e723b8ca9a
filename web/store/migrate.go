package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"time"

	"github.com/pressly/goose/v3"
)

// SchemaVersion is the number of the last migration this program knows. A
// migration that was released is never edited; the next one gets the next number.
const SchemaVersion = 2

// migrations has one folder for each kind of database, with the same numbers.
//
//go:embed migrations
var migrations embed.FS

// versionQuery asks the table that the migrations keep.
const versionQuery = `select coalesce(max(version_id), 0) from goose_db_version where is_applied`

// newerError is the schema version of a database that this program does not know.
type newerError int64

func (e newerError) Error() string {
	return fmt.Sprintf("schema %d is newer than this program", int64(e))
}

// migrateSQLite brings a database up to SchemaVersion. Each migration is one
// transaction. If another process migrates the same file at the same moment,
// one of them fails at a table that exists already: then look again who is done.
func migrateSQLite(ctx context.Context, db *sql.DB) error {
	dir, err := fs.Sub(migrations, "migrations/sqlite")
	if err != nil {
		return err
	}
	for wait := 10 * time.Millisecond; ; wait *= 2 {
		p, err := goose.NewProvider(goose.DialectSQLite3, db, dir, goose.WithDisableGlobalRegistry(true), goose.WithLogger(goose.NopLogger()))
		if err != nil {
			return fmt.Errorf("migrations: %w", err)
		}
		if _, err = p.Up(ctx); err == nil {
			return nil
		}
		var version int64
		if db.QueryRowContext(ctx, versionQuery).Scan(&version) == nil && version >= SchemaVersion {
			return nil
		}
		if wait > 200*time.Millisecond {
			return fmt.Errorf("migrate to schema %d: %w", SchemaVersion, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(wait):
		}
	}
}
