"""Compares `jawforce tolerance --json` with this reference: made tools that are stopped before they are shut.

    venv/bin/python compare_stopped.py --binary target/release/jawforce made/gears-*.toml made/cams-*.toml

Files without tolerances, as `compare.py --keep` leaves them. Each gets all lengths of its parts after ISO 2768-f, a shut
end at 85 hundredths of its stroke (by turns a gap, a handle's angle, a span), and by turns a stop, the dies of a further
jaw, or both, that stand a little beyond it: by some tenths of a standard deviation of where made tools meet them. So
several in ten made tools are stopped before shut.

The samples are the program's, drawn anew (`draws.py`). Each is read anew from the changed file, its loops closed at shut
and on the way there; faces that have gone into one another there stop it, and then it has no number at that place, and a
peak of what the work asks of the hand only if it asks for nothing beyond the place where the faces meet. Of each
demand the number of samples that meet it must be the program's, of each the number of those that are stopped, and the
number of those that meet all.
"""

import argparse
import copy
import math
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy as np
from scipy.optimize import brentq

from compare_tolerance import Measure, Study
from draws import deviations
from ledger import Ledger, answer
from motion import MotionError
from solver import Solution
from stations import Places
from toolfile import Target, area, load, need
from units import FORCE, LENGTH
from variants import Variant
from writing import toml_text

LIMITS = {"varied": 1e-9, "met": 0, "stopped": 0, "all met": 0}
BEYOND = (0.25, 0.6, 1.1, 0.4)    # standard deviations from shut to where faces meet
PAST = 1e-9                       # of the tool's size: faces that are into one another
AT_SHUT = 0.85                    # of the stroke of the file


def faces(doc, station, number, reach, lean):
    """A place of the handle and one of the fixed part which it meets a little later: the table that both kinds of faces
    are given by, and the two marks. The direction leans off the way of the handle's place."""
    tool, link = station.tool, station.link
    hand = tool.hand
    lug = hand.line.at(reach * hand.line.length)[0]
    at = link.point(station.pose, hand.part, lug)
    way = link.velocity(station.pose, station.rates, hand.part, at)
    axis = math.atan2(-way[1], -way[0]) + math.radians(lean)
    rest = 4.0
    pad = at - rest * np.array([math.cos(axis), math.sin(axis)])
    unit = tool.reader.factor(LENGTH)
    names = f"lug-{number}", f"pad-{number}"
    for part, name, place in ((hand.part, names[0], lug), (tool.fixed, names[1], pad)):
        table = doc["parts"][part]
        if not isinstance(table.setdefault("marks", {}), dict):
            return None
        table["marks"][name] = [float(v) / unit for v in place]
    return {"on": f"{hand.part}.{names[0]}", "against": f"{tool.fixed}.{names[1]}", "axis": math.degrees(axis),
            "closed": rest / unit}


def cut_face(doc, tool, station, before, beyond):
    """The first curved face of the document ends so much (mm) beyond where it touches at a station; the stroke comes there
    from `before`."""
    k, cam = next((k, cam) for k, cam in enumerate(tool.cams) if cam.face is not None)
    touched = []
    for place in (before, station):
        local, _ = place.link.contacts.touch(place.link.table(place.pose), cam)
        touched.append(min(cam.face.places, key=lambda t: math.dist(cam.face.spline(t), local)))
    unit, points = tool.reader.factor(LENGTH), doc["cams"][k]["face"]["points"]
    ends = [0.0, touched[1] + beyond] if touched[1] > touched[0] else [touched[1] - beyond, cam.face.length]
    doc["cams"][k]["face"]["points"] = [[float(v) / unit for v in cam.face.spline(t)] for t in np.linspace(*ends, len(points))]


def prepared(doc, path, number):
    """The document with an earlier shut end, tolerances, demands and faces that meet at that end exactly; the faces.
    Of a curved cam nothing meets: its face ends a little later."""
    doc = copy.deepcopy(doc)
    doc.pop("stops", None)
    doc["jaw"] = doc["jaw"][:1]
    solution = Solution(load(path))
    places, tool, unit = Places(solution), solution.tool, solution.tool.reader.factor(LENGTH)
    station = places.at_angle(places.angles[0] + AT_SHUT * (places.angles[-1] - places.angles[0]))
    grip = tool.hand.grips[0]
    kind = ("gap", "handle", "span")[number % 3]
    if kind == "span" and (tool.hand.against is None or tool.hand.push != "across"):
        kind = "gap"
    value = {"gap": station.gap / unit, "handle": math.degrees(math.remainder(station.handle, 2 * math.pi)),
             "span": (station.span(grip) or 0) / unit}[kind]
    doc["stroke"]["shut"] = {kind: value}
    if tool.work is not None:
        rows = [[gap / unit, force / tool.reader.factor(FORCE)] for gap, force in tool.work if gap > station.gap]
        last = need(tool.work, station.gap, solution.link.size) / tool.reader.factor(FORCE)
        doc["work"]["need"] = sorted([*rows, [station.gap / unit, last]], reverse=True)
        doc["work"].pop("scale", None)
    kinds = (("stop",), ("dies",), ("stop", "dies"))[number // 3 % 3]
    if any(cam.face is not None for cam in tool.cams):
        kinds = ()
    tables = [faces(doc, station, k, 0.35 + 0.3 * k, (-25, 20)[k]) for k in range(len(kinds))]
    if None in tables:
        return None, None
    for ends, table in zip(kinds, tables):
        if ends == "stop":
            doc["stops"] = [{"name": "post", **table, "ends": "shut"}]
        else:
            doc["jaw"][0].setdefault("name", "nose")
            doc["jaw"].append({"name": "inner", **table})
    ask(doc, tool, places, station)
    return doc, kinds


def ask(doc, tool, places, station):
    """Tolerances and demands."""
    doc["tolerances"] = {"class": "ISO 2768-f"}
    unit = tool.reader.factor(LENGTH)
    wide = places.steps[0].gap
    middle = {"gap": round((station.gap + 0.02 * (wide - station.gap)) / unit, 6)}
    held = {"grip": tool.hand.grips[-1] / unit}
    ratio = station.ratio(tool.hand.grips[-1])
    doc["demand"] = [{"measure": "ratio", "at": "shut", **held, "min": 0.999 * ratio},
                     {"measure": "ratio", "at": middle, **held, "min": 0},
                     {"measure": "travel", "at": "shut", "min": 0},
                     {"measure": "gap", "at": "shut", "max": 1.001 * station.gap / unit}]
    if "work" in doc:
        doc["demand"].append({"measure": "hand_force", "at": "peak", **held, "max": "1000 kN"})


def write(doc, path):
    path.write_text(toml_text(doc), encoding="utf-8")


class Made(Study):
    """A file whose made tools may be stopped."""

    def __init__(self, path, binary, ledger, count, seed):
        super().__init__(path, binary, ledger, "--samples", count, "--seed", seed)
        self.count, self.seed = count, seed
        self.shut = self.places.steps[-1]
        self.size = self.solution.link.size
        # What touches on the drawn tool at a place is meant to; no faces of these files do.
        self.meet = [*self.tool.stops, *self.tool.jaws[1:]]
        self.ends = any(cam.face is not None for cam in self.tool.cams)

    def spread(self, face):
        """Standard deviation of the faces' distance where made tools are shut, or of how far it is to the end of a cam's
        face, mm."""
        def distance(changes):
            stood = self.changed(changes)({}).stand(self.shut, *self.target("shut"), self.target_grip("shut"))
            return overhang(stood) if face is None else stood.link.gap(stood.pose, face_of(stood.tool, face.name))
        square = 0.0
        for address, (_, tolerance) in self.plan.items():
            step = 1e-3
            slope = (distance({address: step}) - distance({address: -step})) / (2 * step)
            square += (slope * tolerance / 3) ** 2
        return math.sqrt(square)

    def compare(self):
        self.varied()
        entries = [e for e in self.result["measures"] if (e["min"], e["max"]) != (None, None)]
        measures = [None if " at peak" in e["name"] else Measure(self, e) for e in entries]
        order = {address: self.plan[address][1] for address, _, _ in self.result["varied"]}
        fates = [[] for _ in entries]
        for changes in deviations(order, self.count, self.seed):
            made = Sample(self, changes)
            for fate, entry, measure in zip(fates, entries, measures):
                fate.append(made.fate(entry, measure))
        for fate, entry in zip(fates, entries):
            where = f"{self.where} {entry['name']}"
            self.number("met", fate.count("met"), entry["met"], where)
            stopped = sum(f[1] for f in entry["failed"] if "stopped" in f[0])
            self.number("stopped", fate.count("stopped"), stopped, where)
        every = sum(all(f == "met" for f in one) for one in zip(*fates))
        self.number("all met", every, self.result["all_met"], self.where)
        return [(f.count("met"), f.count("stopped")) for f in fates]

    def number(self, quantity, mine, theirs, where):
        self.ledger.add(quantity, abs(mine - theirs), f"{where}: {theirs} and {mine} of {self.count}")


def overhang(station):
    """How far the first of what curved faces push has gone past its face's end, mm; below zero on the face."""
    table, contacts = station.link.table(station.pose), station.link.contacts
    return max(contacts.run_off(table, cam) for cam in station.tool.cams if cam.face is not None)


def face_of(tool, name):
    return next(f for f in [*tool.stops, *tool.jaws[1:]] if f.name == name)


class Sample:
    """One made tool."""

    def __init__(self, study, changes):
        self.study = study
        self.variant = Variant(study.family, changes, {})
        self.stood = {}

    def stand(self, near, kind, goal, grip=None):
        """The station there and whether faces are past one another; None where it does not come there."""
        key = id(near), kind, goal
        if key not in self.stood:
            try:
                station = self.variant.stand(near, kind, goal, grip)
            except MotionError:
                station = None
            self.stood[key] = station
        return self.stood[key]

    def past(self, station):
        """Faces that have gone into one another, and whether a cam's face is at its end."""
        near = PAST * self.study.size
        meet = [face_of(self.variant.tool, face.name) for face in self.study.meet]
        found = [f for f in meet if station.link.gap(station.pose, f) < -near]
        return [*found, None] if self.study.ends and overhang(station) > near else found

    def fate(self, entry, measure):
        study = self.study
        if measure is None:
            return self.peak()
        at = self.stand(measure.base, measure.kind, measure.goal, study.target_grip(measure.at) or measure.grip)
        if at is None:
            return "failed"
        if self.past(at):
            return "stopped"
        try:
            value = measure.value(lambda shifts: self.variant) / measure.unit
        except MotionError:
            return "failed"      # it does not come to open, from where travel counts
        low, high = entry["min"], entry["max"]
        return "met" if (low is None or value >= low) and (high is None or value <= high) else "missed"

    def peak(self):
        """The demand of a peak that no tool could miss but by not doing its work."""
        study, tool = self.study, self.variant.tool
        shut = self.stand(study.shut, *study.target("shut"), study.target_grip("shut"))
        if shut is None:
            return "failed"
        reached = shut.gap
        for face in self.past(shut):
            # It meets its faces a little before.
            if face is None:
                reached = max(reached, self.left_at(shut).gap)
                continue
            tool.shut, own = Target("stop", 0.0, None, face), tool.shut
            try:
                reached = max(reached, self.variant.find(study.shut, "stop", 0.0, None).gap)
            finally:
                tool.shut = own
        near = PAST * study.size
        left = any(shut.gap - near <= gap < reached - near and force > 0 for gap, force in tool.work)
        # Between rows it is asked for too, as long as jaws are apart; below the narrowest row nothing is known.
        end = max(shut.gap, tool.work[0][0], 0.0)
        left |= reached > end + near and area(tool.work, reached, end) > 0
        return "stopped" if left else "met"

    def left_at(self, shut):
        """Where a cam's face is left."""
        study = self.study
        wide = self.stand(study.places.steps[0], *study.target("open"), study.target_grip("open"))
        turns = study.places.turns

        def at(angle):
            near = min(study.places.steps, key=lambda s: abs(s.handle - angle))
            return self.variant.find(near, "handle", angle + turns, None)
        return at(brentq(lambda angle: overhang(at(angle)), wide.handle, shut.handle, xtol=1e-13, rtol=1e-14))


def ending(path):
    """The tool of a file, where its stroke is to end, and a place a little before."""
    solution = Solution(load(path))
    places = Places(solution)
    first, last = places.angles[[0, -1]]
    return solution.tool, *(places.at_angle(first + share * (last - first)) for share in (AT_SHUT, AT_SHUT - 0.05))


def cut_at(doc, path, copied, number, binary, ledger, seed):
    """Writes the document with a face that ends a little beyond shut, and with work up to shut or, of every other file, with
    work that is done before."""
    whole, ended = doc["cams"], ending(path)

    def cut(end):
        doc["cams"] = copy.deepcopy(whole)
        cut_face(doc, *ended, end)
        write(doc, copied)
        return Places(Solution(load(copied)))

    places = cut(3.0)
    shut, wide = places.at("shut"), places.steps[0].gap
    unit = places.tool.reader.factor(LENGTH)
    last = shut.gap + 0.05 * (number % 2) * (wide - shut.gap)
    doc["work"] = {"need": [[0.9 * wide / unit, 1.0], [last / unit, 10.0]]}
    ask(doc, places.tool, places, shut)
    write(doc, copied)
    wanted = BEYOND[number % 4] * Made(copied, binary, ledger, 1, seed).spread(None)
    # Another end bends the whole of the last piece, and so moves the place that touches there.
    end = brentq(lambda end: -overhang(cut(end).at("shut")) - wanted, -3.0, 6.0, xtol=0.02 * wanted)
    places = cut(end)
    ask(doc, places.tool, places, places.at("shut"))
    write(doc, copied)
    return copied


def compared(path, binary, ledger, number, samples, seed):
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as folder:
        copied = Path(folder) / Path(path).name
        doc, kinds = prepared(doc, path, number)
        if doc is None:
            return None
        unit = load(path).reader.factor(LENGTH)
        if not kinds:
            ended = cut_at(doc, path, copied, number, binary, ledger, seed)
            return ("face",), Made(ended, binary, ledger, samples, seed).compare()
        tables = [t for t in [*doc.get("stops", []), *doc["jaw"][1:]]]
        # First well beyond shut, to see how far made tools scatter; then as far as is wanted.
        met = [table["closed"] for table in tables]
        for table, closed in zip(tables, met):
            table["closed"] = closed - 2.0 / unit
        write(doc, copied)
        study = Made(copied, binary, ledger, samples, seed)
        for k, (table, closed) in enumerate(zip(tables, met)):
            face = face_of(study.tool, table["name"])
            table["closed"] = closed - BEYOND[(number + k) % 4] * study.spread(face) / unit
        write(doc, copied)
        return kinds, Made(copied, binary, ledger, samples, seed).compare()


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("files", nargs="+")
    options.add_argument("--binary", default="target/release/jawforce")
    options.add_argument("--samples", type=int, default=300, metavar="N")
    options.add_argument("--seed", type=int, default=1)
    chosen = options.parse_args()
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    ledger = Ledger(LIMITS)
    for number, path in enumerate(chosen.files):
        try:
            found = compared(path, chosen.binary, ledger, number, chosen.samples, chosen.seed)
        except ValueError as error:
            if "beyond the end of its face" not in str(error):
                raise
            ledger.remarks.append(f"{Path(path).name}: left out, its face is left at open too")
            continue
        if found is None:
            ledger.remarks.append(f"{Path(path).name}: left out, its marks are places of the sketch")
            continue
        kinds, counts = found
        print(f"{Path(path).name} {'+'.join(kinds)}: met {[m for m, _ in counts]}, stopped {[s for _, s in counts]}")
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
