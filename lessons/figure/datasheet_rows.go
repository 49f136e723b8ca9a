package figure

import (
	"strconv"
	"strings"

	"fullyon/engine/si"
)

// spread are the characteristics with min, typ and max.
func (s *sheet) spread() []TableRow {
	c := &s.p.Characteristics
	out := make([]TableRow, 0, 16)
	add := func(name, symbol, meaning string, min, typ, max si.Quantity) {
		if s.asked(name) && (min.Known() || typ.Known() || max.Known()) {
			v, unit := column(2, min, typ, max)
			out = append(out, TableRow{name, symbol, meaning, v[0], v[1], v[2], unit})
		}
	}
	typical := func(name, symbol, meaning string, q si.Quantity) {
		add(name, symbol, meaning, si.Quantity{}, q, si.Quantity{})
	}
	th := &c.VGSTh
	at := "threshold voltage"
	if th.At.Known() {
		at += " at I_{D} = " + s.signed(th.At)
	}
	add("v_gs_th", "V_{GS(th)}", at, s.turned(th.Min), s.turned(th.Typ), s.turned(th.Max))
	symbol := "R_{DS(on)}"
	for _, r := range c.RDSOn {
		at := ""
		if r.VGS.Known() {
			at = "V_{GS} = " + s.signed(r.VGS)
		}
		if r.ID.Known() {
			if at != "" {
				at += ", "
			}
			at += "I_{D} = " + s.signed(r.ID)
		}
		n := len(out)
		add("r_ds_on", symbol, at, si.Quantity{}, r.Typ, r.Max)
		if len(out) > n {
			symbol = ""
		}
	}
	if s.asked("r_ds_on_ratio") {
		out = s.ratio(out)
	}
	at = "total gate charge"
	if c.QGAt.Known() {
		at += " at V_{GS} = " + s.signed(c.QGAt)
	}
	typical("q_g", "Q_{G}", at, c.QG)
	typical("q_gs", "Q_{GS}", "gate–source charge", c.QGS)
	typical("q_gd", "Q_{GD}", "gate–drain charge", c.QGD)
	typical("v_plateau", "V_{pl}", "plateau of the gate voltage", s.turned(c.VPlateau))
	typical("r_gate", "R_{g}", "gate resistance inside the part", c.RGate)
	typical("c_iss", "C_{iss}", "input capacitance", c.CIss)
	typical("c_oss", "C_{oss}", "output capacitance", c.COss)
	typical("c_rss", "C_{rss}", "reverse transfer capacitance", c.CRss)
	typical("v_sd", "V_{SD}", "forward voltage of the body diode", s.turned(c.VSD))
	return out
}

var perKelvin = si.MustUnit("%/K")

// ratio are the rows of k(T_J), typical. A part without a curve gets the usual rise of its
// voltage class, and the row says so, since results lean on it.
func (s *sheet) ratio(out []TableRow) []TableRow {
	if table := s.p.Characteristics.Ratio; len(table) >= 2 {
		symbol := "k(T_{J})"
		places := 2
		for _, pt := range table {
			if _, frac, _ := strings.Cut(tidy(si.Round(pt.Ratio.Value, 6)), "."); len(frac) > places {
				places = len(frac)
			}
		}
		for _, pt := range table {
			at := "R_{DS(on)} over its value at 25" + nbsp + "°C, at T_{J} = " + value(pt.Temperature)
			if symbol == "" {
				at = "at T_{J} = " + value(pt.Temperature)
			}
			out = append(out, TableRow{"r_ds_on_ratio", symbol, at, "", fixedPlaces(pt.Ratio.Value, places), "", ""})
			symbol = ""
		}
		return out
	}
	k, _ := s.p.Ratio(26)
	if len(s.p.Characteristics.RDSOn) == 0 {
		return out
	}
	rise := si.Of(si.Round(k-1, 6), si.PerKelvin)
	return append(out, TableRow{"r_ds_on_ratio", "R_{DS(on)}", "rise above 25" + nbsp + "°C; not on this sheet, usual figure for its voltage",
		"", tidy(si.Round(rise.In(perKelvin), 6)), "", "%/K"})
}

func (s *sheet) thermal() []TableRow {
	out := make([]TableRow, 0, 2)
	for _, r := range [...]struct {
		name, symbol, meaning string
		q                     si.Quantity
	}{
		{"theta_jc", "θ_{JC}", "junction to case", s.p.Thermal.JunctionCase},
		{"theta_ja", "θ_{JA}", "junction to ambient, still air, on the sheet’s board", s.p.Thermal.JunctionAmbient},
	} {
		if r.q.Known() && s.asked(r.name) {
			v, unit := column(2, r.q)
			out = append(out, TableRow{r.name, r.symbol, r.meaning, "", "", v[0], unit})
		}
	}
	return out
}

// cells are the cells of the thermal response: Typ holds R_i, Max holds τ_i.
func (s *sheet) cells() []TableRow {
	if !s.asked("z_th") {
		return nil
	}
	var out []TableRow
	for i, c := range s.p.Characteristics.ZTh.Cells {
		out = append(out, TableRow{Name: "z_th", Symbol: strconv.Itoa(i + 1), Typ: value(c.R), Max: value(c.Tau)})
	}
	return out
}

// turned gives a voltage or current of a P-channel part its sign.
func (s *sheet) turned(q si.Quantity) si.Quantity {
	if q.Known() {
		q.Value *= s.sign
	}
	return q
}

// signed prints a condition.
func (s *sheet) signed(q si.Quantity) string { return value(s.turned(q)) }
