package store

import (
	"errors"
	"fmt"
)

// Kinds of failure a caller may act on; test with errors.Is.
var (
	ErrNotFound  = errors.New("no such record")
	ErrStale     = errors.New("another answer or hint was kept meanwhile; read the problem again and mark again")
	ErrKeyReused = errors.New("this form was already used for another problem or question; load the page again")
	ErrNoSource  = errors.New("the template's source is not kept yet and was not given")
	ErrSource    = errors.New("another source is kept under the same hash")
	ErrInvalid   = errors.New("invalid record")
	ErrClosed    = errors.New("the store is closed")
	ErrExists    = errors.New("the file exists")

	ErrNewer      = errors.New("written by a newer version")
	ErrNotOurs    = errors.New("not a database of this program")
	ErrUnwritable = errors.New("not writable")
	ErrLocked     = errors.New("in use by another process")
	ErrDamaged    = errors.New("damaged")
	ErrFull       = errors.New("no room left")

	ErrUnreachable = errors.New("not reachable")
)

// A FileError tells what is wrong with a database file and what to do.
type FileError struct {
	Path    string
	Problem string
	Remedy  string
	Kind    error // ErrNewer, ErrNotOurs, ErrUnwritable, ErrLocked, ErrDamaged, ErrFull or ErrExists
	Cause   error // may be nil
}

// Error gives one line: the file, the problem, what to do.
func (e *FileError) Error() string {
	return fmt.Sprintf("%s: %s; %s", e.Path, e.Problem, e.Remedy)
}

// Unwrap gives the kind and the cause.
func (e *FileError) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}

func invalid(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrInvalid, fmt.Sprintf(format, args...))
}
