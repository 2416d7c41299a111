"""Hand calculations for made tools: their draws, and those that are stopped. Run: python test_made.py"""

import tempfile
from itertools import islice
from pathlib import Path

import compare_stopped
import compare_tolerance
import draws
from ledger import Ledger
from test_reference import near

# A lever that is level at shut. Its pad, 20 from the pin, then is 0.01 above a post that is made up to 0.05 too high.
LEVER = """
[tool]
units = "mm-N"
[parts.base]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [40, 0], post = [20, -0.01] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { nose = [40, 0], pad = [20, 0] }
[sketch]
"lever.nose" = [40, 3]
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
push = "square"
grips = [100]
force = 50
[[jaw]]
name = "nose"
on = "lever.nose"
against = "base.anvil"
axis = 90
%s
[stroke]
open = { gap = 5 }
shut = { gap = 0 }
[work]
need = [[5, 0], [0.5, 100], [%s, 200]]
[tolerances]
"base.post.y" = 0.05
"""
FACES = 'on = "lever.pad"\nagainst = "base.post"\naxis = 90\n'
STOP, DIES = f'[[stops]]\nname = "post"\nends = "shut"\n{FACES}', f'[[jaw]]\nname = "inner"\n{FACES}'
ASKED = [{"name": "ratio at shut, grip 100", "min": 1.0, "max": None},
         {"name": "ratio at gap=2, grip 100", "min": 1.0, "max": None},
         {"name": "hand_force at peak, grip 100", "min": None, "max": 1e6}]
COUNT = 300


def test_draws_published():
    """M. E. O'Neill's check of the generator begun with 42 and 54 (pcg-c, check-pcg64s.out)."""
    bits = draws.begun(42, 54 << 1 | 1)
    assert [int(w) for w in (bits.random_raw() for _ in range(2))] == [0x86b1da1d72062b68, 0x1304aa46c9853d39]
    # The second chunk begins where the first would be after so many draws.
    first, second = draws.stream(7, 0), draws.stream(7, 1)
    assert first.advance(draws.APART).random_raw() == second.random_raw()
    drawn = list(islice(draws.normal(draws.stream(1, 0)), 4000))
    near(sum(drawn) / 4000, 0, 4 / 4000**0.5)
    near(sum(v * v for v in drawn) / 4000, 1, 4 * (2 / 4000)**0.5)
    drawn = [one["a"] for one in draws.deviations({"a": 3.0}, 300, 1)]
    assert drawn[256:258] == list(islice(draws.normal(draws.stream(1, 1)), 2))


def study(faces, counts, last=0):
    """The lever with these faces; what a program that says these numbers of (met, stopped) of each demand, and how many
    tools meet all, is told: breaches."""
    met, every = counts
    said = {"varied": [["base.post.y", -0.01, 0.05]], "all_met": every,
            "measures": [{**asked, "met": m, "failed": [["are stopped there", s], ["have no number", COUNT - m - s]]}
                         for asked, (m, s) in zip(ASKED, met)]}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "lever.toml")
        path.write_text(LEVER % (faces, last), encoding="utf-8")
        kept, compare_tolerance.answer = compare_tolerance.answer, lambda *_: said
        ledger = Ledger(compare_stopped.LIMITS)
        try:
            compare_stopped.Made(path, "none", ledger, COUNT, 1).compare()
        finally:
            compare_tolerance.answer = kept
    return ledger.breaches


def test_a_post_stops_those_that_are_made_too_high():
    """By more than 0.01; they neither come to shut nor to the end of their work, and all to a gap of 2."""
    high = sum(made["base.post.y"] > 0.01 for made in draws.deviations({"base.post.y": 0.05}, COUNT, 1))
    assert 0.2 * COUNT < high < 0.35 * COUNT      # 0.27 of a normal distribution
    short, all_of = (COUNT - high, high), (COUNT, 0)
    for faces in (STOP, DIES):
        assert study(faces, ([short, all_of, short], COUNT - high)) == []
        # Any of these numbers off by one is seen.
        for wrong in (([(short[0] + 1, high - 1), all_of, short], COUNT - high), ([short, (COUNT - 1, 1), short], COUNT - high),
                      ([short, all_of, (short[0] - 1, high + 1)], COUNT - high), ([short, all_of, short], COUNT - high + 1)):
            assert study(faces, wrong)


def test_work_that_ends_before_the_post_is_done():
    """Its last row is at 0.5, where no post is met."""
    high = sum(made["base.post.y"] > 0.01 for made in draws.deviations({"base.post.y": 0.05}, COUNT, 1))
    short, all_of = (COUNT - high, high), (COUNT, 0)
    assert study(STOP, ([short, all_of, all_of], COUNT - high), 0.4) == []


if __name__ == "__main__":
    for name, test in list(globals().items()):
        if name.startswith("test_"):
            test()
            print("ok", name)
