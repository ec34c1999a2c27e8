"""Keys last: whatever is put in, taken out or moved, everything else is called what it was called."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.document.keys import GIVEN, keyed_items, names_by_key, top_keys, with_keys
from countersunk.model.edit import arrange
from countersunk.model.edit.edits import edited
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, build
from tests.specimens import SOME_DEMOS, document, open_kitchen

SINK = {"template": "sink.one-bowl", "over": "A2"}
DOORS = {"unit": "base-doors", "width": 400.0}


def keys_of(made):
    return [item.key for _, item in keyed_items(made)]


def meant(made):
    """What each key is the key of: everything about it but where it stands."""
    places = ("at", "start", "along", "out", "shift", "hand", "swing", "returns", "facing", "units", "corner")
    return {
        item.key: {k: v for k, v in item.model_dump(exclude_unset=True).items() if k not in places}
        for _, item in keyed_items(made)
    }


def changed(before, after):
    """How many keys that stay are the key of something else."""
    one, other = meant(before), meant(after)
    return sum(one[key] != other[key] for key in one.keys() & other.keys())


@pytest.fixture(scope="module", params=SOME_DEMOS, ids=lambda p: p.stem)
def demo(request):
    return open_kitchen(request.param)


def test_everything_has_a_key_of_its_own_and_a_file_always_the_same(demo):
    keys = keys_of(demo.document)
    assert len(set(keys)) == len(keys)
    assert all(GIVEN.fullmatch(key) for key in keys)
    assert demo.document.last_key == len(keys)
    placed = [*(r.key for r in demo.runs), *(u.key for u in demo.units), *(c.key for c in demo.cutouts)]
    placed += [opening.key for opening in demo.survey.openings]
    assert set(placed) <= set(keys)
    laid = [*placed, *(t.key for t in demo.lengths), *(j.key for j in demo.joins)]
    assert len(set(laid)) == len(laid)
    assert all(laid)


def test_no_key_is_another_thing_after_a_unit_is_put_in_anywhere(demo):
    # Of 119 names of parts that stayed, 22 were of another part once they were places in a row.
    before = demo.document
    for field, row in arrange.rows(before).items():
        for at in range(len(row.units) + 1):
            after = arrange.inserted(before, field, at, DOORS)
            assert set(keys_of(after)) - set(keys_of(before)) == {f"u-{before.last_key + 1}"}
            assert set(keys_of(before)) <= set(keys_of(after))
            assert changed(before, after) == 0
            assert [c.over for c in after.cutouts] == [c.over for c in before.cutouts]


def test_a_mirror_keeps_every_key_of_units_tops_and_what_is_let_in(demo):
    other = build(mirrored(demo.document))
    assert changed(demo.document, other.document) == 0
    for things in (Kitchen.units.func, lambda k: k.lengths, lambda k: k.cutouts, lambda k: k.runs):
        assert {thing.key for thing in things(demo)} == {thing.key for thing in things(other)}
    assert {(c.key, c.unit.key) for c in demo.cutouts} == {(c.key, c.unit.key) for c in other.cutouts}
    # A unit that is parted in its very middle counts to the top at its left, in the mirror to the other.
    here, there = ({t.key: {u.key for u in t.stretch.units} for t in k.lengths} for k in (demo, other))
    assert all(here[key] <= there[key] or here[key] >= there[key] for key in here)


@given(st.data())
def test_no_number_is_given_twice_however_units_come_and_go(data):
    made, seen = document(cutouts=(SINK,)), set(keys_of(document(cutouts=(SINK,))))
    meanings = meant(made)
    for _ in range(data.draw(st.integers(1, 8))):
        count = len(made.runs[0].units)
        at = data.draw(st.integers(0, count - 1))
        act = data.draw(st.sampled_from(["in", "out", "move", "swap"]))
        before = made
        if act == "in":
            made = arrange.inserted(made, "runs[0]", at, DOORS)
        elif act == "out" and count > 1:
            made = arrange.without_unit(made, "runs[0]", at)
        elif act == "move":
            made = arrange.moved(made, "runs[0]", at, data.draw(st.integers(-3, 3)))
        else:
            made = arrange.swapped(made, "runs[0]", at, data.draw(st.integers(0, count - 1)))
        assert not (set(keys_of(made)) - set(keys_of(before))) & seen
        seen |= set(keys_of(made))
        meanings |= {key: value for key, value in meant(made).items() if key not in meanings}
        assert all(meanings[key] == value for key, value in meant(made).items())


def test_a_number_that_was_taken_out_by_hand_is_not_given_again():
    made = document()
    assert [u.key for u in made.runs[0].units] == ["u-2", "u-3", "u-4"]
    less = arrange.without_unit(made, "runs[0]", 2)
    assert arrange.inserted(less, "runs[0]", 0, DOORS).runs[0].units[0].key == "u-5"


def test_a_place_a_name_and_a_key_lead_to_the_same_unit():
    units = (DOORS, {"unit": "base-sink", "width": 600.0, "name": "wash", "key": "wash-up"})
    run = {"wall": "A", "start": 500.0, "units": units}
    for over in ("wash", "wash-up"):
        assert document(runs=(run,), cutouts=({**SINK, "over": over},)).cutouts[0].over == "wash-up"
    assert names_by_key(document(runs=(run,))) == {"u-2": "A1", "wash-up": "wash"}


def test_what_is_over_nothing_is_refused_by_the_name_that_was_typed():
    with pytest.raises(InputError, match=r"cutouts\[0\].over: found 'A9'; allowed: a unit under a top: A1, A2, A3"):
        build(document(cutouts=({**SINK, "over": "A9"},)))


def test_a_line_that_was_copied_with_its_key_is_refused():
    run = {"wall": "A", "start": 500.0, "units": ({**DOORS, "key": "u-7"},) * 2}
    with pytest.raises(InputError, match=r"units\[1\].key: found 'u-7', which runs\[0\].units\[0\] has"):
        build(document(runs=(run,)))


@pytest.mark.parametrize("key", ["A4", "u7", "U-7", "u-", "-7", "u_7", "u-7-"])
def test_a_key_cannot_be_a_name(key):
    with pytest.raises(InputError, match="hyphens between"):
        edited(document(), {"runs[0].key": key})


def test_a_file_of_a_later_format_is_refused_before_anything_else():
    with pytest.raises(InputError) as caught:
        edited(document(), {"countersunk": 3, "ovens": 2})
    (problem,) = caught.value.problems
    assert str(problem) == (
        "countersunk: found format 3, which is newer than this version; allowed: up to 2. "
        "Try: open it with a newer version of Countersunk, which wrote it."
    )


def test_tops_of_a_row_are_numbered_by_the_oldest_unit_under_each():
    assert top_keys([("r-1", ["u-2", "u-3"]), ("r-1", ["u-4"])]) == ["r-1:top", "r-1:top-2"]
    assert top_keys([("r-1", ["u-4"]), ("r-1", ["u-9", "u-3", "u-2"])]) == ["r-1:top-2", "r-1:top"]
    assert top_keys([("r-1", ["sink-base"]), ("r-1", ["u-4"])]) == ["r-1:top-2", "r-1:top"]


@pytest.mark.parametrize("data", [None, 3, (), {"runs": 3}, {"runs": ({"units": 5}, 7)}, {"room": {"openings": {}}},
                                  {"cutouts": ({"over": []},), "last_key": "x", "countersunk": None}])  # fmt: skip
def test_what_is_no_document_is_left_to_the_schema(data):
    with_keys(data)
