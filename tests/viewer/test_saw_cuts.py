"""The page for the saw: its cuts, numbers and likely slips, worked by hand and compared with the drawings."""

import json
import re

import pytest
from shapely import Polygon

from countersunk.model.kitchen import build
from countersunk.viewer.drawing.ordinates import ordinates
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.saw.cuts import saw_cuts
from countersunk.viewer.saw.page import page_data, saw_html, state_of
from countersunk.viewer.saw.slips import LikelySlip, slips, turned_digits
from tests.lanes import some
from tests.specimens import DEMOS, cornered, document, open_kitchen


def told(value, tolerance=1.0, own=()):
    return {slip.value: slip.why for slip in slips(value, tolerance, own)}


def test_slips_of_any_tape_worked_by_hand():
    assert told(1186.5) == {
        1816.5: "two digits are turned",
        1168.5: "two digits are turned",
        1286.5: "the tape was held at its 100 mark",
        1086.5: "100 was taken off twice, or misread",
        118.7: "typed in centimetres",
    }


def test_the_slips_of_a_piece_go_first_and_two_that_cannot_be_told_apart_are_one():
    found = told(1200.0, own=[LikelySlip(2100.0, "from the wrong end"), LikelySlip(1201.5, "rim")])
    assert found[2100.0] == "from the wrong end"  # and not two digits turned
    assert 1201.5 not in found  # within twice the tolerance of what is right


@pytest.mark.parametrize(("value", "turned"), [(11.0, []), (7.3, []), (120.0, [210.0, 102.0])])
def test_digits_that_are_the_same_cannot_be_turned(value, turned):
    assert turned_digits(value) == turned


def by_key(kitchen, **more):
    return {(cut.length.id, cut.key): cut for cut in saw_cuts(kitchen, **more)}


def values(cut):
    return {d.key: d.value for d in cut.distances}


def test_a_square_corner_worked_by_hand():
    """A 90° mitre with tops 600 deep and 15 of notch: see the design of joins for the same numbers.

    The male's front is 15 shorter than its length over all, its back like its front, since the corner is square.
    """
    kitchen = build(cornered(90.0))
    cuts = by_key(kitchen)
    (join,) = kitchen.joins
    male, female = kitchen.length(join.male), kitchen.length(join.female)
    cut = cuts[male.id, f"join.{join.key}"]
    whole = male.part.length
    assert values(cut)["shoulder"] == pytest.approx(whole, abs=0.1)
    assert values(cut)["front"] == pytest.approx(whole - 15.0, abs=0.1)
    assert values(cut)["back"] == pytest.approx(whole, abs=0.1)
    cut = cuts[female.id, f"join.{join.key}"]
    whole = female.part.length
    assert values(cut)["front"] == pytest.approx(whole - 600.0, abs=0.1)  # the corner less the depth of the male
    assert values(cut)["shoulder"] == pytest.approx(whole - 585.0, abs=0.1)
    assert values(cut)["end"] == 15.0
    slip = {s.why: s.value for s in cut.distances[0].slips}
    assert slip["measured from the wrong end"] == pytest.approx(600.0, abs=0.1)


HOB = {"template": "hob.60", "over": "A2"}


@pytest.fixture(scope="module")
def with_hob():
    demo = next(p for p in DEMOS if p.stem == "straight")
    return open_kitchen(demo)


def test_a_cut_out_names_wrong_end_mirror_rim_and_back(with_hob):
    cutout = next(c for c in with_hob.cutouts if c.template.radius and c.template.mount != "under")
    length = with_hob.length(cutout.length)
    cut = by_key(with_hob)[length.id, f"cut-out.{cutout.key}"]
    x0, y0, x1, y1 = Setout(length, Face.TOP).see_shape(Polygon(cutout.line.exterior)).bounds
    rim = Setout(length, Face.TOP).see_shape(Polygon(cutout.rim.exterior)).bounds
    near, far = sorted((abs(x0), abs(x1)))
    rim_near = min(abs(rim[0]), abs(rim[2]))
    whole, depth = length.part.length, length.run.stock.depth
    distance = {d.key: d for d in cut.distances}
    assert distance["near"].value == pytest.approx(near, abs=0.06)
    assert distance["far"].value == pytest.approx(far, abs=0.06)
    assert distance["front"].value == pytest.approx(y0, abs=0.06)
    why = {s.why: s.value for s in distance["near"].slips}
    assert why["measured from the wrong end"] == pytest.approx(whole - near, abs=0.06)
    mirrored = why["set out mirrored: the other face is up, or from the wrong end"]
    assert mirrored == pytest.approx(whole - far, abs=0.06)
    assert why["that is the rim, not the line to cut"] == pytest.approx(rim_near, abs=0.06)
    why = {s.why: s.value for s in distance["front"].slips}
    assert why["measured from the back edge"] == pytest.approx(depth - y0, abs=0.06)
    if abs(depth - y1 - y0) > 2.0:  # else it lies in the middle, and mirrored is right
        mirrored = why["measured from the back edge: the cut-out is mirrored front to back"]
        assert mirrored == pytest.approx(depth - y1, abs=0.06)


@pytest.mark.parametrize("demo", some(DEMOS, 4), ids=lambda p: p.stem)
def test_every_number_is_one_of_the_drawing_and_every_cut_is_in_a_step(demo):
    """The sheet of the same face sets the same numbers out; the tape and the paper cannot disagree."""
    kitchen = open_kitchen(demo)
    cuts = saw_cuts(kitchen)
    data = page_data(kitchen, ())
    assert sum(len(step["cuts"]) for step in data["steps"]) == len(cuts)
    assert len({(cut.piece, cut.key) for cut in cuts}) == len(cuts)
    for cut in cuts:
        drawn = {round(n.value, 1) for n in ordinates(kitchen, Setout(cut.length, cut.face), 10.0)}
        for distance in cut.distances:
            assert any(abs(distance.value - number) < 0.11 for number in drawn), (demo.stem, cut.title, distance)
            assert all(abs(s.value - distance.value) > 2 * distance.tolerance - 0.1 for s in distance.slips)


@pytest.mark.parametrize("demo", some(DEMOS, 4), ids=lambda p: p.stem)
def test_what_falls_off_lies_off_the_length_and_at_the_line(demo):
    for cut in saw_cuts(open_kitchen(demo)):
        outline = Polygon(Setout(cut.length, cut.face).see_shape(cut.length.part.outline).exterior)
        if cut.key.startswith("cut-out"):
            assert outline.buffer(0.1).covers(cut.falls)
        elif not cut.falls.is_empty:
            assert cut.falls.intersection(outline).area < 0.02 * outline.area, cut.title
            assert cut.falls.distance(cut.line) < 1.0, cut.title


def test_the_page_is_whole_and_needs_nothing_from_elsewhere(with_hob):
    page = saw_html(with_hob).decode()
    assert page.startswith("<!doctype html>")
    assert not re.search(r"(src|href)\s*=\s*[\"']?(https?:)?//", page)
    assert "http:" not in page
    assert "https:" not in page
    assert "default-src 'none'" in page
    data = json.loads(re.search(r'id="data">(.*?)</script>', page, re.S)[1])
    assert data["hash"] == state_of(with_hob.document)
    assert data["steps"][0]["title"] == "Measure twice before anything is cut"


def test_text_of_a_kitchen_is_never_markup():
    name = '</script><script>alert(1)</script> & \u2028 "x"'
    page = saw_html(build(document(kitchen=name))).decode()
    assert "<script>alert" not in page
    data = json.loads(re.search(r'id="data">(.*?)</script>', page, re.S)[1])
    assert data["kitchen"] == name


def test_a_kitchen_is_known_by_all_that_is_built_from():
    one, other = (document(kitchen=name) for name in ("one", "other"))
    assert state_of(one) != state_of(other)
    assert state_of(one) == state_of(document(kitchen="one"))
