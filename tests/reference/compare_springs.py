"""Compares springs of wire with this reference: generated tools, each with three springs.

    venv/bin/python tests/reference/compare_springs.py --binary target/release/jawforce --generate 20

A lever on one pin, whose stroke is given by its angle: the length of a spring between two points and the angle of one
about the pin are closed forms of that angle, extremes within the stroke too. One spring pushes, one pulls, one turns. What
`springs --json` says of the spring in the file and of every spring that it proposes (their formulas are `wire.py`): rate,
moduli, strength, loads, stress, every check, solid and shortest length, buckling, room. Faults are compared by their number;
`check` and `measure` must say the same. Which of all stock wires are proposed is not judged.

Limit: 1e-6 for all. Not covered: springs that pull in a guide; `preload`; wires that no table knows.
"""

import math
import sys

import numpy as np

import wire
from ledger import answer, run as call
from likeness import LIMIT, alike, run
from units import FORCE, LENGTH, RATE, STRESS, TORQUE, TORSION_RATE, Reader
from wire import KINDS, TABLES, Wire
from writing import Units

LIMITS = dict.fromkeys((
    "rate", "modulus", "ultimate", "loads", "stress", "solid", "shortest", "buckles_at", "clearance", "gap", "loose",
    "checks", "check", "allowable", "factor", "share", "faults", "spring_safety", "spring_stress"), LIMIT)
STEPS = 12


# -- generated tools ---------------------------------------------------------------------------
def wire_of(rng, kind, thin, thick):
    """A diameter in mm that the kind's table knows."""
    most = TABLES[kind][0][-1] * wire.INCH
    return round(float(rng.uniform(thin, min(thick, most))), 3)


def springs_of(rng, number):
    """The three springs in mm, N and degrees, as tables of `Wire` with the words of the file."""
    made = []
    for what in ("push", "turn", "pull"):
        kind = list(KINDS)[int(rng.integers(4))]
        d = wire_of(rng, kind, 0.8, 2.2)
        one = {"kind": kind, "wire": d, "coil": d * float(rng.uniform(4.5, 11)), "turns": float(rng.uniform(4, 12))}
        if rng.random() < .6:
            one["cycles"] = float(round(10 ** rng.uniform(3, 7.5)))
        if rng.random() < .25:
            one["ultimate"] = float(rng.uniform(1200, 2300))
        if rng.random() < .25:
            one["modulus"] = float(rng.uniform(.9, 1.05)) * KINDS[kind][1 if what == "turn" else 0]
        if what == "push":
            one["ends"] = str(rng.choice(list(wire.DEAD)))
            one["seats"] = str(rng.choice(list(wire.SEATS)))
            one["free"] = max(float(rng.uniform(35, 80)), (one["turns"] + 4) * d)
            guide = rng.random()
            if guide < .3:
                one["guide"] = {"pin": (one["coil"] - d) * float(rng.uniform(.8, 1.02))}
            elif guide < .6:
                one["guide"] = {"bore": (one["coil"] + d) * float(rng.uniform(1.0, 1.15))}
        elif what == "turn":
            one["free"] = float(rng.uniform(25, 90)) * (-1 if rng.random() < .5 else 1)
            if number % 5 == 4:
                one["free"] = float(rng.uniform(-6, 6))       # loaded one way and the other
            if rng.random() < .6:
                one["legs"] = [float(v) for v in rng.uniform(5, 40, 2)]
            if rng.random() < .6:
                one["mandrel"] = (one["coil"] - d) * float(rng.uniform(.8, .98))
        else:
            one["ends"] = "hooks"
            one["turns"] = float(rng.uniform(3, 8))
            coils = Wire(kind, d, one["coil"], one["turns"], ends="hooks").solid
            one["free"] = coils + float(rng.uniform(1, 12))
        made.append(one)
    return made


def places(rng, number, springs):
    """cup and seat of the spring that pushes, tail and post of the one that pulls, in mm."""
    push, _, pull = springs
    at = {"cup": np.array([-rng.uniform(25, 50), rng.uniform(-5, 5)])}
    at["seat"] = at["cup"] + [rng.uniform(-8, 8), -push["free"] * rng.uniform(.72, .98)]
    at["tail"] = np.array([rng.uniform(25, 45), rng.uniform(-5, 5)])
    lean = rng.uniform(-.4, .4) + (math.pi / 2 if number % 3 == 0 else 0)
    if number % 3 == 0:       # nearly through the pivot: the longest lies within the stroke
        at["post"] = -at["tail"] / np.hypot(*at["tail"]) * rng.uniform(5, 15) + [0, rng.uniform(-1, 1)]
        pull["free"] = max(pull["free"], np.hypot(*(at["tail"] - at["post"])) * .9)
    else:
        at["post"] = at["tail"] - pull["free"] * rng.uniform(1.05, 1.4) * np.array([math.sin(lean), math.cos(lean)])
    return {name: [float(v) for v in point] for name, point in at.items()}


def make(number, seed):
    rng = np.random.default_rng([seed, number, 77])
    unit = Units(rng, "in-lbf" if number % 4 == 3 else "mm-N", .2)
    springs = springs_of(rng, number)
    at = places(rng, number, springs)
    swing = float(rng.uniform(6, 14))
    heads = ({"from": "lever.cup", "to": "frame.seat"}, {"pin": "heel"}, {"from": "lever.tail", "to": "frame.post"})
    tables = []
    for head, one in zip(heads, springs):
        turning = "pin" in head
        table = {**head, "wire": unit.length(one["wire"]), "turns": one["turns"], "made-of": one["kind"],
                 "free": unit.angle(one["free"]) if turning else unit.length(one["free"])}
        if rng.random() < .5:
            table["coil"] = unit.length(one["coil"])
        else:
            table["outside"] = unit.length(one["coil"] + one["wire"])
        for key in ("ends", "seats", "cycles"):
            if key in one:
                table[key] = one[key]
        for key in ("modulus", "ultimate"):
            if key in one:
                table[key] = f"{one[key]!r} MPa"
        if "legs" in one:
            table["legs"] = [unit.length(v) for v in one["legs"]]
        if "mandrel" in one:
            table["mandrel"] = unit.length(one["mandrel"])
        if "guide" in one:
            table["guide"] = {k: unit.length(v) for k, v in one["guide"].items()}
        tables.append(table)
    point = unit.point
    return {
        "tool": {"name": f"springs {number}", "units": unit.system},
        "parts": {"frame": {"fixed": True, "pins": {"heel": point([0, 0])},
                            "marks": {"anvil": point([20, 10]), "seat": point(at["seat"]), "post": point(at["post"])}},
                  "lever": {"pins": {"heel": point([0, 0])},
                            "marks": {"nose": point([20, 0]), "cup": point(at["cup"]), "tail": point(at["tail"])}}},
        "hand": {"part": "lever", "line": [point([-10, 0]), point([-120, 0])], "grips": [unit.length(80)],
                 "push": "square", "force": unit.force(150)},
        "jaw": [{"name": "nose", "on": "lever.nose", "against": "frame.anvil", "axis": -90.0}],
        "stroke": {"open": {"handle": 180 - swing}, "shut": {"handle": 180 + swing}, "steps": STEPS},
        "springs": tables,
    }


# -- the same, read from the file's own words ----------------------------------------------------
class Lever:
    """Where the springs of such a file are; a reading of its own."""

    def __init__(self, doc):
        self.reader = Reader(doc["tool"]["units"])
        self.doc = doc
        low, high = (math.radians(doc["stroke"][end]["handle"] - 180) for end in ("open", "shut"))
        self.ends = (low, high)

    def point(self, part, name):
        table = self.doc["parts"][part]
        return np.array([self.reader.read(v, LENGTH) for v in {**table["pins"], **table["marks"]}[name]])

    def gap(self, turn):
        nose, anvil = self.point("lever", "nose"), self.point("frame", "anvil")
        return anvil[1] - (nose[0] * math.sin(turn) + nose[1] * math.cos(turn))

    def reach(self, table):
        """[(turn, length or angle)] at both ends and at what is longest or shortest between them."""
        if "pin" in table:
            return [(a, a) for a in self.ends]
        p = self.point(*table["from"].split("."))
        q = self.point(*table["to"].split("."))
        bearing = math.atan2(q[1], q[0]) - math.atan2(p[1], p[0])
        turns = list(self.ends) + [t for k in range(-4, 5) for t in [bearing + k * math.pi]
                                   if self.ends[0] < t < self.ends[1]]
        def apart(t):
            c, s = math.cos(t), math.sin(t)
            return float(np.hypot(c * p[0] - s * p[1] - q[0], s * p[0] + c * p[1] - q[1]))

        return [(t, apart(t)) for t in turns]

    def spring(self, table):
        """The wire of a table, and its free length or angle."""
        read = self.reader.read
        d = read(table["wire"], LENGTH)
        coil = read(table["coil"], LENGTH) if "coil" in table else read(table["outside"], LENGTH) - d
        more = {k: table[k] for k in ("ends", "seats", "cycles") if k in table}
        more |= {k: read(table[k], STRESS) for k in ("modulus", "ultimate") if k in table}
        if "legs" in table:
            more["legs"] = [read(v, LENGTH) for v in table["legs"]]
        if "mandrel" in table:
            more["mandrel"] = read(table["mandrel"], LENGTH)
        if "guide" in table:
            more["guide"] = {k: read(v, LENGTH) for k, v in table["guide"].items()}
        free = (math.radians(table["free"]) if not isinstance(table["free"], str) else read(table["free"], (0, 0, 1))) \
            if "pin" in table else read(table["free"], LENGTH)
        return Wire(table["made-of"], d, coil, table["turns"], **more), free

    def want(self, table, spring, free):
        """What the program has to say of a spring, in the file's units."""
        f = self.reader.factor
        length, stress = f(LENGTH), f(STRESS)
        reach = self.reach(table)
        loads = []
        for turn, at in reach:
            pull = spring.rate * (at - free)
            if spring.ends == "hooks":
                pull = max(pull, 0.0)
            elif spring.ends is not None:
                pull = max(-pull, 0.0)
            loads.append((pull, turn))
        low, high = min(loads)[0], max(loads)[0]
        most, where = max(loads, key=lambda l: abs(l[0]))
        least = 0.0 if low * high < 0 else min(abs(low), abs(high))
        load = f(TORQUE) if spring.turning else f(FORCE)
        checks = spring.checks(low, high)
        shortest = None if spring.turning else min(at for _, at in reach)
        buckles, clearance = spring.buckles_at(free), spring.clearance(free, abs(most))
        faults = sum(c["factor"] is not None and c["factor"] < 1 for c in checks)
        faults += clearance is not None and clearance < 0
        if spring.ends in wire.DEAD:
            faults += shortest < spring.solid
            faults += buckles is not None and shortest < buckles
        per = 1 / length
        return {
            "rate": spring.rate / (f(TORSION_RATE) if spring.turning else f(RATE)),
            "modulus": spring.modulus / stress, "ultimate": spring.strength / stress,
            "loads": [least / load, abs(most) / load],
            "stress": spring.stress(abs(most)) / stress,
            **({"gap": self.gap(where) * per} if most else {}),
            "loose": bool(not spring.turning and least == 0),
            "solid": spring.solid and spring.solid * per, "shortest": shortest and shortest * per,
            "buckles_at": buckles and buckles * per,
            "clearance": None if clearance is None else clearance * per,
            "checks": [{**c, "stress": c["stress"] / stress, "allowable": c["allowable"] / stress} for c in checks],
        }, faults


def proposed(table, choice, reader):
    """The table of the file with the wire of a proposed spring in it."""
    keep = {k: v for k, v in table.items() if k not in ("coil", "outside", "ultimate")}
    return {**keep, "wire": choice["wire"], "coil": choice["coil"], "turns": choice["turns"],
            "made-of": choice["made_of"], **({"ends": choice["ends"]} if choice["ends"] else {})}


def judge(ledger, where, said, want, faults, size):
    alike(ledger, where, said, want, floor={"gap": size, "clearance": size, "loads": 1e-6 * abs(max(want["loads"]) or 1)})
    ledger.add("faults", abs(len(said["faults"]) - faults), f"{where}: {said['faults']}, wanted {faults}")


def compare(binary, path, document, ledger):
    if document is None:
        raise ValueError(f"{path}: only generated tools are compared")
    lever = Lever(document)
    size = 10 / lever.reader.factor(LENGTH)
    said = answer(binary, "springs", path)["springs"]
    total, factors, stresses = 0, [], []
    for table, one in zip(document["springs"], said):
        where = f"{path.name} spring {one['spring']}"
        want, faults = lever.want(table, *lever.spring(table))
        judge(ledger, where, one["bought"], want, faults, size)
        total += faults
        factors += [c["factor"] for c in want["checks"] if c["factor"] is not None]
        stresses.append(want["stress"])
        for choice in one["choices"]:
            bare = proposed(table, choice, lever.reader)
            spring, free = lever.spring(bare)
            judge(ledger, f"{where} proposed {choice['wire']:.4g}", choice, *lever.want(bare, spring, free), size)
    verdict = answer(binary, "check", path)["verdict"].get("springs") or []
    ledger.add("faults", abs(len(verdict) - total), f"{path.name} check: {verdict}, wanted {total}")
    for measure, want in (("spring_safety", min(factors)), ("spring_stress", max(stresses))):
        ledger.add(measure, abs(float(call(binary, "measure", path, measure)) / want - 1), path.name)


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
