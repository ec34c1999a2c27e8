"""A downdraft behind the hob on an island, and a fan in the window that helps it."""

from pathlib import Path

import pytest

from countersunk.model.catalogue.method import Ready
from countersunk.model.checks import check
from countersunk.model.checks.ducts import counted
from countersunk.model.document.duct import Duct
from countersunk.model.facts.plans import face, heights
from countersunk.model.geometry.identity import FACES, Role
from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import open_kitchen
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.plans.boards import sheet_parts
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.plan import plan_sheet
from tests.model.cases.appliances import BASES
from tests.model.test_checks import kitchen as plain_kitchen
from tests.model.test_checks import run, stocked, unit


@pytest.fixture(scope="module")
def kitchen():
    return open_kitchen(Path(__file__).parent / "fenwick.yaml")


# Its line is 840 x 108, 640 behind the front edge of a top of 900; the hob's, 490 deep, ends 545 behind it.
def test_a_downdraft_stands_in_a_slot_behind_the_hob_and_covers_it(kitchen):
    hob, draft = (next(c for c in kitchen.cutouts if c.template.kind == kind) for kind in ("hob", "downdraft"))
    assert hob.line_in_room.distance(draft.line_in_room) == pytest.approx(640 - 545)
    z = face(kitchen.length(draft.length))
    body = [heights(part) for part in kitchen.parts_of[draft.key]]
    assert (min(body)[0], max(high for _, high in body)) == (z - 700, z + 2)
    (covered,) = (f for f in check(kitchen) if f.rule == "hob-under-hood")
    assert (covered.value, covered.place) == (0.0, "downdraft over hob")


# 650 m³/h by its sheet through 4.2 m, two bends and a wall cap, 77.8 ft; and half of the fan's 90.
def test_it_is_judged_together_with_the_fan_in_the_window(kitchen):
    length = counted(Duct(length=4200, bends=(90, 45)))
    assert length == pytest.approx(4200 + (15 + 9 + 40) * 304.8)
    (air,) = (f for f in check(kitchen) if f.rule == "airflow-uk")
    assert (air.value, air.place) == (695.0, "duct of downdraft, with fan s4 in wall A")


def test_it_is_bought(kitchen):
    (line,) = (one for one in estimate(kitchen).materials if one.quantity.item == "downdraft.90")
    assert (line.quantity.packs, line.missing) == (1, "")


# 600 m³/h of the catalogue's hood, over base units, through 3 m and a cap.
def test_a_hood_moves_what_the_catalogue_says_where_nobody_typed_it():
    hood = run(unit("hood", 600, duct={"length": 3000.0}), level="upper")
    (air,) = (f for f in check(plain_kitchen(BASES, hood)) if f.rule == "airflow-uk")
    assert air.value == 600.0


# Fronts are bought along the wall, where no sheet has them, and made on the island. Two doors of the sink's unit
# are 800 / 2 - 3 wide and 720 - 3 high.
def test_plain_fronts_are_bought_to_measure_and_those_of_the_island_made(kitchen):
    (line,) = (one for one in estimate(kitchen).materials if one.quantity.item == "front.slab")
    fronts = [part for part in kitchen.parts if part.layer is Layer.FRONTS and part.role in FACES]
    bought = [part for part in fronts if part.material == "front.slab"]
    assert {part.material for part in fronts} - {"front.slab"} == {"front18"}
    assert line.quantity.net == pytest.approx(sum(part.area for part in bought) / 1e6)
    sizes = [(piece.length, piece.width, piece.thickness) for piece in line.quantity.pieces]
    assert sizes.count((717.0, 397.0, 18.0)) == 2
    assert len(sizes) == len(bought)
    assert not {part.id for part in bought} & {part.id for part in sheet_parts(kitchen)}
    assert not any(part.banded for part in bought)


# A carcass that comes with its fronts has none bought apart; a made one has them where its row says so.
@pytest.mark.parametrize(
    ("supply", "along", "material"),
    [("made", (), "front.slab"), ("bought", (), "front.slab"), ("bought", ("fronts",), "front18")],
)
def test_fronts_are_bought_apart_from_carcasses_of_either_kind(supply, along, material):
    catalogue = stocked({"base-doors": {"ready": Ready(comes_with=along)}})
    row = {**run(unit("base-doors", 600)), "supply": supply, "front_supply": "bought"}
    built = plain_kitchen(row, catalogue=catalogue)
    (door,) = (part for part in built.parts if part.role is Role.DOOR)
    assert door.material == material


# Linden Court's hood has a filter and no duct to outside: its fan of 220 m³/h alone is asked for 60 l/s, 216 m³/h.
def test_a_hood_that_ends_in_the_room_leaves_all_to_the_fan():
    linden = open_kitchen(Path(__file__).with_name("linden.yaml"))
    found = [f for f in check(linden) if f.rule in ("fan-uk", "airflow-uk", "duct-length")]
    assert [(f.rule, f.value, f.limit) for f in found] == [("fan-uk", 220.0, 216.0)]
    words = {words for words, _ in words_on(plan_sheet(linden))}
    assert "its filter cleans the air and gives it back" in words
