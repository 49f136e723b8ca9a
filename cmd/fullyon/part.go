package main

import (
	"fmt"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/grader/problem"
	"fullyon/lessons/figure"
)

// partCmd prints a datasheet.
type partCmd struct {
	Name    string `arg:"" optional:"" help:"A part of the drawer; without it a generated one."`
	Seed    uint64 `help:"Seed of the generated datasheet." default:"1"`
	Channel string `help:"Channel of the generated part: N or P; either without it." enum:",N,P" default:""`
	JSON    bool   `help:"Print the part as circuit-file text, with the points of its curves."`
}

// Help shows an example.
func (partCmd) Help() string {
	return "Example, a generated P-channel part:\n\n    fullyon part --seed 7 --channel P"
}

// partJSON is a datasheet as JSON.
type partJSON struct {
	Part   string        `json:"part"`
	Curves []*part.Curve `json:"curves"`
}

// Run prints the datasheet: the same for the same seed.
func (c partCmd) Run(w *world) error {
	if c.Seed > problem.MaxSeed {
		return bad("a seed goes from 0 to %d", problem.MaxSeed)
	}
	p := part.Generate(c.Seed, part.Wish{Channel: part.Channel(c.Channel)})
	if c.Name != "" {
		var ok bool
		if p, ok = part.Find(c.Name); !ok {
			return bad("there is no part %q in the drawer; the nearest is %q", c.Name, part.NearestName(c.Name))
		}
	}
	curves, absent := p.Curves()
	if c.JSON {
		text := "part:\n" + part.Write(p, 2)
		if p.Channel == part.P {
			text = "placement: " + engine.HighSide + "\n" + text // as a circuit file has it
		}
		return w.writeJSON(partJSON{text, curves})
	}
	sheet := figure.Datasheet(&p, nil)
	fmt.Fprintln(w.stdout, sheet.Text())
	heading(w.stdout, "Curves")
	for _, curve := range curves {
		para(w.stdout, 2, curve.ID+": "+curve.Title)
	}
	for _, no := range absent {
		para(w.stdout, 2, no.ID+": not on this sheet, "+no.Because)
	}
	return nil
}
