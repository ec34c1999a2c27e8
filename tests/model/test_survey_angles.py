"""Angles from lengths: diagonals across a corner and across the room."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.document.schema import Document, Room
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.survey import survey_room
from countersunk.model.survey.angles import opposite, third_side
from countersunk.model.survey.traverse import distance
from tests.specimens import SQUARE_ROOM, document

pytestmark = pytest.mark.quick


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


L_SHAPE = ((4200.0, 90.0), (3600.0, 90.0), (1700.0, 90.0), (1400.0, None), (2500.0, 90.0), (2200.0, 90.0))
"""An L whose corner D-E points into the room: 270° of it are inside when it is square."""


def with_external(*, diagonals=(), **across):
    walls = tuple(
        {"name": n, "length": x, **({"diagonal": across} if c is None else {"corner": c})}
        for n, (x, c) in zip("ABCDEF", L_SHAPE, strict=True)
    )
    return Room.model_validate({"walls": walls, "diagonals": diagonals})


@pytest.mark.parametrize(
    ("length", "inside"), [(1490, 270.793), (1495, 270.397), (1500, 270.0), (1505, 269.601), (1510, 269.202)]
)
def test_an_external_corner_by_marks_on_the_walls_drawn_on(length, inside):
    # Worked: the walls' lines cross at the corner, so between their prolongations lies the same angle as behind the
    # corner. By the cosine rule it is acos((900² + 1200² - length²) / (2 · 900 · 1200)), as in the 3-4-5 method
    # above: 89.207°, 89.603°, 90°, 90.399° and 90.798°. What is inside is 360° less that.
    wall = {"name": "A", "length": 700.0, "diagonal": {"legs": (900, 1200), "length": length, "external": True}}
    room = Room.model_validate({"walls": (wall, {"name": "B", "length": 800.0})})
    assert survey_room(room).walls[0].corner == pytest.approx(inside, abs=6e-4)


def test_an_external_corner_closes_a_room():
    survey = survey_room(with_external(legs=(600.0, 800.0), length=1000.0, external=True))
    assert survey.wall("D").corner == pytest.approx(270.0)
    assert survey.misclosure == pytest.approx((0.0, 0.0), abs=1e-6)
    # 4200 x 3600 less the corner of 2500 x 1400 that stands in it
    assert survey.outline.area == pytest.approx(4200 * 3600 - 2500 * 1400)


def test_marks_said_to_stand_on_the_walls_of_an_external_corner():
    with pytest.raises(InputError, match=r"walls\[3\].diagonal.external.*540°.*720° ± 1° for 6 walls") as caught:
        survey_room(with_external(legs=(600.0, 800.0), length=1000.0))
    assert "measure the marks at corner D-E again (external: true would close the room)" in str(caught.value)


def test_a_wrong_tape_at_an_external_corner_is_named_with_its_length():
    with pytest.raises(InputError, match=r"walls\[3\].diagonal.length") as caught:
        survey_room(with_external(legs=(600.0, 800.0), length=1040.0, external=True))
    assert "measure the diagonal at corner D-E again (1000 would close the room)" in str(caught.value)


@pytest.mark.parametrize(
    ("start", "to", "length"),
    [
        ("D-E", "A-B", math.hypot(1700, 2200)),
        ("D-E", "B-C", math.hypot(1700, 1400)),
        ("D-E", "F-A", math.hypot(2500, 2200)),
        ("C-D", "F-A", math.hypot(2500, 3600)),
    ],
)
def test_diagonals_of_the_room_check_an_external_corner(start, to, length):
    # Worked in the plan: F-A (0, 0), A-B (4200, 0), B-C (4200, -3600), C-D (2500, -3600), D-E (2500, -2200).
    across = {"legs": (600.0, 800.0), "length": 1000.0, "external": True}
    survey_room(with_external(**across, diagonals=({"from": start, "to": to, "length": length},)))
    with pytest.raises(InputError, match=r"diagonals\[0\].length"):
        survey_room(with_external(**across, diagonals=({"from": start, "to": to, "length": length + 30.0},)))


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
    with pytest.raises(InputError, match=r"room.diagonals: found A-B to C-D 5000, B-C to D-A 5040.*every diagonal"):
        survey_room(braced(4000, 3000, 4000, 3000, diagonal=5000, more=({**other, "length": 5040.0},)))


@pytest.mark.parametrize("swapped", [False, True])
def test_a_wall_100_off_between_two_good_diagonals_blames_neither(swapped):
    # Four walls and two diagonals are one reading more than a room needs: each of the six explains it as well.
    across = [{"from": "A-B", "to": "C-D", "length": 5000.0}, {"from": "B-C", "to": "D-A", "length": 5000.0}]
    walls = tuple({"name": n, "length": x} for n, x in zip("ABCD", (4100.0, 3000.0, 4000.0, 3000.0), strict=True))
    room = {"walls": walls, "diagonals": tuple(reversed(across) if swapped else across)}
    with pytest.raises(InputError) as caught:
        survey_room(Room.model_validate(room))
    (problem,) = caught.value.problems
    assert problem.field == "room.diagonals"
    assert problem.advice.endswith("with one reading more than needed nothing tells which is wrong")


def test_a_diagonal_checks_a_survey_that_has_its_corners():
    diagonal = {"from": "A-B", "to": "C-D", "length": 4270.0}
    with pytest.raises(InputError, match=r"diagonals\[0\].length: found 4270; allowed: 4243 ± 15") as caught:
        survey_room(Room.model_validate({"walls": SQUARE_ROOM, "diagonals": (diagonal,)}))
    assert "the diagonal A-B to C-D again (4243 would close the room)" in str(caught.value)


def test_a_diagonal_checks_an_open_survey_too():
    walls = (*SQUARE_ROOM, {"name": "E", "length": 3000.0})
    diagonal = {"from": "A-B", "to": "C-D", "length": 4300.0}
    with pytest.raises(InputError, match=r"diagonals: found A-B to C-D 4300; .*every diagonal again"):
        survey_room(Room.model_validate({"walls": walls, "diagonals": (diagonal,)}))


@pytest.mark.parametrize(
    ("room", "words"),
    [
        (lambda: cornered(2100), r"walls\[0\].diagonal.length: found 2100; allowed: 616 to less than 2100"),
        (
            lambda: cornered(2100),
            r"corner that points into the room mark both walls' lines drawn on past it, and say external: true",
        ),
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
