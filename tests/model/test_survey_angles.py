"""Angles from lengths: diagonals across a corner and across the room."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.document import Document, Room
from model.edits import edited
from model.errors import InputError
from model.survey import survey_room
from model.survey.angles import opposite, third_side
from model.survey.traverse import distance
from tests.specimens import SQUARE_ROOM, document


def cornered(length, legs=(900.0, 1200.0), walls=(3000.0, 2400.0), **more):
    wall = {"name": "A", "length": walls[0], "diagonal": {"legs": legs, "length": float(length)}, **more}
    return Room.model_validate({"walls": (wall, {"name": "B", "length": walls[1]})})


def braced(*lengths, start="A-B", to="C-D", diagonal=4825.0, more=()):
    walls = tuple({"name": n, "length": float(x)} for n, x in zip("ABCD", lengths, strict=True))
    first = {"from": start, "to": to, "length": float(diagonal)}
    return Room.model_validate({"walls": walls, "diagonals": (first, *more)})


@pytest.mark.parametrize(
    ("diagonal", "angle"), [(1490, 89.207), (1495, 89.603), (1500, 90.0), (1505, 90.399), (1510, 90.798)]
)
def test_the_3_4_5_method(diagonal, angle):
    # Cosine rule (plane geometry), worked with a calculator to three decimals.
    assert survey_room(cornered(diagonal)).walls[0].corner == pytest.approx(angle, abs=5e-4)


@given(st.floats(100, 4000), st.floats(100, 4000), st.floats(30, 179))
def test_the_angle_of_a_triangle_and_its_third_side_are_inverse(a, b, angle):
    assert opposite(a, b, third_side(a, b, angle)) == pytest.approx(angle, abs=1e-3)


def test_a_room_of_four_walls_follows_from_one_diagonal():
    # Worked: a right trapezium with corners (0, 0), (4000, 0), (4000, -3000), (1000, -3000). Its walls are
    # 4000, 3000, 3000 and √(1000² + 3000²) = 3162.28; from the corner D-A to B-C it is 5000 across.
    survey = survey_room(braced(4000, 3000, 3000, math.hypot(1000, 3000), start="B-C", to="D-A", diagonal=5000))
    steep = math.degrees(math.atan2(3000, 1000))
    assert [w.corner for w in survey.walls] == pytest.approx([90.0, 90.0, 180.0 - steep, steep])
    assert survey.outline.area == pytest.approx(3000 * (4000 + 3000) / 2)
    assert survey.misclosure == pytest.approx((0.0, 0.0), abs=1e-6)


@pytest.mark.parametrize(("start", "to"), [("A-B", "C-D"), ("C-D", "A-B"), ("B-C", "D-A"), ("D-A", "B-C")])
def test_every_diagonal_of_a_room_gives_the_same_room(start, to):
    corners = {"A-B": (4000.0, 0.0), "B-C": (3900.0, -3100.0), "C-D": (150.0, -2950.0), "D-A": (0.0, 0.0)}
    ends = list(corners.values())
    lengths = [distance(a, b) for a, b in zip([ends[-1], *ends], ends, strict=False)]
    survey = survey_room(braced(*lengths, start=start, to=to, diagonal=distance(corners[start], corners[to])))
    assert [w.end for w in survey.walls] == [pytest.approx(p, abs=1e-6) for p in ends]


def test_the_other_diagonal_checks_the_first():
    other = {"from": "B-C", "to": "D-A"}
    sound = braced(4000, 3000, 4000, 3000, diagonal=5000, more=({**other, "length": 5000.0},))
    assert survey_room(sound).wall("A").corner == pytest.approx(90.0)
    with pytest.raises(InputError, match=r"diagonals\[1\].length: found 5040; allowed: 5000 ± 15.*every diagonal"):
        survey_room(braced(4000, 3000, 4000, 3000, diagonal=5000, more=({**other, "length": 5040.0},)))


def test_a_diagonal_checks_a_survey_that_has_its_corners():
    diagonal = {"from": "A-B", "to": "C-D", "length": 4270.0}
    with pytest.raises(InputError, match=r"diagonals\[0\].length: found 4270; allowed: 4243 ± 15") as caught:
        survey_room(Room.model_validate({"walls": SQUARE_ROOM, "diagonals": (diagonal,)}))
    assert "the diagonal A-B to C-D again (4243 would close the room)" in str(caught.value)


def test_a_diagonal_checks_an_open_survey_too():
    walls = (*SQUARE_ROOM, {"name": "E", "length": 3000.0})
    diagonal = {"from": "A-B", "to": "C-D", "length": 4300.0}
    with pytest.raises(InputError, match=r"found 4300; allowed: 4243 ± 15.*every diagonal again"):
        survey_room(Room.model_validate({"walls": walls, "diagonals": (diagonal,)}))


@pytest.mark.parametrize(
    ("room", "words"),
    [
        (lambda: cornered(2100), r"walls\[0\].diagonal.length: found 2100; allowed: 616 to less than 2100"),
        (lambda: cornered(300), r"walls\[0\].diagonal.length: found 300; allowed: 616"),
        (
            lambda: cornered(1500, walls=(800.0, 2400.0)),
            r"legs\[0\]: found 900; allowed: at most the 800 of wall A",
        ),
        (
            lambda: cornered(1500, walls=(3000.0, 900.0)),
            r"legs\[1\]: found 1200; allowed: at most the 900 of wall B",
        ),
        (lambda: cornered(1500, corner=90.0), r"walls\[0\]: found both a corner and a diagonal; allowed: one"),
        (
            lambda: braced(4000, 3000, 4000, 3000, to="B-C"),
            r"diagonals\[0\]: found A-B to B-C; allowed: A-B to C-D, or B-C to D-A",
        ),
        (lambda: braced(4000, 3000, 4000, 3000, diagonal=7000), r"length: found 7000; allowed: more than 1000 and"),
        (
            lambda: Room.model_validate(
                {"walls": SQUARE_ROOM, "diagonals": ({"from": "A-B", "to": "D-A", "length": 3e3},)}
            ),
            r"diagonals\[0\]: found A-B to D-A; allowed: two corners with no wall between them",
        ),
        (
            lambda: Room.model_validate(
                {"walls": SQUARE_ROOM, "diagonals": ({"from": "A-C", "to": "C-D", "length": 1.5e3},)}
            ),
            r"diagonals\[0\].from: found 'A-C'; allowed: a corner: A-B, B-C, C-D, D-A. Try: '.-.'",
        ),
    ],
)
def test_diagonals_that_cannot_be_are_refused(room, words):
    with pytest.raises(InputError, match=words) as caught:
        survey_room(room())
    assert caught.value.problems[0].advice


def test_a_diagonal_survives_an_edit_of_the_document():
    # Its key is "from", which is no name in Python: dumped under another name the schema would refuse it.
    diagonal = {"from": "A-B", "to": "C-D", "length": 4243.0}
    kitchen = document(room={"walls": SQUARE_ROOM, "diagonals": (diagonal,)})
    changed = edited(kitchen, {"fronts.decor": "sage"})
    assert isinstance(changed, Document)
    assert changed.room.diagonals == kitchen.room.diagonals
