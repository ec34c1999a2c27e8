"""Losses: what is worse after a change, by findings made by hand, and by units that change places."""

import pytest

from countersunk.model.checks import check
from countersunk.model.checks.finding import Aspect, Severity, Stop, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Sort, Thing, of_unit
from countersunk.model.cures import choices
from countersunk.model.cures.losses import losses
from countersunk.model.cures.move import Scope
from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import build
from tests.model.test_checks import finding, kitchen, run, unit

MUST, NOTE = (Severity.MUST,), (Severity.NOTE,)
HOB = Thing(Sort.CUTOUT, "c-1")


def at(value, subject=HOB, side=Aspect.LEFT, against=Stop.END, **changes):
    """A must of at least 100 mm at a place, with what was measured there."""
    return finding(value=value, where=Where(Phrase.LANDING, subject, side, against), **changes)


def lost(before, after):
    """What was measured where it is worse."""
    return [loss.after.value for loss in losses(before, after, MUST)]


@pytest.mark.parametrize(
    ("before", "after", "worse"),
    [
        ([90.0], [35.0], [35.0]),  # missed already, and now by more
        ([90.0], [95.0], []),
        ([90.0], [90.0], []),
        ([300.0], [100.0], []),  # less than it was, and still met
        ([100.0], [99.9], [99.9]),
        ([], [50.0], [50.0]),  # a place that was not there
        ([], [150.0], []),
        ([50.0], [], []),  # a place that has gone
        ([None], [50.0], [50.0]),  # nobody knew that it was missed
        ([50.0], [None], [None]),
        ([None], [None], []),
        ([120.0, 40.0], [60.0, 40.0], [60.0]),  # of several alike the worst against the worst
        ([60.0, 40.0], [40.0, 120.0], []),
        ([60.0], [60.0, 50.0], [50.0, 60.0]),  # one more of them, and it is worse than the worst
    ],
)
def test_a_place_is_worse_where_it_is_missed_and_was_less(before, after, worse):
    reason = {"reason": "why"}
    mine = [[at(v, **({} if v is not None else reason)) for v in some] for some in (before, after)]
    assert lost(*mine) == worse


def test_another_subject_side_or_thing_against_is_another_place():
    before = [at(50.0)]
    for other in ({"subject": WHOLE}, {"side": Aspect.RIGHT}, {"against": Stop.WALL}, {"rule": "other"}):
        assert lost(before, [at(60.0, **other)]) == [60.0]
    assert lost(before, [at(60.0, place="in other words", ids=("A7",))]) == []


def test_only_the_severities_that_are_asked_count():
    note = [at(50.0, severity=Severity.NOTE)], [at(40.0, severity=Severity.NOTE)]
    assert lost(*note) == []
    assert [(loss.after.value, loss.before.value) for loss in losses(*note, NOTE)] == [(40.0, 50.0)]


def test_a_unit_that_changes_its_place_is_held_against_itself():
    """One hangs lower than the other. Where they change places their names do, and what was measured goes along."""
    uppers = run(unit("wall-doors", 600), unit("wall-open", 600, bottom=1300.0), level="upper")
    built = kitchen(run(unit("base-doors", 600), unit("base-doors", 600)), uppers)
    swap = next(
        m for m in choices.choices(built, Scope(frozenset("A"), frozenset())) if "let AU1 and AU2" in m.words
    )
    after = build(edited(built.document, dict(swap.changes)))
    first, again = built.runs[1].units[0], after.runs[1].units[1]
    assert (first.name, again.name) == ("AU1", "AU2")
    assert of_unit(first) == of_unit(again)
    clear = [
        {f.spot.against: f.value for f in check(k) if f.measure == "worktop.to_wall_unit"} for k in (built, after)
    ]
    assert clear[0] == clear[1]
    assert len(set(clear[0].values())) == 2
