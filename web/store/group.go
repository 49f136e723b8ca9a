package store

import (
	"context"
	"database/sql"
	"fmt"
	"sync"
)

// SQLite has one writer at a time, and what costs is the wait for the disk at
// each commit. So one goroutine owns the writing connection, and all writes
// that wait while it commits share the next commit. Each runs inside its own
// savepoint: one that fails undoes only itself.

// maxGroup bounds the work that can be lost together and the wait for it.
const maxGroup = 128

type group struct {
	conn     *sql.Conn
	prepared map[string]*sql.Stmt // owned by the writing goroutine
	jobs     chan job
	mu       sync.RWMutex // held for reading while sending to jobs
	closed   bool
	done     chan struct{}
}

type job struct {
	ctx  context.Context
	f    func(tx) error
	done chan error
}

func newGroup(conn *sql.Conn) *group {
	g := &group{conn: conn, prepared: map[string]*sql.Stmt{}, jobs: make(chan job, 2*maxGroup), done: make(chan struct{})}
	go g.run()
	return g
}

// write queues f. Once queued it waits for the outcome even if ctx ends, since
// the write may already be durable; a write not begun by then is dropped.
func (g *group) write(ctx context.Context, f func(tx) error) error {
	j := job{ctx, f, make(chan error, 1)}
	g.mu.RLock()
	if g.closed {
		g.mu.RUnlock()
		return ErrClosed
	}
	select {
	case g.jobs <- j:
		g.mu.RUnlock()
	case <-ctx.Done():
		g.mu.RUnlock()
		return ctx.Err()
	}
	return <-j.done
}

// close lets the queued writes finish.
func (g *group) close() error {
	g.mu.Lock()
	if g.closed {
		g.mu.Unlock()
		return nil
	}
	g.closed = true
	close(g.jobs)
	g.mu.Unlock()
	<-g.done
	for _, s := range g.prepared {
		s.Close()
	}
	return g.conn.Close()
}

func (g *group) run() {
	defer close(g.done)
	for j := range g.jobs {
		batch := []job{j}
	more:
		for len(batch) < maxGroup {
			select {
			case j, ok := <-g.jobs:
				if !ok {
					break more
				}
				batch = append(batch, j)
			default:
				break more
			}
		}
		errs := make([]error, len(batch))
		err := g.commit(batch, errs)
		for i, j := range batch {
			if errs[i] == nil {
				errs[i] = err
			}
			j.done <- errs[i]
		}
	}
}

// commit runs the batch in one transaction. errs[i] is why job i alone failed;
// the error returned is why all of them did.
func (g *group) commit(batch []job, errs []error) (err error) {
	if _, err := g.exec("begin immediate"); err != nil {
		return err
	}
	defer func() {
		if err != nil {
			// SQLite may have rolled back by itself; then this one fails, rightly.
			_, _ = g.exec("rollback")
		}
	}()
	for i, j := range batch {
		if errs[i] = j.ctx.Err(); errs[i] != nil {
			continue
		}
		if _, err := g.exec("savepoint one"); err != nil {
			return err
		}
		if errs[i] = g.call(j.f); errs[i] != nil {
			if _, err := g.exec("rollback to one"); err != nil {
				return err
			}
		}
		if _, err := g.exec("release one"); err != nil {
			return err
		}
	}
	_, err = g.exec("commit")
	return err
}

// call keeps the writer alive if f panics.
func (g *group) call(f func(tx) error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("store: write panicked: %v", p)
		}
	}()
	return f(g)
}

// The statements of a write run without the caller's context: ending it must
// not interrupt the commit of the others.

func (g *group) exec(text string, args ...any) (int64, error) {
	s, err := g.stmt(text)
	if err != nil {
		return 0, err
	}
	res, err := s.Exec(args...)
	if err != nil {
		return 0, err
	}
	return res.RowsAffected()
}

func (g *group) queryRow(text string, args ...any) row {
	s, err := g.stmt(text)
	if err != nil {
		return failed{err}
	}
	return s.QueryRow(args...)
}

func (g *group) stmt(text string) (*sql.Stmt, error) {
	if s := g.prepared[text]; s != nil {
		return s, nil
	}
	s, err := g.conn.PrepareContext(context.Background(), text)
	if err == nil {
		g.prepared[text] = s
	}
	return s, err
}

// failed is a row that could not be asked for.
type failed struct{ err error }

func (f failed) Scan(...any) error { return f.err }
