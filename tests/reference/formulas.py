"""Strength formulas from their published text, each with its source. mm, N, MPa, N mm.

BJD: F. P. Beer, E. R. Johnston, J. T. DeWolf, Mechanics of Materials. Shear is held against 0.577
of a strength: the distortion-energy rule, 1 / sqrt(3) rounded (R. G. Budynas and J. K. Nisbett,
Shigley's Mechanical Engineering Design, ch. 5; from memory).
"""

import math

SHEAR = 0.577


def pin_shear(force, diameter, planes):
    """BJD ch. 1: force over the area of one or two cut planes."""
    return force / (planes * math.pi * diameter**2 / 4)


def fork_moment(force, outer, inner):
    """E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, ch. D1 (from memory).

    Half the force at the middle of each outer plate, and in the middle of each half of the inner.
    """
    return force / 2 * (outer / 2 + inner / 4)


def lap_moment(force, thicker):
    """Held in one plate, evenly loaded in the other: a cantilever. Common practice, no source."""
    return force * thicker / 2


def pin_bending(moment, diameter):
    """BJD ch. 4: M / Z of a solid circle."""
    return 32 * moment / (math.pi * diameter**3)


def bearing(force, diameter, thickness):
    """BJD ch. 1: over the projected area of the pin."""
    return force / (diameter * thickness)


def tension(force, width, thickness):
    """BJD ch. 1: F / A."""
    return force / (width * thickness)


def tear_out(force, edge, hole, thickness):
    """Two planes from the edge of the hole to the end of the plate. From first principles."""
    return force / (2 * thickness * (edge - hole / 2))


def beam(axial, moment, depth, thickness, hole=0.0):
    """BJD ch. 4: |N| / A + |M| c / I of a rectangle with a hole in its middle."""
    area = (depth - hole) * thickness
    inertia = thickness * (depth**3 - hole**3) / 12
    return abs(axial) / area + abs(moment) * (depth / 2) / inertia


def beam_shear(shear, depth, thickness, hole=0.0):
    """BJD ch. 6: 3/2 of the mean, the peak in a rectangle."""
    return 1.5 * abs(shear) / ((depth - hole) * thickness)


def column(length, gyration, area, yield_, modulus):
    """Euler or Johnson, whichever holds, K = 1; and its name.

    T. H. Wentzell, Machine Design, ch. 3: they meet at a slenderness of sqrt(2 pi^2 E / Sy).
    """
    slender = length / gyration
    if slender > math.sqrt(2 * math.pi**2 * modulus / yield_):
        return math.pi**2 * modulus * area / slender**2, "Euler"
    return area * yield_ * (1 - yield_ * slender**2 / (4 * math.pi**2 * modulus)), "Johnson"
