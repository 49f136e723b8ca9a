package lessons

import (
	"bytes"
	"html/template"
	"strconv"
	"strings"
	"unicode/utf8"

	"fullyon/engine"
	"fullyon/engine/read"
	"fullyon/grader/problem"

	"github.com/yuin/goldmark/text"
)

// Lesson is one lesson, rendered but for its slots.
type Lesson struct {
	Number  int
	ID      string // the name in its file's name
	Title   string
	Can     []string // what a learner will be able to do
	Needs   []int    // lessons that come before
	Skills  []string
	Sources []string
	Minutes int
	Further bool   // further reading on a first time through
	Pause   string // id of the safety prompt that stands before its first practical problem; may be empty

	Circuit  *engine.Circuit // that the lesson speaks of; nil without one
	Parts    []Part          // in the order in which they are shown
	Headings []Heading
	Words    int

	File string

	refs  []reference
	body  string // the text in plain, with the values in it
	prose string // the running text, see prose
	at    lessonPlaces
}

// lessonPlaces are places of the front matter that later checks point to.
type lessonPlaces struct{ title, sources, body read.Pos }

// Part is a piece of a lesson: rendered text, or a slot that the page fills.
// Exactly one of its fields is set.
type Part struct {
	HTML   template.HTML
	Figure *Figure
	Worked *Worked
	Pause  string // id of a template that is a safety prompt
}

// Figure is a drawing to be made from a draw of a template, or from the circuit
// of the lesson where Template is empty.
type Figure struct {
	Kind     string // one of figure.Kinds
	Template string
	Seed     uint64
	Rows     []string // of a datasheet; those of the template, or all, when nil
	Things   []string // on a bench
	Caption  template.HTML

	at read.Pos
}

// Worked is a worked example, to be drawn afresh.
type Worked struct{ Template string }

// Heading is a heading of a lesson with its anchor.
type Heading struct {
	Level  int // 2 and more; 1 is the title of the page
	Text   string
	Anchor string
}

// reference is something that a lesson names and that must exist.
type reference struct {
	what string // template, pause, skill, source, lesson
	id   string
	at   read.Pos
}

// readLesson reads one lesson. The error is a read.Errors; beside it the lesson may
// be there, not rendered but with what it names. Terms of the glossary are linked
// where they come first.
func readLesson(file string, src []byte, terms []*Term) (*Lesson, error) {
	front, body, bodyLine, err := read.SplitFrontMatter(src)
	if err != nil {
		return nil, read.Errors{{File: file, Line: 1, Col: 1, Msg: err.Error()}}
	}
	if front == nil {
		return nil, read.Errors{{File: file, Line: 1, Col: 1, Msg: "a lesson begins with its front matter between two lines of ---"}}
	}
	doc, err := read.ParseAt(file, front, 2)
	if err != nil {
		return nil, err
	}
	if at, ok := notText(body); !ok {
		at.Line += bodyLine - 1
		doc.Errorf(at, "this character is not text in UTF-8, or is a control character; save the file as UTF-8 text")
		return nil, doc.Err()
	}
	m := doc.Root().Map()
	if m == nil {
		return nil, doc.Err()
	}
	l := &Lesson{File: file}
	l.at.body = read.Pos{Line: bodyLine, Col: 1}
	l.head(m)
	passage := problem.CompilePassage(doc, m, string(body), l.at.body)
	m.Close()
	markdown, places := withoutPlaces(string(body))
	values := make([]string, len(places))
	if doc.Err() == nil {
		t, circuit, err := passage.Text()
		if err != nil {
			doc.Errorf(l.at.body, "the numbers of this lesson cannot be worked out: %v", err)
		} else {
			values, l.Circuit = t.Values, circuit
		}
	}
	b := &builder{l: l, doc: doc, src: []byte(markdown), places: places, values: values, bodyLine: bodyLine, anchors: map[string]bool{}, terms: terms}
	b.build(lessonMarkdown.Parser().Parse(text.NewReader(b.src)))
	return l, doc.Err()
}

// head reads the front matter but for what the passage leans on.
func (l *Lesson) head(m *read.Map) {
	m.Require("number", "title", "can", "skills", "sources", "minutes")
	l.Number, l.Title, l.Minutes = m.Int("number", 1, 99), m.Text("title"), m.Int("minutes", 1, 90)
	l.Can, l.Skills, l.Sources = m.Texts("can"), m.Texts("skills"), m.Texts("sources")
	l.Further, l.Pause = m.Bool("further"), m.Text("pause")
	l.at.title, l.at.sources = m.Node("title").Pos, m.Node("sources").Pos
	number, id := numberAndID(l.File)
	l.ID = id
	if l.Number != 0 && l.Number != number {
		m.Errorf(m.Node("number"), "the number is %d and the file is called %s; make them the same", l.Number, l.File)
	}
	for _, n := range m.List("needs") {
		need := n.Int(1, 99)
		if need >= l.Number && need != 0 && l.Number != 0 {
			m.Errorf(n, "lesson %d cannot need lesson %d, which does not come before it", l.Number, need)
		}
		l.Needs = append(l.Needs, need)
		l.refs = append(l.refs, reference{"lesson", strconv.Itoa(need), n.Pos})
	}
	for _, key := range []string{"can", "skills", "sources"} {
		if m.Has(key) && len(m.List(key)) == 0 {
			m.Errorf(m.Node(key), "name at least one under %s", key)
		}
	}
	for _, n := range m.List("skills") {
		l.refs = append(l.refs, reference{"skill", n.Text(), n.Pos})
	}
	for _, n := range m.List("sources") {
		l.refs = append(l.refs, reference{"source", n.Text(), n.Pos})
	}
	if m.Has("pause") {
		l.refs = append(l.refs, reference{"pause", l.Pause, m.Node("pause").Pos})
	}
}

// notText finds what is no UTF-8 or a control character.
func notText(src []byte) (read.Pos, bool) {
	at := read.Pos{Line: 1, Col: 1}
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		switch {
		case r == utf8.RuneError && n == 1, r < ' ' && r != '\t' && r != '\n', r >= 0x7f && r < 0xa0:
			return at, false
		case r == '\n':
			at = read.Pos{Line: at.Line + 1, Col: 1}
		default:
			at.Col++
		}
		i += n
	}
	return at, true
}

// gap is a place for a value: where it stands in the Markdown that is parsed,
// and how many bytes it takes in the file.
type gap struct{ off, length int }

// withoutPlaces puts one character for each {{…}}, as problem.Prose does, and
// remembers what it took out, so that places in the Markdown can be told as
// places in the file.
func withoutPlaces(body string) (string, []gap) {
	var out bytes.Buffer
	var gaps []gap
	for rest := body; ; {
		before, inner, ok := cutPlace(rest)
		out.WriteString(before)
		if !ok {
			return out.String(), gaps
		}
		gaps = append(gaps, gap{out.Len(), len(inner) + len("{{}}")})
		out.WriteRune(problem.FirstPlace + rune(len(gaps)-1))
		rest = rest[len(before)+len(inner)+len("{{}}"):]
	}
}

func cutPlace(s string) (before, inner string, ok bool) {
	i := strings.Index(s, "{{")
	if i < 0 {
		return s, "", false
	}
	j := strings.Index(s[i:], "}}")
	if j < 0 {
		return s, "", false
	}
	return s[:i], s[i+2 : i+j], true
}
