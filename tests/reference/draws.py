"""The deviations that a study of tolerances draws, from the description of its samples.

One stream of a permuted congruential generator (M. E. O'Neill, HMC-CS-2014-0905, 2014: 128 bits of state, XSL-RR), which
NumPy has too; every 256 samples it stands 2^40 draws further than those before. Its state and increment are the words of
a smaller generator of that family begun at the seed. Of two uniform numbers two normal ones (G. E. P. Box and M. E.
Muller, Ann. Math. Statist. 29, 1958), three of whose deviations are the tolerance.
"""

import math

import numpy as np

CHUNK, APART = 256, 1 << 40
WORD = (1 << 64) - 1


def words(seed):
    """Words of 32 bits for the seed of a generator."""
    while True:
        seed = (seed * 0x5851F42D4C957F2D + 0xA17654E46FBE17F3) & WORD
        mixed = (((seed >> 18) ^ seed) >> 27) & 0xFFFFFFFF
        turn = seed >> 59
        yield (mixed >> turn | mixed << (32 - turn)) & 0xFFFFFFFF


def stream(seed, chunk):
    """Where the samples of a chunk begin."""
    source = words(seed)
    state, increment = (sum(next(source) << (32 * k) for k in range(4)) for _ in range(2))
    return begun(state, increment | 1).advance(APART * chunk)


def begun(state, increment):
    bits = np.random.PCG64()
    # Begun, O'Neill's generator takes one step from the sum of both.
    state = (state + increment) * 0x2360ED051FC65DA44385DF649FCCF645 + increment
    mask = (1 << 128) - 1
    bits.state = {"bit_generator": "PCG64", "state": {"state": state & mask, "inc": increment & mask},
                  "has_uint32": 0, "uinteger": 0}
    return bits


def normal(bits):
    """Endless standard normal numbers."""
    def unit():
        return (int(bits.random_raw()) >> 11) / (1 << 53)

    while True:
        radius = math.sqrt(-2 * math.log(1 - unit()))
        turn = 2 * math.pi * unit()
        yield radius * math.cos(turn)
        yield radius * math.sin(turn)


def deviations(tolerances, count, seed):
    """{address: deviation} of every sample, of what varies within these tolerances, in their order."""
    for k in range(count):
        if k % CHUNK == 0:
            source = normal(stream(seed, k // CHUNK))
        yield {address: tolerance / 3 * next(source) for address, tolerance in tolerances.items()}
