"""What a hand can do, once and again: published methods. N, seconds, strokes a minute, degrees; efforts as shares of the strength.

Strength: V. Mathiowetz et al., Arch Phys Med Rehabil 66 (1985) 69-74, right hand, lbf (manualshive.com 3843416 p. 5); N. M.
Massy-Westropp et al., BMC Research Notes 4 (2011) 127, dominant hand, kgf. Span: C. Fransson and J. Winkel, Ergonomics 34 (1991)
881-892: best at 50-60 mm (women), 55-65 mm (men), 10 % less for each cm above.
Methods: HAL: R. G. Radwin et al., Ergonomics 58 (2015) 173. TLV 2001, TLV 2018: ACGIH (the latter from memory). SI: J. S. Moore and
A. Garg, Am Ind Hyg Assoc J 56 (1995) 443-458. RSI: A. Garg, J. S. Moore and J. M. Kapellusch, Ergonomics 60 (2017) 912-922 (from
memory; the branches meet). MAE: J. R. Potvin, Human Factors 54 (2012) 175-188 (from memory). Holding: W. Rohmert's curve in T. E.
Bernard (2006).
"""

import math

from scipy.optimize import brentq
from scipy.stats import norm

POUND, KILOGRAM = 4.4482216152605, 9.80665
AGES = "20-24 25-29 30-34 35-39 40-44 45-49 50-54 55-59 60-64 65-69 70-74 75-up".split()
MEN = ("121.0 20.6 120.8 23.0 121.8 22.4 119.7 24.0 116.8 20.7 109.9 23.0 113.6 18.1 101.1 26.7 89.7 20.4 91.1 20.6 75.3 21.5 "
       "65.7 21.0")
WOMEN = ("70.4 14.5 74.5 13.9 78.7 19.2 74.1 10.8 70.4 13.5 62.2 15.1 65.8 11.6 57.3 12.5 55.1 10.1 49.6 9.7 49.6 11.7 "
         "42.6 11.0")
AU_MEN, AU_WOMEN = "47 9.5 47 9.7 47 9.5 45 8.4 40 8.3 33 7.8", "30 7.0 31 6.4 29 5.7 28 6.3 24 5.3 20 5.8"
DECADES = "20s 30s 40s 50s 60s 70-up".split()


def table():
    """{name: (mean, standard deviation) in N}."""
    found = {}
    for prefix, ages, text, unit in (("m-", AGES, MEN, POUND), ("w-", AGES, WOMEN, POUND),
                                     ("au-m-", DECADES, AU_MEN, KILOGRAM), ("au-w-", DECADES, AU_WOMEN, KILOGRAM)):
        numbers = [float(v) * unit for v in text.split()]
        found |= {prefix + age: (numbers[2 * k], numbers[2 * k + 1]) for k, age in enumerate(ages)}
    return found


GROUPS = table()


def women(group):
    return group.removeprefix("au-").startswith("w")


def at_span(span, group):
    """Share of the strength that is left at a span, mm; all of it where no span is known."""
    best = 60 if women(group) else 65
    return 1.0 if span is None else max(1 - .1 * max(span - best, 0) / 10, 0.0)


def able(force, group):
    """Share of a group that exerts a force at its best span."""
    mean, deviation = GROUPS[group]
    return float(norm.sf((force - mean) / deviation))


def least(group, share):
    """What a share of a group has at least."""
    mean, deviation = GROUPS[group]
    return mean - float(norm.ppf(share)) * deviation


def holds(effort):
    """Seconds; from a fifth of the strength on."""
    if not .2 <= effort <= 1:
        return None
    return 60 * (-1.5 + 2.1 / effort - .6 / effort**2 + .1 / effort**3)


# -- methods -------------------------------------------------------------------------------------
def step(value, edges, marks):
    """The mark of the class that a value is in; `edges` are where the next begins."""
    return marks[sum(value >= e for e in edges)]


class Job:
    def __init__(self, strokes, held, hours=8.0, wrist=0.0, speed="fair"):
        self.strokes, self.held, self.hours, self.wrist, self.speed = strokes, held, hours, wrist, speed
        self.duty = strokes * held / 60

    @property
    def hal(self):
        """Hand activity level; on its scale from 0 to 10."""
        often = (self.strokes / 60) ** 1.31
        return min(max(6.56 * math.log(100 * self.duty) * often / (1 + 3.18 * often), 0.0), 10.0)

    # Each: index at an effort, and the limits of the index.
    def rsi(self, effort):
        i, e, d, p, h = effort, self.strokes, self.held, self.wrist, self.hours
        intensity = (30 * i**3 - 15.6 * i**2 + 13 * i + .4 if i <= .4 else 36 * i**3 - 33.3 * i**2 + 24.77 * i - 1.86)
        efforts = .1 + .25 * e if e <= 90 else .00334 * e**1.96
        lasting = .45 + .31 * d if d <= 60 else 19.17 * math.log(d) - 59.44
        if p >= 0:
            posture = 1.2 * math.exp(.009 * p) - .2
        else:
            posture = 1.0 if -p <= 30 else 1 + .00028 * (-p - 30)**2
        day = .2 if h <= .05 else .042 * h + .09 * math.log(h) + .477
        return intensity * efforts * lasting * posture * day

    def si(self, effort):
        bent = abs(self.wrist)
        intensity = step(effort, (.1, .3, .5, .8), (1, 3, 6, 9, 13))
        return intensity * self.si_rest(bent)

    def si_rest(self, bent):
        edges = (15, 30, 50) if self.wrist >= 0 else (25, 40, 60)
        return (step(100 * self.duty, (10, 30, 50, 80), (.5, 1, 1.5, 2, 3))
                * step(self.strokes, (4, 9, 15, 20), (.5, 1, 1.5, 2, 3))
                * (1, 1.5, 2, 3)[sum(bent > e for e in edges)]
                * {"very slow": 1, "slow": 1, "fair": 1, "fast": 1.5, "very fast": 2}[self.speed]
                * (.25, .5, .75, 1, 1.5)[sum(self.hours > e for e in (1, 2, 4, 8))])

    def indices(self, effort):
        """In the order of the program: RSI, MAE, TLV 2001, TLV 2018, SI."""
        return [self.rsi(effort), effort, 10 * effort / (10 - self.hal), 10 * effort, self.si(effort)]

    def limits(self):
        mae = 1 - max(self.duty - 1 / 28800, 0.0) ** .24
        return [(10.0, 10.0), (mae, mae), (.56, .78), (3.6 - .56 * self.hal, 5.6 - .56 * self.hal), (3.0, 7.0)]

    def acceptable(self):
        """Efforts at the two limits of every method."""
        found = []
        for which, pair in enumerate(self.limits()):
            found.append([min(max(self.effort_at(which, limit), 0.0), 1.0) for limit in pair])
        found[3][0] = max(found[3][0], .1)      # efforts up to a tenth do not count there
        found[3][1] = max(found[3][1], .1)
        return found

    def effort_at(self, which, limit):
        if which == 0:
            def over(i):
                return self.rsi(i) - limit
            return brentq(over, 1e-9, 1, xtol=1e-14) if over(1) > 0 > over(1e-9) else (1.0 if over(1) <= 0 else 0.0)
        if which == 1:
            return limit
        if which == 2:
            return limit * (10 - self.hal) / 10
        if which == 3:
            return limit / 10
        rest = self.si_rest(abs(self.wrist))
        # The end of the last class that is still within.
        return max([0.0] + [top for mark, top in zip((1, 3, 6, 9, 13), (.1, .3, .5, .8, 1.0)) if mark * rest <= limit])


def rating(index, limits):
    return "within" if index <= limits[0] else "above" if index > limits[1] else "between"
