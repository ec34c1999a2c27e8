"""What a job really cost: compared line by line by hand, and shrunk as published examples are."""

import math
from decimal import Decimal

import pytest
from click.testing import CliRunner

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.labour import default_labour, load_labour
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import load_terms
from countersunk.takeoff.report.actuals import (
    as_json,
    compare_actuals,
    labour_yaml,
    learned,
    learned_terms,
    planned_lines,
    read_actuals,
    shrunk,
    terms_yaml,
)
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.viewer.app.places.actuals_form import cost_rows, lesson_rows, spent_on
from countersunk.viewer.commands.main import main
from tests.takeoff.by_hand import small_kitchen


@pytest.fixture(scope="module")
def taken():
    return estimate(small_kitchen())


@pytest.fixture
def spent(tmp_path, taken):
    def read(text):
        path = tmp_path / "actuals.csv"
        path.write_text("kind,code,amount\n" + text)
        return read_actuals(path, taken)

    return read


def test_the_published_batting_averages():
    """Efron and Morris 1977, "Stein's Paradox in Statistics" (quoted): 18 players, 45 tries each; factor .212, so
    that .400 becomes .294 and .156 becomes .242. Their factor is n / (n + K) for K = 45 × (1 − c) / c."""
    hits = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7]
    averages = [h / 45 for h in hits]
    mean = sum(averages) / 18
    factor = 1 - 15 * mean * (1 - mean) / 45 / sum((y - mean) ** 2 for y in averages)
    assert factor == pytest.approx(0.212, abs=0.0005)
    weight = 45 * (1 - factor) / factor
    assert shrunk(mean, 0, averages[0], 45, weight) == pytest.approx(0.294, abs=0.0005)
    assert shrunk(mean, 0, averages[-1], 45, weight) == pytest.approx(0.242, abs=0.0005)


def test_jobs_one_by_one_are_worth_the_same_as_all_at_once():
    """Guess 20, then 32, 26 and 29: (3 × 20 + 87) / 6 = 24.5."""
    figure = 20.0
    for jobs, own in enumerate((32.0, 26.0, 29.0)):
        figure = shrunk(figure, jobs, own)
    assert figure == pytest.approx(24.5) == shrunk(20.0, 0, 29.0, 3)


def test_lines_and_lessons_by_hand(taken, spent):
    """Three units placed at 25 min are 1.25 h, 60.00; 2 h are 96.00 and 40 min each, so (3 × 25 + 40) / 4 = 28.75.
    Two boxes of 200 screws for 61 of them: an allowance of 400 / 61 − 1 = 555.7 %. That is 6.56 times the need
    where 1.1 was planned, 5.96 times as much: odd, so it counts ln 2 / ln 5.96 = 0.388 of a job, and
    (3 × 10 + 0.388 × 555.7) / 3.388 = 72.5."""
    found = compare_actuals(taken, spent("hours,place,2\npacks,screw.4x30,2\ntrips,,1\n"), default_labour())
    place, screws, trips = found.lines
    assert (place.planned, place.spent, place.planned_cost, place.spent_cost, place.more) == (
        Decimal("1.250"), Decimal(2), Decimal("60.00"), Decimal("96.00"), Decimal("36.00"),
    )  # fmt: skip
    assert screws.more == screws.planned_cost == Decimal("6.68")  # twice one box, as far as cents go
    assert (trips.planned, trips.spent, trips.more) == (3, 4, Decimal("41.20"))  # 35 min are 28.00, 24 km 13.20
    assert found.more == Decimal("83.88")
    minutes, allowance = found.lessons
    assert (minutes.old, minutes.measured, minutes.new, minutes.jobs) == (25, 40, 28.75, 1)
    assert minutes.certainty == 25
    assert (allowance.code, allowance.jobs) == ("screws", 1)
    assert (allowance.old, allowance.measured) == pytest.approx((10, 100 * (400 / 61 - 1)))
    weight = math.log(2) / math.log(400 / 61 / 1.1)
    assert (allowance.is_odd, allowance.weight) == (True, pytest.approx(weight))
    assert allowance.new == pytest.approx((3 * 10 + weight * 100 * (400 / 61 - 1)) / (3 + weight))
    assert (minutes.is_odd, minutes.basis, allowance.basis) == (False, "guess", "the rule")
    assert as_json(found)["lessons"][0]["words"] == "still mostly the old figure"


def test_the_table_remembers_where_its_figures_are_from(taken, spent, tmp_path):
    """Written, read again and learned from again: (4 × 28.75 + 40) / 5 = 31."""
    path, rules = tmp_path / "labour.yaml", default_labour()
    for _ in range(2):
        found = compare_actuals(taken, spent("hours,place,2\n"), rules)
        path.write_bytes(labour_yaml(learned(rules, found)))
        rules = load_labour(path)
    place = next(o for o in rules.operations if o.code == "place")
    assert (place.minutes, place.jobs) == (31.0, 2)
    assert place.sources[0].text.startswith("2 own jobs, 40 %")
    assert [s.status for s in place.sources] == ["seen", "practice"]
    others = [o for o in default_labour().operations if o.code != "place"]
    assert [o for o in rules.operations if o.code != "place"] == others


def test_an_odd_job_is_named_and_weighs_less(taken, spent):
    """5 h for three units are 100 min each, four times 25: half a job, (75 + 100 / 2) / 3.5 = 35.7, not 43.75."""
    found = compare_actuals(taken, spent("hours,place,5\n"), default_labour())
    (lesson,) = found.lessons
    assert lesson.new == pytest.approx((75 + 50) / 3.5)
    assert lesson.words == "an odd job: counted 50 %, look what happened"


def test_the_form_of_the_app_says_the_same_as_the_file(taken, spent):
    typed = spent_on([("hours", "place", 5.0), ("packs", "screw.4x30", 0.4)], 1)
    assert typed == spent("hours,place,5\npacks,screw.4x30,0.4\ntrips,,1\n")
    codes = {(kind, code) for kind, code, _, _ in planned_lines(taken)}
    assert {("hours", "place"), ("packs", "screw.4x30")} <= codes
    found = compare_actuals(taken, typed, default_labour())
    assert [row["From"] for row in lesson_rows(found)] == ["guess", "the rule"]
    assert cost_rows(taken, found)[-1]["More, EUR"] == MoneyForm("EUR").signed(found.more)


def test_new_allowances_are_written_to_the_terms(taken, spent, tmp_path):
    """Two fifths of a box of 200; the terms are read again, and a takeoff by them has the new allowance."""
    found = compare_actuals(taken, spent("packs,screw.4x30,0.4\n"), default_labour())
    path = tmp_path / "terms.yaml"
    path.write_bytes(terms_yaml(learned_terms(taken.terms, found)))
    terms = load_terms(path)
    (waste,) = (w for w in terms.waste if w.rule == "screws")
    # 80 screws for 61 are 31.1 % more: (3 × 10 + 31.1) / 4
    assert (waste.percent, waste.jobs) == (pytest.approx((30 + 100 * (80 / 61 - 1)) / 4, abs=0.005), 1)
    assert terms.model_copy(update={"waste": taken.terms.waste}) == taken.terms
    again = estimate(small_kitchen(), terms=terms)
    assert next(q for q in again.quantities if q.item == "screw.4x30").share == pytest.approx(waste.percent / 100)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("hour,place,2\n", "kind"),
        ("hours,hinge,2\n", "code"),
        ("hours,place,-2\n", "amount"),
        ("hours,place,1e9\n", "amount"),
        ("packs,place,2\n", "code"),
        ("trips,site,1\n", "code"),
        ("hours,place,1\nhours,place,2\n", "code"),
        ("", "file"),
    ],
)
def test_bad_rows_are_named(spent, text, problem):
    with pytest.raises(InputError) as error:
        spent(text)
    (found,) = error.value.problems
    assert (found.field, found.file) == (problem, "actuals.csv")
    assert problem == "file" or found.line == (3 if "\nhours" in text else 2)


@pytest.mark.slow
def test_the_command_writes_a_table_that_the_takeoff_takes(tmp_path):
    (tmp_path / "a.csv").write_text("kind,code,amount\nhours,place,9\n")
    table = tmp_path / "labour.yaml"
    asked = ["actuals", "galley", "--csv", str(tmp_path / "a.csv"), "--write", str(table)]
    made = CliRunner().invoke(main, asked)
    assert made.exit_code == 0, made.output
    assert "credibility" in made.output
    again = CliRunner().invoke(main, ["takeoff", "galley", "--labour", str(table), "--json"])
    assert again.exit_code == 0
    place = next(o for o in load_labour(table).operations if o.code == "place")
    assert f'"minutes_each": "{place.minutes}"' in again.output
