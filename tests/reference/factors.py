"""Every strength factor of one load case, by subject and check.

Pins: shear, bending. Parts with a section: bearing, tear-out, bending at each point that carries a
force. Two-pin links also: sections, buckling; they tear out in tension only. Handles also: bending
and shear along the hand line.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize_scalar

import formulas
from forces import two_force_links
from toolfile import rotation

SAME = 1e-6      # points nearer than this are one, mm
THROUGH = 2e-3   # a cut nearer than this to the middle of a hole goes through it, mm
BEND, SHEAR = "bending with axial force", "transverse shear"


@dataclass
class Finding:
    value: float       # stress (MPa) or compression (N)
    allowable: float
    place: object      # None, a point's name, or a distance along the hand line in mm
    inputs: dict

    @property
    def factor(self):
        return math.inf if self.value == 0 else self.allowable / self.value


class Checks:
    """The checks of a tool with its strength data."""

    def __init__(self, tool, link, data):
        self.tool, self.link, self.data = tool, link, data
        self.links = two_force_links(tool)
        self.lines = {}
        if tool.hand:
            self.lines[tool.hand.part] = tool.hand.line
            if tool.hand.against:
                self.lines[tool.hand.against] = tool.hand.against_line
        self.known = {}      # nearest places on hand lines
        self.bored = {part: self._bored(part) for part in tool.parts}

    def _bored(self, part):
        """[(name, place, Pin)]: pins at one place, of a joint and of a roller, share one hole, the largest."""
        found = []
        for name, pin in self.data.bored[part].items():
            at = self.tool.parts[part].points[name]
            for k, (first, there, largest) in enumerate(found):
                if math.hypot(*(there - at)) < SAME:
                    found[k] = (first, there, max(pin, largest, key=lambda p: p.hole))
                    break
            else:
                found.append((name, at, pin))
        return found

    def case(self, station, sheet):
        """{(subject, check): Finding}, the worst where a check looks at several places."""
        self.found = {}
        # A part that carries nothing carries rounding, of either sign.
        self.nothing = 1e-9 * max(math.hypot(*f.force) for part in sheet.values() for f in part)
        self._pins(sheet)
        for part, section in self.data.sections.items():
            own = self.own_axes(station, part, sheet.get(part, []))
            self._holes(part, section, own)
            if part in self.links:
                self._link(part, section, own)
            self._beam(part, section, own)
        return self.found

    def _keep(self, subject, check, value, allowable, place=None, **inputs):
        old = self.found.get((subject, check))
        new = Finding(value, allowable, place, inputs)
        if value > 0 and (old is None or new.factor < old.factor):
            self.found[subject, check] = new

    # -- pins --------------------------------------------------------------------------------
    def _pins(self, sheet):
        for joint in self.tool.joints:
            pin = self.data.pins.get(joint.pin)
            if pin is None or pin.material is None:
                continue
            force = next(math.hypot(*f.force) for f in sheet[joint.other]
                         if f.what == f"pin {joint.label}")
            planes = 2 if pin.shear == "double" else 1
            self._keep(joint.label, f"pin shear, {pin.shear}",
                       formulas.pin_shear(force, pin.diameter, planes),
                       formulas.SHEAR * pin.material.yield_, F=force, d=pin.diameter)
            a, b = (self.data.sections.get(p) for p in (joint.carrier, joint.other))
            if a and b:
                self._pin_bending(joint.label, pin, a, b, force)

    def _pin_bending(self, label, pin, a, b, force):
        if pin.shear == "single":
            check, moment = "pin bending in the lap", formulas.lap_moment(
                force, max(a.all_plates, b.all_plates))
        else:
            # The part with more plates is the fork; of two equal forks the worse order.
            orders = [(o, i) for o, i in ((a, b), (b, a)) if o.plates >= i.plates and o.plates > 1]
            if not orders:
                return
            check = "pin bending in the fork"
            moment = max(formulas.fork_moment(force, o.all_plates / 2, i.all_plates)
                         for o, i in orders)
        self._keep(label, check, formulas.pin_bending(moment, pin.diameter),
                   pin.material.yield_, F=force, d=pin.diameter, M=moment)

    # -- parts -------------------------------------------------------------------------------
    def own_axes(self, station, part, given):
        """Forces as (place, force, couple, pin), in the part's axes."""
        back = rotation(-self.link.angle(station.pose, part))
        origin = self.link.point(station.pose, part, np.zeros(2))
        return [(back @ (f.at - origin), back @ f.force, f.couple, f.pin) for f in given]

    def _holes(self, part, section, own):
        for name, there, pin in self.bored[part]:
            force = math.hypot(*sum((f for at, f, _, p in own if p and math.hypot(*(at - there)) < SAME), np.zeros(2)))
            allowed = section.material.yield_
            if pin.material is not None:
                allowed = min(allowed, pin.material.yield_)
            self._keep(part, "bearing in the hole",
                       formulas.bearing(force, pin.diameter, section.all_plates), allowed, name,
                       F=force, d=pin.diameter, t=section.thickness, n=section.plates)
            if part not in self.links:
                self._tear_out(part, section, pin, name, force)

    def _tear_out(self, part, section, pin, name, force):
        if section.edge is None or section.material.ultimate is None:
            return
        stress = formulas.tear_out(force, section.edge, pin.hole, section.all_plates)
        self._keep(part, "shear tear-out", stress, formulas.SHEAR * section.material.ultimate,
                   name, F=force, e=section.edge, d=pin.hole, t=section.thickness,
                   n=section.plates)

    def _link(self, part, section, own):
        first, second = self.links[part]
        points = self.tool.parts[part].points
        line = points[second] - points[first]
        length = math.hypot(*line)
        axial = sum((f for _, f, _, p in own if p == second), np.zeros(2)) @ line / length
        if abs(axial) < self.nothing:
            return
        width, plates, metal = section.depth(0.0), section.all_plates, section.material
        common = {"F": abs(axial), "w": width, "t": section.thickness, "n": section.plates}
        self._keep(part, "gross section", formulas.tension(abs(axial), width, plates),
                   metal.yield_, **common)
        if axial > 0:
            for name in (first, second):
                pin = self.data.pins.get(name)
                if pin is not None:
                    self._keep(part, "net section",
                               formulas.tension(axial, width - pin.hole, plates),
                               metal.yield_, name, d=pin.hole, **common)
                    self._tear_out(part, section, pin, name, axial)
        elif metal.modulus:
            for way, across in (("in the plane", width),
                                ("out of the plane", section.thickness)):
                limit, name = formulas.column(length, across / math.sqrt(12), width * plates,
                                              metal.yield_, metal.modulus)
                self._keep(part, f"buckling {way}, {name}", -axial, limit, L=length,
                           E=metal.modulus, Sy=metal.yield_, **common)

    def _beam(self, part, section, own):
        """Bending at every force point, and along the hand line of a handle."""
        knots = merge(own)
        if not add_up(knots):
            return                     # on a bench: nobody knows where that holds it
        order = along_longest(knots)
        line = self.lines.get(part)

        def depth(at):
            return section.depth(0.0 if line is None else self.seat(part, at))

        for i, (at, _, _) in enumerate(order):
            name, hole = self._hole(part, at)
            for beyond, following in ((order[:i], order[i - 1:i]), (order[i + 1:],
                                                                    order[i + 1:i + 2])):
                if not beyond:
                    continue
                force, moment = carried(at, beyond)
                way = following[0][0] - at
                axial = force @ way / math.hypot(*way)
                self._keep(part, BEND, formulas.beam(axial, moment, depth(at),
                                                     section.all_plates, hole),
                           section.material.yield_, name, N=axial, M=moment, w=depth(at),
                           d=hole, t=section.thickness, n=section.plates)
        if line is not None:
            self._handle(part, section, line, knots)

    def _hole(self, part, at):
        for name, there, pin in self.bored[part]:
            if math.hypot(*(there - at)) < SAME:
                return name, pin.hole
        return None, 0.0

    # -- handles -----------------------------------------------------------------------------
    def nearest(self, part, at):
        """Distance along the hand line of its place nearest to a point, mm."""
        key = (part, *np.round(at, 9))
        if key not in self.known:
            line = self.lines[part]

            def away(s):
                return math.hypot(*(line.at(min(max(s, 0.0), line.length))[0] - at))

            grid = np.linspace(0, line.length, 201)
            best = int(np.argmin([away(s) for s in grid]))
            low, high = grid[max(best - 1, 0)], grid[min(best + 1, 200)]
            found = minimize_scalar(away, bounds=(low, high), method="bounded",
                                    options={"xatol": 1e-9}).x
            ends = [s for s in (found, 0.0, line.length, *line.knots_along())
                    if 0 <= s <= line.length]
            self.known[key] = min(ends, key=away)
        return self.known[key]

    def seat(self, part, at):
        """Distance along the hand line at which the part carries what acts at a point, mm: beside
        its nearest place if that is no farther off than the handle is deep there, else with the
        head, at the line's first point."""
        s = self.nearest(part, at)
        off = math.hypot(*(self.lines[part].at(s)[0] - at))
        return s if off <= self.data.sections[part].depth(s) else 0.0

    def cut(self, part, knots, s, inner=False):
        """N, V, M of the forces beyond s along the hand line, and the section's depth and hole; with `inner` what acts
        at s itself is among them."""
        line, section = self.lines[part], self.data.sections[part]
        at, tangent = line.at(s)
        beyond = [k for k in knots if self.seat(part, k[0]) > s + (-1 if inner else 1) * SAME]
        force, moment = carried(at, beyond)
        hole = 0.0
        for _, centre, pin in self.bored[part]:
            if (abs(self.nearest(part, centre) - s) < THROUGH
                    and math.hypot(*(centre - at)) < section.depth(s) / 2):
                hole = pin.hole
        return (force @ tangent, force @ [-tangent[1], tangent[0]], moment,
                section.depth(s), hole)

    def _handle(self, part, section, line, knots):
        """The worst cut: at every place where something changes, just before it, and between."""
        marks = {0.0, line.length, *section.stations, *line.knots_along(),
                 *(self.seat(part, k[0]) for k in knots)}
        marks = sorted(s for s in marks if 0 <= s <= line.length)
        cuts = set(marks)
        for a, b in zip(marks, marks[1:]):
            cuts |= set(np.linspace(a, b, 5)[1:-1])
        for s, inner in ((s, inner) for s in sorted(cuts) for inner in (False, True)):
            axial, shear, moment, depth, hole = self.cut(part, knots, s, inner)
            common = {"w": depth, "d": hole, "t": section.thickness, "n": section.plates}
            self._keep(part, BEND, formulas.beam(axial, moment, depth, section.all_plates, hole),
                       section.material.yield_, s, N=axial, M=moment, **common)
            self._keep(part, SHEAR, formulas.beam_shear(shear, depth, section.all_plates, hole),
                       formulas.SHEAR * section.material.yield_, s, V=shear, **common)


def merge(own):
    """Forces at one point added up: [(place, force, couple)]."""
    knots = []
    for at, force, couple, _ in own:
        for i, (there, so_far, turn) in enumerate(knots):
            if math.hypot(*(there - at)) < SAME:
                knots[i] = (there, so_far + force, turn + couple)
                break
        else:
            knots.append((at, force, couple))
    return knots


def add_up(knots):
    """Whether forces and moments leave nothing."""
    if not knots:
        return True
    about = knots[0][0]
    force, moment = carried(about, knots)
    top = max(math.hypot(*f) for _, f, _ in knots)
    reach = max(math.hypot(*(at - about)) for at, _, _ in knots)
    return math.hypot(*force) <= 1e-6 * top and abs(moment) <= 1e-6 * max(top * reach, SAME)


def along_longest(knots):
    """In their order along the line through the two points that are farthest apart."""
    pairs = [(math.hypot(*(b[0] - a[0])), i, j) for i, a in enumerate(knots)
             for j, b in enumerate(knots) if i < j]
    if not pairs:
        return knots
    _, i, j = max(pairs, key=lambda p: p[0])
    axis = knots[j][0] - knots[i][0]
    return sorted(knots, key=lambda k: k[0] @ axis)


def carried(at, beyond):
    """Sum of forces and their moment about a place."""
    force = sum((f for _, f, _ in beyond), np.zeros(2))
    moment = sum((p[0] - at[0]) * f[1] - (p[1] - at[1]) * f[0] + c for p, f, c in beyond)
    return force, float(moment)
