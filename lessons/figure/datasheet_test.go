package figure

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// sample is a P-channel part with rows of every sort. The printed values follow the
// usual form of datasheets: P-channel voltages and currents negative, gate rating ±,
// charges in nC.
func sample() *part.Part {
	p := &part.Part{Name: "LY-P30-9", Channel: part.P, Package: "SO-8", Note: "invented"}
	p.Ratings = part.Ratings{VDS: q("30 V"), VGSMax: q("20 V"), VGSMin: q("20 V"), ID: q("5 A"), IDAt: part.AtAmbient, Junction: q("150 C"), EAS: q("20 mJ")}
	c := &p.Characteristics
	c.VGSTh = part.MinTypMax{Min: q("1 V"), Typ: q("1.5 V"), Max: q("2.25 V"), At: q("250 uA")}
	c.RDSOn = []part.Row{{VGS: q("4.5 V"), ID: q("4 A"), Typ: q("50 mohm"), Max: q("70.5 mohm")}, {VGS: q("10 V"), ID: q("5 A"), Max: q("45 mohm")}}
	c.QG, c.QGAt, c.QGS, c.QGD = q("12 nC"), q("10 V"), q("800 pC"), q("3 nC")
	p.Thermal.JunctionAmbient = q("90 K/W")
	return p
}

func TestDatasheetFacts(t *testing.T) {
	d := Datasheet(sample(), nil)
	got := plainSpaces(strings.Join(d.Facts(), "\n"))
	want := strings.Join([]string{
		"LY-P30-9  P-channel, logic level, −30 V",
		"SO-8 · invented",
		"V_DSS, drain–source voltage: at most −30 V",
		"V_GS, gate–source voltage: at most ±20 V",
		"I_D, drain current, T_A = 25 °C: at most −5.0 A",
		"T_J, junction temperature: at most 150 °C",
		"E_AS, single-pulse avalanche energy: at most 20 mJ",
		"V_GS(th), threshold voltage at I_D = −250 µA: min −1.00 V, typ −1.50 V, max −2.25 V",
		"R_DS(on), V_GS = −4.5 V, I_D = −4 A: typ 50.0 mΩ, max 70.5 mΩ",
		"R_DS(on), V_GS = −10 V, I_D = −5 A: max 45 mΩ",
		"R_DS(on), rise above 25 °C; not on this sheet, usual figure for its voltage: typ 0.6 %/K",
		"Q_G, total gate charge at V_GS = −10 V: typ 12 nC",
		"Q_GS, gate–source charge: typ 0.8 nC",
		"Q_GD, gate–drain charge: typ 3.0 nC",
		"θ_JA, junction to ambient, still air, on the sheet’s board: max 90 K/W",
	}, "\n")
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestDatasheetOfChosenRows(t *testing.T) {
	d := Datasheet(sample(), []string{"v_ds", "v_gs_th_max", "theta_ja", "no_such_row"})
	var names []string
	for _, g := range d.Groups {
		for _, r := range g.Rows {
			names = append(names, r.Name)
		}
	}
	if got := strings.Join(names, " "); got != "v_ds v_gs_th theta_ja" || !d.Extract {
		t.Errorf("rows %s, extract %v", got, d.Extract)
	}
	for name, want := range map[string]bool{"v_gs_reverse": true, "q_g_at": true, "r_ds_on": true, "rds": false, "": false} {
		if IsRow(name) != want {
			t.Errorf("IsRow(%q) = %v", name, !want)
		}
	}
}

func TestGateLimits(t *testing.T) {
	for _, c := range []struct {
		channel part.Channel
		on, off string
		want    string
	}{
		{part.N, "12 V", "12 V", "±12"}, {part.N, "10 V", "8 V", "−8 to +10"}, {part.P, "10 V", "8 V", "−10 to +8"},
		{part.N, "10 V", "", "+10"}, {part.P, "10 V", "", "−10"}, {part.N, "", "8 V", "−8"},
	} {
		p := part.Part{Channel: c.channel}
		if c.on != "" {
			p.Ratings.VGSMax = q(c.on)
		}
		if c.off != "" {
			p.Ratings.VGSMin = q(c.off)
		}
		d := Datasheet(&p, []string{"v_gs"})
		if got := d.Groups[0].Rows[0].Max; got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

func TestColumn(t *testing.T) {
	for _, c := range []struct {
		name    string
		in      []si.Quantity
		figures int
		want    [3]string
		unit    string
	}{
		{"one unit for a row", []si.Quantity{q("0.4 V"), q("0.65 V"), q("1.1 V")}, 2, [3]string{"0.40", "0.65", "1.10"}, "V"},
		{"two figures", []si.Quantity{{}, q("2 A")}, 2, [3]string{"", "2.0"}, "A"},
		{"prefix of the largest", []si.Quantity{q("900 mohm"), {}, q("1.2 ohm")}, 2, [3]string{"0.9", "", "1.2"}, "Ω"},
		{"charge", []si.Quantity{q("320 pC")}, 2, [3]string{"0.32"}, "nC"},
		{"negative", []si.Quantity{si.Of(-30, si.Voltage)}, 1, [3]string{"−30"}, "V"},
		{"temperature", []si.Quantity{q("150 C")}, 1, [3]string{"150"}, "°C"},
	} {
		got, unit := column(c.figures, c.in...)
		if got != c.want || unit != c.unit {
			t.Errorf("%s: %q %s, want %q %s", c.name, got, unit, c.want, c.unit)
		}
	}
}

// Every part of the drawer gives tables that parse, with as many cells in each row as
// headings, and every number of the HTML stands in the text and the facts too.
func TestDatasheetHTML(t *testing.T) {
	for _, p := range append(part.Drawer(), *sample(), part.Part{}, part.Part{Name: `<i>"`, Channel: part.N}) {
		d := Datasheet(&p, nil)
		page := d.HTML("s1")
		x := xml.NewDecoder(strings.NewReader(page))
		width, cells, span := 0, 0, 0
		for {
			tok, err := x.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v\n%s", p.Name, err, page)
			}
			switch e := tok.(type) {
			case xml.StartElement:
				switch e.Name.Local {
				case "tr":
					cells = 0
				case "thead":
					width, span = 0, 0
				case "th", "td":
					cells++
					for _, a := range e.Attr {
						if a.Name.Local == "rowspan" {
							span = int(a.Value[0]-'0') + 1
							if len(a.Value) > 1 {
								span = 10*int(a.Value[0]-'0') + int(a.Value[1]-'0') + 1
							}
						}
					}
				}
			case xml.EndElement:
				if e.Name.Local != "tr" {
					continue
				}
				if width == 0 {
					width = cells
					continue
				}
				want := width
				if span > 0 {
					if span--; cells == width-1 {
						want--
					}
				}
				if cells != want {
					t.Errorf("%s: a row of %d cells in a table of %d columns\n%s", p.Name, cells, width, page)
				}
			}
		}
		facts, text := strings.Join(d.Facts(), "\n"), d.Text()
		for _, g := range d.Groups {
			for _, r := range g.Rows {
				for _, v := range []string{r.Min, r.Typ, r.Max} {
					if !strings.Contains(facts, v) || !strings.Contains(text, plainSpaces(v)) {
						t.Errorf("%s: %s is missing in facts or text", p.Name, v)
					}
				}
			}
		}
	}
}

func BenchmarkDatasheet(b *testing.B) {
	p := findPart("LY-N20-1")
	b.ReportAllocs()
	for b.Loop() {
		d := Datasheet(&p, nil)
		d.HTML("s")
	}
}
