"""The worst difference of each quantity over all files, and every breach of a stated limit."""

import argparse
import json
import subprocess
import sys
from pathlib import Path


class Ledger:
    """Collects differences; a NaN is a breach."""

    def __init__(self, limits):
        self.limits = limits                       # {quantity: greatest difference}
        self.worst = {q: (0.0, "nothing compared") for q in limits}
        self.counts = dict.fromkeys(limits, 0)
        self.breaches, self.remarks = [], []

    def add(self, quantity, difference, place):
        self.counts[quantity] += 1
        if self.counts[quantity] == 1 or not difference <= self.worst[quantity][0]:
            self.worst[quantity] = (difference, place)
        if not difference <= self.limits[quantity]:
            self.breaches.append(f"{quantity} differs by {difference:.2e}: {place}")

    def missing(self, quantity, place):
        self.add(quantity, float("inf"), place)

    def close(self):
        """Prints everything; the exit code. A quantity that nothing was compared of is a breach."""
        for quantity, (worst, place) in self.worst.items():
            print(f"{quantity:32} {self.counts[quantity]:6}  worst {worst:8.1e}"
                  f"  limit {self.limits[quantity]:8.1e}  {place}")
        for remark in self.remarks:
            print(f"remark: {remark}")
        self.breaches += [f"nothing compared: {q}" for q, n in self.counts.items() if n == 0]
        for breach in self.breaches[:30]:
            print(f"breach: {breach}")
        print(f"{len(self.breaches)} breaches")
        return 1 if self.breaches else 0


def run(binary, *words):
    """Standard output of the program. Exit codes 1 and 3 may come with a result."""
    done = subprocess.run([binary, *map(str, words), "--quiet"], capture_output=True, text=True,
                          timeout=300, check=False)
    if done.returncode not in (0, 1, 3) or not done.stdout.strip():
        why = done.stderr[max(done.stderr.find("error"), 0):].strip()      # and not what it advises before
        raise ValueError(f"jawforce {' '.join(map(str, words))}: exit code {done.returncode}: {why[:300]}")
    return done.stdout


def answer(binary, *words):
    """What it says as data; where that is only why there is no result, a ValueError."""
    said = json.loads(run(binary, *words, "--json"))
    if isinstance(said, dict) and "problems" in said and "exit" in said:
        raise ValueError("; ".join(p["message"] for p in said["problems"]))
    return said


def arguments(doc, *flags):
    """Files and the program from the command line; `doc`, the script's head, is its help."""
    options = argparse.ArgumentParser(
        description=doc, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("files", nargs="+")
    options.add_argument("--binary", default="target/release/jawforce")
    for flag in flags:
        options.add_argument(flag, action="store_true", help="see above")
    chosen = options.parse_args(sys.argv[1:])
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    return chosen
