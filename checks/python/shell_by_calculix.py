"""Writes checks/shell_bending.csv: a starter hull's shell under landing load, by shell finite elements.

The outside of the hull is cut into frames each 6 mm, each frame resampled to the same number of points from the keel
round, and joined to four-sided shell elements whose middle is the outline. It hangs free in the air: an upward force
spread round one frame, its own inertia pulling down in proportion to wall area (inertia relief). Solved by CalculiX
(Debian package calculix-ccx); stations report the bending stress along x at the lowest and highest fibre, away from
the load and the open ends.

Needs: pip install numpy trimesh; apt-get install calculix-ccx
    python shell_by_calculix.py ../../examples/millrace/millrace.stl ../shell_bending.csv
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import trimesh

E, NU, WALL = 2.5e9, 0.36, 0.0014
FORCE, AT, STEP, ROUND = 100.0, 0.25, 0.006, 80


def frame(mesh, x):
    lines = trimesh.intersections.mesh_plane(mesh, [1, 0, 0], [x, 0, 0])
    path = trimesh.load_path(lines)
    ring = max(path.discrete, key=lambda r: len(r))[:, 1:]
    if (ring[:-1, 0] * ring[1:, 1] - ring[1:, 0] * ring[:-1, 1]).sum() < 0:
        ring = ring[::-1]
    start = np.argmin(ring[:-1, 1] + 0.01 * abs(ring[:-1, 0]))
    ring = np.vstack([ring[:-1][start:], ring[:-1][: start + 1]])
    run = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(ring, axis=0), axis=1))])
    s = np.linspace(0, run[-1], ROUND, endpoint=False)
    return np.column_stack([np.full(ROUND, x), np.interp(s, run, ring[:, 0]), np.interp(s, run, ring[:, 1])])


def main(stl, out):
    mesh = trimesh.load(stl)
    mesh.apply_scale(1e-3)
    low, high = mesh.bounds[0][0] + 0.004, mesh.bounds[1][0] - 0.03
    xs = np.linspace(low, high, int((high - low) / STEP))
    rings = [frame(mesh, x) for x in xs]
    nodes = np.vstack(rings)
    quads = []
    for i in range(len(xs) - 1):
        for j in range(ROUND):
            k = (j + 1) % ROUND
            quads.append([i * ROUND + j, i * ROUND + k, (i + 1) * ROUND + k, (i + 1) * ROUND + j])
    quads = np.array(quads)
    p = nodes[quads]
    area = 0.5 * np.linalg.norm(np.cross(p[:, 2] - p[:, 0], p[:, 3] - p[:, 1]), axis=1)
    share = np.zeros(len(nodes))
    for n in range(4):
        np.add.at(share, quads[:, n], area / 4)
    share /= share.sum()
    middle = (share * nodes[:, 0]).sum()
    inertia = (share * (nodes[:, 0] - middle) ** 2).sum()
    at = xs[np.argmin(abs(xs - AT))]
    near = abs(nodes[:, 0] - at) < 2.5 * STEP
    load = np.where(near, share, 0.0)
    load *= FORCE / load.sum()
    turn = (load * (nodes[:, 0] - middle)).sum()
    load = load - share * (FORCE + turn / inertia * (nodes[:, 0] - middle))
    a, b, c = 0, (len(xs) - 1) * ROUND, ROUND // 4
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job"
        lines = ["*NODE,NSET=ALL"] + [f"{i + 1},{q[0]:.9g},{q[1]:.9g},{q[2]:.9g}" for i, q in enumerate(nodes)]
        lines += ["*ELEMENT,TYPE=S4,ELSET=SHELL"] + [f"{i + 1}," + ",".join(str(n + 1) for n in t) for i, t in enumerate(quads)]
        lines += ["*MATERIAL,NAME=P", "*ELASTIC", f"{E},{NU}", "*SHELL SECTION,ELSET=SHELL,MATERIAL=P", f"{WALL}"]
        lines += ["*BOUNDARY", f"{a + 1},1,3", f"{b + 1},2,3", f"{c + 1},3,3", "*STEP", "*STATIC", "*CLOAD"]
        lines += [f"{i + 1},3,{x:.9g}" for i, x in enumerate(load)]
        lines += ["*NODE PRINT,NSET=ALL", "U", "*EL PRINT,ELSET=SHELL", "S", "*END STEP"]
        job.with_suffix(".inp").write_text("\n".join(lines) + "\n")
        subprocess.run(["ccx", "job"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
        text = job.with_suffix(".dat").read_text().splitlines()
    u, s, mode = np.zeros((len(nodes), 3)), {}, None
    for line in text:
        w = line.split()
        if "displacements" in line:
            mode = "u"
        elif "stresses" in line:
            mode = "s"
        elif mode == "u" and len(w) == 4:
            u[int(w[0]) - 1] = [float(x) for x in w[1:]]
        elif mode == "s" and len(w) >= 8:
            s.setdefault(int(w[0]) - 1, []).append(float(w[2]))
    element = np.array([np.mean(s[i]) for i in range(len(quads))])
    centre, rows = p.mean(axis=1), []
    for i in range(8, len(xs) - 10, 6):
        x = 0.5 * (xs[i] + xs[i + 1])
        if abs(x - at) < 0.06:
            continue
        ring = slice(i * ROUND, (i + 1) * ROUND)
        k, d = np.polyfit(centre[ring, 2], element[ring], 1, w=np.sqrt(area[ring]))
        z = nodes[i * ROUND : (i + 1) * ROUND, 2]
        rows.append((x, k * z.min() + d, k * z.max() + d))
    lift = [u[i * ROUND : (i + 1) * ROUND, 2].mean() for i in (3, int(np.argmin(abs(xs - at))), len(xs) - 4)]
    x0, x1, x2 = xs[3], at, xs[len(xs) - 4]
    bow = lift[1] - lift[0] - (lift[2] - lift[0]) * (x1 - x0) / (x2 - x0)
    head = [
        f"millrace's hull as a shell of {WALL * 1e3} mm, its middle the outline, E {E / 1e9} GPa, Poisson {NU}: {FORCE} N up round the frame",
        f"at {at:.5f} m, its own inertia against it. CalculiX 2.20, {len(quads)} four-node shells from {xs[0]:.5f} to {xs[-1]:.5f} m.",
        "Bending stress along x at the lowest and highest fibre (straight line through each frame). First row: the bow of the",
        f"loaded frame against the chord from {x0:.5f} to {x2:.5f} m, m",
    ]
    text = "\n".join("# " + h for h in head) + f"\nx_m,low,high\n{at:.5f},{bow:.6g},{bow:.6g}\n"
    text += "\n".join(f"{x:.5f},{lo:.6g},{hi:.6g}" for x, lo, hi in rows) + "\n"
    Path(out).write_text(text)
    print(text)


if __name__ == "__main__":
    main(*sys.argv[1:])
