// Package lessons holds the course: lessons in Markdown, problem templates,
// skills and sources. It loads and checks them, and renders their text.
//
// A lesson is a file NN-name.md: front matter in YAML, then Markdown with
// formulas ($…$ and ```math), places for computed numbers ({{…}}, see
// problem.Passage) and containers:
//
//	::: belief                 a wrong belief, named and put right
//	::: caution heat           a stock caution (cautions.go) and what to add to it
//	::: stop                   where to stop and ask somebody qualified
//	::: try                    a small thing to do
//	::: figure schematic template=ID seed=N     its body is the caption
//	::: worked template=ID     a worked example, drawn afresh at each visit
//	::: pause ID               a safety prompt
//
// Each ends with a line of as many colons. The last three are slots, which the
// pages fill; they stand on the top level of a lesson.
//
// Rendered text never holds markup that came from a value, raw HTML, a script,
// a style or a link that leaves the site.
package lessons

import (
	"embed"
	"fmt"
	"io/fs"
	"strconv"
	"sync"

	"fullyon/engine/read"
	"fullyon/grader/problem"
)

//go:embed *.md problems skills.yaml sources.yaml glossary.yaml
var content embed.FS

// FS is the built-in content, as Load reads it.
func FS() fs.FS { return content }

// Built is the built-in course, loaded once. The error is a read.Errors; what
// could be read is there even beside an error.
func Built() (*Course, error) { return built() }

var built = sync.OnceValues(func() (*Course, error) { return Load(content) })

// Course is everything that is taught. It does not change once loaded.
type Course struct {
	Lessons   []*Lesson           // by number
	Templates []*problem.Template // by lesson, level and id
	Pauses    []*problem.Template // those of the templates that are safety prompts
	Skills    []*Skill            // in the order of skills.yaml
	Sources   []*Source           // in the order of sources.yaml
	Claims    []*Claim            // of lessons, with what bears them
	Glossary  []*Term             // in the order of glossary.yaml

	lessons   map[int]*Lesson
	templates map[string]*problem.Template
	skills    map[string]*Skill
	sources   map[string]*Source
}

// UnknownError says that something was asked for by an id that nothing has.
type UnknownError struct {
	What    string // lesson, template, skill or source
	ID      string
	Nearest string // the id that was most likely meant; may be empty
}

func (e *UnknownError) Error() string {
	if e.Nearest == "" {
		return fmt.Sprintf("there is no %s %q", e.What, e.ID)
	}
	return fmt.Sprintf("there is no %s %q; the nearest is %q", e.What, e.ID, e.Nearest)
}

// Template finds a template by id. The error is an *UnknownError.
func (c *Course) Template(id string) (*problem.Template, error) {
	return find("template", c.templates, id)
}

// Skill finds a skill by id. The error is an *UnknownError.
func (c *Course) Skill(id string) (*Skill, error) { return find("skill", c.skills, id) }

// Source finds a source by id. The error is an *UnknownError.
func (c *Course) Source(id string) (*Source, error) { return find("source", c.sources, id) }

// Lesson finds a lesson by its number or its id. The error is an *UnknownError.
func (c *Course) Lesson(word string) (*Lesson, error) {
	if n, err := strconv.Atoi(word); err == nil {
		if l := c.lessons[n]; l != nil {
			return l, nil
		}
		return nil, &UnknownError{What: "lesson", ID: word}
	}
	ids := make(map[string]*Lesson, len(c.Lessons))
	for _, l := range c.Lessons {
		ids[l.ID] = l
	}
	return find("lesson", ids, word)
}

// Numbered finds a lesson by its number; nil when there is none.
func (c *Course) Numbered(n int) *Lesson { return c.lessons[n] }

// TemplatesOf lists the templates of a lesson that are practised: its pauses are not among them.
func (c *Course) TemplatesOf(lesson int) []*problem.Template {
	var out []*problem.Template
	for _, t := range c.Templates {
		if t.Lesson == lesson && !t.Pause {
			out = append(out, t)
		}
	}
	return out
}

// SkillsOf lists the skills that belong to a lesson.
func (c *Course) SkillsOf(lesson int) []*Skill {
	var out []*Skill
	for _, s := range c.Skills {
		if s.Lesson == lesson {
			out = append(out, s)
		}
	}
	return out
}

func find[T any](what string, in map[string]*T, id string) (*T, error) {
	if v := in[id]; v != nil {
		return v, nil
	}
	return nil, &UnknownError{what, id, read.Nearest(id, sortedKeys(in))}
}
