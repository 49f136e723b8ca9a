package engine

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// whole is a circuit file with every block in it.
const whole = `
title: Footlights, 2.5 m of tape
supply: {kind: adapter, voltage: 12 V, maximum: 12.6 V, minimum: 11.4 V, current_limit: 5 A, fuse: 3 A, loop_resistance: 80 mohm}
load: {kind: led_strip, current: 2.0 A, cut_out: none}
placement: low_side
drive:
  logic_high: 5 V
  logic_high_min: 4.75 V
  logic_low: 0 V
  pin_current: 20 mA
  pin_current_max: 40 mA
  pin_resistance: 25 ohm
  series_resistor: 180 ohm
  pull_down: 100k
  stage: direct
  frequency: 490 Hz
  duty: 60 %
part:
  name: LY-TEST
  channel: N
  package: SOT-23
  ratings: {v_ds: 30 V, v_gs: 12 V, i_d: 5 A, i_d_at: ambient, i_d_pulse: 20 A, t_j: 150 C, e_as: 20 mJ, i_as: 8 A}
  characteristics:
    v_gs_th: {min: 0.7 V, typ: 1.0 V, max: 1.4 V, at: {i_d: 250 uA}}
    r_ds_on:
      - {v_gs: 4.5 V, i_d: 4 A, typ: 24 mohm, max: 30 mohm}
      - {v_gs: 10 V, i_d: 5 A, typ: 18 mohm, max: 22 mohm}
    r_ds_on_ratio: [[25 C, 1.0], [100 C, 1.35], [150 C, 1.7]]
    q_g: {value: 9 nC, at: {v_gs: 4.5 V}}
    q_gs: 2 nC
    q_gd: 3 nC
    v_plateau: 2.0 V
    r_gate: 1.5 ohm
    c_iss: 700 pF
    c_oss: 90 pF
    c_rss: 60 pF
    v_sd: 0.9 V
    z_th: {to: ambient, network: foster, cells: [[0.4 K/W, 20 us], [1.6 K/W, 1 ms], [8 K/W, 30 ms], [80 K/W, 8 s]]}
  thermal: {theta_jc: 25 K/W, theta_ja: 90 K/W}
surroundings: {ambient: 35 C, heatsink: none, junction_limit: 125 C}
freewheel: {kind: diode, v_f: 0.9 V, i_f: 1 A, v_rrm: 40 V, q_rr: 0 C}
wiring: {length: 3 m, cross_section: 0.5 mm2, strand: flexible, rating: 6 A}
bipolar: {v_ce_sat: 0.3 V, v_be: 1.2 V, forced_beta: 10}
body: {voltage: 2 kV, capacitance: 100 pF}
store: {capacitance: 1000 uF, voltage: 24 V, resistance: 1k, down_to: 1 V}
`

func mustRead(t testing.TB, text string) Circuit {
	t.Helper()
	c, err := ReadCircuit("test.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return c
}

// Every number and word of the tables must come through reading and writing.
func TestReadAndWriteEveryKey(t *testing.T) {
	c := mustRead(t, whole)
	elsewhere := map[string]bool{"theta_cs": true, "theta_sa": true, "v_z": true, "load_power": true, "load_resistance": true, "stall_current": true,
		"stall_time": true, "inductance": true, "cold_ratio": true, "inrush_time": true, "load_capacitance": true, "series_resistance": true, "supply_rise": true}
	for _, d := range Inputs() {
		if got := d.Input().Get(&c); !got.Known() && !elsewhere[d.Name] {
			t.Errorf("%s (%s) was not read", d.Name, d.Input().Path)
		}
	}
	for _, w := range Words() {
		if w.Get(&c) == "" {
			t.Errorf("%s was not read", w.Path)
		}
	}
	text := WriteCircuit(&c)
	if diff := cmp.Diff(c, mustRead(t, text)); diff != "" {
		t.Errorf("written and read again, the circuit differs:\n%s\n%s", diff, text)
	}
}

// All inputs that may be set one by one, each with an awkward value, survive a round trip.
func TestWriteEachInput(t *testing.T) {
	for _, d := range Inputs() {
		in := d.Input()
		if strings.HasPrefix(in.Path, "part.") {
			continue // part.Write has its own test
		}
		c := Circuit{Placement: LowSide, Freewheel: Freewheel{Kind: Zener}}
		v := 0.1 + 0.2 // not a short decimal
		if in.Name == "cold_ratio" {
			v += 9
		}
		in.Set(&c, si.Of(v, in.Dim))
		if in.Name == "theta_cs" {
			c.Surroundings.SinkAmbient = si.Of(10, si.ThermalResistance)
		}
		text := WriteCircuit(&c)
		back := mustRead(t, text)
		if diff := cmp.Diff(c, back); diff != "" {
			t.Errorf("%s:\n%s\n%s", in.Path, diff, text)
		}
	}
}

func TestPathsAreFound(t *testing.T) {
	in, ok := InputByPath("drive.pull_up")
	if !ok || in.Name != "pull_down" {
		t.Errorf("drive.pull_up: %v, %v", in, ok)
	}
	if _, ok := InputByPath("drive.nothing"); ok {
		t.Error("drive.nothing was found")
	}
	w, ok := WordByPath("load.kind")
	if !ok {
		t.Fatal("load.kind was not found")
	}
	var c Circuit
	w.Set(&c, Coil)
	if c.Load.Kind != Coil || w.Get(&c) != Coil {
		t.Errorf("load.kind is %q", c.Load.Kind)
	}
}

// Voltages and kinds of supply that mean alternating current are read as such, never as a mistake of the unit.
func TestAlternatingIsUnderstood(t *testing.T) {
	for _, line := range []string{
		"supply: {voltage: 12 VAC}", "supply: {voltage: 230 V~}", "supply: {voltage: V~}", "supply: {voltage: 24 V AC}",
		"supply: {voltage: 24Vac, kind: adapter}", "supply: {kind: ac}", "supply: {kind: AC}", "supply: {kind: mains, voltage: 5 V}",
		"supply: {voltage: 12 V a.c.}", "supply: {voltage: 12 V, maximum: 17 V~}", "supply: {voltage: AC}", "supply: {voltage: 325 V rms}", "supply: {kind: '~'}",
	} {
		if c := mustRead(t, line); c.Supply.Kind != AC {
			t.Errorf("%s: kind %q", line, c.Supply.Kind)
		}
	}
	c := mustRead(t, "supply: {voltage: 12 VDC, kind: bench}")
	if c.Supply.Kind != Bench || c.Supply.Voltage != si.Of(12, si.Voltage) {
		t.Errorf("12 VDC: %+v", c.Supply)
	}
}

func TestPartOfTheDrawer(t *testing.T) {
	first := part.Drawer()[0]
	c := mustRead(t, "placement: "+map[part.Channel]string{part.N: LowSide, part.P: HighSide}[first.Channel]+"\npart: {name: "+first.Name+"}")
	if diff := cmp.Diff(first, c.Part); diff != "" {
		t.Error(diff)
	}
}

func TestHighSideNames(t *testing.T) {
	c := mustRead(t, "placement: high_side\ndrive: {pull_up: 10k}")
	if c.Drive.PullDown != si.Of(10e3, si.Resistance) {
		t.Errorf("pull_up gave %v", c.Drive.PullDown)
	}
	if text := WriteCircuit(&c); !strings.Contains(text, "pull_up: 10 kohm") {
		t.Errorf("written as\n%s", text)
	}
}

func TestMistakesOfACircuit(t *testing.T) {
	for _, x := range []struct{ text, want string }{
		{"suply: {voltage: 12 V}", `test.yaml:1:1: unknown key "suply"; the nearest known is "supply"`},
		{"supply: {voltag: 12 V}", `test.yaml:1:10: unknown key "voltag"; the nearest known is "voltage"`},
		{"supply: {voltage: 12}", "test.yaml:1:19:"},
		{"supply: {voltage: 12 A}", "test.yaml:1:19:"},
		{"supply: {voltage: 1e30 V}", "out of all bounds"},
		{"supply: {voltage: -12 V}", "voltage cannot be negative"},
		{"supply: {voltage: 0 V}", "must be above zero"},
		{"supply: {voltage: 12 V, maximum: 11 V}", "voltage 12 V exceeds maximum 11 V"},
		{"supply: {voltage: 12 V, minimum: 13 V}", "minimum 13 V exceeds voltage 12 V"},
		{"supply: {voltage: 12 V}\nload: {kind: lamp, current: 1 A, power: 13 W}", "power makes 1.08 A at 12 V, and current makes 1.00 A"},
		{"supply: {voltage: 12 V}\nload: {kind: coil, current: 1 A, resistance: 10 ohm}", "resistance makes 1.20 A"},
		{"load: {kind: motr}", `the nearest is "motor"`},
		{"load: {kind: motor, current: 5 A, stall_current: 2 A}", "current 5 A exceeds stall_current 2 A"},
		{"load: {cold_ratio: 0.5}", "at least 1"},
		{"drive: {duty: 0 %}", "duty must be above zero"},
		{"drive: {duty: 120 %}", "at most 100 %"},
		{"drive: {logic_high: 5 V, logic_high_min: 5.5 V}", "logic_high_min 5.5 V exceeds logic_high 5 V"},
		{"drive: {pull_up: 10k}", "write pull_down"},
		{"placement: high_side\ndrive: {pull_down: 10k}", "write pull_up"},
		{"drive: {stage: level_shift}", "write placement: high_side"},
		{"part: {channel: P}", "write placement: high_side"},
		{"placement: high_side\npart: {channel: N}", "take a P-channel part"},
		{"part: {name: LY-NONE-OF-THESE}", "the drawer has no part"},
		{"surroundings: {junction_limit: 175 C}\npart: {channel: N, ratings: {t_j: 150 C}}", "junction_limit 175 °C exceeds t_j 150 °C"},
		{"surroundings: {heatsink: {theta_cs: 0.5 K/W}}", "needs theta_sa"},
		{"surroundings: {heatsink: nonne}", "test.yaml:1:26:"},
		{"freewheel: {v_f: 0.7 V}", "kind"},
		{"freewheel: {kind: diode, v_z: 24 V}", "write kind: zener"},
		{"part: {channel: N, ratings: {i_d: 1e9 A}}", "out of all bounds"},
		{"- 1", "keys with values"},
	} {
		_, err := ReadCircuit("test.yaml", []byte(x.text))
		if err == nil {
			t.Errorf("%s: no error", x.text)
		} else if !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s:\n got %v\nwant %s", x.text, err, x.want)
		}
	}
}

func TestAllMistakesAtOnce(t *testing.T) {
	_, err := ReadCircuit("test.yaml", []byte("supply: {voltage: 12 A}\nload: {kind: motr}\nwirring: {}\n"))
	if err == nil || strings.Count(err.Error(), "test.yaml:") != 3 {
		t.Errorf("want three mistakes, got %v", err)
	}
}

// Whatever is read, written and read again is the same, and can be sized without a panic.
func FuzzReadCircuit(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("supply: {voltage: 12 VAC}"))
	files, err := filepath.Glob("../testdata/circuits/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range files {
		src, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		c, err := ReadCircuit("fuzz.yaml", src)
		if err != nil {
			return
		}
		text := WriteCircuit(&c)
		if text == "" {
			return
		}
		back, err := ReadCircuit("again.yaml", []byte(text))
		if err != nil {
			t.Fatalf("written text is not read: %v\n%s", err, text)
		}
		if diff := cmp.Diff(c, back); diff != "" {
			t.Fatalf("%s\n%s", diff, text)
		}
		s := NewSizing(&c)
		for _, d := range Quantities() {
			if q, err := s.Get(d.ID); err == nil && !q.Finite() {
				t.Fatalf("%s is %v", d.Name, q.Value)
			}
		}
	})
}
