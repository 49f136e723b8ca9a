package web

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/web/store"
)

// Config is what a server needs.
type Config struct {
	Course  *lessons.Course
	Store   store.Store
	Log     *slog.Logger     // nil: nothing is logged
	Now     func() time.Time // nil: time.Now
	Seed    func() uint64    // of a new problem; nil: at random
	Host    string           // a host name to answer to besides those of this machine; may be empty
	Program string           // version of the program, kept with each problem
	Data    string           // where the records lie, as told to the learner; may be empty
}

// Server makes the pages.
type Server struct {
	course  *lessons.Course
	store   store.Store
	log     *slog.Logger
	now     func() time.Time
	seed    func() uint64
	host    string
	program string
	data    string
	rules   grader.Rules

	assets *assets
	pages  map[string]*page

	requests atomic.Uint64
	learner  sync.Mutex
	local    string // id of the one learner; empty until first asked for

	cache    sync.Mutex
	compiled map[string]*problem.Template // templates of earlier versions, by hash
	draws    map[drawnKey]*cachedDraw
}

// New makes a server. The error tells of a mistake in its own templates or files.
func New(c Config) (*Server, error) {
	if c.Course == nil || c.Store == nil {
		return nil, errors.New("web: a course and a store are needed")
	}
	s := &Server{
		course: c.Course, store: c.Store, log: c.Log, now: c.Now, seed: c.Seed,
		host: strings.ToLower(c.Host), program: c.Program, data: c.Data, rules: grader.DefaultRules,
		compiled: map[string]*problem.Template{}, draws: map[drawnKey]*cachedDraw{},
	}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if s.now == nil {
		s.now = time.Now
	}
	if s.seed == nil {
		s.seed = func() uint64 { return rand.Uint64N(problem.MaxSeed + 1) }
	}
	static, err := fs.Sub(staticFiles, "static")
	if err != nil {
		return nil, err
	}
	if s.assets, err = loadAssets(static); err != nil {
		return nil, err
	}
	s.pages, err = parsePages(s.assets)
	return s, err
}

// who is the learner that a request comes from: in local mode the only one.
func (s *Server) who(r *http.Request) (string, error) {
	s.learner.Lock()
	defer s.learner.Unlock()
	if s.local == "" {
		l, err := s.store.LocalLearner(context.WithoutCancel(r.Context()))
		if err != nil {
			return "", err
		}
		s.local = l.ID
	}
	return s.local, nil
}
