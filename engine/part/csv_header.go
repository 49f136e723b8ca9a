package part

import (
	"fmt"
	"regexp"
	"strings"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// column is what one column of a table of parts holds.
type column struct {
	key  string // a plain column's name, or rowKey, ratioKey, cellR, cellTau
	part string // of a row: typ, max or i_d
	at   float64
	text string // of at, as a circuit file has it
	unit string // behind a bare number; may be empty
	n    int    // of a cell of the thermal response, from 1
}

// Keys of the columns that come several times.
const (
	rowKey   = "r_ds_on@"
	ratioKey = "r_ds_on_ratio@"
	cellR    = "z_th_r"
	cellTau  = "z_th_tau"
)

// plainColumn is a column that comes once, in the order of the template.
type plainColumn struct {
	name string
	dim  si.Dim // meaningless for texts
	text bool
	unit string // that the template writes
	path string // in a circuit file, with dots
}

// plainColumns have the flat names that the program uses everywhere.
var plainColumns = []plainColumn{
	{name: "name", text: true, path: "name"},
	{name: "channel", text: true, path: "channel"},
	{name: "package", text: true, path: "package"},
	{name: "note", text: true, path: "note"},
	{name: "v_ds", dim: si.Voltage, unit: "V", path: "ratings.v_ds"},
	{name: "v_gs", dim: si.Voltage, unit: "V", path: "ratings.v_gs"},
	{name: "v_gs_reverse", dim: si.Voltage, unit: "V", path: "ratings.v_gs"},
	{name: "i_d", dim: si.Current, unit: "A", path: "ratings.i_d"},
	{name: "i_d_at", text: true, path: "ratings.i_d_at"},
	{name: "i_d_pulse", dim: si.Current, unit: "A", path: "ratings.i_d_pulse"},
	{name: "t_j", dim: si.Temperature, unit: "C", path: "ratings.t_j"},
	{name: "e_as", dim: si.Energy, unit: "mJ", path: "ratings.e_as"},
	{name: "i_as", dim: si.Current, unit: "A", path: "ratings.i_as"},
	{name: "v_gs_th_min", dim: si.Voltage, unit: "V", path: "characteristics.v_gs_th.min"},
	{name: "v_gs_th_typ", dim: si.Voltage, unit: "V", path: "characteristics.v_gs_th.typ"},
	{name: "v_gs_th_max", dim: si.Voltage, unit: "V", path: "characteristics.v_gs_th.max"},
	{name: "v_gs_th_at", dim: si.Current, unit: "uA", path: "characteristics.v_gs_th.at.i_d"},
	{name: "q_g", dim: si.Charge, unit: "nC", path: "characteristics.q_g.value"},
	{name: "q_g_at", dim: si.Voltage, unit: "V", path: "characteristics.q_g.at.v_gs"},
	{name: "q_gs", dim: si.Charge, unit: "nC", path: "characteristics.q_gs"},
	{name: "q_gd", dim: si.Charge, unit: "nC", path: "characteristics.q_gd"},
	{name: "v_plateau", dim: si.Voltage, unit: "V", path: "characteristics.v_plateau"},
	{name: "r_gate", dim: si.Resistance, unit: "ohm", path: "characteristics.r_gate"},
	{name: "c_iss", dim: si.Capacitance, unit: "pF", path: "characteristics.c_iss"},
	{name: "c_oss", dim: si.Capacitance, unit: "pF", path: "characteristics.c_oss"},
	{name: "c_rss", dim: si.Capacitance, unit: "pF", path: "characteristics.c_rss"},
	{name: "v_sd", dim: si.Voltage, unit: "V", path: "characteristics.v_sd"},
	{name: "z_th_to", text: true, path: "characteristics.z_th.to"},
	{name: "z_th_network", text: true, path: "characteristics.z_th.network"},
	{name: "theta_jc", dim: si.ThermalResistance, unit: "K/W", path: "thermal.theta_jc"},
	{name: "theta_ja", dim: si.ThermalResistance, unit: "K/W", path: "thermal.theta_ja"},
}

var plainByName = func() map[string]*plainColumn {
	m := make(map[string]*plainColumn, len(plainColumns))
	for i := range plainColumns {
		m[plainColumns[i].name] = &plainColumns[i]
	}
	return m
}()

var (
	unitInHeader = regexp.MustCompile(`^(.*?)\s*[\[(]\s*([^\[\]()]*?)\s*[\])]$`)
	rowHeader    = regexp.MustCompile(`^r_ds_on(?:_(typ|max|i_d))?_?@_?([^_]+?)(?:_(typ|max|i_d))?$`)
	ratioHeader  = regexp.MustCompile(`^r_ds_on_ratio_?@_?(.+)$`)
	cellHeader   = regexp.MustCompile(`^z_th_(r|tau)_?([0-9]{1,3})$`)
	spaces       = regexp.MustCompile(`[\s\x{00a0}\x{202f}-]+`)
)

// columnOf reads one cell of the header.
func columnOf(cell string) (column, error) {
	name, unit := strings.TrimSpace(cell), ""
	if m := unitInHeader.FindStringSubmatch(name); m != nil {
		name, unit = m[1], m[2]
	}
	flat := spaces.ReplaceAllString(strings.TrimSpace(name), "_")
	lower := strings.ToLower(flat)
	c := column{unit: unit}
	var dim si.Dim
	switch {
	case lower == "":
		return c, fmt.Errorf("this column has no name; name it, or delete it")
	case plainByName[lower] != nil:
		p := plainByName[lower]
		c.key, dim = p.name, p.dim
		if p.text {
			if unit != "" {
				return c, fmt.Errorf("%s is a text and has no unit", p.name)
			}
			return c, nil
		}
	case ratioHeader.MatchString(lower):
		m := ratioHeader.FindStringSubmatch(flatCase(flat, lower))
		q, err := si.Parse(strings.ReplaceAll(m[1], "_", " "), si.Temperature)
		if err != nil {
			return c, fmt.Errorf("the temperature of %s: %v; write it as r_ds_on_ratio@100C", name, err)
		}
		c.key, c.at, c.text, dim = ratioKey, q.Value, text(q), si.One
	case rowHeader.MatchString(lower):
		m := rowHeader.FindStringSubmatch(flatCase(flat, lower))
		q, err := si.Parse(m[2], si.Voltage)
		if err != nil {
			return c, fmt.Errorf("the gate voltage of %s: %v; write it as r_ds_on@4.5V max", name, err)
		}
		c.key, c.at, c.text, dim = rowKey, q.Value, text(q), si.Resistance
		switch c.part = m[1] + m[3]; c.part {
		case "":
			c.part = "max"
		case "i_d":
			dim = si.Current
		case "typ", "max":
		default:
			return c, fmt.Errorf("%s names two columns at once; write r_ds_on@4.5V typ, r_ds_on@4.5V max or r_ds_on@4.5V i_d", name)
		}
	case cellHeader.MatchString(lower):
		m := cellHeader.FindStringSubmatch(lower)
		c.key, dim = cellR, si.ThermalResistance
		if m[1] == "tau" {
			c.key, dim = cellTau, si.Time
		}
		fmt.Sscanf(m[2], "%d", &c.n)
		if c.n < 1 || c.n > maxCells {
			return c, fmt.Errorf("%s: cells are numbered from 1 to %d", name, maxCells)
		}
	default:
		return c, unknownColumn(name, lower)
	}
	return c, fits(name, unit, dim)
}

// flatCase keeps the case of units, since V and C are capitals, and drops that of keys.
func flatCase(flat, lower string) string {
	i := strings.IndexByte(lower, '@')
	rest := flat[i:]
	for _, p := range []string{"_typ", "_max", "_i_d"} {
		if strings.HasSuffix(strings.ToLower(rest), p) {
			rest = rest[:len(rest)-len(p)] + p
		}
	}
	return lower[:i] + rest
}

// fits checks the unit of a header against what its column holds.
func fits(name, unit string, dim si.Dim) error {
	if unit == "" {
		return nil
	}
	_, err := si.Parse("1 "+unit, dim)
	if err != nil {
		return fmt.Errorf("the unit of %s: %v", name, err)
	}
	return nil
}

func unknownColumn(name, lower string) error {
	base, _, at := strings.Cut(lower, "@")
	known := []string{"r_ds_on@4.5V max", "r_ds_on_ratio@100C", cellR + "1", cellTau + "1"}
	if at {
		known = []string{"r_ds_on", "r_ds_on_ratio"}
	} else {
		for _, p := range plainColumns {
			known = append(known, p.name)
		}
	}
	switch near := read.Nearest(base, known); {
	case at && near != "":
		return fmt.Errorf("there is no column %q; the nearest is %s@…", name, near)
	case near != "":
		return fmt.Errorf("there is no column %q; the nearest is %s", name, near)
	case strings.HasPrefix(base, "r_ds_on"):
		return fmt.Errorf("there is no column %q; a row of on-resistance is written r_ds_on@4.5V max, with the gate voltage it holds at", name)
	}
	return fmt.Errorf("there is no column %q; the template lists all of them", name)
}

// header reads the first line of a table. Each mistake is noted through note.
func header(cells []string, note func(field int, msg string)) []column {
	columns := make([]column, len(cells))
	seen := map[column]int{}
	has := map[string]bool{}
	for i, cell := range cells {
		c, err := columnOf(cell)
		has[c.key] = true // even where it is not as it should be
		if err != nil {
			note(i, err.Error())
			continue
		}
		id := c
		id.unit = ""
		if first, ok := seen[id]; ok {
			note(i, fmt.Sprintf("column %d is %s already; a column comes once", first+1, strings.TrimSpace(cells[first])))
			continue
		}
		seen[id] = i
		columns[i] = c
	}
	for _, need := range []string{"name", "channel"} {
		if !has[need] {
			note(0, fmt.Sprintf("there is no column %s; every part needs one. The first line of the file must name the columns", need))
		}
	}
	return columns
}
