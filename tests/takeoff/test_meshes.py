"""The second count: trimesh measures the meshes and knows nothing of the formulas.

Volume by the divergence theorem, area and edges from the facets, mass by density: all from triangles alone.
"""

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from shapely import segmentize

from countersunk.model.geometry import solids
from countersunk.model.geometry.profile import section
from countersunk.model.kitchen import build
from countersunk.takeoff.measuring.registry import measured
from tests.lanes import some
from tests.random_kitchens.properties import drawn
from tests.random_kitchens.rooms import tapers
from tests.specimens import SOME_DEMOS, everything, open_kitchen

NEAR = 1e-4
"""Faces are summed in steps of 0.05 mm: relative."""


def mesh_of(part):
    vertices, faces = solids.mesh(part)
    return trimesh.Trimesh(vertices, faces, process=True)


def face_up(mesh, axis):
    """The triangles that look along ``axis``, as a mesh of their own."""
    chosen = np.flatnonzero(mesh.face_normals @ np.asarray(axis) > 0.999)
    return mesh.submesh([chosen], append=True)


def outline(mesh):
    """Length of the boundary of an open mesh: its edges that only one triangle has, mm."""
    edges = mesh.edges_sorted
    single = trimesh.grouping.group_rows(edges, require_count=1)
    ends = mesh.vertices[edges[single]]
    return float(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1).sum())


def check_boards(kitchen):
    shares = measured(kitchen)
    outlines = {s.id: s.amount for s in shares["board-outlines"]}
    for share in shares["board-area"]:
        part = kitchen.parts_by_id[share.id]
        mesh = mesh_of(part)
        assert mesh.is_watertight
        face = face_up(mesh, part.pose.z)
        assert float(face.area) == pytest.approx(share.amount, rel=1e-6), share.id
        if part.section is None:  # else a groove is taken out of it, which its mass below knows
            assert mesh.volume == pytest.approx(share.amount * part.thickness, rel=1e-6), share.id
            assert outline(face) == pytest.approx(outlines[share.id], rel=1e-6), share.id
    for share in shares["board-mass"]:
        density = kitchen.catalogue.boards[share.key].density
        volume = mesh_of(kitchen.parts_by_id[share.id]).volume
        assert volume * density * 1e-9 == pytest.approx(share.amount, rel=1e-6), share.id


def check_bands(kitchen):
    """Banded edges against the boundary of the mesh's upper face, told apart by the extents it lies on."""
    found = {}
    for share in measured(kitchen)["banded-edges"]:
        found[share.id] = found.get(share.id, 0.0) + share.amount
    for id_, amount in found.items():
        part = kitchen.parts_by_id[id_]
        lengths = by_side(face_up(mesh_of(part), part.pose.z), np.array([part.pose.x, part.pose.y]))
        assert sum(lengths.get(side, 0.0) for side in part.banded) == pytest.approx(amount, rel=1e-6), id_


def by_side(face, axes):
    """Length of the boundary of a face along each of its four extents, and inside them, mm."""
    edges = face.edges_sorted[trimesh.grouping.group_rows(face.edges_sorted, require_count=1)]
    ends = face.vertices[edges] @ axes.T
    low, high = ends.min(axis=(0, 1)), ends.max(axis=(0, 1))
    sides = {"front": (1, high), "back": (1, low), "left": (0, low), "right": (0, high)}
    lengths = {}
    for segment in ends:
        on = (name for name, (i, at) in sides.items() if np.abs(segment[:, i] - at[i]).max() < 1e-3)
        name = next(on, "inner")
        lengths[name] = lengths.get(name, 0.0) + float(np.linalg.norm(segment[0] - segment[1]))
    return lengths


def check_tops(kitchen):
    shares = measured(kitchen)
    masses = {s.id: s.amount for s in shares["worktop-mass"]}
    extents = {s.id: s.amount for s in shares["worktop-lengths"]}
    for length in kitchen.lengths:
        part, stock = length.part, length.run.stock
        mesh = mesh_of(part)
        assert mesh.is_watertight
        assert mesh.volume * stock.density * 1e-9 == pytest.approx(masses[part.id], rel=1e-6)
        extent = np.ptp(mesh.vertices @ np.array(part.pose.x))
        assert extent == pytest.approx(extents[part.id], rel=1e-6), part.id
        if stock.nose == 0:
            whole = sum(edge.length for edge in part.edges)
            face = face_up(mesh_of(replace(part, pockets=())), part.pose.z)  # the floor of a slot looks up too
            assert outline(face) == pytest.approx(whole, rel=1e-6)


def check_strips(kitchen):
    """Upstands and infills: mass from their meshes' volume, length from what the mesh measures along its part."""
    shares = measured(kitchen)
    density = {p.id: kitchen.catalogue.upstands[p.material].density for p in kitchen.parts if p.role == "upstand"}
    rows = {unit.key: run.stock.density for run in kitchen.runs for unit in run.units}
    density |= {p.id: rows[p.owner] for p in kitchen.parts if p.role == "infill"}
    masses = {s.id: s.amount for name in ("upstand-mass", "infill-mass") for s in shares[name]}
    assert set(masses) == set(density)
    for id_, mass in masses.items():
        assert mesh_of(kitchen.parts_by_id[id_]).volume * density[id_] * 1e-9 == pytest.approx(mass, rel=1e-6), id_
    for share in shares["upstands"]:
        part = kitchen.parts_by_id[share.id]
        assert np.ptp(mesh_of(part).vertices @ np.array(part.pose.x)) == pytest.approx(share.amount, rel=1e-6)


def check_trims(kitchen):
    """Plinths, cornices and pelmets: the longest edge of their meshes along the part."""
    shares = measured(kitchen)
    for share in (*shares["plinths"], *shares["wall-trims"]):
        part = kitchen.parts_by_id[share.id]
        extent = np.ptp(mesh_of(part).vertices @ np.array(part.pose.x))
        assert extent == pytest.approx(share.amount, rel=1e-6), share.id


def check_cut_faces(kitchen):
    """Raw edges of tops against the upright faces of the mesh that do not lie on an edge as it is bought."""
    raw = {s.id: s.amount for s in measured(kitchen)["raw-edges"]}
    for length in kitchen.lengths:
        part, stock = length.part, length.run.stock
        vertices, faces = solids.local_mesh(replace(part, pockets=()))  # slots are not edges
        mesh = trimesh.Trimesh(vertices, faces, process=True)
        y, bought = mesh.triangles_center[:, 1], [stock.depth, *([0.0] if stock.both_edges else [])]
        as_bought = np.any([np.abs(y - line) < 1e-6 for line in bought], axis=0)
        upright = mesh.area_faces[(np.abs(mesh.face_normals[:, 2]) < 1e-3) & ~as_bought].sum()
        cut = sum(raw.get(edge.id, 0.0) for edge in part.edges)
        if stock.core != "particleboard":  # nothing to seal
            assert cut == 0
            continue
        faces = [edge for edge in part.edges if edge.id in raw]
        assert cut == pytest.approx(sum(edge.length for edge in faces) * part.thickness, rel=1e-9)
        assert upright == pytest.approx(sum(_face(edge, part, stock) for edge in faces), rel=NEAR), part.id


def _face(edge, part, stock):
    """Area of the face of an edge, mm²: less high than the top where it runs in a nose or is scribed within one."""
    points = np.array(segmentize(edge.path, 0.05).coords)
    steps, y = np.linalg.norm(np.diff(points, axis=0), axis=1), (points[1:, 1] + points[:-1, 1]) / 2
    return float((steps * (_heights(part, stock, y) if stock.nose else part.thickness)).sum())


def _heights(part, stock, y):
    """How high a top is at places across it, mm, between the corners of its section above and below the middle."""
    corners = np.array(sorted(section(stock).exterior.coords))
    above = corners[:, 1] > part.thickness / 2
    return np.interp(y, *corners[above].T) - np.interp(y, *corners[~above].T)


CHECKS = (check_boards, check_bands, check_tops, check_cut_faces, check_strips, check_trims)


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
@pytest.mark.parametrize("check", CHECKS)
def test_demo(path, check):
    check(open_kitchen(path))


@pytest.mark.parametrize("check", CHECKS)
def test_a_kitchen_with_everything(check):
    check(build(everything()))


@pytest.mark.parametrize("seed", some(range(100), 25))
@pytest.mark.slow
def test_random_kitchens(seed):
    kitchen = drawn(tapers, seed)
    for check in CHECKS:
        check(kitchen)
