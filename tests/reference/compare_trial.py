"""Compares `trial --json` with this reference: what friction, compliance and zero fit readings of the bench.

    venv/bin/python tests/reference/compare_trial.py --binary target/release/jawforce

Generated tools: three toggle presses with sizes at random, without springs and sections, so that the calculated compliance is 0.
Readings are made from a friction, a compliance and a zero with this solver, either way, and then spoiled by so many per cent;
without any the three must come back. Every fifth set is of closing alone: then friction is sought with the other two held at
what is calculated. `bench.py` fits them anew by scipy, with the force measured in what the tool gives.
Compared: every prediction, fitted force and how far it is off; the three and their standard errors; scatter, chi-square, degrees
of freedom; what is held. The band needs tolerances, the friction pin by pin is not judged.

Limits: 1e-6; the three by 1e-5 of their standard errors, since the bottom of a sum of squares is flat. Without spoiling: by 1e-6
of their sizes (0.1, 1e-4 mm/N, 0.1 mm).
"""

import math
import sys

import numpy as np

from bench import Bench, Fit
from ledger import answer
from likeness import alike, run
from toolfile import parse
from units import FORCE, LENGTH
from writing import Units, toml_text

LIMITS = {**dict.fromkeys(("predicted", "measured", "file_friction", "free", "direction", "readings", "reading_error", "beyond",
                           "held"), 1e-6),
          **dict.fromkeys(("fitted", "off", "value", "value without errors", "error", "scatter", "chi_square"), 1e-6),
          "value by its error": 1e-5}
TOOLS = 3


# -- generated tools ---------------------------------------------------------------------------
def make(number, seed):
    """Cases share `TOOLS` tools; their readings differ (`readings_of`)."""
    tool = number % TOOLS
    rng = np.random.default_rng([seed, tool, 47])
    unit = Units(rng, "in-lbf" if tool % 4 == 3 else "mm-N", .1)
    length, point = unit.length, unit.point

    def near(value, by=.15):
        return value + float(rng.uniform(-by, by))

    return {
        "tool": {"name": f"trial {tool}", "units": unit.system},
        "parts": {"frame": {"fixed": True, "pins": {"heel": point([0, 0]), "post": point([near(-20), near(-50)])},
                            "marks": {"anvil": point([20, -58.4])}},
                  "lever": {"pins": {"heel": point([0, 0]), "knee": point([near(-2), near(-24)])}},
                  "strut": {"pins": ["knee", "wrist"], "length": length(near(24, .05))},
                  "ram": {"pins": {"post": point([0, 0]), "wrist": point([near(20), near(2)])},
                          "marks": {"nose": point([40, -5])}}},
        "sketch": {"knee": point([-6, -23]), "wrist": point([0, -46])},
        "hand": {"part": "lever", "line": [point([-12, 2]), point([-60, 2]), point([-125, -3])],
                 "against": {"part": "frame", "line": [point([-12, -58]), point([-60, -52]), point([-125, -42])]},
                 "grips": [length(60 + 5 * tool), length(95)], "push": "across", "force": unit.force(150)},
        "jaw": [{"name": "nose", "on": "ram.nose", "against": "frame.anvil", "axis": 90.0, "closed": length(3.5)}],
        "stroke": {"open": {"gap": length(5.5)}, "shut": {"gap": length(1.0)}, "steps": 8},
        "joints": {"diameter": length(near(5.5, 1)), "friction": round(float(rng.uniform(.05, .2)), 3)},
    }


def readings_of(bench, number, seed):
    """Readings in mm and N, how far they are spoiled, and the three they were made from."""
    rng = np.random.default_rng([seed, number, 48])
    spoiled = 0.0 if number < TOOLS else float(rng.uniform(.002, .03))
    true = (float(rng.uniform(.06, .24)), float(rng.uniform(2e-5, 1.2e-4)), float(rng.uniform(-.1, .1)))
    readings = []
    for way in ("closing", "opening") if not spoiled or number % 5 else ("closing",):
        for gap in np.linspace(1.5, 5.0, int(rng.integers(6, 11))):
            grip = bench.tool.hand.grips[int(rng.integers(2))]
            one = bench.reading(float(gap), way, grip, float(rng.uniform(60, 160)), *true)
            one["force"] *= math.exp(spoiled * rng.standard_normal())
            readings.append(one)
    return readings, spoiled, true


def table_of(readings, tool):
    length, force = tool.reader.factor(LENGTH), tool.reader.factor(FORCE)
    return "gap,jaw_force,hand_force,direction,grip\n" + "".join(
        f"{r['gap'] / length!r},{r['force'] / force!r},{r['hand'] / force!r},{r['way']},{r['grip'] / length!r}\n"
        for r in readings)


BENCHES = {}


def bench_of(document):
    """One for each tool; its friction is the file's, before nodes are put into it."""
    text = toml_text(document)
    if text not in BENCHES:
        tool = parse(text)
        wide = tool.reader.read(document["joints"]["diameter"], LENGTH)
        BENCHES[text] = Bench(tool, {j.pin: wide for j in tool.joints})
    return BENCHES[text]


# -- what has to be said -------------------------------------------------------------------------
def want(document, bench, readings, fit, error):
    """In the file's units."""
    force = bench.tool.reader.factor(FORCE)
    mu = document["joints"]["friction"]
    return {
        "readings": [{"direction": r["way"], "measured": r["force"] / force,
                      "predicted": bench.force(r["gap"], r["way"], r["grip"], r["hand"], mu) / force,
                      "fitted": f / force, "off": 100 * (r["force"] / f - 1)}
                     for r, f in zip(readings, fit.fitted)],
        "file_friction": mu, "free": fit.free, "reading_error": error, "beyond": 0,
    }


def judge(ledger, name, said, document, bench, readings, made):
    spoiled, true = made
    error = said["reading_error"]
    one_way = len({r["way"] for r in readings}) == 1
    held = (0.0, 0.0) if one_way else None
    fit = Fit(bench, readings, error / 100, held)
    alike(ledger, name, said, want(document, bench, readings, fit, 5.0), floor={"off": 2.0})
    length, force = bench.tool.reader.factor(LENGTH), bench.tool.reader.factor(FORCE)
    units = (1.0, length / force, length)
    sizes = (.1, 1e-4, .1)
    for k, key in enumerate(("friction", "compliance", "zero")[:len(fit.values)]):
        value, where = said[key]["value"] * units[k], f"{name} {key}: {said[key]}, wanted {fit.values[k]:.9g}"
        if spoiled == 0:
            ledger.add("value without errors", abs(value - true[k]) / sizes[k], f"{where}, made from {true[k]:.9g}")
            continue
        ledger.add("value by its error", abs(value - fit.values[k]) / fit.errors[k], where)
        ledger.add("error", abs(said[key]["error"] * units[k] / fit.errors[k] - 1), f"{where} +- {fit.errors[k]:.6g}")
    if spoiled:
        ledger.add("scatter", abs(said["scatter"] / (100 * fit.scatter) - 1), f"{name}: {said['scatter']}, {fit.scatter}")
        ledger.add("chi_square", abs(said["chi_square"] / fit.chi_square - 1), f"{name}: {said['chi_square']}")
    if one_way:
        alike(ledger, name, said, {"compliance": {"value": 0.0, "error": None}, "zero": {"value": 0.0, "error": None}})
    alike(ledger, name, said, {"held": "one way" if one_way else None})


def compare(binary, path, document, ledger):
    if document is None:
        raise ValueError(f"{path}: only generated tools are compared")
    bench = bench_of(document)
    number = int(path.stem.split("-")[-1])
    readings, *made = readings_of(bench, number, 1)
    data = path.with_suffix(".csv")
    data.write_text(table_of(readings, bench.tool), encoding="utf-8")
    judge(ledger, path.name, answer(binary, "trial", path, data), document, bench, readings, made)


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
