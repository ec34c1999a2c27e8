"""Certainty: readings that are a little off, and whether a run still fits. Two ways, and sums by hand."""

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.model import checks
from countersunk.model.certainty.certainty import allowed_in_words, in_words, percent, run_fits, simulated, top_fits
from countersunk.model.document.schema import Room
from countersunk.model.kitchen import build
from countersunk.model.survey import survey_room
from countersunk.model.survey.readings import readings, with_readings
from countersunk.model.tolerance import CONTACT
from tests.lanes import examples
from tests.specimens import SOME_DEMOS, SQUARE_ROOM, cornered, document, open_kitchen

FRONT = 2.0 + 560.0 + 18.0
"""From the wall to the fronts: stand-off, depth, front (mm)."""


def between(width, corners=(89.5, 89.5), filler=None, **changes):
    """A run from wall to wall of a niche 3000 wide, with a corner on either side, as an open survey."""
    walls = (
        {"name": "Z", "length": 2000.0, "corner": corners[0]},
        {"name": "A", "length": 3000.0, "corner": corners[1]},
        {"name": "B", "length": 2000.0},
    )
    units = [{"unit": "base-doors", "width": 600.0}] * 4
    units += [{"unit": "filler", "width": width - 2400.0 - (filler or 0.0)}] if width - 2400.0 <= 200 else []
    if filler:
        units.append({"unit": "filler", "width": filler})
    start = (3000.0 - width) / 2
    run = {"wall": "A", "start": start, "units": tuple(units)}
    return build(document(room={"walls": walls, **changes}, runs=(run,)))


def niche(spare):
    """A run of units without a filler, so that ``spare`` mm of the wall are left over at square corners."""
    walls = (
        {"name": "Z", "length": 2000.0, "corner": 89.5},
        {"name": "A", "length": 2400.0 + spare, "corner": 89.5},
        {"name": "B", "length": 2000.0},
    )
    run = {"wall": "A", "start": spare / 2, "units": ({"unit": "base-doors", "width": 600.0},) * 4}
    return build(document(room={"walls": walls}, runs=(run,)))


def test_words_name_no_usual_tolerance_where_a_wall_has_its_own():
    walls = ({"name": "A", "length": 3000.0, "corner": 90.0}, {"name": "B", "length": 2400.0})
    assert allowed_in_words(Room.model_validate({"walls": walls})) == "±3 mm a wall and ±0.3° a corner"
    own = ({**walls[0], "corner_tolerance": 0.1}, walls[1])
    assert allowed_in_words(Room.model_validate({"walls": own})) == "the tolerance of each wall and corner"


def test_a_run_between_two_walls_that_lean_in_worked_by_hand():
    # Worked: at 89.5° each wall leans in by FRONT / tan(89.5°) = 5.0615 at the fronts, so of 15 mm 4.8770 are left.
    # A corner's degree moves that by FRONT / sin² · π/180 = 10.1237 mm. With ±3 mm and ±0.3° taken as two standard
    # deviations: √(1.5² + 2 · (10.1237 · 0.15)²) = 2.6201 mm.
    (fit,) = run_fits(niche(15.0))
    assert fit.between == ("wall Z", "wall B")
    assert fit.spare == pytest.approx(15.0 - 2 * FRONT / math.tan(math.radians(89.5)), abs=1e-6)
    per_degree = FRONT / math.sin(math.radians(89.5)) ** 2 * math.pi / 180
    assert fit.sigma == pytest.approx(math.hypot(1.5, per_degree * 0.15, per_degree * 0.15), rel=1e-4)
    assert (fit.spare, fit.sigma) == pytest.approx((4.8770, 2.6201), abs=1e-3)
    assert fit.probability == pytest.approx(NormalDist().cdf(4.8770 / 2.6201), abs=1e-4)
    assert fit.left == pytest.approx(4.8770 - 2 * 2.6201, abs=2e-3)


# Of a square room whose walls A and C differ by 1, each wall gives t and each of four corners u: 2 t + 6000 u = 1
# with the least 2 t²/σw² + 4 u²/σc² (Lagrange): t = λ σw²/2 and u = λ 750 σc², thus λ = 1 / (σw² + 4.5e6 σc²).
BOTH = 1 / (1.5**2 + 4.5e6 * math.radians(0.15) ** 2)
GIVEN, LEANT = BOTH * 1.5**2 / 2, BOTH * 750 * math.radians(0.15) ** 2
"""mm, and radians: 0.0340 and 1.553e-4."""


def test_the_other_readings_make_a_wall_surer_than_its_own():
    # Worked: wall A moves by what it does not give of its own reading, and the walls beside it lean in at the
    # fronts. What A gains, the wall opposite makes up to 1. They lean in from the start, by 0.1°.
    walls = tuple(
        {"name": n, "length": length, "corner": c}
        for n, length, c in (("A", 3000.0, 89.9), ("B", 3000.0, 90.1), ("C", 2989.5, 90.1), ("D", 3000.0, 89.9))
    )
    (fit,) = run_fits(build(document(room={"walls": walls})))
    moves = {reading.what: move for reading, move in fit.moves}
    own = 1 - GIVEN - 2 * FRONT * LEANT
    assert moves["wall A"] == pytest.approx(own * 1.5, rel=5e-3)
    assert moves["wall C"] == pytest.approx((1 - own) * 1.5, rel=5e-3)


def test_fillers_absorb_what_they_can():
    # A filler of 80 may be cut down to 20: 60 more.
    (fit,) = run_fits(between(2480.0))
    assert fit.fillers == 60.0
    assert fit.left == pytest.approx(fit.spare + 60.0 - 2 * fit.sigma)


def test_what_to_measure_again_in_words():
    kitchen = niche(15.0)
    (fit,) = run_fits(kitchen)
    assert in_words(fit, kitchen.document.room) == (
        "At ±3 mm a wall and ±0.3° a corner and with no mistake in a reading, run A fits with 97 %: 5 mm to spare "
        "between wall Z and wall B, 0.4 short at the worst; measure corner Z-A again before you cut. "
        "Nothing checks corner Z-A, wall A and corner A-B: measure that a second time"
    )


def test_a_run_that_nothing_ends_fits_whatever_the_walls_measure():
    kitchen = build(document(room={"walls": ({"name": "A", "length": 3000.0},)}))
    (fit,) = run_fits(kitchen)
    assert fit.probability == 1.0
    assert "Nothing ends run A on one side" in in_words(fit, kitchen.document.room)
    assert not [f for f in checks.check(kitchen) if f.rule == "run-fits-survey"]


def test_an_obstacle_and_a_door_are_neighbours_with_readings_of_their_own():
    obstacles = ({"kind": "column", "wall": "A", "at": 2110.0, "width": 300.0, "depth": 200.0},)
    openings = ({"kind": "door", "wall": "A", "at": 0.0, "width": 490.0},)
    room = {"walls": SQUARE_ROOM, "obstacles": obstacles, "openings": openings}
    (fit,) = run_fits(build(document(room=room)))
    assert fit.between == ("the door at 0", "the column on wall A")
    assert fit.spare == pytest.approx(20.0)
    # The door's right side is where its left side was read, and its width; the column's left side is a reading.
    assert fit.sigma == pytest.approx(1.5 * math.sqrt(3))
    assert {reading.what for reading, move in fit.moves if abs(move) > 1e-6} == {
        "the left side of the door in wall A",
        "the width of the door in wall A",
        "the left side of the column on wall A",
    }


def test_the_depth_of_a_breast_on_the_wall_beside_ends_a_run():
    breast = {"kind": "chimney-breast", "wall": "B", "at": 0.0, "width": 900.0, "depth": 350.0}
    row = {"wall": "A", "start": 500.0, "units": ({"unit": "base-doors", "width": 800.0},) * 2}
    (fit,) = run_fits(build(document(room={"walls": SQUARE_ROOM, "obstacles": (breast,)}, runs=(row,))))
    moves = {reading.what: move for reading, move in fit.moves}
    assert fit.spare == pytest.approx(500.0 + 900.0 - 350.0)
    assert moves["the depth of the chimney breast on wall B"] == pytest.approx(-1.5, rel=1e-3)
    assert moves["the width of the chimney breast on wall B"] == pytest.approx(0.0, abs=1e-6)


def test_a_peninsula_and_an_island_end_a_run():
    unit = {"unit": "base-doors", "width": 600.0}
    island = {
        "name": "I", "wall": "A", "along": 2200.0, "out": 300.0, "facing": "room", "stock": "pf38.900",
        "units": (unit,),
    }  # fmt: skip
    (fit,) = run_fits(build(document(islands=(island,))))
    assert fit.between == ("wall D", "run I")
    assert fit.spare == pytest.approx(500.0 + 2200.0 - 2100.0)


def test_how_far_off_a_top_may_be_worked_by_hand():
    # Worked: at 93° the female runs to the wall up to 585 from its back, where the mitre of a notch of 15 begins.
    # There it is 585 · tan 3° longer than its wall. It moves with the wall's reading, and with the corner by
    # 585 / cos² 3° · π/180 = 10.2383 mm a degree: with ±3 mm and ±0.3° √(1.5² + (10.2383 · 0.15)²) = 2.1467 mm.
    female, male = top_fits(build(cornered(93.0)))
    assert female.top == "T1"
    assert female.sigma == pytest.approx(2.1467, abs=2e-4)
    moves = {reading.what: move for reading, move in female.moves}
    assert moves == {
        "wall A": pytest.approx(1.5),
        "corner A-B": pytest.approx(10.2383 * 0.15, rel=1e-4),
        "wall B": 0.0,
        "the height of the room": 0.0,
    }
    assert {r.what for r, move in male.moves if abs(move) > 1e-9} == {"corner A-B"}


def test_a_top_of_a_run_that_fills_its_wall_worked_by_hand():
    # Worked: with the wall longer the room leans in and the back of the top is its longest, with the wall shorter
    # it leans out and the front is, 600 before it. In the middle of both it is half of the lean.
    row = {"wall": "A", "units": ({"unit": "base-doors", "width": 1000.0},) * 3}
    (top,) = top_fits(build(document(runs=(row,))))
    moves = {reading.what: abs(move) for reading, move in top.moves}
    assert moves["wall A"] == pytest.approx((1 - GIVEN - 600 * LEANT) * 1.5, rel=1e-3)


@pytest.mark.parametrize(("offset", "spare"), [(0.0, 900.0), (-12.0, 888.0), (12.0, 900.0)])
def test_a_wall_that_bulges_into_a_run_takes_of_its_spare(offset, spare):
    # Worked: wall B stands out by 12 at 300 from the corner, within the 580 of the units. Hollow by as much,
    # it is nearest at the units' backs, 2 from wall A, and stands back by 2 / 300 · 12 = 0.08 there.
    bow = {"every": 300.0, "offsets": (0.0, offset, 0.0)}
    walls = tuple({**w, "bow": bow} if w["name"] == "B" else w for w in SQUARE_ROOM)
    row = {"wall": "A", "start": 500.0, "units": ({"unit": "base-doors", "width": 800.0},) * 2}
    kitchen = build(document(room={"walls": walls}, runs=(row,)))
    (fit,) = run_fits(kitchen)
    assert fit.spare == pytest.approx(500.0 + spare, abs=0.1)


def test_what_lies_above_or_below_is_no_neighbour():
    window = {"kind": "window", "wall": "A", "at": 2200.0, "width": 600.0, "sill": 1000.0, "head": 2000.0}
    (fit,) = run_fits(build(document(room={"walls": SQUARE_ROOM, "openings": (window,)})))
    assert fit.between == ("wall D", "wall B")


@pytest.mark.slow
@pytest.mark.parametrize("demo", SOME_DEMOS, ids=lambda path: path.stem)
def test_both_ways_agree_on_the_demo_kitchens(demo):
    kitchen = open_kitchen(demo)
    fits, drawn = run_fits(kitchen), simulated(kitchen, draws=1000)
    for fit, column in zip(fits, drawn.T, strict=True):
        assert column.mean() == pytest.approx(fit.spare + fit.fillers, abs=0.5 + 0.5 * fit.sigma)
        # The middle two thirds: one draw in a thousand, in which another neighbour is met, is no matter of spread.
        # In the prairie kitchen two that are 0.24 apart take turns at the right of run A.
        low, high = np.percentile(column, [15.87, 84.13])
        assert (high - low) / 2 == pytest.approx(fit.sigma, rel=0.15, abs=0.2)
        # What stands flush between two panels has 0 to spare, give or take the last bit of a float.
        assert (column >= -CONTACT).mean() == pytest.approx(fit.probability, abs=0.03)


@given(st.floats(10.2, 22.0))
@settings(max_examples=examples(8, 2), deadline=None)
def test_both_ways_agree_where_it_is_doubtful(spare):
    kitchen = niche(spare)
    (fit,), drawn = run_fits(kitchen), simulated(kitchen, draws=1500)[:, 0]
    assert drawn.std() == pytest.approx(fit.sigma, rel=0.08)
    assert (drawn >= 0).mean() == pytest.approx(fit.probability, abs=0.04)


def test_the_same_kitchen_is_drawn_the_same_every_time():
    assert np.array_equal(simulated(niche(15.0), 50), simulated(niche(15.0), 50))


def test_readings_of_a_room_that_follows_from_a_diagonal():
    walls = tuple({"name": w["name"], "length": w["length"]} for w in SQUARE_ROOM)
    diagonal = {"from": "A-B", "to": "C-D", "length": math.hypot(3000.0, 3000.0)}
    room = document(room={"walls": walls, "diagonals": (diagonal,)}).room
    taken = readings(room)
    walls, across = ["wall A", "wall B", "wall C", "wall D"], "the diagonal A-B to C-D"
    assert [r.what for r in taken] == [*walls, across, "the height of the room"]
    moved = with_readings(room, taken, [*(r.value for r in taken[:4]), 4300.0, 2400.0])
    assert survey_room(moved).wall("B").corner > 90.0


def test_a_corner_taken_with_the_tape_is_a_reading():
    walls = (
        {"name": "A", "length": 3000.0, "diagonal": {"legs": (900.0, 1200.0), "length": 1500.0}},
        {"name": "B", "length": 2400.0},
    )
    room = document(room={"walls": walls}).room
    taken = readings(room)
    assert [(r.what, r.tolerance) for r in taken][1] == ("the diagonal at corner A-B", 3.0)
    assert with_readings(room, taken, [3000.0, 1510.0, 2400.0, 2400.0]).walls[0].diagonal.length == 1510.0


def test_a_doubtful_run_is_a_finding_with_what_to_measure_again():
    (finding,) = [f for f in checks.check(niche(15.0)) if f.rule == "run-fits-survey"]
    assert finding.value == pytest.approx(-0.4, abs=0.05)
    assert finding.verdict == "falls short"
    assert finding.advice == "measure corner Z-A again before you cut, or give the run a filler"


@pytest.mark.parametrize(
    ("probability", "words"), [(1.0, "over 99 %"), (0.964, "96 %"), (0.0, "under 1 %"), (0.5, "50 %")]
)
def test_nothing_that_was_measured_is_certain(probability, words):
    assert percent(probability) == words


@pytest.mark.parametrize("end", [5.0, 0.0, -5.0])
def test_both_ways_agree_where_fronts_just_meet_another_run(end):
    """The fronts on B lie 580 before it. At 91° the front of A's end, 567 from B at its back, is just there: as
    read it passes the fronts or meets them by a few mm. It counts as met, so that a reading more or less does not
    change at once what B's run stands beside: drawn anew its spare would now be small, now 600 more.
    """
    walls = tuple(
        {"name": n, "length": length, "corner": corner}
        for n, length, corner in (
            ("A", 4000.0, 91.0),
            ("B", 3000.0, 89.0),
            ("C", 4000.0, 91.0),
            ("D", 3000.0, 89.0),
        )
    )
    doors, filler = {"unit": "base-doors", "width": 600.0}, {"unit": "filler", "width": 60.0}
    runs = (
        {"wall": "A", "start": 4000.0 - 562.0 - 1200.0 + end, "units": (doors, doors)},
        {"wall": "B", "start": 660.0, "units": (filler, doors, doors)},
    )
    kitchen = build(document(room={"walls": walls}, runs=runs))
    _, fit = run_fits(kitchen)
    drawn = simulated(kitchen, draws=1000)[:, 1]
    assert fit.between[0] == "run A"
    assert drawn.std() == pytest.approx(fit.sigma, rel=0.1)


def test_a_filler_passes_before_a_boxing():
    """Filler of 200 before a boxing 120 wide and 150 deep: 80 of play, whatever stands beside it."""
    doors, filler = {"unit": "base-doors", "width": 600.0}, {"unit": "filler", "width": 200.0}
    boxing = {"kind": "pipe-boxing", "wall": "A", "at": 1140.0, "width": 120.0, "depth": 150.0}
    runs = ({"wall": "A", "start": 500.0, "units": (doors, filler, doors)},)
    (fit,) = run_fits(build(document(room={"walls": SQUARE_ROOM, "obstacles": (boxing,)}, runs=runs)))
    assert fit.spare == pytest.approx(80.0)


def test_a_top_that_just_reaches_the_wall_is_no_less_sure_for_that():
    # 60.05 before wall B the top is run to the wall, and any further off it ends over its units, 50 shorter. A
    # reading once moved it by half of that for a hundredth of a millimetre, "± 9050".
    units = ({"unit": "base-doors", "width": 800.0},) * 2
    (top,) = top_fits(build(document(runs=({"wall": "A", "start": 1339.95, "units": units},))))
    moves = {reading.what: abs(move) for reading, move in top.moves}
    assert top.sigma < 3.0
    assert moves["wall A"] < 1.6


def test_what_a_mistake_that_might_not_show_would_do_worked_by_hand():
    # Worked: wall A is adjusted by GIVEN of an error of its own, so that is its redundancy r; an error is found
    # four times in five from δ0 σ / √r on, δ0 = 4.132 at 0.1 % (Baarda, from memory).
    turns = zip("ABCD", (89.9, 90.1) * 2, strict=True)
    walls = tuple({"name": n, "length": 3000.0, "corner": c} for n, c in turns)
    kitchen = build(document(room={"walls": (walls[0], walls[1], {**walls[2], "length": 2989.5}, walls[3])}))
    (fit,) = run_fits(kitchen)
    (wall,) = (hidden for hidden in fit.hidden if hidden.reading.what == "wall A")
    assert wall.least == pytest.approx(4.1321 * 1.5 / math.sqrt(GIVEN), rel=1e-3)
    assert not fit.alone
