"""Readings as people take them: a wall twice, chains, perpendiculars, widths of a niche, open rooms."""

import math

import pytest

from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.survey import survey_room
from countersunk.model.survey.readings import readings, with_readings
from countersunk.model.survey.shape import shape_of
from countersunk.model.survey.weighing import weigh
from tests.specimens import SQUARE_ROOM

L_SHAPE = ((4200.0, 90.0), (3600.0, 90.0), (1700.0, 90.0), (1400.0, 270.0), (2500.0, 90.0), (2200.0, 90.0))
"""Worked in the plan: F-A (0, 0), A-B (4200, 0), B-C (4200, -3600), C-D (2500, -3600), D-E (2500, -2200)."""


def room(walls=L_SHAPE, *rows, **more):
    named = tuple(
        {"name": n, "length": w, **({"corner": c} if c else {})} for n, (w, c) in zip("ABCDEF", walls, strict=False)
    )
    return Room.model_validate({"walls": named, "measured": rows, **more})


ROWS = [
    ({"wall": "A"}, 4200.0),
    ({"corner": "D-E", "legs": (600.0, 800.0), "external": True}, 1000.0),
    ({"corner": "A-B", "legs": (900.0, 1200.0)}, 1500.0),
    ({"corner": "D-E", "square_to": "A"}, 2200.0),
    ({"corner": "D-E", "square_to": "B"}, 1700.0),
    ({"from": "F-A", "to": "D-E"}, math.hypot(2500.0, 2200.0)),
    ({"from": "C-D", "to": "A-B"}, math.hypot(1700.0, 3600.0)),
    ({"wall": "A", "out": 600.0}, 4200.0),
    ({"wall": "F", "at": 700.0, "across": "B"}, 4200.0),
    ({"wall": "E", "at": 300.0, "across": "A"}, 2200.0),
]


@pytest.mark.parametrize(("row", "length"), ROWS)
def test_a_right_reading_contradicts_nothing_and_a_wrong_one_does(row, length):
    assert shape_of(room(L_SHAPE, {**row, "length": length})).agrees
    shape = shape_of(room(L_SHAPE, {**row, "length": length + 8.0}))
    assert not shape.agrees
    assert shape.adjustment.freedom == 4
    assert shape.adjustment.redundancy[-1] > 0.1


def test_a_chain_is_its_sum_and_less_sure_than_one_length():
    shape = shape_of(room(L_SHAPE, {"wall": "A", "pieces": (1000.0, 1200.0, 2000.0)}))
    assert shape.agrees
    assert shape.observed[0].observations[-1].sigma == pytest.approx(1.5 * math.sqrt(3))


def test_a_wall_read_twice_is_taken_between_by_the_tolerances():
    # Worked: an open wall of 3000 ± 3 and once more 3010 ± 1: weights 1/9 and 1, so 3000 + 10 · 9/10.
    survey = survey_room(room(((3000.0, None),), {"wall": "A", "length": 3010.0, "tolerance": 1.0}))
    assert survey.wall("A").length == pytest.approx(3009.0)


def test_an_angle_read_twice_is_taken_between():
    survey = survey_room(room(((3000.0, 90.0), (2000.0, None)), {"corner": "A-B", "angle": 91.0}))
    assert survey.wall("A").corner == pytest.approx(90.5)


def test_a_corner_of_the_wall_may_be_read_only_besides():
    survey = survey_room(room(((3000.0, None), (2000.0, None)), {"corner": "A-B", "angle": 91.0}))
    assert survey.wall("A").corner == pytest.approx(91.0)


def test_widths_at_the_back_and_the_front_of_a_niche_give_both_its_corners():
    # Worked: a niche 2000 wide at the back whose sides lean out by 1 in 100: 2012 wide 600 before the back.
    lean = math.degrees(math.atan(0.01))
    sides = ((1500.0, 90.0 + lean), (2000.0, 90.0 + lean), (1500.0, None))
    assert shape_of(room(sides, {"wall": "B", "out": 600.0, "length": 2012.0})).agrees


def test_an_open_room_of_three_walls_needs_no_fourth():
    # Worked: 3000, 2400, 3050 at right angles: from end to start 2400 back and 50 along.
    walls = ((3000.0, 90.0), (2400.0, 90.0), (3050.0, None))
    across = {"from": "end", "to": "start", "length": math.hypot(2400.0, 50.0)}
    survey = survey_room(room(walls, across))
    assert survey.misclosure is None
    assert [w.length for w in survey.walls] == [3000.0, 2400.0, 3050.0]


def test_a_corner_that_could_not_be_read_follows_from_the_width_across_an_open_room():
    walls = ((3000.0, 90.0), (2400.0, None), (3050.0, None))
    survey = survey_room(room(walls, {"from": "end", "to": "start", "length": math.hypot(2400.0, 50.0)}))
    assert survey.wall("B").corner == pytest.approx(90.0, abs=1e-6)
    assert survey.misclosure is None


def test_every_row_is_a_reading_in_its_place():
    rows = ({"wall": "A", "pieces": (1000.0, 3200.0)}, {"corner": "A-B", "angle": 90.0, "tolerance": 0.1})
    surveyed = room(L_SHAPE, *rows)
    taken = [r for r in readings(surveyed) if r.at[0] == "measured"]
    assert [(r.what, r.value, r.tolerance) for r in taken] == [
        ("piece 1 of the chain along wall A (row 1)", 1000.0, 3.0),
        ("piece 2 of the chain along wall A (row 1)", 3200.0, 3.0),
        ("corner A-B again (row 2)", 90.0, 0.1),
    ]
    moved = with_readings(surveyed, taken, [1001.0, 3202.0, 90.5])
    assert (moved.measured[0].pieces, moved.measured[1].angle) == ((1001.0, 3202.0), 90.5)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"wall": "A"}, r"measured\[0\]: found wall; allowed: a wall: length, wall; "),
        ({"wall": "A", "length": 90.0, "angle": 90.0}, r"measured\[0\]: found angle, length, wall"),
        ({"note": "by laser"}, r"measured\[0\]: found nothing"),
        ({"wall": "Z", "length": 900.0}, r"measured\[0\].wall: found 'Z'; allowed: a wall: A, B, C, D"),
        ({"corner": "A-C", "angle": 90.0}, r"measured\[0\].corner: found 'A-C'; allowed: a corner: A-B"),
        ({"from": "start", "to": "A-B", "length": 900.0}, r"measured\[0\].from: found 'start'; allowed: a corner"),
        ({"wall": "A", "at": 1.0, "across": "Q", "length": 900.0}, r"measured\[0\].across: found 'Q'"),
    ],
)
def test_rows_that_say_nothing_are_refused(row, words):
    with pytest.raises(InputError, match=words):
        survey_room(Room.model_validate({"walls": SQUARE_ROOM, "measured": (row,)}))


def test_a_width_needs_walls_on_both_sides():
    with pytest.raises(InputError, match=r"measured\[0\].wall: found A; allowed: a wall between two others"):
        survey_room(room(((3000.0, 90.0), (2000.0, None)), {"wall": "A", "out": 600.0, "length": 3000.0}))


def test_two_widths_between_two_walls_say_how_they_converge():
    # Worked: from wall A at 500 and at 2500 square to a wall C that comes 1 nearer in every 100 from its right end.
    walls = ((3000.0, 90.0), (2400.0, None), (3000.0, None))
    widths = [
        {"wall": "A", "at": x, "across": "C", "length": 2400.0 - 0.01 * (3000.0 - x)} for x in (500.0, 2500.0)
    ]
    surveyed = room(walls, *widths)
    assert survey_room(surveyed).wall("B").corner == pytest.approx(90.0 - math.degrees(math.atan(0.01)), abs=1e-6)
    assert shape_of(surveyed).adjustment.freedom == 1


TIGHT = [
    ({"tolerance": 1.0}, {}, "wall A", 0.5),
    ({"corner_tolerance": 0.1}, {}, "corner A-B", 0.05),
    ({}, {"tolerance": 5.0}, "the diagonal A-B to C-D", 2.5),
]


@pytest.mark.parametrize(("wall", "diagonal", "name", "sigma"), TIGHT)
def test_a_row_has_its_own_tolerance(wall, diagonal, name, sigma):
    walls = ({**SQUARE_ROOM[0], **wall}, *SQUARE_ROOM[1:])
    across = {"from": "A-B", "to": "C-D", "length": 3000 * math.sqrt(2), **diagonal}
    surveyed = Room.model_validate({"walls": walls, "diagonals": (across,)})
    sigmas = {o.name: o.sigma for o in shape_of(surveyed).observed[0].observations}
    assert sigmas.pop(name) == sigma
    assert {r.what: r.sigma for r in readings(surveyed)}[name] == sigma
    usual = {o: 0.15 if o.startswith("corner") else 1.5 for o in sigmas}
    assert sigmas == usual


def test_the_tape_across_a_corner_and_what_stands_on_a_wall_have_their_own_tolerances():
    across = {"legs": (900.0, 1200.0), "length": 1500.0, "tolerance": 1.0}
    tape = {"name": "A", "length": 3000.0, "diagonal": across}
    door = {"kind": "door", "wall": "A", "at": 500.0, "width": 800.0, "tolerance": 8.0}
    boxing = {"kind": "pipe-boxing", "wall": "A", "at": 2000.0, "width": 200.0, "depth": 90.0, "tolerance": 2.0}
    walls = (tape, *SQUARE_ROOM[1:])
    surveyed = Room.model_validate({"walls": walls, "openings": (door,), "obstacles": (boxing,)})
    found = {r.what: r.tolerance for r in readings(surveyed)}
    assert found["the diagonal at corner A-B"] == 1.0
    assert found["the left side of the door in wall A"] == 8.0
    assert found["the depth of the pipe boxing on wall A"] == 2.0


def test_a_tolerance_of_a_corner_that_was_taken_with_the_tape_is_refused():
    tape = {"legs": (900.0, 1200.0), "length": 1500.0}
    walls = ({"name": "A", "length": 3000.0, "diagonal": tape, "corner_tolerance": 0.1}, *SQUARE_ROOM[1:])
    with pytest.raises(InputError, match=r"walls\[0\].corner_tolerance: found 0.1, and no corner"):
        survey_room(Room.model_validate({"walls": walls}))


def test_walls_that_lean_are_not_forced_to_one_value():
    # A wall read at the top is what counts; 12 more near the floor contradicts nothing, and is said.
    surveyed = room(L_SHAPE, {"wall": "A", "length": 4212.0, "height": 100.0})
    assert shape_of(surveyed).agrees
    [lean] = weigh(surveyed).leaning
    assert (lean.more, lean.leans, lean.doubtful) == (12.0, True, False)
    assert "Wall A again, 100 above the floor (row 1), is 4212, 12 mm more than at the height of the top" in (
        " ".join(weigh(surveyed).said)
    )


@pytest.mark.parametrize("height", [None, 760.0, 1040.0])
def test_what_was_read_near_the_height_of_the_top_counts_as_well(height):
    given = {} if height is None else {"height": height}
    survey = survey_room(room(((3000.0, None),), {"wall": "A", "length": 3010.0, "tolerance": 1.0, **given}))
    assert survey.wall("A").length == pytest.approx(3009.0)


def test_a_corner_that_was_read_at_two_heights_goes_by_the_one_nearer_to_the_top():
    rows = ({"corner": "A-B", "angle": 91.0, "height": 100.0}, {"corner": "A-B", "angle": 90.2, "height": 1000.0})
    surveyed = room(((3000.0, None), (2000.0, None)), *rows)
    assert survey_room(surveyed).wall("A").corner == pytest.approx(90.2)
    assert weigh(surveyed).leaning[0].more == pytest.approx(0.8)


def test_what_was_read_once_counts_wherever_it_was_read():
    low = {"from": "end", "to": "start", "length": math.hypot(2400.0, 50.0), "height": 50.0}
    survey = survey_room(room(((3000.0, 90.0), (2400.0, None), (3050.0, None)), low))
    assert survey.wall("B").corner == pytest.approx(90.0, abs=1e-6)


def test_of_widths_that_were_never_read_near_the_top_it_is_said_what_to_measure():
    sides = ((1500.0, 90.0), (2000.0, 90.0), (1500.0, None))
    widths = [{"wall": "B", "out": 600.0, "length": x, "height": z} for x, z in ((2004.0, 300.0), (1950.0, 2000.0))]
    weighing = weigh(room(sides, *widths))
    assert [lean.height for lean in weighing.leaning] == [2000.0]
    assert any(
        step.startswith(
            "Measure once more, 750 to 1050 above the floor where tops lie: the width 600 before wall B"
        )
        for step in weighing.steps
    )
    # By the corners the width is 2003. 53 of 1100 mm is more than 20 to the metre and what ±3 mm twice explain.
    assert weighing.leaning[0].doubtful
    assert "walls hardly lean by 53 mm over that height" in " ".join(weighing.steps)
