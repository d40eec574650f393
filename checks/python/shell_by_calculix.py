"""Writes checks/shell_bending.csv: a starter hull's shell under landing load, by shell finite elements.

The outside of the hull is cut into frames each 6 mm. Each frame is resampled with its corners (keel flat, chine flat,
sheer) as nodes, so that edges run straight along the hull, and joined to four-sided shell elements whose middle is the
outline. Both ends are closed by plates without weight. It hangs free in the air: an upward force spread round one
frame, its own inertia pulling down in proportion to wall area (inertia relief). Solved by CalculiX (Debian package
calculix-ccx) twice: without anything inside, and with a bulkhead each ten frames, which keeps the frames' shape as
beam theory supposes.

Stations report the bending stress along x at the lowest and highest fibre, without bulkheads, and how far the sides,
chine to sheer, stand above the chord between two frames near the ends: there panels do not bend of their own.

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
FORCE, AT, STEP, END = 100.0, 0.25, 0.006, 3
# Elements of keel flat, bottom, chine flat, side and deck, each half.
EACH = (1, 12, 1, 6, 11)
HALF = sum(EACH)
ROUND = 2 * HALF
SIDE = range(sum(EACH[:3]), sum(EACH[:4]) + 1)


def half_frame(mesh, x):
    """From the keel up the port side to the deck's middle, corners kept."""
    lines = trimesh.intersections.mesh_plane(mesh, [1, 0, 0], [x, 0, 0])
    ring = max(trimesh.load_path(lines).discrete, key=len)[:-1, 1:]
    if (ring[:, 0] * np.roll(ring[:, 1], -1) - np.roll(ring[:, 0], -1) * ring[:, 1]).sum() < 0:
        ring = ring[::-1]
    before, after = ring - np.roll(ring, 1, 0), np.roll(ring, -1, 0) - ring
    turn = np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(1))
    corner = abs(np.degrees(turn)) > 15
    port = ring[:, 0] > 1e-9
    start = np.flatnonzero(port & ~np.roll(port, 1))[0]
    order = (start - 1 + np.arange(port.sum() + 2)) % len(ring)
    line, corner = ring[order].copy(), corner[order]
    for end, inner in ((0, 1), (-1, -2)):
        share = line[inner, 0] / (line[inner, 0] - line[end, 0])
        line[end] = line[inner] + share * (line[end] - line[inner])
    run = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    ends = [0, *run[1:-1][corner[1:-1]], run[-1]]
    if len(ends) != len(EACH) + 1:
        raise SystemExit(f"{len(ends) - 2} corners at x = {x} m")
    s = np.concatenate([np.linspace(a, b, n, endpoint=False) for a, b, n in zip(ends, ends[1:], EACH)] + [run[-1:]])
    return np.column_stack([np.interp(s, run, line[:, k]) for k in (0, 1)])


def frame(mesh, x):
    port = half_frame(mesh, x)
    ring = np.vstack([port, port[-2:0:-1] * [-1, 1]])
    return np.column_stack([np.full(ROUND, x), ring])


def plate(nodes, at):
    """Nodes and elements that close the frame that starts at node `at`: rings shrinking to its middle."""
    ring = nodes[at : at + ROUND]
    middle, new, quads, outer, count = ring.mean(0), [], [], np.arange(at, at + ROUND), len(nodes)
    for share in (0.75, 0.5, 0.25):
        inner = count + np.arange(ROUND)
        count += ROUND
        new.append(middle + share * (ring - middle))
        quads += [[outer[j], outer[j - 1], inner[j - 1], inner[j]] for j in range(ROUND)]
        outer = inner
    return np.vstack([nodes, *new, middle]), quads, [[outer[j], outer[j - 1], count] for j in range(ROUND)]


def solve(xs, nodes, quads, load, bulkheads):
    """Displacement of each node of the shell, stress along x in each of its elements."""
    held = ((0, "1,3"), ((len(xs) - 1) * ROUND, "2,3"), (SIDE[0], "3,3"))
    shell, plates, fans = len(nodes), [], []
    for i in bulkheads:
        nodes, more, fan = plate(nodes, i * ROUND)
        plates += more
        fans += fan
    lines = ["*NODE,NSET=ALL"] + [f"{i + 1},{q[0]:.9g},{q[1]:.9g},{q[2]:.9g}" for i, q in enumerate(nodes)]
    first = 1
    for kind, name, elements in (("S4", "SHELL", quads), ("S4", "PLATE", plates), ("S3", "PLATE", fans)):
        lines.append(f"*ELEMENT,TYPE={kind},ELSET={name}")
        lines += [f"{first + i}," + ",".join(str(n + 1) for n in e) for i, e in enumerate(elements)]
        first += len(elements)
    lines += ["*MATERIAL,NAME=P", "*ELASTIC", f"{E},{NU}"]
    for name in ("SHELL", "PLATE"):
        lines += [f"*SHELL SECTION,ELSET={name},MATERIAL=P", f"{WALL}"]
    lines += ["*BOUNDARY"] + [f"{node + 1},{of}" for node, of in held] + ["*STEP", "*STATIC", "*CLOAD"]
    lines += [f"{i + 1},3,{x:.9g}" for i, x in enumerate(load)]
    lines += ["*NODE PRINT,NSET=ALL", "U", "*EL PRINT,ELSET=SHELL", "S", "*END STEP"]
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job"
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
    return u[:shell].reshape(len(xs), ROUND, 3), np.array([np.mean(s[i]) for i in range(len(quads))])


def main(stl, out):
    mesh = trimesh.load(stl)
    mesh.apply_scale(1e-3)
    low, high = mesh.bounds[0][0] + 0.004, mesh.bounds[1][0] - 0.03
    xs = np.linspace(low, high, int((high - low) / STEP))
    nodes = np.vstack([frame(mesh, x) for x in xs])
    turn = np.arange(ROUND)
    quads = np.array([[i * ROUND + j, i * ROUND + k, (i + 1) * ROUND + k, (i + 1) * ROUND + j]
                      for i in range(len(xs) - 1) for j, k in zip(turn, np.roll(turn, -1))])
    p = nodes[quads]
    area = 0.5 * np.linalg.norm(np.cross(p[:, 2] - p[:, 0], p[:, 3] - p[:, 1]), axis=1)
    share = np.zeros(len(nodes))
    for n in range(4):
        np.add.at(share, quads[:, n], area / 4)
    share /= share.sum()
    middle = (share * nodes[:, 0]).sum()
    inertia = (share * (nodes[:, 0] - middle) ** 2).sum()
    loaded = int(np.argmin(abs(xs - AT)))
    at = xs[loaded]
    load = np.where(abs(nodes[:, 0] - at) < 2.5 * STEP, share, 0.0)
    load *= FORCE / load.sum()
    tip = (load * (nodes[:, 0] - middle)).sum()
    load = load - share * (FORCE + tip / inertia * (nodes[:, 0] - middle))

    a, b = END, len(xs) - 1 - END

    def bow(lift):
        return lift - lift[a] - (lift[b] - lift[a]) * (xs - xs[a]) / (xs[b] - xs[a])

    ends = [0, len(xs) - 1]
    moved, stress = solve(xs, nodes, quads, load, ends)
    framed, _ = solve(xs, nodes, quads, load, [*ends, *range(10, len(xs) - 1, 10)])
    side, stiff = (bow(u[:, SIDE, 2].mean(1)) for u in (moved, framed))
    keel, deck = (1e3 * bow(moved[:, j, 2])[loaded] for j in (0, HALF))
    centre, rows = p.mean(axis=1), []
    for i in range(6, len(xs) - 10, 6):
        ring = slice(i * ROUND, (i + 1) * ROUND)
        k, d = np.polyfit(centre[ring, 2], stress[ring], 1, w=np.sqrt(area[ring]))
        z = nodes[ring, 2]
        between = [0.5 * (y[i] + y[i + 1]) for y in (xs, stiff, side)]
        rows.append((between[0], k * z.min() + d, k * z.max() + d, between[1], between[2]))
    head = [
        f"millrace's hull as a shell of {WALL * 1e3} mm, its middle the outline, E {E / 1e9} GPa, Poisson {NU}: {FORCE} N up round the frame",
        f"at {at:.5f} m, its own inertia against it. CalculiX 2.20, {len(quads)} four-node shells from {xs[0]:.5f} to {xs[-1]:.5f} m, ends closed.",
        "Bending stress along x at the lowest and highest fibre, Pa (straight line through each frame). How far the sides stand",
        f"above the chord from {xs[a]:.5f} to {xs[b]:.5f} m: with a bulkhead each 60 mm, and without, m.",
        f"Without, the keel at the load stands {keel:.3f} mm above it and the deck {deck:.3f} mm: panels bend of their own.",
    ]
    text = "\n".join("# " + h for h in head) + "\nx_m,low,high,framed_m,bare_m\n"
    text += "\n".join(f"{x:.5f},{lo:.6g},{hi:.6g},{f:.5g},{s:.5g}" for x, lo, hi, f, s in rows) + "\n"
    Path(out).write_text(text)
    print(text)


if __name__ == "__main__":
    main(*sys.argv[1:])
