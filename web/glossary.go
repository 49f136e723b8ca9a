package web

import (
	"cmp"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fullyon/grader/problem"
	"fullyon/lessons"
)

// glossaryView is what glossary.html shows.
type glossaryView struct {
	Shell
	Groups []termGroup
	Again  string // address of the page with other examples
}

// termGroup are the terms of one kind.
type termGroup struct {
	ID, Title, Say string
	Terms          []termView
}

// termView is one term as it is shown.
type termView struct {
	ID, Title, Unit, Also, Say, Source string
	Symbol, Formula                    template.HTML
	Lesson                             link
	Example                            *exampleView
}

// exampleView is a value of the term in a drawn problem.
type exampleView struct {
	Symbol      template.HTML
	Value, Part string
	From        link
}

// glossaryPage lists the terms, each with an example that is drawn for this page:
// GET /glossary.
func (s *Server) glossaryPage(w http.ResponseWriter, r *http.Request) error {
	seed := uint64(1)
	if again := r.URL.Query().Get("again"); again != "" {
		var err error
		if seed, err = strconv.ParseUint(again, 10, 64); err != nil || seed >= problem.MaxSeed {
			return badRequest("The number of the examples has to be a whole number. Take “other examples” from the glossary.")
		}
	}
	v := &glossaryView{Shell: Shell{Title: "Glossary", Here: "glossary"}, Again: "/glossary?again=" + strconv.FormatUint(seed+1, 10)}
	words := termGroup{ID: "words", Title: "Words of the trade"}
	given := termGroup{ID: "given", Title: "What is given", Say: "These values stand on a label, on a datasheet, or are measured. A sizing begins with them."}
	computed := termGroup{ID: "computed", Title: "What is computed", Say: "In the order of a sizing. Each stands with its formula and where the formula is from."}
	for _, t := range s.course.Glossary {
		to := &words
		switch d := t.Definition; {
		case d != nil && d.Input() != nil:
			to = &given
		case d != nil:
			to = &computed
		}
		to.Terms = append(to.Terms, s.termView(t, seed))
	}
	slices.SortStableFunc(words.Terms, func(a, b termView) int {
		return cmp.Compare(strings.ToLower(a.Title), strings.ToLower(b.Title))
	})
	v.Groups = []termGroup{words, given, computed}
	return s.render(w, r, http.StatusOK, "glossary", v)
}

func (s *Server) termView(t *lessons.Term, seed uint64) termView {
	v := termView{
		ID: t.ID, Title: upperFirst(t.Title), Unit: t.Unit(), Also: strings.Join(t.Also, ", "), Say: t.Say,
		Symbol: t.Symbol(), Formula: t.Formula(),
	}
	if t.Definition != nil {
		v.Source = t.Definition.Source
	}
	if l := s.course.Numbered(t.Lesson); l != nil {
		v.Lesson = lessonLink(l)
	}
	if e, ok := s.course.Example(t, seed); ok {
		v.Example = &exampleView{Symbol: e.Symbol(), Value: e.Value, Part: e.Part, From: link{Text: e.Where()}}
		switch {
		case e.Lesson != nil:
			v.Example.From.To = "/lesson/" + e.Lesson.ID
		case e.Template != nil:
			v.Example.From.To = "/problem/" + e.Template.ID
		}
	}
	return v
}

func upperFirst(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}
