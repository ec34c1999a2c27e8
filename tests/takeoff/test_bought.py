"""Carcasses that are bought: one article each, nothing sawn or joined, and what comes along is not ordered twice.

Which hardware comes with a bought carcass is common practice, no source; the figures are worked by hand.
"""

from dataclasses import replace

import pytest

from countersunk import shared
from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.catalogue.method import Ready
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.plans.boards import sheet_parts
from countersunk.takeoff.report.options import Change, Option
from countersunk.viewer.quoting.options import priced
from tests.lanes import tries
from tests.random_kitchens.properties import drawn
from tests.random_kitchens.rooms import l_shapes, rectangles
from tests.specimens import document, open_kitchen

BOUGHT = {"supply": "bought"}
ANNEXE = shared.KITCHENS / "annexe.yaml"


def amounts(kitchen):
    return {line.quantity.item: round(line.quantity.net, 6) for line in estimate(kitchen).materials}


def minutes(kitchen):
    return {line.work.code: float(line.work.minutes) for line in estimate(kitchen).labour}


def with_ready(**ready):
    """The metric catalogue with every family coming as said."""
    catalogue = default_catalogue()
    families = {c: f.model_copy(update={"ready": Ready(**ready)}) for c, f in catalogue.families.items()}
    return replace(catalogue, families=families)


def test_three_units_worked_by_hand():
    """The specimen: 400 with a shelf, 600 for a sink, 600 for a hob with a shelf, one door each.

    Made: 9 boards end on two sides, so 42 screws; 12 legs; 6 hinges; 8 pins; 3 handles; fronts of 0.399, 0.599 and
    so on in any case. Bought: three articles, and of all that only fronts, handles and what fixes units.
    """
    made, bought = build(document()), build(edited(document(), BOUGHT))
    before, after = amounts(made), amounts(bought)
    gone = {"pb18", "pb10", "band.pb18", "confirmat", "leg.150", "hinge", "pin.shelf"}
    assert gone <= set(before)
    assert not gone & set(after)
    assert {c: n for c, n in after.items() if c.startswith("unit.")} == {
        "unit.base-doors.400": 1, "unit.base-sink.600": 1, "unit.base-hob.600": 1}  # fmt: skip
    same = ("front18", "band.front18", "handle.bar", "bracket.wall", "plinth.147", "pf38.600.2400", "delivery")
    assert [after[item] for item in same] == [before[item] for item in same]
    # Screws of 3.5 × 16: made 6 hinges × 4 + 12 legs × 4 + 3 clips × 2 = 78; bought the clips' alone.
    assert (before["screw.35x16"], after["screw.35x16"]) == (78, 6)


def test_work_in_the_workshop_goes_and_work_on_site_stays():
    before, after = minutes(build(document())), minutes(build(edited(document(), BOUGHT)))
    assert {"carcass", "back"} <= set(before)
    assert not {"carcass", "back", "assemble"} & set(after)
    assert [after[code] for code in ("place", "door", "length")] == [before[c] for c in ("place", "door", "length")]
    assert after["saw"] < before["saw"] / 4


def test_flat_packs_are_put_together_in_their_minutes():
    usual = build(edited(document(), BOUGHT), with_ready(flat=True))
    assert minutes(usual)["assemble"] == 3 * 40
    own = build(edited(document(), BOUGHT), with_ready(flat=True, minutes=25.0))
    assert minutes(own)["assemble"] == 3 * 25
    [line] = [line for line in estimate(own).labour if line.work.code == "assemble"]
    assert line.work.formula == "3 flat packs, 75 minute × 1 min × 1 person ÷ 60 × rate"


def test_what_does_not_come_along_is_ordered():
    bare = amounts(build(edited(document(), BOUGHT), with_ready(comes_with=())))
    made = amounts(build(document()))
    for item in ("leg.150", "hinge", "pin.shelf", "handle.bar", "screw.35x16"):
        assert bare[item] == made[item]
    whole = build(edited(document(), BOUGHT), with_ready(comes_with=("fronts", "handles", "hinges", "legs")))
    assert not {"front18", "band.front18", "handle.bar"} & set(amounts(whole))
    assert not list(sheet_parts(whole))


def test_rows_and_families_go_before_the_kitchen():
    made = document()
    row = made.runs[0].model_dump(exclude_unset=True) | {"supply": "made"}
    assert amounts(build(edited(made, {**BOUGHT, "runs": (row,)}))) == amounts(build(made))
    catalogue = default_catalogue()
    sink = catalogue.families["base-sink"].model_copy(update={"supply": "bought"})
    one = build(made, replace(catalogue, families={**catalogue.families, "base-sink": sink}))
    assert [unit.family.code for unit in one.units if unit.ready] == ["base-sink"]
    assert amounts(one)["unit.base-sink.600"] == 1
    assert amounts(one)["leg.150"] == 8


def test_appliances_fillers_and_panels_are_no_carcasses():
    kitchen = open_kitchen(ANNEXE)
    ready = {unit.family.code for unit in kitchen.units if unit.ready}
    assert ready == {"base-drawers", "base-sink", "base-doors"}
    cut = {kitchen.parts_by_id[panel.id].called for plan in take_off(kitchen).boards for s in plan.sheets
           for panel in s.places}  # fmt: skip
    assert {"A6", "AU1", "AU2"} <= cut


def test_the_difference_in_price_is_an_option():
    kitchen = open_kitchen(ANNEXE)
    option = Option(name="Carcasses made here", changes=(Change(field="supply", value="made"),))
    [found] = priced(kitchen, estimate(kitchen), [option], estimate)
    before, after = (taken.totals.net for taken in (found.comparison.before, found.comparison.after))
    assert found.comparison.after.totals.complete
    assert before != after


@pytest.mark.parametrize("sort", [rectangles, l_shapes])
def test_every_part_of_a_bought_kitchen_is_bought_or_cut_and_none_moves(sort):
    for seed in range(tries(40) // 2):
        one = drawn(sort, seed)
        other = build(edited(one.document, BOUGHT), one.catalogue)
        assert [(p.key, p.pose, p.length, p.depth) for p in one.parts] == [
            (p.key, p.pose, p.length, p.depth) for p in other.parts
        ]
        taken = estimate(other)
        assert [line.quantity.problem for line in taken.materials if line.quantity.rule == "none"] == []
        carcasses = [line for line in taken.materials if line.quantity.rule == "ready-units"]
        assert sum(line.quantity.net for line in carcasses) == sum(unit.ready is not None for unit in other.units)


@pytest.mark.parametrize("supply", ["make", "Bought", ""])
def test_another_word_is_refused(supply):
    with pytest.raises(InputError, match="allowed: made, bought"):
        edited(document(), {"supply": supply})
