"""An axisymmetric mesh for a wedge solver: gmsh meshes the half plane (x along the axis, r up), this
module turns it into a five-degree wedge and writes and reads the flow solver's own text files.

A point on the axis stays one point, every other becomes two; a cell becomes a prism whose front and
back are `wedge` patches. Faces are ordered as the solver wants them: inner ones by owner, then by
neighbour, then patch by patch.
"""
import math
import pathlib
import re

import gmsh
import numpy as np

HALF_ANGLE = math.radians(2.5)


class Mesh:
    """Points (x, r), polygons of them, zones of cells and named edges."""

    def __init__(self):
        tags, xyz, _ = gmsh.model.mesh.getNodes()
        order = {int(t): i for i, t in enumerate(tags)}
        points = xyz.reshape(-1, 3)[:, :2]
        self.cells, self.zones, self.lines = [], {}, {}
        for dim, group in gmsh.model.getPhysicalGroups(2):
            name = gmsh.model.getPhysicalName(dim, group)
            first = len(self.cells)
            for surface in gmsh.model.getEntitiesForPhysicalGroup(dim, group):
                for kind, _, nodes in zip(*gmsh.model.mesh.getElements(2, surface)):
                    corners = {2: 3, 3: 4}[int(kind)]
                    for cell in nodes.reshape(-1, corners):
                        self.cells.append([order[int(n)] for n in cell])
            self.zones[name] = range(first, len(self.cells))
        for dim, group in gmsh.model.getPhysicalGroups(1):
            name = gmsh.model.getPhysicalName(dim, group)
            edges = set()
            for line in gmsh.model.getEntitiesForPhysicalGroup(dim, group):
                for _, _, nodes in zip(*gmsh.model.mesh.getElements(1, line)):
                    for a, b in nodes.reshape(-1, 2):
                        edges.add(frozenset((order[int(a)], order[int(b)])))
            self.lines[name] = edges
        used = sorted({p for cell in self.cells for p in cell})
        renumber = {old: new for new, old in enumerate(used)}
        self.points = points[used]
        self.cells = [[renumber[p] for p in cell] for cell in self.cells]
        self.lines = {name: {frozenset(renumber[p] for p in e) for e in edges if e <= renumber.keys()}
                      for name, edges in self.lines.items()}
        self.points[np.abs(self.points[:, 1]) < 1e-9, 1] = 0.0
        for i, cell in enumerate(self.cells):
            if self._area(cell) < 0.0:
                self.cells[i] = cell[::-1]

    def _area(self, cell):
        x, r = self.points[cell].T
        return 0.5 * float(np.sum(x * np.roll(r, -1) - r * np.roll(x, -1)))


def _header(kind, name, location):
    return (f"FoamFile {{ version 2.0; format ascii; class {kind}; location \"{location}\";"
            f" object {name}; }}\n")


def write(mesh, folder, walls):
    """Writes constant/polyMesh; edges of `walls` become walls. Returns the faces (for `flux`)."""
    back, front, points = {}, {}, []
    for i, (x, r) in enumerate(mesh.points):
        if r == 0.0:
            back[i] = front[i] = len(points)
            points.append((x, 0.0, 0.0))
            continue
        y, z = r * math.cos(HALF_ANGLE), r * math.sin(HALF_ANGLE)
        back[i] = len(points)
        points.append((x, y, -z))
        front[i] = len(points)
        points.append((x, y, z))
    edge_cells = {}
    for c, cell in enumerate(mesh.cells):
        for a, b in zip(cell, cell[1:] + cell[:1]):
            edge_cells.setdefault(frozenset((a, b)), []).append((c, a, b))
    inner, patches = [], {name: [] for name in mesh.lines}
    named = {edge: name for name, edges in mesh.lines.items() for edge in edges}
    for edge, uses in edge_cells.items():
        owner, a, b = min(uses)
        face = [back[a], back[b], front[b], front[a]]
        face = [p for k, p in enumerate(face) if p != face[k - 1]]
        if len(face) < 3:
            continue
        if len(uses) == 2:
            inner.append((owner, max(uses)[0], face, edge))
        else:
            patches[named[edge]].append((owner, -1, face, edge))
    inner.sort(key=lambda f: (f[0], f[1]))
    for name, side, turn in (("wedge_back", back, True), ("wedge_front", front, False)):
        patches[name] = [(c, -1, [side[p] for p in (cell[::-1] if turn else cell)], None)
                         for c, cell in enumerate(mesh.cells)]
    patches = {name: faces for name, faces in patches.items() if faces}
    faces = inner + [f for group in patches.values() for f in group]

    where = pathlib.Path(folder, "constant/polyMesh")
    where.mkdir(parents=True, exist_ok=True)

    def lines(kind, name, rows):
        text = _header(kind, name, "constant/polyMesh") + f"{len(rows)}\n(\n"
        (where / name).write_text(text + "\n".join(rows) + "\n)\n")

    lines("vectorField", "points", [f"({x:.12g} {y:.12g} {z:.12g})" for x, y, z in points])
    lines("faceList", "faces", [f"{len(f[2])}({' '.join(map(str, f[2]))})" for f in faces])
    lines("labelList", "owner", [str(f[0]) for f in faces])
    lines("labelList", "neighbour", [str(f[1]) for f in inner])
    rows, at = [], len(inner)
    for name, group in patches.items():
        kind = "wedge" if name.startswith("wedge") else "wall" if name in walls else "patch"
        rows.append(f"{name} {{ type {kind}; nFaces {len(group)}; startFace {at}; }}")
        at += len(group)
    lines("polyBoundaryMesh", "boundary", rows)
    zones = [f"{name} {{ type cellZone; cellLabels List<label> {len(cells)} "
             f"({' '.join(map(str, cells))}); }}" for name, cells in mesh.zones.items()]
    lines("regIOobject", "cellZones", zones)
    return faces


def read_field(path, width):
    """The internal field of a result, an array of `width` numbers a row."""
    text = pathlib.Path(path).read_text()
    start = re.search(r"internalField\s+nonuniform\s+List<\w+>\s*\d+\s*\(", text).end()
    body = text[start:text.index("\n)", start)]
    numbers = np.array(re.sub(r"[()]", " ", body).split(), float)
    return numbers.reshape(-1, width) if width > 1 else numbers


def across(mesh, faces, edges, folder, time):
    """Static pressure, speed and area-weights of the faces on a line of the mesh, in this order:
    p [m^2/s^2], U [m/s] along x, squared speed, area [m^2 of the whole circle], outward radius."""
    p = read_field(f"{folder}/{time}/p", 1)
    u = read_field(f"{folder}/{time}/U", 3)
    rows = []
    for owner, neighbour, _, edge in faces:
        if edge not in edges:
            continue
        both = [owner] if neighbour < 0 else [owner, neighbour]
        speed = np.mean(u[both], axis=0)
        r = [mesh.points[k][1] for k in edge]
        area = math.pi * abs(r[0]**2 - r[1]**2)
        rows.append((np.mean(p[both]), speed[0], float(speed @ speed), area, sum(r) / 2))
    return np.array(sorted(rows, key=lambda row: row[4])).T
