"""Compares how high the work comes out: [work] `return` or `stiffness`, `wanted`, `within`.

    venv/bin/python tests/reference/compare_heights.py --binary target/release/jawforce

Generated tools: a lever on one pin over an anvil, rigid or a bar of steel, work curves with jumps, shut by a gap or a handle
angle, work that is touched or not. Of `stroke --json` the line of heights, of `measure height` the height.

Under load the jaws stand where work and tool hold each other: the gap is found by halving, since what the tool gives less what
the work takes grows with the gap. The bar between pin and nose is a cantilever (L^3 / (3 E I) across, L / (E A) along).

Limit: 1e-6.
"""

import math
import sys

import numpy as np

from ledger import answer, run as call
from likeness import LIMIT, alike, run
from units import ANGLE, FORCE, LENGTH, RATE, Reader
from writing import Units

LIMITS = dict.fromkeys(("height", "loaded", "back", "give", "wanted", "within", "good", "touched", "gap", "set",
                        "measured", "heights"),
                       LIMIT)
STEEL = 205e3


# -- generated tools ---------------------------------------------------------------------------
def make(number, seed):
    rng = np.random.default_rng([seed, number, 43])
    unit = Units(rng, "in-lbf" if number % 4 == 3 else "mm-N", .2)
    length, point, force = unit.length, unit.point, unit.force

    def some(low, high):
        return float(rng.uniform(low, high))

    arm, closed = some(22, 40), some(.5, 3)
    wide = some(1.5, 3)
    gaps = sorted((some(-.2, wide) for _ in range(4)), reverse=True)
    forces = np.cumsum([0 if rng.random() < .5 else some(50, 300)] + [some(50, 900) for _ in range(3)])
    rows = [[length(g), force(float(f))] for g, f in zip(gaps, forces)]
    if rng.random() < .4:
        rows.insert(2, [rows[1][0], force(float(forces[1] + some(1, forces[2] - forces[1])))])
    shut = some(0, .9 * gaps[0]) if number % 6 else gaps[0] + .3
    at = {"gap": length(shut)} if rng.random() < .6 else {"handle": 180 + math.degrees(math.asin((shut + closed) / arm))}
    work = {"need": rows}
    if rng.random() < .5:
        work["return"] = length(some(0, .2))
    else:
        work["stiffness"] = f"{some(3, 60)!r} kN/mm"
    if rng.random() < .8:
        work["wanted"] = length(closed + some(0, 1.2))
        if rng.random() < .8:
            work["within"] = length(some(.01, .5))
    doc = {
        "tool": {"name": f"height {number}", "units": unit.system},
        "parts": {"base": {"fixed": True, "pins": {"heel": point([0, 0])}, "marks": {"anvil": point([arm, 0])}},
                  "lever": {"pins": {"heel": point([0, 0])}, "marks": {"nose": point([arm, 0])}}},
        "sketch": {"nose": point([arm - .5, closed + wide])},
        "hand": {"part": "lever", "line": [point([0, 0]), point([-600, 0])], "grips": [length(600)], "palm": False},
        "jaw": [{"name": "nose", "on": "lever.nose", "against": "base.anvil", "axis": 90.0, "closed": length(closed)}],
        "stroke": {"open": {"gap": length(max(wide, shut) + 1)}, "shut": at, "steps": 12},
        "work": work,
    }
    if rng.random() < .6:
        doc["materials.bar"] = {"yield": "355 MPa", "modulus": f"{STEEL / 1e3!r} GPa"}
        doc["sections.lever"] = {"width": length(some(8, 20)), "thickness": length(some(3, 9)), "material": "bar"}
    return doc


# -- what has to be said -------------------------------------------------------------------------
class Finished:
    def __init__(self, doc):
        self.reader = reader = Reader(doc["tool"]["units"])
        work, jaw, shut = doc["work"], doc["jaw"][0], doc["stroke"]["shut"]

        def length(value):
            return reader.read(value, LENGTH)

        self.rows = [(length(gap), reader.read(force, FORCE)) for gap, force in work["need"]]
        self.closed = length(jaw["closed"])
        arm = length(doc["parts"]["lever"]["marks"]["nose"][0])
        if "gap" in shut:
            self.gap = length(shut["gap"])
        else:
            turned = shut["handle"]
            turned = math.radians(turned) if not isinstance(turned, str) else reader.read(turned, ANGLE)
            self.gap = arm * math.sin(turned - math.pi) - self.closed
        self.gives = 0.0
        if "sections.lever" in doc:
            deep, thick = (length(doc["sections.lever"][k]) for k in ("width", "thickness"))
            sine = (self.gap + self.closed) / arm
            across = arm**3 / (3 * STEEL * thick * deep**3 / 12)
            self.gives = (1 - sine**2) * across + sine**2 * arm / (STEEL * thick * deep)
        self.by = length(work["return"]) if "return" in work else 0.0
        self.stiff = reader.read(work["stiffness"], RATE) if "stiffness" in work else math.inf
        self.wanted = length(work["wanted"]) if "wanted" in work else None
        self.within = length(work["within"]) if "within" in work else None

    def takes(self, gap):
        """Least and greatest force of the work at a gap: they differ where it jumps."""
        if gap > self.rows[0][0]:
            return 0.0, 0.0
        if gap < self.rows[-1][0]:
            return (self.rows[-1][1],) * 2
        found = [0.0] if gap == self.rows[0][0] else []
        for (a, fa), (b, fb) in zip(self.rows, self.rows[1:]):
            if b <= gap <= a:
                found += [fa, fb] if a == b else [fa + (fb - fa) * (a - gap) / (a - b)]
        return min(found), max(found)

    def widest(self, total, wanted, held=False):
        """The widest gap at which `total(gap, force)` comes to `wanted`, and the force there: from far open, by small steps,
        then by halving. The work may take any force between the two of a jump, but where it has to be `held`: touched, and not in
        the middle of a jump."""
        edges = {gap for gap, _ in self.rows}
        places = sorted(edges | set(np.linspace(self.rows[0][0] + 9, self.rows[-1][0] - 9, 4001)), reverse=True)
        steps = []
        for gap in places:
            low, high = self.takes(gap)
            steps += [(gap, low), (gap, high)] if low != high else [(gap, low)]
        for (g0, f0), (g1, f1) in zip(steps, steps[1:]):
            a, b = total(g0, f0) - wanted, total(g1, f1) - wanted
            if a * b > 0 or held and (g0 == g1 or g0 > self.rows[0][0]):
                continue
            for _ in range(200):
                gm, fm = (g0 + g1) / 2, (f0 + f1) / 2
                m = total(gm, fm) - wanted
                if (m > 0) == (a > 0):
                    g0, f0, a = gm, fm, m
                else:
                    g1, f1 = gm, fm
            return (g0 + g1) / 2, (f0 + f1) / 2
        return None

    def want(self):
        per = 1 / self.reader.factor(LENGTH)
        under, force = self.widest(lambda gap, force: gap - self.gives * force, self.gap)
        back = (force / self.stiff + self.by) if force > 1e-9 else 0.0
        after = self.closed + under + back
        place = None
        if self.wanted is not None:
            found = self.widest(lambda gap, force: gap + force / self.stiff, self.wanted - self.closed - self.by,
                                held=True)
            if found is not None and found[1] > 1e-9:
                place = found[0] - self.gives * found[1]
        touched = bool(force > 1e-9)
        good = None
        if touched and self.wanted is not None and self.within is not None:
            good = bool(abs(after - self.wanted) <= self.within)
        size = {"height": after, "loaded": self.closed + under, "back": back, "wanted": self.wanted, "within": self.within,
                "gap": self.gap, "set": place, "give": under - self.gap if self.gives else None}
        if not touched:
            for key in "height", "loaded", "back", "give":
                size[key] = None
        return {"good": good, "touched": touched, **{k: None if v is None else v * per for k, v in size.items()}}


def judge(ledger, name, said, finished, measured):
    want = finished.want()
    small = 1e-3 / finished.reader.factor(LENGTH)
    alike(ledger, name, said["verdict"], {"heights": [want]}, floor=dict.fromkeys(want, small))
    if measured is None or want["height"] is None:
        ledger.add("measured", 0.0 if measured is want["height"] else math.inf, name)
    else:
        ledger.add("measured", abs(measured / want["height"] - 1), name)


def measure(binary, path):
    """The height as `measure` tells it; None where it says that there is none."""
    try:
        return float(call(binary, "measure", path, "height"))
    except ValueError:
        return None


def compare(binary, path, document, ledger):
    if document is None:
        raise ValueError(f"{path}: only generated tools are compared")
    judge(ledger, path.name, answer(binary, "stroke", path), Finished(document), measure(binary, path))


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
