"""A stove, meters and an inward sash beside a kitchen under a roof, worked by hand."""

import math
import re
from pathlib import Path

import pytest
import trimesh
from shapely import box

from countersunk.model.checks import check
from countersunk.model.document.schema import Room
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.kitchen import open_kitchen
from countersunk.model.survey import survey_room
from countersunk.viewer.scene.room import room_items
from tests.specimens import SQUARE_ROOM


@pytest.fixture(scope="module")
def kitchen():
    return open_kitchen(Path(__file__).parent / "garret.yaml")


# The tall panel on wall B ends 620 + 50 + 600 + 900 + 400 + 600 + 18 = 3188 along it, 612 before wall C, and stands
# 580 out; the stove is 450 deep and begins 1450 along wall C. The meters stand on either side of the room's corner
# C-D: from 2600 on along C, 4400 long, and from 350 on along D.
def test_what_stands_nearby_is_said_with_its_distance(kitchen):
    near = {f.rule: f.value for f in check(kitchen) if f.rule in ("stove-to-units", "gas-meter-to-electricity")}
    assert near["stove-to-units"] == pytest.approx(math.hypot(1450 - 580, 612 - 450), abs=0.05)
    aside, out = 4400 - 2600 - 200, 350 - 150
    assert near["gas-meter-to-electricity"] == pytest.approx(math.hypot(aside, out), abs=0.05)


# The gas meter ends 350 + 250 = 600 along wall D, 400 before the hinges of the sash; no unit stands near it.
def test_the_sash_swings_free_and_the_round_door_opens(kitchen):
    free = {f.rule: f.value for f in check(kitchen) if f.rule in ("sash-opens", "machine-opens")}
    assert free["sash-opens"] == 400.0
    assert free["machine-opens"] > 0.0


def test_a_stove_has_its_pane_and_its_flue_up_to_the_ceiling(kitchen):
    drawn = {item.id: item for item in room_items(kitchen, math.inf)}
    flue = drawn["room.stove.1.flue"].points
    assert (flue[:, 2].min(), flue[:, 2].max()) == (850.0, 2500.0)
    assert drawn["room.stove.1.glass"].points[:, 2].max() < 850


# The slope rises 1200 over 1300, so a ceiling of 2400 is level for 1300·1100/1200 = 1191.7 off the wall.
def test_a_dormer_is_as_high_as_it_is_said_and_lower_beside(kitchen):
    room = kitchen.survey
    (dormer,) = room.dormers
    assert dormer.out == pytest.approx(1300 * 1100 / 1200)
    frame = room.wall("A").frame

    def ceiling(x0, x1):
        return room.ceiling_over(frame.plan_to_room(box(x0, 0.0, x1, 300.0)))

    assert (ceiling(1500, 3000), ceiling(1000, 1300), ceiling(1300, 1600)) == (2400, 1300, 1300)
    assert room.face(room.wall("A")).area == pytest.approx(4400 * 1300 + 1800 * 1100, rel=1e-4)
    assert sum(slope.length for slope in room.slopes) == pytest.approx(4400)


# Along the slope of √(1200² + 1300²) a window from 1450 to 2150 takes 700 of 1200.
def test_a_roof_window_is_a_hole_in_the_ceiling_with_a_pane(kitchen):
    drawn = {item.id: item for item in room_items(kitchen, math.inf)}
    points = drawn["room.slopes[0].windows[0].frame"].points
    proud = 60 * 1300 / math.hypot(1200, 1300)
    assert (points[:, 2].min(), points[:, 2].max()) == pytest.approx((1450, 2150 + proud))
    sheets = [drawn[f"room.slope.{i}"] for i in (1, 2, 3)]
    volume = [abs(trimesh.Trimesh(s.points, s.surface.faces).volume) for s in sheets]
    up = math.hypot(1200, 1300)
    assert volume[0] == pytest.approx(12 * (1400 * up - 780 * up * 700 / 1200))


def test_a_mirrored_roof_has_its_windows_at_the_other_end(kitchen):
    (slope,) = mirrored(kitchen.document).room.slopes
    assert [window.at for window in slope.windows] == [4400 - 300 - 780, 4400 - 3500 - 660]
    assert [dormer.at for dormer in slope.dormers] == [4400 - 1400 - 1800]


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"windows": ({"at": 0.0, "width": 600.0, "sill": 1100.0, "head": 2000.0},)}, "windows[0].head"),
        ({"dormers": ({"at": 500.0, "width": 900.0, "height": 1200.0},)}, "dormers[0].height"),
        ({"dormers": ({"at": 500.0, "width": 900.0}, {"at": 1000.0, "width": 900.0})}, "dormers[0].at"),
        ({"dormers": ({"at": 2500.0, "width": 900.0},)}, "dormers[0].width"),
    ],
)
def test_what_is_not_in_the_roof_is_refused(more, field):
    slope = {"wall": "C", "eaves": 1300.0, "run": 1000.0, **more}
    with pytest.raises(InputError, match=re.escape(f"room.slopes[0].{field}")):
        survey_room(Room(walls=SQUARE_ROOM, slopes=(slope,)))
