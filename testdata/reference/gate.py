"""Gate as a capacitance behind resistance: times to a level, and a lift from the drain."""

import spice


def draw_part(d, von):
    """Plateau and threshold below a gate voltage that turns the part well on."""
    plateau = d.between(von / 5, von / 1.25)
    return {"v_plateau": plateau, "v_gs_th_typ": float("%.3g" % (plateau * d.between(0.45, 0.85)))}


def draw_delay(d):
    high = d.one_of(1.71, 2.38, 3.14, 4.75, 9.5, 11.4)
    row = {
        "placement": "low_side", "stage": "direct", "logic_high_min": high,
        "pin_resistance": d.between(5, 150), "series_resistor": d.one_of(0.0, d.spread(10, 4700)),
        "r_gate": d.between(0.3, 12), "c_iss": d.spread(15e-12, 12e-9),
    }
    return row | draw_part(d, high)


def draw_delay_pull_down(d):
    return draw_delay(d) | {"pull_down": d.spread(4700, 1e6)}


def draw_delay_shifted(d):
    up, low = d.spread(1e3, 47e3), d.spread(10, 470)
    _, supply = d.supply()
    von = supply * up / (up + low)
    row = {
        "placement": "high_side", "stage": "level_shift", "supply_voltage": supply, "pull_down": up,
        "series_resistor": low, "r_gate": d.between(0.3, 12), "c_iss": d.spread(15e-12, 12e-9),
    }
    return row | draw_part(d, von)


def gate_network(row):
    """Netlist from the step source at node pin to the capacitance at node g, and its time constant.

    A step from 0 V turns on; on the high side voltages count from the source of
    the part downwards, and turning off leaves only the pull-up.
    """
    c = "C1 g 0 %r" % row["c_iss"]
    if row["placement"] == "high_side":
        up, low = row["pull_down"], row["series_resistor"]
        on = ["Rlow pin a %r" % low, "Rup a 0 %r" % up, "Rg a g %r" % row["r_gate"], c]
        off = ["Rup pin a %r" % up, "Rg a g %r" % row["r_gate"], c]
        return on, off, (low + row["r_gate"]) * row["c_iss"], (up + row["r_gate"]) * row["c_iss"]
    r = row["pin_resistance"] + row["series_resistor"] + row["r_gate"]
    net = ["Rpin pin a %r" % row["pin_resistance"], "Rs a b %r" % max(row["series_resistor"], 1e-6), "Rg b g %r" % row["r_gate"], c]
    if "pull_down" in row:
        net.append("Rpd b 0 %r" % row["pull_down"])
    return net, net, r * row["c_iss"], r * row["c_iss"]


def solve_delay(row):
    on, off, tau_on, tau_off = gate_network(row)
    high = row["supply_voltage"] if row["placement"] == "high_side" else row["logic_high_min"]
    edge = 1e-6
    start = "PWL(0 0 %r %r)" % (tau_on * edge, high)
    t = spice.transient(["V1 pin 0 " + start, *on], tau_on / 1000, 6 * tau_on,
                        {"ton": "when v(g)=%r rise=1" % row["v_gs_th_typ"]})
    from_level = high
    if row["placement"] == "high_side":
        up, low = row["pull_down"], row["series_resistor"]
        from_level = high * up / (up + low)
    stop = "PWL(0 %r %r 0)" % (from_level, tau_off * edge)
    t |= spice.transient(["V1 pin 0 " + stop, *off], tau_off / 1000, 6 * tau_off,
                         {"toff": "when v(g)=%r fall=1" % row["v_plateau"]})
    return {"turn_on_delay": t["ton"], "turn_off_delay": t["toff"]}


def draw_bump(d):
    supply, highest = d.supply()
    c_iss = d.spread(15e-12, 12e-9)
    row = {
        "supply_voltage": supply, "supply_maximum": highest, "supply_rise": d.spread(1e-7, 1e-2),
        "c_iss": c_iss, "c_rss": float("%.3g" % (c_iss * d.between(0.02, 0.3))),
    }
    if d.between(0, 1) < 0.8:
        row["pull_down"] = d.spread(1e3, 1e6)
    return row


def solve_bump(row):
    rise = row["supply_rise"]
    net = [
        "V1 d 0 PWL(0 0 %r %r)" % (rise, row["supply_maximum"]),
        "Cgd d g %r" % row["c_rss"], "Cgs g 0 %r" % (row["c_iss"] - row["c_rss"]),
        "Rpd g 0 %r" % row.get("pull_down", 1e15), ".ic v(g)=0",
    ]
    return {"gate_bump": spice.transient(net, rise / 2000, 1.01 * rise, {"bump": "max v(g)"})["bump"]}
