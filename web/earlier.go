package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"strings"

	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
)

// earlierView is an answer given before the last one, as it was marked then.
type earlierView struct {
	Number  int
	Text    template.HTML
	Outcome string
	Because template.HTML
}

// outcomes in the words of the page. A slip is told by its title.
var outcomeWords = map[grader.Outcome]string{
	grader.Right:          "right",
	grader.WrongUnit:      "not right",
	grader.Slip:           "not right",
	grader.Wrong:          "not right",
	grader.Unreadable:     "could not be read; no attempt used",
	grader.Ambiguous:      "has two readings; no attempt used",
	grader.WrongDimension: "another kind of quantity; no attempt used",
	grader.MissingUnit:    "without a unit; no attempt used",
	grader.Unanswered:     "empty; no attempt used",
}

// earlier lists the answers before the last.
func (q *questionView) earlier(st *state) error {
	for i := range max(0, len(st.attempts)-1) {
		a := &st.attempts[i]
		var m grader.Marked
		if err := json.Unmarshal(a.Result, &m); err != nil {
			return fmt.Errorf("the kept result of attempt %s: %w", a.ID, err)
		}
		e := earlierView{Number: a.Number, Text: q.given(st.q, a.Text), Outcome: outcomeWords[m.Outcome], Because: lessons.HTML(m.Because)}
		if st.not[a.Number] {
			e.Because = "" // withdrawn
		} else if m.Title != "" {
			e.Outcome += ": " + m.Title
		}
		q.Earlier = append(q.Earlier, e)
	}
	return nil
}

// given is an answer as people read it: the text typed, or the options taken.
func (q *questionView) given(of *problem.Question, text string) template.HTML {
	if of.Kind.Numeric() {
		return template.HTML(template.HTMLEscapeString(text))
	}
	if of.Kind.Paired() {
		return q.pairText(text)
	}
	var out []string
	for _, o := range q.ordered(strings.Split(text, ",")) {
		out = append(out, string(o.Text))
	}
	return template.HTML(strings.Join(out, "; "))
}
