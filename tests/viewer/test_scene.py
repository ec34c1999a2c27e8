"""The scene: one node for each part, in its place, the right way round, and everything said about it."""

from __future__ import annotations

import io
import json
import struct

import numpy as np
import pytest
import trimesh
from shapely import Point, Polygon

from countersunk.model.edit.edits import edited
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.solids import bounds, volume
from countersunk.model.kitchen import build
from countersunk.model.survey import survey_room
from countersunk.viewer.scene.materials import PALETTE, Finish, darker, decor_finish, finish_of, linear
from countersunk.viewer.scene.room import WALL, room_items
from countersunk.viewer.scene.scene import items, part_label, scene
from countersunk.viewer.scene.surface import is_mirrored, placing, surface_of
from countersunk.viewer.scene.textures import FIGURES, PIXELS, jpeg, pixels
from tests.lanes import some
from tests.specimens import CORNER_DEMO, DEMOS, SOME_DEMOS, cornered, document, open_kitchen


@pytest.fixture(scope="module", params=some(SOME_DEMOS, 3), ids=lambda path: path.stem)
def kitchen(request):
    return open_kitchen(request.param)


@pytest.fixture(scope="module")
def file(kitchen):
    return scene(kitchen).glb


def header(file):
    """The JSON of a GLB."""
    assert file[:4] == b"glTF"
    (length,) = struct.unpack_from("<I", file, 12)
    return json.loads(file[20 : 20 + length])


def reloaded(file):
    return trimesh.load_scene(io.BytesIO(file), file_type="glb")


def meshes_by_part(loaded):
    """Each part's mesh in glTF axes, by the id in the node's extras."""
    return {extras_of(loaded, node)["part"]: placed(loaded, node) for node in loaded.graph.nodes_geometry}


def extras_of(loaded, node):
    parent = loaded.graph.transforms.parents[node]
    return loaded.graph.transforms.edge_data[parent, node]["metadata"]


def placed(loaded, node):
    matrix, name = loaded.graph[node]
    return loaded.geometry[name].copy().apply_transform(matrix)


def test_every_part_has_exactly_one_node_with_its_extras(kitchen, file):
    nodes = [node for node in header(file)["nodes"] if "mesh" in node]
    extras = {node["extras"]["part"]: node["extras"] for node in nodes}
    assert len(extras) == len(nodes)
    for part in kitchen.parts:
        named = {
            "part": part.id,
            "kind": part.role.value,
            "layer": part.layer.value,
            "label": part_label(part, kitchen),
            "owner": part.called,
            "mark": part.mark,
        }
        assert named.items() <= extras[part.id].items()
        assert set(extras[part.id]) - set(named) <= {"wall", "level", "decor", "tile", "opens", "apart"}
    others = [e["layer"] for e in extras.values() if e["part"] not in kitchen.parts_by_id]
    assert others.count("joins") == sum(join.bolts + join.biscuits for join in kitchen.joins)
    assert set(others) <= {"room", "joins"}


def test_bounds_of_the_file_are_those_of_the_model_in_metres(kitchen, file):
    meshes = meshes_by_part(reloaded(file))
    boxes = np.array([bounds(part) for part in kitchen.parts])
    found = np.array([meshes[part.id].bounds for part in kitchen.parts])
    low = np.column_stack([boxes[:, 0], boxes[:, 2], -boxes[:, 4]]) / 1000
    high = np.column_stack([boxes[:, 3], boxes[:, 5], -boxes[:, 1]]) / 1000
    np.testing.assert_allclose(found[:, 0], low, atol=2e-6)
    np.testing.assert_allclose(found[:, 1], high, atol=2e-6)


def test_volumes_of_the_file_are_those_of_the_model_and_positive(kitchen, file):
    """A mesh turned inside out would have a volume below zero."""
    meshes = meshes_by_part(reloaded(file))
    expected = [volume(part) / 1e9 for part in kitchen.parts]
    np.testing.assert_allclose([meshes[p.id].volume for p in kitchen.parts], expected, rtol=1e-5)
    assert min(mesh.volume for mesh in meshes.values()) > 0


def test_no_node_mirrors_its_mesh(file):
    matrices = [np.array(n["matrix"]).reshape(4, 4).T for n in header(file)["nodes"] if "matrix" in n]
    assert min(np.linalg.det(m[:3, :3]) for m in matrices) > 0


def test_the_items_are_in_the_room_frame(kitchen):
    points = np.concatenate([item.points for item in items(kitchen)])
    low, high = points.min(axis=0), points.max(axis=0)
    parts = np.array([bounds(part) for part in kitchen.parts])
    assert high[2] == pytest.approx(kitchen.survey.height)
    assert (low <= parts[:, :3].min(axis=0) + 1e-6).all()
    assert (high >= parts[:, 3:].max(axis=0) - 1e-6).all()


def test_the_file_is_small_and_always_the_same(kitchen, file):
    assert len(file) < 1_000_000
    assert scene(kitchen).glb == file


def test_textures_travel_as_jpeg_and_colours_are_linear(file):
    tree = header(file)
    assert {image["mimeType"] for image in tree["images"]} == {"image/jpeg"}
    colours = {m["name"]: m["pbrMetallicRoughness"]["baseColorFactor"] for m in tree["materials"]}
    assert colours["wall"] == pytest.approx([*linear(np.array([0xEE, 0xEC, 0xE8]) / 255), 1.0], rel=1e-6)


L_SHAPE = [(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (100.0, 100.0), (100.0, 200.0), (0.0, 200.0)]


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_left_handed_frame_does_not_turn_a_mesh_inside_out(hand):
    y = (0.0, 1.0, 0.0) if hand == "right" else (0.0, -1.0, 0.0)
    pose = Pose((10.0, 20.0, 30.0), (1.0, 0.0, 0.0), y, (0.0, 0.0, 1.0))
    part = Part(PartKey("p", Role.SIDE), Layer.CARCASS, "pb18", Polygon(L_SHAPE), 18.0, pose)
    surface = surface_of(part)
    mesh = trimesh.Trimesh(surface.vertices, surface.faces, process=False).apply_transform(placing(pose))
    assert is_mirrored(pose) == (hand == "left")
    assert np.linalg.det(placing(pose)[:3, :3]) == pytest.approx(1.0)
    assert mesh.volume == pytest.approx(40_000 * 18.0)
    assert tuple(mesh.bounds.ravel()) == pytest.approx(bounds(part))
    turned = surface.normals[surface.faces].mean(axis=1)
    facing = trimesh.Trimesh(surface.vertices, surface.faces, process=False).face_normals
    assert (turned * facing).sum(axis=1).min() == pytest.approx(1.0)


def test_parts_of_one_shape_share_one_surface():
    kitchen = open_kitchen(CORNER_DEMO)
    legs = [item.surface for item in items(kitchen) if item.kind == "leg"]
    assert len({id(surface) for surface in legs}) == 1
    assert len(json.loads(scene(kitchen).tree)["meshes"]) < len(items(kitchen)) / 2


def test_an_edit_makes_only_those_pieces_anew_that_it_changes():
    before = open_kitchen(next(path for path in DEMOS if path.stem == "corner")).document
    after = edited(before, {"worktop.overhang.ends": before.worktop.overhang.ends + 7.0})
    known, pieces = ({piece.name: piece for piece in scene(build(d)).pieces} for d in (before, after))
    new = set(pieces) - set(known)
    assert 0 < len(new) < len(pieces) / 8
    assert all(pieces[name] is known[name] for name in set(pieces) & set(known))


def test_round_things_are_smooth_and_boards_crisp():
    disc = Part(PartKey("p", Role.LEG), Layer.HARDWARE, "leg", Point(0, 0).buffer(20.0, 16), 100.0, Pose())
    sides = surface_of(disc).normals
    assert set(np.rint(np.abs(sides[:, 2]) * 1e6)) == {0, 1e6}
    board = surface_of(Part(PartKey("p", Role.SIDE), Layer.CARCASS, "b", Point(0, 0).buffer(20.0, 1), 18.0, Pose()))
    assert len(board.vertices) == 24


def test_texture_runs_along_the_length_in_real_size_and_over_the_front_edge():
    kitchen = open_kitchen(CORNER_DEMO)
    top = kitchen.lengths[0].part
    surface = surface_of(top)
    flat = (surface.normals[:, 2] > 0.999) & (surface.vertices[:, 2] > top.thickness - 0.01)
    u, v = surface.uv[flat].T
    assert np.ptp(u) == pytest.approx(top.length)
    assert np.ptp(v) == pytest.approx(np.ptp(surface.vertices[flat][:, 1]))
    front = np.abs(surface.vertices[:, 1]) > top.depth - 0.01
    below = surface.uv[front & (np.abs(surface.normals[:, 1]) > 0.9)][:, 1]
    nose = kitchen.lengths[0].run.stock.nose
    assert v.max() <= below.min() <= v.max() + 2 * nose
    assert np.ptp(below) <= top.thickness


def test_walls_stand_outside_the_room_and_say_where_inward_is():
    kitchen = open_kitchen(CORNER_DEMO)
    room = kitchen.survey.outline.buffer(-0.01)
    for item in room_items(kitchen):
        if item.kind != "wall":
            continue
        assert not any(room.contains(Point(p[:2])) for p in item.points)
        x, y, z = item.more["inward"]
        assert np.hypot(x, z) == pytest.approx(1.0)
        assert y == 0.0
        foot = kitchen.survey.wall(item.more["wall"]).line.centroid
        assert kitchen.survey.outline.contains(Point(foot.x + 10 * x, foot.y - 10 * z))


def test_openings_are_really_cut_out():
    kitchen = open_kitchen(CORNER_DEMO)
    wall = next(i for i in room_items(kitchen) if i.id == "room.wall.A")
    surveyed = kitchen.survey.wall("A")
    window = next(o for o in kitchen.survey.openings if o.wall == "A")
    mesh = trimesh.Trimesh(wall.points, wall.surface.faces)
    before, after = kitchen.survey.previous_wall(surveyed).corner, surveyed.corner
    mitres = sum(WALL / np.tan(np.radians(c / 2)) / 2 for c in (before, after))
    whole = (surveyed.length + mitres) * kitchen.survey.height
    expected = (whole - window.width * (window.head - window.sill)) * WALL
    assert mesh.volume == pytest.approx(expected, rel=1e-9)


def test_a_door_up_to_the_ceiling_parts_its_wall():
    room = {
        "walls": [{"name": n, "length": 3000.0, "corner": 90.0} for n in "ABCD"],
        "openings": [{"kind": "passage", "wall": "C", "at": 1000.0, "width": 900.0, "head": 2400.0}],
    }
    kitchen = build(document(room=json_tuple(room)))
    wall = next(i for i in room_items(kitchen) if i.id == "room.wall.C")
    assert len(trimesh.Trimesh(wall.surface.vertices, wall.surface.faces).split()) == 2


@pytest.mark.parametrize("kind", ["door", "window", "passage"])
def test_openings_of_any_size_are_shown(kind):
    """The whole wall, and one too small for a frame."""
    room = {
        "walls": [{"name": n, "length": 3000.0, "corner": 90.0} for n in "ABCD"],
        "openings": [
            {"kind": kind, "wall": "C", "at": 0.0, "width": 3000.0, "head": 2400.0},
            {"kind": kind, "wall": "D", "at": 0.0, "width": 200.0, "sill": 299.0, "head": 300.0},
        ],
    }
    kitchen = build(document(room=json_tuple(room)))
    shown = {i.more.get("wall") for i in room_items(kitchen) if i.kind == "wall"}
    assert shown == {"A", "B", "D"}
    assert all(trimesh.Trimesh(i.points, i.surface.faces).volume > 0 for i in room_items(kitchen))


def json_tuple(room):
    """Lists as the tuples that the strict schema wants."""
    return {key: tuple(value) for key, value in room.items()}


def test_an_open_survey_gets_a_floor_under_everything():
    kitchen = build(cornered(91.2))
    assert survey_room(kitchen.document.room).outline is None
    low, high = (f(next(room_items(kitchen)).points, axis=0) for f in (np.min, np.max))
    boxes = np.array([bounds(part) for part in kitchen.parts])
    assert (low[:2] < boxes[:, :2].min(axis=0)).all()
    assert (high[:2] > boxes[:, 3:5].max(axis=0)).all()
    assert scene(kitchen).glb


def test_nothing_of_a_cut_room_stands_above_the_cut():
    kitchen = open_kitchen(CORNER_DEMO)
    assert max(item.points[:, 2].max() for item in room_items(kitchen, 1500.0)) == pytest.approx(1500.0)


@pytest.mark.parametrize(
    ("part", "label"),
    [
        ("B3.side.left", "side panel of B3, 18 mm"),
        ("A3.appliance.body", "body of A3, integrated dishwasher"),
        ("A5.drawer-front.2", "drawer front of A5, 18 mm"),
        ("A5.handle.drawer.2", "handle of A5"),
        ("sink.tap.post", "tap of sink"),
        ("hob.zone.2", "cooking zone of hob"),
        ("T2", "worktop T2, 1905 × 600 × 38 mm, pale oak"),
    ],
)
def test_labels_are_plain(part, label):
    kitchen = open_kitchen(next(p for p in DEMOS if p.stem == "corner"))
    assert part_label(kitchen.parts_by_mark[part], kitchen) == label


def test_finishes_follow_the_decors(kitchen):
    fronts = kitchen.catalogue.decors[kitchen.document.fronts.decor]
    by_role = {part.role: finish_of(part, kitchen) for part in kitchen.parts}
    assert by_role["door"] == decor_finish(fronts)
    assert by_role["plinth"].colour == darker(fronts.colour, 0.72)
    assert by_role["worktop"].textured
    sides = {p.material: finish_of(p, kitchen) for p in kitchen.parts if p.role == "side"}
    faced = kitchen.catalogue.unit_boards.front.code
    assert sides.pop(faced, decor_finish(fronts)) == decor_finish(fronts)
    assert set(sides.values()) == {PALETTE["carcass"]}


@pytest.mark.parametrize("figure", FIGURES)
def test_textures_are_the_same_each_time_and_repeat_without_a_seam(figure):
    image = pixels(figure, "#c9ab7f", "#a98657").astype(float)
    assert image.shape == (*PIXELS[figure][::-1], 3)
    assert image.std() > 1.0
    assert jpeg(figure, "#c9ab7f", "#a98657")[:3] == b"\xff\xd8\xff"
    for axis in (0, 1):
        steps = np.abs(np.diff(image, axis=axis)).mean(axis=(1 - axis, 2))
        seam = np.abs(np.take(image, 0, axis) - np.take(image, -1, axis)).mean()
        assert seam <= steps.max() * 1.05


def test_a_texture_carries_its_colour_alone():
    assert Finish("decor x", "#102030", figure="wood", vein="#203040").linear == (1.0, 1.0, 1.0, 1.0)
