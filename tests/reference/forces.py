"""Equilibrium of every moving part: one dense system, three equations for each part.

Unknown: two force components at every pin joint (on the later part by the carrier), the normal
force of every slot and the key moment of a keyed one (on the riding part), that of every arc slot,
cam and mesh (`contacts.py`), and last the jaw force (hand given) or the hand force (jaw given). Moments are about the part's origin, divided by
the tool's size, so that every row is a force.

Friction: at a pin the moment r_f |R| against the relative rotation, with r_f = (d/2) sin(atan mu),
the friction circle (common practice in books on machine design); in a slot mu times the normal
forces against the sliding (Coulomb). On the return stroke the parts move with the opposite
velocities, so every friction turns round; pushes, springs and axes do not depend on the direction.

Equations with |R| may have no solution, or one that cannot come about. The one meant is that which
the frictionless equilibrium becomes as all friction grows in proportion from none: it is followed in
steps of that share. The tool locks itself where the force asked for falls to nothing on the way, or
where the equilibrium folds back (the slope matrix turns singular) before all friction is there.
"""

import math

import numpy as np

import contacts
from motion import slot_directions
from toolfile import PinSpring

STILL = 1e-9       # relative rates below this count as no relative motion
FIRST_SHARE = 0.25  # of friction: the first step in which it is brought in from none
LEAST_SHARE = 1e-7  # a step this small that is still too large: the equilibrium goes no further


class Locked(Exception):
    """No equilibrium that friction lets through."""


def edge_forces(normal, moment, width):
    """Normal forces at the two ends (x = +-width/2 along the slot) of a keyed guide.

    N1 + N2 = N and (N1 - N2) width / 2 = M. Without a width the moment has no edge forces.
    """
    if width is None:
        return np.array([normal]), np.array([[1.0, 0.0]])
    slopes = np.array([[0.5, 1 / width], [0.5, -1 / width]])
    return slopes @ [normal, moment], slopes


class LiftsOff(Exception):
    """A cam would have to pull."""


class Bodies:
    """The equilibrium of a tool in one pose, with the stroke's rates (towards shut).

    `opening`: the parts move against these rates.
    """

    def __init__(self, linkage, pose, rates, opening=False):
        self.link, self.pose, self.rates = linkage, pose, rates
        self.tool, self.size = linkage.tool, linkage.size
        self.moves = -rates if opening else rates
        table, speed = linkage.table(pose), linkage.table(self.moves)
        self.origins = table[:, :2] * self.size
        self.turns, self.spins = table[:, 2], speed[:, 2]
        self.rows = 3 * len(linkage.moving)
        self.plain = None, None, None
        self._joints()

    # -- columns -----------------------------------------------------------------------------
    def wrench(self, part, force, place=None, moment=0.0):
        """Column of a force at a place (mm) and a moment on a part; zero on the fixed part."""
        column = np.zeros(self.rows + 3)
        i = self.link.index[part]
        column[3 * i:3 * i + 2] = force
        if place is not None:
            arm = place - self.origins[i]
            moment = moment + arm[0] * force[1] - arm[1] * force[0]
        column[3 * i + 2] = moment / self.size
        return column[:self.rows]

    def pair(self, part, other, force, place):
        """A force on `part` and its opposite on `other`, at one place."""
        return self.wrench(part, force, place) - self.wrench(other, force, place)

    def couple(self, part, other, moment):
        zero = np.zeros(2)
        return (self.wrench(part, zero, moment=moment)
                - self.wrench(other, zero, moment=moment))

    def _joints(self):
        """Columns of all joint forces, and the friction that goes with them."""
        columns, self.friction, self.steady = [], [], []
        turning, couples = [], []
        top = np.max(np.abs(self.moves))
        for number, joint in enumerate(self.tool.joints):
            place = self.link.joint_place(self.pose, number)
            k = len(columns)
            columns += [self.pair(joint.other, joint.carrier, e, place) for e in np.eye(2)]
            rate = (self.spins[self.link.index[joint.other]]
                    - self.spins[self.link.index[joint.carrier]])
            if joint.radius > 0 and abs(rate) > STILL * top:
                moment = -math.copysign(joint.radius, rate)
                turning.append(k)
                couples.append(self.couple(joint.other, joint.carrier, moment))
        # Pins rub alike, so all at once: where their forces stand, and their couples per newton.
        self.turning = np.array(turning, dtype=int)
        self.couples = np.array(couples).reshape(-1, self.rows).T
        self.contacts, self.pushed, self.unknown = contacts.forces(self, STILL * top), [], {}
        rolling = iter(self.contacts)
        for slot in self.tool.slots:
            place = self.link.point(self.pose, slot.part, slot.point)
            along, normal = slot_directions(
                self.turns[self.link.index[slot.on]] + slot.angle)
            k = len(columns)
            columns.append(self.pair(slot.part, slot.on, normal, place))
            if slot.keyed:
                columns.append(self.couple(slot.part, slot.on, 1.0) * self.size)
            if slot.roller is not None:
                self._rubs(k, next(rolling))
                continue
            slide = along @ (self.link.velocity(self.pose, self.moves, slot.part, place)
                             - self.link.velocity(self.pose, self.moves, slot.on, place))
            if slot.friction > 0 and abs(slide) > STILL * top * self.size:
                drag = -math.copysign(slot.friction, slide) * along
                width = slot.width if slot.keyed else None
                self.friction.append(("keyed" if slot.keyed else "slot", k, width,
                                      self.pair(slot.part, slot.on, drag, place)))
        for contact in rolling:
            k = self.unknown[contact.what] = len(columns)
            columns.append(self.pair(contact.part, contact.other, contact.normal, contact.at))
            self._rubs(k, contact)
            if contact.only_pushes:
                self.pushed.append(k)
            if contact.steady is not None:
                self.steady.append((k, self.pair(contact.part, contact.other, contact.steady,
                                                 contact.at)))
        self.joint_columns = np.array(columns).T

    def _rubs(self, k, contact):
        """Friction wrenches of a contact for N = 1 and N = -1."""
        by_sign = {sign: self.pair(contact.part, contact.other, *drag)
                   for sign, drag in contact.rubs.items()}
        by_sign |= {sign: self.couple(contact.part, contact.other, moment)
                    for sign, moment in contact.shift.items()}
        if by_sign:
            self.friction.append(("contact", k, None, by_sign))

    def apart(self, z):
        """What presses gears apart, with or without friction, and its derivatives."""
        if not self.steady:
            return 0.0, 0.0
        total, slope = np.zeros(self.rows), np.zeros((self.rows, len(z)))
        for k, column in self.steady:
            total += column * abs(z[k])
            slope[:, k] += column * np.sign(z[k])
        return total, slope

    def lifts_off(self, z):
        """A contact that only pushes would have to pull."""
        return any(z[k] < 0 for k in self.pushed)

    def rub(self, z):
        """Friction wrenches for the unknowns z, and their derivatives."""
        k = self.turning
        size = np.hypot(z[k], z[k + 1])
        total = self.couples @ size
        slope = np.zeros((self.rows, len(z)))
        size[size == 0] = np.inf
        slope[:, k] = self.couples * (z[k] / size)
        slope[:, k + 1] = self.couples * (z[k + 1] / size)
        for kind, k, width, column in self.friction:
            if kind == "contact":
                sign = 1 if z[k] >= 0 else -1
                if sign in column:
                    total += column[sign] * abs(z[k])
                    slope[:, k] += column[sign] * sign
            elif kind == "slot":
                total += column * abs(z[k])
                slope[:, k] += column * np.sign(z[k])
            else:
                # z holds the key moment divided by the tool's size.
                edges, slopes = edge_forces(z[k], z[k + 1] * self.size, width)
                total += column * np.abs(edges).sum()
                by = np.sign(edges) @ slopes * [1.0, self.size]
                slope[:, k:k + 2] += np.outer(column, by)
        return total, slope

    # -- loads -------------------------------------------------------------------------------
    def push(self, grip, square_sign):
        """Column of a unit hand force."""
        hand = self.tool.hand
        here, there = self.link.facing(self.pose, grip)
        if hand.push == "across":
            u = (there - here) / np.hypot(*(there - here))
            return self.wrench(hand.part, u, here) - self.wrench(hand.against, u, there)
        u = push_direction(self.link, self.pose, grip, square_sign)
        push = self.wrench(hand.part, u, here)
        # A force may slide along its line: what the palm takes turns nothing that the push does not.
        return push if hand.palm is None else push - self.wrench(hand.palm, u, here)

    def work_load(self, jaw):
        """Column of a unit jaw force: pushes `on` along +axis, `against` back, at the tip."""
        _, tip = self.link.between(self.pose, jaw)
        return self.pair(jaw.on, jaw.against, self.link.axis(self.pose, jaw, self.rates), tip)

    def springs(self, free_lengths):
        total = np.zeros(self.rows)
        for spring, free in zip(self.tool.springs, free_lengths):
            if isinstance(spring, PinSpring):
                turn = (self.turns[self.link.index[spring.second]]
                        - self.turns[self.link.index[spring.first]] - free)
                total += self.couple(spring.second, spring.first, -spring.rate * turn)
                continue
            (part, a), (other, b) = spring.ends
            start, end = self.link.point(self.pose, part, a), self.link.point(self.pose, other, b)
            length = np.hypot(*(end - start))
            pull = spring.rate * (length - free)
            if (spring.acts == "push" and pull > 0) or (spring.acts == "pull" and pull < 0):
                continue
            u = (end - start) / length
            total += self.wrench(part, pull * u, start) - self.wrench(other, pull * u, end)
        return total

    # -- solutions ---------------------------------------------------------------------------
    def solve(self, unknown, loads, friction, positive=False):
        """All joint unknowns and, last, the factor of the column `unknown`.

        Raises `Locked` when friction leaves no solution; with `positive` also when the factor
        falls to nothing as friction grows.
        """
        # Asked for without friction first and then with it: found once.
        if self.plain[0] is not unknown or self.plain[1] is not loads:
            self.plain = unknown, loads, self._without_friction(unknown, loads)
        matrix, z, scale = self.plain[2]
        if not friction or not (self.friction or len(self.turning)):
            return z
        return self._follow(matrix, loads, z, scale, positive)

    def _without_friction(self, unknown, loads):
        """The matrix of the equilibrium, its unknowns without friction, and their size."""
        matrix = np.column_stack([self.joint_columns, unknown])
        z = np.linalg.lstsq(matrix, -loads, rcond=None)[0]
        scale = max(np.max(np.abs(z)), np.max(np.abs(loads)), 1e-12)
        if np.max(np.abs(matrix @ z + loads)) > 1e-9 * scale:
            raise Locked("no equilibrium without friction (a toggle or a dead position)")
        if self.steady:
            z = self._newton(matrix, loads, 0.0, z, scale)
            if z is None:
                raise Locked("no equilibrium without friction")
        return matrix, z, scale

    def _follow(self, matrix, loads, z, scale, positive):
        """From the frictionless z along growing friction to all of it."""
        square = matrix.shape[0] == matrix.shape[1]

        def at(x, share):
            """The slope matrix, on which side of a fold it is, and the way along the curve."""
            rub, slopes = self.rub(x)
            slope = matrix + self.apart(x)[1] + share * slopes
            # d(residual)/d(share) = rub(x).
            return np.linalg.slogdet(slope)[0] if square else 1.0, lambda: solved(slope, rub)

        share, step = 0.0, FIRST_SHARE
        begun, lean = at(z, 0.0)
        while share < 1.0:
            ahead = min(1.0, share + step)
            found = self._newton(matrix, loads, ahead, z - (ahead - share) * lean(), scale)
            if found is not None:
                side, onward = at(found, ahead)
            if found is not None and side == begun and (not positive or found[-1] > 0):
                z, share, step, lean = found, ahead, 1.5 * step, onward
                continue
            step /= 2
            if step < LEAST_SHARE:
                raise Locked(f"friction lets nothing through beyond {share:.6f} of it")
        return z

    def _newton(self, matrix, loads, share, x, scale, limit=12):
        """The equilibrium near x with this share of the friction; None where there is none."""
        for _ in range(limit):
            rub, slopes = self.rub(x)
            apart, spread = self.apart(x)
            residual = matrix @ x + loads + apart + share * rub
            worst = np.abs(residual).max() / scale
            if not worst < 1e6:
                return None
            try:
                x = x - solved(matrix + spread + share * slopes, residual)
            except np.linalg.LinAlgError:
                return None
            if worst < 1e-12:
                return x        # and one step further than asked
        return None


def solved(matrix, right):
    """x of matrix x = right; of redundant bars the shortest, and where bars fold the nearest."""
    if matrix.shape[0] == matrix.shape[1]:
        try:
            return np.linalg.solve(matrix, right)
        except np.linalg.LinAlgError:
            pass
    return np.linalg.lstsq(matrix, right, rcond=None)[0]


def push_direction(link, pose, grip, square_sign):
    """Unit direction of a hand force that acts on the handle alone."""
    hand = link.tool.hand
    if hand.push == "square":
        tangent = hand.line.at(grip)[1]
        angle = link.angle(pose, hand.part)
        c, s = math.cos(angle), math.sin(angle)
        return square_sign * np.array([-s * tangent[0] - c * tangent[1],
                                       c * tangent[0] - s * tangent[1]])
    return np.array([math.cos(hand.push), math.sin(hand.push)])


def square_signs(link, poses):
    """For each grip the sense of a square push that does positive work over the stroke."""
    signs = []
    for grip in link.tool.hand.grips:
        work = 0.0
        if link.tool.hand.push == "square":
            for p, q in zip(poses, poses[1:]):
                mean = (push_direction(link, p, grip, 1.0) + push_direction(link, q, grip, 1.0)) / 2
                work += mean @ _way(link, p, q, grip)
        signs.append(1.0 if work >= 0 else -1.0)
    return signs


def _way(link, pose, then, grip):
    """Way of the grip between two poses, as the part in the palm sees it."""
    here, there = link.facing(pose, grip)[0], link.facing(then, grip)[0]
    palm = link.tool.hand.palm
    if palm is not None:
        origin, turn = (link.point(pose, palm, np.zeros(2)), link.angle(pose, palm))
        back = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
        here = link.point(then, palm, back @ (here - origin))
    return there - here


def ratio(link, pose, rates, jaw, grip, square_sign):
    """Hand power over closing rate at unit hand force, from the velocities; None at a toggle."""
    hand = link.tool.hand
    here, there = link.facing(pose, grip)
    if hand.push == "across":
        u = (there - here) / np.hypot(*(there - here))
        speed = (link.velocity(pose, rates, hand.part, here)
                 - link.velocity(pose, rates, hand.against, there))
    else:
        u = push_direction(link, pose, grip, square_sign)
        speed = link.velocity(pose, rates, hand.part, here)
        if hand.palm is not None:
            speed = speed - link.velocity(pose, rates, hand.palm, here)
    _, tip = link.between(pose, jaw)
    closing = -link.axis(pose, jaw, rates) @ (
        link.velocity(pose, rates, jaw.on, tip) - link.velocity(pose, rates, jaw.against, tip))
    if abs(closing) < 1e-9 * link.size:
        return None
    return float(u @ speed / closing)


def free_lengths(link, open_pose):
    """Free length (or angle) of every spring, preloads taken at the open pose."""
    free = []
    for spring in link.tool.springs:
        if isinstance(spring, PinSpring) or spring.free is not None:
            free.append(spring.free)
            continue
        a, b = (link.point(open_pose, part, p) for part, p in spring.ends)
        sense = -1.0 if spring.acts == "pull" else 1.0
        free.append(np.hypot(*(b - a)) + sense * spring.preload / spring.rate)
    return free


def two_force_links(tool):
    """Moving parts loaded at two pins only, with those pins."""
    busy = {s.part for s in tool.slots + tool.arcs} | {s.on for s in tool.slots + tool.arcs}
    busy |= {part for g in tool.gears for part in g.parts}
    busy |= {c.part for c in tool.cams} | {c.other for c in tool.cams}
    busy |= {j.on for j in tool.jaws} | {j.against for j in tool.jaws}
    busy |= {tool.hand.part, tool.hand.against, tool.hand.palm}
    for spring in tool.springs:
        busy |= ({spring.first, spring.second} if isinstance(spring, PinSpring)
                 else {part for part, _ in spring.ends})
    links = {}
    for part in tool.parts.values():
        pins = [p for p in part.pins if len(tool.pins_of(p)) > 1]
        if not part.fixed and part.name not in busy and len(pins) == 2:
            links[part.name] = pins
    return links


def axial(link, pose, z, part, pins):
    """Tension of a two-pin link: the force at its first pin along the line from second to first."""
    tool = link.tool
    force = np.zeros(2)
    for k, joint in enumerate(tool.joints):
        if joint.pin == pins[0]:
            if joint.other == part:
                force += z[2 * k:2 * k + 2]
            elif joint.carrier == part:
                force -= z[2 * k:2 * k + 2]
    a, b = (link.point(pose, part, tool.parts[part].points[p]) for p in pins)
    return float(force @ (a - b) / np.hypot(*(a - b)))
