"""The strip of a row: what it draws, and its units dragged by mouse and by finger in a real browser."""

import re
import xml.etree.ElementTree as ET

import pytest
from playwright.sync_api import expect

from countersunk.viewer.app.places.strip import strip_svg
from tests.specimens import SOME_DEMOS, open_kitchen
from tests.viewer.browser import NEEDS_CHROMIUM, PATIENCE, browsing
from tests.viewer.test_browser import rested

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_all_that_is_drawn_of_a_unit_goes_along_with_it(path):
    kitchen = open_kitchen(path)
    for run in kitchen.runs:
        groups = ET.fromstring(strip_svg(kitchen, run)).findall(f"{SVG}g")
        assert [int(group.get("data-unit")) for group in groups] == list(range(len(run.units)))
        for group, unit in zip(groups, run.units, strict=True):
            for rect in group.findall(f"{SVG}rect"):
                left, width = float(rect.get("x")), float(rect.get("width"))
                assert unit.x - 0.2 <= left < left + width <= unit.right + 0.2  # a figure after the point is kept


@pytest.fixture(scope="module")
def page(served):
    """One page for the tests with a pointer; each leaves the L-shaped kitchen as it was."""
    with browsing(served) as page:
        rested(page)
        yield page


def unit(page, name):
    """What is drawn of a unit of the strip."""
    return page.locator("[data-unit]", has=page.locator("text", has_text=re.compile(rf"^▸?{name}$")))


def middle(page, name):
    box = unit(page, name).locator(".unit").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def names(page):
    """The units as they stand on the screen, from left to right, the narrow ones without a name left out."""
    found = [
        (g.locator(".unit").bounding_box()["x"], g.locator("text").text_content())
        for g in page.locator("[data-unit]").all()
    ]
    return [text.lstrip("▸") for _, text in sorted(found) if text != "·"]


def taken(page, name, over, past=0):
    """Hold a unit by the mouse over the middle of another, ``past`` pixels further right."""
    page.mouse.move(*middle(page, name))
    page.mouse.down()
    x, y = middle(page, over)
    page.mouse.move(x + past, y, steps=5)
    page.wait_for_timeout(300)  # those that make room take their time


def dropped(page, words):
    page.mouse.up()
    expect(page.locator(".headline .last")).to_have_text(words, timeout=PATIENCE)
    rested(page)


def undone(page):
    page.get_by_role("button", name="Undo").click()
    rested(page)


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_a_unit_is_dragged_past_two_others_which_make_room(page):
    before = names(page)
    assert before == ["A2", "A3", "A4", "A5", "A6"]
    taken(page, "A2", over="A4")
    assert names(page) == ["A3", "A4", "A2", "A5", "A6"]
    dropped(page, "A2 moved 2 places to the right")
    assert names(page) == before  # each is called by its place again
    expect(page.get_by_text("A4: base unit with doors, 450 mm wide", exact=False)).to_be_visible()
    undone(page)
    expect(page.get_by_text("A4: base unit with doors", exact=False)).to_have_count(0)


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_escape_puts_a_held_unit_back(page):
    said = page.locator(".headline .last").inner_text()
    taken(page, "A2", over="A4")
    page.keyboard.press("Escape")
    page.wait_for_timeout(300)
    assert names(page) == ["A2", "A3", "A4", "A5", "A6"]
    page.mouse.up()
    rested(page)
    assert page.locator(".headline .last").inner_text() == said


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_a_tap_picks_a_unit(page):
    page.mouse.click(*middle(page, "A3"))
    expect(page.get_by_text("A3: integrated dishwasher", exact=False)).to_be_visible(timeout=PATIENCE)
    rested(page)
    expect(page.get_by_role("radio", name="A3", exact=True)).to_be_checked()


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_a_finger_drags_too(page):
    finger = page.context.new_cdp_session(page)
    x, y = middle(page, "A2")
    to, _ = middle(page, "A3")

    def touch(kind, *points):
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y} for x in points]})

    touch("touchStart", x)
    for part in (0.1, 0.3, 0.6, 0.9, 1.0):
        touch("touchMove", x + (to - x) * part)
    touch("touchEnd")
    expect(page.locator(".headline .last")).to_have_text("A2 moved one place to the right", timeout=PATIENCE)
    rested(page)
    undone(page)


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_a_place_that_cannot_be_is_told_and_the_unit_goes_back(page):
    """Twice the same: an answer that is like the last one is one nevertheless."""
    page.goto(page.url.split("?")[0] + "?demo=studio")
    page.wait_for_selector("[data-unit]", timeout=PATIENCE)
    rested(page)
    before, said = names(page), page.locator(".headline .last").inner_text()
    for _ in range(2):
        taken(page, "A5", over="A3", past=-20)
        assert names(page) != before
        page.mouse.up()
        told = page.get_by_text("a corner unit first in its run with hand: left, or last", exact=False)
        expect(told).to_be_visible(timeout=PATIENCE)
        rested(page)
        assert (names(page), page.locator(".headline .last").inner_text()) == (before, said)
