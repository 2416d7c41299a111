"""A rigid piece between the jaws of a tool that gives: the force to which the hand can press it.

What is meant, from the description of the program: the linkage stands where the handle's root has it, and the piece keeps
the jaws apart by so much more than that as they give under the force, the length of a handle that only carries the hand
left out, since that moves the hand and not the linkage. So F c = t - g at every angle of the handle, and the hand holds F
with the equilibrium of the rigid tool, friction and springs with it. It goes on until that takes all that it has, or until
the stroke ends, or where jaws close no further.
"""

import math

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

import give
from factors import merge
from sheets import sheets

LOOKS = 24
HANDS = ("hand", "hand reaction")


def of_the_hand(checks, station, grip, z):
    """What the length of the handles gives that carries nothing but the hand force, mm/N."""
    unit, total = sheets(station, z, z[-1], 1.0, grip, springs=False, friction=False), 0.0
    for part, line in checks.lines.items():
        section = checks.data.sections.get(part)
        if section is None or not section.material.modulus:
            continue
        forces = unit.get(part, [])
        knots = merge(checks.own_axes(station, part, forces))
        if not give.add_up(knots):
            continue
        others = [f for f in forces if f.what not in HANDS]
        begin = max((checks.seat(part, at) for at, *_ in checks.own_axes(station, part, others)), default=0.0)
        seats = [(checks.seat(part, knot[0]), knot) for knot in knots]
        end = max(s for s, _ in seats)
        marks = sorted({s for s in (begin, end, *line.knots_along(), *section.stations, *(s for s, _ in seats))
                        if begin <= s <= end})
        for a, b in zip(marks, marks[1:]):
            total += quad(lambda s: give._density(checks, part, section, seats, s), a, b,
                          epsabs=0, epsrel=1e-9, limit=100)[0]
    return total


class Pressed:
    """A piece of `thickness` (mm) pressed with `hand` (N). `at(angle)`: the station there; from `first` to `last`."""

    def __init__(self, checks, at, ends, grip, hand, thickness):
        self.checks, self.at, self.grip, self.hand, self.thickness = checks, at, grip, hand, thickness
        self.first, self.last = ends
        self.verdict, self.force, self.spread, self.touched, self.limit = None, None, None, None, None
        self.press()

    def where(self, value, a, b):
        return brentq(value, a, b, xtol=1e-14, rtol=1e-14)

    def asked(self, angle, force):
        """Of the hand."""
        # A hair at least: under nothing at all it is chance to which side a contact bears.
        z = self.at(angle).under_work(self.grip, max(force, 1e-6))
        return math.inf if z is None else max(z[-1], 0.0)

    def force_at(self, angle):
        station = self.at(angle)
        z = give.unit_forces(station, self.grip)
        shares = give.give(self.checks, station, self.grip, z)
        return (self.thickness - station.gap) / (sum(shares.values()) - of_the_hand(self.checks, station, self.grip, z))

    def needed(self, angle):
        return self.asked(angle, self.force_at(angle))

    def closing(self, angle):
        station = self.at(angle)
        return -self.checks.link.opening_rate(station.pose, station.rates, station.jaw)

    def end(self, verdict, angle):
        self.verdict, self.force = verdict, self.force_at(angle)
        self.spread = self.thickness - self.at(angle).gap

    def press(self):
        if self.at(self.first).gap < self.thickness:
            self.verdict = "does not fit"
            return
        angles = np.linspace(self.first, self.last, LOOKS)
        gaps = [self.at(a).gap - self.thickness for a in angles]
        met = next((k for k, gap in enumerate(gaps) if gap <= 0), None)
        free = angles[:met] if met else angles
        if any(self.asked(a, 0.0) > self.hand for a in free):
            self.verdict = "held before"
            return
        if met is None:
            self.verdict = "not touched"
            return
        touched = self.touched = self.where(lambda a: self.at(a).gap - self.thickness, angles[met - 1], angles[met])
        if self.asked(touched, 0.0) > self.hand:
            self.verdict = "held before"
            return
        limit, toggle = self.last, False
        ways = np.linspace(touched, self.last, LOOKS)
        for a, b in zip(ways, ways[1:]):
            if self.closing(b) <= 0:
                limit, toggle = self.where(self.closing, a, b), True
                break
        self.limit = limit
        looks = np.linspace(touched, limit, LOOKS)
        # At a toggle the hand holds anything; a hair before it is looked at.
        looks[-1] -= 1e-7 * (limit - touched) * toggle
        wants = [0.0] + [self.needed(a) for a in looks[1:]]
        best = int(np.argmax(wants))
        if wants[best] <= self.hand and 0 < best < LOOKS - 1:
            found = minimize_scalar(lambda a: -self.needed(a), bounds=sorted((looks[best - 1], looks[best + 1])),
                                    method="bounded", options={"xatol": 1e-9})
            looks[best], wants[best] = found.x, -found.fun
        over = next((k for k, want in enumerate(wants) if want > self.hand), None)
        if over is None:
            self.end("toggle" if toggle else "end", limit)
            return
        a, b = looks[over - 1], looks[over]
        while math.isinf(self.needed(b)) and abs(b - a) > 1e-12:
            middle = (a + b) / 2
            a, b = (middle, b) if self.needed(middle) <= self.hand else (a, middle)
        self.end("hand", self.where(lambda x: self.needed(x) - self.hand, a, b) if abs(b - a) > 1e-12 else a)
