package main

import (
	"fmt"
	"io"
	"strings"

	"fullyon/engine/read"
	"fullyon/grader"
)

// markCmd marks answers to a drawn problem.
type markCmd struct {
	Template string   `arg:"" help:"Id of the template; see fullyon list templates."`
	Seed     seed     `required:"" placeholder:"N" help:"Which draw, from 0 to 9007199254740991."`
	Answer   []string `sep:"none" placeholder:"ID=TEXT" help:"Answer to one question; give it again for each further one."`
	JSON     bool     `help:"Print JSON."`
}

// Help shows an example.
func (markCmd) Help() string {
	return "Example:\n\n    fullyon mark warm-footlights --seed 7 --answer 'heat=160 mW'\n\n" +
		"A quantity is written as people write it, with its unit; a choice as a,c; an order as c,a,b; go or stop as such. " +
		"Exit status: 0 all right, 1 not all right."
}

// The JSON of a marking. Names and order are stable.
type (
	resultJSON struct {
		Marks     float64          `json:"marks"`
		Of        int              `json:"of"`
		Questions byID[markedJSON] `json:"questions"`
	}
	markedJSON struct {
		Outcome  grader.Outcome `json:"outcome"`
		Slip     string         `json:"slip"`
		Read     string         `json:"read"`
		Marks    float64        `json:"marks"`
		Followed bool           `json:"followed"`
		Because  string         `json:"because"`
		Hint     string         `json:"hint"`
	}
)

// Run marks and prints what came of it.
func (c markCmd) Run(w *world) error {
	d, err := drawOf(c.Template, c.Seed)
	if err != nil {
		return err
	}
	response, err := c.response(d)
	if err != nil {
		return err
	}
	r, err := grader.Mark(d.template, d.values, d.template.Key(d.values), response)
	if err != nil {
		return err
	}
	if c.JSON {
		err = w.writeJSON(resultOf(d, r))
	} else {
		d.printResult(w.stdout, r, response)
	}
	if err != nil || r.Right() {
		return err
	}
	return ends(notRight)
}

// response takes the answers apart and holds their ids against the questions.
func (c markCmd) response(d *drawn) (grader.Response, error) {
	var ids []string
	for i := range d.template.Questions {
		ids = append(ids, d.template.Questions[i].ID)
	}
	out := grader.Response{}
	for _, a := range c.Answer {
		id, text, ok := strings.Cut(a, "=")
		if !ok {
			return nil, bad("--answer %q has no =; write it as --answer ID=TEXT", short(a))
		}
		if _, known := d.template.Question(id); !known {
			return nil, unknown("question", id, ids)
		}
		if _, twice := out[id]; twice {
			return nil, bad("the question %q is answered twice; give each --answer once", id)
		}
		out[id] = text
	}
	return out, nil
}

// unknown is the message for an id that is not there.
func unknown(what, id string, known []string) error {
	if near := read.Nearest(id, known); near != "" {
		return bad("there is no %s %q; the nearest is %q", what, short(id), near)
	}
	if len(known) <= 12 {
		return bad("there is no %s %q; there are %s", what, short(id), strings.Join(known, ", "))
	}
	return bad("there is no %s %q; see fullyon list %ss", what, short(id), what)
}

// short keeps the beginning of a text that goes into a message.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

func resultOf(d *drawn, r *grader.Result) *resultJSON {
	out := &resultJSON{Marks: r.Marks, Of: r.Of}
	for i := range d.template.Questions {
		id := d.template.Questions[i].ID
		m := r.Questions[id]
		out.Questions = append(out.Questions, member[markedJSON]{id, markedJSON{
			Outcome: m.Outcome, Slip: m.Slip, Read: m.Read, Marks: m.Marks, Followed: m.Followed, Because: plain(m.Because), Hint: plain(m.Hint),
		}})
	}
	return out
}

// inWords says an outcome to a person.
var inWords = map[grader.Outcome]string{
	grader.Right:          "right",
	grader.WrongUnit:      "right digits, wrong prefix",
	grader.Slip:           "not right yet",
	grader.Wrong:          "not right yet",
	grader.Unreadable:     "not readable",
	grader.Ambiguous:      "can be read in two ways",
	grader.WrongDimension: "another kind of quantity",
	grader.MissingUnit:    "the unit is missing",
	grader.Unanswered:     "not answered",
}

func (d *drawn) printResult(w io.Writer, r *grader.Result, typed grader.Response) {
	for i := range d.page.Questions {
		q := &d.page.Questions[i]
		m := r.Questions[q.ID]
		fmt.Fprintf(w, "%s: %s", q.ID, inWords[m.Outcome])
		if m.Title != "" {
			fmt.Fprintf(w, " (%s)", m.Title)
		}
		fmt.Fprintf(w, ", %g of %s\n", m.Marks, count(m.Of, "mark"))
		var rows [][]string
		if label := plain(q.Label); m.Read != "" {
			if label == "" {
				label = "your answer"
			}
			rows = append(rows, []string{"read as", label + ": " + m.Read})
		} else if text := typed[q.ID]; text != "" {
			rows = append(rows, []string{"typed", short(text)})
		}
		if !m.Because.Empty() && m.Outcome != grader.Unanswered {
			rows = append(rows, []string{"why", plain(m.Because)})
		}
		if !m.Hint.Empty() {
			rows = append(rows, []string{"hint", plain(m.Hint)})
		}
		table(w, 2, rows)
	}
	fmt.Fprintf(w, "\n%g of %s\n", r.Marks, count(r.Of, "mark"))
}
