"""Tolerances, ties, clearances and demands for a tool file that has none: of every number of its contacts, stops,
springs and jaws, and by a class of all lengths of parts."""

import copy

import stated
from units import ANGLE, LENGTH, NUMBER

# Each to be compared needs a tolerance of its own: ± mm, degrees, of friction; of all else a share of it.
OWN = {LENGTH: 0.08, ANGLE: 0.2, NUMBER: 0.015}
SHARE = 0.05
NUMBERS = {
    "slots": ["through.x", "through.y", "angle", "turn", "centre.x", "centre.y", "radius", "friction",
              "roller.diameter", "roller.pin"],
    "cams": ["face.centre.x", "face.centre.y", "face.radius", "flat", "friction", "roller.diameter", "roller.pin",
             *(f"face.points.{k}.{axis}" for k in (2, 5, 8) for axis in "xy")],
    "gears": ["angle", "friction"],
    "springs": ["rate", "free", "preload"],
    "jaw": ["axis", "closed"],
    "stops": ["axis", "closed"],
}


def tolerated(doc, solution, number):
    """The document with all of these; `number` picks ties and clearances."""
    doc, reader = copy.deepcopy(doc), solution.tool.reader
    ways = [f"{table}.{one.get('name', k) if table in ('jaw', 'stops') else k}.{word}"
            for table, words in NUMBERS.items()
            for k, one in enumerate(doc.get(table, []), 1) for word in words]
    own, shared = {}, {joint.pin for joint in solution.tool.joints}
    for address in [*ways, "joints.friction", "joints.diameter"]:
        # A coordinate may be the name of a point instead, and a spring free or preloaded.
        if stated.holder(doc, address) is None or address.endswith("closed") and stated.value(doc, reader, address) == 0:
            continue
        # What every pin states itself is nobody's common number.
        if address == "joints.diameter" and all("diameter" in doc["joints"].get(p, {}) for p in shared):
            continue
        of = stated.kind(doc, address)
        said = abs(stated.value(doc, reader, address))
        size = OWN[of] if of in OWN else SHARE * said / reader.factor(of)
        if of == NUMBER:
            size = min(size, 0.5 * said)      # it stays above nothing
            if size == 0:
                continue
        own[address] = f"{size} mm" if of == LENGTH else size
    doc["tolerances"] = {"class": "ISO 2768-m", **{f'"{a}"': t for a, t in own.items()}}
    if number % 2:
        tie(doc, reader)
    if number % 3 == 0 and "joints" in doc:
        doc["joints"]["clearance"] = 0.12 / reader.factor(LENGTH)
        for gears in doc.get("gears", []):
            gears["backlash"] = 0.15 / reader.factor(LENGTH)
    doc["demand"] = list(demands(doc, solution))
    return doc


def tie(doc, reader):
    """A coordinate of a mark follows two of another part or point, where it stood."""
    points = [f"{part}.{name}" for part, table in doc["parts"].items() for kind in ("marks", "pins")
              if isinstance(table.get(kind), dict) for name in table[kind]]
    if len(points) < 3:
        return
    first, second, *_, third = points
    rest = (stated.value(doc, reader, f"{first}.x") - 0.25 * stated.value(doc, reader, f"{second}.y")
            + 0.5 * stated.value(doc, reader, f"{third}.x"))
    doc["ties"] = {f'"{first}.x"': f"0.25 * {second}.y - 1/2 * {third}.x + {rest!r} mm"}


def demands(doc, solution):
    """Of every kind of measure one, which any tool meets."""
    tool, unit = solution.tool, solution.tool.reader.factor(LENGTH)
    wide, shut = (solution.link.gap(solution.stroke[k][0], tool.jaws[0]) / unit for k in (0, -1))
    middle = {"gap": round(shut + 0.4 * (wide - shut), 4)}
    grip = {"grip": tool.hand.grips[-1] / unit}
    for measure in ("ratio", "jaw_force", "efficiency", *(["hand_force"] if tool.work else []),
                    f"pin_load.{tool.joints[0].label}"):
        yield {"measure": measure, "at": middle, **grip, "min": 0}
    yield {"measure": "travel", "at": "shut", "min": 0}
    if tool.hand.against:
        yield {"measure": "span", "at": "open", **grip, "min": 0}
