package figure

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

func TestSchematicIsLegible(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	bad := 0
	for i := range 600 {
		c, o := randomCircuit(r)
		f := Schematic(c, o)
		if s := crowded(f.Scene); s != "" {
			t.Errorf("circuit %d, %s: %s", i, name(c), s)
			if bad++; bad > 15 {
				t.FailNow()
			}
		}
		if err := wellFormed(f.SVG("x"), "x"); err != nil {
			t.Fatalf("circuit %d: %v", i, err)
		}
	}
	for _, c := range kinds() {
		f := Schematic(c, Options{})
		if s := crowded(f.Scene); s != "" {
			t.Errorf("%s: %s", name(c), s)
		}
		if f.Scene.Width > 345 {
			t.Errorf("%s: %v wide, too wide for a narrow screen", name(c), f.Scene.Width)
		}
	}
}

// Every value drawn stands among the facts, so that nobody needs the drawing.
func TestSchematicFactsHoldWhatIsDrawn(t *testing.T) {
	for _, c := range kinds() {
		f := Schematic(c, Options{})
		facts := strings.Join(f.Facts, "\n")
		for _, q := range []si.Quantity{c.Supply.Voltage, c.Supply.Maximum, c.Supply.Minimum, c.Supply.Fuse, c.Load.Resistance, c.Load.Power,
			c.Load.Inductance, c.Load.Capacitance, c.Load.StallTime, c.Drive.LogicHigh, c.Drive.LogicHighMin, c.Drive.SeriesResistor, c.Drive.PullDown,
			c.Drive.Frequency, c.Freewheel.ForwardVoltage, c.Freewheel.ZenerVoltage, c.Freewheel.ReverseVoltage, c.Surroundings.Ambient} {
			if q.Known() && !strings.Contains(facts, value(q)) {
				t.Errorf("%s: %s is missing in\n%s", name(c), value(q), facts)
			}
		}
		for _, q := range []si.Quantity{c.Load.Current, c.Load.StallCurrent, c.Supply.CurrentLimit} {
			if q.Known() && !strings.Contains(facts, current(q)) && !strings.Contains(facts, value(q)) {
				t.Errorf("%s: %s is missing", name(c), current(q))
			}
		}
		for i := range f.Scene.Shapes {
			s := &f.Scene.Shapes[i]
			if number, _, ok := strings.Cut(s.Text, nbsp); ok && s.numeric && !strings.Contains(facts, strings.TrimPrefix(number, "×")) {
				t.Errorf("%s: %q is drawn and not told", name(c), s.Text)
			}
		}
	}
}

func TestSchematicWords(t *testing.T) {
	c := footlights()
	c.Part.Name = "LY-N30-4"
	f := Schematic(c, Options{Load: "footlights"})
	for _, w := range []struct{ what, got, want string }{
		{"title", f.Title, "Low-side switch: footlights at 12 V"},
		{"desc", f.Desc, "From plus 12 V the current goes through a 3 A fuse and the footlights into the drain of the N-channel MOSFET LY-N30-4; its source is at 0 V. " +
			"The pin of 5 V drives the gate through 180 Ω. A resistor of 100 kΩ pulls the gate down to the source. The 0 V of the board and of the supply are joined. " +
			"The air around the part has 35 °C."},
	} {
		if got := plainSpaces(w.got); got != w.want {
			t.Errorf("%s:\n got %s\nwant %s", w.what, got, w.want)
		}
	}
	c.Load = engine.Load{Kind: engine.Coil, Resistance: q("12 ohm"), Inductance: q("40 mH")}
	if d := Schematic(c, Options{}).Desc; !strings.Contains(d, "Nothing lies across the coil") {
		t.Errorf("a coil without a diode is not named: %s", d)
	}
	c.Freewheel.Kind = engine.Diode
	if d := Schematic(c, Options{}).Desc; !strings.Contains(d, "its cathode at plus") {
		t.Errorf("low side: %s", d)
	}
	c.Placement, c.Part = engine.HighSide, drawerPart(part.P, 0)
	if d := Schematic(c, Options{}).Desc; !strings.Contains(d, "its cathode at the drain") || !strings.Contains(d, "into the source of the P-channel") {
		t.Errorf("high side: %s", d)
	}
}

// The bar of a diode lies at its cathode: with the triangle's tip at y, an upright
// diode has its bar at the top.
func TestDiodeDirections(t *testing.T) {
	for _, c := range []struct {
		up   bool
		want float64
	}{{true, -8}, {false, 8}} {
		s := newScene("", 4)
		s.diode(outline, 0, 0, 8, c.up, false)
		bar := s.Steps(&s.Shapes[1])
		if bar[0].Y != c.want || bar[1].Y != c.want {
			t.Errorf("up %v: the bar is at %v, want %v", c.up, bar[0].Y, c.want)
		}
		tip := s.Steps(&s.Shapes[0])[2]
		if tip.Y != c.want {
			t.Errorf("up %v: the tip is at %v, want %v", c.up, tip.Y, c.want)
		}
	}
}

// The arrow of the substrate points to N silicon: in an N-channel part to the channel (left), in a P-channel part away from it.
func TestChannelArrow(t *testing.T) {
	for ch, left := range map[part.Channel]bool{part.N: true, part.P: false} {
		s := newScene("", 16)
		s.mosfet(0, 0, ch, true)
		var arrow []Step
		for i := range s.Shapes {
			if p := &s.Shapes[i]; p.Pen == mark {
				arrow = s.Steps(p)
			}
		}
		if len(arrow) != 4 || (arrow[0].X < arrow[1].X) != left {
			t.Errorf("%s: arrow %v", ch, arrow)
		}
	}
}

func TestBareSchematicHoldsNoValue(t *testing.T) {
	for _, c := range kinds() {
		f := Schematic(c, Options{Bare: true})
		for i := range f.Scene.Shapes {
			s := &f.Scene.Shapes[i]
			if s.Kind == Text && strings.ContainsAny(s.Text, "123456789") && s.Text != c.Part.Name && s.Text != c.Part.Package {
				t.Errorf("%s: %q", name(c), s.Text)
			}
		}
	}
}

func TestMarkupInNamesIsShownAsTyped(t *testing.T) {
	c := footlights()
	c.Part.Name = `<b>&"`
	svg := drawn(c).SVG("a")
	if strings.Contains(svg, "<b>") || !strings.Contains(svg, "&lt;b&gt;&amp;&#34;") {
		t.Error("a name is not escaped")
	}
}

func drawn(c *engine.Circuit) *Figure { f := Schematic(c, Options{}); return &f }

func BenchmarkSchematic(b *testing.B) {
	c := kinds()[4]
	b.ReportAllocs()
	for b.Loop() {
		f := Schematic(c, Options{})
		f.SVG("s")
	}
}

// A circuit whose part is yet to be chosen names its channel alone.
func TestSchematicWithoutAPart(t *testing.T) {
	c := footlights()
	c.Part = part.Part{}
	want := "Transistor: N-channel, low side"
	facts := Schematic(c, Options{}).Facts
	if !slices.Contains(facts, want) {
		t.Errorf("the facts %q do not hold %q", facts, want)
	}
}
