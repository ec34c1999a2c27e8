"""The app's logic without a browser: each place, undo and redo, bad values, people apart, addresses."""

import contextlib
import json
import re
import urllib.parse

import pytest
from streamlit.testing.v1 import AppTest

from countersunk import shared
from countersunk.model.catalogue.catalogue import catalogue_of, default_catalogue
from countersunk.model.document.schema import Room
from countersunk.model.edit.edits import edited
from countersunk.model.edit.kitchen_file import as_yaml, kitchen_file, new_file
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.planning.brief import Wishes
from countersunk.takeoff.jobs.store import opened_store
from countersunk.viewer.app import address
from countersunk.viewer.app.bar import _open
from countersunk.viewer.app.history import begun
from countersunk.viewer.app.places.fitted_form import DAY
from countersunk.viewer.app.places.options import offered, priced_option
from countersunk.viewer.app.places.own_catalogue import held
from countersunk.viewer.app.places.propose_form import brief_of
from countersunk.viewer.app.reading import laid_out, read
from countersunk.viewer.app.session import Desk, Wish, plain
from tests.lanes import some
from tests.specimens import SOME_DEMOS, oblong, open_kitchen

APP = shared.FOLDER.parent / "viewer" / "app" / "app.py"
CORNER = open_kitchen(shared.KITCHENS / "corner.yaml").document
VIEWS = {
    "Design": ("form", ["Units", "Room", "Sink, hob, appliances", "Top and fronts", "Job"]),
    "Show": ("", [""]),
    "Fit": ("fit", ["Findings", "Drawings", "Papers to take along"]),
    "Count": ("count", ["Takeoff", "Cutting plans", "Prices", "Quote and orders", "What it took"]),
    "Jobs": ("", [""]),
}


@pytest.fixture(autouse=True)
def no_arguments(monkeypatch):
    monkeypatch.setattr("sys.argv", ["app"])


def opened(**query):
    app = AppTest.from_file(str(APP), default_timeout=90)
    for key, value in query.items():
        app.query_params[key] = value
    return fine(app.run())


def fine(app):
    assert [e.message for e in app.exception] == []
    return app


def go(app, place, view=""):
    app.session_state["place"] = place
    if view:
        app.session_state[VIEWS[place][0]] = view
    return fine(app.run())


def desk(app):
    return app.session_state["desk"]


def facts(app):
    [line] = [h.proto.body for h in app.get("html") if 'class="headline"' in h.proto.body]
    return re.sub(r"<[^>]+>", "|", line)


def labelled(elements, label):
    [found] = [e for e in elements if e.label == label]
    return found


@pytest.mark.parametrize(("place", "view"), some([(p, v) for p, (_, views) in VIEWS.items() for v in views], 5))
def test_each_place_shows_the_kitchen_of_the_bar_and_has_an_address(place, view):
    app = go(opened(), place, view)
    assert "Lantern Cottage, an L with a corner of 91.2°" in facts(app)
    assert "5,078.76 EUR" in facts(app)
    assert ("worth a look" in facts(app)) == (place != "Show")
    assert not app.error
    query = written(app)
    again = opened(**query)
    assert again.session_state["place"] == place
    assert not view or again.session_state[VIEWS[place][0]] == view
    assert written(again) == query


def test_an_edit_moves_picture_findings_and_total_and_is_told():
    app = go(opened(), "Design", "Top and fronts")
    labelled(app.selectbox, "Worktop decor").set_value("rain-slate")
    fine(app.run())
    assert desk(app).document == edited(CORNER, {"worktop.decor": "rain-slate"})
    assert "worktop, decor: Rain slate instead of Pale oak" in facts(app)
    reading = desk(app).reading
    assert f"{reading.takeoff.totals.gross:,.2f}" in facts(app)
    assert reading.kitchen.document == desk(app).document


def test_room_and_units_say_how_much_is_left():
    app = go(opened(), "Design", "Room")
    told = " ".join(m.value for m in app.markdown)
    assert "How sure the runs fit" in told
    assert "The survey closes to 1 mm" in told.replace("\\", "")
    [frame] = [d.value for d in app.dataframe if "Left" in d.value]
    assert frame["Run"][0] == "run A"
    app = go(app, "Design", "Units")
    left = frame["Left"][0]
    assert any(f"{left} left at the worst" in caption.value for caption in app.caption)


@pytest.mark.slow
def test_the_room_says_what_was_fitted_against_the_plan():
    app = go(opened(demo="terrace"), "Design", "Room")
    [frame] = [d.value for d in app.dataframe if "As fitted" in d.value]
    assert frame.set_index("As fitted").loc["corner A-B", "Judged"] == "beyond"
    told = " ".join(m.value for m in app.markdown).replace("\\", "")
    assert "Less well met than planned: T1 against wall A" in told
    assert not [d for d in go(opened(), "Design", "Room").dataframe if "As fitted" in d.value]


def test_a_file_that_is_not_opened_leaves_its_room_behind_if_it_can_be_read():
    file = kitchen_file("straight")
    mine = Desk(file, begun(file.document, "opened"), file.document)
    room = oblong(4000.0, 3000.0)
    room["walls"][2]["length"] = 4100.0
    _open(mine, as_yaml(edited(file.document, {"room.walls": room["walls"]})), "misses.yaml")
    assert mine.refused["file"].endswith("What its readings say is shown under Design, Room.")
    assert mine.unbuilt == ("misses.yaml", edited(file.document, {"room.walls": room["walls"]}).room)
    _open(mine, b"nonsense: [", "nonsense.yaml")
    assert mine.unbuilt is None


@pytest.mark.slow
def test_a_day_begins_what_is_measured_on_the_fitted_units_and_no_day_ends_it():
    app = go(opened(), "Design", "Room")
    labelled(app.text_input, DAY).set_value("2026-11-20")
    fine(app.run())
    assert desk(app).document.fitted.date == "2026-11-20"
    assert b"2026-11-20" in desk(app).file.saved(desk(app).document)
    labelled(app.text_input, DAY).set_value("20 November")
    fine(app.run())
    assert "a day as 2026-11-20" in app.error[0].value.replace("\\", "")
    labelled(app.text_input, DAY).set_value("")
    fine(app.run())
    assert desk(app).document.fitted is None


@pytest.mark.slow
def test_a_file_that_makes_no_kitchen_is_shown_by_what_its_readings_say():
    app = go(opened(), "Design", "Room")
    room = oblong(4000.0, 3000.0)
    room["walls"][2]["length"] = 4100.0
    desk(app).unbuilt = ("misses.yaml", Room.model_validate(room))
    told = " ".join(m.value for m in fine(app.run()).markdown).replace("\\", "")
    assert "misses.yaml was not opened: it makes no kitchen. The survey misses itself by 100 mm" in told
    assert "Measure again wall A" in told
    labelled(app.button, "Back to the kitchen that is open").click()
    assert "misses.yaml" not in " ".join(m.value for m in fine(app.run()).markdown)


@pytest.mark.slow
def test_the_room_is_drawn_as_it_is_typed_even_where_no_kitchen_can_be_built_in_it():
    app = go(opened(), "Design", "Room")
    height = labelled(app.number_input, "Height of the room, mm")
    height.set_value(2110.0)  # the hood reaches higher
    fine(app.run())
    assert "Not built" in app.error[0].value
    assert [c for c in app.caption if c.value.startswith("The room as it is typed.")]
    assert desk(app).document == CORNER
    labelled(app.number_input, "Height of the room, mm").set_value(2500.0)
    fine(app.run())
    assert not [c for c in app.caption if c.value.startswith("The room as it is typed.")]
    assert desk(app).document.room.height == 2500.0


def test_what_is_typed_is_wished_without_what_cannot_be_read():
    mine = Desk(new_file(CORNER), begun(CORNER, "opened"), CORNER)
    wall = {**CORNER.room.walls[0].model_dump(exclude_unset=True), "length": 2000.0}
    walls = (wall, *(w.model_dump(exclude_unset=True) for w in CORNER.room.walls[1:]))
    wishes = [
        Wish(lambda d: edited(d, {"room.height": -1.0}), None),
        Wish(lambda d: edited(d, {"room.walls": walls}), None),
    ]
    assert mine.wished(wishes) == edited(CORNER, {"room.walls": walls})
    with pytest.raises(InputError):
        build(mine.wished(wishes))
    assert mine.document == CORNER


def test_undo_and_redo():
    app = go(opened(), "Design", "Top and fronts")
    labelled(app.selectbox, "Worktop decor").set_value("rain-slate")
    fine(app.run())
    labelled(app.number_input, "Overhang at the front, mm").set_value(18.0)
    fine(app.run())
    both = desk(app).document
    fine(labelled(app.button, "Undo").click().run())
    assert desk(app).document == edited(CORNER, {"worktop.decor": "rain-slate"})
    assert labelled(app.number_input, "Overhang at the front, mm").value == 20.0
    fine(labelled(app.button, "Undo").click().run())
    assert desk(app).document == CORNER
    assert labelled(app.button, "Undo").disabled
    fine(labelled(app.button, "Redo").click().run())
    fine(labelled(app.button, "Redo").click().run())
    assert desk(app).document == both
    assert labelled(app.selectbox, "Worktop decor").value == "rain-slate"


def test_a_bad_value_is_survived_and_other_fields_still_count():
    app = go(opened(), "Design", "Top and fronts")
    labelled(app.number_input, "Overhang at the front, mm").set_value(40.0)
    fine(app.run())
    [error] = app.error
    assert "allowed: an overhang of 0 to 22" in error.value.replace("\\", "")
    assert desk(app).document == CORNER
    labelled(app.selectbox, "Fronts").set_value("clay")
    labelled(app.selectbox, "Fronts of wall units").set_value("chalk")
    fine(app.run())
    assert len(app.error) == 1
    assert desk(app).document == edited(CORNER, {"fronts.decor": "clay", "fronts.upper": "chalk"})
    labelled(app.selectbox, "Fronts of wall units").set_value("")
    labelled(app.number_input, "Overhang at the front, mm").set_value(18.0)
    labelled(app.number_input, "Gap at a notch, mm").set_value(5.0)
    fine(app.run())
    assert not app.error
    changes = {"fronts.decor": "clay", "worktop.overhang.front": 18.0, "allowances.notch": 5.0}
    assert desk(app).document == edited(CORNER, changes)


@pytest.mark.slow
def test_a_name_left_empty_is_told_and_no_markup_is_run():
    app = go(opened(), "Design", "Job")
    labelled(app.text_input, "Name of the kitchen").set_value("")
    fine(app.run())
    assert len(app.error) == 1
    labelled(app.text_input, "Name of the kitchen").set_value("<b>x</b> [a](b)")
    fine(app.run())
    assert "&lt;b&gt;x&lt;/b&gt;" in next(h.proto.body for h in app.get("html") if "headline" in h.proto.body)
    assert desk(app).document.kitchen == "<b>x</b> [a](b)"


@pytest.mark.slow
def test_a_unit_goes_to_the_right_and_back_by_buttons():
    app = go(opened(), "Design", "Units")
    app.session_state["unit-runs[0]"] = "A2"
    fine(app.run())
    fine(labelled(app.button, "To the right").click().run())
    units = [unit.unit for unit in desk(app).document.runs[0].units]
    assert units[1:3] == ["dishwasher", "base-doors"]
    assert app.session_state["unit-runs[0]"] == "A3"
    assert "A2 moved one place to the right" in facts(app)
    fine(labelled(app.button, "To the left").click().run())
    assert desk(app).document == CORNER


def test_what_a_button_cannot_do_is_told_and_changes_nothing():
    app = go(opened(), "Design", "Units")
    app.session_state["row"] = "runs[2]"
    fine(app.run())
    assert labelled(app.button, "Take out").disabled
    app.session_state["row"] = "runs[0]"
    app.session_state["unit-runs[0]"] = "A1"
    fine(app.run())
    fine(labelled(app.button, "Add it right of A1").click().run())
    [error] = app.error
    assert "Not built" in error.value
    assert desk(app).document == CORNER


@pytest.mark.slow
def test_an_island_is_added_and_taken_out():
    app = go(opened(), "Design", "Units")
    labelled(app.selectbox, "What to add").set_value("islands")
    fine(app.run())
    labelled(app.number_input, "From the wall's left, mm").set_value(900.0)
    labelled(app.number_input, "Out from the wall, mm").set_value(1700.0)
    fine(app.run())
    fine(labelled(app.button, "Add the row").click().run())
    assert not app.error
    assert [island.name for island in desk(app).document.islands] == ["I1"]
    app.session_state["row"] = "islands[0]"
    fine(app.run())
    fine(labelled(app.button, "Take out Island I1").click().run())
    after = desk(app).document
    assert after.last_key > CORNER.last_key  # keys that were given are not given again
    assert edited(after, {"last_key": CORNER.last_key}) == CORNER


def test_the_customer_takes_a_choice_with_its_difference():
    app = go(opened(), "Show")
    labelled(app.multiselect, "What it may be instead, with the difference in price").set_value(
        ["Worktop in Rain slate"]
    )
    fine(app.run())
    words = " ".join(m.value for m in app.markdown).replace("\\", "")
    fine(labelled(app.button, "Take it: Worktop in Rain slate").click().run())
    assert desk(app).document == edited(CORNER, {"worktop.decor": "rain-slate"})
    assert f"then about {desk(app).reading.takeoff.totals.gross:,.2f} EUR" in words


@pytest.mark.slow
def test_a_quote_prices_kitchen_and_choices_alike_by_the_sheets_that_are_bought():
    name = "Worktop in Rain slate"
    quoted, changed = (
        priced_option(CORNER, b"", default_catalogue(), name, on_sheets=True),
        edited(CORNER, {"worktop.decor": "rain-slate"}),
    )
    assert quoted.comparison.before.totals == laid_out(CORNER).takeoff.totals
    assert quoted.comparison.after.totals == laid_out(changed).takeoff.totals
    assert quoted.comparison.after.totals != read(changed).takeoff.totals


@pytest.mark.slow
def test_another_sink_and_another_top_are_on_offer_and_what_does_not_fit_is_told():
    app = go(opened(), "Show")
    chooser = labelled(app.multiselect, "What it may be instead, with the difference in price")
    wide, deep = "Electric hob 80 cm", "Worktop of post-formed laminate 38 x 616"
    assert {wide, deep, "Inset sink with bowl and drainer", "Fronts in Clay"} <= set(chooser.options)
    chooser.set_value([wide, deep])
    fine(app.run())
    [refused] = app.warning
    assert refused.value == f"{wide}: does not fit this kitchen as it is planned."
    fine(labelled(app.button, f"Take it: {deep}").click().run())
    assert desk(app).document == edited(CORNER, {"worktop.stock": "pf38.616"})


@pytest.mark.slow
def test_every_choice_of_every_demo_is_priced_or_refused_in_words():
    for path in SOME_DEMOS:
        document = open_kitchen(path).document
        choices = offered(document, catalogue_of(document))
        assert len(choices) > 5
        for name in list(choices)[-3:]:
            with contextlib.suppress(InputError):
                assert priced_option(document, b"", catalogue_of(document), name).comparison.after


@pytest.mark.slow
def test_a_price_book_is_part_of_the_steps():
    app = opened()
    book = (shared.PRICES / "demo.csv").read_bytes().replace(b",116.85,", b",216.85,")
    desk(app).price(book, "dearer")
    fine(app.run())
    assert "5,078.76" not in facts(app)
    fine(labelled(app.button, "Undo").click().run())
    assert "5,078.76" in facts(app)


@pytest.mark.slow
def test_plans_of_other_prices_are_laid_out_anew():
    app = go(opened(demo="straight"), "Count", "Cutting plans")
    fine(labelled(app.button, "Lay out and draw").click().run())
    assert not [b for b in app.button if b.label == "Lay out and draw"]
    book = (shared.PRICES / "demo.csv").read_bytes().replace(b",17.90,", b",21.90,")
    desk(app).price(book, "dearer")
    assert labelled(fine(app.run()).button, "Lay out and draw")


@pytest.mark.slow
def test_demonstrations_are_called_what_their_files_call_them():
    labels = {b.label for b in opened().button if str(b.key).startswith("demo-")}
    assert labels == {plain(open_kitchen(path).document.kitchen) for path in address.DEMOS.values()}


@pytest.mark.slow
def test_two_people_have_a_kitchen_each():
    one, other = opened(), opened()
    go(one, "Design", "Top and fronts")
    labelled(one.selectbox, "Worktop decor").set_value("rain-slate")
    fine(one.run())
    fine(other.run())
    assert desk(one).document.worktop.decor == "rain-slate"
    assert desk(other).document == CORNER
    assert "Pale oak" not in facts(other)


def test_an_address_reopens_the_kitchen_and_a_bad_one_the_demo():
    app = opened(demo="island")
    assert desk(app).document == open_kitchen(shared.KITCHENS / "island.yaml").document
    changed = edited(CORNER, {"worktop.decor": "rain-slate"})
    app = opened(**address.written(changed))
    assert desk(app).document == changed
    app = opened(kitchen="nonsense")
    assert desk(app).document == CORNER
    assert "The address opens no kitchen" in app.error[0].value


def test_an_edit_is_in_the_address():
    app = go(opened(), "Design", "Top and fronts")
    labelled(app.selectbox, "Worktop decor").set_value("rain-slate")
    fine(app.run())
    query = written(app)
    assert address.opened(query).document == desk(app).document
    assert query["at"] == "design.top-and-fronts"
    again = opened(**query)
    assert desk(again).document == desk(app).document
    assert again.session_state["form"] == "Top and fronts"


def written(app):
    """The address that the browser is asked to show."""
    [way] = [c.proto for c in app.get("bidi_component") if c.proto.component_name == "countersunk-way"]
    return dict(urllib.parse.parse_qsl(json.loads(way.json)["query"]))


@pytest.mark.parametrize("at", some(["attic", "fit.attic", "", "fit..", "design.units"], 4))
def test_a_place_that_is_none_is_the_first(at):
    assert written(opened(at=at)) in ({"demo": "corner"}, {"demo": "corner", "at": "fit"})


def test_the_places_keep_nothing_of_a_person():
    """No module of the app holds a list, set or dict that a session could write to."""
    named = re.compile(r"^(_?[a-z]\w*)(: [^=]+)? = (\[|\{|set\(|dict\(|list\()", re.M)
    viewer = APP.parents[1]
    paths = [p for folder in ("app", "scene", "stills", "commands") for p in (viewer / folder).rglob("*.py")]
    assert len(paths) > 60
    for path in paths:
        assert not named.findall(path.read_text()), path


def test_the_app_stays_a_short_script():
    assert len(APP.read_text().splitlines()) < 150


@pytest.mark.slow
def test_a_row_is_split_and_what_does_not_fit_is_refused_with_nothing_lost():
    app = go(opened(), "Design", "Units")
    app.session_state["unit-runs[0]"] = "A3"
    fine(app.run())
    before = desk(app).document
    fine(labelled(app.button, "Split before A3 and move the part on the right").click().run())
    assert desk(app).document == before
    assert any("the wall is 3600 long" in error.value for error in app.error)
    fine(labelled(app.button, "Split before A3 and move the part on the left").click().run())
    after = desk(app).document
    assert [len(run.units) for run in after.runs[:2]] == [2, len(before.runs[0].units) - 2]
    keys = [[unit.key for run in made.runs for unit in run.units] for made in (before, after)]
    assert keys[0] == keys[1]
    assert "row split before A3, the part on the left moved" in facts(app)


OWN_DECOR = b"""adds_to: metric
decors:
  - {code: moss, name: Moss, figure: plain, colour: "#6d7a5a", vein: "#6d7a5a", roughness: 0.5, use: front}
"""


@pytest.mark.slow
def test_a_firms_own_catalogue_is_chosen_in_the_app_and_its_decors_after_it():
    app = go(opened(), "Design", "Job")
    own = held("workshop", {"decors.yaml": OWN_DECOR})
    desk(app).catalogues["workshop"] = own
    fine(app.run())
    fine(labelled(app.selectbox, "Units, boards and tops of the catalogue").set_value("workshop").run())
    assert desk(app).document.catalogue == "workshop"
    go(app, "Design", "Top and fronts")
    fine(labelled(app.selectbox, "Fronts").set_value("moss").run())
    assert desk(app).document.fronts.decor == "moss"
    assert desk(app).reading.kitchen.catalogue is own


@pytest.mark.parametrize(
    ("name", "files", "words"),
    [
        ("metric", {"decors.yaml": OWN_DECOR}, "neither metric nor inch"),
        ("../own", {"decors.yaml": OWN_DECOR}, "small letters, digits"),
        ("own", {"../decors.yaml": OWN_DECOR}, "allowed: units.yaml"),
        ("own", {"decors.yaml": b"decors: 5"}, "decors.yaml:1: decors: found 5"),
        ("own", {"prices.csv": b"x", "decors.yaml": OWN_DECOR}, "prices.csv"),
    ],
)
def test_a_catalogue_that_cannot_be_read_is_refused_in_one_sentence(name, files, words):
    with pytest.raises(InputError, match=re.escape(words)):
        held(name, files)


@pytest.mark.slow
def test_carcasses_are_bought_by_one_choice_and_counted_as_articles():
    app = go(opened(demo="annexe"), "Design", "Job")
    fine(labelled(app.button_group, "Carcasses").set_value("made").run())
    assert desk(app).document.supply == "made"
    assert not any(line.quantity.rule == "ready-units" for line in desk(app).reading.takeoff.materials)
    fine(labelled(app.button_group, "Carcasses").set_value("bought").run())
    assert sum(line.quantity.rule == "ready-units" for line in desk(app).reading.takeoff.materials) == 4


def test_what_was_read_at_the_saw_is_taken_in_and_told():
    app = go(opened(), "Fit", "Papers to take along")
    labelled(app.get("download_button"), "Page for a phone at the saw (HTML)")
    length = build(CORNER).length("T2").part
    said = {"said": 1905.1, "measured": 1905.5, "time": "2026-03-02T08:05:00Z"}
    readings = [{"piece": length.id, "step": "length.over-all", **said}]
    saved = {"countersunk_saw": 1, "kitchen": "x", "hash": "0" * 16, "readings": readings, "ticks": []}
    for raw in (b"{}", json.dumps(saved).encode()):
        uploader = next(u for u in app.get("file_uploader") if u.label.startswith("What the phone saved"))
        fine(uploader.set_value(("saw.json", raw, "application/json")).run())
        fine(labelled(app.button, "Take these readings in, as cut").click().run())
        assert len(desk(app).document.as_cut) == (raw != b"{}")
    assert any(
        "1905.1 drawn, 1905.5 read; they agree to 2" in line.value.replace("\\", "") for line in app.markdown
    )


def test_what_is_said_of_the_job_goes_along_into_a_look_for_layouts():
    said = {"cooks": 2, "wheelchair": True, "work": "replacement", "lengths": "inch", "regions": ("us",)}
    brief = brief_of(edited(CORNER, said), Wishes())
    assert {field: getattr(brief, field) for field in said} == said


def test_a_kitchen_is_saved_to_a_job_and_opened_from_it_again(tmp_path, monkeypatch):
    monkeypatch.setenv("COUNTERSUNK_STORE", str(tmp_path / "jobs.sqlite"))
    app = go(opened(demo="straight"), "Jobs")
    app.text_input(key="job-customer").input("A. Reader")
    labelled(app.button, "Open the job").click()
    fine(app.run())
    labelled(app.button, "Save this kitchen as revision 1").click()
    fine(app.run())
    first = desk(app).document
    desk(app).do("test", lambda document: edited(document, {"kitchen": "Another name"}))
    labelled(app.button, "Save this kitchen as revision 2").click()
    fine(app.run())
    with opened_store() as store:
        (head,) = store.jobs()
        assert (head.customer, head.entries) == ("A. Reader", 3)
        assert b"Another name" in store.content(store.story(head.number).revision().saved.text)
    app.selectbox(key=f"job-revision-{head.number}").select(1)
    fine(app.run())
    labelled(app.button, "Open it").click()
    fine(app.run())
    assert desk(app).document.kitchen == first.kitchen
    assert any("later revision" in warning.value for warning in app.warning)
    labelled(app.button, "Save this kitchen as revision 3").click()
    fine(app.run())
    assert any("was added by" in error.value for error in app.error)
    with opened_store() as store:
        assert len(store.story(head.number).revisions) == 2
