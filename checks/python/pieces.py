"""Whether pieces written by the program go together, by libraries it does not use.

    python pieces.py PROGRAM

Cuts the demonstration hulls and builders' meshes of each kind (solid outside, closed shell, shell open at the top, skin
without thickness, two bodies that overlap, several files) and reads the 3MF files with the Python library alone. Each
piece is closed and manifold, stands on the bed within it, shares no material with another and meets it with the
stated gap; cut without joints, the pieces' volumes add up to the hull's within 0.1 %; no cut lies within 50 mm ahead
of a running surface's trailing edge. A hull of 100 000 triangles takes under 10 s and 500 MB.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import manifold3d
import numpy as np
import trimesh

ROOT = Path(__file__).resolve().parents[2]
MESHES = ROOT / "crates/form/tests/meshes"
DEMOS = ("tadpole", "practice", "longshank", "millrace", "twin-thistle")
# Each with the type of hull where the shape leaves it open.
BUILDERS = {
    "solid outside": ("vee.stl", None),
    "catamaran": ("catamaran.stl", None),
    "closed shell": ("hollow_shell.stl", None),
    "open shell": ("open_shell.stl", None),
    "open skin": ("open_skin.stl", None),
    "overlapping bodies": ("overlapping_bodies.stl", "vee"),
}
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
SLOW_S, HEAVY_KB = 10.0, 500_000
TRAILING_EDGE_MM = 50.0


def run(program, *words):
    done = subprocess.run([program, *map(str, words)], capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{' '.join(map(str, words))}: {done.stderr}")
    return done.stdout


def objects(path):
    """Meshes of a 3MF file, mm, exactly as written."""
    with zipfile.ZipFile(path) as archive:
        (name,) = [n for n in archive.namelist() if n.endswith(".model")]
        root = ElementTree.fromstring(archive.read(name))
    if root.get("unit", "millimeter") != "millimeter":
        raise SystemExit(f"{path}: unit {root.get('unit')}")
    found = []
    for mesh in root.iter(f"{CORE}mesh"):
        corners = [[float(v.get(k)) for k in "xyz"] for v in mesh.iter(f"{CORE}vertex")]
        faces = [[int(t.get(k)) for k in ("v1", "v2", "v3")] for t in mesh.iter(f"{CORE}triangle")]
        found.append(trimesh.Trimesh(corners, faces, process=False))
    return found


def solid(mesh):
    made = manifold3d.Manifold(manifold3d.Mesh(np.asarray(mesh.vertices, np.float32), np.asarray(mesh.faces, np.uint32)))
    if made.status() != manifold3d.Error.NoError:
        raise SystemExit(f"no manifold: {made.status()}")
    return made


def closed(mesh, what):
    """Each edge has two faces that run along it in opposite directions, and the inside is inside."""
    edges = mesh.edges
    each = np.sort(edges, axis=1)
    _, count = np.unique(each, axis=0, return_counts=True)
    ways = np.unique(edges, axis=0)
    assert (count == 2).all() and len(ways) == len(edges), f"{what}: not closed or not manifold"
    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.volume > 0, what


def standing(folder, told, what):
    """Each piece on the bed as it was told."""
    bed = [b["value"] for b in told["bed"]]
    for piece in told["pieces"]:
        (mesh,) = objects(folder / f"{piece['name'].replace(' ', '-')}.3mf")
        closed(mesh, f"{what}, {piece['name']}")
        low, high = mesh.bounds
        size = high - low
        assert (size <= np.array(bed) + 1e-3).all(), f"{what}, {piece['name']}: {size} mm"
        assert np.allclose(size, [s["value"] for s in piece["size"]], atol=0.01), what
        assert abs(low[2]) < 1e-3 and (abs(low + high)[:2] < 1e-3).all(), f"{what}, {piece['name']}: {low} {high}"


def in_place(folder, told, gap, what):
    """Nothing lies in two pieces, and a lap keeps its gap."""
    whole = objects(folder / "whole.3mf")
    assert len(whole) == len(told["pieces"]), what
    solids = [solid(m) for m in whole]
    for m in whole:
        closed(m, what)
    for i, a in enumerate(solids):
        for b in solids[:i]:
            assert (a ^ b).volume() < 1e-2, f"{what}: pieces share {(a ^ b).volume()} mm3"
    laps = [j for j in told["joints"] if j["kind"] == "lap" and j["across"] == "x"]
    for joint in laps:
        at = joint["at"]["value"]
        behind = [m for m in whole if m.bounds[0][0] < at - 1 and at + 1 < m.bounds[1][0]]
        ahead = [m for m in whole if abs(m.bounds[0][0] - at) < 0.01]
        assert behind and ahead, f"{what}: no spigot reaches past {at} mm"
        for spigot in behind:
            points, _ = trimesh.sample.sample_surface(spigot, 20_000, seed=1)
            points = points[points[:, 0] > at + 0.5]
            for other in ahead:
                _, away, _ = trimesh.proximity.closest_point(other, points)
                assert gap - 0.005 < away.min() < gap + 0.05, f"{what}: gap {away.min():.3f} mm, not {gap}"
    return len(laps)


def adds_up(program, boat, told, what, scratch):
    """Cut at the same planes with nothing added, the pieces are the hull: the file's own volume where it is closed."""
    copy = scratch / "butt"
    subprocess.run(["cp", "-r", boat, copy], check=True)
    text = (copy / "boat.toml").read_text()
    for joint in told["joints"]:
        text += f"\n[[cut]]\nacross = \"{joint['across']}\"\nat = \"{joint['at']['value']} mm\"\njoint = \"butt\"\n"
    (copy / "boat.toml").write_text(text)
    run(program, "pieces", copy, "--into", scratch / "bare")
    sum_mm3 = sum(m.volume for m in objects(scratch / "bare/whole.3mf"))
    files = sorted(boat.glob("*.stl"))
    # Bodies may overlap, in one file or in several: what counts is the material they share out.
    bodies = [b for f in files for b in trimesh.load(f).split(only_watertight=False)]
    if not all(b.is_watertight for b in bodies):
        return None
    cavities = [b for b in bodies if b.volume < 0]
    outside = manifold3d.Manifold.batch_boolean([solid(b) for b in bodies if b.volume > 0], manifold3d.OpType.Add)
    hull = outside.volume() + sum(c.volume for c in cavities)
    assert abs(sum_mm3 / hull - 1) < 1e-3, f"{what}: pieces {sum_mm3} mm3, hull {hull} mm3"
    return sum_mm3 / hull - 1


def edges_kept(program, boat, told, what):
    hull = json.loads(run(program, "hull", boat, "--json"))
    for surface in hull["running_surfaces"]:
        edge = surface["trailing_edge"]["x"]["value"]
        for joint in told["joints"]:
            if joint["across"] == "x":
                ahead = joint["at"]["value"] - edge
                assert not 0 <= ahead < TRAILING_EDGE_MM, f"{what}: cut {ahead} mm ahead of {surface['surface']}"


def whole(program, boat, what, gap=0.2):
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        told = json.loads(run(program, "pieces", boat, "--into", scratch / "pieces", "--json"))
        standing(scratch / "pieces", told, what)
        laps = in_place(scratch / "pieces", told, gap, what)
        edges_kept(program, boat, told, what)
        off = adds_up(program, boat, told, what, scratch)
    kinds = ", ".join(f"{j['kind']} at {j['across']} {j['at']['value']:.0f}" for j in told["joints"])
    volume = "skin without thickness" if off is None else f"volume off {1e6 * off:.1f} millionths"
    print(f"{what}: {len(told['pieces'])} pieces; {kinds}; {laps} gaps; {volume}")


def built(program, scratch, name, files, hull_type=None):
    folder = scratch / name.replace(" ", "-")
    extra = ["--hull", hull_type] if hull_type else []
    run(program, "new", folder, "--mesh", files[0], *extra)
    if len(files) > 1:
        for file in files[1:]:
            (folder / file.name).write_bytes(file.read_bytes())
        text = (folder / "boat.toml").read_text()
        names = ", ".join(f'"{f.name}"' for f in files)
        (folder / "boat.toml").write_text(text.replace(f'file = "{files[0].name}"', f"files = [{names}]"))
    return folder


def large(program, scratch):
    mesh = trimesh.load(ROOT / "examples/millrace/millrace.stl").subdivide().subdivide()
    mesh.export(scratch / "large.stl")
    boat = built(program, scratch, "large", [scratch / "large.stl"])
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss, time.monotonic()
    run(program, "pieces", boat, "--into", scratch / "large-pieces")
    took = time.monotonic() - began
    most = max(before, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
    print(f"{len(mesh.faces)} triangles: {took:.1f} s, {most / 1e3:.0f} MB at most")
    assert took < SLOW_S and most < HEAVY_KB


def main(program):
    for name in DEMOS:
        whole(program, ROOT / "examples" / name, name)
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        for name, (file, hull_type) in BUILDERS.items():
            whole(program, built(program, scratch, name, [MESHES / file], hull_type), name)
        # The two bodies as a file each.
        bodies = trimesh.load(MESHES / "overlapping_bodies.stl").split()
        files = [scratch / f"body-{i}.stl" for i in range(len(bodies))]
        for file, body in zip(files, bodies):
            body.export(file)
        whole(program, built(program, scratch, "several files", files, "vee"), "several files")
        large(program, scratch)


if __name__ == "__main__":
    main(str(Path(sys.argv[1]).resolve()))
