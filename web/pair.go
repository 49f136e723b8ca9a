package web

import (
	"html/template"
	"net/http"
	"slices"
	"strings"

	"fullyon/grader/problem"
	"fullyon/lessons"
	"fullyon/lessons/figure"
)

// formPair is the kind of form that takes a choice with its ground.
const formPair problem.Kind = "pair"

// formKind is the kind of form that a kind of question needs.
func formKind(k problem.Kind) problem.Kind {
	switch {
	case k.Numeric():
		return problem.Quantity
	case k.Paired():
		return formPair
	}
	return k
}

// both reads a choice with its ground.
func both(r *http.Request) (text, complaint string) {
	first, ground := r.PostForm.Get("text"), r.PostForm.Get("ground")
	switch {
	case first == "" && ground == "":
		return "", ""
	case first == "" || ground == "":
		return "", "Both halves are asked for: the choice, and what it rests on."
	}
	return first + "/" + ground, ""
}

// halves is what each half of a paired question asks for.
var halves = map[problem.Kind][2]string{
	problem.Verdict: {"Does it hold?", "Which question decides?"},
	problem.Fault:   {"What is the cause?", "Which measurement proves it?"},
	problem.Part:    {"Which part holds here?", "What rules out the most tempting other?"},
}

// pair fills in both halves of a paired question, with what was taken last.
func (q *questionView) pair(asked *problem.Asked) {
	q.FirstAsk, q.GroundAsk = halves[asked.Kind][0], halves[asked.Kind][1]
	first, ground, _ := strings.Cut(q.Text, "/")
	for _, o := range asked.Options {
		q.Options = append(q.Options, optionView{ID: o.ID, Text: lessons.Inline(o.Text), Checked: o.ID == first, Answer: q.Reveal != nil && slices.Contains(q.Reveal.right, o.ID)})
	}
	for _, o := range asked.Grounds {
		q.Grounds = append(q.Grounds, optionView{ID: o.ID, Text: lessons.Inline(o.Text), Checked: o.ID == ground, Answer: q.Reveal != nil && slices.Contains(q.Reveal.grounds, o.ID)})
	}
	for i := range asked.Parts {
		t := figure.Datasheet(&asked.Parts[i], q.rows)
		q.Sheets = append(q.Sheets, template.HTML(t.HTML("sheet-"+asked.ID+"-"+asked.Parts[i].Name)))
	}
}

// pairText is a paired answer as people read it.
func (q *questionView) pairText(text string) template.HTML {
	var out []string
	first, ground, _ := strings.Cut(text, "/")
	for _, o := range q.Options {
		if o.ID == first {
			out = append(out, string(o.Text))
		}
	}
	for _, o := range q.Grounds {
		if o.ID == ground {
			out = append(out, string(o.Text))
		}
	}
	return template.HTML(strings.Join(out, "; "))
}

// ruledView is a part that does not hold, with what rules it out.
type ruledView struct {
	Name, Because string
}

// pair says why the right pair is right, where it was not taken.
func (v *revealView) pair(k *task, st *state, a *problem.Answer) error {
	switch st.q.Kind {
	case problem.Part:
		for _, p := range k.v.CandidatesOf(st.q) {
			if b := k.v.RuledOut(st.q, p.Name); b != "" {
				v.Ruled = append(v.Ruled, ruledView{p.Name, b})
			}
		}
	case problem.Verdict:
		if c, ok := k.v.Checked(a.Grounds[0]); ok && !st.right {
			v.Because = lessons.HTML(problem.Text{Markdown: c.Because})
		}
	case problem.Fault:
		if st.right {
			return nil
		}
		for _, list := range [][]problem.Option{st.q.Options, st.q.Grounds} {
			for i := range list {
				o := &list[i]
				if !slices.Contains(a.Right, o.ID) && !slices.Contains(a.Grounds, o.ID) {
					continue
				}
				because, err := k.t.SayOption(k.v, o)
				if err != nil {
					return err
				}
				v.Because += lessons.HTML(because)
			}
		}
	}
	return nil
}
