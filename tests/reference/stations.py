"""Single positions of a stroke, found as roots between its steps, and the forces there.

The stroke of `solver.py` has positions at equal steps of the handle's angle only. What is asked at
a gap, a span or an angle of its own is looked for here on the motion itself.
"""

import math

import numpy as np
from scipy.optimize import brentq, minimize_scalar

import forces
from motion import MotionError
from toolfile import need


class Station:
    """The tool standing at one pose, with the closing rates."""

    def __init__(self, solution, pose, rates, handle):
        self.solution, self.pose, self.rates, self.handle = solution, pose, rates, handle
        self.tool, self.link = solution.tool, solution.link
        self.bodies = forces.Bodies(self.link, pose, rates, solution.opening)
        self.springs = solution.given(self.bodies)
        self.jaw = self.tool.jaws[0]
        self.load = self.bodies.work_load(self.jaw)
        self.pushes, self.under = {}, {}     # by grip; unknowns by what is asked

    @property
    def gap(self):
        return self.link.gap(self.pose, self.jaw)

    def span(self, grip):
        return self.link.span(self.pose, grip)

    def need(self):
        """What the work asks for at this gap, N."""
        return need(self.tool.work, self.gap, self.link.size)

    def push(self, grip):
        if grip not in self.pushes:
            self.pushes[grip] = self.bodies.push(grip, self.solution.sign_of(grip))
        return self.pushes[grip]

    def ratio(self, grip):
        return forces.ratio(self.link, self.pose, self.rates, self.jaw, grip,
                            self.solution.sign_of(grip))

    def under_hand(self, grip, force, friction=True):
        """Joint unknowns for a hand force; last the jaw force. None: locked, lifts off, held by springs."""
        key = "hand", grip, force, friction
        if key not in self.under:
            self.under[key] = self._under_hand(grip, force, friction)
        return self.under[key]

    def _under_hand(self, grip, force, friction):
        hand = self.springs + force * self.push(grip)
        try:
            plain = self.bodies.solve(self.load, hand, friction=False)[-1]
            if plain <= 0 and not (friction and self.solution.opening):
                return None
            # Opening, friction may hold springs that the hand alone does not.
            z = self.bodies.solve(self.load, hand, friction=friction, positive=plain > 0)
        except forces.Locked:
            return None
        return None if self.bodies.lifts_off(z) or z[-1] <= 0 else z

    def under_work(self, grip, need=None):
        """Joint unknowns for the work's need, or another jaw force; last the hand force. None: no force does it."""
        need = self.need() if need is None else need
        key = "work", grip, need
        if key not in self.under:
            self.under[key] = self._under_work(grip, need)
        return self.under[key]

    def _under_work(self, grip, need):
        push, against = self.push(grip), self.springs + need * self.load
        try:
            plain = self.bodies.solve(push, against, friction=False)[-1]
            z = self.bodies.solve(push, against, friction=True, positive=plain > 0)
        except forces.Locked:
            return None
        return None if self.bodies.lifts_off(z) else z


class Places:
    """Stations of one solved stroke."""

    def __init__(self, solution):
        self.solution, self.link, self.tool = solution, solution.link, solution.tool
        self.steps = [Station(solution, *s) for s in solution.stroke]
        self.angles = np.array([s[2] for s in solution.stroke])
        # `handle` of the linkage may differ from the stroke's by whole turns.
        self.turns = self.link.handle(solution.stroke[0][0]) - self.angles[0]

    def at_angle(self, angle):
        """The station at a handle angle (rad, counted as the stroke's) within or near the stroke."""
        sense = math.copysign(1.0, self.angles[-1] - self.angles[0])
        i = int(np.clip(np.searchsorted(sense * self.angles, sense * angle) - 1,
                        0, len(self.angles) - 2))
        a, b = self.steps[i], self.steps[i + 1]
        share = (angle - a.handle) / (b.handle - a.handle)
        row, link = self.link.handle_row(), self.link
        miss = angle + self.turns
        pose = link.solve(a.pose + share * (b.pose - a.pose),
                          lambda z: (link.handle(z) - miss, row))
        if pose is None:
            raise MotionError("a pose between two steps does not close")
        return Station(self.solution, pose, link.tangent(pose, a.rates)[0], angle)

    def where(self, value):
        """The station within the stroke where value(station) is zero; the first from open."""
        seen = [value(s) for s in self.steps]
        for a, b, va, vb in zip(self.steps, self.steps[1:], seen, seen[1:]):
            if va == 0.0 or va * vb <= 0:
                return self.at_angle(brentq(lambda h: value(self.at_angle(h)), a.handle, b.handle,
                                            xtol=1e-14, rtol=1e-14))
        raise MotionError("the position does not lie in the stroke")

    def at(self, position, grip=None):
        """open, shut, or {gap | handle | span: value} in mm and rad."""
        if position in ("open", "shut"):
            return self.steps[0 if position == "open" else -1]
        (kind, goal), = position.items()
        if kind == "handle":
            turn = 2 * math.pi * round((np.mean(self.angles) - goal) / (2 * math.pi))
            return self.at_angle(goal + turn)
        if kind == "gap":
            return self.where(lambda s: s.gap - goal)
        return self.where(lambda s: s.span(grip) - goal)

    def extreme(self, value, sense=1.0):
        """Greatest (sense 1) or least (-1) value over the stroke: the best step, then refined."""
        seen = [value(s) for s in self.steps]
        seen = [-math.inf if v is None else sense * v for v in seen]
        best = int(np.argmax(seen))
        low, high = max(best - 1, 0), min(best + 1, len(seen) - 1)

        def down(angle):
            found = value(self.at_angle(angle))
            return math.inf if found is None else -sense * found

        # On either side by itself: a kink (a corner of the work's curve) may lie at the step.
        top = seen[best]
        for a, b in ((low, best), (best, high)):
            if a != b:
                ends = sorted((self.angles[a], self.angles[b]))
                found = minimize_scalar(down, bounds=ends, method="bounded",
                                        options={"xatol": 1e-10})
                top = max(top, -found.fun)
        # At a jump of the work it is the greater force that counts, there and nowhere beside it.
        for gap in self.jumps():
            top = max(top, -down(self.at({"gap": gap}).handle))
        return sense * top

    def jumps(self):
        """The gaps of the stroke at which the work jumps, mm."""
        gaps = [gap for gap, _ in self.tool.work or []]
        ends = sorted(self.steps[k].gap for k in (0, -1))
        twice = {gap for gap in gaps if gaps.count(gap) > 1}
        first = max(gaps, default=0.0)      # from nothing, where the first row has a force
        if any(gap == first and force > 0 for gap, force in self.tool.work or []):
            twice.add(first)
        return [gap for gap in twice if ends[0] < gap < ends[1]]
