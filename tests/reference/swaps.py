"""Contacts in the place of links: an invented linkage becomes one with gears, arc slots, cams, rollers.

Each swap takes a plain link [a, b] of the draft out and lets its two neighbours touch in another way,
so that the drawn pose still goes together. What is drawn is exact, in mm, in the plane of the draft.
"""

import math

import numpy as np

from families import FAMILIES
from toolfile import rotation

# A kind, and the families of linkages that have a place for it.
KINDS = {"gears": ["four-bar", "slider", "six-bar"], "arc": ["four-bar", "slider", "six-bar"],
         "cams": ["four-bar", "slider", "six-bar"], "flats": ["four-bar", "slider", "six-bar"],
         "rollers": ["pin-in-slot"], "mixed": ["six-bar"],
         "curves": ["four-bar", "slider", "six-bar"]}
# What is put on a tool that is made: see `generate.py`.
EXTRAS = {"stops": FAMILIES, "adjusters": FAMILIES}
KINDS |= EXTRAS


class NoPlace(ValueError):
    """The draft has no place for this contact."""


def swap(kind, draft, rng, friction):
    """Puts one contact of a kind into the draft; `mixed`: two of different kinds. `friction`: what the usual
    coefficients are multiplied by."""
    if kind == "mixed":
        for one in rng.permutation(["gears", "arc", "cams", "flats"])[:2]:
            swap(str(one), draft, rng, friction)
        return
    if kind in EXTRAS:
        return
    if kind == "rollers":
        for slot in draft.slots:
            if not slot["keyed"]:
                slot["roller"] = rng.uniform(6, 14)
        return
    if kind == "gears" and rng.random() < 0.25 and "strut" in draft.parts:
        _planet(draft, rng, friction)
        return
    roles = {draft.fixed, draft.lever, draft.output, draft.against_hand, draft.against_jaw}
    roles |= set(draft.marks) | {g["on"] for g in draft.gears}
    roles |= {a[k] for a in draft.arcs for k in ("part", "on")}
    roles |= {c[k] for c in draft.cams for k in ("part", "other")}
    links = [name for name, pins in draft.parts.items() if name not in roles and len(pins) == 2
             and all(_neighbours(draft, p, name) for p in pins)
             and all(name not in (s["part"], s["on"]) for s in draft.slots)
             and (kind != "gears" or _carrier(draft, name))]
    if not links:
        raise NoPlace(f"no place for {kind}")
    link = str(rng.choice(links))
    a, b = draft.parts[link]
    first, second = (_neighbours(draft, p, link)[0] for p in (a, b))
    carrier = _carrier(draft, link)
    del draft.parts[link]
    for part, pin in ((first, a), (second, b)):
        rides = any(s["part"] == part and s["point"] == pin for s in draft.slots)
        if not rides and sum(pin in pins for pins in draft.parts.values()) == 1:
            draft.parts[part].remove(pin)
            draft.mark(part, pin)
    if kind == "gears":
        _gears(draft, rng, friction, carrier, first, second)
        return
    if rng.random() < 0.5:
        first, a, second, b = second, b, first, a
    {"arc": _arc, "cams": _cam, "curves": _curve, "flats": _flat}[kind](draft, rng, friction, first, a, second, b)


def _neighbours(draft, pin, link):
    """Other parts on a pin."""
    return [name for name, pins in draft.parts.items() if pin in pins and name != link]


def _rough(rng, friction, low, high):
    if not friction or rng.random() > 0.8:
        return 0.0
    return round(min(friction * rng.uniform(low, high), 1.9), 3)


def _arc(d, rng, friction, first, a, second, b):
    """`a` rides about `b`."""
    radius = float(np.hypot(*(d.at[a] - d.at[b])))
    d.arcs.append(dict(part=first, point=a, on=second, centre=b, radius=radius,
                       roller=min(rng.uniform(5, 14), radius) if rng.random() < 0.6 else None,
                       friction=_rough(rng, friction, 0.03, 0.2)))


def _cam(d, rng, friction, first, a, second, b):
    """A disc about `a` pushes a roller about `b`."""
    reach = float(np.hypot(*(d.at[a] - d.at[b])))
    share = rng.uniform(0.3, 0.8)
    if sum(b in pins for pins in d.parts.values()) > 0 and b not in d.marks.get(second, []):
        d.at["cam-roll"] = d.at[b]
        d.mark(second, "cam-roll")
        b = "cam-roll"
    d.cams.append(dict(part=first, centre=a, radius=share * reach, other=second, point=b,
                       roller=2 * (1 - share) * reach, flat=None,
                       friction=_rough(rng, friction, 0.03, 0.3)))


def _curve(d, rng, friction, first, a, second, b):
    """A face through points about `a`, never round, pushes a roller about `b`: its radius goes up and down by a
    fifth over some three quarters of a turn, and is that of the disc where they touch as drawn."""
    _cam(d, rng, friction, first, a, second, b)
    cam = d.cams[-1]
    out = d.at[cam["point"]] - d.at[a]
    touch = math.atan2(out[1], out[0])
    humps, swing, start = rng.uniform(0.5, 1.5), rng.uniform(0.05, 0.2), rng.uniform(0, 2 * math.pi)
    spread = rng.uniform(1.8, 2.6)
    cam["points"] = []
    for turn in np.linspace(-spread, spread, int(rng.integers(9, 15))):
        bump = math.sin(start + humps * turn) - math.sin(start)
        radius = cam["radius"] * (1 + swing * bump)
        at = touch + turn
        cam["points"].append(d.at[a] + radius * np.array([math.cos(at), math.sin(at)]))


def _flat(d, rng, friction, first, a, second, b):
    """A disc about `a` pushes a flat of the second part, somewhere on the side of `b`."""
    out = d.at[b] - d.at[a]
    reach = float(np.hypot(*out))
    lean = math.atan2(out[1], out[0]) + rng.uniform(-0.6, 0.6)
    normal = np.array([math.cos(lean), math.sin(lean)])     # from the disc to the flat
    radius = rng.uniform(0.2, 0.7) * reach
    along = math.degrees(lean) + (90 if rng.random() < 0.5 else -90)
    d.at["flat-foot"] = d.at[a] + radius * normal + rng.uniform(-10, 10) * np.array(
        [-normal[1], normal[0]])
    d.mark(second, "flat-foot")
    d.cams.append(dict(part=first, centre=a, radius=radius, other=second, point="flat-foot",
                       roller=None, flat=along, friction=_rough(rng, friction, 0.03, 0.2)))


def _carrier(d, link):
    """A third part on which both neighbours of a link turn, or slide: (part, pin, pin or slot)."""
    if not all(_neighbours(d, p, link) for p in d.parts[link]):
        return None
    first, second = (_neighbours(d, p, link)[0] for p in d.parts[link])
    for name, pins in d.parts.items():
        if name in (first, second, link):
            continue
        for a in pins:
            if a not in d.parts[first]:
                continue
            for b in pins:
                if b in d.parts[second] and a != b:
                    return name, a, b
            for slot in d.slots:
                if slot["keyed"] and slot["part"] == second and slot["on"] == name:
                    return name, a, slot
    return None


def _gears(d, rng, friction, carrier, first, second):
    on, a, b = carrier
    if isinstance(b, dict):
        _rack(d, rng, friction, on, first, a, second, b)
    else:
        _mesh(d, rng, friction, on, first, a, second, b)


def _mesh(d, rng, friction, on, first, a, second, b):
    """Two wheels about `a` and `b`, outside or one in the ring of the other."""
    if rng.random() < 0.5:
        first, a, second, b = second, b, first, a
    line = d.at[b] - d.at[a]
    apart, angle = float(np.hypot(*line)), math.atan2(line[1], line[0])
    z = [int(t) for t in rng.integers(14, 40, 2)]
    internal = bool(rng.random() < 0.35)
    if internal:
        large = int(rng.integers(2))
        z[large] = z[1 - large] + int(rng.integers(12, 30))
        radii = [apart * t / abs(z[0] - z[1]) for t in z]
        toward = [angle if large == 0 else angle + math.pi] * 2
    else:
        radii = [apart * t / sum(z) for t in z]
        toward = [angle, angle + math.pi]
    turn = rng.uniform(-0.6, 0.6)
    turns = [turn, (1 if internal else -1) * turn * radii[0] / radii[1]]
    _witness(d, rng, friction, on, [first, second], [a, b], z, radii,
             [t + u for t, u in zip(toward, turns)], internal)


def _rack(d, rng, friction, on, first, a, second, slot):
    """A wheel about `a` and a rack on the part that slides in `slot`."""
    angle = math.radians(slot["angle"])
    along = np.array([math.cos(angle), math.sin(angle)])
    out = np.array([-along[1], along[0]]) * rng.choice([-1, 1])
    z, radius = int(rng.integers(12, 30)), rng.uniform(8, 25)
    turn = rng.uniform(-0.6, 0.6)
    # Where the rim has gone by `turn`, the rack has gone as far.
    way = radius * turn * np.array([-out[1], out[0]])
    d.at["rack-mark"] = d.at[a] + radius * out + way
    d.mark(second, "rack-mark")
    at = math.atan2(out[1], out[0]) + turn
    d.at["wheel-mark"] = d.at[a] + radius * np.array([math.cos(at), math.sin(at)])
    d.mark(first, "wheel-mark")
    d.gears.append(dict(on=on, parts=[first, second], about=[a, slot["point"]],
                        meet=[f"{first}.wheel-mark", f"{second}.rack-mark"], teeth=[z, 0],
                        angle=float(rng.choice([14.5, 20, 25])), internal=None,
                        friction=_rough(rng, friction, 0.03, 0.2)))


def _planet(d, rng, friction):
    """A further wheel about the far pin of the strut, which carries it; the lever has the other."""
    knee, wrist = d.parts["strut"]
    d.parts["planet"] = [wrist]
    d.output = "planet"
    _mesh(d, rng, friction, "strut", "lever", knee, "planet", wrist)


def _witness(d, rng, friction, on, parts, about, teeth, radii, angles, internal):
    names = []
    for part, pin, radius, angle, name in zip(parts, about, radii, angles,
                                              ("one-mark", "two-mark")):
        d.at[name] = d.at[pin] + rotation(angle) @ np.array([radius, 0.0])
        d.mark(part, name)
        names.append(f"{part}.{name}")
    d.gears.append(dict(on=on, parts=parts, about=about, meet=names, teeth=teeth,
                        angle=float(rng.choice([14.5, 20, 25])),
                        internal=internal if rng.random() < 0.5 else None,
                        friction=_rough(rng, friction, 0.03, 0.2)))
