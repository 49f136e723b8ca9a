package main

import (
	"cmp"
	"fmt"
	"path/filepath"
)

// backupCmd copies all records into one file.
type backupCmd struct {
	File string `arg:"" help:"File to write; it must not be there yet."`
	recordFlags
}

// Help shows an example.
func (backupCmd) Help() string {
	return "Example:\n\n    fullyon backup monday.db\n\n" +
		"The program may serve meanwhile. The file holds everything as of one moment, from a PostgreSQL database too; " +
		"fullyon restore brings it back, on this system or another."
}

// Run writes the file.
func (c backupCmd) Run(w *world) (err error) {
	at, err := c.place(w)
	if err != nil {
		return err
	}
	if !at.there() {
		return bad("there are no records in %s yet; name their folder with --data DIR", at.told)
	}
	file, err := filepath.Abs(c.File)
	if err != nil {
		return bad("%w", err)
	}
	records, err := at.open(w.ctx)
	if err != nil {
		return err
	}
	defer func() { err = cmp.Or(err, records.Close()) }()
	if err := records.Backup(w.ctx, file); err != nil {
		return fileFault(err)
	}
	fmt.Fprintf(w.stdout, "The records of %s are copied into %s\n", at.told, file)
	return nil
}
