package engine

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/part"
	"fullyon/engine/si"
)

// drawn is a random circuit with a part of the drawer: of any kind, with some
// values left out. It need not be a sensible one.
func drawn(t *rapid.T) Circuit {
	parts := part.Drawer()
	p := parts[rapid.IntRange(0, len(parts)-1).Draw(t, "part")]
	c := Circuit{Part: p, Placement: LowSide}
	c.Load.Kind = rapid.SampledFrom([]string{Resistive, LEDStrip, Lamp, Motor, Coil, Capacitive}).Draw(t, "kind")
	c.Supply.Kind = rapid.SampledFrom([]string{Adapter, Bench, Battery}).Draw(t, "supply")
	c.Freewheel.Kind = rapid.SampledFrom([]string{NoFreewheel, Diode, Zener}).Draw(t, "freewheel")
	if p.Channel == part.P {
		c.Placement = HighSide
		c.Drive.Stage = rapid.SampledFrom([]string{Direct, LevelShift}).Draw(t, "stage")
	}
	sets := []struct {
		name     string
		low, top float64
	}{
		{"supply_voltage", 3, 24}, {"given_current", 0.01, 12}, {"ambient", -10, 60}, {"logic_high", 1.8, 12},
		{"pin_current", 4e-3, 20e-3}, {"pin_current_max", 20e-3, 50e-3}, {"series_resistor", 0, 1000}, {"pull_down", 1e3, 1e6},
		{"frequency", 0, 1e5}, {"duty", 0.05, 1}, {"stall_current", 0.1, 40}, {"stall_time", 1e-3, 10}, {"inductance", 1e-5, 1},
		{"load_capacitance", 1e-6, 1e-2}, {"series_resistance", 0, 2}, {"v_f", 0.3, 1.2}, {"v_z", 3, 30}, {"i_f", 0.1, 10}, {"v_rrm", 10, 100},
		{"wire_length", 0.1, 20}, {"cross_section", 0.1e-6, 4e-6}, {"wire_rating", 0.5, 20}, {"fuse", 0.1, 20}, {"current_limit", 0.1, 10},
		{"theta_cs", 0, 2}, {"body_voltage", 100, 8000}, {"store_capacitance", 1e-6, 1e-2}, {"store_voltage", 1, 50}, {"store_resistance", 10, 1e5}, {"store_down_to", 0.1, 10},
		{"v_ce_sat", 0.1, 2}, {"loop_resistance", 0.01, 1}, {"theta_sa", 1, 40},
	}
	for i, x := range sets {
		if i >= 4 && rapid.IntRange(0, 4).Draw(t, "leave out "+x.name) == 0 {
			continue
		}
		n, _ := Lookup(x.name)
		table[n].input.Set(&c, si.Of(rapid.Float64Range(x.low, x.top).Draw(t, x.name), table[n].Dim))
	}
	if c.Drive.Duty.Known() && c.Drive.Duty.Value == 0 {
		c.Drive.Duty = si.Quantity{}
	}
	return c
}

func TestNothingButFiniteNumbersLeaves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		r := Size(&c)
		for _, q := range r.Quantities {
			if !q.Value.Finite() || q.Value.Dim != q.Dim {
				t.Fatalf("%s is %v", q.Name, q.Value)
			}
		}
		for _, k := range r.Checks {
			for _, q := range []si.Quantity{k.Value, k.Limit, k.Ratio} {
				if !q.Finite() {
					t.Fatalf("%s: %+v", k.ID, k)
				}
			}
			if k.Verdict.Worse(r.Verdict) || k.Because == "" {
				t.Fatalf("report %s, check %+v", r.Verdict, k)
			}
			if k.Verdict == Refused || k.Verdict.rank() > 3 {
				t.Fatalf("%s has the verdict %q", k.ID, k.Verdict)
			}
		}
		if len(r.JSON()) == 0 {
			t.Fatal("no JSON")
		}
	})
}

// A ratio and its edges tell the verdict: a problem that keeps away from the edges may trust it.
func TestEdgesTellTheVerdict(t *testing.T) {
	// Verdicts of these have further grounds than the one ratio.
	apart := map[string]bool{"running_current": true, "held_off": true, "turns_off": true, "wiring": true, "fuse": true, "freewheel": true,
		"avalanche": true, "heatsink": true, "switching_loss": true, "runaway": true}
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		for _, k := range NewSizing(&c).Checks() {
			if !k.Ratio.Known() || apart[k.ID] || len(k.Edges) == 0 {
				continue
			}
			bad := 0 // how many edges lie on the wrong side
			for _, e := range k.Edges {
				if k.Most && k.Ratio.Value > e*(1+2*near) || !k.Most && k.Ratio.Value < e*(1-2*near) {
					bad++
				}
			}
			want := Holds
			switch {
			case bad == len(k.Edges):
				want = Fails
			case bad == 1:
				want = Tight
			}
			if k.Verdict != want {
				t.Fatalf("%s is %s with a ratio of %v and edges %v", k.ID, k.Verdict, k.Ratio.Value, k.Edges)
			}
		}
	})
}

// monotone checks that raising one input never lowers a quantity, wherever both can be had.
func monotone(t *testing.T, input, quantity string, rising bool) {
	t.Helper()
	in, ok1 := Lookup(input)
	out, ok2 := Lookup(quantity)
	if !ok1 || !ok2 {
		t.Fatalf("%s or %s is not known", input, quantity)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		s := NewSizing(&c)
		a, err := s.Get(in)
		if err != nil {
			t.Skip("not given")
		}
		before, err1 := s.Get(out)
		step := rapid.Float64Range(1.001, 1.5).Draw(t, "step")
		more := s.with(in, a.Value*step)
		if a.Dim == si.Temperature {
			more = s.with(in, a.Value+30*(step-1))
		}
		after, err2 := more.Get(out)
		if err1 != nil || err2 != nil {
			return
		}
		low, high := before.Value, after.Value
		if !rising {
			low, high = high, low
		}
		if high < low-1e-9*math.Abs(low) {
			t.Fatalf("%s from %s to %s takes %s from %s to %s", input, a, si.Of(more.value[in], a.Dim), quantity, before, after)
		}
	})
}

func TestMonotone(t *testing.T) {
	for _, x := range []struct {
		input, quantity string
		rising          bool
	}{
		{"ambient", "junction_temperature", true}, // hotter air never cools the silicon
		{"ambient", "loss_total", true},
		{"ambient", "current_max_thermal", false},
		{"theta_total", "junction_temperature", true},
		{"rds_on_cold", "loss_total", true}, // more resistance never lowers the loss
		{"rds_on_cold", "junction_temperature", true},
		{"frequency", "loss_switching", true},
		{"given_current", "junction_temperature", true},
		{"series_resistor", "gate_peak_current", false},
		{"series_resistor", "turn_on_time", true},
		{"gate_resistance", "turn_off_time", true},
		{"pull_down", "gate_bump", true},
		{"supply_rise", "gate_bump", false},
		{"inductance", "avalanche_energy", true},
		{"v_f", "freewheel_decay_time", false},
		{"wire_length", "wire_drop", true},
		{"cross_section", "wire_length", true}, // unrelated: must stay as it is
		{"load_capacitance", "stored_energy", true},
		{"inrush_time", "pulse_temperature_rise", true},
		{"stall_time", "junction_temperature_stall", true},
		{"logic_high", "gate_resistor_min", true},
		{"ambient", "heatsink_required", false},
	} {
		t.Run(x.input+" "+x.quantity, func(t *testing.T) { monotone(t, x.input, x.quantity, x.rising) })
	}
}

// The settled temperature is a fixed point: the heat at that temperature makes just that temperature.
func TestTemperatureSettles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		s := NewSizing(&c)
		tj, err := s.Quantity("junction_temperature")
		if err != nil {
			return
		}
		again := s.q(ambient) + s.q(thetaTotal)*s.q(lossTotal)
		if math.Abs(again-tj.Value) > 1e-6*math.Max(1, math.Abs(tj.Value)) {
			t.Fatalf("T_J is %v, its own heat makes %v", tj.Value, again)
		}
	})
}

// At its highest current the part reaches just its limit.
func TestHighestCurrentReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		if c.Load.Kind == Coil || c.Load.Kind == Capacitive { // ripple does not scale by With
			return
		}
		s := NewSizing(&c)
		i, err := s.Quantity("current_max_thermal")
		if err != nil || i.Value == 0 {
			return
		}
		at, err := s.with(givenCurrent, i.Value*(1-1e-9)).Get(junctionTemperature)
		if err != nil {
			t.Fatalf("at %s: %v", i, err)
		}
		if limit := s.q(junctionLimit); math.Abs(at.Value-limit) > 1e-6*limit {
			t.Fatalf("at %s the junction is at %s, its limit is %v", i, at, limit)
		}
	})
}

// At its highest frequency likewise.
func TestHighestFrequencyReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawn(t)
		s := NewSizing(&c)
		f, err := s.Quantity("frequency_max")
		if err != nil || f.Value == 0 {
			return
		}
		at, err := s.with(frequency, f.Value).Get(junctionTemperature)
		if err != nil {
			t.Fatalf("at %s: %v", f, err)
		}
		if limit := s.q(junctionLimit); math.Abs(at.Value-limit) > 1e-3*limit {
			t.Fatalf("at %s the junction is at %s, its limit is %v", f, at, limit)
		}
	})
}
