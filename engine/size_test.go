package engine

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/formula"
	"fullyon/engine/si"
)

var update = flag.Bool("update", false, "write the golden files anew")

// yard is every circuit of testdata/circuits, by file name without its ending.
func yard(t testing.TB) map[string]Circuit {
	t.Helper()
	files, err := filepath.Glob("../testdata/circuits/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no circuits found: ", err)
	}
	out := map[string]Circuit{}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := ReadCircuit(filepath.Base(file), src)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(file), ".yaml")] = c
	}
	return out
}

// The verdict of each circuit of the Lantern Yard and the check that decides,
// judged by hand from its numbers before the golden files were made.
var yardVerdicts = map[string]struct {
	verdict  Verdict
	deciding string
}{
	"backdrop-heater":     {Fails, "running_current"}, // 3.68 A on a part for 2.3 A; it would run away too
	"bell-relay":          {Fails, "freewheel"},       // no diode, no avalanche rating
	"chandelier":          {Refused, ""},              // alternating
	"cooling-fan":         {Holds, ""},                //
	"curtain-motor":       {Holds, ""},                //
	"dimmer-relay":        {Tight, "freewheel"},       // no diode, but 2.1 mJ against 20 mJ
	"follow-spot":         {Holds, ""},                //
	"footlights":          {Holds, ""},                //
	"glue-pot":            {Fails, "fully_on"},        // 3.1 V on a part for 10 V
	"moonlight":           {Unknown, "held_off"},      // no capacitances in the sheet
	"old-arc-lamp":        {Refused, ""},              // 72 V
	"puppet-eyes":         {Holds, ""},                //
	"rain-pump":           {Fails, "fuse"},            // battery without one
	"smoke-valve":         {Fails, "pin_overvoltage"}, // 12.6 V on a 5 V pin
	"tape-with-capacitor": {Tight, "pin_current"},     // 24 mA, 20 mA advised
	"thunder-sheet":       {Holds, ""},                //
	"trapdoor-solenoid":   {Holds, ""},                //
	"winch":               {Fails, "stall"},           // 14.7 A for ever on an SO-8
}

func TestYard(t *testing.T) {
	circuits := yard(t)
	kinds, ids := map[string]bool{}, map[string]bool{}
	verdicts := map[Verdict]bool{}
	for name, c := range circuits {
		want, ok := yardVerdicts[name]
		if !ok {
			t.Errorf("%s has no expected verdict", name)
		}
		r := Size(&c)
		if r.Verdict != want.verdict || want.deciding != "" && r.Deciding != want.deciding {
			t.Errorf("%s: %s by %s, want %s by %s: %s", name, r.Verdict, r.Deciding, want.verdict, want.deciding, r.Because)
		}
		kinds[c.Load.Kind+" "+c.Placement+" "+c.Drive.Stage] = true
		verdicts[r.Verdict] = true
		for _, k := range r.Checks {
			ids[k.ID] = true
		}
		golden(t, name, r.JSON())
	}
	if len(circuits) != len(yardVerdicts) {
		t.Errorf("%d circuits, %d expected verdicts", len(circuits), len(yardVerdicts))
	}
	for _, v := range []Verdict{Holds, Tight, Unknown, Fails, Refused} {
		if !verdicts[v] {
			t.Errorf("no circuit comes out as %s", v)
		}
	}
	all := ""
	for k := range kinds {
		all += k + "\n"
	}
	for _, want := range []string{Resistive, LEDStrip, Lamp, Motor, Coil, Capacitive, HighSide, LevelShift, Direct} {
		if !strings.Contains(all, want) {
			t.Errorf("no circuit has %s", want)
		}
	}
	for _, k := range Checks() {
		if !ids[k.ID] {
			t.Errorf("no circuit is put the question %s", k.ID)
		}
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("../testdata/golden/size", name+".json")
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(bytes.ReplaceAll(want, []byte("\r\n"), []byte("\n"))), string(got)); diff != "" {
		t.Errorf("%s differs (go test ./engine -run TestYard -update writes it anew):\n%s", file, diff)
	}
}

func TestJSONForm(t *testing.T) {
	c := mustRead(t, whole)
	var got struct {
		Verdict    string
		Quantities map[string]struct {
			Value float64
			Unit  string
			Text  string
		}
		Checks   []map[string]any
		Defaults map[string]string
	}
	r := Size(&c)
	if err := json.Unmarshal(r.JSON(), &got); err != nil {
		t.Fatal(err)
	}
	if q := got.Quantities["rds_on_cold"]; q.Value != 0.03 || q.Unit != "Ω" || q.Text != "30 mΩ" {
		t.Errorf("rds_on_cold is %+v", q)
	}
	if len(got.Checks) != len(r.Checks) || got.Checks[0]["id"] != "extra_low_voltage" {
		t.Errorf("checks: %v", got.Checks)
	}
	if got.Defaults["supply_rise"] == "" {
		t.Errorf("defaults: %v", got.Defaults)
	}
	if bytes.Contains(r.JSON(), []byte(`\u003`)) {
		t.Error("signs are escaped as for HTML")
	}
}

func TestRefusal(t *testing.T) {
	for _, x := range []struct {
		text    string
		refused bool
	}{
		{"supply: {voltage: 60 V}", false},
		{"supply: {voltage: 60.1 V}", true},
		{"supply: {voltage: 48 V, maximum: 61 V}", true},
		{"supply: {voltage: 12 VAC}", true},
		{"supply: {voltage: V~}", true},
		{"supply: {kind: mains}", true},
		{"load: {kind: lamp}", false},
	} {
		c := mustRead(t, x.text)
		because, refused := Refusal(&c)
		r := Size(&c)
		if refused != x.refused || (r.Verdict == Refused) != x.refused {
			t.Errorf("%s: refused %v, report %s", x.text, refused, r.Verdict)
			continue
		}
		if !x.refused {
			continue
		}
		want := "{\n  \"verdict\": \"refused\",\n  \"because\": \"outside extra-low voltage\",\n  \"quantities\": {},\n  \"checks\": []\n}\n"
		if got := string(r.JSON()); got != want || because != OutsideExtraLowVoltage {
			t.Errorf("%s: %s", x.text, got)
		}
		if !strings.Contains(r.Advice, "Where the mains begins") || !strings.Contains(r.Advice, "licence") {
			t.Errorf("%s: advice %q", x.text, r.Advice)
		}
	}
}

// No way round the refusal: not by name, not by What-if, not by a single check.
func TestRefusalCannotBeSwitchedOff(t *testing.T) {
	c := mustRead(t, strings.Replace(whole, "kind: adapter", "kind: ac", 1))
	s := NewSizing(&c)
	for _, d := range Quantities() {
		if q, err := s.Get(d.ID); err == nil {
			t.Errorf("%s is given: %s", d.Name, q)
		}
	}
	for _, k := range Checks() {
		if _, ok := s.Check(k.ID); ok {
			t.Errorf("%s is answered", k.ID)
		}
	}
	c = mustRead(t, whole)
	high, err := NewSizing(&c).With("supply_maximum", si.Of(230, si.Voltage))
	if err != nil {
		t.Fatal(err)
	}
	if q, err := high.Quantity("running_current"); err == nil {
		t.Errorf("230 V by With gives %s", q)
	}
}

func TestCautions(t *testing.T) {
	for _, x := range []struct{ text, want string }{
		{"supply: {voltage: 36 V}", "voltage"},
		{"supply: {voltage: 30 V}", ""},
		{"supply: {kind: battery, voltage: 12 V}", "battery"},
		{"store: {capacitance: 4700 uF, voltage: 24 V}", "energy"},
		{"store: {capacitance: 1 uF, voltage: 325 V}", "energy"},
		{"store: {capacitance: 1000 uF, voltage: 24 V}", ""},
		{hotPart("2.2 A"), "heat"},
		{hotPart("2.8 A"), "touch"},
		{hotPart("1 A"), ""},
	} {
		c := mustRead(t, x.text)
		var got []string
		for _, k := range Size(&c).Cautions {
			got = append(got, k.ID)
		}
		if strings.Join(got, " ") != x.want {
			t.Errorf("%s: cautions %v, want %s", x.text, got, x.want)
		}
	}
}

// hotPart is a part of 100 mΩ and 62 K/W in air of 25 °C: 0.6 W at 2.4 A.
func hotPart(current string) string {
	return `
supply: {voltage: 12 V}
load: {current: ` + current + `}
drive: {logic_high: 5 V}
surroundings: {ambient: 25 C}
part:
  channel: N
  ratings: {v_ds: 30 V, t_j: 150 C}
  characteristics: {r_ds_on: [{v_gs: 4.5 V, max: 100 mohm}]}
  thermal: {theta_jc: 2 K/W, theta_ja: 62 K/W}
`
}

// The words that a check must never use, and what each must hold.
func TestEveryCheckIsWhole(t *testing.T) {
	for name, c := range yard(t) {
		for _, k := range Size(&c).Checks {
			for _, text := range []string{k.Because, k.Mend, k.Question, k.Row} {
				if strings.Contains(strings.ToLower(text), "safe") {
					t.Errorf("%s %s says %q", name, k.ID, text)
				}
				for _, bad := range []string{"%!", "NaN", "Inf", "undefined", "  ", "..", "0 Ω more"} {
					if strings.Contains(text, bad) {
						t.Errorf("%s %s says %q", name, k.ID, text)
					}
				}
			}
			if k.Because == "" || !strings.HasSuffix(k.Because, ".") {
				t.Errorf("%s %s: because %q is no sentence", name, k.ID, k.Because)
			}
			if (k.Verdict == Fails || k.Verdict == Tight) != (k.Mend != "") {
				t.Errorf("%s %s is %s and mends by %q", name, k.ID, k.Verdict, k.Mend)
			}
			if k.Formula != "" && k.Numbers == "" && k.Verdict.OK() {
				t.Errorf("%s %s has a formula without numbers: %s", name, k.ID, k.Formula)
			}
			if k.Ratio.Known() && len(k.Edges) == 0 {
				t.Errorf("%s %s has a ratio and no edges", name, k.ID)
			}
		}
	}
}

// A report is as bad as its worst check, and unknown never counts as holding.
func TestWorstDecides(t *testing.T) {
	order := []Verdict{Holds, Tight, Unknown, Fails, Refused}
	for i, v := range order {
		for j, w := range order {
			if v.Worse(w) != (i > j) {
				t.Errorf("%s worse than %s: %v", v, w, v.Worse(w))
			}
		}
	}
	if Unknown.OK() || !Tight.OK() {
		t.Error("unknown counts as holding, or tight does not")
	}
	for name, c := range yard(t) {
		r := Size(&c)
		for _, k := range r.Checks {
			if k.Verdict.Worse(r.Verdict) {
				t.Errorf("%s is %s although %s is %s", name, r.Verdict, k.ID, k.Verdict)
			}
		}
	}
}

// Each single check of a sizing is the one of the whole report.
func TestSingleChecks(t *testing.T) {
	for name, c := range yard(t) {
		r := Size(&c)
		for _, k := range Checks() {
			one, ok := NewSizing(&c).Check(k.ID)
			i := slices.IndexFunc(r.Checks, func(c Check) bool { return c.ID == k.ID })
			if ok != (i >= 0) {
				t.Errorf("%s %s: single %v, in the report %v", name, k.ID, ok, i)
			} else if ok {
				if diff := cmp.Diff(r.Checks[i], one); diff != "" {
					t.Errorf("%s %s:\n%s", name, k.ID, diff)
				}
			}
		}
	}
	if _, ok := NewSizing(&Circuit{}).Check("no_such_check"); ok {
		t.Error("an unknown check is answered")
	}
}

// Every formula of the table reads, and names only what the engine knows.
func TestFormulasRead(t *testing.T) {
	for _, d := range Quantities() {
		if d.Formula == "" {
			continue
		}
		f, err := formula.Parse(d.Formula)
		if err != nil {
			t.Errorf("%s: %v", d.Name, err)
			continue
		}
		for _, n := range f.Names() {
			if _, ok := Lookup(n); !ok {
				t.Errorf("%s: the formula names %s, which nothing is called", d.Name, n)
			}
		}
	}
	for _, list := range [][]*Definition{Inputs(), Quantities()} {
		for _, d := range list {
			if d.Name == "" || d.Symbol == "" || d.Meaning == "" || d.symbolText == "" || d.Input() == nil && d.Source == "" {
				t.Errorf("the definition of %q is not whole: %+v", d.Name, *d)
			}
		}
	}
}

func BenchmarkSize(b *testing.B) {
	c := yard(b)["curtain-motor"]
	b.ReportAllocs()
	for b.Loop() {
		if Size(&c).Verdict != Holds {
			b.Fatal("the curtain motor does not hold")
		}
	}
}

func BenchmarkJunctionTemperature(b *testing.B) {
	c := yard(b)["curtain-motor"]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewSizing(&c).Get(junctionTemperature); err != nil {
			b.Fatal(err)
		}
	}
}
