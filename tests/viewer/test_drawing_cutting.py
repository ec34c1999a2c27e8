"""Cutting plans and labels on paper: the plan is what is drawn, no words touch, every code can be read."""

from __future__ import annotations

import io
import math
from itertools import pairwise

import ezdxf
import pypdfium2
import pytest
import zxingcpp

from countersunk.model.kitchen import build
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.boards import board_plans, sheet_parts
from countersunk.takeoff.plans.cut_plans import cut_plans
from countersunk.takeoff.plans.tops import shape_on
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.label_sheets import code
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.papers import cutting_sheets, labels
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import A3, Path
from countersunk.viewer.drawing.strokes import Stroke
from tests.lanes import some
from tests.specimens import DEMOS, SOME_DEMOS, document, open_kitchen
from tests.viewer.words import check_apart, check_inside


@pytest.fixture(params=some(SOME_DEMOS, 3), ids=lambda p: p.stem, scope="module")
def demo(request):
    return open_kitchen(request.param)


@pytest.fixture(scope="module")
def drawn(demo):
    return [*cutting_sheets(demo), *labels(demo)]


def test_no_words_touch_other_words(drawn):
    check_apart(drawn)


def test_no_words_are_cut_off(drawn):
    for sheet in drawn:
        check_inside(sheet, 10.0 if sheet.size == A3 else 5.0)


def test_every_panel_is_drawn_in_its_place_and_at_its_size(demo):
    drawn = {sheet.name: sheet for sheet in cutting_sheets(demo)}
    for plan in board_plans(demo):
        for number, board in enumerate(plan.sheets, start=1):
            view = drawn[f"cut-{plan.code.replace('.', '-')}-{number}"].views[0]
            outlines = {m.points[0] + m.points[2] for m in view.marks
                        if isinstance(m, Path) and m.stroke is Stroke.OUTLINE}  # fmt: skip
            assert outlines == {(p.x, p.y, p.x + p.length, p.y + p.width) for p in board.places}


def winding(points):
    """The farthest corner first, then how the others follow: the same for a figure turned, not for one mirrored."""
    x, y = (sum(v) / len(points) for v in zip(*points, strict=True))
    far = [math.hypot(px - x, py - y) for px, py in points]
    ring = [*zip(points, far, strict=True)]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]]))
    ring = ring if area > 0 else ring[::-1]
    start = max(range(len(ring)), key=lambda i: ring[i][1])
    return [round(f, 1) for _, f in [*ring[start:], *ring[:start]]]


def test_lengths_lie_on_the_plan_as_their_undersides_do_and_the_sheet_says_so():
    # T3 of the quarry has one end square and one at 91°: mirrored, its corners follow one another the other way.
    kitchen = open_kitchen(next(p for p in DEMOS if p.stem == "quarry"))
    sheet = next(s for s in cutting_sheets(kitchen) if "T3" in " ".join(w for w, _ in words_on(s)))
    laid = next(p for plan in cut_plans(kitchen).tops for b in plan.bars for p in b.pieces if p.id == "T3")
    hull = list(kitchen.length("T3").part.outline.convex_hull.exterior.coords)[:-1]
    seen = {face: [Setout(kitchen.length("T3"), face).see(c) for c in hull] for face in Face}
    drawn = list(shape_on(kitchen.length("T3"), laid, default_rules().saw.kerf, 12.7).convex_hull.exterior.coords)[
        :-1
    ]
    assert winding(drawn) == pytest.approx(winding(seen[Face.UNDERSIDE]), abs=0.1)
    assert winding(drawn) != pytest.approx(winding(seen[Face.TOP]), abs=0.1)
    words = " ".join(w for w, _ in words_on(sheet))
    assert "UNDERSIDE" in words
    assert "Seen from below, decor down" in words


def test_every_piece_has_one_label(demo):
    parts = [*(length.part for length in demo.lengths), *sheet_parts(demo)]
    names = {code(part) for part in parts}
    marks = [mark for sheet in labels(demo) for mark in sheet.views[0].marks]
    boxes = [m for m in marks if isinstance(m, Path) and m.stroke is Stroke.TABLE]
    assert len(boxes) == len(names)


@pytest.mark.slow
def test_codes_are_read_from_the_printed_page_by_a_reader_that_is_not_ours(demo):
    # zxing-cpp, a general library, on the PDF as a printer of 200 dots an inch shows it
    parts = [*(length.part for length in demo.lengths), *sheet_parts(demo)]
    names = {code(part) for part in parts}
    document = pypdfium2.PdfDocument(pdf(labels(demo), "labels"))
    pages = [page.render(scale=200 / 72).to_pil() for page in document]
    found = [code.text for page in pages for code in zxingcpp.read_barcodes(page)]
    document.close()
    assert sorted(found) == sorted(names)


def test_cutting_sheets_are_clean_dxf(drawn):
    for sheet in drawn:
        if sheet.size == A3:
            audit = ezdxf.read(io.StringIO(dxf(sheet).decode())).audit()
            assert not audit.errors
            assert not audit.fixes


def test_label_says_size_bands_and_where_it_is_from():
    # Side of the first unit: 720 x 550 of 18 mm, banded in front (worked in test_by_hand).
    words = [w for sheet in labels(build(document())) for w, _ in words_on(sheet)]
    assert "A1.side.left" in words
    assert "720 x 550 x 18" in words
    assert "band: front 720" in words
    assert any(w.startswith("pb18 sheet 1, no. ") for w in words)
    assert any(w.startswith("pf38.600 length 1, no. 1") for w in words)
