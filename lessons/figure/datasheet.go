package figure

import (
	"math"
	"strconv"
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// Table is the extract of a datasheet: a heading and groups of rows.
type Table struct {
	Name    string // of the part
	Line    string // "N-channel, logic level, 30 V"
	Package string
	Note    string
	Extract bool // some rows were left out
	Groups  []Group
}

// GroupKind says which columns a group has.
type GroupKind uint8

// Limits has one column of numbers, Spread has min, typ and max, Cells has the
// resistance and the time constant of each cell.
const (
	Limits GroupKind = iota
	Spread
	Cells
)

// Group is one table of a datasheet. Texts are marked: V_{DS}.
type Group struct {
	Caption string
	Kind    GroupKind
	Rows    []TableRow
}

// TableRow is one line. A row with an empty Symbol goes on with the symbol above.
type TableRow struct {
	Name          string // the flat name by which a template asks for it
	Symbol        string
	Meaning       string // what it is and at which conditions
	Min, Typ, Max string // Limits use Max only; a limit may hold two numbers
	Unit          string
}

// datasheetRows are the rows in the order of the page.
var datasheetRows = []string{
	"v_ds", "v_gs", "i_d", "i_d_pulse", "t_j", "e_as", "i_as",
	"v_gs_th", "r_ds_on", "r_ds_on_ratio", "q_g", "q_gs", "q_gd", "v_plateau", "r_gate", "c_iss", "c_oss", "c_rss", "v_sd",
	"theta_jc", "theta_ja", "z_th",
}

// rowNumber finds a row by the name of a quantity that stands in it: v_gs_th_max is
// in the row v_gs_th. It is -1 for a name that no row holds.
func rowNumber(name string) int {
	switch name {
	case "v_gs_reverse":
		name = "v_gs"
	case "q_g_at":
		name = "q_g"
	case "v_gs_th_min", "v_gs_th_typ", "v_gs_th_max", "v_gs_th_at":
		name = "v_gs_th"
	}
	for i, r := range datasheetRows {
		if r == name {
			return i
		}
	}
	return -1
}

// IsRow tells whether a name may stand among the rows asked of [Datasheet]: the
// name of a row, or of a rating or characteristic that stands in one.
func IsRow(name string) bool { return rowNumber(name) >= 0 }

// sheet is a table being made.
type sheet struct {
	p    *part.Part
	want [32]bool
	sign float64 // of a P-channel part's voltages and currents
}

// Datasheet makes the extract of a part's datasheet with the rows asked for; nil
// asks for all. A rating that the part does not give has no row, and a name that
// is none (see [IsRow]) is passed over. Values of P-channel parts get their sign.
func Datasheet(p *part.Part, rows []string) Table {
	s := sheet{p: p, sign: 1}
	if p.Channel == part.P {
		s.sign = -1
	}
	for i := range datasheetRows {
		s.want[i] = rows == nil
	}
	for _, r := range rows {
		if i := rowNumber(r); i >= 0 {
			s.want[i] = true
		}
	}
	t := Table{Name: p.Name, Line: partLine(p), Package: p.Package, Note: p.Note}
	for i := range datasheetRows {
		t.Extract = t.Extract || !s.want[i]
	}
	for _, g := range [...]Group{
		{"Absolute maximum ratings", Limits, s.limits()},
		{"Characteristics at T_{J} = 25" + nbsp + "°C", Spread, s.spread()},
		{"Thermal resistance", Spread, s.thermal()},
		{"Transient thermal response, " + network(&p.Characteristics.ZTh), Cells, s.cells()},
	} {
		if len(g.Rows) > 0 {
			t.Groups = append(t.Groups, g)
		}
	}
	return t
}

// partLine says what sort of part it is.
func partLine(p *part.Part) string {
	out := string(p.Channel) + "-channel"
	switch {
	case p.LogicLevel():
		out += ", logic level"
	case len(p.Characteristics.RDSOn) > 0:
		out += ", standard gate"
	}
	if v := p.Ratings.VDS; v.Known() {
		if p.Channel == part.P {
			v.Value = -v.Value
		}
		out += ", " + value(v)
	}
	return out
}

func (s *sheet) asked(name string) bool { return s.want[rowNumber(name)] }

// limits are the absolute maximum ratings.
func (s *sheet) limits() []TableRow {
	r := &s.p.Ratings
	out := make([]TableRow, 0, 7)
	add := func(name, symbol, meaning string, q si.Quantity, figures int, sign float64) {
		if !q.Known() || !s.asked(name) {
			return
		}
		q.Value *= sign
		c, unit := column(figures, q)
		out = append(out, TableRow{Name: name, Symbol: symbol, Meaning: meaning, Max: c[0], Unit: unit})
	}
	add("v_ds", "V_{DSS}", "drain–source voltage", r.VDS, 1, s.sign)
	if (r.VGSMax.Known() || r.VGSMin.Known()) && s.asked("v_gs") {
		out = append(out, TableRow{Name: "v_gs", Symbol: "V_{GS}", Meaning: "gate–source voltage", Max: s.gateLimits(), Unit: "V"})
	}
	at := "drain current"
	switch r.IDAt {
	case part.AtCase:
		at = "drain current, T_{C} = 25" + nbsp + "°C"
	case part.AtAmbient:
		at = "drain current, T_{A} = 25" + nbsp + "°C"
	}
	add("i_d", "I_{D}", at, r.ID, 2, s.sign)
	add("i_d_pulse", "I_{DM}", "pulsed drain current", r.IDPulse, 2, s.sign)
	add("t_j", "T_{J}", "junction temperature", r.Junction, 1, 1)
	add("e_as", "E_{AS}", "single-pulse avalanche energy", r.EAS, 2, 1)
	add("i_as", "I_{AS}", "single-pulse avalanche current", r.IAS, 2, s.sign)
	return out
}

// gateLimits prints both limits of V_GS. The turn-on direction of a P channel is negative.
func (s *sheet) gateLimits() string {
	on, other := s.p.Ratings.VGSMax, s.p.Ratings.VGSMin
	switch {
	case !other.Known():
		return signed(s.sign * on.Value)
	case !on.Known():
		return signed(-s.sign * other.Value)
	case on == other:
		return "±" + tidy(on.Value)
	case s.sign > 0:
		return signed(-other.Value) + " to " + signed(on.Value)
	}
	return signed(-on.Value) + " to " + signed(other.Value)
}

func signed(v float64) string {
	if v > 0 {
		return "+" + tidy(v)
	}
	return tidy(v)
}

// network names the circuit of a thermal response.
func network(r *part.Response) string {
	out := "Foster cells"
	if r.Network == part.Cauer {
		out = "Cauer cells"
	}
	if r.To == part.AtCase {
		return out + ", junction to case"
	}
	return out + ", junction to ambient"
}

// column prints the values of one row in one unit, the one that suits the largest,
// with as many decimals as the finest of them has, and at least so many figures.
// A value that is not given is empty.
func column(figures int, qs ...si.Quantity) ([3]string, string) {
	var out [3]string
	lead := si.Quantity{}
	for _, q := range qs {
		if math.Abs(q.Value) > math.Abs(lead.Value) || !lead.Known() {
			lead = q
		}
	}
	text := lead.String()
	if lead.Dim == si.Voltage && math.Abs(lead.Value) >= 0.1 {
		text = lead.Plain()
	}
	_, symbol, _ := strings.Cut(text, " ")
	if lead.Dim == si.Charge && symbol == "pC" { // all charges of a sheet stand in one unit
		symbol = "nC"
	}
	unit, err := si.UnitOf(symbol)
	if err != nil || unit.Dim != lead.Dim { // a lone C reads as °C
		unit = lead.Dim.Unit()
	}
	var digits [3][]byte
	var room [3][24]byte
	places := 0
	for i, q := range qs {
		if !q.Known() {
			continue
		}
		v := si.Round(math.Abs(q.In(unit)), 10)
		digits[i] = strconv.AppendFloat(room[i][:0], v, 'f', -1, 64)
		if dot := strings.IndexByte(string(digits[i]), '.'); dot >= 0 {
			places = max(places, len(digits[i])-dot-1)
		} else if len(digits[i]) < figures {
			places = max(places, figures-len(digits[i]))
		}
	}
	for i, d := range digits {
		if d == nil {
			continue
		}
		have := 0
		if dot := strings.IndexByte(string(d), '.'); dot >= 0 {
			have = len(d) - dot - 1
		} else if places > 0 {
			d = append(d, '.')
		}
		for ; have < places; have++ {
			d = append(d, '0')
		}
		if qs[i].Value < 0 {
			out[i] = "−" + string(d)
		} else {
			out[i] = string(d)
		}
	}
	return out, unit.Symbol
}
