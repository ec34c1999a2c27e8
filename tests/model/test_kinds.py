"""Kinds: one row answers for a construction or an appliance, and is all that adding one takes."""

from __future__ import annotations

from unittest.mock import patch

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue, load_catalogue
from countersunk.model.checks import check
from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.things import of_unit
from countersunk.model.document.room import Service
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Component, Position, Role, Which
from countersunk.model.geometry.part import Layer
from countersunk.model.kinds.appliances import APPLIANCES, CONNECTIONS, Appliance, Clear, appliance_of
from countersunk.model.kinds.constructions import CONSTRUCTIONS, Construction
from countersunk.model.kitchen import build
from countersunk.model.units.board import Block, board
from countersunk.model.units.makers import BODIES, MAKERS, looks, makes
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.viewer.drawing.elevation import elevation_sheets
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.plan import plan_sheet
from countersunk.viewer.scene.openings import openings
from countersunk.viewer.scene.scene import scene
from tests.specimens import document

FLOOR = "level: floor, height: 720, depth: 560, legs: 150, carries_top: true"
FAMILIES = [*default_catalogue().families.values(), *inch_catalogue().families.values()]


def kitchen_of(folder, family, **unit):
    """A base unit, and beside it a unit of a family that a firm adds to a catalogue of its own."""
    base = f"{{code: base-doors, name: base, construction: box, {FLOOR}, widths: [600], doors: true}}"
    (folder / "units.yaml").write_text(f"families:\n  - {base}\n  - {family}\n")
    code = family.split("code: ")[1].split(",")[0]
    run = {
        "wall": "A",
        "start": 500.0,
        "units": ({"unit": "base-doors", "key": "u-8"}, {"unit": code, "key": "u-9", **unit}),
    }
    return build(document(runs=(run,)), load_catalogue(folder))


def places(kitchen, measure, name):
    """What a measure finds at a unit."""
    (thing,) = [of_unit(unit) for unit in kitchen.units if unit.name == name]
    return [place for place in MEASURES[measure].take(kitchen) if thing in place.about]


def drawn(kitchen):
    """Every word on the plan and the elevations."""
    return {words for sheet in (plan_sheet(kitchen), *elevation_sheets(kitchen)) for words, _ in words_on(sheet)}


def test_every_construction_has_a_maker_and_every_maker_a_row():
    assert set(MAKERS) == set(CONSTRUCTIONS)
    assert {family.construction for family in FAMILIES} == set(CONSTRUCTIONS)


def test_every_form_that_a_catalogue_names_has_a_body():
    assert {family.form for family in FAMILIES if family.form} <= set(BODIES)


def test_a_construction_that_no_row_has_is_refused_with_the_nearest(tmp_path):
    with pytest.raises(InputError) as refused:
        kitchen_of(tmp_path, f"{{code: mine, name: mine, construction: pannel, {FLOOR}, widths: [300]}}")
    (problem,) = refused.value.problems
    assert problem.field == "families[1].construction"
    assert (problem.found, problem.advice) == ('"pannel"', "'panel'")
    assert all(code in problem.allowed for code in CONSTRUCTIONS)


@pytest.mark.parametrize(
    ("code", "opens", "cooks_with"),
    [
        ("dishwasher", "drops", None),
        ("dishwasher.slim", "drops", None),
        ("dishwashers", None, None),  # another word, not a kind of dishwasher
        ("oven.built-in", "drops", None),
        ("fridge.under", "swings", None),
        ("hood.under", None, None),
        ("cooker", "drops", "electric"),
        ("cooker.gas", "drops", "gas"),
        ("cooker.wide.gas", "drops", "gas"),
        ("oven.gas", "drops", None),  # it has no hob on top
    ],
)
def test_a_code_that_goes_on_after_a_dot_is_of_that_kind(code, opens, cooks_with):
    appliance = appliance_of(code)
    assert (appliance.code, appliance.opens, appliance.cooks_with) == (code, opens, cooks_with)


def test_appliances_need_services_that_a_survey_knows():
    known = set(Service.model_fields["kind"].annotation.__args__)
    named = {kind for row in APPLIANCES.values() for kind in row.services}
    assert named | set(CONNECTIONS.values()) <= known


def test_the_door_of_a_firms_slim_dishwasher_drops_in_the_checks_and_in_the_view(tmp_path):
    """A code of its own after the dot dropped 717 in the checks, and in 3D the front hung on its left side."""
    family = f"code: slim, name: slim dishwasher, construction: appliance, {FLOOR}, widths: [450], front: true"
    kitchen = kitchen_of(tmp_path, f"{{{family}, appliance: dishwasher.slim}}", hand="left")
    (door,) = [part for part in kitchen.parts_of["u-9"] if part.role is Role.DOOR]
    (place,) = places(kitchen, "swings.before_open_appliance", "A2")
    # 720 high less a reveal of 1.5 at head and foot; open, it stands so far before its front.
    (start, end) = place.segment
    front = kitchen.units[1].frame.from_room(start)[1] - kitchen.units[1].face
    assert front == pytest.approx(717.0)
    assert end != start
    opening = openings(kitchen)[door.id]
    assert opening.hinge == "bottom"
    assert kitchen.units[1].frame.from_room(opening.at)[2] == pytest.approx(150.0 + 1.5)


def trolley_bay(unit):
    """Two sides that stand on the floor, with a rail between them: room for a trolley."""
    t, code = unit.boards.carcass.thickness, unit.boards.carcass.code
    rail = Block(t, unit.width - t, 0.0, t, unit.family.top - 100.0, unit.family.top)
    low = [Block(0.0, t, 0.0, unit.family.depth, 0.0, unit.family.top)]
    low.append(low[0]._replace(x0=unit.width - t, x1=unit.width))
    hands = zip(low, (Position.LEFT, Position.RIGHT), strict=True)
    return [
        *(board(unit, Role.SIDE, b, "zyx", code, which=Which(at=(at,)), banded=("front",)) for b, at in hands),
        board(unit, Role.RAIL, rail, "xzy", code, which=Which(at=(Position.BACK,))),
    ]


def wash_drawer(unit):
    """A body with a face that comes out."""
    family, (beside, behind, above) = unit.family, APPLIANCES["wash-drawer"].clear
    body = Block(beside, unit.width - beside, behind, family.depth, 20.0, family.top - above)
    face = body._replace(y0=family.depth, y1=family.depth + 20.0, z0=family.base)
    return [
        board(unit, Role.APPLIANCE, block, axes, "wash-drawer", which=Which(component=what), layer=Layer.APPLIANCES)
        for what, block, axes in ((Component.BODY, body, "xyz"), (Component.FACE, face, "xzy"))
    ]


@pytest.fixture
def added():
    """A construction and an appliance added as the guide says, one row and one function each; gone afterwards."""
    with patch.dict(CONSTRUCTIONS), patch.dict(APPLIANCES), patch.dict(MAKERS), patch.dict(BODIES):
        CONSTRUCTIONS["trolley-bay"] = Construction("trolley-bay", has_plinth=False, on_legs=False, stores=False)
        makes("trolley-bay")(trolley_bay)
        APPLIANCES["wash-drawer"] = Appliance(
            "wash-drawer", "pulls", reach=420.0, clear=Clear(3.0, 20.0, 8.0), services=("water", "waste", "socket")
        )
        looks("wash-drawer")(wash_drawer)
        yield


@pytest.mark.usefixtures("added")
class TestAnAddedConstruction:
    FAMILY = f"{{code: bay, name: trolley bay, construction: trolley-bay, {FLOOR}, widths: [600]}}"

    @pytest.fixture
    def kitchen(self, tmp_path):
        return kitchen_of(tmp_path, self.FAMILY)

    def test_is_built(self, kitchen):
        assert [part.id for part in kitchen.parts_of["u-9"]] == [
            "u-9.side.left",
            "u-9.side.right",
            "u-9.rail.back",
        ]
        assert solids.clashes(kitchen.parts) == []
        (plinth,) = [part for part in kitchen.parts if part.role is Role.PLINTH]
        assert plinth.length == pytest.approx(600.0)  # before the base unit alone
        (top,) = kitchen.lengths
        assert top.part.length == pytest.approx(1200.0 + 2 * 10.0)

    def test_is_checked(self, kitchen):
        assert check(kitchen)
        (aisle,) = places(kitchen, "walkways.aisle", "A1") or places(kitchen, "walkways.aisle", "A2")
        assert aisle.value is None or aisle.value > 0.0
        (stores,) = places(kitchen, "units.storage_frontage", "A1")
        assert of_unit(kitchen.units[1]) not in stores.about

    def test_is_counted(self, kitchen):
        found = {q.item: q for q in take_off(kitchen).quantities}
        board = kitchen.catalogue.unit_boards.carcass.code
        assert {"u-9.side.left", "u-9.side.right", "u-9.rail.back"} <= set(found[board].ids)
        assert not [
            id_ for q in found.values() if q.item.startswith("leg") for id_ in q.ids if id_.startswith("u-9")
        ]

    def test_is_drawn_and_shown(self, kitchen):
        assert "A2" in drawn(kitchen)
        assert b"u-9.side.left" in scene(kitchen).tree


@pytest.mark.usefixtures("added")
class TestAnAddedAppliance:
    FAMILY = (
        f"{{code: wash, name: wash drawer, construction: appliance, {FLOOR}, widths: [600], "
        "appliance: wash-drawer}"
    )

    @pytest.fixture
    def kitchen(self, tmp_path):
        return kitchen_of(tmp_path, self.FAMILY)

    def test_is_built_with_what_it_needs_round_it(self, kitchen):
        body, _ = kitchen.parts_of["u-9"]
        assert body.length == pytest.approx(600.0 - 2 * 3.0)
        assert body.depth == pytest.approx(560.0 - 20.0)
        assert solids.clashes(kitchen.parts) == []

    @pytest.mark.parametrize("front", ["", ", front: true"])
    def test_comes_out_by_its_reach_in_the_checks_and_in_the_view(self, tmp_path, front):
        """With a face of its own, and behind a front of the kitchen."""
        kitchen = kitchen_of(tmp_path, self.FAMILY.replace("}", f"{front}}}"))
        assert check(kitchen)
        unit = kitchen.units[1]
        (door,) = places(kitchen, "swings.appliance_door", "A2")
        assert unit.frame.plan_from_room(door.volume.plan).bounds == pytest.approx(
            (1.5 if front else 3.0, unit.face, 598.5 if front else 597.0, unit.face + 420.0)
        )
        (before,) = places(kitchen, "swings.before_open_appliance", "A2")
        # From wall A to wall C, opposite, it is 3000.
        assert before.value == pytest.approx(3000.0 - kitchen.runs[0].stand_off - unit.face - 420.0)
        moving = {opening.leaf: opening for id_, opening in openings(kitchen).items() if id_.startswith("u-9")}
        (leaf,) = moving.values()
        assert (leaf.hinge, leaf.travel) == (None, 420.0)

    def test_is_counted(self, kitchen):
        (line,) = [q for q in take_off(kitchen).quantities if q.item == "wash-drawer"]
        assert (line.ids, line.net) == (("u-9",), 1)

    def test_is_drawn_and_shown(self, kitchen):
        assert "A2" in drawn(kitchen)
        assert b"u-9.appliance.face" in scene(kitchen).tree
