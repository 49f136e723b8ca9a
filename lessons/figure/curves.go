package figure

import (
	"math"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

var (
	celsius = si.MustUnit("°C")
	milli   = si.MustUnit("mΩ")
	plainly = si.MustUnit("Ω")
)

// temperatures from coldest up to the rated junction temperature, in °C: the points
// of the sheet's own table and round values between.
func temperatures(p *part.Part) []float64 {
	top := p.Ratings.Junction.Value
	if !p.Ratings.Junction.Known() || top <= 50 {
		top = 150
	}
	out := []float64{0}
	for t := 25.0; t < top; t += 25 {
		out = append(out, t)
	}
	return append(out, top)
}

// RatioCurve plots k(T_J), how far R_DS(on) rises above its value at 25 °C, by
// [part.Part.Ratio]: the sheet's own curve, or the usual rise of its voltage class.
func RatioCurve(p *part.Part) Figure {
	k := &Plot{Title: "Rise of R_{DS(on)} with temperature" + ofPart(p)}
	_, own := p.Ratio(25)
	k.Desc = "R_DS(on) over its value at 25" + nbsp + "°C, typical, against the junction temperature."
	if !own {
		k.Desc += " The sheet gives no curve; this is the usual rise for its voltage."
	}
	var pts []XY
	most := 1.0
	for _, t := range temperatures(p) {
		y, _ := p.Ratio(t)
		most = max(most, y)
		pts = append(pts, XY{t, y})
	}
	for _, t := range p.Characteristics.Ratio { // the corners of the sheet's own curve
		pts = insert(pts, XY{t.Temperature.Value, t.Ratio.Value})
	}
	k.X = Axis{Label: "junction temperature T_{J}", Unit: celsius, Step: 25, Max: pts[len(pts)-1].X}
	k.Y = Axis{Label: "R_{DS(on)} over its value at 25" + nbsp + "°C", Min: 0.5, Max: math.Ceil(most*4+0.2) / 4}
	if pts[0].Y < 0.6 {
		k.Y.Min = 0
	}
	k.X.Min = min(0, pts[0].X)
	k.Series = []Series{{Name: "typical", Points: pts, Role: Accent}}
	return k.Draw()
}

// ResistanceCurve plots the largest R_DS(on) of each guaranteed row against the
// junction temperature: the row's value at 25 °C times k(T_J).
func ResistanceCurve(p *part.Part) Figure {
	r := &Plot{Title: "Largest R_{DS(on)} against temperature" + ofPart(p), At: temperatures(p)}
	r.Desc = "The largest on-resistance of each guaranteed row, from its value at 25" + nbsp + "°C and the rise with the junction temperature."
	r.X = Axis{Label: "junction temperature T_{J}", Unit: celsius, Step: 25, Max: r.At[len(r.At)-1]}
	r.Y = Axis{Label: "R_{DS(on)}, max", Unit: milli}
	sign := ""
	if p.Channel == part.P {
		sign = "−"
	}
	dashes := [...]Dash{Solid, Dashed, Dotted}
	for i, row := range p.Characteristics.RDSOn {
		if !row.Max.Known() {
			continue
		}
		s := Series{Name: "V_{GS} = " + sign + value(row.VGS), Dash: dashes[i%len(dashes)]}
		at := append([]float64(nil), r.At...)
		for _, t := range p.Characteristics.Ratio {
			at = append(at, t.Temperature.Value)
		}
		for _, t := range at {
			k, _ := p.Ratio(t)
			if t <= r.X.Max {
				s.Points = insert(s.Points, XY{t, row.Max.Value * k})
				r.Y.Max = max(r.Y.Max, row.Max.Value*k)
			}
		}
		r.X.Min = min(r.X.Min, s.Points[0].X)
		r.Series = append(r.Series, s)
	}
	if r.Y.Max == 0 {
		r.Y.Max = 1
	}
	if r.Y.Max >= 1 {
		r.Y.Unit = plainly
	}
	step := linearStep(r.Y.Max / 5)
	r.Y.Max = math.Ceil(r.Y.Max/step+0.2) * step
	return r.Draw()
}

// ofPart names the part in a title.
func ofPart(p *part.Part) string {
	if p.Name == "" {
		return ""
	}
	return ", " + p.Name
}

// insert puts a point among others by rising X; one at the same X is not doubled.
func insert(pts []XY, p XY) []XY {
	i := 0
	for i < len(pts) && pts[i].X < p.X {
		i++
	}
	if i < len(pts) && pts[i].X == p.X {
		return pts
	}
	pts = append(pts, XY{})
	copy(pts[i+1:], pts[i:])
	pts[i] = p
	return pts
}
