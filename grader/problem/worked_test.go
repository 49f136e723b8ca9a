package problem_test

import (
	"testing"

	"fullyon/grader/problem"
)

// A value found on the sheet has no formula; one worked out has.
func TestWorkedShowsFormulasOfWhatIsWorkedOut(t *testing.T) {
	tpl, err := problem.Compile("steps.md", []byte(`---
id: steps
title: Steps
lesson: 8
skills: [conduction-loss]
level: 1
minutes: 1
task: steps
draw:
  I: {any: [2 A], symbol: I}
circuit:
  supply: {kind: adapter, voltage: 12 V}
  load: {kind: resistive, current: =I}
  drive: {logic_high: 5 V, logic_high_min: 4.75 V, series_resistor: 180 ohm, pull_down: 100 kohm}
  part: LY-N30-4
questions:
  - {id: heat, kind: quantity, ask: How much heat?, answer: I^2 * rds_on_cold, unit: mW}
worked:
  - {let: R, is: "row(vgs_on, 'max')"}
  - {let: R2, is: rds_on_cold}
  - {let: R3, is: R, unit: ohm}
  - {is: I^2 * R, answers: heat}
---
A heater.
`), problem.Context{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := tpl.Draw(1)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := tpl.Worked(v)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{false, false, true, true} {
		if got := lines[i].Formula != nil; got != want {
			t.Errorf("line %d: formula shown is %v, want %v", i+1, got, want)
		}
	}
}
