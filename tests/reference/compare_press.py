"""Compares `jawforce loads --json` with this reference: rigid pieces pressed in made tools.

    venv/bin/python tests/reference/compare_press.py --binary target/release/jawforce made/*.toml

Every file gets sections and metals (`sectioned.py`), a piece and a hand force, by turns: that ends the hand half of the
way from the touch to shut, that is nearly spent at shut, a piece so thin that some tools do not come down to it, one that
does not fit into some, a hand that is spent as soon as it presses. So made tools differ in how it ends. No
stroke of a file goes past a toggle, so that none snaps through. Each file is then made with all
lengths of its parts at random within ISO 2768-m, `--made` times; each made tool is a file of its own to both sides. Here it
is pressed by `pressing.py`. The first is the tool as it is drawn.

Limits: how it ends must be the same of every one; force and spread 1e-6, the one of the other's compliance too.
"""

import argparse
import math
import sys
import tempfile
import tomllib
from collections import Counter
from pathlib import Path

import numpy as np

import strengthdata
from factors import Checks
from ledger import Ledger, answer
from motion import MotionError
from pressing import Pressed
from sectioned import METAL, sectioned
from solver import Solution
from stations import Places
from toolfile import load
from units import FORCE, LENGTH
from variants import Family
from writing import toml_text

LIMITS = {"ends otherwise": 0, "jaw force": 1e-6, "spread": 1e-6}
SAYS = {"the hand can push no further": "hand", "the stroke ends": "end", "snaps through": "toggle",
        "does not fit": "does not fit", "the gap stays above": "not touched",
        "springs or friction stop the hand": "held before"}


class Case:
    """A file with a piece and a hand."""

    def __init__(self, doc, path, number):
        self.path, self.number = path, number
        for word in ("demand", "ties", "stops", "sections", "materials", "outlines"):
            doc.pop(word, None)
        self.doc = sectioned(doc, number)
        self.doc["jaw"] = self.doc["jaw"][:1]
        self.doc.get("hand", {}).pop("limit", None)
        self.doc["tolerances"] = {"class": "ISO 2768-m"}
        self.write(self.doc)
        self.by_handle()
        self.take_up()
        self.lay_in()

    def write(self, doc):
        text = toml_text(doc)
        self.path.write_text(text if "materials" in doc else text + METAL, encoding="utf-8")

    def take_up(self):
        self.solution = Solution(load(self.path))
        self.tool, self.places = self.solution.tool, Places(self.solution)
        self.data = strengthdata.read(self.path)
        self.family = Family(self.path, self.solution)
        self.unit = self.tool.reader.factor

    def by_handle(self):
        """The stroke by the handle's angles, so that the gaps of made tools differ at its ends."""
        solution = Solution(load(self.path))
        link = solution.link
        a, b = (link.handle(solution.stroke[k][0]) for k in (0, -1))
        for end, angle in (("open", a), ("shut", b)):
            self.doc["stroke"][end] = {"handle": f"{math.degrees(math.remainder(angle, 2 * math.pi))!r} deg"}
        self.write(self.doc)

    def plan(self):
        """What varies: not the pitch circles of gears, of which a file has to state such as roll on each other."""
        still = {mark for gears in self.doc.get("gears", []) for mark in gears["meet"]}
        still |= {f"{part}.{pin}" for gears in self.doc.get("gears", []) for part in self.doc["parts"]
                  for pin in gears["about"]}
        return {a: t for a, t in self.family.plan().items() if a.rpartition(".")[0] not in still}

    def lay_in(self):
        """The piece (mm) and the hand force (N) by what the unchanged tool does."""
        wide = self.places.steps[0].gap
        kind = self.number % 5
        least = min(s.gap for s in self.places.steps)
        first, last = self.places.angles[[0, -1]]
        self.grip = self.tool.hand.grips[-1]
        self.piece = max(least + (wide - least) * (0.45, 0.3, 1e-4, 1 - 1e-4, 0.6)[kind], 0.01)
        first, last = self.places.angles[[0, -1]]
        if kind in (2, 3):
            self.hand = self.tool.hand.force
        else:
            here = Pressed(Checks(self.tool, self.solution.link, self.data), self.places.at_angle, (first, last),
                           self.grip, 1e9, self.piece)
            if here.limit is None:      # springs keep it open
                raise MotionError(f"the piece: {here.verdict}")
            self.hand = here.needed(here.touched + (here.limit - here.touched) * (0.5, 0.97, 0, 0, 0.02)[kind])
        if not 0 < self.hand < math.inf:
            self.hand = self.tool.hand.force
        unit = self.unit(LENGTH)
        self.doc["hand"]["force"] = self.hand / self.unit(FORCE)
        self.doc["work"] = {"need": [[wide / unit, 0], [least / unit, 1]], "rigid": self.piece / unit}


def compared(path, chosen, ledger, number):
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as folder:
        case = Case(doc, Path(folder) / Path(path).name, number)
        plan, seen = case.plan(), Counter()
        rng = np.random.default_rng([chosen.seed, number])
        for k in range(chosen.made):
            changes = {a: float(np.clip(rng.normal(0, t / 3), -t, t)) if k else 0.0 for a, (_, t) in plan.items()}
            seen[one(case, changes, chosen, ledger, f"{Path(path).name} made {k}")] += 1
    return dict(seen)


def pressed(case, binary):
    """What the program says of the piece: whatever place it is asked for, where there are forces at all."""
    for place in ("open", "shut", f"gap={0.5 * (case.piece + case.places.steps[0].gap) / case.unit(LENGTH)!r}"):
        try:
            cases = answer(binary, "loads", case.path, "--at", place)["cases"]
        except ValueError as error:
            if "there are no forces at" not in str(error):
                raise
            continue
        press, = [c["press"] for c in cases if abs(c["grip"] * case.unit(LENGTH) / case.grip - 1) < 1e-6]
        return press
    return None


def one(case, changes, chosen, ledger, where):
    changed = case.family.document(changes)
    changed["hand"]["force"], changed["work"] = case.doc["hand"]["force"], case.doc["work"]
    case.write(changed)
    press = pressed(case, chosen.binary)
    if press is None:
        return "no forces"
    verdict = next(word for text, word in SAYS.items() if text in press["text"])
    made = Solution(load(case.path))
    places = Places(made)
    mine = Pressed(Checks(made.tool, made.link, case.data), places.at_angle, places.angles[[0, -1]], case.grip, case.hand,
                   case.piece)
    ledger.add("ends otherwise", int(mine.verdict != verdict), f"{where}: {press['text']}, and {mine.verdict}")
    if mine.verdict == verdict and mine.force is not None:
        force, spread = press["jaw_force"] * case.unit(FORCE), press["spread"] * case.unit(LENGTH)
        # A piece that is hardly touched: to how exactly a gap is known.
        give = mine.spread / mine.force
        floor = 1e-4 * case.solution.link.size / give
        ledger.add("jaw force", abs(force - mine.force) / max(mine.force, floor), f"{where}: {force} and {mine.force}, {verdict}")
        ledger.add("spread", abs(spread - mine.spread) / max(mine.spread, floor * give), f"{where}: {spread} and {mine.spread}, {verdict}")
    return verdict


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("files", nargs="+")
    options.add_argument("--binary", default="target/release/jawforce")
    options.add_argument("--made", type=int, default=8, metavar="N")
    options.add_argument("--seed", type=int, default=1)
    chosen = options.parse_args()
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    ledger, total = Ledger(LIMITS), Counter()
    for number, path in enumerate(chosen.files):
        try:
            found = compared(path, chosen, ledger, number)
        except MotionError as error:
            ledger.remarks.append(f"{Path(path).name}: left out, {error}")
            continue
        total.update(found)
        print(f"{Path(path).name}: {found}")
    print(dict(total))
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
