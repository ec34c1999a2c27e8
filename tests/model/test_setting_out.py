"""Marks on a length: slots of joins and starter holes."""

from dataclasses import replace

import pytest

from countersunk.model.facts.setting_out import marks
from countersunk.model.geometry.solids import volume
from countersunk.model.kitchen import build
from countersunk.model.tops.slots import MarkKind
from tests.specimens import SOME_DEMOS, cornered, document, open_kitchen


def marks_by_kind(kitchen, length):
    found = marks(kitchen, length)
    return {kind: [m for m in found if m.kind is kind] for kind in MarkKind}


def test_slots_of_a_90_degree_mitre_by_hand():
    # Long side 585: biscuits at 50, 50 + 485/3 = 211.67, 373.33, 535; bolts midway at 130.83, 292.5, 454.17,
    # measured from the shoulder's end, which for the female lies 585 from the corner and 585 from its back.
    kitchen = build(cornered(90.0))
    female = kitchen.length(kitchen.joins[0].female)
    found = marks_by_kind(kitchen, female)
    corner = female.part.outline.bounds[2]
    from_shoulder = [m.centre[0] - (corner - 585.0) for m in found[MarkKind.BISCUIT]]
    assert from_shoulder == pytest.approx([50.0, 211.667, 373.333, 535.0], abs=1e-3)
    from_shoulder = [m.centre[0] - (corner - 585.0) for m in found[MarkKind.BOLT]]
    assert from_shoulder == pytest.approx([130.833, 292.5, 454.167], abs=1e-3)
    assert all(m.outline.bounds[1] == pytest.approx(585.0 - 65.0) for m in found[MarkKind.BOLT])


@pytest.mark.parametrize("female", ["A", "B"])
@pytest.mark.parametrize("angle", [60.0, 88.0, 90.0, 93.0, 150.0])
def test_slots_lie_in_their_length_and_face_each_other(angle, female):
    kitchen = build(cornered(angle, female))
    one, other = (
        {(m.kind, m.number): m for m in marks(kitchen, kitchen.length(id_))}
        for id_ in (kitchen.joins[0].female, kitchen.joins[0].male)
    )
    assert one.keys() == other.keys()
    poses = [kitchen.length(id_).part.pose for id_ in (kitchen.joins[0].female, kitchen.joins[0].male)]
    for name, mark in one.items():
        a, b = poses[0].plan_to_room(mark.outline), poses[1].plan_to_room(other[name].outline)
        assert a.distance(b) == pytest.approx(0.0, abs=1e-6)
        assert a.intersection(b).area < 1e-6
    for length in kitchen.lengths:
        for mark in marks(kitchen, length):
            assert length.part.outline.buffer(1e-6).covers(mark.outline)


def test_slots_keep_clear_of_each_other():
    kitchen = build(cornered(90.0))
    for length in kitchen.lengths:
        found = marks(kitchen, length)
        assert all(a is b or not a.outline.intersects(b.outline) for a in found for b in found)


def test_starter_holes_by_hand():
    # Line 560 x 490, drill 12: centres 10 + 6 inside, so 264 and 229 from the middle.
    kitchen = build(document(cutouts=({"template": "hob.electric-60", "over": "A3"},)))
    holes = marks_by_kind(kitchen, kitchen.lengths[0])[MarkKind.STARTER]
    x, y, _ = kitchen.lengths[0].part.pose.from_room(kitchen.cutouts[0].frame.origin)
    offsets = [(round(m.centre[0] - x, 6), round(m.centre[1] - y, 6)) for m in holes]
    assert offsets == [(-264, -229), (264, -229), (-264, 229), (264, 229)]


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_starter_holes_lie_wholly_inside_their_line(path):
    kitchen = open_kitchen(path)
    lines = {c.id: c.line for c in kitchen.cutouts}
    for length in kitchen.lengths:
        for mark in marks(kitchen, length):
            if mark.kind is MarkKind.STARTER:
                assert lines[mark.of].contains(mark.outline)


def test_a_thin_top_keeps_ten_over_its_slots():
    kitchen = build(cornered(90.0))
    for length in kitchen.lengths:
        for mark in marks_by_kind(kitchen, length)[MarkKind.BOLT]:
            assert mark.high <= length.part.thickness - 10.0


def test_a_butt_has_a_strip_and_no_slots():
    kitchen = build(cornered(90.0, kind="butt", notch=None))
    # Screws from 50 to 550 on the male's end, at most 150 apart: 4 gaps of 125, 5 screws. The female stays whole.
    found = {t.id: marks(kitchen, t) for t in kitchen.lengths}
    assert found[kitchen.joins[0].female] == ()
    assert [m.kind for m in found[kitchen.joins[0].male]] == [MarkKind.SCREW] * 5
    middles = sorted(m.centre[1] for m in found[kitchen.joins[0].male])
    assert middles == pytest.approx([50.0, 175.0, 300.0, 425.0, 550.0])


def test_slots_are_cut_out_of_the_solid():
    # Three bolts: channel 12 x 41 and pocket 40 x 24, 22 deep; four biscuits 56 x 12 x 4. By hand:
    # 3 (492 + 960) 22 + 4 * 2688 = 95832 + 10752 = 106584 mm3.
    for length in build(cornered(90.0)).lengths:
        whole = replace(length.part, pockets=())
        assert volume(whole) - volume(length.part) == pytest.approx(106584.0)


def test_the_strip_fills_the_gap_between_its_two_tops():
    kitchen = build(cornered(91.2, kind="butt", notch=None))
    strip = kitchen.parts_by_mark["J1.strip"]
    assert strip.area == pytest.approx(2.0 * kitchen.joins[0].length, rel=1e-4)
    assert kitchen.parts_behind[kitchen.joins[0].key][-1] is strip
    assert (kitchen.joins[0].bolts, kitchen.joins[0].biscuits) == (0, 0)
