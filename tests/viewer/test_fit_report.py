"""The fit report: every finding is there, drawn where it is, and said in more than a colour."""

import io
import json
from collections import Counter

import pdfplumber
import pytest
from shapely import LineString, Polygon
from shapely import box as rectangle

from countersunk.model.checks import CAUTION, check
from countersunk.model.checks.finding import Verdict
from countersunk.model.edit.kitchen_file import as_yaml
from countersunk.model.files.manifest import MANIFEST
from countersunk.viewer.drawing.fit_panel import SMALL, Panel, panel, view_of
from countersunk.viewer.drawing.fit_report import fit_report, fit_sheets
from countersunk.viewer.drawing.fit_sight import sights
from countersunk.viewer.drawing.fit_signs import CORNERS, HATCH, PITCH, STROKES, hatch, sign
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.shapes import A3, Circle, Line, Path, Text
from countersunk.viewer.drawing.strokes import PENS
from tests.lanes import some
from tests.model.test_checks import HOB, finding, kitchen, let_in, run, unit
from tests.specimens import SOME_DEMOS, open_kitchen
from tests.viewer.test_commands import run as command

SQUARE = Polygon([(0, 0), (1000, 0), (1000, 1000), (0, 1000)])


def near_tall():
    row = run(unit("base-hob", 600), unit("tall-larder", 600), start=500)
    hood = run(unit("hood", 600), start=500, level="upper")
    return kitchen(row, hood, cutouts=(let_in(HOB, "A1"),))


@pytest.fixture(scope="module")
def built():
    return near_tall()


@pytest.fixture(scope="module")
def sheets(built):
    return list(fit_sheets(built, check(built), {}, "Held against tests."))


def words(sheet):
    return [text for text, _ in words_on(sheet)]


def test_every_finding_has_a_panel_with_its_number_in_order(built, sheets):
    findings = check(built)
    heads = [w for s in sheets for w in words(s) for v in Verdict if w.endswith(f"  {v}".upper())]
    assert heads == [f"{i}  {f.verdict}".upper() for i, f in enumerate(findings, start=1)]


def test_the_list_counts_every_verdict_and_names_what_is_missed(built, sheets):
    counts = Counter(f.verdict for f in check(built))
    first = words(sheets[0])
    said = {v: "fall short" if v is Verdict.SHORT and counts[v] != 1 else v for v in Verdict}
    assert {f"{counts[v]} {words}" for v, words in said.items()} <= set(first)
    missed = sum(n for v, n in counts.items() if v is not Verdict.MET)
    listed = [
        w for s in sheets if s.name.startswith("fit-list") for w in words(s) if w in {v.upper() for v in Verdict}
    ]
    assert len(listed) == missed > 5


def test_every_sheet_carries_the_caution(sheets):
    for sheet in sheets:
        assert CAUTION[:40] in " ".join(words(sheet))
        assert "licensed" in " ".join(words(sheet))


@pytest.mark.parametrize("path", some(SOME_DEMOS, 3), ids=lambda p: p.stem)
def test_words_stay_on_the_paper_and_off_each_other(path):
    for sheet in fit_sheets(open_kitchen(path), check(open_kitchen(path)), {}, "Held against tests."):
        paper = rectangle(0, 0, *A3)
        found = words_on(sheet)
        assert all(paper.covers(shape) for _, shape in found)
        shapes = [(w, s.buffer(-0.12)) for w, s in found]
        meeting = [(a, b) for i, (a, s) in enumerate(shapes) for b, t in shapes[i + 1 :] if s.intersects(t)]
        assert meeting == [], sheet.name


def test_a_verdict_is_told_by_shape_word_hatch_and_colour():
    signs = {v: [(type(m).__name__, getattr(m, "words", "")) for m in sign(v, (0, 0), 5.0)] for v in Verdict}
    assert len({str(s) + str(CORNERS[v]) for v, s in signs.items()}) == len(Verdict)
    assert len({(HATCH[v], PITCH[v]) for v in Verdict}) == len(Verdict)
    assert len({PENS[STROKES[v]].colour for v in Verdict}) == len(Verdict)


@pytest.mark.parametrize("verdict", Verdict)
def test_a_sign_keeps_to_its_size(verdict):
    for mark in sign(verdict, (10.0, 20.0), 6.0):
        if isinstance(mark, Circle):
            assert mark.radius == 3.0
        if isinstance(mark, Path):
            assert all(7.0 - 1e-9 <= x <= 13.0 + 1e-9 and 17.0 - 1e-9 <= y <= 23.0 + 1e-9 for x, y in mark.points)


@pytest.mark.parametrize("verdict", Verdict)
def test_a_hatch_fills_its_area_and_nothing_else(verdict):
    lines = list(hatch(SQUARE, verdict, 10.0))
    assert all(SQUARE.buffer(1e-6).covers(LineString([line.a, line.b])) for line in lines)
    # Lines 10 · pitch apart over a square of 1000: their length times that is its area, but for the rims.
    covered = sum(LineString([line.a, line.b]).length for line in lines) * PITCH[verdict] * 10.0
    assert covered == pytest.approx(1e6, rel=0.05)
    assert {line.stroke for line in lines} == {STROKES[verdict]}


def test_a_clearance_is_drawn_where_it_is_with_its_value(built):
    f = next(f for f in check(built) if f.rule == "hob-to-tall-unit")
    (seen,) = sights(built, f)
    assert seen.ends is not None
    view = view_of(seen, f, (10.0, 10.0, 110.0, 90.0), "1 in plan")
    assert "5 mm" in [m.words for m in view.marks if isinstance(m, Text)]
    # The dimension's line has the two ends of what was measured: the rim ends at 1095, the larder begins at 1100.
    (line,) = [m for m in view.marks if isinstance(m, Line) and abs(LineString([m.a, m.b]).length - 5.0) < 1e-6]
    assert sorted(round(p[0], 3) for p in (line.a, line.b)) == [1095.0, 1100.0]
    x0, y0, x1, y1 = view.window
    for mark in view.marks:
        if isinstance(mark, Path):
            for x, y in map(view.to_paper, mark.points):
                assert x0 - 1e-6 <= x <= x1 + 1e-6
                assert y0 - 1e-6 <= y <= y1 + 1e-6


def test_what_was_measured_upright_is_also_seen_from_the_front(built):
    f = next(f for f in check(built) if f.rule == "hob-to-hood")
    plan, front = sights(built, f)
    assert (plan.name, front.name) == ("in plan", "as one faces it")
    assert front.ends is not None
    assert [round(z) for _, z in front.ends] == [913, 1680]
    assert plan.ends is None


def test_a_finding_without_a_place_says_so():
    whole = finding(value=90.0)
    marks, views = panel(Panel(7, whole, ()), (10.0, 10.0), SMALL)
    assert views == []
    assert any(isinstance(m, Text) and m.words.startswith("Not drawn") for m in marks)


def test_the_pdf_has_the_words(built):
    data = fit_report(built, check(built), {}, "Held against tests.")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        text = pdf.pages[0].extract_text()
        assert (float(pdf.pages[0].width), float(pdf.pages[0].height)) == pytest.approx((1190.6, 841.9), abs=0.5)
    assert "FIT REPORT" in text
    assert "not an approval" in text


@pytest.fixture
def near(tmp_path):
    """A file with a hob too near to a tall unit, in a unit wide enough to move it."""
    path = tmp_path / "near.yaml"
    path.write_bytes(as_yaml(near_side().document))
    return path


def near_side():
    row = run(unit("base-doors", 600), unit("base-hob", 900), unit("tall-larder", 600))
    return kitchen(row, cutouts=(let_in(HOB, "A2", shift=150),))


@pytest.mark.slow
def test_the_command_writes_the_report_with_cures(near, tmp_path):
    result = command("check", near, "--region", "uk", "--cures", "--report", tmp_path / "fit")
    assert result.exit_code == 1
    assert {p.name for p in (tmp_path / "fit").iterdir()} == {"fit-report.pdf", "fit-report.json", MANIFEST}
    data = json.loads((tmp_path / "fit" / "fit-report.json").read_text())
    assert data["caution"] == CAUTION
    cured = [f for f in data["findings"] if f.get("cure", {}).get("found")]
    assert cured
    assert all(f["cure"]["changes"] for f in cured)
    assert {f["rule"] for f in data["findings"] if f["verdict"] in ("not met", "falls short")} == {
        f["rule"] for f in data["findings"] if "cure" in f
    }
    assert "Cures" in result.stdout
    with pdfplumber.open(tmp_path / "fit" / "fit-report.pdf") as pdf:
        assert "Cure:" in pdf.pages[0].extract_text()


def test_the_command_cure_writes_a_kitchen_in_which_the_rule_is_met(near, tmp_path):
    out = tmp_path / "cured.yaml"
    result = command("cure", near, "--rule", "hob-electric-to-side", "--out", out)
    assert result.exit_code == 0, result.stderr
    assert "move hob 45 mm to the left: 50 mm (at least 50 mm)" in result.stdout
    rules = {f["rule"]: f["verdict"] for f in json.loads(command("check", out, "--json").stdout)["findings"]}
    assert rules["hob-electric-to-side"] == "met"


@pytest.mark.slow
def test_the_command_cure_lists_what_is_missed_and_makes_one_of_the_list(near, tmp_path):
    out = tmp_path / "cured.yaml"
    before = missed_in(near)
    listed = json.loads(command("cure", near, "--region", "uk", "--place", "hob", "--json").stdout)
    assert listed["caution"] == CAUTION
    cures = listed["cures"]
    assert [c["number"] for c in cures] == list(range(1, len(cures) + 1))
    found = next(c for c in cures if c["cure"]["found"])
    assert found["cure"]["moves"] >= 1
    assert found["cure"]["size"] > 0
    asked = ("--region", "uk", "--place", "hob", "--apply", found["number"], "--out", out)
    result = command("cure", near, *asked)
    assert result.exit_code == 0, result.stderr
    assert f"→ {found['cure']['words']}" in result.stdout
    assert (found["rule"], found["place"]) in before
    assert (found["rule"], found["place"]) not in missed_in(out)
    assert len(missed_in(out)) < len(before)


def missed_in(file):
    findings = json.loads(command("check", file, "--region", "uk", "--json").stdout)["findings"]
    return [(f["rule"], f["place"]) for f in findings if f["verdict"] in ("not met", "falls short")]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--apply", "99", "--out", "x.yaml"), "allowed: 1 to "),
        (("--apply", "1"), "allowed: --out FILE as well"),
        (("--out", "x.yaml"), "allowed: --apply N as well"),
    ],
)
def test_the_command_cure_asks_for_what_it_needs(near, options, told):
    result = command("cure", near, *options)
    assert result.exit_code == 2
    assert told in result.stderr


@pytest.mark.slow
def test_the_command_cure_tells_a_wrong_rule_and_a_wrong_place(near):
    result = command("cure", "corner", "--rule", "hob-to-tal-unit")
    assert result.exit_code == 2
    assert "Try: 'hob-to-tall-unit'." in result.stderr
    result = command("cure", "corner", "--rule", "cutout-to-front-edge", "--place", "nowhere")
    assert result.exit_code == 2
    assert "allowed: hob to the front edge of T2; sink to the front edge of T1" in result.stderr
    assert command("cure", "corner", "--rule", "cutout-to-front-edge").exit_code == 0
    assert command("cure", near, "--rule", "hob-under-hood").exit_code == 1
