package problem

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"path"
	"regexp"
	"strings"

	"fullyon/engine"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// Context is what a template may refer to outside its own file.
type Context struct {
	Lessons map[int]bool
	Skills  map[string]bool
	Sources map[string]bool
}

// maxTemplate is the size beyond which a file is no template, in bytes.
const maxTemplate = 64 << 10

// reader turns the source of one template into a Template and notes every mistake.
type reader struct {
	doc *read.Doc
	ctx Context
	t   *Template
	n   *names
}

// Compile reads a template. The error, if any, is a read.Errors with a place for each mistake.
func Compile(file string, src []byte, ctx Context) (*Template, error) {
	if len(src) > maxTemplate {
		return nil, read.Errors{{File: file, Line: 1, Col: 1, Msg: "the template is longer than 64 kB; split it"}}
	}
	front, body, bodyLine, err := read.SplitFrontMatter(src)
	if err != nil {
		return nil, read.Errors{{File: file, Line: 1, Col: 1, Msg: err.Error()}}
	}
	doc, err := read.ParseAt(file, front, 2)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(src)
	t := &Template{File: file, Text: src, Hash: hex.EncodeToString(sum[:]), names: newNames()}
	r := &reader{doc: doc, ctx: ctx, t: t, n: t.names}
	m := doc.Root().Map()
	if m == nil {
		r.errorf(read.Pos{Line: 1, Col: 1}, "a template begins with its front matter between two lines of ---")
		return nil, doc.Err()
	}
	r.head(m)
	r.draws(m.Sub("draw"))
	r.circuit(m.Sub("circuit"))
	for _, n := range m.List("where") {
		if f := r.formula(n, r.n); f != nil && r.wants(n, f, truth) {
			t.where = append(t.where, f)
		}
	}
	if n := m.Node("shape"); n.Kind != read.None {
		if f := r.formula(n, r.n); f != nil && r.wants(n, f, word) {
			t.shape = f
		}
	}
	t.situation = r.prose(strings.TrimSpace(string(body)), read.Pos{Line: bodyLine + leadingLines(body), Col: 1}, r.n)
	if t.situation.markdown == "" {
		r.errorf(read.Pos{Line: bodyLine, Col: 1}, "the situation is missing: write it below the front matter")
	}
	r.questions(m)
	r.worked(m.List("worked"))
	m.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return t, nil
}

// leadingLines counts the empty lines that TrimSpace takes away.
func leadingLines(body []byte) int {
	s := string(body)
	return strings.Count(s[:len(s)-len(strings.TrimLeft(s, " \t\n"))], "\n")
}

func (r *reader) errorf(at read.Place, format string, args ...any) { r.doc.Errorf(at, format, args...) }

var idForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// head reads what the template is.
func (r *reader) head(m *read.Map) {
	t := r.t
	t.ID, t.Title, t.Task = m.Text("id"), m.Text("title"), m.Text("task")
	t.Lesson, t.Level = m.Int("lesson", 1, 99), m.Int("level", 1, 4)
	t.Minutes = m.Int("minutes", 1, 60)
	t.Skills, t.Sources = m.Texts("skills"), m.Texts("sources")
	t.Pause, t.OnPaper = m.Bool("pause"), m.Bool("on_paper")
	r.figures(m)
	m.Require("id", "title", "lesson", "skills", "level", "minutes", "task", "questions")
	if base := strings.TrimSuffix(path.Base(t.File), ".md"); t.ID != "" && t.ID != base {
		r.errorf(m.Node("id"), "the id is %q and the file is called %q; make them the same", t.ID, base)
	}
	if t.ID != "" && !idForm.MatchString(t.ID) {
		r.errorf(m.Node("id"), "an id is made of small letters, digits and single hyphens")
	}
	if r.ctx.Lessons != nil && t.Lesson != 0 && !r.ctx.Lessons[t.Lesson] {
		r.errorf(m.Node("lesson"), "there is no lesson %d", t.Lesson)
	}
	r.refer(m.List("skills"), r.ctx.Skills, "skill")
	r.refer(m.List("sources"), r.ctx.Sources, "source")
	for _, n := range m.List("rows") {
		if !knownRow(n.Text()) {
			r.errorf(n, "there is no datasheet row %q; the nearest is %q", n.Text(), engine.Nearest(n.Text()))
		}
	}
	if len(m.List("skills")) == 0 && m.Has("skills") {
		r.errorf(m.Node("skills"), "name at least one skill")
	}
}

// rowGroups are the rows that stand for several flat names.
var rowGroups = map[string]bool{"v_gs_th": true, "r_ds_on": true, "r_ds_on_ratio": true, "z_th": true}

// knownRow tells whether a datasheet has a row of that flat name.
func knownRow(name string) bool {
	if rowGroups[name] {
		return true
	}
	id, ok := engine.Lookup(name)
	if !ok {
		return false
	}
	in := engine.Describe(id).Input()
	return in != nil && strings.HasPrefix(in.Path, "part.")
}

// refer checks names against what there is; a nil list means that it is not known here.
func (r *reader) refer(list []read.Node, known map[string]bool, what string) {
	if known == nil {
		return
	}
	words := make([]string, 0, len(known))
	for k := range known {
		words = append(words, k)
	}
	for _, n := range list {
		if s := n.Text(); s != "" && !known[s] {
			if near := read.Nearest(s, words); near != "" {
				r.errorf(n, "there is no %s %q; the nearest is %q", what, s, near)
			} else {
				r.errorf(n, "there is no %s %q", what, s)
			}
		}
	}
}

// formula compiles the formula in a node over the names known so far.
func (r *reader) formula(n read.Node, names *names) *Formula {
	src := n.Text()
	at := n.Pos
	if n.Quoted() {
		at.Col++
	}
	return r.formulaAt(strings.TrimSpace(strings.TrimPrefix(src, "=")), at, names)
}

func (r *reader) formulaAt(src string, at read.Pos, names *names) *Formula {
	f, err := compile(src, names)
	if err == nil {
		return f
	}
	var fe *formulaError
	if errors.As(err, &fe) {
		at = advance(at, string([]rune(src)[:min(fe.off, len([]rune(src)))]))
	}
	r.errorf(at, "%v", err)
	return nil
}

func (r *reader) wants(n read.Node, f *Formula, k kind) bool {
	if f.term.kind != k {
		r.errorf(n, "%s is %s; %s is asked for here", f.Source, f.term.kind, k)
		return false
	}
	return true
}

// newName checks a name that the template gives to a value of its own.
func (r *reader) newName(at read.Place, name string) bool {
	switch {
	case !nameForm.MatchString(name):
		r.errorf(at, "%q is no name for a value: use letters, digits and _, beginning with a letter", name)
	case r.n.index[name] != nil:
		r.errorf(at, "the name %q is given twice", name)
	case partWords[name] != nil && name != "part":
		r.errorf(at, "the name %q is what a datasheet says; choose another", name)
	default:
		if _, ok := engine.Lookup(name); ok {
			r.errorf(at, "the name %q is the engine's; choose another", name)
			return false
		}
		return true
	}
	return false
}

var nameForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*$`)

// unitOf reads a unit that fits a dimension.
func (r *reader) unit(n read.Node, d si.Dim) *si.Unit {
	if n.Kind == read.None {
		return nil
	}
	u, err := si.UnitOf(n.Text())
	switch {
	case err != nil:
		r.errorf(n, "%v", err)
		return nil
	case u.Dim != d:
		r.errorf(n, "%q is no unit of %s", n.Text(), d.Name())
		return nil
	}
	return &u
}
