package part

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// readText reads the text of one part.
func readText(src string) (Part, error) {
	doc, err := read.Parse("p.yaml", []byte(src))
	if err != nil {
		return Part{}, err
	}
	p := Read(doc.Root().Map())
	return p, doc.Err()
}

// sheet is a whole part without a mistake, one key a line, so that a test can change one.
const sheet = `name: X
channel: N
package: SOT-23
ratings:
  v_ds: 30 V
  v_gs: 12 V
  i_d: 5 A
  i_d_at: ambient
  i_d_pulse: 20 A
  t_j: 150 C
  e_as: 20 mJ
  i_as: 8 A
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
`

func TestReadWholeSheet(t *testing.T) {
	p, err := readText(sheet)
	if err != nil {
		t.Fatal(err)
	}
	of := si.Of
	want := Part{
		Name: "X", Channel: N, Package: "SOT-23",
		Ratings: Ratings{
			VDS: of(30, si.Voltage), VGSMax: of(12, si.Voltage), VGSMin: of(12, si.Voltage),
			ID: of(5, si.Current), IDAt: AtAmbient, IDPulse: of(20, si.Current), Junction: of(150, si.Temperature),
			EAS: of(0.02, si.Energy), IAS: of(8, si.Current),
		},
		Characteristics: Characteristics{
			VGSTh: MinTypMax{of(0.7, si.Voltage), of(1, si.Voltage), of(1.4, si.Voltage), of(250e-6, si.Current)},
			RDSOn: []Row{
				{of(4.5, si.Voltage), of(4, si.Current), of(0.024, si.Resistance), of(0.03, si.Resistance)},
				{of(10, si.Voltage), of(5, si.Current), of(0.018, si.Resistance), of(0.022, si.Resistance)},
			},
			Ratio: []Point{
				{of(25, si.Temperature), of(1, si.One)}, {of(100, si.Temperature), of(1.35, si.One)}, {of(150, si.Temperature), of(1.7, si.One)},
			},
			QG: of(9e-9, si.Charge), QGAt: of(4.5, si.Voltage), QGS: of(2e-9, si.Charge), QGD: of(3e-9, si.Charge),
			VPlateau: of(2, si.Voltage), RGate: of(1.5, si.Resistance),
			CIss: of(700e-12, si.Capacitance), COss: of(90e-12, si.Capacitance), CRss: of(60e-12, si.Capacitance), VSD: of(0.9, si.Voltage),
			ZTh: Response{To: AtAmbient, Network: Foster, Cells: []Cell{
				{of(0.4, si.ThermalResistance), of(20e-6, si.Time)}, {of(1.6, si.ThermalResistance), of(1e-3, si.Time)},
				{of(8, si.ThermalResistance), of(30e-3, si.Time)}, {of(80, si.ThermalResistance), of(8, si.Time)},
			}},
		},
		Thermal: Thermal{of(25, si.ThermalResistance), of(90, si.ThermalResistance)},
	}
	if diff := cmp.Diff(want, p); diff != "" {
		t.Error(diff)
	}
}

func TestReadForms(t *testing.T) {
	volts := func(v float64) si.Quantity { return si.Of(v, si.Voltage) }
	if p, err := readText("name: LY-N30-4\n"); err != nil || cmp.Diff(Part{Name: "LY-N30-4"}, p) != "" {
		t.Errorf("a reference: %+v, %v", p, err)
	}
	p, err := readText("channel: P\nratings: {v_ds: -30 V, v_gs: {max: -10 V, min: 8 V}, i_d: -4 A, i_d_at: case}\n" +
		"characteristics: {v_gs_th: {min: -0.5 V, max: -1.3 V, at: {i_d: -250 uA}}, r_ds_on: [{v_gs: -4.5 V, i_d: -3 A, max: 60 mohm}]}\n")
	if err != nil {
		t.Fatal(err)
	}
	got := []si.Quantity{p.Ratings.VDS, p.Ratings.VGSMax, p.Ratings.VGSMin, p.Characteristics.VGSTh.Max, p.Characteristics.RDSOn[0].VGS}
	if diff := cmp.Diff([]si.Quantity{volts(30), volts(10), volts(8), volts(1.3), volts(4.5)}, got); diff != "" {
		t.Errorf("a P channel with signs:\n%s", diff)
	}
	p, err = readText("channel: N\nratings: {v_gs: {max: 10 V, min: -8 V}}\n")
	if err != nil || p.Ratings.VGSMax != volts(10) || p.Ratings.VGSMin != volts(8) {
		t.Errorf("two gate ratings: %+v, %v", p.Ratings, err)
	}
}

func TestContradictions(t *testing.T) {
	tests := []struct{ old, new, want string }{
		{"channel: N", "channel: n", `p.yaml:2:10: channel: "n" is not known here; the nearest is "N"`},
		{"channel: N\n", "", `p.yaml:1:1: the document lacks the key "channel"`},
		{"v_ds: 30 V", "v_ds: -30 V", "p.yaml:5:9: v_ds is negative"},
		{"v_ds: 30 V", "v_dss: 30 V", `p.yaml:5:3: unknown key "v_dss"; the nearest known is "v_ds"`},
		{"v_gs: 12 V\n", "v_gs: {max: 12 V}\n", `p.yaml:6:9: v_gs lacks the key "min"`},
		{"i_d: 5 A", "i_d: 0 A", "p.yaml:7:8: i_d must be above zero"},
		{"  i_d_at: ambient\n", "", "p.yaml:7:8: i_d needs i_d_at beside it"},
		{"i_d_pulse: 20 A", "i_d_pulse: 4 A", "p.yaml:9:14: i_d_pulse 4 A lies below i_d 5 A"},
		{"t_j: 150 C", "t_j: 20 C", "p.yaml:10:8: t_j must lie from 50 C to 300 C"},
		{"min: 0.7 V", "min: 1.2 V", "p.yaml:14:18: min 1.2 V lies above typ 1 V"},
		{"typ: 1.0 V", "typ: 1.5 V", "p.yaml:14:30: typ 1.5 V lies above max 1.4 V"},
		{"max: 1.4 V", "max: 5 V", "p.yaml:14:42: the threshold's max 5 V lies above the lowest row of r_ds_on, 4.5 V"},
		{"typ: 24 mohm", "typ: 34 mohm", "p.yaml:16:36: typ 34 mohm lies above max 30 mohm"},
		{"{v_gs: 10 V", "{v_gs: 4 V", "p.yaml:17:14: the rows must rise in v_gs, and 4 V follows 4.5 V"},
		{"{v_gs: 10 V", "{v_gs: 15 V", "p.yaml:17:14: the row at 15 V lies above the v_gs rating, 12 V"},
		{"max: 22 mohm", "max: 32 mohm", "p.yaml:17:49: max 32 mohm at 10 V is more than 30 mohm at 4.5 V"},
		{", max: 22 mohm", "", `p.yaml:17:7: this entry lacks the key "max"`},
		{"[25 C, 1.0]", "[25 C, 1.1]", "p.yaml:18:18: r_ds_on_ratio must hold the point [25 C, 1]"},
		{"[100 C, 1.35]", "[20 C, 1.35]", "p.yaml:18:32: the points must rise in temperature, and 20 C follows 25 C"},
		{"[150 C, 1.7]", "[150 C, 1.2]", "p.yaml:18:47: the ratio must rise with temperature, and 1.2 follows 1.35"},
		{"[150 C, 1.7]", "[150 C]", "p.yaml:18:47: two values are asked for here, [temperature, ratio], and these are 1"},
		{"[[25 C, 1.0], [100 C, 1.35], [150 C, 1.7]]", "[[25 C, 1.0]]", "p.yaml:18:18: r_ds_on_ratio needs two points or more"},
		{"value: 9 nC", "value: 4 nC", "p.yaml:19:16: q_g 4 nC is less than q_gs and q_gd together"},
		{"9 nC, at: {v_gs: 4.5 V}", "9 nC, at: {v_gs: 1.5 V}", "p.yaml:19:33: q_g is given at 1.5 V, which lies below v_plateau 2 V"},
		{"9 nC, at: {v_gs: 4.5 V}", "9 nC", "p.yaml:19:8: q_g needs at"},
		{"q_gs: 2 nC", "q_gs: -2 nC", "p.yaml:20:9: q_gs must be above zero"},
		{"v_plateau: 2.0 V", "v_plateau: 0.6 V", "p.yaml:22:14: v_plateau 600 mV lies below the threshold's min 700 mV"},
		{"v_plateau: 2.0 V", "v_plateau: 5 V", "p.yaml:22:14: v_plateau 5 V lies above the lowest row of r_ds_on, 4.5 V"},
		{"c_rss: 60 pF", "c_rss: 80 nF", "p.yaml:26:10: c_rss 80 nF exceeds c_iss 700 pF"},
		{"c_rss: 60 pF", "c_rss: 95 pF", "p.yaml:26:10: c_rss 95 pF exceeds c_oss 90 pF"},
		{"network: foster", "network: forster", `p.yaml:28:32: network: "forster" is not known here; the nearest is "foster"`},
		{"[80 K/W, 8 s]", "[20 K/W, 8 s]", "p.yaml:28:47: the cells add up to 30 K/W and theta_ja is 90 K/W"},
		{"[80 K/W, 8 s]", "[80 K/W, 0 s]", "p.yaml:28:108: this value must be above zero"},
		{"theta_jc: 25 K/W", "theta_jc: 95 K/W", "p.yaml:29:21: theta_jc 95 K/W exceeds theta_ja 90 K/W"},
		{"r_gate: 1.5 ohm", "r_gate: 1.5 V", "p.yaml:23:11: r_gate: "},
	}
	for _, tt := range tests {
		t.Run(tt.new, func(t *testing.T) {
			src := strings.Replace(sheet, tt.old, tt.new, 1)
			if src == sheet {
				t.Fatalf("%q is not in the sheet", tt.old)
			}
			_, err := readText(src)
			if err == nil {
				t.Fatalf("no mistake; want %s", tt.want)
			}
			for line := range strings.Lines(err.Error()) {
				if strings.HasPrefix(line, tt.want) {
					return
				}
			}
			t.Errorf("got\n%v\nwant a line that begins with\n%s", err, tt.want)
		})
	}
}

// FuzzReadPart: no text makes Read, Write or the thermal response panic, and
// what was read without a mistake is written so that it reads the same.
func FuzzReadPart(f *testing.F) {
	f.Add(sheet)
	f.Add("name: X\n")
	f.Add("channel: P\nratings: {v_gs: {max: -10 V, min: 8 V}}\n")
	f.Add(strings.Replace(sheet, "foster", "cauer", 1))
	f.Fuzz(func(t *testing.T, src string) {
		p, err := readText(src)
		if err != nil {
			return
		}
		p.RowFor(5)
		if k, _ := p.Ratio(100); !(k > 0) {
			t.Fatalf("k = %v", k)
		}
		p.Characteristics.ZTh.At(1)
		again, err := readText(Write(p, 0))
		if p.Channel == "" { // a bare name, or nothing
			return
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, Write(p, 0))
		}
		if diff := cmp.Diff(p, again); diff != "" {
			t.Fatal(diff)
		}
	})
}
