"""How close to the reliable edge a few lit starts can bring anybody who knows everything but one number.

A bench whose airflow is known exactly along the travel; only what starts the engine is not: the stand-off
at which half of the attempts catch lies anywhere within HALF of the middle, with equal chances. An attempt
at a stand-off catches by a normal law of deviation SCATTER about it, no lapse, no misreading. Each next
attempt is the one that moves the sure lock farthest out in the mean, a lock that turns out nearer counted as
nothing (Eq. 9 of models/trials.md); the lock is where CONFIDENCE of what
is still plausible is reliable. Prints a row for each number of starts and each bound on the probability of
a failure. Whoever does better on such a bench with as few starts locks unreliably more often.

Run by hand with the system's Python (NumPy, SciPy): python3 tests/reference/scipy/few_starts.py
It writes few_starts.csv beside itself.
"""
import os

import numpy as np
from scipy.stats import norm

# Of cases/yardstick.yaml near its edge: airflow falls 0.24 % a millimetre; what starts the engine is
# 22 +- 4 g/s; an attempt departs by 3.6 %.
FALL = 0.0024  # of log airflow [1/mm]
HALF = 0.5 * np.log(26.0 / 18.0) / FALL  # [mm]
SCATTER = 0.036 / FALL  # [mm]
CONFIDENCE = 0.95
BENCHES = 4000


def rehearse(starts, greatest_hazard, seed=1):
    """Median short of the reliable edge [mm] and share of unreliable locks."""
    random = np.random.default_rng(seed)
    edges = np.linspace(-HALF, HALF, 601)
    places = np.linspace(-HALF - 3.0 * SCATTER, HALF + SCATTER, 81)
    catches = norm.cdf((edges[None, :] - places[:, None]) / SCATTER)

    def lock(belief):
        below = np.cumsum(belief, axis=-1)
        return edges[(below >= (1.0 - CONFIDENCE) * below[..., -1:]).argmax(-1)]

    def next_place(belief):
        share = catches @ belief
        now = lock(belief)
        gain = share * np.maximum(0.0, lock(catches * belief) - now) + (1.0 - share) * np.maximum(
            0.0, lock((1.0 - catches) * belief) - now)
        return int(np.where(1.0 - share <= greatest_hazard, gain, -np.inf).argmax())

    short = np.empty(BENCHES)
    for i in range(BENCHES):
        truth = random.uniform(-HALF, HALF)
        belief = np.full(edges.size, 1.0 / edges.size)
        for _ in range(starts):
            at = next_place(belief)
            caught = random.normal() * SCATTER < truth - places[at]
            belief = (catches[at] if caught else 1.0 - catches[at]) * belief
            belief /= belief.sum()
        short[i] = truth - lock(belief)
    return np.median(short), np.mean(short < 0.0)


def main():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "few_starts.csv")
    with open(path, "w", encoding="utf-8") as file:
        file.write("# Best of anybody who knows all but the starting airflow; few_starts.py says how.\n")
        file.write("greatest_hazard [-],starts [-],short_median [mm],unreliable [-]\n")
        for hazard in (0.25, 0.5):
            for starts in (2, 3, 4, 6, 8):
                short, unreliable = rehearse(starts, hazard)
                file.write(f"{hazard},{starts},{short:.1f},{unreliable:.3f}\n")


if __name__ == "__main__":
    main()
