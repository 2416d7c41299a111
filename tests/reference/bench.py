"""A tool on the bench: readings from friction, compliance and zero, and the three back from readings by least squares.

The gap is read under load: what the parts would leave without giving, and compliance times the jaw's force, and the zero of the
gauge. The force of the rigid tool, per newton of the hand, is taken from this reference's solver at Chebyshev nodes of the
handle's angle and of friction, and read between them by the polynomials through these. Where a pin turns round on its way the
force has a corner, which no polynomial follows: such a tool is refused.
"""

import math

import numpy as np
from numpy.polynomial import chebyshev
from scipy.optimize import brentq, least_squares

from solver import Solution
from stations import Places, Station

ANGLES, FRICTIONS = 20, 9
RANGE = (0.0, 0.3)      # of friction


def nodes(ends, count):
    share = (1 - np.cos(np.pi * (2 * np.arange(count) + 1) / (2 * count))) / 2
    return ends[0] + (ends[1] - ends[0]) * share


def unit(x, ends):
    return (2 * np.asarray(x) - ends[0] - ends[1]) / (ends[1] - ends[0])


class Bench:
    """Jaw force over gap of a rigid tool without springs, either way; `diameters` {pin: mm}."""

    def __init__(self, tool, diameters):
        self.tool, self.diameters, self.table = tool, diameters, {}
        closing = Solution(tool)
        for solution in (closing, closing.back()):
            places = Places(solution)
            self.ends = tuple(sorted((places.steps[0].handle, places.steps[-1].handle)))
            stations = [places.at_angle(a) for a in nodes(self.ends, ANGLES)]
            self.smooth(stations)
            self.gaps = chebyshev.chebfit(unit(nodes(self.ends, ANGLES), self.ends), [s.gap for s in stations], ANGLES - 1)
            for grip in tool.hand.grips:
                self.table["opening" if solution.opening else "closing", grip] = self.forces(stations, grip)

    def smooth(self, stations):
        for joint in self.tool.joints:
            turns = []
            for s in stations:
                rates = s.link.table(s.rates)[:, 2]
                turns.append(rates[s.link.index[joint.other]] - rates[s.link.index[joint.carrier]])
            if min(turns) * max(turns) <= 0:
                raise ValueError(f"pin {joint.label} turns round within the stroke")

    def forces(self, stations, grip):
        """Coefficients over angle and friction."""
        values = np.empty((ANGLES, FRICTIONS))
        for k, mu in enumerate(nodes(RANGE, FRICTIONS)):
            for joint in self.tool.joints:
                joint.radius = self.diameters[joint.pin] / 2 * math.sin(math.atan(mu))
            values[:, k] = [Station(s.solution, s.pose, s.rates, s.handle).under_hand(grip, 100.0)[-1] / 100
                            for s in stations]
        over_angle = chebyshev.chebfit(unit(nodes(self.ends, ANGLES), self.ends), values, ANGLES - 1)
        return chebyshev.chebfit(unit(nodes(RANGE, FRICTIONS), RANGE), over_angle.T, FRICTIONS - 1).T

    def force(self, gap, way, grip, hand, mu):
        """Of the rigid tool, N."""
        at = chebyshev.chebval2d(unit(self.angle(gap), self.ends), unit(mu, RANGE), self.table[way, grip])
        return hand * float(at)

    def angle(self, gap):
        low, high = self.ends
        return brentq(lambda a: chebyshev.chebval(unit(a, self.ends), self.gaps) - gap, low, high, xtol=1e-14)

    def reading(self, gap, way, grip, hand, mu, compliance, zero):
        """Gap and force read where the rigid tool stands at a gap."""
        force = self.force(gap, way, grip, hand, mu)
        return {"gap": gap + compliance * force + zero, "way": way, "grip": grip, "hand": hand, "force": force}


class Fit:
    """Friction, compliance and zero by least squares of the logarithm of measured over fitted force: every reading is off by so
    many per cent of itself. `held`: (compliance, zero), and the friction alone is sought.

    Standard errors: square roots of the diagonal of s^2 (J' J)^-1, s^2 the sum of squares over the degrees of freedom.
    """

    def __init__(self, bench, readings, error, held=None):
        self.bench, self.readings, self.held = bench, readings, held
        self.scale = np.array([.1] if held else [.1, 1e-4, .1])
        found = least_squares(lambda y: self.off(y * self.scale), np.array([1.5] if held else [1.5, .5, 0]), jac="3-point",
                              xtol=1e-15, ftol=1e-15, gtol=1e-15)
        self.values = found.x * self.scale
        off = self.off(self.values)
        self.free = len(readings) - len(self.values)
        self.scatter = math.sqrt(off @ off / self.free)
        self.chi_square = float(off @ off) / error**2
        self.fitted = self.model(self.values)
        slope = np.array([(self.off(self.values + d) - self.off(self.values - d)) / (2 * d.max())
                          for d in np.diag(1e-4 * self.scale)]).T
        self.errors = np.sqrt(np.diag(np.linalg.inv(slope.T @ slope))) * self.scatter

    def model(self, x):
        mu, compliance, zero = (x[0], *self.held) if self.held else x
        return np.array([self.bench.force(r["gap"] - zero - compliance * r["force"], r["way"], r["grip"], r["hand"], mu)
                         for r in self.readings])

    def off(self, x):
        return np.log([r["force"] for r in self.readings] / self.model(x))
