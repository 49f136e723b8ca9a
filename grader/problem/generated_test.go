package problem_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/part"
)

// generating is the good template with a part that is made at each draw.
func generating(wish string) string {
	return strings.Replace(good, `{drawer: "channel == 'N' and gate_level == 'logic' and i_d >= '4 A'"}`, "{generate: "+wish+"}", 1)
}

func TestGeneratedPart(t *testing.T) {
	tpl := must(t, generating("{channel: N, volts: [30, 40], gate: logic, package: SO-8}"))
	for _, e := range tpl.Check(500) {
		t.Error(e)
	}
	volts, names := map[float64]int{}, map[string]bool{}
	for seed := range uint64(200) {
		v, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		p := v.Part
		if p == nil || p.Channel != part.N || p.Package != "SO-8" || !p.LogicLevel() {
			t.Fatalf("seed %d: not the part that was wished for: %+v", seed, p)
		}
		volts[p.Ratings.VDS.Value]++
		names[p.Name] = true
		again, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(v.Circuit.Part, again.Circuit.Part); diff != "" {
			t.Fatalf("seed %d gives two parts:\n%s", seed, diff)
		}
		page, err := tpl.Page(v)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(page.Situation.Plain(), p.Name) || !strings.Contains(page.Part, "r_ds_on") {
			t.Errorf("seed %d: the page does not show the part %s", seed, p.Name)
		}
	}
	if len(volts) != 2 || volts[30] < 50 || volts[40] < 50 {
		t.Errorf("200 draws by V_DSS: %v", volts)
	}
	if len(names) < 190 {
		t.Errorf("200 draws have %d parts only", len(names))
	}
}

// What is not wished for is left to the generator; later drawings may speak of the part.
func TestGeneratedPartAtLarge(t *testing.T) {
	src := generating("{channel: [N], gate: logic, volts: ['20 V', '60 V', 100]}")
	src = strings.Replace(src, "circuit:\n", "  limit: {is: \"i_d\", figures: 2}\ncircuit:\n", 1)
	src = strings.Replace(src, "where:\n", "where:\n  - I <= 0.8 * limit\n", 1)
	tpl := must(t, src)
	packages := map[string]bool{}
	for seed := range uint64(300) {
		v, err := tpl.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		packages[v.Part.Package] = true
		if got := v.Given()["limit"]; got == "" || fmt.Sprint(v.Part.Ratings.ID.Figures(2)) != got {
			t.Fatalf("seed %d: limit is %q, the part has %v", seed, got, v.Part.Ratings.ID)
		}
	}
	if len(packages) < 3 {
		t.Errorf("the draws come in these packages only: %v", packages)
	}
}

func TestMistakesInGeneratedParts(t *testing.T) {
	for _, c := range []struct{ wish, want string }{
		{"{channel: Q}", `"Q" is none of N, P`},
		{"{gate: logical}", "the nearest is logic"},
		{"{volts: 35}", "good.md:11:28: volts is one of 20, 30, 40, 60 and 100"},
		{"{volts: [30, many]}", "good.md:11:33: volts is one of"},
		{"{package: [SO-8, SO8]}", "SO-8"},
		{"{chanel: N}", `the nearest known is "channel"`},
		{"N", "good.md:11:20: "},
	} {
		_, err := compile(generating(c.wish))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.wish, err, c.want)
		}
	}
}

// A draw with a generated part; the part itself may take a small share of 200 µs.
func BenchmarkDrawGenerated(b *testing.B) {
	tpl := must(b, generating("{channel: N, volts: [30, 40], gate: logic, package: SO-8}"))
	b.ReportAllocs()
	seed, tries := uint64(0), 0
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
