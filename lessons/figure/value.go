package figure

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"fullyon/engine/si"
)

const nbsp = "\u00a0"

// bound binds the number to its unit, so that no line breaks between them.
func bound(s string) string { return strings.ReplaceAll(s, " ", nbsp) }

// value prints a quantity as given, with a space that does not break. A voltage
// of some tenths stays in volts, as on a datasheet: 0.9 V.
func value(q si.Quantity) string {
	if q.Dim == si.Voltage && math.Abs(q.Value) >= 0.1 {
		return bound(q.Plain())
	}
	return bound(q.String())
}

// current prints a current with two figures at least, as datasheets do: 2.0 A.
func current(q si.Quantity) string {
	if si.Round(q.Value, 1) == q.Value {
		return bound(q.Figures(2))
	}
	return value(q)
}

// short is value for a drawing, where room is scarce: four figures at most.
func short(q si.Quantity) string {
	if s := value(q); utf8.RuneCountInString(s) <= 9 {
		return s
	}
	return bound(q.Figures(4))
}

func shortCurrent(q si.Quantity) string {
	if si.Round(q.Value, 1) == q.Value {
		return bound(q.Figures(2))
	}
	return short(q)
}

// lines breaks a name at spaces and after hyphens into lines of at most max
// units at this size. A word that cannot be broken stays whole.
func lines(name string, size, max float64, bold bool) []string {
	var out []string
	name = strings.TrimSpace(name)
	for name != "" {
		cut, last := len(name), 0
		for i, r := range name {
			end := i
			if r == '-' || r == '/' {
				end = i + 1
			}
			if r != ' ' && end == i {
				continue
			}
			if size*width(name[:end], bold) > max {
				break
			}
			last = end
		}
		if size*width(name, bold) > max && last > 0 {
			cut = last
		} else if size*width(name, bold) > max {
			if i := strings.IndexAny(name, " -/"); i > 0 {
				cut = i
				if name[i] != ' ' {
					cut++
				}
			}
		}
		out = append(out, strings.TrimSpace(name[:cut]))
		name = strings.TrimSpace(name[cut:])
	}
	return out
}

// tidy prints a number without exponent and without needless noughts, with the
// minus of the SI brochure.
func tidy(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// fixedPlaces prints a number with so many decimals.
func fixedPlaces(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// atMost keeps the first n lines of a text and marks that there was more.
func atMost(n int, text []string) []string {
	if len(text) > n {
		text = text[:n]
		text[n-1] += "…"
	}
	return text
}

// clip cuts a name beyond the usual length of one; it stands whole in the facts.
func clip(name string) string {
	const most = 40
	if utf8.RuneCountInString(name) <= most {
		return name
	}
	return string([]rune(name)[:most-1]) + "…"
}

// wrap breaks a text like lines, and words too that are wider than a line.
func wrap(text string, size, max float64) []string {
	var out []string
	for _, l := range lines(text, size, max, false) {
		for size*width(l, false) > max {
			cut := 0
			for i := range l {
				if i > 0 && size*width(l[:i], false) > max {
					break
				}
				cut = i
			}
			if cut == 0 {
				break
			}
			out, l = append(out, l[:cut]), l[cut:]
		}
		out = append(out, l)
	}
	return out
}
