package main

import (
	"bufio"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"fullyon/web/store"
)

// patience is how long a test waits before it counts as stuck; nothing is timed by it.
const patience = time.Minute

// started is a program that serves.
type started struct {
	t       testing.TB
	address string // "http://127.0.0.1:4180"
	rest    <-chan string
	ended   <-chan int
	stop    context.CancelFunc
}

// start runs the program in this process until it has printed its line.
func start(t testing.TB, env map[string]string, args ...string) *started {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out, in := io.Pipe()
	ended := make(chan int, 1)
	go func() {
		status := run(ctx, args, strings.NewReader(""), in, os.Stderr, func(name string) string { return env[name] })
		in.Close()
		ended <- status
	}()
	lines := bufio.NewReader(out)
	line, err := lines.ReadString('\n')
	if err != nil {
		cancel()
		t.Fatalf("no line was printed, exit status %d", <-ended)
	}
	address, ok := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "Fully On: ")
	if !ok {
		t.Fatalf("the line is %q, want Fully On: and an address", line)
	}
	rest := make(chan string, 1)
	go func() {
		text, _ := io.ReadAll(lines)
		rest <- string(text)
	}()
	s := &started{t, address, rest, ended, cancel}
	t.Cleanup(cancel)
	return s
}

// page fetches a page and gives its text.
func (s *started) page(path string) string {
	s.t.Helper()
	r, err := http.Get(s.address + path)
	if err != nil {
		s.t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		s.t.Fatalf("GET %s: %s, %v", path, r.Status, err)
	}
	return string(body)
}

// finish stops the program and gives its exit status and what else it printed.
func (s *started) finish() (int, string) {
	s.t.Helper()
	s.stop()
	select {
	case status := <-s.ended:
		return status, <-s.rest
	case <-time.After(patience):
		s.t.Fatal("the program does not stop")
		return 0, ""
	}
}

func TestServe(t *testing.T) {
	data := filepath.Join(t.TempDir(), "a folder", "that is new")
	s := start(t, nil, "serve", "--listen", "127.0.0.1:0", "--data", data)
	if body := s.page("/"); !strings.Contains(body, "<title>") {
		t.Errorf("the first page is %q", body)
	}
	if status, rest := s.finish(); status != fine || rest != "" {
		t.Errorf("exit status %d and %q behind the line, want %d and nothing", status, rest, fine)
	}
	if _, err := os.Stat(filepath.Join(data, database)); err != nil {
		t.Error(err)
	}
	again := start(t, nil, "serve", "--listen", "127.0.0.1:0", "--data", data)
	again.page("/progress")
	if status, _ := again.finish(); status != fine {
		t.Errorf("the second time: exit status %d, want %d", status, fine)
	}
}

// TestLocalMode: the next free port is taken, and the data lies in $FULLYON_DATA.
func TestLocalMode(t *testing.T) {
	data := t.TempDir()
	first := start(t, map[string]string{"FULLYON_DATA": data})
	second := start(t, map[string]string{"FULLYON_DATA": t.TempDir()})
	for _, s := range []*started{first, second} {
		port, err := strconv.Atoi(strings.TrimPrefix(s.address, "http://127.0.0.1:"))
		if err != nil || port < firstPort || port > lastPort {
			t.Errorf("the address is %s, want a port from %d to %d", s.address, firstPort, lastPort)
		}
		s.page("/")
	}
	if first.address == second.address {
		t.Errorf("both serve on %s", first.address)
	}
	if _, err := os.Stat(filepath.Join(data, database)); err != nil {
		t.Error(err)
	}
	for _, s := range []*started{first, second} {
		if status, rest := s.finish(); status != fine || rest != "" {
			t.Errorf("exit status %d and %q, want %d and nothing", status, rest, fine)
		}
	}
}

func TestNoPortFree(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	port := l.Addr().(*net.TCPAddr).Port
	_, err = freePort(port, port)
	if status, _ := statusOf(err); status != badInput || !strings.Contains(err.Error(), "are taken; choose another with fullyon serve --listen") {
		t.Errorf("freePort(%d, %d) = %v, status %d", port, port, err, status)
	}
}

// TestServeRefuses has everything that can be wrong with address and folder: exit
// status 2, nothing on standard output, one line that says what to do.
func TestServeRefuses(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	file := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(file, []byte("Buy LED tape."), 0o600); err != nil {
		t.Fatal(err)
	}
	notOurs := t.TempDir()
	if err := os.WriteFile(filepath.Join(notOurs, database), []byte("Buy LED tape."), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
		want string
	}{
		{"port taken", []string{"serve", "--listen", taken.Addr().String(), "--data", t.TempDir()}, "choose another address with --listen, or leave it out"},
		{"no port", []string{"serve", "--listen", "127.0.0.1", "--data", t.TempDir()}, "write it as 127.0.0.1:4180"},
		{"every network", []string{"serve", "--listen", ":4180", "--data", t.TempDir()}, "name one address"},
		{"every network by number", []string{"serve", "--listen", "0.0.0.0:4180", "--data", t.TempDir()}, "name one address"},
		{"folder is a file", []string{"serve", "--listen", "127.0.0.1:0", "--data", file}, "choose another data folder"},
		{"no database of ours", []string{"serve", "--listen", "127.0.0.1:0", "--data", notOurs}, "is not a database; choose another data folder"},
		{"newer", []string{"serve", "--listen", "127.0.0.1:0", "--data", newer(t)}, "was written by a newer Fully On"},
		{"no folder known", nil, "name one in FULLYON_DATA or with fullyon serve --data DIR"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := fullyon(t, nil, "", c.args...)
			if got.status != badInput || got.stdout != "" || !strings.Contains(got.stderr, c.want) || strings.Count(got.stderr, "\n") != 1 {
				t.Errorf("fullyon %v: status %d, stdout %q, stderr %q; want %d, nothing, one line with %q", c.args, got.status, got.stdout, got.stderr, badInput, c.want)
			}
		})
	}
}

// TestFolderNotWritable needs a user whom permissions bind.
func TestFolderNotWritable(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "locked")
	if err := os.Mkdir(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	args := []string{"serve", "--listen", "127.0.0.1:0", "--data", dir}
	if os.Geteuid() != 0 && runtime.GOOS != "windows" {
		if got := fullyon(t, nil, "", args...); got.status != badInput || !strings.Contains(got.stderr, dir) {
			t.Errorf("status %d, stderr %q; want %d and the folder named", got.status, got.stderr, badInput)
		}
		return
	}
	// The administrator may write everywhere but where there is no folder to be had.
	if runtime.GOOS == "linux" {
		args[len(args)-1] = "/proc/fullyon"
		if got := fullyon(t, nil, "", args...); got.status != badInput || !strings.Contains(got.stderr, "/proc/fullyon") {
			t.Errorf("status %d, stderr %q; want %d and the folder named", got.status, got.stderr, badInput)
		}
	}
}

// TestSignal: a running program that is told to stop ends with status 0.
func TestSignal(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // has no such signal to send
	}
	for _, sig := range []os.Signal{syscall.SIGTERM, os.Interrupt} {
		exe, err := os.Executable()
		if err != nil {
			t.Fatal(err)
		}
		c := exec.Command(exe, "serve", "--listen", "127.0.0.1:0", "--data", t.TempDir())
		c.Args[0] = "fullyon" // TestMain then runs the program
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		if line, err := bufio.NewReader(out).ReadString('\n'); err != nil {
			t.Fatalf("%q, %v", line, err)
		}
		if err := c.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		if err := c.Wait(); err != nil {
			t.Errorf("after %s: %v, want exit status 0", sig, err)
		}
	}
}

func TestUserData(t *testing.T) {
	env := map[string]string{"HOME": "/home/ada", "LocalAppData": `C:\Users\ada\AppData\Local`, "USERPROFILE": `C:\Users\ada`}
	for _, c := range []struct {
		system, xdg, want string
	}{
		{"linux", "", filepath.Join("/home/ada", ".local", "share")},
		{"linux", "/data", "/data"},
		{"linux", "data", filepath.Join("/home/ada", ".local", "share")}, // relative: to be passed over
		{"darwin", "", filepath.Join("/home/ada", "Library", "Application Support")},
		{"windows", "", `C:\Users\ada\AppData\Local`},
	} {
		got := userData(c.system, func(name string) string {
			if name == "XDG_DATA_HOME" {
				return c.xdg
			}
			return env[name]
		})
		if got != c.want && !(runtime.GOOS == "windows" && c.xdg == "/data") {
			t.Errorf("userData(%s) with XDG_DATA_HOME=%q = %q, want %q", c.system, c.xdg, got, c.want)
		}
	}
	if got := userData("linux", func(string) string { return "" }); got != "" {
		t.Errorf("with an empty environment: %q, want nothing", got)
	}
}

// newer is a folder with records of a later version of the program.
func newer(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	d, err := store.Open(context.Background(), filepath.Join(dir, database))
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	later(t, filepath.Join(dir, database))
	return dir
}

// BenchmarkStart is from the start of the program to its first page.
func BenchmarkStart(b *testing.B) {
	for b.Loop() {
		s := start(b, nil, "serve", "--listen", "127.0.0.1:0", "--data", b.TempDir())
		s.page("/")
		if status, _ := s.finish(); status != fine {
			b.Fatal(status)
		}
	}
}
