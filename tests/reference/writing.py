"""TOML text of a tool, and quantities in the units of its file."""

import json
import math

import numpy as np

from units import INCH, POUND


def toml_value(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {toml_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, (list, tuple, np.ndarray)):
        return "[" + ", ".join(toml_value(v) for v in value) + "]"
    if isinstance(value, (bool, str)):
        return json.dumps(value)
    if isinstance(value, (int, np.integer)):
        return str(int(value))
    text = repr(float(value))
    return text if "." in text or "e" in text else text + ".0"


def toml_text(doc):
    lines = []

    def table(head, body):
        lines.append(head)
        lines.extend(f"{key} = {toml_value(value)}" for key, value in body.items())
        lines.append("")

    for name, body in doc.items():
        if name == "parts":
            for part, inner in body.items():
                table(f"[parts.{part}]", inner)
        elif isinstance(body, list):
            for inner in body:
                table(f"[[{name}]]", inner)
        else:
            table(f"[{name}]", body)
    return "\n".join(lines)


class Units:
    """Writes mm and N in the file's units, now and then as a string with its own unit."""

    def __init__(self, rng, system, strings):
        self.rng, self.system, self.strings = rng, system, strings

    def _write(self, value, bare, factor, other):
        if self.rng.random() < self.strings:
            unit, one = other[int(self.rng.integers(len(other)))]
            return f"{format(float(value) / one, '.15g')} {unit}"
        return float(value) / factor if bare else float(value)

    def length(self, mm):
        factor = 1.0 if self.system == "mm-N" else INCH
        return self._write(mm, True, factor, [("mm", 1.0), ("in", INCH), ("cm", 10.0)])

    def point(self, p):
        return [self.length(v) for v in p]

    def force(self, newton):
        factor = 1.0 if self.system == "mm-N" else POUND
        return self._write(newton, True, factor, [("N", 1.0), ("lbf", POUND), ("kN", 1e3)])

    def rate(self, value):
        factor = 1.0 if self.system == "mm-N" else POUND / INCH
        return self._write(value, True, factor, [("N/mm", 1.0), ("lbf/in", POUND / INCH)])

    def angle(self, degrees):
        return self._write(degrees, True, 1.0, [("deg", 1.0), ("rad", 180 / math.pi)])
