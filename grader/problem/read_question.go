package problem

import (
	"slices"
	"strings"

	"fullyon/engine/formula"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

func (r *reader) questions(m *read.Map) {
	list := m.List("questions")
	if m.Has("questions") && len(list) == 0 {
		r.errorf(m.Node("questions"), "ask at least one question")
	}
	for _, n := range list {
		if q := n.Map(); q != nil {
			r.question(n, q)
			q.Close()
		}
	}
}

func (r *reader) question(n read.Node, m *read.Map) {
	q := Question{ID: m.Text("id"), At: n.Pos, Marks: 3, Skill: m.Text("skill")}
	q.Kind = Kind(m.TextOf("kind", string(Quantity), string(Choice), string(Order), string(Stop), string(ReadOff), string(Verdict), string(Fault), string(Part)))
	m.Require("id", "kind", "ask")
	named := r.newName(m.Node("id"), strings.ReplaceAll(q.ID, "-", "_"))
	if m.Has("marks") {
		q.Marks = m.Int("marks", 1, 20)
	}
	if q.Skill == "" && len(r.t.Skills) > 0 {
		q.Skill = r.t.Skills[0]
	} else if q.Skill != "" && !slices.Contains(r.t.Skills, q.Skill) {
		r.errorf(m.Node("skill"), "the question's skill %q is not among the template's skills", q.Skill)
	}
	switch q.Kind {
	case Quantity:
		r.quantity(&q, m)
	case ReadOff:
		r.readOff(&q, m)
		r.quantity(&q, m)
		r.fitsCurve(&q, m)
	case Verdict, Part:
		r.checked(&q, m)
	case Fault:
		q.Options, q.Grounds = r.optionList(m, "causes", true), r.optionList(m, "measurements", true)
	case Choice:
		q.Several = m.Bool("several")
		r.options(&q, m, true)
	case Order:
		r.options(&q, m, false)
		r.before(&q, m.List("before"))
	case Stop:
		m.Require("answer", "because")
		f := r.formula(m.Node("answer"), r.n)
		if f != nil && r.wants(m.Node("answer"), f, word) {
			q.right = f
		}
		q.Options = []Option{{ID: "go", because: r.proseIn(m, "because")}, {ID: "stop", because: r.proseIn(m, "because")}}
	}
	// Only now, since a part question may speak of its tempting candidate; the
	// name of a question's own answer is added after its texts.
	q.ask, q.label = r.proseIn(m, "ask"), r.proseIn(m, "label")
	for _, h := range m.List("hints") {
		q.hints = append(q.hints, r.proseNode(h))
	}
	if len(q.hints) > 3 {
		r.errorf(m.Node("hints"), "at most three hints: where to look, which principle, the worked step")
	}
	r.t.Questions = append(r.t.Questions, q)
	if q.stands != nil && named {
		r.n.add(q.stands)
	}
}

// quantity reads the answer of a quantity, how near a response must come, and the slips.
func (r *reader) quantity(q *Question, m *read.Map) {
	m.Require("answer", "unit")
	q.answer = r.formula(m.Node("answer"), r.n)
	if q.answer == nil || !r.wants(m.Node("answer"), q.answer, number) {
		return
	}
	if u := r.unit(m.Node("unit"), q.answer.term.dim); u != nil {
		q.Unit = *u
	}
	q.UnitCounts = m.Bool("unit_counts")
	q.Figures = intOr(m, "figures", shownFigures)
	if q.answer.term.engine {
		q.sets, q.setsKnown = q.answer.term.id, true
	}
	q.stands = &slot{name: strings.ReplaceAll(q.ID, "-", "_"), dim: q.answer.term.dim, symbol: m.Text("symbol"), figs: q.Figures}
	if q.stands.symbol == "" {
		q.stands.symbol = q.ID
	}
	r.tolerance(q, m)
	for _, n := range m.List("also_accept") {
		if f := r.formula(n, r.n); f != nil {
			if f.term.kind != number || f.term.dim != q.answer.term.dim {
				r.errorf(n, "%s is not of the kind of the answer", f.Source)
				continue
			}
			q.also = append(q.also, f)
		}
	}
	for _, n := range m.List("slips") {
		if sm := n.Map(); sm != nil {
			r.slip(q, n, sm)
			sm.Close()
		}
	}
	r.together(q)
}

func (r *reader) tolerance(q *Question, m *read.Map) {
	q.tolerance.relative = defaultTolerance
	if a := m.Sub("accept"); a != nil {
		a.Require("from", "to")
		q.from, q.to = r.bound(a.Node("from"), q), r.bound(a.Node("to"), q)
		if a.Has("series") {
			s, err := si.SeriesOf(a.Text("series"))
			if err != nil {
				r.errorf(a.Node("series"), "%v", err)
			}
			q.series = &s
		}
		a.Close()
		return
	}
	n := m.Node("tolerance")
	if n.Kind == read.None {
		return
	}
	text := strings.TrimSpace(n.Text())
	if f, ok := strings.CutSuffix(text, "figures"); ok {
		q.tolerance = tolerance{figures: int(strings.TrimSpace(f)[0] - '0')}
		if q.tolerance.figures < 1 || q.tolerance.figures > 6 {
			r.errorf(n, "write it as 2 figures, from 1 to 6")
		}
		return
	}
	if text == "exact" {
		q.tolerance = tolerance{}
		return
	}
	if p, err := si.Parse(text, si.One); err == nil && strings.HasSuffix(text, "%") {
		if p.Value <= 0 || p.Value > 0.3 {
			r.errorf(n, "a tolerance lies above 0 %% and at most at 30 %%")
		}
		q.tolerance = tolerance{relative: p.Value}
		return
	}
	d := q.answer.term.dim
	if d == si.Temperature {
		d = si.TemperatureDifference
	}
	q.tolerance = tolerance{absolute: n.Quantity(d).Value}
}

// bound reads one end of an accepted range; it may be left open with "open".
func (r *reader) bound(n read.Node, q *Question) *Formula {
	if n.Kind == read.None || n.Text() == "open" {
		return nil
	}
	f := r.formula(n, r.n)
	if f != nil && (f.term.kind != number || f.term.dim != q.answer.term.dim) {
		r.errorf(n, "%s is not of the kind of the answer", f.Source)
		return nil
	}
	return f
}

func (r *reader) slip(q *Question, n read.Node, m *read.Map) {
	m.Require("id", "title", "value", "says")
	s := Slip{ID: m.Text("id"), Title: m.Text("title"), Skill: m.Text("skill"), SameAs: m.Text("same_as"), Both: m.Texts("both"), At: n.Pos}
	s.value = r.formula(m.Node("value"), r.n)
	if s.value != nil && (s.value.term.kind != number || s.value.term.dim != q.answer.term.dim) {
		r.errorf(m.Node("value"), "the slip gives %s; the answer is %s", describe(s.value), q.answer.term.dim.Name())
		s.value = nil
	}
	if w := m.Node("when"); w.Kind != read.None {
		if f := r.formula(w, r.n); f != nil && r.wants(w, f, truth) {
			s.when = f
		}
	}
	s.says = r.proseIn(m, "says")
	if s.Skill != "" && r.ctx.Skills != nil && !r.ctx.Skills[s.Skill] {
		r.refer([]read.Node{m.Node("skill")}, r.ctx.Skills, "skill")
	}
	if slices.ContainsFunc(q.Slips, func(o Slip) bool { return o.ID == s.ID }) {
		r.errorf(m.Node("id"), "the slip %q is given twice", s.ID)
	}
	if s.value != nil {
		q.Slips = append(q.Slips, s)
	}
}

func describe(f *Formula) string {
	if f.term.kind == number {
		return f.term.dim.Name()
	}
	return f.term.kind.String()
}

// together checks that slips name only slips of the same question.
func (r *reader) together(q *Question) {
	has := func(id string) bool { return slices.ContainsFunc(q.Slips, func(s Slip) bool { return s.ID == id }) }
	for _, s := range q.Slips {
		if s.SameAs != "" && !has(s.SameAs) {
			r.errorf(s.At, "same_as names %q, which is no slip of this question", s.SameAs)
		}
		for _, b := range s.Both {
			if !has(b) {
				r.errorf(s.At, "both names %q, which is no slip of this question", b)
			}
		}
	}
}

// options reads the options of a choice or the steps of an order.
func (r *reader) options(q *Question, m *read.Map, choice bool) {
	key := map[bool]string{true: "options", false: "steps"}[choice]
	q.Options = r.optionList(m, key, choice)
}

func (r *reader) optionList(m *read.Map, key string, choice bool) (list []Option) {
	for _, n := range m.List(key) {
		om := n.Map()
		if om == nil {
			continue
		}
		o := Option{ID: om.Text("id"), Skill: om.Text("skill"), text: r.proseIn(om, "text")}
		om.Require("id", "text")
		if choice {
			o.because = r.proseIn(om, "because")
			om.Require("because")
			if om.Has("right") {
				if f := r.formula(om.Node("right"), r.n); f != nil && r.wants(om.Node("right"), f, truth) {
					o.right = f
				}
			}
		}
		if !idForm.MatchString(o.ID) {
			r.errorf(om.Node("id"), "an option's id is made of small letters, digits and hyphens")
		}
		if slices.ContainsFunc(list, func(p Option) bool { return p.ID == o.ID }) {
			r.errorf(om.Node("id"), "the option %q is given twice", o.ID)
		}
		om.Close()
		list = append(list, o)
	}
	if len(list) < 2 || len(list) > 12 {
		r.errorf(m.Node(key), "write from 2 to 12 %s", key)
	}
	return list
}

func (r *reader) before(q *Question, list []read.Node) {
	has := func(id string) bool { return slices.ContainsFunc(q.Options, func(o Option) bool { return o.ID == id }) }
	for _, n := range list {
		m := n.Map()
		if m == nil {
			continue
		}
		b := Before{First: m.Text("first"), Then: m.Text("then"), because: r.proseIn(m, "because")}
		m.Require("first", "then", "because")
		m.Close()
		if !has(b.First) || !has(b.Then) {
			r.errorf(n, "before names a step that is not among the steps")
		}
		q.Before = append(q.Before, b)
	}
}

// worked reads the steps of the worked answer; each may use the values of those before it.
func (r *reader) worked(list []read.Node) {
	answered := map[string]bool{}
	for _, n := range list {
		m := n.Map()
		if m == nil {
			continue
		}
		s := step{At: n.Pos, row: m.Text("row"), answer: m.Text("answers"), say: r.proseIn(m, "say")}
		if m.Has("round") {
			s.round = m.Int("round", 1, 9)
		}
		if s.row != "" && !knownRow(s.row) {
			r.errorf(m.Node("row"), "there is no datasheet row %q", s.row)
		}
		if m.Has("is") {
			r.stepValue(&s, m)
		}
		if s.answer != "" {
			if _, ok := r.t.Question(s.answer); !ok {
				r.errorf(m.Node("answers"), "there is no question %q", s.answer)
			}
			answered[s.answer] = true
		}
		m.Close()
		r.t.steps = append(r.t.steps, s)
	}
	for i := range r.t.Questions {
		if q := &r.t.Questions[i]; q.Kind.Numeric() && !answered[q.ID] && !r.t.Pause {
			r.errorf(q.At, "no step of the worked answer says answers: %s", q.ID)
		}
	}
}

func (r *reader) stepValue(s *step, m *read.Map) {
	n := m.Node("is")
	s.is = r.formula(n, r.n)
	if s.is == nil || !r.wants(n, s.is, number) {
		return
	}
	src := strings.ReplaceAll(s.is.Source, "ratio_at(", "k(") // as the trade writes it
	// What is found on a sheet, in a row of standard values or in another circuit is
	// not worked out by a formula that could be shown.
	src, s.literals = nameLiterals(src)
	lookedUp := s.is.term.fixed || s.is.term.engine || s.is.term.sheet || strings.ContainsAny(src, `'"`)
	if _, err := formula.Parse(src); err == nil && !lookedUp {
		s.math = src
	}
	let := &slot{name: m.Text("let"), dim: s.is.term.dim, symbol: m.Text("symbol"), figs: intOr(m, "figures", shownFigures)}
	let.unit = r.unit(m.Node("unit"), let.dim)
	if let.name == "" {
		if s.answer == "" {
			r.errorf(n, "a step with a value needs let: name, or answers: question")
			return
		}
		let.name = "step_" + strings.ReplaceAll(s.answer, "-", "_")
	}
	if !r.newName(n, let.name) {
		return
	}
	if let.symbol == "" {
		let.symbol = let.name
	}
	r.n.add(let)
	s.let = let
}

func (r *reader) proseIn(m *read.Map, key string) Prose { return r.proseNode(m.Node(key)) }

func (r *reader) proseNode(n read.Node) Prose {
	if n.Kind == read.None {
		return Prose{}
	}
	at := n.Pos
	if n.Quoted() {
		at.Col++
	}
	return r.prose(strings.TrimSpace(n.Text()), at, r.n)
}
