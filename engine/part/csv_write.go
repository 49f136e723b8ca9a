package part

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// CSVTemplate is a file to start a drawer of one's own from: the header with every
// column, and one invented part. ReadCSV reads it. More rows of r_ds_on, points of
// r_ds_on_ratio and cells of z_th are added as columns of the same form.
func CSVTemplate() []byte {
	p, _ := Find("LY-N30-3") // a test reads the template back, so the part is there
	return WriteCSV([]Part{p})
}

// WriteCSV writes parts as a table that ReadCSV reads as the same parts. Fields are
// parted by commas; units stand in the header, and bare numbers below it.
func WriteCSV(parts []Part) []byte {
	w := &tableWriter{}
	w.columns(parts)
	var b bytes.Buffer
	out := csv.NewWriter(&b) // writes into memory, which cannot fail
	out.Write(w.head)
	for i := range parts {
		record := make([]string, len(w.cells))
		for n, cell := range w.cells {
			record[n] = cell(&parts[i])
		}
		out.Write(record)
	}
	out.Flush()
	return b.Bytes()
}

// tableWriter gathers the columns that the parts need, each with what writes its cell.
type tableWriter struct {
	head  []string
	cells []func(*Part) string
}

func (w *tableWriter) add(head string, cell func(*Part) string) {
	w.head, w.cells = append(w.head, head), append(w.cells, cell)
}

// number adds a column of quantities in one unit.
func (w *tableWriter) number(head, unit string, of func(*Part) si.Quantity) {
	u := si.MustUnit(unit)
	if unit != "1" {
		head += " [" + unit + "]"
	}
	w.add(head, func(p *Part) string {
		q := of(p)
		if !q.Known() {
			return ""
		}
		return inUnit(q, u, unit)
	})
}

// inUnit writes a bare number such that it reads back as the same quantity.
func inUnit(q si.Quantity, u si.Unit, unit string) string {
	v := q.In(u)
	for _, digits := range []int{6, 9, 12, 15, 16, 17} {
		s := strconv.FormatFloat(v, 'g', digits, 64)
		if back, err := si.Parse(s+" "+unit, q.Dim); err == nil && back == q {
			return s
		}
	}
	return text(q)
}

// plainValues say where the plain columns stand in a part, by name.
var plainValues = map[string]func(*Part) si.Quantity{
	"v_ds": func(p *Part) si.Quantity { return p.Ratings.VDS },
	"v_gs": func(p *Part) si.Quantity { return p.Ratings.VGSMax },
	"v_gs_reverse": func(p *Part) si.Quantity {
		if p.Ratings.VGSMin == p.Ratings.VGSMax {
			return si.Quantity{}
		}
		return p.Ratings.VGSMin
	},
	"i_d":         func(p *Part) si.Quantity { return p.Ratings.ID },
	"i_d_pulse":   func(p *Part) si.Quantity { return p.Ratings.IDPulse },
	"t_j":         func(p *Part) si.Quantity { return p.Ratings.Junction },
	"e_as":        func(p *Part) si.Quantity { return p.Ratings.EAS },
	"i_as":        func(p *Part) si.Quantity { return p.Ratings.IAS },
	"v_gs_th_min": func(p *Part) si.Quantity { return p.Characteristics.VGSTh.Min },
	"v_gs_th_typ": func(p *Part) si.Quantity { return p.Characteristics.VGSTh.Typ },
	"v_gs_th_max": func(p *Part) si.Quantity { return p.Characteristics.VGSTh.Max },
	"v_gs_th_at":  func(p *Part) si.Quantity { return p.Characteristics.VGSTh.At },
	"q_g":         func(p *Part) si.Quantity { return p.Characteristics.QG },
	"q_g_at":      func(p *Part) si.Quantity { return p.Characteristics.QGAt },
	"q_gs":        func(p *Part) si.Quantity { return p.Characteristics.QGS },
	"q_gd":        func(p *Part) si.Quantity { return p.Characteristics.QGD },
	"v_plateau":   func(p *Part) si.Quantity { return p.Characteristics.VPlateau },
	"r_gate":      func(p *Part) si.Quantity { return p.Characteristics.RGate },
	"c_iss":       func(p *Part) si.Quantity { return p.Characteristics.CIss },
	"c_oss":       func(p *Part) si.Quantity { return p.Characteristics.COss },
	"c_rss":       func(p *Part) si.Quantity { return p.Characteristics.CRss },
	"v_sd":        func(p *Part) si.Quantity { return p.Characteristics.VSD },
	"theta_jc":    func(p *Part) si.Quantity { return p.Thermal.JunctionCase },
	"theta_ja":    func(p *Part) si.Quantity { return p.Thermal.JunctionAmbient },
}

var plainTexts = map[string]func(*Part) string{
	"name":         func(p *Part) string { return p.Name },
	"channel":      func(p *Part) string { return string(p.Channel) },
	"package":      func(p *Part) string { return p.Package },
	"note":         func(p *Part) string { return p.Note },
	"i_d_at":       func(p *Part) string { return string(p.Ratings.IDAt) },
	"z_th_to":      func(p *Part) string { return string(p.Characteristics.ZTh.To) },
	"z_th_network": func(p *Part) string { return string(p.Characteristics.ZTh.Network) },
}

// columns sets up the plain columns and those that the parts need several of.
func (w *tableWriter) columns(parts []Part) {
	var gates, temperatures []float64
	cells := 0
	for i := range parts {
		c := &parts[i].Characteristics
		for _, r := range c.RDSOn {
			gates = append(gates, r.VGS.Value)
		}
		for _, k := range c.Ratio {
			temperatures = append(temperatures, k.Temperature.Value)
		}
		cells = max(cells, len(c.ZTh.Cells))
	}
	for _, p := range plainColumns {
		if p.name == "q_g" { // rows stand where a datasheet has them
			w.rows(distinct(gates))
			w.ratios(distinct(temperatures))
		}
		if p.text {
			w.add(p.name, plainTexts[p.name])
			continue
		}
		if p.name == "theta_jc" {
			w.response(cells)
		}
		w.number(p.name, p.unit, plainValues[p.name])
	}
}

func distinct(vs []float64) []float64 {
	slices.SortFunc(vs, cmp.Compare[float64])
	return slices.Compact(vs)
}

func (w *tableWriter) rows(gates []float64) {
	for _, v := range gates {
		find := func(p *Part) (Row, bool) {
			i := slices.IndexFunc(p.Characteristics.RDSOn, func(r Row) bool { return r.VGS.Value == v })
			if i < 0 {
				return Row{}, false
			}
			return p.Characteristics.RDSOn[i], true
		}
		head := rowKey + nospace(text(volt(v)))
		w.number(head+" typ", "mohm", func(p *Part) si.Quantity { r, _ := find(p); return r.Typ })
		w.number(head+" max", "mohm", func(p *Part) si.Quantity { r, _ := find(p); return r.Max })
		w.number(head+" i_d", "A", func(p *Part) si.Quantity { r, _ := find(p); return r.ID })
	}
}

func (w *tableWriter) ratios(temperatures []float64) {
	for _, t := range temperatures {
		w.number(ratioKey+nospace(text(si.Of(t, si.Temperature))), "1", func(p *Part) si.Quantity {
			for _, k := range p.Characteristics.Ratio {
				if k.Temperature.Value == t {
					return k.Ratio
				}
			}
			return si.Quantity{}
		})
	}
}

func (w *tableWriter) response(cells int) {
	for i := range cells {
		number := strconv.Itoa(i + 1)
		of := func(p *Part) Cell {
			if i < len(p.Characteristics.ZTh.Cells) {
				return p.Characteristics.ZTh.Cells[i]
			}
			return Cell{}
		}
		w.number(cellR+number, "K/W", func(p *Part) si.Quantity { return of(p).R })
		w.number(cellTau+number, "s", func(p *Part) si.Quantity { return of(p).Tau })
	}
}

func nospace(s string) string {
	return strings.ReplaceAll(s, " ", "")
}
