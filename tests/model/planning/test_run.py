"""A run fitted between what it stands between: other rows, in inches, at walls that lean or bulge."""

import math

import pytest

from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.planning.run import fit_run


def rough(runs, catalogue="metric", stock="pf38.600", a=2900.0, corner=90.0, **wall_b):
    lengths = {"A": a, "B": 2800.0, "C": a, "D": 2800.0}
    corners = {"A": corner, "B": 180.0 - corner, "C": corner, "D": 180.0 - corner}
    walls = [{"name": n, "length": mm, "corner": corners[n]} for n, mm in lengths.items()]
    walls[1] |= wall_b
    given = {"kitchen": "Rough", "catalogue": catalogue, "room": {"walls": tuple(walls)}, "runs": tuple(runs)}
    return Document(**given, worktop={"stock": stock, "decor": "pale-oak"}, fronts={"decor": "sage"})


def run(wall, *units, **more):
    sized = ({"unit": code, **({"width": mm} if mm else {})} for code, mm in units)
    return {"wall": wall, "units": tuple(sized), **more}


ROW = run("A", ("base-drawers", 0.0), ("base-sink", 600.0), ("dishwasher", 600.0), ("base-drawers", 0.0))


def test_inches_are_fitted_with_widths_of_the_inch_catalogue():
    # 10 ft: two units of 30 in beside 36 in and 24 in fill it exactly
    row = run("A", ("base-drawers", 0.0), ("base-sink", 914.4), ("dishwasher", 609.6), ("base-drawers", 0.0))
    fitted = fit_run(rough([row], "inch", "sq-26in", a=3048.0), "A")
    assert [u.width for u in fitted.run.units] == [762.0, 914.4, 609.6, 762.0]
    assert fitted.left_over == 0.0
    assert build(fitted.document).units[-1].right == pytest.approx(3048.0)


def test_a_filler_that_was_not_needed_is_not_told():
    # 900 + 600 + 600 + 800 are 2900
    fitted = fit_run(rough([ROW]), "A")
    assert [u.unit for u in fitted.run.units] == ["base-drawers", "base-sink", "dishwasher", "base-drawers"]
    assert fitted.added == ()


def test_a_filler_that_the_file_lists_stays():
    # Without it 900 + 600 + 600 + 800 would fill 2900; with it 20 are the least, and 2 × 800 leave 100 for it.
    listed = {**ROW, "units": (*ROW["units"], {"unit": "filler"})}
    fitted = fit_run(rough([listed]), "A")
    assert [(u.unit, u.width) for u in fitted.run.units[3:]] == [("base-drawers", 800.0), ("filler", 100.0)]
    assert sum(u.width for u in fitted.run.units) == 2900.0


def test_a_filler_that_the_file_lists_is_not_dropped_to_make_room():
    row = run("A", ("base-hob", 900.0), ("base-hob", 900.0), ("filler", 0.0), ("base-hob", 900.0))
    with pytest.raises(InputError, match="at least 2720 mm"):
        fit_run(rough([row], a=2710.0), "A")


@pytest.mark.parametrize("corner", [89.0, 91.0])
def test_the_narrowest_depth_counts_where_a_wall_leans(corner):
    # a parallelogram: over the row's depth, 560 of units, 18 of fronts and 2 behind, it comes in by 580 x tan 1
    fitted = fit_run(rough([ROW], corner=corner), "A")
    assert fitted.stretch.length == pytest.approx(2900.0 - 580.0 * math.tan(math.radians(1.0)), abs=0.1)
    assert sum(u.width for u in fitted.run.units) == pytest.approx(fitted.stretch.length, abs=0.2)


def test_the_narrowest_depth_counts_where_a_wall_bulges():
    # wall B bulges by 12 at 560 from the corner, within the row's depth
    fitted = fit_run(rough([ROW], bow={"every": 560.0, "offsets": (0.0, -12.0, 0.0, 0.0, 0.0, 0.0)}), "A")
    assert fitted.stretch.length == pytest.approx(2888.0, abs=0.1)


def test_between_two_rows_a_filler_at_either_end_lets_handles_pass():
    middle = run("B", ("base-drawers", 0.0), ("base-hob", 600.0), ("base-drawers", 0.0))
    left = run("A", ("base-drawers", 600.0), ("base-sink", 600.0), ("base-corner", 1100.0), start=582.0)
    right = run("C", ("base-corner", 1100.0), ("base-drawers", 600.0), start=5.0)
    fitted = fit_run(rough([left, middle, right]), "B")
    first, *_, last = fitted.run.units
    assert (first.unit, last.unit) == ("filler", "filler")
    assert min(first.width, last.width) >= 50.0
    assert fitted.left_over == 0.0
