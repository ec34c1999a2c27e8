"""What an earlier version could read still opens, with the same geometry, findings and totals."""

import json
from functools import cache

import pytest

from tests.lanes import some
from tests.opens import FOLDER, RESULTS, VERSIONS, kept
from tests.opens.results import differences, read_table, results

DEMOS = [(version, path.stem) for version in VERSIONS for path in sorted((FOLDER / version).glob("*.yaml"))]
LOTS = [(version, name) for version in VERSIONS for name in kept(version) if (version, name) not in DEMOS]

files = cache(kept)
tables = cache(lambda version: read_table(FOLDER / version / RESULTS))


@cache
def known(version):
    """Every row that the version had for any kitchen."""
    return {row for found in tables(version).values() for row in found}


@pytest.mark.parametrize(("version", "name"), [*some(DEMOS, 4), *some(LOTS, 40)])
def test_a_file_of_an_earlier_version_comes_to_the_same(version, name):
    """A rule that is newer than the version says nothing of what that version found."""
    found = results(files(version)[name], name)
    of_then = {row: cell for row, cell in found.items() if row in known(version) or not row.startswith("rule ")}
    assert list(differences(tables(version)[name], of_then)) == []


@pytest.mark.parametrize("version", VERSIONS)
def test_every_file_that_is_kept_has_results(version):
    assert list(tables(version)) == list(files(version))
    assert len(files(version)) >= 212
    for found in tables(version).values():
        assert {row.split()[0] for row in found} == {"part", "rule", "order", "money"}


def test_what_differs_is_named():
    """A wall unit hangs 5 mm further left: all of its parts are named, and nothing else is."""
    document = json.loads(files("0.1.0")["rectangles 0"])
    (unit,) = document["runs"][1]["units"]
    assert unit["unit"] == "wall-glazed"
    document["runs"][1]["start"] -= 5
    now = results(json.dumps(document).encode(), "moved")
    found = differences(
        tables("0.1.0")["rectangles 0"], {row: cell for row, cell in now.items() if row in known("0.1.0")}
    )
    kinds = {"back", "bottom", "cornice", "door", "frame", "handle", "pane", "shelf", "side", "top"}
    assert {tuple(text.split()[:2]) for text in found} == {("part", kind) for kind in kinds}


@pytest.mark.parametrize(
    ("was", "is_", "alike"),
    [
        ({"rule hob 50": "45 60.1"}, {"rule hob 50": "45 60.2"}, True),  # a tenth, as rounding may have it
        ({"rule hob 50": "45 60.1"}, {"rule hob 50": "45 60.4"}, False),
        ({"rule hob 50": "!50"}, {"rule hob 50": "50"}, False),
        ({"rule hob 50": "?"}, {"rule hob 50": "50"}, False),
        ({"rule hob 50": "45 60"}, {"rule hob 50": "45"}, False),
        ({"rule hob 50": "45"}, {}, False),
        ({}, {"rule hob 50": "45"}, False),
        ({"order hinge": "10"}, {"order hinge": "12"}, False),
        ({"money gross": "5064.13"}, {"money gross": "5064.14"}, False),
        ({"part door front18": "2 5248.600 17.3730"}, {"part door front18": "2 5248.601 17.3731"}, True),
        ({"part door front18": "2 5248.600 17.3730"}, {"part door front18": "2 5248.600 17.3930"}, False),
    ],
)
def test_what_counts_as_a_difference(was, is_, alike):
    assert (list(differences(was, is_)) == []) == alike
