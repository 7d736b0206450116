"""Measures a drilling template: the drawing with ezdxf, the printed sheets in pixels.

254 dots an inch are ten pixels a millimetre. The check bar is the only long mark thicker than two
millimetres; upright marks 18 mm long stand at both ends of the slot.
"""
import glob
import json
import os
import sys

import ezdxf
from ezdxf import units

PIXELS = 10.0  # per millimetre
HOLES_TO_EXIT = 41.0  # of cases/no-fan-yet.yaml


def read_grey(path):
    with open(path, "rb") as file:
        kind, size, depth = file.readline(), file.readline(), file.readline()
        assert kind.strip() == b"P5" and depth.strip() == b"255"
        width, height = map(int, size.split())
        return width, height, file.read(width * height)


def dark_runs(row):
    """Stretches of dark pixels of a row: (first, length)."""
    runs, start = [], None
    for x, value in enumerate(row):
        if value < 128 and start is None:
            start = x
        elif value >= 128 and start is not None:
            runs.append((start, x - start))
            start = None
    return runs


def longest_run(row):
    return max(dark_runs(row), key=lambda run: run[1], default=(0, 0))


def check_bar(width, height, pixels):
    """Length and thickness in millimetres of the bar."""
    rows = [longest_run(pixels[y * width:(y + 1) * width]) for y in range(height)]
    best = 0
    for y in range(height - 22):
        run = rows[y]
        if run[1] > 500 and all(abs(rows[y + k][1] - run[1]) <= 1 for k in range(22)):
            best = max(best, run[1])
    return best / PIXELS


def end_marks(width, height, pixels):
    """Middles of the upright marks 18 mm long, in millimetres from the sheet's left edge."""
    columns = []
    for x in range(width):
        column = pixels[x::width][600:1300]
        if any(175 <= length <= 188 for _, length in dark_runs(column)):
            columns.append(x)
    marks = []
    for x in columns:
        if marks and x - marks[-1][-1] == 1:
            marks[-1].append(x)
        else:
            marks.append([x])
    return [sum(mark) / len(mark) / PIXELS for mark in marks]


def main(folder, name):
    with open(os.path.join(folder, name + ".json")) as file:
        answer = json.load(file)
    best = answer["short_list"][0]
    mount = 1000.0 * best["stand_off_m"] + HOLES_TO_EXIT

    drawing = ezdxf.readfile(os.path.join(folder, name + ".dxf"))
    auditor = drawing.audit()
    assert not auditor.errors, auditor.errors
    assert drawing.units == units.MM, drawing.units
    space = drawing.modelspace()
    check = space.query('LINE[layer=="CHECK"]')[0]
    length = (check.dxf.end - check.dxf.start).magnitude
    assert abs(length - 100.0) < 1e-6, length
    circle = space.query('CIRCLE[layer=="MOUNT"]')[0]
    assert abs(circle.dxf.center.x - mount) < 1e-3, (circle.dxf.center.x, mount)
    arcs = sorted(space.query('ARC[layer=="SLOT"]'), key=lambda arc: arc.dxf.center.x)
    near, far = (arc.dxf.center.x for arc in arcs)
    edges = space.query('LINE[layer=="SLOT"]')
    assert len(edges) == 2
    for edge in edges:
        assert abs((edge.dxf.end - edge.dxf.start).magnitude - (far - near)) < 1e-6
    assert near <= mount <= far

    sheets = sorted(glob.glob(os.path.join(folder, name + "*.pgm")))
    assert sheets
    for path in sheets:
        width, height, pixels = read_grey(path)
        assert abs(width - 2970) <= 2 and abs(height - 2100) <= 2, (width, height)
        bar = check_bar(width, height, pixels)
        assert abs(bar - 100.0) <= 0.2, (path, bar)
    slot = "over several sheets"
    if len(sheets) == 1:
        width, height, pixels = read_grey(sheets[0])
        ends = end_marks(width, height, pixels)
        assert len(ends) == 2, ends
        slot = ends[1] - ends[0]
        assert abs(slot - (far - near)) <= 0.2, (slot, far - near)
    print(f"{name}: {len(sheets)} sheet(s), check bar 100 mm, slot {far - near:.1f} mm, read {slot if isinstance(slot, str) else round(slot, 1)}")


main(*sys.argv[1:])
