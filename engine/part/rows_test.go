package part

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fullyon/engine/si"
)

// The rule of rds_on_cold: the row at or below, else one at most 2 % above, else none.
func TestRowFor(t *testing.T) {
	p, _ := Find("LY-N30-4") // rows at 4.5 V and 10 V
	for _, tt := range []struct {
		vgs, row float64
		fit      RowFit
	}{
		{4.5, 4.5, Guaranteed}, {-4.5, 4.5, Guaranteed}, {9.99, 4.5, Guaranteed}, {10, 10, Guaranteed}, {12, 10, Guaranteed},
		{4.4999999999, 4.5, Guaranteed}, // rounding of a product, not a lower voltage
		{4.42, 4.5, Tight}, {4.4117648, 4.5, Tight}, {4.411, 0, None}, {3.3, 0, None}, {0, 0, None},
		{9.9, 4.5, Guaranteed}, // a row above is never taken while one lies below
		{math.NaN(), 0, None},
	} {
		row, fit := p.RowFor(tt.vgs)
		if row.VGS.Value != tt.row || fit != tt.fit {
			t.Errorf("at %v V: row %v, %v; want %v, %v", tt.vgs, row.VGS.Value, fit, tt.row, tt.fit)
		}
	}
	if row, ok := p.LowestRow(); !ok || row.VGS.Value != 4.5 {
		t.Errorf("the lowest row is %+v", row)
	}
	var empty Part
	if _, ok := empty.LowestRow(); ok {
		t.Error("a part without rows has a lowest row")
	}
	if _, fit := empty.RowFor(10); fit != None || fit.String() != "none" {
		t.Errorf("a part without rows fits %v", fit)
	}
}

func TestRatio(t *testing.T) {
	table := Part{}
	for _, v := range [][2]float64{{25, 1}, {100, 1.35}, {150, 1.7}} {
		table.Characteristics.Ratio = append(table.Characteristics.Ratio, Point{si.Of(v[0], si.Temperature), si.Of(v[1], si.One)})
	}
	class := func(v float64) Part { return Part{Ratings: Ratings{VDS: si.Of(v, si.Voltage)}} }
	for _, tt := range []struct {
		name  string
		p     Part
		t, k  float64
		table bool
	}{
		{"point", table, 100, 1.35, true},
		{"between", table, 62.5, 1.175, true},
		{"last slope goes on", table, 175, 1.875, true},
		{"first slope goes on", table, 0, 1 - 25*0.35/75, true},
		{"engine.md: 0.006/K to 40 V", class(40), 125, 1.6, false},
		{"engine.md: 0.009/K to 60 V", class(60), 125, 1.9, false},
		{"engine.md: 0.013/K above", class(100), 125, 2.3, false},
		{"far below zero", class(100), -200, 0.1, false},
	} {
		if k, fromTable := tt.p.Ratio(tt.t); math.Abs(k-tt.k) > 1e-12 || fromTable != tt.table {
			t.Errorf("%s: k(%v) = %v, %v; want %v, %v", tt.name, tt.t, k, fromTable, tt.k, tt.table)
		}
	}
}

func TestRatioNeverFalls(t *testing.T) {
	parts := Drawer()
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(parts).Draw(t, "part")
		a := rapid.Float64Range(-55, 400).Draw(t, "a")
		b := rapid.Float64Range(-55, 400).Draw(t, "b")
		ka, _ := p.Ratio(min(a, b))
		kb, _ := p.Ratio(max(a, b))
		if ka > kb+1e-12 || math.IsNaN(ka) || math.IsInf(kb, 0) {
			t.Fatalf("%s: k falls from %v to %v", p.Name, ka, kb)
		}
	})
}
