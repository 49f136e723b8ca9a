package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/engine/formula"
	"fullyon/grader"
	"fullyon/grader/problem"
	"fullyon/lessons"
)

const (
	readme     = "../../README.md"
	developers = "../../DEVELOPERS.md"
)

// generatedReadme is to README.md what generated is to DEVELOPERS.md.
var generatedReadme = map[string]func(t *testing.T) string{
	"lessons": func(t *testing.T) string {
		c, err := lessons.Built()
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for _, l := range c.Lessons {
			fmt.Fprintf(&b, "- %d · %s (%s)\n", l.Number, l.Title, count(len(c.TemplatesOf(l.Number)), "kind")+" of problem")
		}
		return b.String()
	},
}

// generated are the tables of DEVELOPERS.md that come from the code. Each stands
// between <!-- NAME --> and <!-- end -->; `go test ./cmd/fullyon -run Docs -update`
// writes them anew.
var generated = map[string]func(t *testing.T) string{
	"quantities": func(*testing.T) string {
		var b strings.Builder
		b.WriteString("| name | symbol | unit | what it is | formula |\n| --- | --- | --- | --- | --- |\n")
		for _, d := range engine.Quantities() {
			row(&b, "`"+d.Name+"`", formula.TextSymbol(d.Symbol), d.Dim.Unit().Symbol, d.Meaning, (&lessons.Term{Definition: d}).PlainFormula())
		}
		return b.String()
	},
	"inputs": func(*testing.T) string {
		var b strings.Builder
		b.WriteString("| name | in a circuit file | unit | what it is |\n| --- | --- | --- | --- |\n")
		for _, d := range engine.Inputs() {
			row(&b, "`"+d.Name+"`", "`"+d.Input().Path+"`", d.Dim.Unit().Symbol, d.Meaning)
		}
		return b.String()
	},
	"checks": func(*testing.T) string {
		var b strings.Builder
		b.WriteString("| id | question |\n| --- | --- |\n")
		for _, c := range engine.Checks() {
			row(&b, "`"+c.ID+"`", c.Question)
		}
		return b.String()
	},
	"functions": func(t *testing.T) string {
		return "`" + strings.Join(functionUses(t), "` · `") + "`\n"
	},
	"outcomes": func(*testing.T) string {
		var b strings.Builder
		b.WriteString("| outcome | said as | costs an attempt |\n| --- | --- | --- |\n")
		for _, o := range grader.Outcomes() {
			row(&b, "`"+string(o)+"`", inWords[o], map[bool]string{true: "yes", false: "no"}[o.CostsAttempt()])
		}
		return b.String()
	},
	"commands": func(t *testing.T) string {
		help := fullyon(t, nil, "", "--help").stdout
		_, list, _ := strings.Cut(help, "Commands:\n")
		list, _, _ = strings.Cut(list, "\n\n")
		return "```\n" + list + "\n```\n"
	},
}

func row(b *strings.Builder, cells ...string) {
	for _, c := range cells {
		b.WriteString("| " + strings.ReplaceAll(c, "|", `\|`) + " ")
	}
	b.WriteString("|\n")
}

func TestDocsTables(t *testing.T) {
	tables(t, developers, generated)
	tables(t, readme, generatedReadme)
}

// tables holds the tables of a page against the code, or writes them.
func tables(t *testing.T, page string, made map[string]func(*testing.T) string) {
	t.Helper()
	src, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	now := string(src)
	for _, name := range slices.Sorted(maps.Keys(made)) {
		head := "<!-- " + name + " -->\n"
		before, rest, ok := strings.Cut(now, head)
		old, after, closed := strings.Cut(rest, "<!-- end -->")
		if !ok || !closed {
			t.Errorf("%s has no place for the table %q", page, name)
			continue
		}
		if want := made[name](t); old != want {
			if !*update {
				t.Errorf("the table %q of %s is not what the code says; run go test ./cmd/fullyon -run Docs -update", name, page)
			}
			now = before + head + want + "<!-- end -->" + after
		}
	}
	if *update && now != string(src) {
		if err := os.WriteFile(page, []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestReadmeCommands runs the command lines that README.md shows, and wants the
// verdict shown there to be what the program says.
func TestReadmeCommands(t *testing.T) {
	src, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../..")
	lines := 0
	for _, m := range regexp.MustCompile(`(?m)^fullyon (.*)$`).FindAllStringSubmatch(string(src), -1) {
		lines++
		args := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(m[1], "'heat=160 mW'", "heat=160mW"), "my-lessons --seeds 2000", "lessons --seeds 1"))
		if got := fullyon(t, nil, "", args...); got.status == badInput || got.status == internal {
			t.Errorf("fullyon %v: exit status %d, %s", args, got.status, got.stderr)
		}
	}
	if lines < 5 {
		t.Errorf("README.md shows %d command lines", lines)
	}
	_, verdict, _ := strings.Cut(string(src), "```\nheat: ")
	verdict, _, _ = strings.Cut(verdict, "```")
	got := fullyon(t, nil, "", "mark", "footlight-switch", "--seed", "4955430315932865", "--answer", "heat=66 mW").stdout
	if verdict == "" || !strings.Contains(got, "heat: "+verdict) {
		t.Errorf("the verdict in README.md is\nheat: %s\nand the program says\n%s", verdict, got)
	}
}

// shownElsewhere are keys of kinds of question that the template in DEVELOPERS.md
// does not have; the table there explains them.
var shownElsewhere = []string{"curve", "at", "bench", "causes", "measurements", "checks", "candidates"}

// TestDocsTemplate: the template shown as the grammar compiles, keeps the rules
// and uses every key that templates have; the table beside it explains each.
func TestDocsTemplate(t *testing.T) {
	src, err := os.ReadFile(developers)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(src), "````markdown\n")
	shown, _, ok := strings.Cut(rest, "````\n")
	if !ok {
		t.Fatal("DEVELOPERS.md shows no template between ````markdown and ````")
	}
	id := regexp.MustCompile(`(?m)^id: (\S+)`).FindStringSubmatch(shown)
	if id == nil {
		t.Fatal("the template shown has no id")
	}
	tpl, err := problem.Compile(id[1]+".md", []byte(shown), problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range tpl.Check(int(200)) {
		t.Error(e)
	}
	front, _, _ := strings.Cut(strings.TrimPrefix(shown, "---\n"), "\n---\n")
	used, explained := map[string]bool{}, map[string]bool{}
	for _, m := range regexp.MustCompile(`(?:^|[\s{,-])([a-z_]+):(?:\s|$)`).FindAllStringSubmatch(strings.ReplaceAll(front, "\n", "\n "), -1) {
		used[m[1]] = true
	}
	_, table, _ := strings.Cut(string(src), "<!-- keys -->\n")
	table, _, _ = strings.Cut(table, "<!-- end -->")
	for _, m := range regexp.MustCompile("(?m)^\\| ((?:`[a-z_]+`(?:, )?)+) \\|").FindAllStringSubmatch(table, -1) {
		for _, k := range regexp.MustCompile("[a-z_]+").FindAllString(m[1], -1) {
			explained[k] = true
		}
	}
	for k := range templateKeys(t) {
		if !explained[k] {
			t.Errorf("the key %q of templates is not explained in DEVELOPERS.md", k)
		}
		if !used[k] && !slices.Contains(shownElsewhere, k) {
			t.Errorf("the key %q is not in the template that DEVELOPERS.md shows", k)
		}
		delete(explained, k)
	}
	for k := range explained {
		t.Errorf("DEVELOPERS.md explains the key %q, which no template has", k)
	}
}

// parsed are the files of grader/problem that read templates.
func parsed(t *testing.T, patterns ...string) []*ast.File {
	t.Helper()
	var names []string
	for _, p := range patterns {
		list, err := filepath.Glob("../../grader/problem/" + p)
		if err != nil || len(list) == 0 {
			t.Fatalf("no files %s: %v", p, err)
		}
		names = append(names, list...)
	}
	var out []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, f)
	}
	return out
}

// keyReaders are the calls that read a key, and at which argument it stands.
var keyReaders = map[string]int{
	"Text": 0, "TextOf": 0, "Texts": 0, "Int": 0, "Bool": 0, "List": 0, "Sub": 0, "Node": 0, "Has": 0, "Quantity": 0, "Float": 0,
	"proseIn": 1, "intOr": 1, "optionList": 1,
}

// templateKeys are the keys that the code of grader/problem reads.
func templateKeys(t *testing.T) map[string]bool {
	t.Helper()
	keys := map[string]bool{}
	for _, f := range parsed(t, "read*.go", "generated.go", "pair.go") {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if at, ok := keyReaders[called(n)]; ok && len(n.Args) > at && !ofNode(n) {
					if key, ok := text(n.Args[at]); ok {
						keys[key] = true
					}
				}
			case *ast.CompositeLit: // map[bool]string{true: "options", false: "steps"}
				if m, ok := n.Type.(*ast.MapType); ok && fmt.Sprint(m.Key) == "bool" {
					for _, e := range n.Elts {
						if key, ok := text(e.(*ast.KeyValueExpr).Value); ok {
							keys[key] = true
						}
					}
				}
			}
			return true
		})
	}
	if len(keys) < 40 {
		t.Fatalf("only %d keys were found in the code: %v", len(keys), slices.Sorted(maps.Keys(keys)))
	}
	return keys
}

// ofNode tells whether a call reads a value, n, which takes its choices and no key.
func ofNode(n *ast.CallExpr) bool {
	f, ok := n.Fun.(*ast.SelectorExpr)
	return ok && fmt.Sprint(f.X) == "n"
}

func called(n *ast.CallExpr) string {
	switch f := n.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

func text(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}

// functionUses are the functions of formulas, as messages write them.
func functionUses(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, f := range parsed(t, "functions.go") {
		ast.Inspect(f, func(n ast.Node) bool {
			lit, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			if m, ok := lit.Type.(*ast.MapType); !ok || fmt.Sprint(m.Value) != "function" {
				return true
			}
			for _, e := range lit.Elts {
				if use, ok := text(e.(*ast.KeyValueExpr).Value.(*ast.CompositeLit).Elts[0]); ok {
					out = append(out, use)
				}
			}
			return false
		})
	}
	if len(out) < 10 {
		t.Fatalf("only %d functions were found in the code: %v", len(out), out)
	}
	slices.Sort(out)
	return out
}
