// Package math turns a small subset of TeX into MathML Core and into plain text.
//
// The subset is what lessons and worked answers need, not TeX as a whole:
//
//	letters, numbers, + - = < > / ( ) [ ] |, _ and ^ with one sign or {…}, primes
//	\frac \dfrac \tfrac, \sqrt \sqrt[n], \left( … \right), ~ \, \: \; \! \quad \qquad
//	\alpha … \Omega \infty \partial \ell \degree \ohm, \times \cdot \le \approx … (symbols.go)
//	\ln \log \exp \sin \cos \tan \arctan, \max \min \lim, \sum \prod \int
//	\bar \hat \vec \dot \ddot \tilde \overline, \mathbf
//	\text{…} \mathrm{…} \operatorname{…} with \_ \% \& \# \$ \{ \} inside
//	\unit{K/W}, \qty{4.7}{mΩ}, \qty{1.5e-3}{A}: number, thin space, upright unit (units.go)
//	\begin{aligned|cases|matrix|pmatrix|bmatrix} with & and \\
//
// It departs from TeX where authors of lessons would be caught out: letters
// together in a braced subscript are one upright name, so R_{DS(on)} needs no
// \mathrm; a capital alone as a subscript is upright too, since it stands for a
// word (ISO 80000-1); and T_JA or x^12, of which TeX would take one sign only,
// are errors that ask for braces.
//
// Every mistake is an *Error with the byte offset in the source, so that a
// lesson's check can name line and column.
//
// # Classes
//
// The output has no style attributes, since the pages' content policy forbids
// them. The stylesheet gives looks to:
//
//	math        a font with a MATH table; without one, roots and scripts look poor
//	.math-bold  bold letters
//	.math-right a cell of aligned, left of &: text-align right, padding 0.25em 0
//	.math-left  a cell of aligned or cases: text-align left, padding 0.25em 0
//	.math-case  the second column of cases: text-align left, padding 0.25em 0 0.25em 1em
//
// MathML Core: W3C Candidate Recommendation, https://www.w3.org/TR/mathml-core/.
package math

import (
	"fmt"
	"html"
	"strings"
)

// Limits of one formula.
const (
	MaxLength = 10_000 // bytes of source
	MaxDepth  = 64     // groups inside one another
)

// Error says what is wrong with a formula and where.
type Error struct {
	Off int // byte offset in the TeX source
	Msg string
}

func (e *Error) Error() string { return fmt.Sprintf("math: offset %d: %s", e.Off, e.Msg) }

// Convert returns one <math> element, on a line of its own if display is set.
// The TeX source is kept in it as an annotation. The error is an *Error.
func Convert(tex string, display bool) (string, error) {
	nodes, err := parse(tex)
	if err != nil {
		return "", err
	}
	var w mathml
	w.Grow(20*len(tex) + 256)
	w.WriteString(`<math xmlns="http://www.w3.org/1998/Math/MathML"`)
	if display {
		w.WriteString(` display="block"`)
	}
	w.WriteString(`><semantics><mrow>`)
	w.row(nodes)
	w.WriteString(`</mrow><annotation encoding="application/x-tex">`)
	w.WriteString(html.EscapeString(tex))
	w.WriteString(`</annotation></semantics></math>`)
	return w.String(), nil
}

// Text returns a plain reading of a formula, for terminals and for text beside
// a figure: P = I^2 \times R becomes "P = I² × R". The rows of aligned become
// lines. TeX that Convert would refuse comes back as it is.
func Text(tex string) string {
	nodes, err := parse(tex)
	if err != nil {
		return tex
	}
	return strings.TrimSpace(textRow(nodes))
}
