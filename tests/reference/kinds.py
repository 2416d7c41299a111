"""Gears, rollers, arc slots and cams of a tool file as plain data in mm and rad.

From the description of the tool file (`jawforce keys gears`, `keys slots`, `keys cams`). Which turn of
a gear is meant, where a sketch leaves whole turns open, is a convention taken from the program's
documentation; so is the length of the teeth (full depth) that their friction is reckoned with, and that
wheels whose marked circles do not quite touch roll as their teeth and the distance of the pins say; the
pressure angle is that of the file where the circles touch, and follows the base circles (involutes)
elsewhere, while the friction of the teeth is reckoned with the file's.
"""

import math
from dataclasses import dataclass

import numpy as np

from faces import Face
from units import ANGLE, NUMBER


@dataclass
class Roller:
    diameter: float
    pin: float

    @property
    def share(self):
        """Of the friction of its pin that is felt at its rim, by balance of the roller."""
        return self.pin / self.diameter


@dataclass
class Arc:
    """An arc slot: `point` of `part` stays `radius` from `centre` of `on`."""
    part: str
    point: np.ndarray
    on: str
    centre: np.ndarray
    radius: float
    friction: float
    roller: Roller | None
    name: str            # of the point, as the file has it


@dataclass
class Cam:
    """An eccentric disc or a curved face on `part`; with a roller its centre is `point` of `other`, else a flat's."""
    part: str
    centre: np.ndarray
    radius: float
    other: str
    point: np.ndarray
    roller: Roller | None
    flat: float | None   # direction in the axes of `other`
    friction: float
    name: str
    label: str           # on sheets
    face: Face | None = None   # a curve; then there is no disc


@dataclass
class Gears:
    """Two wheels on the carrier `on`, or a wheel and a rack that slides in a keyed slot of it."""
    parts: list
    on: str
    pins: list           # of each wheel, in its own axes; of a rack the point in its slot
    centres: list        # the same in the carrier's axes; of a rack the slot's `through`
    marks: list          # witness marks, in their own axes
    teeth: list
    internal: bool
    slot: object         # of the rack
    pressure: float
    friction: float
    name: str

    @property
    def rack(self):
        return self.slot is not None

    @property
    def marked(self):
        """Distances of the witness marks from their pins."""
        return [float(np.hypot(*(m - p))) for m, p in zip(self.marks, self.pins)]

    @property
    def apart(self):
        """Distance of the centres."""
        return float(np.hypot(*(self.centres[1] - self.centres[0])))

    @property
    def radii(self):
        """Of the pitch circles on which they roll, from distance and teeth; of a rack the second is infinite."""
        if self.rack:
            return [self.marked[0], math.inf]
        one, two = self.teeth
        return [self.apart * z / (abs(one - two) if self.internal else one + two)
                for z in self.teeth]

    @property
    def working(self):
        """Pressure angle at the distance of the centres: the line that touches both base circles."""
        if self.rack:
            return self.pressure
        one, two = (r * math.cos(self.pressure) for r in self.marked)
        base = abs(one - two) if self.internal else one + two
        return math.acos(min(base / self.apart, 1.0))

    @property
    def ring(self):
        """0 or 1: the one that is a ring, None without."""
        return int(self.teeth[1] > self.teeth[0]) if self.internal else None

    @property
    def loss(self):
        """Share of the work that teeth lose, mu H, H = pi (1/z1 + 1/z2)(1 - e + e1^2 + e2^2), a ring's z
        negative (Niemann and Winter, Maschinenelemente, from memory). e1, e2: the paths of contact
        before and after the pitch point, in base pitches, of teeth one module high."""
        sin, cos = math.sin(self.pressure), math.cos(self.pressure)
        total, parts = 0.0, []
        for k, z in enumerate(self.teeth):
            if z == 0:
                parts.append(1 / (math.pi * sin * cos))
                continue
            side = -1 if k == self.ring else 1
            tip = math.sqrt(max((z / 2 + side) ** 2 - (z / 2 * cos) ** 2, 0.0))
            parts.append(side * (tip - z / 2 * sin) / (math.pi * cos))
            total += side / z
        e1, e2 = parts
        return self.friction * math.pi * total * (1 - e1 - e2 + e1 * e1 + e2 * e2)


def read_roller(loader, table):
    if "roller" not in table:
        return None
    table = table["roller"]
    return Roller(loader.length(table["diameter"]), loader.length(table["pin"]))


def rubs(loader, table):
    return loader.reader.read(table.get("friction", 0.0), NUMBER)


def read_arcs(loader):
    return [Arc(t["part"], loader.place(t["part"], t["point"]), t["on"],
                loader.place(t["on"], t["centre"]), loader.length(t["radius"]), rubs(loader, t),
                read_roller(loader, t), t["point"])
            for t in loader.doc.get("slots", []) if "centre" in t]


def read_cams(loader):
    cams = []
    for number, table in enumerate(loader.doc.get("cams", []), 1):
        part, face = table["part"], table["face"]
        other, point = loader.address(table["pushes"])
        flat = loader.angle(table["flat"]) if "flat" in table else None
        curve = [loader.point(p) for p in face["points"]] if "points" in face else None
        centre = np.zeros(2) if curve else loader.place(part, face["centre"])
        radius = 0.0 if curve else loader.length(face["radius"])
        cams.append(Cam(part, centre, radius,
                        other, point, read_roller(loader, table), flat, rubs(loader, table),
                        table.get("name", f"cams.{number}"),
                        table.get("name", str(number)), Face(curve) if curve else None))
    return cams


def read_gears(loader, slots):
    found = []
    for number, table in enumerate(loader.doc.get("gears", []), 1):
        parts, about = table["parts"], table["about"]
        marks = [loader.address(m)[1] for m in table["meet"]]
        pins = [loader.place(p, a) for p, a in zip(parts, about)]
        slot = None
        if table["teeth"][1] == 0:
            slot, = (s for s in slots if s.keyed and s.part == parts[1]
                     and np.allclose(s.point, pins[1]))
            on = slot.on
            centres = [loader.place(on, about[0]), slot.through]
            internal = False
        else:
            on, = (p.name for p in loader.parts.values()
                   if p.name not in parts and all(a in p.pins for a in about))
            centres = [loader.place(on, a) for a in about]
            r1, r2 = (np.hypot(*(m - p)) for m, p in zip(marks, pins))
            apart = np.hypot(*(centres[1] - centres[0]))
            internal = table.get("internal", abs(abs(r1 - r2) - apart) < abs(r1 + r2 - apart))
        found.append(Gears(parts, on, pins, centres, marks, table["teeth"], internal, slot,
                           loader.reader.read(table["angle"], ANGLE), rubs(loader, table),
                           table.get("name", f"gears.{number}")))
    return found
