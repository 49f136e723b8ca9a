package problem_test

import (
	"os"
	"testing"

	"fullyon/grader/problem"
)

func load(t testing.TB, file string) *problem.Template {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	tpl, err := problem.Compile(file, src, problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	return tpl
}

func TestFootlights(t *testing.T) {
	tpl := load(t, "../../lessons/problems/warm-footlights.md")
	for _, e := range tpl.Check(2000) {
		t.Error(e)
	}
	v, err := tpl.Draw(7)
	if err != nil {
		t.Fatal(err)
	}
	p, err := tpl.Page(v)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(p.Situation.Plain(), p.Circuit, p.Questions)
	w, err := tpl.Worked(v)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range w {
		f := ""
		if l.Formula != nil {
			f = l.Formula.Text(l.PlainSymbols) + " = " + l.Formula.Text(l.PlainNumbers)
		}
		t.Log(l.Say.Plain(), "|", l.Symbol, "=", f, "=", l.Shown)
	}
	t.Logf("%+v", tpl.Key(v).Answers)
}

func BenchmarkDraw(b *testing.B) {
	tpl := load(b, "../../lessons/problems/warm-footlights.md")
	seed := uint64(0)
	tries := 0
	for b.Loop() {
		v, err := tpl.Draw(seed)
		if err != nil {
			b.Fatal(err)
		}
		tries += v.Tries + 1
		seed++
	}
	b.ReportMetric(float64(tries)/float64(b.N), "tries/op")
}
