"""Survey: rooms, misclosure and its adjustment."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import cos_sin
from countersunk.model.survey import survey_room

pytestmark = pytest.mark.quick


def room(*walls, **changes):
    named = [
        {"name": n, "length": float(length), **({"corner": float(c)} if c else {})}
        for n, (length, c) in zip("ABCDEFGH", walls, strict=False)
    ]
    return Room.model_validate({"walls": tuple(named), **changes})


def test_walls_turn_to_the_right_with_the_room_inside():
    survey = survey_room(room((4000, 90), (3000, 90), (4000, 90), (3000, 90)))
    assert [w.start for w in survey.walls] == [(0, 0), (4000, 0), (4000, -3000), (0, -3000)]
    assert survey.outline.area == 4000 * 3000
    assert survey.wall("B").frame.to_room((100, 50, 0)) == (3950, -100, 0)


def test_open_survey_is_taken_as_measured():
    survey = survey_room(room((3000, 91.2), (2400, None)))
    x, y = survey.walls[1].end
    assert (x, y) == pytest.approx(
        (3000 + 2400 * math.cos(math.radians(88.8)), -2400 * math.sin(math.radians(88.8)))
    )
    assert survey.misclosure is None
    assert survey.next_wall(survey.walls[1]) is None


def test_the_misclosure_is_shared_by_what_each_reading_may_be_off():
    # Worked: a rectangle 4000 x 3000 whose third wall was read 12 mm too long. Along x walls A and C give t each,
    # and B and D lean by u at either end, so that 2 t + 6000 u = 12. The least 2 t²/σw² + 4 u²/σc² has t = λ σw²/2
    # and u = 750 λ σc², thus λ (σw² + 4.5e6 σc²) = 12 with σw = 1.5 mm and σc = 0.15° = 0.0026180: t = 0.40795 mm
    # and u = 0.10679°. (To the first order: the lean shortens B and D by less than 0.01 mm.)
    survey = survey_room(room((4000, 90), (3000, 90), (4012, 90), (3000, 90)))
    assert survey.misclosure.length == pytest.approx(12.0)
    assert [w.length for w in survey.walls] == pytest.approx([4000.408, 3000.0, 4011.592, 3000.0], abs=0.01)
    assert [w.corner for w in survey.walls] == pytest.approx([90.1068, 89.8932, 89.8932, 90.1068], abs=2e-4)
    assert survey.walls[3].end == pytest.approx((0.0, 0.0), abs=1e-6)


def test_what_agrees_is_left_as_it_was_read_to_the_last_bit():
    survey = survey_room(room((4000.1, 90), (3000.7, 90), (4000.1, 90), (3000.7, 90)))
    assert [w.length for w in survey.walls] == [4000.1, 3000.7, 4000.1, 3000.7]
    assert [w.heading for w in survey.walls] == [0.0, -90.0, 180.0, 90.0]


def test_a_room_with_one_odd_corner_that_was_not_measured_is_solved():
    # Worked: a right trapezium 4000, 3000, 3000 and √(1000² + 3000²); the corner C-D is 180° - atan(3).
    slant, steep = math.hypot(1000, 3000), math.degrees(math.atan2(3000, 1000))
    survey = survey_room(room((4000, 90), (3000, 90), (3000, None), (slant, steep)))
    assert survey.walls[2].corner == pytest.approx(180.0 - steep, abs=1e-6)
    assert survey.outline.area == pytest.approx(3000 * 3500)


def test_four_sides_and_one_corner_are_a_room():
    slant, steep = math.hypot(1000, 3000), math.degrees(math.atan2(3000, 1000))
    survey = survey_room(room((4000, 90), (3000, None), (3000, None), (slant, None)))
    assert [w.corner for w in survey.walls] == pytest.approx([90.0, 90.0, 180.0 - steep, steep], abs=1e-6)


def test_five_sides_and_one_corner_are_not():
    with pytest.raises(InputError, match=r"room.walls\[1\]: found no corner"):
        survey_room(room((4000, 90), (3000, None), (3000, None), (3000, None), (2000, None)))


def test_angles_of_a_closed_survey_are_adjusted_equally():
    survey = survey_room(room((4000, 90.2), (3000, 90), (4000, 90), (3000, 90.2)))
    assert survey.misclosure.angle == pytest.approx(0.4)
    assert sum(w.corner for w in survey.walls) == pytest.approx(360.0)


@given(
    st.lists(st.floats(1500, 6000), min_size=2, max_size=2),
    st.floats(-0.2, 0.2),
    st.floats(-5, 5),
)
def test_a_closed_survey_always_closes(sides, turn, stretch):
    a, b = sides
    survey = survey_room(room((a, 90 + turn), (b, 90), (a + stretch, 90), (b, 90 - turn)))
    assert survey.walls[-1].end == pytest.approx((0.0, 0.0), abs=1e-6)
    assert sum(w.corner for w in survey.walls) == pytest.approx(360.0, abs=1e-6)


@pytest.mark.parametrize(
    ("walls", "changes", "words"),
    [
        (((4000, 90), (3000, 90), (4000, 90), (3000, 95)), {}, r"corners that add up to 365°.*360° ± 1°"),
        (((4000, 90), (3000, 90), (4100, 90), (3000, 90)), {}, "end 100 mm from where they began"),
        (((4000, None), (3000, 90)), {}, r"room.walls\[0\]: found no corner"),
        (
            ((4000, 90), (3000, 90)),
            {},
            r"room.walls: found 2 with a corner at the last; .* leave out the last corner",
        ),
        (((4000, 90),), {}, r"room.walls: found 1 with a corner at the last"),
        (
            ((4000, 90), (3000, None)),
            {"openings": ({"kind": "door", "wall": "Z", "at": 0.0, "width": 900.0},)},
            "a wall: A, B",
        ),
        (
            ((4000, 90), (3000, None)),
            {"openings": ({"kind": "door", "wall": "A", "at": 3500.0, "width": 900.0},)},
            "at most 500 mm here",
        ),
        (
            ((4000, 90), (3000, None)),
            {"openings": ({"kind": "window", "wall": "A", "at": 0.0, "width": 900.0, "sill": 2100.0},)},
            "sill 2100, head 2000",
        ),
    ],
)
def test_surveys_that_cannot_be_are_refused(walls, changes, words):
    with pytest.raises(InputError, match=words):
        survey_room(room(*walls, **changes))


def test_a_heading_that_misses_a_full_turn_by_rounding_is_no_turn():
    # Inside angles of 6 walls round a reflex corner, as measured: headings add up to -1e-14.
    assert cos_sin(-1e-14) == (1.0, 0.0)
    assert cos_sin(360.0 - 1e-14) == (1.0, 0.0)
