"""The sheet of the survey: every reading in its place, suspects in red with a sign, and what to measure again."""

import json
import math
from functools import cache

import pytest
from click.testing import CliRunner

from countersunk.model.checks import check
from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.survey import survey_unjudged
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.viewer.app.surveying import unbuilt_json
from countersunk.viewer.commands.main import main
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.survey_sheet import placed_readings, survey_sheet
from tests.specimens import DEMOS, document, open_kitchen, square

ACROSS = tuple({"from": a, "to": b, "length": 3000 * math.sqrt(2)} for a, b in (("A-B", "C-D"), ("B-C", "D-A")))
ROWS = (
    {"wall": "B", "length": 3001.0},
    {"wall": "A", "out": 600.0, "length": 3000.0},
    {"wall": "A", "at": 1000.0, "across": "C", "length": 3000.0},
    {"corner": "C-D", "square_to": "A", "length": 3000.0},
    {"corner": "B-C", "legs": (900.0, 1200.0), "length": 1500.0},
    {"corner": "A-B", "angle": 90.0},
)


@cache
def surveyed(off=0.0):
    """A square room with both diagonals and a row of each kind, of which wall A is read ``off`` too long."""
    room = square(3000.0, diagonals=ACROSS, measured=ROWS if not off else ())
    walls = tuple({**w, "length": w["length"] + off * (w["name"] == "A")} for w in room["walls"])
    return build(document(room={**room, "walls": walls}))


def run(*args):
    return CliRunner().invoke(main, [str(a) for a in args])


def said(kitchen):
    return " ".join(words for words, _ in words_on(survey_sheet(kitchen)))


def test_every_reading_lies_where_the_tape_lay():
    # Worked: a square of 3000; what is read before wall A runs 600 into the room, from B back to D.
    lines = {each.row.what: each.line for each in placed_readings(surveyed().document.room)}
    near = {"abs": 1.0}
    assert lines["corner A-B"] == (pytest.approx((3000.0, 0.0), **near),)
    assert math.dist(*lines["the diagonal A-B to C-D"]) == pytest.approx(4242.6, **near)
    assert [p[1] for p in lines["the width 600 before wall A (row 2)"]] == pytest.approx([-600.0] * 2, **near)
    assert [p[0] for p in lines["the width 600 before wall A (row 2)"]] == pytest.approx([0.0, 3000.0], **near)
    start, end = lines["from wall A at 1000 square to wall C (row 3)"]
    assert (*start, *end) == pytest.approx((1000.0, 0.0, 1000.0, -3000.0), **near)
    corner, foot = lines["corner C-D square to wall A (row 4)"]
    assert (*corner, *foot) == pytest.approx((0.0, -3000.0, 0.0, 0.0), **near)
    first, second = lines["the diagonal at corner B-C again (row 5)"]
    assert (*first, *second) == pytest.approx((3000.0, -2100.0, 1800.0, -3000.0), **near)


def test_the_sheet_has_every_reading_with_its_numbers():
    words = said(surveyed())
    for each in placed_readings(surveyed().document.room):
        assert each.row.what in words
        assert f" {each.number}  {each.row.value:g}" in words, each.row.what
    assert "ORDER AND CUT NOTHING YET" not in words


def test_a_suspect_is_red_has_a_sign_and_says_what_it_may_be():
    kitchen = surveyed(100.0 / 4)
    words = said(kitchen)
    assert "ORDER AND CUT NOTHING YET" in words
    assert "1 Measure again wall A (3025; 3000 by the others)" in " ".join(words.split())
    marks = [mark for view in survey_sheet(kitchen).views for mark in view.marks]
    red = {mark.words for mark in marks if getattr(mark, "words", "") and mark.stroke is Stroke.WARNING}
    assert "! 1  3025" in red
    assert "wall A" in red
    assert "wall C" not in red


def test_what_is_ordered_checked_and_cut_says_it_first():
    kitchen = surveyed(25.0)
    found = {f.rule: f for f in check(kitchen)}
    assert found["survey-agrees"].serious
    assert found["survey-agrees"].place == "survey: wall A (fewer than 1 right survey in 1000 is so far off)"
    assert found["survey-agrees"].advice.startswith("Measure again wall A (3025; 3000 by the others)")
    assert take_off(kitchen).cautions[0].startswith("Order nothing yet: the readings of the survey contradict")
    assert "Order and cut nothing yet" in steps(kitchen)[0].cautions[0]
    assert "fits with" not in " ".join(f.place for f in check(kitchen))


def test_papers_say_what_rests_on_one_reading():
    walls = ({"name": "Z", "length": 2000.0, "corner": 90.0}, {"name": "A", "length": 2440.0, "corner": 90.0})
    row = {"wall": "A", "start": 20.0, "units": ({"unit": "base-doors", "width": 800.0},) * 3}
    kitchen = build(document(room={"walls": (*walls, {"name": "B", "length": 2000.0})}, runs=(row,)))
    lines = " ".join(steps(kitchen)[0].lines)
    assert "Nothing checks corner Z-A, wall A and corner A-B: measure that a second time." in lines
    assert "Measure start to A-B and Z-A to end as well" in lines
    assert "? 3  2440" in said(kitchen)


@pytest.mark.parametrize("path", DEMOS[::5], ids=lambda path: path.stem)
@pytest.mark.slow
def test_no_words_of_the_sheet_lie_over_others(path):
    placed = words_on(survey_sheet(open_kitchen(path)))
    for i, (words, box) in enumerate(placed):
        over = [other for other, taken in placed[:i] if taken.intersection(box).area > 0.05]
        assert not over, (words, over)


UNBUILT = """\
kitchen: A room that misses itself, invented
room:
  walls: [{name: A, length: 4000, corner: 90}, {name: B, length: 3000, corner: 90},
          {name: C, length: 4100, corner: 90}, {name: D, length: 3000, corner: 90}]
  diagonals: [{from: A-B, to: C-D, length: 5001}, {from: B-C, to: D-A, length: 4999}]
runs: [{wall: A, start: 500, units: [{unit: base-doors, width: 1000}]}]
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: sage}
"""


def test_a_survey_that_is_refused_is_shown_with_its_culprit(tmp_path):
    file = tmp_path / "misses.yaml"
    file.write_text(UNBUILT)
    told = run("survey", file)
    assert told.exit_code == 2
    words = " ".join(told.stdout.split())
    assert "The survey misses itself by 100 mm and +0.0°" in words
    assert "Measure again wall C (4100; 4000 by the others: perhaps 4000, a hundred off)." in words
    assert "misses.yaml:4: room.walls[2].length: found walls that end 100 mm" in told.stderr
    data = run("survey", file, "--json")
    assert [r["reading"] for r in json.loads(data.stdout)["readings"] if r["suspected"]] == ["wall C"]
    assert run("survey", file, "--out", tmp_path / "out").exit_code == 2
    drawn = (tmp_path / "out" / "survey.svg").read_text()
    assert "ORDER AND CUT NOTHING YET" in drawn
    assert "no papers: not built" in drawn
    assert run("check", file).exit_code == 2


def test_the_data_of_a_survey_say_what_tells_suspects_apart_and_what_checks_a_lone_reading():
    walls = tuple({**w, "length": w["length"] + 80.0 * (w["name"] == "A")} for w in square(3000.0)["walls"])
    room, why = Room.model_validate({"walls": walls}), InputError.at("room", found="", allowed="")
    told = unbuilt_json(room, survey_unjudged(room), why)
    assert told["apart"] == {"measure": "A-B to C-D", "groups": (("wall A",), ("wall C",))}
    lone = Room.model_validate({"walls": (*walls[:1], {"name": "B", "length": 3000.0})})
    told = unbuilt_json(lone, survey_unjudged(lone), why)
    assert set(told["checked_by"].items()) >= {("room.walls[0].length", "start to end")}


def test_a_room_of_two_walls_of_one_name_is_refused_without_a_survey(tmp_path):
    file = tmp_path / "twice.yaml"
    file.write_text(UNBUILT.replace("name: B", "name: A"))
    told = run("survey", file)
    assert (told.exit_code, told.stdout) == (2, "")


def test_what_may_be_chance_stops_nothing_and_is_still_said():
    walls = tuple({**w, "length": w["length"] + 25.0 * (w["name"] == "A")} for w in square(3000.0)["walls"])
    kitchen = build(document(room={"walls": walls}))
    found = {f.rule: f for f in check(kitchen)}
    assert found["survey-agrees"].verdict == "met"
    assert found["survey-doubtful"].verdict == "falls short"
    assert found["survey-doubtful"].place == "survey: wall A, wall C (24 right surveys in 1000 are as far off)"
    assert "MEASURE AGAIN BEFORE YOU ORDER OR CUT" in said(kitchen)
    assert take_off(kitchen).cautions[0].startswith("Before you order: the readings of the survey agree less well")
    assert steps(kitchen)[0].cautions[0].startswith("Before you cut: The readings agree less well")
    assert "fits with" in " ".join(f.place for f in check(kitchen))
