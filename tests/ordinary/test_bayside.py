"""A corner of 135°: tops joined on the bisector, straight units with fillers on either side, a sink beside it."""

import math
from pathlib import Path

import pytest

from countersunk.model.checks import check
from countersunk.model.checks.finding import Verdict
from countersunk.model.facts.bends import bends
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import open_kitchen


@pytest.fixture(scope="module")
def kitchen():
    return open_kitchen(Path(__file__).parent / "bayside.yaml")


# Fronts 580 off walls that bend by 45° meet 580·tan(22.5°) = 240.24 before the corner; the fillers end at 240.3.
# The joint goes from the front edges, 600 off, to the corner: 600/cos(22.5°) = 649.43 long.
def test_straight_units_and_a_sink_follow_the_bend(kitchen):
    (join,) = kitchen.joins
    assert (join.kind, join.shoulder_angle) == ("full mitre", 67.5)
    assert join.length == pytest.approx(600 / math.cos(math.radians(22.5)), abs=0.01)
    (bend,) = bends(kitchen)
    beyond = 240.3 - 580 * math.tan(math.radians(22.5))
    assert bend.behind == pytest.approx(beyond, abs=1e-6)
    assert bend.gap < 1.0
    (sink,) = (c for c in kitchen.cutouts if c.template.kind == "sink")
    # The line, 840 wide, ends 410.3 before the corner of the room and 540 off the wall, with corners of 20.
    lean = math.radians(22.5)
    square = 410.3 * math.cos(lean) - 540 * math.sin(lean)
    away = square + 20 * (math.cos(lean) + math.sin(lean) - 1)
    assert join.line.distance(sink.line_in_room) == pytest.approx(away, abs=0.1)


def test_the_bend_is_closed_by_the_fillers(kitchen):
    (finding,) = (f for f in check(kitchen) if f.rule == "open-bend")
    assert finding.verdict is Verdict.MET


# Plinths stand 50 behind the fronts, 530 off the walls, and meet 530·tan(22.5°) = 219.53 before the corner, 20.77
# past either row, which end 240.3 before it.
def test_the_plinths_meet_in_the_bend(kitchen):
    one, other = (p for p in kitchen.parts if p.role is Role.PLINTH)
    meet = 530 * math.tan(math.radians(22.5))
    assert one.length == pytest.approx(600 + 600 + 1000 + 50 + (240.3 - meet), abs=0.01)
    assert other.length == pytest.approx(50 + 1000 + 600 + 600 + (240.3 - meet), abs=0.01)
    ends = one.pose.to_room((one.length, 0.0, one.thickness))[:2], other.pose.to_room((0.0, 0.0, one.thickness))[:2]
    assert math.dist(*ends) < 0.01
