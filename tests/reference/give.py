"""How far the jaws spread per newton, the hand held: the unit-load method (Castigliano).

J. M. Gere, Mechanics of Materials, 6th ed., sec. 9.8-9.9: the sum of the integrals of n^2 / (E A)
and m^2 / (E I) over the parts, n and m per newton at the jaw, without friction and springs; and of
the shear of the pins. A part is a straight beam through its force points as for its strength; a
handle bends along its hand line, and what lies before the line's first point is a beam, to which
the line hands on its load. A part without a section, or whose forces do not add up, is rigid.
"""

import math

import numpy as np
from scipy.integrate import quad

from factors import add_up, along_longest, carried, merge
from sheets import sheets

STEEL = 2.6      # E / G = 2 (1 + 0.3)


def unit_forces(station, grip):
    """All unknowns of a newton at the jaw, the hand holding it, without friction and springs."""
    return station.bodies.solve(station.push(grip), station.load, friction=False)


def give(checks, station, grip, z=None):
    """{part or pin: mm/N}; `z`: the unknowns by another way."""
    z = unit_forces(station, grip) if z is None else z
    unit = sheets(station, z, z[-1], 1.0, grip, springs=False, friction=False)
    shares = {}
    for part, section in checks.data.sections.items():
        given = unit.get(part, [])
        knots = merge(checks.own_axes(station, part, given))
        if section.material.modulus and add_up(knots):
            shares[part] = _part(checks, part, section, knots)
    for joint in checks.tool.joints:
        pin = checks.data.pins.get(joint.pin)
        both = [checks.data.sections.get(p) for p in (joint.carrier, joint.other)]
        if pin and pin.material and pin.material.modulus and all(both):
            force = next(math.hypot(*f.force) for f in unit[joint.other]
                         if f.what == f"pin {joint.label}")
            shares[joint.label] = pin_shear(force, pin, sum(s.all_plates for s in both))
    return shares


def pin_shear(force, pin, thickness):
    """Every plate bears evenly: the shear rises along it in a straight line, mean square a third.

    10/9 is the form factor of a circle (W. C. Young and R. G. Budynas, Roark's Formulas for Stress
    and Strain, 7th ed., sec. 8.10; from memory).
    """
    planes = 2 if pin.shear == "double" else 1
    stiff = pin.material.modulus / STEEL * math.pi * pin.diameter**2 / 4
    return 10 / 9 * (force / planes) ** 2 * thickness / 3 / stiff


def _part(checks, part, section, knots):
    line = checks.lines.get(part)
    if line is None:
        return beam(knots, lambda at: section.depth(0.0), section)
    head, on_line = [], []
    for knot in knots:
        s = checks.seat(part, knot[0])
        (on_line if s > 1e-6 else head).append((s, knot))
    total = 0.0
    marks = sorted({0.0, *(s for s, _ in on_line), *line.knots_along(),
                    *(s for s in section.stations if 0 < s < line.length)})
    for a, b in zip(marks, marks[1:]):
        if a >= max((s for s, _ in on_line), default=0.0):
            break
        total += quad(lambda s: _density(checks, part, section, on_line, s), a, b,
                      epsabs=0, epsrel=1e-9, limit=100)[0]
    start = line.at(0.0)[0]
    force, moment = carried(start, [k for _, k in on_line])
    whole = merge([(*k, None) for _, k in head] + [(start, force, moment, None)])
    return total + beam(whole, lambda at: section.depth(0.0), section)


def _density(checks, part, section, on_line, s):
    at, tangent = checks.lines[part].at(s)
    force, moment = carried(at, [k for there, k in on_line if there > s])
    return density(force @ tangent, moment, section.depth(s), section)


def density(axial, moment, depth, section):
    """n^2 / (E A) + m^2 / (E I)."""
    area = depth * section.all_plates
    inertia = section.all_plates * depth**3 / 12
    return (axial**2 / area + moment**2 / inertia) / section.material.modulus


def beam(knots, depth, section):
    """Straight pieces between force points in their order along the longest axis."""
    order = along_longest(knots)
    total = 0.0
    for i, (a, b) in enumerate(zip(order, order[1:])):
        length = math.hypot(*(b[0] - a[0]))
        way = (b[0] - a[0]) / length

        def piece(x, a=a, way=way, beyond=order[i + 1:]):
            at = a[0] + x * way
            force, moment = carried(at, beyond)
            return density(force @ way, moment, depth(at), section)
        total += quad(piece, 0.0, length, epsabs=0, epsrel=1e-9, limit=100)[0]
    return total
