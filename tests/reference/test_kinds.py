"""Hand calculations for gears, arc slots, rollers and cams. Run: python test_kinds.py

Sources stand beside each check; "own derivation" where the balance of two bodies is written out in full.
"""

import math
import tempfile
from pathlib import Path

import numpy as np

import compare_tolerance
import forces
from faces import Face
from kinds import Gears
from ledger import Ledger
from likeness import spoiled
from solver import Solution
from test_reference import near, slider
from toolfile import parse


def middle(text, opening=False):
    """The middle position of a stroke of ten steps."""
    return Solution(parse(text), opening).numbers(5)


def contact(text, grip_force, opening=False):
    """Normal force of the last contact in the middle of the stroke, its whole force, and the jaw's."""
    tool = parse(text)
    solution = Solution(tool, opening)
    pose, rates, _ = solution.stroke[5]
    bodies = forces.Bodies(solution.link, pose, rates, opening)
    push = bodies.push(tool.hand.grips[0], solution.signs[0])
    z = bodies.solve(bodies.work_load(tool.jaws[0]), grip_force * push, friction=True)
    return z[-2], bodies.contacts[-1].total(z[-2]), z[-1]


# -- links under another name ---------------------------------------------------------------------
ROD = '[parts.rod]\npins = ["knee", "wrist"]\nlength = 100\n'
R, L = 40, 100


def without_rod(a, contact, push='"square"'):
    """The slider-crank of 40 and 100 mm, with a contact in the place of its rod."""
    text = slider(R, L, a, push)
    assert ROD in text
    text = text.replace(ROD, "").replace("pins = { crank = [0, 0], knee = [40, 0] }",
                                         "pins = { crank = [0, 0] }\nmarks = { knee = [40, 0] }")
    return text + contact


ARC = """
[[slots]]
part = "plunger"
point = "wrist"
on = "arm"
centre = "knee"
radius = 100
"""
CAM = """
[[cams]]
part = "arm"
face = { centre = [40, 0], radius = 70 }
pushes = "plunger.wrist"
roller = { diameter = 60, pin = 20 }
"""


def test_an_arc_slot_is_a_link():
    """Between the centre of the slot and what rides in it; its force is that of the link."""
    for a in (30, 70, -115):
        link, arc = (middle(t) for t in (slider(R, L, a), without_rod(a, ARC)))
        one, other = (n["grips"][0]["jaws"]["jaw"] for n in (link, arc))
        near(other["ratio"], one["ratio"])
        near(other["jaw_force"], one["jaw_force"])
        near(arc["pins"]["wrist"]["x"], link["pins"]["wrist"]["x"])
        if one["jaw_force"] > 0:
            # Along C -> P: pushed apart where the link is in compression.
            near(contact(without_rod(a, ARC), 100)[0], -link["grips"][0]["axial"]["rod"])


def test_an_eccentric_on_a_roller_is_a_link_that_only_pushes():
    """As long as the two radii together. Pulled, it lifts off."""
    for a, lifts in ((30, False), (70, False), (-60, False)):
        link, cam = (middle(t)["grips"][0] for t in (slider(R, L, a), without_rod(a, CAM)))
        one, other = link["jaws"]["jaw"], cam["jaws"]["jaw"]
        near(other["ratio"], one["ratio"])
        if one["jaw_force"] > 0:
            assert link["axial"]["rod"] < 0
            near(other["jaw_force"], one["jaw_force"])
            near(cam["pin_loads"]["crank"], link["pin_loads"]["crank"])
    # The same tool with the jaw on the near side of the plunger: the hand would have to pull it.
    pulled = [t.replace("stop = [200, 0]", "stop = [-200, 0]").replace("axis = 180", "axis = 0")
              .replace("open = { handle = 35 }\nshut = { handle = 25 }",
                       "open = { handle = 25 }\nshut = { handle = 35 }")
              for t in (slider(R, L, 30), without_rod(30, CAM))]
    link, cam = (middle(t)["grips"][0] for t in pulled)
    assert link["axial"]["rod"] > 0 and link["jaws"]["jaw"]["jaw_force"] > 0
    near(cam["jaws"]["jaw"]["ratio"], link["jaws"]["jaw"]["ratio"])
    assert cam["jaws"]["jaw"]["lifts_off"] and cam["jaws"]["jaw"]["jaw_force"] is None
    assert not cam["pin_loads"]


# -- friction -------------------------------------------------------------------------------------
def test_roller_in_an_arc_slot():
    """Arm and plunger as two bodies, own derivation: the plunger's force S at the wall, square to it and mu
    d/D of that along it. S . x is the jaw force, its moment about the crank that of the hand. Of the two
    senses of friction the one that takes from the jaw is meant closing, the other opening.
    """
    a, mu, pin, rim = 30, 0.1, 5.0, 12.0
    turn = math.radians(a)
    knee = R * np.array([math.cos(turn), math.sin(turn)])
    wrist = np.array([knee[0] + math.sqrt(L * L - knee[1] ** 2), 0.0])
    u = (wrist - knee) / L
    t = np.array([-u[1], u[0]])
    for roller, share, wall in (("", 1.0, wrist), (
            f"roller = {{ diameter = {rim}, pin = {pin} }}\n", pin / rim, wrist - rim / 2 * u)):
        found = []
        for sense in (1, -1):
            d = u + sense * mu * share * t      # direction of S on the plunger
            found.append(100 * R * d[0] / abs(wall[0] * d[1] - wall[1] * d[0]))
        text = without_rod(a, ARC + f"friction = {mu}\n" + roller)
        for opening, force in ((False, min(found)), (True, max(found))):
            near(middle(text, opening)["grips"][0]["jaws"]["jaw"]["jaw_force"], force)


def test_roller_of_a_cam():
    """The same with the roller's rim where the disc touches it, own derivation."""
    a, mu = 30, 0.4
    turn = math.radians(a)
    knee = R * np.array([math.cos(turn), math.sin(turn)])
    u = np.array([math.sqrt(L * L - knee[1] ** 2), -knee[1]]) / L
    touch, t = knee + 70 * u, np.array([-u[1], u[0]])
    found = []
    for sense in (1, -1):
        d = u + sense * mu * 20 / 60 * t
        found.append(100 * R * d[0] / abs(touch[0] * d[1] - touch[1] * d[0]))
    text = without_rod(a, CAM + f"friction = {mu}\n")
    for opening, force in ((False, min(found)), (True, max(found))):
        near(middle(text, opening)["grips"][0]["jaws"]["jaw"]["jaw_force"], force)


FLAT = """
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0] }
marks = { anvil = [0, 100] }
[parts.lever]
pins = { pivot = [0, 0] }
[parts.ram]
marks = { foot = [0, 0], head = [0, 40] }
[sketch]
foot = [0, 24]
head = [0, 64]
[[slots]]
part = "ram"
point = "foot"
on = "frame"
through = [0, 0]
angle = 90
keyed = true
[[cams]]
part = "lever"
face = { centre = [5, 0], radius = 20 }
pushes = "ram.foot"
flat = 180
friction = 0.1
[hand]
part = "lever"
line = [[0, 0], [-100, 0]]
grips = [80]
push = "square"
force = 100
[[jaw]]
name = "head"
on = "ram.head"
against = "frame.anvil"
axis = -90
[stroke]
open = { handle = "%s deg" }
shut = { handle = "%s deg" }
steps = 10
"""


def test_disc_on_a_flat():
    """Eccentric e under a flat that moves straight, q its angle from full lift: the load F stands e sin q
    beside the pivot and its friction mu F at R + e cos q from it: M = F (e sin q + mu (R + e cos q)), own
    derivation from moments about the pivot; lowering, friction turns round.
    """
    e, radius, mu = 5.0, 20.0, 0.1
    for q in (90, 60, 40):
        # Centre at 90 - q from x, the line of the handle opposite: rising as the handle turns left.
        handle = math.remainder(90 - q + 180, 360)
        text = FLAT % (handle - 5, handle + 5)
        turn = math.radians(q)
        near(middle(text)["jaws"]["head"]["gap"], 60 - e * math.cos(turn) - radius)
        for opening, sign in ((False, 1), (True, -1)):
            force = 100 * 80 / (e * math.sin(turn) + sign * mu * (radius + e * math.cos(turn)))
            near(middle(text, opening)["grips"][0]["jaws"]["head"]["jaw_force"], force)


YOKE = """
[[slots]]
part = "arm"
point = "knee"
on = "plunger"
through = [0, 0]
angle = 90
friction = 0.3
roller = { diameter = 12, pin = 5 }
"""


def test_roller_in_a_straight_slot():
    """Scotch yoke: the plunger's load Q is square to the slot, friction mu d/D Q along the wall that is pressed,
    D/2 beyond the pin: M = Q (r sin a + mu d/D (r cos a + D/2)), own derivation."""
    for a in (35, 60):
        turn, rough = math.radians(a), 0.3 * 5 / 12
        text = without_rod(a, YOKE)
        wrist = R * math.cos(turn)
        start = text.index("wrist = [", text.index("[sketch]"))
        text = text[:start] + f"wrist = [{wrist}, 0]" + text[text.index("\n", start):]
        for opening, sign in ((False, 1), (True, -1)):
            force = 100 * R / (R * math.sin(turn) + sign * rough * (R * math.cos(turn) + 6))
            near(middle(text, opening)["grips"][0]["jaws"]["jaw"]["jaw_force"], force)


# -- gears ----------------------------------------------------------------------------------------
PAIR = """
[tool]
units = "mm-N"
[parts.plate]
fixed = true
pins = { upper-heel = [0, 12], lower-heel = [0, -12] }
marks = { anvil = [-20, -8] }
[parts.upper]
pins = { upper-heel = [0, 0] }
marks = { witness = [0, -12], nose = [-20, 0] }
[parts.lower]
pins = { lower-heel = [0, 0] }
marks = { witness = [0, 12] }
[[gears]]
parts = ["upper", "lower"]
about = ["upper-heel", "lower-heel"]
meet = ["upper.witness", "lower.witness"]
teeth = [14, 14]
angle = 20
friction = %s
[sketch]
nose = [-20, 12]
[hand]
part = "upper"
line = [[0, 0], [-150, 0]]
against = { part = "lower", line = [[0, 0], [-150, 0]] }
grips = [100]
force = 150
[[jaw]]
name = "nose"
on = "upper.nose"
against = "plate.anvil"
axis = 90
closed = 19.5
[stroke]
open = { gap = 1 }
shut = { gap = 0 }
steps = 10
"""


def test_geared_pair():
    """F = 150 at 100 on both, jaw at 20 on one, radii 12: Q = 2 F L / b = 1500 N, pitch-line force F L / r =
    1250 N, on the tooth 1250 / cos 20 = 1330.22 N, apart 1250 tan 20 = 454.96 N; the lower pin takes
    1250 N and 454.96 - 150 N. Moments about both pins; common practice, no source."""
    text = PAIR % 0
    normal, (force, couple), jaw = contact(text, 150)
    near(jaw, 1500)
    near(abs(normal), 1250)
    near(force[1], 454.96, 1e-5)        # on the upper part, upwards
    near(math.hypot(*force), 1330.22, 1e-5)
    near(couple, 0)
    grip = middle(text)["grips"][0]
    near(grip["pin_loads"]["lower-heel"], math.hypot(1250, 1250 * math.tan(math.radians(20)) - 150))


def test_mesh_friction():
    """The wheel that is driven gets the share eta of the other's moment: Q b = F L (1 + eta), and where the
    work drives the other way Q b = F L (1 + 1 / eta). eta = 1 - mu H, H of 14 and 14 teeth at 20 deg
    0.272, contact ratio 1.463 (Niemann and Winter, Maschinenelemente, from memory)."""
    ratio = 2 * (math.sqrt(8 ** 2 - (7 * math.cos(math.radians(20))) ** 2)
                 - 7 * math.sin(math.radians(20))) / (math.pi * math.cos(math.radians(20)))
    near(ratio, 1.463, 1e-3)
    h = math.pi / 7 * (1 - ratio + ratio ** 2 / 2)
    near(h, 0.272, 1e-3)
    eta = 1 - 0.1 * h
    text = PAIR % 0.1
    near(middle(text)["grips"][0]["jaws"]["nose"]["jaw_force"], 750 * (1 + eta))
    near(middle(text, True)["grips"][0]["jaws"]["nose"]["jaw_force"], 750 * (1 + 1 / eta))


def test_ring():
    """Wheel of 12 in a ring of 30, hand on the wheel, jaw on the ring: Q = eta F L r2 / (r1 b), both turning the
    same way; the other way Q = F L r2 / (eta r1 b). The ring is pressed on from within: 1250 tan 20."""
    for mu in (0.0, 0.1):
        text = (PAIR % mu).replace("teeth = [14, 14]", "teeth = [30, 12]")
        # The upper part as the ring about (0, 12), the wheel's pin 18 below: they touch 30 below.
        text = text.replace("lower-heel = [0, -12] }\nmarks = { anvil",
                            "lower-heel = [0, -6] }\nmarks = { anvil")
        text = text.replace("witness = [0, -12]", "witness = [0, -30]")
        text = text.replace("witness = [0, 12]", "witness = [0, -12]")
        text = text.replace('part = "upper"\nline = [[0, 0], [-150, 0]]\nagainst = { part = "lower", '
                            "line = [[0, 0], [-150, 0]] }",
                            'part = "lower"\nline = [[0, 0], [-150, 0]]\npush = "square"')
        tool = parse(text)
        assert tool.gears[0].internal and tool.gears[0].ring == 0
        eta = 1 - tool.gears[0].loss
        assert mu == 0 or 0.95 < eta < 1
        whole = 150 * 100 * 30 / (12 * 20)
        near(middle(text)["grips"][0]["jaws"]["nose"]["jaw_force"], eta * whole)
        near(middle(text, True)["grips"][0]["jaws"]["nose"]["jaw_force"], whole / eta)
    _, (force, _), _ = contact(text.replace("friction = 0.1", "friction = 0"), 150)
    near(force[1], -1250 * math.tan(math.radians(20)))     # on the ring: downwards


def test_loss_of_a_ring_and_of_a_rack():
    """A ring of very many teeth and a wheel of very many are both a rack, from either side."""
    def loss(teeth, internal, slot=None):
        return Gears([], "", [], [], [], teeth, internal, slot, math.radians(20), 0.1, "").loss

    rack = loss([20, 0], False, object())
    near(loss([20, 10 ** 7], False), rack, 1e-5)
    near(loss([20, 10 ** 7], True), rack, 1e-5)


RACK = """
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { axle = [0, 0] }
marks = { bed = [36, -100] }
[parts.wheel]
pins = { axle = [0, 0] }
marks = { w = [36, 0] }
[parts.rack]
marks = { guide = [0, 0], w = [-4, 0], nose = [0, -60] }
[[slots]]
part = "rack"
point = "guide"
on = "frame"
through = [40, 0]
angle = 90
keyed = true
[[gears]]
parts = ["wheel", "rack"]
about = ["axle", "guide"]
meet = ["wheel.w", "rack.w"]
teeth = [18, 0]
angle = 20
friction = %s
[sketch]
guide = [40, 0]
nose = [40, -60]
[hand]
part = "wheel"
line = [[0, 0], [500, 0]]
grips = [500]
push = "square"
force = 500
[[jaw]]
name = "nose"
on = "rack.nose"
against = "frame.bed"
axis = 90
[stroke]
open = { handle = 5 }
shut = { handle = -5 }
steps = 10
"""


def test_rack_and_pinion():
    """Q = eta F L / r; on the tooth Q / cos 20. The rack moves r for each radian of the wheel."""
    for mu in (0.0, 0.1):
        text = RACK % mu
        eta = 1 - parse(text).gears[0].loss
        whole = 500 * 500 / 36
        near(middle(text)["grips"][0]["jaws"]["nose"]["jaw_force"], eta * whole)
        near(middle(text, True)["grips"][0]["jaws"]["nose"]["jaw_force"], whole / eta)
        ends = [Solution(parse(text)).numbers(k)["jaws"]["nose"]["gap"] for k in (0, 10)]
        near(ends[0] - ends[1], 36 * math.radians(10))
    _, (force, _), _ = contact(RACK % 0, 500)
    near(math.hypot(*force), whole / math.cos(math.radians(20)))
    assert force[0] < 0                 # on the wheel, away from the rack


# -- tolerances of contacts -----------------------------------------------------------------------
TOLERANCES = """
[tolerances]
"slots.2.radius" = 0.2
"slots.2.friction" = 0.01
"plunger.wrist.y" = 0.1
"frame.stop.x" = 0.1
"jaw.jaw.axis" = 0.5
"""


def shares(text, name):
    """What the reference says of a measure of a file with tolerances, and all that it compares it with."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "case.toml"
        path.write_text(text, encoding="utf-8")
        script, kept = compare_tolerance, compare_tolerance.answer
        script.answer = lambda *_: {"varied": [], "measures": [], "samples": 0}
        try:
            study = script.Study(path, "none", Ledger(script.LIMITS))
        finally:
            script.answer = kept
        measure = script.Measure(study, {"name": name})
        return study, measure, study.work_out(measure)


def test_tolerance_of_an_arc_slot_is_that_of_a_link():
    """Its radius moves all that the length of the link in its place moves."""
    _, _, link = shares(slider(R, L, 70) + '[tolerances]\n"rod.length" = 0.2\n', "ratio at shut")
    _, _, arc = shares(without_rod(70, ARC) + '[tolerances]\n"slots.2.radius" = 0.2\n', "ratio at shut")
    near(arc["shares"]["slots.2.radius"], link["shares"]["rod.length"], 1e-7)
    assert abs(link["shares"]["rod.length"]) > 1e-4


def test_compare_tolerance_sees_a_difference():
    study, measure, want = shares(without_rod(70, ARC + "friction = 0.1\n") + TOLERANCES
                                  + '[ties]\n"plunger.wrist.y" = "0.5 * frame.stop.x - 100 mm"\n', "jaw_force at shut")
    assert set(study.plan) == {"slots.2.radius", "slots.2.friction", "frame.stop.x", "jaw.jaw.axis"}
    near(study.changed({"frame.stop.x": 0.1})({}).tool.parts["plunger"].points["wrist"][1], 0.05)
    study.work_out = lambda _: want

    def breaches(said):
        study.ledger = Ledger(compare_tolerance.LIMITS)
        measure.entry = {"name": measure.entry["name"], **said, "shares": list(said["shares"].items())}
        study.result = {"varied": said["varied"]}
        study.varied()
        study.measure(measure)
        return len(study.ledger.breaches)

    factor = {a: math.pi / 180 if a == "jaw.jaw.axis" else 1.0 for a in study.plan}
    said = {**{k: v for k, v in want.items() if k != "plays"},
            "varied": [[a, v / factor[a], t / factor[a]] for a, (v, t) in study.plan.items()]}
    assert breaches(said) == 0
    top, spoilt = max(map(abs, want["shares"].values())), 0
    for name, wrong in spoiled(said, 3e-4 * max(top, 1.0)):
        assert breaches(wrong) > 0, name
        spoilt += 1
    assert spoilt > 12
    for list_ in ("shares", "varied"):
        short = dict(said[list_]) if list_ == "shares" else said[list_][1:]
        if list_ == "shares":
            short.pop("slots.2.radius")
        assert breaches({**said, list_: short}) > 0, list_


def test_how_far_past_a_straight_face():
    """From x = 2 to 10 along it; the flat leans by an angle whose sine, 0.6, counts with the length of 8."""
    face = Face([[10.0, 1.0], [6.0, 1.0], [2.0, 1.0]])
    near(face.beyond(np.array([9.0, 5.0])), -1)
    near(face.beyond(np.array([12.5, 5.0])), 2.5)
    near(face.beyond(np.array([-1.0, 5.0])), 3)
    near(face.turned_past(np.array([0.6, -0.8])), 4.8)
    near(face.turned_past(np.array([-0.6, -0.8])), 4.8)


if __name__ == "__main__":
    for name, test in list(globals().items()):
        if name.startswith("test_"):
            test()
            print("ok", name)
