#!/usr/bin/env python3
"""Radial traverses of the wake behind the hubs of gap.py, mouth two bores away. Run by hand (ten minutes
of one core):

    python3 tests/reference/cfd/traverse.py SCRATCH_FOLDER

Needs python3-scipy besides what gap.py needs. Writes wake.csv beside this script.
"""
import os
import sys

import numpy as np
from scipy.interpolate import LinearNDInterpolator

import gap
import listing
import wedge

RUNS = [gap.Run("cone", 2.0, 5.0, cone=length * gap.HUB) for length in (1.5, 1.0, 0.5)]
RUNS += [gap.Run("blunt", 2.0, 5.0, cone=0.0)]
DISTANCES = (0.25, 0.5, 0.75, 1.0)
RADII = (0.05, 0.075, 0.1, 0.125, 0.15, 0.175, 0.2, 0.25)  # nearer the axis the wedge's cells are poor


def main(scratch):
    rows = []
    for run in RUNS:
        folder = os.path.join(scratch, f"wake-{run.hub}-{run.cone:.3g}")
        found = gap.solve(folder, run)
        mesh, _ = gap.build(run)
        middles = np.array([mesh.points[cell].mean(axis=0) for cell in mesh.cells])
        speeds = wedge.read_field(f"{folder}/{found['steps']}/U", 3)[:, 0]
        speed = LinearNDInterpolator(middles, speeds)
        for x in DISTANCES:
            for r in RADII:
                rows.append({"hub_diameter": run.diameter, "cone_length": run.cone, "distance": x,
                             "radius": r, "speed": float(speed(x, r))})
    listing.write("wake.csv", ["hub_diameter", "cone_length", "distance", "radius", "speed"], rows)


if __name__ == "__main__":
    main(sys.argv[1])
