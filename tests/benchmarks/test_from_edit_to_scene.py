"""How long an edit takes until there is something to see: each step of a kitchen of 27 units, and a peer.

Run with ``pytest tests/benchmarks --benchmark-enable --benchmark-group-by=group``. The table gives each group's
ratios within one run; nothing here passes or fails by time. The peer for solids is trimesh's own extrusion, a
general library, on the same outlines.
"""

from dataclasses import replace
from time import process_time

import pytest
import trimesh

import shared
from model import checks, solids
from model.kitchen import build, open_kitchen
from takeoff.takeoff import take_off
from viewer.scene import glb

KITCHEN = open_kitchen(shared.KITCHENS / "island.yaml")
STEPS = {
    "model": lambda: build(KITCHEN.document),
    "checks": lambda: checks.check(replace(KITCHEN)),  # another object, so that nothing is remembered
    "takeoff": lambda: take_off(KITCHEN),
    "glTF": lambda: glb(KITCHEN),
}


def fresh_solids():
    solids._shape.cache_clear()
    return [solids.volume(part) for part in KITCHEN.parts]


def solids_by_peer():
    plain = [p for p in KITCHEN.parts if p.section is None]
    return [trimesh.creation.extrude_polygon(p.outline, p.thickness, engine="manifold").volume for p in plain]


@pytest.mark.benchmark(group="an edit, step by step")
@pytest.mark.parametrize("step", STEPS)
def test_step(benchmark, step):
    assert benchmark(STEPS[step])


@pytest.mark.benchmark(group="all solids of a kitchen")
@pytest.mark.parametrize("way", [fresh_solids, solids_by_peer], ids=["ours", "trimesh"])
def test_solids(benchmark, way):
    assert all(volume > 0 for volume in benchmark(way))


def least(step, times=7):
    """The least time of several that a step takes this process, s."""
    found = []
    for _ in range(times):
        start = process_time()
        step()
        found.append(process_time() - start)
    return min(found)


def test_all_rules_cost_no_more_than_the_kitchen_itself():
    """A ratio within one run, so that it holds on any machine: checking is not what an edit waits for."""
    assert least(STEPS["checks"]) < 1.5 * least(STEPS["model"])
