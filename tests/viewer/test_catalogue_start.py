"""The start of a firm's catalogue by the guide alone: its invented rows make a kitchen, its price book is begun."""

import pytest
from click.testing import CliRunner

from countersunk.model.catalogue.catalogue import load_catalogue
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.stock.catalogue_check import catalogue_check
from countersunk.viewer.commands.catalogue import catalogue


@pytest.fixture
def workshop(tmp_path):
    run = CliRunner().invoke(catalogue, ["new", str(tmp_path / "workshop")])
    assert run.exit_code == 0
    return tmp_path / "workshop"


# A bar of 320 in the middle of 200 from the door's end ends 40 before it.
def test_every_row_of_the_start_goes_into_one_kitchen(workshop):
    units = ({"unit": "own-base-drawer", "width": 550.0}, {"unit": "base-sink", "width": 800.0})
    given = {
        "kitchen": "A first job",
        "room": {"walls": ({"name": "A", "length": 3600.0},)},
        "runs": ({"wall": "A", "units": units},),
        "worktop": {"stock": "own-pf38.635", "decor": "pale-oak"},
        "fronts": {"decor": "own-moss", "style": "own-groove", "handle": "own-bar"},
        "cutouts": ({"template": "own-sink.bowl", "over": "A2"},),
    }
    kitchen = build(Document.model_validate(given), load_catalogue(workshop))
    assert {unit.family.code for unit in kitchen.units} == {"own-base-drawer", "base-sink"}


def test_a_bar_that_would_stand_past_its_door_is_refused_with_what_it_needs(workshop):
    file = workshop / "fronts.yaml"
    file.write_text(file.read_text().replace("from_end: 200", "from_end: 140"))
    with pytest.raises(
        InputError, match=r"fronts.yaml:7: handles\[0\].*a bar 320 long needs from_end: 160 or more"
    ):
        load_catalogue(workshop)


def test_a_price_book_is_begun_once(workshop):
    run = CliRunner().invoke(catalogue, ["prices", str(workshop)])
    assert run.exit_code == 0
    assert "code,description,unit,pack,price,currency,date,tax,supplier" in (workshop / "prices.csv").read_text()
    again = CliRunner().invoke(catalogue, ["prices", str(workshop)])
    assert again.exit_code == 2
    assert "prices.csv already" in again.output
    checked = CliRunner().invoke(catalogue, ["check", str(workshop)]).output
    assert "no price of 'own-hinge' in prices.csv" in checked


def test_a_board_without_its_band_is_told(workshop):
    assert "band.own-ply18" not in " ".join(g for g in catalogue_check(workshop).gaps if g.startswith("no article"))
    file = workshop / "consumables.yaml"
    file.write_text("".join(line for line in file.read_text().splitlines(True) if "band.own-ply18" not in line))
    assert "no article 'band.own-ply18', for edges of that board" in catalogue_check(workshop).gaps
