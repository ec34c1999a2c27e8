"""What a person mistypes in a survey: each mistake is told with field, found, allowed and what to try."""

import pytest

from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_text
from countersunk.model.survey import survey_room

GOOD = """\
kitchen: Typing, invented
room:
  height: 2400
  walls:
    - {name: A, length: 4200, corner: 90}
    - {name: B, length: 3600, diagonal: {legs: [900, 1200], length: 1500}}
    - {name: C, length: 1700, corner: 90}
    - {name: D, length: 1400, corner: 270}
    - {name: E, length: 2500, corner: 90, bow: {every: 500, offsets: [0, 4, 2]}}
    - {name: F, length: 2200, corner: 90}
  openings: [{kind: door, wall: C, at: 300, width: 800}]
  diagonals: [{from: A-B, to: D-E, length: 2780}]
  slopes: [{wall: F, eaves: 1600, run: 900}]
runs: [{wall: A, start: 900, units: [{unit: base-doors, width: 600}]}]
worktop: {stock: pf38.600, decor: pale-oak}
fronts: {decor: sage}
"""


def read(text):
    document, source = read_text(text.encode(), Document, "k.yaml")
    with source.locating():
        return survey_room(document.room)


def test_the_file_is_good_before_it_is_spoilt():
    assert read(GOOD).misclosure == pytest.approx((0.0, 0.0), abs=1e-6)


MISTAKES = [
    (
        "length: 4200", "length: 420",
        "k.yaml:5: room.walls[0].length: found walls that end 3780 mm from where they began; allowed: at most "
        "30 mm. Try: measure wall A again (4200 would close the room).",
    ),
    (
        "length: 4200", "length: 4.2",
        "k.yaml:5: room.walls[0].length: found 4.2; allowed: a number from 100 to 20000. "
        "Try: 4200, if that was in m: lengths are in mm.",
    ),
    (
        "height: 2400", "height: 240",
        "k.yaml:3: room.height: found 240; allowed: a number from 1800 to 6000. "
        "Try: 2400, if that was in cm: lengths are in mm.",
    ),
    (
        "length: 4200", "length: 420 cm",
        'k.yaml:5: room.walls[0].length: found "420 cm"; allowed: a number from 100 to 20000. '
        "Try: 4200, without units, spaces or quotes.",
    ),
    (
        "corner: 270", "corner: 270°",
        'k.yaml:8: room.walls[3].corner: found "270°"; allowed: a number from 30 to 330. '
        "Try: 270, without units, spaces or quotes.",
    ),
    (
        "corner: 270", "corner: 90",
        "k.yaml:8: room.walls[3].corner: found corners that add up to 540°; allowed: 720° ± 1° for 6 walls. "
        "Try: measure corner D-E again (270.0° would close the room).",
    ),
    (
        "corner: 270", "corner: 270, 5",
        "k.yaml:8: room.walls[3].5: found an unknown key; allowed: name, length, corner, diagonal, bow, "
        "tolerance, corner_tolerance, kind. Try: a point in a decimal number, and no comma within one.",
    ),
    (
        "legs: [900, 1200]", "legs: [900]",
        "k.yaml:6: room.walls[1].diagonal.legs[1]: found nothing; allowed: a number from 100 to 20000. "
        "Try: 2 values in the list.",
    ),
    (
        "from: A-B", "from: AB",
        'k.yaml:12: room.diagonals[0].from: found "AB"; allowed: the two walls of a corner, left one first, '
        "as A-B.",
    ),
    (
        "offsets: [0, 4, 2]", "offsets: [2, 4, 2]",
        "k.yaml:9: room.walls[4].bow.offsets[0]: found 2 at the wall's left end; allowed: 0, since offsets are "
        "read from the straight line between the wall's ends. Try: stretch the line",
    ),
    (
        "offsets: [0, 4, 2]", "offsets: [0, 40 cm, 2]",
        'k.yaml:9: room.walls[4].bow.offsets[1]: found "40 cm"; allowed: a number from -100 to 100. '
        "Try: a number alone.",
    ),
    (
        "eaves: 1600", "eaves: 2600",
        "k.yaml:13: room.slopes[0].eaves: found 2600; allowed: less than the room's 2400. Try: eaves is the height",
    ),
    (
        "name: D", "name: 4",
        "k.yaml:8: room.walls[3].name: found 4; allowed: a letter, then up to 11 letters or digits.",
    ),
    (
        "at: 300", "at: 1300",
        "k.yaml:11: room.openings[0].width: found 800; allowed: at most 400 mm here. Try: measure it again; at is",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "message"), MISTAKES)
def test_each_mistake_is_told_with_what_to_try(old, new, message):
    with pytest.raises(InputError) as caught:
        read(GOOD.replace(old, new, 1))
    (problem,) = caught.value.problems
    assert str(problem).startswith(message)
