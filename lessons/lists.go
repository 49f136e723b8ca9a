package lessons

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"fullyon/engine/read"
)

// Skill is one thing that a learner can do, told in the first person.
type Skill struct {
	ID     string
	Title  string
	Lesson int      // that teaches it
	Needs  []string // ids of skills that come before

	at read.Pos
}

// Source is what a statement leans on.
type Source struct {
	ID    string
	Title string
	Where string // edition, clause, address or other hint for finding it
	// Ground is "read" for a document that was read, "computed" for what
	// follows by arithmetic, "common practice" for what the trade does.
	Ground string
	// Background says that nothing cites it by itself, such as how quantities are written.
	Background bool
}

// Grounds are the grounds that a source can have.
var grounds = []string{"read", "computed", "common practice"}

var idForm = regexp.MustCompile(`^[A-Za-z0-9]+(-[A-Za-z0-9]+)*$`)

// readSkills reads skills.yaml.
func readSkills(file string, src []byte) ([]*Skill, error) {
	doc, err := read.Parse(file, src)
	if err != nil {
		return nil, err
	}
	var skills []*Skill
	for _, n := range doc.Root().List() {
		m := n.Map()
		if !m.Require("id", "title", "lesson") {
			m.Known("id", "title", "lesson", "needs")
			m.Close()
			continue
		}
		s := &Skill{ID: m.Text("id"), Title: m.Text("title"), Lesson: m.Int("lesson", 1, 99), Needs: m.Texts("needs"), at: m.Node("id").Pos}
		if !idForm.MatchString(s.ID) || s.ID != strings.ToLower(s.ID) {
			doc.Errorf(m.Node("id"), "the id of a skill is made of small letters, digits and single hyphens")
		}
		m.Close()
		skills = append(skills, s)
	}
	byID := index(doc, skills, func(s *Skill) (string, read.Pos) { return s.ID, s.at })
	needs(doc, skills, byID)
	return skills, doc.Err()
}

// needs notes unknown and circular prerequisites, and such as come in a later lesson.
func needs(doc *read.Doc, skills []*Skill, byID map[string]*Skill) {
	const (
		open = iota + 1
		done
	)
	state := map[string]int{}
	var visit func(s *Skill)
	visit = func(s *Skill) {
		state[s.ID] = open
		for _, id := range s.Needs {
			n := byID[id]
			switch {
			case n == nil:
				doc.Errorf(s.at, "%s needs the skill %q, which is not in the list%s", s.ID, id, nearest(id, byID))
			case state[id] == open:
				doc.Errorf(s.at, "%s needs %s, which in turn needs %s: take one of them out", s.ID, id, s.ID)
			case n.Lesson > s.Lesson:
				doc.Errorf(s.at, "%s of lesson %d needs %s, which is taught only in lesson %d", s.ID, s.Lesson, id, n.Lesson)
			}
			if n != nil && state[id] == 0 {
				visit(n)
			}
		}
		state[s.ID] = done
	}
	for _, s := range skills {
		if state[s.ID] == 0 {
			visit(s)
		}
	}
}

// Claim is a statement of a lesson that is neither computed on the page nor obvious.
type Claim struct {
	Lesson  int
	Says    string
	Sources []string // ids of what bears it
}

// readSources reads sources.yaml: sources alone, as a list, or sources and claims.
func readSources(file string, src []byte) ([]*Source, []*Claim, error) {
	doc, err := read.Parse(file, src)
	if err != nil {
		return nil, nil, err
	}
	root := doc.Root()
	if root.Kind != read.Mapping {
		sources, _ := readSourceList(doc, root)
		return sources, nil, doc.Err()
	}
	m := root.Map()
	m.Require("sources")
	sources, byID := readSourceList(doc, m.Node("sources"))
	var claims []*Claim
	for _, n := range m.List("claims") {
		c := n.Map()
		if c == nil {
			continue
		}
		c.Require("lesson", "says", "by")
		claim := &Claim{Lesson: c.Int("lesson", 1, 99), Says: c.Text("says"), Sources: c.Texts("by")}
		for _, by := range c.List("by") {
			if id := by.Text(); byID[id] == nil {
				doc.Errorf(by, "there is no source %q%s", id, nearest(id, byID))
			}
		}
		c.Close()
		claims = append(claims, claim)
	}
	m.Close()
	return sources, claims, doc.Err()
}

func readSourceList(doc *read.Doc, list read.Node) ([]*Source, map[string]*Source) {
	var sources []*Source
	at := map[*Source]read.Pos{}
	for _, n := range list.List() {
		m := n.Map()
		m.Require("id", "title", "ground")
		s := &Source{ID: m.Text("id"), Title: m.Text("title"), Where: m.Text("where"), Ground: m.TextOf("ground", grounds...), Background: m.Bool("background")}
		if m.Has("id") && !idForm.MatchString(s.ID) {
			doc.Errorf(m.Node("id"), "the id of a source is made of letters, digits and single hyphens")
		}
		if s.Ground == "read" && s.Where == "" {
			doc.Errorf(n, "a document that was read needs where: its edition, number or address")
		}
		m.Close()
		at[s] = n.Pos
		sources = append(sources, s)
	}
	return sources, index(doc, sources, func(s *Source) (string, read.Pos) { return s.ID, at[s] })
}

// index finds things by id and notes ids that come twice.
func index[T any](doc *read.Doc, list []*T, id func(*T) (string, read.Pos)) map[string]*T {
	out := make(map[string]*T, len(list))
	for _, v := range list {
		key, at := id(v)
		if out[key] != nil {
			doc.Errorf(at, "the id %q comes twice", key)
		}
		out[key] = v
	}
	return out
}

// nearest is "; the nearest is …", or nothing.
func nearest[T any](id string, known map[string]T) string {
	if n := read.Nearest(id, sortedKeys(known)); n != "" {
		return `; the nearest is "` + n + `"`
	}
	return ""
}

func sortedKeys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }
