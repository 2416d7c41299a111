"""Work of hand and jaw over a stroke, by integration over the handle's angle; the energy balance.

What the hand puts in goes to the jaw, the springs and friction: the last is added up from what each
contact takes, so that the balance holds the forces and velocities of all parts against each other.
"""

import math

from scipy.integrate import quad
from scipy.optimize import brentq

from sheets import sheets
from toolfile import PinSpring

PRECISE = {"epsabs": 0.0, "epsrel": 1e-9, "limit": 200}


def corners(places):
    """Handle angles at which the work's curve has a corner within the stroke, and both ends."""
    angles = [places.angles[0], places.angles[-1]]
    seen = [s.gap for s in places.steps]
    for gap, _ in places.tool.work or []:
        for a, b, va, vb in zip(places.steps, places.steps[1:], seen, seen[1:]):
            if (va - gap) * (vb - gap) < 0:
                angles.append(brentq(lambda h, g=gap: places.at_angle(h).gap - g,
                                     a.handle, b.handle, xtol=1e-13))
    angles += places.solution.jumps
    return sorted(set(angles), reverse=bool(places.angles[0] > places.angles[-1]))


def per_angle(station):
    """The station's rates per unit of the handle's angle."""
    return station.rates / float(station.link.handle_row() @ station.rates)


def hand_power(station, grip, rates):
    """Of 1 N of hand force: the column of the push does work on all moving parts."""
    return float(columns_power(station, station.push(grip), rates))


def columns_power(station, column, rates):
    """Power of a wrench column: x and y by size (lengths), moments already over size."""
    return column @ rates * station.link.size


def forces_there(station, grip):
    """(joint unknowns, hand force, jaw force): under the work, or at the file's hand force."""
    if station.tool.work is None:
        force = station.tool.hand.force
        z = station.under_hand(grip, force)
        return z, force, None if z is None else z[-1]
    z = station.under_work(grip)
    if z is None:
        return None, None, None
    return z, max(z[-1], 0.0), station.need()


def over(places, density):
    """Integral over the handle's angle from open to shut, piece by piece between corners."""
    marks = corners(places)
    return sum(quad(lambda h: density(places.at_angle(h)), a, b, **PRECISE)[0]
               for a, b in zip(marks, marks[1:]))


def hand_work(places, grip):
    return over(places, lambda s: forces_there(s, grip)[1] * hand_power(s, grip, per_angle(s)))


def jaw_work(places, grip):
    def density(station):
        rates = per_angle(station)
        return forces_there(station, grip)[2] * -columns_power(station, station.load, rates)
    return over(places, density)


def spring_energy(places):
    """Energy that the springs have taken up from open to shut, N mm."""
    total = 0.0
    for spring, free in zip(places.tool.springs, places.solution.free):
        for sign, station in ((-1, places.steps[0]), (1, places.steps[-1])):
            total += sign * spring.rate * stretch(station, spring, free)**2 / 2
    return total


def pawl_work(places):
    """Work that the teeth of a ratchet take while the tool closes, N mm."""
    solution = places.solution
    if solution.teeth is None or solution.opening:
        return 0.0
    first, last, _ = solution.teeth
    return abs(last - first) * places.tool.ratchet.couple


def stretch(station, spring, free):
    """Of a spring at a station, mm or rad; none where it is slack."""
    link, pose = station.link, station.pose
    if isinstance(spring, PinSpring):
        return link.angle(pose, spring.second) - link.angle(pose, spring.first) - free
    (part, a), (other, b) = spring.ends
    way = link.point(pose, other, b) - link.point(pose, part, a)
    length = math.hypot(*way) - free
    slack = (spring.acts == "push" and length > 0) or (spring.acts == "pull" and length < 0)
    return 0.0 if slack else length


def friction_work(places, grip):
    """What all contacts take over the stroke, N mm."""
    return over(places, lambda s: friction_power(s, grip))


def friction_power(station, grip):
    """Loss per unit of the handle's angle, from the sheets: every force times its own velocity.

    A joint's two sides have the same place: what their forces do together is what friction takes.
    """
    z, hand, jaw = forces_there(station, grip)
    rates, total, link = per_angle(station), 0.0, station.link
    spins = link.table(rates)[:, 2]
    for part, given in sheets(station, z, hand, jaw, grip).items():
        for force in given:
            if force.what.startswith(("pin ", "slot ")):
                speed = link.velocity(station.pose, rates, part, force.at)
                total -= force.force @ speed + force.couple * spins[link.index[part]]
    return float(total)
