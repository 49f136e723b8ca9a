package figure

import (
	"fmt"
	"math"
	"math/rand/v2"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// q reads a quantity written with its unit.
func q(text string) si.Quantity {
	v, err := si.Parse(text, dimOf(text))
	if err != nil {
		panic(err)
	}
	return v
}

func dimOf(text string) si.Dim {
	for _, d := range []si.Dim{si.Voltage, si.Current, si.Resistance, si.Power, si.Inductance, si.Capacitance, si.Time,
		si.Frequency, si.Temperature, si.ThermalResistance, si.Length, si.Area, si.Charge, si.Energy, si.One} {
		if _, err := si.Parse(text, d); err == nil {
			return d
		}
	}
	panic("no dimension reads " + text)
}

func findPart(name string) part.Part {
	p, ok := part.Find(name)
	if !ok {
		panic("no part " + name)
	}
	return p
}

// of picks a part of the drawer by channel.
func drawerPart(ch part.Channel, n int) part.Part {
	for _, p := range part.Drawer() {
		if p.Channel == ch {
			if n == 0 {
				return p
			}
			n--
		}
	}
	panic("not enough parts in the drawer")
}

func footlights() *engine.Circuit {
	return &engine.Circuit{
		Title:        "Footlights",
		Supply:       engine.Supply{Kind: engine.Adapter, Voltage: q("12 V"), Maximum: q("12.6 V"), Minimum: q("11.4 V"), Fuse: q("3 A")},
		Load:         engine.Load{Kind: engine.LEDStrip, Current: q("2 A")},
		Placement:    engine.LowSide,
		Drive:        engine.Drive{LogicHigh: q("5 V"), LogicHighMin: q("4.75 V"), SeriesResistor: q("180 ohm"), PullDown: q("100 kohm"), Stage: engine.Direct},
		Part:         drawerPart(part.N, 0),
		Surroundings: engine.Surroundings{Ambient: q("35 C")},
	}
}

// kinds gives a circuit of each kind of load and each way to switch it.
func kinds() []*engine.Circuit {
	var out []*engine.Circuit
	loads := []engine.Load{
		{Kind: engine.Resistive, Resistance: q("8.2 ohm")},
		{Kind: engine.LEDStrip, Current: q("2 A")},
		{Kind: engine.Lamp, Power: q("20 W"), ColdRatio: q("10")},
		{Kind: engine.Motor, Current: q("0.8 A"), StallCurrent: q("4 A"), StallTime: q("200 ms")},
		{Kind: engine.Coil, Resistance: q("12 ohm"), Inductance: q("40 mH")},
		{Kind: engine.Capacitive, Current: q("1 A"), Capacitance: q("470 uF"), SeriesResistance: q("0.1 ohm")},
	}
	for i, place := range []string{engine.LowSide, engine.HighSide, engine.HighSide} {
		for j, l := range loads {
			c := footlights()
			c.Load, c.Placement = l, place
			if place == engine.HighSide {
				c.Part = drawerPart(part.P, 0)
			} else {
				c.Part = drawerPart(part.N, j)
			}
			if i == 2 {
				c.Drive.Stage = engine.LevelShift
			}
			if j%2 == 1 {
				c.Supply.Fuse = si.Quantity{}
				c.Supply.Kind, c.Supply.CurrentLimit = engine.Bench, q("5 A")
				c.Drive.Frequency, c.Drive.Duty = q("490 Hz"), q("60 %")
			}
			if c.Inductive() {
				c.Freewheel = engine.Freewheel{Kind: engine.Diode, ForwardVoltage: q("0.9 V"), ForwardCurrent: q("1 A"), ReverseVoltage: q("40 V")}
				if j == 4 && i < 2 {
					c.Freewheel.Kind, c.Freewheel.ZenerVoltage = engine.Zener, q("24 V")
				}
			}
			out = append(out, c)
		}
	}
	return out
}

// randomCircuit draws a circuit with anything in it that a file may hold.
func randomCircuit(r *rand.Rand) (*engine.Circuit, Options) {
	pick := func(s ...string) string { return s[r.IntN(len(s))] }
	some := func(v si.Quantity) si.Quantity {
		if r.IntN(4) == 0 {
			return si.Quantity{}
		}
		return v
	}
	num := func(d si.Dim, low, high float64) si.Quantity {
		v := low * math.Pow(high/low, r.Float64())
		return some(si.Of(si.Round(v, 1+r.IntN(4)), d))
	}
	c := &engine.Circuit{
		Supply: engine.Supply{Kind: pick(engine.Adapter, engine.Bench, engine.Battery, engine.AC),
			Voltage: num(si.Voltage, 3, 60), Maximum: num(si.Voltage, 3, 60), Minimum: num(si.Voltage, 3, 60),
			CurrentLimit: num(si.Current, 0.05, 30), Fuse: num(si.Current, 0.05, 30)},
		Load: engine.Load{Kind: pick(engine.Resistive, engine.LEDStrip, engine.Lamp, engine.Motor, engine.Coil, engine.Capacitive)},
		Drive: engine.Drive{LogicHigh: num(si.Voltage, 1.8, 12), LogicHighMin: num(si.Voltage, 1.7, 12),
			PinCurrent: num(si.Current, 1e-3, 0.04), PinCurrentMax: num(si.Current, 1e-3, 0.04),
			SeriesResistor: num(si.Resistance, 10, 1e5), PullDown: num(si.Resistance, 1e3, 1e7),
			Frequency: num(si.Frequency, 1, 1e5), Duty: num(si.One, 0.01, 1), Stage: pick(engine.Direct, engine.LevelShift)},
		Placement: pick(engine.LowSide, engine.HighSide),
		Surroundings: engine.Surroundings{Ambient: num(si.Temperature, 1, 70), SinkAmbient: num(si.ThermalResistance, 1, 40),
			CaseSink: num(si.ThermalResistance, 0.1, 2)},
		Freewheel: engine.Freewheel{Kind: pick("", engine.NoFreewheel, engine.Diode, engine.Zener), ForwardVoltage: num(si.Voltage, 0.3, 1.5),
			ForwardCurrent: num(si.Current, 0.1, 20), ReverseVoltage: num(si.Voltage, 20, 400), ZenerVoltage: num(si.Voltage, 3, 100)},
		Wiring: engine.Wiring{Length: num(si.Length, 0.1, 30), CrossSection: num(si.Area, 1e-7, 1e-5)},
	}
	l := &c.Load
	l.Current, l.Power, l.Resistance = num(si.Current, 0.01, 30), num(si.Power, 0.1, 300), num(si.Resistance, 0.1, 1000)
	switch r.IntN(3) { // a file gives one of the three
	case 0:
		l.Current, l.Power = si.Quantity{}, si.Quantity{}
	case 1:
		l.Resistance, l.Power = si.Quantity{}, si.Quantity{}
	default:
		l.Current, l.Resistance = si.Quantity{}, si.Quantity{}
	}
	switch l.Kind {
	case engine.Coil:
		l.Inductance = num(si.Inductance, 1e-4, 10)
	case engine.Motor:
		l.Inductance, l.StallCurrent = num(si.Inductance, 1e-4, 1), num(si.Current, 0.1, 60)
	case engine.Lamp:
		l.ColdRatio = num(si.One, 2, 15)
	case engine.Capacitive:
		l.Capacitance, l.SeriesResistance = num(si.Capacitance, 1e-6, 1e-1), num(si.Resistance, 1e-3, 10)
	}
	all := part.Drawer()
	c.Part = all[r.IntN(len(all))]
	switch r.IntN(8) {
	case 0:
		c.Part = part.Part{}
	case 1:
		c.Part.Name = "a part with a long name of several words & <signs>"
	case 2:
		c.Part.Name = "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"
	}
	o := Options{Shifter: Shifter(r.IntN(2)), Bare: r.IntN(10) == 0}
	if r.IntN(3) == 0 {
		o.Load = pick("footlights", "rain pump", "solenoid of the trapdoor", "smoke-machine valve", "an extraordinarily long name for one load")
	}
	return c, o
}

func name(c *engine.Circuit) string {
	return fmt.Sprintf("%s, %s, %s, freewheel %s", c.Load.Kind, c.Placement, c.Drive.Stage, c.Freewheel.Kind)
}
