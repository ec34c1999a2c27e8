"""Allowances: a firm's over the program's, a job's over the firm's, and what each of them changes, by hand."""

import math

import pytest

from countersunk.model.carry import passes
from countersunk.model.catalogue.catalogue import Catalogue, default_catalogue, load_catalogue
from countersunk.model.checks import check
from countersunk.model.document.allowances import Allowances
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build, read_kitchen
from tests.model.test_carry import door, piece, stages
from tests.model.test_checks import kitchen, run, unit
from tests.model.test_worktops import BOXING, boxed
from tests.specimens import DEMOS, document, square

DOORS = unit("base-doors", 1000)


def test_the_programs_are_those_of_before():
    usual = {
        "lowering": 2.0,
        "notch": 3.0,
        "hand_room": 30.0,
        "packing": 0.0,
        "tilt": True,
        "router": 12.7,
        "expansion": 5.0,
        "ceiling": 15.0,
    }
    assert default_catalogue().allowances.model_dump() == usual


def firms(tmp_path, words) -> Catalogue:
    (tmp_path / "worktops.yaml").write_text(f"adds_to: metric\nallowances: {words}\n")
    return load_catalogue(tmp_path)


def test_a_job_goes_before_its_firm_and_a_firm_before_the_program(tmp_path):
    firm = firms(tmp_path, "{lowering: 5, notch: 4}")
    built = build(document(allowances={"notch": 6.0}), firm)
    assert built.allowances == Allowances(lowering=5.0, notch=6.0)
    assert set(firm.stocks) == set(default_catalogue().stocks)


def test_what_is_out_of_range_is_refused_with_its_line(tmp_path):
    with pytest.raises(InputError) as refused:
        firms(tmp_path, "{notch: 2}")
    (problem,) = refused.value.problems
    assert (problem.field, problem.found, problem.line) == ("allowances.notch", "2", 2)
    raw = DEMOS[0].read_text().replace("allowances:", "#") + "\nallowances: {hand_room: -1}\n"
    with pytest.raises(InputError, match=r"allowances\.hand_room"):
        read_kitchen(raw.encode(), "kitchen.yaml")


def test_lowering_is_taken_off_a_top_between_two_walls(tmp_path):
    # 3000 between the walls, 38 thick: √(3000² − 38²) = 2999.7593; with 2 of play 2997.7593, with 5 2994.7593.
    runs = ({"wall": "A", "start": 0.0, "units": ({"unit": "base-doors", "width": 1000.0},) * 3},)
    for words, play in (("{lowering: 5}", 5.0), ("{}", 2.0)):
        (top,) = build(document(runs=runs), firms(tmp_path, words)).lengths
        assert top.part.length == pytest.approx(math.sqrt(3000.0**2 - 38.0**2) - play, abs=1e-6)


def test_a_notch_has_the_gap_of_the_job():
    # A boxing 100 x 150 with 8 of gap: 116 x 158, two inside corners rounded with 8.
    (top,) = build(boxed(BOXING).document.model_copy(update={"allowances": Allowances(notch=8.0)})).lengths
    assert 1970.0 * 600.0 - top.part.area == pytest.approx(116.0 * 158.0 - 2 * (1 - math.pi / 4) * 64.0, abs=0.5)


@pytest.mark.parametrize(
    ("allowances", "way", "margin"),
    [
        ({}, "on edge", 900 - 38 - 60),
        ({"hand_room": 50.0}, "on edge", 900 - 38 - 100),
        ({"packing": 20.0}, "on edge", 900 - 58 - 60),
    ],
)
def test_what_is_left_at_a_door(allowances, way, margin):
    """A piece of 3000 x 600 x 38 through a door 900 wide."""
    found = passes(piece(3000), 38.0, stages(door(900, height=2000)), Allowances(**allowances))
    assert (found.way, found.margin) == (way, pytest.approx(margin))


def test_a_piece_that_must_stay_level_does_not_come_through_a_low_hatch():
    # 500 wide and high: neither on edge (600 high) nor flat (600 wide); tilted it comes in.
    hatch = stages(door(500, height=500))
    assert passes(piece(2500), 38.0, hatch).way == "tilted"
    level = passes(piece(2500), 38.0, hatch, Allowances(tilt=False))
    assert (level.ok, level.way, level.margin) == (False, "on edge", pytest.approx(500 - 600 - 60))


def test_the_finding_says_which_allowances_it_was_held_against():
    way = ({"door": {"width": 900.0, "height": 2000.0}},)
    built = kitchen(run(DOORS), room=square(4000), access=way, allowances={"packing": 12.0, "tilt": False})
    (found,) = (f for f in check(built) if f.rule == "worktop-carry-in")
    assert found.place == "T1, on edge, at the door (stage 1), 30 hand room, 12 of packing, kept level"
    assert found.value == pytest.approx(900 - 50 - 60)
