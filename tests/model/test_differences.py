"""What was fitted against what was planned: each judged by the tolerance of the survey, and what it means."""

import pytest

from countersunk.model.certainty.certainty import top_fits
from countersunk.model.differences import consequences, differences
from countersunk.model.kitchen import build
from tests.specimens import document

SINK = {"template": "sink.one-bowl", "over": "A2"}


def fitted(**readings):
    return build(document(cutouts=(SINK,), fitted={"date": "2026-11-20", **readings}))


def test_a_kitchen_that_was_measured_once_has_none():
    kitchen = build(document())
    assert (differences(kitchen), consequences(kitchen)) == ((), ())


# Walls of the room were read ± 3: a run 2 mm longer is within it, one 4 mm longer beyond. The top goes with it.
@pytest.mark.parametrize(("length", "judged"), [(1602.0, "within"), (1604.0, "beyond")])
def test_a_longer_run_is_judged_by_the_tolerance_of_the_survey(length, judged):
    run, top = differences(fitted(lengths=({"from": "A1", "to": "A3", "length": length},)))
    assert (run.what, run.planned, run.fitted, run.tolerance) == ("A1 to A3", 1600.0, length, 3.0)
    assert (run.judged, bool(run.meaning)) == (judged, judged == "beyond")
    assert (top.what, top.planned, top.fitted) == (
        "length of T1",
        pytest.approx(1620.0),
        pytest.approx(length + 20.0),
    )
    assert top.difference == pytest.approx(length - 1600.0)


def test_a_hollow_wall_is_said_with_the_rule_that_is_met_no_more():
    kitchen = fitted(walls=({"unit": "A1", "back": 7.0}, {"unit": "A3", "side": "right", "back": 7.0}))
    wall, *_ = differences(kitchen)
    assert (wall.judged, wall.meaning) == ("beyond", "5.0 mm more stays open behind the top")
    assert [words for words in consequences(kitchen) if "against wall A" in words] == [
        "T1 against wall A, 0 from its left end: 5 mm, asked for at most 3 mm"
    ]


# Read ± 1, so with a standard deviation of 0.5, which moves the free end of the top by as much; no wall does.
def test_how_sure_a_top_is_follows_from_the_readings_on_the_units():
    (fit,) = top_fits(fitted(lengths=({"from": "A1", "to": "A3", "length": 1604.0},)))
    assert (fit.length, fit.sigma) == pytest.approx((1624.0, 0.5), abs=1e-6)
    assert (fit.doubt[0].what, fit.doubt[1]) == ("A1 to A3", pytest.approx(1.0))


# A row of 3010 fits a length of 3600 alone; of 2990 one of 3000. Its run is 2970 and overhangs 10 at either end.
def test_a_top_that_takes_a_longer_stock_says_so():
    units = tuple({"unit": "base-doors", "width": w} for w in (1000.0, 1000.0, 500.0, 450.0))
    walls = tuple({"name": n, "length": 4000.0, "corner": 90.0} for n in "ABCD")
    runs = ({"wall": "A", "start": 200.0, "units": units},)
    readings = {"lengths": ({"from": "A1", "to": "A4", "length": 2984.0},)}
    kitchen = build(document(room={"walls": walls}, runs=runs, fitted={"date": "2026-11-20", **readings}))
    *_, top = differences(kitchen)
    assert (top.planned, top.fitted) == (pytest.approx(2970.0), pytest.approx(3004.0))
    assert top.meaning == "takes a stock length of 3600 in place of 3000"


def test_a_reading_that_is_not_used_is_told():
    gone, _ = differences(fitted(heights=({"unit": "u-99", "height": 870.0},)))
    assert (gone.what, gone.judged) == ("fitted.heights[0]", "not used")
    assert gone.meaning.startswith("names a unit that is not in the kitchen any more")
