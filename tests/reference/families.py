"""The families of invented linkages: pins of each part, in mm, in one plane, before any turn."""

import math

import numpy as np


class Draft:
    """Parts by their pins in the plane, slots, and the roles of the parts."""

    def __init__(self, rng):
        self.rng = rng
        self.at = {}
        self.parts = {}
        self.slots = []
        self.marks, self.arcs, self.cams, self.gears = {}, [], [], []    # see `swaps`

    def pin(self, name, x, y, spread=10.0):
        self.at[name] = np.array([x, y]) + self.rng.uniform(-spread, spread, 2)

    def mark(self, part, name):
        self.marks.setdefault(part, []).append(name)

    def roles(self, fixed, lever, heel, output, against_hand, against_jaw):
        self.fixed, self.lever, self.heel, self.output = fixed, lever, heel, output
        self.against_hand, self.against_jaw = against_hand, against_jaw


def four_bar(d):
    d.pin("heel", 0, 0)
    d.pin("knee", 22, -12)
    d.pin("wrist", 45, -38, 15)
    d.pin("post", 8, -62, 15)
    d.parts = {"frame": ["heel", "post"], "lever": ["heel", "knee"],
               "strut": ["knee", "wrist"], "rocker": ["post", "wrist"]}
    against = "lever" if d.rng.random() < 0.15 else "frame"
    d.roles("frame", "lever", "heel", "rocker", "frame", against)


def slider(d):
    d.pin("heel", 0, 0)
    d.pin("knee", 20, -14)
    d.pin("wrist", 32, -52)
    d.parts = {"frame": ["heel"], "lever": ["heel", "knee"], "strut": ["knee", "wrist"],
               "plunger": ["wrist"]}
    angle = d.rng.uniform(-120, -60)
    if d.rng.random() < 0.25:
        # The guide is cut in the plunger and rides on a key of the frame.
        d.pin("key", 40, -80)
        d.parts["frame"].append("key")
        d.parts["plunger"].append("eye")
        d.at["eye"] = d.at["key"] + d.rng.uniform(-15, 15) * direction(angle)
        d.slots.append(dict(part="frame", point="key", on="plunger", through="eye", angle=angle,
                            keyed=True))
    else:
        d.slots.append(dict(part="plunger", point="wrist", on="frame", through=None,
                            angle=angle, keyed=True))
    d.roles("frame", "lever", "heel", "plunger", "frame", "frame")


def pin_in_slot(d):
    d.pin("heel", 0, 0)
    d.pin("knee", 24, -16)
    angle = d.rng.uniform(0, 360)
    if d.rng.random() < 0.5:
        # The lever's pin rides in a slot of the rocker.
        d.pin("post", 6, -64)
        d.parts = {"frame": ["heel", "post"], "lever": ["heel", "knee"], "rocker": ["post"]}
        d.slots.append(dict(part="lever", point="knee", on="rocker", through=None, angle=angle,
                            keyed=False))
        d.roles("frame", "lever", "heel", "rocker", "frame", "frame")
    else:
        # A link driven by the lever, its far end guided by a slot of the frame.
        d.pin("wrist", 40, -50)
        d.parts = {"frame": ["heel"], "lever": ["heel", "knee"], "link": ["knee", "wrist"]}
        d.slots.append(dict(part="link", point="wrist", on="frame", through=None, angle=angle,
                            keyed=False))
        d.roles("frame", "lever", "heel", "link", "frame", "frame")


def compound(d):
    d.pin("jaws", 0, 0)
    d.pin("upper", -40, 10)
    d.pin("lower", -42, -12)
    d.pin("hands", -62, 2)
    d.parts = {"base": ["jaws", "lower"], "beak": ["jaws", "upper"],
               "front": ["upper", "hands"], "rear": ["lower", "hands"]}
    d.roles("base", "front", "hands", "beak", "rear", "base")


def six_bar(d):
    four_bar(d)
    if d.rng.random() < 0.5:
        d.pin("elbow", 60, -20)
        d.pin("tip", 85, -50)
        d.pin("foot", 60, -85)
        d.parts["rocker"].append("elbow")
        d.parts["pull"] = ["elbow", "tip"]
        d.parts["arm"] = ["foot", "tip"]
        d.parts["frame"].append("foot")
        d.roles("frame", "lever", "heel", "arm", "frame", "frame")
    else:
        # Three parts share the wrist: strut, rocker and the ram's strut.
        d.pin("tip", 55, -95)
        d.parts["thrust"] = ["wrist", "tip"]
        d.parts["ram"] = ["tip"]
        d.slots.append(dict(part="ram", point="tip", on="frame", through=None,
                            angle=d.rng.uniform(-130, -50), keyed=True))
        d.roles("frame", "lever", "heel", "ram", "frame", "frame")


BUILDERS = {"four-bar": four_bar, "slider": slider, "pin-in-slot": pin_in_slot,
            "compound": compound, "six-bar": six_bar}
FAMILIES = list(BUILDERS)


def direction(degrees):
    a = math.radians(degrees)
    return np.array([math.cos(a), math.sin(a)])
