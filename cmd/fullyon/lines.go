package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// lines reads what somebody types, a line at a time. It moves no cursor and sets no
// colour, so that it works over a slow line, in a log and with a screen reader.
type lines struct {
	ctx  context.Context
	in   *bufio.Reader
	out  *bufio.Writer
	echo bool // what was typed is printed: nobody sees it otherwise
}

// errOver ends a talk: the input has ended, or the program was told to stop.
var errOver = errors.New("no more input")

func (w *world) lines() *lines {
	return &lines{ctx: w.ctx, in: bufio.NewReader(w.stdin), out: w.stdout, echo: !terminal(w.stdin)}
}

// maxLine is how much of a line is kept, in bytes: more than any answer needs.
const maxLine = 4096

type typedLine struct {
	text string
	err  error
}

// ask prints a prompt and gives the line typed.
func (l *lines) ask(prompt string) (string, error) {
	fmt.Fprint(l.out, prompt+" ")
	if err := l.out.Flush(); err != nil {
		return "", err
	}
	got := make(chan typedLine, 1)
	go func() { // a read cannot be called off; a signal must not wait for it
		text, err := l.line()
		got <- typedLine{text, err}
	}()
	select {
	case <-l.ctx.Done():
		fmt.Fprintln(l.out)
		return "", errOver
	case t := <-got:
		if t.err != nil {
			fmt.Fprintln(l.out)
			return "", t.err
		}
		if l.echo {
			fmt.Fprintln(l.out, t.text)
		}
		return t.text, nil
	}
}

// line reads one line, without what keys beside the letters send.
func (l *lines) line() (string, error) {
	var b []byte
	for {
		some, err := l.in.ReadSlice('\n')
		b = append(b, some[:min(len(some), maxLine-len(b))]...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err == nil, errors.Is(err, io.EOF) && len(b) > 0:
			return clean(string(b)), nil
		case errors.Is(err, io.EOF):
			return "", errOver
		}
		return "", err
	}
}

// keys are what arrows and their like send.
var keys = regexp.MustCompile(`\x1b(\[[0-9;?]*[ -/]*[@-~]|O.)?`)

// clean takes out what is no text.
func clean(s string) string {
	s = keys.ReplaceAllString(strings.ToValidUTF8(s, "\uFFFD"), "")
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r == '\t' {
			return ' '
		}
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, s))
}
