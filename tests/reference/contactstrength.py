"""How near contacts are to yielding: the foot of a tooth, a roller on its track, a flat on its cam.

Line contact: H. Hertz's pressure p0 = sqrt(F E* / (pi L R)) with 1/E* = 2 (1 - nu^2)/E of two bodies of one metal, 1/R the
sum of both curvatures, a hollow's negative; it begins to yield below the surface at p0 = 1.67 Y by the greatest shear
stress (K. L. Johnson, Contact Mechanics, sec. 4.2 and 6.2; from memory). Behind a contact that slides there is a tension
2 mu p0 (A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials, sec. 17.7; the program's source). A roller's whole
force is taken, a flat's without its friction.

Tooth: W. Lewis's sigma = Ft / (b m Y), one tooth, load at the tip. Y here: R. G. Budynas and J. K. Nisbett, Shigley's
Mechanical Engineering Design, table 14-2 (from memory), between its rows by straight lines over 1/z. The program has
another table of the same numbers, each rounded on its own: a Y is held to 1.5 per cent, the stress to 1e-6 by the
program's own Y. m is the pitch circle over the teeth at the distance of the pins; Ft by the pressure angle of the file.
"""

import math
import tomllib
from pathlib import Path

import numpy as np

import strengthdata

from factors import Finding
from kinds import Gears
from units import LENGTH

NU, FIRST_YIELD = 0.3, 1.67
ROLLER, FLAT, BEHIND = "roller on its track, Hertz", "flat on its cam, Hertz", "flat on its cam, tension behind the contact"
TOOTH = "tooth bending, Lewis"
SHIGLEY = [(12, .245), (13, .261), (14, .277), (15, .290), (16, .296), (17, .303), (18, .309), (19, .314), (20, .322),
           (21, .328), (22, .331), (24, .337), (26, .346), (28, .353), (30, .359), (34, .371), (38, .384), (43, .397),
           (50, .409), (60, .422), (75, .435), (100, .447), (150, .460), (300, .472), (400, .480), (math.inf, .485)]


def pressure(force, length, curvature, modulus):
    """Greatest pressure of a line contact, MPa: N, mm, 1/mm, MPa."""
    return math.sqrt(force * modulus / (2 * (1 - NU**2)) * curvature / (math.pi * length))


def lewis(teeth):
    """Y; of a rack with 0 teeth."""
    along = [-1 / z for z, _ in SHIGLEY]
    return float(np.interp(-1 / teeth if teeth else 0.0, along, [y for _, y in SHIGLEY]))


def module(gears):
    """Pitch circle over teeth, mm."""
    return 2 * gears.radii[0] / gears.teeth[0]


class Contacts:
    """The contacts of a tool whose file states a width and a material."""

    def __init__(self, tool, link, path):
        self.tool, self.link = tool, link
        doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
        metals = strengthdata.metals(doc, tool.reader)

        def length(table, key):
            return tool.reader.read(table[key], LENGTH)

        self.slots, self.cams, self.gears = [], [], []
        straight, arcs = iter(tool.slots), iter(tool.arcs)
        for number, table in enumerate(doc.get("slots", []), 1):
            slot = next(arcs if "centre" in table else straight)
            if slot.roller is not None and "width" in table["roller"] and "material" in table:
                self.slots.append((f"slots.{number}", slot, length(table["roller"], "width"), metals[table["material"]]))
        for table, cam in zip(doc.get("cams", []), tool.cams):
            of = table["roller"] if cam.flat is None else table
            if "width" in of and "material" in table:
                self.cams.append((cam.name, cam, length(of, "width"), metals[table["material"]]))
        for table, gears in zip(doc.get("gears", []), tool.gears):
            if "face" in table and "material" in table:
                self.gears.append((gears, length(table, "face"), metals[table["material"]]))

    def findings(self, station, sheet):
        """{(subject, check): Finding} of one load case."""
        found = {}

        def keep(subject, check, value, allowable, **inputs):
            if value > 0:
                found[subject, check] = Finding(value, allowable, None, inputs)

        for subject, slot, width, metal in self.slots:
            force, curvature = self.on_slot(station, sheet, slot)
            self.line(keep, subject, ROLLER, force, width, curvature, metal)
        for subject, cam, width, metal in self.cams:
            force = self.force(sheet, cam.other, f"cam {cam.label}")
            if cam.flat is None:
                self.line(keep, subject, ROLLER, math.hypot(*force.force), width,
                          2 / cam.roller.diameter + self.bend(station, cam), metal)
                continue
            normal = self.pushing(station, cam) @ force.force
            p0 = self.line(keep, subject, FLAT, normal, width, self.bend(station, cam), metal)
            keep(subject, BEHIND, 2 * cam.friction * p0, metal.yield_, mu=cam.friction, p0=p0)
        for gears, face, metal in self.gears:
            self.teeth(keep, sheet, gears, face, metal)
        return found

    @staticmethod
    def line(keep, subject, check, force, width, curvature, metal):
        if curvature <= 0:
            return 0.0          # bears on more than a line
        p0 = pressure(force, width, curvature, metal.modulus)
        keep(subject, check, p0, FIRST_YIELD * metal.yield_, F=force, L=width, R=1 / curvature)
        return p0

    @staticmethod
    def force(sheet, part, what, before=0):
        """Of several of one name that after so many others."""
        return [f for f in sheet[part] if f.what == what][before]

    def riding(self, slot):
        """Name of the riding point."""
        return getattr(slot, "name", None) or next(n for n, p in self.tool.parts[slot.part].points.items()
                                                   if np.allclose(p, slot.point))

    def before(self, slot):
        """How many slots of the same point of the same part come first on a sheet: one pin may ride in two slots."""
        listed = [s for s in [*self.tool.slots, *self.tool.arcs]
                  if slot.part in (s.part, s.on) and self.riding(s) == self.riding(slot)]
        return next(k for k, s in enumerate(listed) if s is slot)

    def on_slot(self, station, sheet, slot):
        """Force of a roller and the sum of the curvatures. In an arc it rolls on the inner wall where the slot pushes it
        away from the centre, on the outer one where towards it."""
        force = self.force(sheet, slot.part, f"slot of {self.riding(slot)}", self.before(slot))
        size, roller = math.hypot(*force.force), slot.roller.diameter / 2
        if not hasattr(slot, "centre"):
            return size, 1 / roller
        out = force.at - self.link.point(station.pose, slot.on, slot.centre)
        wall = slot.radius - roller if out @ force.force > 0 else -(slot.radius + roller)
        return size, 1 / roller + 1 / wall

    def bend(self, station, cam):
        """Curvature of the face where it touches."""
        if cam.face is None:
            return 1 / cam.radius
        local, _ = self.link.contacts.touch(self.link.table(station.pose), cam)
        return cam.face.bend(local)

    def pushing(self, station, cam):
        """Direction in which the cam pushes a flat."""
        turn = self.link.angle(station.pose, cam.other) + cam.flat
        return -self.link.contacts.flat_normal(turn, cam)

    def teeth(self, keep, sheet, gears: Gears, face, metal):
        """Both wheels; the inside teeth of a ring have no Y."""
        for side, part in enumerate(gears.parts):
            if side == gears.ring or abs(gears.pressure - math.radians(20)) > math.radians(0.5):
                continue
            force = self.force(sheet, part, f"teeth of {gears.name}")
            load = math.hypot(*force.force) * math.cos(gears.pressure)
            form = lewis(gears.teeth[side])
            keep(part, TOOTH, load / (face * module(gears) * form), metal.yield_, Ft=load, b=face, m=module(gears), Y=form)
