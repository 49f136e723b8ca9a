package grader

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fullyon/engine/formula"
	"fullyon/engine/si"
	"fullyon/grader/problem"
)

// quantity marks a number with its unit.
func (m *marker) quantity(q *problem.Question, a *problem.Answer, text string, one *Marked) error {
	got, err := si.Read(text, q.Unit)
	if err != nil {
		return m.unread(q, err, one)
	}
	one.Quantity, one.Read = got.Quantity, got.Text
	for _, n := range got.Notes {
		one.Hint = say("%s", n)
	}
	if q.UnitCounts && got.Assumed && a.Value.Dim != si.One {
		one.Outcome = MissingUnit
		one.Because = say("You wrote a number without a unit. Here the unit is half of the answer: write it behind the number.")
		return nil
	}
	x := typed{got.Quantity.Value, figures(text, got), got.Figures}
	if x.right(a) {
		one.Outcome = Right
		one.Because = say("Right.")
		return nil
	}
	followed, err := m.follows(q, x, one)
	if err != nil || followed {
		return err
	}
	m.own[q.ID] = got.Quantity
	if m.was == "" {
		m.was = got.Text
	}
	if got.Prefix == "M" && q.Unit.Dim == si.Resistance && math.Abs(x.value/a.Value.Value-1e9) < 1e9*0.2 {
		one.Outcome = Ambiguous
		one.Because = say("You wrote MΩ, which is a million ohms. The small m stands for a thousandth: did you mean mΩ?")
		delete(m.own, q.ID)
		return nil
	}
	if err := m.slip(q, a, x, one); err != nil || one.Outcome == Slip || one.Outcome == WrongUnit {
		return err
	}
	one.Outcome = Wrong
	one.Because = m.off(q, a, x)
	if one.Hint.Empty() {
		one.Hint = m.lookFirst(q)
	}
	return nil
}

// lookFirst says which given value the answer leans on most.
func (m *marker) lookFirst(q *problem.Question) problem.Text {
	leans := m.t.Leans(m.v, q)
	if len(leans) == 0 {
		return problem.Text{}
	}
	l := leans[0]
	name := fmt.Sprintf("%s = %s", formula.TextSymbol(l.Symbol), l.Text)
	switch share := math.Abs(l.Share); {
	case q.Unit.Dim == si.Temperature:
		return say("The answer leans most on %s. Look first at how it goes in.", name)
	case share > 1.5:
		return say("The answer leans most on %s: one per cent more of it changes the answer by %.1f per cent. Look first at how it goes in.", name, share)
	}
	return say("The answer leans most on %s. Look first at how it goes in, and at its prefix.", name)
}

// unread turns a reading that failed into its outcome.
func (m *marker) unread(q *problem.Question, err error, one *Marked) error {
	var re *si.ReadError
	if !errors.As(err, &re) {
		return err
	}
	switch re.Kind {
	case si.Ambiguous:
		one.Outcome = Ambiguous
	case si.WrongDimension:
		one.Outcome = WrongDimension
	default:
		one.Outcome = Unreadable
	}
	one.Because = say("%s", re.Msg)
	return nil
}

// typed is a value with the significant figures it was typed with: the fewest
// that it may have been meant with, and all; 0 when it was computed in the box.
type typed struct {
	value   float64
	figures int
	all     int
}

// figures is the fewest significant figures that the text may have been meant
// with, two at least: noughts at the end of 1400 may be figures or fill the
// places up to the point (exam boards accept either). In 110 °C they are figures.
func figures(text string, got si.Reading) int {
	if got.Figures <= 2 || got.Quantity.Dim == si.Temperature || strings.ContainsAny(text, ".,") {
		return got.Figures
	}
	n := got.Figures
	for n > 2 && si.Round(got.Quantity.Value, n-1) == got.Quantity.Value {
		n--
	}
	return n
}

// right tells whether the value lies in the accepted band, or is the answer
// rounded to the figures typed, two at least.
func (x typed) right(a *problem.Answer) bool {
	if a.Holds(x.value) {
		return true
	}
	return a.Standard == nil && !math.IsInf(a.Low, 0) && !math.IsInf(a.High, 0) && a.Low != a.High && x.rounds(a.Value.Value)
}

// rounds tells whether v, rounded to the figures typed, is what was typed.
func (x typed) rounds(v float64) bool {
	return x.figures >= 2 && near(si.Round(v, x.figures), x.value)
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// closeFit is how near a value typed with many figures must come to a slip's
// answer: intermediate values rounded to three figures take it no further.
const closeFit = 0.007

// fits tells whether the value is a slip's answer, given how far rounding on the way can take it.
func (x typed) fits(slip, width float64) bool {
	return math.Abs(x.value-slip) <= math.Min(width, closeFit*math.Abs(slip)) || x.rounds(slip)
}

// follows marks the value against the key computed anew from the learner's own earlier answers.
func (m *marker) follows(q *problem.Question, x typed, one *Marked) (bool, error) {
	if len(m.own) == 0 {
		return false, nil
	}
	key, err := m.t.KeyAfter(m.v, m.own)
	if err != nil {
		return false, nil // the learner's value leads nowhere: marked against the key alone
	}
	a, ok := key.Answer(q.ID)
	if !ok || !x.right(a) {
		return false, nil
	}
	one.Outcome, one.Followed, one.From = Right, true, m.was
	one.Because = say("Right from your own %s. The method is sound; the earlier value is what to mend.", m.was)
	return true, nil
}

// slip looks for the one mistake that the value fits.
func (m *marker) slip(q *problem.Question, a *problem.Answer, x typed, one *Marked) error {
	var fit []*problem.SlipValue
	for i := range a.Slips {
		if s := &a.Slips[i]; x.fits(s.Value, s.Width) {
			fit = append(fit, s)
		}
	}
	if len(fit) > 1 {
		fit = nearest(fit, x)
	}
	switch {
	case len(fit) == 1 || len(fit) > 1 && oneByNature(fit):
		s := fit[0].Slip
		text, err := m.t.SaySlip(m.v, s)
		if err != nil {
			return err
		}
		one.Outcome, one.Slip, one.Title, one.Skill, one.Because = Slip, s.ID, s.Title, s.Skill, text
		return nil
	case len(fit) > 1:
		for _, s := range fit {
			one.Also = append(one.Also, s.Slip.Title)
		}
		one.Hint = say("Two reasons would lead to this value: %s. Look at both steps.", strings.ToLower(strings.Join(one.Also, "; or ")))
		return nil
	}
	m.generic(q, a, x, one)
	if one.Outcome != Slip && one.Outcome != WrongUnit && one.Hint.Empty() {
		m.twoAtOnce(a, x, one)
	}
	return nil
}

// twoAtOnce looks for two of the template's slips that together give the value:
// each multiplies the answer by its own factor. Nothing is named then, both are told.
func (m *marker) twoAtOnce(a *problem.Answer, x typed, one *Marked) {
	right := a.Value.Value
	if right == 0 || a.Value.Dim == si.Temperature {
		return
	}
	var found []string
	for i := range a.Slips {
		for j := range i {
			both := a.Slips[i].Value * a.Slips[j].Value / right
			if x.fits(both, closeFit*math.Abs(both)) {
				found = append(found, strings.ToLower(a.Slips[j].Slip.Title)+", and "+strings.ToLower(a.Slips[i].Slip.Title))
			}
		}
	}
	if len(found) == 1 {
		one.Also = []string{found[0]}
		one.Hint = say("Two slips at once would give this value: %s.", found[0])
	}
}

// nearest keeps only the slip that the value meets to all its figures, where one does.
func nearest(fit []*problem.SlipValue, x typed) []*problem.SlipValue {
	for _, figures := range []int{x.all, x.figures} {
		var exact []*problem.SlipValue
		for _, s := range fit {
			if (typed{x.value, figures, figures}).rounds(s.Value) {
				exact = append(exact, s)
			}
		}
		if len(exact) > 0 {
			return exact
		}
	}
	return fit
}

// oneByNature tells whether slips were declared to have the same answer.
func oneByNature(fit []*problem.SlipValue) bool {
	for _, s := range fit[1:] {
		if s.Slip.SameAs != fit[0].Slip.ID && fit[0].Slip.SameAs != s.Slip.ID {
			return false
		}
	}
	return true
}

// generic looks among the slips that are tried on every quantity.
func (m *marker) generic(q *problem.Question, a *problem.Answer, x typed, one *Marked) {
	var fit []problem.Generic
	for _, g := range m.t.Generics(m.v, q) {
		if x.fits(g.Value, closeFit*math.Abs(g.Value)) {
			fit = append(fit, g)
		}
	}
	if len(fit) == 0 {
		return
	}
	for _, g := range fit[1:] {
		if g.ID != fit[0].ID {
			one.Hint = say("Two reasons would lead to this value: %s; or %s. Look at both.", strings.ToLower(fit[0].Title), strings.ToLower(g.Title))
			return
		}
	}
	g := fit[0]
	one.Outcome, one.Slip, one.Title, one.Skill, one.Because = Slip, g.ID, g.Title, q.Skill, g.Says
	if g.ID == problem.PrefixSlip {
		one.Outcome = WrongUnit
	}
}

// off says how far off a wrong value is and in which direction.
func (m *marker) off(q *problem.Question, a *problem.Answer, x typed) problem.Text {
	d := x.value - a.Value.Value
	way := "too high"
	if d < 0 {
		way = "too low"
	}
	if a.Value.Dim == si.Temperature {
		return say("%s is %s %s.", si.Of(x.value, a.Value.Dim).Figures(3), si.Of(math.Abs(d), si.TemperatureDifference).Figures(2), way)
	}
	ratio := x.value / a.Value.Value
	if ratio <= 0 || math.IsNaN(ratio) || math.IsInf(ratio, 0) {
		return say("The sign or size cannot be right: look at what is subtracted from what.")
	}
	if ratio < 1 {
		ratio = 1 / ratio
	}
	if ratio < 1.1 {
		return say("Near, but %s %% %s: a rounded value on the way, or a small term left out.", percent(ratio-1), way)
	}
	if ratio > 1e6 {
		return say("By a factor of more than a million %s.", way)
	}
	return say("By a factor of about %s %s.", strconv.FormatFloat(si.Round(ratio, 2), 'f', -1, 64), way)
}

func percent(share float64) string { return fmt.Sprintf("%.1f", 100*share) }
