"""Documents with an adjuster at another setting.

The pin of an eccentric stands at the centre of its hole + throw (cos, sin); a dimension is what it was
+ the setting. An adjuster of a dimension is `part.point.x|y` or `part.length`.
"""

import copy
import math

from units import ANGLE, LENGTH


def point_of(doc, part, name):
    """The list of two coordinates of a pin or mark in a document."""
    for kind in ("pins", "marks"):
        points = doc["parts"][part].get(kind, {})
        if isinstance(points, dict) and name in points:
            return points[name]
    raise ValueError(f"{part}.{name} has no coordinates of its own")


def turned(doc, reader, adjuster, setting):
    """The document with an adjuster at another setting: rad, or mm."""
    doc = copy.deepcopy(doc)
    one = next(a for a in doc["adjusters"] if a["name"] == adjuster)
    factor = reader.factor(LENGTH)
    if "pin" in one:
        point, throw = point_of(doc, one["on"], one["pin"]), reader.read(one["throw"], LENGTH)
        now = reader.read(one.get("now", 0), ANGLE)
        for k, axis in enumerate((math.cos, math.sin)):
            mm = reader.read(point[k], LENGTH) + throw * (axis(setting) - axis(now))
            point[k] = mm / factor
        return doc
    by = setting - reader.read(one.get("now", 0), LENGTH)
    part, *rest = one["dimension"].split(".")
    if rest == ["length"]:
        holder, key = doc["parts"][part], "length"
    else:
        holder, key = point_of(doc, part, rest[0]), "xy".index(rest[1])
    holder[key] = (reader.read(holder[key], LENGTH) + by) / factor
    return doc


def all_turned(doc, reader, share=0.3):
    """Every adjuster at a share of its range, in a notch where it has any: the document, and the settings in
    words."""
    words = []
    for one in doc.get("adjusters", []):
        kind = ANGLE if "pin" in one else LENGTH
        low, high = (reader.read(one[k], kind) for k in ("from", "to"))
        notches = one.get("notches")
        at = share if notches is None else round(share * (notches - 1)) / (notches - 1)
        setting = low + at * (high - low)
        doc = turned(doc, reader, one["name"], setting)
        words += ["--adjust", f"{one['name']}={setting / reader.factor(kind):.17g}"]
    return doc, words
