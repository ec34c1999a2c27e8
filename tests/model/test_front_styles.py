"""Styles of fronts and handles: what is cut away, what stands round them, where they are gripped, all by hand.

Sizes of the rows are invented or common practice, no source; what is asked here is that parts follow them.
"""

import pytest

from countersunk.model.errors import InputError
from countersunk.model.facts.faces import fronts
from countersunk.model.geometry import solids
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.to_size import size_lines
from countersunk.takeoff.measuring.registry import measured as shares_of
from countersunk.viewer.drawing.front_sheets import front_sheets
from countersunk.viewer.quoting.words import scope
from countersunk.viewer.scene.openings import openings
from tests.specimens import document

UNITS = (
    {"unit": "base-drawers", "width": 600.0},
    {"unit": "base-doors", "width": 600.0},
    {"unit": "dishwasher", "width": 600.0},
    {"unit": "base-single", "width": 500.0},
    {"unit": "tall-larder", "width": 600.0},
)
RUNS = (
    {"wall": "A", "start": 50.0, "units": UNITS},
    {"wall": "A", "level": "upper", "start": 500.0, "units": ({"unit": "wall-doors", "width": 800.0},)},
)
"""A1 drawers of 144, 288 and 288, A2 doors 720 high, A3 a dishwasher, A4 a drawer of 144 over a door, A5 a tall
unit of 1978, AU1 two doors 720 high. A front is 3 less than its bay both ways, and 18 thick."""


def made(**fields):
    return build(document(runs=RUNS, fronts={"decor": "sage", **fields}))


def volume(kitchen, mark):
    return solids.volume(kitchen.parts_by_mark[mark])


def size(kitchen, mark):
    part = kitchen.parts_by_mark[mark]
    return tuple(sorted((round(part.length, 3), round(part.depth, 3))))


def measured(kitchen):
    """What is measured of each article."""
    return {q.item: q.net for q in estimate(kitchen).quantities}


@pytest.fixture(scope="module", params=["framed", "grooved", "glazed", "face-frame", "face-frame-panel"])
def styled(request):
    return made(style=request.param, handle="cup")


def clashes(kitchen):
    """Pairs of parts of a unit that fill the same place."""
    parts = (kitchen.parts_of[unit.key] for unit in kitchen.units)
    return [(a.mark, b.mark, common) for some in parts for a, b, common in solids.clashes(some) if common > 1.0]


def test_nothing_fills_a_place_twice_in_any_style(styled):
    assert clashes(styled) == []


def test_a_frame_stands_round_a_panel_six_behind_its_face():
    """597 x 717 with 70 round it; a drawer front of 141 has rails of 38, and one too low for these is plain."""
    kitchen = made(style="framed")
    assert volume(kitchen, "A2.door") == pytest.approx(597 * 717 * 18 - (597 - 140) * (717 - 140) * 6)
    assert volume(kitchen, "A1.drawer-front.1") == pytest.approx(597 * 141 * 18 - (597 - 140) * (141 - 76) * 6)
    found = measured(kitchen)
    drawers, doors = 597 * (141 + 285 + 285) + 497 * 141, 597 * 717 * 2 + 497 * 573 + 597 * 1975
    assert found["front.framed"] == pytest.approx((drawers + doors + 2 * 397 * 717) / 1e6)
    (bought,) = (q for q in estimate(kitchen).quantities if q.item == "front.framed")
    assert "2 of 597 × 285 × 18 mm: A1.drawer-front.2, A1.drawer-front.3" in list(size_lines(bought.pieces))
    assert "front18" not in found  # bought to measure, so nothing is sawn, and no edge gets band
    assert "band.front18" not in found


def test_grooves_are_routed_evenly_about_every_80():
    """597 / 80 is nearest to 7 fields, so 6 grooves of 4 x 3 as long as the front is high."""
    kitchen = made(style="grooved")
    assert volume(kitchen, "A2.door") == pytest.approx(597 * 717 * 18 - 6 * 4 * 3 * 717)
    xs = sorted(p.outline.centroid.y for p in kitchen.parts_by_mark["A2.door"].pockets)
    assert xs == pytest.approx([597 * i / 7 for i in range(1, 7)])


def test_doors_of_a_glazed_style_have_panes():
    """A pane of 4 within stiles and rails of 70."""
    kitchen = made(style="glazed")
    assert size(kitchen, "A2.pane") == (597 - 140, 717 - 140)
    assert measured(kitchen)["glass.4"] > measured(made(upper_style="glazed"))["glass.4"] > 0


def test_fronts_stand_within_a_face_frame():
    """A frame of 38 and a gap of 2: 600 - 76 - 4 wide; between two drawers the rail takes half of either bay."""
    kitchen = made(style="face-frame")
    assert size(kitchen, "A2.door") == (520, 720 - 76 - 4)
    heights = [144 - 38 - 19 - 4, 288 - 38 - 4, 288 - 19 - 38 - 4]
    assert [size(kitchen, f"A1.drawer-front.{i}")[0] for i in (1, 2, 3)] == heights
    frames = [p for p in kitchen.parts if p.role is Role.FACE_FRAME and p.called == "A1"]
    assert sorted((p.length, p.depth) for p in frames) == [*[(600 - 76, 38)] * 4, *[(720, 38)] * 2]
    assert not [p for p in kitchen.parts if p.role is Role.FACE_FRAME and p.called == "A3"]  # a dishwasher's hangs
    box = [p for p in kitchen.parts if p.role is Role.DRAWER and p.called == "A1"]
    x = [solids.bounds(p) for p in box]
    assert max(b[3] for b in x) - min(b[0] for b in x) == pytest.approx(600 - 2 * (38 + 13))
    # rails: 4, 2, 3, 2 in A5 and 2 in AU1, two biscuits at each
    assert measured(kitchen)["biscuit.20"] == 2 * (4 + 2 + 3 + 2 + 2)
    assert not {kitchen.parts_by_id[id_].role for id_ in openings(kitchen)} & {Role.FACE_FRAME}


def test_what_is_pulled_out_stands_under_the_profile_of_a_front_set_in_a_frame():
    """The head of the front is at 830, so the profile begins at 810; the mast came up to 852 - 40 = 812."""
    units = ({"unit": "base-pull-out", "width": 300.0}, {"unit": "base-doors", "width": 600.0})
    fronts_ = {"decor": "sage", "style": "face-frame", "handle": "channel"}
    kitchen = build(document(runs=({"wall": "A", "start": 50.0, "units": units},), fronts=fronts_))
    assert solids.clashes(kitchen.parts) == []
    (mast,) = (p for p in kitchen.parts if p.mark == "A1.pull-out.frame")
    assert mast.mesh().bounds[1][2] == pytest.approx(810.0)


def test_a_channel_takes_32_off_every_front_under_a_top():
    """A profile of 54 x 25 is let into the sides; wall units and tall units open by a push."""
    kitchen = made(handle="channel")
    assert size(kitchen, "A2.door") == (597, 717 - 32)
    assert size(kitchen, "A3.door") == (597, 717 - 32)
    assert [size(kitchen, f"A1.drawer-front.{i}")[0] for i in (1, 2, 3)] == [141 - 32, 285 - 32, 285 - 32]
    assert volume(kitchen, "A1.side.left") == pytest.approx(18 * (720 * 550 - 3 * 54 * 25))
    assert size(kitchen, "A5.door") == (597, 1975)
    assert clashes(kitchen) == []
    found = measured(kitchen)
    # 3 in A1, one each in A2 and A3, 2 in A4, each 10 longer to be cut square
    assert found["profile.grip"] == pytest.approx((5 * 600 + 2 * 500 + 7 * 10) / 1000)
    assert found["catch.push"] == 1 + 2
    assert not [item for item in found if item.startswith("handle")]


@pytest.mark.parametrize(
    ("handle", "mark", "holes"),
    [
        ("bar", "A2.door", [(597 + 1.5 - 40, 717 + 1.5 - 140 - 64), (597 + 1.5 - 40, 717 + 1.5 - 140 + 64)]),
        ("knob", "A2.door", [(597 + 1.5 - 40, 717 + 1.5 - 70)]),
        ("cup", "A1.drawer-front.1", [(298.5 - 32, 141 + 1.5 - 50), (298.5 + 32, 141 + 1.5 - 50)]),
        ("knob", "AU1.door.right", [(40 - 1.5, 70 - 1.5)]),
        ("edge", "A2.door", []),
    ],
)
def test_where_a_handle_is_drilled(handle, mark, holes):
    """From the left and the lower edge as one faces the front, which is 1.5 less than its bay on either side."""
    (front,) = [f for f in fronts(made(handle=handle)) if f.part.mark == mark]
    assert sorted(front.holes) == [pytest.approx(hole) for hole in sorted(holes)]


def test_the_sheet_of_fronts_names_every_front_once():
    kitchen = made(style="framed", handle="knob")
    words = " ".join(
        m.words for s in front_sheets(kitchen) for v in s.views for m in v.marks if hasattr(m, "words")
    )
    for front in fronts(kitchen):
        assert words.count(front.part.mark) == 1
    assert "2 of 597 x 285" in words


@pytest.mark.parametrize(
    ("fields", "field", "advice"),
    [({"style": "framd"}, "fronts.style", "'framed'"), ({"tall_handle": "knop"}, "fronts.tall_handle", "'knob'")],
)
def test_what_the_catalogue_does_not_have_is_refused(fields, field, advice):
    with pytest.raises(InputError) as caught:
        made(**fields)
    assert [(p.field, p.advice) for p in caught.value.problems] == [(field, advice)]


def test_doors_set_in_a_frame_hang_on_hinges_of_their_own():
    # A2 and A4 have one and a single door, AU1 two and A5 one; the dishwasher carries its own.
    plain, framed = measured(made()), measured(made(style="face-frame"))
    assert framed["hinge.inset"] == plain["hinge"]
    assert "hinge" not in framed


def test_bottoms_of_wall_units_are_of_front_board_where_that_is_asked_for():
    kitchen = made(bottoms="fronts")
    bottoms = {p.called: p.material for p in kitchen.parts if p.role is Role.BOTTOM}
    assert (bottoms["AU1"], bottoms["A2"]) == ("front18", "pb18")
    [bottom] = [p for p in kitchen.parts if p.role is Role.BOTTOM and p.called == "AU1"]
    assert kitchen.decor_of(bottom) == "sage"


def test_bought_fronts_weigh_what_their_style_says():
    # A2's door is 597 by 717 by 18 of 700 kg/m³.
    kitchen = made(style="framed")
    shares = {kitchen.marks[share.id]: share.amount for share in shares_of(kitchen)["front-mass"]}
    assert shares["A2.door"] == pytest.approx(0.597 * 0.717 * 0.018 * 700)


def test_a_grip_profile_has_caps_where_it_meets_no_other():
    # A1 has three profiles, A2 beside it one at the height of the uppermost, A3 one more, A4 two.
    kitchen = made(handle="channel")
    shares = shares_of(kitchen)["profile-caps"]
    assert {share.key for share in shares} == {"cap.grip"}
    low = [p for p in kitchen.parts if p.role is Role.PROFILE and p.called == "A1"]
    own = {share.id: share.amount for share in shares}
    assert [own.get(p.id, 0) for p in low] == [1, 2, 2]


def test_the_quote_names_style_and_handle():
    lines = scope(made(style="framed", handle="cup"))["Fronts and handles"]
    assert "Made as frame and panel; gripped by cup handle 96" in lines
