"""Compares the life under repeated load that `loads --json` prints with this reference.

    venv/bin/python tests/reference/compare_life.py --binary target/release/jawforce demo-data/*.toml

Generated tools: a lever that pulls a ram up by a link, in half of them with springs that push the link together before the
work pulls it; materials, surfaces, sizes and loads at random. A tool file that is named gets a surface on each of its
materials and a [life] of one of three kinds; one with a [life] of its own is taken as it is.

The greatest stress at a place is the one of its strength factor, which `compare_loads.py` finds by itself. The least is 0 (the
tool put down), or that of the same part or pin turned round: as it closes, and as it opens against the work, at the grip of
the worst. Of pins and links of the generated tools it comes from this solver; elsewhere it is taken as printed. From these:
endurance, notch, factor, number of strokes (`fatigue.py`). Every place with a factor and a surface must be there.

Limits: 1e-6. The program looks for the least stress at 25 positions, and where the work asks for nothing it does not look: the
least of the generated tools stands at an end of the stroke, under work. Plates cut across are taken with the inputs that the program names (`compare_cuts.py` checks them), their holes
without less sensitivity to notches, since no radius is printed. Reliabilities are those of the table.
"""

import math
import re
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy as np

import fatigue
from ledger import answer
from likeness import LIMIT, alike, run
from solver import Solution
from stations import Places
from strengthdata import read
from toolfile import load
from units import FORCE, LENGTH, STRESS, Reader
from writing import Units, toml_text

LIMITS = dict.fromkeys(("most", "least", "endurance", "steady", "kt", "kf", "factor", "strokes", "lasts", "against",
                        "reliability", "places"), LIMIT)
WHOLE = ("gross section", "net section")
LISTED = ("pin shear", "pin bending", "gross section", "net section", "bending ")
# Jaw force over the tool's hand force that stands for an empty jaw.
EMPTY = 1e-6
RULES = ({"strokes": 50000, "reliability": 90, "against": "soderberg"}, {"strokes": 2000},
         {"strokes": 3e5, "reliability": 99.9, "against": "goodman"})


# -- generated tools ---------------------------------------------------------------------------
def make(number, seed):
    rng = np.random.default_rng([seed, number, 61])
    unit = Units(rng, "in-lbf" if number % 4 == 3 else "mm-N", .15)
    length, point, force = unit.length, unit.point, unit.force

    def metal():
        most = float(rng.uniform(330, 1900))
        return {"yield": f"{most * rng.uniform(.55, .9)!r} MPa", "ultimate": f"{most!r} MPa", "modulus": "205 GPa",
                "surface": str(rng.choice(list(fatigue.SURFACE)))}

    def section():
        wide = float(rng.uniform(16, 60))
        one = {"width": length(wide), "thickness": length(float(rng.uniform(2, 9))), "material": "plate",
               "edge": length(wide * .7)}
        if rng.random() < .5:
            one["plates"] = 2
        return one

    link = float(rng.uniform(35, 45))
    wide = float(rng.uniform(34, 60))
    joints = {"diameter": length(float(rng.uniform(3, 14))), "friction": round(float(rng.uniform(0, .15)), 3),
              "clearance": length(.04), "material": "pin", "shear": str(rng.choice(["single", "double"]))}
    joints["heel"] = {"diameter": length(float(rng.uniform(5, 40)))}
    hand = float(np.exp(rng.uniform(math.log(150), math.log(4000))))
    doc = {
        "tool": {"name": f"life {number}", "units": unit.system},
        "parts": {"frame": {"fixed": True, "pins": {"heel": point([0, 0]), "post": point([-20, -50])},
                            "marks": {"anvil": point([40, -30.3])}},
                  "lever": {"pins": {"heel": point([0, 0]), "knee": point([20, 0])}},
                  "link": {"pins": ["knee", "wrist"], "length": length(link)},
                  "ram": {"pins": {"post": point([0, 0]), "wrist": point([40, 50 - link])},
                          "marks": {"nose": point([60, 12])}}},
        "sketch": {"knee": point([20, 0]), "wrist": point([20, -link])},
        "hand": {"part": "lever", "line": [point([-10, 0]), point([-120, 0])], "grips": [length(80), length(110)],
                 "push": "square", "force": force(hand), "limit": force(hand * 1.2)},
        "jaw": [{"name": "nose", "on": "ram.nose", "against": "frame.anvil", "axis": -90.0}],
        "stroke": {"open": {"gap": length(8)}, "shut": {"gap": length(2)}, "steps": 6},
        "work": {"need": [[length(9), force(1.0)], [length(1), force(hand * float(rng.uniform(.5, 4)))]]},
        "joints": joints,
        "life": {"strokes": float(round(10 ** rng.uniform(2.5, 6.5)))},
        "materials": {"plate": metal(), "pin": metal()},
        "sections": {"lever": section(), "link": {**section(), "width": length(wide)}, "ram": section()},
    }
    if rng.random() < .7:
        doc["life"]["reliability"] = float(rng.choice(list(fatigue.RELIABILITY)))
    if rng.random() < .6:
        doc["life"]["against"] = str(rng.choice(["goodman", "soderberg"]))
    if number % 2:
        pull = hand * float(rng.uniform(.2, .5))
        doc["springs"] = [
            {"from": "ram.nose", "to": "frame.anvil", "rate": f"{pull / 4!r} N/mm", "free": length(4), "acts": "pull"},
            {"pin": "heel", "rate": f"{pull * 25 / 40!r} N mm/deg", "free": -60.0}]
    return doc


def text_of(doc):
    tables = {k: v for k, v in doc.items() if k not in ("materials", "sections", "joints")}
    tail = "".join(toml_text({f"{name}.{key}": inner}) for name in ("materials", "sections")
                   for key, inner in doc.get(name, {}).items())
    joints = doc["joints"]
    common = {k: v for k, v in joints.items() if not isinstance(v, dict)}
    tail += toml_text({"joints": common}) + "".join(
        toml_text({f"joints.{k}": v}) for k, v in joints.items() if isinstance(v, dict))
    return toml_text(tables) + "\n" + tail


# -- stresses of pins and links over the cycle ---------------------------------------------------
class Cycle:
    """Force of every pin joint, and axial force of every link, at both ends of the stroke: as it closes under the hand's most;
    closing and opening under the work, and with next to nothing in the jaw, where the hand moves or holds the springs."""

    def __init__(self, path):
        tool = load(path)
        data = read(path)
        closing = Solution(tool)
        self.reach = {}          # {(subject, grip): [vectors]}
        for solution in (closing, closing.back()):
            places = Places(solution)
            for station in (places.steps[0], places.steps[-1]):
                for grip in tool.hand.grips:
                    answers = [station.under_work(grip), station.under_work(grip, EMPTY * tool.hand.force)]
                    answers = [z for z in answers if z is not None and z[-1] > 0]
                    if not solution.opening:
                        answers.append(station.under_hand(grip, data.hand(station.span(grip), tool.hand.force)))
                    for z in answers:
                        if z is not None:
                            self.keep(tool, z, grip)
        self.grips = tool.hand.grips

    def keep(self, tool, z, grip):
        for k, joint in enumerate(tool.joints):
            self.reach.setdefault((joint.label, grip), []).append(np.array(z[2 * k:2 * k + 2]))

    def reversed_share(self, label, grip):
        """How much of the greatest force comes the other way round, at a grip; 0 where none does."""
        forces = self.reach[label, grip]
        worst = max(forces, key=lambda f: float(np.hypot(*f)))
        return max((float(np.hypot(*f)) for f in forces if f @ worst < 0), default=0.0) / float(np.hypot(*worst))


# -- one file ------------------------------------------------------------------------------------
class Life:
    def __init__(self, path, said, cycle):
        self.doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
        self.reader = Reader(self.doc["tool"]["units"])
        self.said, self.cycle = said, cycle
        self.life = self.doc["life"]
        self.stress, self.length = self.reader.factor(STRESS), self.reader.factor(LENGTH)
        self.links = {name: t["pins"] for name, t in self.doc["parts"].items() if "length" in t}

    def metal(self, subject, check):
        if check.startswith("pin "):
            joints = self.doc["joints"]
            pin = subject.split(":")[0]
            name = {**joints, **joints.get(pin, {})}.get("material")
        else:
            name = self.doc.get("sections", {}).get(subject, {}).get("material")
        table = self.doc.get("materials", {}).get(name)
        return table if table and "surface" in table and "ultimate" in table else None

    def want(self, place, factor):
        """What has to be said of a place, from the factor of the same (None: none is printed at that very spot)."""
        table = self.metal(place["subject"], place["check"])
        most, yields = (self.reader.read(table[k], STRESS) for k in ("ultimate", "yield"))
        shear = place["check"].startswith("pin shear")
        steady = yields if self.life.get("against") == "soderberg" else most
        steady *= (.577 if steady == yields else .67) if shear else 1
        found = {"steady": steady / self.stress}
        high, low = place["most"] * self.stress, place["least"] * self.stress
        last, kf = place["endurance"] * self.stress, place["kf"] or 1.0
        if factor is not None:
            found["most"] = high = factor["value"]
            high *= self.stress
            inputs = {name: value for name, value, _ in factor["inputs"]}
            last = self.endurance(place["check"], table, most, inputs)
            found["endurance"] = last / self.stress
            kt, kf = self.notch(place["subject"], factor, inputs, most)
            found["kt"], found["kf"] = kt, kf
            kf = kf or 1.0
            if self.cycle is not None:
                low = self.least(place, factor, high)
                found["least"] = low / self.stress
        first = .9 * most * (.67 if shear else 1)
        here = fatigue.Place(high, low, steady, first, last, kf)
        found["factor"] = here.factor(self.life["strokes"])
        found["strokes"] = here.strokes()
        found["lasts"] = found["factor"] >= 1
        return found

    def endurance(self, check, table, most, inputs):
        wide = self.length
        if check.startswith("pin bending"):
            load, across = 1.0, .37 * inputs["d"] * wide
        elif check.startswith("pin shear"):
            load, across = fatigue.TWIST, inputs["d"] * wide
        elif check in WHOLE:
            load, across = fatigue.AXIAL, 0.0
        else:
            depth = inputs.get("h", inputs.get("w"))
            load, across = 1.0, fatigue.plate(depth * wide, inputs["t"] * wide)
        return fatigue.endurance(most, table["surface"], self.life.get("reliability", 50), load, across)

    def notch(self, subject, factor, inputs, most):
        """Kt and Kf; nothing where there is no notch."""
        check, value = factor["check"], factor["value"]
        if check == "net section":
            kt = fatigue.eye(inputs["d"] / inputs["w"])
            return kt, fatigue.notched(kt, inputs["d"] * self.length / 2, most)
        if check == "bending at a cut":
            # A hole lies inside: what it concentrates goes through the middle, and the outer edges may still carry more.
            share = 1 - inputs["A"] / (inputs["h"] * inputs["t"] * inputs["n"])
            if share > 1e-9:
                pinned = self.nearest_pin(subject, factor["place"]) < inputs["h"]
                kt = fatigue.eye(share) if pinned else fatigue.hole(share)
                middle = math.hypot(inputs["N"], math.sqrt(3) * 1.5 * inputs["V"]) / inputs["A"]
                if kt * middle > value * (1 + 1e-9):
                    return kt, kt * middle / value
        return None, None

    def nearest_pin(self, part, place):
        """How far the nearest pin is from a place such as "at (1 mm, -2 mm) of the part", in the file's units."""
        at = [float(v) for v in re.findall(r"-?[\d.]+(?= )", place)]
        pins = self.doc["parts"][part]["pins"]
        return min((math.dist(at, [self.reader.read(v, LENGTH) / self.length for v in point])
                    for point in pins.values()), default=math.inf) if isinstance(pins, dict) else 0.0

    def least(self, place, factor, high):
        subject, check = place["subject"], place["check"]
        grip = min(self.cycle.grips, key=lambda g: abs(g - factor["grip"] * self.length))
        if check == "net section":
            return 0.0              # pushed together the pin presses on the other side of the hole
        if subject in self.links:
            label = next(l for l, _ in self.cycle.reach if l.split(":")[0] == self.links[subject][0])
            return -high * self.cycle.reversed_share(label, grip)
        if check.startswith("pin "):
            return -high * self.cycle.reversed_share(subject, grip)
        return place["least"] * self.stress

    def compare(self, ledger, where):
        life = self.said["life"]
        alike(ledger, where, life, {"against": self.life.get("against", "goodman").capitalize(),
                                    "reliability": float(self.life.get("reliability", 50)),
                                    "strokes": float(self.life["strokes"])})
        factors = {(f["subject"], f["check"], f["place"]): f for f in self.said["factors"]}
        floor = {"least": 1e-6 * max(p["most"] for p in life["places"])}
        for place in life["places"]:
            key = (place["subject"], place["check"], place["place"])
            name = f"{where} {' '.join(map(str, key))}"
            if self.metal(place["subject"], place["check"]) is None:
                ledger.missing("places", f"{name}: not expected")
                continue
            alike(ledger, name, place, self.want(place, factors.get(key)), floor=floor)
        there = {(p["subject"], p["check"]) for p in life["places"]}
        for subject, check, _ in factors:
            if check.startswith(LISTED) and self.metal(subject, check):
                ledger.add("places", 0.0 if (subject, check) in there else math.inf, f"{where} {subject} {check}")


def surfaced(path, rule, folder):
    """A copy of a tool file with a surface on every material and a [life]."""
    text = path.read_text(encoding="utf-8")
    text = re.sub(r"^(\[materials\.[\w-]+\].*)$", r'\1' + f'\nsurface = "{list(fatigue.SURFACE)[rule % 5]}"', text,
                  flags=re.M)
    text = re.sub(r"^\s*surface *=.*\n(?=(?:(?!\[).*\n)*?\s*surface)", "", text, flags=re.M)
    for data in path.parent.glob("*.csv"):
        text = text.replace(f'"{data.name}"', f'"{data.resolve()}"')
    table = "\n".join(f"{k} = {v!r}" for k, v in RULES[rule].items()).replace("'", '"')
    made = folder / path.name
    made.write_text(f"{text}\n[life]\n{table}\n", encoding="utf-8")
    return made


def compare(binary, path, document, ledger):
    if document is not None:
        path.write_text(text_of(document), encoding="utf-8")
        Life(path, answer(binary, "loads", path), Cycle(path)).compare(ledger, path.name)
        return
    if re.search(r"^\[life\]", path.read_text(encoding="utf-8"), re.M):
        Life(path, answer(binary, "loads", path), None).compare(ledger, path.name)
        return
    with tempfile.TemporaryDirectory() as folder:
        made = surfaced(path, sum(map(ord, path.stem)) % len(RULES), Path(folder))
        Life(made, answer(binary, "loads", made), None).compare(ledger, path.name)


if __name__ == "__main__":
    sys.exit(run(__doc__, LIMITS, make, compare))
