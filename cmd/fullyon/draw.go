package main

import (
	"fmt"
	"strconv"

	"fullyon/grader/problem"
)

// seed is a seed on a command line.
type seed uint64

// UnmarshalText reads a whole number from 0 to 2^53 − 1.
func (s *seed) UnmarshalText(text []byte) error {
	n, err := strconv.ParseUint(string(text), 10, 64)
	if err != nil || n > problem.MaxSeed {
		return fmt.Errorf("%q is no seed: write a whole number from 0 to %d", text, uint64(problem.MaxSeed))
	}
	*s = seed(n)
	return nil
}

// drawCmd draws one problem.
type drawCmd struct {
	Template string `arg:"" help:"Id of the template; see fullyon list templates."`
	Seed     seed   `required:"" placeholder:"N" help:"Which draw, from 0 to 9007199254740991."`
	Key      bool   `help:"Print the answers, the slips and the worked answer too."`
	JSON     bool   `help:"Print JSON."`
}

// Help shows an example.
func (drawCmd) Help() string {
	return "Example:\n\n    fullyon draw warm-footlights --seed 7\n\n" +
		"The same template, seed and version of the program give the same problem on every computer."
}

// drawn is one problem with its template.
type drawn struct {
	template *problem.Template
	values   *problem.Values
	page     *problem.Page
}

// drawOf draws a problem by the template's id.
func drawOf(id string, s seed) (*drawn, error) {
	t, err := template(id)
	if err != nil {
		return nil, err
	}
	v, err := t.Draw(uint64(s))
	if err != nil {
		return nil, err
	}
	p, err := t.Page(v)
	if err != nil {
		return nil, err
	}
	return &drawn{t, v, p}, nil
}

// Run prints the problem.
func (c drawCmd) Run(w *world) error {
	d, err := drawOf(c.Template, c.Seed)
	if err != nil {
		return err
	}
	if c.JSON {
		out, err := d.json(c.Key)
		if err != nil {
			return err
		}
		return w.writeJSON(out)
	}
	d.print(w.stdout)
	if c.Key {
		return d.printKey(w.stdout)
	}
	return nil
}
