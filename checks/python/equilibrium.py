"""Where a closed mesh floats, found without any of the project's code.

    python equilibrium.py HULL.stl --mass 1.2 --cg 0.25 0.0 0.04 [--unit 0.001]

prints JSON: height of the water above the origin along `up`, trim and heel in degrees (bow up,
starboard down positive), and the immersed volume and its centre. Cuts by manifold3d, integrals
by trimesh, equations by scipy. The mesh must be the envelope itself, in boat axes.
"""

import argparse
import json

import numpy as np
import scipy.optimize
import trimesh

import shapes

WATER_KG_M3 = 998.2


def up_of(trim, heel):
    """World vertical in boat axes."""
    return np.array([np.sin(trim), np.cos(trim) * np.sin(heel), np.cos(trim) * np.cos(heel)])


def immersed(solid, up, height):
    """Volume and centre of what lies below the plane."""
    below = solid.trim_by_plane((-up).tolist(), -height)
    if below.is_empty():
        return 0.0, np.zeros(3)
    mesh = shapes.mesh_of(below)
    return float(mesh.volume), np.asarray(mesh.center_mass)


def equilibrium(mesh, mass, cg, density=WATER_KG_M3):
    solid = shapes.manifold(mesh)
    cg = np.asarray(cg, dtype=float)
    displaced = mass / density

    def height_for(up):
        corners = mesh.vertices @ up
        return scipy.optimize.brentq(
            lambda h: immersed(solid, up, h)[0] - displaced,
            corners.min(), corners.max(), xtol=1e-9)

    def levers(angles):
        up = up_of(*angles)
        _, centre = immersed(solid, up, height_for(up))
        lever = centre - cg
        ahead = np.array([np.cos(angles[0]), -np.sin(angles[0]) * np.sin(angles[1]),
                          -np.sin(angles[0]) * np.cos(angles[1])])
        port = np.cross(up, ahead)
        return [lever @ ahead, lever @ port]

    found = scipy.optimize.root(levers, [0.0, 0.0], tol=1e-10, options={"eps": 1e-6})
    residual = float(np.abs(levers(found.x)).max())
    if residual > 1e-6:
        raise SystemExit(f"no equilibrium found: {found.message}, lever {residual} m")
    up = up_of(*found.x)
    height = height_for(up)
    volume, centre = immersed(solid, up, height)
    return {
        "trim_deg": float(np.degrees(found.x[0])),
        "heel_deg": float(np.degrees(found.x[1])),
        "height_m": float(height),
        "up": up.tolist(),
        "volume_m3": volume,
        "centre_m": centre.tolist(),
    }


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("mesh")
    parser.add_argument("--mass", type=float, required=True, help="kg")
    parser.add_argument("--cg", type=float, nargs=3, required=True, help="m, boat axes")
    parser.add_argument("--unit", type=float, default=1e-3, help="metres per file unit")
    parser.add_argument("--density", type=float, default=WATER_KG_M3, help="kg/m3")
    given = parser.parse_args()
    mesh = trimesh.load_mesh(given.mesh)
    mesh.apply_scale(given.unit)
    print(json.dumps(equilibrium(mesh, given.mass, given.cg, given.density), indent=2))


if __name__ == "__main__":
    main()
