package engine

import (
	"strconv"
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// blockOrder is the order in which a circuit file is written.
var blockOrder = []string{"supply", "load", "drive", "surroundings", "freewheel", "wiring", "bipolar", "body", "store"}

// WriteCircuit gives the text of a circuit file that reads back as the same
// circuit. Only what was given is written; the part is written out in full.
func WriteCircuit(c *Circuit) string {
	var b strings.Builder
	if c.Title != "" {
		b.WriteString("title: " + strconv.Quote(c.Title) + "\n")
	}
	for _, block := range blockOrder {
		if lines := blockLines(c, block); len(lines) > 0 {
			b.WriteString(block + ":\n  " + strings.Join(lines, "\n  ") + "\n")
		} else if block == "freewheel" && c.Freewheel.Kind == NoFreewheel {
			b.WriteString("freewheel: none\n")
		}
		switch {
		case block == "load" && c.Placement != "":
			b.WriteString("placement: " + c.Placement + "\n")
		case block == "drive" && (c.HasPart() || c.Part.Name != ""):
			b.WriteString("part:\n" + part.Write(c.Part, 2))
		}
	}
	return b.String()
}

// blockLines are the keys of one block with what was given for them.
func blockLines(c *Circuit, block string) []string {
	var lines, sink []string
	for i := range words {
		w := &words[i]
		if in, key := split(w.Path); in == block && w.Get(c) != "" && !(block == "freewheel" && w.Get(c) == NoFreewheel) {
			text := w.Get(c)
			if w.Choices == nil {
				text = strconv.Quote(text)
			}
			lines = append(lines, key+": "+text)
		}
	}
	for n := ID(0); n < inputCount; n++ {
		in := table[n].input
		q := in.Get(c)
		if !q.Known() {
			continue
		}
		switch at, key := split(in.Path); {
		case at == block && n == pullDown && c.Placement == HighSide:
			lines = append(lines, "pull_up: "+writeQuantity(q))
		case at == block && n == duty:
			lines = append(lines, key+": "+writePercent(q))
		case at == block:
			lines = append(lines, key+": "+writeQuantity(q))
		case at == block+".heatsink":
			sink = append(sink, key+": "+writeQuantity(q))
		}
	}
	if len(sink) > 0 {
		lines = append(lines, "heatsink: {"+strings.Join(sink, ", ")+"}")
	}
	return lines
}

// ascii writes the signs of a printed quantity as one types them.
var ascii = strings.NewReplacer("Ω", "ohm", "µ", "u", "²", "2", "°", "", "−", "-")

// writeQuantity writes a quantity such that it reads back as the same value.
func writeQuantity(q si.Quantity) string {
	text := ascii.Replace(q.String())
	if back, err := si.Parse(text, q.Dim); err == nil && back == q {
		return text
	}
	text = strconv.FormatFloat(q.Value, 'g', -1, 64)
	if u := q.Dim.Unit().Symbol; u != "" {
		text += " " + ascii.Replace(u)
	}
	return text
}

// writePercent writes a share as a percentage where that loses nothing.
func writePercent(q si.Quantity) string {
	text := strconv.FormatFloat(q.In(percent), 'g', -1, 64) + " %"
	if back, err := si.Parse(text, q.Dim); err == nil && back == q {
		return text
	}
	return writeQuantity(q)
}
