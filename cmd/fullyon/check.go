package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"fullyon/engine/read"
	"fullyon/lessons"
)

// checkCmd checks lessons and templates.
type checkCmd struct {
	Dir   string `arg:"" optional:"" help:"Folder with lessons (NN-name.md) and templates (problems/*.md); without it the built-in ones are checked."`
	Seeds int    `default:"200" placeholder:"N" help:"How many draws of each template are proved."`
}

// Help shows an example.
func (checkCmd) Help() string {
	return "Example, for the folder of somebody who writes lessons:\n\n    fullyon check lessons --seeds 2000\n\n" +
		"Each mistake is printed as FILE:LINE:COL: message. Exit status: 0 no mistake, 1 mistakes found."
}

// Run prints every mistake and how much was checked.
func (c checkCmd) Run(w *world) error {
	if c.Seeds < 1 || c.Seeds > 1_000_000 {
		return bad("--seeds %d: write a number from 1 to 1000000", c.Seeds)
	}
	course, err := c.load()
	list, ok := err.(read.Errors)
	if err != nil && !ok {
		return err
	}
	done := w.waiting(fmt.Sprintf("checking %s with %s each", count(len(course.Templates), "template"), count(c.Seeds, "draw")))
	list = append(list, course.Check(c.Seeds)...)
	done()
	slices.SortStableFunc(list, func(a, b *read.Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	for _, e := range list {
		shown := *e
		shown.File = filepath.Join(c.Dir, e.File)
		fmt.Fprintln(w.stdout, oneLine(shown.Error()))
	}
	if len(list) > 0 {
		fmt.Fprintf(w.stderr, "fullyon: %s; mend each at its place\n", count(len(list), "mistake"))
		return ends(notRight)
	}
	fmt.Fprintf(w.stdout, "%s and %s hold, with %s of each template\n", count(len(course.Lessons), "lesson"), count(len(course.Templates), "template"), count(c.Seeds, "draw"))
	return nil
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// load reads the course asked for. The error may be read.Errors beside a course.
func (c checkCmd) load() (*lessons.Course, error) {
	if c.Dir == "" {
		return lessons.Built()
	}
	info, err := os.Stat(c.Dir)
	if err != nil {
		return nil, bad("%w; give the path of a folder with lessons", err)
	}
	if !info.IsDir() {
		return nil, bad("%s is a file; give the folder with lessons that it lies in", c.Dir)
	}
	return lessons.Load(os.DirFS(c.Dir))
}

// waiting tells a person at a terminal that a long command is still at it, from
// the first second on, until the function it returns is called.
func (w *world) waiting(what string) (done func()) {
	if !terminal(w.stderr) {
		return func() {}
	}
	end, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for n := 0; ; {
			select {
			case <-end:
				if n > 0 {
					fmt.Fprintf(w.stderr, "\r%-*s\r", width, "")
				}
				return
			case <-tick.C:
				n++
				fmt.Fprintf(w.stderr, "\r%-*s", width, fmt.Sprintf("%s: %d s", what, n))
			}
		}
	}()
	return func() {
		close(end)
		<-ended
	}
}

// terminal tells whether a stream is a terminal.
func terminal(stream any) bool {
	f, ok := stream.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
