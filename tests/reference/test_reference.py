"""Hand calculations that the reference itself must meet. Run: python test_reference.py

Sources stand beside each check; "common practice, no source" where the formula is everywhere.
"""

import contextlib
import io
import math
import sys
import tempfile
from pathlib import Path

import numpy as np

import compare
import forces
from families import FAMILIES
from generate import make_tool
from handline import HandLine
from solver import Solution
from toolfile import parse, rotation
from units import Reader, LENGTH, RATE, TORSION_RATE, QuantityError


def near(found, expected, relative=1e-9):
    assert abs(found - expected) <= relative * max(1.0, abs(expected)), (found, expected)


LEVER = """
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0] }
marks = { anvil = [40, -5] }
[parts.lever]
pins = { pivot = [0, 0] }
marks = { tip = [40, 5] }
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
grips = [160]
push = "square"
force = 300
[[jaw]]
name = "tip"
on = "lever.tip"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 178 }
shut = { handle = -178 }
steps = 8
"""


def test_units():
    read = Reader("in-lbf").read
    near(read("18.5 mm", LENGTH), 18.5)
    near(read(2, LENGTH), 50.8)
    near(read("2.1 N/mm", RATE), 2.1)
    near(read(12, RATE), 12 * 4.4482216152605 / 25.4)
    near(read("20 N mm/deg", TORSION_RATE), 20 * 180 / math.pi)
    try:
        read("3 N", LENGTH)
    except QuantityError:
        return
    raise AssertionError("a force was taken for a length")


def test_hand_line():
    """A circle's arc through many points is nearly a circle; distance is arc length."""
    angles = np.linspace(0, 1, 200)
    line = HandLine([[100 * math.cos(a), 100 * math.sin(a)] for a in angles], smooth=True)
    near(line.length, 100.0, 1e-6)
    point, tangent = line.at(50.0)
    near(point[0], 100 * math.cos(0.5), 1e-4)
    near(tangent @ point, 0.0, 1e-2)
    bent = HandLine([[0, 0], [3, 4], [3, 14]])
    assert np.allclose(bent.at(10)[0], [3, 9])


def test_lever():
    """Lever: Q = P d2 / d1, forces at right angles.

    Baker & Haynes, Engineering Statics, ch. 6.
    """
    solution = Solution(parse(LEVER))
    middle = solution.numbers(4)
    near(middle["handle"], 180.0)
    grip = middle["grips"][0]
    # The handle turns from 178 to 182 degrees: the left end goes down, the tip up, so the
    # tool opens; the jaw works with the sign of an opening tool.
    near(grip["jaws"]["tip"]["ratio"], -160 / 40)


def test_lever_friction():
    """Class-1 lever with a rubbing pin: Q (l1 - r_f) = P (l + r_f), pin load P + Q.

    Walsh, Handbook of Machining and Metalworking Calculations, 2001, clamp lever; there with mu r,
    here with the friction circle r sin(atan mu).
    """
    text = LEVER.replace('push = "square"\nforce = 300', 'push = "square"\nforce = 1000')
    text = text.replace("[-200, 0]", "[-50, 0]").replace("[160]", "[25]")
    # The tip is pressed down against an anvil below: the left end goes up.
    text = text.replace("tip = [40, 5]", "tip = [100, 0]").replace("[40, -5]", "[100, -9]")
    text = text.replace("handle = 178", "handle = 181").replace("handle = -178", "handle = 179")
    text += '[joints]\ndiameter = 6\nfriction = 0.12\n'
    middle = Solution(parse(text)).numbers(4)["grips"][0]
    r_f = 3 * math.sin(math.atan(0.12))
    force = 1000 * (25 - r_f) / (100 + r_f)
    near(middle["jaws"]["tip"]["jaw_force"], force)
    near(middle["jaws"]["tip"]["efficiency"], force / 250)
    near(middle["pin_loads"]["pivot"], 1000 + force)


SLIDER = """
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { crank = [0, 0] }
marks = { stop = [200, 0] }
[parts.arm]
pins = { crank = [0, 0], knee = [%(r)s, 0] }
[parts.rod]
pins = ["knee", "wrist"]
length = %(l)s
[parts.plunger]
pins = { wrist = [0, 0] }
[[slots]]
part = "plunger"
point = "wrist"
on = "frame"
through = [0, 0]
angle = 0
keyed = true
%(slot)s
[sketch]
knee = [%(kx)s, %(ky)s]
wrist = [%(w)s, 0]
[hand]
part = "arm"
line = ["crank", "knee"]
grips = [%(r)s]
push = %(push)s
force = 100
[[jaw]]
on = "plunger.wrist"
against = "frame.stop"
axis = 180
[stroke]
open = { handle = %(open)s }
shut = { handle = %(shut)s }
steps = 10
%(more)s
"""


def slider(r, rod, middle, push='"square"', slot="", more=""):
    a = math.radians(middle)
    return SLIDER % dict(
        r=r, l=rod, kx=r * math.cos(a), ky=r * math.sin(a), push=push, slot=slot, more=more,
        w=r * math.cos(a) + math.sqrt(rod * rod - (r * math.sin(a)) ** 2),
        open=middle + 5, shut=middle - 5)


def test_slider_crank():
    """Piston speed r (sin a + cos a tan phi), sin phi = r/l sin a.

    Khurmi & Gupta, Theory of Machines, slider-crank.
    """
    for r, l, a in ((40, 100, 30), (25, 90, 70), (60, 140, -115)):
        end = Solution(parse(slider(r, l, a))).numbers(5)
        grip = end["grips"][0]
        turn = math.radians(a)
        phi = math.asin(r / l * math.sin(turn))
        speed = r * (math.sin(turn) + math.cos(turn) * math.tan(phi))
        ratio = r / abs(speed)
        near(abs(grip["jaws"]["jaw"]["ratio"]), ratio)
        if grip["jaws"]["jaw"]["ratio"] > 0:
            near(grip["jaws"]["jaw"]["jaw_force"], 100 * ratio)
            near(abs(grip["axial"]["rod"]), 100 * ratio / math.cos(phi))
        else:
            # This hand opens the jaw: there is no force at it.
            near(grip["jaws"]["jaw"]["jaw_force"], 0.0)
        near(end["pins"]["wrist"]["x"], r * math.cos(turn) + l * math.cos(phi))


def test_equal_toggle():
    """2 P tan a = Q for a force Q across at the knee (Den Hartog, Mechanics, problem 31)."""
    for a in (3, 12, 30):
        end = Solution(parse(slider(50, 50, a, push="-90"))).numbers(5)
        force = 100 / (2 * math.tan(math.radians(a)))
        near(end["grips"][0]["jaws"]["jaw"]["jaw_force"], force)
        near(end["grips"][0]["pin_loads"]["wrist"], force / math.cos(math.radians(a)))
        near(end["grips"][0]["axial"]["rod"], -force / math.cos(math.radians(a)))


def test_slot_friction():
    """Slider pushed along its guide by a slanted rod: Q = S cos phi - mu S sin phi.

    Coulomb on a plane guide; common practice, no source. The rod is frictionless, so its force
    keeps its frictionless value.
    """
    a, mu = 20, 0.15
    plain = Solution(parse(slider(50, 80, a, push="-90"))).numbers(5)["grips"][0]
    rubs = Solution(parse(slider(50, 80, a, "-90", f"friction = {mu}"))).numbers(5)["grips"][0]
    phi = math.asin(50 / 80 * math.sin(math.radians(a)))
    rod = plain["pin_loads"]["wrist"]
    near(rubs["pin_loads"]["wrist"], rod)
    near(rubs["jaws"]["jaw"]["jaw_force"], rod * (math.cos(phi) - mu * math.sin(phi)))


def test_toggle_friction():
    """A link with rubbing pins: its force line leans by asin((r_f1 + r_f2) / L) (friction

    circle, from memory). Both ends of the rod rub against rotations of the same sense here.
    """
    r, l, a = 50.0, 80.0, 20.0
    more = "[joints]\ndiameter = 8\nfriction = 0.1\n"
    found = Solution(parse(slider(r, l, a, "-90", more=more))).numbers(5)["grips"][0]
    r_f = 4 * math.sin(math.atan(0.1))
    turn = math.radians(a)
    phi = math.asin(r / l * math.sin(turn))
    # Straightening: the thrust line leans against the straightening, the rod seems flatter
    # to the hand and steeper to the plunger: the line passes the pins on the far sides.
    lean = math.asin(2 * r_f / l)
    line = phi + lean                       # of the thrust, below the guide's direction
    d = np.array([math.cos(line), -math.sin(line)])
    knee = r * np.array([math.cos(turn), math.sin(turn)])
    wrist = np.array([r * math.cos(turn) + l * math.cos(phi), 0.0])
    # Thrust S along d, passing the wrist at r_f (so that it turns the rod back).
    offset = {s: wrist + s * r_f * np.array([-d[1], d[0]]) for s in (1, -1)}
    through = min(offset.values(),
                  key=lambda p: abs(abs((p - knee)[0] * d[1] - (p - knee)[1] * d[0]) - r_f))
    # Arm: moments about the crank of P (down at the knee), of the reaction -S d through the
    # rod's line, and of the crank pin r_f |R|, by one-dimensional search.
    from scipy.optimize import brentq

    def left(s):
        pin = np.array([0.0, 100.0]) + s * d
        return (-knee[0] * 100 - s * (through[0] * d[1] - through[1] * d[0])
                + r_f * np.hypot(*pin))
    s = brentq(left, 1, 1e4, xtol=1e-12)
    near(found["pin_loads"]["wrist"], s, 1e-9)
    near(found["jaws"]["jaw"]["jaw_force"], s * math.cos(line), 1e-9)


def test_edge_friction():
    """A jaw beside its guide: the couple Q h rubs at both edges, Q = S cos phi - 2 mu Q h / w.

    Couple carried by two edge forces M / w; common practice, no source.
    """
    a, mu, h, w = 20, 0.1, 30.0, 20.0
    text = slider(50, 80, a, "-90", f"friction = {mu}\nwidth = {w}")
    text = text.replace("pins = { wrist = [0, 0] }",
                        f"pins = {{ wrist = [0, 0] }}\nmarks = {{ tip = [0, {h}] }}")
    text = text.replace("plunger.wrist", "plunger.tip")
    grip = Solution(parse(text)).numbers(5)["grips"][0]
    phi = math.asin(50 / 80 * math.sin(math.radians(a)))
    rod = grip["pin_loads"]["wrist"]
    near(rod, Solution(parse(slider(50, 80, a, "-90"))).numbers(5)["grips"][0]
         ["pin_loads"]["wrist"])
    assert 2 * grip["jaws"]["jaw"]["jaw_force"] * h / w > rod * math.sin(phi)
    near(grip["jaws"]["jaw"]["jaw_force"], rod * math.cos(phi) / (1 + 2 * mu * h / w))


def test_contact():
    """Tips that meet, default axis: gap 0 is reached and the ratio is arm to arm there."""
    text = LEVER.replace("anvil = [40, -5]", "anvil = [40, 0]").replace("axis = 90\n", "")
    text = text.replace("tip = [40, 5]", "tip = [40, 0]")
    text = text.replace("{ handle = 178 }", "{ gap = 4 }").replace("{ handle = -178 }",
                                                                   "{ gap = 0 }")
    # Tip and line lie on one straight line: drawn shut, at contact; it opens either way.
    shut = Solution(parse(text)).numbers(8)
    near(shut["jaws"]["jaw" if "jaw" in shut["jaws"] else "tip"]["gap"], 0.0, 1e-9)
    near(shut["grips"][0]["jaws"]["tip"]["ratio"], 160 / 40)


def test_sketch_in_pixels():
    """A photo of the same slider: pixels down, scale and datum; the exact parts win."""
    plain = slider(40, 100, 30)
    a = math.radians(30)
    kx, ky = 300 + 40 * math.cos(a) / 0.5, 400 - 40 * math.sin(a) / 0.5
    w = 300 + (40 * math.cos(a) + math.sqrt(100**2 - 20**2)) / 0.5
    start, end = plain.index("[sketch]"), plain.index("[hand]")
    photo = (plain[:start] + f"[sketch]\ncrank = [300, 400]\nknee = [{kx}, {ky}]\n"
             f"wrist = [{w}, 400]\nscale = {{ from = [0, 0], to = [30, 40], length = 25 }}\n"
             'origin = "crank"\n' + plain[end:])
    one, two = (Solution(parse(t)).numbers(3) for t in (plain, photo))
    near(one["pins"]["wrist"]["x"], two["pins"]["wrist"]["x"])


def test_opening():
    """The return stroke of a clamp lever: the work turns it back, Q (l1 + r_f) = P (l - r_f).

    The hand's newtons at the jaw grow where friction helps to hold: same source as the closing
    stroke above, with the friction moment r_f (P + Q) turned round.
    """
    text = LEVER.replace('push = "square"\nforce = 300', 'push = "square"\nforce = 1000')
    text = text.replace("[-200, 0]", "[-50, 0]").replace("[160]", "[25]")
    text = text.replace("tip = [40, 5]", "tip = [100, 0]").replace("[40, -5]", "[100, -9]")
    text = text.replace("handle = 178", "handle = 181").replace("handle = -178", "handle = 179")
    text += '[joints]\ndiameter = 6\nfriction = 0.12\n'
    jaw = Solution(parse(text), opening=True).numbers(4)["grips"][0]["jaws"]["tip"]
    r_f = 3 * math.sin(math.atan(0.12))
    near(jaw["jaw_force"], 1000 * (25 + r_f) / (100 - r_f))
    near(jaw["efficiency"], 250 / jaw["jaw_force"])


def test_locking():
    """A slider pushed along its guide by a rod at the angle phi: Q = S (cos phi - mu sin phi).

    It locks where tan phi >= 1 / mu: the angle from the normal is within the friction angle (block
    on a plane; Baker & Haynes, Engineering Statics, ch. 9). Pulled back by the work the friction
    acts the other way, S = Q / (cos phi + mu sin phi), and nothing locks.
    """
    a = 60.0
    phi = math.asin(70 / 80 * math.sin(math.radians(a)))
    for mu in (0.5, 0.999 / math.tan(phi), 1.001 / math.tan(phi), 1.9):
        tool = parse(slider(70, 80, a, slot=f"friction = {mu}"))
        plain = Solution(parse(slider(70, 80, a))).numbers(5)["grips"][0]["jaws"]["jaw"]
        closing, opening = (Solution(tool, way).numbers(5)["grips"][0]["jaws"]["jaw"]
                            for way in (False, True))
        share = 1 - mu * math.tan(phi)
        assert closing["locked"] == (share <= 0), (mu, closing)
        assert not opening["locked"]
        if share > 0:
            near(closing["jaw_force"], plain["jaw_force"] * share, 1e-8)
        else:
            assert closing["jaw_force"] is None
        near(opening["jaw_force"], plain["jaw_force"] * (1 + mu * math.tan(phi)), 1e-8)


def test_compare_sees_a_difference():
    """A program that answers from this reference passes; 3e-6 more jaw force is a breach."""
    source = f"""#!{sys.executable}
import json, sys
sys.path.insert(0, {str(Path(__file__).parent)!r})
from solver import Solution
from toolfile import load
s = Solution(load(sys.argv[2]), "--opening" in sys.argv)
positions = [{{**s.numbers(k), "beyond": False}} for k in range(s.tool.steps + 1)]
positions[-1]["grips"][0]["jaws"]["jaw"]["jaw_force"] *= 1 + ERROR
print(json.dumps({{"format": 1, "positions": positions, "dies_meet": None}}))
"""
    with tempfile.TemporaryDirectory() as folder:
        tool, program = Path(folder, "slider.toml"), Path(folder, "program")
        tool.write_text(slider(40, 100, 30), encoding="utf-8")
        for error, status in (("0.0", 0), ("3e-6", 1)):
            program.write_text(source.replace("ERROR", error), encoding="utf-8")
            program.chmod(0o755)
            with contextlib.redirect_stdout(io.StringIO()):
                assert compare.compare_all(str(program), [tool], 1) == status


def test_edge_forces():
    """A couple too small to lift an edge adds nothing; a larger one rubs by 2 |M| / width."""
    edges, _ = forces.edge_forces(10.0, 20.0, 8.0)
    assert np.allclose(edges, [7.5, 2.5])
    edges, _ = forces.edge_forces(10.0, 80.0, 8.0)
    near(np.abs(edges).sum(), 2 * 80 / 8)


def test_springs():
    """A spring at the lever: moment balance by hand."""
    text = LEVER.replace("handle = 178", "handle = 182").replace("handle = -178",
                                                                 "handle = 178")
    text = text.replace("marks = { tip", "marks = { tail = [-100, 0], tip")
    text = text.replace("marks = { anvil", "marks = { peg = [-100, -60], anvil")
    spring = '[[springs]]\nfrom = "lever.tail"\nto = "frame.peg"\nrate = 2\nfree = 90\n'
    pin = '[[springs]]\npin = "pivot"\nrate = "20 N mm/deg"\nfree = -25\n'
    found = Solution(parse(text + spring)).numbers(4)["grips"][0]
    near(found["jaws"]["tip"]["ratio"], 4)
    # Compressed by 30: pushes the tail up with 60 N, which closes the tip (100 : 40).
    near(found["jaws"]["tip"]["jaw_force"], 1200 + 60 * 100 / 40)
    # Lever at 0 deg, 25 deg past slack: 500 N mm clockwise on the lever, the tip down.
    found = Solution(parse(text + pin)).numbers(4)["grips"][0]
    near(found["jaws"]["tip"]["jaw_force"], 1200 + 500 / 40)
    pull = spring.replace("free = 90", 'free = 90\nacts = "pull"')
    near(Solution(parse(text + pull)).numbers(4)["grips"][0]["jaws"]["tip"]["jaw_force"], 1200)
    work = "[work]\nneed = [[20, 0], [0, 2000]]\n"
    near(Solution(parse(text + work)).numbers(4)["grips"][0]["jaws"]["tip"]["hand_force"],
         2000 * (1 - 10 / 20) / 4)


def check_power(tool, where):
    """Hand work equals jaw work over small steps, and the forces agree with the velocities."""
    solution = Solution(tool)
    link, size = solution.link, solution.link.size
    jaw, hand = tool.jaws[0], tool.hand
    checked = 0
    for k in (0, tool.steps // 2, tool.steps):
        pose, rates, _ = solution.stroke[k]
        step = 2e-5
        ahead, behind = (link.solve(pose + way * step * rates,
                                    lambda z, g=way * step: (rates @ (z - pose) - g, rates))
                         for way in (1, -1))
        closing = link.gap(behind, jaw) - link.gap(ahead, jaw)
        for grip, sign in zip(hand.grips, solution.signs):
            (g1, h1), (g0, h0) = link.facing(ahead, grip), link.facing(behind, grip)
            here, there = link.facing(pose, grip)
            if hand.push == "across":
                u = (there - here) / np.hypot(*(there - here))
                work = u @ ((g1 - g0) - (h1 - h0))
            else:
                way = g1 - g0
                if hand.palm is not None:
                    turn = rotation(link.angle(pose, hand.palm))
                    own = turn.T @ (here - link.point(pose, hand.palm, np.zeros(2)))
                    way = way - (link.point(ahead, hand.palm, own)
                                 - link.point(behind, hand.palm, own))
                work = forces.push_direction(link, pose, grip, sign) @ way
            ratio = forces.ratio(link, pose, rates, jaw, grip, sign)
            assert abs(work - ratio * closing) < 1e-6 * step * size * max(1, abs(ratio)), (
                where, work, ratio * closing)
            bodies = forces.Bodies(link, pose, rates)
            z = bodies.solve(bodies.work_load(jaw), bodies.push(grip, sign), friction=False)
            near(z[-1] / ratio, 1.0, 1e-9)
            checked += 1
    return checked


def test_generated_power():
    for number in range(2 * len(FAMILIES)):
        family = FAMILIES[number % len(FAMILIES)]
        assert check_power(parse(make_tool(family, 7000 + number)), (family, number)) > 0


def test_generated_balance():
    """Friction never helps the hand, and the frictional equilibrium still balances as a whole."""
    for number in range(len(FAMILIES)):
        tool = parse(make_tool(FAMILIES[number], 7100 + number, springs=False, work=False))
        solution = Solution(tool)
        for k in (0, tool.steps):
            for grip in solution.numbers(k)["grips"]:
                for jaw in grip["jaws"].values():
                    assert 0 < jaw["efficiency"] <= 1 + 1e-12


if __name__ == "__main__":
    for name, test in list(globals().items()):
        if name.startswith("test_"):
            test()
            print("ok", name)
