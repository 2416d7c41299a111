"""Seeded tool files: invented linkages, each built from a random pose so that it goes together.

A tool is drawn as pins in one plane, its free motion is traced, and hand, jaw and stroke are
placed on a stretch of it without toggle, dead position or change point. The same seed gives the
same files.

    python generate.py DIRECTORY --count 200 --seed 1 [--frictionless] [--no-springs] [--no-work]
        [--locking] [--with gears,arc,cams,curves,flats,rollers,mixed,stops,adjusters,gears+adjusters]
"""

import argparse
import math
from pathlib import Path

import numpy as np

from adjusting import all_turned
from families import BUILDERS, FAMILIES, Draft, direction
from motion import Linkage, MotionError
from solver import Solution
from swaps import KINDS, swap
from toolfile import parse, rotation, tool_of
from tracing import Trace, choose_pair
from units import LENGTH
from writing import Units, toml_text


class Retry(Exception):
    """This draw makes no sound tool; draw again."""


def need(condition, why=""):
    if not condition:
        raise Retry(why)


# -- one tool ---------------------------------------------------------------------------------
class Maker:
    def __init__(self, family, rng, number, friction, springs, work, locking=False, kind=None):
        self.family, self.rng, self.number = family, rng, number
        self.locking, self.kind = locking, kind
        self.pieces = kind.split("+") if kind else []
        self.friction, self.springs, self.work = friction, springs, work
        # Which side of a flat the disc is on, only a sketch says.
        self.in_place = number % 3 == 2 and not {"flats", "mixed", "curves"} & set(self.pieces)
        self.pixels = not self.in_place and number % 7 == 3
        system = "in-lbf" if number // len(FAMILIES) % 2 else "mm-N"
        self.unit = Units(rng, system, 0.15 if number % 4 == 1 else 0.0)
        self.system = system
        self.exact = Units(rng, system, 0.0)

    def make(self):
        """The file's text, or `Retry`."""
        rng = self.rng
        self.draft = draft = Draft(rng)
        BUILDERS[self.family](draft)
        points = np.array(list(draft.at.values()))
        apart = [np.hypot(*(p - q)) for i, p in enumerate(points) for q in points[:i]]
        need(min(apart) > 8 or self.family == "slider", "pins too near")
        self._turn_and_shift()
        for piece in self.pieces:
            swap(piece, draft, rng, self.friction * (8.0 if self.locking else 1.0))
        doc = self._parts()
        self.doc = doc
        self.link = Linkage(parse(toml_text(doc)))
        try:
            self.start = self.link.assemble()
            self.trace = Trace(self.link, self.start, 2.5)
        except MotionError as error:
            raise Retry(str(error)) from error
        self._stretch()
        self._hand()
        self._jaw()
        self._loads()
        if "stops" in self.pieces:
            self._stop()
        if "adjusters" in self.pieces:
            self._adjusters()
        return self._stroke()

    def _turn_and_shift(self):
        """The whole tool anywhere in the plane; with pixels the heel is the datum."""
        turn = self.rng.uniform(0, 360)
        shift = self.rng.uniform(-80, 80, 2)
        matrix = rotation(math.radians(turn))
        at = {name: matrix @ p + shift for name, p in self.draft.at.items()}
        self.datum = next(iter(self.draft.parts[self.draft.fixed]))
        if self.pixels:
            at = {name: p - at[self.datum] for name, p in at.items()}
        self.draft.at = {name: np.round(p, 4) + 0.0 for name, p in at.items()}
        for slot in self.draft.slots:
            slot["angle"] += turn

    def _parts(self):
        rng, d, unit = self.rng, self.draft, self.unit
        drawn = self.exact if self.in_place else unit
        size = max(np.ptp([p for p in d.at.values()], axis=0))
        rough = {n: p + rng.uniform(-0.01, 0.01, 2) * size for n, p in d.at.items()}
        self.poses, parts, self.listed = {}, {}, set()
        fixed_axes = (0.0, np.zeros(2))
        riders = {s["part"] for s in d.slots + d.arcs} | {s["on"] for s in d.slots + d.arcs}
        riders |= {g["on"] for g in d.gears}
        riders |= {c[k] for c in d.cams for k in ("part", "other")} | set(d.marks)
        for name, pins in d.parts.items():
            table = {}
            if name == d.fixed:
                table["fixed"] = True
                self.poses[name] = fixed_axes
            elif self.in_place:
                self.poses[name] = fixed_axes
            else:
                self.poses[name] = (rng.uniform(-math.pi, math.pi), rng.uniform(-50, 50, 2))
            turn, shift = self.poses[name]
            plain = len(pins) == 2 and name not in riders and name not in (
                d.fixed, d.lever, d.output, d.against_hand, d.against_jaw)
            if plain and not self.in_place and rng.random() < 0.6:
                table["pins"] = list(pins)
                table["length"] = unit.length(np.hypot(*(d.at[pins[0]] - d.at[pins[1]])))
            elif (not self.in_place and not self.pixels and name not in riders
                  and name != d.fixed and rng.random() < 0.2):
                table["pins"] = list(pins)
                self.listed.add(name)
            else:
                table["pins"] = {p: drawn.point(rotation(-turn) @ (d.at[p] - shift))
                                 for p in pins}
            table["marks"] = [] if name in self.listed else {
                m: self.exact.point(rotation(-turn) @ (d.at[m] - shift))
                for m in d.marks.get(name, [])}
            parts[name] = table
        doc = {"tool": {"name": f"Invented {self.family} {self.number}", "units": self.system},
               "parts": {n: parts[n] for n in rng.permutation(list(parts))}}
        if not self.in_place:
            doc["sketch"] = self._sketch(rough)
        doc["slots"] = [self._slot(s) for s in d.slots] + [self._arc(a) for a in d.arcs]
        doc["cams"] = [self._cam(c) for c in d.cams]
        doc["gears"] = [self._gear(g) for g in d.gears]
        return doc

    def _sketch(self, rough):
        unit = self.unit
        if not self.pixels:
            keep = {n: unit.point(p) for n, p in rough.items()}
            for pin in self.draft.parts[self.draft.fixed]:
                if self.rng.random() < 0.5 and not any(
                        pin in self.draft.parts[n] for n in self.listed):
                    del keep[pin]
            return keep
        per_pixel, corner = 0.2, np.array([700.0, 500.0])

        self.pixel = pixel = lambda p: list(np.round(corner + p * [1, -1] / per_pixel, 1))
        rough[self.datum] = np.zeros(2)
        sketch = {n: pixel(p) for n, p in rough.items()}
        sketch["scale"] = {"from": [100, 900], "to": [400, 500],
                           "length": unit.length(500 * per_pixel)}
        sketch["origin"] = self.datum
        return sketch

    def _slot(self, slot):
        d, rng = self.draft, self.rng
        turn_on, shift_on = self.poses[slot["on"]]
        turn_part = self.poses[slot["part"]][0]
        through = slot["through"]
        if through is None:
            place = d.at[slot["point"]]
            if not self.in_place:
                place = place + rng.uniform(-20, 20) * direction(slot["angle"])
            through = self.exact.point(rotation(-turn_on) @ (place - shift_on))
        table = dict(part=slot["part"], point=slot["point"], on=slot["on"], through=through,
                     angle=self.unit.angle(slot["angle"] - math.degrees(turn_on)),
                     keyed=slot["keyed"])
        if slot["keyed"]:
            turn = math.remainder(math.degrees(turn_part - turn_on), 360)
            if turn:
                table["turn"] = self.unit.angle(turn)
            if rng.random() < 0.7:
                table["width"] = self.unit.length(rng.uniform(15, 60))
        if self.friction and rng.random() < 0.8:
            low, high = (0.3, 1.9) if self.locking else (0.03, 0.12)
            table["friction"] = round(rng.uniform(low, high), 3)
        if "roller" in slot:
            table["roller"] = self._roller(slot["roller"])
        return table

    def _roller(self, diameter):
        unit = self.exact.length
        return {"diameter": unit(diameter),
                "pin": unit(round(diameter * self.rng.uniform(0.3, 0.8), 3))}

    def _own(self, part, name):
        """A drawn point in the axes of its part, in the file's units, or its name."""
        turn, shift = self.poses[part]
        known = name in self.draft.parts[part] + self.draft.marks.get(part, [])
        if known and self.rng.random() < 0.5:
            return name
        return self.exact.point(rotation(-turn) @ (self.draft.at[name] - shift))

    def _arc(self, arc):
        table = dict(part=arc["part"], point=arc["point"], on=arc["on"],
                     centre=self._own(arc["on"], arc["centre"]),
                     radius=self.exact.length(arc["radius"]), friction=arc["friction"])
        if arc["roller"] is not None:
            table["roller"] = self._roller(arc["roller"])
        return table

    def _cam(self, cam):
        table = dict(part=cam["part"], pushes=f"{cam['other']}.{cam['point']}",
                     face=self._face(cam), friction=cam["friction"])
        if cam["roller"] is not None:
            table["roller"] = self._roller(cam["roller"])
        else:
            table["flat"] = self.exact.angle(cam["flat"] - math.degrees(
                self.poses[cam["other"]][0]))
        return table

    def _face(self, cam):
        if "points" not in cam:
            return {"centre": self._own(cam["part"], cam["centre"]),
                    "radius": self.exact.length(cam["radius"])}
        turn, shift = self.poses[cam["part"]]
        return {"points": [self.exact.point(rotation(-turn) @ (p - shift)) for p in cam["points"]]}

    @staticmethod
    def _gear(gears):
        return {key: value for key, value in gears.items() if value is not None and key != "on"}

    # -- the stretch of motion that the stroke may use -----------------------------------------
    def _hand_turn(self, pose):
        turn = self.link.angle(pose, self.draft.lever)
        if self.draft.against_hand != self.draft.fixed:
            turn -= self.link.angle(pose, self.draft.against_hand)
        return turn

    def _stretch(self):
        rng, link = self.rng, self.link
        nodes = self.trace.nodes
        turns = np.array([self._hand_turn(n.pose) for n in nodes])
        rate = np.gradient(turns, [n.s for n in nodes])
        middle = next(i for i, n in enumerate(nodes) if n.s == 0.0)
        sound = [abs(r) > 0.12 and link.tangent(n.pose)[1] > 0.03 for r, n in zip(rate, nodes)]
        need(sound[middle], "sketch at a bad place")
        low = high = middle
        while low > 0 and sound[low - 1] and rate[low - 1] * rate[middle] > 0:
            low -= 1
        while high < len(nodes) - 1 and sound[high + 1] and rate[high + 1] * rate[middle] > 0:
            high += 1
        wanted = math.radians(rng.uniform(6, 40))
        room = abs(turns[high] - turns[low])
        need(room > math.radians(10), "little motion")
        wanted = min(wanted, 0.8 * room)
        ends = [(i, j) for i in range(low, high) for j in range(i + 1, high + 1)
                if abs(abs(turns[j] - turns[i]) - wanted) < 0.1 * wanted
                and i - 3 <= middle <= j + 3]
        need(ends, "no stretch")
        i, j = ends[int(rng.integers(len(ends)))]
        self.stretch = nodes[i:j + 1]
        if rng.random() < 0.5:
            self.stretch = self.stretch[::-1]
        self.way = 1.0 if self.stretch[-1].s > self.stretch[0].s else -1.0

    def _local(self, pose, part, place):
        """A place in the fixed part's axes in the axes of a part."""
        origin = self.link.point(pose, part, np.zeros(2))
        return rotation(-self.link.angle(pose, part)) @ (place - origin)

    def _relative(self, part, local, other):
        """Path over the stretch of a point of one part in another's axes."""
        return np.array([self._local(n.pose, other, self.link.point(n.pose, part, local))
                         for n in self.stretch])

    # -- hand, jaw, loads ----------------------------------------------------------------------
    def _hand(self):
        rng, d, link, unit = self.rng, self.draft, self.link, self.unit
        first = self.stretch[0]
        heel = link.tool.parts[d.lever].points[d.heel]
        out = direction(rng.uniform(0, 360))
        side = np.array([-out[1], out[0]])
        line = [heel + 10 * out, heel + 80 * out + rng.uniform(-8, 8) * side,
                heel + 170 * out + rng.uniform(-15, 15) * side]
        reach = sum(np.hypot(*(q - p)) for p, q in zip(line, line[1:]))
        grips = sorted(rng.uniform(0.3, 0.95, int(rng.integers(1, 4))) * reach)
        hand = {"part": d.lever, "line": [unit.point(p) for p in line]}
        named = rng.random() < 0.3 and d.lever not in self.listed
        if named:
            self.doc["parts"][d.lever]["marks"]["root"] = unit.point(line[0])
            hand["line"][0] = "root"
        if rng.random() < 0.5:
            hand["smooth"] = True
        push = rng.choice(["across", "across", "square", "fixed"])
        if d.against_hand != d.fixed or push == "across" or rng.random() < 0.5:
            hand["against"] = {"part": d.against_hand,
                               "line": self._facing_line(first, line)}
        if push == "square" or (push == "across" and rng.random() < 0.5):
            hand["push"] = str(push)
        if push == "fixed":
            tip = self._relative(d.lever, line[-1], d.fixed)
            move = tip[-1] - tip[0]
            hand["push"] = unit.angle(round(math.degrees(math.atan2(move[1], move[0]))
                                            + rng.uniform(-25, 25), 3))
        if push != "across" and rng.random() < 0.4:
            others = [p for p in self.doc["parts"] if p != d.lever]
            hand["palm"] = False if rng.random() < 0.5 else str(rng.choice(others))
        hand["grips"] = [unit.length(g) for g in grips]
        hand["force"] = unit.force(round(rng.uniform(80, 250), 1))
        if rng.random() < 0.5:
            hand["thickness"] = unit.length(12)
        self.doc["hand"] = hand

    def _facing_line(self, first, line):
        """The other handle beside the first, on the side to which the hand closes."""
        d, link = self.draft, self.link
        path = self._relative(d.lever, line[-1], d.against_hand)
        move = (path[-1] - path[0]) / np.hypot(*(path[-1] - path[0]))
        far = self.rng.uniform(20, 50) + np.hypot(*(path[-1] - path[0]))
        points = []
        for k, p in enumerate(line):
            here = self._local(first.pose, d.against_hand, link.point(first.pose, d.lever, p))
            points.append(here + move * (far if k else 25)
                          + self.rng.uniform(-5, 5, 2))
        # Long enough for every grip.
        points[-1] = points[-1] + 0.25 * (points[-1] - points[0])
        return [self.unit.point(p) for p in points]

    def _mark(self, part, name, local):
        """A further mark of a part: in its table, or in its list and the sketch."""
        table = self.doc["parts"][part]
        if part in self.listed:
            table["marks"].append(name)
            self.doc["sketch"][name] = self.unit.point(local)
        else:
            table["marks"][name] = self.unit.point(local)
            self._settle(part, name, local)

    def _settle(self, part, name, local):
        """A part on one pin, with a slot that may turn: its pin alone does not say how it stands.

        Such a tool goes together in two ways, and each solver may guess its own; a mark settles it.
        """
        sketch = self.doc.get("sketch")
        open_slot = any(s["on"] == part and not s["keyed"] for s in self.draft.slots)
        if sketch is None or not open_slot or len(self.draft.parts[part]) > 1:
            return
        place = np.round(self.link.point(self.start, part, local), 1)
        sketch[name] = self.pixel(place) if self.pixels else self.unit.point(place)

    def _jaw(self):
        rng, d, link = self.rng, self.draft, self.link
        self.doc["jaw"] = []
        for number in range(2 if rng.random() < 0.3 else 1):
            out = link.tool.parts[d.output]
            anchor = out.points[out.pins[0]]
            tip = anchor + rng.uniform(20, 60) * direction(rng.uniform(0, 360))
            path = self._relative(d.output, tip, d.against_jaw)
            move = path[0] - path[-1]
            reach = np.hypot(*move)
            need(reach > 0.5, "jaw hardly moves")
            lean = math.degrees(math.atan2(move[1], move[0])) + rng.uniform(-30, 30)
            axis = direction(lean)
            # Gap at shut: exactly nothing, or something.
            rest = rng.uniform(0, 8)
            anvil = path[-1] - axis * rest + rng.uniform(-6, 6) * np.array([-axis[1], axis[0]])
            name = ("nose", "nest")[number]
            self._mark(d.output, name, tip)
            self._mark(d.against_jaw, f"{name}-anvil", anvil)
            jaw = {"name": name, "on": f"{d.output}.{name}",
                   "against": f"{d.against_jaw}.{name}-anvil"}
            default = rng.random() < 0.3
            if default:
                need(rest > 3, "default axis needs distance")
            else:
                jaw["axis"] = self.unit.angle(round(lean, 3))
                if rng.random() < 0.5:
                    jaw["closed"] = self.exact.length(rest)
            self.doc["jaw"].append(jaw)

    def _loads(self):
        rng, d, unit, doc = self.rng, self.draft, self.unit, self.doc
        if self.friction:
            # Thick rough pins: their friction circles are as wide as some arms are long.
            thick, rough = ((8, 24), (0.15, 1.2)) if self.locking else ((4, 8), (0.05, 0.15))
            doc["joints"] = {"diameter": unit.length(round(rng.uniform(*thick), 1)),
                             "friction": round(rng.uniform(*rough), 3)}
            pin = str(rng.choice([p for p in d.at if sum(p in q for q in d.parts.values()) > 1]))
            if rng.random() < 0.6:
                doc["joints"][pin] = {"diameter": unit.length(round(rng.uniform(3, 10), 1))}
        if not self.springs:
            return
        start, end = self.stretch[0].pose, self.stretch[-1].pose
        doc["springs"] = []
        if rng.random() < 0.7:
            link = self.link
            heel = link.tool.parts[d.lever].points[d.heel]
            tail = heel + rng.uniform(20, 45) * direction(rng.uniform(0, 360))
            place = link.point(start, d.lever, tail)
            peg = place + rng.uniform(25, 60) * direction(rng.uniform(0, 360))
            self._mark(d.lever, "tail", tail)
            self._mark(d.fixed, "peg", peg)
            lengths = [np.hypot(*(link.point(p, d.lever, tail) - peg)) for p in (start, end)]
            spring = {"from": f"{d.lever}.tail", "to": f"{d.fixed}.peg",
                      "rate": unit.rate(round(rng.uniform(0.1, 0.8), 3))}
            acts = str(rng.choice(["both", "push", "pull"]))
            if rng.random() < 0.5:
                spring["free"] = unit.length(lengths[0] * rng.uniform(0.9, 1.1))
            else:
                spring["preload"] = unit.force(round(rng.uniform(1, 10), 2))
            if acts != "both" or rng.random() < 0.3:
                spring["acts"] = acts
            doc["springs"].append(spring)
        if not doc["springs"] or rng.random() < 0.4:
            first, second = self.link.tool.pins_of(d.heel)[:2]
            turns = [math.degrees(self.link.angle(n.pose, second)
                                  - self.link.angle(n.pose, first)) for n in self.stretch]
            need(max(map(abs, turns)) < 170, "spring angle near half a turn")
            rate = round(rng.uniform(2, 30), 2)
            doc["springs"].append({"pin": d.heel, "rate": f"{rate} N mm/deg",
                                   "free": unit.angle(round(turns[0] + rng.uniform(-10, 10), 2))})

    def _stop(self):
        """A lug of the lever that meets a pad of the fixed part: at shut, or in every other tool before it."""
        rng, d, link = self.rng, self.draft, self.link
        heel = link.tool.parts[d.lever].points[d.heel]
        lug = heel + rng.uniform(15, 60) * direction(rng.uniform(0, 360))
        path = self._relative(d.lever, lug, d.fixed)
        met = path[-1 if self.number % 2 else int(0.8 * len(path))]
        move = path[0] - met
        need(np.hypot(*move) > 1, "lug hardly moves")
        lean = math.degrees(math.atan2(move[1], move[0])) + rng.uniform(-30, 30)
        rest = rng.uniform(2, 8)
        self._mark(d.lever, "lug", lug)
        self._mark(d.fixed, "pad", met - rest * direction(lean))
        stop = {"name": "handle-stop", "on": f"{d.lever}.lug", "against": f"{d.fixed}.pad",
                "axis": self.unit.angle(round(lean, 3)), "closed": self.exact.length(rest),
                "ends": "shut"}
        if rng.random() < 0.3:
            del stop["axis"]
        self.doc["stops"] = [stop]

    def _adjusters(self):
        """An eccentric pin of the fixed part, and the place of the first jaw's anvil."""
        rng, d, unit = self.rng, self.draft, self.unit
        shared = [p for p in d.parts[d.fixed]
                  if sum(p in pins for pins in d.parts.values()) > 1]
        self.doc["adjusters"] = [
            {"name": "eccentric", "pin": str(rng.choice(shared)), "on": d.fixed,
             "throw": unit.length(round(rng.uniform(0.2, 0.6), 3)), "from": unit.angle(-80),
             "to": unit.angle(80), "now": unit.angle(int(rng.integers(-2, 3)) * 40), "notches": 5}]
        if d.against_jaw not in self.listed:
            self.doc["adjusters"].append(
                {"name": "screw", "dimension": f"{d.against_jaw}.nose-anvil.{rng.choice(['x', 'y'])}",
                 "from": unit.length(-0.3), "to": unit.length(0.3), "notches": 3})

    # -- stroke --------------------------------------------------------------------------------
    def _stroke(self):
        rng, doc = self.rng, self.doc
        self.doc = doc = {k: v for k, v in doc.items() if v != []}
        for table in doc["parts"].values():
            if not table.get("marks", True):
                del table["marks"]
        try:
            tool = parse(toml_text(doc))
        except ValueError as error:
            raise Retry(str(error)) from error
        # Same linkage, but with the size that the marks give it.
        self.link = link = Linkage(tool)
        start = link.assemble()
        trace = Trace(link, start, 12.0)
        per_unit = tool.reader.factor(LENGTH)
        goal = [self._again(trace, node) for node in (self.stretch[0], self.stretch[-1])]
        targets = []
        for node in goal:
            kind = str(rng.choice(["gap", "gap", "handle", "span"]))
            if kind == "span" and (tool.hand.against is None or tool.hand.push != "across"):
                kind = "gap"
            if kind == "gap":
                value = link.gap(node.pose, tool.jaws[0]) / per_unit
                if abs(value) < 0.3 and tool.jaws[0].axis is not None and node is goal[1]:
                    value = 0.0
                need(value >= 0, "negative gap")
            elif kind == "handle":
                value = math.degrees(math.remainder(link.handle(node.pose), 2 * math.pi))
                need(abs(value) < 170, "handle near half a turn")
            else:
                value = link.span(node.pose, tool.hand.grips[0]) / per_unit
            targets.append({kind: round(value, 5)})
        if "stops" in self.pieces and self.number % 4 == 1:
            targets[1] = {"stop": "handle-stop"}
        doc["stroke"] = {"open": targets[0], "shut": targets[1],
                         "steps": int(rng.integers(6, 25))}
        text = toml_text(doc)
        tool = parse(text)
        self._only_pair(tool, trace, goal)
        if self.work and not self.locking:
            solution = Solution(tool)
            self._work(solution)
            text = toml_text(doc)
            tool.work = parse(text).work
            self._sound(solution)
            return text
        if self.work:
            self._work(Solution(tool))
            text = toml_text(doc)
        if self.locking:
            self._locks(parse(text))
        else:
            self._sound(Solution(parse(text)))
        return text

    def _again(self, trace, node):
        """The node of a trace with the same handle turn as an earlier one."""
        hits = trace.crossings(lambda n: self._hand_turn(n.pose) - self._hand_turn(node.pose))
        near = [h for h in hits if all(
            abs(math.remainder(x, 2 * math.pi)) < 1e-6 for x in
            (h.pose - node.pose).reshape(-1, 3)[:, 2])]
        need(near, "stretch not found again")
        return min(near, key=lambda n: abs(n.s))

    def _only_pair(self, tool, trace, goal):
        """The stroke meant is the one found, and no other is nearly as near."""
        trace.linkage.tool = tool
        toggles, contacts = trace.turning(tool.jaws[0])
        opens, shuts = trace.hits(tool.open, contacts), trace.hits(tool.shut, contacts)
        pair = choose_pair(opens, shuts, toggles)
        need(pair is not None and not pair[2], "toggle in the stroke")
        o, s = pair[:2]
        need(abs(o.s - goal[0].s) < 0.05 and abs(s.s - goal[1].s) < 0.05, "other stroke")
        reach = max(abs(o.s), abs(s.s))
        for a in opens:
            for b in shuts:
                if (a is o) != (b is s) or (a is not o and b is not s):
                    low, high = sorted((a.s, b.s))
                    if not any(low < t.s < high for t in toggles):
                        need(min(abs(a.s), abs(b.s)) > 1.2 * reach, "two strokes")
        low, high = sorted((o.s, s.s))
        need(all(t.s < low - 0.03 or t.s > high + 0.03 for t in toggles), "near a toggle")

    def _work(self, solution):
        """A work curve that covers the stroke's gaps and rises towards shut."""
        rng, link = self.rng, solution.link
        jaw = solution.tool.jaws[0]
        gaps = [link.gap(p, jaw) for p, _, _ in solution.stroke]
        low, high = min(gaps), max(gaps)
        need(high - low > 0.2, "gap hardly changes")
        top = rng.uniform(200, 3000)
        shares = [(-0.02, 1.0), (0.3, 0.6), (0.6, 0.3), (1.02, 0.1)]
        if gaps[0] < gaps[-1]:
            shares = [(x, 1.1 - y) for x, y in shares]
        self.doc["work"] = {"need": [
            [self.unit.length(low + x * (high - low)), self.unit.force(y * top)]
            for x, y in reversed(shares)]}

    def _sound(self, solution):
        self._sound_as_drawn(solution)
        if "adjusters" in self.pieces:
            doc, _ = all_turned(self.doc, solution.tool.reader)
            Solution(tool_of(doc, "."))
        if "stops" in self.pieces:
            stop, link = solution.tool.stops[0], solution.link
            gaps = [link.gap(pose, stop) for pose, _, _ in solution.stroke]
            # Once, and before the dies if there are such; there is none without a way to it.
            need(gaps[0] > 1e-3 * link.size and np.all(np.diff(gaps) < 0), "stop not met")
            need(gaps[-1] < 1e-9 * link.size, "stop not met")
            dies = [link.gap(pose, jaw) for pose, _, _ in solution.stroke for jaw in solution.tool.jaws]
            need(min(dies) > -1e-9 * link.size, "dies meet too")

    def _sound_as_drawn(self, solution):
        """Every position has positive, tame forces; every fourth tool with a cam lifts off somewhere."""
        tool = solution.tool
        gaps = [solution.link.gap(p, tool.jaws[0]) for p, _, _ in solution.stroke]
        need(np.all(np.diff(gaps) < 0), "gap not closing")
        ratios, lifted = [], 0
        lifting = self.kind in ("cams", "flats", "curves") and self.number % 4 == 3
        for k in range(tool.steps + 1):
            position = solution.numbers(k)
            for grip in position["grips"]:
                for jaw in grip["jaws"].values():
                    ratios.append(jaw["ratio"])
                    lifted += jaw["lifts_off"]
                    if lifting and jaw["lifts_off"]:
                        continue
                    need(jaw["jaw_force"] is not None and jaw["jaw_force"] > 0, "no force")
                    need(0.3 < jaw["efficiency"] < 1.0 + 1e-9, "rubs too much")
                    if tool.work is not None and not lifting:
                        need(jaw["hand_force"] is not None and jaw["hand_force"] > 0, "no hand")
                need(all(v < 200 * tool.hand.force * solution.per_force
                         for v in grip["pin_loads"].values()), "loads too large")
        need(lifting == (lifted > 0), "lifts off")
        need(min(ratios) > 0.02 and max(ratios) < 100, "ratio out of the way")


    def _locks(self, tool):
        """Locks itself at some positions of the one way or the other, and moves at some."""
        found = [jaw["locked"] for opening in (False, True)
                 for solution in [Solution(tool, opening)]
                 for k in range(tool.steps + 1)
                 for grip in solution.numbers(k)["grips"] for jaw in grip["jaws"].values()]
        need(any(found) and not all(found), "locks nowhere or everywhere")


def make_tool(family, seed, friction=True, springs=True, work=True, locking=False, kind=None):
    """Text of one tool file of a family; `seed` also picks units, sketch or drawn in place.

    Springs and work are put into some of the tools only.
    """
    rng = np.random.default_rng([seed, FAMILIES.index(family)]
                                + [1 + list(KINDS).index(k) for k in (kind or "").split("+") if k])
    with_springs = springs and rng.random() < 0.5
    with_work = work and rng.random() < 0.5
    reasons = {}
    for _ in range(400):
        try:
            return Maker(family, rng, seed, friction, with_springs, with_work, locking,
                         kind).make()
        except (Retry, MotionError, ValueError) as reason:
            reasons[str(reason)] = reasons.get(str(reason), 0) + 1
    raise RuntimeError(f"no {family} tool in 400 draws: {reasons}")


def generate(folder, count, seed, friction=True, springs=True, work=True, locking=False,
             kinds=()):
    """Writes `count` tools and gives their paths; the family is the start of each name.

    With `kinds` it writes `count` tools of each of these contacts, named after them.
    """
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for kind, number in ((k, n) for k in kinds or [None] for n in range(count)):
        fitting = KINDS[kind.split("+")[0]] if kind else FAMILIES
        family = fitting[number % len(fitting)]
        text = make_tool(family, 1000 * seed + number, friction, springs, work, locking, kind)
        path = folder / f"{kind or family}-{number:04}.toml"
        path.write_text(f"# Invented; {kind or family} {number} of seed {seed}.\n" + text,
                        encoding="utf-8")
        paths.append(path)
    return paths


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    options.add_argument("folder")
    options.add_argument("--count", type=int, default=200)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--frictionless", action="store_true")
    options.add_argument("--no-springs", action="store_true")
    options.add_argument("--no-work", action="store_true")
    options.add_argument("--locking", action="store_true")
    options.add_argument("--with", dest="kinds", default="", metavar="KIND,KIND")
    chosen = options.parse_args()
    generate(chosen.folder, chosen.count, chosen.seed, not chosen.frictionless,
             not chosen.no_springs, not chosen.no_work, chosen.locking,
             [k for k in chosen.kinds.split(",") if k])
