"""Tools whose dimensions and plays differ a little from a file's, closed anew from its poses.

A changed tool is read anew from the changed document, so that everything that hangs on a dimension
follows it; its loops are closed by Newton from the pose of the unchanged tool at the same position.

Backlash b: the teeth of the first of two gears stand up to b/2 along the pitch line off where the marks have them.
Play: with clearance c the later part's hole stands up to c/2 off the carrier's. Loaded, it stands at
c/2 against the force that the carrier exerts on the part. In whose axes this direction is kept is taken from the program
(`sides`). For what a tool does with friction this is no matter: let a play s lie along the force F. The parts' points at
its two ends move on each other by the turning of the part that keeps it, which is square to s and so to F, and has no
power; F acts along the line of both points, and so has the same moment about either (`test_loads.py`). What is left is of
the square of the play over a length, as F is that of the tool without play: 1e-3 of what play does, in any axes. Only the
ratio, which counts no friction, has other forces G at the joints. There the axes are a convention: of the power
s x G times the rate at which the two parts turn on each other, up to 7e-4 of a ratio in the invented tools.
"""

import copy
import math
import tomllib
from pathlib import Path
from types import SimpleNamespace

import numpy as np

import stated
from forces import free_lengths
from motion import Linkage, MotionError
from stations import Station
from toolfile import rotation, tool_of
from units import LENGTH, Reader

ISO_2768_1 = {     # ISO 2768-1:1989, table 1: greatest size of each step and ±, mm
    "f": [(3, .05), (6, .05), (30, .1), (120, .15), (400, .2), (1000, .3), (2000, .5)],
    "m": [(3, .1), (6, .1), (30, .2), (120, .3), (400, .5), (1000, .8), (2000, 1.2), (4000, 2)],
    "c": [(3, .2), (6, .3), (30, .5), (120, .8), (400, 1.2), (1000, 2), (2000, 3), (4000, 4)],
    "v": [(6, .5), (30, 1), (120, 1.5), (400, 2.5), (1000, 4), (2000, 6), (4000, 8)],
}


class Family:
    """All tools near the one of a file."""

    def __init__(self, path, solution):
        self.path, self.solution = Path(path), solution
        self.doc = tomllib.loads(self.path.read_text(encoding="utf-8"))
        self.reader = Reader(self.doc["tool"]["units"])
        common = {k: v for k, v in self.doc.get("joints", {}).items() if not isinstance(v, dict)}
        self.play = []           # c/2 of every joint, mm
        for joint in solution.tool.joints:
            here = {**common, **self.doc.get("joints", {}).get(joint.pin, {})}
            self.play.append(self.reader.read(here.get("clearance", 0.0), LENGTH) / 2)
        self.backlash = {gears.name: self.reader.read(table.get("backlash", 0.0), LENGTH) / 2
                         for gears, table in zip(solution.tool.gears, self.doc.get("gears", []))}
        self.sides = sides(solution.tool)

    # -- dimensions --------------------------------------------------------------------------
    def plan(self):
        """{address: (nominal, tolerance)} in mm, N and rad, of all that has a size and a tolerance. What follows
        other numbers has none of its own; what is no length of a part has one only by its address."""
        table, ties = stated.flat(self.doc["tolerances"]), stated.flat(self.doc.get("ties", {}))
        rule = table.pop("class", None)
        found = {}
        for address, value in self.addresses().items():
            if address in table:
                found[address] = (value, self.reader.read(table.pop(address), LENGTH))
            elif rule is not None:
                found[address] = (value, self.by_class(rule, abs(value)))
        for address, tolerance in table.items():
            if stated.holder(self.doc, address) is not None:
                found[address] = (stated.value(self.doc, self.reader, address),
                                  self.reader.read(tolerance, stated.kind(self.doc, address)))
        return {a: (v, t) for a, (v, t) in found.items() if t > 0 and a not in ties}

    def kind(self, address):
        """What an address measures."""
        return LENGTH if address.split(".")[0] in self.doc["parts"] else stated.kind(self.doc, address)

    def by_class(self, rule, size):
        if not isinstance(rule, str) or not rule.startswith("ISO 2768-"):
            return self.reader.read(rule, LENGTH)
        steps = ISO_2768_1[rule[-1]]
        if size < 0.5:             # no size of its own: the smallest step, as the program says
            return steps[0][1]
        return next(t for top, t in steps if size <= top)

    def addresses(self):
        """Every length that the file states of a part; a part's datum point [0, 0] left out."""
        found = {}
        for part, table in self.doc["parts"].items():
            if "length" in table:
                found[f"{part}.length"] = self.reader.read(table["length"], LENGTH)
            for kind in ("pins", "marks"):
                points = self.points(part, kind)
                for name, (x, y) in points.items():
                    if (x, y) != (0.0, 0.0):
                        found[f"{part}.{name}.x"], found[f"{part}.{name}.y"] = x, y
        return found

    def points(self, part, kind):
        """{name: (x, y) in mm} of the pins or marks of a part that states them, or has them from the
        sketch (its axes are then the sketch's)."""
        table = self.doc["parts"][part]
        if isinstance(table.get(kind), dict):
            return {name: tuple(self.reader.read(v, LENGTH) for v in at)
                    for name, at in table[kind].items()}
        own = self.solution.tool.parts[part]
        if not own.in_sketch_axes:
            return {}
        return {name: tuple(map(float, own.points[name])) for name in table.get(kind, [])}

    def document(self, changes):
        """The file with changes {address: mm, N, rad} added to its numbers."""
        doc = copy.deepcopy(self.doc)
        for part, table in doc["parts"].items():
            if self.solution.tool.parts[part].in_sketch_axes:
                for kind in {"pins", "marks"} & table.keys():
                    table[kind] = {name: [f"{v!r} mm" for v in at]
                                   for name, at in self.points(part, kind).items()}
        for address, change in changes.items():
            stated.change(doc, self.reader, address, stated.value(doc, self.reader, address) + change)
        return doc

    def tool(self, changes):
        """The tool of that file."""
        return tool_of(self.document(changes), self.path.parent)

    def free(self, tool, changes):
        """Free lengths of the springs: as drawn, those of which a number changes anew from the tool as drawn."""
        base = self.solution
        if not any(address.startswith("springs.") for address in changes):
            return base.free
        drawn = copy.copy(base.link)
        drawn.tool = tool
        return free_lengths(drawn, base.stroke[0][0])


def sides(tool):
    """The part in whose axes the play of each joint is: the one that is reached first where pins are followed from
    the fixed part, breadth first in the file's order; of a joint that only closes a loop the carrier."""
    found = [joint.carrier for joint in tool.joints]
    reached, queue = {tool.fixed}, [tool.fixed]
    roots = [part for part in tool.parts if part != tool.fixed]
    while queue or roots:
        if not queue:
            queue = [part for part in roots[:1] if part not in reached]
            reached |= {roots.pop(0)}
            continue
        here = queue.pop(0)
        for k, joint in enumerate(tool.joints):
            for near, far in ((joint.carrier, joint.other), (joint.other, joint.carrier)):
                if near == here and far not in reached:
                    found[k] = here
                    reached.add(far)
                    queue.append(far)
    return found


class Played(Linkage):
    """A linkage whose later parts stand off their carriers by shifts (mm, in the axes of `sides`)."""

    def __init__(self, tool, shifts, size, sides):
        super().__init__(tool)
        # Poses are counted by the size of the unchanged tool.
        self.first_local *= self.size / size
        self.second_local *= self.size / size
        self.size = self.contacts.size = size
        for k, shift in shifts.items():
            if isinstance(k, str):
                self.contacts.lost[k] = float(shift)
            elif sides[k] == tool.joints[k].carrier:
                self.first_local[k] += np.asarray(shift) / size
            else:
                self.second_local[k] -= np.asarray(shift) / size

    def joint_place(self, pose, k):
        carrier = self.tool.joints[k].carrier
        return self.point(pose, carrier, self.first_local[k] * self.size)


class Variant:
    """One changed tool."""

    def __init__(self, family, changes, shifts, tool=None):
        self.family, base = family, family.solution
        self.tool = tool or family.tool(changes)
        self.link = Played(self.tool, shifts, base.link.size, family.sides)
        free = family.free(self.tool, changes)

        def given(bodies):
            column, drag = bodies.springs(free), base.drag(bodies)
            return column if drag == 0 else column + bodies.couple(*self.tool.ratchet.pair, drag)

        self.stood = {}          # stations by where they are; a station is kept, so that its name stays its own
        self.like = SimpleNamespace(tool=self.tool, link=self.link, opening=base.opening,
                                    free=free, sign_of=base.sign_of, given=given,
                                    drag=base.drag)

    def stand(self, near, kind, goal, grip=None):
        """The station where gap, span (mm) or handle (rad) has a value, near a station; a span without a grip is
        that of the first."""
        if kind == "span" and grip is None:
            grip = self.tool.hand.grips[0]
        key = id(near), kind, goal, grip if kind == "span" else None
        if key not in self.stood:
            self.stood[key] = near, self.find(near, kind, goal, grip)
        return self.stood[key][1]

    def find(self, near, kind, goal, grip):
        link, size = self.link, self.link.size
        jaw = self.tool.jaws[0]
        if kind == "stop":
            jaw, kind, goal = self.tool.shut.stop, "gap", 0.0

        def extra(pose):
            if kind == "handle":
                return math.remainder(link.handle(pose) - goal, 2 * math.pi), link.handle_row()
            if kind == "gap":
                row = [link.opening_rate(pose, e, jaw) for e in np.eye(link.count)]
                scale = 1.0 if jaw.axis is not None else math.hypot(*link.between(pose, jaw)[0])
                return (link.gap(pose, jaw) - goal) / size, np.array(row) / (size * scale)
            here, there = link.facing(pose, grip)
            u = (here - there) / math.hypot(*(here - there))
            hand = self.tool.hand
            row = [u @ (link.velocity(pose, e, hand.part, here)
                        - link.velocity(pose, e, hand.against, there)) for e in np.eye(link.count)]
            return (link.span(pose, grip) - goal) / size, np.array(row) / size

        pose = link.solve(near.pose, extra, limit=30)
        if pose is None:
            raise MotionError("a changed tool does not come to the position")
        rates, _ = link.tangent(pose, near.rates)
        if abs(np.max(np.abs(pose - near.pose))) > 0.5:
            raise MotionError("a changed tool jumped")
        handle = link.handle(pose)
        handle = near.handle + math.remainder(handle - near.handle, 2 * math.pi)
        return Station(self.like, pose, rates, handle)


def taken_up(family, station, grip):
    """{joint: shift (mm, in the axes of `sides`)} where load takes up the play at a station, and {gears: way (mm)}
    of the first one's teeth; empty where nothing is asked of the tool."""
    tool = station.tool
    if tool.work is not None:
        z = station.under_work(grip) if station.need() > 0 else None
        if z is None or z[-1] <= 0:
            return {}
    else:
        z = station.under_hand(grip, tool.hand.force)
        if z is None:
            return {}
    shifts = {}
    for k in range(len(tool.joints)):
        force = z[2 * k:2 * k + 2]
        if family.play[k] > 0 and math.hypot(*force) > 1e-9:
            back = rotation(-station.link.angle(station.pose, family.sides[k]))
            shifts[k] = back @ force * (-family.play[k] / math.hypot(*force))
    for name, play in family.backlash.items():
        force = z[station.bodies.unknown[f"teeth of {name}"]]
        if play > 0 and abs(force) > 1e-9:
            shifts[name] = -math.copysign(play, force)
    return shifts
