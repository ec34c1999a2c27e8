"""Stills: where the camera stands, what light reaches, and pictures that show something."""

from __future__ import annotations

import ctypes
import math
import subprocess
import sys

import numpy as np
import pytest
from PIL import Image

from countersunk import shared
from countersunk.model.errors import CountersunkError
from countersunk.viewer.stills import stills
from countersunk.viewer.stills.cameras import ANGLE, SIZE, pictures, three_quarter
from countersunk.viewer.stills.shadows import DepthMap, directions, smoothed, visibility
from tests.specimens import FEW_DEMOS, open_kitchen

CORNER = shared.KITCHENS / "corner.yaml"

RENDER = """
import sys
from pathlib import Path
from countersunk.model.kitchen import open_kitchen
from countersunk.viewer.stills.stills import render_stills
done = []
size = int(sys.argv[3]), int(sys.argv[4])
for name, data in render_stills(open_kitchen(Path(sys.argv[1])), done.append, size).items():
    (Path(sys.argv[2]) / name).write_bytes(data)
    print(name)
assert done == ["view", "plan", "wall-A", "wall-B"], done
"""


@pytest.fixture(scope="module")
def rendered(tmp_path_factory):
    """The corner demo's stills, made in a process of its own; where there is no off-screen GL, skipped."""
    folder = tmp_path_factory.mktemp("stills")
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", RENDER, str(CORNER), str(folder), *map(str, SIZE)],
        cwd=shared.FOLDER.parent,
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    if "StillsError" in done.stderr:
        pytest.skip(done.stderr.splitlines()[-1])
    assert done.returncode == 0, done.stderr
    return folder, done


@pytest.mark.slow
def test_rendering_says_nothing_on_stderr(rendered):
    _, done = rendered
    assert done.stderr == ""
    assert done.stdout.split() == ["view.png", "plan.png", "wall-A.png", "wall-B.png"]


@pytest.mark.slow
@pytest.mark.parametrize("name", ["view", "plan", "wall-A", "wall-B"])
def test_pictures_have_the_size_and_are_neither_blank_nor_blown_out(rendered, name):
    folder, _ = rendered
    with Image.open(folder / f"{name}.png") as image:
        assert image.size == SIZE
        pixels = np.asarray(image.convert("RGB"))
    colours = np.unique((pixels // 16).astype(int) @ (256, 16, 1))
    assert len(colours) > 40
    assert (pixels >= 254).all(axis=2).mean() < 0.02
    assert 90 < pixels.mean() < 225


@pytest.mark.slow
def test_nothing_half_written_stays_behind(rendered):
    folder, _ = rendered
    assert sorted(p.name for p in folder.iterdir()) == ["plan.png", "view.png", "wall-A.png", "wall-B.png"]


@pytest.mark.parametrize("demo", FEW_DEMOS, ids=lambda path: path.stem)
def test_the_view_shows_the_whole_kitchen_and_leaves_out_walls_in_the_way(demo):
    kitchen = open_kitchen(demo)
    picture = three_quarter(kitchen)
    camera = picture.camera
    points = np.concatenate([i.points for i in picture.items if i.layer != "room"]) - camera.eye
    ahead = points @ camera.forward
    assert ahead.min() > 0
    tall = math.tan(math.radians(ANGLE / 2))
    assert np.abs(points @ camera.up / ahead).max() <= tall
    assert np.abs(points @ camera.right / ahead).max() <= tall * SIZE[0] / SIZE[1]
    shown = {item.more["wall"] for item in picture.items if "wall" in item.more}
    carrying = {run.wall for run in kitchen.runs if run.wall}
    assert carrying <= shown < {wall.name for wall in kitchen.survey.walls}


@pytest.mark.parametrize("demo", FEW_DEMOS, ids=lambda path: path.stem)
def test_orthographic_pictures_hold_everything_in_them(demo):
    for picture in pictures(open_kitchen(demo)):
        half = picture.camera.half_height
        if half is None:
            continue
        points = np.concatenate([i.points for i in picture.items if i.kind != "floor"]) - picture.camera.eye
        assert np.abs(points @ picture.camera.up).max() < half
        assert np.abs(points @ picture.camera.right).max() < half * SIZE[0] / SIZE[1]
        assert (points @ picture.camera.forward).min() > 0


def test_every_part_of_a_kitchen_without_islands_is_in_the_view():
    kitchen = open_kitchen(CORNER)
    assert {p.id for p in kitchen.parts} <= {item.id for item in three_quarter(kitchen).items}


def test_a_missing_library_is_one_clear_error(monkeypatch):
    def missing(name):
        raise OSError(f"{name}: cannot open shared object file")

    monkeypatch.setattr(ctypes, "CDLL", missing)
    monkeypatch.setattr(sys, "platform", "linux")
    with pytest.raises(stills.StillsError, match=r"pictures need libEGL\.so\.1.*install.*libegl1"):
        stills.render_stills(open_kitchen(CORNER))
    assert issubclass(stills.StillsError, CountersunkError)


DOWN, NORTH = np.array([0.0, 0.0, -1.0]), np.array([0.0, 1.0, 0.0])


def table(height):
    """A depth map from 3 m above: the floor, and to the right of x = 0 a table."""
    depth = np.full((100, 100), 3.0, np.float32)
    depth[:, 50:] = 3.0 - height
    return DepthMap(np.array([0.0, 0.0, 3.0]), DOWN, NORTH, 1.0, depth, 1.0)


def test_what_lies_under_something_is_in_the_shade():
    points = np.array([[-0.5, 0.0, 0.0], [0.5, 0.0, 0.0], [0.5, 0.0, 1.0]])
    up = np.tile([0.0, 0.0, 1.0], (3, 1))
    assert visibility(points, up, [table(1.0)]) == pytest.approx([1.0, 0.0, 1.0])


def test_light_from_behind_a_face_does_not_count():
    up = np.array([[0.0, 0.0, 1.0]])
    below = DepthMap(np.array([0.0, 0.0, -3.0]), -DOWN, NORTH, 1.0, np.zeros((10, 10), np.float32), 1.0)
    assert visibility(np.zeros((1, 3)), up, [table(1.0), below]) == visibility(np.zeros((1, 3)), up, [table(1.0)])


def test_light_comes_from_above_and_its_weights_are_shares():
    ways = directions(np.array([0.6, 0.0, 0.8]))
    assert min(way[2] for way, _ in ways) > 0
    assert [np.linalg.norm(way) for way, _ in ways] == pytest.approx([1.0] * len(ways))


def test_smoothing_stays_within_a_plane():
    points, normals = np.zeros((40, 40, 3)), np.zeros((40, 40, 3))
    points[..., 0] = np.linspace(0, 1, 40)
    normals[:, :20, 2], normals[:, 20:, 1] = 1.0, 1.0
    lit = np.zeros((40, 40))
    lit[:, 20:] = 1.0
    assert (smoothed(lit, points, normals) == lit).all()
    noisy = np.random.default_rng(1).random((40, 40))
    calm = smoothed(noisy, points, normals)
    assert calm[:, :20].std() < noisy[:, :20].std() / 4
