"""Writes checks/shell_bending.csv: a starter hull's shell under landing load, by shell finite elements.

The hull is a closed vee shell of even wall. It is hung free in the air: an upward force spread over a patch of the
bottom, its own inertia pulling down in proportion to wall area (inertia relief). Solved by CalculiX (Debian package
calculix-ccx) with six-node shells; stations report the bending stress along x at keel and deck, away from the patch.

Needs: pip install numpy trimesh; apt-get install calculix-ccx
    python make_shell_check.py HULL.stl OUT.csv
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import trimesh

E, NU, WALL = 2.5e9, 0.36, 0.0012
FORCE, AT = 100.0, 0.25


def main(stl, out):
    mesh = trimesh.load(stl)
    mesh.apply_scale(1e-3)
    v, f = trimesh.remesh.subdivide_to_size(mesh.vertices, mesh.faces, 0.009)
    mesh = trimesh.Trimesh(v, f, process=True)
    mesh.merge_vertices()
    v, f = mesh.vertices, mesh.faces
    # The wall lies inside the outline: its middle is half a wall in.
    v = v - 0.5 * WALL * mesh.vertex_normals
    edges = {}
    nodes = [tuple(p) for p in v]
    six = []
    for t in f:
        mid = []
        for a, b in ((0, 1), (1, 2), (2, 0)):
            key = tuple(sorted((t[a], t[b])))
            if key not in edges:
                edges[key] = len(nodes)
                nodes.append(tuple((v[t[a]] + v[t[b]]) / 2))
            mid.append(edges[key])
        six.append(list(t) + mid)
    nodes = np.array(nodes)
    mesh = trimesh.Trimesh(v, f, process=False)
    share = np.zeros(len(nodes))
    for t, a in zip(six, mesh.area_faces):
        share[t[3:]] += a / 3
    share /= share.sum()
    length = np.ptp(nodes[:, 0])
    # An even patch round the section at AT: every node within 15 mm of the plane, so that no plate is pushed in.
    near = np.abs(nodes[:, 0] - AT) < 0.015
    load = np.zeros(len(nodes))
    load[near] = share[near] / share[near].sum() * FORCE
    middle = (share * nodes[:, 0]).sum()
    inertia = (share * (nodes[:, 0] - middle) ** 2).sum()
    turn = (load * (nodes[:, 0] - middle)).sum()
    load -= share * (FORCE + turn / inertia * (nodes[:, 0] - middle))
    # Held at three nodes that carry nothing: the loads balance.
    a = int(np.argmin(np.linalg.norm(nodes - [nodes[:, 0].min(), 0, nodes[:, 2].min()], axis=1)))
    b = int(np.argmax(nodes[:, 0]))
    c = int(np.argmax(nodes[:, 1] - abs(nodes[:, 0] - middle)))
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job"
        lines = ["*NODE,NSET=ALL"] + [f"{i + 1},{p[0]:.9g},{p[1]:.9g},{p[2]:.9g}" for i, p in enumerate(nodes)]
        lines += ["*ELEMENT,TYPE=S6,ELSET=SHELL"]
        lines += [f"{i + 1}," + ",".join(str(n + 1) for n in t) for i, t in enumerate(six)]
        lines += ["*MATERIAL,NAME=P", "*ELASTIC", f"{E},{NU}", "*SHELL SECTION,ELSET=SHELL,MATERIAL=P", f"{WALL}"]
        lines += ["*BOUNDARY", f"{a + 1},1,3", f"{b + 1},2,3", f"{c + 1},3,3"]
        lines += ["*STEP", "*STATIC", "*CLOAD"]
        lines += [f"{i + 1},3,{x:.9g}" for i, x in enumerate(load) if x]
        lines += ["*NODE PRINT,NSET=ALL", "U", "*EL PRINT,ELSET=SHELL", "S", "*END STEP"]
        job.with_suffix(".inp").write_text("\n".join(lines) + "\n")
        subprocess.run(["ccx", "job"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
        text = job.with_suffix(".dat").read_text().splitlines()
    u, s = np.zeros((len(nodes), 3)), {}
    mode = None
    for line in text:
        w = line.split()
        if "displacements" in line:
            mode = "u"
        elif "stresses" in line:
            mode = "s"
        elif mode == "u" and len(w) == 4:
            i = int(w[0]) - 1
            if i < len(nodes):
                u[i] = [float(x) for x in w[1:]]
        elif mode == "s" and len(w) == 8:
            s.setdefault(int(w[0]) - 1, []).append(float(w[2]))
    element = np.array([np.mean(s[i]) for i in range(len(six))])
    centre = mesh.triangles_center
    rows = []
    low, high = nodes[:, 0].min(), nodes[:, 0].max()
    for x in np.linspace(low + 0.1 * length, high - 0.15 * length, 14):
        if abs(x - AT) < 0.05:
            continue
        ring = np.abs(centre[:, 0] - x) < 0.006
        z, sx = centre[ring, 2], element[ring]
        # Bending stress at the extreme fibres: a straight line through the ring by area.
        w = mesh.area_faces[ring]
        k, d = np.polyfit(z, sx, 1, w=np.sqrt(w))
        rows.append((x, k * (nodes[np.abs(nodes[:, 0] - x) < 0.004, 2].min()) + d,
                     k * (nodes[np.abs(nodes[:, 0] - x) < 0.004, 2].max()) + d))
    ring = lambda x: np.abs(nodes[:, 0] - x) < 0.006
    ends = [np.mean(u[ring(x), 2]) for x in (low + 0.02, AT, high - 0.03)]
    chord = ends[0] + (ends[2] - ends[0]) * (AT - low - 0.02) / (length - 0.05)
    head = [
        "starter vee hull as a closed shell, wall 1.2 mm, E 2.5 GPa, Poisson 0.36: 100 N up, spread round the section at",
        f"x = {AT} m, its own inertia against it. CalculiX 2.20, {len(six)} six-node shells. Bending stress along x at the",
        f"lowest and highest fibre; bow of the section at {AT} m against the chord from 20 mm to 30 mm from the ends, m: {ends[1] - chord:.6g}",
    ]
    out = Path(out)
    out.write_text("\n".join("# " + h for h in head) + "\nx_m,low_Pa,high_Pa\n" +
                   "\n".join(f"{x:.5f},{lo:.6g},{hi:.6g}" for x, lo, hi in rows) + "\n")
    print(out.read_text())


if __name__ == "__main__":
    main(*sys.argv[1:])
