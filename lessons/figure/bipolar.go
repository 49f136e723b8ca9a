package figure

import (
	"fullyon/engine"
	"fullyon/engine/part"
)

// Compared draws the circuit's MOSFET beside a bipolar transistor for the same load
// and pin: what each takes from the pin, and the heat of each, from the engine.
func Compared(c *engine.Circuit) (Figure, error) {
	k := knownOf(c)
	base, resistor, heat, mos := k.get("base_current"), k.get("base_resistor"), k.get("loss_bjt"), k.get("loss_conduction")
	sat, cold := k.get("v_ce_sat"), k.get("running_current")
	if k.err != nil {
		return Figure{}, k.err
	}
	s := newScene("bipolar", 60)
	s.Width, s.Height = 330, 318
	const y = 150.0
	for i, title := range [2]string{"MOSFET", "bipolar, NPN"} {
		x := 108 + float64(i)*162
		s.terminal(34+160*float64(i), y+half*(1-float64(i)))
		s.label(Ink, 14, x-22, 18, Middle, title).Bold = true
		s.terminal(x, 40)
		s.label(Ink, 13, x+9, 45, Start, "+")
		s.resistor(x, 44, 124, 16, 36)
		s.label(Soft, 13, x+14, 88, Start, "load")
		s.ground(x, 206)
		s.label(Ink, 13, x-76, 200-float64(i)*30, Middle, "pin")
	}
	s.poly(wire, 108, 124, 108, y-half)
	s.mosfet(108, y, part.N, true)
	s.poly(wire, 108, y+half, 108, 206)
	gate := 108 - gateToDrain
	s.poly(wire, 34, y+half, gate, y+half)
	s.levelResistor(34, gate, y+half, 22)
	s.npn(270, y)
	s.poly(wire, 270, 124, 270, y-20)
	s.poly(wire, 270, y+20, 270, 206)
	s.levelResistor(194, 253, y, 26)
	lines := [2][]string{
		{"pin: only while", "the gate charges", "heat: " + bound(mos.Figures(2))},
		{"base: " + bound(base.Figures(2)), "by " + bound(resistor.Figures(3)) + " at most", "heat: " + bound(heat.Figures(2))},
	}
	for i, text := range lines {
		for j, t := range text {
			l := s.label(Ink, 13, 12+float64(i)*162, 258+float64(j)*19, Start, t)
			l.Bold = j == 2
		}
	}
	return Figure{Title: "MOSFET and bipolar transistor for the same load", Scene: s,
		Desc: "On the left a MOSFET with its gate resistor, on the right an NPN transistor with its base resistor; both switch the same load from a pin.",
		Facts: []string{
			"Load current: " + bound(cold.Figures(3)),
			"MOSFET: the pin gives current only while the gate is charged; heat when on " + bound(mos.Figures(3)),
			"Bipolar: the base takes " + bound(base.Figures(3)) + " all the time, through a resistor of " + bound(resistor.Figures(3)) + " at most",
			"Bipolar: it keeps " + value(sat) + " from collector to emitter; heat " + bound(heat.Figures(3)),
		}}, nil
}
