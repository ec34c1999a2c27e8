"""The page for the saw in a real browser, as large as a phone, without a network; and what it saves, read again."""

import io
import json
import shutil
from types import SimpleNamespace

import pytest
import segno
from click.testing import CliRunner
from playwright.sync_api import expect, sync_playwright

from countersunk import shared
from countersunk.model.edit.kitchen_file import as_yaml, kitchen_file, new_file
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.viewer.commands.main import main
from countersunk.viewer.drawing.label_sheets import code
from countersunk.viewer.saw.cuts import saw_cuts
from countersunk.viewer.saw.measured import as_cut_words, measured
from countersunk.viewer.saw.page import state_of
from tests.npm import installed
from tests.specimens import cornered, document, open_kitchen
from tests.viewer.browser import CHROMIUM, FLAGS, NEEDS_CHROMIUM

AXE = shared.FOLDER.parent / "tests" / "axe"


@pytest.fixture(scope="module")
def corner():
    return open_kitchen(shared.KITCHENS / "corner.yaml")


@pytest.fixture(scope="module")
def phone(tmp_path_factory):
    """A phone with the page on it and no network: its page, and where the page lies."""
    file = tmp_path_factory.mktemp("saw") / "saw.html"
    done = CliRunner().invoke(main, ["saw", "corner", "--out", str(file)])
    assert done.exit_code == 0, done.output
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
        context.set_offline(True)
        page = context.new_page()
        asked, wrong = [], []
        page.on("request", lambda request: asked.append(request.url))
        page.on("pageerror", lambda error: wrong.append(str(error)))
        yield SimpleNamespace(page=page, address=file.as_uri())
        assert all(url.startswith(("file:", "blob:")) for url in asked)
        assert wrong == []
        browser.close()


@pytest.fixture
def page(phone):
    """The page as it is opened for the first time."""
    phone.page.goto("about:blank")
    phone.page.goto(phone.address)
    phone.page.evaluate("localStorage.clear()")
    phone.page.goto("about:blank")
    phone.page.goto(phone.address)
    return phone.page


def open_piece(page, key):
    page.evaluate("key => { location.hash = `#piece=${encodeURIComponent(key)}` }", key)


def cut(kitchen, id_, key):
    return next(c for c in saw_cuts(kitchen) if (c.length.id, c.key) == (id_, key))


def type_in(page, number, which=0):
    page.locator("main form").nth(which).locator("input").fill(f"{number:g}")
    page.keyboard.press("Enter")


@NEEDS_CHROMIUM
def test_a_reading_from_the_wrong_end_stops_the_fitter_and_says_why(page, corner):
    sink = next(c for c in saw_cuts(corner) if c.title == "T1: sink")
    near = sink.distances[0]
    open_piece(page, sink.piece)
    while page.locator("h1").inner_text() != sink.title:
        page.get_by_role("button", name="Next").tap()
    wrong_end = sink.length.part.length - near.value
    type_in(page, round(wrong_end, 1))
    said = page.get_by_role("alert").first
    expect(said).to_contain_text("STOP. Do not cut.")
    expect(said).to_contain_text("Likely: measured from the wrong end.")
    expect(said).to_be_in_viewport()
    done = page.locator("#done")
    expect(done).to_have_attribute("aria-disabled", "true")
    done.tap(force=True)
    expect(done).to_have_attribute("aria-pressed", "false")  # it cannot be ticked
    for which, distance in enumerate(sink.distances):
        type_in(page, distance.value, which)
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(done).to_be_focused()
    done.tap()
    expect(page.locator("h1")).not_to_have_text(sink.title)


@NEEDS_CHROMIUM
@pytest.mark.parametrize(
    ("change", "why"),
    [
        (lambda c: c.length.part.length - c.distances[1].value, "set out mirrored"),
        (lambda c: next(s.value for s in c.distances[0].slips if "rim" in s.why), "that is the rim"),
        (lambda c: c.distances[0].value + 100, "held at its 100 mark"),
        (lambda c: c.distances[1].value, "far side of the opening"),
        (lambda c: c.distances[0].value + 13, "No usual slip explains it"),
    ],
)
def test_each_slip_has_its_reason(page, corner, change, why):
    hob = next(c for c in saw_cuts(corner) if c.title == "T2: hob")
    while page.locator("h1").inner_text() != hob.title:
        page.keyboard.press("ArrowRight")
    type_in(page, round(change(hob), 1))
    expect(page.get_by_role("alert").first).to_contain_text(why)


@NEEDS_CHROMIUM
def test_keys_do_everything_and_a_reload_keeps_it(page, phone, corner):
    first = page.locator("h1").inner_text()
    page.keyboard.press("d")  # the first step has nothing to measure
    assert page.locator("h1").inner_text() != first
    page.keyboard.press("ArrowLeft")
    assert page.locator("h1").inner_text() == first
    expect(page.locator("#done")).to_have_attribute("aria-pressed", "true")
    length = cut(corner, "T2", "length")
    while page.locator("h1").inner_text() != length.title:
        page.keyboard.press("ArrowRight")
    page.keyboard.press("d")  # not ticked: the cursor goes to what must be measured
    expect(page.locator("main form input").first).to_be_focused()
    page.keyboard.type(f"{length.distances[0].value:g}".replace(".", ","))
    page.keyboard.press("Enter")
    expect(page.locator("main form").first).to_have_class("good")
    page.keyboard.press("Enter")  # on Done, which has the focus
    page.goto("about:blank")
    page.goto(phone.address)
    page.keyboard.press("ArrowLeft")
    assert page.locator("h1").inner_text() == length.title
    expect(page.locator("main form input").first).to_have_value(f"{length.distances[0].value:g}")
    expect(page.locator("#done")).to_contain_text("Done ")
    page.keyboard.press("l")
    expect(page.get_by_role("dialog").get_by_role("button", name=f"✓ {length.title}")).to_be_visible()


@NEEDS_CHROMIUM
def test_what_is_no_number_is_not_taken(page, corner):
    length = cut(corner, "T2", "length")
    open_piece(page, length.piece)
    page.locator("main form input").first.fill("about 1900")
    page.keyboard.press("Enter")
    expect(page.locator("main form .said").first).to_contain_text("in millimetres, such as 1186.5")
    expect(page.locator("#done")).to_have_attribute("aria-disabled", "true")


@NEEDS_CHROMIUM
def test_what_a_label_says_opens_its_piece(page, phone, corner):
    label = code(corner.length("T2").part)
    page.keyboard.press("l")
    page.get_by_role("textbox", name="What the label says").fill(label)
    page.get_by_role("button", name="Go").tap()
    assert page.locator("h1").inner_text() == "T2: cut to 1905.1"
    page.keyboard.press("l")
    page.get_by_role("textbox", name="What the label says").fill("t1")
    page.keyboard.press("Enter")
    assert page.locator("h1").inner_text() == "T1: cut to 3610.1"
    page.goto("about:blank")
    page.goto(f"{phone.address}{label[label.index('#') :]}")
    assert page.locator("h1").inner_text() == "T2: cut to 1905.1"
    open_piece(page, "u-4.door")
    expect(page.get_by_role("alert")).to_contain_text('No cut on this page is of "u-4.door"')


@NEEDS_CHROMIUM
def test_a_photograph_of_a_label_opens_its_piece(page, corner):
    """The browser reads the code, where it can; here one stands in for it that finds what it is given."""
    label = code(corner.length("T2").part)
    scan = page.get_by_role("button", name="Photograph the label")
    page.keyboard.press("l")
    expect(scan).to_be_hidden()  # this browser reads no codes
    page.get_by_role("button", name="Close").tap()
    _photograph(page, [], label)
    expect(page.get_by_role("alert")).to_contain_text("No code can be read")
    page.get_by_role("button", name="Close").tap()
    _photograph(page, [{"rawValue": "A3.side.left #piece=u-6.side-left"}], label)
    expect(page.get_by_role("alert")).to_contain_text("it is not a top")
    page.get_by_role("button", name="Close").tap()
    _photograph(page, [{"rawValue": label}], label)
    expect(page.locator("h1")).to_have_text("T2: cut to 1905.1")


def _photograph(page, found, label):
    """Take a photograph of a label with a browser that finds ``found`` in it."""
    picture = io.BytesIO()
    segno.make(label).save(picture, kind="png", scale=4)
    reader = (
        "found => { window.BarcodeDetector = class { detect = async (image) => image.width > 50 ? found : [] } }"
    )
    page.evaluate(reader, found)
    page.keyboard.press("l")
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Photograph the label").tap()
    chooser.value.set_files({"name": "label.png", "mimeType": "image/png", "buffer": picture.getvalue()})


@NEEDS_CHROMIUM
def test_every_target_is_large_and_nothing_runs_over_the_side(page):
    """60 by 60 CSS pixels for gloves; WCAG 2.2 asks 44 by 44 of bare fingers (2.5.5, from memory)."""
    for _ in range(60):
        for box in [b.bounding_box() for b in page.locator("nav button, main form button, main form input").all()]:
            assert box["height"] >= 60
            assert box["width"] >= 60
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        before = page.locator("h1").inner_text()
        page.keyboard.press("ArrowRight")
        if page.locator("h1").inner_text() == before:
            break
    assert page.locator("#next").get_attribute("aria-disabled") == "true"


@pytest.mark.slow
@NEEDS_CHROMIUM
def test_names_roles_and_contrast_are_as_wcag_has_them(page, corner, tmp_path_factory):
    axe = installed(AXE, tmp_path_factory.mktemp("axe")) / "node_modules" / "axe-core" / "axe.min.js"
    length = cut(corner, "T2", "length")
    open_piece(page, length.piece)
    type_in(page, 95.0)
    assert _violations(page, axe) == []
    type_in(page, length.distances[0].value)
    assert _violations(page, axe) == []
    page.keyboard.press("l")
    assert _violations(page, axe) == []


def _violations(page, axe):
    page.evaluate(axe.read_text())
    found = page.evaluate("axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21aa', 'wcag22aa']})")
    return [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in found["violations"]]


@NEEDS_CHROMIUM
def test_what_is_saved_goes_back_into_the_kitchen_file(page, corner, tmp_path):
    length = cut(corner, "T2", "length")
    open_piece(page, length.piece)
    value = length.distances[0].value
    type_in(page, value + 0.5)
    page.locator("#done").tap()
    page.keyboard.press("l")
    with page.expect_download() as waited:
        page.get_by_role("button", name="Save as a file").tap()
    file = tmp_path / "saw.json"
    shutil.copy(waited.value.path(), file)
    saved = json.loads(file.read_text())
    assert saved["hash"] == state_of(corner.document)
    assert [(r["piece"], r["step"], r["said"], r["measured"]) for r in saved["readings"]] == [
        (length.piece, "length.over-all", value, value + 0.5)
    ]
    assert [t["screen"] for t in saved["ticks"]] == [f"{length.piece} length"]
    out = tmp_path / "kitchen.yaml"
    done = CliRunner().invoke(main, ["saw", "corner", "--measured", str(file), "--out", str(out)])
    assert done.exit_code == 0, done.output
    (kept,) = kitchen_file(out).document.as_cut
    assert (kept.piece, kept.step) == (length.piece, "length.over-all")
    assert (kept.said, kept.measured) == (value, value + 0.5)
    said = CliRunner().invoke(main, ["survey", str(out)])
    assert f"T2: cut to {value:g}, over all: {value:g} drawn, {value + 0.5:g} read" in " ".join(said.output.split())


TIME = "2026-03-02T08:05:00Z"


def saved(*readings, **more):
    whole = {"countersunk_saw": 1, "kitchen": "Specimen", "hash": "0" * 16, "readings": list(readings), "ticks": []}
    return json.dumps({**whole, **more}).encode()


def reading(**more):
    return {"piece": "r-1:top", "step": "length.over-all", "said": 1600.0, "measured": 1601.0, "time": TIME, **more}


@pytest.fixture(scope="module")
def plain():
    return build(document())


def test_readings_replace_earlier_ones_of_the_same_cut(plain):
    piece = plain.lengths[0].part.id
    once = measured(saved(reading(piece=piece)), "saw.json", plain)
    again = measured(saved(reading(piece=piece, measured=1600.2)), "saw.json", build(once))
    assert [r.measured for r in once.as_cut] == [1601.0]
    assert [r.measured for r in again.as_cut] == [1600.2]
    assert new_file(plain.document).saying(again).document == again
    assert state_of(again) == state_of(plain.document)


def test_readings_are_told_with_how_far_they_are_off(plain):
    length = plain.lengths[0]
    whole = length.part.length
    near, far = (measured(saved(reading(piece=length.part.id, measured=whole + off)), "saw.json", plain)
                 for off in (0.5, 5.0))  # fmt: skip
    assert [*as_cut_words(plain)] == []
    assert next(as_cut_words(build(near))).endswith("; they agree to 2.")
    assert next(as_cut_words(build(far))).endswith(": 5 too long for what is drawn now.")
    moved = far.model_copy(update={"as_cut": (far.as_cut[0].model_copy(update={"piece": "r-9:top"}),)})
    assert "there is no such cut now" in next(as_cut_words(build(moved)))


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (saved(reading(piece="r-9:top")), r"saw\.json:\d+: readings\[0\]\.piece: found 'r-9:top'"),
        (saved(reading(step="length.width")), r"readings\[0\]\.step: found 'length\.width'; allowed: a cut of"),
        (saved(reading(measured=-1)), r"readings\[0\]\.measured: found -1"),
        (saved(reading(measured=1e9)), r"readings\[0\]\.measured"),
        (saved(reading(measured="1600")), r"readings\[0\]\.measured"),
        (saved(reading(time="yesterday")), r"readings\[0\]\.time"),
        (saved(reading(piece="<script>")), r"readings\[0\]\.piece"),
        (saved(reading(more=1)), r"more"),
        (saved(countersunk_saw=2), r"countersunk_saw"),
        (b'{"countersunk_saw": 1}', r"readings"),
        (b"not json", r"saw\.json"),
        (b"\xff\xfe", r"saw\.json"),
        (b"[" * 50, r"saw\.json"),
        (b" " * 1_000_001, r"saw\.json"),
        (b'{"countersunk_saw": 1, "countersunk_saw": 1}', r"countersunk_saw"),
        (saved(reading(measured=0)).replace(b'"measured": 0', b'"measured": NaN'), r"measured"),
    ],
)
def test_a_file_that_is_not_the_pages_is_refused_with_its_place(plain, raw, said):
    raw = raw.replace(b'"r-1:top"', f'"{plain.lengths[0].part.id}"'.encode())
    with pytest.raises(InputError, match=said):
        measured(raw, "saw.json", plain)


def test_the_command_names_the_line_at_fault(tmp_path):
    kitchen, file = tmp_path / "kitchen.yaml", tmp_path / "saw.json"
    kitchen.write_bytes(as_yaml(cornered(90.0)))
    file.write_bytes(saved(reading(piece="r-77:top")))
    out = tmp_path / "out.yaml"
    done = CliRunner().invoke(main, ["saw", str(kitchen), "--measured", str(file), "--out", str(out)])
    assert done.exit_code == 2
    assert done.stderr.startswith("saw.json:1: readings[0].piece: found 'r-77:top'; allowed: a length: ")
    assert not out.exists()
