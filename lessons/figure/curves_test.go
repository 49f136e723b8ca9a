package figure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"fullyon/engine/part"
	"fullyon/engine/si"

	"pgregory.net/rapid"
)

// everyCurve calls do for each curve of each part of the drawer, wide and narrow.
func everyCurve(t *testing.T, do func(p *part.Part, id string, f *Figure)) {
	t.Helper()
	for _, p := range part.Drawer() {
		for _, id := range part.CurveIDs() {
			for _, width := range []float64{curveWide, curveNarrow} {
				f, err := curve(&p, id, width, nil)
				if err != nil {
					if absent := (*part.NoCurve)(nil); !errors.As(err, &absent) {
						t.Errorf("%s: %v", p.Name, err)
					}
					continue
				}
				do(&p, id, &f)
			}
		}
	}
}

// wellDrawn is what every curve owes: texts clear of one another and of lines, a
// name at every line, well-formed SVG, a table whose values stand in the facts.
func wellDrawn(f *Figure, names int) error {
	if s := crowded(f.Scene); s != "" {
		return errors.New(s)
	}
	svg := f.SVG("p")
	if err := wellFormed(svg, "p"); err != nil {
		return err
	}
	if n := named(f); n < names {
		return fmt.Errorf("of %d lines %d are named", names, n)
	}
	if len(f.Table.Rows) < 3 {
		return fmt.Errorf("a table of %d rows", len(f.Table.Rows))
	}
	facts, html, text := strings.Join(f.Facts, "\n"), f.Table.HTML("t"), f.Table.Text()
	for _, r := range f.Table.Rows {
		for _, v := range r {
			if v != "–" && (!strings.Contains(facts, v) || !strings.Contains(html, ">"+v+"<") || !strings.Contains(text, v)) {
				return fmt.Errorf("%s is missing", v)
			}
		}
	}
	return nil
}

// named counts the lines whose names stand in the drawing.
func named(f *Figure) int {
	texts := map[string]bool{}
	for i := range f.Scene.Shapes {
		if s := &f.Scene.Shapes[i]; s.Kind == Text {
			for _, one := range strings.Split(flat(s.Text), ", D") {
				texts[one] = true
			}
			for _, one := range strings.Split(flat(s.Text), ", ") {
				texts[one] = true
			}
			texts[flat(s.Text)] = true
		}
	}
	n := 0
	for i := range f.Scene.Shapes {
		for _, a := range f.Scene.Shapes[i].Data {
			if a.Name == "name" && (texts[a.Value] || texts[strings.TrimPrefix(a.Value, "D")]) {
				n++
			}
		}
	}
	return n
}

// linesOf counts the lines of a curve.
func linesOf(f *Figure) int { return len(f.Table.Columns) - 1 }

func TestCurvesAreLegible(t *testing.T) {
	everyCurve(t, func(p *part.Part, id string, f *Figure) {
		if err := wellDrawn(f, linesOf(f)); err != nil {
			t.Errorf("%s, %s, %g wide: %v", p.Name, id, f.Scene.Width, err)
		}
	})
}

func TestCurvesOfGeneratedParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := part.Generate(rapid.Uint64().Draw(t, "seed"), part.Wish{})
		id := rapid.SampledFrom(part.CurveIDs()).Draw(t, "curve")
		width := rapid.SampledFrom([]float64{curveWide, curveNarrow}).Draw(t, "width")
		f, err := curve(&p, id, width, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := wellDrawn(&f, linesOf(&f)); err != nil {
			t.Errorf("%s, %s: %v", p.Name, id, err)
		}
	})
}

// The table passes through the sheet's own points.
func TestCurveHoldsTheSheet(t *testing.T) {
	for _, p := range part.Drawer() {
		f, err := Curve(&p, "r_ds_on_ratio")
		if err != nil {
			t.Fatal(err)
		}
		for _, pt := range p.Characteristics.Ratio {
			row(t, &f, tidy(pt.Temperature.Value), threeFigures(pt.Ratio, si.Unit{}))
		}
		if f, err = Curve(&p, "r_ds_on"); err != nil {
			continue
		}
		for _, r := range p.Characteristics.RDSOn {
			if r.Max.Known() {
				row(t, &f, tidy(r.VGS.Value), threeFigures(r.Max, si.MustUnit("mΩ")))
			}
		}
	}
}

func row(t *testing.T, f *Figure, head, want string) {
	t.Helper()
	for _, r := range f.Table.Rows {
		if r[0] == head {
			if r[len(r)-1] != want {
				t.Errorf("%s at %s: %v, want %s", f.Title, head, r, want)
			}
			return
		}
	}
	t.Errorf("%s has no row at %s", f.Title, head)
}

// The grid is so fine that a value lies within 5 % of a line, or two lines of the
// grid stand so near that a fifth of their distance, which the eye can tell, is 5 %.
func TestGridIsFineEnough(t *testing.T) {
	everyCurve(t, func(p *part.Part, id string, f *Figure) {
		if f.Scene.Width < curveWide {
			return
		}
		k := gridOf(f)
		if k.log {
			if gap := math.Log(k.widest) / 5; gap > 0.145 {
				t.Errorf("%s, %s: lines stand a factor %.2f apart", p.Name, id, k.widest)
			}
			return
		}
		if share := k.widest / 5; share > 0.05*0.2 {
			t.Errorf("%s, %s: lines stand %.3f of the axis apart", p.Name, id, k.widest)
		}
	})
}

type grid struct {
	log    bool
	widest float64 // ratio of neighbours, or share of the axis
}

// gridOf looks at the level lines of the grid.
func gridOf(f *Figure) grid {
	at := map[string]float64{}
	log := false
	for _, a := range f.Scene.Data {
		if a.Name == "y-scale" {
			log = a.Value == "log"
		}
		at[a.Name], _ = strconv.ParseFloat(a.Value, 64)
	}
	var ys []float64
	for i := range f.Scene.Shapes {
		s := &f.Scene.Shapes[i]
		if s.Kind != Path || s.Pen.Stroke != Rule {
			continue
		}
		steps := f.Scene.Steps(s)
		for j := 1; j < len(steps); j++ {
			if steps[j].Op == LineTo && steps[j].Y == steps[j-1].Y {
				ys = append(ys, steps[j].Y)
			}
		}
	}
	out := grid{log: log}
	for _, y := range ys {
		next := math.Inf(1)
		for _, o := range ys {
			if o > y+0.01 {
				next = math.Min(next, o)
			}
		}
		if math.IsInf(next, 1) {
			continue
		}
		share := (next - y) / (at["y0"] - at["y1"])
		if log {
			out.widest = math.Max(out.widest, math.Pow(at["y-max"]/at["y-min"], share))
		} else {
			out.widest = math.Max(out.widest, share)
		}
	}
	return out
}

// Before marking neither the table nor the facts hold the value asked for, and who
// cannot see the drawing gets it by a straight line between two rows.
func TestCurveAround(t *testing.T) {
	asked := map[string][]float64{
		"transfer": {3.1, 4.5}, "output": {0.1, 0.25}, "r_ds_on": {4.75, 6.2}, "r_ds_on_ratio": {85, 100}, "gate_charge": {3e-9},
		"z_th": {1e-4, 2e-3, 0.35}, "soa": {5, 12}, "derating": {70, 75}, "power": {60, 50},
	}
	for _, p := range part.Drawer() {
		for id, xs := range asked {
			c, err := p.Curve(id)
			if err != nil {
				continue
			}
			for _, x := range xs {
				f, err := CurveAround(&p, id, x)
				if err != nil {
					t.Fatal(err)
				}
				for i := range c.Series {
					y, err := c.At(x, i)
					if err != nil || !c.Y.Log && y < 0.02*c.Y.Max { // nobody reads that off
						continue
					}
					if got, ok := interpolated(&f, c, x, i); ok && math.Abs(got-y) > 0.02*y+1e-12 {
						t.Errorf("%s, %s at %g, line %d: %g from the table, %g on the curve", p.Name, id, x, i, got, y)
					} else if !ok {
						t.Errorf("%s, %s at %g, line %d: the table does not reach", p.Name, id, x, i)
					}
				}
				head := tidy(x)
				if c.X.Unit.Dim == si.Time {
					k := Axis{Unit: c.X.Unit, Prefixed: true}
					head = k.cell(x)
				}
				for _, r := range f.Table.Rows {
					if r[0] == head {
						t.Errorf("%s, %s: the table holds %s", p.Name, id, head)
					}
				}
				if strings.Contains(strings.Join(f.Facts, "\n")+";", " at "+head+";") {
					t.Errorf("%s, %s: the facts hold %s", p.Name, id, head)
				}
			}
		}
	}
}

// interpolated reads the printed table as a person with a pencil does.
func interpolated(f *Figure, c *part.Curve, x float64, series int) (float64, bool) {
	var before XY
	have := false
	for _, r := range f.Table.Rows {
		at, y := printed(r[0], c.X.Unit), printed(r[series+1], c.Y.Unit)
		if math.IsNaN(y) {
			have = false
			continue
		}
		if have && before.X < x && x < at {
			return before.Y + (y-before.Y)*(x-before.X)/(at-before.X), true
		}
		before, have = XY{at, y}, true
	}
	return 0, false
}

// printed reads a cell, with or without its unit.
func printed(cell string, u si.Unit) float64 {
	for _, text := range []string{cell, cell + " " + u.Symbol} {
		if v, err := si.Parse(text, u.Dim); err == nil {
			return v.Value
		}
	}
	return math.NaN()
}

func BenchmarkCurve(b *testing.B) {
	p := part.Generate(1, part.Wish{})
	for _, id := range part.CurveIDs() {
		b.Run(id, func(b *testing.B) {
			for b.Loop() {
				f, err := Curve(&p, id)
				if err != nil {
					b.Fatal(err)
				}
				f.SVG("p")
			}
		})
	}
}
