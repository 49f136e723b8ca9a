package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"fullyon/lessons"
	"fullyon/web"
)

// The ports tried without --listen.
const (
	firstPort = 4180
	lastPort  = 4189
)

// drain is how long a stopping server waits for pages under way.
const drain = 10 * time.Second

// serve listens, prints one line with the address, and serves until it is told to stop.
func (w *world) serve(listener net.Listener, at place) (err error) {
	defer listener.Close() // Serve closes it too; a second time does no harm
	go lessons.Built()     // is read while the records are opened
	records, err := at.open(w.ctx)
	if err != nil {
		return err
	}
	defer func() { err = cmp.Or(err, records.Close()) }()
	course, err := lessons.Built()
	if err != nil {
		return err
	}
	address := listener.Addr().(*net.TCPAddr)
	log := slog.New(slog.NewTextHandler(w.stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	pages, err := web.New(web.Config{Course: course, Store: records, Log: log, Host: address.IP.String(), Program: version(), Data: at.told})
	if err != nil {
		return err
	}
	server := pages.HTTP()
	server.ErrorLog = slog.NewLogLogger(log.Handler(), slog.LevelWarn)
	served := make(chan error, 1)
	go func() { served <- server.Serve(listener) }()
	fmt.Fprintf(w.stdout, "Fully On: http://%s\n", address)
	if err := w.stdout.Flush(); err != nil {
		return errors.Join(err, server.Close())
	}
	select {
	case err := <-served:
		return err
	case <-w.ctx.Done():
	}
	ctx, cancel := context.WithTimeout(context.WithoutCancel(w.ctx), drain)
	defer cancel()
	if err := server.Shutdown(ctx); err != nil {
		return errors.Join(fmt.Errorf("some pages were cut off after %s: %w", drain, err), server.Close())
	}
	return nil
}

// freePort listens on the first free port of this computer from first to last.
func freePort(first, last int) (net.Listener, error) {
	for port := first; port <= last; port++ {
		if l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port))); err == nil {
			return l, nil
		}
	}
	return nil, bad("all ports from %d to %d are taken; choose another with fullyon serve --listen 127.0.0.1:PORT", first, last)
}

// listenOn listens where the user said. An address that would open the records
// to a whole network is refused: this mode has one learner and no log-in.
func listenOn(address string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, bad("--listen %q: %w; write it as 127.0.0.1:4180", address, err)
	}
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		return nil, bad("--listen %q would answer on every network; name one address, such as 127.0.0.1:4180", address)
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, bad("%w; choose another address with --listen, or leave it out", err)
	}
	return l, nil
}

// dataFolder is where the records lie: the flag, $FULLYON_DATA, or the folder
// for this user's data that the system keeps.
func (w *world) dataFolder(flag string) (string, error) {
	if dir := cmp.Or(flag, w.getenv("FULLYON_DATA")); dir != "" {
		return filepath.Abs(dir)
	}
	dir := userData(runtime.GOOS, w.getenv)
	if dir == "" {
		return "", bad("no folder for your data is known; name one in FULLYON_DATA or with fullyon serve --data DIR")
	}
	return filepath.Join(dir, "fullyon"), nil
}

// userData is the folder that an operating system keeps for a user's data; empty
// where the environment does not tell.
func userData(system string, getenv func(string) string) string {
	home := func(name string, path ...string) string {
		if h := getenv(name); h != "" {
			return filepath.Join(append([]string{h}, path...)...)
		}
		return ""
	}
	switch system {
	case "windows":
		return cmp.Or(getenv("LocalAppData"), home("USERPROFILE", "AppData", "Local"))
	case "darwin", "ios":
		return home("HOME", "Library", "Application Support")
	}
	if dir := getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) { // a relative one is to be passed over, says the base directory specification
		return dir
	}
	return home("HOME", ".local", "share")
}
