package math

import (
	"strings"
	"unicode/utf8"
)

// command reads a backslash and what belongs to it.
func (p *parser) command(before node) node {
	at := p.i
	p.i++
	if p.i >= len(p.s) {
		p.failAt(at, "a backslash with nothing behind it; delete it")
		return nil
	}
	n := letterRun(p.s[p.i:])
	if n == 0 {
		_, n = utf8.DecodeRuneInString(p.s[p.i:])
	}
	name := p.s[p.i : p.i+n]
	p.i += n
	if node := symbol(name, before); node != nil {
		return node
	}
	if mark, ok := accents[name]; ok {
		return accent{p.arg(), mark, name == "overline"}
	}
	switch name {
	case "frac", "dfrac", "tfrac":
		return fraction{p.arg(), p.arg(), name == "dfrac"}
	case "sqrt":
		return p.root(at)
	case "text":
		inside, _ := p.raw()
		return words(unescape(inside))
	case "mathrm", "operatorname":
		inside, _ := p.raw()
		if name == "operatorname" {
			return function{name: unescape(inside)}
		}
		return letter{unescape(inside), true}
	case "mathbf":
		return bold{p.arg()}
	case "unit":
		return quantity{unit: p.unit()}
	case "qty":
		inside, off := p.raw()
		number, ok := readNumber(inside)
		if !ok && p.err == nil {
			p.failAt(off, "%q is not a number; write one such as 4.7, -5 or 1.5e-3", inside)
		}
		return quantity{number, p.unit()}
	case "left":
		return p.fenced(at)
	case "begin":
		return p.environment(at)
	}
	p.failAt(at, "unknown command \\%s; write \\mathrm{…} for a name, \\text{…} for words", name)
	return nil
}

// symbol finds a command that takes no argument.
func symbol(name string, before node) node {
	if s, ok := letters[name]; ok {
		return letter{s, false}
	}
	if s, ok := uprightLetters[name]; ok {
		return letter{s, true}
	}
	if s, ok := signs[name]; ok {
		if name == "pm" || name == "mp" {
			return joining(s, before)
		}
		return sign{s: s}
	}
	if s, ok := brackets[name]; ok {
		return s
	}
	if limits, ok := functions[name]; ok {
		return function{name, limits}
	}
	if b, ok := bigSigns[name]; ok {
		return b
	}
	if width, ok := spaces[name]; ok {
		return space(width)
	}
	return nil
}

var escapes = strings.NewReplacer(`\_`, "_", `\%`, "%", `\&`, "&", `\#`, "#", `\$`, "$", `\{`, "{", `\}`, "}")

func unescape(s string) string { return escapes.Replace(s) }

func (p *parser) unit() []unitPart {
	inside, off := p.raw()
	if p.err != nil {
		return nil
	}
	parts, problem := readUnit(inside)
	if problem != "" {
		p.failAt(off, "%s", problem)
	}
	return parts
}

func (p *parser) root(at int) node {
	p.skipSpace()
	var index node
	if p.at('[') {
		p.i++
		index = group(p.row("]"))
		if !p.at(']') {
			p.failAt(at, "the '[' of this root is never closed; add ']'")
			return nil
		}
		p.i++
	}
	return root{p.arg(), index}
}

func (p *parser) fenced(at int) node {
	f := fenced{open: p.fence()}
	f.x = p.row("")
	if !p.atCommand("right") {
		p.failAt(at, `\left without \right; add \right) or \right.`)
		return nil
	}
	p.i += len(`\right`)
	f.close = p.fence()
	return f
}

// fence reads the bracket behind \left or \right; "" for the point that stands for none.
func (p *parser) fence() string {
	p.skipSpace()
	start := p.i
	if p.i >= len(p.s) {
		p.fail("a bracket is missing; write one of ( ) [ ] | \\{ \\} or a point for none")
		return ""
	}
	if p.at('\\') {
		p.i++
		n := letterRun(p.s[p.i:])
		if n == 0 && p.i < len(p.s) {
			_, n = utf8.DecodeRuneInString(p.s[p.i:])
		}
		p.i += n
		if b, ok := brackets[p.s[p.i-n:p.i]]; ok {
			return b.s
		}
	} else {
		_, n := utf8.DecodeRuneInString(p.s[p.i:])
		p.i += n
		switch s := p.s[start:p.i]; s {
		case ".":
			return ""
		case "(", ")", "[", "]", "|", "/", "⟨", "⟩":
			return s
		}
	}
	p.failAt(start, "%s is no bracket; write one of ( ) [ ] | \\{ \\} or a point for none", quoted(p.s[start:]))
	return ""
}

func (p *parser) environment(at int) node {
	name, _ := p.raw()
	if p.err != nil {
		return nil
	}
	switch name {
	case "aligned", "cases", "matrix", "pmatrix", "bmatrix":
	default:
		p.failAt(at, `unknown environment %q; write aligned, cases, matrix, pmatrix or bmatrix`, name)
		return nil
	}
	t := table{name: name}
	var cells [][]node
	for {
		cells = append(cells, p.row(""))
		switch {
		case p.at('&'):
			p.i++
		case strings.HasPrefix(p.s[p.i:], `\\`):
			p.i += 2
			t.rows, cells = append(t.rows, cells), nil
		case p.atCommand("end"):
			p.i += len(`\end`)
			if end, off := p.raw(); end != name {
				p.failAt(off, `\begin{%s} ends with \end{%s}; make the two alike`, name, end)
			}
			if len(cells) > 1 || len(cells[0]) > 0 || t.rows == nil { // \\ may end the last row
				t.rows = append(t.rows, cells)
			}
			return t
		default:
			p.failAt(at, `\begin{%s} is never ended; add \end{%s}`, name, name)
			return nil
		}
	}
}
