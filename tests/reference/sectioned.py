"""A tool file with sections, so that all its parts and pins give."""

import tomllib
from pathlib import Path

from writing import toml_text

METAL = '[materials.steel]\nyield = "900 MPa"\nmodulus = "205 GPa"\n\n[materials.bronze]\nyield = "300 MPa"\nmodulus = "110 GPa"\n'


def sectioned(doc, number):
    """The document with a section of its own for every part but one in nine; handles taper.
    Every other file's pins are in single shear, every third's of bronze."""
    handles = {table["part"] for table in (doc["hand"], doc["hand"].get("against") or {}) if "part" in table}
    sections = {}
    for k, part in enumerate(doc["parts"]):
        if (k + number) % 9 == 8:
            continue
        deep = 12 + 3 * ((k + number) % 5)
        width = [["0 mm", f"{deep + 4} mm"], ["45 mm", f"{deep} mm"], ["110 mm", f"{0.6 * deep:.6g} mm"]]
        sections[f"sections.{part}"] = {"width": width if part in handles else f"{deep} mm",
                                        "thickness": f"{2.5 + 0.5 * (k % 4)} mm", "plates": 1 + k % 3,
                                        "material": "bronze" if k % 4 == 3 else "steel"}
    joints = doc.setdefault("joints", {})
    for table in [t for t in joints.values() if isinstance(t, dict)] + [joints]:
        table["material"] = "bronze" if number % 3 == 2 else "steel"
    joints.setdefault("diameter", "6 mm")
    if number % 2:
        joints["shear"] = "single"
    return doc | sections


def elastic(path, folder, number):
    """Writes the file beside nothing else, with sections."""
    doc = sectioned(tomllib.loads(Path(path).read_text(encoding="utf-8")), number)
    copy = Path(folder, Path(path).name)
    copy.write_text(toml_text(doc) + METAL, encoding="utf-8")
    return str(copy)
