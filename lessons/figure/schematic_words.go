package figure

import (
	"strings"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

var supplyKind = map[string]string{
	engine.Adapter: "plug-in adapter",
	engine.Bench:   "bench supply",
	engine.Battery: "battery",
	engine.AC:      "alternating supply",
}

var loadKind = map[string]string{
	engine.Resistive:  "resistive load",
	engine.LEDStrip:   "LED tape",
	engine.Lamp:       "lamp",
	engine.Motor:      "motor",
	engine.Coil:       "coil",
	engine.Capacitive: "load with capacitor",
}

// words says in sentences what a schematic shows.
type words struct {
	c *engine.Circuit
	o Options
}

// load is what the load is called.
func (w words) load() string {
	if w.o.Load != "" {
		return w.o.Load
	}
	if n := loadKind[w.c.Load.Kind]; n != "" {
		return n
	}
	return "load"
}

func (w words) high() bool { return w.c.Placement == engine.HighSide }

func (w words) title() string {
	if w.o.Title != "" {
		return w.o.Title
	}
	side := "Low-side"
	if w.high() {
		side = "High-side"
	}
	return side + " switch: " + w.load() + w.at(" at ", w.c.Supply.Voltage)
}

// at writes a value after a word, or nothing when it is not given.
func (w words) at(before string, q si.Quantity) string {
	if w.o.Bare || !q.Known() {
		return ""
	}
	return before + value(q)
}

// channel is the part's channel, or the one that its place asks for.
func (w words) channel() string {
	switch {
	case w.c.Part.Channel != "":
		return string(w.c.Part.Channel)
	case w.high():
		return string(part.P)
	}
	return string(part.N)
}

// desc follows the current, then the gate.
func (w words) desc() string {
	c := w.c
	var b strings.Builder
	b.Grow(512)
	say := func(s ...string) {
		for _, t := range s {
			b.WriteString(t)
		}
	}
	say("From plus", w.at(" ", c.Supply.Voltage), " the current goes")
	fuse := ""
	if c.Supply.Fuse.Known() {
		fuse = " through" + w.article(c.Supply.Fuse) + " fuse"
	}
	name := w.channel() + "-channel MOSFET"
	if c.Part.Name != "" {
		name += " " + c.Part.Name
	}
	if w.high() {
		say(fuse, " into the source of the ", name, "; its drain feeds the ", w.load(), ", which goes on to 0"+nbsp+"V.")
	} else {
		if fuse != "" {
			say(fuse, " and the ", w.load())
		} else {
			say(" through the ", w.load())
		}
		say(" into the drain of the ", name, "; its source is at 0"+nbsp+"V.")
	}
	if c.Inductive() || c.Freewheel.Kind == engine.Diode || c.Freewheel.Kind == engine.Zener {
		say(" ", w.wheel(), ".")
	}
	say(" ", w.gate())
	say(" The 0" + nbsp + "V of the board and of the supply are joined.")
	if c.Surroundings.Ambient.Known() && !w.o.Bare {
		say(" The air around the part has ", value(c.Surroundings.Ambient), ".")
	}
	return b.String()
}

// wheel says what lies across the load, and which way round.
func (w words) wheel() string {
	plus := "at plus"
	if w.high() {
		plus = "at the drain"
	}
	switch w.c.Freewheel.Kind {
	case engine.Diode:
		return "A freewheel diode lies across the " + w.load() + ", its cathode " + plus
	case engine.Zener:
		return "A diode, its cathode " + plus + ", and a zener diode the other way round lie in series across the " + w.load()
	}
	return "Nothing lies across the " + w.load() + " to catch its current"
}

// gate says what drives and what holds the gate.
func (w words) gate() string {
	v := &w.c.Drive
	pin := "The pin" + w.at(" of ", v.LogicHigh)
	series, holds := "", "Nothing else holds the gate."
	if v.SeriesResistor.Known() {
		series = " through" + w.resistor(v.SeriesResistor)
	}
	if v.PullDown.Known() {
		dir := " down to the source."
		if w.high() {
			dir = " up to the source."
		}
		holds = "A resistor" + w.at(" of ", v.PullDown) + " pulls the gate" + dir
	}
	if !w.high() || v.Stage != engine.LevelShift {
		return pin + " drives the gate" + series + ". " + holds
	}
	if w.o.Shifter == SmallN {
		return pin + " drives a small N-channel transistor with a resistor from gate to source; it pulls the gate down" + series + ". " + holds
	}
	return pin + " drives an NPN transistor through its base resistor; it pulls the gate down" + series + ". " + holds
}

// article begins the naming of a part by its value: "a 3 A", or "a" alone.
func (w words) article(q si.Quantity) string {
	if w.o.Bare {
		return " a"
	}
	return " a " + value(q)
}

func (w words) resistor(q si.Quantity) string {
	if w.o.Bare {
		return " a resistor"
	}
	return " " + value(q)
}

// switching says how often the pin switches; empty for a switch worked by hand.
func switching(v *engine.Drive, f, duty string) string {
	switch {
	case v.Frequency.Known() && v.Duty.Known():
		return "switched at " + f + ", on " + percent(v.Duty, duty) + " of the time"
	case v.Frequency.Known():
		return "switched at " + f
	case v.Duty.Known():
		return "on " + percent(v.Duty, duty) + " of the time"
	}
	return ""
}

var inPercent = si.MustUnit("%")

// percent prints a ratio in per cent; a duty is spoken of so.
func percent(q si.Quantity, otherwise string) string {
	if !q.Finite() {
		return otherwise
	}
	return tidy(si.Round(q.In(inPercent), 6)) + nbsp + "%"
}

// facts lists all the values of a circuit, each with its name.
func (w words) facts() []string {
	c := w.c
	f := factList{make([]string, 0, 32)}
	if w.o.Bare {
		return append(f.list, w.desc())
	}
	f.word("Supply", supplyKind[c.Supply.Kind])
	f.add("Supply voltage", c.Supply.Voltage)
	f.add("Highest supply voltage", c.Supply.Maximum)
	f.add("Lowest supply voltage", c.Supply.Minimum)
	f.add("Current limit of the supply", c.Supply.CurrentLimit)
	f.add("Fuse", c.Supply.Fuse)
	f.add("Resistance of battery and leads when shorted", c.Supply.LoopResistance)
	f.word("Load", w.load())
	l := &c.Load
	f.amperes("Running current", l.Current)
	f.add("Power of the load", l.Power)
	f.add("Resistance of the load", l.Resistance)
	f.add("Inductance of the load", l.Inductance)
	f.amperes("Current when stalled", l.StallCurrent)
	f.add("Longest stall", l.StallTime)
	f.add("Cold current over running current", l.ColdRatio)
	f.add("Length of the rush", l.InrushTime)
	f.add("Capacitance of the load", l.Capacitance)
	f.add("Resistance in series with the capacitance", l.SeriesResistance)
	f.word("What stops the load if the switch stays closed", l.CutOut)
	f.word("Transistor", strings.TrimPrefix(strings.TrimSpace(c.Part.Name+" "+c.Part.Package)+", ", ", ")+w.channel()+"-channel, "+map[bool]string{false: "low side", true: "high side"}[w.high()])
	v := &c.Drive
	f.add("High level of the pin", v.LogicHigh)
	f.add("Lowest high level of the pin", v.LogicHighMin)
	f.add("Low level of the pin", v.LogicLow)
	f.add("Recommended current of the pin", v.PinCurrent)
	f.add("Absolute maximum current of the pin", v.PinCurrentMax)
	f.add("Output resistance of the pin", v.PinResistance)
	series, pull := "Resistor from pin to gate", "Resistor from gate to source"
	if w.high() && v.Stage == engine.LevelShift {
		series = "Resistor from gate to the level-shift transistor"
		f.word("Level shift", map[Shifter]string{NPN: "NPN transistor with base resistor", SmallN: "small N-channel transistor"}[w.o.Shifter])
	}
	f.add(series, v.SeriesResistor)
	f.add(pull, v.PullDown)
	if t := switching(v, value(v.Frequency), value(v.Duty)); t != "" {
		f.word("Drive", t)
	}
	f.add("Rise of the supply", v.SupplyRise)
	if c.Inductive() || c.Freewheel.Kind == engine.Diode || c.Freewheel.Kind == engine.Zener {
		f.word("Across the load", map[string]string{engine.Diode: "freewheel diode", engine.Zener: "diode and zener diode in series"}[c.Freewheel.Kind], "nothing")
	}
	f.add("Forward voltage of the diode", c.Freewheel.ForwardVoltage)
	f.amperes("Current the diode may carry", c.Freewheel.ForwardCurrent)
	f.add("Voltage the diode may block", c.Freewheel.ReverseVoltage)
	f.add("Recovered charge of the diode", c.Freewheel.RecoveredCharge)
	f.add("Zener voltage", c.Freewheel.ZenerVoltage)
	f.add("Cable, one way", c.Wiring.Length)
	f.add("Cross-section of a wire", c.Wiring.CrossSection)
	f.word("Wire", c.Wiring.Strand)
	f.add("Current rating of the cable", c.Wiring.Rating)
	f.add("Air around the part", c.Surroundings.Ambient)
	f.add("Heatsink to air", c.Surroundings.SinkAmbient)
	f.add("Case to heatsink", c.Surroundings.CaseSink)
	f.add("Junction not to pass", c.Surroundings.JunctionLimit)
	return f.list
}

// factList collects "name: value" lines.
type factList struct{ list []string }

func (f *factList) add(name string, q si.Quantity) {
	if q.Known() {
		f.list = append(f.list, name+": "+value(q))
	}
}

func (f *factList) amperes(name string, q si.Quantity) {
	if q.Known() {
		f.list = append(f.list, name+": "+current(q))
	}
}

// word adds a name with the first of the texts that is not empty.
func (f *factList) word(name string, texts ...string) {
	for _, t := range texts {
		if t != "" {
			f.list = append(f.list, name+": "+t)
			return
		}
	}
}
