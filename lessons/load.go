package lessons

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fullyon/engine/read"
	"fullyon/grader/problem"
)

const (
	maxFile  = 64 << 10 // bytes
	maxFiles = 2000     // lessons and templates together
)

// Load reads a course: files NN-name.md, problems/*.md, skills.yaml, sources.yaml
// and glossary.yaml, of which the last three may be absent; those built in then count.
// The error is a read.Errors with every mistake found. What could be read is in
// the Course even beside an error.
func Load(fsys fs.FS) (*Course, error) {
	l := &loader{fs: fsys, broken: map[string]bool{}, taught: map[int]bool{}, course: &Course{
		lessons: map[int]*Lesson{}, templates: map[string]*problem.Template{}, skills: map[string]*Skill{}, sources: map[string]*Source{},
	}}
	l.lists()
	lessonFiles, templateFiles := l.files()
	l.templates(templateFiles, lessonFiles)
	l.lessons(lessonFiles)
	l.references()
	if len(l.errs) == 0 {
		return l.course, nil
	}
	slices.SortStableFunc(l.errs, func(a, b *read.Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return l.course, l.errs
}

type loader struct {
	fs     fs.FS
	course *Course
	mu     sync.Mutex
	errs   read.Errors
	named  []*Lesson       // all lessons that can be read so far as to know what they name
	broken map[string]bool // ids of templates whose files hold mistakes
	taught map[int]bool    // lessons that a file or skills.yaml tells of
}

// note keeps the mistakes of one file.
func (l *loader) note(file string, err error) {
	if err == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	var list read.Errors
	if errors.As(err, &list) {
		l.errs = append(l.errs, list...)
		return
	}
	l.errs = append(l.errs, &read.Error{File: file, Line: 1, Col: 1, Msg: err.Error()})
}

func (l *loader) errorf(file string, at read.Pos, format string, args ...any) {
	l.note(file, read.Errors{{File: file, Line: at.Line, Col: at.Col, Msg: fmt.Sprintf(format, args...)}})
}

// lists reads skills and sources.
func (l *loader) lists() {
	c := l.course
	var err error
	c.Skills, err = readSkills("skills.yaml", l.list("skills.yaml"))
	l.note("skills.yaml", err)
	c.Sources, c.Claims, err = readSources("sources.yaml", l.list("sources.yaml"))
	l.note("sources.yaml", err)
	c.Glossary, err = readGlossary("glossary.yaml", l.list("glossary.yaml"))
	l.note("glossary.yaml", err)
	for _, s := range c.Skills {
		c.skills[s.ID] = s
	}
	for _, s := range c.Sources {
		c.sources[s.ID] = s
	}
}

func (l *loader) list(name string) []byte {
	if _, err := fs.Lstat(l.fs, name); errors.Is(err, fs.ErrNotExist) {
		src, _ := fs.ReadFile(content, name) // embedded, so it is there
		return src
	}
	src, err := l.read(name)
	l.note(name, err)
	return src
}

// read gives the bytes of one file, if it is a plain file of a sensible size.
func (l *loader) read(name string) ([]byte, error) {
	info, err := fs.Lstat(l.fs, name)
	switch {
	case err != nil:
		return nil, fmt.Errorf("this file cannot be read: %w", plainError(err))
	case info.Mode()&fs.ModeSymlink != 0:
		return nil, errors.New("this is a link to another file; put the file itself here")
	case !info.Mode().IsRegular():
		return nil, errors.New("this is no plain file; take it out")
	}
	f, err := l.fs.Open(name)
	if err != nil {
		return nil, fmt.Errorf("this file cannot be read: %w", plainError(err))
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("this file cannot be read: %w", plainError(err))
	case len(src) > maxFile:
		return nil, errors.New("this file is longer than 64 kB; split it")
	}
	return src, nil
}

// plainError leaves out the path, which stands before the message already.
func plainError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

var (
	lessonName   = regexp.MustCompile(`^([0-9]{2})-([a-z][a-z0-9]*(?:-[a-z0-9]+)*)\.md$`)
	templateName = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*\.md$`)
)

// files lists the lessons and the templates, and notes what has no place here.
func (l *loader) files() (lessons, templates []string) {
	top, err := fs.ReadDir(l.fs, ".")
	l.note(".", err)
	for _, e := range top {
		name := e.Name()
		switch {
		case path.Ext(name) != ".md": // code, lists, folders
		case lessonName.MatchString(name):
			lessons = append(lessons, name)
		default:
			l.errorf(name, read.Pos{Line: 1, Col: 1}, "a lesson's file is called NN-name.md: its number in two digits, then small letters, digits and single hyphens")
		}
	}
	if info, err := fs.Lstat(l.fs, "problems"); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		l.errorf("problems", read.Pos{Line: 1, Col: 1}, "this is a link to another folder; put the folder itself here")
		return lessons, nil
	}
	inner, err := fs.ReadDir(l.fs, "problems")
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.note("problems", fmt.Errorf("this folder cannot be read: %w", plainError(err)))
	}
	for _, e := range inner {
		name := path.Join("problems", e.Name())
		if !templateName.MatchString(e.Name()) {
			l.errorf(name, read.Pos{Line: 1, Col: 1}, "a template's file is called id.md: small letters, digits and single hyphens; nothing else belongs into this folder")
			continue
		}
		templates = append(templates, name)
	}
	if n := len(lessons) + len(templates); n > maxFiles {
		l.errorf(".", read.Pos{Line: 1, Col: 1}, "there are %d files; at most %d are read, so split the course", n, maxFiles)
		return nil, nil
	}
	return lessons, templates
}

// each calls do for every file, on as many goroutines as there are processors.
func each(files []string, do func(i int, file string)) {
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(files)) {
		wg.Go(func() {
			for i := range next {
				do(i, files[i])
			}
		})
	}
	for i := range files {
		next <- i
	}
	close(next)
	wg.Wait()
}

// templates compiles the problem templates. They may speak of lessons that
// skills.yaml tells of and that are not written yet.
func (l *loader) templates(files, lessonFiles []string) {
	c := l.course
	ctx := problem.Context{Lessons: l.taught, Skills: map[string]bool{}, Sources: map[string]bool{}}
	for _, s := range c.Skills {
		ctx.Skills[s.ID], l.taught[s.Lesson] = true, true
	}
	for _, s := range c.Sources {
		ctx.Sources[s.ID] = true
	}
	for _, f := range lessonFiles {
		n, _ := numberAndID(f)
		l.taught[n] = true
	}
	out := make([]*problem.Template, len(files))
	each(files, func(i int, file string) {
		src, err := l.read(file)
		if err == nil {
			out[i], err = problem.Compile(file, src, ctx)
		}
		l.note(file, err)
	})
	for i, t := range out {
		if t == nil {
			l.broken[strings.TrimSuffix(path.Base(files[i]), ".md")] = true
		} else {
			c.templates[t.ID] = t
			c.Templates = append(c.Templates, t)
		}
	}
	slices.SortFunc(c.Templates, func(a, b *problem.Template) int {
		return cmp.Or(cmp.Compare(a.Lesson, b.Lesson), cmp.Compare(a.Level, b.Level), cmp.Compare(a.ID, b.ID))
	})
	for _, t := range c.Templates {
		if t.Pause {
			c.Pauses = append(c.Pauses, t)
		}
	}
}

// lessons reads the lessons.
func (l *loader) lessons(files []string) {
	c := l.course
	out, whole := make([]*Lesson, len(files)), make([]bool, len(files))
	each(files, func(i int, file string) {
		src, err := l.read(file)
		if err == nil {
			out[i], err = readLesson(file, src, c.Glossary)
		}
		whole[i] = err == nil
		l.note(file, err)
	})
	for i, lesson := range out {
		if lesson == nil {
			continue
		}
		l.named = append(l.named, lesson)
		if !whole[i] {
			continue // what it names was still worth a look
		}
		if other := l.course.lessons[lesson.Number]; other != nil {
			l.errorf(lesson.File, read.Pos{Line: 1, Col: 1}, "lesson %d is also %s; give one of them another number", lesson.Number, other.File)
			continue
		}
		l.course.lessons[lesson.Number] = lesson
		l.course.Lessons = append(l.course.Lessons, lesson)
	}
	slices.SortFunc(l.course.Lessons, func(a, b *Lesson) int { return cmp.Compare(a.Number, b.Number) })
}

// numberAndID takes the name of a lesson's file apart.
func numberAndID(file string) (int, string) {
	m := lessonName.FindStringSubmatch(path.Base(file))
	if m == nil {
		return 0, strings.TrimSuffix(path.Base(file), ".md")
	}
	n, _ := strconv.Atoi(m[1]) // two digits
	return n, m[2]
}

// references proves what lessons name: templates, pauses, skills, sources, lessons.
func (l *loader) references() {
	for _, lesson := range l.named {
		for _, r := range lesson.refs {
			if err := l.exists(r); err != nil {
				l.errorf(lesson.File, r.at, "%v", err)
			}
		}
		for _, p := range lesson.Parts {
			if p.Figure == nil || p.Figure.Template == "" {
				continue
			}
			if t, err := l.course.Template(p.Figure.Template); err == nil && !t.HasCircuit() {
				l.errorf(lesson.File, p.Figure.at, "the template %q draws no circuit, so there is nothing to show", t.ID)
			}
		}
	}
}

// exists tells whether what a lesson names is there. A template whose own file is
// broken counts as there: its mistakes are told already.
func (l *loader) exists(r reference) error {
	c := l.course
	var err error
	switch r.what {
	case "template", "pause":
		if l.broken[r.id] {
			return nil
		}
		var t *problem.Template
		if t, err = c.Template(r.id); err == nil && r.what == "pause" && !t.Pause {
			err = fmt.Errorf("the template %q is no pause; write pause: true into it, or name another", r.id)
		}
	case "skill":
		_, err = c.Skill(r.id)
	case "source":
		_, err = c.Source(r.id)
	case "lesson":
		if n, e := strconv.Atoi(r.id); e != nil || !l.taught[n] {
			_, err = c.Lesson(r.id)
		}
	}
	return err
}
