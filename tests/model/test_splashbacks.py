"""Splashbacks: the zone of a wall that they cover, its openings, panels and set-out of tiles, by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, union_all
from shapely import box as rectangle

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.document.schema import Room, Run, Splashback
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.tops.splashbacks import set_out
from countersunk.takeoff.measuring import splashes
from countersunk.takeoff.measuring.rules import default_rules
from tests.lanes import tries
from tests.specimens import SQUARE_ROOM, document

FACE = 150.0 + 720.0 + 38.0


def made(*wishes, room=None):
    plain = document()
    more = {} if room is None else {"room": Room.model_validate({"walls": SQUARE_ROOM, **room})}
    covers = tuple(Splashback(wall="A", **wish) for wish in wishes)
    return build(plain.model_copy(update={"splashbacks": covers, **more}))


def test_a_full_height_zone_goes_from_the_top_to_the_ceiling():
    """The top is 1620 long; a socket takes a disc of 68 out of it."""
    socket = {"services": ({"kind": "socket", "wall": "A", "at": 1800.0, "height": 1200.0},)}
    (zone,) = made({"zone": "full-height", "material": "panel.10"}, room=socket).splashbacks
    x0, y0, x1, y1 = zone.zone.bounds
    assert (x1 - x0, y0, y1) == pytest.approx((1620.0, FACE, 2400.0))
    assert zone.openings.area == pytest.approx(3.1416 * 34.0**2, rel=2e-3)
    # 1492 high is more than the 1220 of a panel that lies: it stands, 1620 wide in two of 810.
    assert [(p.length, p.depth) for p in zone.parts] == [pytest.approx((810.0, 1492.0))] * 2


def test_tiles_from_the_left_and_from_the_centre():
    """900 by 1492 with tiles 200 x 100 and joints of 2: five columns (4 x 202 = 808, 92 left) and fifteen rows, the
    last of 64 (14 x 102 = 1428). From the centre a joint in the middle leaves 450 - 1 = 449: two tiles and a cut of
    449 - 404 = 45; a tile in the middle leaves 350: one tile, and 350 - 204 = 146, which is wider.
    """
    typed = {"zone": "full-height", "material": "tile.200x100"}
    x0 = made(typed).splashbacks[0].zone.bounds[0]
    (left,) = made({**typed, "start": x0, "end": x0 + 900.0, "datum": "left"}).splashbacks
    assert len(left.tiles) == 5 * 15
    assert sum(t.whole for t in left.tiles) == 4 * 14
    assert min(t.size[0] for t in left.tiles) == pytest.approx(92.0)
    (centre,) = made({**typed, "start": x0, "end": x0 + 900.0}).splashbacks
    assert min(t.size[0] for t in centre.tiles) == pytest.approx(146.0)
    assert centre.slivers == ()


def test_3_6_by_0_6_metres_take_twelve_tiles_of_600_by_300():
    """Joints ignored; 13.2 with a tenth for waste, so 14 (common practice, no source)."""
    stock = default_catalogue().splashbacks["tile.600x300"].model_copy(update={"joint": 0.0})
    wish = Splashback(wall="A", zone="full-height", material=stock.code, datum="left")
    area = rectangle(0.0, 0.0, 3600.0, 600.0)
    tiles = set_out(area, area.bounds, stock, wish)
    assert [tile.whole for tile in tiles] == [True] * 12
    (rule,) = (rule for rule in default_rules().rules if rule.id == "splash-tiles")
    assert math.ceil(len(tiles) * (1 + rule.allowance)) == 14


@pytest.mark.parametrize(
    ("size", "thickness", "joint", "kilograms"),
    [((300.0, 300.0), 10.0, 2.0, 0.213), ((200.0, 100.0), 7.0, 2.0, 1.34 / 4), ((150.0, 75.0), 8.0, 2.0, 0.512)],
)
def test_grout_of_a_square_metre(size, thickness, joint, kilograms):
    """The formula of makers of grout (quoted): 5 kg do 23.4 m² of 300 x 300 x 10, where a seller says 23 to 24."""
    stock = default_catalogue().splashbacks["tile.200x100"]
    like = stock.model_copy(update={"size": size, "thickness": thickness, "joint": joint})
    assert splashes.grout_per_area(like) == pytest.approx(kilograms, abs=2e-3)


def test_what_was_listed_before_is_left_out_and_nothing_twice():
    first = {"zone": "full-height", "material": "pane.6", "end": 2000.0}
    one, two = made(first, {"zone": "full-height", "material": "tile.150x75"}).splashbacks
    assert one.zone.intersection(two.zone).area == pytest.approx(0.0)
    (whole,) = made({"zone": "full-height", "material": "panel.10"}).splashbacks
    assert one.zone.area + two.zone.area == pytest.approx(whole.zone.area)
    with pytest.raises(InputError, match="nothing of the wall"):
        made(first, first)


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        ({"zone": "to-hood", "material": "pane.6"}, "hood"),
        ({"zone": "below-wall-units", "material": "pane.6"}, "wall unit"),
        ({"zone": "full-height", "material": "marble"}, "marble"),
        ({"zone": "full-height", "material": "pane.6", "start": 2000.0, "end": 1500.0}, "start"),
    ],
)
def test_what_has_nothing_to_end_at_is_refused(wish, words):
    with pytest.raises(InputError, match=words):
        made(wish)


@settings(max_examples=tries(12), deadline=None)
@given(
    at=st.floats(0.0, 2_000.0), width=st.floats(200.0, 1_000.0), sill=st.floats(900.0, 1_500.0),
    sockets=st.lists(st.tuples(st.floats(0.0, 3_000.0), st.floats(900.0, 2_300.0)), max_size=4),
    material=st.sampled_from(["pane.6", "panel.10", "tile.200x100"]),
)  # fmt: skip
def test_pieces_and_openings_are_the_zone(at, width, sill, sockets, material):
    """By the pieces that are made, which the zone's own difference does not see."""
    room = {
        "openings": ({"kind": "window", "wall": "A", "at": at, "width": width, "sill": sill, "head": 2_000.0},),
        "services": tuple({"kind": "socket", "wall": "A", "at": x, "height": z} for x, z in sockets),
    }
    kitchen = made({"zone": "full-height", "material": material}, room=room)
    (zone,) = kitchen.splashbacks
    pieces = [zone.on_wall(part) for part in zone.parts]
    assert sum(p.area for p in pieces) + zone.openings.area == pytest.approx(zone.zone.area, abs=1.0)
    assert union_all([*pieces, zone.openings]).symmetric_difference(zone.zone).area < 1.0
    assert all(min(p.length, p.depth) <= min(zone.stock.size) + 0.1 for p in zone.parts) or zone.is_tiled


def test_the_mirror_has_the_same_pieces():
    kitchen = made({"zone": "full-height", "material": "tile.200x100", "end": 2200.0, "datum": "left"})
    other = build(mirrored(kitchen.document))
    (one,), (two,) = kitchen.splashbacks, other.splashbacks
    assert sorted(t.size for t in one.tiles) == [pytest.approx(size) for size in sorted(t.size for t in two.tiles)]


def test_a_zone_goes_on_beside_the_chimney_of_a_hood():
    """A hood of 600 has a canopy all along it and a chimney above; the wall beside that is covered."""
    plain = document()
    hood = {"wall": "A", "level": "upper", "start": 1500.0, "units": ({"unit": "hood", "width": 600.0},)}
    runs = (*plain.runs, Run.model_validate(hood))
    cover = Splashback(wall="A", zone="full-height", material="tile.200x100")
    kitchen = build(plain.model_copy(update={"runs": runs, "splashbacks": (cover,)}))
    (zone,) = kitchen.splashbacks
    parts = [p for p in kitchen.parts if p.owner == kitchen.units[-1].key]
    seen = sum(p.length * p.thickness for p in parts)  # as one faces them: each lies flat
    whole = 1620.0 * (2400.0 - FACE)
    assert zone.zone.area == pytest.approx(whole - seen, rel=1e-6)
    assert zone.zone.contains(Point(1520.0, 2000.0))
