"""Rooms as one meets them: proposals that build and miss no must, or one error that says what stands in the way."""

import pytest

from countersunk import shared
from countersunk.model.checks import check
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.kitchen import build
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.propose import propose
from tests.lanes import some
from tests.model.planning.rooms import NO_CLOCK

WITH_EVERYTHING = {
    "height": 2500.0,
    "walls": (
        {"name": "A", "length": 4800.0, "corner": 89.5},
        {"name": "B", "length": 4300.0, "corner": 90.5},
        {"name": "C", "length": 2600.0, "corner": 90.0},
        {"name": "D", "length": 1900.0, "corner": 270.0},
        {"name": "E", "length": 2162.5, "corner": 90.0},
        {"name": "F", "length": 2400.0, "corner": 90.0},
    ),
    "openings": (
        {"kind": "window", "wall": "A", "at": 1400.0, "width": 1200.0, "sill": 1050.0, "head": 2100.0},
        {"kind": "door", "wall": "C", "at": 1400.0, "width": 850.0, "swing": "right"},
        {"kind": "door", "wall": "F", "at": 1300.0, "width": 800.0, "swing": "out"},
    ),
    "obstacles": ({"kind": "pipe-boxing", "wall": "A", "at": 4620.0, "width": 180.0, "depth": 160.0},),
    "slopes": ({"wall": "B", "eaves": 1700.0, "run": 900.0},),
    "services": (
        {"kind": "water", "wall": "A", "at": 2200.0, "height": 500.0},
        {"kind": "waste", "wall": "A", "at": 2300.0, "height": 300.0},
        {"kind": "gas", "wall": "B", "at": 1500.0, "height": 500.0},
    ),
}


def holds(found):
    assert found.shown
    for proposal in found.shown:
        kitchen = build(proposal.document)
        assert not any(f.serious for f in check(kitchen))
        assert proposal.why
        assert proposal.trades


@pytest.mark.slow
def test_a_slope_a_boxing_and_a_reflex_corner():
    wishes = {"larders": 1, "hob": {"fuel": "gas"}}
    holds(propose(Brief.model_validate({"kitchen": "Trial", "room": WITH_EVERYTHING, "wishes": wishes}), NO_CLOCK))


def room_of(demo):
    document, _ = read_file(shared.FOLDER / "kitchens" / f"{demo}.yaml", Document)
    wishes = {"island": True, "larders": 1, "oven": "tall"}
    return Brief(kitchen=demo, room=document.room, cooks=document.cooks, wishes=wishes)


@pytest.mark.slow
@pytest.mark.parametrize("demo", some(["farmhouse", "gasworks", "island"], 3))
def test_the_room_of_a_demo(demo):
    holds(propose(room_of(demo), NO_CLOCK))


@pytest.mark.slow
def test_a_room_too_small_under_its_slopes_names_wishes_to_give_up():
    with pytest.raises(InputError) as caught:
        propose(room_of("loft"), NO_CLOCK)
    assert all(p.field.startswith("wishes.") and p.advice for p in caught.value.problems)
