package main

import (
	"context"
	"errors"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"fullyon/web/store"
)

// database is the name of the file with the records, in the data folder.
const database = "fullyon.db"

// recordFlags tell where the records lie.
type recordFlags struct {
	Data     string `placeholder:"DIR" help:"Folder for the records; without it $$FULLYON_DATA, else the folder for your data that the system keeps."`
	Database string `placeholder:"URL" help:"PostgreSQL database for the records instead, as postgres://user@host:5432/name; leave the password to $$PGPASSWORD or to ~/.pgpass."`
}

// place is where records lie, told without any password.
type place struct {
	file string // of SQLite; empty for PostgreSQL
	url  string
	told string
}

// place works out where the records lie.
func (f recordFlags) place(w *world) (place, error) {
	if f.Database == "" {
		dir, err := w.dataFolder(f.Data)
		return place{file: filepath.Join(dir, database), told: dir}, err
	}
	if f.Data != "" {
		return place{}, bad("--data and --database name two places; give one of them")
	}
	u, err := url.Parse(f.Database)
	if err != nil || u.Scheme != "postgres" && u.Scheme != "postgresql" || u.Host == "" {
		return place{}, bad("--database cannot be read; write it as postgres://user@host:5432/name")
	}
	return place{url: f.Database, told: "database " + strings.TrimPrefix(u.Path, "/") + " on " + u.Host}, nil
}

// there tells whether the place holds a file of records already; a database always may.
func (p place) there() bool {
	if p.file == "" {
		return true
	}
	_, err := os.Lstat(p.file)
	return err == nil
}

// open opens the records. What is wrong with the place is the user's to mend.
func (p place) open(ctx context.Context) (*store.DB, error) {
	if p.url != "" {
		db, err := store.OpenPostgres(ctx, p.url)
		if err != nil {
			return nil, bad("%w", err)
		}
		return db, nil
	}
	db, err := store.Open(ctx, p.file)
	return db, fileFault(err)
}

// fileFault makes what is wrong with a file of records a mistake in what was given.
func fileFault(err error) error {
	if _, ok := errors.AsType[*store.FileError](err); ok {
		return bad("%w", err)
	}
	return err
}

// passwords are those in addresses of databases.
var passwords = regexp.MustCompile(`postgres(?:ql)?://[^\s:@/]*:[^\s/]*@|password=[^\s&]*`)

// withoutPasswords takes passwords out of a message, in which a mistyped command
// line may be told again.
func withoutPasswords(s string) string {
	return passwords.ReplaceAllStringFunc(s, func(m string) string {
		if head, ok := strings.CutPrefix(m, "password="); ok {
			return strings.TrimSuffix(m, head) + "…"
		}
		scheme, rest, _ := strings.Cut(m, "://")
		user, _, _ := strings.Cut(rest, ":")
		return scheme + "://" + user + ":…@"
	})
}
