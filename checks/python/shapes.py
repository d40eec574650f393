"""Hull-like meshes with what a builder would export and the envelope it stands for.

`hulls()` gives, per name, (exported, envelope): trimesh objects in metres and boat axes
(origin at the transom's bottom edge on the centreline, x forward, y to port, z up). Both are
built here from the same sections, so the envelope owes nothing to the project's own repair,
joining or rim finding.
"""

import manifold3d
import numpy as np
import trimesh


def loft(sections):
    """Closed solid through rings of equal length, listed from aft forward."""
    rings = np.asarray(sections, dtype=float)
    count, size = rings.shape[:2]
    vertices = rings.reshape(-1, 3)
    faces = []
    for i in range(count - 1):
        for k in range(size):
            a, b = i * size + k, i * size + (k + 1) % size
            faces += [[a, b, a + size], [b, b + size, a + size]]
    last = (count - 1) * size
    for k in range(1, size - 1):
        faces += [[0, k + 1, k], [last, last + k, last + k + 1]]
    mesh = trimesh.Trimesh(vertices, faces, process=True)
    mesh.fix_normals()
    return mesh


def vee_sections(length, beam, depth, stations=25, sheer=0.0, inset=0.0, low=0.0):
    """Vee sections narrowing to a near-stem; `inset` moves every side inward, `low` up."""
    sections = []
    for i in range(stations):
        s = i / (stations - 1)
        x = inset + (length - 2 * inset) * s
        at = x / length
        fine = 1 - 0.95 * at**4
        half = beam / 2 * fine - inset
        keel = 0.6 * depth * at**4 + low
        top = depth + sheer * at**2
        chine = keel + 0.3 * (depth - keel)
        sections.append([
            [x, 0, keel], [x, 0.85 * half, chine], [x, half, top],
            [x, -half, top], [x, -0.85 * half, chine],
        ])
    return sections


def box(low, high):
    mesh = trimesh.creation.box(bounds=[low, high])
    return mesh


def manifold(mesh):
    solid = manifold3d.Manifold(manifold3d.Mesh64(
        np.asarray(mesh.vertices, dtype=np.float64), np.asarray(mesh.faces, dtype=np.uint64)))
    assert solid.status() == manifold3d.Error.NoError, solid.status()
    return solid


def mesh_of(solid):
    out = solid.to_mesh64()
    return trimesh.Trimesh(np.asarray(out.vert_properties)[:, :3], np.asarray(out.tri_verts),
                           process=True)


def hulls():
    vee = loft(vee_sections(0.6, 0.2, 0.09))
    made = {"vee": (vee, vee)}

    twin = manifold(box([0, -0.1, 0], [0.62, -0.055, 0.08])) + \
        manifold(box([0, 0.055, 0], [0.62, 0.1, 0.08])) + \
        manifold(box([0, -0.09, 0.05], [0.58, 0.09, 0.09]))
    cat = mesh_of(twin)
    made["catamaran"] = (cat, cat)

    inner = loft(vee_sections(0.6, 0.2, 0.086, inset=0.004, low=0.004))
    inner.invert()
    made["hollow_shell"] = (trimesh.util.concatenate([vee, inner]), vee)

    rising = loft(vee_sections(0.6, 0.2, 0.09, sheer=0.02))
    well = loft(vee_sections(0.6, 0.2, 0.09, sheer=0.02, inset=0.003, low=0.003))
    upward = well.copy()
    upward.vertices[:, 2] += np.where(upward.vertices[:, 2] > 0.0895, 0.01, 0.0)
    made["open_shell"] = (mesh_of(manifold(rising) - manifold(upward)), rising)

    flat = np.abs(vee.triangles[:, :, 2] - 0.09).max(axis=1) < 1e-9
    skin = vee.copy()
    skin.update_faces(~flat)
    made["open_skin"] = (skin, vee)

    tub = box([0, -0.06, 0], [0.5, 0.06, 0.07])
    nose = loft([[[x, w, z] for w, z in
                  [(-h, 0.01 + 0.03 * s), (h, 0.01 + 0.03 * s), (h, 0.06), (-h, 0.06)]]
                 for s, x, h in [(0, 0.45, 0.05), (0.5, 0.55, 0.04), (1, 0.65, 0.015)]])
    whole = mesh_of(manifold(tub) + manifold(nose))
    made["overlapping_bodies"] = (trimesh.util.concatenate([tub, nose]), whole)

    egg = trimesh.creation.icosphere(subdivisions=3, radius=0.5)
    egg.apply_scale([0.6, 0.2, 0.12])
    egg = mesh_of(manifold(egg).trim_by_plane([1, 0, 0], -0.25))
    stern = egg.vertices[egg.vertices[:, 0] < egg.bounds[0][0] + 1e-9]
    egg.apply_translation([-egg.bounds[0][0], 0, -stern[:, 2].min()])
    made["ellipsoid"] = (egg, egg)
    return made
