"""Every rule is asked of some demo or ordinary kitchen, and some of them meets it.

A rule that no ordinary kitchen meets is likely wrong, and one that none asks is shown by nothing but its own cases.
"""

from pathlib import Path

import pytest

import countersunk
from countersunk.model.checks import default_rules
from countersunk.model.checks.finding import Severity, Verdict
from tests.specimens import DEMOS

ORDINARY = sorted(Path(__file__).parent.glob("*.yaml"))
REGIONS = {"uk": "alder", "eu": "garret", "us": "saltbush", "au-nz": "kowhai"}
"""A kitchen of each region that a good fitter would sign, besides those of `tests/model/test_plain_kitchens.py`."""

MISTAKE = "asked only where somebody made a mistake"
RARE = "asked by its cases alone: no such kitchen is ordinary, or none is here yet"
NOT_ASKED: dict[str, str] = {
    **dict.fromkeys(("worktop-over-shallow-unit", "worktop-over-low-unit", "top-past-survey"), MISTAKE),
    **dict.fromkeys(("hob-over-appliance", "sink-over-appliance", "hob-gas-to-cover"), RARE),
    **dict.fromkeys(("hob-to-oven-shared-landing", "storage-large", "aisle-wheelchair-u-shape"), RARE),
    **dict.fromkeys(("seat-knees-low", "seat-knees-high", "stone-30-back", "reveal-under-sash"), RARE),
    **dict.fromkeys(("lift-clear-above", "glass-holes", "top-engineered-stone"), RARE),
}
"""Rules that none of these kitchens asks, and why."""

SHORT = "a note or an advice that the kitchens here do not follow; its cases meet it"
NOT_MET: dict[str, str] = {
    "storage-small": "1400 in of shelves, as published: more than small rooms hold",
    **dict.fromkeys(
        ("stone-12-gap", "stone-12-back", "stone-20-back", "stud-wall-carries", "ceiling-falls"), SHORT
    ),
    **dict.fromkeys(("hob-to-fridge-shared-landing", "hob-over-oven", "seat-knees-middle"), SHORT),
    "worktop-height-wheelchair": SHORT,
}
"""Rules that none of them meets, and why."""

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def findings():
    return [f for path in (*DEMOS, *ORDINARY) for f in countersunk.check(countersunk.open_kitchen(path))]


def test_every_rule_is_asked_of_some_kitchen(findings):
    rules = {rule.id for rule in default_rules().rules}
    assert rules - {f.rule for f in findings} <= set(NOT_ASKED)


def test_every_rule_that_is_asked_is_met_somewhere(findings):
    met = {f.rule for f in findings if f.verdict is Verdict.MET}
    assert {f.rule for f in findings} - met <= set(NOT_MET)


@pytest.mark.parametrize("name", REGIONS.values())
def test_a_plain_kitchen_of_each_region_is_signed(name):
    found = countersunk.check(countersunk.open_kitchen(Path(__file__).with_name(f"{name}.yaml")))
    missed = [(f.severity, f.rule) for f in found if f.verdict not in (Verdict.MET, Verdict.NOT_MEASURED)]
    assert [rule for severity, rule in missed if severity is Severity.MUST] == []
    assert len([rule for severity, rule in missed if severity is Severity.SHOULD]) <= 2
