package storetest

import (
	"context"
	"database/sql"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"sync/atomic"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
)

// Cluster is a PostgreSQL server of the test's own.
type Cluster struct {
	address string
	next    atomic.Int64
	dir     string
	ctl     func(args ...string) error
}

// Postgres starts a server on a free loopback port; it ends with the test. Where
// PostgreSQL is not installed the test is skipped, or fails under FULLYON_TEST_ALL=1.
func Postgres(t testing.TB) *Cluster {
	t.Helper()
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	sort.Strings(found)
	if len(found) == 0 {
		const why = "PostgreSQL is not installed (Debian: apt-get install postgresql)"
		if os.Getenv("FULLYON_TEST_ALL") == "1" {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	bin := filepath.Dir(found[len(found)-1])
	dir, err := os.MkdirTemp("", "fullyon-pg") // PostgreSQL's own user must reach it
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) error {
		cmd := exec.Command(filepath.Join(bin, name), args...)
		if os.Getuid() == 0 { // PostgreSQL refuses to run as root
			cmd = exec.Command("runuser", append([]string{"-u", "postgres", "--", filepath.Join(bin, name)}, args...)...)
		}
		cmd.Dir = dir
		// A server started in the background must not hold the test's pipes open.
		out, err := os.CreateTemp(dir, "out")
		if err != nil {
			return err
		}
		defer out.Close()
		cmd.Stdout, cmd.Stderr = out, out
		if err := cmd.Run(); err != nil {
			text, _ := os.ReadFile(out.Name())
			return fmt.Errorf("%s: %v\n%s", name, err, text)
		}
		return nil
	}
	data := filepath.Join(dir, "data")
	if err := run("initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"); err != nil {
		t.Fatal(err)
	}
	port := freePort(t)
	c := &Cluster{address: fmt.Sprintf("postgres://postgres@127.0.0.1:%d/", port), dir: dir}
	c.ctl = func(args ...string) error { return run("pg_ctl", append([]string{"-D", data}, args...)...) }
	options := fmt.Sprintf("-c listen_addresses=127.0.0.1 -c port=%d -c unix_socket_directories=%s -c fsync=%s -c timezone=UTC", port, dir, fsync())
	t.Cleanup(func() {
		c.ctl("-m", "immediate", "-w", "stop")
		os.RemoveAll(dir)
	})
	if err := c.ctl("-l", filepath.Join(dir, "log"), "-w", "-t", "60", "-o", options, "start"); err != nil {
		log, _ := os.ReadFile(filepath.Join(dir, "log"))
		t.Fatalf("%v\n%s", err, log)
	}
	return c
}

// fsync is off for tests of what is kept, on for measurements: FULLYON_PG_FSYNC=on.
func fsync() string {
	if v := os.Getenv("FULLYON_PG_FSYNC"); v != "" {
		return v
	}
	return "off"
}

func freePort(t testing.TB) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// Restart stops the server, without waiting for clients, and starts it again.
func (c *Cluster) Restart() error { return c.ctl("-m", "fast", "-w", "restart") }

// Database makes an empty database and returns its address.
func (c *Cluster) Database(t testing.TB) string {
	t.Helper()
	name := fmt.Sprintf("test%d", c.next.Add(1))
	db, err := sql.Open("pgx", c.address+"postgres?sslmode=disable")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(context.Background(), "create database "+name); err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(c.address, "/") + "/" + name + "?sslmode=disable"
}
