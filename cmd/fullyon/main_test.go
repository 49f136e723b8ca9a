package main

import (
	"bytes"
	"context"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output inside testdata/script; look at the difference before you keep it")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fullyon": main})
}

// TestScripts runs testdata/script/*.txt, one behaviour each. The command
// `status N fullyon …` runs the program and wants the exit status N.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
			"wide":   wide,
		},
		Condition: func(cond string) (bool, error) {
			return cond == "files" && os.Geteuid() != 0 && runtime.GOOS != "windows", nil
		},
		Setup: func(e *testscript.Env) error {
			root, err := filepath.Abs("../..")
			e.Setenv("ROOT", filepath.ToSlash(root))
			e.Setenv("FULLYON_DATA", filepath.Join(e.WorkDir, "data"))
			return err
		},
	})
}

// status runs the program in this process and wants an exit status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || args[1] != "fullyon" {
		ts.Fatalf("usage: status N fullyon [args]")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got, _ = strings.CutPrefix(err.Error(), "exit status ")
	}
	if got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}

// wide fails when a line of a file is wider than the text of commands may be.
func wide(ts *testscript.TestScript, neg bool, args []string) {
	if !neg || len(args) != 1 {
		ts.Fatalf("usage: ! wide FILE")
	}
	for i, l := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if columns(l) > width {
			ts.Fatalf("line %d of %s is %d columns wide: %s", i+1, args[0], columns(l), l)
		}
	}
}

// outcome is what one run of the program did.
type outcome struct {
	status         int
	stdout, stderr string
}

// fullyon runs one command line in this process.
func fullyon(t testing.TB, env map[string]string, stdin string, args ...string) outcome {
	t.Helper()
	var out, errs bytes.Buffer
	all := maps.Clone(env)
	code := run(context.Background(), args, strings.NewReader(stdin), &out, &errs, func(name string) string { return all[name] })
	return outcome{code, out.String(), errs.String()}
}
