"""What common jobs ask of the jaws, from size and strength: rows (gap, force) from wide to narrow. mm, N, MPa.

Sources. P. C. Sharma, A Textbook of Production Engineering, ch. 2: a hole pi d t tau, a strip L t tau, over the penetration k t; a
blade that leads by i spreads the same work over k t + i; bends k L Su t^2 / w with 1.33 in a V and 0.67 round an edge. TU Delft,
report 2338, eq. 3: wire 0.8 Su A. S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, 14.1: upsetting a
cylinder of constant volume, Y pi r^2 (1 + 2 mu r / (3 h)).
"""

import math

import numpy as np

STEPS = 12      # straight pieces that stand for the curve of a rivet


def block(starts, way, force):
    """The same force all the way from the gap where the work is touched."""
    return [(starts, 0.0), (starts, force), (starts - way, force), (starts - way, 0.0)]


def pierce(hole, thickness, shear, penetration=.35, starts=None):
    return block(thickness if starts is None else starts, penetration * thickness, math.pi * hole * thickness * shear)


def shear_strip(width, thickness, shear, penetration=.35, rise=0.0, starts=None):
    way = penetration * thickness
    whole = width * thickness * shear
    return block(thickness + rise if starts is None else starts, way + rise, whole * way / (way + rise))


def cut_wire(diameter, tensile, penetration=.5, starts=None):
    return block(diameter if starts is None else starts, penetration * diameter, .8 * tensile * math.pi * diameter**2 / 4)


def bend(width, thickness, opening, tensile, starts, into="V"):
    """To the end of the stroke; where that is, is not known here."""
    force = (1.33 if into == "V" else .67) * width * tensile * thickness**2 / opening
    return [(starts, 0.0), (starts, force), (None, force)]


def upset(diameter, before, after, flow, friction=.15, starts=None):
    starts = before - after if starts is None else starts

    def force(height):
        radius = diameter / 2 * math.sqrt(before / height)
        return flow * math.pi * radius**2 * (1 + 2 * friction * radius / (3 * height))

    heights = np.linspace(before, after, STEPS + 1)
    return [(starts, 0.0)] + [(starts - (before - h), force(h)) for h in heights]


def upset_work(diameter, before, after, flow, friction=.15):
    """The exact area under the curve, by integration over the height."""
    volume = math.pi * diameter**2 / 4 * before
    root = math.sqrt(volume / math.pi)
    return flow * volume * (math.log(before / after) + 2 * friction / 3 * root * 2 / 3 * (after**-1.5 - before**-1.5))
