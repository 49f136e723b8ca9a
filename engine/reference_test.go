package engine_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fullyon/engine"
	"fullyon/engine/part"
	"fullyon/engine/si"
)

// bound is how far the engine may lie from what a solver found. A file with * stands for
// all whose names begin so; the first bound that fits a column is its own.
type bound struct {
	file, column string
	limit        func(reference) (below, above float64) // relative, of the engine against the solver
	reason       string                                 // why it may lie further away than half a percent
}

// bounds covers every recorded column.
var bounds = []bound{
	{"gate_delay_pull_down", "*", pullDownLimit, "the engine leaves the pull-down out of the time constant and the pin's resistance out of the divider: mostly later than it is"},
	{"gate_*", "*", within(0.005), ""},
	{"decay", "*", within(0.005), ""},
	{"*", "switch_current", within(0.005), ""},
	{"*", "ripple_current", within(0.005), ""},
	{"pwm", "switch_current@mean", bentMean, "the mean of highest and lowest is not the mean over a bent rise: lower than it is where the on-time is not short beside L/R"},
	{"pwm", "current_rms", within(0.005), ""},
	{"edges_*", "turn_on_time", between(-0.01, 0.20), "the engine takes the gate current of the plateau throughout; before it there is more, so the edge is shorter"},
	{"edges_*", "turn_off_time", between(-0.15, 0.01), "after the plateau there is less gate current, so the edge is longer"},
	{"edges_inductive", "switching_energy@rail", within(0.15), "gate current of the plateau throughout"},
	{"edges_inductive", "switching_energy", clampLimit, "as @rail; and the diode lets the drain rise above the rail by its forward voltage"},
	{"edges_inductive", "switching_energy@circuit", clampLimit, "as switching_energy"},
	{"edges_resistive", "switching_energy", within(0.15), "gate current of the plateau throughout"},
	{"edges_resistive", "switching_energy@*", between(-0.20, 0.50), "the gate has no flat plateau but rises through the swing: turning on is quicker, turning off slower"},
	{"edges_coil", "switching_energy", coilLimit, "a coil turns on at its lowest and off at its highest current, with the clamp's voltage on top of the rail; what is left is within 15 %"},
	{"response", "*", within(0.005), ""},
	{"junction", "*", within(0.005), ""},
}

func (b *bound) fits(file, column string) bool {
	fit := func(pattern, name string) bool {
		head, open := strings.CutSuffix(pattern, "*")
		return pattern == name || open && strings.HasPrefix(name, head)
	}
	return fit(b.file, file) && fit(b.column, column)
}

func between(below, above float64) func(reference) (float64, float64) {
	return func(reference) (float64, float64) { return below, above }
}

func within(d float64) func(reference) (float64, float64) { return between(-d, d) }

// pullDownLimit: the resistance before the pull-down over its own is left out of the
// time constant, that of the pin out of the divider; a level moved by a share d moves
// a logarithm of it by about d, which counts for more where the logarithm is small.
func pullDownLimit(r reference) (below, above float64) {
	pin, series, pull := r.value("pin_resistance"), r.value("series_resistor"), r.value("pull_down")
	high, threshold := r.value("logic_high_min")*pull/(pull+series), r.value("v_gs_th_typ")
	d := pin / (pull + series)
	below = -0.005 - 1.2*d*threshold/(high-threshold)/math.Log(high/(high-threshold))
	above = 0.005 + (1+(pin+series)/pull)*(1+1.2*d/math.Log(high/r.value("v_plateau"))) - 1
	return below, above
}

// bentMean: the worst is a current that rises from nothing along 1 − e^(−t/τ) for
// x = D/(f τ) time constants. The mean of that is a closed form.
func bentMean(r reference) (below, above float64) {
	x := r.value("duty") / (r.value("frequency") * r.tau())
	top := -math.Expm1(-x)
	return top/2/(1-top/x) - 1 - 0.005, 0.005
}

// tau is L/R of the coil.
func (r reference) tau() float64 {
	v, resistance := r.value("supply_voltage"), r.value("load_resistance")
	switch {
	case r.given["given_current"] != "":
		resistance = v / r.value("given_current")
	case r.given["load_power"] != "":
		resistance = v * v / r.value("load_power")
	}
	return r.value("inductance") / resistance
}

func clampLimit(r reference) (below, above float64) {
	rail := r.value("supply_maximum") / (r.value("supply_maximum") + r.value("v_f"))
	return 0.85*rail - 1, 0.15
}

// coilLimit sets the engine's convention beside the currents and voltages that
// the solver found; the remainder is the gate current again.
func coilLimit(r reference) (below, above float64) {
	number := func(name string) float64 { v, _ := strconv.ParseFloat(r.found[name], 64); return v }
	mean, half := number("switch_current"), number("ripple_current")/2
	on, off, rail := number("turn_on_time"), number("turn_off_time"), r.value("supply_maximum")
	clamped := rail + r.value("v_f")
	ours := rail * on
	if r.given["freewheel"] == engine.Zener {
		clamped += r.value("v_z")
		ours += clamped * off
	} else {
		ours += rail * off
	}
	share := mean * ours / (clamped * ((mean-half)*on + (mean+half)*off))
	return 0.85*share - 1, 1.15*share - 1
}

// reference is one solved circuit.
type reference struct {
	file, id string
	given    map[string]string
	found    map[string]string
}

// value is a number that was given, or NaN.
func (r reference) value(name string) float64 {
	v, err := strconv.ParseFloat(r.given[name], 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

const referenceDir = "../testdata/reference"

// readReferences reads every recorded circuit.
func readReferences(t *testing.T) []reference {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(referenceDir, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var out []reference
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(f)
		r.Comment = '#'
		rows, err := r.ReadAll()
		f.Close()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, row := range rows[1:] {
			x := reference{file: strings.TrimSuffix(filepath.Base(name), ".csv"), given: map[string]string{}, found: map[string]string{}}
			for i, text := range row {
				switch column := rows[0][i]; {
				case text == "":
				case column == "id":
					x.id = text
				case strings.HasPrefix(column, "="):
					x.found[column[1:]] = text
				default:
					x.given[column] = text
				}
			}
			out = append(out, x)
		}
	}
	return out
}

// sizing builds the circuit that was solved.
func (r reference) sizing() (*engine.Sizing, error) {
	c := &engine.Circuit{Placement: engine.LowSide}
	fixed := map[string]si.Quantity{}
	for name, text := range r.given {
		var err error
		switch name {
		case "load":
			c.Load.Kind = text
		case "placement":
			c.Placement = text
		case "stage":
			c.Drive.Stage = text
		case "freewheel":
			c.Freewheel.Kind = text
		case "network":
			c.Part.Characteristics.ZTh.Network = part.Network(text)
		case "cells":
			err = pairs(text, "/", func(a, b float64) {
				z := &c.Part.Characteristics.ZTh
				z.To = "ambient"
				z.Cells = append(z.Cells, part.Cell{R: si.Of(a, si.ThermalResistance), Tau: si.Of(b, si.Time)})
			})
		case "r_ds_on_ratio":
			err = pairs(text, ":", func(a, b float64) {
				k := &c.Part.Characteristics.Ratio
				*k = append(*k, part.Point{Temperature: si.Of(a, si.Temperature), Ratio: si.Of(b, si.One)})
			})
		default:
			n, ok := engine.Lookup(name)
			if !ok {
				return nil, fmt.Errorf("there is no input or quantity %q", name)
			}
			d := engine.Describe(n)
			v, e := strconv.ParseFloat(text, 64)
			err = e
			if in := d.Input(); in != nil {
				in.Set(c, si.Of(v, d.Dim))
			} else {
				fixed[name] = si.Of(v, d.Dim)
			}
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	s := engine.NewSizing(c)
	for name, q := range fixed {
		var err error
		if s, err = s.With(name, q); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// pairs reads "1/2 3/4".
func pairs(text, between string, add func(a, b float64)) error {
	for _, field := range strings.Fields(text) {
		left, right, ok := strings.Cut(field, between)
		a, err1 := strconv.ParseFloat(left, 64)
		b, err2 := strconv.ParseFloat(right, 64)
		if err := errors.Join(err1, err2); !ok || err != nil {
			return fmt.Errorf("%q is not two numbers with %q between them: %v", field, between, err)
		}
		add(a, b)
	}
	return nil
}

// line is one row of the table: a column of a file.
type line struct {
	file, column, reason string
	checks               int
	worst                float64
}

// TestReference holds the engine against every recorded circuit.
func TestReference(t *testing.T) {
	references := readReferences(t)
	if len(references) < 300 {
		t.Errorf("only %d circuits are recorded", len(references))
	}
	var lines []*line
	at := map[string]*line{}
	for _, r := range references {
		s, err := r.sizing()
		if err != nil {
			t.Fatalf("%s.csv, id %s: %v", r.file, r.id, err)
		}
		for _, column := range slices.Sorted(maps.Keys(r.found)) {
			i := slices.IndexFunc(bounds, func(b bound) bool { return b.fits(r.file, column) })
			if i < 0 {
				t.Fatalf("%s.csv: no bound for %s", r.file, column)
			}
			deviation := r.compare(t, s, column, &bounds[i])
			l := at[r.file+column]
			if l == nil {
				l = &line{file: r.file, column: column, reason: bounds[i].reason}
				at[r.file+column] = l
				lines = append(lines, l)
			}
			l.checks++
			if math.Abs(deviation) > math.Abs(l.worst) {
				l.worst = deviation
			}
		}
	}
	table := tabulate(lines)
	t.Logf("%d circuits\n%s", len(references), table)
	readme, err := os.ReadFile(filepath.Join(referenceDir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(readme), table) {
		t.Error("the table in testdata/reference/README.md is not the one above")
	}
}

// compare gives the relative deviation of the engine in one column and judges it.
func (r reference) compare(t *testing.T, s *engine.Sizing, column string, b *bound) float64 {
	t.Helper()
	name, _, _ := strings.Cut(column, "@")
	got, err := s.Quantity(name)
	var absent *engine.Absent
	if r.found[column] == "runaway" {
		if !errors.As(err, &absent) || absent.Because != engine.Runaway {
			t.Errorf("%s.csv, id %s: %s is %v (%v), where the solver finds that it runs away", r.file, r.id, name, got, err)
		}
		return 0
	}
	want, bad := strconv.ParseFloat(r.found[column], 64)
	if err = errors.Join(err, bad); err != nil {
		t.Errorf("%s.csv, id %s: %s: %v", r.file, r.id, column, err)
		return 0
	}
	origin := 0.0
	if got.Dim == si.Temperature {
		origin = r.value("ambient") // a share of the rise, not of the degrees
	}
	deviation := (got.Value-origin)/(want-origin) - 1
	if below, above := b.limit(r); !(deviation >= below && deviation <= above) {
		t.Errorf("%s.csv, id %s: %s is %v, the solver's %g: %+.2f %%, allowed %+.2f to %+.2f %%",
			r.file, r.id, column, got, want, 100*deviation, 100*below, 100*above)
	}
	return deviation
}

// tabulate prints what was compared, as Markdown.
func tabulate(lines []*line) string {
	var b strings.Builder
	b.WriteString("| file | quantity | checks | worst deviation | why |\n| --- | --- | --- | --- | --- |\n")
	for _, l := range lines {
		worst := "under 0.01 %"
		if math.Abs(l.worst) >= 1e-4 {
			worst = strings.Replace(fmt.Sprintf("%+.1f %%", 100*l.worst), "-", "−", 1)
		}
		fmt.Fprintf(&b, "| %s | `%s` | %d | %s | %s |\n", l.file, l.column, l.checks, worst, l.reason)
	}
	return b.String()
}

// TestReferencesRemade solves a random sample of the recorded circuits again.
// It asks for the two programs, so it runs on demand and in CI.
func TestReferencesRemade(t *testing.T) {
	all := os.Getenv("FULLYON_TEST_ALL") == "1"
	if !all && os.Getenv("FULLYON_REFERENCE") != "1" {
		t.Skip("runs with FULLYON_REFERENCE=1 where ngspice and python3-scipy are installed")
	}
	python, err := solvers()
	if err != nil {
		if all {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	out, err := exec.Command(python, filepath.Join(referenceDir, "make.py"), "--check", "--sample", "20").CombinedOutput()
	t.Logf("%s", out)
	if err != nil {
		t.Error(err)
	}
}

// solvers finds the circuit solver and a Python that has the numerics library.
func solvers() (python string, err error) {
	if _, err := exec.LookPath("ngspice"); err != nil {
		return "", errors.New("ngspice is not installed (Debian package ngspice)")
	}
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import scipy, numpy").Run() == nil {
			return python, nil
		}
	}
	return "", errors.New("no python3 has SciPy (Debian package python3-scipy)")
}
