package math

// node is a part of a formula between reading and writing.
type node interface{}

type (
	group  []node // {…}
	letter struct {
		s       string
		upright bool
	}
	digits string
	words  string // \text
	space  string // a width with its unit, such as "0.167em"

	// sign is an operator or a plain bracket.
	sign struct {
		s    string
		form signForm
	}
	function struct {
		name   string
		limits bool // a subscript goes below, as under max
	}
	// big is ∑, ∏ or ∫.
	big struct {
		s      string
		limits bool
	}
	script struct {
		base, sub, sup node
		primes         int
	}
	fraction struct {
		num, den node
		display  bool
	}
	root   struct{ x, index node }
	accent struct {
		x      node
		mark   accentMark
		across bool // stretches over x
	}
	bold   struct{ x node }
	fenced struct {
		open, close string // "" for none
		x           []node
	}
	quantity struct {
		number scientific // empty for \unit
		unit   []unitPart
	}
	table struct {
		name string
		rows [][][]node // row, cell
	}
)

type signForm uint8

const (
	infix  signForm = iota
	prefix          // a sign of one value: −x, ±x
	tight           // a solidus
	comma
	opening
	closing
)

// isOperand reports whether n ends or begins a value, so that a sign after it
// joins two values.
func isOperand(n node) bool {
	switch n := n.(type) {
	case sign:
		return n.form == closing
	case space, nil:
		return false
	}
	return true
}

// bare is n without what is raised or lowered beside it: the bracket of (a + b)^2.
func bare(n node) node {
	if s, ok := n.(script); ok {
		return s.base
	}
	return n
}
