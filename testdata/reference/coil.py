"""Coil: how its current dies behind a clamp, and how it swings under PWM."""

import math

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import spice


def draw_clamp(d):
    if d.between(0, 1) < 0.6:
        return {"freewheel": "diode", "v_f": d.between(0.25, 1.2)}
    return {"freewheel": "zener", "v_f": d.between(0.25, 1.2), "v_z": d.between(3, 40)}


def clamp(row):
    return row["v_f"] + row.get("v_z", 0.0)


def draw_resistance(d, supply):
    """The wire of the coil, given as such, as current or as power."""
    r = d.spread(0.5, 2000)
    how = d.one_of("load_resistance", "given_current", "load_power")
    if how == "given_current":
        return {how: float("%.4g" % (supply / r))}
    if how == "load_power":
        return {how: float("%.4g" % (supply * supply / r))}
    return {how: r}


def resistance(row):
    if "given_current" in row:
        return row["supply_voltage"] / row["given_current"]
    if "load_power" in row:
        return row["supply_voltage"] ** 2 / row["load_power"]
    return row["load_resistance"]


def draw_decay(d):
    supply, highest = d.supply()
    return {
        "load": "coil", "supply_voltage": supply, "supply_maximum": highest,
        **draw_resistance(d, supply), "inductance": d.spread(20e-6, 5),
    } | draw_clamp(d)


def solve_decay(row):
    """The coil rests at its full current; then its end is let go and the clamp holds it
    beyond the rail. The circuit solver finds when the current has died."""
    r, l, v = resistance(row), row["inductance"], clamp(row)
    tau = l / r
    window = 1.05 * tau * math.log(1 + row["supply_maximum"] / v)
    edge = window * 1e-7
    net = ["V1 a 0 PWL(0 %r %r %r)" % (row["supply_maximum"], edge, -v), "L1 a b %r" % l, "R1 b 0 %r" % r]
    t = spice.transient(net, window / 4000, window, {"dead": "when v(b)=0 fall=1"})
    return {"freewheel_decay_time": t["dead"]}


def draw_pwm(d):
    supply, highest = d.supply()
    row = {"load": "coil", "supply_voltage": supply, "supply_maximum": highest, **draw_resistance(d, supply)}
    row |= {"frequency": d.spread(1, 40e3), "duty": d.between(0.03, 0.97, 2)}
    periods = d.spread(0.03, 60)  # L/R in periods
    row["inductance"] = float("%.3g" % (periods * resistance(row) / row["frequency"]))
    return row | draw_clamp(d)


class Period:
    """The switched circuit over one period, integrated step by step.

    While the switch is on L di/dt = V_M − R i; while off L di/dt = −V_clamp − R i,
    until the current is gone.
    """

    def __init__(self, row):
        self.v, self.r, self.l, self.back = row["supply_maximum"], resistance(row), row["inductance"], clamp(row)
        self.on = row["duty"] / row["frequency"]
        self.off = (1 - row["duty"]) / row["frequency"]

    def run(self, slope, state, span, event=None):
        s = solve_ivp(slope, (0, span), state, method="DOP853", rtol=1e-11, atol=1e-13 * self.v / self.r, events=event)
        if not s.success:
            raise RuntimeError(s.message)
        return s

    def rise(self, i):
        """Current at the end of the on-time, and the integrals of i and i² over it."""
        def slope(_, y):
            return [(self.v - self.r * y[0]) / self.l, y[0], y[0] * y[0]]
        return self.run(slope, [i, 0, 0], self.on).y[:, -1]

    def fall(self, i):
        """Current at the end of the off-time: 0 if it dies before."""
        def dead(_, y):
            return y[0]
        dead.terminal, dead.direction = True, -1
        s = self.run(lambda _, y: [(-self.back - self.r * y[0]) / self.l], [i], self.off, dead)
        return 0.0 if s.t_events[0].size else max(0.0, s.y[0, -1])

    def steady(self):
        """The current at the start of the on-time that comes back after a period."""
        def change(i):
            return self.fall(self.rise(i)[0]) - i
        if change(0.0) <= 0:
            return 0.0
        return brentq(change, 0.0, self.v / self.r, xtol=1e-14 * self.v / self.r, rtol=1e-12)


def solve_pwm(row):
    p = Period(row)
    low = p.steady()
    high, charge, square = p.rise(low)
    return {
        "switch_current": (high + low) / 2,
        "ripple_current": high - low,
        "switch_current@mean": charge / p.on,
        "current_rms": math.sqrt(square * row["frequency"]),
    }
