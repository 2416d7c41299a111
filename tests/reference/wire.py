"""Springs wound of round wire: rate, stress, room and factors. mm, N, MPa; angles in rad.

Sources. SHIGLEY: Shigley's Mechanical Engineering Design, ch. 10: rate eq. 10-9, K_s 10-3, dimensions table 10-1, buckling
10-10 to 10-13 and table 10-2, torsion 10-43 to 10-53, yield in bending 10-57; limits of steady and repeated stress, which are
meant for stress corrected for curvature, tables 10-6 to 10-8 (from memory; 10-7 and 10-8 read at amesweb.info). BHANDARI:
Design of Machine Elements, sec. 10.9, factor under repeated load. JINDAL: Machine Design, ch. 8, hooks (8-3), coils wound up
(8-9). Moduli: Spring Manufacturers Institute, Handbook of Spring Design. Strength: least tensile strength by diameter as in
ASTM A228, A227 class I, A229 class I and A313 type 302, in inches and ksi, read at interwiregroup.com. The first three may be
interpolated; A313 goes by steps ("over 0.058 to 0.063 in").
"""

import math

import numpy as np

KSI, INCH = 6.894757293168361, 25.4
STEADY_CURVED = True     # a steady load on a helical spring is judged by K_W; False: by K_s
# A313 says one value from step to step.

MUSIC = """.010 387 .011 382 .012 377 .013 373 .014 369 .015 365 .016 362 .018 356 .020 350 .022 345 .024 341 .026 337 .028 333
.030 330 .032 327 .034 324 .036 321 .038 318 .040 315 .042 313 .045 309 .048 306 .051 303 .055 300 .059 296 .063 293 .067 290
.072 287 .076 284 .080 282 .085 279 .090 276 .095 274 .100 271 .102 270 .107 268 .110 267 .112 266 .121 263 .125 261 .130 259
.135 258 .140 256 .145 254 .150 253 .156 251 .162 249 .177 245 .192 241 .207 238 .225 235 .250 230"""
HARD = """.020 283 .023 279 .026 275 .029 271 .032 266 .035 261 .041 255 .048 248 .054 243 .062 237 .072 232 .080 227 .092 220
.106 216 .120 210 .135 206 .148 203 .162 200 .177 195 .192 192 .207 190 .225 186 .250 182 .312 174"""
TEMPERED = """.020 293 .023 289 .026 286 .029 283 .032 280 .035 274 .041 266 .048 259 .054 253 .062 247 .072 241 .080 235 .092 230
.106 225 .120 220 .135 215 .148 210 .162 205 .177 200 .192 195 .207 190 .225 188 .244 187 .250 185 .312 183"""
STAINLESS = """.014 312 .015 310 .016 308 .017 306 .018 304 .020 300 .022 296 .024 292 .026 291 .028 289 .031 285 .034 282
.037 280 .041 275 .045 272 .050 267 .054 265 .058 261 .063 258 .070 252 .075 250 .080 246"""

# G, E; shares of the tensile strength: steady twist, steady bending of a spring about a pin, of hooks.
KINDS = {"music wire": (79.3e3, 207e3, .45, .78, .75), "hard-drawn": (79.3e3, 207e3, .45, .78, .75),
         "oil-tempered": (79.3e3, 207e3, .45, .87, .75), "stainless 302": (69e3, 193e3, .35, .61, .55)}
TABLES = {name: np.array(text.split(), float).reshape(-1, 2).T for name, text in
          zip(KINDS, (MUSIC, HARD, TEMPERED, STAINLESS))}
# Zero to most, by decades from 10^5 to 10^7. Patented and tempered wire: BHANDARI, for any number.
TWIST = {"music wire": (.36, .33, .30), "stainless 302": (.36, .33, .30),
         "hard-drawn": (.21,) * 3, "oil-tempered": (.22,) * 3}
BENDING = {"music wire": (.51, .47, .45), "stainless 302": (.51, .47, .45)}
SEATS = {"flat": .5, "one turns": .707, "both turn": 1.0}
DEAD = {"plain": 1, "squared": 3, "ground": 2}      # solid length and pitch, in wires


def ultimate(kind, wire):
    sizes, least = TABLES[kind]
    size = wire / INCH
    if kind == "stainless 302":
        # A size that was rounded to mm is still that of the step's end.
        return float(least[min(np.searchsorted(sizes, size - .004 / INCH), len(least) - 1)]) * KSI
    return float(np.interp(size, sizes, least)) * KSI


def share_repeated(table, times):
    return float(np.interp(math.log10(times), (5, 6, 7), table))


def factor_repeated(steady, zero_to_most, swing, mean):
    """A straight line from the swing that lasts with as much mean to the steady limit with no swing (BHANDARI 10.22)."""
    half = zero_to_most / 2
    return steady / ((steady - half) / half * swing + mean)


def wahl(c):
    return (4 * c - 1) / (4 * c - 4) + .615 / c


def direct(c):
    return 1 + .5 / c


def check(name, stress, allowable, share):
    return {"check": name, "stress": stress, "allowable": allowable, "factor": allowable / stress if stress else None,
            "share": share}


def repeated(name, steady, share, strength, swing, mean):
    if swing == 0:
        return check(name, mean, steady, share)
    n = factor_repeated(steady, share * strength, swing, mean)
    return check(name, swing + mean, n * (swing + mean), share)


class Wire:
    """What a spring of wire is, as the file has it: in mm and N."""

    def __init__(self, kind, wire, coil, turns, **more):
        self.kind, self.d, self.D, self.n = kind, wire, coil, turns
        self.C = coil / wire
        self.ends, self.legs, self.mandrel = more.get("ends"), more.get("legs"), more.get("mandrel")
        self.seats, self.guide, self.cycles = more.get("seats", "flat"), more.get("guide"), more.get("cycles")
        shear, self.E = KINDS[kind][:2]
        self.turning = self.ends is None
        self.modulus = more.get("modulus") or (self.E if self.turning else shear)
        self.strength = more.get("ultimate") or ultimate(kind, wire)

    @property
    def rate(self):
        """N/mm; about a pin N mm/rad, of body and legs one behind the other (10-50 to 10-52, with 10.8 per turn)."""
        if not self.turning:
            return self.modulus * self.d**4 / (8 * self.D**3 * self.n)
        turns = self.n + sum(self.legs or ()) / (3 * math.pi * self.D)
        return self.modulus * self.d**4 / (10.8 * self.D * turns) / (2 * math.pi)

    def shear(self, force, factor):
        return factor * 8 * force * self.D / (math.pi * self.d**3)

    def bend(self, moment):
        c = self.C
        return (4 * c * c - c - 1) / (4 * c * (c - 1)) * 32 * moment / (math.pi * self.d**3)

    def stress(self, most):
        return self.bend(most) if self.turning else self.shear(most, wahl(self.C))

    def checks(self, low, high):
        """`low` and `high`: least and greatest load over the stroke, with its sign."""
        most, swing, mean = max(abs(low), abs(high)), (high - low) / 2, abs(high + low) / 2
        if most == 0:
            return []
        twist, yields, hooks = KINDS[self.kind][2:]
        times = None if self.cycles is None else f"{self.cycles:.0f} times"
        if self.turning:
            found = [check("steady load", self.bend(most), yields * self.strength, yields)]
            if times and self.kind in BENDING:
                found.append(repeated(times, yields * self.strength, share_repeated(BENDING[self.kind], self.cycles),
                                      self.strength, self.bend(swing), self.bend(mean)))
            return found
        steady = wahl(self.C) if STEADY_CURVED else direct(self.C)
        found = [check("steady load", self.shear(most, steady), twist * self.strength, twist)]
        if self.ends == "hooks":
            inner = self.D / 2 - self.d / 2
            bend = 32 * most * (self.D / 2) / (math.pi * self.d**3) * (self.D / 2) / inner
            found.append(check("steady load, at the hooks", bend, hooks * self.strength, hooks))
        if times:
            found.append(repeated(times, twist * self.strength, share_repeated(TWIST[self.kind], self.cycles),
                                  self.strength, self.shear(swing, wahl(self.C)), self.shear(mean, direct(self.C))))
        return found

    @property
    def solid(self):
        if self.turning:
            return None
        if self.ends == "hooks":       # between the insides of the hooks (SHIGLEY 10-39)
            return 2 * (self.D - self.d) + (self.n + 1) * self.d
        return (self.n + DEAD[self.ends]) * self.d

    def buckles_at(self, free):
        """The length below which it gives way sideways; nothing where a guide keeps it, or its coils meet before."""
        if self.turning or self.ends == "hooks" or self.guide:
            return None
        e, g = self.E, self.modulus
        slender = SEATS[self.seats] * free / self.D
        inside = 1 - 2 * math.pi**2 * (e - g) / (2 * g + e) / slender**2
        if inside < 0:
            return None
        down = free * e / (2 * (e - g)) * (1 - math.sqrt(inside))
        return free - down if free - down > self.solid else None

    def clearance(self, free, most):
        """Least play on the diameter of a guide; on a mandrel to each side, wound up most."""
        if self.turning:
            if self.mandrel is None:
                return None
            body = self.modulus * self.d**4 / (10.8 * self.D * self.n)     # per turn; the legs wind nothing up
            return (self.n * self.D / (self.n + most / body) - self.d - self.mandrel) / 2
        if not self.guide:
            return None
        if "pin" in self.guide:
            return self.D - self.d - self.guide["pin"]
        # Pressed solid the coils lie flatter, and so are wider: the wire keeps its length.
        pitch = (free - DEAD[self.ends] * self.d) / self.n
        wider = math.sqrt(self.D**2 + (pitch**2 - self.d**2) / math.pi**2)
        return self.guide["bore"] - wider - self.d
