"""Scribe sheets and strips of a top at a bowed wall, worked by hand."""

from itertools import pairwise

import pytest
from shapely import LineString

from countersunk.model.kitchen import build
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.papers import has_templates
from countersunk.viewer.drawing.scribe_sheets import met_panels, offsets, scribe_sheets, scribed
from countersunk.viewer.drawing.scribe_strip import strip_sheet, strip_sheets, strips
from countersunk.viewer.drawing.shapes import Path
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.template_pages import OVERLAP
from tests.specimens import SQUARE_ROOM, document
from tests.viewer.words import check_apart, check_inside


def bowed(*hollow, **changes):
    """The specimen's row of 400, 600 and 600 from 500 on, wall A read every 1000; 10 over either end."""
    wall = {**SQUARE_ROOM[0], "bow": {"every": 1000.0, "offsets": hollow}}
    return build(document(room={"walls": (wall, *SQUARE_ROOM[1:])}, **changes))


def test_offsets_of_a_hollow_wall_by_hand():
    """The top goes from 490 to 2110 and is pushed back by the 10 that the wall is hollow from 1000 to 2000. At its
    left end, its datum, the wall is hollow 4.9, so 5.1 comes off; 100 further 5.9 and 4.1. At 510 it is 1000 along
    the wall: nothing comes off. At its right end 10 x 890 / 1000 = 8.9 are hollow, and 1.1 comes off.
    """
    ((length, scribe),) = scribed(bowed(0.0, 10.0, 10.0, 0.0))
    found = {round(at): (behind, off) for at, behind, off in offsets(length, scribe)}
    assert list(found) == [*range(0, 1600, 100), 1620], "1600 is left out beside the end"
    assert found[0] == pytest.approx((4.9, 5.1))
    assert found[100] == pytest.approx((5.9, 4.1))
    assert found[600] == pytest.approx((10.0, 0.0))
    assert found[1620] == pytest.approx((8.9, 1.1))


def test_a_bulge_is_cut_from_a_top_that_stays_where_it_is():
    """Bulging 10 at 1000, 0 at 2000: at 200 from the datum, 690 along the wall, 6.9 comes off; at 1500 and 1990
    along it 0.1; past 2000 nothing.
    """
    ((length, scribe),) = scribed(bowed(0.0, -10.0, 0.0, 0.0))
    assert scribe.pushed == 0.0
    found = {round(at): off for at, _, off in offsets(length, scribe)}
    assert found[200] == pytest.approx(6.9)
    assert found[1500] == pytest.approx(0.1)
    assert found[1620] == 0.0


def test_silicone_closes_3_and_nothing_is_printed_for_it():
    kitchen = bowed(0.0, 3.0, 3.0, 0.0)
    assert scribed(kitchen) == []
    assert not has_templates(kitchen)
    assert has_templates(bowed(0.0, 4.0, 4.0, 0.0))


@pytest.mark.parametrize("on", ["a4", "a3"])
def test_strips_laid_cross_on_cross_are_the_line_at_full_size_seen_from_below(on):
    """From below left and right are swapped: the datum is at the right, and -x is the distance from it."""
    (strip,) = strips(bowed(0.0, 10.0, 10.0, 0.0))
    views = [view for sheet in strip_sheets(strip, on) for view in sheet.views if not view.is_paper]
    red = [
        LineString(m.points)
        for v in views
        for m in v.marks
        if isinstance(m, Path) and m.stroke is Stroke.LINE_TO_CUT
    ]
    ends = sorted((line.bounds[0], line.bounds[2]) for line in red)
    assert (ends[0][0], ends[-1][1]) == pytest.approx((-1620.0, 0.0))
    assert all(b[0] == pytest.approx(a[1] - OVERLAP) for a, b in pairwise(ends))
    assert all(view.scale == 1.0 for view in views)
    lowest = min(line.bounds[1] for line in red)
    assert lowest == pytest.approx(-5.1)
    (whole,) = strip_sheet(strip).views
    (line,) = [m for m in whole.marks if isinstance(m, Path) and m.stroke is Stroke.LINE_TO_CUT]
    assert line.points[-1] == pytest.approx((0.0, -5.1)) or line.points[0] == pytest.approx((0.0, -5.1))


def test_words_of_every_sheet_stand_apart_and_inside():
    kitchen = bowed(0.0, 10.0, 10.0, 0.0)
    sheets = [*scribe_sheets(kitchen), *(s for strip in strips(kitchen) for s in strip_sheets(strip))]
    check_apart(sheets)
    for sheet in sheets:
        check_inside(sheet, 7.0 if sheet.name.startswith("scribe") else 10.0)


def test_a_panel_at_a_bowed_wall_has_a_form_and_says_what_the_survey_knows():
    """A panel of 18 from 500 on: its middle is 509 along the wall, which is hollow 10 x 509 / 1000 = 5.09 there."""
    row = ({"unit": "end-panel", "width": 18.0}, {"unit": "base-doors", "width": 600.0})
    kitchen = bowed(0.0, 10.0, 10.0, 0.0, runs=({"wall": "A", "start": 500.0, "units": row},))
    (panel,) = met_panels(kitchen)
    assert (panel.at, panel.behind) == pytest.approx((509.0, 5.09))
    *_, sheet = scribe_sheets(kitchen)
    words = " ".join(text for text, _ in words_on(sheet))
    assert "hollow by 5.1 there; leave the panel 5.1 deeper than listed" in words
    check_apart([sheet])
    assert met_panels(build(document())) == []
