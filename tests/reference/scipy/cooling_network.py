#!/usr/bin/env python3
"""The hot engine's heat network, written a second time from the equations of models/cooling.md and
integrated by SciPy's solve_ivp (Radau). Run by hand from the project's top folder:

    python3 tests/reference/scipy/cooling_network.py > tests/reference/scipy/cooling_network.csv

Coefficients come from models/physics; the engine is the invented garden engine of the tests.
Nothing is tabulated here and the step control is SciPy's own.
"""
import math
import sys

import numpy as np
import scipy
import yaml
from scipy.integrate import solve_ivp
from scipy.interpolate import PchipInterpolator

SIGMA = 5.670374419e-8
PARTS = ["rotor", "turbine_housing", "heat_shield", "centre_housing", "compressor", "liner", "casing"]
MADE_OF = ["nickel_alloy", "iron", "stainless", "iron", "aluminium", "stainless", "steel"]
ROTOR, HOUSING, SHIELD, CENTRE, COMPRESSOR, LINER, CASING = range(7)


def physics(stem):
    with open(f"models/physics/{stem}.yaml") as file:
        entries = yaml.safe_load(file)
    return {key: e["table"] if "table" in e else float(e["value"]) for key, e in entries.items()}


def curve(table):
    x, y = np.array(table["x"], float), np.array(table["y"], float)
    inside = PchipInterpolator(x, y) if len(x) > 3 else (lambda t: np.interp(t, x, y))
    return lambda t: float(inside(min(max(t, x[0]), x[-1])))


A = physics("air")
C = physics("cooling")
M = physics("materials")
K = physics("compressor")
B = physics("combustor")
T = physics("turbine")
J = physics("bearings")
E = physics("engine")


def viscosity(t):
    return A["viscosity_scale"] * t**1.5 / (t + A["viscosity_temperature"])


def conductivity(t):
    return A["conductivity_scale"] * t**1.5 / (
        t + A["conductivity_temperature"] * math.exp(-A["conductivity_decay"] / t))


def heat_of_air(t):
    return sum(A[f"air_heat_{i}"] * (t / A["temperature_scale"])**i for i in range(5))


# The room: 220 m, 11 degC, dry.
ROOM = 284.15
PRESSURE = A["sea_level_pressure"] * (1 - A["lapse_rate"] * 220 / A["sea_level_temperature"])**(
    A["gravity"] / (A["gas_constant"] * A["lapse_rate"]))
DENSITY = PRESSURE / (A["gas_constant"] * ROOM)

# The garden engine.
INDUCER, EXDUCER = 0.046, 0.060
WHEEL, WHEEL_OUT, A_OVER_R = 0.056, 0.047, 0.0160
JOURNAL = J["journal_ratio"] * EXDUCER
REFERENCE = B["reference_area_ratio"] * math.pi / 4 * INDUCER**2
CASE = math.sqrt(4 * REFERENCE / math.pi)
TUBE = math.sqrt(B["tube_area_ratio"]) * CASE
LENGTH = B["length_ratio"] * CASE
HUB = T["hub_ratio"] * WHEEL_OUT
OIL_FLOW = J["oil_flow_per_area"] * JOURNAL**2
OIL_IN = 323.15


def disc(d):
    return math.pi * d**2 / 4


TUBE_AREA = math.pi * TUBE * LENGTH
CASE_AREA = math.pi * CASE * LENGTH + 2 * disc(CASE)


def rho(part):
    return M[MADE_OF[part] + "_density"]


MASS = [0.0] * 7
MASS[ROTOR] = (E["turbine_wheel_mass"] * E["turbine_wheel_density"] * (WHEEL / 2)**3 +
               E["turbine_wheel_density"] * disc(JOURNAL) * E["shaft_length_ratio"] * EXDUCER)
MASS[HOUSING] = C["turbine_housing_mass"] * rho(HOUSING) * WHEEL**3
MASS[SHIELD] = C["heat_shield_area"] * WHEEL**2 * C["heat_shield_thickness"] * rho(SHIELD)
MASS[CENTRE] = C["centre_housing_mass"] * rho(CENTRE) * EXDUCER**3
MASS[COMPRESSOR] = C["compressor_mass"] * rho(COMPRESSOR) * EXDUCER**3
MASS[LINER] = TUBE_AREA * C["liner_thickness"] * rho(LINER)
MASS[CASING] = CASE_AREA * C["casing_thickness"] * rho(CASING)

HEAT = [curve(M[m + "_specific_heat"]) for m in MADE_OF]
EMIT = [curve(M[m + "_emissivity"]) for m in MADE_OF]
AT = C["reference_temperature"]


def lam(part):
    return curve(M[MADE_OF[part] + "_conductivity"])(AT)


def series(a, b):
    return a * b / (a + b)


def exchange(inner, outer, ratio):
    return SIGMA / (1 / EMIT[inner](AT) + ratio * (1 / EMIT[outer](AT) - 1))


HALF = C["centre_length"] * EXDUCER / 2
NECK = lam(CENTRE) * MASS[CENTRE] / rho(CENTRE) / (2 * HALF) / HALF
RING = math.pi * C["flange_diameter"] * WHEEL * C["contact_conductance"]
SEAT, FLANGE = RING * C["seat_width"] * WHEEL, RING * C["flange_width"] * WHEEL
BACKPLATE = math.pi * EXDUCER * C["backplate_width"] * EXDUCER * C["contact_conductance"]
THROAT = A_OVER_R * C["volute_radius"] * WHEEL / 2
SHROUD = C["wheel_shroud_area"] * WHEEL**2
FACE = C["heat_shield_area"] * WHEEL**2
PIPE = math.sqrt(4 * THROAT / math.pi)

# from, to, metal and joint [W/K], gap [m], radiation [W/K^4]
LINKS = [
    (ROTOR, SHIELD, 0, disc(WHEEL) / C["wheel_gap"], disc(WHEEL) * exchange(ROTOR, SHIELD, 1)),
    (ROTOR, HOUSING, 0, SHROUD / C["wheel_gap"], SHROUD * exchange(ROTOR, HOUSING, 1)),
    (ROTOR, CENTRE, lam(ROTOR) * disc(JOURNAL) / (C["shaft_length"] * EXDUCER), 0, 0),
    (HOUSING, SHIELD, SEAT, 0, 0),
    (SHIELD, CENTRE, series(SEAT, NECK), 0, FACE * exchange(SHIELD, CENTRE, 1)),
    (HOUSING, CENTRE, series(FLANGE, NECK), 0, 0),
    (CASING, HOUSING, lam(CASING) * math.pi * PIPE * C["casing_thickness"] /
     (C["transfer_length"] * CASE), 0, 0),
    (CENTRE, COMPRESSOR, series(BACKPLATE, NECK), 0, 0),
    (LINER, CASING, 0, 2 * math.pi * LENGTH / math.log(CASE / TUBE),
     TUBE_AREA * exchange(LINER, CASING, TUBE / CASE)),
]

OUTSIDE = {
    HOUSING: (C["housing_outer_area"] * WHEEL**2, C["housing_diameter"] * WHEEL),
    CENTRE: (C["centre_outer_area"] * EXDUCER**2, C["centre_diameter"] * EXDUCER),
    COMPRESSOR: (C["compressor_outer_area"] * EXDUCER**2, C["compressor_diameter"] * EXDUCER),
    CASING: (CASE_AREA, CASE),
}


def to_room(part, t):
    area, d = OUTSIDE[part]
    film = (t + ROOM) / 2
    density = DENSITY * ROOM / film
    mu, k = viscosity(film), conductivity(film)
    pr = mu * heat_of_air(film) / k
    rayleigh = max(0.0, A["gravity"] * (t - ROOM) / film * (density / mu)**2 * d**3 * pr)
    nusselt = (0.60 + 0.387 * rayleigh**(1 / 6) / (1 + (0.559 / pr)**(9 / 16))**(8 / 27))**2
    return area * (nusselt * k / d * (t - ROOM) + EMIT[part](t) * SIGMA * (t**4 - ROOM**4))


PR = viscosity(ROOM) * heat_of_air(ROOM) / conductivity(ROOM)


def gnielinski(re):
    f8 = 1 / (0.79 * math.log(re) - 1.64)**2 / 8
    return f8 * (re - 1000) * PR / (1 + 12.7 * math.sqrt(f8) * (PR**(2 / 3) - 1))


def duct(re):
    if re <= 2300:
        return 3.66
    if re >= 4000:
        return gnielinski(re)
    share = (re - 2300) / 1700
    return (1 - share) * 3.66 + share * gnielinski(4000)


def dittus_boelter(re, heating):
    return 0.023 * re**0.8 * PR**(0.4 if heating else 0.3)


def film(airflow, air, wall, d, section, enhancement, turbulent=False):
    mean = (air + wall) / 2
    re = airflow * d / (section * viscosity(mean))
    nusselt = dittus_boelter(re, wall > air) if turbulent else duct(re)
    return enhancement * nusselt * conductivity(mean) / d


def along(airflow, air, wall, coefficient, area):
    rate = airflow * heat_of_air((air + wall) / 2)
    heat = rate * (wall - air) * (1 - math.exp(-coefficient * area / rate))
    return heat, air + heat / rate


def blown(airflow, t):
    """Heat each part gives the air, from the inlet to behind the wheel."""
    given = [0.0] * 7
    scroll, can = C["scroll_enhancement"], C["combustor_enhancement"]
    share = C["combustor_flow_share"]
    air = ROOM
    h = film(airflow, air, t[COMPRESSOR], INDUCER, disc(INDUCER), scroll)
    given[COMPRESSOR], air = along(airflow, air, t[COMPRESSOR], h,
                                   C["compressor_inner_area"] * EXDUCER**2)
    h = film(share * airflow, air, (t[LINER] + t[CASING]) / 2, CASE - TUBE,
             disc(CASE) - disc(TUBE), can)
    inner, outer = h * TUBE_AREA, h * CASE_AREA
    wall = (inner * t[LINER] + outer * t[CASING]) / (inner + outer)
    heat, after = along(airflow, air, wall, 1.0, inner + outer)
    mean = wall - heat / (inner + outer)
    given[LINER], given[CASING] = inner * (t[LINER] - mean), outer * (t[CASING] - mean)
    air = after
    h = film(share * airflow, air, t[LINER], TUBE, disc(TUBE), can)
    heat, air = along(airflow, air, t[LINER], h, TUBE_AREA)
    given[LINER] += heat
    h = film(airflow, air, t[HOUSING], PIPE, THROAT, scroll)
    given[HOUSING], air = along(airflow, air, t[HOUSING], h, C["housing_inner_area"] * WHEEL**2)
    section = (disc(WHEEL_OUT) - disc(HUB)) * math.cos(T["exit_blade_angle"])
    h = film(airflow, air, t[ROTOR], C["wheel_passage"] * WHEEL, section, 1.0, turbulent=True)
    given[ROTOR], air = along(airflow, air, t[ROTOR], h, C["wheel_area"] * WHEEL**2)
    return given


def rates(t, airflow, oil):
    lost = blown(airflow, t) if airflow else [0.0] * 7
    for a, b, metal, gap, radiation in LINKS:
        heat = metal * (t[a] - t[b]) + radiation * (t[a]**4 - t[b]**4)
        if gap:
            heat += gap * conductivity((t[a] + t[b]) / 2) * (t[a] - t[b])
        lost[a] += heat
        lost[b] -= heat
    for part in OUTSIDE:
        lost[part] += to_room(part, t[part])
    if oil:
        rate = OIL_FLOW * J["oil_specific_heat"]
        wetted = C["oil_coefficient"] * C["oil_wetted_area"] * EXDUCER**2
        lost[CENTRE] += rate * (t[CENTRE] - OIL_IN) * (1 - math.exp(-wetted / rate))
    return [-lost[i] / (MASS[i] * HEAT[i](t[i])) for i in range(7)]


START = [930.0, 890.0, 720.0, 440.0, 330.0, 840.0, 410.0]
TIMES = [0, 10, 30, 60, 120, 240, 480, 900, 1800, 3600, 7200]

print("# Hot garden engine cooling: heat network of models/cooling.md, a second program.")
print(f"# tests/reference/scipy/cooling_network.py, SciPy {scipy.__version__}, solve_ivp, Radau, "
      "rtol 1e-9.")
print("# The C++ program tabulates losses and properties: 0.1 % of the temperature above the room.")
print("airflow [kg/s],oil [-],time [s]," + ",".join(f"{p} [K]" for p in PARTS))
for airflow, oil in ((0.0, 0), (0.006, 0), (0.012, 1), (0.03, 0)):
    found = solve_ivp(lambda _, y: rates(y, airflow, oil), (0, TIMES[-1]), START, method="Radau",
                      t_eval=TIMES, rtol=1e-9, atol=1e-7)
    if not found.success:
        sys.exit(found.message)
    for time, row in zip(found.t, found.y.T):
        print(f"{airflow},{oil},{time:.0f}," + ",".join(f"{x:.4f}" for x in row))
