"""Compares what adjusters and ratchets do with this reference.

    venv/bin/python compare_setup.py --binary target/release/jawforce demo-data/ferrule-crimper.toml

Adjusters: `setup --json` lists for every setting the end of the stroke. Here the document is changed (the pin
stands at the centre of its hole + throw (cos, sin); a dimension is what it was + the setting), read, and its stroke
found anew: gap, handle angle, ratio, jaw force, hand force for the work, and the moment of the pin's load about the
centre of its hole, from the pin forces of this solver.
Ratchets: `check --json` lists every tooth. Here the angle of the part with the teeth against that of the pawl is read
off the poses of this solver; a tooth stands where it has gone on by a whole number of pitches. The load of the pawl is
found by small steps of the motion: what work and springs give as the tool opens, over the way of the teeth.

Limits: settings that both sides refuse are counted, not compared; adjusters as in `adjusting.py`; the tool has no work that jumps at a tooth.
"""

import math
import sys
import tomllib
from pathlib import Path

import numpy as np

from adjusting import turned
from ledger import Ledger, answer, arguments
from motion import MotionError
from solver import Solution
from stations import Places
from toolfile import tool_of
from units import ANGLE, FORCE, LENGTH, Reader

LIMITS = {"setting: gap": 1e-6, "setting: handle": 1e-6, "setting: forces": 1e-6, "setting: torque": 1e-6,
          "tooth: gap": 1e-6, "tooth: handle": 1e-6, "tooth: step": 1e-6, "tooth: pawl": 1e-5, "count": 0.5}


class Setup:
    def __init__(self, binary, path, ledger):
        self.ledger, self.path, self.where = ledger, Path(path), Path(path).name
        self.doc = tomllib.loads(self.path.read_text(encoding="utf-8"))
        self.reader = Reader(self.doc["tool"]["units"])
        self.binary = binary

    def adjusters(self):
        said = answer(self.binary, "setup", self.path)
        for adjuster in said["adjusters"]:
            one = next(a for a in self.doc["adjusters"] if a["name"] == adjuster["name"])
            factor = math.radians(1) if "pin" in one else self.reader.factor(LENGTH)
            for setting in adjuster["settings"]:
                where = f"{self.where} {adjuster['name']} {setting['at']:g}"
                try:
                    doc = turned(self.doc, self.reader, adjuster["name"], setting["at"] * factor)
                    self.setting(where, doc, one, setting, setting["at"] * factor)
                except MotionError as error:
                    if setting["problem"] is None:
                        self.ledger.missing("setting: gap", f"{where}: {error}")

    def setting(self, where, doc, one, said, setting):
        tool = tool_of(doc, self.path.parent)
        solution = Solution(tool)
        station = self.end(solution)
        grip = tool.hand.grips[0]
        add, force = self.ledger.add, tool.reader.factor(FORCE)
        gap = station.gap / tool.reader.factor(LENGTH)
        add("setting: gap", abs(said["gap"] - gap), where)
        miss = (said["handle"] - math.degrees(station.handle) + 180) % 360 - 180
        add("setting: handle", abs(miss), where)
        numbers = [(said["ratio"], station.ratio(grip))]
        hand = station.under_hand(grip, tool.hand.force)
        numbers.append((said["jaw_force"], None if hand is None else hand[-1] / force))
        if tool.work is not None:
            work = station.under_work(grip)
            numbers.append((said["work_force"], None if work is None else max(work[-1], 0) / force))
        for theirs, ours in numbers:
            if (theirs is None) != (ours is None):
                self.ledger.missing("setting: forces", f"{where}: {theirs} and {ours}")
            elif ours is not None:
                add("setting: forces", abs(theirs - ours) / max(abs(ours), 1e-9), where)
        if "pin" not in one or hand is None:
            return
        throw = tool.reader.read(one["throw"], LENGTH)
        turn = self.turn(station, one["on"])
        arm = throw * np.array([math.cos(setting + turn), math.sin(setting + turn)])
        total = np.zeros(2)
        for k, joint in enumerate(tool.joints):
            if joint.pin == one["pin"] and one["on"] in (joint.carrier, joint.other):
                sense = -1.0 if joint.carrier == one["on"] else 1.0
                total += sense * np.array(hand[2 * k:2 * k + 2])
        torque = (arm[0] * total[1] - arm[1] * total[0]) / (force * tool.reader.factor(LENGTH))
        add("setting: torque", abs(said["torque"] - torque) / max(abs(torque), 1e-3 * abs(hand[-1]) * throw), where)

    @staticmethod
    def end(solution):
        """Where the stroke ends: at its target, or where dies or a stop meet before it."""
        places, link = Places(solution), solution.link
        found = [places.at("shut")]
        for jaw in solution.tool.jaws + solution.tool.stops:
            gaps = [link.gap(s.pose, jaw) for s in places.steps]
            if gaps[0] > 0 and min(gaps) < -1e-9 * link.size:
                found.append(places.where(lambda s, jaw=jaw: link.gap(s.pose, jaw)))
        return min(found, key=lambda s: abs(s.handle - places.steps[0].handle))

    @staticmethod
    def turn(station, part):
        """Angle of a part, from two points of its axes."""
        a, b = (station.link.point(station.pose, part, np.array(p)) for p in ([0.0, 0.0], [1.0, 0.0]))
        return math.atan2(b[1] - a[1], b[0] - a[0])

    def ratchet(self):
        table = self.doc["ratchet"]
        said = answer(self.binary, "check", self.path)["ratchet"]
        tool = tool_of(self.doc, self.path.parent)
        places = Places(Solution(tool))
        length, force = tool.reader.factor(LENGTH), tool.reader.factor(FORCE)
        pair = (table["teeth-on"], table["pawl"]["on"])

        def angle(station, near=0.0):
            value = self.turn(station, pair[0]) - self.turn(station, pair[1])
            return value - 2 * math.pi * round((value - near) / (2 * math.pi))

        def at(target):
            (kind, value), = target.items()
            return places.at({kind: tool.reader.read(value, ANGLE if kind == "handle" else LENGTH)})

        first, last = at(table["engages"]), at(table["frees"])
        base = angle(first)
        whole = angle(last, base) - base
        pitch = tool.reader.read(table["pitch"], ANGLE)
        radius = tool.reader.read(table["radius"], LENGTH)
        count = math.floor(abs(whole) / pitch + 1e-9)
        self.ledger.add("count", abs(count + 1 - len(said["teeth"])), self.where)
        stations = [first] + [
            places.where(lambda s, k=k: angle(s, base) - base - math.copysign(pitch * k, whole))
            for k in range(1, count + 1)]
        for k, (station, tooth) in enumerate(zip(stations, said["teeth"])):
            where = f"{self.where} tooth {k + 1}"
            self.ledger.add("tooth: gap", abs(station.gap / length - tooth["gap"]), where)
            miss = (math.degrees(station.handle) - tooth["handle"] + 180) % 360 - 180
            self.ledger.add("tooth: handle", abs(miss), where)
            if k + 1 < len(stations):
                step = abs(station.gap - stations[k + 1].gap) / length
                self.ledger.add("tooth: step", abs(step - tooth["step"]), where)
            pawl = self.pawl(places, station, angle, base, radius) / force
            self.ledger.add("tooth: pawl", abs(pawl - tooth["pawl"]) / max(pawl, 1.0), where)

    @staticmethod
    def pawl(places, station, angle, base, radius):
        """What work and springs give over a small step of opening, over the way of the tips."""
        step = 1e-5
        a, b = (places.at_angle(station.handle + s * step) for s in (-1.0, 1.0))
        need = station.need() if station.tool.work is not None else 0.0
        work = need * (a.gap - b.gap)
        springs = sum(spring_energy(a, b, s) for s in station.tool.springs)
        way = radius * abs(angle(a, base) - angle(b, base))
        # Opening is from the smaller gap to the greater.
        sense = 1.0 if a.gap > b.gap else -1.0
        return max(sense * (work + springs), 0.0) / way


def spring_energy(a, b, spring):
    """What a spring loses from b to a."""
    def energy(station):
        link = station.link
        if hasattr(spring, "ends"):
            ends = [link.point(station.pose, part, point) for part, point in spring.ends]
            long = math.hypot(*(ends[1] - ends[0])) - spring.free
            if (spring.acts == "push" and long > 0) or (spring.acts == "pull" and long < 0):
                long = 0.0
            return 0.5 * spring.rate * long * long
        turn = Setup.turn(station, spring.second) - Setup.turn(station, spring.first)
        turn -= 2 * math.pi * round(turn / (2 * math.pi))
        return 0.5 * spring.rate * (turn - spring.free) ** 2
    return energy(b) - energy(a)


def main():
    options = arguments(__doc__)
    ledger = Ledger(LIMITS)
    for path in options.files:
        setup = Setup(options.binary, path, ledger)
        if "adjusters" in setup.doc:
            setup.adjusters()
        if "ratchet" in setup.doc:
            setup.ratchet()
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
