"""Heat: the response of a thermal network, and the temperature that feeds back on its cause."""

import numpy as np
from scipy.linalg import expm
from scipy.optimize import brentq

import spice


def draw_response(d):
    count = d.one_of(2, 3, 4, 5)
    tau = d.spread(1e-6, 1e-4)
    r = d.spread(0.02, 0.5)
    cells = []
    for _ in range(count):
        cells.append("%.3g/%.3g" % (r, tau))
        tau *= d.spread(5, 300)
        r *= d.spread(1.3, 12)
    last = float(cells[-1].split("/")[1])
    return {
        "load": "lamp", "network": d.one_of("foster", "cauer"), "cells": " ".join(cells),
        "inrush_time": d.spread(1e-6, 3 * last),
    }


def solve_response(row):
    """Rise of the first node for one watt."""
    cells = [tuple(float(x) for x in c.split("/")) for c in row["cells"].split()]
    if row["network"] == "foster":
        return {"z_th_pulse": foster(cells, row["inrush_time"])}
    return {"z_th_pulse": cauer(cells, row["inrush_time"])}


def foster(cells, t):
    """Circuit solver: resistances with a capacitance across each, in series, 1 A for 1 W."""
    net = ["I1 0 n0 PWL(0 0 %r 1)" % (t * 1e-9)]
    for i, (r, tau) in enumerate(cells):
        end = "n%d" % (i + 1) if i + 1 < len(cells) else "0"
        net += ["R%d n%d %s %r" % (i, i, end, r), "C%d n%d %s %r" % (i, i, end, tau / r)]
    net.append(".options method=gear maxord=2")
    return spice.transient(net, t / 4000, 1.001 * t, {"z": "find v(n0) at=%.12g" % t})["z"]


def cauer(cells, t):
    """Numerics library: C dT/dt = -G T + P as a matrix exponential."""
    n = len(cells)
    g = np.zeros((n, n))
    for i, (r, _) in enumerate(cells):
        g[i, i] += 1 / r
        if i + 1 < n:
            g[i + 1, i + 1] += 1 / r
            g[i, i + 1] -= 1 / r
            g[i + 1, i] -= 1 / r
    c = np.array([tau / r for r, tau in cells])
    system = np.zeros((n + 1, n + 1))  # the power as a last state that stays at 1
    system[:n, :n] = -g / c[:, None]
    system[0, n] = 1 / c[0]
    return float(expm(system * t)[0, n])


def draw_junction(d):
    supply, highest = d.supply()
    temperatures, ratios = [-40, 25, 75, 100, 125, 150, 175], []
    rise = d.between(0.003, 0.013)
    curve = d.between(0, 4e-5)
    for t in temperatures:
        ratios.append(1 + rise * (t - 25) * (0.6 if t < 25 else 1) + curve * (t - 25) ** 2)
    count = d.one_of(0, 3, 5, 7)
    row = {
        "load": "resistive", "supply_voltage": supply, "supply_maximum": highest, "v_ds": d.one_of(20.0, 30.0, 40.0, 55.0, 60.0, 100.0),
        "duty": d.between(0.05, 1, 2), "ambient": d.between(-10, 60, 2),
    }
    if d.between(0, 1) < 0.7:
        row["theta_ja"] = d.spread(15, 400)
    else:
        row |= {"theta_jc": d.between(0.3, 5), "theta_cs": d.between(0.1, 1.5), "theta_sa": d.spread(1, 40)}
    if count:
        keep = sorted({1, len(temperatures) - 1, *d.random.sample(range(len(temperatures)), count - 2)})
        row["r_ds_on_ratio"] = " ".join("%d:%.4g" % (temperatures[i], ratios[i]) for i in keep)
    row["given_current"] = d.spread(0.05, 20)
    # a resistance that heats the cold part by a given number of kelvins: about a third of all run away
    i2 = (row["given_current"] * highest / supply) ** 2 * row["duty"]
    row["rds_on_cold"] = float("%.3g" % (d.spread(2, 250) / (i2 * theta(row))))
    return row


def theta(row):
    return row.get("theta_ja") or row["theta_jc"] + row["theta_cs"] + row["theta_sa"]


def ratio(row):
    """k(T), with the last slopes carried on; without a table a slope by voltage class."""
    if "r_ds_on_ratio" not in row:
        alpha = 0.006 if row["v_ds"] <= 40 else 0.009 if row["v_ds"] <= 60 else 0.013
        return lambda t: 1 + alpha * (t - 25)
    points = [tuple(float(x) for x in p.split(":")) for p in row["r_ds_on_ratio"].split()]
    x, y = zip(*points)

    def k(t):
        if t < x[0]:
            return y[0] + (t - x[0]) * (y[1] - y[0]) / (x[1] - x[0])
        if t > x[-1]:
            return y[-1] + (t - x[-1]) * (y[-1] - y[-2]) / (x[-1] - x[-2])
        return float(np.interp(t, x, y))
    return k


def solve_junction(row):
    """Lowest temperature below 1000 °C at which the heat made is the heat taken away."""
    k, start, th = ratio(row), row["ambient"], theta(row)
    i = row["given_current"] * row["supply_maximum"] / row["supply_voltage"]
    cold = i * i * row["duty"] * row["rds_on_cold"]

    def excess(t):
        return start + th * cold * max(0.1, k(t)) - t
    grid = np.arange(start, 1000, 0.25)
    for a, b in zip(grid, grid[1:]):
        if excess(b) <= 0:
            return {"junction_temperature": brentq(excess, a, b, xtol=1e-10)}
    return {"junction_temperature": "runaway"}
