"""Points that are set out of a boundary, by hand."""

import pytest
from shapely import LineString, box

from countersunk.model.errors import SolidError
from countersunk.model.geometry.profile import less, one_polygon, quarter, set_out_points

pytestmark = pytest.mark.quick


def test_an_arc_is_set_out_by_its_ends():
    line = LineString([(0, 0), *quarter((200, 120), 120, -90), (320, 600)])
    expected = [(0, 0), (200, 0), (320, 120), (320, 600)]
    assert [pytest.approx(p) for p in expected] == set_out_points(line)


def test_two_arcs_on_one_straight_end_are_four_points():
    line = LineString([(0, 0), *quarter((200, 120), 120, -90), *quarter((200, 480), 120, 0), (0, 600)])
    assert len(set_out_points(line)) == 6


def test_a_tight_arc_is_set_out_as_the_corner_that_it_rounds():
    # Round a column from 100 to 300, 150 deep, its inside corners 3: up one side, along and down the other.
    corners = [*reversed(quarter((103, 147), 3, 90)), *reversed(quarter((297, 147), 3, 0))]
    found = set_out_points(LineString([(100, 0), *corners, (300, 0)]))
    assert [pytest.approx(p) for p in [(100, 0), (100, 150), (300, 150), (300, 0)]] == found


def test_a_bowed_back_is_set_out_by_its_ends():
    line = LineString([(0, 0), (500, 3), (1000, 6), (1500, 4), (2000, 0)])
    assert set_out_points(line) == [(0, 0), (2000, 0)]


def test_a_hair_beside_what_is_cut_is_gone_with_it_and_a_second_piece_is_not():
    top = box(0, 0, 600, 600)
    assert one_polygon(less(top, box(1e-9, -1, 601, 10))).equals(box(0, 10, 600, 600))
    assert one_polygon(less(top, box(-1, 10, 601, 601))).equals(box(0, 0, 600, 10))
    with pytest.raises(SolidError):
        one_polygon(less(top, box(-1, 10, 601, 11)))
