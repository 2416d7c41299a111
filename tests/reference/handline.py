"""The centre line of a handle: points by distance along it."""

import math

import numpy as np
from scipy.integrate import quad
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq


class HandLine:
    """Straight pieces, or a natural cubic spline over cumulative chord length, through points."""

    def __init__(self, points, smooth=False):
        self.points = np.array(points, dtype=float)
        if len(self.points) < 2:
            raise ValueError("a hand line needs at least two points")
        pieces = np.linalg.norm(np.diff(self.points, axis=0), axis=1)
        if pieces.min() == 0:
            raise ValueError("a hand line has two equal points in a row")
        self.knots = np.concatenate([[0.0], np.cumsum(pieces)])
        self._known = {}
        self.spline = None
        if smooth and len(self.points) > 2:
            self.spline = CubicSpline(self.knots, self.points, bc_type="natural")
            self.slope = self.spline.derivative()
            lengths = [self._arc(a, b) for a, b in zip(self.knots, self.knots[1:])]
            self.arc = np.concatenate([[0.0], np.cumsum(lengths)])
        else:
            self.arc = self.knots

    def _arc(self, start, end):
        """True length of the curve between two parameters within one piece."""
        return quad(lambda t: float(np.hypot(*self.slope(t))), start, end,
                    epsabs=0, epsrel=1e-13, limit=200)[0]

    @property
    def length(self):
        return self.arc[-1]

    def knots_along(self):
        """Distances of the given points along the line."""
        return [float(s) for s in self.arc]

    @property
    def chord_angle(self):
        """Of first to last point, in the part's axes, rad."""
        dx, dy = self.points[-1] - self.points[0]
        return math.atan2(dy, dx)

    def at(self, distance):
        """Point and unit tangent at a distance along the line from its first point."""
        if distance not in self._known:
            self._known[distance] = self._find(distance)
        return self._known[distance]

    def _find(self, distance):
        if not -1e-9 <= distance <= self.length * (1 + 1e-12) + 1e-9:
            raise ValueError(f"{distance:.6g} mm lies beyond the hand line ({self.length:.6g} mm)")
        piece = int(np.clip(np.searchsorted(self.arc, distance, side="right") - 1,
                            0, len(self.arc) - 2))
        rest = distance - self.arc[piece]
        start, end = self.knots[piece], self.knots[piece + 1]
        if self.spline is None:
            tangent = (self.points[piece + 1] - self.points[piece]) / (end - start)
            return self.points[piece] + rest * tangent, tangent

        def miss(t):
            return self._arc(start, t) - rest

        if miss(start) >= 0:
            t = start
        elif miss(end) <= 0:
            t = end
        else:
            t = brentq(miss, start, end, xtol=1e-13, rtol=1e-14)
        tangent = self.slope(t)
        return self.spline(t), tangent / np.hypot(*tangent)
