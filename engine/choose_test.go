package engine

import (
	"encoding/json"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// ordered complains where a ranking is not in its order.
func ordered(r Ranking) string {
	for i := 1; i < len(r); i++ {
		a, b := r[i-1], r[i]
		switch {
		case a.Verdict.Worse(b.Verdict):
			return fmt.Sprintf("%s (%s) stands before %s (%s)", a.Part.Name, a.Verdict, b.Part.Name, b.Verdict)
		case a.Verdict == b.Verdict && a.Margin < b.Margin:
			return fmt.Sprintf("%s (margin %v) stands before %s (%v)", a.Part.Name, a.Margin, b.Part.Name, b.Margin)
		case a.Verdict == b.Verdict && a.Margin == b.Margin && a.Part.Name > b.Part.Name:
			return fmt.Sprintf("%s stands before %s", a.Part.Name, b.Part.Name)
		}
	}
	return ""
}

// Every part of the drawer in every circuit of the Lantern Yard: all are ranked,
// each as a report of its own says, and each rejected one names the check that rules it out.
func TestChooseAgreesWithReports(t *testing.T) {
	drawer := part.Drawer()
	ids := map[string]bool{}
	for _, k := range Checks() {
		ids[k.ID] = true
	}
	for name, c := range yard(t) {
		t.Run(name, func(t *testing.T) {
			before := c
			ranking := Choose(&c, drawer)
			if diff := cmp.Diff(before, c); diff != "" {
				t.Fatalf("the circuit was changed:\n%s", diff)
			}
			if msg := ordered(ranking); msg != "" {
				t.Error(msg)
			}
			seen := map[string]bool{}
			for _, r := range ranking {
				seen[r.Part.Name] = true
				if r.Verdict.OK() != (r.RuledOutBy == "") || r.RuledOutBy != "" && !ids[r.RuledOutBy] || r.Because == "" {
					t.Errorf("%s: %s, ruled out by %q since %q", r.Part.Name, r.Verdict, r.RuledOutBy, r.Because)
				}
				trial := c
				trial.Part = *r.Part
				if _, _, wrong := wrongSide(&trial, r.Part.Channel); wrong {
					continue
				}
				want := Size(&trial)
				if r.Verdict != want.Verdict || !r.Verdict.OK() && r.Verdict != Refused && r.RuledOutBy != want.Deciding {
					t.Errorf("%s: %s by %q, its report says %s by %q", r.Part.Name, r.Verdict, r.RuledOutBy, want.Verdict, want.Deciding)
				}
				if r.Verdict.OK() && (r.Margin < 1-1e-9 || r.MarginOf == "") {
					t.Errorf("%s: %s with a margin of %v in %s", r.Part.Name, r.Verdict, r.Margin, r.MarginOf)
				}
			}
			if len(seen) != len(drawer) {
				t.Errorf("%d of %d parts are ranked", len(seen), len(drawer))
			}
		})
	}
}

// What is left out of the margin is the same for every part that serves the
// placement. Only freewheel leans on the part, where it points to avalanche, which counts by itself.
func TestChecksAboutTheCircuitAlone(t *testing.T) {
	for name, c := range yard(t) {
		first := map[string]Check{}
		for _, p := range part.Drawer() {
			if _, _, wrong := wrongSide(&c, p.Channel); wrong {
				continue
			}
			c.Part = p
			for _, k := range NewSizing(&c).Checks() {
				if aboutPart(k.ID) {
					continue
				}
				if f, ok := first[k.ID]; ok && (f.Ratio != k.Ratio || f.Verdict != k.Verdict) && k.ID != "freewheel" {
					t.Errorf("%s: %s is %v %s with %s, and %v %s before", name, k.ID, k.Ratio, k.Verdict, p.Name, f.Ratio, f.Verdict)
				}
				first[k.ID] = k
			}
		}
	}
}

// N-channel parts are rejected on the high side and P-channel parts on the low one, with the reason.
func TestChooseBySide(t *testing.T) {
	sides := map[string]int{}
	for name, c := range yard(t) {
		if _, refused := Refusal(&c); refused {
			continue
		}
		wrong, words := part.P, "P-channel part turns on with its gate below its source"
		if c.Placement == HighSide {
			wrong, words = part.N, "N-channel part on the high side"
		}
		sides[words]++
		for _, r := range Choose(&c, part.Drawer()) {
			if told := strings.Contains(r.Because, words); told != (r.Part.Channel == wrong) {
				t.Errorf("%s with %s: %s since %q", name, r.Part.Name, r.Verdict, r.Because)
			} else if told && (r.Verdict != Fails || r.RuledOutBy != "fully_on" || r.Mend == "" || r.Margin != 0) {
				t.Errorf("%s with %s: %+v", name, r.Part.Name, r)
			}
		}
	}
	if len(sides) != 2 {
		t.Errorf("the yard has circuits on these sides only: %v", sides)
	}
}

func TestChooseRefuses(t *testing.T) {
	for name, c := range yard(t) {
		because, refused := Refusal(&c)
		if !refused {
			continue
		}
		for _, r := range Choose(&c, part.Drawer()) {
			if r.Verdict != Refused || r.Because != because || r.RuledOutBy != "extra_low_voltage" || r.Margin != 0 {
				t.Errorf("%s with %s: %+v", name, r.Part.Name, r)
			}
		}
	}
}

// The ranking does not depend on the number of processors or the order of the drawer.
func TestChooseIsTheSameEverywhere(t *testing.T) {
	c := yard(t)["curtain-motor"]
	drawer := part.Drawer()
	want := string(Choose(&c, drawer).JSON())
	for _, n := range []int{1, 2, 7} {
		old := runtime.GOMAXPROCS(n)
		got := string(Choose(&c, drawer).JSON())
		runtime.GOMAXPROCS(old)
		if got != want {
			t.Errorf("with %d processors: %s", n, cmp.Diff(want, got))
		}
	}
	slices.Reverse(drawer)
	if got := string(Choose(&c, drawer).JSON()); got != want {
		t.Errorf("with the drawer turned round: %s", cmp.Diff(want, got))
	}
	if got := string(Choose(&c, nil).JSON()); got != "{\n  \"ranked\": []\n}\n" {
		t.Errorf("an empty drawer: %s", got)
	}
}

func TestChooseJSON(t *testing.T) {
	c := yard(t)["footlights"]
	var back struct {
		Ranked []map[string]any `json:"ranked"`
	}
	if err := json.Unmarshal(Choose(&c, part.Drawer()).JSON(), &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Ranked) != len(part.Drawer()) {
		t.Fatalf("%d parts", len(back.Ranked))
	}
	for _, r := range back.Ranked {
		for _, key := range []string{"part", "verdict", "ruled_out_by", "margin"} {
			if _, ok := r[key]; !ok {
				t.Errorf("%v has no %s", r, key)
			}
		}
	}
	if best := back.Ranked[0]; best["verdict"] != "holds" || best["ruled_out_by"] != "" {
		t.Errorf("the best part for the footlights: %v", best)
	}
}

// With generated parts too: finite margins, right order, and a part that is better
// in one rating alone never ranks lower for it.
func TestChooseAmongGeneratedParts(t *testing.T) {
	circuits := yard(t)
	var names []string
	for n := range circuits {
		names = append(names, n)
	}
	slices.Sort(names)
	rapid.Check(t, func(t *rapid.T) {
		c := circuits[rapid.SampledFrom(names).Draw(t, "circuit")]
		var drawer []part.Part
		for i := range 8 {
			p := part.Generate(rapid.Uint64().Draw(t, "seed"), part.Wish{})
			p.Name = fmt.Sprintf("%s-%d", p.Name, i)
			drawer = append(drawer, p)
		}
		better := drawer[0]
		better.Name = "AA-better"
		better.Ratings.VDS = si.Of(better.Ratings.VDS.Value*1.5, si.Voltage)
		better.Characteristics.Ratio = slices.Clone(better.Characteristics.Ratio)
		drawer = append(drawer, better)
		ranking := Choose(&c, drawer)
		if msg := ordered(ranking); msg != "" {
			t.Fatal(msg)
		}
		place := map[string]int{}
		for i, r := range ranking {
			place[r.Part.Name] = i
			if math.IsNaN(r.Margin) || math.IsInf(r.Margin, 0) || r.Margin < 0 {
				t.Fatalf("%s: margin %v", r.Part.Name, r.Margin)
			}
		}
		if place["AA-better"] > place[drawer[0].Name] && !c.Inductive() { // in avalanche a higher voltage makes more heat
			t.Fatalf("1.5 times the voltage rating ranks %d, the part itself %d", place["AA-better"], place[drawer[0].Name])
		}
	})
}

// BenchmarkChoose ranks 10,000 generated parts.
func BenchmarkChoose(b *testing.B) {
	c := yard(b)["curtain-motor"]
	drawer := make([]part.Part, 10_000)
	for i := range drawer {
		drawer[i] = part.Generate(uint64(i), part.Wish{})
	}
	b.ReportAllocs()
	for b.Loop() {
		if r := Choose(&c, drawer); len(r) != len(drawer) {
			b.Fatal("parts are missing")
		}
	}
}
