package figure

import (
	"errors"
	"math"

	"fullyon/engine"
	"fullyon/engine/si"
)

var errNoCoil = errors.New("there is nothing to draw: the load is no coil or motor with a known inductance")

// way is one thing that may happen to the current of a coil when its switch opens.
type way struct {
	name    string
	dash    Dash
	peak    float64 // V_DS while the current flows, V
	against float64 // the voltage that drives the current down, V
	r       float64 // Ω in the path
	die     float64 // s until the current is gone
}

// at is the current after t seconds, from i.
func (w *way) at(i, l, t float64) float64 {
	if t >= w.die {
		return 0
	}
	return max(0, (i+w.against/w.r)*math.Exp(-t*w.r/l)-w.against/w.r)
}

// Kick plots what a coil does after its switch has opened: its current, and the
// voltage at the drain. A coil that the circuit catches with a diode or zener is
// shown beside one that nothing catches, so that the difference is seen. Along a
// diode the current follows the engine's closed form. Without any clamp the part
// avalanches at the engine's 1.3 times its rating.
func Kick(c *engine.Circuit) ([]Figure, error) {
	k := knownOf(c)
	i, vm, l := k.get("running_current").Value, k.get("supply_maximum").Value, k.get("inductance").Value
	if k.err != nil || !c.Inductive() {
		return nil, errNoCoil
	}
	ways, err := kickWays(c, i, vm, l)
	if err != nil {
		return nil, err
	}
	long, high := 0.0, vm
	for _, w := range ways {
		long, high = max(long, w.die), max(high, w.peak)
	}
	long = 1.05 * long
	unit, _ := si.UnitOf("ms")
	if long < 1e-3 {
		unit, _ = si.UnitOf("µs")
	}
	step := linearStep(high / 5)
	time := Axis{Label: "time after the switch opens", Unit: unit, Max: long}
	current := &Plot{Title: "Current of the coil after switch-off", X: time, Height: 230, Width: curveNarrow,
		Y: Axis{Label: "coil current", Unit: si.MustUnit("A"), Max: roomAbove(i)}}
	volts := &Plot{Title: "Voltage from drain to source after switch-off", X: time, Height: 250, Width: curveNarrow,
		Y: Axis{Label: "V_{DS}", Unit: si.MustUnit("V"), Max: (math.Floor(1.15*high/step) + 1) * step}}
	for _, w := range ways {
		s := Series{Name: w.name, Dash: w.dash, at: func(t float64) (float64, error) { return w.at(i, l, t), nil }}
		for j := range 33 {
			t := w.die * float64(j) / 32
			s.Points = append(s.Points, XY{t, w.at(i, l, t)})
		}
		if w.die < long {
			s.Points = append(s.Points, XY{long, 0})
		}
		v := Series{Name: w.name, Dash: w.dash, Points: []XY{{0, w.peak}, {w.die, w.peak}, {w.die, vm}, {long, vm}},
			at: func(t float64) (float64, error) {
				if t < w.die {
					return w.peak, nil
				}
				return vm, nil
			}}
		current.Series, volts.Series = append(current.Series, s), append(volts.Series, v)
		word := upper(w.name) + ": the current has gone after " + bound(si.Of(w.die, si.Time).Figures(3)) +
			"; the drain stands at " + bound(si.Of(w.peak, si.Voltage).Figures(3)) + " until then. "
		current.Desc += word
		volts.Desc += word
	}
	volts.Limits = []Limit{{Label: "V_{DSS}", Value: c.Part.Ratings.VDS.Value}}
	for j := range 6 {
		current.At = append(current.At, long*float64(j)/5)
	}
	volts.At = current.At
	return []Figure{current.Draw(), volts.Draw()}, nil
}

// roomAbove is the end of an axis a little above a value.
func roomAbove(v float64) float64 {
	step := linearStep(v / 4)
	return (math.Floor(1.1*v/step) + 1) * step
}

// kickWays are the ways to compare: nothing, a diode, and a zener where the circuit gives one.
func kickWays(c *engine.Circuit, i, vm, l float64) ([]way, error) {
	var out []way
	kinds := []struct{ kind, name string }{{engine.NoFreewheel, "nothing"}, {engine.Diode, "diode"}}
	if c.Freewheel.ZenerVoltage.Known() {
		kinds = append(kinds, struct{ kind, name string }{engine.Zener, "zener and diode"})
	}
	r := c.Load.Resistance.Value
	if !c.Load.Resistance.Known() {
		r = c.Supply.Voltage.Value / i
		if c.Load.StallCurrent.Known() {
			r = c.Supply.Voltage.Value / c.Load.StallCurrent.Value
		}
	}
	dashes := [...]Dash{Dashed, Solid, Dotted}
	for n, kind := range kinds {
		other := *c
		other.Freewheel.Kind = kind.kind
		k := knownOf(&other)
		w := way{name: kind.name, dash: dashes[n], peak: k.get("vds_stress").Value, r: r}
		if k.err != nil {
			return nil, k.err
		}
		w.against = w.peak - vm
		if kind.kind == engine.NoFreewheel {
			w.die = l / r * math.Log(1+i*r/w.against)
		} else if w.die = k.get("freewheel_decay_time").Value; k.err != nil {
			return nil, k.err
		}
		out = append(out, w)
	}
	return out, nil
}
