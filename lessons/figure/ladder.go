package figure

import (
	"fmt"

	"fullyon/engine"
	"fullyon/engine/si"
)

// known asks the engine for quantities and remembers the first that it cannot give.
type known struct {
	z   *engine.Sizing
	err error
}

func knownOf(c *engine.Circuit) *known { return &known{z: engine.NewSizing(c)} }

// get is a quantity that the figure cannot do without.
func (k *known) get(name string) si.Quantity {
	q, err := k.z.Quantity(name)
	if err != nil && k.err == nil {
		k.err = fmt.Errorf("there is nothing to draw: %w", err)
	}
	return q
}

// maybe is a quantity that may be absent.
func (k *known) maybe(name string) (si.Quantity, bool) {
	q, err := k.z.Quantity(name)
	return q, err == nil && q.Known()
}

// rung is one place along the way of the heat.
type rung struct {
	name string
	at   si.Quantity // temperature
	down string      // symbol of the thermal resistance to the next place
	by   si.Quantity
}

// ThermalLadder draws the way of the heat from the junction to the air, with the
// thermal resistances and temperatures of the circuit as the engine works them out.
func ThermalLadder(c *engine.Circuit) (Figure, error) {
	k := knownOf(c)
	heat, tj, air := k.get("loss_total"), k.get("junction_temperature"), k.get("ambient")
	if k.err != nil {
		return Figure{}, k.err
	}
	rungs := ladder(c, k, heat, tj, air)
	s := newScene("ladder", 24)
	s.Width = 330
	const x, top, step = 92.0, 76.0, 78.0
	s.label(Ink, 14, x, 20, Middle, "heat P = "+bound(heat.Figures(3))).Bold = true
	s.poly(wire, x, 28, x, top-12)
	s.shape(mark, x, top-8, x-5, top-19, x+5, top-19)
	for i, r := range rungs {
		y := top + float64(i)*step
		if i < len(rungs)-1 {
			s.resistor(x, y, y+step, 14, 34)
			s.label(Ink, 14, x+20, y+step/2-3, Start, r.down)
			s.label(Ink, 14, x+20, y+step/2+15, Start, bound(r.by.Figures(3)))
			rise := si.Of(r.at.Value-rungs[i+1].at.Value, si.TemperatureDifference)
			s.label(Soft, 13, s.Width-24, y+step/2+6, End, "falls "+bound(rise.Figures(2)))
		}
		s.circle(mark, x, y, 3.4)
		s.label(Ink, 14, x-14, y+5, End, r.name)
		s.label(Ink, 15, x+20, y+5, Start, temperature(r.at)).Bold = true
	}
	y := top + float64(len(rungs)-1)*step
	s.poly(wire, x-26, y+14, x+26, y+14)
	s.poly(wire, x, y, x, y+14)
	for i := range 5 {
		s.poly(fine, x-22+float64(i)*11, y+14, x-28+float64(i)*11, y+22)
	}
	s.Height = y + 34
	f := Figure{Title: "The way of the heat" + ofPart(&c.Part), Scene: s,
		Desc: "A ladder of thermal resistances. The heat of the part goes in at the junction and leaves into the air; over each resistance the temperature falls by θ times P."}
	f.Facts = append(f.Facts, "Heat made in the part: "+bound(heat.Figures(3)))
	for i, r := range rungs {
		f.Facts = append(f.Facts, upper(r.name)+": "+temperature(r.at))
		if i < len(rungs)-1 {
			f.Facts = append(f.Facts, "From "+r.name+" to "+rungs[i+1].name+": "+flat(r.down)+" = "+bound(r.by.Figures(3)))
		}
	}
	return f, nil
}

// temperature prints one as results are given: to a degree.
func temperature(q si.Quantity) string {
	return fixedPlaces(q.Value, 0) + nbsp + "°C"
}

// ladder finds the places along the way.
func ladder(c *engine.Circuit, k *known, heat, tj, air si.Quantity) []rung {
	jc := c.Part.Thermal.JunctionCase
	case_ := func() si.Quantity { return si.Of(tj.Value-jc.Value*heat.Value, si.Temperature) }
	if c.Heatsinked() && jc.Known() {
		cs, _ := k.maybe("theta_cs")
		sa := c.Surroundings.SinkAmbient
		sink := si.Of(air.Value+sa.Value*heat.Value, si.Temperature)
		return []rung{{"junction", tj, "θ_{JC}", jc}, {"case", case_(), "θ_{CS}", cs}, {"heatsink", sink, "θ_{SA}", sa}, {"air", air, "", si.Quantity{}}}
	}
	ja := c.Part.Thermal.JunctionAmbient
	if jc.Known() && ja.Value > jc.Value {
		rest := si.Of(ja.Value-jc.Value, si.ThermalResistance)
		return []rung{{"junction", tj, "θ_{JC}", jc}, {"case", case_(), "θ_{JA} − θ_{JC}", rest}, {"air", air, "", si.Quantity{}}}
	}
	return []rung{{"junction", tj, "θ_{JA}", ja}, {"air", air, "", si.Quantity{}}}
}
