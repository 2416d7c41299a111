"""Compares the work estimates of [work] `job` with this reference.

    venv/bin/python tests/reference/compare_work.py --binary target/release/jawforce

Generated tools: a lever on one pin, the five jobs in turn, sizes, strengths (stated, or from a material), what is left out and
units at random. Of `stroke --json`: every row of the curve, the greatest force and its spread, what is needed at every position;
of `measure jaw_work` the area, where the stroke goes through all of the job. `estimates.py` has the formulas.

Limits: 1e-6. A rivet's curve is drawn by straight pieces, whose area is up to 0.5 % above the exact one; at a gap within 1e-9 of
a jump either force may be needed.
"""

import math
import sys

import numpy as np

import estimates
from ledger import answer, run as call
from likeness import LIMIT, alike, run
from units import FORCE, LENGTH, STRESS, Reader
from writing import Units

LIMITS = {**dict.fromkeys(("need", "force", "spread", "job", "estimates", "needed", "area"), LIMIT), "area of a rivet": 5e-3}
JOBS = ("pierce", "shear strip", "cut wire", "bend", "upset rivet")
LENGTHS = ("hole", "thickness", "width", "diameter", "opening", "from", "to", "starts", "rise")


# -- generated tools ---------------------------------------------------------------------------
def make(number, seed):
    rng = np.random.default_rng([seed, number, 29])
    unit = Units(rng, "in-lbf" if number % 4 == 3 else "mm-N", .2)
    length, point = unit.length, unit.point
    job = JOBS[number % 5]

    def some(low, high):
        return float(rng.uniform(low, high))

    def may(share, low, high):
        return some(low, high) if rng.random() < share else None

    if job == "pierce":
        work = {"hole": some(2, 9), "thickness": some(.4, 2.5), "penetration": may(.5, .1, .9)}
    elif job == "shear strip":
        work = {"width": some(4, 30), "thickness": some(.4, 2.5), "penetration": may(.5, .1, .9), "rise": may(.6, .1, 2)}
    elif job == "cut wire":
        work = {"diameter": some(.5, 3.5), "penetration": may(.5, .1, .9)}
    elif job == "bend":
        work = {"width": some(5, 40), "thickness": some(.4, 2), "opening": some(5, 16), "starts": some(1.5, 7)}
        if rng.random() < .6:
            work["into"] = str(rng.choice(["V", "edge"]))
    else:
        before = some(3, 6)
        work = {"diameter": some(2, 5), "from": before, "to": before * some(.35, .8), "friction": may(.5, .02, .3)}
    work = {"job": job, **{k: v for k, v in work.items() if v is not None}}
    if job != "bend" and rng.random() < .5:
        work["starts"] = some(3, 6)
    strength = {"pierce": "shear", "shear strip": "shear", "upset rivet": "flow"}.get(job, "tensile")
    stated = rng.random() < .6
    yields = some(80, 500)
    most = yields * some(1.1, 2)
    table = {k: (length(v) if k in LENGTHS else v) for k, v in work.items()}
    if stated:
        table[strength] = f"{most!r} MPa"
    else:
        table["material"] = "stuff"
    if rng.random() < .5:
        table["spread"] = some(.05, .6)
    if rng.random() < .3:
        table["scale"] = some(.5, 2)
    jaw, anvil = some(18, 30), some(4.2, 5.2)
    doc = {
        "tool": {"name": f"work {number}", "units": unit.system},
        "parts": {"frame": {"fixed": True, "pins": {"heel": point([0, 0])}, "marks": {"anvil": point([jaw, anvil])}},
                  "lever": {"pins": {"heel": point([0, 0])}, "marks": {"nose": point([jaw, 0])}}},
        "hand": {"part": "lever", "line": [point([-10, 0]), point([-150, 0])], "grips": [length(100)], "push": "square"},
        "jaw": [{"name": "nose", "on": "lever.nose", "against": "frame.anvil", "axis": -90.0}],
        "stroke": {"open": {"gap": length(anvil + some(3, 4))}, "shut": {"gap": length(some(0, .1))}, "steps": 30},
        "work": table,
        "materials.stuff": {"yield": f"{yields!r} MPa", "ultimate": f"{most!r} MPa"},
    }
    return doc


# -- what has to be said -------------------------------------------------------------------------
class Estimate:
    def __init__(self, doc):
        self.reader = reader = Reader(doc["tool"]["units"])
        table, metal = doc["work"], doc["materials.stuff"]
        self.job, self.table = table["job"], table

        def length(name, default=None):
            return reader.read(table[name], LENGTH) if name in table else default

        def strength(name, otherwise):
            return reader.read(table[name], STRESS) if name in table else otherwise

        most, yields = (reader.read(metal[k], STRESS) for k in ("ultimate", "yield"))
        extra = {k: v for k, v in (("penetration", table.get("penetration")), ("starts", length("starts"))) if v is not None}
        self.area = None
        if self.job == "pierce":
            rows = estimates.pierce(length("hole"), length("thickness"), strength("shear", .8 * most), **extra)
        elif self.job == "shear strip":
            rows = estimates.shear_strip(length("width"), length("thickness"), strength("shear", .8 * most),
                                         rise=length("rise", 0.0), **extra)
        elif self.job == "cut wire":
            rows = estimates.cut_wire(length("diameter"), strength("tensile", most), **extra)
        elif self.job == "bend":
            rows = estimates.bend(length("width"), length("thickness"), length("opening"), strength("tensile", most),
                                  length("starts"), table.get("into", "V"))
        else:
            sizes = (length("diameter"), length("from"), length("to"), strength("flow", (most + yields) / 2),
                     table.get("friction", .15))
            rows = estimates.upset(*sizes, starts=length("starts"))
            self.area = estimates.upset_work(*sizes)
        scale = table.get("scale", 1.0)
        self.rows = [(gap, force * scale) for gap, force in rows]
        if self.area is not None:
            self.area *= scale

    def want(self):
        per, unit = 1 / self.reader.factor(LENGTH), 1 / self.reader.factor(FORCE)
        top = max(force for _, force in self.rows)
        return {"work": {"need": [[gap * per, force * unit] for gap, force in self.rows if gap is not None]},
                "verdict": {"estimates": [{"job": self.job, "force": top * unit,
                                           "spread": 100 * self.table.get("spread", .2)}]}}

    def at(self, gap):
        """What is needed at a gap; the greater force at a jump; nothing outside, but for a bend, which goes on."""
        found = 0.0
        for (a, fa), (b, fb) in zip(self.rows, self.rows[1:]):
            low = -math.inf if b is None else b
            if low <= gap <= a:
                found = max(found, fa if a == low or b is None else fa + (fb - fa) * (a - gap) / (a - low))
        if self.job == "upset rivet" and gap < self.rows[-1][0]:
            return self.rows[-1][1]        # pressed on, at the force that it took
        return found

    def whole(self, wide, narrow):
        """Whether the stroke goes through all of the job, and no more of what goes on."""
        ends = [gap for gap, _ in self.rows if gap is not None]
        return self.rows[-1][0] is not None and max(ends) <= wide and narrow <= min(ends)


def judge(ledger, name, said, estimate, work):
    """`said` of `stroke`; `work` by the jaw as `measure` has it, in the file's units."""
    want = estimate.want()
    rows = said["work"]["need"]
    if estimate.job == "bend":      # its last row lies beyond the end of the stroke, somewhere
        ledger.add("needed", 0.0 if rows[-1][0] <= 0 else math.inf, f"{name}: {rows[-1]}")
        alike(ledger, name, rows[-1][1], rows[-2][1], "need")
        rows = rows[:-1]
    alike(ledger, name, {"work": {"need": rows}, "verdict": said["verdict"]}, want, floor={"need": 1e-3})
    length, force = estimate.reader.factor(LENGTH), estimate.reader.factor(FORCE)
    gaps = [p["jaws"]["nose"]["gap"] * length for p in said["positions"]]
    top = max(f for _, f in estimate.rows)
    for gap, needed in zip(gaps, said["work"]["needed"]):
        if all(edge is None or abs(gap - edge) > 1e-9 for edge, _ in estimate.rows):
            ledger.add("needed", abs(needed * force - estimate.at(gap)) / top, f"{name} at {gap:.4g}")
    if estimate.whole(gaps[0], gaps[-1]):
        exact = sum((a - b) * (fa + fb) / 2 for (a, fa), (b, fb) in zip(estimate.rows, estimate.rows[1:]))
        if estimate.job == "upset rivet":
            ledger.add("area of a rivet", abs(exact / estimate.area - 1), name)
            exact += (estimate.rows[-1][0] - gaps[-1]) * estimate.rows[-1][1]
        ledger.add("area", abs(work * length * force / exact - 1), f"{name}: {work}, wanted {exact / length / force}")


def compare(binary, path, document, ledger):
    if document is None:
        raise ValueError(f"{path}: only generated tools are compared")
    judge(ledger, f"{path.name} {document['work']['job']}", answer(binary, "stroke", path), Estimate(document),
          float(call(binary, "measure", path, "jaw_work")))


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
