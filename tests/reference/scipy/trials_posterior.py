#!/usr/bin/env python3
"""A reduced learning problem on a dense grid: two unknowns, readings with heavy tails, outcomes with
lapses. Written from the equations of models/trials.md. Run by hand from the project's top folder:

    python3 tests/reference/scipy/trials_posterior.py > tests/reference/scipy/trials_posterior.csv
"""
import numpy as np
import scipy
import yaml
from scipy.stats import norm, t

with open("models/physics/trials.yaml", encoding="utf-8") as file:
    C = {key: float(entry["value"]) for key, entry in yaml.safe_load(file).items()}

START_SCATTER = 0.03
GRID = np.linspace(-6.0, 6.0, 2401)
A, B = np.meshgrid(GRID, GRID, indexing="ij")


def log_speed(s):
    return np.log(2000.0) - 0.8 * s + 0.08 * A + 0.03 * B


def supply(s):
    return 0.5 - 1.8 * s + 0.08 * A - 0.12 * B


speeds = [(0.10, 1990.0), (0.25, 1700.0)]
lit = [(0.15, "caught"), (0.25, "hung"), (0.22, "unstated")]
slope_speed, slope_supply = -0.8, -1.8

log_density = norm.logpdf(A) + norm.logpdf(B)
for s, read in speeds:
    sd = np.sqrt(
        C["speed_error"] ** 2
        + len(speeds) * C["speed_bias"] ** 2
        + (slope_speed * C["distance_error"]) ** 2
    )
    log_density = log_density + t.logpdf((np.log(read) - log_speed(s)) / sd, C["freedom"])
for s, outcome in lit:
    sd = np.sqrt(START_SCATTER**2 + (slope_supply * C["distance_error"]) ** 2)
    air = norm.cdf(supply(s) / sd)
    catches = (1.0 - C["lapse"]) * air
    starved = (1.0 - C["lapse"]) * (1.0 - air)
    p = {"caught": catches, "unstated": 1.0 - catches, "hung": (1.0 - C["dark_share"]) * starved}[
        outcome
    ]
    log_density = log_density + np.log((1.0 - C["misread_share"]) * p + 0.5 * C["misread_share"])

weight = np.exp(log_density - log_density.max())
weight /= weight.sum()


def mean(values):
    return float((weight * values).sum())


print("# Posterior of a two-parameter learning problem on a grid of 2401 x 2401 points.")
print(f"# tests/reference/scipy/trials_posterior.py, SciPy {scipy.__version__}.")
print("mean_a [-],mean_b [-],sd_a [-],sd_b [-],covariance [-],supply_above_zero [-]")
ma, mb = mean(A), mean(B)
va, vb = mean((A - ma) ** 2), mean((B - mb) ** 2)
cov = mean((A - ma) * (B - mb))
print(f"{ma:.6f},{mb:.6f},{va ** 0.5:.6f},{vb ** 0.5:.6f},{cov:.6f},{mean(supply(0.2) > 0.0):.6f}")
