#!/usr/bin/env python3
"""A bellmouth draws air past a closed disc that stands in front of it, and with nothing there.
Run by hand (twenty minutes of one core):

    python3 tests/reference/cfd/running.py SCRATCH_FOLDER [running] [finer]

Lengths over the throat's diameter, speeds over its mean speed. The geometry is another than that of
tests/published/running_inlet.csv. Writes running.csv and finer_running.csv beside this script,
or those named.
"""
import math
import os
import shutil
import sys

import gmsh

import flow
import listing
import wedge

LIP, RIM = 0.20, 0.05  # radius of the lip, flat rim around the mouth
DISC, THICK = 1.6, 0.5  # diameter and thickness of the disc
PIPE, SIDE, BEHIND = 2.0, 10.0, 3.0
STEPS = 1000
CELLS = 1.25


def build(gap, fineness):
    """The mesh of the half plane; without a disc where the gap is None."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Verbosity", 1)
    g, line = gmsh.model.geo, gmsh.model.geo.addLine
    point = lambda x, r: g.addPoint(x, r, 0.0)
    rt, rm, ro = 0.5, 0.5 + LIP, 0.5 + LIP + RIM
    back, end = -BEHIND - (gap or 0.0) - THICK, LIP + PIPE
    m, t, centre, e1, e2 = point(0, rm), point(LIP, rt), point(LIP, rm), point(0, ro), point(end, ro)
    f1, f2, f0 = point(back, SIDE), point(end, SIDE), point(back, 0)
    stations = [LIP, LIP + 1.0, end]
    top = [t] + [point(x, rt) for x in stations[1:]]
    low = [point(x, 0) for x in stations]
    room = [line(f0, f1), line(f1, f2), line(f2, e2)]
    engine, rim, lip = line(e2, e1), line(e1, m), g.addCircleArc(m, centre, t)
    cross = [line(top[i], low[i]) for i in range(3)]
    pipe_wall = [line(top[i], top[i + 1]) for i in range(2)]
    pipe_axis = [line(low[i], low[i + 1]) for i in range(2)]
    disc = []
    if gap is None:
        front = [line(low[0], f0)]
        axis = list(front)
    else:
        d0, d1 = point(-gap, 0), point(-gap, DISC / 2)
        d2, d3 = point(-gap - THICK, DISC / 2), point(-gap - THICK, 0)
        disc = [line(d0, d1), line(d1, d2), line(d2, d3)]
        axis = [line(low[0], d0), line(d3, f0)]
        front = [axis[0], *disc, axis[1]]
    outer = g.addPlaneSurface([g.addCurveLoop([*room, engine, rim, lip, cross[0], *front])])
    pipe = [g.addPlaneSurface([g.addCurveLoop(
        [pipe_wall[i], cross[i + 1], -pipe_axis[i], -cross[i]])]) for i in range(2)]
    g.synchronize()

    def name(dim, members, label):
        gmsh.model.setPhysicalName(dim, gmsh.model.addPhysicalGroup(dim, members), label)

    name(2, [outer], "room")
    name(2, pipe, "pipe")
    walls = {"bellmouth": [engine, rim, lip, *pipe_wall]} | ({"disc": disc} if disc else {})
    for label, members in {"room_side": room, "outlet": [cross[2]], "axis": axis + pipe_axis,
                           "throat_plane": [cross[0]], "down_plane": [cross[1]], **walls}.items():
        name(1, members, label)

    fields, size = gmsh.model.mesh.field, 1.0 / (CELLS * fineness)
    wanted = []
    for curves, close, reach in (([lip, rim], 0.012, 6.0), ([cross[0], *pipe_wall], 0.025, 8.0),
                                 (disc, 0.025, 6.0)):
        if not curves:
            continue
        d, f = fields.add("Distance"), fields.add("Threshold")
        fields.setNumbers(d, "EdgesList", curves)
        fields.setNumber(d, "NNodesByEdge", 200)
        for key, value in (("IField", d), ("LcMin", close * size), ("LcMax", 1.0 * size),
                           ("DistMin", 0.01), ("DistMax", reach)):
            fields.setNumber(f, key, value)
        wanted.append(f)
    f = fields.add("Box")
    for key, value in (("VIn", 0.035 * size), ("VOut", size), ("XMin", -min(gap or 1.0, 1.0)),
                       ("XMax", end), ("YMin", 0.0), ("YMax", 0.8), ("ZMin", -1), ("ZMax", 1),
                       ("Thickness", 4)):
        fields.setNumber(f, key, value)
    least = fields.add("Min")
    fields.setNumbers(least, "FieldsList", wanted + [f])
    fields.setAsBackgroundMesh(least)
    for key, value in (("CharacteristicLengthExtendFromBoundary", 0),
                       ("CharacteristicLengthFromPoints", 0), ("RecombineAll", 1), ("Algorithm", 6),
                       ("RecombinationAlgorithm", 1)):
        gmsh.option.setNumber("Mesh." + key, value)
    gmsh.model.mesh.generate(2)
    mesh = wedge.Mesh()
    gmsh.finalize()
    return mesh, list(walls)


def solve(folder, gap, fineness, steps=STEPS):
    """Total pressure lost between room and throat, over the throat's dynamic head, and how even the
    axial speed is over the inner 85 % of the throat."""
    mesh, walls = build(gap, fineness)
    shutil.rmtree(folder, ignore_errors=True)
    planes = {name: mesh.lines.pop(name) for name in ("throat_plane", "down_plane")}
    mesh.lines.pop("axis")
    faces = wedge.write(mesh, folder, walls)
    flow.setup(folder, ["outlet"], ["room_side"], walls, [], steps=steps)
    time, residuals = flow.run(folder)
    p, ux, u2, area, r = wedge.across(mesh, faces, planes["throat_plane"], folder, time)
    inside = r < 0.85 * 0.5
    mass = ux * area
    mean = float(mass.sum() / area.sum())
    return {"cells": len(mesh.cells), "steps": time, "residual_speed": residuals[0],
            "residual_pressure": residuals[1],
            "throat_loss": -float(((p + 0.5 * u2) * mass).sum() / mass.sum()) / (0.5 * mean**2),
            "nonuniformity": float(ux[inside].max() - ux[inside].min()) / mean}


COLUMNS = ["gap", "throat_loss", "extra_loss", "nonuniformity", "fineness", "cells", "steps",
           "residual_speed", "residual_pressure"]


def main(scratch, only):
    runs = {"running": ("running.csv", (None, 0.3, 0.45, 0.7, 1.2), 1, STEPS),
            "finer": ("finer_running.csv", (None, 0.3), 1.6, 3000)}
    for name in only or runs:
        file, gaps, fineness, steps = runs[name]
        rows = []
        for gap in gaps:
            row = solve(os.path.join(scratch, f"{gap}-{fineness}"), gap, fineness, steps)
            alone = rows[0]["throat_loss"] if rows else row["throat_loss"]
            rows.append({**row, "gap": -1 if gap is None else gap, "fineness": fineness,
                         "extra_loss": row["throat_loss"] - alone})
        listing.write(file, COLUMNS, rows)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
