"""Units and rows put elsewhere; whatever names them follows."""

import re

import pytest

from countersunk.model.document.keys import keyed_items, names_by_key, unit_names
from countersunk.model.document.schema import Run
from countersunk.model.edit import arrange
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from tests.specimens import DEMOS, SOME_DEMOS, document, open_kitchen

SINK, HOB = {"template": "sink.one-bowl", "over": "A2"}, {"template": "hob.electric-60", "over": "A3"}


def units(made, row=0):
    return [unit.unit for unit in made.runs[row].units]


def overs(made):
    names = names_by_key(made)
    return [names[cutout.over] for cutout in made.cutouts]


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_units_are_called_as_the_layout_calls_them(path):
    kitchen = open_kitchen(path)
    placed = {run.field: [unit.name for unit in run.units] for run in kitchen.runs}
    assert unit_names(kitchen.document) == placed


def test_a_unit_moves_and_what_lies_over_it_follows():
    before = document(cutouts=(SINK, HOB))
    after = arrange.moved(before, "runs[0]", 0, 1)
    assert units(after) == ["base-sink", "base-doors", "base-hob"]
    assert overs(after) == ["A1", "A3"]
    assert arrange.moved(after, "runs[0]", 1, -1) == before
    assert arrange.moved(before, "runs[0]", 0, -1) == before


def test_two_units_change_places_with_what_lies_over_them():
    after = arrange.swapped(document(cutouts=(SINK, HOB)), "runs[0]", 1, 2)
    assert units(after) == ["base-doors", "base-hob", "base-sink"]
    assert overs(after) == ["A3", "A2"]


def test_a_unit_that_goes_takes_along_what_lies_over_it():
    after = arrange.without_unit(document(cutouts=(SINK, HOB)), "runs[0]", 1)
    assert units(after) == ["base-doors", "base-hob"]
    assert [c.template for c in after.cutouts] == ["hob.electric-60"]
    assert overs(after) == ["A2"]


def test_a_new_unit_pushes_the_names_along():
    after = arrange.inserted(document(cutouts=(SINK, HOB)), "runs[0]", 0, {"unit": "base-doors", "width": 300.0})
    assert overs(after) == ["A3", "A4"]


def test_a_unit_with_a_name_of_its_own_keeps_what_lies_over_it():
    named = document(cutouts=({"template": "sink.one-bowl", "over": "wash"},))
    with_name = arrange.replaced(named, "runs[0]", 1, {"unit": "base-sink", "width": 600.0, "name": "wash"})
    assert overs(arrange.moved(with_name, "runs[0]", 1, -1)) == ["wash"]


def test_a_shaped_corner_follows_its_unit():
    shaped = {
        "stock": "pf38.600",
        "decor": "pale-oak",
        "corners": ({"over": "A3", "end": "right", "radius": 80.0},),
    }
    after = arrange.inserted(document(worktop=shaped), "runs[0]", 0, {"unit": "base-doors", "width": 300.0})
    assert [names_by_key(after)[corner.over] for corner in after.worktop.corners] == ["A4"]


def test_a_unit_of_another_family_is_as_much_like_the_former_as_it_comes():
    families = build(document()).catalogue.families
    drawers = arrange.as_family(families["base-drawers"], {"unit": "base-doors", "width": 430.0, "hand": "right"})
    assert drawers["unit"] == "base-drawers"
    assert drawers["width"] in families["base-drawers"].widths
    assert abs(drawers["width"] - 430.0) == min(abs(w - 430.0) for w in families["base-drawers"].widths)
    assert drawers["hand"] == "right"


def test_a_row_is_added_and_taken_out_with_its_cutouts_and_joins():
    before = open_kitchen(next(p for p in DEMOS if p.stem == "corner")).document
    more = arrange.with_row(before, "islands", {
        "name": "I", "wall": "A", "along": 800.0, "out": 1900.0, "units": ({"unit": "base-doors", "width": 600.0},)
    })  # fmt: skip
    assert [island.name for island in more.islands] == ["I"]
    assert edited(arrange.without_row(more, "islands[0]"), {"last_key": before.last_key}) == before
    less = arrange.without_row(before, "runs[1]")
    assert overs(less) == ["A4"]
    assert arrange.without_row(less, "runs[1]").runs[-1].wall == "A"


def test_the_last_unit_and_the_last_run_stay():
    with pytest.raises(InputError, match="found none; allowed: a run at least"):
        arrange.without_row(document(), "runs[0]")
    with pytest.raises(InputError, match="found none; allowed: a unit at least"):
        arrange.rearranged(document(), "runs[0]", [])


def test_a_row_that_goes_to_another_wall_takes_its_sink_along():
    after = arrange.row_changed(document(cutouts=(SINK,)), "runs[0]", {"wall": "B", "start": 500.0})
    assert overs(after) == ["B2"]
    assert build(after).cutouts[0].length == build(after).lengths[0].id


PENINSULAS = ("peninsula", "quarry")
"""Demos where a peninsula needs the overhang of the row that it stands at."""


@pytest.mark.parametrize("path", [p for p in SOME_DEMOS if p.stem not in PENINSULAS], ids=lambda p: p.stem)
def test_a_row_that_is_split_stays_where_it_is_and_every_unit_keeps_its_key(path):
    overhang = open_kitchen(path).document.worktop.overhang.model_copy(update={"ends": 0.0})
    kitchen = build(
        edited(open_kitchen(path).document, {"worktop.overhang": overhang.model_dump(), "fitted": None})
    )
    before, places, tried = kitchen.document, _places(kitchen), 0
    for field, row in arrange.rows(before).items():
        if not isinstance(row, Run) or len(row.units) == 1:
            continue
        run, at = next(run for run in kitchen.runs if run.field == field), len(row.units) // 2
        after = arrange.split(before, field, at, (run.units[0].x, run.units[at].x))
        assert _keys(before) < _keys(after)
        built = _built(after)
        if isinstance(built, InputError):
            # What lay across the split is refused by name: a join, a long cut-out, a shaped end, a return.
            assert all(re.match(r"worktop|cutouts|peninsulas|.*returns$", p.field) for p in built.problems), built
            continue
        tried += 1
        assert _places(built) == {key: (*where, pytest.approx(x, abs=0.01)) for key, (*where, x) in places.items()}
    assert tried


def _built(made):
    try:
        return build(made)
    except InputError as error:
        return error


def _places(kitchen):
    return {unit.key: (run.wall, unit.name, unit.x) for run in kitchen.runs for unit in run.units}


def _keys(made):
    return {item.key for _, item in keyed_items(made)}


def test_only_a_row_along_a_wall_is_split_and_not_at_its_ends():
    with pytest.raises(InputError, match="found a split before unit 1; allowed: 2 to 3"):
        arrange.split(document(), "runs[0]", 0, (0.0, 0.0))
    island = open_kitchen(next(p for p in DEMOS if p.stem == "island")).document
    with pytest.raises(InputError, match="allowed: a row along a wall"):
        arrange.split(island, "islands[0]", 1, (0.0, 600.0))


def test_the_plinth_turns_back_where_it_did_after_a_split():
    made = arrange.split(edited(document(), {"runs[0].returns": "both"}), "runs[0]", 1, (0.0, 600.0))
    assert [run.returns for run in made.runs[:2]] == ["left", "right"]


def test_a_join_follows_an_island_to_its_new_name():
    before = open_kitchen(next(p for p in DEMOS if p.stem == "island")).document
    name = before.islands[0].name
    joined = edited(before, {"worktop.in_line": ({"run": name, "at": 900.0},)})
    fields = before.islands[0].model_dump(exclude_unset=True, exclude={"units", "key"})
    after = arrange.row_changed(joined, "islands[0]", {**fields, "name": "Cook"})
    assert [join.run for join in after.worktop.in_line] == ["Cook"]
