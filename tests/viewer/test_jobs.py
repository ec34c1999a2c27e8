"""Each person's whole job in a real browser, one after the other on one kitchen: from an empty room to a quote."""

import io
import zipfile

import pdfplumber
import pytest
from playwright.sync_api import expect

from countersunk.model.kitchen import read_kitchen
from tests.viewer.browser import NEEDS_CHROMIUM, PATIENCE, browsing, settled
from tests.viewer.test_browser import choose, fetched, go, press, rested, scene, total

pytestmark = [NEEDS_CHROMIUM, pytest.mark.slow]


@pytest.fixture(scope="module")
def page(served):
    """One page, one kitchen: the tests of this module follow each other as the people do."""
    with browsing(f"{served}?demo=straight") as page:
        yield page


def typed(page, label, value):
    box = page.get_by_label(label, exact=True)
    box.fill(value)
    box.press("Enter")


def clicked(page, row, across):
    """Click into the first table: the framework draws tables on a canvas, with lines of 35 pixels."""
    grid = page.get_by_test_id("stDataFrame").first
    grid.scroll_into_view_if_needed()
    page.wait_for_timeout(300)
    box = grid.bounding_box()
    page.mouse.click(box["x"] + across, box["y"] + 35 * row + 17)


def row_selected(page, row):
    """Select a line of the first table by the box at its left end."""
    clicked(page, row, 18)
    rested(page)


def test_the_designer_begins_with_an_empty_room_and_sends_a_page(page):
    page.get_by_role("button", name="Open, save").click()
    typed(page, "Length, mm", "3400")
    page.get_by_role("button", name="Begin with this room").click()
    expect(page.locator(".headline .title")).to_have_text("A new kitchen", timeout=PATIENCE)
    page.keyboard.press("Escape")
    rested(page)
    parts = int(scene(page).get_attribute("data-parts"))
    go(page, "Design", "Propose")
    page.get_by_role("button", name="Look for layouts").click()
    page.get_by_role("button", name="Take layout 1").click(timeout=PATIENCE)
    expect(page.locator(".headline .last")).to_contain_text("layout 1 taken", timeout=PATIENCE)
    rested(page)
    assert int(scene(page).get_attribute("data-parts")) > parts + 60
    go(page, "Design", "Job")
    typed(page, "Name of the kitchen", "Mill Lane 3")
    expect(page.locator(".headline .title")).to_have_text("Mill Lane 3", timeout=PATIENCE)
    go(page, "Design", "Top and fronts")
    choose(page, "Fronts", "Clay")
    go(page, "Show")
    home = fetched(page, "This view to take home (one page, opens without a network)").decode()
    assert "<h1>Mill Lane 3</h1>" in home
    page.get_by_role("button", name="Open, save").click()
    saved = read_kitchen(fetched(page, "Save the kitchen file (YAML)"), "saved")
    page.keyboard.press("Escape")
    assert (saved.document.fronts.decor, saved.document.kitchen) == ("clay", "Mill Lane 3")
    assert {wall.length for wall in saved.document.room.walls} == {3400.0, 3000.0}


def test_the_fitter_looks_at_a_finding_and_takes_everything_along(page):
    go(page, "Fit", "Findings")
    assert scene(page).get_attribute("data-lit") == ""
    row_selected(page, 1)
    expect(page.get_by_text("What would help", exact=False)).to_be_visible(timeout=PATIENCE)
    settled(page)
    assert scene(page).get_attribute("data-lit")
    go(page, "Fit", "Papers to take along")
    label = "All papers and drawings, DXF and SVG too (ZIP)"
    press(page, f"Make: {label}")
    archive = zipfile.ZipFile(io.BytesIO(fetched(page, label)))
    assert {"drawings.pdf", "cutting.pdf", "labels.pdf", "templates.pdf", "T1-top.dxf"} <= set(archive.namelist())
    assert archive.testzip() is None


def test_the_estimator_changes_a_price_and_leaves_with_quote_and_workbook(page):
    go(page, "Count", "Takeoff")
    row_selected(page, 1)
    settled(page)
    assert any(id_.endswith((":top", ":top-2")) for id_ in scene(page).get_attribute("data-lit").split())
    go(page, "Count", "Prices")
    before = total(page)
    clicked(page, 1, 40)
    for key in ("ArrowRight", "ArrowRight", "1", "9", "9", "Enter"):
        page.keyboard.press(key)
        page.wait_for_timeout(500)  # the framework's table opens and shuts its field between keys
    expect(page.locator(".headline .last")).to_contain_text("199 instead of", timeout=PATIENCE)
    rested(page)
    assert total(page) != before
    go(page, "Count", "Quote and orders")
    assert fetched(page, "Takeoff as workbook (XLSX)").startswith(b"PK")
    press(page, "Make: Quote to sign (PDF)")
    with pdfplumber.open(io.BytesIO(fetched(page, "Quote to sign (PDF)"))) as quote:
        words = " ".join(sheet.extract_text() for sheet in quote.pages)
    assert "Mill Lane 3" in words
    assert total(page).split()[0] in words
