"""Traverses: a textbook's compass rule, and the measurement that most likely is wrong."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.survey import survey_room
from countersunk.model.survey.blunders import blunders
from countersunk.model.survey.shape import shape_of
from countersunk.model.survey.traverse import Traverse
from tests.lanes import tries

# Departures and latitudes of a closed traverse before and after the compass rule, in feet: the worked example of
# Ghilani and Wolf, Elementary Surveying, chapter "Traverse computations", from memory. Its misclosures are
# 0.026 and 0.077 on a perimeter of 2466.00.
LENGTHS = (647.25, 203.03, 720.35, 610.24, 285.13)
MEASURED = (
    (517.451, -388.815),
    (5.966, -202.942),
    (192.889, 694.045),
    (-590.565, 153.708),
    (-125.715, -255.919),
)
BALANCED = (
    (517.444, -388.835),
    (5.964, -202.948),
    (192.881, 694.022),
    (-590.571, 153.689),
    (-125.718, -255.928),
)


def clockwise(courses):
    """The book walks its traverse anticlockwise, a room's walls run the other way. A corner of 17° is no room's."""
    return [(-x, -y) for x, y in reversed(courses)]


def inside(courses):
    """The angle at the end of each course, degrees."""
    ways = [math.degrees(math.atan2(y, x)) for x, y in courses]
    return [(180.0 - (a - b)) % 360.0 for a, b in zip(ways, [*ways[1:], ways[0]], strict=True)]


def test_a_textbooks_traverse_balances_as_the_book_has_it():
    measured, balanced = clockwise(MEASURED), clockwise(BALANCED)
    traverse = Traverse(tuple(reversed(LENGTHS)), tuple(inside(measured)))
    assert math.hypot(*traverse.gap) == pytest.approx(math.hypot(0.026, 0.077), abs=0.01)
    turn = math.atan2(measured[0][1], measured[0][0])
    for (x, y), book in zip(traverse.balanced().closed(), balanced, strict=True):
        c, s = math.cos(turn), math.sin(turn)
        assert (x * c - y * s, x * s + y * c) == pytest.approx(book, abs=0.004)


L_SHAPE = ((4200.0, 90.0), (3600.0, 90.0), (1700.0, 90.0), (1400.0, 270.0), (2500.0, 90.0), (2200.0, 90.0))
"""A room of six walls in which no wall but its parallel can stand for another."""


def room(walls, **more):
    named = tuple({"name": n, "length": w, "corner": c} for n, (w, c) in zip("ABCDEFGH", walls, strict=False))
    return Room.model_validate({"walls": named, **more})


def wrong(walls, i, length=0.0, angle=0.0):
    return [(w + length, c + angle) if i == j else (w, c) for j, (w, c) in enumerate(walls)]


def refusal(surveyed):
    with pytest.raises(InputError) as caught:
        survey_room(surveyed)
    (problem,) = caught.value.problems
    return problem


def test_opposite_walls_explain_a_gap_equally_well_and_both_are_named():
    problem = refusal(room([(4000.0, 90.0), (3000.0, 90.0), (4100.0, 90.0), (3000.0, 90.0)]))
    assert problem.found == "walls that end 100 mm from where they began"
    assert problem.advice == (
        "measure wall A again (4100 would close the room), or wall C again (4000 would close the room); "
        "measure A-B to C-D as well, which tells wall A from wall C"
    )


def test_a_diagonal_tells_opposite_walls_apart():
    walls = [(4000.0, 90.0), (3000.0, 90.0), (4100.0, 90.0), (3000.0, 90.0)]
    both = tuple({"from": a, "to": b, "length": 5000.0} for a, b in (("A-B", "C-D"), ("B-C", "D-A")))
    problem = refusal(room(walls, diagonals=both))
    assert problem.field == "room.walls[2].length"
    assert problem.advice == "measure wall C again (4000 would close the room)"


def test_a_wrong_corner_is_named_with_the_angle_that_closes_the_room():
    problem = refusal(room(wrong(L_SHAPE, 1, angle=3.0)))
    assert (problem.field, problem.found) == ("room.walls[1].corner", "corners that add up to 723°")
    assert problem.advice == "measure corner B-C again (90.0° would close the room)"


def test_a_corner_taken_with_the_tape_is_named_by_its_diagonal():
    # 900 and 1200 with 1500 is square; 1560 is 94.8°.
    walls = [{"name": n, "length": w, "corner": c} for n, (w, c) in zip("ABCDEF", L_SHAPE, strict=True)]
    walls[1] = {"name": "B", "length": 3600.0, "diagonal": {"legs": (900.0, 1200.0), "length": 1560.0}}
    problem = refusal(Room.model_validate({"walls": tuple(walls)}))
    assert problem.field == "room.walls[1].diagonal.length"
    assert problem.advice == "measure the diagonal at corner B-C again (1500 would close the room)"


T_SHAPE = (
    (5000.0, 90.0), (2500.0, 90.0), (1500.0, 270.0), (1500.0, 90.0),
    (2000.0, 90.0), (1500.0, 270.0), (1500.0, 90.0), (2500.0, 90.0),
)  # fmt: skip
RECTANGLE = ((4000.0, 90.0), (3000.0, 90.0), (4000.0, 90.0), (3000.0, 90.0))
TRAPEZIUM = ((4000.0, 90.0), (3000.0, 90.0), (3000.0, 108.4349), (3162.28, 71.5651))
"""A right trapezium: the fourth wall leans by atan(1000 / 3000)."""

ROOMS = {"rectangle": RECTANGLE, "trapezium": TRAPEZIUM, "L": L_SHAPE, "T": T_SHAPE}
BLUNDERS = [(name, i, by) for name, walls in ROOMS.items() for i in range(len(walls)) for by in (1, -1)]


def parallels(walls, i):
    """The walls that run along or against one: from the corners alone."""
    ways = [sum(180.0 - c for _, c in walls[:j]) for j in range(len(walls))]
    return {
        f"wall {'ABCDEFGH'[j]}" for j, way in enumerate(ways) if abs((way - ways[i] + 90.0) % 180.0 - 90.0) < 1e-6
    }


def named(problem):
    return set(re.findall(r"wall \w|corner \w-\w", problem.advice))


@pytest.mark.parametrize(("shape", "i", "by"), BLUNDERS)
@pytest.mark.slow
def test_a_wall_100_off_is_named_with_those_that_lie_along_it_and_no_other(shape, i, by):
    # What is missing along a wall could as well be missing along any parallel: nothing measured tells them apart.
    walls = ROOMS[shape]
    assert named(refusal(room(wrong(walls, i, length=100.0 * by)))) == parallels(walls, i)


@pytest.mark.parametrize(("shape", "i", "by"), BLUNDERS)
def test_a_corner_2_degrees_off_is_named_alone(shape, i, by):
    walls = ROOMS[shape]
    following = "ABCDEFGH"[(i + 1) % len(walls)]
    problem = refusal(room(wrong(walls, i, angle=2.0 * by)))
    assert named(problem) == {f"corner {'ABCDEFGH'[i]}-{following}"}
    assert float(re.search(r"\(([\d.]+)°", problem.advice)[1]) == pytest.approx(walls[i][1], abs=0.06)


def test_many_that_explain_it_equally_are_listed():
    problem = refusal(room(wrong(T_SHAPE, 6, length=100.0)))
    assert problem.advice == (
        "measure again wall A (5100), wall C (1400), wall E (1900), wall G (1500): any one of them would close the "
        "room; measure A-B to F-G as well, which tells wall A or wall G from wall C or wall E"
    )


def test_an_external_corner_given_as_if_it_were_internal():
    problem = refusal(room(wrong(L_SHAPE, 3, angle=-180.0)))
    assert problem.advice == "measure corner D-E again (270.0° would close the room)"


def test_two_blunders_are_not_blamed_on_one_measurement():
    walls = wrong(wrong(L_SHAPE, 0, length=400.0), 1, length=300.0)
    assert "no single measurement explains it" in refusal(room(walls)).advice


@given(st.data())
@settings(max_examples=tries(60))
def test_the_wrong_measurement_is_among_the_likely_ones(data):
    """Readings a little off everywhere, and one of them badly."""
    off = st.floats(-2.0, 2.0)
    walls = [(w + data.draw(off), c + data.draw(st.floats(-0.05, 0.05))) for w, c in L_SHAPE]
    i, sign = data.draw(st.integers(0, 5)), data.draw(st.sampled_from([-1.0, 1.0]))
    of_wall = data.draw(st.booleans())
    bad = wrong(walls, i, length=sign * 150.0) if of_wall else wrong(walls, i, angle=sign * 4.0)
    corners = ["A-B", "B-C", "C-D", "D-E", "E-F", "F-A"]
    named = {b.what: float(re.sub("[^0-9.]", "", b.value)) for b in blunders(shape_of(room(bad)))[0]}
    true, name = (L_SHAPE[i][0], f"wall {'ABCDEF'[i]}") if of_wall else (L_SHAPE[i][1], f"corner {corners[i]}")
    assert named[name] == pytest.approx(true, abs=25.0 if of_wall else 0.6)


def test_what_tolerances_explain_is_no_reason_to_refuse_however_much_it_misses():
    # Worked: wall C turned by 2 · 0.24° over 4000 mm ends 33.5 mm off, with every corner within its ± 0.3°.
    leaning = [(4000.0, 90.24), (3000.0, 90.24), (4000.0, 89.76), (3000.0, 89.76)]
    survey = survey_room(room(leaning))
    assert survey.misclosure.length == pytest.approx(33.5, abs=0.1)
    problem = refusal(room(leaning, tolerance={"corner": 0.1}))
    assert problem.found == "walls that end 34 mm from where they began"
