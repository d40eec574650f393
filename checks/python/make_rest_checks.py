"""Writes the tables the tests of the boat at rest compare with.

    python make_rest_checks.py

Over the hulls of `shapes.py`, as stored in `crates/form/tests/meshes`: `checks/rest_equilibrium.csv`
holds attitudes under off-centre loads, `checks/rest_righting.csv` righting arms with sinkage and
trim free. Neither uses the project's code.
"""

import numpy as np
import scipy.optimize

import equilibrium
import make_mesh_checks
import shapes

LOADS = {
    "vee": [(1.9, [0.24, 0.0, 0.03]), (2.6, [0.20, 0.012, 0.035]), (1.2, [0.33, -0.015, 0.03])],
    "catamaran": [(1.6, [0.27, 0.002, 0.035]), (2.2, [0.25, -0.03, 0.04])],
    "hollow_shell": [(1.4, [0.25, -0.002, 0.025]), (1.8, [0.21, 0.006, 0.03])],
    "open_shell": [(2.2, [0.235, 0.001, 0.03])],
    "open_skin": [(2.4, [0.25, 0.0, 0.035]), (2.0, [0.23, 0.02, 0.04])],
    "overlapping_bodies": [(1.3, [0.27, 0.001, 0.02]), (1.6, [0.25, -0.006, 0.02])],
    "ellipsoid": [(2.0, [0.28, 0.002, 0.03]), (2.4, [0.25, 0.006, 0.02])],
}
HEELS_DEG = [-120, -50, 20, 60, 100, 150]
CURVES = ["vee", "catamaran", "hollow_shell", "open_skin"]


def righting(solid, corners, volume, cg, heel):
    """Trim and righting arm at a heel: the arm turns the boat to port when positive."""
    def lever(trim):
        up = equilibrium.up_of(trim, heel)
        height = scipy.optimize.brentq(
            lambda h: equilibrium.immersed(solid, up, h)[0] - volume,
            (corners @ up).min(), (corners @ up).max(), xtol=1e-12)
        return equilibrium.immersed(solid, up, height)[1] - cg

    def ahead(trim):
        return lever(trim) @ np.array([
            np.cos(trim), -np.sin(trim) * np.sin(heel), -np.sin(trim) * np.cos(heel)])

    trims = np.radians(np.linspace(-45, 45, 31))
    values = [ahead(t) for t in trims]
    # Stable in trim: bow up brings buoyancy aft.
    brackets = [i for i in range(30) if values[i] > 0 >= values[i + 1]]
    assert len(brackets) == 1, brackets
    trim = scipy.optimize.brentq(ahead, trims[brackets[0]], trims[brackets[0] + 1], xtol=1e-12)
    starboard = np.array([0.0, -np.cos(heel), np.sin(heel)])
    return trim, lever(trim) @ starboard


def main():
    source, water = make_mesh_checks.source(), equilibrium.WATER_KG_M3
    source = source.replace("make_mesh_checks", "make_rest_checks")
    floats = [f"# {source}; water {water} kg/m3",
              "mesh,mass_kg,cg_x_m,cg_y_m,cg_z_m,height_m,trim_deg,heel_deg"]
    arms = [f"# {source}; water {water} kg/m3; positive turns the boat to port",
            "mesh,mass_kg,cg_x_m,cg_y_m,cg_z_m,heel_deg,trim_deg,righting_arm_m"]
    for name, (_, envelope) in shapes.hulls().items():
        envelope = make_mesh_checks.rounded(envelope)
        for mass, cg in LOADS[name]:
            found = equilibrium.equilibrium(envelope, mass, cg)
            row = [mass, *cg, found["height_m"], found["trim_deg"], found["heel_deg"]]
            floats.append(name + "," + ",".join(f"{x:.9g}" for x in row))
        if name not in CURVES:
            continue
        mass, cg = LOADS[name][-1]
        solid = shapes.manifold(envelope)
        for heel in HEELS_DEG:
            trim, arm = righting(solid, envelope.vertices, mass / water, np.array(cg), np.radians(heel))
            row = [mass, *cg, heel, np.degrees(trim), arm]
            arms.append(name + "," + ",".join(f"{x:.9g}" for x in row))
    checks = make_mesh_checks.ROOT / "checks"
    (checks / "rest_equilibrium.csv").write_text("\n".join(floats) + "\n")
    (checks / "rest_righting.csv").write_text("\n".join(arms) + "\n")


if __name__ == "__main__":
    main()
