package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"
)

// broken fails at every use.
type broken struct{}

func (broken) Read([]byte) (int, error)  { panic("the reader is broken") }
func (broken) Write([]byte) (int, error) { return 0, errors.New("no room") }

// TestInternalFaults: a fault of the program is told in one line, with exit
// status 4, and no stack reaches the user.
func TestInternalFaults(t *testing.T) {
	for _, c := range []struct {
		name   string
		args   []string
		stdin  io.Reader
		stdout io.Writer
		want   string
	}{
		{"a panic", []string{"size", "-"}, broken{}, io.Discard, "fullyon: the program made a mistake (the reader is broken); please report it with the command that you gave\n"},
		{"output that cannot be written", []string{"version"}, strings.NewReader(""), broken{}, "fullyon: the output could not be written: no room\n"},
	} {
		var stderr bytes.Buffer
		status := run(context.Background(), c.args, c.stdin, c.stdout, &stderr, func(string) string { return "" })
		if status != internal || stderr.String() != c.want {
			t.Errorf("%s: exit status %d, stderr %q; want %d, %q", c.name, status, stderr.String(), internal, c.want)
		}
	}
}

// TestStatusOf keeps the table of exit.go.
func TestStatusOf(t *testing.T) {
	for _, c := range []struct {
		name   string
		err    error
		status int
		say    bool
	}{
		{"nothing", nil, 0, false},
		{"ended fine", ends(fine), 0, false},
		{"all was said", ends(notRight), 1, false},
		{"bad input", bad("no such file %s", "x"), 2, true},
		{"bad input, wrapped", errors.Join(bad("x")), 2, true},
		{"does not hold", ends(noHold), 3, false},
		{"anything else", errors.New("the disk is gone"), 4, true},
	} {
		if status, say := statusOf(c.err); status != c.status || say != c.say {
			t.Errorf("%s: statusOf = %d, %t; want %d, %t", c.name, status, say, c.status, c.say)
		}
	}
}
