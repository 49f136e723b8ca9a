package part

import (
	"regexp"
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// Write gives the text of a part as a circuit file has it below `part:`, each
// line indented by indent spaces. Read of the text gives the part again. Values
// of a P-channel part are written as magnitudes, ratings not given are left out.
func Write(p Part, indent int) string {
	w := &writer{pad: strings.Repeat(" ", max(indent, 0))}
	w.line("name", word(p.Name))
	w.line("channel", string(p.Channel))
	w.line("package", word(p.Package))
	w.line("note", word(p.Note))
	w.line("ratings", flow(ratings(p)...))
	w.characteristics(&p.Characteristics)
	w.line("thermal", flow(
		field{"theta_jc", known(p.Thermal.JunctionCase)},
		field{"theta_ja", known(p.Thermal.JunctionAmbient)}))
	return w.String()
}

type writer struct {
	strings.Builder
	pad string
}

// line writes a key with its value; nothing when the value is empty.
func (w *writer) line(key, value string) {
	if value != "" {
		w.WriteString(w.pad + key + ": " + value + "\n")
	}
}

func ratings(p Part) []field {
	r := &p.Ratings
	vgs := known(r.VGSMax)
	if r.VGSMin != r.VGSMax {
		lowest := r.VGSMin
		if p.Channel == N {
			lowest.Value = -lowest.Value
		}
		vgs = flow(field{"max", known(r.VGSMax)}, field{"min", known(lowest)})
	}
	return []field{
		{"v_ds", known(r.VDS)}, {"v_gs", vgs}, {"i_d", known(r.ID)}, {"i_d_at", string(r.IDAt)},
		{"i_d_pulse", known(r.IDPulse)}, {"t_j", known(r.Junction)}, {"e_as", known(r.EAS)}, {"i_as", known(r.IAS)},
	}
}

func (w *writer) characteristics(c *Characteristics) {
	head, start := w.pad, w.Len()
	w.pad += "  "
	w.line("v_gs_th", flow(
		field{"min", known(c.VGSTh.Min)}, field{"typ", known(c.VGSTh.Typ)}, field{"max", known(c.VGSTh.Max)},
		field{"at", flow(field{"i_d", known(c.VGSTh.At)})}))
	if len(c.RDSOn) > 0 {
		w.WriteString(w.pad + "r_ds_on:\n")
		for _, r := range c.RDSOn {
			w.WriteString(w.pad + "  - " + flow(field{"v_gs", known(r.VGS)}, field{"i_d", known(r.ID)},
				field{"typ", known(r.Typ)}, field{"max", known(r.Max)}) + "\n")
		}
	}
	var points []string
	for _, p := range c.Ratio {
		points = append(points, "["+text(p.Temperature)+", "+text(p.Ratio)+"]")
	}
	w.line("r_ds_on_ratio", list(points))
	w.line("q_g", flow(field{"value", known(c.QG)}, field{"at", flow(field{"v_gs", known(c.QGAt)})}))
	for _, f := range []field{
		{"q_gs", known(c.QGS)}, {"q_gd", known(c.QGD)}, {"v_plateau", known(c.VPlateau)}, {"r_gate", known(c.RGate)},
		{"c_iss", known(c.CIss)}, {"c_oss", known(c.COss)}, {"c_rss", known(c.CRss)}, {"v_sd", known(c.VSD)},
	} {
		w.line(f.key, f.value)
	}
	var cells []string
	for _, cell := range c.ZTh.Cells {
		cells = append(cells, "["+text(cell.R)+", "+text(cell.Tau)+"]")
	}
	if len(cells) > 0 {
		w.line("z_th", flow(field{"to", string(c.ZTh.To)}, field{"network", string(c.ZTh.Network)}, field{"cells", list(cells)}))
	}
	w.pad = head
	if w.Len() > start { // the heading is wanted only above something
		body := w.String()[start:]
		before := w.String()[:start]
		w.Reset()
		w.WriteString(before + head + "characteristics:\n" + body)
	}
}

// field is a key with its text; an empty text means that the key is left out.
type field struct{ key, value string }

func flow(fields ...field) string {
	var kept []string
	for _, f := range fields {
		if f.value != "" {
			kept = append(kept, f.key+": "+f.value)
		}
	}
	if len(kept) == 0 {
		return ""
	}
	return "{" + strings.Join(kept, ", ") + "}"
}

func list(items []string) string {
	if len(items) == 0 {
		return ""
	}
	return "[" + strings.Join(items, ", ") + "]"
}

func known(q si.Quantity) string {
	if !q.Known() {
		return ""
	}
	return text(q)
}

var bare = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9]*([ /.,()+-]+[A-Za-z0-9(][A-Za-z0-9)]*)*$`)

// word writes a text, in quotes where YAML would take it for something else.
func word(s string) string {
	if s == "" || bare.MatchString(s) && !strings.EqualFold(s, "null") {
		return s
	}
	return strconv.Quote(s)
}
