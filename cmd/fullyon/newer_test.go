package main

import (
	"database/sql"
	"testing"

	_ "modernc.org/sqlite" // writes what this version of the program would not
)

// later marks a database as one that a later version has brought up to date.
func later(t *testing.T, file string) {
	t.Helper()
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`insert into goose_db_version (version_id, is_applied) values (9999, 1)`); err != nil {
		t.Fatal(err)
	}
}
