"""The kitchens of wharf.yaml and lintel.yaml: pipes boxed in, units over an island, a filler to the ceiling."""

from pathlib import Path

import pytest

import countersunk
from countersunk.model.checks.finding import Severity, Verdict
from countersunk.model.geometry.identity import Role

pytestmark = pytest.mark.slow


def opened(name):
    return countersunk.open_kitchen(Path(__file__).with_name(f"{name}.yaml"))


def test_pipes_run_behind_shallower_units_and_units_hang_over_the_island():
    kitchen = opened("wharf")
    assert {round(u.front) for u in kitchen.units if u.family.carries_top and u.name.startswith("A")} == {578}
    missed = [f for f in countersunk.check(kitchen) if f.verdict is not Verdict.MET]
    assert [f.rule for f in missed if f.severity is not Severity.NOTE] == ["hob-behind-on-island"]
    assert "hung-from-ceiling" in {f.rule for f in missed}
    net = {line.quantity.item: line.quantity.net for line in countersunk.take_off(kitchen).materials}
    assert net["hanger.ceiling"] == 8.0


def test_fillers_are_scribed_to_a_ceiling_that_falls_and_a_larder_stands_in_the_corner():
    kitchen = opened("lintel")
    (filler,) = [p for p in kitchen.parts if p.role is Role.CEILING_FILLER]
    assert filler.depth == pytest.approx(2420 - 22 * 40 / 1300 - 2368)
    assert "ceiling-falls" in {f.rule for f in countersunk.check(kitchen) if f.verdict is not Verdict.MET}
    (larder,) = [u for u in kitchen.units if u.family.code == "tall-diagonal"]
    assert larder.wing == 900.0
