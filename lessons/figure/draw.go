package figure

import (
	"errors"
	"fmt"
	"slices"

	"fullyon/engine"
	"fullyon/engine/part"
)

// Subject is what a figure is drawn of.
type Subject struct {
	Circuit *engine.Circuit // nil where there is none
	Part    *part.Part      // nil takes the circuit's
	Rows    []string        // of a datasheet; nil shows all
	Bench   []string        // what lies on a bench
	// Asked gives the places at which a curve is to be read before marking; nil, or
	// none, shows its usual table. See [CurveAround].
	Asked func(curve string) []float64
}

// Drawing is a figure ready for a page.
type Drawing struct {
	Wide   []Figure // one below the other
	Narrow []Figure // the same for a narrow page; nil where Wide serves there too
	Sheet  *Table   // of a datasheet, in place of figures
}

// Kinds lists what [Draw] can draw.
func Kinds() []string {
	kinds := append([]string{"schematic", "datasheet", ratioCurve}, part.CurveIDs()...)
	return append(kinds, "cross_section", "thermal_ladder", "waveforms", "kick", "rush", "bipolar", "bench")
}

// Draw draws a figure by its kind. The error says what is missing for it, in a
// sentence that can stand in the figure's place.
func Draw(kind string, s Subject) (Drawing, error) {
	p := s.Part
	if p == nil && s.Circuit != nil && s.Circuit.HasPart() {
		p = &s.Circuit.Part
	}
	one := func(f Figure, err error) (Drawing, error) { return Drawing{Wide: []Figure{f}}, err }
	switch {
	case kind == "bench":
		return one(Bench(s.Bench))
	case kind == "datasheet" || kind == ratioCurve || slices.Contains(part.CurveIDs(), kind):
		if p == nil {
			return Drawing{}, errors.New("there is nothing to draw: no part is known")
		}
		if kind == "datasheet" {
			t := Datasheet(p, s.Rows)
			return Drawing{Sheet: &t}, nil
		}
		return s.curve(p, kind)
	case s.Circuit == nil:
		return Drawing{}, errors.New("there is nothing to draw: no circuit is known")
	}
	switch kind {
	case "schematic":
		return Drawing{Wide: []Figure{Schematic(s.Circuit, Options{})}}, nil
	case "cross_section":
		return one(CrossSection(s.Circuit))
	case "thermal_ladder":
		return one(ThermalLadder(s.Circuit))
	case "waveforms":
		return one(Waveforms(s.Circuit))
	case "rush":
		return one(Rush(s.Circuit))
	case "bipolar":
		return one(Compared(s.Circuit))
	case "kick":
		fs, err := Kick(s.Circuit)
		return Drawing{Wide: fs}, err
	}
	return Drawing{}, fmt.Errorf("there is no figure %q", kind)
}

func (s *Subject) curve(p *part.Part, id string) (Drawing, error) {
	var asked []float64
	if s.Asked != nil {
		asked = s.Asked(CurveName(id))
	}
	wide, err := curve(p, id, curveWide, asked)
	if err != nil {
		return Drawing{}, err
	}
	narrow, err := curve(p, id, curveNarrow, asked)
	return Drawing{Wide: []Figure{wide}, Narrow: []Figure{narrow}}, err
}

// HTML writes the drawing for a page. All ids start with id.
func (d *Drawing) HTML(id string) string {
	if d.Sheet != nil {
		return d.Sheet.HTML(id)
	}
	out := ""
	for i := range d.Wide {
		own := id
		if len(d.Wide) > 1 {
			own = fmt.Sprintf("%s-%d", id, i+1)
		}
		if d.Narrow != nil {
			out += Responsive(own, &d.Wide[i], &d.Narrow[i])
		} else {
			out += d.Wide[i].SVG(own)
		}
	}
	return out
}

// Facts are all facts of the drawing but the points of plots, which [Drawing.Points] has.
func (d *Drawing) Facts() []string {
	var out []string
	for i := range d.Wide {
		f := &d.Wide[i]
		if f.Table != nil {
			out = append(out, f.Desc)
			continue
		}
		out = append(out, f.Facts...)
	}
	return out
}

// Points are the tables of the plots, as HTML; empty where there are none.
func (d *Drawing) Points(id string) string {
	out := ""
	for i := range d.Wide {
		if t := d.Wide[i].Table; t != nil {
			out += t.HTML(fmt.Sprintf("%s-%d", id, i+1))
		}
	}
	return out
}

// Text writes the drawing for a terminal.
func (d *Drawing) Text() string {
	if d.Sheet != nil {
		return d.Sheet.Text()
	}
	out := ""
	for i := range d.Wide {
		f := &d.Wide[i]
		if f.Table != nil {
			out += f.Table.Text()
			continue
		}
		for _, fact := range f.Facts {
			out += "  " + fact + "\n"
		}
	}
	return out
}
