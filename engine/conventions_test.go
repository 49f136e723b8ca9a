package engine

import (
	"math"
	"strings"
	"testing"

	"fullyon/engine/si"
)

// Values worked out apart from the engine, from the conventions of the design
// alone: closed forms in another language, the coil by stepping through 200 periods.
func TestConventions(t *testing.T) {
	tape := strings.Replace(whole, "freewheel: {kind: diode, v_f: 0.9 V, i_f: 1 A, v_rrm: 40 V, q_rr: 0 C}", "freewheel: none", 1)
	coil := `
supply: {voltage: 24 V, maximum: 25.2 V}
load: {kind: coil, resistance: 20 ohm, inductance: 40 mH}
drive: {logic_high: 5 V, frequency: FREQUENCY, duty: 40 %}
freewheel: {kind: diode, v_f: 0.6 V}
`
	high := `
supply: {voltage: 12 V, maximum: 12.6 V, minimum: 11.4 V}
placement: high_side
drive: {logic_high: 5 V, series_resistor: SERIES, pull_up: UP, stage: STAGE}
part:
  channel: P
  characteristics: {v_gs_th: {typ: 0.95 V}, q_gs: 1.2 nC, q_gd: 2.2 nC, v_plateau: 1.5 V, r_gate: 3 ohm}
`
	direct := strings.NewReplacer("SERIES", "240 ohm", "UP", "100k", "STAGE", "direct").Replace(high)
	shifted := strings.NewReplacer("SERIES", "10k", "UP", "10k", "STAGE", "level_shift").Replace(high)
	for _, x := range []struct {
		circuit, quantity string
		want              float64
	}{
		{tape, "vgs_on", 4.741465362347774},
		{tape, "gate_charge", 9.386344579756438e-09},
		{tape, "turn_on_delay", 3.42393985266751e-08},
		{tape, "turn_off_delay", 1.2477542347906228e-07},
		{tape, "turn_on_time", 3.012987183221672e-07},
		{tape, "turn_off_time", 4.13e-07},
		{tape, "loss_switching", 0.0015470287584223711},
		{tape, "loss_total", 0.08755032145562432},
		{tape, "junction_temperature", 42.87952893100619},
		{tape, "tab_temperature", 40.69077089461558},
		{tape, "heatsink_required", 708.5854629744349},
		{tape, "frequency_max_edges", 69998.7256276284},
		{tape, "frequency_max", 278393.85186297516},
		{tape, "gate_bump", 0.07559995275945369},
		{strings.Replace(tape, "  pull_down: 100k\n", "", 1), "gate_bump", 1.08},
		{tape, "pull_down_max", 925925.925925926},
		{tape, "pull_down_discharge_time", 0.00028391148260307314},
		{tape, "wire_resistance", 0.234},
		{tape, "wire_drop_share", 0.039},
		{tape, "shared_charge_voltage", 250},
		{tape, "short_circuit_current", 150},
		{tape, "gates_per_pin", 1}, // 24.4 mA for one gate, 43.5 mA for two, 40 mA allowed
		{strings.Replace(coil, "FREQUENCY", "2 kHz", 1), "switch_current", 0.48632192313221495},
		{strings.Replace(coil, "FREQUENCY", "2 kHz", 1), "ripple_current", 0.07730339892170457},
		{strings.Replace(coil, "FREQUENCY", "2 kHz", 1), "current_rms", 0.30830750707946},
		{strings.Replace(coil, "FREQUENCY", "20 Hz", 1), "ripple_current", 1.2599427960884992}, // the current pauses
		{direct, "vgs_on", 11.372705506783719},
		{direct, "vgs_off", 7.831205107741421},
		{shifted, "vgs_on", 5.7},
		{shifted, "vgs_off", 0},
		{shifted, "turn_on_time", 3.144742857142857e-06},
		{shifted, "turn_off_time", 1.760528e-05},
		{"supply: {voltage: 12 V, maximum: 12.6 V}\nload: {kind: motor, current: 1 A, stall_current: 9 A}", "peak_current", 9.45},
		{"supply: {voltage: 12 V, current_limit: 6 A}\nload: {kind: motor, current: 1 A, stall_current: 9 A}", "peak_current", 6},
		{"supply: {voltage: 12 V, maximum: 12.6 V, current_limit: 6 A}\nload: {kind: lamp, power: 20 W}", "peak_current", 17.5}, // a limit does not help against a rush
		{"supply: {voltage: 12 V, maximum: 12.6 V}\nload: {kind: resistive, power: 24 W}", "running_current", 2.1},
		{"supply: {voltage: 12 V, maximum: 12.6 V}\nload: {kind: resistive, power: 24 W}", "load_current", 2},
		{"supply: {voltage: 12 V}\nload: {kind: coil, current: 80 mA, inductance: 0.4 H}\npart: {channel: N, ratings: {v_ds: 30 V}}", "avalanche_energy", 0.0021333333333333334},
		{"supply: {voltage: 12 V}\nload: {kind: coil}\nfreewheel: {kind: zener, v_f: 0.8 V, v_z: 24 V}", "vds_stress", 36.8},
	} {
		c := mustRead(t, x.circuit)
		got, err := NewSizing(&c).Quantity(x.quantity)
		if err != nil {
			t.Errorf("%v in%s", err, x.circuit)
		} else if math.Abs(got.Value-x.want) > 1e-9*math.Abs(x.want) {
			t.Errorf("%s is %v, want %v in%s", x.quantity, got.Value, x.want, x.circuit)
		}
	}
}

// What cannot be computed says which input is missing, by name and place.
func TestAbsentSaysWhy(t *testing.T) {
	for _, x := range []struct{ circuit, quantity, needs, because string }{
		{"supply: {voltage: 12 V}\nload: {kind: resistive}", "running_current", "given_current", "current, power or resistance"},
		{hotPart("1 A"), "heatsink_required", "", ""},
		{strings.Replace(hotPart("1 A"), ", theta_ja: 62 K/W", "", 1), "junction_temperature", "theta_ja", "part.thermal.theta_ja"},
		{strings.Replace(hotPart("1 A"), "5 V", "3.3 V", 1), "loss_total", "rds_on_cold", "no row of R_DS(on) at or below 3.14 V"},
		{hotPart("12 A"), "junction_temperature", "junction_temperature", Runaway},
		{"load: {kind: coil, current: 1 A}", "vds_ratio", "vds_stress", "avalanche"},
	} {
		c := mustRead(t, x.circuit)
		_, err := NewSizing(&c).Quantity(x.quantity)
		if x.because == "" {
			if err != nil {
				t.Errorf("%s: %v", x.quantity, err)
			}
			continue
		}
		a, ok := err.(*Absent)
		if !ok || a.Needs != x.needs || !strings.Contains(a.Because, x.because) || a.Name != x.quantity {
			t.Errorf("%s: %+v", x.quantity, err)
		}
	}
}

// With changes one value and all that follows, and refuses what has another dimension.
func TestWith(t *testing.T) {
	c := mustRead(t, hotPart("1 A"))
	s := NewSizing(&c)
	before, _ := s.Quantity("junction_temperature")
	hot, err := s.With("ambient", si.Of(35, si.Temperature))
	if err != nil {
		t.Fatal(err)
	}
	after, _ := hot.Quantity("junction_temperature")
	if after.Value <= before.Value+10 { // the resistance rises too
		t.Errorf("from %s to %s with 10 K more", before, after)
	}
	if again, _ := s.Quantity("junction_temperature"); again != before {
		t.Errorf("With changed the sizing it was called on: %s", again)
	}
	if _, err := s.With("ambient", si.Of(35, si.Voltage)); err == nil {
		t.Error("a voltage was taken for a temperature")
	}
	if _, err := s.With("ambiance", si.Of(35, si.Temperature)); err == nil {
		t.Error("an unknown name was taken")
	}
	if n := Nearest("junction_temprature"); n != "junction_temperature" {
		t.Errorf("nearest is %q", n)
	}
}
