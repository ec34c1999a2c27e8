"""Cut-outs: of every kind, from the catalogue or from plain numbers, and what is refused."""

import itertools
import math

import pytest
from shapely import box

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.errors import InputError
from countersunk.model.facts.setting_out import marks, starter_inset
from countersunk.model.geometry.profile import rounded_rectangle
from countersunk.model.kitchen import build
from countersunk.model.tops.slots import MarkKind
from tests.specimens import document

pytestmark = pytest.mark.quick

SOLID = {"stock": "solid30.650", "decor": "pale-oak", "overhang": {"front": 20.0, "ends": 10.0}}


def cut(*cutouts, **changes):
    return build(document(cutouts=cutouts, **changes))


def test_plain_numbers_are_cut_as_they_are_typed():
    # A3 runs from 1500 to 2100 along the wall, the top begins at 490; the line is 60 behind the front edge at 600.
    kitchen = cut({"kind": "hob", "line": (550.0, 480.0), "radius": 8.0, "over": "A3"})
    (placed,) = kitchen.cutouts
    assert placed.line.bounds == pytest.approx((1310.0 - 275.0, 60.0, 1310.0 + 275.0, 540.0))
    assert placed.rim.bounds == pytest.approx((1025.0, 50.0, 1595.0, 550.0))  # 10 past the line all round
    taken = kitchen.lengths[0].part
    assert 1620.0 * 600.0 - taken.area == pytest.approx(550.0 * 480.0 - (4 - math.pi) * 64.0, rel=1e-5)


@pytest.mark.parametrize("radius", [0.0, 10.0, 60.0])
def test_what_hangs_below_a_hob_goes_through_a_line_with_round_corners(radius):
    # A body with sharp corners would need them: at a radius of 12 it stood in the top.
    kitchen = cut({"kind": "hob", "line": (550.0, 480.0), "radius": radius, "over": "A3"})
    body = kitchen.parts_by_mark["hob.body"]
    assert body.area == pytest.approx(544.0 * 474.0 - (4 - math.pi) * max(0.0, radius - 3.0) ** 2, rel=1e-3)


def test_a_rims_size_is_refused_with_the_line_that_it_would_leave():
    # A unit of 600 with sides of 18 leaves 564 inside; 590 x 520 is the size of a 60 hob's rim.
    with pytest.raises(InputError, match=r"leaves 564 x 560 inside; .* can only be the rim's: .* about 570 x 500"):
        cut({"kind": "hob", "line": (590.0, 520.0), "over": "A3"})


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        ({"kind": "sink", "line": (400.0, 400.0), "radius": 250.0}, r"radius: found 250 .*at most 200"),
        ({"kind": "sink", "line": (400.0, 400.0), "rim": (390.0, 420.0)}, r"rim: .*larger than the line"),
        ({"kind": "sink"}, r"no template, and no line"),
        ({"line": (400.0, 400.0)}, r"no template, and no kind"),
        ({"template": "sink.one-bowl", "kind": "sink"}, r"found a template beside it"),
        ({"template": "sink.one-bowl", "from_front": 60.0, "from_back": 60.0}, r"found from_front too"),
        ({"template": "sink.under"}, r"leaves the core of pf38.600 bare to water; .*compact or solid"),
    ],
)
def test_what_cannot_be_cut_is_refused(wish, words):
    with pytest.raises(InputError, match=words):
        cut({"over": "A2", **wish})


def test_an_undermounted_sink_hangs_below_its_line():
    kitchen = cut({"template": "sink.under", "over": "A2"}, worktop=SOLID)
    parts = {p.mark: p for p in kitchen.parts if p.called == "sink"}
    top = kitchen.lengths[0].part
    under = top.pose.origin[2]
    assert parts["sink.rim"].pose.origin[2] + parts["sink.rim"].thickness == pytest.approx(under)
    line = kitchen.cutouts[0].line_in_room
    assert parts["sink.bowl"].pose.plan_to_room(box(*parts["sink.bowl"].outline.bounds)).buffer(1e-6).covers(line)


def test_tap_switch_and_socket_each_have_a_hole_of_their_own():
    kitchen = cut(
        {"template": "tap.hole", "over": "A2"},
        {"template": "switch.air", "over": "A2", "shift": 120.0},
        {"template": "socket.pop-up", "over": "A1"},
    )
    assert [c.name for c in kitchen.cutouts] == ["tap", "switch", "socket"]
    # From the back: 40 to the tap's hole of 35, so its middle lies 57.5 from the back edge.
    assert kitchen.cutouts[0].line.centroid.y == pytest.approx(57.5)
    assert kitchen.cutouts[0].line.area == pytest.approx(math.pi * 17.5**2, rel=2e-3)


@pytest.mark.parametrize("template", sorted(default_catalogue().templates))
def test_starter_holes_lie_wholly_inside_every_line(template):
    unit = {"unit": "base-hob" if template.startswith("hob") else "base-sink", "width": 900.0}
    deep = {"from_front": 100.0} if template.startswith("downdraft") else {}
    kitchen = cut(
        {"template": template, "over": "A1", **deep},
        worktop=SOLID,
        runs=({"wall": "A", "start": 500.0, "units": (unit,)},),
    )
    holes = [m for m in marks(kitchen, kitchen.lengths[0]) if m.kind is MarkKind.STARTER]
    line, small_and_round = kitchen.cutouts[0].line, template.startswith(("tap", "switch", "socket"))
    assert bool(holes) is not small_and_round
    assert all(line.contains(m.outline) for m in holes)


def test_a_hole_saw_cuts_a_small_round_hole_and_needs_no_starter_hole():
    kitchen = cut({"template": "tap.hole", "over": "A2"})
    (hole,) = marks(kitchen, kitchen.lengths[0])
    assert (hole.kind, hole.centre) == (MarkKind.HOLE, pytest.approx(kitchen.cutouts[0].line.centroid.coords[0]))
    assert kitchen.cutouts[0].template.diameter == 35.0
    oblong = cut({"kind": "tap", "line": (35.0, 60.0), "radius": 17.5, "over": "A2"})
    assert {m.kind for m in marks(oblong, oblong.lengths[0])} == {MarkKind.STARTER}


def test_a_starter_hole_moves_in_from_a_large_corner():
    # Radius 100: i = 100 - (100 - 7) / √2 = 34.24 from both sides; √2 (100 - 34.24) + 6 = 99 < 100 from the centre.
    assert starter_inset(20.0) == 16.0
    assert starter_inset(100.0) == pytest.approx(34.2391, abs=1e-3)
    assert math.sqrt(2) * (100.0 - starter_inset(100.0)) + 6.0 == pytest.approx(99.0)


def test_a_round_line_has_no_point_twice():
    points = list(rounded_rectangle(35.0, 35.0, 17.5).exterior.coords)
    assert min(math.dist(a, b) for a, b in itertools.pairwise(points)) > 0.1
