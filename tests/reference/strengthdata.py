"""What strength and give need of a tool file: materials, sections, pins, the hand's limit.

Read apart from `toolfile.py`, which leaves out all that changes no position and no force.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from units import FORCE, LENGTH, STRESS, Reader


@dataclass
class Material:
    yield_: float             # MPa
    ultimate: float | None
    modulus: float | None


@dataclass
class Section:
    stations: np.ndarray      # distances along the hand line, mm; [0] for a constant depth
    depths: np.ndarray        # mm
    thickness: float          # of one plate, mm
    plates: int
    edge: float | None
    material: Material

    @property
    def all_plates(self):
        return self.thickness * self.plates

    def depth(self, along):
        """Straight lines between stations, the end values beyond."""
        return float(np.interp(along, self.stations, self.depths))

    def places(self, depth):
        """Distances at which a taper is as deep as that."""
        rows = list(zip(self.stations, self.depths))
        return [a + (b - a) * (depth - deep) / (shallow - deep)
                for (a, deep), (b, shallow) in zip(rows, rows[1:])
                if deep != shallow and 0 <= (depth - deep) / (shallow - deep) <= 1]


@dataclass
class Pin:
    diameter: float           # mm
    clearance: float
    shear: str
    material: Material | None

    @property
    def hole(self):
        return self.diameter + self.clearance


@dataclass
class Data:
    sections: dict            # by part
    pins: dict                # by pin name
    bored: dict               # by part: {point: Pin} of the pins that have a hole there
    limit: object             # None, N, or (spans, forces)

    def hand(self, span, force):
        """The most the hand may be asked for at a span, else the file's hand force, N."""
        if self.limit is None:
            return force
        if isinstance(self.limit, float):
            return self.limit
        return float(np.interp(span, *self.limit))


def metals(doc, reader):
    """{name: Material}."""
    found = {}
    for name, table in doc.get("materials", {}).items():
        value = {k: reader.read(v, STRESS) for k, v in table.items()
                 if k in ("yield", "ultimate", "modulus")}
        found[name] = Material(value["yield"], value.get("ultimate"), value.get("modulus"))
    return found


def holes(doc, pins, length):
    """A pin that parts share has a hole in each of them, and so has the pin of a roller in the part that carries it.
    What slides in a slot without a roller has no size in the file."""
    named = [p for part in doc["parts"].values() for p in part.get("pins", {})]
    found = {part: {p: pins[p] for p in table.get("pins", {}) if named.count(p) > 1 and p in pins}
             for part, table in doc["parts"].items()}
    riders = [(t["part"], t["point"], t["roller"]) for t in doc.get("slots", []) if "roller" in t]
    riders += [(*t["pushes"].split("."), t["roller"]) for t in doc.get("cams", []) if "roller" in t]
    for part, point, roller in riders:
        own = Pin(length(roller["pin"]), 0.0, "double", None)
        there = found[part].setdefault(point, own)
        if own.hole > there.hole:
            found[part][point] = own
    return found


def read(path):
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    reader = Reader(doc["tool"]["units"])
    materials = metals(doc, reader)

    def length(value):
        return reader.read(value, LENGTH)

    sections = {}
    for part, table in doc.get("sections", {}).items():
        width = table["width"]
        rows = width if isinstance(width, list) else [[0, width]]
        along, depth = np.array([[length(v) for v in row] for row in rows]).T
        sections[part] = Section(along, depth, length(table["thickness"]),
                                 int(table.get("plates", len(table.get("layers", [0])))),
                                 length(table["edge"]) if "edge" in table else None,
                                 materials[table["material"]])
    joints = doc.get("joints", {})
    common = {k: v for k, v in joints.items() if not isinstance(v, dict)}
    pins = {}
    for name in {p for part in doc["parts"].values() for p in part.get("pins", {})}:
        here = {**common, **joints.get(name, {})}
        if "diameter" in here:
            pins[name] = Pin(length(here["diameter"]), length(here.get("clearance", 0.0)),
                             here.get("shear", "double"), materials.get(here.get("material")))
    bored = holes(doc, pins, length)
    limit = doc.get("hand", {}).get("limit")
    if isinstance(limit, list):
        rows = sorted((length(span), reader.read(force, FORCE)) for span, force in limit)
        limit = tuple(np.array(rows).T)
    elif limit is not None:
        limit = reader.read(limit, FORCE)   # a published set by name is refused here
    return Data(sections, pins, bored, limit)
