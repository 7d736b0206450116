"""Runs the general-purpose flow solver on a wedge mesh: steady, incompressible, k-omega SST, second
order upwind. Everything is over the duct's bore and mean exit speed; the kinematic viscosity sets the
Reynolds number."""
import os
import pathlib
import re
import subprocess

REYNOLDS = 3.0e5
TURBULENCE = 0.02  # of the mean speed
SCALE = 0.05  # of the turbulence, in bores


def _file(folder, name, kind, body):
    path = pathlib.Path(folder, name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"FoamFile {{ version 2.0; format ascii; class {kind};"
                    f" object {path.name}; }}\n{body}\n")


def dictionary(folder, name, body):
    _file(folder, name, "dictionary", body)


def setup(folder, inlet, open_sides, walls, outlets, porous=None, speed=1.0, steps=2500):
    """`inlet` blows at `speed`; at `outlets` the pressure is the room's; air comes and goes freely
    through `open_sides`; `porous` is (zone, loss per length) or None."""
    k = 1.5 * (TURBULENCE * abs(speed))**2
    omega = k**0.5 / (0.09**0.25 * SCALE)

    def field(name, dimensions, internal, sides):
        rows = [f"{patch} {{ {text} }}" for patch, text in sides.items()]
        rows += ["wedge_back { type wedge; }", "wedge_front { type wedge; }",
                 "axis { type empty; }"]
        _file(folder, f"0/{name}", "volVectorField" if name == "U" else "volScalarField",
              f"dimensions {dimensions}; internalField uniform {internal};\n"
              "boundaryField {\n" + "\n".join(rows) + "\n}")

    def sides(at_inlet, at_open, at_outlet, at_wall):
        table = {}
        for patches, text in ((inlet, at_inlet), (open_sides, at_open), (outlets, at_outlet),
                              (walls, at_wall)):
            table.update({patch: text for patch in patches})
        return table

    still = "type inletOutlet; inletValue uniform {0}; value uniform {0};"
    field("U", "[0 1 -1 0 0 0 0]", "(0 0 0)",
          sides(f"type fixedValue; value uniform ({speed} 0 0);",
                "type pressureInletOutletVelocity; value uniform (0 0 0);",
                "type inletOutlet; inletValue uniform (0 0 0); value uniform (0 0 0);",
                "type noSlip;"))
    field("p", "[0 2 -2 0 0 0 0]", "0",
          sides("type zeroGradient;", "type totalPressure; p0 uniform 0; value uniform 0;",
                "type fixedValue; value uniform 0;", "type zeroGradient;"))
    field("k", "[0 2 -2 0 0 0 0]", k,
          sides(f"type fixedValue; value uniform {k};", still.format(1e-6), still.format(1e-6),
                f"type kqRWallFunction; value uniform {k};"))
    field("omega", "[0 0 -1 0 0 0 0]", omega,
          sides(f"type fixedValue; value uniform {omega};", still.format(0.1), still.format(0.1),
                f"type omegaWallFunction; value uniform {omega};"))
    free = "type calculated; value uniform 0;"
    field("nut", "[0 2 -1 0 0 0 0]", "0",
          sides(free, free, free, "type nutkWallFunction; value uniform 0;"))

    dictionary(folder, "constant/transportProperties",
               f"transportModel Newtonian; nu {1.0 / REYNOLDS};")
    dictionary(folder, "constant/turbulenceProperties",
               "simulationType RAS; RAS { RASModel kOmegaSST; turbulence on; printCoeffs off; }")
    if porous:
        zone, loss = porous
        dictionary(folder, "constant/fvOptions", f"""
resistance {{ type explicitPorositySource; explicitPorositySourceCoeffs {{ selectionMode cellZone;
  cellZone {zone}; type DarcyForchheimer; d (0 0 0); f ({loss} 0 0);
  coordinateSystem {{ type cartesian; origin (0 0 0); rotation {{ type axes; e1 (1 0 0); e2 (0 1 0); }} }} }} }}""")
    dictionary(folder, "system/controlDict", f"""
application simpleFoam; startFrom latestTime; stopAt endTime; endTime {steps}; deltaT 1;
writeControl timeStep; writeInterval {steps}; purgeWrite 1; writeFormat ascii; writePrecision 10;
writeCompression off; timeFormat general; runTimeModifiable false;""")
    dictionary(folder, "system/fvSchemes", """
ddtSchemes { default steadyState; }
gradSchemes { default cellLimited Gauss linear 1; }
divSchemes { default none; div(phi,U) bounded Gauss linearUpwind grad(U);
  div(phi,k) bounded Gauss limitedLinear 1; div(phi,omega) bounded Gauss limitedLinear 1;
  div((nuEff*dev2(T(grad(U))))) Gauss linear; }
laplacianSchemes { default Gauss linear limited 0.5; }
interpolationSchemes { default linear; }
snGradSchemes { default limited 0.5; }
wallDist { method meshWave; }""")
    dictionary(folder, "system/fvSolution", """
solvers {
  p { solver GAMG; smoother GaussSeidel; tolerance 1e-9; relTol 0.05; }
  "(U|k|omega)" { solver smoothSolver; smoother symGaussSeidel; tolerance 1e-10; relTol 0.1; } }
SIMPLE { nNonOrthogonalCorrectors 1; consistent yes;
  residualControl { p 1e-7; U 1e-4; "(k|omega)" 1e-4; } }
relaxationFactors { equations { U 0.8; ".*" 0.7; } fields { p 0.9; } }""")


def run(folder):
    """Solves; returns (last time, its residuals of Ux and p)."""
    place = {"WM_PROJECT_DIR": "/usr/share/openfoam"} | dict(os.environ)
    done = subprocess.run(["simpleFoam", "-case", str(folder)], capture_output=True, text=True,
                          env=place, check=False)
    pathlib.Path(folder, "log").write_text(done.stdout + done.stderr)
    if done.returncode != 0:
        raise RuntimeError(f"{folder}: the solver stopped\n" + done.stderr[-2000:])
    residuals = [re.findall(rf"Solving for {name}, Initial residual = ([\d.e+-]+)", done.stdout)[-1]
                 for name in ("Ux", "p")]
    times = sorted(int(d.name) for d in pathlib.Path(folder).iterdir() if d.name.isdigit())
    return times[-1], [float(r) for r in residuals]
