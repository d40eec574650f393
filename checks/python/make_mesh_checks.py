"""Writes the hulls as STL and the tables the Rust tests compare with.

    python make_mesh_checks.py

`crates/form/tests/meshes/NAME.stl` is what a builder would export (mm). `checks/mesh_cuts.csv`
holds volumes and centres of the envelope below fixed planes, `checks/mesh_equilibria.csv` where
it floats. Neither uses the project's code.
"""

import pathlib

import numpy as np
import trimesh

import equilibrium
import shapes

ROOT = pathlib.Path(__file__).resolve().parents[2]
PLANES = [(0.0, 0.0, 0.03), (0.02, 0.0, 0.035), (0.0, 0.1, 0.04), (-0.03, -0.25, 0.05),
          (0.01, 1.2, 0.03)]
LOADS = {
    "vee": (1.9, [0.24, 0.0, 0.03]),
    "catamaran": (1.6, [0.27, 0.002, 0.035]),
    "hollow_shell": (1.4, [0.25, -0.002, 0.025]),
    "open_shell": (2.2, [0.235, 0.001, 0.03]),
    "open_skin": (2.4, [0.25, 0.0, 0.035]),
    "overlapping_bodies": (1.3, [0.27, 0.001, 0.02]),
    "ellipsoid": (2.0, [0.28, 0.002, 0.03]),
}


def rounded(mesh):
    """Single precision in millimetres, as STL stores it."""
    mesh = mesh.copy()
    mesh.vertices = np.asarray(mesh.vertices * 1e3, dtype=np.float32).astype(float) / 1e3
    return mesh


def source():
    from importlib.metadata import version
    return (f"made by checks/python/make_mesh_checks.py with trimesh {trimesh.__version__}, "
            f"manifold3d {version('manifold3d')}, scipy {version('scipy')}; "
            "confidence: independent general-purpose libraries on invented shapes")


def main():
    cuts = [f"# {source()}",
            "mesh,up_x,up_y,up_z,height_m,volume_m3,centre_x_m,centre_y_m,centre_z_m"]
    floats = [f"# {source()}; water {equilibrium.WATER_KG_M3} kg/m3",
              "mesh,mass_kg,cg_x_m,cg_y_m,cg_z_m,height_m,trim_deg,heel_deg"]
    for name, (exported, envelope) in shapes.hulls().items():
        stl = exported.copy()
        stl.apply_scale(1e3)
        stl.export(ROOT / "crates/form/tests/meshes" / f"{name}.stl")
        envelope = rounded(envelope)
        assert envelope.is_watertight, name
        solid = shapes.manifold(envelope)
        for trim, heel, height in PLANES:
            up = equilibrium.up_of(trim, heel)
            volume, centre = equilibrium.immersed(solid, up, height)
            row = [*up, height, volume, *centre]
            cuts.append(name + "," + ",".join(f"{x:.12g}" for x in row))
        mass, cg = LOADS[name]
        found = equilibrium.equilibrium(envelope, mass, cg)
        row = [mass, *cg, found["height_m"], found["trim_deg"], found["heel_deg"]]
        floats.append(name + "," + ",".join(f"{x:.9g}" for x in row))
    (ROOT / "checks/mesh_cuts.csv").write_text("\n".join(cuts) + "\n")
    (ROOT / "checks/mesh_equilibria.csv").write_text("\n".join(floats) + "\n")


if __name__ == "__main__":
    main()
