"""Compares `jawforce tolerance --json` with this reference: shares, stack-up, samples.

    venv/bin/python compare_tolerance.py --binary target/release/jawforce demo.toml other.toml

    venv/bin/python compare_tolerance.py --contacts made/gears-*.toml made/stops-*.toml

`--contacts`: files without tolerances, as `compare.py --keep` leaves them. They get tolerances of every number of
their gears, slots, cams, stops, jaws and springs and of all lengths of parts, demands of every kind, every second
one a tie, every third one clearances and backlash (`tolerated.py`).

Shares: central differences over tools read anew and solved anew, about the tool with the play of its
loaded joints taken up. Worst case and root-sum-square follow from them. Samples: `--samples N` of
the first file only, from a generator of its own, for all measures but peaks. Not looked at: strength
factors and margins to a toggle, which `tests/made_tools.rs` holds to the same tools drawn so.

Limits. Shares, worst case, root-sum-square: 1e-4 of the measure's largest share: both sides take
differences, the square of whose step and whose rounding over the step are each some 1e-6 of a share
here, ten times that near a toggle. The loaded value: 1e-6. Peaks over the stroke: the
same. The play lies there as the load has it at the best of 17 positions of the stroke, as in the
program; at its own place it would lie otherwise by 3e-4 of a peak of these files. Work over the
stroke: 1e-6 of the loaded value and 1e-4 of the largest share; the play lies as the load has it at the
same share of the way from row to row of the work on the unchanged tool. Samples: the means of two independent sets must
agree within 5 standard errors of their difference, and so must the standard deviations (a chance of
6e-7 each in normal ones); the standard error of a deviation is s sqrt((kurtosis - 1) / 4n), from the
sample itself (M. G. Kendall and A. Stuart, The Advanced Theory of Statistics, vol. 1, ch. 10; from
memory).
"""

import argparse
import math
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy as np
from scipy.optimize import minimize_scalar

import work
from compare_measures import readers
from ledger import Ledger, answer
from motion import MotionError
from solver import Solution
from stations import Places
from tolerated import tolerated
from toolfile import area, load
from units import FORCE, LENGTH, NUMBER
from writing import toml_text
from variants import Family, Variant, taken_up

LIMITS = {"varied": 1e-9, "nominal": 1e-6, "loaded": 1e-6, "share": 1e-4, "play": 1e-4,
          "worst case": 1e-4, "root-sum-square": 1e-4,
          "peak: loaded": 1e-6, "peak: share": 1e-4, "peak: stack-up": 1e-4,
          "work: loaded": 1e-6, "work: share": 1e-4, "work: stack-up": 1e-4}
SAMPLED = {"samples: mean": 5.0, "samples: deviation": 5.0}
STEP = 1e-4      # mm, of the differences
SHARE = 2e-4     # of the tolerance, of what is no length
NODES = 16       # intervals of the stroke among whose ends a peak is looked for first
POINTS, WEIGHTS = np.polynomial.legendre.leggauss(12)   # of work, between each two rows


class Measure:
    """One measure of the program's answer, to be read off changed tools."""

    def __init__(self, study, entry):
        self.study, self.entry = study, entry
        tool, places = study.tool, study.places
        name, _, rest = entry["name"].partition(" at ")
        self.name = name.partition(",")[0]
        at, _, grip = (rest or entry["name"]).partition(", grip ")
        length = tool.reader.factor(LENGTH)
        self.grip = tool.hand.grips[0]
        if grip:        # named by four figures
            self.grip = min(tool.hand.grips, key=lambda g: abs(g - float(grip) * length))
            if abs(self.grip / (float(grip) * length) - 1) > 1e-3:
                raise ValueError(f"no grip {grip}")
        self.at = at if rest else "stroke"
        self.unit = {"gap": length, "span": length, "hand_force": tool.reader.factor(FORCE),
                     "jaw_force": tool.reader.factor(FORCE)}.get(self.name.partition(".")[0], 1.0)
        if self.name in ("hand_work", "jaw_work"):
            self.unit = length * tool.reader.factor(FORCE)
        if self.name.startswith("pin_load"):
            self.unit = tool.reader.factor(FORCE)
        if self.name == "travel":
            self.unit = math.pi / 180
        self.peak = self.at in ("peak", "least")
        self.known = {}
        if self.at == "stroke":
            self.lay_out()
            return
        if self.peak:
            self.sense = 1.0 if self.at == "peak" else -1.0
            values = [self.read(s) for s in places.steps]
            best = int(np.argmax([-math.inf if v is None else self.sense * v for v in values]))
            self.base = places.steps[best]
            self.near = None
        else:
            self.kind, self.goal, self.base = study.position(self.at, self.grip)
            held = study.target_grip(self.at) or self.grip
            if self.name == self.kind and (self.name != "span" or abs(held - self.grip) < 1e-9):
                self.kind, self.goal = "handle", study.solution.link.handle(self.base.pose)
        self.shifts = taken_up(study.family, self.base, self.grip)
        if self.name == "travel":
            self.open = places.steps[0]
            self.shifts_open = taken_up(study.family, self.open, self.grip)
            self.open_kind, self.open_goal = study.target("open")

    def read(self, station):
        return self.study.readers[self.name][1](station, self.grip)

    def nominal(self):
        """Of the file's own tool, without play."""
        if self.name == "travel":
            return abs(self.base.handle - self.open.handle)
        if self.at == "stroke":
            return getattr(work, self.name)(self.study.places, self.grip)
        if self.peak:
            return self.study.places.extreme(self.read, self.sense)
        return self.read(self.base)

    def value(self, variant, extra=None):
        """Of a changed tool; `extra`: play of joints that are free somewhere."""
        if self.name == "travel":
            # A play that is free at both ends stands alike there.
            shut = variant({**(extra or {}), **self.shifts}).stand(self.base, self.kind, self.goal)
            wide = variant({**(extra or {}), **self.shifts_open}).stand(self.open, self.open_kind, self.open_goal,
                                              self.study.target_grip("open"))
            return abs(shut.handle - wide.handle)
        if self.at == "stroke":
            return self.over_stroke(variant, extra)
        if self.peak:
            return self.extreme(variant, extra)
        shifts = {**self.shifts, **(extra or {})}
        grip = self.study.target_grip(self.at) or self.grip
        return self.read(variant(shifts).stand(self.base, self.kind, self.goal, grip))

    # -- work over the stroke ----------------------------------------------------------------
    def lay_out(self):
        """On the unchanged tool: both ends and the rows of the work between them, with what defines
        each; and the places between, by Gauss's rule, each with its weight and its share of the way."""
        study, places = self.study, self.study.places
        angles = work.corners(places)
        rows = [gap for gap, _ in study.tool.work or []]
        ends = [places.at("open"), places.at("shut")]
        self.ends_by = [(station, *study.target(end), study.target_grip(end))
                        for station, end in zip(ends, ("open", "shut"))]
        self.rows = []       # station, gap, play before and after it
        for before, angle, after in zip(angles, angles[1:], angles[2:]):
            station = places.at_angle(angle)
            row = min(rows, key=lambda gap: abs(gap - station.gap))
            plays = [taken_up(study.family, places.at_angle(angle + 1e-6 * (other - angle)), self.grip)
                     for other in (before, after)]
            self.rows.append((station, row, *plays))
        starts = [ends[0], *(row[0] for row in self.rows)]
        self.between = []
        for start, a, b in zip(starts, angles, angles[1:]):
            # Where the work begins, the play turns quickly to where work has it.
            begins = max(self.study.family.play) > 0 and study.tool.work and start.need() == 0
            edges = [0, 1e-3, 1e-2, 0.1, 0.4, 1] if begins else [0, 1]
            shares = [(c + (d - c) * (1 + x) / 2, (d - c) * w / 2) for c, d in zip(edges, edges[1:])
                      for x, w in zip(POINTS, WEIGHTS)]
            self.between.append([(places.at_angle(a + (b - a) * s), s, w) for s, w in shares])

    def stood(self, variant, extra, station, kind, goal, grip=None):
        """A changed tool near a station of the unchanged one, its play as the load has it there."""
        key = id(station)
        if key not in self.known:
            self.known[key] = taken_up(self.study.family, station, self.grip)
        return variant({**(extra or {}), **self.known[key]}).stand(station, kind, goal, grip)

    def over_stroke(self, variant, extra):
        """From row to row, each lane to where its own play brings the gap to the row. Where the next
        lane's play does so later, the way to there has that play."""
        tool, turns, free = self.study.tool, self.study.places.turns, extra or {}
        ends = [self.stood(variant, extra, *end) for end in self.ends_by]
        if self.name == "jaw_work" and tool.work is not None:
            return area(tool.work, ends[0].gap, ends[1].gap)
        a, last, total = ends[0].handle, ends[1].handle, 0.0
        sense = math.copysign(1.0, last - a)
        for lane, row in zip(self.between, [*self.rows, None]):
            if row is None:
                b = last
            else:
                station, gap, before, after = row
                b = variant({**free, **before}).stand(station, "gap", gap).handle
            for near, share, weight in lane:
                stood = self.stood(variant, extra, near, "handle", a + (b - a) * share + turns)
                total += (b - a) * weight * self.growth(stood)
            a = b
            if row is not None and differ(before, after):
                played = variant({**free, **after})
                b = played.stand(station, "gap", gap).handle
                if (b - a) * sense > 0:
                    for x, w in zip(POINTS, WEIGHTS):
                        stood = played.stand(station, "handle", a + (b - a) * (1 + x) / 2 + turns)
                        total += (b - a) * w / 2 * self.growth(stood)
                    a = b
        return total

    def growth(self, station):
        """Of the work per unit of the handle's angle."""
        rates = work.per_angle(station)
        _, hand, jaw = work.forces_there(station, self.grip)
        if hand is None or jaw is None:
            raise MotionError("a changed tool locks")
        if self.name == "hand_work":
            return hand * work.hand_power(station, self.grip, rates)
        return jaw * -work.columns_power(station, station.load, rates)

    def free_on_the_way(self):
        """Joints with play that nothing loads somewhere on the stroke."""
        places = [end[0] for end in self.ends_by] + [p[0] for lane in self.between for p in lane]
        loaded = [taken_up(self.study.family, station, self.grip) for station in places]
        return [k for k, play in enumerate(self.study.family.play)
                if play > 0 and any(k not in there for there in loaded)]

    # -- peaks -------------------------------------------------------------------------------
    def extreme(self, variant, extra):
        """Best over the changed tool's own stroke: first among some nodes, then refined on either
        side of the best one, with the play as it lies there."""
        ends = self.ends(variant, extra)
        if self.near is None:
            seen = [self.at_node(variant, extra, k, k, ends) for k in range(NODES + 1)]
            self.near = int(np.argmax([-math.inf if v is None else self.sense * v for v in seen]))

        def down(off):
            return -self.sense * self.at_node(variant, extra, self.near, self.near + off, ends)

        # Counted from the node: the minimizer places a corner to 1.5e-8 of the number itself.
        found = down(0.0)
        for a, b in ((-1, 0), (0, 1)):
            if 0 <= self.near + a and self.near + b <= NODES:
                found = min(found, minimize_scalar(down, bounds=(a, b), method="bounded",
                                                   options={"xatol": 1e-10}).fun)
        return -self.sense * found

    def ends(self, variant, extra):
        """Handle angles of a changed tool, open and shut."""
        study, found = self.study, []
        for node, end in ((0, "open"), (NODES, "shut")):
            tool = variant({**self.shifts_at(node), **(extra or {})})
            found.append(tool.stand(study.places.at(end), *study.target(end),
                                    study.target_grip(end)).handle)
        return found

    def at_node(self, variant, extra, node, x, ends):
        """Of a changed tool at x parts of its own stroke, its play as at a node."""
        places = self.study.places
        tool = variant({**self.shifts_at(node), **(extra or {})})
        angle = ends[0] + (ends[1] - ends[0]) * x / NODES
        near = places.steps[round(x / NODES * (len(places.steps) - 1))]
        return self.read(tool.stand(near, "handle", angle + places.turns))

    def shifts_at(self, node):
        """Play taken up at a node of the unchanged tool's stroke."""
        if node not in self.known:
            first, last = self.study.places.angles[[0, -1]]
            station = self.study.places.at_angle(first + (last - first) * node / NODES)
            self.known[node] = taken_up(self.study.family, station, self.grip)
        return self.known[node]


def differ(one, other):
    """Whether two plays are not the same one."""
    if one.keys() != other.keys():
        return True
    return any(math.dist(one[k], other[k]) > 3e-5 * math.hypot(*one[k]) for k in one)


class Study:
    """A file's tolerances."""

    def __init__(self, path, binary, ledger, *words):
        self.path, self.ledger = path, ledger
        self.tool = load(path)
        self.solution = Solution(self.tool)
        self.places = Places(self.solution)
        self.family = Family(path, self.solution)
        self.readers = readers(self.tool)
        self.where = Path(path).name
        self.result = answer(binary, "tolerance", path, *words)
        self.plan = self.family.plan()
        self.places_at, self.changes = {}, {}

    def target(self, end):
        target = getattr(self.tool, end)
        return target.kind, target.value

    def target_grip(self, end):
        if end not in ("open", "shut"):
            return None
        target = getattr(self.tool, end)
        if target.kind != "span":
            return None
        return self.tool.hand.grips[0] if target.grip is None else target.grip

    def position(self, at, grip):
        """(kind, goal, station of the unchanged tool)."""
        if (at, grip) not in self.places_at:
            self.places_at[at, grip] = self.find(at, grip)
        return self.places_at[at, grip]

    def find(self, at, grip):
        if at in ("open", "shut"):
            return *self.target(at), self.places.at(at)
        kind, _, value = at.partition("=")
        value = float(value)
        goal = math.radians(value) if kind == "handle" else value * self.tool.reader.factor(LENGTH)
        return kind, goal, self.places.at({kind: goal}, grip)

    def varied(self):
        """The plan itself: addresses, nominal values, tolerances."""
        theirs = {a: (v, t) for a, v, t in self.result["varied"]}
        for address in {*theirs, *self.plan}:
            where = f"{self.where} {address}"
            if address not in theirs or address not in self.plan:
                self.ledger.missing("varied", f"{where} on one side only")
                continue
            kind = self.family.kind(address)
            unit = 1.0 if kind == NUMBER else self.tool.reader.factor(kind)
            for said, want in zip(theirs[address], self.plan[address]):
                self.ledger.add("varied", abs(said * unit - want), where)

    def all(self):
        self.varied()
        measures = []
        for entry in self.result["measures"]:
            if entry["name"].startswith(("safety", "toggle_margin")):
                continue
            measure = Measure(self, entry)
            measures.append(measure)
            self.measure(measure)
        return measures

    def changed(self, changes):
        """A changed tool by its play; that of one change is looked at by many measures."""
        key = tuple(sorted(changes.items()))
        if key not in self.changes:
            if len(self.changes) > 500:
                self.changes.clear()
            tool, known = self.family.tool(changes), {}

            def variant(shifts):
                play = tuple((k, *np.ravel(shifts[k])) for k in sorted(shifts, key=str))
                if play not in known:
                    known[play] = Variant(self.family, changes, shifts, tool)
                return known[play]

            self.changes[key] = variant
        return self.changes[key]

    def work_out(self, measure):
        """What the program says of a measure, in its units; plays apart, by their joint."""
        still = self.changed({})
        mine = {}
        for address, (_, tolerance) in self.plan.items():
            step = STEP if self.family.kind(address) == LENGTH else SHARE * tolerance
            up, down = (measure.value(self.changed({address: s})) for s in (step, -step))
            mine[address] = (up - down) / (2 * step) * tolerance / measure.unit
        plays = self.plays(measure, still)
        values = np.array([*mine.values(), *plays.values()])
        return {"nominal": measure.nominal() / measure.unit, "loaded": measure.value(still) / measure.unit,
                "shares": mine, "plays": plays, "worst_case": float(np.abs(values).sum()),
                "root_sum_square": math.sqrt((values**2).sum())}

    def measure(self, measure):
        entry, where = measure.entry, f"{self.where} {measure.entry['name']}"
        kind = "peak: " if measure.peak else "work: " if measure.at == "stroke" else ""
        want = self.work_out(measure)
        mine, plays = want["shares"], want["plays"]
        # Where a target is a gap of nothing, that varies all the same.
        size = max(abs(entry["nominal"]), entry["worst_case"]) or 1.0
        self.ledger.add("nominal", abs(want["nominal"] - entry["nominal"]) / size, where)
        loaded = want["loaded"]
        self.ledger.add(kind + "loaded", abs(loaded - entry["loaded"]) / size,
                        f"{where}: {entry['loaded']:.8g} and {loaded:.8g}")
        theirs = dict(entry["shares"])
        top = max(abs(v) for v in [*mine.values(), *plays.values()]) or 1.0
        for address in {*mine, *(a for a in theirs if not a.startswith("play of "))}:
            self.ledger.add(kind + "share",
                            abs(mine.get(address, 0.0) - theirs.get(address, 0.0)) / top,
                            f"{where} {address}: {theirs.get(address, 0.0):.8g} and "
                            f"{mine.get(address, 0.0):.8g}")
        for joint, value in plays.items():
            self.ledger.add(kind + "share" if kind else "play",
                            abs(abs(theirs.get(f"play of {joint}", 0.0)) - value) / top,
                            f"{where} play of {joint}: "
                            f"{theirs.get(f'play of {joint}', 0.0):.8g} and {value:.8g}")
        for name, value, other in (
                ("worst case", want["worst_case"], entry["worst_case"]),
                ("root-sum-square", want["root_sum_square"], entry["root_sum_square"])):
            self.ledger.add(kind + "stack-up" if kind else name,
                            abs(value - other) / (abs(value) or 1.0),
                            f"{where}: {other:.8g} and {value:.8g}")

    def unloaded(self, measure):
        """Joints whose play is free at a position that the measure is read at."""
        if measure.at == "stroke":
            return measure.free_on_the_way()
        loaded = set(measure.shifts)
        if measure.name == "travel":
            loaded &= set(measure.shifts_open)
        return [k for k, play in enumerate(self.family.play) if play > 0 and k not in loaded]

    def plays(self, measure, still):
        """Greatest effect of a play that stands anywhere in its circle: its gradient times c/2."""
        found = {}
        for k in self.unloaded(measure):
            slope = []
            for e in np.eye(2):
                up, down = (measure.value(still, {k: s * STEP * e}) for s in (1, -1))
                slope.append((up - down) / (2 * STEP))
            found[self.tool.joints[k].label] = (math.hypot(*slope) * self.family.play[k]
                                                / measure.unit)
        return found

    # -- samples -----------------------------------------------------------------------------
    def sample(self, measures, count, seed):
        """Normal dimensions (tolerance = 3 sigma) and free plays anywhere in their circles."""
        measures = [m for m in measures if not m.peak]
        rng = np.random.Generator(np.random.MT19937(seed))
        drawn = [[] for _ in measures]
        for _ in range(count):
            changed = self.changed({a: rng.normal(0.0, t / 3) for a, (_, t) in self.plan.items()})
            turn, far = rng.uniform(0, 2 * math.pi, 99), np.sqrt(rng.uniform(0, 1, 99))
            free = {k: c * far[k] * np.array([math.cos(turn[k]), math.sin(turn[k])])
                    for k, c in enumerate(self.family.play) if c > 0}
            for values, measure in zip(drawn, measures):
                extra = {k: free[k] for k in self.unloaded(measure)}
                try:
                    value = measure.value(changed, extra)
                except MotionError:
                    value = None
                if value is not None:
                    values.append(value / measure.unit)
        for values, measure in zip(drawn, measures):
            self.statistics(measure, np.array(values), count)

    def statistics(self, measure, values, count):
        entry, n = measure.entry, len(values)
        others = self.result["samples"] - sum(f[1] for f in entry["failed"])
        mean, deviation = values.mean(), values.std(ddof=1)
        tails = ((values - mean)**4).mean() / deviation**4
        both = 1 / n + 1 / others
        error = deviation * math.sqrt(both)
        spread = deviation * math.sqrt((tails - 1) / 4 * both)
        where = f"{self.where} {entry['name']}: {count - n} of {count} failed"
        self.ledger.add("samples: mean", abs(mean - entry["mean"]) / error,
                        f"{where}, {entry['mean']:.7g} and {mean:.7g}")
        self.ledger.add("samples: deviation", abs(deviation - entry["deviation"]) / spread,
                        f"{where}, {entry['deviation']:.6g} and {deviation:.6g}")


def main():
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    options.add_argument("files", nargs="+")
    options.add_argument("--binary", default="target/release/jawforce")
    options.add_argument("--samples", type=int, default=0, metavar="N")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--contacts", action="store_true", help="give the files tolerances and demands first")
    chosen = options.parse_args()
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    limits = LIMITS | (SAMPLED if chosen.samples else {})
    # Without peaks and work, which are on the way of motion and forces that is compared here too.
    ledger = Ledger({q: limit for q, limit in limits.items() if not (chosen.contacts and ":" in q)})
    for number, path in enumerate(chosen.files):
        if chosen.contacts:
            contacts(path, chosen.binary, ledger, number)
            continue
        study = Study(path, chosen.binary, ledger)
        measures = study.all()
        if number == 0 and chosen.samples:
            study.sample(measures, chosen.samples, chosen.seed)
    return ledger.close()


def contacts(path, binary, ledger, number):
    """One file without tolerances, of a tool with contacts."""
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    doc = tolerated(doc, Solution(load(path)), number)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / Path(path).name
        path.write_text(toml_text(doc), encoding="utf-8")
        Study(path, binary, ledger).all()


if __name__ == "__main__":
    sys.exit(main())
