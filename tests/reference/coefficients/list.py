"""Writes models/coefficients.md: every coefficient of models/physics with value, unit, spread, source
and validity, and what it does to the answers on cases/demo.yaml.

    python3 tests/reference/coefficients/list.py build/bin/windgap

Each coefficient with a spread is moved up by one standard deviation in a copy of its file and the
program is asked again, so rules for what was not measured act through what they fill in. A verb that
the program does not have yet is left out. A coefficient of a module that none of the verbs below reads
shows no effect.
"""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import yaml

ROOT = pathlib.Path(__file__).resolve().parents[3]
PHYSICS = ROOT / "models" / "physics"
BENCH = (
    "air", "drive", "fan", "jet", "capture", "blockage", "compressor", "combustor", "turbine",
    "bearings", "engine", "bench", "placement",
)  # fmt: skip
# What is read of each verb's answer: path, name, unit, factor to that unit, printed digits.
READ = {
    "spin": [("self_sustaining_rpm", "self-sustaining speed", "rpm", 1.0, 0),
             ("starting_airflow_kg_s", "starting airflow", "g/s", 1e3, 3)],
    "cool": [("purge_s", "purge", "s", 1.0, 1),
             ("bearing_peak_standing_k", "bearing's peak without a purge", "K", 1.0, 2)],
    "spark": [("igniters.0.sources.0.required_kv", "voltage the gap needs", "kV", 1.0, 3),
              ("igniters.0.sources.0.available_kv", "voltage the source gives", "kV", 1.0, 2)],
}  # fmt: skip
ASKED_BY = {"start": "spin", "fuels": "spin", "cooling": "cool", "materials": "cool",
            "spark": "spark"}  # fmt: skip


def ask(program, verb, models=None, at=None):
    command = [program, verb, str(ROOT / "cases" / "demo.yaml"), "--json"]
    command += ["--models", str(models)] if models else []
    command += ["--at", f"{1e3 * at:.9f} mm"] if at else []
    done = subprocess.run(command, capture_output=True, text=True)
    return json.loads(done.stdout) if done.returncode in (0, 1) else None


def read(answer, path):
    """What stands at a path of an answer, or None."""
    for step in path.split("."):
        if isinstance(answer, list):
            answer = answer[int(step)] if int(step) < len(answer) else None
        else:
            answer = answer.get(step) if answer else None
    return answer


def moved(entry):
    """The entry one standard deviation up, or None where it has no spread."""
    spread = entry["spread"]
    rise = {
        "normal": lambda value, width: value + width,
        "lognormal": lambda value, width: value * math.exp(width),
        "uniform": lambda value, width: value + width / math.sqrt(3.0),
    }
    for kind, move in rise.items():
        if kind not in spread:
            continue
        changed, width = dict(entry), float(spread[kind])
        if "table" in entry:
            factor = move(1.0, width)
            ordinates = [factor * float(y) for y in entry["table"]["y"]]
            changed["table"] = {"x": entry["table"]["x"], "y": ordinates}
        else:
            changed["value"] = move(float(entry["value"]), width)
        return changed
    return None


class Answers:
    """The demo's answers, with one coefficient changed or none."""

    def __init__(self, program):
        self.program = program
        self.mount = ask(program, "place")["stand_off_m"]
        self.airflow = ask(program, "place", at=self.mount)["airflow_kg_s"]
        self.others = {verb: ask(program, verb) for verb in READ}

    def place_effect(self, models):
        placed = ask(self.program, "place", models)
        there = ask(self.program, "place", models, self.mount)
        mount = placed["stand_off_m"] if placed and placed["feasible"] else None
        flow = there["airflow_kg_s"] if there else None
        return (
            "no mount" if mount is None else signed(1e3 * (mount - self.mount), 2),
            "no answer" if flow is None else signed(100.0 * (flow / self.airflow - 1.0), 3),
        )

    def other_effect(self, verb, models):
        before = self.others.get(verb)
        if before is None:
            return ""
        after = ask(self.program, verb, models)
        effects = []
        for key, name, unit, factor, digits in READ[verb]:
            old, new = read(before, key), read(after, key)
            if old is None and new is None:
                continue
            if old is None or new is None:
                effects.append(f"{name}: {'appears' if old is None else 'lost'}")
            elif abs(new / old - 1.0) > 1e-6:
                effects.append(f"{name} {signed(factor * (new - old), digits)} {unit}")
        return "; ".join(effects) or "0"


def signed(value, digits):
    text = f"{value:+.{digits}f}"
    return "0" if float(text) == 0.0 else text


def value_text(entry):
    if "table" not in entry:
        return str(entry["value"])
    table = entry["table"]
    return ", ".join(f"{x}: {y}" for x, y in zip(table["x"], table["y"]))


def spread_text(entry):
    spread = entry["spread"]
    kind = next(k for k in ("none", "normal", "lognormal", "uniform") if k in spread)
    if kind == "none":
        return "none"
    group = "" if spread["group"] == "none" else f", {spread['group']}"
    return f"{kind} {spread[kind]}{group}, each {spread['varies']}"


def source_text(entry):
    source = entry["source"]
    return f"{source['key']} ({source['kind']}): {source['where']}"


def cell(text):
    return str(text).replace("|", "\\|").replace("\n", " ")


def effects(answers, module, entries, key):
    changed = moved(entries[key])
    if changed is None:
        return ("", "", "")
    with tempfile.TemporaryDirectory() as folder:
        physics = pathlib.Path(folder) / "physics"
        physics.mkdir()
        (physics / f"{module}.yaml").write_text(
            yaml.safe_dump({**entries, key: changed}, sort_keys=False, width=10000), encoding="utf-8"
        )
        mount, flow = answers.place_effect(folder) if module in BENCH else ("", "")
        verb = ASKED_BY.get(module)
        return mount, flow, answers.other_effect(verb, folder) if verb else ""


HEAD = """# Every coefficient, and what it does to the demo's answer

Written by `tests/reference/coefficients/list.py`; do not edit. Values and spreads are in the unit of
the entry; a table's spread is a share of its ordinates. The last columns say what one standard
deviation upwards does on `cases/demo.yaml`: to the recommended stand-off, to the airflow delivered at
the stand-off recommended today ({mount:.1f} mm, {flow:.2f} g/s), or to the other answer that its module
acts on. Empty: no spread is stated, or no answer of the demo reads the module; 0: it does not act there.
"""


def main():
    answers = Answers(sys.argv[1])
    lines = [HEAD.format(mount=1e3 * answers.mount, flow=1e3 * answers.airflow)]
    for file in sorted(PHYSICS.glob("*.yaml")):
        entries = yaml.safe_load(file.read_text(encoding="utf-8"))
        lines.append(f"## {file.stem}\n")
        lines.append("| key | value | unit | spread | source | validity | stand-off [mm] | airflow [%] | other |")
        lines.append("|---|---|---|---|---|---|---|---|---|")
        for key, entry in entries.items():
            row = [key, value_text(entry), entry["unit"], spread_text(entry), source_text(entry)]
            row += [entry["validity"], *effects(answers, file.stem, entries, key)]
            lines.append("| " + " | ".join(cell(text) for text in row) + " |")
        lines.append("")
    (ROOT / "models" / "coefficients.md").write_text("\n".join(lines), encoding="utf-8")


if __name__ == "__main__":
    main()
