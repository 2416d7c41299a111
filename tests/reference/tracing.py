"""The way of a linkage from its sketch position, both ways, and the stroke on it."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from motion import CONTACT, MotionError, wrap

STEP = 0.05              # longest step along the curve of poses
TRACE_LENGTH = 40.0      # the most that is traced from the sketch either way


@dataclass
class Node:
    s: float
    pose: np.ndarray
    t: np.ndarray        # towards growing s


class Trace:
    """The poses on the way from an assembled pose, both ways."""

    def __init__(self, linkage, start, length=TRACE_LENGTH):
        self.linkage = linkage
        t, stiffness = linkage.tangent(start)
        if stiffness < 1e-9:
            raise MotionError("more than one freedom at the sketch position")
        first = Node(0.0, start, t)
        self.ends = {}
        ahead = self._run(first, 1, length)
        behind = self._run(first, -1, length)
        self.nodes = behind[::-1] + [first] + ahead

    def _run(self, first, way, length):
        link, nodes = self.linkage, []
        here, t, s, step = first.pose, way * first.t, 0.0, STEP / 4
        start_handle = link.handle(here) if link.tool.hand else 0.0
        while s < length:
            guess = here + step * t
            goal = t @ guess
            there = link.solve(guess, lambda z: (t @ z - goal, t), limit=5)
            if there is not None:
                new_t, stiffness = link.tangent(there, t)
            if there is None or new_t @ t < 0.995 or stiffness < 1e-7:
                step /= 2
                if step < 1e-7:
                    self.ends[way] = "stuck"
                    return nodes
                continue
            here, t, s = there, new_t, s + step
            nodes.append(Node(way * s, here, way * t))
            step = min(STEP, 1.5 * step)
            if s > 0.5 and self._back(first.pose, here):
                self.ends[way] = "closed"
                return nodes
            if link.tool.hand and abs(link.handle(here) - start_handle) > 2 * math.pi:
                break
        self.ends[way] = "limit"
        return nodes

    @staticmethod
    def _back(first, here):
        a, b = first.reshape(-1, 3), here.reshape(-1, 3)
        shift = np.abs(a[:, :2] - b[:, :2]).max()
        turn = max(abs(wrap(x)) for x in a[:, 2] - b[:, 2])
        return max(shift, turn) < STEP / 2

    def between(self, a, b, share):
        """The node at a share of the way from node a to node b (a sub-step of the trace)."""
        link = self.linkage
        chord = b.pose - a.pose
        guess = a.pose + share * chord
        goal = chord @ guess
        pose = link.solve(guess, lambda z: (chord @ z - goal, chord))
        if pose is None:
            raise MotionError("a pose between two neighbouring poses does not close")
        return Node(a.s + share * (b.s - a.s), pose, link.tangent(pose, a.t)[0])

    def crossings(self, value):
        """Nodes where value(node) passes through zero."""
        found, last = [], None
        values = [value(n) for n in self.nodes]
        for a, b, va, vb in zip(self.nodes, self.nodes[1:], values, values[1:]):
            if va == 0.0 or va * vb < 0:
                hit = a
                if va != 0.0:
                    share = brentq(lambda x: value(self.between(a, b, x)), 0, 1, xtol=1e-15)
                    hit = self.between(a, b, share)
                if last is None or hit.s - last > 1e-9:
                    found.append(hit)
                    last = hit.s
        return found

    def turning(self, jaw):
        """Toggles of a jaw, and its contacts (default axis: the two points meet)."""
        link = self.linkage
        toggles, contacts = [], []
        for node in self.crossings(lambda n: link.opening_rate(n.pose, n.t, jaw)):
            meet = jaw.axis is None and np.hypot(*link.between(node.pose, jaw)[0])
            (contacts if jaw.axis is None and meet < CONTACT * link.size
             else toggles).append(node)
        return toggles, contacts

    def hits(self, target, contacts):
        """Nodes that meet a stroke target."""
        link, tool = self.linkage, self.linkage.tool
        if target.kind == "handle":
            # Modulo full turns: the nearest to the sketch is chosen later.
            angles = [link.handle(n.pose) - target.value for n in self.nodes]
            low, high = min(angles) / (2 * math.pi), max(angles) / (2 * math.pi)
            return [hit for turn in range(math.floor(low), math.ceil(high) + 1)
                    for hit in self.crossings(lambda n, goal=target.value + 2 * math.pi * turn:
                                              link.handle(n.pose) - goal)]
        if target.kind == "span":
            grip = tool.hand.grips[0] if target.grip is None else target.grip
            return self.crossings(lambda n: link.span(n.pose, grip) - target.value)
        jaw = target.stop or tool.jaws[0]
        found = self.crossings(lambda n: link.gap(n.pose, jaw) - target.value)
        if jaw.axis is None and abs(target.value + jaw.closed) < CONTACT * link.size:
            found += [c for c in contacts if all(abs(c.s - f.s) > 1e-6 for f in found)]
        return found


def choose_pair(opens, shuts, toggles):
    """The open/shut pair nearest the sketch with no toggle between, and whether one lies there."""
    best = None
    for o in opens:
        for s in shuts:
            low, high = sorted((o.s, s.s))
            past = any(low + 1e-9 < t.s < high - 1e-9 for t in toggles)
            rank = (past, abs(o.s) + abs(s.s))
            if high - low > 1e-9 and (best is None or rank < best[0]):
                best = (rank, o, s)
    if best is None:
        return None
    return best[1], best[2], best[0][0]


def stroke(linkage, trace):
    """The poses of the stroke, equal in handle travel, as (pose, closing rates, handle angle)."""
    tool = linkage.tool
    toggles, contacts = trace.turning(tool.jaws[0])
    opens, shuts = trace.hits(tool.open, contacts), trace.hits(tool.shut, contacts)
    for name, found in (("open", opens), ("shut", shuts)):
        if not found:
            raise MotionError(f"the {name} target is out of reach")
    pair = choose_pair(opens, shuts, toggles)
    if pair is None:
        raise MotionError("open and shut are the same position")
    start, end, _ = pair
    way = 1.0 if end.s > start.s else -1.0
    inside = [n for n in trace.nodes if min(start.s, end.s) + 1e-12 < n.s
              < max(start.s, end.s) - 1e-12]
    nodes = [start] + inside[::int(way)] + [end]
    angles = np.array([linkage.handle(n.pose) for n in nodes])
    turn = np.diff(angles)
    if np.ptp(angles) < 1e-9:
        raise MotionError("the handle does not turn: not handled here")
    if not (np.all(turn > 0) or np.all(turn < 0)):
        raise MotionError("the handle turns back within the stroke: not handled here")
    row = linkage.handle_row()
    positions = []
    for k in range(tool.steps + 1):
        goal = angles[0] + (angles[-1] - angles[0]) * k / tool.steps
        if k in (0, tool.steps):
            pose, like = nodes[-(k > 0)].pose, nodes[-(k > 0)].t
        else:
            i = int(np.searchsorted(np.sign(turn[0]) * angles, np.sign(turn[0]) * goal)) - 1
            i = min(max(i, 0), len(turn) - 1)
            share = (goal - angles[i]) / turn[i]
            guess = nodes[i].pose + share * (nodes[i + 1].pose - nodes[i].pose)
            pose = linkage.solve(guess, lambda z: (row @ z + goal_offset(linkage) - goal, row))
            like = nodes[i].t
            if pose is None or np.max(np.abs(pose - guess)) > 2 * STEP:
                raise MotionError("a pose of the stroke does not close")
        t, _ = linkage.tangent(pose, like)
        positions.append((pose, way * t, linkage.handle(pose)))
    shift = wrap(angles[0]) - angles[0]
    return [(pose, t, handle + shift) for pose, t, handle in positions]


def goal_offset(linkage):
    """The constant part of the handle angle: the chord's angle in its part."""
    return linkage.tool.hand.line.chord_angle
