package part

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fullyon/engine/read"
)

func TestCSVTemplateReadsBack(t *testing.T) {
	parts, err := ReadCSV("template.csv", CSVTemplate())
	if err != nil {
		t.Fatal(err)
	}
	want, ok := Find("LY-N30-3")
	if !ok || len(parts) != 1 {
		t.Fatalf("%d parts", len(parts))
	}
	if diff := cmp.Diff(want, parts[0]); diff != "" {
		t.Errorf("the template's part is another (-drawer +template):\n%s", diff)
	}
	head, _, _ := strings.Cut(string(CSVTemplate()), "\n")
	for _, c := range plainColumns {
		if !strings.Contains(","+head, ","+c.name) {
			t.Errorf("the template has no column %s", c.name)
		}
	}
}

// The whole drawer as a table gives the drawer again, whatever parts the fields.
func TestDrawerThroughCSV(t *testing.T) {
	plain := WriteCSV(Drawer())
	for name, src := range map[string][]byte{
		"commas":            plain,
		"byte order mark":   append([]byte("\xef\xbb\xbf"), plain...),
		"CRLF":              bytes.ReplaceAll(plain, []byte("\n"), []byte("\r\n")),
		"CR":                bytes.ReplaceAll(plain, []byte("\n"), []byte("\r")),
		"separator named":   append([]byte("sep=,\r\n"), plain...),
		"tabs":              swapped(plain, "\t", "."),
		"semicolons":        swapped(plain, ";", "."),
		"decimal commas":    swapped(plain, ";", ","),
		"no line end":       bytes.TrimRight(plain, "\n"),
		"empty lines after": append(bytes.Clone(plain), "\n,,,,\n\n"...),
	} {
		got, err := ReadCSV("drawer.csv", src)
		if err != nil {
			t.Errorf("%s: %v", name, first(err))
			continue
		}
		if diff := cmp.Diff(Drawer(), got); diff != "" {
			t.Errorf("%s: another drawer:\n%.600s", name, diff)
		}
	}
}

func first(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// swapped gives a table another separator, and its numbers another decimal sign.
func swapped(src []byte, separator, decimal string) []byte {
	var b strings.Builder
	inside, start, header := false, 0, bytes.IndexByte(src, '\n')
	for i := range len(src) {
		switch c := src[i]; {
		case c == '"':
			inside = !inside
			b.WriteByte(c)
		case c == ',' && !inside:
			b.WriteString(separator)
			start = i + 1
		case c == '.' && !inside && (i < header || isNumber(src[start:])):
			b.WriteString(decimal)
		default:
			b.WriteByte(c)
		}
	}
	return []byte(b.String())
}

// isNumber tells whether a field holds nothing but a number.
func isNumber(src []byte) bool {
	return bareNumber.Match(src[:bytes.IndexAny(src, ",\n")])
}

func TestGeneratedPartsThroughCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := []Part{anyPart(t), anyPart(t)}
		parts[1].Name += "b"
		got, err := ReadCSV("x.csv", WriteCSV(parts))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(parts, got); diff != "" {
			t.Fatal(diff)
		}
	})
}

func TestCSVForms(t *testing.T) {
	for _, tt := range []struct{ name, src string }{
		{"units in the cells", "name,channel,v_ds,r_ds_on@4.5V max,r_ds_on_ratio@100C\nA,N,30 V,12 mohm,1.4\n"},
		{"units in the header", "name,channel,v_ds [V],r_ds_on@4.5V max [mohm],r_ds_on_ratio@100C\nA,N,30,12,1.4\n"},
		{"round brackets", "name,channel,v_ds (V),r_ds_on@4.5V max (mΩ),r_ds_on_ratio@100°C\nA,N,30,12,1.4\n"},
		{"max goes without saying", "name,channel,v_ds,r_ds_on@4.5V,r_ds_on_ratio@100C\nA,N,30V,12mohm,1.4\n"},
		{"max in front", "name,channel,v_ds,r_ds_on_max@4.5V,r_ds_on_ratio@100C\nA,N,30V,12mohm,1.4\n"},
		{"capitals and spaces", " Name , CHANNEL ,V DS,R_DS_ON@4.5V Max,R-DS-on_ratio@100C\n A , N ,30V,12mohm,1.4\n"},
		{"the cell's unit wins", "name,channel,v_ds [kV],r_ds_on@4.5V [ohm],r_ds_on_ratio@100C\nA,N,30V,12 mohm,1.4\n"},
		{"another order", "r_ds_on_ratio@100C,v_ds,name,r_ds_on@4.5V,channel\n1.4,30V,A,12mohm,N\n"},
		{"quotes", "\"name\",\"channel\",\"v_ds\",\"r_ds_on@4.5V max\",\"r_ds_on_ratio@100C\"\n\"A\",\"N\",\"30 V\",\"12 mohm\",\"1,4\"\n"},
		{"semicolons and decimal commas", "name;channel;v_ds;r_ds_on@4,5V max [mohm];r_ds_on_ratio@100C\nA;N;30 V;12,0;1,4\n"},
		{"ratio at 25 °C written too", "name,channel,v_ds,r_ds_on@4.5V,r_ds_on_ratio@25C,r_ds_on_ratio@100C\nA,N,30V,12mohm,1,1.4\n"},
		{"dashes for nothing", "name,channel,v_ds,r_ds_on@4.5V,r_ds_on_ratio@100C,q_g,q_g_at\nA,N,30V,12mohm,1.4,-,–\n"},
		{"short line", "name,channel,v_ds,r_ds_on@4.5V,r_ds_on_ratio@100C,q_g,q_g_at\nA,N,30V,12mohm,1.4\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ReadCSV("x.csv", []byte(tt.src))
			if err != nil {
				t.Fatal(err)
			}
			doc, _ := read.Parse("p", []byte("name: A\nchannel: N\nratings: {v_ds: 30 V}\ncharacteristics:\n  r_ds_on: [{v_gs: 4.5 V, max: 12 mohm}]\n  r_ds_on_ratio: [[25 C, 1], [100 C, 1.4]]\n"))
			want := Read(doc.Root().Map())
			if diff := cmp.Diff([]Part{want}, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// The gate ratings of a part whose limits differ, and P-channel signs.
func TestCSVSigns(t *testing.T) {
	got, err := ReadCSV("x.csv", []byte("name,channel,v_ds [V],v_gs [V],v_gs_reverse [V],r_ds_on@-4.5V max [mohm],r_ds_on@-10V max [mohm]\nA,P,−30,-10,8,50,40\n"))
	if err != nil {
		t.Fatal(err)
	}
	p := got[0]
	if p.Ratings.VDS.Value != 30 || p.Ratings.VGSMax.Value != 10 || p.Ratings.VGSMin.Value != 8 || p.Characteristics.RDSOn[0].VGS.Value != 4.5 {
		t.Errorf("%+v", p)
	}
}

func TestCSVMistakes(t *testing.T) {
	const head = "name,channel,v_ds [V],v_gs [V],i_d [A],i_d_at,i_d_pulse [A],r_ds_on@4.5V typ [mohm],r_ds_on@4.5V max [mohm],q_g [nC],q_g_at [V]\n"
	for _, tt := range []struct {
		name, src string
		want      []string // beginnings with place, and a word of the message, parted by |
	}{
		{"empty", "", []string{"x.csv:1:1|empty"}},
		{"only a mark", "\xef\xbb\xbf", []string{"x.csv:1:1|empty"}},
		{"unknown column", "name,chanel,channel\nA,N,N\n", []string{"x.csv:1:6|nearest is channel"}},
		{"missing columns", "note\nx\n", []string{"x.csv:1:1|no column name", "x.csv:1:1|no column channel"}},
		{"no header", "A,N,30 V\n", []string{"x.csv:1:1|no column", "x.csv:1:1|no column name", "x.csv:1:1|no column channel", "x.csv:1:3|no column", "x.csv:1:5|no column"}},
		{"column twice", "name,channel,v_ds,V_DS\nA,N,1 V,1 V\n", []string{"x.csv:1:19|once"}},
		{"unit of another kind", "name,channel,v_ds [A]\nA,N,1\n", []string{"x.csv:1:14|unit of v_ds"}},
		{"unit of a text", "name,channel [V]\nA,N\n", []string{"x.csv:1:6|no unit"}},
		{"row without voltage", "name,channel,r_ds_on@high max\nA,N,1\n", []string{"x.csv:1:14|gate voltage"}},
		{"row bare", "name,channel,r_ds_on\nA,N,1\n", []string{"x.csv:1:14|r_ds_on@4.5V max"}},
		{"row of two kinds", "name,channel,r_ds_on_typ@4.5V max\nA,N,1\n", []string{"x.csv:1:14|two columns"}},
		{"ratio without temperature", "name,channel,r_ds_on_ratio@hot\nA,N,1\n", []string{"x.csv:1:14|temperature"}},
		{"cell 0", "name,channel,z_th_r0\nA,N,1\n", []string{"x.csv:1:14|1 to 20"}},
		{"no unit anywhere", "name,channel,v_ds\nA,N,30\n", []string{"x.csv:2:5|unit"}},
		{"words for a number", head + "A,N,thirty,,,,,,,,\n", []string{"x.csv:2:5|"}},
		{"a column after wide characters", head + "Ä€Ω,N,thirty,,,,,,,,\n", []string{"x.csv:2:7|"}},
		{"negative in N", head + "A,N,-30,,,,,,,,\n", []string{"x.csv:2:5|v_ds is negative"}},
		{"channel", head + "A,Q,30,,,,,,,,\n", []string{"x.csv:2:3|N"}},
		{"no name", head + ",N,30,,,,,,,,\n", []string{"x.csv:2:2|name"}},
		{"name twice", head + "A,N,30,,,,,,,,\nB,N,30,,,,,,,,\nA,N,30,,,,,,,,\n", []string{"x.csv:4:1|line 2 already"}},
		{"typ above max", head + "A,N,30,,,,,40,30,,\n", []string{"x.csv:2:12|typ 40 mohm lies above max 30 mohm"}},
		{"row above the rating", head + "A,N,30,3,,,,,30,,\n", []string{"x.csv:2:14|lies above the v_gs rating"}},
		{"pulse below i_d", head + "A,N,30,,5,case,4,,,,\n", []string{"x.csv:2:16|i_d_pulse"}},
		{"i_d without i_d_at", head + "A,N,30,,5,,,,,,\n", []string{"x.csv:2:9|i_d_at"}},
		{"charge without voltage", head + "A,N,30,,,,,,,5,\n", []string{"x.csv:2:14|q_g needs q_g_at"}},
		{"too many fields", head + "A,N,30,,,,,,,,,7\n", []string{"x.csv:2:16|12 fields"}},
		{"two mistakes in two lines", head + "A,N,x,,,,,,,,\nB,N,y,,,,,,,,\n", []string{"x.csv:2:5|", "x.csv:3:5|"}},
		{"bare quote", head + "A\"B,N,30,,,,,,,,\n", []string{"x.csv:2:2|quote"}},
		{"open quote", head + "\"A,N,30\n", []string{"x.csv:|quote"}},
		{"line break in a field", "name,channel,note,v_ds\nA,N,\"two\nlines\",x\n", []string{"x.csv:3:8|"}},
		{"UTF-16", "\xff\xfen\x00", []string{"x.csv:1:1|UTF-16"}},
		{"not UTF-8", "name,channel\nA\xb5,N\n", []string{"x.csv:2:2|UTF-8"}},
		{"after a separator line", "sep=;\nname;channel;v_ds\nA;N;x\n", []string{"x.csv:3:5|"}},
		{"cell without partner", "name,channel,z_th_to,z_th_network,z_th_r1 [K/W],z_th_tau1 [s]\nA,N,case,foster,1,\n", []string{"x.csv:2:17|needs both"}},
		{"cells without a network", "name,channel,z_th_r1 [K/W],z_th_tau1 [s]\nA,N,1,1\n", []string{"x.csv:2:5|z_th_network"}},
		{"network without cells", "name,channel,z_th_to,z_th_r1 [K/W]\nA,N,case,\n", []string{"x.csv:2:5|no cells"}},
		{"reverse rating alone", "name,channel,v_gs_reverse\nA,N,8 V\n", []string{"x.csv:2:5|v_gs"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadCSV("x.csv", []byte(tt.src))
			if err == nil {
				t.Fatal("read without complaint")
			}
			lines := strings.Split(err.Error(), "\n")
			for i, want := range tt.want {
				place, word, _ := strings.Cut(want, "|")
				if i >= len(lines) || !strings.HasPrefix(lines[i], place) || !strings.Contains(lines[i], word) {
					t.Errorf("mistake %d: want %q with %q, all are:\n%v", i, place, word, err)
				}
			}
		})
	}
}

func TestCSVBounds(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("name,channel\n")
	for i := range 100_000 {
		fmt.Fprintf(&b, "A%d,N\n", i)
	}
	_, err := ReadCSV("big.csv", b.Bytes())
	if err == nil || !strings.Contains(err.Error(), "big.csv:") || !strings.Contains(err.Error(), "20000 parts") {
		t.Errorf("100,000 rows: %v", err)
	}
	b.Reset()
	b.WriteString("name,channel,v_ds\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "A%d,N,x\n", i)
	}
	var all read.Errors
	if _, err := ReadCSV("big.csv", b.Bytes()); !errors.As(err, &all) || len(all) != maxMistakes {
		t.Errorf("%d mistakes are reported, want %d", len(all), maxMistakes)
	}
	if _, err := ReadCSV("big.csv", make([]byte, maxTable+1)); err == nil || !strings.Contains(err.Error(), "32 MiB") {
		t.Errorf("a large file: %v", err)
	}
}

func TestReadAnyDrawer(t *testing.T) {
	const yaml = "# mine\nparts:\n  - {name: A, channel: N}\n"
	const json = `{"parts": [{"name": "A", "channel": "N"}]}`
	const table = "name;channel\nA;N\n"
	for _, tt := range []struct{ file, src string }{
		{"d.yaml", yaml}, {"d.yml", yaml}, {"d.json", json}, {"D.CSV", table}, {"d.tsv", "name\tchannel\nA\tN\n"},
		{"d", yaml}, {"d.txt", json}, {"d.txt", table}, {"-", "\xef\xbb\xbf" + yaml}, {"-", "---\n" + yaml},
	} {
		got, err := ReadAnyDrawer(tt.file, []byte(tt.src))
		if err != nil || len(got) != 1 || got[0].Name != "A" || got[0].Channel != N {
			t.Errorf("%s %q: %v, %v", tt.file, tt.src, got, err)
		}
	}
	if _, err := ReadAnyDrawer("d.csv", []byte(yaml)); err == nil || !strings.HasPrefix(err.Error(), "d.csv:1:1") {
		t.Errorf("YAML under the name of a table: %v", err)
	}
}

// Whatever the bytes: no panic; what is refused has placed mistakes; what is
// taken is written and read as the same parts.
func FuzzReadCSV(f *testing.F) {
	f.Add(CSVTemplate())
	f.Add(swapped(CSVTemplate(), ";", ","))
	f.Add([]byte("sep=;\nname;channel;v_ds [V];r_ds_on@4,5V max [mohm]\r\n\"A\";N;30;12,5\r\n"))
	f.Add([]byte("name,channel,z_th_to,z_th_network,z_th_r1,z_th_tau1\nA,P,case,cauer,1 K/W,1 ms\n"))
	f.Add([]byte("name,channel,r_ds_on_ratio@100C,v_gs,v_gs_reverse\nA,N,1.4,10 V,8 V\n"))
	f.Add([]byte("name\tchannel\n\"a\nb\"\tN\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		parts, err := ReadCSV("f", src)
		if err != nil {
			var all read.Errors
			if !errors.As(err, &all) || len(all) == 0 || parts != nil {
				t.Fatalf("refused without a placed mistake: %v", err)
			}
			for _, e := range all {
				if e.Line < 1 || e.Col < 1 || e.Msg == "" {
					t.Fatalf("a mistake has no place: %+v", *e)
				}
			}
			return
		}
		again, err := ReadCSV("f", WriteCSV(parts))
		if err != nil {
			t.Fatalf("%v\n%s", err, WriteCSV(parts))
		}
		if len(parts) != len(again) {
			t.Fatalf("%d parts, then %d", len(parts), len(again))
		}
		for i := range parts {
			if Write(parts[i], 0) != Write(again[i], 0) {
				t.Fatalf("another part:\n%s\n%s", Write(parts[i], 0), Write(again[i], 0))
			}
		}
	})
}

func BenchmarkReadCSV(b *testing.B) {
	var parts []Part
	for i := range 1000 {
		p := Generate(uint64(i), Wish{})
		p.Name = fmt.Sprintf("LY-%d", i)
		parts = append(parts, p)
	}
	src := WriteCSV(parts)
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ReadCSV("b.csv", src); err != nil {
			b.Fatal(err)
		}
	}
}
