"""The forces of a newton at the jaw from positions alone: a joint displaced, the loops closed anew, the gap looked at.

A newton pushes the jaws open and the hand holds the grip still along its push. If one equation of a joint is let go by a
way s, that joint's own force z is the only one but the jaw's that does work (virtual work): z ds + 1 dgap = 0. So z is the
slope of the gap by the way, with no equilibrium of any part. Teeth also press their wheels apart by tan(pressure angle)
of the force along the pitch line, which of a displaced pin does work too: a mesh closes by so much of the way apart.

Slopes are central differences at two steps, the second's square error taken off (L. F. Richardson).
"""

import numpy as np

STEP = 4e-5      # of the tool's size; rad of a key


class Held:
    """A linkage whose hand holds a station, and whose equations may be displaced."""

    def __init__(self, station, grip, like):
        self.station, self.link = station, station.link
        self.base, self.push = station.pose, station.push(grip)[:station.link.count]
        self.wedges = []         # (row, what else closes it)
        gears = self.link.rows - len(station.tool.gears)
        for row, (k, column) in enumerate(station.bodies.steady, gears):
            self.wedges.append((row, np.sign(like[k]) * column[:self.link.count]))

    def gap(self, row, way):
        """How far the jaws open, over the tool's size, when one equation is off by `way`."""
        link = self.link

        def equations(pose):
            residual, slope = type(link).equations(link, pose)
            for mesh, wedge in self.wedges:
                residual[mesh] += wedge @ (pose - self.base)
                slope[mesh] += wedge
            residual[row] -= way
            return residual, slope

        link.equations = equations
        try:
            pose = link.solve(self.base, lambda p: (self.push @ (p - self.base), self.push), limit=40)
        finally:
            del link.equations
        if pose is None:
            raise ArithmeticError("a displaced joint does not close")
        jaw = self.station.jaw
        if jaw.axis is not None:
            return link.gap(pose, jaw) / link.size
        # Without an axis the gap is a distance, with a corner where dies meet: along its direction here.
        axis = link.axis(self.base, jaw, self.station.rates)
        return link.between(pose, jaw)[0] @ axis / link.size

    def slope(self, row):
        def difference(step):
            return (self.gap(row, step) - self.gap(row, -step)) / (2 * step)
        return (4 * difference(STEP / 2) - difference(STEP)) / 3


def unit_forces(station, grip, like):
    """The unknowns of `Bodies.solve` without friction and springs for a newton at the jaw; the last is the hand's force.
    `like`: other such unknowns, of which only the sign of what the teeth carry is taken."""
    tool, held = station.tool, Held(station, grip, like)
    pins = 2 * len(tool.joints)
    # A pin's residual is the carrier's place less the other's; of all other joints it is the way that they part.
    z = [held.slope(row) * (1 if row < pins else -1) for row in range(station.link.rows)]
    return np.array([*z, like[-1]])
