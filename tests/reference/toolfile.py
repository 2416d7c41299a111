"""A tool file (TOML) as plain data in mm, N and rad: all that sets positions and forces.

Sections, materials, demands, tolerances and tuning are left out: they change no position and
no force. Errors are plain `ValueError`s; locating them in the file is not this program's task.
"""

import copy
import csv
import math
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from handline import HandLine
from kinds import Roller, read_arcs, read_cams, read_gears, read_roller
from pawl import Ratchet
from stated import follow
from units import ANGLE, FORCE, LENGTH, NUMBER, RATE, STRESS, TORSION_RATE, Reader
from wire import Wire

DEFAULT_HAND_FORCE = 100.0  # N
DEFAULT_STEPS = 60


@dataclass
class Part:
    name: str
    fixed: bool
    pins: list                                   # names, in the file's order
    points: dict = field(default_factory=dict)   # pins and marks in the part's axes
    in_sketch_axes: bool = False


@dataclass
class Joint:
    """One pin joint: `other` is pinned to `carrier`."""
    label: str
    pin: str
    carrier: str
    other: str
    radius: float    # of the friction circle: (d/2) sin(atan mu)


@dataclass
class Slot:
    part: str
    point: np.ndarray      # riding point in the axes of `part`
    on: str
    through: np.ndarray    # in the axes of `on`
    angle: float
    keyed: bool
    turn: float            # constant angle of the part's axes to those of `on`, if keyed
    friction: float
    width: float | None
    roller: Roller | None


@dataclass
class Hand:
    part: str
    line: HandLine
    against: str | None
    against_line: HandLine | None
    grips: list
    push: object           # "across", "square" or an angle in rad
    force: float
    thickness: float
    palm: str | None       # takes the opposite of a push that is not across; None: a bench
    limit: object = None   # None, N, or (spans, forces)

    def most(self, span):
        """The most that it may be asked for at a span, else its force, N."""
        if self.limit is None:
            return self.force
        if isinstance(self.limit, float):
            return self.limit
        return float(np.interp(span, *self.limit))


@dataclass
class Jaw:
    name: str
    on: str
    on_point: np.ndarray
    against: str
    against_point: np.ndarray
    axis: float | None
    closed: float


@dataclass
class Target:
    kind: str              # gap, span, handle or stop
    value: float
    grip: float | None = None
    stop: Jaw | None = None    # two faces that meet: read as the points of a jaw


@dataclass
class PointSpring:
    ends: list             # two of (part, point)
    rate: float
    free: float | None
    preload: float | None
    acts: str


@dataclass
class PinSpring:
    first: str
    second: str
    rate: float            # N mm per rad
    free: float


@dataclass
class Tool:
    name: str
    system: str
    reader: Reader
    parts: dict
    joints: list
    slots: list
    hand: Hand | None
    jaws: list
    open: Target | None
    shut: Target | None
    steps: int
    springs: list
    work: list | None      # sorted (gap, force)
    places: dict           # known rough positions by pin or mark name, in the fixed part's axes
    drawn_in_place: bool
    arcs: list             # arc slots, cams and gears: see `kinds`
    cams: list
    gears: list
    stops: list            # of the shut end, as jaws
    ratchet: Ratchet | None

    @property
    def fixed(self):
        return next(p.name for p in self.parts.values() if p.fixed)

    def pins_of(self, pin):
        """Names of the parts on a pin, in the file's order."""
        return [p.name for p in self.parts.values() if pin in p.pins]


def rigid_fit(own, seen):
    """Turn (rad) and shift that bring the points `own` best onto `seen` (least squares)."""
    own, seen = np.array(own, dtype=float), np.array(seen, dtype=float)
    a, b = own - own.mean(axis=0), seen - seen.mean(axis=0)
    cross = float(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))
    turn = math.atan2(cross, float(np.sum(a * b)))
    return turn, seen.mean(axis=0) - rotation(turn) @ own.mean(axis=0)


def rotation(angle):
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s], [s, c]])


def load(path):
    """The tool of a file."""
    path = Path(path)
    return parse(path.read_text(encoding="utf-8"), path.parent)


def parse(text, folder=Path(".")):
    """The tool of a TOML text; a CSV named in `[work]` is looked for in `folder`."""
    return tool_of(tomllib.loads(text), folder)


def tool_of(doc, folder):
    """The tool of a document that is already parsed."""
    if "ties" in doc:
        doc = copy.deepcopy(doc)
        follow(doc, Reader(doc["tool"]["units"]))
    return _Loader(doc, Reader(doc["tool"]["units"]), Path(folder)).tool()


def need(work, gap, size):
    """What the work (rows by rising gap) asks for at a gap, N: nothing before its widest gap, the last
    force beyond its narrowest. Within rounding of a row its force; at a jump the greater one."""
    at = [force for g, force in work if abs(g - gap) <= 1e-10 * size]
    if at:
        return max(at)
    gaps, needs = np.array(work).T
    return float(np.interp(gap, gaps, needs, right=0.0))


def area(work, open_gap, shut_gap):
    """Area under the work between two gaps, by trapezoids from row to row (jumps between them)."""
    low, high = min(open_gap, shut_gap), max(open_gap, shut_gap)
    rows = [(low - 1.0, work[0][1]), *work, (work[-1][0], 0.0), (high + 1.0, 0.0)]
    total = 0.0
    for (a, fa), (b, fb) in zip(rows, rows[1:]):
        left, right = max(a, low), min(b, high)
        if right > left:
            at = [fa + (fb - fa) * (x - a) / (b - a) for x in (left, right)]
            total += (right - left) * (at[0] + at[1]) / 2
    return total if open_gap >= shut_gap else -total


class _Loader:
    def __init__(self, doc, reader, folder):
        self.doc, self.reader, self.folder = doc, reader, folder

    # -- numbers -----------------------------------------------------------------------------
    def length(self, value):
        return self.reader.read(value, LENGTH)

    def angle(self, value):
        return self.reader.read(value, ANGLE)

    def force(self, value):
        return self.reader.read(value, FORCE)

    def point(self, value):
        if len(value) != 2:
            raise ValueError(f"{value!r} is not a point")
        return np.array([self.length(v) for v in value])

    # -- parts and sketch --------------------------------------------------------------------
    def sketch(self):
        """Sketch points in the fixed part's axes."""
        table = dict(self.doc.get("sketch", {}))
        scale, origin = table.get("scale"), table.get("origin")
        if not isinstance(scale, dict):
            return {name: self.point(v) for name, v in table.items()}
        del table["scale"]
        table.pop("origin", None)
        pixels = {name: np.array(v, dtype=float) for name, v in table.items()}
        start, end = np.array(scale["from"], float), np.array(scale["to"], float)
        per_pixel = self.length(scale["length"]) / np.hypot(*(end - start))
        datum = pixels[origin] if origin else np.zeros(2)
        return {name: (v - datum) * [per_pixel, -per_pixel] for name, v in pixels.items()}

    def read_parts(self):
        sketch = self.sketch()
        parts, mark_lists = {}, {}
        for name, table in self.doc["parts"].items():
            pins, marks = table.get("pins", {}), table.get("marks", {})
            part = Part(name, bool(table.get("fixed", False)), list(pins))
            if isinstance(pins, dict):
                part.points = {p: self.point(v) for p, v in pins.items()}
            elif "length" in table:
                first, second = pins
                part.points = {first: np.zeros(2),
                               second: np.array([self.length(table["length"]), 0.0])}
            else:
                part.points = {p: sketch[p].copy() for p in pins}
                part.in_sketch_axes = True
            if isinstance(marks, dict):
                part.points.update({m: self.point(v) for m, v in marks.items()})
            else:
                mark_lists[name] = marks
            parts[name] = part
        if sum(p.fixed for p in parts.values()) != 1:
            raise ValueError("exactly one part must be fixed")
        self.parts = parts
        frame = next(p for p in parts.values() if p.fixed)
        # Exact places of the fixed part win over the sketch.
        self.places = {**sketch, **frame.points}
        self.in_place = not sketch
        if self.in_place:
            for part in parts.values():
                if isinstance(self.doc["parts"][part.name].get("pins", {}), dict):
                    for name in part.pins:
                        self.places.setdefault(name, part.points[name])
        for name, marks in mark_lists.items():
            self._marks_from_sketch(parts[name], marks, sketch)

    def _marks_from_sketch(self, part, marks, sketch):
        """Marks given by name only: from the sketch into the part's own axes."""
        if part.in_sketch_axes or part.fixed:
            part.points.update({m: sketch[m].copy() for m in marks})
            return
        known = [n for n in part.points if n in self.places]
        turn, shift = self.rough_pose(part, known)
        back = rotation(-turn)
        part.points.update({m: back @ (sketch[m] - shift) for m in marks})

    def rough_pose(self, part, known):
        if len(known) > 1:
            return rigid_fit([part.points[n] for n in known], [self.places[n] for n in known])
        for slot in self.doc.get("slots", []):
            if slot.get("keyed") and slot["part"] == part.name and known:
                if not self.parts[slot["on"]].fixed:
                    break
                turn = self.angle(slot.get("turn", 0.0))
                return turn, self.places[known[0]] - rotation(turn) @ part.points[known[0]]
        raise ValueError(f"the sketch does not say how part {part.name} lies")

    def place(self, part, value):
        """A point of a part: [x, y], or the name of its pin or mark."""
        if isinstance(value, str):
            return self.parts[part].points[value].copy()
        return self.point(value)

    def address(self, text):
        """part.point -> (part name, point in its axes)."""
        part, _, name = text.partition(".")
        return part, self.place(part, name)

    # -- joints ------------------------------------------------------------------------------
    def joints(self):
        table = self.doc.get("joints", {})
        common = {k: v for k, v in table.items() if not isinstance(v, dict)}
        joints = []
        used = {(s["part"], s["point"]) for s in self.doc.get("slots", [])}
        for pin in dict.fromkeys(p for part in self.parts.values() for p in part.pins):
            on = [p.name for p in self.parts.values() if pin in p.pins]
            if len(on) == 1 and (on[0], pin) not in used:
                raise ValueError(f"pin {pin} stands on {on[0]} only")
            here = {**common, **table.get(pin, {})}
            diameter = self.length(here.get("diameter", 0.0))
            friction = self.reader.read(here.get("friction", 0.0), NUMBER)
            radius = diameter / 2 * math.sin(math.atan(friction))
            for other in on[1:]:
                label = pin if len(on) == 2 else f"{pin}:{other}"
                joints.append(Joint(label, pin, on[0], other, radius))
        return joints

    def slots(self):
        slots = []
        for table in self.doc.get("slots", []):
            if "centre" in table:
                continue
            width = table.get("width")
            slots.append(Slot(
                table["part"], self.place(table["part"], table["point"]), table["on"],
                self.place(table["on"], table["through"]), self.angle(table["angle"]),
                bool(table.get("keyed", False)), self.angle(table.get("turn", 0.0)),
                self.reader.read(table.get("friction", 0.0), NUMBER),
                None if width is None else self.length(width), read_roller(self, table)))
        return slots

    # -- hand, jaws, stroke ------------------------------------------------------------------
    def hand(self):
        table = self.doc.get("hand")
        if table is None:
            return None
        smooth = bool(table.get("smooth", False))
        line = HandLine([self.place(table["part"], p) for p in table["line"]], smooth)
        against, against_line = None, None
        if "against" in table:
            against = table["against"]["part"]
            against_line = HandLine(
                [self.place(against, p) for p in table["against"]["line"]], smooth)
        push = table.get("push", "across" if against else "square")
        if push not in ("across", "square"):
            push = self.angle(push)
        grips = [self.length(g) for g in table.get("grips", [])] or [line.length]
        force = self.force(table["force"]) if "force" in table else DEFAULT_HAND_FORCE
        fixed = next(p.name for p in self.parts.values() if p.fixed)
        palm = table.get("palm", against or fixed) or None
        return Hand(table["part"], line, against, against_line, grips, push, force,
                    self.length(table.get("thickness", 0.0)), palm, self.limit(table.get("limit")))

    def limit(self, said):
        """A published set by name is not known here: as none."""
        if isinstance(said, list):
            rows = sorted((self.length(span), self.force(force)) for span, force in said)
            return tuple(np.array(rows).T)
        number = isinstance(said, (int, float)) or (isinstance(said, str) and said[:1].isdigit())
        return float(self.force(said)) if number else None

    def jaws(self):
        jaws, tables = [], self.doc.get("jaw", [])
        for table in tables:
            on, on_point = self.address(table["on"])
            against, against_point = self.address(table["against"])
            axis = self.angle(table["axis"]) if "axis" in table else None
            name = table.get("name", "jaw") if len(tables) == 1 else table["name"]
            jaws.append(Jaw(name, on, on_point, against, against_point, axis,
                            self.length(table.get("closed", 0.0))))
        return jaws

    def stop(self, name):
        table, = (t for t in self.doc["stops"] if t["name"] == name)
        on, on_point = self.address(table["on"])
        against, against_point = self.address(table["against"])
        axis = self.angle(table["axis"]) if "axis" in table else None
        return Jaw(name, on, on_point, against, against_point, axis,
                   self.length(table.get("closed", 0.0)))

    def first_jaw(self):
        return self.doc["jaw"][0].get("name", "jaw")

    def target(self, table):
        grip = self.length(table["grip"]) if "grip" in table else None
        if table.get("jaw", self.first_jaw()) != self.first_jaw():
            raise ValueError("a stroke target by the gap of another jaw than the first")
        (kind, value), = ((k, v) for k, v in table.items() if k not in ("grip", "jaw"))
        if kind == "stop":
            return Target(kind, 0.0, None, self.stop(value))
        if kind not in ("gap", "span", "handle"):
            raise ValueError(f"a stroke target cannot be a {kind}")
        return Target(kind, self.reader.read(value, ANGLE if kind == "handle" else LENGTH), grip)

    # -- loads -------------------------------------------------------------------------------
    def springs(self):
        springs = []
        for table in self.doc.get("springs", []):
            if "pin" in table:
                first, second = [p.name for p in self.parts.values()
                                 if table["pin"] in p.pins][:2]
                springs.append(PinSpring(first, second,
                                         self.rate(table, TORSION_RATE),
                                         self.angle(table["free"])))
                continue
            free, preload = table.get("free"), table.get("preload")
            if (free is None) == (preload is None):
                raise ValueError("a spring needs either free or preload")
            springs.append(PointSpring(
                [self.address(table["from"]), self.address(table["to"])],
                self.rate(table, RATE),
                None if free is None else self.length(free),
                None if preload is None else self.force(preload),
                {"hooks": "pull"}.get(table["ends"], "push") if "wire" in table else table.get("acts", "both")))
        return springs

    def rate(self, table, unit):
        """Of a spring: as it is stated, or as its wire has it."""
        if "wire" not in table:
            return self.reader.read(table["rate"], unit)
        across = self.length(table["coil"] if "coil" in table else table["outside"])
        thick = self.length(table["wire"])
        more = {"ends": table.get("ends"), "legs": [self.length(leg) for leg in table.get("legs", ())]}
        if "modulus" in table:
            more["modulus"] = self.reader.read(table["modulus"], STRESS)
        return Wire(table["made-of"], thick, across - ("coil" not in table) * thick, table["turns"], **more).rate

    def work(self):
        """That of the first jaw; what is done at others is left alone."""
        tables = self.doc.get("work", [])
        tables = tables if isinstance(tables, list) else [tables]
        own = [t for t in tables if t.get("jaw", self.first_jaw()) == self.first_jaw()]
        if not own:
            return None
        need = own[0]["need"]
        if isinstance(need, str):
            path, need = self.folder / need, []
            with open(path, encoding="utf-8") as file:
                for row in csv.reader(file):
                    try:
                        need.append([float(row[0]), float(row[1])])
                    except (ValueError, IndexError):
                        continue    # a heading, a comment, an empty line
        rows = [(self.length(gap), self.force(force)) for gap, force in need]
        if rows[0][0] > rows[-1][0]:
            rows.reverse()
        return sorted(rows, key=lambda row: row[0])    # two of one gap stay as they are written

    def tool(self):
        self.read_parts()
        stroke = self.doc.get("stroke", {})
        slots = self.slots()
        return Tool(
            self.doc["tool"].get("name", ""), self.reader.system, self.reader, self.parts,
            self.joints(), slots, self.hand(), self.jaws(),
            self.target(stroke["open"]) if "open" in stroke else None,
            self.target(stroke["shut"]) if "shut" in stroke else None,
            int(stroke.get("steps", DEFAULT_STEPS)),
            self.springs(), self.work(), self.places, self.in_place, read_arcs(self), read_cams(self),
            read_gears(self, slots),
            [self.stop(t["name"]) for t in self.doc.get("stops", []) if t["ends"] == "shut"],
            Ratchet(self, self.doc["ratchet"]) if "ratchet" in self.doc else None)
