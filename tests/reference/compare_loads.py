"""Compares `jawforce loads --json` with this reference: sheets, strength factors, give.

    venv/bin/python compare_loads.py --binary target/release/jawforce demo.toml other.toml
    venv/bin/python tests/reference/compare_loads.py --frames demo-data/*.toml

`--sheets`: the sheets alone, for files without sections.
`--give`: the give alone, of tools whose parts and pins all get a section and a metal first (`sectioned.py`), for kinds of
joints that no file with sections has. Its unit forces are those of positions closed anew with each joint displaced
(`displaced.py`), which must be those of the equilibrium too.
`--sections`: all of it, of tools whose parts and pins get a section and a metal in the same way, for the holes and the
bending of parts between contacts.
`--contacts`: strength alone, of rollers, flats and teeth (`contactstrength.py`) in files without sections: they get a
width and a metal first. A tooth's Y is held to 1.5 per cent by another printing of the table, the stress by that Y to 1e-6.
`--frames`: each file once more with a section on its fixed part, if it has none, and where the push is
not across once more on a bench (`palm = false`), where that part has no bending line.

Free-body sheets: at the worst position, open, shut, and a third and two thirds of the gap, closing
and opening, at every grip, for the hand force that the program states; every force, its place and
its couple, on every part.

Strength: every factor over the whole stroke and all grips, from this reader's dimensions and this
solver's forces. The worst position is found by a scan of all steps under both load cases (the hand's
limit or force; what the work needs). Where two cases are equally bad either may be named: the
factor of the named case must then be the least one too.

Parts whose outline tells their depth are given a width first: outlines are for `compare_cuts.py`.

Limits: 1e-6, the limit of `compare.py`, for all that both sides calculate in the same way: forces
to the largest force on any part at that position, couples and moments to that times the tool's
size, places to the tool's size, factors to themselves. A factor along a hand line is the worst of
some 200 even cuts in the program, and of a continuous line here: the one at the named cut must
agree to 1e-5 (the place is printed to 1 micrometre or 1e-4 in: some 1e-6 of a depth at the tapers
of these files, a few times that for moments), and the worst may be missed by 1e-4: between cuts a
smooth peak is flat, its miss the square of 1/400; where a force acts both look at both sides of the cut.
"""

import math
import re
import shutil
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy as np

import displaced
import formulas
import strengthdata
from contactstrength import Contacts
from factors import BEND, Checks, Finding, merge
from give import give, unit_forces
from ledger import Ledger, answer, arguments
from palm import holder
from sectioned import elastic
from sheets import sheets
from solver import Solution
from stations import Places
from toolfile import load
from units import FORCE, LENGTH, STRESS
from writing import toml_text

LIMITS = {"sheet: place": 1e-6, "sheet: force": 1e-6, "sheet: couple": 1e-6,
          "sheet: sums of the reference": 1e-9, "jaw force": 1e-6, "factor": 1e-6,
          "factor at the named case": 1e-6, "allowable": 1e-6, "inputs": 1e-6,
          "hand line: at the named cut": 1e-5, "hand line: worst missed": 1e-4,
          "give: spread": 1e-6, "give: share": 1e-6, "Y of a tooth": 0.015,
          "unit forces: displaced joints": 1e-8}
OF_GIVE = {"jaw force", "give: spread", "give: share", "unit forces: displaced joints"}
OF_CONTACTS = {"factor", "factor at the named case", "allowable", "inputs", "Y of a tooth"}
UNIT_OF = {"Ft": FORCE, "b": LENGTH, "m": LENGTH, "R": LENGTH, "p0": STRESS, "F": FORCE, "N": FORCE, "V": FORCE, "d": LENGTH, "w": LENGTH, "t": LENGTH,
           "e": LENGTH, "L": LENGTH, "E": STRESS, "Sy": STRESS}


class Compared:
    """One tool, one direction."""

    def __init__(self, path, binary, opening, ledger, alone=""):
        self.path, self.binary, self.ledger, self.alone = path, binary, ledger, alone
        self.tool = load(path)
        self.solution = Solution(self.tool, opening)
        self.places = Places(self.solution)
        self.scan = self.with_forces()
        self.data = strengthdata.read(path)
        self.checks = Checks(self.tool, self.solution.link, self.data)
        self.contacts = Contacts(self.tool, self.solution.link, path)
        self.unit = self.tool.reader.factor
        self.words = ["loads", path] + (["--opening"] if opening else [])
        self.where = Path(path).name + (" opening" if opening else "")

    def all(self):
        result = self.result(self.places.steps)
        if self.alone == "contacts":
            return self.strength(result["factors"])
        shut, wide = self.places.steps[-1].gap, self.places.steps[0].gap
        for case in result["cases"]:
            self.sheet(self.exactly(case["handle"]), case)
        for at in ("open", "shut", 1 / 3, 2 / 3):
            if isinstance(at, str):
                named, station = at, self.places.at(at)
            else:
                gap = shut + at * (wide - shut)
                named = f"gap={gap / self.unit(LENGTH):.12g}"
                station = self.places.at({"gap": gap})
            for case in self.result([station], "--at", named)["cases"]:
                self.sheet(station, case)
        return None if self.alone else self.strength(result["factors"])

    def result(self, stations, *words):
        """The program's answer; nothing where it says that there are no forces, and neither are here."""
        try:
            return answer(self.binary, *self.words, *words)
        except ValueError as error:
            if "there are no forces at" not in str(error):
                raise
        for station in stations:
            dies_met = any(self.solution.link.gap(station.pose, faces) < -1e-9 * self.solution.link.size
                           for faces in self.tool.jaws + self.tool.stops)
            if not dies_met and any(station.under_hand(g, self.tool.hand.force) is not None
                                    for g in self.tool.hand.grips):
                self.ledger.missing("jaw force", f"{self.where} {words}: forces only here")
        return {"cases": [], "factors": []}

    def exactly(self, degrees):
        """The station at a handle angle; the worst position may lie between two steps."""
        step = self.nearest_step(degrees)
        off = math.remainder(math.radians(degrees) - step.handle, 2 * math.pi)
        return step if abs(off) < 1e-12 else self.places.at_angle(step.handle + off)

    def with_forces(self):
        """The steps up to where dies meet, and that place."""
        link, found, opened = self.solution.link, [], set()
        for station in self.places.steps:
            for jaw in self.tool.jaws:
                gap = link.gap(station.pose, jaw)
                if gap < -1e-9 * link.size and jaw.name in opened:
                    return [*found, self.places.where(lambda s, jaw=jaw: link.gap(s.pose, jaw))]
                if gap > 1e-9 * link.size:
                    opened.add(jaw.name)
            found.append(station)
        return found

    def nearest_step(self, degrees, steps=None):
        return min(steps or self.places.steps, key=lambda s: abs(math.remainder(
            math.radians(degrees) - s.handle, 2 * math.pi)))

    # -- sheets ------------------------------------------------------------------------------
    def sheet(self, station, case):
        length, force = self.unit(LENGTH), self.unit(FORCE)
        grip, hand = case["grip"] * length, case["hand_force"] * force
        place = f"{self.where} gap {case['gap']:.4g} grip {case['grip']:.4g}"
        z = station.under_hand(grip, hand)
        if z is None or case["jaw_force"] is None:
            if (z is None) != (case["jaw_force"] in (None, 0)):
                self.ledger.missing("jaw force", f"{place}: only one side has forces")
            return
        self.ledger.add("jaw force", abs(case["jaw_force"] * force / z[-1] - 1), place)
        if self.alone == "give":
            self.give(station, grip, z[-1], case["give"], place)
            return
        own = sheets(station, z, hand, z[-1], grip)
        top = max(math.hypot(*f.force) for part in own.values() for f in part)
        size = self.solution.link.size
        # On a bench the fixed part is held by what is not on its sheet.
        bench = holder(self.tool) is None
        for part in (p for p in own if not (bench and self.tool.parts[p].fixed)):
            total = sum(f.force for f in own[part])
            turn = sum(f.moment(np.zeros(2)) for f in own[part])
            self.ledger.add("sheet: sums of the reference",
                            max(math.hypot(*total) / top, abs(turn) / (top * size)), place)
        for sheet in case["sheets"]:
            part, theirs = sheet["part"], list(sheet["forces"])
            about = np.array(sheet["about"][1:]) * length
            for mine in own.get(part, []):
                found = [f for f in theirs if f["what"] == mine.what]
                if not found:
                    self.ledger.missing("sheet: force", f"{place}: {mine.what} on {part}")
                    continue
                # Two slots of one pin have one name.
                nearest = min(found, key=lambda f: math.hypot(
                    *(mine.force - np.array(f["force"]) * force)))
                theirs.remove(nearest)
                self.force(mine, nearest, about, top, f"{place}: {mine.what} on {part}")
            for other in theirs:
                if not any((*other["force"], other["couple"])):
                    continue        # a spring that is slack
                self.ledger.missing("sheet: force", f"{place}: {other['what']} on {part} extra")
        if case.get("give"):
            self.give(station, grip, z[-1], case["give"], place)

    def force(self, mine, theirs, about, top, place):
        length, force, size = self.unit(LENGTH), self.unit(FORCE), self.solution.link.size
        moment = force * length
        couple = abs(mine.couple - theirs["couple"] * moment)
        if any(mine.force):
            self.ledger.add("sheet: place", math.hypot(
                *(mine.at - np.array(theirs["at"]) * length)) / size, place)
        self.ledger.add("sheet: force", math.hypot(
            *(mine.force - np.array(theirs["force"]) * force)) / top, place)
        self.ledger.add("sheet: couple", max(
            couple, abs(mine.moment(about) - theirs["moment"] * moment)) / (top * size), place)

    # -- give --------------------------------------------------------------------------------
    def give(self, station, grip, jaw_force, theirs, place):
        shares = give(self.checks, station, grip, self.displaced(station, grip, place))
        total = sum(shares.values())
        if total == 0:
            if theirs["spread"] != 0:
                self.ledger.missing("give: spread", f"{place}: nothing gives here")
            return
        per_unit = self.unit(FORCE) / self.unit(LENGTH)
        self.ledger.add("give: spread", abs(theirs["per_thousand"] / 1000 / (total * per_unit)
                                            - 1), place)
        self.ledger.add("give: spread", abs(theirs["spread"] * self.unit(LENGTH)
                                            / (total * jaw_force) - 1), place)
        named = dict(theirs["shares"])
        for name in {*named, *shares}:
            self.ledger.add("give: share", abs(named.get(name, 0.0)
                                               - shares.get(name, 0.0) / total),
                            f"{place}: {name}")

    def displaced(self, station, grip, place):
        """The unit forces from positions, where the give is what is looked at."""
        if self.alone != "give":
            return None
        like = unit_forces(station, grip)
        found = displaced.unit_forces(station, grip, like)
        self.ledger.add("unit forces: displaced joints", np.abs(found - like).max() / np.abs(like).max(), place)
        return found

    # -- strength ----------------------------------------------------------------------------
    def cases(self):
        """{(step, grip, case): findings} over the whole stroke."""
        found = {}
        for k, station in enumerate(self.scan):
            for grip in self.tool.hand.grips:
                hand = self.data.hand(station.span(grip), self.tool.hand.force)
                z = station.under_hand(grip, hand)
                if z is not None:
                    sheet = sheets(station, z, hand, z[-1], grip)
                    found[k, grip, "hand"] = self.findings(station, sheet), sheet
                if self.tool.work is None:
                    continue
                z = station.under_work(grip)
                if z is not None and z[-1] > 0:
                    sheet = sheets(station, z, z[-1], station.need(), grip)
                    found[k, grip, "work"] = self.findings(station, sheet), sheet
        return found

    def findings(self, station, sheet):
        return {**self.checks.case(station, sheet), **self.contacts.findings(station, sheet)}

    def strength(self, factors):
        cases = self.cases()
        least = {}
        for case, (findings, _) in cases.items():
            for key, finding in findings.items():
                if key not in least or finding.factor < least[key][0].factor:
                    least[key] = (finding, case)
        for theirs in factors:
            key = (theirs["subject"], theirs["check"])
            if key not in least:
                self.ledger.missing("factor", f"{self.where} {key} not expected")
                continue
            self.factor(theirs, least.pop(key), cases, key)
        for key in least:
            self.ledger.missing("factor", f"{self.where} {key} is missing")

    def factor(self, theirs, mine, cases, key):
        finding, _ = mine
        forms = [value for symbol, value, _ in theirs["inputs"] if symbol == "Y"]
        where = f"{self.where} {' '.join(key)} ({theirs['factor']:.6g})"
        station = self.nearest_step(theirs["handle"], self.scan)
        k = self.scan.index(station)
        grip = min(self.tool.hand.grips, key=lambda g: abs(g - theirs["grip"]
                                                           * self.unit(LENGTH)))
        kind = "work" if theirs["case"].startswith("under the work") else "hand"
        there, sheet = cases.get((k, grip, kind), ({}, None))
        if key not in there:
            self.ledger.missing("factor at the named case", where)
            return
        named = there[key]
        if forms:
            self.ledger.add("Y of a tooth", abs(forms[0] / named.inputs["Y"] - 1), where)
            finding, named = (with_form(f, forms[0]) for f in (finding, named))
        scale = self.unit(FORCE if theirs["unit"] in ("N", "lbf") else STRESS)
        self.ledger.add("allowable", abs(theirs["allowable"] * scale / named.allowable - 1), where)
        along = theirs["place"] or ""
        if along.endswith("along the hand line"):
            value, unit = along.split()[:2]
            s = self.tool.reader.read(f"{value} {unit}", LENGTH)
            # A force may act within what the printed place is rounded by; a taper and a hole tell the place in full.
            half = 5e-4 if unit == "mm" else 5e-5 * self.unit(LENGTH)
            line = self.checks.lines[key[0]].length
            depth = next(value for symbol, value, _ in theirs["inputs"] if symbol == "w") * self.unit(LENGTH)
            near = [s, s - 2.1 * half, s + 2.1 * half]
            exact = self.data.sections[key[0]].places(depth)
            exact += [self.checks.nearest(key[0], hole) for _, hole, _ in self.checks.bored[key[0]]]
            near += [at for at in exact if abs(at - s) < 10 * half]
            off = [abs(self.at_cut(station, sheet, key, min(max(at, 0.0), line), inner) / (theirs["value"] * scale) - 1)
                   for at in near for inner in (False, True)]
            self.ledger.add("hand line: at the named cut", min(off), where)
            # One that is worse than all that was looked at here has just been found to be there.
            self.ledger.add("hand line: worst missed", max(theirs["factor"] / finding.factor - 1, 0.0),
                            f"{where}, expected {finding.factor:.6g} at {finding.place:.6g} mm")
            return
        self.ledger.add("factor", abs(theirs["factor"] / finding.factor - 1),
                        f"{where}, expected {finding.factor:.8g}")
        self.ledger.add("factor at the named case",
                        abs(theirs["factor"] / named.factor - 1), where)
        self.inputs(theirs, named, where)

    def at_cut(self, station, sheet, key, s, inner):
        """The stress at a cut of the hand line, by the same formulas."""
        part, check = key
        own = self.checks.own_axes(station, part, sheet[part])
        axial, shear, moment, depth, hole = self.checks.cut(part, merge(own), s, inner)
        plates = self.data.sections[part].all_plates
        return (formulas.beam(axial, moment, depth, plates, hole) if check == BEND
                else formulas.beam_shear(shear, depth, plates, hole))

    def inputs(self, theirs, named, where):
        """The numbers put in, where both sides name them. Signs of N, M, V hang on the side looked
        from; where several places are equally bad another one may stand there."""
        for symbol, value, _ in theirs["inputs"]:
            if symbol not in named.inputs:
                continue
            kind = UNIT_OF.get(symbol)
            scale = (self.unit(FORCE) * self.unit(LENGTH) if symbol == "M"
                     else self.unit(kind) if kind else 1.0)
            mine = abs(named.inputs[symbol])
            if symbol in ("N", "M", "V") and mine < 1e-9:
                continue
            self.ledger.add("inputs", abs(abs(value) * scale - mine) / (mine or 1.0),
                            f"{where} {symbol}")


def with_form(finding, form):
    """The same tooth with another Y."""
    inputs = {**finding.inputs, "Y": form}
    return Finding(finding.value * finding.inputs["Y"] / form, finding.allowable, finding.place, inputs)


def fitted(path, folder, _):
    """The file with widths and a metal for its contacts."""
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    for table in [t for t in doc.get("slots", []) if "roller" in t] + doc.get("cams", []):
        (table["roller"] if "roller" in table else table)["width"] = "6.5 mm"
        table["material"] = "steel"
    for table in doc.get("gears", []):
        table |= {"face": "5.5 mm", "material": "steel"}
    text = toml_text(doc) + '[materials.steel]\nyield = "900 MPa"\nmodulus = "205 GPa"\n'
    copy = Path(folder, Path(path).name)
    copy.write_text(text, encoding="utf-8")
    return str(copy)


def framed(path, folder):
    """The file with a section on its fixed part, held by the palm and on a bench."""
    tool, text = load(path), Path(path).read_text(encoding="utf-8")
    sections = strengthdata.read(path).sections
    if tool.fixed not in sections and sections:
        metal = re.search(r"^\[materials\.([\w-]+)\]", text, re.MULTILINE)[1]
        deep, thick = (0.8, 0.25) if tool.system == "in-lbf" else (20, 6)
        text += (f"\n[sections.{tool.fixed}]\nwidth = {deep}\nthickness = {thick}\n"
                 f'material = "{metal}"\n')
    found = [("frame", text)]
    if tool.hand.push != "across":
        found.append(("bench", re.sub(r"^\[hand\]", "[hand]\npalm = false", text,
                                      flags=re.MULTILINE)))
    for what, text in found:
        copy = Path(folder, f"{Path(path).stem}-{what}.toml")
        copy.write_text(text, encoding="utf-8")
        yield str(copy)


def widened(path, folder, _=None):
    """The file with a width in every section: without one the outline tells it, which `compare_cuts.py` looks at."""
    text = Path(path).read_text(encoding="utf-8")
    doc = tomllib.loads(text)
    deep = 0.7 if doc["tool"]["units"] == "in-lbf" else 18
    for part, table in doc.get("sections", {}).items():
        if "width" not in table:
            head = re.compile(rf"^(\[sections\.{re.escape(part)}\][^\n]*\n)", re.MULTILINE)
            text = head.sub(rf"\g<1>width = {deep}\n", text)
    for table in Path(path).parent.glob("*.csv"):
        shutil.copy(table, folder)
    copy = Path(folder, Path(path).name)
    copy.write_text(text, encoding="utf-8")
    return str(copy)


def main():
    chosen = arguments(__doc__, "--frames", "--sheets", "--contacts", "--give", "--sections")
    alone = next((flag for flag in ("sheets", "contacts", "give") if getattr(chosen, flag)), "")
    of_sheets = {q for q in LIMITS if q.startswith("sheet") or q == "jaw force"}
    looked_at = {"sheets": of_sheets, "contacts": OF_CONTACTS, "give": OF_GIVE,
                 "": set(LIMITS) - {"Y of a tooth", "unit forces: displaced joints"}}[alone]
    ledger = Ledger({q: LIMITS[q] for q in LIMITS if q in looked_at})
    with tempfile.TemporaryDirectory() as folder:
        given = {"sheets": lambda p, *_: p, "contacts": fitted, "give": elastic,
                 "": elastic if chosen.sections else widened}[alone]
        files = [given(p, folder, k) for k, p in enumerate(chosen.files)]
        if chosen.frames:
            files += [copy for path in list(files) for copy in framed(path, folder)]
        for path in files:
            for opening in (False, True):
                Compared(path, chosen.binary, opening, ledger, alone).all()
    return ledger.close()


if __name__ == "__main__":
    sys.exit(main())
