package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"fullyon/engine"
	"fullyon/engine/formula"
)

// sizeCmd sizes one's own circuit.
type sizeCmd struct {
	Circuit string `arg:"" help:"Circuit file, YAML or JSON; - reads standard input."`
	JSON    bool   `help:"Print the report as JSON."`
}

// Help shows an example.
func (sizeCmd) Help() string {
	return "Example, with the circuit of the footlights:\n\n    fullyon size testdata/circuits/footlights.yaml\n\n" +
		"Exit status: 0 holds or tight, 3 fails, unknown or refused, 2 the file cannot be read."
}

// maxFile is the size beyond which a file is no circuit, in bytes.
const maxFile = 1 << 20

// Run prints the report.
func (c sizeCmd) Run(w *world) error {
	src, err := c.read(w)
	if err != nil {
		return err
	}
	circuit, err := engine.ReadCircuit(c.Circuit, src)
	if err != nil {
		return w.mistakes(err)
	}
	r := engine.Size(&circuit)
	if c.JSON {
		_, err = w.stdout.Write(r.JSON())
	} else {
		printReport(w.stdout, &r)
	}
	if err != nil {
		return err
	}
	if r.Verdict == engine.Holds || r.Verdict == engine.Tight {
		return nil
	}
	return ends(noHold)
}

// read gives the text of the circuit file.
func (c sizeCmd) read(w *world) ([]byte, error) {
	in := w.stdin
	if c.Circuit != "-" {
		f, err := os.Open(c.Circuit)
		if err != nil {
			return nil, bad("%w; give the path of a circuit file", err)
		}
		defer f.Close()
		in = f
	}
	src, err := io.ReadAll(io.LimitReader(in, maxFile+1))
	switch {
	case err != nil:
		return nil, bad("%w; give the path of a circuit file", err)
	case len(src) > maxFile:
		return nil, bad("%s: longer than 1 MB; a circuit file holds one circuit", c.Circuit)
	}
	return src, nil
}

func printReport(w io.Writer, r *engine.Report) {
	title := r.Title
	if title == "" {
		title = "Your circuit"
	}
	fmt.Fprintln(w, title)
	fmt.Fprintln(w)
	para(w, 0, fmt.Sprintf("Verdict: %s. %s", r.Verdict, r.Because))
	if r.Verdict == engine.Refused {
		fmt.Fprintln(w)
		para(w, 0, r.Advice)
		return
	}
	if len(r.Cautions) > 0 {
		heading(w, "Take care")
		for _, c := range r.Cautions {
			para(w, 2, c.Text)
		}
	}
	heading(w, "Checks")
	for i := range r.Checks {
		printCheck(w, &r.Checks[i])
	}
	if len(r.Quantities) > 0 {
		heading(w, "Computed")
		var rows [][]string
		for _, q := range r.Quantities {
			rows = append(rows, []string{formula.TextSymbol(q.Symbol), q.Value.Figures(3), q.Meaning + numbersOf(&q)})
		}
		table(w, 2, rows)
	}
	if len(r.Defaults) > 0 {
		heading(w, "Taken where the file is silent")
		var rows [][]string
		for _, d := range r.Defaults {
			rows = append(rows, []string{d.Name, d.Text})
		}
		table(w, 2, rows)
	}
	if len(r.Absent) > 0 {
		heading(w, "Not computed")
		var rows [][]string
		for _, a := range r.Absent {
			rows = append(rows, []string{a.Name, a.Because})
		}
		table(w, 2, rows)
	}
}

func printCheck(w io.Writer, c *engine.Check) {
	table(w, 2, [][]string{{fmt.Sprintf("%-7s", c.Verdict), c.Question}})
	para(w, 11, c.Because)
	if c.Numbers != "" {
		para(w, 11, c.Numbers)
	}
	if c.Row != "" {
		para(w, 11, "From the datasheet: "+c.Row)
	}
	if c.Mend != "" {
		para(w, 11, "To mend it: "+c.Mend)
	}
}

// numbersOf is the sum behind a value, ": 2 A × 12.6 V / 12 V"; empty where there is none.
func numbersOf(q *engine.Computed) string {
	_, sum, _ := strings.Cut(q.Numbers(), " = ")
	if sum == "" || sum == q.Value.String() {
		return ""
	}
	return ": " + sum
}
