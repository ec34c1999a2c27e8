"""How long an edit takes until there is something to see: each step of a kitchen of 27 units, and peers.

Run with ``pytest tests/benchmarks --benchmark-enable --benchmark-group-by=group``. The table gives each group's
ratios within one run; nothing here passes or fails by time. The peer for solids is trimesh's own extrusion, a
general library, on the same outlines; the peer for glTF is trimesh's own export of the same scene.
"""

import io
from dataclasses import replace
from functools import cache, partial

import pytest
import trimesh

from countersunk.model import checks
from countersunk.model.geometry import solids
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.scene.scene import scene
from tests.specimens import demo

kitchen = partial(demo, "island")
STEPS = {
    "model": lambda: build(kitchen().document),
    "checks": lambda: checks.check(replace(kitchen())),  # another object, so that nothing is remembered
    "takeoff": lambda: estimate(replace(kitchen())),
    "glTF": lambda: scene(replace(kitchen())),
}


def fresh_solids():
    solids._shape.cache_clear()
    return [solids.volume(part) for part in kitchen().parts]


def solids_by_peer():
    plain = [p for p in kitchen().parts if p.section is None]
    return [trimesh.creation.extrude_polygon(p.outline, p.thickness, engine="manifold").volume for p in plain]


@pytest.mark.benchmark(group="an edit, step by step")
@pytest.mark.parametrize("step", STEPS)
def test_step(benchmark, step):
    assert benchmark(STEPS[step])


@pytest.mark.benchmark(group="all solids of a kitchen")
@pytest.mark.parametrize("way", [fresh_solids, solids_by_peer], ids=["ours", "trimesh"])
def test_solids(benchmark, way):
    assert all(volume > 0 for volume in benchmark(way))


@cache
def exported():
    return scene(kitchen()).glb


def scene_by_peer():
    return trimesh.load_scene(io.BytesIO(exported()), file_type="glb").export(file_type="glb")


@pytest.mark.benchmark(group="the scene as a file")
@pytest.mark.parametrize("way", [lambda: scene(replace(kitchen())).glb, scene_by_peer], ids=["ours", "trimesh"])
def test_scene(benchmark, way):
    assert benchmark(way)[:4] == b"glTF"
