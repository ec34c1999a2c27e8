"""The papers of a length: set out from one datum, the same on both faces, numbers worked by hand."""

import itertools
import math

import pytest

from countersunk import shared
from countersunk.model.checks import check
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.geometry.profile import set_out_points
from countersunk.model.kitchen import build
from countersunk.model.tops.edges import CUT_OUTS
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.report.report import as_json
from countersunk.viewer.drawing.conditions import LETTERS, WORK, work
from countersunk.viewer.drawing.facts import groups
from countersunk.viewer.drawing.handling import handling
from countersunk.viewer.drawing.lettering import mm, text_box, words_on
from countersunk.viewer.drawing.ordinates import ordinates
from countersunk.viewer.drawing.piece import edge_lines
from countersunk.viewer.drawing.piece_sheets import length_sheets, piece_scale, piece_sheet
from countersunk.viewer.drawing.piece_tables import MIDDLE
from countersunk.viewer.drawing.setout import Face, Setout, hand_of, sex_of
from countersunk.viewer.drawing.shapes import Ordinate, Text
from countersunk.viewer.drawing.strokes import EDGES, PENS
from tests.specimens import FEW_DEMOS, cornered, document, open_kitchen
from tests.viewer.words import check_apart

EVERY_LENGTH = [(path, length.id) for path in FEW_DEMOS for length in open_kitchen(path).lengths]


def named(case):
    return f"{case[0].stem}-{case[1]}"


@pytest.fixture(params=EVERY_LENGTH, ids=named)
def laid(request):
    path, id_ = request.param
    kitchen = open_kitchen(path)
    return kitchen, kitchen.length(id_)


def numbers(kitchen, length, axis, mark="", face=Face.UNDERSIDE):
    """What the sheet says along one axis, smallest first."""
    found = ordinates(kitchen, Setout(length, face), piece_scale(length))
    return sorted(o.value for o in found if o.axis == axis and o.mark in (mark, "back" if mark == "" else mark))


def distinct(values):
    return sorted({round(v, 1) for v in values})


def test_the_underside_mirrored_is_the_top(laid):
    _, length = laid
    top, underside = (edge_lines(Setout(length, face)) for face in (Face.TOP, Face.UNDERSIDE))
    assert [p.stroke for p in top] == [p.stroke for p in underside]
    for one, other in zip(top, underside, strict=True):
        for (x, y), seen in zip(other.points, one.points, strict=True):
            assert (-x, y) == pytest.approx(seen, abs=1e-9)


def test_both_faces_say_the_same_numbers(laid):
    kitchen, length = laid
    for axis in ("x", "y"):
        for mark in ("", "ø"):
            top, below = (distinct(numbers(kitchen, length, axis, mark, face)) for face in Face)
            assert top == below


def test_every_corner_of_the_outline_is_set_out_from_the_datum(laid):
    kitchen, length = laid
    datum = Setout(length, Face.TOP).datum
    xs, ys = distinct(numbers(kitchen, length, "x")), distinct(numbers(kitchen, length, "y"))
    for x, y in (p for e in length.part.edges if e.condition not in CUT_OUTS for p in set_out_points(e.path)):
        assert any(abs(abs(x - datum[0]) - v) < 0.06 for v in xs)
        assert any(abs(abs(y - datum[1]) - v) < 0.06 for v in ys)


def test_numbers_never_stand_on_each_other(laid):
    kitchen, length = laid
    scale = piece_scale(length)
    for face in Face:
        below = sorted(o.label[0] for o in ordinates(kitchen, Setout(length, face), scale) if o.axis == "x")
        assert all(b - a >= 3.0 * scale - 1e-6 for a, b in itertools.pairwise(below))


# Mason's mitre at 90°, d = 600, s = 15, female on A (3000 long), male on B (2400 long). The rows are 1200 wide, end
# or begin 620 from the corner, and overhang their free ends by 10.
# Female, datum at its free left end, 620 + 1200 + 10 = 1830 from the corner:
#   front edge ends at P, 1830 - 600 = 1230; straight side begins at 1830 - 585 = 1245; ends at 1830.
# Male, datum at its free right end, 1830 from the corner:
#   front edge ends at P, 1830 - 600 = 1230; straight side, 585 from the corner, at 1245.
# Slots along the straight side of 585: biscuits at 50, 50 + 485/3 = 211.67, 373.33, 535, bolts midway.
def test_90_degree_mitre_by_hand():
    kitchen = build(cornered(90.0))
    female, male = (kitchen.length(i) for i in (kitchen.joins[0].female, kitchen.joins[0].male))
    assert numbers(kitchen, female, "x") == pytest.approx([0, 1230, 1245, 1830], abs=1e-6)
    assert distinct(numbers(kitchen, female, "y")) == [0, 15, 600]
    along = [1245 + s for s in (50, 211.667, 373.333, 535)]
    assert numbers(kitchen, female, "x", "b") == pytest.approx(along, abs=1e-3)
    along = [1245 + s for s in (130.833, 292.5, 454.167)]
    assert numbers(kitchen, female, "x", "B") == pytest.approx(along, abs=1e-3)
    assert numbers(kitchen, male, "x") == pytest.approx([0, 1230, 1245], abs=1e-6)
    across = [15 + s for s in (130.833, 292.5, 454.167)]
    assert numbers(kitchen, male, "y", "B") == pytest.approx(across, abs=1e-3)


# The same at 93°, tan 46.5° = 1.053780, sin 93° = 0.998630, tan 93° = -19.081137:
#   P lies 600 / 1.053780 = 569.379 from the corner, the straight side begins 585 / 1.053780 = 555.144 from it and
#   meets the other wall 585 / 0.998630 = 585.803 along that wall.
# Male, datum 1830 from the corner: back 1830 - 585.803 = 1244.197, P 1260.621, straight side from 1274.856.
# Female, datum 1830 from the corner: P 1260.621, straight side from 1274.856; the wall leans outwards, so that its
# front end lies 585 / tan 93° = -30.659 from the corner: 1860.659.
@pytest.mark.parametrize(("wall", "hands"), [("A", ("right", "left")), ("B", ("left", "right"))])
def test_93_degree_mitre_of_both_hands_by_hand(wall, hands):
    kitchen = build(cornered(93.0, wall))
    join = kitchen.joins[0]
    female, male = kitchen.length(join.female), kitchen.length(join.male)
    assert (female.run.wall, hand_of(female, join), hand_of(male, join)) == (wall, *hands)
    assert (sex_of(female, join), sex_of(male, join)) == ("female", "male")
    assert numbers(kitchen, male, "x") == pytest.approx([0, 1244.197, 1260.621, 1274.856], abs=2e-3)
    assert numbers(kitchen, female, "x") == pytest.approx([0, 1260.621, 1274.856, 1830, 1860.659], abs=2e-3)


# Butt with a strip at 90°: the male ends 600 + 2 (web) from the corner, 1830 - 602 = 1228 long. The female stays
# whole, 1830 long; the male meets its front edge from 1830 - 600 = 1230 on.
# The strip is screwed to the male: neither length has slots, and the female's factory edge stays whole.
def test_butt_with_a_strip_by_hand():
    kitchen = build(cornered(90.0, kind="butt", notch=None))
    female, male = (kitchen.length(i) for i in (kitchen.joins[0].female, kitchen.joins[0].male))
    assert numbers(kitchen, male, "x") == pytest.approx([0, 1228], abs=1e-6)
    assert numbers(kitchen, female, "x") == pytest.approx([0, 1230, 1830], abs=1e-6)
    assert numbers(kitchen, male, "y", "B") == numbers(kitchen, female, "x", "B") == []


# Hob over the third of three units, 500 + 400 + 600 = 1500 to 2100: middle 1800. The length begins at 490 with its
# overhang, so the middle lies 1310 from the datum; line 560 x 490, 55 from the front; holes 16 inside the line.
def test_cutout_by_hand():
    kitchen = build(document(cutouts=({"template": "hob.electric-60", "over": "A3"},)))
    length = kitchen.lengths[0]
    assert distinct(numbers(kitchen, length, "x")) == [0, 1030, 1590, 1620]
    assert distinct(numbers(kitchen, length, "x", "ø")) == [1046, 1574]
    assert distinct(numbers(kitchen, length, "y")) == [0, 55, 545, 600]
    assert distinct(numbers(kitchen, length, "y", "ø")) == [71, 529]


def test_weight_by_hand():
    # 1830 x 600 less a corner for the female at 90°: what lies in front of its joint, a strip 585 by 15 and half of
    # 15 by 15: 8775 + 112.5 = 8887.5. So 1 098 000 - 8887.5 = 1 089 112.5 mm², times 38: 41 386 275 mm³. Off it go
    # the nose, 2 · (1 - π/4) · 6² along 1230 of front, 19 005; three bolts of 12 x 41 and 40 x 24, 22 deep, 95 832;
    # and four biscuits of 56 x 12 x 4, 10 752. That leaves 41 260 686 mm³, at 600 kg/m³: 24.756 kg.
    # Its blank is 2400 long: 2400 x 600 x 38 x 600e-9 = 32.832 kg, and longer than 2000, so two people:
    # at 90.8 cm each should carry 23 · 25/30 · 0.9 · (1 − 0.003 · 15.8) = 16.43 kg by the NIOSH equation.
    kitchen = build(cornered(90.0))
    found = handling(kitchen.length(kitchen.joins[0].female))
    assert found.weight == pytest.approx(24.756, abs=2e-3)
    assert found.blank_weight == pytest.approx(32.832, abs=1e-3)
    assert (found.blank, found.blank_people, found.people) == (2400.0, 2, 2)
    assert found.each == pytest.approx(16.43, abs=0.005)
    assert found.spare == pytest.approx(570.0)


def test_every_condition_has_its_own_letter_line_and_work():
    assert set(LETTERS) == set(WORK) == set(EDGES) == set(EdgeCondition)
    assert len(set(LETTERS.values())) == len(EdgeCondition)
    pens = {(PENS[s].width, PENS[s].colour, PENS[s].dash) for s in EDGES.values()}
    assert len(pens) == len(EdgeCondition)


@pytest.mark.parametrize("face", Face)
def test_every_edge_is_lettered_and_explained_on_the_sheet(laid, face):
    kitchen, length = laid
    main, *_, paper = piece_sheet(kitchen, length, face).views
    lettered = [m.words for m in main.marks if isinstance(m, Text) and m.words in LETTERS.values() and m.bold]
    assert sorted(lettered) == sorted(LETTERS[e.condition] for e in length.part.edges)
    words = [m.words for m in paper.marks if isinstance(m, Text)]
    for condition in {e.condition for e in length.part.edges}:
        assert LETTERS[condition] in words
        assert condition.value in words
        assert work(condition, kitchen.joins).split()[0] in " ".join(words)


def test_the_underside_says_so_in_large_letters(laid):
    kitchen, length = laid
    paper = piece_sheet(kitchen, length, Face.UNDERSIDE).views[-1]
    largest = max((m for m in paper.marks if isinstance(m, Text)), key=lambda m: m.height)
    assert "UNDERSIDE - MIRRORED - mark and cut from here" in largest.words
    assert largest.height >= 6.0


def test_numbers_read_like_a_tape():
    assert [mm(v) for v in (0.0, -0.0, -0.04, 15.0, 1814.197, 1274.856)] == [
        "0",
        "0",
        "0",
        "15",
        "1814.2",
        "1274.9",
    ]


def test_a_datum_end_is_square_wherever_one_is(laid):
    _, length = laid
    setout = Setout(length, Face.TOP)
    kinds = {"left": length.left.kind, "right": length.right.kind}
    if kinds[setout.datum_side] in ("join", "wall"):
        assert not {"free", "tall"} & set(kinds.values())
    assert math.isclose(setout.see(setout.datum)[0], 0.0)


@pytest.mark.parametrize(("name", "id_"), [("quarry", "T1"), ("cottonwood", "T2")])
def test_no_line_of_a_number_runs_through_the_words_of_a_cutout(name, id_):
    # The line of a tap behind the sink once ran through "440 x 400", which is what is cut.
    kitchen = open_kitchen(shared.KITCHENS / f"{name}.yaml")
    length = kitchen.length(id_)
    for face in Face:
        main, *_ = piece_sheet(kitchen, length, face).views
        down = [m for m in main.marks if isinstance(m, Ordinate) and m.axis == "x"]
        said = [
            m for m in main.marks if isinstance(m, Text) and m.words.startswith(("LINE TO CUT", "440 x", "720 x"))
        ]
        assert len(said) == 2
        for text in said:
            x0, y0, x1, _ = text_box(text, main.scale).bounds
            assert not [o for o in down if x0 < o.feature[0] < x1 and o.feature[1] > y0], text.words


@pytest.mark.parametrize("path", FEW_DEMOS, ids=lambda path: path.stem)
def test_one_mass_for_the_sheet_the_finding_and_the_takeoff(path):
    kitchen = open_kitchen(path)
    found = {f.ids[0]: f.value for f in check(kitchen) if f.rule == "worktop-weight"}
    taken = {m["id"]: m["kg"] for m in as_json(take_off(kitchen))["masses"]}
    for length in kitchen.lengths:
        words = " ".join(line for group in groups(kitchen, length) for line, _ in group.lines(300.0))
        assert taken[length.id] == found[length.id]
        assert f"Weight cut {found[length.id]:.1f} kg" in words


def test_facts_that_have_no_room_beside_the_legend_stand_below_it_before_they_take_a_sheet():
    cutouts = ({"template": "sink.one-bowl", "over": "A2"}, {"template": "hob.electric-60", "over": "A3"})
    kitchen = build(document(cutouts=cutouts))
    length, findings = kitchen.lengths[0], check(kitchen)
    sheets = length_sheets(kitchen, length, findings)
    assert [sheet.name for sheet in sheets] == ["T1-top", "T1-underside"]
    check_apart(sheets)
    for sheet in sheets:
        placed = {words: place.bounds[0] for words, place in words_on(sheet)}
        assert placed["CUT-OUT T1/sink"] > MIDDLE - 1.0 > placed["CUT-OUT T1/hob"], "beside the legend, below it"


def test_both_halves_say_where_their_join_in_line_may_lie():
    # Eight doors of 600 from 500, stock of 4100: from 1210 to 4590, 88 and more from the sides of a unit.
    units = ({"unit": "base-doors", "width": 600.0},) * 8
    kitchen = build(document(room={"walls": ({"name": "A", "length": 6500.0},)},
                             runs=({"wall": "A", "start": 500.0, "units": units},)))  # fmt: skip
    words = "1210 to 1612, 1788 to 2212, 2388 to 2812, 2988 to 3412, 3588 to 4012, 4188 to 4590"
    for length in kitchen.lengths:
        said = [sentence for group in groups(kitchen, length) for sentence in group.sentences]
        assert f"May lie at {words} along A, while other joins stay" in said
