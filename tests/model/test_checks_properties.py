"""What holds whatever the figures: less room never cures, and what moves together keeps its distances."""

from collections import Counter

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from countersunk.model.checks import check
from countersunk.model.checks.rules import Rules
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from tests.lanes import examples, some, tries
from tests.model.cases import CASES, Kind
from tests.model.cases.table import RULES
from tests.model.test_checks import HOB, SINK, kitchen, let_in, run, unit
from tests.moved import told
from tests.specimens import SOME_DEMOS, open_kitchen
from tests.strategies import kitchens

LONG = {"walls": tuple({"name": n, "length": 6000.0, "corner": 90.0} for n in "ABCD")}
QUICK = settings(max_examples=tries(15), deadline=None, suppress_health_check=list(HealthCheck))
FEW = settings(QUICK, max_examples=examples(5, 2))


def ranges():
    """Scenes of the table with one number that leads from a case that fails to one that passes."""
    good = {(c.scene, c.rule): c for c in CASES if c.kind is Kind.PASS}
    for bad in (c for c in CASES if c.kind is Kind.FAIL and (c.scene, c.rule) in good):
        to = good[bad.scene, bad.rule]
        if len(bad.given) != len(to.given):
            continue
        differ = [i for i, (a, b) in enumerate(zip(bad.given, to.given, strict=True)) if a != b]
        if len(differ) == 1 and isinstance(bad.given[differ[0]], int | float):
            yield bad, to, differ[0]


RANGES = list(ranges())
NAMES = [f"{bad.rule}, {bad.scene.__name__}" for bad, *_ in RANGES]


def margin(case, values):
    found = [f for f in check(case.scene(*values), Rules((RULES[case.rule],))) if case.place in f.place]
    return min(f.margin for f in found)


@pytest.mark.parametrize(("bad", "good", "i"), some(RANGES, 9), ids=some(NAMES, 9))
@FEW
@given(shares=st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted))
def test_less_room_never_turns_a_miss_into_a_pass(bad, good, i, shares):
    a, b = bad.given[i], good.given[i]
    steps = [(*bad.given[:i], round(a + (b - a) * share, 3), *bad.given[i + 1 :]) for share in shares]
    try:
        less, more = (margin(bad, values) for values in steps)
    except InputError:
        assume(False)
    assert less <= more


def test_nearly_every_measure_is_shrunk():
    assert len({bad.measure for bad, *_ in RANGES}) >= 75


def row(start):
    units = (
        unit("base-sink", 600), unit("dishwasher", 600), unit("base-doors", 400), unit("base-hob", 600),
        unit("base-doors", 500), unit("tall-larder", 600), unit("tall-fridge"),
    )  # fmt: skip
    uppers = (unit("wall-doors", 600), unit("wall-doors", 600))
    return kitchen(
        run(*units, start=start), run(*uppers, start=start + 400, level="upper"),
        cutouts=(let_in(SINK, "A1"), let_in(HOB, "A4")), room=LONG,
    )  # fmt: skip


def within(built):
    """Findings whose places name no wall of the room."""
    return {
        (f.rule, f.place): (f.value, f.verdict)
        for f in check(built)
        if "wall " not in f.place.replace("wall unit", "")
    }


@pytest.mark.slow
@QUICK
@given(st.floats(650, 1450))
def test_a_row_moved_along_its_wall_keeps_its_distances(start):
    assert within(row(start)) == within(row(1000.0))
    assert len(within(row(start))) > 40


@pytest.mark.slow
@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
@pytest.mark.parametrize("turn", some([1, 2, 3], 3))
def test_a_kitchen_looked_at_from_another_wall_has_the_same_values(path, turn):
    """The room's frame begins at the first wall, so that naming another first turns and moves everything in it."""
    before = open_kitchen(path)
    room = before.document.room
    walls = room.walls[turn:] + room.walls[:turn]
    after = build(before.document.model_copy(update={"room": room.model_copy(update={"walls": walls})}))
    ours, theirs = (Counter((f.rule, f.verdict) for f in check(built)) for built in (before, after))
    assert ours == theirs
    values = [sorted(round(f.value or 0.0, 1) for f in check(built)) for built in (before, after)]
    assert values[0] == pytest.approx(values[1], abs=0.11)


@settings(QUICK, max_examples=tries(25))
@given(kitchens(), st.tuples(st.integers(-180, 180), st.integers(-9999, 9999), st.integers(-9999, 9999)))
def test_a_random_kitchen_that_lies_elsewhere_has_the_same_values(data, move):
    try:
        document = Document.model_validate(data)
        build(document)
    except InputError:
        return
    assert told(document, move).differs_from(told(document)) == []
