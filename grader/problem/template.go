package problem

import (
	"fmt"
	"math"
	"strconv"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Kind is a kind of question.
type Kind string

// The kinds of question.
const (
	Quantity Kind = "quantity" // a number with its unit
	Choice   Kind = "choice"   // one option, or several
	Order    Kind = "order"    // steps into their sequence
	Stop     Kind = "stop"     // go or stop; safety
	ReadOff  Kind = "read-off" // a quantity read from a drawn curve
	Verdict  Kind = "verdict"  // holds, tight or fails, and the check that decides
	Fault    Kind = "fault"    // a cause, and the measurement that proves it
	Part     Kind = "part"     // the one of several parts that holds, and the check that rules out the most tempting other
)

// Numeric tells whether the answer is a number with a unit.
func (k Kind) Numeric() bool { return k == Quantity || k == ReadOff }

// Paired tells whether the answer is a choice with its ground, written "a/b".
func (k Kind) Paired() bool { return k == Verdict || k == Fault || k == Part }

// Template is a kind of problem: what is drawn, the situation, the questions,
// the slips and the worked answer. It is compiled once and never changes.
type Template struct {
	ID      string
	Title   string
	Lesson  int
	Skills  []string
	Level   int // 1 to 4
	Minutes int
	Task    string // the method it asks for, in a word; neighbours in practice differ in it
	Sources []string
	Pause   bool // a safety prompt, met rather than marked
	OnPaper bool // not to be built: the page says so

	File string
	Hash string // of the source, as hex
	Text []byte // the source itself

	Figures   []string // what is drawn beside the situation: schematic, datasheet, …
	Rows      []string // the datasheet rows shown, by flat name
	Bench     []string // what lies on the drawn bench
	Questions []Question

	curves    []string // that the part of a draw must have
	situation Prose
	steps     []step
	names     *names
	draws     []drawing
	base      engine.Circuit
	setters   []setter
	circuit   bool
	where     []*Formula
	shape     *Formula
}

// Question is one thing asked in a template.
type Question struct {
	ID      string
	Kind    Kind
	Marks   int
	Skill   string
	Unit    si.Unit // of a quantity
	Figures int     // that the answer is printed with
	// UnitCounts: the unit is what the lesson teaches, so it must be typed.
	UnitCounts bool
	Several    bool // of a choice: more than one option is to be taken
	Options    []Option
	Before     []Before // of an order: which step must come before which; empty means the order as written
	Grounds    []Option // of a paired question: what the choice may rest on
	Curve      string   // of a read-off: the curve to read, one of part.CurveIDs
	Slips      []Slip

	ask, label Prose
	hints      []Prose
	answer     *Formula
	also       []*Formula
	tolerance  tolerance
	from, to   *Formula // of an accepted range, in place of a tolerance
	series     *si.Series
	at         *Formula // of a read-off: where the curve is read
	right      *Formula // of a stop: the text "go" or "stop"
	checks     []string // of a verdict or part: the checks that count
	candidates int      // of a part: how many are drawn
	suitable   []part.Part
	tempts     *slot // the name of the most tempting part that does not hold
	stands     *slot // the name under which later formulas know the answer
	sets       engine.ID
	setsKnown  bool // the answer is the engine's own quantity `sets`, so a learner's own value can take its place
	At         read.Pos
}

// Option is one option of a choice, or one step of an order.
type Option struct {
	ID    string
	Skill string // what a wrong choice points to

	text, because Prose
	right         *Formula // truth
}

// Before says that step First must come before step Then, and why.
type Before struct {
	First, Then string
	because     Prose
}

// Slip is a known mistake with its own computed answer.
type Slip struct {
	ID     string
	Title  string
	Skill  string
	SameAs string // another slip with the same answer by nature
	Both   []string

	value *Formula
	when  *Formula
	says  Prose
	At    read.Pos
}

// tolerance is how far from the answer a response may lie: relative, absolute in
// the unit of the answer, or half a unit of so many figures.
type tolerance struct {
	relative, absolute float64
	figures            int
}

// Accepts tells beforehand how near an answer must come, without giving it away.
func (q *Question) Accepts() string {
	switch t := q.tolerance; {
	case q.series != nil:
		return "Any value of the " + q.series.String() + " series that does the job counts."
	case q.from != nil || q.to != nil:
		return "Any value that does the job counts."
	case t.figures > 0:
		return fmt.Sprintf("Right to %d figures counts.", t.figures)
	case t.absolute > 0:
		d := q.Unit.Dim
		if d == si.Temperature {
			d = si.TemperatureDifference
		}
		return "Within " + si.Of(t.absolute, d).String() + " counts."
	case t.relative > 0:
		return "Within " + strconv.FormatFloat(si.Round(100*t.relative, 3), 'f', -1, 64) + " % counts."
	}
	return "The exact value counts."
}

// defaultTolerance suits an answer asked to three figures whose intermediate
// values were rounded to two or three.
const defaultTolerance = 0.02

// around gives the accepted band about a value.
func (t tolerance) around(v float64) (low, high float64) {
	d := t.width(v)
	return si.Round(v-d, 10), si.Round(v+d, 10)
}

func (t tolerance) width(v float64) float64 {
	switch {
	case t.figures > 0:
		if v == 0 {
			return 0
		}
		return 0.5 * math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(t.figures-1))
	case t.absolute > 0:
		return t.absolute
	}
	return t.relative * math.Abs(v)
}

// step is one line of the worked answer.
type step struct {
	let  *slot // the name of its value; nil for a step in words
	is   *Formula
	math string // the formula in the notation of engine/formula, or empty
	// literals are the quantities that stand in the formula, by the names they have in math.
	literals map[string]si.Quantity
	row      string // the datasheet row it leans on, by flat name
	say      Prose
	answer   string // the question that this step answers
	round    int    // of a loop in which a value feeds back
	At       read.Pos
}

// drawing is one drawn value.
type drawing struct {
	slot   *slot
	values []float64
	words  []string
	parts  []part.Part
	wishes *wishes // of a part that is generated at each draw
	is     *Formula
}

// setter writes one value into the circuit of a draw.
type setter struct {
	input *engine.Input
	word  *engine.Word
	value *Formula
	part  *drawing
}

// HasCircuit tells whether the template draws a circuit.
func (t *Template) HasCircuit() bool { return t.circuit }

// Question finds a question by id.
func (t *Template) Question(id string) (*Question, bool) {
	for i := range t.Questions {
		if t.Questions[i].ID == id {
			return &t.Questions[i], true
		}
	}
	return nil, false
}

// Marks is the sum of the marks of all questions.
func (t *Template) Marks() int {
	sum := 0
	for i := range t.Questions {
		sum += t.Questions[i].Marks
	}
	return sum
}
