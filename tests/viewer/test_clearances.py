"""The space of a chosen finding in the scene: where the finding says, see-through, and said in words."""

import io

import numpy as np
import pytest
import trimesh

from countersunk.model.checks.finding import Verdict
from countersunk.viewer.app.clearances import COLOURS, ID, LAYER, clearance_item, scene_with
from countersunk.viewer.app.reading import read
from tests.model.test_checks import finding
from tests.specimens import DEMOS, open_kitchen
from tests.viewer.test_scene import header

CORNER = next(path for path in DEMOS if path.stem == "corner")


@pytest.fixture(scope="module")
def reading():
    kitchen = open_kitchen(CORNER)
    return read(kitchen.document, b"", kitchen.catalogue)


def loaded(data):
    return trimesh.load(io.BytesIO(data), file_type="glb")


@pytest.mark.parametrize("rule", ["aisle-several-cooks", "hob-to-hood", "appliance-opens", "cutout-to-front-edge"])
def test_the_space_stands_where_the_finding_says(reading, rule):
    chosen = next(f for f in reading.findings if f.rule == rule)
    item = clearance_item(chosen, chosen.volume)
    x0, y0, x1, y1 = chosen.volume.plan.bounds
    low, high = item.points.min(axis=0), item.points.max(axis=0)
    assert low == pytest.approx((x0, y0, chosen.volume.low), abs=1e-6)
    assert high == pytest.approx((x1, y1, chosen.volume.high), abs=1e-6)
    assert item.finish.opacity < 1.0
    assert item.label == f"{chosen.verdict}: {chosen.question} {chosen.place}"


def test_the_scene_has_it_in_a_layer_of_its_own(reading):
    chosen = next(f for f in reading.findings if f.rule == "aisle-several-cooks")
    data = scene_with(reading.kitchen.document, reading.kitchen.catalogue, chosen).glb
    scene, nodes = loaded(data), [node for node in header(data)["nodes"] if "mesh" in node]
    (extras,) = [node["extras"] for node in nodes if node["extras"]["part"] == ID]
    assert (extras["part"], extras["layer"], extras["kind"]) == (ID, LAYER, "clearance")
    material = scene.geometry[scene.graph[ID][1]].visual.material
    assert material.alphaMode == "BLEND"
    # Metres, y up: the aisle is drawn from the floor to 2 m.
    transform, name = scene.graph[ID]
    points = trimesh.transform_points(scene.geometry[name].vertices, transform)
    assert np.ptp(points[:, 1]) == pytest.approx(2.0)
    assert ID not in loaded(reading.scene.glb).graph.nodes


def test_a_finding_without_a_space_leaves_the_scene_as_it_is(reading):
    assert scene_with(reading.kitchen.document, reading.kitchen.catalogue, finding()) is reading.scene


def test_every_verdict_has_its_colour():
    assert len(set(COLOURS.values())) == len(Verdict)
