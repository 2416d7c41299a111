"""What a program says against what this reference wants, leaf by leaf; and the frame of the scripts that use it.

`want` holds only what is compared; `said` may hold more. The quantity of a leaf is the last name on the way to it.
"""

import argparse
import copy
import tempfile
from pathlib import Path

from ledger import Ledger
from writing import toml_text

LIMIT = 1e-6      # relative, of all that both sides calculate in the same way


def alike(ledger, place, said, want, quantity=None, floor=None):
    """Adds every difference to the ledger; `floor` {quantity: size} of what is counted by a size of its own."""
    floor = floor or {}
    if isinstance(want, dict):
        if not isinstance(said, dict):
            return ledger.missing(quantity or next(iter(want)), f"{place}: {said!r} where a table is wanted")
        for key, value in want.items():
            if key not in said and value is not None:
                ledger.missing(key, f"{place} {key}: left out")
            else:
                alike(ledger, place, said.get(key), value, key, floor)
        return None
    if isinstance(want, (list, tuple)):
        if not isinstance(said, (list, tuple)) or len(said) != len(want):
            return ledger.missing(quantity, f"{place} {quantity}: {said!r}, wanted {want!r}")
        if want and isinstance(want[0], dict):
            ledger.add(quantity, 0.0, place)      # as many as wanted
        for k, (one, other) in enumerate(zip(said, want)):
            alike(ledger, f"{place} {k + 1}", one, other, quantity, floor)
        return None
    where = f"{place} {quantity}: {said!r}, wanted {want!r}"
    if want is None or isinstance(want, (bool, str)) or said is None or isinstance(said, (bool, str)):
        return ledger.add(quantity, 0.0 if said == want and type(said) is type(want) else float("inf"), where)
    return ledger.add(quantity, abs(said - want) / max(abs(want), floor.get(quantity, 1e-9)), where)


def spoiled(want, by=3e-6):
    """(name, copy of `want` with one leaf wrong) for every leaf."""
    def leaves(tree, way=()):
        if isinstance(tree, dict):
            for key, value in tree.items():
                yield from leaves(value, way + (key,))
        elif isinstance(tree, (list, tuple)):
            for k, value in enumerate(tree):
                yield from leaves(value, way + (k,))
        else:
            yield way, tree

    for way, leaf in leaves(want):
        other = copy.deepcopy(want)
        at = other
        for step in way[:-1]:
            at = at[step]
        if leaf is None:
            wrong = 1.0
        elif isinstance(leaf, bool):
            wrong = not leaf
        elif isinstance(leaf, str):
            wrong = leaf + "x"
        else:
            wrong = leaf + by * max(1.0, abs(leaf))
        at[way[-1]] = wrong
        yield ".".join(map(str, way)), other


def run(doc, limits, make, compare, count=20):
    """A script: `make(number, seed)` gives the document of a case, `compare(binary, path, document, ledger)` compares it.

    A file that is named is read by `compare` (document None). The exit code.
    """
    options = argparse.ArgumentParser(description=doc, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("files", nargs="*")
    options.add_argument("--binary", default="target/release/jawforce")
    options.add_argument("--generate", type=int, default=count, metavar="N")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--keep", metavar="DIR", help="keep the generated files there")
    chosen = options.parse_args()
    if not Path(chosen.binary).is_file():
        options.error(f"no program at {chosen.binary} (build it, or say --binary)")
    ledger = Ledger(limits)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(chosen.keep or scratch)
        folder.mkdir(parents=True, exist_ok=True)
        for path in chosen.files:
            compare(chosen.binary, Path(path), None, ledger)
        for number in range(chosen.generate):
            document = make(number, chosen.seed)
            path = folder / f"case-{number:04}.toml"
            path.write_text(toml_text(document), encoding="utf-8")
            compare(chosen.binary, path, document, ledger)
    code = ledger.close()
    worst = max(ledger.worst, key=lambda q: ledger.worst[q][0] / ledger.limits[q])
    print(f"{chosen.generate + len(chosen.files)} cases, {sum(ledger.counts.values())} values, worst "
          f"{ledger.worst[worst][0]:.1e} ({worst}), {len(ledger.breaches)} breaches")
    return code
