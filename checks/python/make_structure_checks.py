"""Writes the tables in checks/ that the structural laws and crate `making` are held against.

beam_cases.csv         each beam case, the beam equation solved by scipy's boundary-value solver
plate_solutions.csv    plates under even pressure by finite differences (biharmonic, two second-order steps)
lap_joints.csv         Volkersen's differential equation by scipy's boundary-value solver
narrow_rectangle_torsion.csv  exact series of the rectangle's torsion constant
section_properties.csv thin-walled outlines, some of them frames of the demonstration hulls, by the `sectionproperties`
                       library (finite elements)

Needs: pip install numpy scipy shapely trimesh sectionproperties==3.10.2
"""

import math
from pathlib import Path

import numpy as np
from scipy.integrate import solve_bvp
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import spsolve

OUT = Path(__file__).resolve().parent.parent


def write(name, first, header, rows):
    lines = [f"# {line}" for line in first] + [",".join(header)]
    lines += [",".join(f"{x:.9g}" if isinstance(x, float) else str(x) for x in row) for row in rows]
    (OUT / name).write_text("\n".join(lines) + "\n")
    print(name, len(rows))


def beams():
    """EI y'' = M, M'' = load; the point load as a narrow hump of the same area would be inexact, so the
    beam is cut in two at it and both halves are solved on one unit interval."""
    rows = []
    stiffness, length, load = 2.0, 0.5, 10.0

    def two(held, a):
        b = length - a

        def rhs(_, y):
            # per half: y, slope, moment, shear
            out = np.empty_like(y)
            for k, l in ((0, a), (4, b)):
                out[k] = l * y[k + 1]
                out[k + 1] = l * y[k + 2] / stiffness
                out[k + 2] = l * y[k + 3]
                out[k + 3] = 0.0
            return out

        def bc(p, q):
            ends = {
                "pinned": [p[0], p[2], q[4], q[6]],
                "cantilever": [p[0], p[1], q[6], q[7]],
                "clamped": [p[0], p[1], q[4], q[5]],
            }[held]
            join = [q[0] - p[4], q[1] - p[5], q[2] - p[6], p[7] - q[3] - load]
            return np.array(ends + join)

        x = np.linspace(0, 1, 41)
        s = solve_bvp(rhs, bc, x, np.zeros((8, x.size)), tol=1e-9, max_nodes=20000)
        fine = s.sol(np.linspace(0, 1, 20001))
        return max(abs(fine[2]).max(), abs(fine[6]).max()), max(abs(fine[0]).max(), abs(fine[4]).max())

    def even(held):
        def rhs(_, y):
            return np.vstack([y[1], y[2] / stiffness, y[3], np.full(y.shape[1], load / length)])

        def bc(p, q):
            return np.array({
                "pinned": [p[0], p[2], q[0], q[2]],
                "cantilever": [p[0], p[1], q[2], q[3]],
                "clamped": [p[0], p[1], q[0], q[1]],
            }[held])

        x = np.linspace(0, length, 41)
        s = solve_bvp(rhs, bc, x, np.zeros((4, x.size)), tol=1e-9, max_nodes=20000)
        fine = s.sol(np.linspace(0, length, 20001))
        return abs(fine[2]).max(), abs(fine[0]).max()

    for held in ("pinned", "cantilever", "clamped"):
        m, y = even(held)
        rows.append([held, 0.0, m, y])
        for share in (0.2, 0.35, 0.5, 0.8):
            m, y = two(held, share * length)
            rows.append([held, share * length, m, y])
    write("beam_cases.csv", ["beam of 0.5 m, E I = 2 N m2, 10 N in all; `at` 0 is spread evenly.",
          "DERIVED: the beam equation by scipy's solve_bvp"],
          ["held", "at_m", "moment_N_m", "deflection_m"], rows)


def plate(ratio, clamped, n):
    """Deflection over p b^4/D at the middle and the greatest moment over p b^2, Poisson 0.3."""
    nx, ny = int(round(n * ratio)), n
    h = 1.0 / ny

    def second(m):
        return diags([1, -2, 1], [-1, 0, 1], shape=(m, m)) / h**2

    def fourth(m):
        d = np.full(m, 6.0)
        d[0] = d[-1] = 7.0 if clamped else 5.0
        return diags([1, -4, d, -4, 1], [-2, -1, 0, 1, 2], shape=(m, m)) / h**4

    mx, my = nx - 1, ny - 1
    ix, iy = identity(mx), identity(my)
    a = kron(fourth(mx), iy) + 2 * kron(second(mx), second(my)) + kron(ix, fourth(my))
    w = spsolve(a.tocsc(), np.ones(mx * my)).reshape(mx, my)
    middle = w[mx // 2, my // 2]
    if clamped:
        # Edge moment: w'' = 2 w1 / h^2 by the mirrored point; second order by Richardson outside.
        moment = 2 * w[mx // 2, 0] / h**2
    else:
        i, j = mx // 2, my // 2
        wyy = (w[i, j - 1] - 2 * w[i, j] + w[i, j + 1]) / h**2
        wxx = (w[i - 1, j] - 2 * w[i, j] + w[i + 1, j]) / h**2
        moment = -(wyy + 0.3 * wxx)
    return middle, moment


def plates():
    rows = []
    for edges in ("pinned", "clamped"):
        for ratio in (1.0, 1.2, 1.4, 1.5, 1.6, 1.8, 2.0, 3.0):
            c, f = (np.array(plate(ratio, edges == "clamped", n)) for n in (40, 80))
            w, m = f + (f - c) / 3
            rows.append([edges, ratio, 6 * m, 12 * (1 - 0.09) * w])
    write("plate_solutions.csv", ["beta = stress t^2/(p b^2), alpha = deflection E t^3/(p b^4), Poisson 0.3.",
          "DERIVED: biharmonic equation by finite differences (40 and 80 steps, extrapolated)"],
          ["edges", "ratio", "beta", "alpha"], rows)


def laps():
    rows = []
    for overlap, wall, modulus, glue, shear in ((0.018, 0.0012, 2.5e9, 2e-4, 1e9), (0.01, 0.0014, 2.0e9, 3e-4, 4e8),
                                                (0.03, 0.0012, 2.5e9, 2e-4, 1e9), (0.005, 0.002, 2.2e9, 5e-4, 1e8)):
        force, width = 100.0, 0.05

        def rhs(_, y):
            # y0: force in the first wall; y1: shear in the glue. tau' = G/h (strain2 - strain1)
            strain1 = y[0] / (width * wall * modulus)
            strain2 = (force - y[0]) / (width * wall * modulus)
            return np.vstack([-width * y[1], shear / glue * (strain2 - strain1)])

        x = np.linspace(0, overlap, 201)
        s = solve_bvp(rhs, lambda p, q: np.array([p[0] - force, q[0]]), x,
                      np.vstack([force * (1 - x / overlap), np.full(x.size, force / width / overlap)]), tol=1e-8,
                      max_nodes=50000)
        tau = s.sol(np.linspace(0, overlap, 5001))[1]
        rows.append([overlap, wall, modulus, glue, shear, force / (width * overlap), float(tau.max())])
    write("lap_joints.csv", ["100 N over a width of 50 mm. DERIVED: Volkersen's equation by scipy's solve_bvp"],
          ["overlap_m", "wall_m", "modulus_Pa", "glue_m", "glue_shear_Pa", "mean_Pa", "peak_Pa"], rows)


def rectangles():
    rows = []
    for ratio in (10.0, 20.0, 50.0, 100.0):
        s = sum(math.tanh(n * math.pi * ratio / 2) / n**5 for n in range(1, 400, 2))
        rows.append([ratio, (1 - 192 / (math.pi**5 * ratio) * s) / 3])
    write("narrow_rectangle_torsion.csv", ["J / (width thickness^3) of a rectangle, Timoshenko and Goodier art. 109.",
          "DERIVED: exact series"], ["ratio", "constant"], rows)


OUTLINES = {
    # Outer outline, mm: y to port, z up.
    "box": [(-60, 0), (60, 0), (60, 50), (-60, 50)],
    "vee": [(0, 0), (70, 22), (75, 60), (0, 72), (-75, 60), (-70, 22)],
    "three-point": [(-45, 12), (45, 12), (60, 30), (85, 8), (125, 2), (125, 34), (60, 58), (-60, 58), (-125, 34),
                    (-125, 2), (-85, 8), (-60, 30)],
    "catamaran": [(40, 40), (55, 0), (100, 18), (105, 80), (-105, 80), (-100, 18), (-55, 0), (-40, 40)],
    "round": [(40 * math.cos(2 * math.pi * k / 72), 40 * math.sin(2 * math.pi * k / 72)) for k in range(72)],
}

HULLS = ("tadpole", "practice", "longshank", "millrace", "twin-thistle")
# Of the hull's length from its stern: there each of them is one outline.
FRAME = 0.4


def frame(hull):
    """The outline of a demonstration hull, mm."""
    import trimesh

    mesh = trimesh.load(OUT.parent / "examples" / hull / f"{hull}.stl")
    low, high = mesh.bounds[:, 0]
    (ring,) = mesh.section([1, 0, 0], [low + FRAME * (high - low), 0, 0]).discrete
    return [(float(y), float(z)) for _, y, z in ring[:-1]]


def sections():
    import shapely
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry

    rows, points = [], []
    for name, outline in (OUTLINES | {hull: frame(hull) for hull in HULLS}).items():
        for wall in (1.2, 2.0) if name in OUTLINES else (1.2,):
            for slot in ((False, True) if name in ("box", "round") else (False,)):
                outer = shapely.Polygon(outline)
                shell = outer.difference(outer.buffer(-wall, join_style="mitre", mitre_limit=10))
                if slot:
                    lid = max(y for _, y in outline)
                    shell = shell.difference(shapely.box(-1e3, lid - wall * 1.5, 1e3, lid + 1)) if name == "box" else \
                        shell.difference(shapely.box(-0.05, 0, 0.05, 100))
                geometry = Geometry(shell)
                geometry.create_mesh(mesh_sizes=[wall * wall / 3])
                s = Section(geometry)
                s.calculate_geometric_properties()
                s.calculate_warping_properties()
                area = s.get_area()
                cx, cy = s.get_c()
                ixx, iyy, ixy = s.get_ic()
                _, shear = s.get_as()
                # Nothing but round-off is left of what symmetry makes zero.
                cx, ixy = round(cx, 6) + 0.0, round(ixy, 6) + 0.0
                rows.append([name, "slit" if slot else "closed", wall, area, cx, cy, ixx, iyy, ixy, s.get_j(), shear])
    write("section_properties.csv", ["thin-walled outlines by sectionproperties 3.10.2 (finite elements), mm; wall inside",
          "the outline with mitred corners; a slit box has lost its lid and 1.5 walls, a slit tube 0.1 mm of arc.",
          "ixx about the horizontal axis (bending up and down), iyy about the vertical, j torsion, shear the area that a",
          f"force up and down shears (Poisson 0). Hulls of `examples` are cut at {FRAME} of their length from the stern."],
          ["outline", "kind", "wall", "area", "cy", "cz", "ixx", "iyy", "ixy", "j", "shear"], rows)
    for name, outline in OUTLINES.items():
        points += [[name, float(y), float(z)] for y, z in outline]
    write("section_outlines.csv", ["outlines of section_properties.csv, mm, counter-clockwise, y to port, z up"],
          ["outline", "y", "z"], points)


if __name__ == "__main__":
    beams()
    plates()
    laps()
    rectangles()
    sections()
