package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// raw runs SQL on a file without any of our settings.
func raw(t *testing.T, path string, texts ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, text := range texts {
		if _, err := db.Exec(text); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
	}
}

// made makes a database with one local learner and returns its path.
func made(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "made.db")
	d, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.LocalLearner(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestOpenRefuses(t *testing.T) {
	text := func(t *testing.T, content string) string {
		path := filepath.Join(t.TempDir(), "notes.txt")
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, c := range []struct {
		name string
		path func(t *testing.T) string
		kind error
		want string // after the path
	}{
		{
			"newer", func(t *testing.T) string {
				path := made(t)
				raw(t, path, `insert into goose_db_version (version_id, is_applied) values (7, 1)`)
				return path
			},
			ErrNewer,
			fmt.Sprintf(": was written by a newer Fully On (schema 7, this one knows %d); start the newer program, or choose another data folder", SchemaVersion),
		},
		{
			"text", func(t *testing.T) string { return text(t, strings.Repeat("Buy LED tape for the footlights.\n", 100)) },
			ErrNotOurs, ": is not a database; choose another data folder or file, or restore a backup",
		},
		{
			"short text", func(t *testing.T) string { return text(t, "x") },
			ErrNotOurs, ": is not a database; choose another data folder or file, or restore a backup",
		},
		{
			"another program's", func(t *testing.T) string {
				path := filepath.Join(t.TempDir(), "other.db")
				raw(t, path, `create table recipes (name text)`)
				return path
			},
			ErrNotOurs, ": is a database of another program; choose another data folder or file",
		},
		{
			"marked by another program", func(t *testing.T) string {
				path := filepath.Join(t.TempDir(), "other.db")
				raw(t, path, `pragma application_id = 7`, `create table learner (name text)`)
				return path
			},
			ErrNotOurs, ": is a database of another program; choose another data folder or file",
		},
		{
			"a folder", func(t *testing.T) string { return t.TempDir() },
			ErrUnwritable, ": cannot be made or opened (is a directory); choose another data folder",
		},
		{
			"below a file", func(t *testing.T) string { return filepath.Join(text(t, "x"), "sub", "fullyon.db") },
			ErrUnwritable, ": cannot be made or opened (not a directory); choose another data folder",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.path(t)
			before, _ := os.ReadFile(path)
			d, err := Open(context.Background(), path)
			if err == nil {
				d.Close()
				t.Fatalf("Open succeeded")
			}
			var file *FileError
			if !errors.As(err, &file) || !errors.Is(err, c.kind) {
				t.Errorf("Open: error %v (%T), want kind %v", err, err, c.kind)
			}
			if runtime.GOOS != "windows" && err.Error() != path+c.want { // the system's words differ there
				t.Errorf("Open:\n got %s\nwant %s", err, path+c.want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Errorf("Open changed the file it refused")
			}
		})
	}
}

// TestUnwritable checks the message for a file that the system refuses. It
// is made from the error, since an administrator may write everywhere.
func TestUnwritable(t *testing.T) {
	e := &sqliteEngine{path: filepath.Join("data", "fullyon.db")}
	err := e.fileError(&fs.PathError{Op: "open", Path: e.path, Err: fs.ErrPermission})
	want := e.path + ": cannot be written; give this user the right to write the file and its folder data, or choose another data folder"
	if err.Error() != want || !errors.Is(err, ErrUnwritable) || !errors.Is(err, fs.ErrPermission) {
		t.Errorf("got %v, want %s", err, want)
	}
	if os.Geteuid() > 0 {
		dir := t.TempDir()
		if err := os.Chmod(dir, 0o500); err != nil {
			t.Fatal(err)
		}
		if _, err := Open(context.Background(), filepath.Join(dir, "fullyon.db")); !errors.Is(err, ErrUnwritable) {
			t.Errorf("Open in a folder without write permission: %v", err)
		}
	}
}

func TestLocked(t *testing.T) {
	const remedy = ": is locked by another process; close the other program that uses it (another Fully On, a backup, a database browser) and try again"
	ctx := context.Background()
	path := made(t)
	other, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	other.SetMaxOpenConns(1)
	lock := func(texts ...string) {
		t.Helper()
		for _, text := range texts {
			if _, err := other.Exec(text); err != nil {
				t.Fatalf("%s: %v", text, err)
			}
		}
	}

	// A long write elsewhere: reading goes on, writing says why not.
	d, err := open(ctx, path, 50*time.Millisecond)
	if err != nil {
		t.Fatal(err)
	}
	l, err := d.LocalLearner(ctx)
	if err != nil {
		t.Fatal(err)
	}
	lock(`begin immediate`)
	if _, err := d.Learner(ctx, l.ID); err != nil {
		t.Errorf("read during a write elsewhere: %v", err)
	}
	if err := d.NameLearner(ctx, l.ID, "Ada"); !errors.Is(err, ErrLocked) || err.Error() != path+remedy {
		t.Errorf("write during a write elsewhere: %v", err)
	}
	lock(`rollback`)
	if err := d.NameLearner(ctx, l.ID, "Ada"); err != nil {
		t.Errorf("write after it: %v", err)
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}

	// The whole file taken.
	lock(`pragma locking_mode = exclusive`, `begin immediate`, `update learner set name = 'x'`)
	if _, err := open(ctx, path, 50*time.Millisecond); !errors.Is(err, ErrLocked) || err.Error() != path+remedy {
		t.Errorf("open while another process has the file: %v", err)
	}
}

// TestOpenTogether: servers and commands started at the same moment on a file
// that does not exist yet all open it.
func TestOpenTogether(t *testing.T) {
	ctx := context.Background()
	for range 3 {
		path := filepath.Join(t.TempDir(), "new folder", "a b?c#d%e.db")
		ids := make([]string, 6)
		var wg sync.WaitGroup
		for i := range ids {
			wg.Go(func() {
				d, err := Open(ctx, path)
				if err != nil {
					t.Errorf("open: %v", err)
					return
				}
				defer d.Close()
				l, err := d.LocalLearner(ctx)
				if err != nil {
					t.Errorf("local learner: %v", err)
				}
				ids[i] = l.ID
			})
		}
		wg.Wait()
		for _, id := range ids {
			if id != ids[0] || id == "" {
				t.Fatalf("local learners %q, want one", ids)
			}
		}
		if _, err := os.Stat(path); err != nil {
			t.Fatalf("the database has another name: %v", err)
		}
		if runtime.GOOS != "windows" {
			for _, p := range []string{path, filepath.Dir(path)} {
				if info, err := os.Stat(p); err != nil || info.Mode().Perm()&0o077 != 0 {
					t.Errorf("%s is readable by others: %v, %v", p, info.Mode(), err)
				}
			}
		}
	}
}

// TestDurable: the connection that writes must be set to survive a power cut.
func TestDurable(t *testing.T) {
	d, err := Open(context.Background(), filepath.Join(t.TempDir(), "pragmas.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	conn := d.engine.(*sqliteEngine).group.conn
	for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000"} {
		var got string
		if err := conn.QueryRowContext(context.Background(), "pragma "+pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s = %q, %v, want %q", pragma, got, err, want)
		}
	}
	if _, err := d.read.db.Exec(`delete from learner`); err == nil {
		t.Errorf("a reading connection may write")
	}
	if v, err := d.Version(context.Background()); err != nil || v != SchemaVersion {
		t.Errorf("Version() = %d, %v, want %d", v, err, SchemaVersion)
	}
}

// TestSchemaVersion: the constant is the number of the last migration file.
func TestSchemaVersion(t *testing.T) {
	files, err := fs.Glob(migrations, "migrations/sqlite/*.sql")
	if err != nil || len(files) == 0 {
		t.Fatalf("no migrations: %v", err)
	}
	if want := fmt.Sprintf("migrations/sqlite/%05d_", SchemaVersion); len(files) != SchemaVersion || !strings.HasPrefix(files[len(files)-1], want) {
		t.Errorf("migrations %v, want %d, the last beginning with %s", files, SchemaVersion, want)
	}
}
