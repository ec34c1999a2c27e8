"""The app in a real browser, as each of the three people meets it."""

import re
from http.client import HTTPConnection

import pytest
from playwright.sync_api import TimeoutError as PlaywrightTimeout
from playwright.sync_api import expect

from countersunk import shared
from countersunk.model.edit.kitchen_file import as_yaml
from countersunk.model.kitchen import read_kitchen
from countersunk.viewer.scene.labels import part_label
from tests.npm import installed
from tests.specimens import open_kitchen
from tests.viewer.browser import NEEDS_CHROMIUM, PATIENCE, browsing, settled
from tests.viewer.test_fit_report import near_side

AXE = shared.FOLDER.parent / "tests" / "axe"
pytestmark = NEEDS_CHROMIUM


@pytest.fixture(scope="module")
def page(served):
    """One page for all tests of this module; each leaves it usable."""
    with browsing(served) as page:
        yield page


def scene(page):
    return page.locator("[data-ready]")


def choose(page, label, option):
    box = page.get_by_role("combobox", name=label, exact=True)
    wanted = page.get_by_role("option", name=option, exact=True)
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
    expect(page.get_by_role("heading", name="Lantern Cottage, an L with a corner of 91.2°")).to_be_visible()
    assert int(scene(page).get_attribute("data-parts")) > 150
    for chrome in ("stToolbar", "stDecoration", "stAppDeployButton", "stStatusWidget"):
        assert page.get_by_test_id(chrome).filter(visible=True).count() == 0
    assert page.elsewhere == []


def go(page, place, view=None):
    """To a place of the app, and to one of its views."""
    for name in filter(None, (place, view)):
        page.get_by_role("radio", name=name, exact=True).click()
        rested(page)


def rested(page):
    """Wait until the script has run, and the view, where there is one, has come to rest."""
    page.wait_for_timeout(300)  # the script begins to run only after a click has reached the server
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]', timeout=PATIENCE)
    if scene(page).count():
        settled(page)


def press(page, name):
    page.get_by_role("button", name=name).click()
    rested(page)


def fetched(page, label):
    """What comes when a button to download is pressed."""
    with page.expect_download(timeout=PATIENCE) as download:
        page.get_by_role("button", name=label, exact=True).click()
    return download.value.path().read_bytes()


def headline(page):
    return page.locator(".headline").inner_text()


def total(page):
    return page.locator(".headline .fact").last.inner_text()


@pytest.mark.slow
def test_camera_stays_while_decor_and_overhang_change_and_undo_goes_back(page):
    go(page, "Design", "Top and fronts")
    press(page, "Plan: From above")
    camera, before = scene(page).get_attribute("data-camera"), total(page)
    choose(page, "Worktop decor", "Rain slate")
    overhang = page.get_by_label("Overhang at free ends, mm")
    overhang.fill("30")
    overhang.press("Enter")
    expect(page.locator(".headline .last")).to_have_text("worktop, overhang, ends: 30", timeout=PATIENCE)
    settled(page)
    assert scene(page).get_attribute("data-camera") == camera
    press(page, "Undo")
    press(page, "Undo")
    expect(page.get_by_label("Worktop decor")).to_have_value("Pale oak")
    assert total(page) == before
    assert scene(page).get_attribute("data-camera") == camera


@pytest.mark.slow
def test_a_value_that_cannot_be_leaves_the_last_good_kitchen(page):
    go(page, "Design", "Top and fronts")
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
    told = page.get_by_role("status").filter(has_text=part_label(kitchen.parts_by_mark["T1"], kitchen))
    expect(told).to_be_visible(timeout=PATIENCE)


def test_a_bad_file_is_told_and_a_good_one_opens(page, tmp_path):
    good = (shared.KITCHENS / "straight.yaml").read_text()
    bad, fine = tmp_path / "bad.yaml", tmp_path / "fine.yaml"
    bad.write_text(good.replace("decor: dusk-blue", "decor: dusk-bleu"))
    fine.write_text(good)
    page.get_by_role("button", name="Open, save").click()
    page.locator('input[type="file"]').set_input_files(bad)
    expect(page.get_by_text("bad.yaml:29: fronts.decor: found 'dusk-bleu'")).to_be_visible(timeout=PATIENCE)
    expect(page.get_by_text("Lantern Cottage").first).to_be_visible()
    page.locator('input[type="file"]').set_input_files(fine)
    expect(page.locator(".headline .title")).to_contain_text("Ferry Steps 2", timeout=PATIENCE)
    rested(page)
    expect(page.get_by_text("bad.yaml:29")).to_have_count(0)
    assert (
        read_kitchen(fetched(page, "Save the kitchen file (YAML)"), "saved").document
        == read_kitchen(good.encode(), "good").document
    )
    page.keyboard.press("Escape")


def open_demo(page, name):
    page.get_by_role("button", name="Open, save").click()
    page.get_by_role("button", name=name, exact=True).click()
    rested(page)
    page.keyboard.press("Escape")


@pytest.mark.slow
def test_a_cure_is_looked_for_made_and_undone(page, tmp_path):
    near = tmp_path / "near.yaml"
    near.write_bytes(as_yaml(near_side().document))
    page.get_by_role("button", name="Open, save").click()
    page.locator('input[type="file"]').set_input_files(near)
    expect(page.locator(".headline .title")).to_contain_text("Specimen", timeout=PATIENCE)
    page.keyboard.press("Escape")
    go(page, "Fit", "Findings")
    missed = headline(page)
    page.get_by_test_id("stDataFrame").first.click(position={"x": 18, "y": 52})  # the first line, under the heads
    rested(page)
    press(page, "Look for the smallest change that cures it")
    words = "move hob 45 mm to the left: 50 mm (at least 50 mm)"
    expect(page.get_by_text(words, exact=False).first).to_be_visible(timeout=PATIENCE)
    press(page, "Make this change")
    expect(page.locator(".headline .last")).to_contain_text(f"cured: {words}", timeout=PATIENCE)
    assert facts(headline(page)) != facts(missed)
    press(page, "Undo")
    expect(page.locator(".headline .last")).not_to_contain_text("cured", timeout=PATIENCE)
    assert facts(headline(page)) == facts(missed)


def facts(words):
    """How many findings there are of each kind, out of the headline."""
    return re.findall(r"\d+ (?:must|advice|worth|not met|falls)[^\d]*", words)


@pytest.mark.slow
def test_cutting_plans_are_drawn_when_asked_for(page):
    go(page, "Count", "Cutting plans")
    press(page, "Lay out and draw")
    expect(page.get_by_role("img", name="lengths", exact=False)).to_be_visible(timeout=PATIENCE)
    go(page, "Count", "Takeoff")
    expect(page.get_by_text("Invented prices", exact=False).first).to_be_visible()


@pytest.mark.slow
def test_the_address_opens_the_same_kitchen_for_somebody_else(page):
    open_demo(page, "Ferry Steps 2, a straight run with a tall larder")
    go(page, "Design", "Top and fronts")
    choose(page, "Worktop decor", "Rain slate")
    expect(page).to_have_url(re.compile(r"\?kitchen=[\w-]+&at=design.top-and-fronts$"), timeout=PATIENCE)
    other = page.context.browser.new_page()
    other.goto(page.url)
    expect(other.locator(".headline .last")).to_have_text("opened from the address", timeout=PATIENCE)
    assert total(other) == total(page)
    other.close()


@pytest.mark.slow
def test_the_places_are_reached_by_keys_alone(page):
    page.get_by_role("radio", name="Design", exact=True).focus()
    for place in ("Show", "Fit", "Count"):
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Enter")
        expect(page.get_by_role("radio", name=place, exact=True)).to_be_checked(timeout=PATIENCE)
        page.wait_for_timeout(300)
    rested(page)
    expect(page.get_by_role("heading", name="Totals")).to_be_visible()


@pytest.fixture(scope="module")
def axe(tmp_path_factory):
    """The script of axe-core, which knows the rules of WCAG that a machine can judge."""
    folder = installed(AXE, tmp_path_factory.mktemp("axe"))
    return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text()


DARK = "getComputedStyle(document.querySelector('.stApp')).colorScheme.includes('dark')"


def judged(page):
    """What axe-core finds at fault: each rule with the first place where it is broken."""
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = page.evaluate("rules => axe.run(document, {runOnly: rules})", rules)
    assert {"button-name", "color-contrast"} <= {rule["id"] for rule in found["passes"]}
    return {rule["id"]: rule["nodes"][0]["html"][:300] for rule in found["violations"]}


@pytest.mark.slow
@pytest.mark.parametrize("place", ["Count", "Show", "Fit", "Design"])
def test_each_place_stands_up_to_axe_and_fits_an_upright_tablet(page, axe, place):
    """axe-core's rules for WCAG 2.2 AA, in the light, then in the dark on 768 pixels, of which nothing runs out."""
    go(page, place)
    page.evaluate(axe)
    assert judged(page) == {}
    page.set_viewport_size({"width": 768, "height": 1024})
    page.emulate_media(color_scheme="dark")
    page.wait_for_function(DARK, timeout=PATIENCE)
    rested(page)
    assert judged(page) == {}
    page.emulate_media(color_scheme="light")
    page.wait_for_function("document.querySelector('[data-testid=stMain]').scrollWidth <= 768", timeout=PATIENCE)
    page.mouse.wheel(0, 800)
    expect(page.locator(".headline")).to_be_in_viewport()
    page.set_viewport_size({"width": 1280, "height": 900})


@pytest.mark.slow
def test_the_browser_goes_back_and_forth_through_edits_and_places(page):
    page.goto(page.url.split("?")[0] + "?demo=straight")
    page.wait_for_selector('[data-ready="true"]', timeout=PATIENCE)
    rested(page)
    go(page, "Design", "Top and fronts")
    choose(page, "Worktop decor", "Rain slate")
    expect(page).to_have_url(re.compile(r"\?kitchen="), timeout=PATIENCE)
    edited_at = page.url
    go(page, "Fit", "Drawings")
    expect(page).to_have_url(edited_at.replace("design.top-and-fronts", "fit.drawings"), timeout=PATIENCE)
    for place, view in (("Fit", "Findings"), ("Design", "Top and fronts")):
        went(page, page.go_back, place, view)
    said, changed = page.locator(".headline .last"), "worktop, decor: Rain slate instead of Salt terrazzo"
    expect(said).to_have_text(changed)
    went(page, page.go_back, "Design", "Top and fronts")
    expect(said).to_have_text("opened from the address", timeout=PATIENCE)
    assert page.url.endswith("?demo=straight&at=design.top-and-fronts")
    went(page, page.go_forward, "Design", "Top and fronts")
    expect(said).to_have_text(changed, timeout=PATIENCE)
    rested(page)
    expect(page.get_by_label("Worktop decor")).to_have_value("Rain slate", timeout=PATIENCE)
    assert page.url == edited_at


def went(page, step, place, view):
    """Go back or forth, and see the place that was there."""
    step()
    for name in (place, view):
        expect(page.get_by_role("radio", name=name, exact=True)).to_be_checked(timeout=PATIENCE)
    rested(page)


@pytest.mark.parametrize(
    ("host", "origin", "status"),
    [
        ("", "", 101),  # the page's own, as a browser says it
        ("evil.example", "http://evil.example", 403),  # a name that was pointed at this machine
        ("localhost.evil.example", "", 403),
        ("", "http://localhost:1", 403),  # another program's page on this machine
        ("", "https://elsewhere.example", 403),
        ("", "null", 403),
    ],
)
def test_only_its_own_pages_may_talk_to_the_server(served, host, origin, status):
    own = served.removeprefix("http://").rstrip("/")
    headers = {
        "Host": host or own, "Origin": origin or f"http://{host or own}", "Connection": "Upgrade",
        "Upgrade": "websocket", "Sec-WebSocket-Version": "13", "Sec-WebSocket-Key": "AAAAAAAAAAAAAAAAAAAAAA==",
    }  # fmt: skip
    connection = HTTPConnection(own, timeout=10)
    connection.request("GET", "/_stcore/stream", headers=headers)
    assert connection.getresponse().status == status
    connection.close()
