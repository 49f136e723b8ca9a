package web

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"math"
	"path"
	"strconv"
	"strings"
)

//go:embed template/*.html
var templateFiles embed.FS

// Shell is what every page has round its own part.
type Shell struct {
	Title string // of the page, without the program's name
	Crumb []link // where the page stands, such as its lesson
	Here  string // the entry of the menu that is current: path, progress
	Looks string // classes that the reader asked for
}

func (s *Shell) shell() *Shell { return s }

// view is what a page shows: a struct with a Shell in it.
type view interface{ shell() *Shell }

// page is one parsed template.
type page struct{ *template.Template }

// Execute writes the page.
func (p *page) Execute(w io.Writer, data any) error {
	if p == nil {
		return fmt.Errorf("no such page")
	}
	return p.ExecuteTemplate(w, "shell.html", data)
}

// parsePages parses every page on top of the shell and the shared pieces, whose
// names begin with a line.
func parsePages(a *assets) (map[string]*page, error) {
	funcs := template.FuncMap{
		"asset":  a.address,
		"marks":  marksText,
		"plural": plural,
		"inc":    func(i int) int { return i + 1 },
	}
	base, err := template.New("").Funcs(funcs).ParseFS(templateFiles, "template/shell.html", "template/_*.html")
	if err != nil {
		return nil, err
	}
	files, err := fs.Glob(templateFiles, "template/[a-z]*.html")
	if err != nil {
		return nil, err
	}
	out := map[string]*page{}
	for _, f := range files {
		name := strings.TrimSuffix(path.Base(f), ".html")
		if name == "shell" {
			continue
		}
		t, err := base.Clone()
		if err != nil {
			return nil, err
		}
		if _, err := t.ParseFS(templateFiles, f); err != nil {
			return nil, err
		}
		out[name] = &page{t}
	}
	return out, nil
}

// marksText prints marks: 2.4, 3.
func marksText(m float64) string { return strconv.FormatFloat(m, 'f', -1, 64) }

// plural puts a count before its word: 1 mark, 2 marks, no marks.
func plural(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// tenth rounds marks to tenths.
func tenth(m float64) float64 { return math.Round(m*10) / 10 }
