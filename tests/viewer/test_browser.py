"""The app in a real browser, as each of the three people meets it."""

import os

import pytest
from playwright.sync_api import TimeoutError as PlaywrightTimeout
from playwright.sync_api import expect

import shared
from model.kitchen import open_kitchen
from tests.viewer.browser import CHROMIUM, PATIENCE, browsing, serving, settled
from viewer.labels import part_label

if CHROMIUM is None and os.environ.get("COUNTERSUNK_SKIP_NOTHING"):
    pytest.fail("no Chromium: install Debian's package chromium", pytrace=False)
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Debian's Chromium (package chromium)")


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """One page for all tests of this module; each leaves it usable."""
    log = tmp_path_factory.mktemp("server") / "log"
    with serving("corner", log) as address, browsing(address) as page:
        yield page
    assert "Traceback" not in log.read_text()


def scene(page):
    return page.locator("[data-ready]")


def choose(page, label, option):
    box, wanted = page.get_by_label(label), page.get_by_role("option", name=option, exact=True)
    box.scroll_into_view_if_needed()  # a list that opens while the page scrolls closes again
    expect(box).to_be_in_viewport()
    for _ in range(5):
        box.click()
        box.fill(option)
        if _comes(wanted):
            break
        box.press("Escape")
    box.press("Enter")
    expect(box).to_have_value(option)
    page.wait_for_timeout(300)  # the script begins to run only after this has reached the server
    settled(page)


def _comes(locator):
    """Whether it shows within a few seconds."""
    try:
        locator.wait_for(timeout=4_000)
    except PlaywrightTimeout:
        return False
    return True


def test_first_page_shows_the_kitchen_and_nothing_of_the_framework(page):
    expect(page.get_by_text("Lantern Cottage, an L with a corner of 91.2°")).to_be_visible()
    assert int(scene(page).get_attribute("data-parts")) > 150
    for chrome in ("stToolbar", "stDecoration", "stAppDeployButton", "stStatusWidget"):
        assert page.get_by_test_id(chrome).filter(visible=True).count() == 0
    assert page.elsewhere == []


def test_camera_stays_while_decor_overhang_and_width_change(page):
    page.get_by_role("button", name="Plan: From above").click()
    settled(page)
    camera, total = scene(page).get_attribute("data-camera"), headline(page)
    choose(page, "Worktop decor", "Rain slate")
    page.get_by_test_id("stExpander").get_by_text("Wall B", exact=True).click()
    choose(page, "B4 base unit with drawers, width in mm", "600")
    expect(page.locator(".headline")).not_to_contain_text(total.splitlines()[-1], timeout=PATIENCE)
    settled(page)
    assert scene(page).get_attribute("data-camera") == camera
    choose(page, "B4 base unit with drawers, width in mm", "500")
    choose(page, "Worktop decor", "Pale oak")
    expect(page.locator(".headline")).to_contain_text(total.splitlines()[-1], timeout=PATIENCE)


def headline(page):
    return page.locator(".headline").inner_text()


def test_a_value_that_cannot_be_leaves_the_last_good_kitchen(page):
    before, parts = headline(page), scene(page).get_attribute("data-parts")
    overhang = page.get_by_label("Overhang at the front, mm")
    overhang.fill("40")
    overhang.press("Enter")
    expect(page.get_by_text("allowed: an overhang of 0 to 22")).to_be_visible(timeout=PATIENCE)
    settled(page)
    assert (headline(page), scene(page).get_attribute("data-parts")) == (before, parts)
    overhang.fill("20")
    overhang.press("Enter")
    expect(page.get_by_text("allowed: an overhang of 0 to 22")).to_have_count(0, timeout=PATIENCE)


def test_a_part_that_is_clicked_says_what_it_is(page):
    page.get_by_role("button", name="Plan: From above").click()
    settled(page)
    page.get_by_role("application").scroll_into_view_if_needed()
    box = page.get_by_role("application").bounding_box()
    # In the plan wall A is at the top, so this is the worktop in the middle of it.
    page.mouse.click(box["x"] + box["width"] * 0.55, box["y"] + box["height"] * 0.15)
    kitchen = open_kitchen(shared.KITCHENS / "corner.yaml")
    told = page.get_by_role("status").filter(has_text=part_label(kitchen.parts_by_id["T1"], kitchen))
    expect(told).to_be_visible(timeout=PATIENCE)


def test_a_bad_file_is_told_and_a_good_one_opens(page, tmp_path):
    page.get_by_text("Open a kitchen").click()
    good = (shared.KITCHENS / "straight.yaml").read_text()
    bad, fine = tmp_path / "bad.yaml", tmp_path / "fine.yaml"
    bad.write_text(good.replace("decor: dusk-blue", "decor: dusk-bleu"))
    fine.write_text(good)
    page.locator('input[type="file"]').set_input_files(bad)
    expect(page.get_by_text("bad.yaml:29: fronts.decor: found 'dusk-bleu'")).to_be_visible(timeout=PATIENCE)
    expect(page.get_by_text("Lantern Cottage")).to_be_visible()
    page.locator('input[type="file"]').set_input_files(fine)
    expect(page.get_by_text("Ferry Steps 2")).to_be_visible(timeout=PATIENCE)
    settled(page)
    expect(page.get_by_text("bad.yaml")).to_have_count(0)


def test_everything_can_be_taken_away(page):
    page.get_by_role("tab", name="Files").click()
    starts = {"3D model (glTF)": b"glTF", "Papers to cut from (PDF)": b"%PDF", "Takeoff as workbook (XLSX)": b"PK"}
    for label, start in starts.items():
        with page.expect_download() as download:
            page.get_by_role("button", name=label).click()
        assert download.value.path().read_bytes().startswith(start)


def test_takeoff_and_findings_are_there(page):
    page.get_by_role("tab", name="Takeoff").click()
    expect(page.get_by_text("Invented prices", exact=False).first).to_be_visible(timeout=PATIENCE)
    page.get_by_role("tab", name="Findings").click()
    expect(page.get_by_text("this is not an approval", exact=False).first).to_be_visible()


def test_boards_are_laid_out_on_request(page):
    page.get_by_role("tab", name="Takeoff").click()
    button = page.get_by_role("button", name="Lay them out on sheets")
    button.click()
    expect(button).to_have_count(0, timeout=PATIENCE)
    settled(page)
    page.get_by_role("tab", name="Findings").click()
