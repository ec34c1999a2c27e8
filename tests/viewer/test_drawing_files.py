"""What is written: DXF, SVG and PDF, read back by libraries that know nothing of us."""

import io

import ezdxf
import pdfplumber
import pytest
from shapely import LineString, box, unary_union

from countersunk.model.kitchen import build
from countersunk.viewer.drawing.dxf import dxf
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.ordinates import ordinates
from countersunk.viewer.drawing.papers import draw, sheets
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.piece_sheets import piece_scale, piece_sheet
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.strokes import EDGES, Stroke
from countersunk.viewer.drawing.template import BAR, full_size_sheet
from countersunk.viewer.drawing.template_pages import EDGE, FOOT, OVERLAP, PAGES, pages, template_sheets
from tests.lanes import some
from tests.specimens import FEW_DEMOS, cornered, demo, document, open_kitchen

POINT = 25.4 / 72
"""A PDF's unit in mm (ISO 32000-1, 8.3.2.3, from memory)."""


A_SIZES = {"a4": (210.0, 297.0), "a3": (297.0, 420.0)}
"""ISO 216, from memory."""


def read(sheet):
    return ezdxf.read(io.StringIO(dxf(sheet).decode()))


def shown(dimension):
    """The words of a dimension as a drawing program shows them."""
    return next(e.text for e in dimension.virtual_entities() if e.dxftype() == "MTEXT")


@pytest.mark.parametrize("path", some(FEW_DEMOS, 3), ids=lambda p: p.stem)
def test_every_dxf_is_clean_under_audit(path):
    for sheet in sheets(open_kitchen(path)):
        doc = read(sheet)
        audit = doc.audit()
        assert not audit.errors, sheet.name
        assert not audit.fixes, sheet.name
        assert (doc.dxfversion, doc.units) == ("AC1024", ezdxf.units.MM)  # R2010, millimetres
        assert {stroke.value for stroke in Stroke} <= {layer.dxf.name for layer in doc.layers}


@pytest.mark.parametrize("face", Face)
@pytest.mark.parametrize("path", some(FEW_DEMOS, 3), ids=lambda p: p.stem)
def test_ordinates_measured_back_from_the_dxf(path, face):
    kitchen = open_kitchen(path)
    for length in kitchen.lengths:
        doc = read(piece_sheet(kitchen, length, face))
        found = [d for d in doc.modelspace().query("DIMENSION") if d.dimtype == 6]
        wanted = ordinates(kitchen, Setout(length, face), piece_scale(length))
        said = sorted(float(shown(d).split()[0]) for d in found)
        assert said == pytest.approx(sorted(round(o.value, 1) for o in wanted), abs=0.051)


def test_dxf_coordinates_are_the_ordinates():
    # Datum at (0, 0): the female of a 90° mitre, datum at the free left end, as worked in test_drawing_pieces.
    kitchen = build(cornered(90.0))
    doc = read(piece_sheet(kitchen, kitchen.length("T1"), Face.TOP))
    joint = {(round(x, 6), round(y, 6)) for layer, x, y in _edges_in(doc) if layer == Stroke.JOINT_FEMALE.value}
    assert sorted(joint) == [(1230.0, 0.0), (1245.0, 15.0), (1830.0, 15.0)]


@pytest.mark.slow
def test_the_underside_in_dxf_is_the_top_mirrored():
    kitchen = demo("corner")
    for length in kitchen.lengths:
        top, below = (_edges_in(read(piece_sheet(kitchen, length, face))) for face in (Face.TOP, Face.UNDERSIDE))
        assert {(layer, -x, y) for layer, x, y in below} == top


def _edges_in(doc):
    layers = {stroke.value for stroke in EDGES.values()}
    return {
        (line.dxf.layer, round(x, 4) + 0.0, round(y, 4) + 0.0)
        for line in doc.modelspace().query("LWPOLYLINE")
        if line.dxf.layer in layers
        for x, y, *_ in line.get_points()
    }


@pytest.fixture(scope="module", params=PAGES)
def template(request):
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    cutout = kitchen.cutouts[0]
    data = pdf(template_sheets(kitchen, cutout, request.param), "template")
    with io.BytesIO(data) as stream, pdfplumber.open(stream) as opened:
        yield cutout, opened, request.param


@pytest.mark.slow
def test_a_hundred_millimetres_are_a_hundred_millimetres(template):
    _, opened, on = template
    for page in opened.pages:
        black = [line for line in page.lines if line["stroking_color"] in (0, (0,), (0.0,))]
        bars = [line for line in black if line["linewidth"] * POINT > 0.45]
        across = [(line["x1"] - line["x0"]) * POINT for line in bars]
        upright = [(line["y1"] - line["y0"]) * POINT for line in bars]
        assert sorted(across) == pytest.approx([0.0, BAR], abs=0.01)
        assert sorted(upright) == pytest.approx([0.0, BAR], abs=0.01)
        size = (page.width * POINT, page.height * POINT)
        assert sorted(size) == pytest.approx(A_SIZES[on], abs=0.01)


def test_centre_lines_say_how_far_they_lie_from_datum_and_front_edge():
    """10 over the end, a unit of 400 and half of one of 600: 10 + 400 + 300 = 710 from the datum. The line is 480
    deep and begins 60 behind the front edge: 60 + 240 = 300. The rim is 500 wide: it covers 10 on either side.
    """
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    (cutout,) = kitchen.cutouts
    for sheet in (full_size_sheet(kitchen, cutout), *template_sheets(kitchen, cutout)):
        words = [text for text, _ in words_on(sheet)]
        assert sum("centre 710 from the datum" in text.lower() for text in words) == 1, sheet.name
        assert any("Saw within 1 of the line (rim covers 10)" in text for text in words), sheet.name
    words = [text for text, _ in words_on(full_size_sheet(kitchen, cutout))]
    assert {"710 from the datum", "300 from the front edge"} <= set(words)


def test_the_pages_laid_together_show_the_whole_line(template):
    # The line is 480 x 480 with corners of radius 20: as long as 4 x 440 + 2 π 20 = 1885.66, 480 each way.
    cutout, opened, on = template
    grid = pages(cutout.template.line, on)
    assert len(grid) == len(opened.pages)
    strokes = []
    for page, shown_page in zip(grid, opened.pages, strict=True):
        x0, y0, _, _ = page.shows.bounds
        for curve in [*shown_page.curves, *shown_page.lines]:
            if curve["stroking_color"] in (0, 0.0, (0,)) or curve["linewidth"] * POINT < 0.4:
                continue
            on_page = [(x * POINT, (float(shown_page.height) - y) * POINT) for x, y in curve["pts"]]
            strokes.append(LineString([(x - EDGE + x0, y - EDGE - FOOT + y0) for x, y in on_page]))
    whole = unary_union([s.buffer(0.05) for s in strokes])
    assert whole.bounds == pytest.approx((-240.05, -240.05, 240.05, 240.05), abs=0.03)
    assert whole.area / 0.1 == pytest.approx(1885.66, rel=2e-3)


def test_neighbours_share_a_strip_and_a_cross_lies_on_both():
    grid = pages((560.0, 490.0))
    left, right = (next(p for p in grid if p.name == name) for name in ("A1", "B1"))
    x0, _, x1, _ = left.shows.intersection(right.shows).bounds
    assert x1 - x0 == pytest.approx(OVERLAP)
    assert unary_union([p.shows for p in grid]).covers(box(-292, -257, 292, 257))


def test_the_full_size_sheet_in_dxf_is_the_line_itself():
    # Middle of the line at (0, 0): 480 x 480, its starter holes 10 + 6 in from the sides.
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    doc = read(full_size_sheet(kitchen, kitchen.cutouts[0]))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    assert (doc.dxfversion, doc.units) == ("AC1024", ezdxf.units.MM)
    points = {s: _points_on(doc, s) for s in (Stroke.LINE_TO_CUT, Stroke.RIM, Stroke.STARTER)}
    assert _extent(points[Stroke.LINE_TO_CUT]) == pytest.approx((-240.0, -240.0, 240.0, 240.0))
    assert _extent(points[Stroke.RIM]) == pytest.approx((-250.0, -250.0, 250.0, 250.0))
    assert _extent(points[Stroke.STARTER]) == pytest.approx((-230.0, -230.0, 230.0, 230.0))
    assert {shown(d) for d in doc.modelspace().query("DIMENSION")} == {"480"}


def _points_on(doc, stroke):
    lines = doc.modelspace().query(f'LWPOLYLINE[layer=="{stroke.value}"]')
    return [(x, y) for line in lines for x, y, *_ in line.get_points()]


def _extent(points):
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize(
    ("wish", "said", "unsaid"),
    [
        ({"template": "tap.hole", "over": "A2"}, "Hole saw, diameter 35", "starter"),
        ({"template": "socket.pop-up", "over": "A2"}, "Hole saw, diameter 60", "starter"),
        ({"template": "sink.under", "over": "A2"}, "the cut edge stays in sight", "rim, which covers it"),
        ({"template": "sink.one-bowl", "over": "A2"}, "Jigsaw from below along the line to cut", "in sight"),
    ],
)
def test_each_kind_of_cut_out_is_told_how_it_is_cut(wish, said, unsaid):
    kitchen = build(document(cutouts=(wish,), worktop={"stock": "solid30.650", "decor": "pale-oak"}))
    words = " ".join(text for text, _ in words_on(full_size_sheet(kitchen, kitchen.cutouts[0])))
    assert said in words
    assert unsaid not in words


def test_letters_are_as_wide_as_they_are_taken_to_be(template):
    _, opened, _ = template
    chars = [c for c in opened.pages[0].chars if abs(c["matrix"][1]) < 1e-6]
    assert {c["fontname"].split("+")[-1] for c in chars} <= {"DejaVuSansMono", "DejaVuSansMono-Bold"}
    assert {round(c["width"] / c["size"], 3) for c in chars} == {0.602}


def test_text_of_the_pdf_can_be_read(template):
    _, opened, _ = template
    words = opened.pages[0].extract_text()
    assert "Both bars must measure 100 mm" in words
    assert "line 480 x 480 R20" in words


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """The papers of the corner demo, and what was said on the way."""
    said = []
    return draw(demo("corner"), tmp_path_factory.mktemp("papers") / "new", said.append), said


@pytest.mark.slow
def test_draw_writes_everything_whole(written):
    written, said = written
    names = {p.name for p in written}
    assert {
        "drawings.pdf",
        "templates.pdf",
        "cutting.pdf",
        "labels.pdf",
        "T1-top.dxf",
        "T1-top.svg",
        "J1.dxf",
        "plan.svg",
        "card.svg",
    } <= names
    folder = written[0].parent
    assert sorted(written) == sorted(folder.iterdir())
    assert said
    with pdfplumber.open(folder / "drawings.pdf") as opened:
        drawn = [p for p in written if p.suffix == ".svg" and not p.name.startswith(("cut-", "template-"))]
        assert len(opened.pages) == len(drawn)
    with pdfplumber.open(folder / "cutting.pdf") as opened:
        assert len(opened.pages) == sum(p.suffix == ".svg" and p.name.startswith("cut-") for p in written)


@pytest.mark.slow
def test_sheets_of_an_earlier_run_are_removed_and_nobody_elses_files(tmp_path):
    draw(build(cornered(90.0)), tmp_path)
    assert (tmp_path / "J1.dxf").exists()
    (tmp_path / "mine.dxf").write_text("a drawing of my own")
    (tmp_path / "J1.svg").write_text("a sheet that I drew on")
    written = draw(build(document()), tmp_path)  # one length, no join, no cut-out
    assert "J1.dxf" not in {p.name for p in tmp_path.iterdir()}
    assert {p.name for p in tmp_path.iterdir()} - {p.name for p in written} == {"mine.dxf", "J1.svg"}


@pytest.mark.slow
def test_the_same_kitchen_gives_the_same_bytes(written, tmp_path):
    one, _ = written
    for a, b in zip(one, draw(demo("corner"), tmp_path), strict=True):
        assert a.read_bytes() == b.read_bytes(), a.name


def test_the_classes_of_a_dxf_stand_in_order_in_every_process():
    # The library takes them out of sets; two processes would write the same sheet as other bytes.
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    classes = [c.key for c in read(full_size_sheet(kitchen, kitchen.cutouts[0])).classes]
    assert len(classes) > 10
    assert classes == sorted(classes)
