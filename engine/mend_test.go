package engine

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/si"
)

// What a mend says, as the input that it sets.
var mendForms = []struct {
	check, input string
	form         *regexp.Regexp
}{
	{"", "v_ds", regexp.MustCompile(`V_DSS ≥ ([^,;]+)`)},
	{"", "v_gs", regexp.MustCompile(`V_GS rating ≥ ([^,;]+)`)},
	{"", "series_resistor", regexp.MustCompile(`R_series ≥ ([^,;]+)`)},
	{"", "pull_down", regexp.MustCompile(`R_pd ≤ ([^,;]+)`)},
	{"running_current", "i_d", regexp.MustCompile(`I_D ≥ ([^,;]+)`)},
	{"", "i_d_pulse", regexp.MustCompile(`pulsed drain current ≥ ([^,;]+)`)},
	{"runaway", "theta_total", regexp.MustCompile(`θ ≤ ([^,;]+)`)},
	{"junction", "theta_total", regexp.MustCompile(`θ ≤ ([^,;]+?) from junction`)},
	{"", "theta_sa", regexp.MustCompile(`θ_SA ≤ ([^,;]+)`)},
	{"junction", "given_current", regexp.MustCompile(`load of at most ([^,;]+)`)},
	{"", "frequency", regexp.MustCompile(`holds below ([^,;]+)`)},
	{"supply_current", "current_limit", regexp.MustCompile(`supply for at least ([^,;]+)`)},
	{"wiring", "wire_rating", regexp.MustCompile(`rated for ([^,;]+?) or more`)},
	{"wiring", "wire_resistance", regexp.MustCompile(`cable of at most ([^,;]+?) there and back`)},
	{"freewheel", "i_f", regexp.MustCompile(`I_F ≥ ([^,;]+?) and`)},
	{"freewheel", "v_rrm", regexp.MustCompile(`V_RRM ≥ ([^,;]+)`)},
	{"inrush", "load_capacitance", regexp.MustCompile(`capacitance ≤ ([^,;]+)`)},
	{"stall", "stall_current", regexp.MustCompile(`lasting stall of at most ([^,;]+)`)},
	{"inrush", "rds_on_cold", regexp.MustCompile(`R_DS\(on\) ≤ ([^,;]+)`)},
}

// Whoever does what a mend says finds that the check holds.
func TestMendsMend(t *testing.T) {
	tried := map[string]int{}
	try := func(c *Circuit) string {
		s := NewSizing(c)
		for _, k := range s.Checks() {
			for _, way := range strings.Split(k.Mend, ", or ") {
				if msg := follow(s, k, way, tried); msg != "" {
					return msg
				}
			}
		}
		return ""
	}
	for name, c := range yard(t) {
		if msg := try(&c); msg != "" {
			t.Fatalf("%s: %s", name, msg)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		if msg := try(&c); msg != "" {
			t.Fatal(msg)
		}
	})
	if len(tried) < 10 {
		t.Errorf("only these mends were tried: %v", tried)
	}
}

// follow sets what one way of mending says, all of it, and puts the question again.
func follow(s *Sizing, k Check, way string, tried map[string]int) string {
	mended, set := s, ""
	for _, m := range mendForms {
		found := m.form.FindStringSubmatch(way)
		if found == nil || m.check != "" && m.check != k.ID {
			continue
		}
		n, _ := Lookup(m.input)
		q, err := si.Parse(strings.TrimSpace(found[1]), table[n].Dim)
		if err != nil {
			return k.ID + ": " + way + ": " + err.Error()
		}
		if m.input == "given_current" && (!s.given(givenCurrent) || s.circuit.Load.Kind == Coil) ||
			m.input == "stall_current" && (s.given(stallTime) || s.circuit.Supply.Maximum.Known()) {
			return "" // given in another way, or it swings
		}
		mended, set = mended.with(n, q.Value), set+" "+m.input
	}
	if set == "" {
		return ""
	}
	tried[k.ID+set]++
	if warm, err := s.Get(junctionTemperature); k.ID == "held_off" && err == nil {
		mended = mended.with(junctionTemperature, warm.Value) // the mend is for the part as warm as it was
	} else if k.ID == "held_off" {
		return ""
	}
	after, ok := mended.Check(k.ID)
	if ok && (after.Verdict == Fails || after.Verdict == Tight) {
		return k.ID + " was " + string(k.Verdict) + ": " + k.Because + "\n" + way + ", so with another" + set + "\nit is " + string(after.Verdict) + ": " + after.Because
	}
	return ""
}
