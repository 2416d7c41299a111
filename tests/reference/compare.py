"""Compares the program with this independent reference, position by position.

Everything here is written apart from the program: its own reading of the tool file, the motion in
x, y and theta of every moving part, and the forces from one dense equilibrium system. To run:

    python3 -m venv venv
    venv/bin/pip install -r requirements.txt
    cargo build --release
    venv/bin/python compare.py demo.toml other.toml
    venv/bin/python compare.py --generate 200 --seed 1
    venv/bin/python compare.py --generate 200 --seed 1 --frictionless --every 4
    venv/bin/python compare.py --generate 40 --seed 1 --locking
    venv/bin/python compare.py --generate 20 --seed 1 --with gears,arc,cams,flats,rollers,mixed

Every tool is compared on the closing and on the return stroke.

`--binary` is the program (default target/release/jawforce), `--keep DIR` keeps the generated
files. A difference is relative: for positions and lengths to the tool's size, for angles to one
radian, for ratios and forces to the largest value of that quantity in the stroke; efficiency is
taken as it is, a tool that locks on one side only is infinitely wrong. More than 1e-6 is a breach. Exit code: 0 all agree, 1 a breach or a tool that one
side refuses, 2 wrong use. `test_reference.py` holds the reference itself to hand calculations.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import tomllib
from collections import defaultdict
from pathlib import Path

import numpy as np

import forces
from adjusting import all_turned
from families import FAMILIES
from generate import generate
from motion import MotionError
from solver import Solution
from stations import Places
from swaps import KINDS
from toolfile import load, tool_of
from units import FORCE, LENGTH

LIMIT = 1e-6
FORCES = {"ratio", "jaw_force", "efficiency", "locked", "lifts_off", "hand_force", "pin_loads", "axial"}
RADIAN = 57.29577951308232  # degrees
QUANTITIES = ["handle", "travel", "pins", "gap", "span", "ratio", "jaw_force", "efficiency",
              "locked", "lifts_off", "hand_force", "pin_loads", "axial", "stop_load", "targets", "spacing"]


class Refused(Exception):
    """One side gives no stroke."""


def run_program(binary, path, opening, adjusted=()):
    """The program's JSON of one tool. Exit code 3 with a result: it locks itself somewhere."""
    done = subprocess.run([binary, "stroke", str(path), "--json", "--quiet",
                           *(["--opening"] if opening else []), *adjusted],
                          capture_output=True, text=True, timeout=120, check=False)
    if done.returncode not in (0, 1, 3) or not done.stdout.strip():
        words = " | ".join(line.strip() for line in done.stderr.splitlines() if line.strip())
        raise Refused(f"program, exit code {done.returncode}: {words[:300]}")
    try:
        said = json.loads(done.stdout)
    except json.JSONDecodeError as error:
        raise Refused(f"program's JSON cannot be read: {error}") from error
    if "problems" in said and "exit" in said:
        raise Refused("program: " + "; ".join(p["message"] for p in said["problems"])[:300])
    return said


def flat(position):
    """One position as {(quantity, key): value}."""
    values = {("handle", ""): position["handle"], ("travel", ""): position["travel"]}
    for pin, at in position["pins"].items():
        values["pins", f"{pin}.x"], values["pins", f"{pin}.y"] = at["x"], at["y"]
    for jaw, numbers in position["jaws"].items():
        values["gap", jaw] = numbers["gap"]
    for place, grip in enumerate(position["grips"]):
        values["span", f"grip {place}"] = grip["span"]
        for number, (jaw, numbers) in enumerate(grip["jaws"].items()):
            for name in ("ratio", "jaw_force", "efficiency", "locked", "lifts_off", "hand_force"):
                # The work is at the first jaw: only there a hand force is asked for.
                if name != "hand_force" or number == 0:
                    values[name, f"{jaw}, grip {place}"] = numbers.get(name, False)
        for name in ("pin_loads", "axial"):
            for key, size in (grip[name] or {}).items():
                values[name, f"{key}, grip {place}"] = size
    return values


class Report:
    """The worst difference of each quantity, with its place."""

    def __init__(self):
        self.worst = {q: 0.0 for q in QUANTITIES}
        self.breaches = []
        self.counts = defaultdict(int)

    def add(self, quantity, difference, place):
        self.counts[quantity] += 1
        self.worst[quantity] = max(self.worst[quantity], difference)
        if not difference <= LIMIT:
            self.breaches.append((quantity, difference, place))


def scales(solution, expected):
    """What a difference of each quantity is divided by."""
    size = solution.link.size * solution.per_length
    scale = {"pins": size, "gap": size, "span": size, "handle": RADIAN, "travel": RADIAN,
             "efficiency": 1.0, "locked": 1.0, "lifts_off": 1.0}
    for quantity in ("ratio", "jaw_force", "hand_force"):
        found = [abs(v) for values in expected.values() for (q, _), v in values.items()
                 if q == quantity and v is not None]
        scale[quantity] = max(found, default=1.0) or 1.0
    # Loads of all pins and links together: a pin without load has only rounding.
    found = [abs(v) for values in expected.values() for (q, _), v in values.items()
             if q in ("pin_loads", "axial") and v is not None]
    scale["pin_loads"] = scale["axial"] = max(found, default=1.0) or 1.0
    return scale


def compare_tool(binary, path, every, report):
    """Adds the differences of one tool, both ways, as drawn and with its adjusters turned; gives the number
    of positions compared."""
    tool = load(path)
    cases, count = [(tool, [])], 0
    doc = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    if "adjusters" in doc:
        doc, adjusted = all_turned(doc, tool.reader)
        cases.append((tool_of(doc, Path(path).parent), adjusted))
    for tool, adjusted in cases:
        try:
            closing = Solution(tool)
        except (MotionError, ValueError) as error:
            raise Refused(f"reference: {error}") from error
        count += sum(compare_stroke(binary, path, every, report, solution, adjusted)
                     for solution in (closing, closing.back()))
    return count


def compare_stroke(binary, path, every, report, solution, adjusted):
    """Adds the differences of one stroke; gives the number of positions compared."""
    tool, opening = solution.tool, solution.opening
    try:
        wanted = sorted({*range(0, tool.steps + 1, every), tool.steps})
        expected = {k: flat(solution.numbers(k)) for k in wanted}
    except (MotionError, ValueError) as error:
        raise Refused(f"reference: {error}") from error
    answer = run_program(binary, path, opening, adjusted)
    positions = answer["positions"]
    where = " ".join([Path(path).name, *(["opening"] if opening else []), *adjusted])
    end = first_beyond(solution)
    meets, stopped = answer["dies_meet"], answer.get("stop_met")
    if (meets is None and stopped is None) != (end is None):
        report.add("gap", float("inf"), f"{where}: dies meet {meets}, stop met {stopped}, "
                   f"expected before step {end}")
    if (meets or stopped) and len(positions) == tool.steps + 2:
        # One more position, at which the dies or a stop meet.
        more = positions.pop((meets or stopped)["position"])
        gap = (more["jaws"][meets["jaw"]]["gap"] if meets else stop_distance(
            tool, more, next(s for s in tool.stops if s.name == stopped["stop"])))
        report.add("gap", abs(gap) / scales(solution, {})["gap"], f"{where}: dies or stop meet")
    for k in expected:
        beyond = end is not None and k >= end
        report.add("locked", 0.0 if positions[k]["beyond"] == beyond else float("inf"),
                   f"{where} position {k} beyond where dies meet")
        if beyond:
            expected[k] = {(q, key): False if q in ("locked", "lifts_off") else None if q in FORCES else value
                           for (q, key), value in expected[k].items()}
    if len(positions) != tool.steps + 1:
        raise Refused(f"{len(positions)} positions instead of {tool.steps + 1}")
    scale = scales(solution, expected)
    for k, values in expected.items():
        found = flat(positions[k])
        for (quantity, key), value in values.items():
            place = f"{where} position {k} {key}"
            theirs = found.get((quantity, key), "missing")
            report.add(quantity, difference(quantity, theirs, value, scale),
                       f"{place} ({theirs}, expected {value})")
        # A pin load of a case without forces (locked, or held by springs) may be null.
        for quantity, key in found.keys() - values.keys():
            if found[quantity, key] is not None:
                report.add(quantity, float("inf"), f"{where} position {k} {key} (not expected)")
    check_stroke(tool, positions, scale, report, where)
    if not opening:
        check_stops(solution, answer.get("stops", []), report, where)
    return len(expected)


def check_stops(solution, said, report, where):
    """What a stop that is met carries when the hand pushes with its limit, or else with its force, and the first jaw
    takes what the work needs."""
    tool, places = solution.tool, Places(solution)
    for stop in tool.stops:
        theirs = next(s for s in said if s["name"] == stop.name)
        station = (places.at("shut") if tool.shut.kind == "stop" else
                   places.where(lambda s, stop=stop: solution.link.gap(s.pose, stop)))
        bodies, asked = station.bodies, station.need() if tool.work is not None else 0.0
        for grip, load in zip(tool.hand.grips, theirs["loads"]):
            place = f"{where} {stop.name} grip {load['grip']:.4g}"
            hand = tool.hand.most(station.span(grip))
            taken = station.springs + hand * station.push(grip) + asked * station.load
            try:
                force = bodies.solve(bodies.work_load(stop), taken, friction=True, positive=True)[-1]
            except forces.Locked:
                force = None
            if (force is None) != (load["stop"] in (None, 0.0)):
                report.add("stop_load", float("inf"), f"{place} ({load}, expected {force})")
            elif force is not None:
                report.add("stop_load", abs(load["stop"] * tool.reader.factor(FORCE) / force - 1),
                           f"{place} ({load}, expected {force})")


def first_beyond(solution):
    """The first step at which a jaw's or a stop's gap, above zero before, is below it; None without."""
    link, near = solution.link, 1e-9 * solution.link.size
    opened = set()
    for k, (pose, _, _) in enumerate(solution.stroke):
        for jaw in solution.tool.jaws + solution.tool.stops:
            gap = link.gap(pose, jaw)
            if gap > near:
                opened.add(jaw.name)
            elif gap < -near and jaw.name in opened:
                return k
    return None


def difference(quantity, theirs, value, scale):
    """Relative; infinite where one side has no number, or locks, and the other does not."""
    if theirs == "missing" or (theirs is None) != (value is None):
        return float("inf")
    if quantity in ("locked", "lifts_off"):
        return 0.0 if theirs == value else float("inf")
    return 0.0 if value is None else abs(theirs - value) / scale[quantity]


def stop_distance(tool, position, stop):
    """Distance of the faces of a stop from the places of their marks; `against` is fixed."""
    on, against = (np.array([position["marks"][key][c] for c in "xy"])
                   for key in (mark(tool, stop.on, stop.on_point),
                               mark(tool, stop.against, stop.against_point)))
    if stop.axis is None:
        apart = np.hypot(*(on - against))
    else:
        apart = (on - against) @ [np.cos(stop.axis), np.sin(stop.axis)]
    return apart - stop.closed / tool.reader.factor(LENGTH)


def mark(tool, part, point):
    """The name of the mark that stands at a place of a part."""
    of = tool.parts[part]
    return next(f"{part}.{name}" for name, at in of.points.items()
                if name not in of.pins and np.allclose(at, point))


def check_stroke(tool, positions, scale, report, where):
    """Targets met at both ends, and positions equal in handle travel."""
    for target, position, name in ((tool.open, positions[0], "open"),
                                   (tool.shut, positions[-1], "shut")):
        if target.kind == "stop":
            miss = abs(stop_distance(tool, position, target.stop)) / scale["gap"]
        elif target.kind == "handle":
            miss = abs((position["handle"] - target.value * RADIAN + 180) % 360 - 180) / RADIAN
        else:
            goal = target.value / tool.reader.factor(LENGTH)
            if target.kind == "gap":
                found = position["jaws"][tool.jaws[0].name]["gap"]
            else:
                place = 0 if target.grip is None else tool.hand.grips.index(target.grip)
                found = position["grips"][place]["span"]
            miss = abs(found - goal) / scale["gap"]
        report.add("targets", miss, f"{where} {name}")
    travel = [p["travel"] for p in positions]
    for k, value in enumerate(travel):
        even = travel[-1] * k / (len(travel) - 1)
        report.add("spacing", abs(value - even) / RADIAN, f"{where} position {k}")


def family_of(path):
    return next((f for f in [*FAMILIES, *KINDS] if Path(path).name.startswith(f)), "given")


def table(groups):
    """Rows: family, tools, positions, worst difference of each quantity."""
    heads = ["family", "tools", "positions", *QUANTITIES]
    rows = [[family, str(tools), str(count),
             *(f"{report.worst[q]:.0e}" if report.counts[q] else "-" for q in QUANTITIES)]
            for family, (tools, count, report) in groups.items()]
    widths = [max(len(row[i]) for row in [heads, *rows]) for i in range(len(heads))]
    return "\n".join("  ".join(cell.rjust(w) if i else cell.ljust(w) for i, (cell, w)
                               in enumerate(zip(row, widths))).rstrip()
                     for row in [heads, *rows])


def main():
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    options.add_argument("files", nargs="*")
    options.add_argument("--binary", default="target/release/jawforce")
    options.add_argument("--every", type=int, default=1, help="compare every k-th position")
    options.add_argument("--generate", type=int, default=0, metavar="N")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--frictionless", action="store_true",
                         help="generated tools without friction")
    options.add_argument("--no-springs", action="store_true")
    options.add_argument("--locking", action="store_true",
                         help="generated tools that lock themselves within the stroke")
    options.add_argument("--no-work", action="store_true")
    options.add_argument("--with", dest="kinds", default="", metavar="KIND,KIND",
                         help=f"N generated tools with each of these: {', '.join(KINDS)}")
    options.add_argument("--keep", metavar="DIR", help="keep the generated files there")
    chosen = options.parse_args()
    if not chosen.files and not chosen.generate:
        options.error("name tool files, or --generate N")
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    with tempfile.TemporaryDirectory() as folder:
        files = list(chosen.files)
        if chosen.generate:
            files += generate(chosen.keep or folder, chosen.generate, chosen.seed,
                              not chosen.frictionless, not chosen.no_springs,
                              not chosen.no_work, chosen.locking,
                              [k for k in chosen.kinds.split(",") if k])
        return compare_all(chosen.binary, files, chosen.every)


def compare_all(binary, files, every):
    groups, refused = {}, []
    for path in files:
        family = family_of(path)
        tools, count, report = groups.get(family, (0, 0, Report()))
        try:
            count += compare_tool(binary, path, every, report)
            tools += 1
        except (Refused, ValueError, KeyError, subprocess.TimeoutExpired) as reason:
            refused.append((path, f"{type(reason).__name__}: {reason}"))
        groups[family] = (tools, count, report)
    print(table(groups))
    breaches = [b for _, _, report in groups.values() for b in report.breaches]
    for quantity, difference, place in sorted(breaches, key=lambda b: -b[1])[:30]:
        print(f"breach: {quantity} differs by {difference:.2e} at {place}")
    for path, reason in refused:
        print(f"refused: {path}: {reason}")
    print(f"{len(breaches)} breaches, {len(refused)} tools refused")
    return 1 if breaches or refused else 0


if __name__ == "__main__":
    sys.exit(main())
