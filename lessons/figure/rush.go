package figure

import (
	"errors"
	"math"

	"fullyon/engine"
	"fullyon/engine/si"
)

// Rush plots the current of a load that draws more at first: a cold lamp, a motor
// held still, an empty capacitor. Lamp and motor are drawn as the engine counts
// them: the high current for a whole time, then the running one; a capacitor's
// falls with the time constant of all resistance in its way.
func Rush(c *engine.Circuit) (Figure, error) {
	k := knownOf(c)
	peak, run := k.get("peak_current").Value, k.get("running_current").Value
	if k.err != nil {
		return Figure{}, k.err
	}
	s := Series{Name: "load", Role: Ink}
	var long, until float64
	p := &Plot{Title: "Current after switching on", Width: curveNarrow, Height: 270}
	switch c.Load.Kind {
	case engine.Lamp, engine.Motor:
		name := "inrush_time"
		s.Name = "lamp"
		if c.Load.Kind == engine.Motor {
			name, s.Name = "stall_time", "motor"
		}
		if until = k.get(name).Value; k.err != nil {
			return Figure{}, k.err
		}
		long = 2.5 * until
		s.Points = []XY{{0, 0}, {0, peak}, {until, peak}, {until, run}, {long, run}}
		s.at = func(t float64) (float64, error) {
			if t <= until {
				return peak, nil
			}
			return run, nil
		}
		p.Desc = "The engine counts the high current for the whole of " + bound(si.Of(until, si.Time).Figures(2)) + ", which is on the cautious side; in truth it falls from the beginning. "
	case engine.Capacitive:
		s.Name = "capacitor"
		tau := k.get("supply_maximum").Value / peak * c.Load.Capacitance.Value
		if k.err != nil || !(tau > 0) {
			return Figure{}, errors.New("there is nothing to draw: the capacitance is not given")
		}
		until, long = tau, 5*tau
		s.at = func(t float64) (float64, error) { return run + (peak-run)*math.Exp(-t/tau), nil }
		s.Points = append(s.Points, XY{0, 0})
		for j := range 41 {
			t := long * float64(j) / 40
			y, _ := s.at(t)
			s.Points = append(s.Points, XY{t, y})
		}
		p.Desc = "The current falls with the time constant " + bound(si.Of(tau, si.Time).Figures(3)) + ". "
	default:
		return Figure{}, errors.New("there is nothing to draw: this load draws no more at first than later")
	}
	unit := si.MustUnit("ms")
	if long < 1e-3 {
		unit = si.MustUnit("µs")
	}
	p.Desc += "At first " + bound(si.Of(peak, si.Current).Figures(3)) + ", then " + bound(si.Of(run, si.Current).Figures(3)) + "."
	p.X = Axis{Label: "time after switching on", Unit: unit, Max: long}
	p.Y = Axis{Label: "current", Unit: si.MustUnit("A"), Max: roomAbove(peak)}
	p.Series = []Series{s}
	if i := c.Part.Ratings.IDPulse; i.Known() {
		p.Y.Max = max(p.Y.Max, min(roomAbove(i.Value), 2.5*peak))
		p.Limits = append(p.Limits, Limit{Label: "I_{DM}", Value: i.Value})
	}
	for j := range 6 {
		p.At = append(p.At, long*float64(j)/5)
	}
	return p.Draw(), nil
}
