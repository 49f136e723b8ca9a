package main

import (
	"fmt"
	"io"
	"os"

	"fullyon/engine"
	"fullyon/engine/part"
)

// chooseCmd ranks the parts of a drawer for a circuit.
type chooseCmd struct {
	Circuit  string `arg:"" optional:"" help:"Circuit file without a part, YAML or JSON; - reads standard input."`
	Drawer   string `help:"Your own drawer: YAML, JSON or CSV. Without it the drawer that comes with the program."`
	Template bool   `help:"Print a CSV file to start a drawer of your own from."`
	JSON     bool   `help:"Print the ranking as JSON."`
}

// Help shows an example.
func (chooseCmd) Help() string {
	return "Example, for the footlights:\n\n    fullyon choose testdata/circuits/footlights.yaml\n\n" +
		"Exit status: 0 some part holds or is tight, 3 none does or the circuit is refused, 2 a file cannot be read."
}

// Run prints the ranking.
func (c chooseCmd) Run(w *world) error {
	if c.Template {
		_, err := w.stdout.Write(part.CSVTemplate())
		return err
	}
	if c.Circuit == "" {
		return bad("give a circuit file, or --template for a drawer to start from; see fullyon choose --help")
	}
	src, err := sizeCmd{Circuit: c.Circuit}.read(w)
	if err != nil {
		return err
	}
	circuit, err := engine.ReadCircuit(c.Circuit, src)
	if err != nil {
		return w.mistakes(err)
	}
	drawer := part.Drawer()
	if c.Drawer != "" {
		own, err := os.ReadFile(c.Drawer)
		if err != nil {
			return bad("%w; give the path of a drawer", err)
		}
		if drawer, err = part.ReadAnyDrawer(c.Drawer, own); err != nil {
			return w.mistakes(err)
		}
	}
	ranking := engine.Choose(&circuit, drawer)
	if c.JSON {
		_, err = w.stdout.Write(ranking.JSON())
	} else {
		printRanking(w.stdout, &circuit, ranking)
	}
	if err != nil {
		return err
	}
	if len(ranking) > 0 && ranking[0].Verdict.OK() {
		return nil
	}
	return ends(noHold)
}

// reasons is how many of the parts that were ruled out are told why.
const reasons = 5

func printRanking(w io.Writer, c *engine.Circuit, ranking engine.Ranking) {
	if because, refused := engine.Refusal(c); refused {
		para(w, 0, "Refused: "+because+".")
		para(w, 0, engine.RefusalAdvice)
		return
	}
	title := c.Title
	if title == "" {
		title = "Your circuit"
	}
	fmt.Fprintln(w, title)
	heading(w, "Parts, the best first")
	rows := [][]string{{"part", "verdict", "margin", "ruled out by"}}
	for i := range ranking {
		r := &ranking[i]
		margin := ""
		if r.Margin > 0 {
			margin = fmt.Sprintf("%.2f", r.Margin)
		}
		rows = append(rows, []string{r.Part.Name, string(r.Verdict), margin, r.RuledOutBy})
	}
	table(w, 2, rows)
	heading(w, "Why")
	told := 0
	for i := range ranking {
		if r := &ranking[i]; r.Because != "" && told < reasons {
			told++
			para(w, 2, r.Part.Name+": "+r.Because)
			if r.Mend != "" {
				para(w, 4, "To mend it: "+r.Mend)
			}
		}
	}
}
