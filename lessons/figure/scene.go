package figure

// Role is the part that a colour plays. The page gives each role its colour.
type Role uint8

// The roles. None draws nothing.
const (
	None Role = iota
	Ink
	Soft
	Rule
	Paper
	Wash
	Accent
	Holds
	Fails
	Tight
	Hatch // an area hatched in the colour of Holds
)

// Dash is the pattern of a stroke.
type Dash uint8

// The patterns of a stroke.
const (
	Solid Dash = iota
	Dashed
	Dotted
)

// Pen says how a shape is stroked and filled. Width is in scene units.
type Pen struct {
	Stroke, Fill Role
	Width        float64
	Dash         Dash
}

// Op is what a step of a path does.
type Op uint8

// MoveTo starts a stroke at (X, Y), LineTo draws to it, CurveTo draws a cubic Bézier
// curve to it by way of two control points, ClosePath goes back to the last MoveTo.
const (
	MoveTo Op = iota
	LineTo
	CurveTo
	ClosePath
)

// Step is one step of a path. The control points serve a CurveTo only.
type Step struct {
	Op             Op
	X, Y           float64
	X1, Y1, X2, Y2 float64
}

// Kind tells the shapes apart.
type Kind uint8

// The kinds of shape.
const (
	Path Kind = iota
	Circle
	Rect
	Text
)

// Anchor says which point of a text stands at its X.
type Anchor uint8

// The anchors of a text.
const (
	Start Anchor = iota
	Middle
	End
)

// Shape is one thing to draw. Y of a text is its baseline.
type Shape struct {
	Kind     Kind
	Pen      Pen
	X, Y     float64 // corner of a rectangle, middle of a circle, anchor of a text
	W, H     float64 // of a rectangle
	R        float64 // of a circle
	Text     string  // a text in the marking of [runs], or plain
	Plain    bool    // Text holds no marking
	Size     float64 // of a text
	Bold     bool
	Anchor   Anchor
	Turned   bool // a text that reads upwards
	Data     []Attr
	from, to int // steps of a path
	numeric  bool
}

// Attr is a data-* attribute, for a script that adds a crosshair.
type Attr struct{ Name, Value string }

// Scene is a drawing in plain numbers: y grows downwards, sizes are those of a
// CSS pixel at full size.
type Scene struct {
	Class         string
	Left, Top     float64
	Width, Height float64
	Shapes        []Shape
	Data          []Attr
	steps         []Step
	open          int // first step of the path being drawn
}

// Steps gives the steps of a path.
func (s *Scene) Steps(p *Shape) []Step { return s.steps[p.from:p.to] }

// newScene makes room for a usual drawing at once.
func newScene(class string, shapes int) *Scene {
	return &Scene{Class: class, Shapes: make([]Shape, 0, shapes), steps: make([]Step, 0, 3*shapes)}
}

func (s *Scene) move(x, y float64) { s.steps = append(s.steps, Step{Op: MoveTo, X: x, Y: y}) }
func (s *Scene) line(x, y float64) { s.steps = append(s.steps, Step{Op: LineTo, X: x, Y: y}) }
func (s *Scene) close()            { s.steps = append(s.steps, Step{Op: ClosePath}) }

func (s *Scene) curve(x1, y1, x2, y2, x, y float64) {
	s.steps = append(s.steps, Step{CurveTo, x, y, x1, y1, x2, y2})
}

// stroke ends the path drawn since the last one. A path that continues the shape
// before it with the same pen becomes part of it.
func (s *Scene) stroke(p Pen) *Shape {
	from := s.open
	s.open = len(s.steps)
	if n := len(s.Shapes); n > 0 {
		last := &s.Shapes[n-1]
		if last.Kind == Path && last.Pen == p && last.to == from && last.Data == nil && p.Fill == None {
			last.to = s.open
			return last
		}
	}
	s.Shapes = append(s.Shapes, Shape{Kind: Path, Pen: p, from: from, to: s.open})
	return &s.Shapes[len(s.Shapes)-1]
}

// poly draws straight lines through points given as x, y, x, y, …
func (s *Scene) poly(p Pen, xy ...float64) {
	s.move(xy[0], xy[1])
	for i := 2; i+1 < len(xy); i += 2 {
		s.line(xy[i], xy[i+1])
	}
	s.stroke(p)
}

// shape draws a closed figure through points.
func (s *Scene) shape(p Pen, xy ...float64) {
	s.move(xy[0], xy[1])
	for i := 2; i+1 < len(xy); i += 2 {
		s.line(xy[i], xy[i+1])
	}
	s.close()
	s.stroke(p)
}

func (s *Scene) rect(p Pen, x, y, w, h float64) {
	s.Shapes = append(s.Shapes, Shape{Kind: Rect, Pen: p, X: x, Y: y, W: w, H: h})
}

func (s *Scene) circle(p Pen, x, y, r float64) {
	s.Shapes = append(s.Shapes, Shape{Kind: Circle, Pen: p, X: x, Y: y, R: r})
}

// label sets a text with its marking; the shape may then be changed.
func (s *Scene) label(role Role, size, x, y float64, a Anchor, text string) *Shape {
	s.Shapes = append(s.Shapes, Shape{Kind: Text, Pen: Pen{Fill: role}, X: x, Y: y, Size: size, Anchor: a, Text: text})
	return &s.Shapes[len(s.Shapes)-1]
}

// plain sets a text that stands for itself, such as a name typed by somebody.
func (s *Scene) plain(role Role, size, x, y float64, a Anchor, text string) *Shape {
	t := s.label(role, size, x, y, a, text)
	t.Plain = true
	return t
}

// Figure is a drawing with what it says in words. Facts hold every value drawn.
type Figure struct {
	Title string
	Desc  string
	Facts []string
	Scene *Scene
	Table *Points // the points of a plot; nil for other figures
}
