package grader_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"fullyon/engine/si"
	"fullyon/grader"
	"fullyon/grader/problem"
)

// seeds is how many draws of each template are proved: 200, and 2,000 where everything is.
func seeds() uint64 {
	if os.Getenv("FULLYON_TEST_ALL") == "1" && !underRace {
		return 2000
	}
	return 200
}

// TestRoundTrip proves of every template that is taught: the answer typed back
// as the key prints it is right, each slip typed back is marked as that slip,
// the ends of the accepted band lie inside and what lies just beyond does not.
func TestRoundTrip(t *testing.T) {
	files, err := filepath.Glob("../lessons/problems/*.md")
	if err != nil || len(files) == 0 {
		t.Fatalf("no templates found: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			tpl, err := problem.Compile(file, src, problem.Context{})
			if err != nil {
				t.Fatal(err)
			}
			for seed := range seeds() {
				v, err := tpl.Draw(seed)
				if err != nil {
					t.Fatal(err)
				}
				r := &roundTrip{t: t, tpl: tpl, v: v, key: tpl.Key(v)}
				r.run()
				if t.Failed() {
					t.Fatalf("seed %d", seed)
				}
			}
		})
	}
}

// roundTrip types answers to one draw.
type roundTrip struct {
	t   *testing.T
	tpl *problem.Template
	v   *problem.Values
	key *problem.Key
}

// mark marks one answer alone.
func (r *roundTrip) mark(id, text string) *grader.Marked {
	r.t.Helper()
	got, err := grader.Mark(r.tpl, r.v, r.key, grader.Response{id: text})
	if err != nil {
		r.t.Fatalf("%s=%q: %v", id, text, err)
	}
	return got.Questions[id]
}

// wants checks the outcome of one answer.
func (r *roundTrip) wants(id, text string, want grader.Outcome) *grader.Marked {
	r.t.Helper()
	m := r.mark(id, text)
	if m.Outcome != want {
		r.t.Errorf("%s=%q is %s %s (%s), want %s; the key says %+v", id, text, m.Outcome, m.Slip, m.Because.Plain(), want, r.key.Answers)
	}
	return m
}

func (r *roundTrip) run() {
	all := grader.Response{}
	for _, a := range r.key.Answers {
		all[a.ID] = a.Text
	}
	if got, err := grader.Mark(r.tpl, r.v, r.key, all); err != nil || !got.Right() || got.Marks != float64(got.Of) {
		r.t.Errorf("all right answers together earn %g of %d marks (%v)", got.Marks, got.Of, err)
	}
	for i := range r.key.Answers {
		a, q := &r.key.Answers[i], &r.tpl.Questions[i]
		if m := r.wants(a.ID, a.Text, grader.Right); m.Marks != float64(q.Marks) || m.Followed {
			r.t.Errorf("%s=%q earns %g of %d marks, followed %t; want all marks by itself", a.ID, a.Text, m.Marks, q.Marks, m.Followed)
		}
		switch {
		case q.Kind.Numeric():
			r.slips(q, a)
			r.edges(q, a)
		case q.Kind.Paired():
			page, err := r.tpl.Page(r.v)
			if err != nil {
				r.t.Fatal(err)
			}
			r.pairs(q, a, &page.Questions[i])
		case q.Kind == problem.Choice:
			r.options(q, a)
		case q.Kind == problem.Order:
			r.orders(q, a)
		case q.Kind == problem.Stop:
			r.wants(a.ID, map[string]string{"go": "stop", "stop": "go"}[a.Text], grader.Slip)
		}
	}
}

// slips types each slip as it is printed with the asked figures.
func (r *roundTrip) slips(q *problem.Question, a *problem.Answer) {
	for i := range a.Slips {
		s := &a.Slips[i]
		m := r.wants(a.ID, s.Text, grader.Slip)
		if m.Outcome == grader.Slip && m.Slip != s.Slip.ID && !declaredOne(q, m.Slip, s.Slip) {
			r.t.Errorf("%s=%q is marked as the slip %s, want %s", a.ID, s.Text, m.Slip, s.Slip.ID)
		}
		if m.Because.Empty() {
			r.t.Errorf("the slip %s of %s says nothing", s.Slip.ID, a.ID)
		}
	}
}

// declaredOne tells whether a slip was declared to have the answer of another.
func declaredOne(q *problem.Question, id string, s *problem.Slip) bool {
	return s.SameAs == id || slices.ContainsFunc(q.Slips, func(o problem.Slip) bool {
		return o.ID == id && (o.SameAs == s.ID || o.SameAs != "" && o.SameAs == s.SameAs)
	})
}

// exactly prints a value to all its digits in the asked unit: a ratio asked in
// per cent would be taken for a number of per cent without it.
func exactly(v float64, q *problem.Question) string {
	return strconv.FormatFloat(si.Of(v, q.Unit.Dim).In(q.Unit), 'g', -1, 64) + " " + q.Unit.Symbol
}

// edges types the ends of the accepted band, and values a millionth beyond.
func (r *roundTrip) edges(q *problem.Question, a *problem.Answer) {
	low, high := a.Low, a.High
	if a.Standard != nil { // the outermost preferred values inside
		low, high = a.Standard.AtLeast(low), a.Standard.AtMost(high)
	}
	for _, edge := range []struct{ at, outside float64 }{{low, a.Low - beyond(a.Low)}, {high, a.High + beyond(a.High)}} {
		if math.IsInf(edge.at, 0) || math.IsNaN(edge.at) {
			continue // open on this side
		}
		r.wants(a.ID, exactly(edge.at, q), grader.Right)
		if slices.ContainsFunc(a.Also, func(b problem.Band) bool { return edge.outside >= b.Low && edge.outside <= b.High }) {
			continue // another sound convention accepts it
		}
		if m := r.mark(a.ID, exactly(edge.outside, q)); m.Outcome == grader.Right {
			r.t.Errorf("%s=%s is right, and lies outside %g … %g", a.ID, exactly(edge.outside, q), a.Low, a.High)
		}
	}
}

func beyond(edge float64) float64 {
	if edge == 0 || math.IsInf(edge, 0) {
		return 1e-6
	}
	return 1e-6 * math.Abs(edge)
}

// options takes each wrong option by itself.
func (r *roundTrip) options(q *problem.Question, a *problem.Answer) {
	for _, o := range q.Options {
		if slices.Contains(a.Right, o.ID) {
			continue
		}
		if m := r.wants(a.ID, o.ID, grader.Slip); m.Slip != o.ID || m.Because.Empty() {
			r.t.Errorf("the option %s of %s is marked as %q with the reason %q", o.ID, a.ID, m.Slip, m.Because.Plain())
		}
	}
}

// pairs takes each wrong choice on the right ground, and the right choice on each
// wrong ground, which earns half.
func (r *roundTrip) pairs(q *problem.Question, a *problem.Answer, shown *problem.Asked) {
	for _, o := range shown.Options {
		if !slices.Contains(a.Right, o.ID) {
			if m := r.wants(a.ID, o.ID+"/"+a.Grounds[0], grader.Slip); m.Slip != o.ID || m.Because.Empty() || m.Marks != 0 {
				r.t.Errorf("%s of %s is marked as %q with the reason %q and %g marks", o.ID, a.ID, m.Slip, m.Because.Plain(), m.Marks)
			}
		}
	}
	for _, g := range shown.Grounds {
		if !slices.Contains(a.Grounds, g.ID) {
			if m := r.wants(a.ID, a.Right[0]+"/"+g.ID, grader.Slip); m.Because.Empty() || m.Marks != float64(q.Marks)/2 {
				r.t.Errorf("%s on the ground %s earns %g of %d marks with the reason %q; half is wanted, and a reason", a.ID, g.ID, m.Marks, q.Marks, m.Because.Plain())
			}
		}
	}
}

// orders puts each step that must come later before the one it needs.
func (r *roundTrip) orders(q *problem.Question, a *problem.Answer) {
	for _, b := range q.Before {
		steps := slices.DeleteFunc(slices.Clone(a.Right), func(id string) bool { return id == b.Then })
		steps = slices.Insert(steps, slices.Index(steps, b.First), b.Then)
		r.wants(a.ID, join(steps), grader.Slip)
	}
	if len(q.Before) == 0 {
		steps := slices.Clone(a.Right)
		slices.Reverse(steps)
		r.wants(a.ID, join(steps), grader.Wrong)
	}
}

func join(ids []string) string {
	out := ids[0]
	for _, id := range ids[1:] {
		out += "," + id
	}
	return out
}
