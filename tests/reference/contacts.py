"""Gears, arc slots and cams: their equations in x, y and angle of every part, and what they push.

Each kind has one equation, and its force is one unknown, N:

  arc slot       |P - C| = radius                 N along C -> P on the riding part, either way
  cam, roller    |P - C| = disc + roller          N along C -> P on the part pushed, N > 0
  cam, flat      n . (C - P) = disc               N along -n on the part pushed, N > 0
  curved face    the same with the place that touches (`faces.py`) for C, the roller alone for the sum, 0 for the disc
  gears          r1 (turn of 1) +- r2 (turn of 2) = 0, turns on the carrier since the marks met;
                 minus in a ring; the rack's r2 (turn) is its way along its slot. N is the pitch-line
                 force on the first, square to the line of centres.

Turns of gears come from the witness marks; the larger is taken within half a turn of where its mark
meets, the other within half a turn of where that puts it (the program's documentation has it so).
On which side of a flat the disc is, the sketch says.

Friction, own derivation. A roller, massless, turns on its pin: the couple mu N d_pin/2 needs mu N
d_pin/D along the wall that presses it, at its rim, and it turns so that the rim is at rest there:
the force is against the velocity that the pin's part would have there. A pin in an arc slot rubs at
its centre (the description of the file), a flat where disc and flat touch. The force of a mesh
moves away from the driver's centre until it loses the share `loss` of the work; the pressure angle adds
what presses the wheels apart, and a ring and its wheel together.
"""

import math

import numpy as np

from toolfile import rotation


def square(v):
    """A quarter of a turn counter-clockwise."""
    return np.array([-v[1], v[0]])


def cross(a, b):
    return float(a[0] * b[1] - a[1] * b[0])


def whole(turn):
    """The whole turns in an angle, to be taken off for one within half a turn."""
    return 2 * math.pi * round(turn / (2 * math.pi))


class Rows:
    """The equations of one tool's contacts; places by the tool's size, as in a pose."""

    def __init__(self, link):
        self.link, self.tool, self.size = link, link.tool, link.size
        self.count = len(self.tool.arcs) + len(self.tool.cams) + len(self.tool.gears)
        self.known, self.lost = None, {}      # and what backlash takes: mm of the first's way, by gears

    def settle(self, table):
        """Fixes, once, what only the sketch says: whole turns of gears, sides of flats."""
        if self.known is not None:
            return
        self.known = {}
        for cam in self.tool.cams:
            if cam.flat is not None:
                middle = cam.centre if cam.face is None else cam.face.middle
                at, _ = self.spot(table, cam.part, middle)
                foot, _ = self.spot(table, cam.other, cam.point)
                angle = table[self.link.index[cam.other], 2] + cam.flat
                left = square([math.cos(angle), math.sin(angle)])
                self.known["flat", cam.name] = 1.0 if left @ (at - foot) >= 0 else -1.0
        for gears in self.tool.gears:
            ways = self.ways(table, gears)
            r1, r2 = gears.radii
            if gears.rack:
                off = [whole((ways[0] + ways[1]) / r1) * r1, 0.0]
            else:
                large = int(r2 > r1)
                off = [0.0, 0.0]
                off[large] = whole(ways[large] / gears.radii[large]) * gears.radii[large]
                ways[large] -= off[large]
                small = gears.radii[1 - large]
                off[1 - large] = whole((ways[0] + ways[1]) / small) * small
            self.known["gears", gears.name] = sum(off)

    def spot(self, table, part, local):
        """A point of a part, and its derivatives by the pose."""
        i = self.link.index[part]
        x, y, theta = table[i].tolist()
        c, s = math.cos(theta) / self.size, math.sin(theta) / self.size
        a, b = float(local[0]), float(local[1])
        out, up = c * a - s * b, s * a + c * b
        slope = np.zeros((2, table.size))
        slope[0, 3 * i] = slope[1, 3 * i + 1] = 1.0
        slope[0, 3 * i + 2], slope[1, 3 * i + 2] = -up, out
        return np.array([x + out, y + up]), slope

    def flat_normal(self, angle, cam):
        """From the flat to the disc."""
        return self.known["flat", cam.name] * square([math.cos(angle), math.sin(angle)])

    def apart(self, table, part, local, other, centre, distance):
        """|P - C| = distance, and its row."""
        at, by = self.spot(table, part, local)
        about, by_centre = self.spot(table, other, centre)
        arm, distance = at - about, distance / self.size
        # Half the difference of the squares by the distance: smooth where P meets C.
        return (arm @ arm - distance ** 2) / (2 * distance), arm @ (by - by_centre) / distance

    def touch(self, table, cam):
        """Where a curved face touches, in its part's axes, and the direction in the world from the flat or the
        roller's surface into the free side: of a roller out of the cam, of a flat towards the cam."""
        turn = table[self.link.index[cam.part], 2]
        if cam.flat is not None:
            normal = self.flat_normal(table[self.link.index[cam.other], 2] + cam.flat, cam)
            return cam.face.foremost(rotation(-turn) @ normal), normal
        at, _ = self.spot(table, cam.other, cam.point)
        origin, _ = self.spot(table, cam.part, np.zeros(2))
        local, out = cam.face.nearest(rotation(-turn) @ (at - origin) * self.size)
        return local, rotation(turn) @ out

    def run_off(self, table, cam):
        """How far what a curved face pushes has gone past its end; below zero on the face."""
        turn = table[self.link.index[cam.part], 2]
        if cam.flat is not None:
            return cam.face.turned_past(rotation(-turn) @ self.flat_normal(table[self.link.index[cam.other], 2] + cam.flat, cam))
        at, _ = self.spot(table, cam.other, cam.point)
        origin, _ = self.spot(table, cam.part, np.zeros(2))
        return cam.face.beyond(rotation(-turn) @ (at - origin) * self.size)

    def curved(self, table, cam):
        local, normal = self.touch(table, cam)
        on, by_on = self.spot(table, cam.part, local)
        at, by = self.spot(table, cam.other, cam.point)
        if cam.flat is None:
            return (normal @ (at - on) - cam.roller.diameter / 2 / self.size, normal @ (by - by_on))
        row = normal @ (by_on - by)
        row[3 * self.link.index[cam.other] + 2] += square(normal) @ (on - at)
        return normal @ (on - at), row

    def ways(self, table, gears):
        """Ways along the pitch line of both since the marks met, mm; they add up to nothing."""
        angle = {p: table[self.link.index[p], 2] for p in (*gears.parts, gears.on)}
        lines = [math.atan2(*(m - p)[::-1]) for m, p in zip(gears.marks, gears.pins)]
        first = angle[gears.parts[0]] - angle[gears.on]
        if gears.rack:
            out, along, place = self.rack(gears)
            at, _ = self.spot(table, gears.parts[1], gears.marks[1])
            origin, _ = self.spot(table, gears.parts[0], gears.pins[0])
            there = rotation(-angle[gears.on]) @ (at - origin) * self.size
            return [gears.radii[0] * (first + lines[0] - math.atan2(out[1], out[0])),
                    -along @ there]
        line = gears.centres[1] - gears.centres[0]
        line = math.atan2(line[1], line[0])
        # Where pins have play the line of centres is where these stand.
        now, _ = self.between(table, gears)
        line += math.remainder(math.atan2(now[1], now[0]) - angle[gears.on] - line, 2 * math.pi)
        r1, r2 = gears.radii
        toward = [line, line + math.pi]        # of each mark when they meet
        if gears.ring is not None:
            toward = [line if gears.ring == 0 else line + math.pi] * 2
        second = angle[gears.parts[1]] - angle[gears.on]
        sign = -1.0 if gears.internal else 1.0
        return [r1 * (first + lines[0] - toward[0]), sign * r2 * (second + lines[1] - toward[1])]

    def between(self, table, gears):
        """From the first wheel's centre to the second's, and its derivatives."""
        ends = [self.spot(table, part, pin) for part, pin in zip(gears.parts, gears.pins)]
        return ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]

    @staticmethod
    def rack(gears):
        """In the carrier's axes: from the pinion square to the pitch line, along it the way the pinion's
        rim goes, and the pitch point."""
        slot = gears.slot
        along = np.array([math.cos(slot.angle), math.sin(slot.angle)])
        mark = slot.through + rotation(slot.turn) @ (gears.marks[1] - slot.point)
        off = mark - gears.centres[0]
        out = off - (off @ along) * along
        out = out / np.hypot(*out)
        return out, square(out), gears.centres[0] + gears.radii[0] * out

    def equations(self, table):
        """Residuals of all contacts and their rows."""
        self.settle(table)
        tool, index, residual, rows = self.tool, self.link.index, [], []
        for arc in tool.arcs:
            found = self.apart(table, arc.part, arc.point, arc.on, arc.centre, arc.radius)
            residual.append(found[0])
            rows.append(found[1])
        for cam in tool.cams:
            if cam.face is not None:
                found = self.curved(table, cam)
            elif cam.flat is None:
                reach = cam.radius + cam.roller.diameter / 2
                found = self.apart(table, cam.other, cam.point, cam.part, cam.centre, reach)
            else:
                i = index[cam.other]
                normal = self.flat_normal(table[i, 2] + cam.flat, cam)
                at, by = self.spot(table, cam.part, cam.centre)
                foot, by_foot = self.spot(table, cam.other, cam.point)
                row = normal @ (by - by_foot)
                row[3 * i + 2] += square(normal) @ (at - foot)
                found = normal @ (at - foot) - cam.radius / self.size, row
            residual.append(found[0])
            rows.append(found[1])
        for gears in tool.gears:
            way = sum(self.ways(table, gears)) - self.known["gears", gears.name]
            residual.append((way - self.lost.get(gears.name, 0.0)) / self.size)
            rows.append(self._mesh_row(table, gears))
        return residual, rows

    def _mesh_row(self, table, gears):
        index, row = self.link.index, np.zeros(table.size)
        first, second, on = (3 * index[p] for p in (*gears.parts, gears.on))
        r1, r2 = (r / self.size for r in gears.radii)
        row[first + 2] += r1
        if not gears.rack:
            sign = -1.0 if gears.internal else 1.0
            row[second + 2] += sign * r2
            now, by = self.between(table, gears)
            return row - (r1 + sign * r2) * (square(now) @ by) / (now @ now)
        row[on + 2] -= r1
        along = rotation(table[index[gears.on], 2]) @ self.rack(gears)[1]
        at, by = self.spot(table, gears.parts[1], gears.marks[1])
        origin, by_origin = self.spot(table, gears.parts[0], gears.pins[0])
        row -= along @ (by - by_origin)
        row[on + 2] -= square(along) @ (at - origin)
        return row


class Force:
    """One contact in a pose: what its unknown N does, in world axes (mm, N).

    `part` gets N times `normal` at `at` and the opposite goes to `other`. On top of that, for each
    sign of N: `rubs[sign]`, friction per newton of |N|, and `steady[sign]`, what is there without friction
    too; each a force and its place on `part`.
    """

    def __init__(self, what, part, other, at, normal, only_pushes=False):
        self.what, self.part, self.other, self.at, self.normal = what, part, other, at, normal
        self.only_pushes = only_pushes
        self.rubs, self.shift, self.steady = {}, {}, None
        self.pin = None      # the point of `part` whose pin a roller turns on
        self.rim = None      # where `other` is touched, if not at `at`

    def total(self, n, friction=True):
        """Force and couple about `at`, both on `part`, for a solved N."""
        force, couple, sign = n * self.normal, 0.0, 1 if n >= 0 else -1
        if self.steady is not None:
            force = force + abs(n) * self.steady
        if friction and sign in self.rubs:
            drag, place = self.rubs[sign]
            force = force + abs(n) * drag
            couple += cross(place - self.at, abs(n) * drag)
        if friction and sign in self.shift:
            couple += abs(n) * self.shift[sign]
        return force, couple


def forces(body, still):
    """The contacts of `forces.Bodies`, in the order of the equations. `still`: rates below it count as none."""
    tool, link, pose = body.tool, body.link, body.pose
    link.contacts.settle(link.table(pose))
    found = []

    def speed(part, other, place):
        return (link.velocity(pose, body.moves, part, place)
                - link.velocity(pose, body.moves, other, place))

    def drag(contact, sign, place, friction):
        """Friction on the part against its sliding at a place, for this sign of N."""
        along = -square(contact.normal)
        slide = along @ speed(contact.part, contact.other, place)
        if friction > 0 and abs(slide) > still * link.size:
            contact.rubs[sign] = -math.copysign(friction, slide) * along, place

    def rolls(contact, roller, friction, signs=(1, -1)):
        for sign in signs:
            wall = contact.at - sign * roller.diameter / 2 * contact.normal
            drag(contact, sign, wall, friction * roller.share)

    for slot in tool.slots:
        if slot.roller is not None:
            turn = body.turns[link.index[slot.on]] + slot.angle
            contact = Force(None, slot.part, slot.on, link.point(pose, slot.part, slot.point),
                            square([math.cos(turn), math.sin(turn)]))
            rolls(contact, slot.roller, slot.friction)
            found.append(contact)
    for arc in tool.arcs:
        at = link.point(pose, arc.part, arc.point)
        arm = at - link.point(pose, arc.on, arc.centre)
        contact = Force(f"slot of {arc.name}", arc.part, arc.on, at, arm / np.hypot(*arm))
        if arc.roller is not None:
            rolls(contact, arc.roller, arc.friction)
            contact.pin = arc.point
        else:
            for sign in (1, -1):
                drag(contact, sign, at, arc.friction)
        found.append(contact)
    for cam in tool.cams:
        centre = link.point(pose, cam.part, cam.centre)
        at = link.point(pose, cam.other, cam.point)
        if cam.face is not None:
            local, normal = link.contacts.touch(link.table(pose), cam)
            touch = at if cam.flat is None else link.point(pose, cam.part, local)
            normal = normal if cam.flat is None else -normal
            contact = Force(f"cam {cam.label}", cam.other, cam.part, touch, normal, True)
            if cam.flat is None:
                rolls(contact, cam.roller, cam.friction, (1,))
                contact.pin = cam.point
                contact.rim = at - cam.roller.diameter / 2 * normal
            else:
                drag(contact, 1, touch, cam.friction)
        elif cam.flat is None:
            normal = (at - centre) / np.hypot(*(at - centre))
            contact = Force(f"cam {cam.label}", cam.other, cam.part, at, normal, True)
            rolls(contact, cam.roller, cam.friction, (1,))
            contact.pin = cam.point
            contact.rim = at - cam.roller.diameter / 2 * normal
        else:
            normal = -link.contacts.flat_normal(link.angle(pose, cam.other) + cam.flat, cam)
            touch = centre + cam.radius * normal
            contact = Force(f"cam {cam.label}", cam.other, cam.part, touch, normal, True)
            drag(contact, 1, touch, cam.friction)
        found.append(contact)
    for gears in tool.gears:
        found.append(_mesh(body, gears, still))
    return found


def _mesh(body, gears, still):
    link, pose = body.link, body.pose
    turn = rotation(link.angle(pose, gears.on))
    first, second = (link.point(pose, part, pin) for part, pin in zip(gears.parts, gears.pins))
    if gears.rack:
        out = turn @ link.contacts.rack(gears)[0]
        pitch = first + gears.radii[0] * out
    else:
        out = (second - first) / gears.apart
        if gears.ring == 1:
            out = -out          # from the first centre to the pitch point
        pitch = first + gears.radii[0] * out
    # Play of the pins moves the wheels; radii and pressure angle stay those of the dimensions, and so does
    # the moment per newton.
    wider = math.hypot(*out)
    out = out / wider
    along = square(out)
    contact = Force(f"teeth of {gears.name}", gears.parts[0], gears.parts[1], pitch, along / wider)
    # A wheel is pressed towards its centre; a ring, as the other, away from its own.
    away = out if gears.ring == 0 else -out
    contact.steady = math.tan(gears.working) * away
    rate = link.velocity(pose, body.moves, gears.parts[0], pitch) - link.velocity(
        pose, body.moves, gears.on, pitch)
    rate = along @ rate
    if gears.loss <= 0 or abs(rate) <= still * link.size:
        return contact
    for sign in (1, -1):
        # The force on the first along its motion: the second drives.
        driver = 1 if sign * rate > 0 else 0
        contact.shift[sign] = sign * _shift(gears, driver) * cross(out, along)
    return contact


def _shift(gears, driver):
    """Of the pitch-line force, mm along `out` (first centre to pitch point): the work that comes out is
    1 - loss of what goes in. With radii measured along `out`, the first's a, the second's b (negative
    where its centre lies beyond the pitch point): arms a + d and b + d, and equal force."""
    share = 1 - gears.loss
    a = gears.radii[0]
    if gears.rack:
        # The rack takes the force along its slot wherever it acts.
        return a * (1 / share - 1) if driver == 0 else a * (share - 1)
    b = gears.radii[1] if gears.internal else -gears.radii[1]
    # Rates: wheel 1 turns at 1/a, wheel 2 at 1/b. Power of the force on 1: (a + d)/a; off 2: (b + d)/b.
    if driver == 0:     # (b + d)/b = share (a + d)/a
        return a * b * (share - 1) / (a - share * b)
    return a * b * (share - 1) / (b - share * a)
