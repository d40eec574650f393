"""Times trimesh on the cut that `cargo bench -p form --bench mesh` calls `immersed_100k`.

    python clip_speed.py --ours-us 512

A Wigley hull of about 100 000 facets, cut by the same tilted plane: capped slice, then volume
and centre.
"""

import argparse
import time

import numpy as np
import trimesh


def wigley(length, beam, draught, nx, nz):
    def half(x, z):
        s = 2 * x / length - 1
        return beam / 2 * (1 - s * s) * (1 - (z / draught) ** 2)

    vertices, faces = [], []

    def quad(points):
        n = len(vertices)
        vertices.extend(points)
        faces.extend([[n, n + 1, n + 2], [n, n + 2, n + 3]])

    xs = np.linspace(0, length, nx + 1)
    zs = np.linspace(-draught, 0, nz + 1)
    for a, b in zip(xs, xs[1:]):
        for c, d in zip(zs, zs[1:]):
            corners = [(a, c), (b, c), (b, d), (a, d)]
            quad([(x, -half(x, z), z) for x, z in corners])
            quad([(x, half(x, z), z) for x, z in reversed(corners)])
        quad([(a, -half(a, 0), 0), (b, -half(b, 0), 0), (b, half(b, 0), 0), (a, half(a, 0), 0)])
    mesh = trimesh.Trimesh(vertices, faces, process=True)
    mesh.apply_translation([0, 0, draught])
    return mesh


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--ours-us", type=float, help="median of immersed_100k, microseconds")
    given = parser.parse_args()
    mesh = wigley(0.6, 0.12, 0.08, 200, 124)
    up = np.array([0.05, 0.1, 1.0]) / np.linalg.norm([0.05, 0.1, 1.0])
    times = []
    for _ in range(7):
        fresh = mesh.copy()
        start = time.perf_counter()
        cut = fresh.slice_plane(up * 0.03, -up, cap=True)
        volume, centre = cut.volume, cut.center_mass
        times.append(time.perf_counter() - start)
    median = float(np.median(times)) * 1e6
    print(f"{len(mesh.faces)} facets: trimesh {median:.0f} us, volume {volume:.9e} m3, {centre}")
    if given.ours_us:
        print(f"ratio {median / given.ours_us:.0f}")


if __name__ == "__main__":
    main()
