package part

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fullyon/engine/si"
)

func TestWriteIsTheWordingOfACircuitFile(t *testing.T) {
	p, err := readText(sheet)
	if err != nil {
		t.Fatal(err)
	}
	want := `  name: X
  channel: N
  package: SOT-23
  ratings: {v_ds: 30 V, v_gs: 12 V, i_d: 5 A, i_d_at: ambient, i_d_pulse: 20 A, t_j: 150 C, e_as: 20 mJ, i_as: 8 A}
  characteristics:
    v_gs_th: {min: 700 mV, typ: 1 V, max: 1.4 V, at: {i_d: 250 uA}}
    r_ds_on:
      - {v_gs: 4.5 V, i_d: 4 A, typ: 24 mohm, max: 30 mohm}
      - {v_gs: 10 V, i_d: 5 A, typ: 18 mohm, max: 22 mohm}
    r_ds_on_ratio: [[25 C, 1], [100 C, 1.35], [150 C, 1.7]]
    q_g: {value: 9 nC, at: {v_gs: 4.5 V}}
    q_gs: 2 nC
    q_gd: 3 nC
    v_plateau: 2 V
    r_gate: 1.5 ohm
    c_iss: 700 pF
    c_oss: 90 pF
    c_rss: 60 pF
    v_sd: 900 mV
    z_th: {to: ambient, network: foster, cells: [[0.4 K/W, 20 us], [1.6 K/W, 1 ms], [8 K/W, 30 ms], [80 K/W, 8 s]]}
  thermal: {theta_jc: 25 K/W, theta_ja: 90 K/W}
`
	if diff := cmp.Diff(want, Write(p, 2)); diff != "" {
		t.Error(diff)
	}
	if got := Write(Part{Name: "LY-N30-4"}, 0); got != "name: LY-N30-4\n" {
		t.Errorf("a reference is written %q", got)
	}
}

func TestWriteReadsBack(t *testing.T) {
	for _, p := range Drawer() {
		back, err := readText(Write(p, 0))
		if err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
		if diff := cmp.Diff(p, back); diff != "" {
			t.Errorf("%s:\n%s", p.Name, diff)
		}
	}
	for _, name := range []string{"null", "~", "a: b", "# x", "\"", "Ω 1,5", "line\nbreak", "- x", "N", "{", "x ", "'"} {
		p := Part{Name: name, Channel: P, Note: name}
		if back, err := readText(Write(p, 0)); err != nil || cmp.Diff(p, back) != "" {
			t.Errorf("%q: %+v, %v", name, back, err)
		}
	}
}

// Any value, also a computed one with all its digits, comes back bit for bit.
func TestWriteLosesNoDigit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := func(d si.Dim) si.Quantity {
			return si.Of(rapid.Float64Range(1e-12, 1e6).Draw(t, "value"), d)
		}
		p := Part{Name: "X", Channel: N}
		p.Ratings.EAS, p.Ratings.VDS = q(si.Energy), q(si.Voltage)
		p.Characteristics.QGD, p.Characteristics.CIss = q(si.Charge), q(si.Capacitance)
		p.Characteristics.RGate, p.Thermal.JunctionCase = q(si.Resistance), q(si.ThermalResistance)
		back, err := readText(Write(p, 0))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(p, back); diff != "" {
			t.Fatal(diff + "\n" + Write(p, 0))
		}
	})
}

func TestText(t *testing.T) {
	for _, tt := range []struct {
		q    si.Quantity
		want string
	}{
		{si.Of(0.0225, si.Resistance), "22.5 mohm"},
		{si.Of(1500, si.Resistance), "1.5 kohm"},
		{si.Of(-8, si.Voltage), "-8 V"},
		{si.Of(9.99999e-9, si.Charge), "9.99999 nC"},
		{si.Of(0, si.Voltage), "0 V"},
		{si.Of(1.0/3, si.Time), "333.3333333333333 ms"},
		{si.Of(2e-15, si.Capacitance), "0.002 pF"},
		{si.Of(12345678, si.Current), "12345678 A"},
		{si.Of(1.35, si.One), "1.35"},
	} {
		if got := text(tt.q); got != tt.want {
			t.Errorf("%v: got %s, want %s", fmt.Sprint(tt.q.Value), got, tt.want)
		}
	}
	if got := text(si.Of(2, si.Inductance)); !strings.Contains(got, "H") {
		t.Errorf("an inductance is written %q", got)
	}
}
