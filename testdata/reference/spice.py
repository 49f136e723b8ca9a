"""Runs the circuit solver on a netlist and reads what it measured."""

import os
import re
import subprocess
import tempfile

OPTIONS = ".options reltol=1e-6 abstol=1e-15 vntol=1e-9 chgtol=1e-20"
KINKED = ".options reltol=1e-4 abstol=1e-9 vntol=1e-6 chgtol=1e-18 itl4=200 method=gear"  # for elements whose curves have corners


def version():
    out = subprocess.run(["ngspice", "--version"], capture_output=True, text=True, check=True).stdout
    return re.search(r"ngspice-(\S+)", out).group(1)


def transient(netlist, step, stop, measures, options=OPTIONS):
    """Runs a transient of `stop` seconds in steps of at most `step`.

    `measures` maps a name to what ngspice's `meas tran NAME` is to find; the
    answer maps the names to the values found.
    """
    lines = ["* reference", *netlist, options, ".control", "tran %.9g %.9g 0 %.9g" % (step, stop, step)]
    lines += ["meas tran %s %s" % m for m in measures.items()]
    lines += ["quit", ".endc", ".end", ""]
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "circuit.cir")
        with open(path, "w") as f:
            f.write("\n".join(lines))
        run = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True)
    found = {}
    for name in measures:
        m = re.search(r"^%s\s*=\s*(\S+)" % re.escape(name), run.stdout, re.MULTILINE)
        if not m:
            raise RuntimeError("ngspice did not find %s:\n%s\n%s\n%s" % (name, "\n".join(lines), run.stdout, run.stderr))
        found[name] = float(m.group(1))
    return found
