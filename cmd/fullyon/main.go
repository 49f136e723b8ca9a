// Command fullyon teaches how a microcontroller pin switches a load through a
// MOSFET: as pages for a browser, and as commands for a terminal.
//
// Each command stands in a file of its own: its flags, what it calls, what it
// prints. What a status means stands in exit.go.
package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"
	_ "time/tzdata" // times are shown where no system has the zones
)

func main() { os.Exit(mainStatus()) }

// mainStatus runs the program with what the operating system gives it.
func mainStatus() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	return run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv)
}

// world is what a command may use of the world outside.
type world struct {
	ctx    context.Context
	stdin  io.Reader
	stdout *bufio.Writer
	stderr io.Writer
	getenv func(string) string
}
