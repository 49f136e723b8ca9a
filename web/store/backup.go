package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"os"
)

// backup copies the database as of one moment into a new file, compacted. The
// file gets its name only when it is whole and on the disk.
func (e *sqliteEngine) backup(ctx context.Context, file string) (err error) {
	if _, err := os.Lstat(file); err == nil {
		return &FileError{Path: file, Problem: "exists already", Remedy: "give a new name for the backup", Kind: ErrExists}
	}
	part := file + "." + rand.Text() + ".part"
	if err := touchNew(part); err != nil {
		return (&sqliteEngine{path: file}).fileError(err)
	}
	defer func() {
		if err != nil {
			os.Remove(part)
		}
	}()
	// A connection of its own: VACUUM INTO is a long read, and refused to the
	// readers, which are query_only.
	db, err := sql.Open("sqlite", e.dsn())
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "vacuum into $1", part)
	if err = errors.Join(err, db.Close()); err != nil {
		return fmt.Errorf("backup to %s: %w", file, err)
	}
	if err := syncFile(part); err != nil {
		return fmt.Errorf("backup to %s: %w", file, err)
	}
	return os.Rename(part, file)
}

// touchNew makes an empty file readable by this user alone.
func touchNew(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
