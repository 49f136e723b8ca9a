#!/usr/bin/python3
"""Records what general-purpose solvers say of random circuits, for the engine to be held against.

Needs ngspice and SciPy (Debian: ngspice, python3-scipy).

  make.py                      draw all circuits, solve them, write the CSV files
  make.py --check              solve all recorded circuits again and compare
  make.py --check --sample 20  the same for 20 of them, chosen at random
"""

import sys

sys.dont_write_bytecode = True

import argparse
import csv
import io
import math
import pathlib
import random

import scipy

import coil
import edges
import gate
import heat
import spice
from draw import Draw

# file: (number of circuits, how to draw one, how to solve one, who solves, what it is)
SETS = {
    "gate_delay": (40, gate.draw_delay, gate.solve_delay, "ngspice transient", "gate charged and discharged through pin, series resistor and gate resistance"),
    "gate_delay_pull_down": (20, gate.draw_delay_pull_down, gate.solve_delay, "ngspice transient", "the same with a resistor from gate to source behind the series resistor"),
    "gate_delay_shifted": (20, gate.draw_delay_shifted, gate.solve_delay, "ngspice transient", "P-channel gate behind a level shifter; voltages counted from its source"),
    "gate_bump": (30, gate.draw_bump, gate.solve_bump, "ngspice transient", "gate lifted through the gate-drain capacitance by a rising supply"),
    "decay": (60, coil.draw_decay, coil.solve_decay, "ngspice transient", "current of coil and wire resistance against a constant clamp voltage"),
    "pwm": (70, coil.draw_pwm, coil.solve_pwm, "SciPy solve_ivp and brentq", "coil under PWM in its periodic state, with a freewheel path of constant voltage"),
    "edges_inductive": (60, edges.draw_inductive, edges.solve_inductive, "SciPy quad", "both edges with a steady current that goes on through a diode; @rail: drain held at the rail meanwhile; @circuit: ngspice transient of a channel between capacitances"),
    "edges_resistive": (50, edges.draw_resistive, edges.solve_resistive, "SciPy quad", "both edges into a resistance; @rising: gate rising through the swing instead of a plateau; @circuit: ngspice transient of a channel between capacitances"),
    "edges_coil": (50, edges.draw_coil, edges.solve_coil, "SciPy solve_ivp, brentq and quad", "both edges of a coil under PWM: on at its lowest current, off at its highest"),
    "response": (50, heat.draw_response, heat.solve_response, "foster: ngspice transient; cauer: SciPy expm", "rise of the junction for one watt after inrush_time; cells are K/W and s"),
    "junction": (70, heat.draw_junction, heat.solve_junction, "SciPy brentq", "settled junction temperature in °C, or runaway"),
}

HERE = pathlib.Path(__file__).resolve().parent


def agree(column):
    """The relative difference below which two runs, maybe of other program versions, agree."""
    return 2e-3 if column.endswith("@circuit") else 1e-4  # the one that finds its own time steps at corners


def drawn(kind, number):
    return SETS[kind][1](Draw("%s %d" % (kind, number)))


def text(value):
    return value if isinstance(value, str) else "%.9g" % value


def write(kind):
    count, _, solve, who, what = SETS[kind]
    rows = []
    for n in range(1, count + 1):
        given = drawn(kind, n)
        rows.append(({"id": str(n)} | {k: text(v) for k, v in given.items()}, {"=" + k: text(v) for k, v in solve(given).items()}))
    columns = []
    for which in (0, 1):
        for row in rows:
            columns += [k for k in row[which] if k not in columns]
    out = io.StringIO()
    out.write("# %s\n# SI units, temperatures in °C. Columns with = were solved for by %s.\n" % (what, who))
    out.write("# Made by make.py with ngspice %s and SciPy %s.\n" % (spice.version(), scipy.__version__))
    table = csv.DictWriter(out, columns, lineterminator="\n")
    table.writeheader()
    for given, found in rows:
        table.writerow(given | found)
    (HERE / (kind + ".csv")).write_text(out.getvalue(), encoding="utf-8")
    print("%s: %d circuits" % (kind, count))


def recorded():
    """Every recorded circuit: kind, number, what was given, what was found."""
    for kind in SETS:
        with open(HERE / (kind + ".csv"), encoding="utf-8", newline="") as f:
            for row in csv.DictReader(line for line in f if not line.startswith("#")):
                given = {k: v for k, v in row.items() if v and not k.startswith("=") and k != "id"}
                found = {k[1:]: v for k, v in row.items() if v and k.startswith("=")}
                yield kind, int(row["id"]), given, found


def number(value):
    try:
        return float(value)
    except ValueError:
        return value


def differences(kind, n, given, found):
    """What is not as recorded, in words."""
    redrawn = {k: text(v) for k, v in drawn(kind, n).items()}
    if redrawn != given:
        yield "the draw gives other values: %s" % redrawn
    again = SETS[kind][2]({k: number(v) for k, v in given.items()})
    if set(again) != set(found):
        yield "other columns: %s" % sorted(again)
    for name, want in found.items():
        got, want = again.get(name), number(want)
        if isinstance(want, str) or isinstance(got, str):
            same = got == want
        else:
            same = math.isclose(got, want, rel_tol=agree(name))
        if not same:
            yield "%s is %s, recorded %s" % (name, got, want)


def check(sample):
    rows = list(recorded())
    if sample:
        rows = random.SystemRandom().sample(rows, min(sample, len(rows)))
    worse = 0
    for kind, n, given, found in rows:
        for d in differences(kind, n, given, found):
            worse += 1
            print("%s.csv, id %d: %s" % (kind, n, d))
    print("%d circuits solved again with ngspice %s and SciPy %s, %d differences" % (len(rows), spice.version(), scipy.__version__, worse))
    return 1 if worse else 0


def main():
    a = argparse.ArgumentParser(description="Records of general-purpose solvers for the sizing engine.")
    a.add_argument("--check", action="store_true", help="solve recorded circuits again and compare")
    a.add_argument("--sample", type=int, default=0, metavar="N", help="check only N circuits, chosen at random")
    a.add_argument("--only", choices=SETS, help="write only this file")
    args = a.parse_args()
    if args.check:
        return check(args.sample)
    for kind in SETS:
        if args.only in (None, kind):
            write(kind)
    return 0


if __name__ == "__main__":
    sys.exit(main())
