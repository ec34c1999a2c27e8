"""What is wrong or missing in a firm's own catalogue, told in one go; its articles and prices are counted by."""

import math
import shutil

import pytest

from countersunk import shared
from countersunk.model.catalogue.catalogue import load_catalogue
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.stock.articles import consumables_of
from countersunk.takeoff.stock.catalogue_check import catalogue_check
from countersunk.takeoff.stock.prices import prices_of
from tests.specimens import document


@pytest.fixture
def start(tmp_path):
    """The start of a catalogue that the program writes."""
    return shutil.copytree(shared.CATALOGUE_START, tmp_path / "workshop")


def replaced(folder, name, old, new):
    text = (folder / name).read_text()
    assert old in text
    (folder / name).write_text(text.replace(old, new, 1))


@pytest.mark.slow
def test_the_start_can_be_used_as_it_is(start):
    found = catalogue_check(start)
    assert found.problems == ()
    assert found.counts["units"] == len(load_catalogue().families) + 1
    assert set(found.gaps) == {f"no price of '{code}' in demo.csv" for code in
        ("own-ply18", "band.own-ply18", "own-pf38.635.3050", "own-pf38.635.4050", "own-sink.bowl",
         "own-hinge")}  # fmt: skip


def test_faults_of_every_file_are_told_at_once_each_with_its_line(start):
    replaced(start, "boards.yaml", "use: carcass, grain", "use: carcas, grain")
    replaced(start, "units.yaml", "widths: [350,", "widths: [-350,")
    replaced(start, "consumables.yaml", "unit: each", "unit: dozen")
    (start / "prices.csv").write_text("code;price\n")
    told = [str(problem) for problem in catalogue_check(start).problems]
    assert [text.split(":")[0] for text in told] == ["units.yaml", "boards.yaml", "consumables.yaml", "prices.csv"]
    assert all(text.split(":")[1].isdigit() for text in told[:3])


def test_a_fault_between_files_is_told_once_each_file_is_well(start):
    replaced(start, "units.yaml", "back: groove", "back: groove, carcass: oak22")
    [problem] = catalogue_check(start).problems
    assert "found 'oak22'" in str(problem)
    assert problem.file == "units.yaml"


def test_an_appliance_without_an_article_is_told(start):
    row = "{holds: doors, height: 576, shelves: 1}"
    replaced(start, "units.yaml", row, "{holds: oven, height: 576, appliance: oven.steam}")
    assert "no article 'oven.steam', which a unit holds" in catalogue_check(start).gaps


def test_a_folder_that_is_not_there_is_a_problem_and_no_crash(tmp_path):
    [problem] = catalogue_check(tmp_path / "nowhere").problems
    assert "no such folder" in str(problem)


def test_a_kitchen_is_counted_by_the_articles_and_prices_of_its_catalogue(start):
    """Worked by hand: boxes of 10 hinges at 1,000.00, as the firm's rows have it, and as many hinges as ever."""
    replaced(start, "consumables.yaml", "code: own-hinge, name: hinge with its plate, unit: each, pack: 50",
             "code: hinge, name: own hinge, unit: each, pack: 10")  # fmt: skip
    book = (shared.PRICES / "demo.csv").read_text().splitlines()
    rows = ["hinge,own hinge,each,10,1000.00,EUR,2026-01-02,20,Own" if r.startswith("hinge,") else r for r in book]
    (start / "prices.csv").write_text("\n".join(rows) + "\n")
    own = load_catalogue(start)
    kitchen = build(document(), own)
    line, usual = (_hinges(kitchen), _hinges(build(document())))
    assert (line.quantity.description, line.quantity.net) == ("own hinge", usual.quantity.net)
    assert line.charge.listed == math.ceil(usual.quantity.net / 10) * 1000
    assert consumables_of(own)["hinge"].pack == 10.0
    assert prices_of(own).name == "prices.csv"


def _hinges(kitchen):
    return next(line for line in estimate(kitchen).materials if line.quantity.item == "hinge")
