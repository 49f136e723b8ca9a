package main

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"
)

// width is how many columns text for people is wrapped to.
const width = 78

// heading prints a line with a space above it.
func heading(w io.Writer, text string) { fmt.Fprintf(w, "\n%s\n", text) }

// para prints text wrapped and indented. Its line breaks stay, and an item of a
// list is indented as a whole.
func para(w io.Writer, indent int, text string) {
	for l := range strings.SplitSeq(strings.TrimSpace(text), "\n") {
		hang := 0
		if strings.HasPrefix(l, "- ") {
			hang = 2
		}
		for i, part := range wrap(l, width-indent-hang) {
			if i > 0 {
				part = spaces(hang) + part
			}
			fmt.Fprintln(w, strings.TrimRight(spaces(indent)+part, " "))
		}
	}
}

// verbatim prints lines as they are, indented.
func verbatim(w io.Writer, indent int, text string) {
	for l := range strings.Lines(strings.TrimRight(text, "\n")) {
		fmt.Fprintln(w, strings.TrimRight(spaces(indent)+strings.TrimRight(l, "\n"), " "))
	}
}

// table prints rows with aligned columns; the last column is wrapped.
func table(w io.Writer, indent int, rows [][]string) {
	var widths []int
	for _, r := range rows {
		for i, c := range r[:max(len(r)-1, 0)] {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], columns(c))
		}
	}
	for _, r := range rows {
		var b strings.Builder
		b.WriteString(spaces(indent))
		for i, c := range r[:max(len(r)-1, 0)] {
			b.WriteString(c)
			b.WriteString(spaces(widths[i] - columns(c) + 2))
		}
		at := columns(b.String())
		if len(r) > 0 {
			for i, l := range wrap(r[len(r)-1], max(width-at, 24)) {
				if i > 0 {
					b.WriteString("\n" + spaces(at))
				}
				b.WriteString(l)
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
}

// valueAndUnit is a number before its unit, which are not to be parted at the end of a line.
var valueAndUnit = regexp.MustCompile(`([0-9]) ([pnµmkM]?(?:V|A|W|Ω|J|F|H|Hz|C|s|K|K/W|°C|%)(?:[ ,.;:)²]|$))`)

const noBreak = "\u00a0"

// wrap breaks text at spaces into lines of at most so many columns.
func wrap(text string, columnsPerLine int) []string {
	text = valueAndUnit.ReplaceAllString(text, "${1}"+noBreak+"${2}")
	lines := wrapWords(text, columnsPerLine)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], noBreak, " ")
	}
	return lines
}

func wrapWords(text string, columnsPerLine int) []string {
	var lines []string
	line, n := "", 0
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		k := columns(word)
		if n > 0 && n+1+k > columnsPerLine {
			lines, line, n = append(lines, line), "", 0
		}
		if n > 0 {
			line, n = line+" ", n+1
		}
		line, n = line+word, n+k
	}
	if n > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// columns is how wide a text is on a terminal, near enough for the signs of this trade.
func columns(s string) int { return utf8.RuneCountInString(s) }

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
