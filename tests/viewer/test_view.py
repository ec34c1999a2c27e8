"""The 3D view as a person uses it, on the customer's page: opened from disk, with the network off."""

from __future__ import annotations

import io
import re

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import expect, sync_playwright

from countersunk import shared
from countersunk.model.kitchen import build
from countersunk.viewer.app.customer_html import CAUTION, customer_html
from countersunk.viewer.scene.gltf import TO_GLTF
from countersunk.viewer.scene.labels import part_label
from tests.npm import installed
from tests.specimens import open_kitchen
from tests.viewer.browser import CHROMIUM, FLAGS, NEEDS_CHROMIUM, PATIENCE

pytestmark = NEEDS_CHROMIUM

AXE = shared.FOLDER.parent / "tests" / "axe"
CORNER = open_kitchen(shared.KITCHENS / "corner.yaml")
STRAIGHT = open_kitchen(shared.KITCHENS / "straight.yaml")
ISLAND = open_kitchen(shared.KITCHENS / "island.yaml")


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


def opened(browser, path, *versions):
    """A page on the file for these versions, without a network; ``page.asked`` keeps every other address."""
    path.write_bytes(customer_html(*versions))
    context = browser.new_context(viewport={"width": 720, "height": 560}, reduced_motion="reduce", offline=True)
    page = context.new_page()
    page.asked, page.wrong = [], []
    page.on("request", lambda r: page.asked.append(r.url) if not r.url.startswith(("data:", "blob:")) else None)
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.goto(path.as_uri(), timeout=PATIENCE)
    still(page)
    return page


@pytest.fixture(scope="module")
def page(browser, tmp_path_factory):
    """One page for most tests of this module; each leaves it as it found it."""
    page = opened(browser, tmp_path_factory.mktemp("customer") / "kitchen.html", CORNER)
    yield page
    assert page.wrong == []


def still(page):
    page.wait_for_selector('[data-ready="true"][data-still="true"]', timeout=PATIENCE)


def press(page, name):
    page.get_by_role("button", name=re.compile(f"^{name}")).click()
    still(page)


def fact(page, name):
    return page.locator("[data-ready]").get_attribute(f"data-{name}")


def panel(page, name):
    return page.locator("summary", has_text=name)


def canvas(page):
    return page.get_by_role("application")


def seen(page, part, point, versions=1, picture=0):
    """Where a point of a part's own frame (mm) is seen: pixels of the page, from the view's own camera."""
    sight = np.array([float(n) for n in fact(page, "sight").split(",")]).reshape(4, 4).T
    x, y, _, w = sight @ TO_GLTF @ (*part.pose.to_room(point), 1.0)
    box = canvas(page).bounding_box()
    width = box["width"] / versions
    return box["x"] + width * (picture + (x / w + 1) / 2), box["y"] + box["height"] * (1 - y / w) / 2


def middle(part):
    return (part.length / 2, part.depth / 2, part.thickness)


def colour(page, at):
    """Mean colour of a few pixels about a place."""
    x, y = at
    shot = page.screenshot(clip={"x": x - 4, "y": y - 4, "width": 8, "height": 8})
    return np.asarray(Image.open(io.BytesIO(shot)).convert("RGB"), dtype=float).mean(axis=(0, 1))


def part(name, kitchen=CORNER):
    return kitchen.parts_by_mark[name]


def test_the_page_opens_from_disk_and_asks_for_nothing_else(page):
    assert [url.startswith("file://") for url in page.asked] == [True]
    expect(page).to_have_title(CORNER.document.kitchen)
    expect(page.get_by_text(CAUTION)).to_be_visible()
    picture = np.asarray(Image.open(io.BytesIO(canvas(page).screenshot())).convert("RGB"), dtype=float)
    assert picture.std() > 20.0
    assert int(fact(page, "parts")) > len(CORNER.parts)


def test_a_door_opens_and_shuts_where_it_is_clicked(page):
    press(page, "Wall A")
    door = part("A2.door")
    inside, before = seen(page, door, middle(door)), fact(page, "open")
    shut = colour(page, inside)
    page.mouse.click(*inside)
    still(page)
    assert (before, fact(page, "open")) == ("", f"{door.owner}.door")
    expect(page.get_by_role("status")).to_have_text("door of A2, 18 mm, open")
    assert np.abs(colour(page, inside) - shut).max() > 10.0  # it is dark inside, and the door is not light either
    canvas(page).press("o")
    still(page)
    expect(page.get_by_role("status")).to_have_text("door of A2, 18 mm, shut")
    canvas(page).press("Escape")
    still(page)
    assert np.abs(colour(page, inside) - shut).max() < 6.0


@pytest.mark.slow
def test_a_hidden_layer_is_not_in_the_way(page):
    press(page, "Plan")
    over = seen(page, part("T1"), (1900.0, 300.0, 38.0))
    page.mouse.click(*over)
    expect(page.get_by_role("status")).to_have_text(part_label(part("T1"), CORNER))
    canvas(page).press("Escape")
    panel(page, "Layers").click()
    page.get_by_role("checkbox", name="Worktops").uncheck()
    still(page)
    page.mouse.click(*over)
    expect(page.get_by_role("status")).to_contain_text("of A5")
    page.get_by_role("checkbox", name="Worktops").check()
    panel(page, "Layers").click()
    canvas(page).press("Escape")
    still(page)


@pytest.mark.slow
def test_a_worktop_measures_as_deep_as_it_is(page):
    """The tape is laid by hand; the depth is that of the stock that the kitchen file names, 600 mm."""
    press(page, "Plan")
    press(page, "Measure")
    top = part("T2")
    for y in (0.0, 600.0):
        page.mouse.click(*seen(page, top, (1905.1, y, 38.0)))
        still(page)
    assert float(fact(page, "measured")) == pytest.approx(600.0, abs=1.0)
    expect(page.get_by_text("600 mm", exact=True)).to_be_visible()
    expect(page.get_by_role("status")).to_contain_text("600 mm from a corner of worktop T2")
    canvas(page).press("Escape")
    still(page)
    assert fact(page, "measured") == ""


@pytest.mark.slow
def test_parts_are_found_and_named_by_keys_alone(page):
    page.locator("body").click(position={"x": 3, "y": 3})
    page.keyboard.press("Tab")
    expect(canvas(page)).to_be_focused()
    expect(canvas(page)).to_have_attribute("aria-label", re.compile("N and P choose the next"))
    for key, expected in (("n", 0), ("n", 1), ("p", 0)):
        page.keyboard.press(key)
        still(page)
        expect(page.get_by_role("status")).to_have_text(part_label(CORNER.parts[expected], CORNER))
    expect(page.get_by_label("Part", exact=True)).to_have_value(CORNER.parts[0].id)
    page.keyboard.press("Escape")
    expect(page.get_by_role("status")).to_have_text("")


@pytest.fixture(scope="module")
def axe(tmp_path_factory):
    """The script of axe-core, which knows the rules of WCAG that a machine can judge."""
    folder = installed(AXE, tmp_path_factory.mktemp("axe"))
    return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text()


@pytest.mark.slow
def test_names_roles_and_contrast_stand_up_to_axe(page, axe):
    """axe-core's rules for WCAG 2.2 AA, with every panel open and everything on that adds to the page."""
    panel(page, "Layers").click()
    panel(page, "Decors").click()
    press(page, "Walk")
    press(page, "Section")
    page.evaluate(axe)
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = page.evaluate("rules => axe.run(document, {runOnly: rules})", rules)
    assert {rule["id"]: rule["nodes"][0]["html"] for rule in found["violations"]} == {}
    assert {"button-name", "color-contrast", "select-name"} <= {rule["id"] for rule in found["passes"]}
    press(page, "Section")
    press(page, "Room")
    panel(page, "Decors").click()
    panel(page, "Layers").click()


@pytest.mark.slow
def test_a_decor_changes_at_once_and_the_kitchen_stays(page):
    press(page, "Plan")
    over, model = seen(page, part("T1"), (1900.0, 300.0, 38.0)), fact(page, "model")
    oak, camera = colour(page, over), fact(page, "camera")
    panel(page, "Decors").click()
    page.get_by_label("Rain slate").check()
    still(page)
    assert fact(page, "worn") == "rain-slate sage"
    assert (fact(page, "model"), fact(page, "camera")) == (model, camera)
    slate = colour(page, over)
    assert oak[0] - oak[2] > 40.0  # oak is warm, slate is a dark grey
    assert abs(slate[0] - slate[2]) < 15.0
    assert slate.mean() < oak.mean() - 50.0
    page.get_by_label("Pale oak").check()
    panel(page, "Decors").click()
    still(page)
    assert np.abs(colour(page, over) - oak).max() < 3.0


@pytest.mark.slow
def test_walking_stays_at_eye_height_and_goes_where_the_keys_say(page):
    press(page, "Walk")
    x, y, z = (float(n) for n in fact(page, "camera").split(","))
    canvas(page).press("d")
    still(page)
    nx, ny, nz = (float(n) for n in fact(page, "camera").split(","))
    assert (y, ny) == (pytest.approx(1.6), pytest.approx(1.6))
    assert 0.1 < np.hypot(nx - x, nz - z) < 1.0
    press(page, "Room")


@pytest.mark.slow
def test_an_elevation_of_a_u_is_not_seen_through_the_backs_of_the_far_side(browser, tmp_path):
    """And in the first picture of all, no wall stands between the eye and the island."""
    page = opened(browser, tmp_path / "u.html", ISLAND)
    for run, view in (("I", None), ("A", "Wall A")):
        if view:
            press(page, view)
        door = next(p for p in ISLAND.parts if p.role == "door" and p.called.startswith(run))
        page.mouse.click(*seen(page, door, middle(door)))
        still(page)
        expect(page.get_by_role("status")).to_contain_text(f"door of {door.called}, ")
    page.context.close()


@pytest.mark.slow
def test_two_versions_are_seen_by_one_camera(browser, tmp_path):
    fronts = STRAIGHT.document.fronts.model_copy(update={"decor": "clay"})
    other = build(STRAIGHT.document.model_copy(update={"fronts": fronts}))
    page = opened(browser, tmp_path / "two.html", STRAIGHT, other)
    assert len(set(fact(page, "model").split())) == 2
    door = part("A8.door", STRAIGHT)
    left, right = (seen(page, door, middle(door), 2, picture) for picture in (0, 1))
    assert colour(page, left)[2] > colour(page, left)[0] + 10.0  # dusk blue
    assert colour(page, right)[0] > colour(page, right)[2] + 10.0  # clay
    top = part("T1", STRAIGHT)
    here, there = (colour(page, seen(page, top, (900.0, 300.0, 38.0), 2, picture)) for picture in (0, 1))
    assert np.abs(here - there).max() < 4.0
    page.mouse.click(*right)
    expect(page.get_by_role("status")).to_have_text("door of A8, 18 mm, open")
    page.context.close()
