"""Runs windgap_export_bench on the demo, computes the same bench with bench_model.py in the same run,
compares the answers and the processor times, and writes the results beside this file.

    python3 tests/reference/scipy/compare_bench.py build/tests/reference/scipy/windgap_export_bench

Writes bench_case.json (what went in), bench_sweep.csv, bench_ensemble.csv, bench_spin_up.csv (SciPy's
answers, compared with the program by tests/rig/scipy_test.cpp) and ratios.csv. Ends with 1 where an
answer differs by more than one in a million.
"""
import json
import pathlib
import subprocess
import sys
import time

import numpy as np
import scipy

from bench_model import AS_STATED, FINE, Bench, coefficients
from spin_up import SpinUp

HERE = pathlib.Path(__file__).resolve().parent
MEMBERS = 4096
COMMITTED = 64
SINGLY = 32  # members solved one after the other
ALLOWED = 1e-6


def off(ours, theirs):
    return float(np.max(np.abs(np.asarray(ours) / np.asarray(theirs) - 1.0)))


def timed(function, repeats=1):
    """The result, and the least processor time of some runs."""
    least = float("inf")
    for _ in range(repeats):
        before = time.process_time()
        result = function()
        least = min(least, time.process_time() - before)
    return result, least


def write_csv(name, note, header, rows):
    with open(HERE / name, "w", encoding="utf-8") as out:
        versions = f"NumPy {np.__version__}, SciPy {scipy.__version__}"
        out.write(f"# {versions}: compare_bench.py on bench_case.json; {note}\n")
        out.write(",".join(header) + "\n")
        for row in rows:
            out.write(",".join(f"{value:.17g}" for value in row) + "\n")


def bench_of(case, count=1, members=None, numerics=AS_STATED):
    return Bench(case["parts"], coefficients(case["coefficients"], members, count), numerics)


def sweep(case, numerics=AS_STATED):
    stand_off = np.array(case["sweep"]["stand_off_m"])
    return bench_of(case, len(stand_off), numerics=numerics).deliver(stand_off)


def member_alone(case, members, i):
    bench = bench_of(case, 1, {name: column[i : i + 1] for name, column in members.items()})
    return bench.deliver(np.array(case["solve"]["stand_off_m"]))


def spin_up(case):
    start = case["spin_up"]
    walk = SpinUp(bench_of(case), start["stand_off_m"], start)
    return walk.run(np.array(start["time_s"]), start["tolerance"]).y


class Table:
    """Rows of ratios.csv, printed as they come."""

    header = "case,compared,largest_difference,windgap_seconds_each,scipy_seconds_each,ratio"

    def __init__(self):
        self.lines = []
        self.agree = True
        print(self.header)

    def add(self, case, compared, difference, ours, theirs):
        line = f"{case},{compared},{difference:.2g},{ours:.3g},{theirs:.3g},{theirs / ours:.0f}"
        self.agree = self.agree and difference <= ALLOWED
        self.lines.append(line)
        print(line, flush=True)


def main():
    exporter = sys.argv[1]
    demo = HERE.parents[2] / "cases" / "demo.yaml"
    done = subprocess.run([exporter, demo, str(MEMBERS)], check=True, capture_output=True, text=True)
    case = json.loads(done.stdout)
    table = Table()

    stand_off = np.array(case["solve"]["stand_off_m"])
    one = bench_of(case)
    (flow, speed), seconds = timed(lambda: one.deliver(stand_off), 20)
    answer = case["solve"]
    difference = max(off(flow, answer["airflow_kg_s"]), off(speed, answer["rotor_speed_rad_s"]))
    table.add("solve", "airflow and speed", difference, answer["seconds_each"], seconds)

    rows = len(case["sweep"]["stand_off_m"])
    (flow, speed), seconds = timed(lambda: sweep(case), 3)
    answer = case["sweep"]
    difference = max(off(flow, answer["airflow_kg_s"]), off(speed, answer["rotor_speed_rad_s"]))
    table.add(f"row of a sweep of {rows}", "airflow and speed", difference, answer["seconds_each"], seconds / rows)
    write_csv(
        "bench_sweep.csv",
        "the demo's bench along its bracket",
        ["stand_off [m]", "airflow [kg/s]", "rotor_speed [rad/s]"],
        zip(answer["stand_off_m"], flow, speed),
    )

    columns = np.array(case["members"]["rows"]).T.copy()
    members = dict(zip(case["members"]["names"], columns))
    benches, assembly = timed(lambda: bench_of(case, MEMBERS, members), 3)
    stand_off = np.full(MEMBERS, stand_off[0])
    (flow, speed), seconds = timed(lambda: benches.deliver(stand_off), 3)
    answer = case["ensemble"]
    difference = max(off(flow, answer["airflow_kg_s"]), off(speed, answer["rotor_speed_rad_s"]))
    ours, assembled = answer["seconds_each"], answer["assembly_seconds_each"]
    both = (assembly + seconds) / MEMBERS
    name = f"member of an ensemble of {MEMBERS}"
    table.add(name + " prepared and solved", "airflow and speed", difference, assembled + ours, both)
    table.add(name + " solved again", "airflow and speed", difference, ours, seconds / MEMBERS)
    _, alone = timed(lambda: [member_alone(case, members, i) for i in range(SINGLY)])
    table.add(name + " prepared and solved alone", "airflow and speed", difference, assembled + ours, alone / SINGLY)
    write_csv(
        "bench_ensemble.csv",
        "its members at the mount",
        ["stand_off [m]", "airflow [kg/s]", "rotor_speed [rad/s]"],
        zip(answer["stand_off_m"][:COMMITTED], flow[:COMMITTED], speed[:COMMITTED]),
    )

    states, seconds = timed(lambda: spin_up(case))
    answer = case["spin_up"]
    difference = off(states[0][1:], answer["speed_rad_s"][1:])
    table.add("cold start in time", "speed at each sample", difference, answer["seconds"], seconds)
    write_csv(
        "bench_spin_up.csv",
        "blown from rest at the mount",
        ["time [s]", "speed [rad/s]", "film_temperature [K]", "winding_temperature [K]", "charge [C]"],
        zip(answer["time_s"], *states),
    )

    fine, _ = sweep(case, FINE)
    tables = off(case["sweep"]["airflow_kg_s"], fine)
    print(f"tables and short series against integrals and roots, airflow: {tables:.2g}")

    with open(HERE / "ratios.csv", "w", encoding="utf-8") as out:
        out.write("# Processor time in one run on one machine: this program over NumPy and SciPy.\n")
        out.write(f"# Tables and short series in place of integrals and roots: {tables:.2g} of airflow.\n")
        out.write("\n".join([Table.header, *table.lines]) + "\n")
    case["members"]["rows"] = case["members"]["rows"][:COMMITTED]
    keep = ("title", "parts", "coefficients", "members", "start")
    kept = {key: case[key] for key in keep if key in case}
    kept["stand_off_m"] = case["solve"]["stand_off_m"][0]
    kept["spin_up"] = {key: v for key, v in case["spin_up"].items() if key != "seconds"}
    del kept["spin_up"]["speed_rad_s"]
    (HERE / "bench_case.json").write_text(json.dumps(kept) + "\n", encoding="utf-8")
    return 0 if table.agree else 1


if __name__ == "__main__":
    sys.exit(main())
