"""Where the palm takes the opposite of a push that is not across.

Fingers and palm press on one line of action. It is shown where that line meets the hand line of the
palm's part, at the place nearest to the grip; where it goes past, or the part has no hand line, at
the nearest place of the line (or of the part's pins and marks), with the couple that this takes.
"""

import numpy as np
from scipy.interpolate import CubicSpline

from toolfile import rotation


def holder(tool):
    """The part that takes the opposite of the hand force; None: a bench holds the fixed part."""
    return tool.hand.against if tool.hand.push == "across" else tool.hand.palm


def reaction(link, pose, here, force):
    """Place (mm) and couple (N mm) of the force `-force` of the palm against a push at `here`."""
    tool, part = link.tool, link.tool.hand.palm
    if not np.any(force):
        return here, 0.0    # nothing pushes: no line of action
    origin, turn = link.point(pose, part, np.zeros(2)), rotation(link.angle(pose, part))
    at, way = turn.T @ (here - origin), turn.T @ (force / np.hypot(*force))
    if tool.hand.against == part:
        local, met = _on_line(tool.hand.against_line, at, way)
    else:
        points = list(tool.parts[part].points.values())
        local, met = min(points, key=lambda p: abs(_cross(way, p - at))), False
    place = link.point(pose, part, np.array(local))
    return place, 0.0 if met else float(_cross(place - here, force))


def _cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def _on_line(line, at, way):
    """The distance from a straight line is itself a spline (or a chain of straight pieces)."""
    off = np.array([_cross(way, p - at) for p in line.points])
    knots = line.knots
    if line.spline is not None:
        spline = CubicSpline(knots, off, bc_type="natural")
        roots = [t for t in spline.roots(extrapolate=False) if np.isfinite(t)]
        turns = [t for t in spline.derivative().roots(extrapolate=False) if np.isfinite(t)]
        curve, away = line.spline, spline
    else:
        pieces = zip(knots, knots[1:], off, off[1:])
        roots = [a + (b - a) * u / (u - v) for a, b, u, v in pieces if u * v <= 0 and u != v]
        turns = []

        def curve(t):
            return np.array([np.interp(t, knots, line.points[:, k]) for k in (0, 1)])

        def away(t):
            return np.interp(t, knots, off)
    if roots:
        return min((curve(t) for t in roots), key=lambda p: np.hypot(*(p - at))), True
    return curve(min([*knots, *turns], key=lambda t: abs(away(t)))), False
