#!/usr/bin/env python3
"""A duct blows across a gap into a bellmouth with a resistance behind it; without hub, with a hub and
its tail cone, with a hub that ends blunt. Run by hand (an hour of one core):

    python3 tests/reference/cfd/gap.py SCRATCH_FOLDER [none] [cone] [blunt] [other] [finer] [finer_blunt]

Needs Debian's openfoam, python3-gmsh and python3-numpy. Lengths over the bore, speeds over the mean
exit speed. The geometry is another than that of tests/published/gap_jet.csv. Writes gap.csv,
hub_cone.csv, hub_blunt.csv, hub_other.csv (shorter cones, a slimmer hub), finer.csv and
finer_blunt.csv beside this script, or those named.
"""
import math
import os
import shutil
import sys
import typing

import gmsh

import flow
import listing
import wedge

WALL = 0.04  # of the duct
THROAT, LIP, RIM = 0.62, 0.09, 0.03  # throat diameter, lip radius, flat rim around the mouth
DUCT, PIPE, SIDE = 1.5, 2.2, 8.0  # lengths of duct and pipe, radius of the room
HUB, CONE = 0.44, 0.66  # diameter of a hub; length of its cone, which ends in the exit plane
STEPS = 1000
CELLS = 1.25  # of the common mesh, in units of the sizes below


class Run(typing.NamedTuple):
    """Lengths over the bore; the cone's is of no matter without one."""
    hub: str  # "none", "cone", "blunt"
    stand_off: float
    resistance: float
    fineness: float = 1
    steps: int = STEPS
    diameter: float = HUB
    cone: float = CONE


def build(run):
    """The half plane as a gmsh model; returns (folder-independent) wall names."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Verbosity", 1)
    g = gmsh.model.geo
    s, hub, rt = run.stand_off, run.hub, THROAT / 2.0
    rm, ro = rt + LIP, rt + LIP + RIM
    end = s + LIP + PIPE
    point = lambda x, r: g.addPoint(x, r, 0.0)
    hub_r = 0.0 if hub == "none" else run.diameter / 2.0

    a0, a1 = point(-DUCT, hub_r), point(-DUCT, 0.5)
    b0, b1 = point(0.0, hub_r if hub == "blunt" else 0.0), point(0.0, 0.5)
    c1, c2 = point(0.0, 0.5 + WALL), point(-DUCT, 0.5 + WALL)
    f1, f2 = point(-DUCT, SIDE), point(end, SIDE)
    e2, e1 = point(end, ro), point(s, ro)
    m, t, centre = point(s, rm), point(s + LIP, rt), point(s + LIP, rm)
    stations = [s + LIP + d for d in (0.0, 0.5, 0.9, 1.4)] + [end]
    top = [t] + [point(x, rt) for x in stations[1:]]
    axis = [point(x, 0.0) for x in stations]
    shoulder = point(-run.cone, hub_r) if hub == "cone" else b0
    tip = point(0.0, 0.0) if hub == "blunt" else b0

    line = g.addLine
    inlet, duct_wall, edge = line(a0, a1), line(a1, b1), line(b1, c1)
    outside, back_side, room = line(c1, c2), line(c2, f1), line(f1, f2)
    spill_out, engine, rim = line(f2, e2), line(e2, e1), line(e1, m)
    lip = g.addCircleArc(m, centre, t)
    exit_line, throat = line(b0, b1), line(t, axis[0])
    base = [line(b0, tip)] if hub == "blunt" else []
    hub_wall = [line(a0, shoulder)] + ([line(shoulder, b0)] if hub == "cone" else [])
    jet_axis = line(tip, axis[0])
    pipe_walls = [line(top[i], top[i + 1]) for i in range(4)]
    pipe_axis = [line(axis[i], axis[i + 1]) for i in range(4)]
    crossings = [throat] + [line(top[i], axis[i]) for i in range(1, 5)]

    duct = g.addPlaneSurface([g.addCurveLoop([inlet, duct_wall, -exit_line] + [-x for x in reversed(hub_wall)])])
    outer = g.addPlaneSurface([g.addCurveLoop(
        [edge, outside, back_side, room, spill_out, engine, rim, lip, throat, -jet_axis]
        + [-x for x in reversed(base)] + [exit_line])])
    pipe = [g.addPlaneSurface([g.addCurveLoop(
        [pipe_walls[i], crossings[i + 1], -pipe_axis[i], -crossings[i]])]) for i in range(4)]
    g.synchronize()

    def name(dim, members, label):
        gmsh.model.setPhysicalName(dim, gmsh.model.addPhysicalGroup(dim, members), label)

    for label, surfaces in (("duct", [duct]), ("room", [outer]),
                            ("pipe", [pipe[0], pipe[1], pipe[3]]), ("resistance", [pipe[2]])):
        name(2, surfaces, label)
    walls = {"duct_wall": [duct_wall, edge, outside], "bellmouth": [engine, rim, lip, *pipe_walls]}
    if hub != "none":
        walls["hub"] = [*hub_wall, *base]
    axis_lines = [jet_axis, *pipe_axis] + (hub_wall if hub == "none" else [])
    lines = {"inlet": [inlet], "room_side": [back_side, room, spill_out], "outlet": [crossings[4]],
             "axis": axis_lines, "exit_plane": [exit_line], "throat_plane": [crossings[1]],
             "mouth_plane": [throat], **walls}
    for label, members in lines.items():
        name(1, members, label)

    fields = gmsh.model.mesh.field
    size = 1.0 / (CELLS * run.fineness)

    def near(curves, close, far, reach):
        d = fields.add("Distance")
        fields.setNumbers(d, "EdgesList", curves)
        fields.setNumber(d, "NNodesByEdge", 200)
        f = fields.add("Threshold")
        fields.setNumber(f, "IField", d)
        for key, value in (("LcMin", close * size), ("LcMax", far * size), ("DistMin", 0.01),
                           ("DistMax", reach)):
            fields.setNumber(f, key, value)
        return f

    def box(x0, x1, r0, r1, inside):
        f = fields.add("Box")
        for key, value in (("VIn", inside * size), ("VOut", 0.9 * size), ("XMin", x0), ("XMax", x1),
                           ("YMin", r0), ("YMax", r1), ("ZMin", -1), ("ZMax", 1), ("Thickness", 3)):
            fields.setNumber(f, key, value)
        return f

    wanted = [near([edge, lip, rim], 0.012, 0.9, 6.0), near([duct_wall], 0.022, 0.9, 8.0),
              near([throat, crossings[1]], 0.025, 0.9, 8.0),
              box(-0.1, s + 0.3, 0.0, 0.75 + 0.1 * s, 0.04), box(s - 0.4, end, 0.0, 1.0, 0.05)]
    if hub != "none":
        wanted.append(near([*hub_wall, *base], 0.02, 0.9, 8.0))
    least = fields.add("Min")
    fields.setNumbers(least, "FieldsList", wanted)
    fields.setAsBackgroundMesh(least)
    gmsh.option.setNumber("Mesh.CharacteristicLengthExtendFromBoundary", 0)
    gmsh.option.setNumber("Mesh.CharacteristicLengthFromPoints", 0)
    gmsh.option.setNumber("Mesh.RecombineAll", 1)
    gmsh.option.setNumber("Mesh.Algorithm", 6)
    gmsh.option.setNumber("Mesh.RecombinationAlgorithm", 1)
    gmsh.model.mesh.generate(2)
    mesh = wedge.Mesh()
    gmsh.finalize()
    return mesh, list(walls)


def solve(folder, run):
    """One run; the flows and pressures of one row. The mean speed over what the stream fills at the
    exit, all of it or the ring around a blunt hub, is 1."""
    mesh, walls = build(run)
    shutil.rmtree(folder, ignore_errors=True)
    measured = {name: mesh.lines.pop(name) for name in ("exit_plane", "throat_plane", "mouth_plane")}
    mesh.lines.pop("axis")
    faces = wedge.write(mesh, folder, walls)
    flow.setup(folder, ["inlet"], ["room_side"], walls, ["outlet"],
               ("resistance", run.resistance / 0.5),
               speed=1.0 / (1.0 - run.diameter**2) if run.hub == "cone" else 1.0, steps=run.steps)
    time, residuals = flow.run(folder)
    p, ux, u2, area, _ = wedge.across(mesh, faces, measured["throat_plane"], folder, time)
    swallowed = float((ux * area).sum())
    total = float(((p + 0.5 * u2) * ux * area).sum() / swallowed)
    speed = swallowed / (math.pi / 4.0 * THROAT**2)
    exit_area = math.pi / 4.0 * (1.0 - (run.diameter**2 if run.hub == "blunt" else 0.0))
    p_in, ux_in, _, area_in, _ = wedge.across(mesh, faces, mesh.lines["inlet"], folder, time)
    return {"cells": len(mesh.cells), "steps": time, "residual_speed": residuals[0],
            "residual_pressure": residuals[1], "loss_factor": total / (0.5 * speed**2),
            "capture": swallowed / exit_area, "total_pressure": total / 0.5,
            "duct_pressure": float((p_in * area_in).sum() / area_in.sum()) / 0.5}


def columns(name):
    mesh = ["fineness", "cells", "steps", "residual_speed", "residual_pressure"]
    first = ["hub_diameter"] if name.startswith("finer") else []
    if name == "other":
        first = ["hub_diameter", "cone_length"]
    last = ["duct_pressure"] if name == "none" else []
    return [*first, "stand_off", "loss_factor", "capture", "total_pressure", *last, *mesh]


FILES = {"none": "gap.csv", "cone": "hub_cone.csv", "blunt": "hub_blunt.csv", "other": "hub_other.csv",
         "finer": "finer.csv", "finer_blunt": "finer_blunt.csv"}
SLIM = 0.32  # diameter of another hub


def main(scratch, only):
    runs = {"none": [Run("none", s, r) for r in (3.0, 11.0) for s in (0.25, 0.5, 1.0, 3.0, 5.0)],
            "cone": [Run("cone", s, r) for r in (5.0, 11.0) for s in (0.5, 1.0, 2.0)]
            + [Run("cone", 3.5, 5.0)],
            "blunt": [Run("blunt", s, 5.0) for s in (0.5, 1.0, 2.0)]
            + [Run("blunt", 0.5, 11.0), Run("blunt", 1.0, 10.75), Run("blunt", 2.0, 11.0),
               Run("blunt", 3.5, 5.0)],  # 11 at 1 bore does not settle in 1000 steps
            "other": [Run("cone", s, r, cone=c * HUB)
                      for c, s, r in ((0.5, 0.5, 5.0), (0.5, 1.0, 5.0), (0.5, 2.0, 5.0),
                                      (0.5, 1.4, 11.0), (1.0, 0.5, 5.0), (1.0, 1.0, 5.0),
                                      (1.0, 2.0, 5.0))]
            + [Run(hub, s, 7.0, diameter=SLIM, cone=SLIM if hub == "cone" else 0.0)
               for hub in ("cone", "blunt") for s in (0.5, 1.0, 2.0)],
            "finer": [Run("none", 0.5, 3.0, 1.6), Run("cone", 1.0, 5.0, 1.6)],
            "finer_blunt": [Run("blunt", 1.0, 5.0, 1.6, 2000), Run("blunt", 2.0, 5.0, 1.6)]}
    for name in only or runs:
        rows = []
        for run in runs[name]:
            folder = os.path.join(scratch, "-".join(str(part) for part in run))
            rows.append({**solve(folder, run), "fineness": run.fineness,
                         "hub_diameter": 0 if run.hub == "none" else run.diameter,
                         "cone_length": run.cone, "stand_off": run.stand_off})
        listing.write(FILES[name], columns(name), rows)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
