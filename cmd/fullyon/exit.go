package main

import (
	"errors"
	"fmt"
)

// The exit statuses of all commands.
const (
	fine     = 0 // size: holds or tight; mark: all right
	notRight = 1 // mark: not all right; check: mistakes found
	badInput = 2 // bad command, unreadable file, unknown id, port or folder that cannot be used
	noHold   = 3 // size: fails, unknown or refused
	internal = 4 // a fault of the program
)

// exit is an error with its status. A nil err means that everything was said already.
type exit struct {
	status int
	err    error
}

func (e *exit) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit status %d", e.status)
	}
	return e.err.Error()
}

func (e *exit) Unwrap() error { return e.err }

// bad is a mistake in what the user gave.
func bad(format string, args ...any) error { return &exit{badInput, fmt.Errorf(format, args...)} }

// ends ends a command with a status after it has said what it had to say.
func ends(status int) error {
	if status == fine {
		return nil
	}
	return &exit{status: status}
}

// statusOf is the status an error asks for, and whether there is something left to say.
func statusOf(err error) (status int, say bool) {
	if err == nil {
		return fine, false
	}
	if e, ok := errors.AsType[*exit](err); ok {
		return e.status, e.err != nil
	}
	return internal, true
}
