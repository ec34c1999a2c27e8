"""Invented houses measured twice, before and on the fitted units, through to the papers for their tops.

`weir` is a row from wall to wall in an old house, `chandlers` a U with two joins; `terrace`, an L, is a demo.
"""

import math
from pathlib import Path

import pytest

from countersunk.model import kitchen
from countersunk.model.differences import differences
from countersunk.model.survey.weighing import weigh
from countersunk.viewer.drawing.fitted_sheet import fitted_sheets
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.papers import sheets
from countersunk.viewer.drawing.survey_sheet import survey_sheet

HOUSES = Path(__file__).parent / "houses"


@pytest.fixture(scope="module")
def weir():
    return kitchen.open_kitchen(HOUSES / "weir.yaml")


@pytest.fixture(scope="module")
def chandlers():
    return kitchen.open_kitchen(HOUSES / "chandlers.yaml")


def beyond(house):
    return {d.what for d in differences(house) if d.judged == "beyond"}


# Between the walls at the units' backs: 35 + (2763 + 2764) / 2 + 42 = 2840.5. These stand 2 before the wall, and
# the walls come nearer by 10 and 13 over the 578 to the fronts: at the wall (10 + 13) / 578 · 2 = 0.08 more.
def test_a_row_from_wall_to_wall_is_as_long_as_what_was_fitted_and_its_gaps(weir):
    assert weir.survey.wall("A").length == pytest.approx(2840.58, abs=0.01)
    (top,), (planned,) = weir.lengths, weir.planned.lengths
    lowered = weir.planned.survey.wall("A").length - planned.part.length
    assert lowered == pytest.approx(2.2, abs=0.2)  # the 2 of the allowance, and what tilting takes
    assert top.part.length == pytest.approx(2840.58 - lowered, abs=0.1)


def test_its_survey_agrees_and_says_where_a_wall_leans(weir):
    weighing = weigh(weir.document.room)
    assert weighing.verdict.sound
    assert [round(lean.more, 1) for lean in weighing.leaning] == [pytest.approx(10.6, abs=0.1)]
    assert beyond(weir) == {
        "A1 to A6",
        "the gap at the right of A6, front",
        "wall A to the back of A3 at its middle",
    }


# The angle of B-C: 90.7 ± 0.2, and by the tape acos((800² + 600² - 1006²) / (2 · 800 · 600)) = 90.7184 with ± 2 mm,
# which are 2 · 1006 / (800 · 600 · sin) radians, 0.2402°. Weights 1/0.2² and 1/0.2402²: 90.7075.
# Fronts stand 580 before the walls and meet 580 / tan(A / 2) from the corner.
def test_a_u_is_cut_to_both_of_its_corners_as_fitted(chandlers):
    assert [join.angle for join in chandlers.joins] == pytest.approx([89.4, 90.7075], abs=1e-3)
    inner = [580.0 / math.tan(math.radians(angle / 2)) for angle in (89.4, 90.7075)]
    assert chandlers.survey.wall("A").length == pytest.approx(28.0 + 1993.0 + inner[0], abs=0.01)
    ends = {unit.name: unit.right for unit in chandlers.units}
    assert ends["B4"] == pytest.approx(inner[0] + 1510.0, abs=0.01)
    assert ends["C5"] == pytest.approx(inner[1] + 1590.0, abs=0.01)
    last = chandlers.lengths[-1]
    assert last.x + last.part.length == pytest.approx(ends["C5"] + 10.0, abs=0.01)  # the overhang at a free end
    assert {"corner A-B", "corner B-C", "length of T1", "length of T2"} <= beyond(chandlers)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["weir", "chandlers"])
def test_the_survey_and_what_was_fitted_are_on_sheets(name, request):
    house = request.getfixturevalue(name)
    (page,) = fitted_sheets(house)
    for sheet in (survey_sheet(house), page):
        assert f"From readings on the fitted units, of {house.fitted.date}" in [w for w, _ in words_on(sheet)]


@pytest.mark.slow
@pytest.mark.parametrize("name", ["weir", "chandlers"])
def test_every_paper_for_a_top_says_what_it_is_from(name, request):
    house = request.getfixturevalue(name)
    words = f"From readings on the fitted units, of {house.fitted.date}"
    tops = [s for s in sheets(house) if s.name.startswith(("T", "J"))]
    assert len(tops) >= 2 * len(house.lengths) + len(house.joins)
    assert [s.name for s in tops if words not in [w for w, _ in words_on(s)]] == []
