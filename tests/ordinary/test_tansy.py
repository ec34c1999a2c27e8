"""What Tansy Bank and Osier Yard are there to show: shelves, lights, a reveal, a round end, a top that moves."""

from collections import Counter
from pathlib import Path

import pytest

import countersunk
from countersunk.model.checks.finding import Verdict
from countersunk.model.geometry.identity import Role

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def tansy():
    return countersunk.open_kitchen(Path(__file__).with_name("tansy.yaml"))


@pytest.fixture(scope="module")
def osier():
    return countersunk.open_kitchen(Path(__file__).with_name("osier.yaml"))


def test_tansy_bank_has_everything_that_hangs_and_its_top_in_the_window(tansy):
    roles = Counter(part.role for part in tansy.parts)
    kinds = (Role.FLOATING, Role.TAMBOUR, Role.PLATE_RACK, Role.BIN, Role.LIGHT, Role.DRIVER, Role.REVEAL)
    assert [roles[role] for role in kinds] == [2, 1, 2, 2, 2, 2, 1]
    missed = {f.rule for f in countersunk.check(tansy) if f.verdict in (Verdict.NOT_MET, Verdict.SHORT)}
    assert missed == {"shelf-brackets-carry"}  # they are screwed to a wall of studs
    lines = {line.quantity.item for line in countersunk.take_off(tansy).materials}
    assert {"shelf.40", "tambour", "rack.plates", "bin", "driver.15", "infill.38", "bracket.shelf"} <= lines


def test_osier_yard_has_a_round_end_arms_caps_and_a_top_that_moves(osier):
    roles = Counter(part.role for part in osier.parts)
    assert (roles[Role.POST], roles[Role.LIFT]) == (1, 1)
    assert roles[Role.ARM] >= 3
    [socket] = [p for p in osier.parts if p.role is Role.UPSTAND]
    assert len(socket.outline.interiors) == 2
    lines = {line.quantity.item for line in countersunk.take_off(osier).materials}
    assert {"arm.240", "post.870", "frame.lift", "cap.grip", "hinge"} <= lines
    assert [length.moves for length in osier.lengths].count(True) == 1
