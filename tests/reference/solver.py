"""A whole stroke, in the layout and units of the program's JSON."""

import copy
import math

import numpy as np

import forces
from motion import Linkage, MotionError
from stations import Places
from toolfile import need
from tracing import Trace, stroke
from units import FORCE, LENGTH


class Solution:
    """The stroke of a tool; `numbers` has one of its positions in full.

    `opening`: the return stroke, at the same positions; `back` gives that of a stroke that is known.
    """

    def __init__(self, tool, opening=False):
        self.tool, self.opening = tool, opening
        self.link = Linkage(tool)
        self.start = self.link.assemble()
        self.trace = Trace(self.link, self.start)
        self.stroke = stroke(self.link, self.trace)
        poses = [pose for pose, _, _ in self.stroke]
        self.signs = forces.square_signs(self.link, poses)
        self.free = forces.free_lengths(self.link, poses[0])
        self.links = forces.two_force_links(tool)
        self.jumps = []      # handle angles at which the pawl meets and leaves the teeth
        self.teeth = self.teeth_on()
        self.per_length = 1 / tool.reader.factor(LENGTH)
        self.per_force = 1 / tool.reader.factor(FORCE)

    def back(self):
        """The same stroke the other way; motion, pushes and springs do not hang on the way."""
        other = copy.copy(self)
        other.opening = not self.opening
        return other

    def teeth_on(self):
        """Where a ratchet drags; the stations that tell it are taken without."""
        self.teeth = None
        ratchet = self.tool.ratchet
        if ratchet is None or not ratchet.couple > 0:
            return None
        places = Places(self)
        try:
            teeth = ratchet.engaged(places)
            ends = [places.where(lambda s, a=a: ratchet.turn(s.bodies) - a) for a in teeth[:2]]
        except MotionError:
            return None     # not on this stroke, as where an adjuster is set too far
        self.jumps = [station.handle for station in ends]
        return teeth

    def given(self, bodies):
        """Column of the springs, and of the pawl as the tool closes."""
        column, drag = bodies.springs(self.free), self.drag(bodies)
        return column if drag == 0 else column + bodies.couple(*self.tool.ratchet.pair, drag)

    def drag(self, bodies):
        """Couple of the pawl on the part with the teeth."""
        if self.teeth is None or self.opening:
            return 0.0
        return self.tool.ratchet.drag(self.teeth, bodies)

    def sign_of(self, grip):
        """The sense of a square push at a grip (mm) that closes the tool."""
        grips = self.tool.hand.grips
        near = int(np.argmin([abs(g - grip) for g in grips]))
        if abs(grips[near] - grip) > 1e-6 * self.link.size:
            raise ValueError(f"no grip at {grip} mm")
        return self.signs[near]

    def numbers(self, k):
        """Position k of the stroke as the program's JSON has it."""
        pose, rates, handle = self.stroke[k]
        tool, link, unit = self.tool, self.link, self.per_length
        pins = {}
        for part in tool.parts.values():
            for pin in part.pins:
                x, y = link.point(pose, part.name, part.points[pin]) * unit
                pins.setdefault(pin, {"x": x, "y": y})
        bodies = forces.Bodies(link, pose, rates, self.opening)
        springs = self.given(bodies)
        return {
            "handle": math.degrees(handle),
            "travel": math.degrees(abs(handle - self.stroke[0][2])),
            "pins": pins,
            "jaws": {j.name: {"gap": link.gap(pose, j) * unit} for j in tool.jaws},
            "grips": [self._grip(pose, rates, bodies, springs, grip, sign)
                      for grip, sign in zip(tool.hand.grips, self.signs)],
        }

    def _grip(self, pose, rates, bodies, springs, grip, sign):
        tool, link = self.tool, self.link
        push = bodies.push(grip, sign)
        span = link.span(pose, grip)
        result = {"at": grip * self.per_length,
                  "span": None if span is None else span * self.per_length,
                  "jaws": {}, "pin_loads": {}, "axial": {}}
        for number, jaw in enumerate(tool.jaws):
            jaws, z = self._jaw(pose, rates, bodies, springs, push, jaw, grip, sign)
            result["jaws"][jaw.name] = jaws
            if number == 0 and z is not None:
                for k, joint in enumerate(tool.joints):
                    load = math.hypot(z[2 * k], z[2 * k + 1])
                    result["pin_loads"][joint.label] = load * self.per_force
                for part, pins in self.links.items():
                    result["axial"][part] = (forces.axial(link, pose, z, part, pins)
                                             * self.per_force)
        return result

    def _jaw(self, pose, rates, bodies, springs, push, jaw, grip, sign):
        numbers = {"ratio": forces.ratio(self.link, pose, rates, jaw, grip, sign),
                   "jaw_force": None, "efficiency": None, "locked": False, "lifts_off": False,
                   "hand_force": None}
        if numbers["ratio"] is None:
            return numbers, None
        load = bodies.work_load(jaw)
        z = self._answer(numbers, bodies, load, springs + push * self.tool.hand.force)
        if self.tool.work is not None and numbers["ratio"] > 0:
            asked = need(self.tool.work, self.link.gap(pose, jaw), self.link.size)
            numbers["hand_force"] = self._hand_force(bodies, push, springs + load * asked)
        return numbers, z

    def _answer(self, numbers, bodies, load, hand):
        """Jaw force for the hand: locked, nothing (held by the springs), or a force."""
        try:
            plain = bodies.solve(load, hand, friction=False)[-1]
        except forces.Locked:
            numbers["locked"] = True
            return None
        if plain <= 0 and not self.opening:
            numbers["jaw_force"] = 0.0
            return None
        try:
            # Opening, friction may hold springs that the hand alone does not.
            z = bodies.solve(load, hand, friction=True, positive=plain > 0)
        except forces.Locked:
            numbers["locked"] = True
            return None
        if plain <= 0 and z[-1] <= 0:
            numbers["jaw_force"] = 0.0
            return None
        if bodies.lifts_off(z):
            numbers["lifts_off"] = True
            return None
        numbers["jaw_force"] = z[-1] * self.per_force
        # Closing, friction takes from the jaw; opening, it takes from the hand.
        numbers["efficiency"] = max(plain, 0.0) / z[-1] if self.opening else z[-1] / plain
        return z

    def _hand_force(self, bodies, push, against):
        """Hand force for the work: none that does it, none needed, or a force."""
        try:
            plain = bodies.solve(push, against, friction=False)[-1]
            # Where the springs do it, friction may still ask for the hand.
            z = bodies.solve(push, against, friction=True, positive=plain > 0)
        except forces.Locked:
            return None
        return None if bodies.lifts_off(z) else max(z[-1], 0.0) * self.per_force
