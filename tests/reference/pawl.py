"""What the pawl of a ratchet asks of the hand while the tool closes, from the description of `[ratchet]`.

From the tooth at `engages` on, a tooth each `pitch` until `frees`, the pawl's spring lifts over a tooth's height
once a pitch and its tip rubs along the tips: a steady couple between the part with the teeth and that with the
pawl, against the way that these turn on each other as the tool closes.
"""

import math

from units import ANGLE, LENGTH, TORQUE


class Ratchet:
    def __init__(self, loader, table):
        reader, pawl = loader.reader, table["pawl"]
        self.pair = (table["teeth-on"], pawl["on"])
        self.pitch = reader.read(table["pitch"], ANGLE)
        self.ends = [{kind: reader.read(value, ANGLE if kind == "handle" else LENGTH)}
                     for end in ("engages", "frees") for kind, value in table[end].items()]
        self.couple = 0.0
        if "height" in table:
            force = reader.read(pawl["spring"], TORQUE) / reader.read(pawl["length"], LENGTH)
            per_tooth = force * reader.read(table["height"], LENGTH)
            rub = float(table.get("friction", 0.0)) * force * reader.read(table["radius"], LENGTH)
            self.couple = per_tooth / self.pitch + rub

    def turn(self, bodies):
        index, turns = bodies.link.index, bodies.turns
        return turns[index[self.pair[0]]] - turns[index[self.pair[1]]]

    def engaged(self, places):
        """Angles of the first and the last tooth, and the sense of closing."""
        first, last = (self.turn(places.at(end).bodies) for end in self.ends)
        sense = math.copysign(1.0, last - first)
        teeth = math.floor(abs(last - first) / self.pitch + 1e-9)
        return first, first + sense * self.pitch * teeth, sense

    def drag(self, teeth, bodies):
        """Couple on the part with the teeth."""
        first, last, sense = teeth
        gone = sense * (self.turn(bodies) - first)
        inside = -1e-9 <= gone <= sense * (last - first) + 1e-9
        return -sense * self.couple if inside else 0.0
