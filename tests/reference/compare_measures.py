"""Compares `jawforce measure` with this reference: work over the stroke, peaks and least values.

    venv/bin/python compare_measures.py --binary target/release/jawforce demo.toml other.toml

Work: adaptive integration over the handle's angle between the corners of the work's curve, and the
energy balance of the reference itself (hand = jaw + springs + friction). Peaks: the best of all
steps of the stroke, refined on either side of it.

Limits: 1e-6, as in `compare.py`: work relative to itself, peaks and least values to the greatest of
that measure in the stroke. The program prints nine decimals.
"""

import sys
from pathlib import Path

import numpy as np

import work
from ledger import Ledger, arguments, run
from solver import Solution
from stations import Places
from toolfile import load
from units import FORCE, LENGTH

LIMITS = {"hand_work": 1e-6, "jaw_work": 1e-6, "energy balance of the reference": 1e-8,
          "ratio": 1e-6, "jaw_force": 1e-6, "hand_force": 1e-6, "efficiency": 1e-6,
          "pin_load": 1e-6, "span": 1e-6, "gap": 1e-6}


def readers(tool):
    """{measure: (unit, value(station, grip))}; None where there is no value."""
    force, length = tool.reader.factor(FORCE), tool.reader.factor(LENGTH)

    def jaw_force(station, grip):
        z = station.under_hand(grip, tool.hand.force)
        return None if z is None else z[-1]

    def hand_force(station, grip):
        z = station.under_work(grip)
        return None if z is None else max(z[-1], 0.0)

    def efficiency(station, grip):
        rough = station.under_hand(grip, tool.hand.force)
        plain = station.under_hand(grip, tool.hand.force, friction=False)
        return None if rough is None else rough[-1] / plain[-1]

    def pin_load(k):
        def read(station, grip):
            z, _, _ = work.forces_there(station, grip)
            return None if z is None else float(np.hypot(z[2 * k], z[2 * k + 1]))
        return read

    found = {"ratio": (1.0, lambda s, g: s.ratio(g)), "jaw_force": (force, jaw_force),
             "efficiency": (1.0, efficiency), "gap": (length, lambda s, g: s.gap),
             "span": (length, lambda s, g: s.span(g))}
    if not tool.hand.against:
        del found["span"]       # a span needs two handles
    if tool.work is not None:
        found["hand_force"] = (force, hand_force)
    for k, joint in enumerate(tool.joints):
        found[f"pin_load.{joint.label}"] = (force, pin_load(k))
    return found


def compare(path, binary, ledger):
    tool = load(path)
    places = Places(Solution(tool))
    length, force = tool.reader.factor(LENGTH), tool.reader.factor(FORCE)
    for grip in tool.hand.grips:
        words = ["measure", path]
        held = ["--grip", f"{grip / length:.15g}"]
        place = f"{Path(path).name} grip {grip / length:.4g}"
        hand, jaw = work.hand_work(places, grip), work.jaw_work(places, grip)
        balance = hand - jaw - work.spring_energy(places) - work.friction_work(places, grip)
        balance -= work.pawl_work(places)
        ledger.add("energy balance of the reference", abs(balance / hand), place)
        for name, value in (("hand_work", hand), ("jaw_work", jaw)):
            theirs = float(run(binary, *words, name, *held)) * length * force
            ledger.add(name, abs(theirs / value - 1), f"{place}: {theirs:.9g} and {value:.9g}")
        for name, (unit, read) in readers(tool).items():
            top = 0.0
            for at, sense in (("peak", 1.0), ("least", -1.0)):
                if at == "least" and name.startswith("pin_load"):
                    continue    # the program has no pin load where the work needs nothing yet
                mine = places.extreme(lambda s, r=read: r(s, grip), sense)
                top = max(top, abs(mine))
                theirs = float(run(binary, *words, name, "--at", at, *held)) * unit
                ledger.add(name.split(".")[0], abs(theirs - mine) / top,
                           f"{place} {name} {at}: {theirs:.9g} and {mine:.9g}")


def main():
    chosen = arguments(__doc__)
    ledger = Ledger(LIMITS)
    for path in chosen.files:
        compare(path, chosen.binary, ledger)
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
