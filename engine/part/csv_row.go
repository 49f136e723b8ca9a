package part

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fullyon/engine/read"
)

// tableRow is one line of a table of parts.
type tableRow struct {
	cells []string
	at    []read.Pos // of each cell; columns counted in bytes still
}

// rowText turns a row into the text of a part, one value a line, so that Read
// says of it all that it says of a part in a circuit file, and each line leads
// back to the cell that it came from.
type rowText struct {
	strings.Builder
	from  []int // the cell of each line
	notes []cellNote
}

type cellNote struct {
	cell int
	msg  string
}

func (w *rowText) line(cell int, text string) {
	w.WriteString(text)
	w.WriteByte('\n')
	w.from = append(w.from, cell)
}

func (w *rowText) note(cell int, format string, args ...any) {
	w.notes = append(w.notes, cellNote{cell, fmt.Sprintf(format, args...)})
}

// bareNumber is a number as a spreadsheet writes it, without a unit.
var bareNumber = regexp.MustCompile(`^[-+−]?[0-9]*[.,]?[0-9]+(?:[eE][-+]?[0-9]+)?$`)

// content is a cell with its unit, and false when nothing stands in it. Behind a
// separator that is no comma, a comma is a decimal one.
func content(cell string, c column, separator rune) (string, bool) {
	s := strings.TrimSpace(strings.ReplaceAll(cell, "\u00a0", " "))
	switch s {
	case "", "-", "–", "—":
		return "", false
	}
	if p := plainByName[c.key]; p != nil && p.text || !bareNumber.MatchString(s) {
		return s, true
	}
	if separator != ',' {
		s = strings.Replace(s, ",", ".", 1)
	}
	if c.unit != "" && c.unit != "1" {
		s += " " + c.unit
	}
	return s, true
}

// filled is a cell of a row in which something stands.
type filled struct {
	column
	cell int
	says string
}

// compose writes the text of a row.
func compose(columns []column, cells []string, separator rune) *rowText {
	w := &rowText{}
	plain := make(map[string]filled, len(columns))
	var rows, ratios, thermal []filled
	for i, c := range columns {
		s, ok := content(cells[i], c, separator)
		if !ok || c.key == "" {
			continue
		}
		f := filled{c, i, s}
		switch c.key {
		case rowKey:
			rows = append(rows, f)
		case ratioKey:
			ratios = append(ratios, f)
		case cellR, cellTau:
			thermal = append(thermal, f)
		default:
			plain[c.key] = f
		}
	}
	w.together(plain, "q_g", "q_g_at")
	w.together(plain, "v_gs_reverse", "v_gs")
	block := ""
	for i := range plainColumns {
		p := &plainColumns[i]
		f, ok := plain[p.name]
		if p.name == "theta_jc" {
			block = w.lists(block, rows, ratios, thermal, plain)
		}
		if !ok || p.name == "v_gs_reverse" || strings.HasPrefix(p.name, cellKeys) {
			continue
		}
		if r, ok := plain["v_gs_reverse"]; ok && p.name == "v_gs" {
			block = w.open(block, "ratings.v_gs", f.cell)
			w.line(f.cell, "    max: "+quoted(f))
			w.line(r.cell, "    min: "+quoted(r))
			continue
		}
		parent, key := cutLast(p.path)
		block = w.open(block, parent, f.cell)
		w.line(f.cell, strings.Repeat("  ", strings.Count(p.path, "."))+key+": "+quoted(f))
	}
	return w
}

// cellKeys begin the names of all columns of the thermal response.
const cellKeys = "z_th_"

// together notes a value whose partner is missing.
func (w *rowText) together(plain map[string]filled, key, partner string) {
	f, ok := plain[key]
	if _, both := plain[partner]; ok && !both {
		w.note(f.cell, "%s needs %s beside it, in a column of its own", key, partner)
		delete(plain, key)
	}
}

func cutLast(path string) (parent, key string) {
	i := strings.LastIndexByte(path, '.')
	return path[:max(i, 0)], path[i+1:]
}

// open writes the headings that lead from one block of the text to another.
func (w *rowText) open(from, to string, cell int) string {
	if from == to || to == "" {
		return to
	}
	was, now := strings.Split(from, "."), strings.Split(to, ".")
	same := 0
	for same < len(was) && same < len(now) && was[same] == now[same] {
		same++
	}
	for i := same; i < len(now); i++ {
		w.line(cell, strings.Repeat("  ", i)+now[i]+":")
	}
	return to
}

// quoted writes a cell so that nothing in it is taken for a mark of the file's grammar.
func quoted(f filled) string {
	if bareNumber.MatchString(f.says) && plainByName[f.key] == nil {
		return strings.Replace(f.says, "−", "-", 1) // a plain number is a ratio
	}
	return strconv.Quote(f.says)
}

// lists writes what takes several columns; all of it belongs to the characteristics.
func (w *rowText) lists(block string, rows, ratios, thermal []filled, plain map[string]filled) string {
	const to = "characteristics"
	byPlace := func(a, b filled) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.cell, b.cell)) }
	slices.SortFunc(rows, func(a, b filled) int { // a P-channel sheet has them with a minus sign
		return cmp.Or(cmp.Compare(math.Abs(a.at), math.Abs(b.at)), byPlace(a, b))
	})
	for i, f := range rows {
		if i == 0 {
			block = w.open(block, to, f.cell)
			w.line(f.cell, "  r_ds_on:")
		}
		if i == 0 || rows[i-1].at != f.at {
			w.line(f.cell, "    - v_gs: "+strconv.Quote(f.text))
		}
		w.line(f.cell, "      "+f.part+": "+quoted(f))
	}
	slices.SortFunc(ratios, byPlace)
	if len(ratios) > 0 {
		block = w.open(block, to, ratios[0].cell)
		w.ratios(ratios)
	}
	return w.response(block, thermal, plain)
}

// ratios writes the rise of the resistance. It is normalised to 25 °C, so that
// this point need not have a column of its own.
func (w *rowText) ratios(ratios []filled) {
	w.line(ratios[0].cell, "  r_ds_on_ratio:")
	normal := filled{column: column{key: ratioKey, at: reference, text: "25 C"}, cell: ratios[0].cell, says: "1"}
	if i, found := slices.BinarySearchFunc(ratios, reference, func(f filled, t float64) int { return cmp.Compare(f.at, t) }); !found {
		ratios = slices.Insert(ratios, i, normal)
	}
	for _, f := range ratios {
		w.line(f.cell, "    - - "+strconv.Quote(f.text))
		w.line(f.cell, "      - "+quoted(f))
	}
}

// response writes the thermal response: pairs of z_th_r and z_th_tau by number.
func (w *rowText) response(block string, cells []filled, plain map[string]filled) string {
	to, hasTo := plain["z_th_to"]
	network, hasNetwork := plain["z_th_network"]
	switch {
	case len(cells) == 0 && hasTo:
		w.note(to.cell, "z_th_to says where a thermal response leads, and there are no cells; fill z_th_r1 and z_th_tau1, or leave this empty")
		return block
	case len(cells) == 0:
		return block
	case !hasTo || !hasNetwork:
		w.note(cells[0].cell, "a thermal response needs z_th_to (case or ambient) and z_th_network (foster or cauer) beside its cells")
		return block
	}
	slices.SortFunc(cells, func(a, b filled) int { return cmp.Or(cmp.Compare(a.n, b.n), cmp.Compare(a.key, b.key)) })
	block = w.open(block, "characteristics.z_th", cells[0].cell)
	w.line(to.cell, "    to: "+quoted(to))
	w.line(network.cell, "    network: "+quoted(network))
	w.line(cells[0].cell, "    cells:")
	for i := 0; i < len(cells); i++ {
		r := cells[i]
		if i+1 == len(cells) || cells[i+1].n != r.n {
			w.note(r.cell, "cell %d of the thermal response needs both z_th_r%d and z_th_tau%d", r.n, r.n, r.n)
			continue
		}
		i++
		w.line(r.cell, "      - - "+quoted(r))
		w.line(cells[i].cell, "        - "+quoted(cells[i]))
	}
	return block
}
