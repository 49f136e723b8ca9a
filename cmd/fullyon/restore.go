package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fullyon/web/store"
)

// restoreCmd brings back the records of a backup.
type restoreCmd struct {
	File string `arg:"" help:"File that fullyon backup wrote."`
	recordFlags
}

// Help shows an example.
func (restoreCmd) Help() string {
	return "Example, into a new folder:\n\n    fullyon restore monday.db --data records\n\n" +
		"Nothing is overwritten: the folder must hold no records yet, and a database must be empty. The backup itself is not changed."
}

// Run copies the records to their place.
func (c restoreCmd) Run(w *world) (err error) {
	at, err := c.place(w)
	if err != nil {
		return err
	}
	if at.file != "" && at.there() {
		return bad("%s has records already, and they are not overwritten; name an empty folder with --data DIR", at.told)
	}
	from, tidy, err := openCopy(w.ctx, c.File)
	if err != nil {
		return err
	}
	defer tidy()
	defer func() { err = cmp.Or(err, from.Close()) }()
	if at.file != "" {
		err = restoreFile(w.ctx, from, at.file)
	} else {
		err = restoreDatabase(w.ctx, from, at)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(w.stdout, "The records of %s are now in %s\n", c.File, at.told)
	return nil
}

// openCopy opens a copy of a backup: an older one is brought up to date in opening,
// and the file that somebody keeps is to stay as it is.
func openCopy(ctx context.Context, file string) (db *store.DB, tidy func(), err error) {
	in, err := os.Open(file)
	if err != nil {
		return nil, nil, bad("%w; give the path of a backup", err)
	}
	defer in.Close()
	dir, err := os.MkdirTemp("", "fullyon-restore-")
	if err != nil {
		return nil, nil, err
	}
	tidy = func() { os.RemoveAll(dir) }
	defer func() {
		if err != nil {
			tidy()
		}
	}()
	copied := filepath.Join(dir, filepath.Base(file))
	out, err := os.OpenFile(copied, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, nil, err
	}
	n, err := io.Copy(out, in)
	if err = errors.Join(err, out.Close()); err != nil {
		return nil, nil, bad("%s: %w", file, err)
	}
	if n == 0 {
		return nil, nil, bad("%s is empty; give the path of a backup", file)
	}
	if db, err = store.Open(ctx, copied); err != nil {
		if f, ok := errors.AsType[*store.FileError](err); ok {
			f.Path = file // the copy is nothing to the user
		}
		return nil, nil, fileFault(err)
	}
	return db, tidy, nil
}

// restoreFile writes the records into a new file, which gets its name when it is whole.
func restoreFile(ctx context.Context, from *store.DB, file string) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return bad("%w; name a folder that can be written with --data DIR", err)
	}
	return fileFault(from.Backup(ctx, file))
}

// restoreDatabase copies the records into an empty database.
func restoreDatabase(ctx context.Context, from *store.DB, at place) (err error) {
	to, err := at.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = cmp.Or(err, to.Close()) }()
	switch err := from.CopyInto(ctx, to); {
	case errors.Is(err, store.ErrExists):
		return bad("%s has records already, and they are not overwritten; name an empty database", at.told)
	case err != nil:
		return fmt.Errorf("%s holds only a part of the records now; empty it before you try again: %w", at.told, err)
	}
	return nil
}
