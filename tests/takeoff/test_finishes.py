"""Paint and floor: shown as the file chooses, counted only where the job supplies them."""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.viewer.scene.materials import PALETTE, decor_finish
from countersunk.viewer.scene.scene import items
from tests.specimens import document, square

ROOM = square(3000, height=2400.0, openings=({"kind": "door", "wall": "C", "at": 500.0, "width": 900.0},))


def made(**finishes):
    return build(document(room=ROOM, finishes=finishes))


def measured(kitchen):
    wanted = ("paint.wall", "floor.cover")
    return {q.item: (q.net, q.decor, q.packs) for q in estimate(kitchen).quantities if q.item in wanted}


def test_areas_are_measured_where_the_job_supplies_them():
    """Four walls of 3.0 x 2.4 less a door of 0.9 x 2.0, two coats of 1 L to 10 m²; a floor of 3.0 x 3.0, a tenth
    more for waste: 9.9 m² in packs of 2.2 are 5. Paint is 5.4 L, 5.67 with a twentieth: 3 tins of 2.5."""
    both = measured(made(walls="oat", floor="ember-planks", supplied="both"))
    assert both["paint.wall"] == (pytest.approx((4 * 3.0 * 2.4 - 0.9 * 2.0) * 2 / 10), "oat", 3)
    assert both["floor.cover"] == (pytest.approx(9.0), "ember-planks", 5)
    assert list(measured(made(walls="oat", supplied="floor"))) == ["floor.cover"]
    assert measured(made(walls="oat", floor="flint-tiles")) == {}


def test_walls_and_floor_look_as_they_are_chosen():
    kitchen = made(walls="lichen", floor="flint-tiles")
    looks = {item.kind: item.finish for item in items(kitchen) if item.kind in ("wall", "floor")}
    decors = kitchen.catalogue.decors
    assert looks == {"wall": decor_finish(decors["lichen"]), "floor": decor_finish(decors["flint-tiles"])}
    assert {item.finish for item in items(made()) if item.kind == "wall"} == {PALETTE["wall"]}


def test_a_front_is_no_paint():
    with pytest.raises(InputError) as caught:
        made(walls="sage", floor="oat")
    assert [(p.field, p.allowed) for p in caught.value.problems] == [
        ("finishes.walls", "oat, lichen"), ("finishes.floor", "ember-planks, flint-tiles"),
    ]  # fmt: skip
