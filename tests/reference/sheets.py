"""Free-body sheets: every force on every part, in the tool's axes, from the solved unknowns."""

import math
from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from forces import STILL, edge_forces, push_direction
from motion import slot_directions
from palm import reaction
from toolfile import PinSpring


@dataclass
class Force:
    what: str
    at: np.ndarray       # mm
    force: np.ndarray    # N
    couple: float        # N mm
    pin: str | None = None

    def moment(self, about):
        arm = self.at - about
        return arm[0] * self.force[1] - arm[1] * self.force[0] + self.couple


def sheets(station, z, hand_force, jaw_force, grip, springs=True, friction=True):
    """{part: [Force, ...]} for the joint unknowns `z` (see `forces.Bodies.solve`)."""
    body, tool, link, pose = station.bodies, station.tool, station.link, station.pose
    found = defaultdict(list)
    top = np.max(np.abs(body.moves))

    def pair(what, part, other, at, force, couple=0.0, pin=None):
        found[part].append(Force(what, at, np.array(force), couple, pin))
        found[other].append(Force(what, at, -np.array(force), -couple, pin))

    k = 0
    for joint in tool.joints:
        at = link.point(pose, joint.carrier, tool.parts[joint.carrier].points[joint.pin])
        force = z[k:k + 2]
        rate = body.spins[link.index[joint.other]] - body.spins[link.index[joint.carrier]]
        couple = 0.0
        if friction and joint.radius > 0 and abs(rate) > STILL * top:
            couple = -math.copysign(joint.radius, rate) * math.hypot(*force)
        pair(f"pin {joint.label}", joint.other, joint.carrier, at, force, couple, joint.pin)
        k += 2
    contacts = iter(body.contacts)
    for slot in tool.slots:
        at = link.point(pose, slot.part, slot.point)
        along, normal = slot_directions(body.turns[link.index[slot.on]] + slot.angle)
        if slot.roller is not None:
            force, couple = next(contacts).total(z[k], friction)
            rider = _name(tool, slot.part, slot.point)
            pair(f"slot of {rider}", slot.part, slot.on, at, force, couple, rider)
            k += 1
            continue
        force, couple = z[k] * normal, 0.0
        press = abs(z[k])
        if slot.keyed:
            couple = z[k + 1] * link.size
            press = np.abs(edge_forces(z[k], couple, slot.width)[0]).sum()
        slide = along @ (link.velocity(pose, body.moves, slot.part, at)
                         - link.velocity(pose, body.moves, slot.on, at))
        if friction and abs(slide) > STILL * top * link.size:
            force = force - math.copysign(slot.friction, slide) * press * along
        pair(f"slot of {_name(tool, slot.part, slot.point)}", slot.part, slot.on, at, force, couple)
        k += 2 if slot.keyed else 1
    for contact in contacts:
        force, couple = contact.total(z[k], friction)
        pin = None if contact.pin is None else _name(tool, contact.part, contact.pin)
        pair(contact.what, contact.part, contact.other, contact.at, force, couple, pin)
        if contact.rim is not None:
            # The cam is touched at its rim, a roller's radius off the pin on which its part takes the same force.
            last = found[contact.other][-1]
            last.couple = last.moment(contact.rim)
            last.at = contact.rim
        k += 1
    if springs:
        for number, (spring, free) in enumerate(zip(tool.springs, station.solution.free), 1):
            _spring(found, pair, station, spring, free, f"spring {number}")
        drag = station.solution.drag(station.bodies)
        if drag != 0:
            first, other = tool.ratchet.pair
            pin = next(p for p in tool.parts[first].pins if p in tool.parts[other].pins)
            at = link.point(pose, first, tool.parts[first].points[pin])
            pair("pawl", first, other, at, np.zeros(2), drag)
    _hand(found, station, hand_force, grip)
    _, tip = link.between(pose, station.jaw)
    axis = link.axis(pose, station.jaw, station.rates)
    pair(f"work at {station.jaw.name}", station.jaw.on, station.jaw.against, tip,
         jaw_force * axis)
    return dict(found)


def _name(tool, part, point):
    """Name of a point of a part."""
    return next(n for n, p in tool.parts[part].points.items() if np.allclose(p, point))


def _spring(found, pair, station, spring, free, what):
    link, pose, body = station.link, station.pose, station.bodies
    if isinstance(spring, PinSpring):
        turn = (body.turns[link.index[spring.second]]
                - body.turns[link.index[spring.first]] - free)
        pin = next(p for p in station.tool.parts[spring.first].pins
                   if p in station.tool.parts[spring.second].pins)
        at = link.point(pose, spring.first, station.tool.parts[spring.first].points[pin])
        pair(what, spring.second, spring.first, at, np.zeros(2), -spring.rate * turn)
        return
    (part, a), (other, b) = spring.ends
    start, end = link.point(pose, part, a), link.point(pose, other, b)
    length = math.hypot(*(end - start))
    pull = spring.rate * (length - free)
    if (spring.acts == "push" and pull > 0) or (spring.acts == "pull" and pull < 0):
        return
    force = pull * (end - start) / length
    found[part].append(Force(what, start, force, 0.0))
    found[other].append(Force(what, end, -force, 0.0))


def _hand(found, station, hand_force, grip):
    hand, link, pose = station.tool.hand, station.link, station.pose
    here, there = link.facing(pose, grip)
    if hand.push != "across":
        sign = station.solution.sign_of(grip)
        push = push_direction(link, pose, grip, sign)
        found[hand.part].append(Force("hand", here, hand_force * push, 0.0))
        if hand.palm is not None:
            at, couple = reaction(link, pose, here, hand_force * push)
            found[hand.palm].append(Force("hand reaction", at, -hand_force * push, couple))
        return
    push = hand_force * (there - here) / math.hypot(*(there - here))
    found[hand.part].append(Force("hand", here, push, 0.0))
    found[hand.against].append(Force("hand reaction", there, -push, 0.0))
