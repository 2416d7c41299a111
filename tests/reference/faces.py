"""A curved cam face: a natural cubic spline through its points over the length of their chords.

What touches it is found by looking: among many places the nearest to the roller's centre, or the foremost
towards the flat, then a root of the derivative between its neighbours. Beyond the ends of the face nothing
is found: the program ends the stroke there.
"""

import math

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

PLACES = 400     # looked at on the whole face


class Face:
    def __init__(self, points):
        points = np.asarray(points, float)
        chords = np.hypot(*np.diff(points, axis=0).T)
        self.length = chords.sum()
        self.spline = CubicSpline(np.r_[0.0, np.cumsum(chords)], points, bc_type="natural")
        self.speed = self.spline.derivative()
        self.places = np.linspace(0.0, self.length, PLACES)
        self.looked = self.spline(self.places)
        self.middle = points.mean(axis=0)

    def least(self, value, slope):
        """The parameter at which the place's value is least; `value` gives those of many places."""
        best = int(np.argmin(value(self.looked)))
        low, high = self.places[max(best - 1, 0)], self.places[min(best + 1, PLACES - 1)]
        if slope(low) > 0 or slope(high) < 0:
            return None
        return brentq(slope, low, high, xtol=1e-14 * self.length, rtol=1e-15)

    def touch(self, t):
        """The place, and the unit vector out of the solid, which lies to the left of the points' order."""
        along = self.speed(t)
        return self.spline(t), np.array([along[1], -along[0]]) / np.hypot(*along)

    def nearest(self, to):
        t = self.least(lambda at: ((at - to) ** 2).sum(axis=1), lambda t: (self.spline(t) - to) @ self.speed(t))
        if t is None:
            # It goes on straight; only the way there of a solver comes by.
            end = 0.0 if np.hypot(*(self.spline(0.0) - to)) < np.hypot(*(self.spline(self.length) - to)) else self.length
            at, out = self.touch(end)
            along = np.array([-out[1], out[0]])
            return at + ((to - at) @ along) * along, out
        return self.touch(t)

    def past(self, t, over):
        """How far what touches has gone past the nearer end, of which the face has a parameter or else this much."""
        return -min(t, self.length - t) if t is not None else over

    def beyond(self, to):
        """How far a roller about a place has gone past the nearer end of the face; below zero on it."""
        t = self.least(lambda at: ((at - to) ** 2).sum(axis=1), lambda t: (self.spline(t) - to) @ self.speed(t))
        ends = min((0.0, self.length), key=lambda t: math.dist(self.spline(t), to))
        along = self.speed(ends) / np.hypot(*self.speed(ends))
        return self.past(t, abs((to - self.spline(ends)) @ along))

    def turned_past(self, side):
        """The same of a flat, square to `side`, which points from it into the cam."""
        t = self.least(lambda at: at @ side, lambda t: self.speed(t) @ side)
        end = min((0.0, self.length), key=lambda t: self.spline(t) @ side)
        return self.past(t, abs(self.speed(end) @ side) / np.hypot(*self.speed(end)) * self.length)

    def bend(self, at):
        """Curvature at a place of the face; above zero where the solid is a hump."""
        t = self.least(lambda p: ((p - at) ** 2).sum(axis=1), lambda t: (self.spline(t) - at) @ self.speed(t))
        (vx, vy), (ax, ay) = self.speed(t), self.speed.derivative()(t)
        return (vx * ay - vy * ax) / (vx * vx + vy * vy) ** 1.5

    def foremost(self, side):
        """The place farthest against `side`, which points from the flat into the cam."""
        t = self.least(lambda at: at @ side, lambda t: self.speed(t) @ side)
        if t is None:
            ends = [self.spline(0.0), self.spline(self.length)]
            return min(ends, key=lambda at: at @ side)
        return self.spline(t)
