"""Repeated load: endurance, notches, factor and life of one place. mm, N, MPa; steel.

SHIGLEY: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 8th to 10th ed., ch. 6: endurance 6-8
(half the tensile strength, 700 MPa at most), surface 6-19 and table 6-2, size 6-20, 6-24 and table 6-3, kind of load 6-26,
reliability table 6-5, notch sensitivity 6-34 and 6-35 (in MPa and mm: notes of a course, danielrhuynh.github.io), shear 0.67 of
the tensile strength 6-54; from memory but for 6-34 and 6-35. Life: from 0.9 of the tensile strength at 1000 to the endurance at
a million strokes, a line in logarithms (U. Singh, Machine Design-I, ch. 4). Holes: R. B. Heywood, 2 + (1 - d/w)^3.
"""

import math

import numpy as np

SURFACE = {"ground": (1.58, -.085), "machined": (4.51, -.265), "cold-drawn": (4.51, -.265), "hot-rolled": (57.7, -.718),
           "laser": (57.7, -.718), "forged": (272., -.995)}
RELIABILITY = {50: 1.0, 90: .897, 95: .868, 99: .814, 99.9: .753, 99.99: .702}
AXIAL, TWIST = .85, .59


def size(across):
    """Of the size that counts, mm; nothing is gained by a smaller part."""
    if across > 51:
        return 1.51 * across**-.157
    return min(1.0, 1.24 * across**-.107)


def plate(depth, thickness):
    return .808 * math.sqrt(depth * thickness)


def endurance(ultimate, surface, reliability, load=1.0, across=0.0):
    """`across`: the size that counts; 0 where the whole section is stressed alike."""
    a, b = SURFACE[surface]
    big = size(across) if across else 1.0
    return a * ultimate**b * big * load * RELIABILITY[reliability] * min(ultimate / 2, 700.0)


def hole(ratio):
    return 2 + (1 - ratio)**3


def eye(ratio):
    """Pulled by a pin that fits closely (Peterson's polynomial, from memory, for 0.15 to 0.75); a smaller hole by the
    pressure of its pin, F / (d t) against F / ((w - d) t)."""
    if ratio < .15:
        return eye(.15) * (1 / ratio - 1) / (1 / .15 - 1)
    return float(np.polynomial.polynomial.polyval(min(ratio, .75), (12.882, -52.714, 89.762, -51.667)))


def notched(kt, radius, ultimate):
    """The curve is given from 340 to 1700 MPa, and held beyond."""
    s = min(max(ultimate, 340.0), 1700.0)
    root = 1.24 - 2.25e-3 * s + 1.60e-6 * s * s - 4.11e-10 * s**3
    return 1 + (kt - 1) / (1 + root / math.sqrt(radius))


def strength_at(strokes, first, last):
    """From `first` at 1000 strokes to `last` at a million."""
    decades = min(max(math.log10(strokes), 3.0), 6.0) - 3
    return first * (last / first) ** (decades / 3)


class Place:
    """A place under a swing of stress from `least` to `most`."""

    def __init__(self, most, least, steady, first, last, kf=1.0):
        self.swing, self.mean = kf * (most - least) / 2, (most + least) / 2
        self.steady, self.first, self.last = steady, first, last

    def factor(self, strokes):
        return 1 / (self.swing / strength_at(strokes, self.first, self.last) + self.mean / self.steady)

    def strokes(self):
        """How many it lasts; None without an end, 1000 where it may be fewer."""
        if self.factor(1e6) >= 1:
            return None
        if self.factor(1e3) <= 1:
            return 1000.0
        needed = self.swing / (1 - self.mean / self.steady)
        return 10 ** (3 + 3 * math.log(needed / self.first) / math.log(self.last / self.first))
