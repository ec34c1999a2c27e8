"""What the ordinary kitchens of many fronts are there to show: colours, styles, handles, sides, face frames."""

from collections import Counter
from pathlib import Path

import pytest

import countersunk
from countersunk.model.geometry.identity import FACES, Component, Role

pytestmark = pytest.mark.slow


def kitchen(name):
    return countersunk.open_kitchen(Path(__file__).with_name(f"{name}.yaml"))


def test_poppy_row_is_in_two_colours_with_cups_on_drawers_and_knobs_on_doors():
    poppy = kitchen("poppy")
    handles = Counter((p.which.grips, p.material) for p in poppy.parts if p.role is Role.HANDLE)
    assert handles[Role.DRAWER, "handle.cup"] == 9
    assert (
        handles[Role.DOOR, "handle.knob"] == 7
    )  # A2, A4, A5, B2, B3 and two wall units; the corner's leaf has one
    levels = {u.key: u.family.level == "upper" or u.is_tall for u in poppy.units}
    fronts = {(levels[p.owner], poppy.decor_of(p)) for p in poppy.parts if p.role in FACES}
    assert fronts == {(True, "chalk"), (False, "dusk-blue")}
    sides = {poppy.decor_of(p) for p in poppy.parts if p.role is Role.SIDE}
    assert sides == {"", "chalk", "dusk-blue"}


def test_reed_wharf_has_no_handle_and_its_tall_units_in_wood():
    reed = kitchen("reed")
    assert not [p for p in reed.parts if p.role is Role.HANDLE]
    profiles = [p for p in reed.parts if p.role is Role.PROFILE]
    assert Counter(p.called for p in profiles) == {"A5": 3, "A6": 1, "A7": 1, "A8": 1, "A9": 2}
    wood = [p for p in reed.parts if p.role in FACES and reed.decor_of(p) == "tarn-walnut"]
    assert {abs(round(p.pose.x[2])) for p in wood} == {1}  # all of them are sawn upright
    assert {p.called for p in wood} == {"A2", "A3", "A4"}


def test_harrow_barn_has_its_doors_within_face_frames_under_a_cornice():
    harrow = kitchen("harrow")
    framed = {p.called for p in harrow.parts if p.role is Role.FACE_FRAME}
    assert framed == {u.name for u in harrow.units if u.family.kind.is_unit}
    rails = [p for p in harrow.parts if p.role is Role.FACE_FRAME and p.which.component is Component.RAIL]
    assert {p.depth for p in rails} == {38.0}
    assert {Role.CORNICE, Role.PELMET} <= {p.role for p in harrow.parts}
