"""Quantities of a tool file: bare numbers and strings with a unit, to mm, N and rad.

A unit is kept as a factor and the powers of (length, force, angle), so that products and
quotients such as "12 N mm/deg" need no table of their own.
"""

import math
import re

LENGTH = (1, 0, 0)
FORCE = (0, 1, 0)
ANGLE = (0, 0, 1)
RATE = (-1, 1, 0)
TORQUE = (1, 1, 0)
TORSION_RATE = (1, 1, -1)
STRESS = (-2, 1, 0)
NUMBER = (0, 0, 0)

INCH = 25.4  # mm, exact
POUND = 4.4482216152605  # N, exact: 0.45359237 kg * 9.80665 m/s2
DEGREE = math.pi / 180

UNITS = {
    "mm": (1.0, LENGTH),
    "cm": (10.0, LENGTH),
    "m": (1000.0, LENGTH),
    "in": (INCH, LENGTH),
    "N": (1.0, FORCE),
    "kN": (1000.0, FORCE),
    "lbf": (POUND, FORCE),
    "deg": (DEGREE, ANGLE),
    "rad": (1.0, ANGLE),
    "Pa": (1e-6, STRESS),
    "kPa": (1e-3, STRESS),
    "MPa": (1.0, STRESS),
    "GPa": (1000.0, STRESS),
    "psi": (POUND / INCH**2, STRESS),
    "ksi": (1000 * POUND / INCH**2, STRESS),
}

# What a bare number means, by the file's units.
BARE = {
    "mm-N": {LENGTH: "mm", FORCE: "N", ANGLE: "deg", RATE: "N/mm", TORQUE: "N mm",
             TORSION_RATE: "N mm/deg", STRESS: "MPa"},
    "in-lbf": {LENGTH: "in", FORCE: "lbf", ANGLE: "deg", RATE: "lbf/in", TORQUE: "lbf in",
               TORSION_RATE: "lbf in/deg", STRESS: "psi"},
}

_TEXT = re.compile(r"^\s*([+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*(\S.*?)\s*$")


class QuantityError(ValueError):
    """A number or unit that cannot be meant here."""


def unit_of(text):
    """Factor to mm-N-rad and powers of (length, force, angle) of a unit such as "N mm/deg"."""
    factor, powers = 1.0, [0, 0, 0]
    for place, product in enumerate(text.split("/")):
        sign = 1 if place == 0 else -1
        for name in re.split(r"[\s*·]+", product.strip()):
            if name not in UNITS:
                raise QuantityError(f"unknown unit '{name}' in '{text}'")
            one, dimension = UNITS[name]
            factor *= one**sign
            powers = [p + sign * d for p, d in zip(powers, dimension)]
    return factor, tuple(powers)


class Reader:
    """Reads quantities of one file, whose bare numbers are in `system`."""

    def __init__(self, system):
        if system not in BARE:
            raise QuantityError(f"units must be one of {', '.join(BARE)}, not {system!r}")
        self.system = system

    def factor(self, kind):
        """mm, N, rad per one unit of a bare number of this kind."""
        return unit_of(BARE[self.system][kind])[0]

    def read(self, value, kind):
        """The value in mm, N, rad."""
        if isinstance(value, bool) or not isinstance(value, (int, float, str)):
            raise QuantityError(f"{value!r} is not a number or a string with a unit")
        if not isinstance(value, str):
            if not math.isfinite(value):
                raise QuantityError(f"{value!r} is not a finite number")
            return float(value) if kind == NUMBER else value * self.factor(kind)
        match = _TEXT.match(value)
        if not match:
            raise QuantityError(f"{value!r} is not a number with a unit")
        factor, powers = unit_of(match.group(2))
        if powers != kind:
            raise QuantityError(f"{value!r} is a unit of the wrong kind")
        return float(match.group(1)) * factor
