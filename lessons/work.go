package lessons

import (
	"html"
	"html/template"
	"strings"

	"fullyon/engine/formula"
	"fullyon/grader/problem"
	"fullyon/lessons/math"
)

// Step is one step of a worked answer, ready to be shown.
type Step struct {
	Say     template.HTML // what is done; may be empty
	Math    template.HTML // symbol = formula = numbers = result; empty for a step in words
	Row     string        // flat name of the datasheet row it leans on; may be empty
	Answers string        // id of the question that it answers; may be empty
	Round   int           // of a loop in which a value feeds back; 0 for none
	Shown   string        // the result as printed; may be empty

	Blank template.HTML // symbol = formula = ?, for a step that is left open

	PlainSay   string // Say for a terminal
	PlainMath  string // Math for a terminal, on one line
	PlainBlank string // Blank for a terminal
}

// Work prepares a worked answer for pages and terminals.
func Work(lines []problem.Line) []Step {
	steps := make([]Step, len(lines))
	for i := range lines {
		l := &lines[i]
		s := &steps[i]
		s.Row, s.Answers, s.Round, s.Shown = l.Row, l.Answers, l.Round, l.Shown
		s.Say, s.PlainSay = Inline(l.Say), PlainInline(l.Say)
		s.Math, s.PlainMath = equation(l), plainEquation(l)
		s.Blank, s.PlainBlank = blank(l)
	}
	return steps
}

// longEquation is the length of the plain form beyond which each = begins a line of its own.
const longEquation = 48

// equation writes a line as MathML.
func equation(l *problem.Line) template.HTML {
	var sides []string
	if s := symbol(l.Symbol); s != "" {
		sides = append(sides, s)
	}
	if l.Formula != nil {
		symbols := func(name string) formula.Shown {
			s := l.Symbols(name)
			s.Text = symbol(s.Text)
			return s
		}
		sides = append(sides, l.Formula.TeX(symbols), l.Formula.TeX(l.Numbers))
	}
	if l.Shown != "" {
		sides = append(sides, texValue(l.Shown))
	}
	sides = distinct(sides)
	if len(sides) < 2 {
		return ""
	}
	tex := strings.Join(sides, " = ")
	if plain := plainEquation(l); len([]rune(plain)) > longEquation && len(sides) > 2 {
		tex = `\begin{aligned}` + sides[0] + " &= " + strings.Join(sides[1:], ` \\ &= `) + `\end{aligned}`
	}
	out, err := math.Convert(tex, true)
	if err != nil {
		return template.HTML(`<p class="plain-formula">` + html.EscapeString(plainEquation(l)) + "</p>")
	}
	return template.HTML(out)
}

// blank writes a line whose numbers and result are left to the reader.
func blank(l *problem.Line) (template.HTML, string) {
	var sides, plain []string
	if s := symbol(l.Symbol); s != "" {
		sides, plain = append(sides, s), append(plain, math.Text(s))
	}
	if l.Formula != nil {
		symbols := func(name string) formula.Shown {
			s := l.Symbols(name)
			s.Text = symbol(s.Text)
			return s
		}
		sides, plain = append(sides, l.Formula.TeX(symbols)), append(plain, l.Formula.Text(l.PlainSymbols))
	}
	sides, plain = append(sides, "?"), append(plain, "?")
	text := strings.Join(plain, " = ")
	out, err := math.Convert(strings.Join(sides, " = "), true)
	if err != nil {
		return template.HTML(`<p class="plain-formula">` + html.EscapeString(text) + "</p>"), text
	}
	return template.HTML(out), text
}

// symbol is the TeX of a symbol. A value without one goes by its name: it is set
// upright, and left out where the author gave no name either.
func symbol(tex string) string {
	if strings.HasPrefix(tex, "step_") {
		return ""
	}
	if _, err := math.Convert(tex, false); err != nil {
		return `\mathrm{` + strings.ReplaceAll(tex, "_", `\_`) + "}"
	}
	return tex
}

// plainEquation writes a line as text: P = I² × R = (2.0 A)² × 32 mΩ = 128 mW.
func plainEquation(l *problem.Line) string {
	var sides []string
	if s := symbol(l.Symbol); s != "" {
		sides = append(sides, math.Text(s))
	}
	if l.Formula != nil {
		sides = append(sides, l.Formula.Text(l.PlainSymbols), l.Formula.Text(l.PlainNumbers))
	}
	if l.Shown != "" {
		sides = append(sides, l.Shown)
	}
	sides = distinct(sides)
	if len(sides) < 2 {
		return ""
	}
	return strings.Join(sides, " = ")
}

// distinct leaves out a side that says the same as the one before it.
func distinct(sides []string) []string {
	out := sides[:0]
	for _, s := range sides {
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}
