"""Where every part is: x, y and theta of every moving part, all joint equations at once.

A pose is an array with a row (x / size, y / size, theta) for every moving part, flattened, so
that its entries are of one order; `size` is the extent of the tool in mm.
"""

import math

import numpy as np
from scipy.optimize import least_squares

from contacts import Rows
from toolfile import rigid_fit, rotation

CLOSED = 1e-12           # of the tool's size: residual of a pose that counts as closed
CONTACT = 1e-8           # of the tool's size: two jaw points this near are in contact


class MotionError(ValueError):
    """The linkage cannot do what is asked."""


def wrap(angle):
    """The same angle in [-pi, pi]."""
    return math.remainder(angle, 2 * math.pi)


class Linkage:
    """The joint equations of a tool."""

    def __init__(self, tool):
        self.tool = tool
        self.moving = [p.name for p in tool.parts.values() if not p.fixed]
        self.index = {name: i for i, name in enumerate(self.moving)}
        self.index[tool.fixed] = len(self.moving)
        self.size = self._size()
        joints = tool.joints
        self.first = np.array([self.index[j.carrier] for j in joints], dtype=int)
        self.second = np.array([self.index[j.other] for j in joints], dtype=int)

        def local(part, pin):
            return tool.parts[part].points[pin] / self.size

        self.first_local = np.array([local(j.carrier, j.pin) for j in joints]).reshape(-1, 2)
        self.second_local = np.array([local(j.other, j.pin) for j in joints]).reshape(-1, 2)
        self.contacts = Rows(self)
        self.rows = (2 * len(joints) + sum(2 if s.keyed else 1 for s in tool.slots)
                     + self.contacts.count)
        self.count = 3 * len(self.moving)
        # Derivatives of the joints' equations by x and y are the same in every pose.
        self.by_places = np.zeros((self.rows, self.count + 3))
        self.x_rows = 2 * np.arange(len(joints))
        for parts, sign in ((self.first, 1.0), (self.second, -1.0)):
            self.by_places[self.x_rows, 3 * parts] = sign
            self.by_places[self.x_rows + 1, 3 * parts + 1] = sign

    def _size(self):
        """Largest distance between two points of one part, over all parts, in mm."""
        size = 0.0
        for part in self.tool.parts.values():
            points = np.array(list(part.points.values()))
            for p in points:
                size = max(size, float(np.max(np.hypot(*(points - p).T))))
        return size or 1.0

    # -- points ------------------------------------------------------------------------------
    def table(self, pose):
        """Rows x/size, y/size, theta for the moving parts, then the fixed part."""
        table = np.zeros(self.count + 3)
        table[:self.count] = pose
        return table.reshape(-1, 3)

    def row(self, pose, part):
        """x/size, y/size, theta of one part, as plain numbers."""
        k = 3 * self.index[part]
        return pose[k:k + 3].tolist() if k < self.count else (0.0, 0.0, 0.0)

    def angle(self, pose, part):
        return self.row(pose, part)[2]

    def point(self, pose, part, local):
        """Place in mm, fixed part's axes, of a point (mm) given in a part's axes."""
        x, y, theta = self.row(pose, part)
        c, s = math.cos(theta), math.sin(theta)
        a, b = float(local[0]), float(local[1])
        return np.array([x * self.size + c * a - s * b, y * self.size + s * a + c * b])

    def joint_place(self, pose, k):
        """Place in mm of pin joint k, on its carrier."""
        joint = self.tool.joints[k]
        return self.point(pose, joint.carrier, self.tool.parts[joint.carrier].points[joint.pin])

    def velocity(self, pose, rates, part, place):
        """Velocity (mm per unit rate) of the point of `part` that is at `place` (mm)."""
        x, y, _ = self.row(pose, part)
        vx, vy, omega = self.row(rates, part)
        a, b = float(place[0]) - x * self.size, float(place[1]) - y * self.size
        return np.array([vx * self.size - omega * b, vy * self.size + omega * a])

    # -- joint equations ---------------------------------------------------------------------
    def equations(self, pose):
        """Residuals of all joints (lengths by size, angles in rad) and their derivatives."""
        table = self.table(pose)
        cos, sin = np.cos(table[:, 2]), np.sin(table[:, 2])

        def arms(parts, local):
            c, s = cos[parts], sin[parts]
            arm = np.empty(local.shape)
            arm[:, 0] = c * local[:, 0] - s * local[:, 1]
            arm[:, 1] = s * local[:, 0] + c * local[:, 1]
            return arm

        residual = np.zeros(self.rows)
        slope = self.by_places.copy()
        pins = len(self.first)
        if pins:
            a = arms(self.first, self.first_local)
            b = arms(self.second, self.second_local)
            gap = table[self.first, :2] + a - table[self.second, :2] - b
            residual[:2 * pins] = gap.ravel()
            for parts, arm, sign in ((self.first, a, 1.0), (self.second, b, -1.0)):
                slope[self.x_rows, 3 * parts + 2] = -sign * arm[:, 1]
                slope[self.x_rows + 1, 3 * parts + 2] = sign * arm[:, 0]
        row = 2 * pins
        for slot in self.tool.slots:
            rider, on = self.index[slot.part], self.index[slot.on]
            arm = rotation(table[rider, 2]) @ slot.point / self.size
            base = rotation(table[on, 2]) @ slot.through / self.size
            along, normal = slot_directions(table[on, 2] + slot.angle)
            rest = table[rider, :2] + arm - table[on, :2] - base
            residual[row] = normal @ rest
            slope[row, 3 * rider:3 * rider + 2] = normal
            slope[row, 3 * rider + 2] = normal @ [-arm[1], arm[0]]
            slope[row, 3 * on:3 * on + 2] -= normal
            slope[row, 3 * on + 2] -= normal @ [-base[1], base[0]] + along @ rest
            row += 1
            if slot.keyed:
                residual[row] = wrap(table[rider, 2] - table[on, 2] - slot.turn)
                slope[row, 3 * rider + 2] = 1.0
                slope[row, 3 * on + 2] -= 1.0
                row += 1
        if self.contacts.count:
            residual[row:], slope[row:] = self.contacts.equations(table)
        return residual, slope[:, :self.count]

    def solve(self, pose, extra=None, limit=12):
        """Newton from `pose` on the joint equations and one more row; least step. None if it fails.

        `extra(pose)` gives the further residual and its row of derivatives.
        """
        pose = np.array(pose, dtype=float)
        for _ in range(limit):
            residual, slope = self.equations(pose)
            if extra is not None:
                more, row = extra(pose)
                residual, slope = np.concatenate((residual, (more,))), np.concatenate((slope, (row,)))
            worst = np.abs(residual).max(initial=0.0)
            if not worst < 1e3:
                return None
            if slope.shape[0] == slope.shape[1]:
                try:
                    step = np.linalg.solve(slope, residual)
                except np.linalg.LinAlgError:
                    return None
            else:
                step = np.linalg.lstsq(slope, residual, rcond=None)[0]
            pose -= step
            if worst < CLOSED:
                return pose     # and one step further than asked
        return None

    # -- assembly ----------------------------------------------------------------------------
    def assemble(self):
        """The pose nearest the sketch (or as drawn in place) that closes."""
        start = self._rough()
        if np.max(np.abs(self.equations(start)[0]), initial=0.0) > 1e-9:
            # A weak pull towards the sketch picks the nearest of the poses.
            pull = 1e-3
            near = least_squares(
                lambda z: np.append(self.equations(z)[0], pull * (z - start)), start,
                lambda z: np.vstack([self.equations(z)[1], pull * np.eye(self.count)]),
                xtol=1e-15, ftol=1e-15, gtol=1e-15)
            start = near.x
        pose = self.solve(start, limit=50)
        if pose is None:
            raise MotionError("the parts do not go together near the sketch")
        return pose

    def _rough(self):
        """Part by part from the sketch, nearest known points first."""
        tool = self.tool
        places = dict(tool.places)
        poses = {tool.fixed: (0.0, np.zeros(2))}
        waiting = []
        for name in self.moving:
            part = tool.parts[name]
            if part.in_sketch_axes or (tool.drawn_in_place and self._agrees(part, places)):
                poses[name] = (0.0, np.zeros(2))
            else:
                waiting.append(part)
        while waiting:
            waiting.sort(key=lambda p: -sum(n in places for n in p.points))
            part = waiting.pop(0)
            turn, shift = self._pose_by(part, places, poses)
            poses[part.name] = (turn, shift)
            for pin in part.pins:
                places.setdefault(pin, shift + rotation(turn) @ part.points[pin])
        rows = [[*(poses[n][1] / self.size), poses[n][0]] for n in self.moving]
        return np.array(rows).ravel()

    def _agrees(self, part, places):
        return len(part.pins) > 0 and all(
            pin in places and np.hypot(*(part.points[pin] - places[pin])) < 1e-6 * self.size
            for pin in part.pins)

    def _pose_by(self, part, places, poses):
        known = [n for n in part.points if n in places]
        for slot in self.tool.slots:
            if slot.keyed and slot.part == part.name and slot.on in poses:
                turn = poses[slot.on][0] + slot.turn
                own = np.array([part.points[n] for n in known]).reshape(-1, 2)
                seen = np.array([places[n] for n in known]).reshape(-1, 2)
                if not known:
                    own, seen = np.array([slot.point]), np.array([slot.through])
                return turn, (seen - own @ rotation(turn).T).mean(axis=0)
        if len(known) > 1:
            return rigid_fit([part.points[n] for n in known], [places[n] for n in known])
        if known:
            return 0.0, places[known[0]] - part.points[known[0]]
        return 0.0, np.zeros(2)

    # -- measures of a pose ------------------------------------------------------------------
    def handle(self, pose):
        """Angle of the hand line's chord, rad, not wrapped."""
        hand = self.tool.hand
        angle = self.angle(pose, hand.part) + hand.line.chord_angle
        if hand.against is not None:
            angle -= self.angle(pose, hand.against)
        return angle

    def handle_row(self):
        """Derivatives of the handle angle."""
        hand, row = self.tool.hand, np.zeros(self.count + 3)
        row[3 * self.index[hand.part] + 2] += 1.0
        if hand.against is not None:
            row[3 * self.index[hand.against] + 2] -= 1.0
        return row[:self.count]

    def facing(self, pose, grip):
        """The grip point and the facing point of the other handle (or None), mm."""
        hand = self.tool.hand
        here = self.point(pose, hand.part, hand.line.at(grip)[0])
        if hand.against is None:
            return here, None
        return here, self.point(pose, hand.against, hand.against_line.at(grip)[0])

    def span(self, pose, grip):
        here, there = self.facing(pose, grip)
        return None if there is None else np.hypot(*(here - there)) + self.tool.hand.thickness

    def between(self, pose, jaw):
        """Vector from the `against` point to the `on` point of a jaw, and the `on` point, mm."""
        tip = self.point(pose, jaw.on, jaw.on_point)
        return tip - self.point(pose, jaw.against, jaw.against_point), tip

    def axis(self, pose, jaw, closing=None):
        """Opening direction of a jaw; at contact by the closing rates from the open side."""
        if jaw.axis is not None:
            turn = jaw.axis + self.angle(pose, jaw.against)
            return np.array([math.cos(turn), math.sin(turn)])
        apart, tip = self.between(pose, jaw)
        if np.hypot(*apart) > CONTACT * self.size:
            return apart / np.hypot(*apart)
        if closing is None:
            return np.zeros(2)
        speed = (self.velocity(pose, closing, jaw.on, tip)
                 - self.velocity(pose, closing, jaw.against, tip))
        return -speed / np.hypot(*speed)

    def gap(self, pose, jaw):
        apart, _ = self.between(pose, jaw)
        if jaw.axis is None:
            return np.hypot(*apart) - jaw.closed
        return apart @ self.axis(pose, jaw) - jaw.closed

    def opening_rate(self, pose, rates, jaw):
        """d gap by the given rates; for a default axis times the point distance (smooth at 0)."""
        apart, tip = self.between(pose, jaw)
        speed = (self.velocity(pose, rates, jaw.on, tip)
                 - self.velocity(pose, rates, jaw.against, tip))
        return float(speed @ (apart if jaw.axis is None else self.axis(pose, jaw)))

    def tangent(self, pose, like=None):
        """Unit rates along the one motion, and the least of the other singular values."""
        _, slope = self.equations(pose)
        _, values, vectors = np.linalg.svd(slope)
        t = vectors[-1]
        if like is not None and t @ like < 0:
            t = -t
        # Of `count` coordinates one moves: the rank must be count - 1.
        full = np.zeros(self.count)
        full[:min(len(values), self.count)] = values[:self.count]
        return t, full[self.count - 2]


def slot_directions(angle):
    """Along the slot and its normal, for the slot's angle in the fixed part's axes."""
    along = np.array([math.cos(angle), math.sin(angle)])
    return along, np.array([-along[1], along[0]])
