"""Papers of a kitchen that was measured again on its fitted units: each says what it is from."""

import io
import json
from datetime import date

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from countersunk import shared
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.report import as_json, csv_bytes, xlsx_bytes
from countersunk.viewer.app.surveying import TOPS_FITTED, survey_json, survey_tables
from countersunk.viewer.commands.main import main
from countersunk.viewer.drawing.fitted_sheet import fitted_sheets
from countersunk.viewer.drawing.label_sheets import label_sheets
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.paper import imprint, reference
from countersunk.viewer.drawing.papers import cut_plans, cutting_sheets, sheets, templates
from countersunk.viewer.quoting.customer import Job, quote_data
from countersunk.viewer.quoting.options import NO_OPTIONS
from countersunk.viewer.saw.page import saw_html
from tests.specimens import open_kitchen

FITTED = "From readings on the fitted units, of 2026-11-20"
PLANNED = "As planned, before the units were fitted"


@pytest.fixture(scope="module")
def kitchen():
    return open_kitchen(shared.KITCHENS / "terrace.yaml")


def said(sheet):
    return [words for words, _ in words_on(sheet)]


@pytest.mark.slow
def test_every_sheet_of_tops_is_from_the_readings_and_every_sheet_of_carcasses_from_the_plan(kitchen):
    plans = cut_plans(kitchen)
    found = {
        s.name: (FITTED in said(s), PLANNED in said(s)) for s in (*sheets(kitchen), *cutting_sheets(kitchen, plans))
    }
    planned = {name for name in found if name.startswith(("elevation", "fronts", "cut-front", "cut-pb", "cut-hb"))}
    assert {name for name, says in found.items() if says == (False, True)} == planned
    assert {name for name, says in found.items() if says == (True, False)} == found.keys() - planned
    assert {"plan", "fitted", "T1-top", "T2-underside", "J1", "card"} <= found.keys() - planned
    pages = label_sheets(kitchen, plans.boards, plans.tops)
    assert sum("from readings on the" in " ".join(said(page)) for page in pages) >= 1
    assert all("as fitted 2026-11-20" in " ".join(said(page)) for page in templates(kitchen))


def test_papers_of_one_kitchen_have_one_imprint(kitchen):
    assert imprint(kitchen) == imprint(kitchen.planned)
    assert reference(kitchen) == f"{imprint(kitchen)}, from readings on the fitted units, of 2026-11-20"
    plain = open_kitchen(shared.KITCHENS / "straight.yaml")
    assert (reference(plain), fitted_sheets(plain)) == (imprint(plain), [])


def test_the_page_for_the_saw_says_what_it_is_from(kitchen):
    assert b"from readings on the fitted units, of 2026-11-20" in saw_html(kitchen)
    assert b"fitted units" not in saw_html(open_kitchen(shared.KITCHENS / "straight.yaml"))


@pytest.mark.slow
def test_differences_are_on_a_sheet_and_in_the_survey(kitchen):
    (page,) = fitted_sheets(kitchen)
    words = said(page)
    assert "join J1 is cut to 90.89°; both of its tops change" in words
    told = survey_json(kitchen)["fitted"]
    (corner,) = (d for d in told["differences"] if d["what"] == "corner A-B")
    assert (corner["planned"], corner["fitted"], corner["judged"]) == (
        90.0,
        pytest.approx(90.887, abs=1e-3),
        "beyond",
    )
    assert told["date"] == "2026-11-20"
    assert survey_tables(kitchen)[-1] == TOPS_FITTED
    assert survey_json(open_kitchen(shared.KITCHENS / "straight.yaml"))["fitted"] is None


def test_the_count_says_what_tops_are_from(kitchen):
    words = "Tops are from readings on the fitted units, of 2026-11-20; carcasses are as planned."
    taken = estimate(kitchen)
    assert as_json(taken)["tops_from"] == words
    assert words in csv_bytes(taken).decode("utf-8-sig")
    sheet = load_workbook(io.BytesIO(xlsx_bytes(taken)))["Totals"]
    assert ("Tops", words) in [row[:2] for row in sheet.values]
    job = Job(("Somebody invented",), date(2026, 11, 21))
    assert quote_data(kitchen, taken, NO_OPTIONS, job)["tops_from"] == words
    planned = estimate(kitchen.planned)
    assert (as_json(planned)["tops_from"], b"Tops are from" in csv_bytes(planned)) == ("", False)


@pytest.mark.slow
def test_the_check_prints_what_was_fitted_against_the_plan():
    told = CliRunner().invoke(main, ["check", "terrace"]).stdout
    assert "Measured on the fitted units, 2026-11-20" in told
    assert "Less well met than planned: T1 against wall A" in " ".join(told.split())
    plain = json.loads(CliRunner().invoke(main, ["check", "terrace", "--json"]).stdout)
    assert {d["judged"] for d in plain["fitted"]["differences"]} == {"within", "beyond"}
