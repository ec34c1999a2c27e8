"""The papers of a top that is notched, scribed, rounded, joined in line and met by a peninsula; by hand."""

import io
from dataclasses import replace

import ezdxf
import pytest

from countersunk.model.checks import Severity, check
from countersunk.model.checks.registry import MEASURES
from countersunk.model.kitchen import build
from countersunk.viewer.drawing.behind import notches
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.facts import PITCH, TIGHTEST, groups
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.open_findings import CUTTING, MOST, of_join, of_length
from countersunk.viewer.drawing.papers import sheets
from countersunk.viewer.drawing.piece_sheets import length_sheets
from countersunk.viewer.drawing.shapes import Text
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.upstand import upstands
from tests.specimens import SQUARE_ROOM, document, everything


@pytest.fixture(scope="module")
def kitchen():
    return build(everything())


@pytest.fixture(scope="module")
def drawn(kitchen):
    return {sheet.name: sheet for sheet in sheets(kitchen)}


def model_space(sheet):
    return ezdxf.read(io.StringIO(dxf(sheet).decode())).modelspace()


def numbers(sheet):
    """What the ordinates say in the file, x and y together: the words as a drawing program shows them."""
    found = [d for d in model_space(sheet).query("DIMENSION") if d.dimtype == 6]
    return {next(e.text for e in d.virtual_entities() if e.dxftype() == "MTEXT") for d in found}


# T1 begins 10 before the panel at 150, so at 140 along the wall, and ends in the join at 2756: 2616 long. The
# boxing stands from 700 to 860 and 120 deep; with 3 of gap it takes 697 to 863, 557 to 723 from the datum, and
# leaves 600 - 123 = 477 at the front. The tee is 900 wide, 1562 to 2462 from the datum. The socket is 60 right of
# the middle of A2, at 468 + 60 = 528: 388 from the datum; the tap 300 right of A4's, at 1668 + 300: 1828.
@pytest.mark.slow
def test_a_notched_top_read_back_from_the_dxf(kitchen, drawn):
    assert kitchen.length("T1").part.length == pytest.approx(2616.0)
    for face in ("top", "underside"):
        said = numbers(drawn[f"T1-{face}"])
        assert {"557", "723", "477", "388 ø60", "1828 ø35", "542.5 ø35", "1562", "2462", "2616"} <= said
        assert not {"560", "720", "480"} & said  # no ends of the arcs of the inside corners


@pytest.mark.slow
def test_the_notch_in_the_dxf_is_the_models(drawn):
    lines = model_space(drawn["T1-top"]).query(f'LWPOLYLINE[layer=="{Stroke.WALL.value}"]')
    points = {(round(x, 2), round(y, 2)) for line in lines for x, y, *_ in line.get_points()}
    assert {(557.0, 480.0), (560.0, 477.0), (720.0, 477.0), (723.0, 480.0)} <= points


def test_a_top_that_ends_at_a_breast_is_not_notched_round_it():
    # The plain row's top lies from 490 to 2110 along wall A, 870 to 908 high; the boxing begins where it ends.
    boxing = {"kind": "pipe-boxing", "wall": "A", "width": 300.0, "depth": 180.0, "bottom": 870.0}
    room = {"walls": SQUARE_ROOM}
    beside, in_the_way = (
        build(document(room={**room, "obstacles": ({**boxing, "at": at},)})) for at in (2110.0, 2000.0)
    )
    assert not notches(beside, beside.lengths[0])
    ((obstacle, lost),) = notches(in_the_way, in_the_way.lengths[0])
    assert (obstacle.kind, lost.bounds) == ("pipe-boxing", pytest.approx((1507.0, 0.0, 1620.0, 183.0)))


# The wall as read every 500: hollow 3 at 500, 6 at 1000, 4 at 1500, on the chord at 2000, bulging 3 at 2500, 5 at
# 3000. From T1's datum: 360, 860, 1360, 1860, 2360. Left end, 140: hollow 3 * 140 / 500 = 0.84; right end, 2756:
# bulging 3 + 2 * 256 / 500 = 4.024. Pushed back by 6, what comes off is 6 less the hollow, or 6 and the bulge.
def test_a_bowed_back_says_what_to_take_off_at_each_station(kitchen):
    (back,) = [g for g in groups(kitchen, kitchen.length("T1")) if g.title == "BACK against wall A"]
    bulge, hollow = back.sentences
    assert "at 0: 0, 360: 0, 860: 0, 1360: 0, 1860: 0, 2360: 3, 2616: 4, straight" in bulge
    assert "push back by 6" in hollow
    assert "at 0: 5.2, 360: 3, 860: 0, 1360: 2, 1860: 6, 2360: 9, 2616: 10:" in hollow


# T4: 900 deep; R120 at the front, a clip of 80 at the back of its free end; the strip's screws 50 from the ends and
# (900 - 100) / 6 = 133.3 apart.
def test_round_and_clipped_corners_and_pilot_holes_read_back_from_the_dxf(drawn):
    said = numbers(drawn["T4-underside"])
    assert {"120", "80 back", "820", "900"} <= said
    assert {"50 p", "183.3 p", "316.7 p", "450 p", "583.3 p", "716.7 p", "850 p"} <= said


def test_a_join_in_line_is_set_out_on_both_its_lengths(kitchen, drawn):
    # 596 long, since the wall bulges by 4 behind it: biscuits 50 from its ends, bolts and biscuits in turn.
    (join,) = [j for j in kitchen.joins if j.kind == "in line"]
    marked = {f"{x:.1f}".removesuffix(".0") + (" B" if i % 2 else " b") for i, x in enumerate(join.stations)}
    assert len(marked) == 7
    for length in (join.female, join.male):
        assert marked <= numbers(drawn[f"{length}-underside"])


# Upstands stand where the top does, 140 to 4278, less the notches: 140 to 697, 863 to 2897, 3103 to 4278. The round
# hole is at 1700 - 863 = 837; the oblong one at 3500 - 3103 = 397, 347 to 447, 15 to 65 up.
def test_upstands_are_drawn_with_their_holes_set_out_from_the_left_end(kitchen, drawn):
    pieces = {u.part.mark: u for u in upstands(kitchen)}
    assert [round(u.part.length) for u in pieces.values()] == [557, 2034, 1175, 620]
    assert (pieces["S1"].left, pieces["S1"].right) == ("free", "butts against the pipe boxing")
    assert (pieces["S2"].left, pieces["S2"].right) == ("butts against the pipe boxing", "butts against the column")
    assert {"837 ø60", "50 ø60", "347", "447", "15", "65"} <= numbers(drawn["upstands"])
    said = " ".join(" ".join(words for words, _ in words_on(drawn["upstands"])).split())
    assert "S2 2034 x 100 x 18, wall A" in said
    assert "a length of 3000, 966 to spare" in said
    assert "glue, do not screw" in said


def test_upstands_that_meet_a_wall_or_a_tall_unit_say_so():
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    names = ("base-doors", "base-doors", "tall-fridge")
    run = {"wall": "A", "start": 0.0, "units": tuple({"unit": u, "width": 600.0} for u in names)}
    along_a, along_d = upstands(build(document(runs=(run,), worktop=worktop)))
    assert (along_a.wall.name, along_a.left, along_a.right) == ("A", "butts against S2", "butts against A3")
    assert (along_d.wall.name, along_d.left, along_d.right[:14]) == ("D", "free", "butts against ")


def test_what_is_open_stands_on_the_sheets_before_anything_is_cut(kitchen, drawn):
    findings = check(kitchen)
    open_ = of_length(kitchen, findings, kitchen.length("T1"))
    assert open_[0].startswith("must: ")
    assert of_length(kitchen, findings * 2, kitchen.length("T1"))[MOST:] == [
        f"and {_more(open_)} more, see the fit report"
    ]
    question = "Is there enough top between cut-out and join to hold the join's bolts?"
    assert f"must: {question} sink to join J2: 60 mm, at least 100 mm (-40 mm)" in open_
    assert not any(finding.rule in words for finding in findings for words in open_)
    (tee,) = [j for j in kitchen.joins if j.kind == "tee"]
    assert any(f"sink to join {tee.id}" in words for words in of_join(findings, tee))
    for name, heading in (("T1-top", "see the fit report"), (tee.id, "Settle first")):
        assert heading in " ".join(text for text, _ in words_on(drawn[name]))
    assert not of_length(kitchen, [f for f in findings if f.verdict == "met"], kitchen.length("T1"))


def _more(open_):
    """How many of twice as many findings are not named: those named once, and those that a sentence counts."""
    counted = int(open_[MOST].split()[1]) if len(open_) > MOST else 0
    return 2 * (min(len(open_), MOST) + counted) - MOST


@pytest.mark.slow
def test_facts_are_never_lettered_smaller_than_can_be_read(kitchen):
    findings = check(kitchen)
    for length in kitchen.lengths:
        titles = {g.title for g in groups(kitchen, length, findings)}
        papers = [
            view for sheet in length_sheets(kitchen, length, findings) for view in sheet.views if view.is_paper
        ]
        texts = [mark for view in papers for mark in view.marks if isinstance(mark, Text) and mark.words in titles]
        assert titles == {text.words for text in texts}
        assert min(text.height for text in texts) >= PITCH * TIGHTEST * 0.6 - 1e-6


def test_the_card_goes_through_notches_scribing_corners_and_upstands_in_order(kitchen):
    titles = [step.title for step in steps(kitchen)]
    wanted = [
        "Mark and cut to length", "Cut the joins", "Cut the notches", "Scribe the backs", "Shape the free corners",
        "Cut the cut-outs", "Seal every raw edge", "Turn and lower the lengths", "Upstands", "Silicone",
        "Tap, switch and socket", "Appliances and sink are connected",
    ]  # fmt: skip
    assert [t for t in titles if t in wanted] == wanted
    said = {step.title: " ".join(step.lines) for step in steps(kitchen)}
    assert "J1, in line: T1 female" in said["Cut the joins"]
    assert "T1/tap: hole saw ø35" in said["Cut the cut-outs"]
    assert "Offer up" in said["Scribe the backs"]


def test_only_what_bears_on_a_cut_is_to_be_settled_before_it(kitchen):
    findings = check(kitchen)
    length = kitchen.length("T1")
    heavy = [f for f in findings if f.measure == "lifting.people" and "T1" in f.ids]
    light = [replace(f, severity=Severity.MUST, value=f.limit + 1) for f in heavy]
    assert light
    assert of_length(kitchen, light, length) == []
    assert of_length(kitchen, [replace(f, measure="cutout.to_join") for f in light], length) != []
    # A hood is hung higher and a longer screw left out: the top is cut as it was.
    for other in ("hob.to_hood", "fixing.longest_screw", "worktop.to_wall_unit", "landing.beside_fridge"):
        assert of_length(kitchen, [replace(f, measure=other) for f in light], length) == []
    assert set(MEASURES) >= CUTTING
