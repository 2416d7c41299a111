"""Compares the stress at cuts of plates with this reference: forces of its own, fibres across the border.

    venv/bin/python compare_cuts.py --binary target/release/jawforce demo-data/*.toml

`loads --json` names for each factor of the two checks at cuts the part, the place where the cut starts, the position,
the grip, the hand force, and h, the length of the cut. The border is that of `parts --json`, walked in short straight
pieces: that it is where the file says is measured elsewhere. Here the cut is looked for anew: from the place across
the plate, the one of that length. What is on either side of it is told by the polygon that it cuts off; the forces
are this solver's. Stress is found by fibres: for a straight beam from sums of area and second moment, for a bent one
from the plane section turning about its centre (strain = (e + w (r - R)) / r), which is no formula of the program.

Limits: borders are walked in pieces of 0.01 mm or less, and a cut's direction is found to 1e-6, so the stress to some
1e-3 of itself.
"""

import math
import re
import sys
from pathlib import Path

import numpy as np

from compare_loads import widened
from factors import Checks, merge
from ledger import Ledger, answer, arguments
from sheets import sheets
from solver import Solution
from stations import Places
from toolfile import load
from units import FORCE, LENGTH
import strengthdata
import tempfile

LIMITS = {"cut: stress": 2e-3, "cut: N, V": 2e-3, "cut: M": 2e-3}
CHECKS = ("bending at a cut", "bending at a hollow edge")
FINE = 0.01     # longest piece of a border, mm
FIBRES = 20_000


def walked(line):
    """A border as a polygon."""
    points, at = [], np.array(line["start"])
    for piece in line["pieces"]:
        to, radius = np.array(piece["to"]), piece["radius"]
        chord = to - at
        length = math.hypot(*chord)
        if radius is None:
            count = 1
            points += [at]
        else:
            half = math.asin(min(1.0, length / (2 * abs(radius))))
            middle = (at + to) / 2
            side = np.array([-chord[1], chord[0]]) / length * math.copysign(1, radius)
            centre = middle + side * abs(radius) * math.cos(half)
            start = math.atan2(*(at - centre)[::-1])
            count = max(2, math.ceil(2 * half * abs(radius) / FINE))
            turn = math.copysign(2 * half, radius)
            points += [centre + abs(radius) * np.array([math.cos(start + turn * k / count),
                                                        math.sin(start + turn * k / count)])
                       for k in range(count)]
        at = to
    return np.array(points)


def crossings(polygon, at, way):
    """Places along a line where it crosses a polygon, and the pieces crossed."""
    off = (polygon - at) @ [-way[1], way[0]]
    following = np.roll(off, -1)
    cross = np.nonzero((off >= 0) != (following >= 0))[0]
    share = off[cross] / (off[cross] - following[cross])
    ends = np.roll(polygon, -1, axis=0)
    points = polygon[cross] + share[:, None] * (ends[cross] - polygon[cross])
    return sorted(zip((points - at) @ way, cross))


def inside(polygon, point):
    """Whether a polygon goes round a point."""
    a, b = polygon - point, np.roll(polygon, -1, axis=0) - point
    turn = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1))
    return abs(turn.sum()) > math.pi


def away(polygon, point):
    """Distance of a point from an open chain of points."""
    a, b = polygon[:-1], polygon[1:]
    d = b - a
    share = np.clip(((point - a) * d).sum(axis=1) / np.maximum((d * d).sum(axis=1), 1e-30), 0, 1)
    return np.hypot(*(a + share[:, None] * d - point).T).min()


def far_end(polygon, at, length, hollow, pins):
    """The direction of the cut of that length from a place of the border into the plate."""
    a, b = polygon, np.roll(polygon, -1, axis=0)
    d = b - a
    share = np.clip(((at - a) * d).sum(axis=1) / (d * d).sum(axis=1), 0, 1)
    k = int(np.argmin(np.hypot(*(a + share[:, None] * d - at).T)))
    way = d[k] if not hollow else b[(k + 1) % len(b)] - a[k - 1]
    normal = np.array([-way[1], way[0]]) / math.hypot(*way)

    def reach(turn):
        c, s = math.cos(turn), math.sin(turn)
        there = np.array([c * normal[0] - s * normal[1], s * normal[0] + c * normal[1]])
        found = [x for x, _ in crossings(polygon, at, there) if x > 0.05]
        return there, min(found, default=math.inf)

    if hollow:
        return normal          # through the centre of the arc
    # Through the middle of a pin, square to the border, or the shortest near there: whichever has that length.
    ways = [(pin - at) / math.hypot(*(pin - at)) for pin in pins]
    found = [(way, crossings(polygon, at, way)) for way in ways if way @ normal > 0.3]
    found = [(way, min((x for x, _ in hits if x > 0.05), default=math.inf)) for way, hits in found]
    found.append(reach(0.0))
    looks = np.linspace(-1.06, 1.06, 849)
    across = [reach(turn)[1] for turn in looks]
    step = looks[1] - looks[0]
    for k in range(1, len(looks) - 1):
        if across[k] <= across[k - 1] and across[k] <= across[k + 1] and abs(across[k] - length) < 0.5:
            fine = np.linspace(looks[k] - step, looks[k] + step, 1601)
            found.append(reach(min(fine, key=lambda turn: reach(turn)[1])))
    return min(found, key=lambda one: abs(one[1] - length))[0]


def fibres(strips, zero, bent, thickness, N, M, shear):
    """Stress at the edges and the middle of a section, by fibres."""
    edges = [strips[0][0], strips[-1][1]]
    parts = [np.linspace(a, b, FIBRES + 1) for a, b in strips]
    places = np.concatenate([(p[:-1] + p[1:]) / 2 for p in parts])
    areas = np.concatenate([np.diff(p) for p in parts]) * thickness
    area = areas.sum()
    middle = (places * areas).sum() / area
    if bent:
        r, R = places + zero, middle + zero
        # sigma = (p + w (r - R)) / r with both sums given; M positive pulls at the inner edge.
        a = np.array([[(areas / r).sum(), (areas * (r - R) / r).sum()],
                      [(areas * (r - R) / r).sum(), (areas * (r - R) ** 2 / r).sum()]])
        p, w = np.linalg.solve(a, [N, -M])
        at = [(p + w * (e + zero - R)) / (e + zero) for e in edges]
    else:
        second = (areas * (places - middle) ** 2).sum()
        at = [N / area + M * (middle - e) / second for e in edges]
    return max(*map(abs, at), math.hypot(N / area, math.sqrt(3) * 1.5 * shear / area))


class Cut:
    """One factor of one tool."""

    def __init__(self, tool, data, border, factor, unit):
        self.border = border
        part = tool.parts[factor["subject"]]
        self.pins = [part.points[name] for name in data.bored[factor["subject"]]]
        given = {symbol: value for symbol, value, _ in factor["inputs"]}
        length, force = unit(LENGTH), unit(FORCE)
        x, y = re.search(r"\(([-\d.e]+) \w+, ([-\d.e]+) \w+\)", factor["place"]).groups()
        self.at = np.array([float(x), float(y)]) * length
        self.given = {"N": given["N"] * force, "V": given["V"] * force,
                      "M": given["M"] * force * length, "h": given["h"] * length}
        self.radius = given["ri"] * length if "ri" in given else None
        self.thickness = given["t"] * length * given["n"]

    def stress(self, knots):
        """Stress, N, V, M at the cut under these forces."""
        outer, *holes = self.border
        way = far_end(outer, self.at, self.given["h"], self.radius is not None, self.pins)
        found = crossings(outer, self.at, way)
        start = min(found, key=lambda c: abs(c[0]))
        stop = min((c for c in found if c[0] > start[0] + 0.05), key=lambda c: c[0])
        strips, a = [], start[0]
        taken = sorted(c[0] for hole in holes for c in crossings(hole, self.at, way)
                       if start[0] < c[0] < stop[0])
        for low, high in zip(taken[::2], taken[1::2]):
            strips.append((a, low))
            a = high
        strips.append((a, stop[0]))
        i, j = start[1], stop[1]
        # Right of the way, as the border runs counter-clockwise.
        chain = np.roll(outer, -(i + 1), axis=0)[:(j - i) % len(outer)]
        ends = self.at + np.outer([start[0], stop[0]], way)
        right = np.vstack([ends[:1], chain, ends[1:]])
        rest = np.vstack([ends[1:], np.roll(outer, -(j + 1), axis=0)[:(i - j) % len(outer)], ends[:1]])
        places = np.concatenate([np.linspace(a, b, 2001) for a, b in strips])
        areas = [b - a for a, b in strips]
        middle = sum((a + b) / 2 * (b - a) for a, b in strips) / sum(areas)
        centre = self.at + middle * way
        force, moment = np.zeros(2), 0.0
        for at, f, couple in knots:
            across = abs((at - self.at) @ [-way[1], way[0]])
            if across < 2e-3 and start[0] < (at - self.at) @ way < stop[0]:
                share = 0.5
            elif inside(right, at):
                share = 1.0
            elif inside(rest, at):
                share = 0.0
            else:
                share = float(away(right[:-1] if len(right) > 2 else right, at) < away(rest, at))
            force = force + share * f
            arm = at - centre
            moment += share * (arm[0] * f[1] - arm[1] * f[0] + couple)
        N, V = force @ [way[1], -way[0]], force @ way
        zero = 0.0 if self.radius is None else self.radius - start[0]
        return fibres(strips, zero, self.radius is not None, self.thickness, N, moment, V), N, V, moment


def compare(path, binary, opening, ledger):
    words = [path] + (["--opening"] if opening else [])
    factors = [f for f in answer(binary, "loads", *words)["factors"] if f["check"] in CHECKS]
    blanks = {b["part"]: b for b in answer(binary, "parts", path)["blanks"]}
    tool = load(path)
    solution = Solution(tool, opening)
    places, unit = Places(solution), tool.reader.factor
    with tempfile.TemporaryDirectory() as folder:
        data = strengthdata.read(widened(path, folder))
    checks = Checks(tool, solution.link, data)
    for factor in factors:
        if "jaw" in factor.get("case", "") or factor["handle"] is None:
            continue
        where = f"{Path(path).name}{' opening' if opening else ''}: {factor['subject']}, {factor['check']}"
        part = factor["subject"]
        border = [walked(line) for line in blanks[part]["borders"]]
        cut = Cut(tool, data, border, factor, unit)
        turn = math.radians(factor["handle"])
        station = min(places.steps, key=lambda s: abs(math.remainder(turn - s.handle, 2 * math.pi)))
        if abs(math.remainder(turn - station.handle, 2 * math.pi)) > 1e-5:
            station = places.at({"gap": factor["gap"] * unit(LENGTH)})
        grip, hand = factor["grip"] * unit(LENGTH), factor["hand_force"] * unit(FORCE)
        z = station.under_hand(grip, hand)
        own = sheets(station, z, hand, z[-1], grip)
        knots = merge(checks.own_axes(station, part, own[part]))
        stress, N, V, M = cut.stress(knots)
        scale = unit(FORCE) / unit(LENGTH) ** 2
        ledger.add("cut: stress", abs(stress / (factor["value"] * scale) - 1), where)
        most = max(abs(cut.given["N"]), abs(cut.given["V"]))
        ledger.add("cut: N, V", max(abs(N - cut.given["N"]),
                                    abs(abs(V) - abs(cut.given["V"]))) / most, where)
        ledger.add("cut: M", abs(M / cut.given["M"] - 1), where)


def main():
    chosen = arguments(__doc__)
    ledger = Ledger(LIMITS)
    for path in chosen.files:
        for opening in (False, True):
            compare(path, chosen.binary, opening, ledger)
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
