"""Compares `people --json` with this reference: who can use a tool once, and again and again.

    venv/bin/python tests/reference/compare_people.py --binary target/release/jawforce

Generated tools: a lever on one pin, pushed square to its line, without friction; hand force, grip span and gap are closed
forms of its angle, looked through densely and refined. Jobs, groups, handles, limits and units at random; `exertion.py` has the
methods. Compared: strengths, efforts, every method's index, limits, acceptable forces and verdict, how long the hand can hold,
share able of each group and of all, once and again, at every grip; 101 points of the curve; the hand against the handle; the
verdicts.

Limits: 1e-6; shares by 1e-6 of all. Where classes jump (Strain Index) values stand clear of the edges; its publication leaves 55 to 60
degrees of extension in no class.
"""

import math
import sys

import numpy as np
from scipy.optimize import minimize_scalar

import exertion
from exertion import GROUPS, Job, at_span
from ledger import answer
from likeness import LIMIT, alike, run
from units import FORCE, LENGTH, Reader
from writing import Units

LIMITS = dict.fromkeys((
    "duty", "hal", "mean", "deviation", "acceptable", "limits", "span", "strength", "force", "effort", "hold", "rating",
    "index", "at_best", "once", "repeated", "groups", "mix", "peak", "limit", "can", "grips", "able", "methods", "curve", "hand",
    "breadth", "taken", "long_enough", "end_in_palm", "beyond_inner_end"), LIMIT)
BROAD = {"men": 95.0, "women": 85.0}       # 95th percentile, mm; CityU of Hong Kong, ch. 2


# -- generated tools ---------------------------------------------------------------------------
def clear_of(rng, low, high, edges):
    """A number not within 2 % of an edge."""
    while True:
        value = float(rng.uniform(low, high))
        if all(abs(value - e) > .02 * e for e in edges):
            return value


def make(number, seed):
    rng = np.random.default_rng([seed, number, 83])
    unit = Units(rng, "in-lbf" if number % 4 == 3 else "mm-N", .15)
    length, point, force = unit.length, unit.point, unit.force
    names = list(GROUPS)
    jaw = float(rng.uniform(15, 30))
    anvil = jaw * math.sin(math.radians(15)) + 1
    doc = {
        "tool": {"name": f"people {number}", "units": unit.system},
        "parts": {"frame": {"fixed": True, "pins": {"heel": point([0, 0])}, "marks": {"anvil": point([jaw, anvil])}},
                  "lever": {"pins": {"heel": point([0, 0])}, "marks": {"nose": point([jaw, 0])}}},
        "hand": {"part": "lever", "line": [point([-10, 0]), point([-150, 0])],
                 "against": {"part": "frame", "line": [point([-10, -float(rng.uniform(40, 70))]),
                                                       point([-150, -float(rng.uniform(45, 90))])]},
                 "grips": [length(80), length(105)], "push": "square", "thickness": length(float(rng.uniform(0, 14)))},
        "jaw": [{"name": "nose", "on": "lever.nose", "against": "frame.anvil", "axis": -90.0}],
        "stroke": {"open": {"handle": 180 - float(rng.uniform(6, 12))}, "shut": {"handle": 180 + float(rng.uniform(5, 12))},
                   "steps": 12},
    }
    top = float(np.exp(rng.uniform(math.log(150), math.log(1600))))
    rows = [[anvil + jaw, 0.0], [anvil, top * float(rng.uniform(.2, .7))], [anvil - jaw * .1, top],
            [0.0, top * float(rng.uniform(.3, 1.5))]]
    doc["work"] = {"need": [[length(g), force(f)] for g, f in rows]}
    if rng.random() < .75:
        strokes = clear_of(rng, .5, 24, (4, 9, 15, 20))
        held = clear_of(rng, .3, min(6, 45 / strokes), [s / strokes * 60 for s in (.1, .3, .5, .8)])
        doc["job"] = {"strokes": f"{strokes!r} /min", "held": f"{held!r} s"}
        if rng.random() < .7:
            doc["job"]["hours"] = clear_of(rng, .3, 11, (1, 2, 4, 8))
        if rng.random() < .7:
            doc["job"]["wrist"] = clear_of(rng, 0, 54, (15, 25, 30, 40, 50)) * (1 if rng.random() < .6 else -1)
        if rng.random() < .5:
            doc["job"]["speed"] = str(rng.choice(["very slow", "slow", "fair", "fast", "very fast"]))
        if rng.random() < .75:
            doc["job"]["population"] = str(rng.choice(names))
            if rng.random() < .6:
                doc["job"]["share"] = float(rng.uniform(.1, .97))
    if "population" not in doc.get("job", {}) or rng.random() < .3:
        doc["hand"]["limit"] = force(float(rng.uniform(150, 400)))
    if "job" not in doc or rng.random() < .7:
        doc["operators"] = [{"group": str(g), "count": float(rng.integers(1, 20))}
                            for g in rng.choice(names, int(rng.integers(1, 5)), replace=False)]
        if rng.random() < .3:
            del doc["operators"][0]["count"]
    if rng.random() < .6:
        doc["hand"]["handle"] = {"length": length(float(rng.uniform(80, 135)))}
        if rng.random() < .5:
            doc["hand"]["glove"] = length(float(rng.uniform(.5, 4)))
    return doc


# -- the lever -----------------------------------------------------------------------------------
class Lever:
    def __init__(self, doc):
        self.doc = doc
        reader = self.reader = Reader(doc["tool"]["units"])

        def point(at):
            return np.array([reader.read(v, LENGTH) for v in at])

        self.length = lambda value: reader.read(value, LENGTH)
        self.force = reader.factor(FORCE)
        self.jaw = self.length(doc["parts"]["lever"]["marks"]["nose"][0])
        self.anvil = self.length(doc["parts"]["frame"]["marks"]["anvil"][1])
        hand = doc["hand"]
        self.line, self.other = ([point(p) for p in hand["line"]], [point(p) for p in hand["against"]["line"]])
        self.thick = self.length(hand["thickness"])
        self.grips = [self.length(g) for g in hand["grips"]]
        self.ends = [math.radians(doc["stroke"][end]["handle"] - 180) for end in ("open", "shut")]
        self.rows = sorted((self.length(g), reader.read(f, FORCE)) for g, f in doc["work"]["need"])
        self.most = reader.read(hand["limit"], FORCE) if "limit" in hand else None

    def hand(self, turn, grip):
        """Moments about the pin: the work straight down at the nose, the push square to a line through the pin."""
        gap = self.anvil - self.jaw * math.sin(turn)
        need = float(np.interp(gap, *zip(*self.rows)))
        return need * self.jaw * math.cos(turn) / (grip - self.line[0][0])

    def span(self, turn, grip):
        c, s = math.cos(turn), math.sin(turn)
        x = self.line[0][0] - grip
        here = np.array([c * x, s * x])
        way = self.other[1] - self.other[0]
        there = self.other[0] + grip * way / math.hypot(*way)
        return math.hypot(*(here - there)) + self.thick

    def greatest(self, value):
        """The turn where a value is greatest: at an end, at a row of the work or between."""
        low, high = self.ends
        marks = [low, high] + [t for g, _ in self.rows if abs(self.anvil - g) < self.jaw
                               for t in [math.asin((self.anvil - g) / self.jaw)] if low < t < high]
        marks.sort()
        best = max(marks, key=value)
        for a, b in zip(marks, marks[1:]):
            grid = np.linspace(a, b, 41)
            k = int(np.argmax([value(t) for t in grid]))
            found = minimize_scalar(lambda t: -value(t), bounds=(grid[max(k - 1, 0)], grid[min(k + 1, 40)]),
                                    method="bounded", options={"xatol": 1e-12}).x
            best = max(best, float(found), key=value)
        return best

    def at_best(self, grip, group):
        """The greatest force over the stroke, counted at the best span of a group."""
        def counted(turn):
            return self.hand(turn, grip) / at_span(self.span(turn, grip), group)
        return counted(self.greatest(counted))

    # -- what has to be said ---------------------------------------------------------------------
    def job(self):
        table = self.doc["job"]
        return Job(float(table["strokes"].split()[0]), float(table["held"].split()[0]), table.get("hours", 8.0),
                   table.get("wrist", 0.0), table.get("speed", "fair"))

    def repeated(self):
        """[job] and its grips; and the least acceptable effort."""
        job, table = self.job(), self.doc["job"]
        group, share = table.get("population"), table.get("share", .75)
        pairs, limits = job.acceptable(), job.limits()
        lowest = min(pair[0] for pair in pairs)
        grips = []
        for grip in self.grips:
            def strength(turn):
                return exertion.least(group, share) * at_span(self.span(turn, grip), group) if group else self.most
            turn = self.greatest(lambda t: self.hand(t, grip) / strength(t))
            force, strong = self.hand(turn, grip), strength(turn)
            effort = force / strong
            # More than the whole strength: no method has an index for that.
            indices = job.indices(effort) if effort <= 1 else [None] * 5
            ratings = ["above" if i is None else exertion.rating(i, pair) for i, pair in zip(indices, limits)]
            grips.append({
                "span": self.span(turn, grip) / self.reader.factor(LENGTH), "strength": strong / self.force,
                "force": force / self.force, "effort": effort, "acceptable": lowest * strong / self.force,
                "hold": exertion.holds(effort),
                "rating": next(r for r in ("above", "between", "within") if r in ratings),
                "methods": [{"index": i, "rating": r, "acceptable": [p * strong / self.force for p in pair]}
                            for i, r, pair in zip(indices, ratings, pairs)]})
        want = {"duty": job.duty, "hal": job.hal, "acceptable": lowest, "grips": grips,
                "methods": [{"limits": list(l), "acceptable": p} for l, p in zip(limits, pairs)]}
        if group:
            want["population"] = dict(zip(("mean", "deviation"), (v / self.force for v in GROUPS[group])))
        return want, lowest

    def operators(self, lowest):
        groups, weights = [], []
        for table in self.doc["operators"]:
            group = table["group"]
            mean, deviation = GROUPS[group]
            rows = []
            for grip in self.grips:
                best = self.at_best(grip, group)
                rows.append({"at_best": best / self.force, "once": exertion.able(best, group),
                             "repeated": None if lowest is None
                             else exertion.able(best / lowest, group) if lowest else 0.0})
            groups.append({"group": {"mean": mean / self.force, "deviation": deviation / self.force}, "able": rows})
            weights.append(table.get("count", 1.0))
        weights = np.array(weights) / sum(weights)
        mix = [{name: None if groups[0]["able"][k][name] is None
                else float(weights @ [g["able"][k][name] for g in groups]) for name in ("once", "repeated")}
               for k in range(len(self.grips))]
        names = [t["group"] for t in self.doc["operators"]]
        top = max(GROUPS[g][0] + 3 * GROUPS[g][1] for g in names)
        curve = []
        for force in np.linspace(0, top, 101):
            shares = [exertion.able(force, g) if force else 1.0 for g in names]
            curve.append({"force": float(force) / self.force, "groups": shares, "mix": float(weights @ shares)})
        return {"groups": groups, "mix": mix, "curve": curve}

    def handle(self):
        table = self.doc["hand"]["handle"]
        groups = [t["group"] for t in self.doc.get("operators", [])]
        groups += [self.doc["job"]["population"]] if "population" in self.doc.get("job", {}) else []
        broad = BROAD["women" if groups and all(map(exertion.women, groups)) else "men"]
        taken = broad + 2 * self.length(self.doc["hand"].get("glove", 0.0))
        long, per = self.length(table["length"]), 1 / self.reader.factor(LENGTH)
        line = abs(self.line[1][0] - self.line[0][0])
        return {"breadth": broad * per, "taken": taken * per, "long_enough": long >= max(taken, 100.0),
                "grips": [{"hand": [(g - taken / 2) * per, (g + taken / 2) * per], "end_in_palm": bool(g + taken / 2 > line),
                           "beyond_inner_end": bool(g - taken / 2 < line - long)} for g in self.grips]}

    def verdict(self):
        found = []
        group = self.doc.get("job", {}).get("population")
        for grip in self.grips:
            peak = self.hand(self.greatest(lambda t, g=grip: self.hand(t, g)), grip)
            one = {"peak": peak / self.force}
            if self.most is not None:
                one |= {"limit": self.most / self.force, "can": bool(peak <= self.most)}
            elif group:
                strong = exertion.least(group, self.doc["job"].get("share", .75))
                one["can"] = bool(self.at_best(grip, group) <= strong)
            found.append(one)
        return {"hand": found}

    def want(self):
        found = {"verdict": self.verdict()}
        lowest = None
        if "job" in self.doc:
            found["job"], lowest = self.repeated()
        if "operators" in self.doc:
            found["operators"] = self.operators(lowest)
        if "handle" in self.doc["hand"]:
            found["handle"] = self.handle()
        return found


# Shares of people, and classes, are counted as they are.
FLOOR = {"once": 1.0, "repeated": 1.0, "groups": 1.0, "mix": 1.0, "hal": 1.0, "hand": 1.0, "force": 1.0, "hold": 1.0}


def compare(binary, path, document, ledger):
    if document is None:
        raise ValueError(f"{path}: only generated tools are compared")
    alike(ledger, path.name, answer(binary, "people", path), Lever(document).want(), floor=FLOOR)


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
