"""The photograph: where the camera stands, what is in view, edges, tones, a renderer that is missing or breaks."""

from __future__ import annotations

import math
import os
import time
from pathlib import Path

import numpy as np
import pytest
import trimesh
from PIL import Image
from shapely import MultiPoint, union_all
from shapely import box as rectangle

from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.solids import bounds
from countersunk.model.kitchen import build
from countersunk.viewer.photo import photo, tracer
from countersunk.viewer.photo.bevels import ARRIS, bevelled
from countersunk.viewer.photo.dressing import FROM_HOB, FROM_SINK
from countersunk.viewer.photo.setting import Setting, setting
from countersunk.viewer.photo.view import EYE, FILM, HALF_TALL, HALF_WIDE, LENS, Viewpoint, best_view, seen_kinds
from countersunk.viewer.scene.room import ARCHITRAVE, SKIRTING, room_items
from tests.specimens import DEMOS, SQUARE_ROOM, document, open_kitchen

CORNER = next(path for path in DEMOS if path.stem == "corner")
SMALL = (120, 75)


@pytest.fixture(scope="module")
def corner():
    kitchen = open_kitchen(CORNER)
    return kitchen, best_view(kitchen)


@pytest.fixture(scope="module")
def whole(corner):
    return setting(*corner)


def judged(kitchen, view):
    """Pixels of a small picture by what they show."""
    seen = seen_kinds(view, kitchen, SMALL)
    assert seen.get("nothing", 0) == 0, "the room has a hole"
    assert seen["front"] > 0.15 * SMALL[0] * SMALL[1]
    return seen


def test_the_first_view_shows_fronts_sink_and_hob_and_no_hole_in_the_room(corner):
    seen = judged(*corner)
    assert seen["sink"] > 10
    assert seen["hob"] > 10


@pytest.mark.slow
@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_every_demo_has_a_view_worth_printing(demo):
    kitchen = open_kitchen(demo)
    seen = judged(kitchen, best_view(kitchen))
    assert seen.get("sink", 0) + seen.get("hob", 0) > 10


def test_a_hole_in_the_room_is_noticed(corner):
    kitchen, view = corner
    away = Viewpoint(view.eye - 9_000.0 * view.forward, view.heading + math.pi, view.outline)
    assert seen_kinds(away, kitchen, SMALL) == {"nothing": SMALL[0] * SMALL[1]}


def test_uprights_are_upright_and_the_lens_is_one_for_rooms(corner):
    _, view = corner
    post = view.eye + 3_000.0 * view.forward + 800.0 * view.right
    foot, head = view.projected(np.array([[*post[:2], 100.0], [*post[:2], 2_300.0]]))
    assert foot[0] == pytest.approx(head[0], abs=1e-12)
    assert foot[1] < head[1]
    assert view.eye[2] == EYE
    assert 24.0 <= LENS <= 28.0
    assert 2 * math.degrees(math.atan(HALF_WIDE)) == pytest.approx(2 * math.degrees(math.atan(FILM / 2 / LENS)))


def test_ways_through_pixels_and_projection_agree(corner):
    _, view = corner
    ways = view.ways((16, 10)).reshape(10, 16, 3)
    across, up, _ = view.projected(view.eye + 2_000.0 * ways[2, 3])
    assert (across, up) == pytest.approx((3.5 / 16 * 2 - 1, 1 - 2.5 / 10 * 2))
    assert view.projected(view.eye + 1e3 * view.forward)[1] == pytest.approx(photo.SHIFT)
    wide, tall = HALF_WIDE, HALF_TALL
    assert wide / tall == pytest.approx(1.6)


def board(width, height, thick):
    outline = rectangle(0.0, 0.0, width, height)
    return Part(PartKey("b", Role.PANEL), Layer.CARCASS, "", outline, thick, Pose())


def test_a_bevelled_board_is_closed_and_has_the_volume_of_two_slopes_less():
    """A prism between two frusta, each by the rule for prismatoids, h/6 (A + 4 M + B) (Bronshtein, from memory)."""
    a, b, thick, s = 600.0, 400.0, 18.0, ARRIS
    surface = bevelled(board(a, b, thick))
    mesh = trimesh.Trimesh(surface.vertices, surface.faces)
    mesh.merge_vertices(merge_tex=True, merge_norm=True)
    slope = s / 6 * (a * b + 4 * (a - s) * (b - s) + (a - 2 * s) * (b - 2 * s))
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(a * b * (thick - 2 * s) + 2 * slope)


def test_what_is_thin_keeps_its_edges():
    surface = bevelled(board(600.0, 400.0, 3.0))
    assert trimesh.Trimesh(surface.vertices, surface.faces).volume == pytest.approx(600 * 400 * 3)


def test_tones_below_the_knee_are_plain_srgb_and_whites_keep_their_order():
    """IEC 61966-2-1: linear 0.5 is 188 of 255, 0.0031308 is 10.3 (from memory)."""
    light = np.array([[[0.5, 0.5, 0.5], [0.0031308] * 3, [0.2, 0.1, 0.05], [0.9] * 3, [4.0] * 3]], np.float32)
    shown = photo.toned(light)[0].astype(int)
    assert shown[0].tolist() == [188] * 3
    assert shown[1].tolist() == [10] * 3
    assert shown[2].tolist() == [124, 89, 63]
    assert shown[0, 0] < shown[3, 0] < shown[4, 0] < 256


def test_exposure_asks_what_falls_on_things_and_not_what_they_send_back():
    """Twice the light halves it; darker fronts in the same light leave it alone."""
    white, dark = np.full((9, 9, 3), 0.8, np.float32), np.full((9, 9, 3), 0.1, np.float32)
    assert photo.exposure(white * 2.0, white) == pytest.approx(photo.WHITE / 2.0)
    assert photo.exposure(dark * 2.0, dark) == pytest.approx(photo.WHITE / 2.0)


def test_the_room_is_closed_and_lit(corner, whole):
    kitchen, _ = corner
    shot = whole
    kinds = {item.kind for item in shot.items}
    assert {"ceiling", "floor", "wall", "skirting"} <= kinds
    assert not [i for i in shot.items if i.finish.name == "pane" and i.layer == "room"]
    assert {lamp.name for lamp in shot.lamps} == {"window", "soft", "hood"}
    assert shot.sun is not None
    assert shot.sun[2] < 0
    for lamp in shot.lamps:
        if lamp.view:
            wall = kitchen.survey.wall("A")
            assert np.cross(lamp.across, lamp.up) @ np.array(wall.frame.y) > 0, "a window shines into the room"


def test_dressing_keeps_clear_of_work_and_stands_on_tops(corner, whole):
    kitchen, _ = corner
    things = [item for item in whole.items if item.layer == "dressing"]
    assert {item.label for item in things} >= {"plant, not included", "bowl of fruit, not included"}
    tops = union_all([p.pose.plan_to_room(p.outline) for p in kitchen.parts if p.role is Role.WORKTOP])
    height = max(bounds(p)[5] for p in kitchen.parts if p.role is Role.WORKTOP)
    for item in things:
        foot = item.points[item.points[:, 2] < height + 130.0, :2]
        assert item.points[:, 2].min() > height - 0.5, item.label
        for part in kitchen.parts:
            if part.role in (Role.HOB, Role.SINK) and len(foot):
                low = bounds(part)
                clear = FROM_HOB if part.role is Role.HOB else FROM_SINK
                middle = MultiPoint(foot).convex_hull
                assert middle.distance(rectangle(low[0], low[1], low[3], low[4])) > clear - 1.0, item.label
                assert tops.buffer(1.0).contains(middle), item.label


def test_dressing_can_be_switched_off_and_the_sun_goes_down(corner):
    bare = setting(*corner, evening=True, dressed=False)
    assert not [item for item in bare.items if item.layer == "dressing"]
    assert bare.sun is None
    assert {lamp.name for lamp in bare.lamps} == {"window", "soft", "hood", "ceiling"}


def test_skirting_stops_at_doors():
    door = {"kind": "door", "wall": "C", "at": 1000.0, "width": 900.0, "head": 2000.0}
    room = build(document(room={"walls": SQUARE_ROOM, "openings": (door,)}))
    drawn = [i for i in room_items(room) if i.id.startswith("room.skirting.C")]
    high, _ = SKIRTING
    ends = sorted(float(x) for i in drawn for x in (np.ptp(i.surface.vertices[:, 0]),))
    length = room.survey.wall("C").length
    assert ends == pytest.approx(sorted([1000 - ARCHITRAVE[0], length - 1900 - ARCHITRAVE[0]]))
    assert {float(np.ptp(i.surface.vertices[:, 1])) for i in drawn} == {high}


@pytest.fixture
def shot(whole):
    return Setting(whole.items[:1], whole.lamps[:1], None, whole.view)


def renderer(monkeypatch, tmp_path, text):
    """A renderer that does what ``text`` says, found and run as the real one is."""
    script = tmp_path / "renderer.py"
    script.write_text(text)
    monkeypatch.setattr(tracer, "__file__", str(script))
    monkeypatch.setattr(photo, "find_spec", lambda _: True)


def test_a_missing_renderer_is_named_and_the_view_is_drawn_instead(monkeypatch, corner):
    monkeypatch.setattr(photo, "find_spec", lambda _: None)
    monkeypatch.setattr(photo, "setting", lambda *_, **__: None)
    monkeypatch.setattr(photo, "drawn", lambda *_: b"drawn")
    made = photo.photograph(corner[0])
    assert made.png == b"drawn"
    assert "mitsuba" in made.why_drawn
    assert "pip install 'countersunk[photo]'" in made.why_drawn


def test_a_renderer_that_ends_its_process_is_told_and_does_no_harm(monkeypatch, tmp_path, shot):
    renderer(monkeypatch, tmp_path, "import os; os.abort()")
    with pytest.raises(photo.PhotoError, match="the photograph was not made: the renderer ended with -6"):
        photo.traced(shot)


@pytest.mark.slow
def test_a_renderer_that_cannot_compile_is_followed_by_one_that_need_not(monkeypatch, tmp_path, shot):
    lines = [
        "import sys, numpy as np",
        "if sys.argv[2] != 'scalar_rgb': sys.exit('no library')",
        "for name in ('light', 'albedo'): np.save(f'{sys.argv[1]}/{name}.npy', np.full((5, 8, 3), .5, 'f4'))",
    ]
    renderer(monkeypatch, tmp_path, "\n".join(lines))
    monkeypatch.setattr(photo, "_ways", lambda: [("llvm_ad_rgb", "libLLVM.so.19"), ("scalar_rgb", "")])
    picture = tmp_path / "p.png"
    picture.write_bytes(photo.traced(shot))
    with Image.open(picture) as image:
        assert image.size == (8, 5)


def test_stopping_ends_the_renderer_and_leaves_nothing(monkeypatch, tmp_path, shot):
    lines = [
        "import os, sys, time, pathlib",
        f"pathlib.Path({str(tmp_path / 'told')!r}).write_text(f'{{os.getpid()}} {{sys.argv[1]}}')",
        "print('pass 1 5', flush=True)",
        "time.sleep(60)",
    ]
    renderer(monkeypatch, tmp_path, "\n".join(lines))

    def stop(text):
        assert "1 of 5" in text
        assert "s left" in text
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        photo.traced(shot, stop)
    process, folder = (tmp_path / "told").read_text().split()
    assert not Path(folder).exists()
    for _ in range(100):
        try:
            os.kill(int(process), 0)
        except ProcessLookupError:
            break
        time.sleep(0.05)
    else:
        pytest.fail("the renderer still runs")
