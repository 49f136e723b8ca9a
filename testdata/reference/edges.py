"""Edges: how long the swing of the drain takes, and the energy that it turns into heat.

The gate's voltage follows the charge as a datasheet draws it: straight up to the
plateau over q_gs, flat over q_gd. Pin and resistors feed it; each element of charge
dQ takes the time R dQ / (voltage across R). With a freewheel path the current first
rises from threshold to plateau at full voltage across the switch (supply and clamp),
then the voltage falls over q_gd. With a resistance both swing together over the
whole of that charge.
"""

from scipy.integrate import quad

import coil
import spice
from gate import draw_part


def draw_gate(d):
    high = d.one_of(2.38, 3.14, 4.75, 9.5, 11.4)
    qgd = d.spread(80e-12, 25e-9)
    return {
        "logic_high_min": high, "pin_resistance": d.between(5, 150), "series_resistor": d.one_of(0.0, d.spread(10, 2200)),
        "r_gate": d.between(0.3, 12), "q_gs": float("%.3g" % (qgd * d.between(0.5, 1.4))), "q_gd": qgd,
    } | draw_part(d, high)


def draw_resistive(d):
    supply, highest = d.supply()
    return {"load": "resistive", "supply_voltage": supply, "supply_maximum": highest, "given_current": d.spread(0.05, 20)} | draw_gate(d)


def draw_inductive(d):
    supply, highest = d.supply()
    return {
        "load": "motor", "supply_voltage": supply, "supply_maximum": highest, "given_current": d.spread(0.05, 20),
        "freewheel": "diode", "v_f": d.between(0.3, 1.1),
    } | draw_gate(d)


class Edge:
    """One edge of the gate, towards `to` volts."""

    def __init__(self, row, to):
        self.row, self.to = row, to
        self.r = row["pin_resistance"] + row["series_resistor"] + row["r_gate"]
        self.start = row["q_gs"] * row["v_gs_th_typ"] / row["v_plateau"]  # charge at the threshold
        self.knee = row["q_gs"]
        self.end = row["q_gs"] + row["q_gd"]

    def gate(self, q):
        return self.row["v_plateau"] * min(q / self.knee, 1)

    def over_charge(self, what):
        """The integral of what(q) over the time of the edge."""
        def part(a, b):
            return quad(lambda q: what(q) * self.r / abs(self.to - self.gate(q)), a, b, epsabs=0, epsrel=1e-10)[0]
        return part(self.start, self.knee) + part(self.knee, self.end)

    def time(self):
        return self.over_charge(lambda q: 1.0)

    def energy(self, current, voltage, inductive):
        def power(q):
            if not inductive:
                done = (q - self.start) / (self.end - self.start)
                return voltage * (1 - done) * current * done
            if q < self.knee:
                return voltage * current * (q - self.start) / (self.knee - self.start)
            return voltage * (self.end - q) / (self.end - self.knee) * current
        return self.over_charge(power)


def rising_energy(row, current, voltage):
    """Energy of both edges into a resistance when the gate rises on evenly through the swing.

    The gate-drain capacitance is taken constant here, so the drain's swing holds
    the gate back all the way from threshold to plateau instead of on the plateau.
    """
    r = row["pin_resistance"] + row["series_resistor"] + row["r_gate"]
    low, high = row["v_gs_th_typ"], row["v_plateau"]
    c = (row["q_gs"] * (1 - low / high) + row["q_gd"]) / (high - low)

    def edge(to):
        def power(v):
            x = (v - low) / (high - low)
            return voltage * (1 - x) * current * x * r * c / abs(to - v)
        return quad(power, low, high, epsabs=0, epsrel=1e-10)[0]
    return edge(row["logic_high_min"]) + edge(0.0)


def circuit_energy(row, current, voltage):
    """The same by the circuit solver: a channel of constant transconductance between
    constant capacitances, which finds its plateau by itself. The channel carries
    nothing at the threshold and the load's current at the plateau; in full
    conduction it drops about a thousandth of the supply. Corners are rounded a
    little, as the solver needs. None where the charges leave too little for a
    gate-source capacitance, or where the gate's own current matters beside the load's.
    """
    r = row["pin_resistance"] + row["series_resistor"] + row["r_gate"]
    inductive = row["load"] != "resistive"
    cgd = row["q_gd"] / voltage
    cgs = row["q_gs"] / row["v_plateau"] - cgd
    high, low, plateau = row["logic_high_min"], row["v_gs_th_typ"], row["v_plateau"]
    if cgs < 0.3 * (cgs + cgd) or max(high - plateau, plateau) / r > current / 50:
        return None
    gm = current / (plateau - low)
    drop = 1e-3 * voltage
    above = "(V(g)-%r)" % low
    if inductive:
        over = "(V(d)-V(rail)-%r)" % (voltage - row["supply_maximum"])
        load = ["Iload rail d %r" % current, "Bfw d rail I=%r*(%s+sqrt(%s*%s+1e-5))" % (current / 0.02, over, over, over)]
    else:
        load = ["Rload rail d %r" % (row["supply_maximum"] / current)]
    total = 0.0
    for first, last, drive in ((0.0, high, high - plateau), (high, 0.0, low)):
        span = 1.6 * r * (row["q_gs"] + row["q_gd"]) / drive + 2 * r * (cgs + cgd)
        scale = voltage * current * span
        net = [
            "Vpin pin 0 PWL(0 %r %r %r)" % (first, span * 1e-4, last), "Rg pin g %r" % r,
            "Cgs g 0 %r" % cgs, "Cgd g d %r" % cgd, "Vrail rail 0 %r" % row["supply_maximum"], *load,
            "Vsense d c 0", "Bch c 0 I=%r*(%s+sqrt(%s*%s+%r))*tanh(V(c)/%r)" % (gm / 2, above, above, above, (1e-3 * (plateau - low)) ** 2, drop),
            "Be 0 e I=V(d)*I(Vsense)/%r" % scale, "Ce e 0 1", ".ic v(e)=0",
        ]
        found = spice.transient(net, span / 5000, span, {"heat": "find v(e) at=%.12g" % (0.999 * span)}, spice.KINKED)
        total += found["heat"] * scale
    return total


def with_circuit(out, row, current, voltage):
    found = circuit_energy(row, current, voltage)
    if found is not None:
        out["switching_energy@circuit"] = found
    return out


def both(row):
    return Edge(row, row["logic_high_min"]), Edge(row, 0.0)


def steady_current(row):
    return row["given_current"] * row["supply_maximum"] / row["supply_voltage"]


def solve_resistive(row):
    on, off = both(row)
    current, voltage = steady_current(row), row["supply_maximum"]
    return with_circuit({
        "turn_on_time": on.time(), "turn_off_time": off.time(),
        "switching_energy": on.energy(current, voltage, False) + off.energy(current, voltage, False),
        "switching_energy@rising": rising_energy(row, current, voltage),
    }, row, current, voltage)


def solve_inductive(row):
    """With the drain as high as the diode lets it go, and held at the rail as the usual formula has it."""
    on, off = both(row)
    current = steady_current(row)

    def energy(voltage):
        return on.energy(current, voltage, True) + off.energy(current, voltage, True)
    return with_circuit({
        "turn_on_time": on.time(), "turn_off_time": off.time(),
        "switching_energy@rail": energy(row["supply_maximum"]),
        "switching_energy": energy(row["supply_maximum"] + row["v_f"]),
    }, row, current, row["supply_maximum"] + row["v_f"])


def draw_coil(d):
    return coil.draw_pwm(d) | draw_gate(d)


def solve_coil(row):
    """A coil turns on at its lowest current and off at its highest."""
    on, off = both(row)
    period = coil.Period(row)
    low = period.steady()
    high = period.rise(low)[0]
    voltage = row["supply_maximum"] + coil.clamp(row)
    return {
        "switch_current": (high + low) / 2, "ripple_current": high - low,
        "turn_on_time": on.time(), "turn_off_time": off.time(),
        "switching_energy": on.energy(low, voltage, True) + off.energy(high, voltage, True),
    }
