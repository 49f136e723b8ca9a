package figure

import (
	"slices"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/grader/problem"
)

// subjects are circuits of all kinds of load, with what the drawn figures need.
func subjects() []*engine.Circuit {
	var out []*engine.Circuit
	for _, c := range kinds() {
		c.Drive.Frequency, c.Drive.Duty = q("2 kHz"), q("60 %")
		if c.Load.Kind == engine.Motor {
			c.Load.Inductance = q("2 mH")
		}
		if c.Load.Kind == engine.Lamp {
			c.Load.InrushTime = q("50 ms")
		}
		out = append(out, c)
	}
	sinked := footlights()
	for _, p := range part.Drawer() {
		if p.Thermal.JunctionCase.Known() && p.Channel == part.N && p.Thermal.JunctionAmbient.Known() {
			sinked.Part = p
		}
	}
	sinked.Surroundings.CaseSink, sinked.Surroundings.SinkAmbient = q("0.5 K/W"), q("12 K/W")
	small := footlights()
	small.Load.Current = q("0.2 A")
	small.Bipolar = engine.Bipolar{SaturationVoltage: q("0.3 V"), BaseVoltage: q("0.8 V"), ForcedBeta: q("10")}
	return append(out, sinked, small)
}

// Every drawn figure of every circuit, where it can be drawn, is legible and
// well formed, fits a narrow page, and says its values in words.
func TestDrawnFigures(t *testing.T) {
	drawn := map[string]int{}
	for i, c := range subjects() {
		for _, kind := range Kinds() {
			d, err := Draw(kind, Subject{Circuit: c, Bench: []string{"mat", "mug", "supply", "strap"}})
			if err != nil {
				if len(err.Error()) < 20 {
					t.Errorf("%s: %v", kind, err)
				}
				continue
			}
			drawn[kind]++
			for _, f := range append(d.Wide, d.Narrow...) {
				if s := crowded(f.Scene); s != "" {
					t.Errorf("%d %s: %s", i, kind, s)
				}
				if err := wellFormed(f.SVG("x"), "x"); err != nil {
					t.Errorf("%d %s: %v", i, kind, err)
				}
				if d.Narrow == nil && f.Scene.Width > curveNarrow && kind != "schematic" {
					t.Errorf("%s is %g wide", kind, f.Scene.Width)
				}
				if f.Title == "" || f.Desc == "" || len(f.Facts) == 0 {
					t.Errorf("%s has no words", kind)
				}
			}
			if d.Sheet == nil && d.Text() == "" || d.HTML("x") == "" {
				t.Errorf("%s is empty", kind)
			}
		}
	}
	for _, kind := range Kinds() {
		if drawn[kind] == 0 {
			t.Errorf("no circuit shows a figure %s", kind)
		}
	}
}

// The temperatures of the ladder are the engine's, and each step is θ times P.
func TestThermalLadder(t *testing.T) {
	for _, c := range subjects() {
		k := knownOf(c)
		heat, tj, air := k.get("loss_total"), k.get("junction_temperature"), k.get("ambient")
		if k.err != nil {
			continue
		}
		rungs := ladder(c, k, heat, tj, air)
		for i := 1; i < len(rungs); i++ {
			fall := rungs[i-1].at.Value - rungs[i].at.Value
			if want := rungs[i-1].by.Value * heat.Value; fall < want-0.01 || fall > want+0.01 {
				t.Errorf("%s: from %s to %s it falls by %g K, θ P is %g K", name(c), rungs[i-1].name, rungs[i].name, fall, want)
			}
		}
		f, err := ThermalLadder(c)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(strings.Join(f.Facts, "\n"), temperature(tj)) {
			t.Errorf("%v does not hold %s", f.Facts, temperature(tj))
		}
	}
}

// The current along a diode has died at the engine's time, and begins at the engine's current.
func TestKickFollowsTheEngine(t *testing.T) {
	seen := 0
	for _, c := range subjects() {
		if !c.Inductive() {
			continue
		}
		k := knownOf(c)
		i, l, vm := k.get("running_current").Value, c.Load.Inductance.Value, k.get("supply_maximum").Value
		ways, err := kickWays(c, i, vm, l)
		if err != nil {
			continue
		}
		for _, w := range ways {
			seen++
			if got := w.at(i, l, 0); got < 0.999*i || got > 1.001*i {
				t.Errorf("%s: begins at %g A, not %g A", w.name, got, i)
			}
			if got := w.at(i, l, 0.999*w.die); got > 0.01*i {
				t.Errorf("%s: %g A of %g A are left at the end", w.name, got, i)
			}
		}
	}
	if seen == 0 {
		t.Error("nothing was looked at")
	}
}

func TestBench(t *testing.T) {
	for _, id := range BenchThings() {
		f, err := Bench([]string{id})
		if err != nil {
			t.Fatal(err)
		}
		if s := crowded(f.Scene); s != "" {
			t.Errorf("%s: %s", id, s)
		}
		if len(f.Facts) != 1 || len(f.Facts[0]) < 6 {
			t.Errorf("%s: %v", id, f.Facts)
		}
	}
	all, err := Bench(BenchThings())
	if err != nil {
		t.Fatal(err)
	}
	if s := crowded(all.Scene); s != "" {
		t.Error(s)
	}
	if _, err := Bench([]string{"unicorn"}); err == nil {
		t.Error("a thing that is none was drawn")
	}
	if !slices.Contains(Kinds(), "bench") {
		t.Error("a bench is no kind of figure")
	}
}

// What a template may ask for is what can be drawn.
func TestKindsAreThoseOfTemplates(t *testing.T) {
	if got, want := problem.FigureKinds(), Kinds(); !slices.Equal(got, want) {
		t.Errorf("templates know %v, drawn are %v", got, want)
	}
	got, want := problem.BenchThings(), BenchThings()
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("templates know %v for a bench, drawn are %v", got, want)
	}
}

func BenchmarkDrawn(b *testing.B) {
	all := subjects()
	for kind, c := range map[string]*engine.Circuit{"cross_section": all[0], "thermal_ladder": all[0], "waveforms": all[4], "kick": all[4], "rush": all[2], "bipolar": all[len(all)-1]} {
		b.Run(kind, func(b *testing.B) {
			for b.Loop() {
				d, err := Draw(kind, Subject{Circuit: c})
				if err != nil {
					b.Fatal(err)
				}
				d.HTML("x")
			}
		})
	}
}
