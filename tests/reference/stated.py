"""Numbers of a document by their address, and those that follow others (`[ties]`).

An address is the way to the number through the tables of the file, parts without `parts`; of a list of
tables the number or the name, of a list of points the number, of a point x or y. From the description of the
tool file (`jawforce keys tolerances`, `keys ties`).
"""

import math
from fractions import Fraction

from units import ANGLE, FORCE, LENGTH, NUMBER, RATE, TORQUE, TORSION_RATE

KINDS = {"friction": NUMBER, "angle": ANGLE, "turn": ANGLE, "flat": ANGLE, "axis": ANGLE, "handle": ANGLE,
         "force": FORCE}


def holder(doc, address):
    """(list or table, key) of a number, or None where the document does not state it."""
    words = address.split(".")
    if words[0] in doc["parts"]:
        part = doc["parts"][words[0]]
        if words[1:] == ["length"]:
            return (part, "length") if "length" in part else None
        for kind in ("pins", "marks"):
            points = part.get(kind)
            if isinstance(points, dict) and len(words) == 3 and words[1] in points:
                return points[words[1]], "xy".index(words[2])
        return None
    here = doc
    for place, word in enumerate(words):
        last = place == len(words) - 1
        if isinstance(here, list):
            if here and isinstance(here[0], dict):
                named = [t for t in here if t.get("name", "jaw" if words[0] == "jaw" else None) == word]
                if not named and word.isdigit() and int(word) <= len(here):
                    named = [here[int(word) - 1]]
                if len(named) != 1:
                    return None
                here = named[0]
                continue
            key = "xy".index(word) if word in ("x", "y") else int(word) - 1
        elif isinstance(here, dict):
            key = word
        else:
            return None             # the name of a point, whose own place is what may change
        if isinstance(here, dict) and key not in here:
            return None
        if last:
            return None if isinstance(here[key], (dict, list)) else (here, key)
        here = here[key]
    return None


def kind(doc, address):
    """What the number of an address measures."""
    word = address.rpartition(".")[2]
    table, _ = holder(doc, address)
    if address.startswith("springs."):
        about_pin = "pin" in table
        return {"rate": TORSION_RATE if about_pin else RATE, "free": ANGLE if about_pin else LENGTH,
                "preload": TORQUE if about_pin else FORCE}[word]
    return KINDS.get(word, LENGTH)


def value(doc, reader, address):
    """In mm, N and rad."""
    table, key = holder(doc, address)
    said = table[key]
    return reader.read(said, kind(doc, address))


def change(doc, reader, address, new):
    """States a number (mm, N, rad) anew."""
    table, key = holder(doc, address)
    of = kind(doc, address)
    table[key] = new if of == NUMBER else new / reader.factor(of)


def flat(table, way=""):
    """{address: value} of a table whose keys may be written with dots."""
    found = {}
    for key, inner in table.items():
        if isinstance(inner, dict):
            found |= flat(inner, f"{way}{key}.")
        else:
            found[way + key] = inner
    return found


def follow(doc, reader):
    """States what every number says that follows others, whatever the order of the ties."""
    ties, done = flat(doc.get("ties", {})), set()

    def settle(address, waiting=()):
        if address in waiting:
            raise ValueError(f"{address} follows itself")
        if address not in ties or address in done:
            return
        of, total = kind(doc, address), 0.0
        for factor, other in terms(ties[address]):
            if holder(doc, str(other)) is None:
                total += factor * reader.read(other, of)
            else:
                settle(other, (*waiting, address))
                total += factor * value(doc, reader, other)
        change(doc, reader, address, total)
        done.add(address)

    for address in ties:
        settle(address)


def terms(text):
    """[(factor, address or quantity)] of a sum of multiples such as "0.5 * strut.length - 2 mm"."""
    found, sign, words = [], 1.0, []
    for word in [*text.split(), "+"]:
        if word not in "+-":
            words.append(word)
            continue
        if words:
            found.append(_term(sign, words))
        sign, words = (-1.0 if word == "-" else 1.0), []
    return found


def _term(sign, words):
    if words[0][0] == "-" and words[0][1:2].isalpha():
        sign, words = -sign, [words[0][1:], *words[1:]]
    numbers = [float(Fraction(w)) if "/" in w else float(w) for w in words if w[0] in "+-.0123456789"]
    rest = [w for w in words if w[0].isalpha()]
    factor = sign * math.prod(numbers)
    if len(rest) == 1 and "." in rest[0]:
        return factor, rest[0]
    return (1.0, f"{factor!r} {' '.join(rest)}") if rest else (1.0, factor)
