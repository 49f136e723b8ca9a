package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// rule says what a package of this module may import. A path stands for itself
// and all below it.
type rule struct {
	pkg    string
	own    []string // packages of this module that it may reach
	not    []string // packages that it must not reach, even indirectly
	direct []string // packages that it must not import itself, with all below them
}

var (
	pages   = []string{"net/http", "html/template", "github.com/go-chi", "github.com/yuin/goldmark"}
	records = []string{"database/sql", "modernc.org", "github.com/pressly"}
	outside = []string{"os", "io/fs", "net", "time", "log", "embed"} // files, network, clock
	expr    = []string{"github.com/expr-lang"}
)

// rules is the import direction of the tree: cmd → web → lessons → grader →
// engine → engine/part → engine/read, engine/si. The longest path that fits a
// package is its rule. DEVELOPERS.md tells the reasons.
var rules = []rule{
	{pkg: "engine/si", not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "engine/formula", not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "engine/read", own: []string{"engine/si"}, not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "engine/part", own: []string{"engine/read", "engine/si"}, not: slices.Concat(pages, records, expr), direct: slices.DeleteFunc(slices.Clone(outside), isEmbed)},
	{pkg: "engine", own: []string{"engine"}, not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "grader/mastery", own: []string{"engine"}, not: slices.Concat(pages, records, expr), direct: []string{"os", "net"}},
	{pkg: "grader/class", own: []string{"engine", "grader"}, not: slices.Concat(pages, records), direct: append([]string{"os", "net"}, expr...)},
	{pkg: "grader/problem", own: []string{"engine"}, not: slices.Concat(pages, records), direct: outside},
	{pkg: "grader", own: []string{"engine", "grader"}, not: slices.Concat(pages, records), direct: slices.Concat(outside, expr)},
	{pkg: "lessons/math", not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "lessons/figure", own: []string{"engine"}, not: slices.Concat(pages, records, expr), direct: outside},
	{pkg: "lessons", own: []string{"engine", "grader", "lessons"}, not: append([]string{"net/http"}, records...), direct: expr},
	{pkg: "web/store", own: []string{"engine", "grader", "web/store"}, not: pages[:1], direct: expr},
	{pkg: "web", own: []string{"engine", "grader", "lessons", "web"}, direct: append([]string{"database/sql"}, expr...)},
	{pkg: "cmd", own: []string{"engine", "grader", "lessons", "web"}, direct: append([]string{"database/sql"}, expr...)},
}

func isEmbed(pkg string) bool { return pkg == "embed" } // the drawer of parts is a file of the package

// listed is what the go command tells of a package.
type listed struct {
	ImportPath    string
	Imports, Deps []string
}

// TestImportDirections holds the imports of every package against the rules.
func TestImportDirections(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,Deps", "fullyon/...").Output()
	if err != nil {
		var failed *exec.ExitError
		if errors.As(err, &failed) {
			t.Fatalf("go list: %v\n%s", err, failed.Stderr)
		}
		t.Fatal(err)
	}
	used := map[string]bool{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		r := ruleFor(strings.TrimPrefix(p.ImportPath, "fullyon/"))
		if r == nil {
			t.Errorf("%s has no rule; write one, and into DEVELOPERS.md where the package belongs", p.ImportPath)
			continue
		}
		used[r.pkg] = true
		for _, m := range r.broken(&p) {
			t.Error(m)
		}
	}
	for i := range rules {
		if !used[rules[i].pkg] {
			t.Errorf("the rule for %s fits no package; take it out", rules[i].pkg)
		}
	}
}

// ruleFor is the rule with the longest path that fits.
func ruleFor(pkg string) *rule {
	var best *rule
	for i := range rules {
		if under(pkg, rules[i].pkg) && (best == nil || len(rules[i].pkg) > len(best.pkg)) {
			best = &rules[i]
		}
	}
	return best
}

func under(pkg, root string) bool { return pkg == root || strings.HasPrefix(pkg, root+"/") }

// broken lists what a package imports against its rule.
func (r *rule) broken(p *listed) []string {
	var out []string
	fits := func(dep string, roots []string) bool {
		return slices.ContainsFunc(roots, func(root string) bool { return under(dep, root) })
	}
	for _, dep := range p.Deps {
		own, ours := strings.CutPrefix(dep, "fullyon/")
		if ours && !fits(own, r.own) {
			out = append(out, p.ImportPath+" reaches "+dep+"; it may reach only "+strings.Join(r.own, ", "))
		}
		if fits(dep, r.not) {
			out = append(out, p.ImportPath+" reaches "+dep+", which is not for it")
		}
	}
	for _, dep := range p.Imports {
		if fits(dep, r.direct) {
			out = append(out, p.ImportPath+" imports "+dep+"; hand it in as a value instead")
		}
	}
	return out
}

// TestImportRulesCatch shows that each kind of breach is seen.
func TestImportRulesCatch(t *testing.T) {
	for _, c := range []struct {
		name string
		p    listed
		want int
	}{
		{"engine reaches the grader", listed{ImportPath: "fullyon/engine", Deps: []string{"fmt", "fullyon/grader"}}, 1},
		{"engine reads files", listed{ImportPath: "fullyon/engine", Imports: []string{"os"}, Deps: []string{"os"}}, 1},
		{"engine reaches the formula language", listed{ImportPath: "fullyon/engine/part", Deps: []string{"github.com/expr-lang/expr/vm"}}, 1},
		{"grader reaches a database", listed{ImportPath: "fullyon/grader", Deps: []string{"database/sql", "database/sql/driver"}}, 2},
		{"grader reaches lessons", listed{ImportPath: "fullyon/grader/problem", Deps: []string{"fullyon/lessons/math"}}, 1},
		{"store serves pages", listed{ImportPath: "fullyon/web/store", Deps: []string{"net/http"}}, 1},
		{"web reaches the command", listed{ImportPath: "fullyon/web", Deps: []string{"fullyon/cmd/fullyon"}}, 1},
		{"a page reads a formula", listed{ImportPath: "fullyon/web", Imports: []string{"github.com/expr-lang/expr/ast"}}, 1},
		{"as it should be", listed{ImportPath: "fullyon/lessons", Deps: []string{"fullyon/grader", "github.com/yuin/goldmark", "os"}}, 0},
	} {
		got := ruleFor(strings.TrimPrefix(c.p.ImportPath, "fullyon/")).broken(&c.p)
		if len(got) != c.want {
			t.Errorf("%s: %d breaches %q, want %d", c.name, len(got), got, c.want)
		}
	}
}
