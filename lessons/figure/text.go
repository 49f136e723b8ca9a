package figure

import (
	"strings"
	"unicode/utf8"
)

// A text is marked as formulas are written by hand: `V_{GS}` and `10^{3}`.

// small is the size of a raised or lowered text; lowered and raised say how far
// it goes, as shares of the size.
const (
	small   = 0.74
	lowered = 0.24
	raised  = -0.36
)

// run is a stretch of text at one height.
type run struct {
	text  string
	shift float64 // down, as a share of the size
}

// next cuts the first run off a marked text.
func next(s string) (run, string) {
	for i := 0; i+1 < len(s); i++ {
		if s[i+1] != '{' || s[i] != '_' && s[i] != '^' {
			continue
		}
		if i > 0 {
			return run{text: s[:i]}, s[i:]
		}
		end := strings.IndexByte(s, '}')
		if end < 0 {
			break
		}
		shift := lowered
		if s[0] == '^' {
			shift = raised
		}
		return run{s[2:end], shift}, s[end+1:]
	}
	return run{text: s}, ""
}

// flat writes a marked text on one line for a terminal: V_GS, 10^3.
func flat(s string) string {
	if !strings.Contains(s, "{") {
		return s
	}
	var b strings.Builder
	for s != "" {
		var r run
		r, s = next(s)
		switch {
		case r.shift > 0:
			b.WriteByte('_')
		case r.shift < 0:
			b.WriteByte('^')
		}
		b.WriteString(r.text)
	}
	return b.String()
}

// html writes a marked text with sub and sup elements.
func html(b []byte, s string) []byte {
	for s != "" {
		var r run
		r, s = next(s)
		switch {
		case r.shift > 0:
			b = append(escape(append(b, "<sub>"...), r.text), "</sub>"...)
		case r.shift < 0:
			b = append(escape(append(b, "<sup>"...), r.text), "</sup>"...)
		default:
			b = escape(b, r.text)
		}
	}
	return b
}

// measure gives the width of a text as it may stand on a page, on the wide side.
func (t *Shape) measure() float64 {
	if t.Plain {
		return width(t.Text, t.Bold) * t.Size
	}
	w := 0.0
	for rest := t.Text; rest != ""; {
		var r run
		r, rest = next(rest)
		k := t.Size
		if r.shift != 0 {
			k *= small
		}
		w += k * width(r.text, t.Bold)
	}
	return w
}

// Box is an upright rectangle.
type Box struct{ X0, Y0, X1, Y1 float64 }

// hits tells whether two boxes share more than an edge.
func (a Box) hits(b Box) bool { return a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1 }

// box is the area that a text covers: capitals and digits reach 0.74 of the size
// above the baseline, descenders and subscripts 0.24 below.
func (t *Shape) box() Box {
	w := t.measure()
	x := t.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	if t.Turned {
		off := x - t.X
		return Box{t.X - 0.76*t.Size, t.Y - off - w, t.X + 0.24*t.Size, t.Y - off}
	}
	return Box{x, t.Y - 0.76*t.Size, x + w, t.Y + 0.24*t.Size}
}

// width sums the advances of a text at size 1.
func width(s string, bold bool) float64 {
	table := &regular
	if bold {
		table = &heavy
	}
	sum := 0
	for i := 0; i < len(s); {
		if c := s[i]; c < utf8.RuneSelf {
			if c >= ' ' && c < 127 {
				sum += int(table[c-' '])
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		i += n
		switch {
		case r == '\u00a0' || r == '\u202f' || r == '·' || r == '’':
			sum += 380
		case r == '²' || r == '³' || r == '¹' || r >= '\u2070' && r <= '\u209f':
			sum += 440
		case r == '°':
			sum += 500
		case r == 'µ' || r == 'μ' || r >= 'α' && r <= 'ω' || r == '–':
			sum += 740
		case r < 0x2e80:
			sum += 880
		default: // East Asian signs and pictures are as wide as high
			sum += 1100
		}
	}
	return float64(sum) / 1000
}

// The advances of U+0020 to U+007E in thousandths of the size: of each sign the
// wider one of the page's own face and of a common wide substitute, so that a
// text never comes out longer than it was taken for.
var regular = [95]int16{
	318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 368, 318, 377, 648, 637, 637,
	637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632,
	576, 775, 752, 414, 510, 656, 558, 863, 749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686,
	611, 686, 391, 377, 391, 838, 500, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580,
	278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
}

var heavy = [95]int16{
	349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 442, 696, 696, 696,
	696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 614, 1000, 774, 763, 734, 831, 684,
	684, 821, 837, 458, 560, 775, 638, 996, 837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771,
	725, 726, 458, 442, 458, 838, 500, 500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666,
	343, 1042, 712, 688, 716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
}
