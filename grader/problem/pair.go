package problem

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/read"
)

// boundary is how far a deciding ratio must lie from where the verdict changes.
const boundary = 0.05

// checked reads a question that the engine's checks answer: a verdict, or the part that holds.
func (r *reader) checked(q *Question, m *read.Map) {
	m.Require("checks")
	kinds := engine.Checks()
	for _, n := range m.List("checks") {
		id := n.Text()
		i := slices.IndexFunc(kinds, func(k engine.CheckKind) bool { return k.ID == id })
		if i < 0 {
			r.errorf(n, "the engine has no check %q", id)
			continue
		}
		q.checks = append(q.checks, id)
		q.Grounds = append(q.Grounds, Option{ID: id, text: Prose{markdown: kinds[i].Question}})
	}
	if len(q.checks) < 2 {
		r.errorf(m.Node("checks"), "offer at least two checks")
	}
	if !r.t.circuit {
		r.errorf(q.At, "a question of the kind %s needs a circuit", q.Kind)
	}
	if q.Kind == Verdict {
		for _, v := range []string{"holds", "tight", "fails"} {
			q.Options = append(q.Options, Option{ID: v, text: Prose{markdown: v}})
		}
		return
	}
	q.candidates = 4
	if m.Has("candidates") {
		q.candidates = m.Int("candidates", 3, 6)
	}
	d := drawing{slot: &slot{}}
	r.drawer(&d, m.Node("drawer"))
	m.Require("drawer")
	q.suitable = d.parts
	q.tempts = &slot{name: "tempting", kind: word}
	if r.newName(q.At, "tempting") {
		r.n.add(q.tempts)
	}
}

// judged runs the checks of a question that apply to a sizing. With onlyGood it
// gives up, with nothing, at the first that does not hold.
func (q *Question) judged(z *engine.Sizing, onlyGood bool) []engine.Check {
	var out []engine.Check
	for _, id := range q.checks {
		if c, ok := z.Judge(id); ok {
			if onlyGood && !c.Verdict.OK() {
				return nil
			}
			out = append(out, c)
		}
	}
	return out
}

// clearCut tells whether no check's ratio lies where its verdict changes, and
// whether the verdict is known: what could not be judged does not matter beside
// a check that fails, as the heat of a part that its gate never turns on.
func clearCut(checks []engine.Check) bool {
	unknown, fails := false, false
	for i := range checks {
		c := &checks[i]
		unknown, fails = unknown || c.Verdict == engine.Unknown, fails || c.Verdict == engine.Fails
		for _, e := range c.Edges {
			if r := c.Ratio.Value; c.Verdict != engine.Unknown && r > e*(1-boundary) && r < e*(1+boundary) {
				return false
			}
		}
	}
	return len(checks) > 0 && (fails || !unknown)
}

// keyVerdict takes verdict and deciding check from the engine. Where several
// checks are as bad, each of them is a ground; where all holds, the one with the
// least slack is, if it is plainly the least.
func (t *Template) keyVerdict(q *Question, a *Answer, s *scope) {
	checks := q.judged(s.sizing, false)
	if !clearCut(checks) {
		s.fail(fmt.Errorf("a verdict lies on its boundary"))
		return
	}
	d := engine.Deciding(checks)
	a.Right, a.Grounds = []string{string(d.Verdict)}, []string{d.ID}
	for i := range checks {
		c := &checks[i]
		switch {
		case c.ID == d.ID || c.Verdict != d.Verdict:
		case !d.Verdict.OK():
			a.Grounds = append(a.Grounds, c.ID)
		case c.Slack() < d.Slack()*1.1:
			s.fail(fmt.Errorf("two checks have about the same slack"))
			return
		}
	}
	a.Text = a.Right[0] + "/" + a.Grounds[0]
}

// keyFault takes cause and measurement from the options that are right.
func (t *Template) keyFault(q *Question, a *Answer, s *scope) {
	for j := range q.Options {
		if f := q.Options[j].right; f != nil && f.term.truth(s) {
			a.Right = append(a.Right, q.Options[j].ID)
		}
	}
	for j := range q.Grounds {
		if f := q.Grounds[j].right; f != nil && f.term.truth(s) {
			a.Grounds = append(a.Grounds, q.Grounds[j].ID)
		}
	}
	if len(a.Right) != 1 || len(a.Grounds) == 0 {
		s.fail(fmt.Errorf("%d causes and %d measurements are right; one and at least one are asked for", len(a.Right), len(a.Grounds)))
		return
	}
	a.Text = a.Right[0] + "/" + a.Grounds[0]
}

// prospect is what the engine says of a candidate part.
type prospect struct {
	holds bool
	ruled []string // checks that rule it out, the deciding one first
}

// pick draws the candidates of each part question: one that holds, the others not.
func (t *Template) pick(v *Values, s *scope, rng *rand.Rand) error {
	v.Candidates, v.outlook = make([][]part.Part, len(t.Questions)), make([][]prospect, len(t.Questions))
	for i := range t.Questions {
		q := &t.Questions[i]
		if q.Kind != Part {
			continue
		}
		var good, bad []part.Part
		var goodOut, badOut []prospect
		for _, j := range rng.Perm(len(q.suitable)) {
			if len(good) == 1 && len(bad) == q.candidates-1 {
				break
			}
			c := v.Circuit
			c.Part = q.suitable[j]
			checks := q.judged(engine.NewSizing(&c), len(bad) == q.candidates-1)
			if !clearCut(checks) {
				continue
			}
			if engine.Deciding(checks).Verdict == engine.Tight {
				continue // whoever keeps the usual margins and whoever does not would both be right
			}
			p := outlook(checks)
			switch {
			case p.holds && len(good) == 0:
				good, goodOut = append(good, c.Part), append(goodOut, p)
			case !p.holds && len(bad) < q.candidates-1 && !slices.ContainsFunc(badOut, func(o prospect) bool { return o.ruled[0] == p.ruled[0] && len(badOut) < 2 }):
				bad, badOut = append(bad, c.Part), append(badOut, p)
			}
		}
		if len(good) == 0 || len(bad) < q.candidates-1 {
			return fmt.Errorf("question %s: the drawer has too few parts that hold or fail here", q.ID)
		}
		parts, outs := append(good, bad...), append(goodOut, badOut...)
		for _, j := range rng.Perm(len(parts)) {
			v.Candidates[i], v.outlook[i] = append(v.Candidates[i], parts[j]), append(v.outlook[i], outs[j])
		}
		if q.tempts != nil {
			s.texts[q.tempts.at] = v.Candidates[i][v.tempting(i)].Name
		}
	}
	return nil
}

func outlook(checks []engine.Check) prospect {
	d := engine.Deciding(checks)
	if d.Verdict.OK() {
		return prospect{holds: true}
	}
	p := prospect{ruled: []string{d.ID}}
	for i := range checks {
		if c := &checks[i]; c.ID != d.ID && c.Verdict == engine.Fails {
			p.ruled = append(p.ruled, c.ID)
		}
	}
	return p
}

// tempting is the candidate with the largest headline current among those that do not hold.
func (v *Values) tempting(i int) int {
	best := -1
	for j, c := range v.Candidates[i] {
		if !v.outlook[i][j].holds && (best < 0 || c.Ratings.ID.Value > v.Candidates[i][best].Ratings.ID.Value) {
			best = j
		}
	}
	return best
}

// keyPart takes the part that holds, and what rules out the most tempting other.
func (t *Template) keyPart(q *Question, a *Answer, v *Values, i int) {
	for j, p := range v.outlook[i] {
		if p.holds {
			a.Right = []string{v.Candidates[i][j].Name}
		}
	}
	a.Grounds = v.outlook[i][v.tempting(i)].ruled
	a.Text = a.Right[0] + "/" + a.Grounds[0]
}

// Place is the number of a question in its template.
func (t *Template) Place(q *Question) int {
	for i := range t.Questions {
		if &t.Questions[i] == q {
			return i
		}
	}
	return -1
}

// CandidatesOf are the parts to pick from in a part question.
func (v *Values) CandidatesOf(q *Question) []part.Part { return v.Candidates[v.Template.Place(q)] }

// Tempting names the part with the largest headline current among those that do not hold.
func (v *Values) Tempting(q *Question) string {
	i := v.Template.Place(q)
	return v.Candidates[i][v.tempting(i)].Name
}

// RuledOut is why a candidate of a part question does not hold; empty for the one that does.
func (v *Values) RuledOut(q *Question, name string) string {
	i := v.Template.Place(q)
	for j := range v.Candidates[i] {
		if v.Candidates[i][j].Name == name {
			o := &v.outlook[i][j]
			if o.holds {
				return ""
			}
			c := v.Circuit
			c.Part = v.Candidates[i][j]
			check, _ := engine.NewSizing(&c).Check(o.ruled[0])
			return check.Because
		}
	}
	return ""
}

// Checked is the check of a verdict question as the engine answers it for this draw.
func (v *Values) Checked(id string) (engine.Check, bool) { return v.Sizing().Check(id) }
