"""Integrates start_rhs.json with SciPy's solve_ivp and writes start_solution.csv and
start_event.csv.

Run by hand in this folder after windgap_export_start_rhs; the outputs are committed and compared
with the project's own integrator by tests/start/reference_test.cpp.
"""
import json

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicHermiteSpline

START = (900.0, 300.0)  # rad/s, K
TIMES = np.linspace(0.0, 8.0, 33)
CROSSING = 3000.0  # rad/s, an event to locate


def piecewise(values, step):
    values = np.asarray(values)
    slopes = np.empty_like(values)
    slopes[1:-1] = (values[2:] - values[:-2]) / (2.0 * step)
    slopes[0] = (values[1] - values[0]) / step
    slopes[-1] = (values[-1] - values[-2]) / step
    return CubicHermiteSpline(step * np.arange(len(values)), values, slopes)


def main():
    with open("start_rhs.json", encoding="utf-8") as file:
        rhs = json.load(file)
    step = rhs["speed_step_rad_s"]
    datum = rhs["reference_temperature_k"]
    a, b, c, d = (piecewise(rhs[key], step) for key in "abcd")

    def rates(_, y):
        speed, warmth = y[0], y[1] - datum
        return [a(speed) + b(speed) * warmth, c(speed) + d(speed) * warmth]

    def crossing(_, y):
        return y[0] - CROSSING

    solution = solve_ivp(
        rates,
        (TIMES[0], TIMES[-1]),
        START,
        method="DOP853",
        t_eval=TIMES,
        events=crossing,
        rtol=1e-11,
        atol=1e-11,
        max_step=0.02,
    )
    with open("start_solution.csv", "w", encoding="utf-8") as out:
        out.write(f"# SciPy {scipy.__version__} solve_ivp, DOP853, rtol 1e-11, on start_rhs.json\n")
        out.write("time [s],speed [rad/s],housing_temperature [K]\n")
        for time, speed, temperature in zip(solution.t, *solution.y):
            out.write(f"{time:.17g},{speed:.17g},{temperature:.17g}\n")
    with open("start_event.csv", "w", encoding="utf-8") as out:
        out.write("# The same run: event located by solve_ivp\n")
        out.write("speed [rad/s],time [s]\n")
        out.write(f"{CROSSING:.17g},{solution.t_events[0][0]:.17g}\n")


if __name__ == "__main__":
    main()
