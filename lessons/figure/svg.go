package figure

import (
	"math"
	"strconv"
)

// roles gives the class and the colour of each role.
var roles = [...]struct{ class, colour string }{
	None:   {"", "none"},
	Ink:    {"ink", "var(--ink,currentColor)"},
	Soft:   {"soft", "var(--soft,currentColor)"},
	Rule:   {"rule", "var(--rule,currentColor)"},
	Paper:  {"paper", "var(--paper,Canvas)"},
	Wash:   {"wash", "var(--wash,Canvas)"},
	Accent: {"accent", "var(--copper,currentColor)"},
	Holds:  {"holds", "var(--holds,currentColor)"},
	Fails:  {"fails", "var(--fails,currentColor)"},
	Tight:  {"tight", "var(--tight,currentColor)"},
	Hatch:  {"hatch", ""},
}

// SVG writes the figure for a page. All ids start with id, of which letters,
// digits, - and _ are kept.
func (f *Figure) SVG(id string) string {
	return string(f.AppendSVG(make([]byte, 0, 8<<10), id))
}

// AppendSVG writes the figure to the end of b.
func (f *Figure) AppendSVG(b []byte, id string) []byte {
	s := f.Scene
	id = cleanID(id)
	b = append(b, `<svg class="fig `...)
	b = append(b, s.Class...)
	b = append(b, `" xmlns="http://www.w3.org/2000/svg" viewBox="`...)
	for i, v := range [4]float64{s.Left, s.Top, s.Width, s.Height} {
		if i > 0 {
			b = append(b, ' ')
		}
		b = number(b, v)
	}
	b = append(b, '"')
	b = attr(b, "width", s.Width)
	b = attr(b, "height", s.Height)
	b = append(b, ` role="img" aria-labelledby="`...)
	b = append(b, id...)
	b = append(b, `-t" aria-describedby="`...)
	b = append(b, id...)
	b = append(b, `-d" stroke-linecap="round" stroke-linejoin="round"`...)
	b = data(b, s.Data)
	b = append(b, `><title id="`...)
	b = append(b, id...)
	b = append(b, `-t">`...)
	b = escape(b, f.Title)
	b = append(b, `</title><desc id="`...)
	b = append(b, id...)
	b = append(b, `-d">`...)
	b = escape(b, f.Desc)
	b = append(b, `</desc>`...)
	for i := range s.Shapes {
		if s.Shapes[i].Pen.Fill == Hatch {
			b = append(b, `<defs><pattern id="`...)
			b = append(b, id...)
			b = append(b, `-h" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M3 0V6" stroke-width="1.3" stroke="`...)
			b = append(b, roles[Holds].colour...)
			b = append(b, `"/></pattern></defs>`...)
			break
		}
	}
	for i := range s.Shapes {
		b = s.appendShape(b, &s.Shapes[i], id)
	}
	return append(b, `</svg>`...)
}

func (s *Scene) appendShape(b []byte, p *Shape, id string) []byte {
	switch p.Kind {
	case Text:
		return appendText(b, p)
	case Circle:
		b = append(b, `<circle`...)
		b = pen(b, &p.Pen, id)
		b = attr(b, "cx", p.X)
		b = attr(b, "cy", p.Y)
		b = attr(b, "r", p.R)
	case Rect:
		b = append(b, `<rect`...)
		b = pen(b, &p.Pen, id)
		b = attr(b, "x", p.X)
		b = attr(b, "y", p.Y)
		b = attr(b, "width", p.W)
		b = attr(b, "height", p.H)
	case Path:
		b = append(b, `<path`...)
		b = pen(b, &p.Pen, id)
		b = append(b, ` d="`...)
		b = trace(b, s.Steps(p))
		b = append(b, '"')
	}
	b = data(b, p.Data)
	return append(b, `/>`...)
}

// trace writes a path, with the short forms for level and upright lines.
func trace(b []byte, steps []Step) []byte {
	var x, y float64
	for _, t := range steps {
		switch {
		case t.Op == ClosePath:
			b = append(b, 'Z')
			continue
		case t.Op == MoveTo:
			b = pair(append(b, 'M'), t.X, t.Y)
		case t.Op == CurveTo:
			b = pair(append(b, 'C'), t.X1, t.Y1)
			b = pair(append(b, ' '), t.X2, t.Y2)
			b = pair(append(b, ' '), t.X, t.Y)
		case t.Y == y:
			b = number(append(b, 'H'), t.X)
		case t.X == x:
			b = number(append(b, 'V'), t.Y)
		default:
			b = pair(append(b, 'L'), t.X, t.Y)
		}
		x, y = t.X, t.Y
	}
	return b
}

func pen(b []byte, p *Pen, id string) []byte {
	role := p.Stroke
	if role == None {
		role = p.Fill
	}
	b = append(b, ` class="`...)
	b = append(b, roles[role].class...)
	if p.Fill == Hatch && role != Hatch {
		b = append(b, ` hatch`...)
	}
	b = append(b, `" fill="`...)
	if p.Fill == Hatch {
		b = append(b, `url(#`...)
		b = append(b, id...)
		b = append(b, `-h)`...)
	} else {
		b = append(b, roles[p.Fill].colour...)
	}
	b = append(b, '"')
	if p.Stroke != None {
		b = append(b, ` stroke="`...)
		b = append(b, roles[p.Stroke].colour...)
		b = append(b, '"')
		b = attr(b, "stroke-width", p.Width)
	}
	switch p.Dash {
	case Dashed:
		b = append(b, ` stroke-dasharray="5 4"`...)
	case Dotted:
		b = append(b, ` stroke-dasharray="1 4"`...)
	}
	return b
}

func appendText(b []byte, p *Shape) []byte {
	b = append(b, `<text class="`...)
	b = append(b, roles[p.Pen.Fill].class...)
	if p.numeric {
		b = append(b, ` num`...)
	}
	b = append(b, `" fill="`...)
	b = append(b, roles[p.Pen.Fill].colour...)
	b = append(b, '"')
	if p.Turned {
		b = append(b, ` transform="translate(`...)
		b = pair(b, p.X, p.Y)
		b = append(b, `) rotate(-90)"`...)
	} else {
		b = attr(b, "x", p.X)
		b = attr(b, "y", p.Y)
	}
	b = attr(b, "font-size", p.Size)
	if p.Bold {
		b = append(b, ` font-weight="700"`...)
	}
	switch p.Anchor {
	case Middle:
		b = append(b, ` text-anchor="middle"`...)
	case End:
		b = append(b, ` text-anchor="end"`...)
	}
	b = append(b, '>')
	if p.Plain {
		b = escape(b, p.Text)
		return append(b, `</text>`...)
	}
	down := 0.0
	for rest := p.Text; rest != ""; {
		var r run
		r, rest = next(rest)
		want := r.shift * p.Size
		if want == down && r.shift == 0 {
			b = escape(b, r.text)
			continue
		}
		b = append(b, `<tspan`...)
		b = attr(b, "dy", want-down)
		if r.shift != 0 {
			b = attr(b, "font-size", p.Size*small)
		}
		b = append(b, '>')
		b = escape(b, r.text)
		b = append(b, `</tspan>`...)
		down = want
	}
	return append(b, `</text>`...)
}

func data(b []byte, attrs []Attr) []byte {
	for _, a := range attrs {
		b = append(b, ` data-`...)
		b = append(b, a.Name...)
		b = append(b, `="`...)
		b = escape(b, a.Value)
		b = append(b, '"')
	}
	return b
}

func attr(b []byte, name string, v float64) []byte {
	b = append(b, ' ')
	b = append(b, name...)
	b = append(b, `="`...)
	b = number(b, v)
	return append(b, '"')
}

func pair(b []byte, x, y float64) []byte {
	b = number(b, x)
	b = append(b, ' ')
	return number(b, y)
}

// number writes a coordinate to a tenth of a unit.
func number(b []byte, v float64) []byte {
	n := int64(math.Round(v * 10))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/10, 10)
	if n%10 != 0 {
		b = append(b, '.', byte('0'+n%10))
	}
	return b
}

// escape writes text for an element or a quoted attribute.
func escape(b []byte, s string) []byte {
	from := 0
	for i := 0; i < len(s); i++ {
		var e string
		switch c := s[i]; {
		case c == '&':
			e = "&amp;"
		case c == '<':
			e = "&lt;"
		case c == '>':
			e = "&gt;"
		case c == '"':
			e = "&#34;"
		case c == '\'':
			e = "&#39;"
		case c < ' ' || c == 0x7f: // not allowed in XML, and no use in a figure
			e = " "
		default:
			continue
		}
		b = append(b, s[from:i]...)
		b = append(b, e...)
		from = i + 1
	}
	return append(b, s[from:]...)
}

// cleanID keeps what may stand in an id without quoting anywhere.
func cleanID(id string) string {
	for i := 0; i < len(id); i++ {
		if !idByte(id[i]) {
			b := []byte(id)
			for j := range b {
				if !idByte(b[j]) {
					b[j] = '-'
				}
			}
			return string(b)
		}
	}
	if id == "" {
		return "fig"
	}
	return id
}

func idByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

// Responsive writes two drawings of one figure, for a wide and for a narrow page.
// The stylesheet displays one of them; the other is then out of the accessibility tree.
func Responsive(id string, wide, narrow *Figure) string {
	b := append(make([]byte, 0, 16<<10), `<div class="fig-wide">`...)
	b = wide.AppendSVG(b, id+"-w")
	b = append(b, `</div><div class="fig-narrow">`...)
	b = narrow.AppendSVG(b, id+"-n")
	return string(append(b, `</div>`...))
}
