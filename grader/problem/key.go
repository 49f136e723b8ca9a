package problem

import (
	"fmt"
	"math"
	"slices"

	"fullyon/engine/si"
)

// Key is what a draw is marked against: for each question the answer with its
// accepted band and the slips.
type Key struct {
	Answers []Answer
}

// Answer is the key of one question.
type Answer struct {
	ID string
	// Value, Low and High are of a quantity; Low and High are inclusive and
	// infinite where the range is open.
	Value     si.Quantity
	Low, High float64
	Also      []Band     // other bands that sound conventions lead to
	Standard  *si.Series // only values of this series are accepted
	// Right are the ids of a choice, or the steps of an order in sequence, or "go" or "stop".
	Right []string
	// Grounds are the grounds that a paired answer may rest on, the deciding one first.
	Grounds []string
	// Text is a form of the answer that marking reads back as right.
	Text  string
	Slips []SlipValue
}

// Band is an accepted range, ends included.
type Band struct{ Low, High float64 }

// SlipValue is a slip with its answer for one draw.
type SlipValue struct {
	Slip  *Slip
	Value float64
	Text  string
	Width float64 // how far from Value a response still fits the slip
}

// Answer finds the key of a question.
func (k *Key) Answer(id string) (*Answer, bool) {
	i := slices.IndexFunc(k.Answers, func(a Answer) bool { return a.ID == id })
	if i < 0 {
		return nil, false
	}
	return &k.Answers[i], true
}

// Holds tells whether a value lies in the accepted band or one of the others.
// Both sides are rounded to ten digits, so that the ends count as inside in the
// decimals that people read.
func (a *Answer) Holds(v float64) bool {
	v = si.Round(v, 10)
	in := v >= a.Low && v <= a.High
	for _, b := range a.Also {
		in = in || v >= b.Low && v <= b.High
	}
	return in && (a.Standard == nil || a.Standard.Has(v))
}

// Key is the key of a draw.
func (t *Template) Key(v *Values) *Key { return v.key }

// KeyAfter is the key of a draw computed anew from what a learner answered
// before, by question: what each later answer ought to be, had those been right.
func (t *Template) KeyAfter(v *Values, own map[string]si.Quantity) (*Key, error) {
	return t.keyOver(v, v.scope(), own)
}

// keyOver computes the key over a scope. A learner's own answer, where given,
// stands in for the right one in all that follows; a choice may then have no
// right option, since nobody asks about that value.
func (t *Template) keyOver(v *Values, s *scope, own map[string]si.Quantity) (*Key, error) {
	k := &Key{Answers: make([]Answer, len(t.Questions))}
	for i := range t.Questions {
		q := &t.Questions[i]
		a := &k.Answers[i]
		a.ID = q.ID
		switch q.Kind {
		case Quantity, ReadOff:
			t.keyQuantity(q, a, s)
			if mine, ok := own[q.ID]; ok && s.err == nil {
				t.carry(q, mine.Value, s)
			}
		case Choice:
			for j := range q.Options {
				if f := q.Options[j].right; f != nil && f.term.truth(s) {
					a.Right = append(a.Right, q.Options[j].ID)
				}
			}
			if own == nil && (len(a.Right) == 0 || !q.Several && len(a.Right) > 1) {
				s.fail(fmt.Errorf("question %s has %d right options", q.ID, len(a.Right)))
			}
			a.Text = join(a.Right)
		case Order:
			for j := range q.Options {
				a.Right = append(a.Right, q.Options[j].ID)
			}
			a.Text = join(a.Right)
		case Verdict:
			t.keyVerdict(q, a, s)
		case Fault:
			t.keyFault(q, a, s)
		case Part:
			t.keyPart(q, a, v, i)
		case Stop:
			a.Text = q.right.term.text(s)
			a.Right = []string{a.Text}
		}
		if s.err != nil {
			return nil, fmt.Errorf("question %s: %w", q.ID, s.err)
		}
	}
	return k, nil
}

func join(ids []string) string {
	out := ""
	for i, id := range ids {
		if i > 0 {
			out += ","
		}
		out += id
	}
	return out
}

// keyQuantity computes answer, band and slips of a quantity.
func (t *Template) keyQuantity(q *Question, a *Answer, s *scope) {
	a.Value = q.answer.quantity(s)
	if q.from != nil || q.to != nil {
		a.Low, a.High, a.Standard = math.Inf(-1), math.Inf(1), q.series
		if q.from != nil {
			a.Low = si.Round(q.from.value(s), 10)
		}
		if q.to != nil {
			a.High = si.Round(q.to.value(s), 10)
		}
		if q.series != nil && s.err == nil && !q.series.Has(a.Value.Value) {
			s.fail(fmt.Errorf("the answer %s is no value of the series", a.Value))
		}
	} else {
		a.Low, a.High = q.tolerance.around(a.Value.Value)
	}
	for _, f := range q.also {
		low, high := q.tolerance.around(f.value(s))
		a.Also = append(a.Also, Band{low, high})
	}
	a.Text = printed(a.Value, &q.Unit, q.Figures)
	if q.from != nil || q.to != nil || q.tolerance == (tolerance{}) {
		a.Text = a.Value.StringIn(q.Unit) // a standard value or a count has no digits to lose
	}
	s.nums[q.stands.at] = a.Value.Value
	a.Slips = make([]SlipValue, 0, len(q.Slips))
	for i := range q.Slips {
		sl := &q.Slips[i]
		if sl.when != nil && !sl.when.term.truth(s) {
			continue
		}
		x := sl.value.quantity(s)
		a.Slips = append(a.Slips, SlipValue{Slip: sl, Value: x.Value, Text: printed(x, &q.Unit, q.Figures), Width: q.slipWidth(x.Value)})
	}
}

// slipWidth is how far from a slip's value a response still fits it: as far as
// from the answer, and at least as far as printing with the asked figures can take it.
func (q *Question) slipWidth(v float64) float64 {
	w := q.tolerance.width(v)
	if q.from != nil || q.to != nil || q.tolerance == (tolerance{}) {
		w = defaultTolerance * math.Abs(v)
	}
	return math.Max(w, tolerance{figures: q.Figures}.width(v))
}

// carry puts a learner's own answer in the place of the right one.
func (t *Template) carry(q *Question, own float64, s *scope) {
	s.nums[q.stands.at] = own
	if q.setsKnown && s.sizing != nil {
		s.sizing = s.sizing.Set(q.sets, own)
	}
}

// apart tells whether the right answer and all slips of each question lie
// pairwise more than twice the tolerance apart, so that an answer can be told
// from every other; slips that agree by nature count as one.
func (t *Template) apart(k *Key) error {
	for i := range k.Answers {
		a, q := &k.Answers[i], &t.Questions[i]
		for j := range a.Slips {
			x := &a.Slips[j]
			if !q.clear(a, x) {
				return fmt.Errorf("question %s: the slip %s (%s) lies too near the answer (%s)", a.ID, x.Slip.ID, x.Text, a.Text)
			}
			for l := range j {
				y := &a.Slips[l]
				if x.Slip.SameAs == y.Slip.ID || y.Slip.SameAs == x.Slip.ID || x.Slip.SameAs != "" && x.Slip.SameAs == y.Slip.SameAs {
					continue
				}
				if !(math.Abs(x.Value-y.Value) > 2*math.Max(x.Width, y.Width)) {
					return fmt.Errorf("question %s: the slips %s (%s) and %s (%s) lie too near each other", a.ID, x.Slip.ID, x.Text, y.Slip.ID, y.Text)
				}
			}
		}
	}
	return nil
}

// clear tells whether a slip lies well outside all that is accepted.
func (q *Question) clear(a *Answer, x *SlipValue) bool {
	w := x.Width
	if q.from == nil && q.to == nil {
		w = math.Max(w, q.tolerance.width(a.Value.Value))
	}
	if a.Value.Dim != si.Temperature && si.Round(x.Value, q.Figures) == si.Round(a.Value.Value, 2) {
		return false // the slip as printed is the right answer as somebody rounds it to two figures
	}
	for _, b := range append([]Band{{a.Low, a.High}}, a.Also...) {
		if x.Value >= b.Low-w && x.Value <= b.High+w && (a.Standard == nil || a.Standard.Has(si.Round(x.Value, 3))) {
			return false
		}
	}
	return true
}
