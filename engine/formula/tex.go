package formula

import "strings"

// texMarks writes the TeX subset of package lessons/math.
type texMarks struct{}

func (texMarks) operator(op operator) string {
	return [...]string{" + ", " - ", ` \times `, "/", "^", " < ", ` \le `, " > ", ` \ge `, " = ", ` \ne `}[op]
}

func (texMarks) minus() string             { return "-" }
func (texMarks) quote(text string) string  { return `\text{“` + text + `”}` }
func (texMarks) fraction() bool            { return true }
func (texMarks) divide(x, y string) string { return `\frac{` + x + "}{" + y + "}" }
func (texMarks) root(x string) string      { return `\sqrt{` + x + "}" }
func (texMarks) absolute(x string) string  { return `\left|` + x + `\right|` }

func (texMarks) unshown(name string) string {
	return `\mathrm{` + strings.ReplaceAll(name, "_", `\_`) + "}"
}

// bracket lets the brackets grow only round what is higher than a line.
func (texMarks) bracket(s string) string {
	if strings.Contains(s, `\frac`) || strings.Contains(s, `\sqrt`) {
		return `\left(` + s + `\right)`
	}
	return "(" + s + ")"
}

func (m texMarks) call(fn string, args []string) string {
	switch fn {
	case "ln", "exp", "min", "max", "log", "sin", "cos", "tan":
		fn = `\` + fn
	default:
		fn = `\operatorname{` + strings.ReplaceAll(fn, "_", `\_`) + "}"
	}
	return fn + m.bracket(strings.Join(args, ", "))
}

func (texMarks) number(n number) piece {
	p := piece{s: n.mantissa, level: levelValue}
	if n.exponent != "" {
		p.s += ` \times 10^{` + n.exponent + "}"
		p.compound, p.slash = true, true
	}
	return p
}

func (texMarks) power(base string, exponent piece, _ string) string {
	return base + "^{" + exponent.s + "}"
}
