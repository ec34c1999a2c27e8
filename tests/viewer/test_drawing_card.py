"""The cutting-and-fitting card: the right order, this kitchen's numbers, cautions where they matter."""

import pytest

from countersunk.model.checks.lifting import people
from countersunk.model.checks.things import of_length
from countersunk.model.kitchen import build
from countersunk.takeoff.plans.cut_plans import cut_plans
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.card_fitting import raw_lengths
from countersunk.viewer.drawing.handling import handling
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.piece_sheets import length_sheets
from countersunk.viewer.drawing.spacing import spread
from tests.specimens import DEMOS, SOME_DEMOS, cornered, document, open_kitchen

ORDER = [
    "Measure twice", "Check the blanks", "Mark and cut to length", "Cut the joins", "Cut the cut-outs", "Smooth",
    "Seal every raw edge", "Heat tape", "Set the sink", "Edging strips", "Drill the fixing rails",
    "Turn and lower", "Silicone", "Appliances and sink", "Clean and hand over",
]  # fmt: skip
"""The order of work on a top (common practice of the trade, no source)."""


def by_title(kitchen):
    return {step.title: step for step in steps(kitchen)}


def test_steps_stand_in_the_right_order():
    titles = [s.title for s in steps(open_kitchen(next(p for p in DEMOS if p.stem == "corner")))]
    assert len(titles) == len(ORDER)
    assert all(title.startswith(start) for title, start in zip(titles, ORDER, strict=True))


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_what_can_hurt_is_said_at_its_step(path):
    kitchen = open_kitchen(path)
    found = by_title(kitchen)
    where = {
        "Check the blanks": "Lifting", "Mark and cut to length": "Saw", "Cut the cut-outs": "Jigsaw",
        "Seal every raw edge": "flame", "Appliances and sink are connected": "licensed",
    }  # fmt: skip
    if not any(metres for _, metres in raw_lengths(kitchen)):
        # A solid top takes no sealer, and no step says that it does: upstands have a core of their own.
        del where["Seal every raw edge"]
        said = " ".join(line for title, step in found.items() if title != "Upstands" for line in step.lines)
        assert "cut, seal." not in said
        assert "sealed edge" not in said
    for title, word in where.items():
        assert any(word in caution for caution in found[title].cautions), title


def test_a_solid_top_is_bedded_and_another_beside_it_screwed_down():
    # The island's top of laminate beside a solid one: each says how it is held.
    island = {
        "name": "I", "wall": "A", "along": 500.0, "out": 1700.0, "stock": "pf38.670",
        "units": ({"unit": "base-doors", "width": 600.0},),
    }  # fmt: skip
    alone = {"worktop": {"stock": "solid30.650", "decor": "pale-oak"}}
    (line, *_) = by_title(build(document(**alone)))["Turn and lower the lengths"].lines
    assert line.endswith("In dabs of silicone on the rails, about every 300, and no screw into the top.")
    assert "Drill the fixing rails" not in by_title(build(document(**alone)))
    assert "edging strip" not in " ".join(by_title(build(document(**alone)))["Check the blanks"].lines)
    assert "edging strip" in " ".join(by_title(build(document()))["Check the blanks"].lines)
    (line, *_) = by_title(build(document(**alone, islands=(island,))))["Turn and lower the lengths"].lines
    assert "Then screw down from below: T2. In dabs" in line
    assert line.endswith("no screw into the top: T1.")


def test_the_weight_that_is_lifted_is_said_where_it_is_lifted_with_the_sink_in():
    """1620 x 600 x 38 at 600 kg/m³ is 22.16 kg; the line of 480 x 480 R20 takes 230,400 - 343 mm² of it, 5.24 kg;
    its nose of 6 is less than 0.02 kg. With 4.5 kg of sink 21.4, which is more than the 15.2 kg of one person. A
    sink of unknown mass is taken as 10 kg.
    """
    kitchen = build(document(cutouts=({"template": "sink.one-bowl", "over": "A2"},)))
    _, weights, *_ = by_title(kitchen)["Turn and lower the lengths"].lines
    assert weights == "T1 16.9 kg, 21.4 kg with the sink in (4.5 kg, see its maker's sheet): 2 people."
    own = {"kind": "sink", "line": (480.0, 480.0), "radius": 20.0, "over": "A2"}
    _, weights, *_ = by_title(build(document(cutouts=(own,))))["Turn and lower the lengths"].lines
    assert weights == "T1 16.9 kg, 26.9 kg with the sink in (10.0 kg, see its maker's sheet): 2 people."
    _, weights, *_ = by_title(build(document()))["Turn and lower the lengths"].lines
    assert weights == "T1 22.1 kg: 2 people."


def test_blade_and_faces_are_said_where_it_is_cut():
    found = by_title(build(cornered(90.0)))
    assert "Fine-toothed blade." in " ".join(found["Mark and cut to length"].lines)
    assert (
        found["Cut the joins"]
        .lines[0]
        .startswith("J1, mitre at 90°: T1 female right hand, decor up, T2 male left hand, underside up;")
    )


def test_no_step_for_what_is_not_there():
    titles = by_title(build(cornered(90.0)))
    assert "Heat tape at the hob" not in titles
    assert "Cut the cut-outs" not in titles


def test_raw_edges_by_hand():
    # Female of a 90° mitre, 1830 long, its right end on the wall: back 1830, free end 600, wall end 585, joint
    # 585 + 15·√2 = 606.213: 3621.213. Male, 1245 at the back: back 1245, free end 600, joint 606.213: 2451.213.
    found = {length.id: metres for length, metres in raw_lengths(build(cornered(90.0)))}
    assert found == pytest.approx({"T1": 3621.213, "T2": 2451.213}, abs=1e-3)


def test_a_factory_edge_in_a_butt_is_not_sealed():
    # The female of a butt keeps its front: back 1830, free end 600, end on the wall 600; male: 1228 + 600 + 600.
    found = {length.id: metres for length, metres in raw_lengths(build(cornered(90.0, kind="butt", notch=None)))}
    assert found == pytest.approx({"T1": 3030.0, "T2": 2428.0}, abs=1e-3)


def test_labels_are_spread_as_little_as_can_be():
    # Two wishes 1 apart at a pitch of 4 move by 1.5 each, away from their middle.
    assert spread([10.0, 11.0], 4.0) == [8.5, 12.5]
    assert spread([0.0, 100.0], 4.0) == [0.0, 100.0]
    assert spread([], 4.0) == []
    assert spread([5.0, 5.0, 5.0], 3.0) == [2.0, 5.0, 8.0]


def test_blanks_on_the_card_are_those_of_the_order():
    # The island buys three lengths for its four tops: one 670 deep, from which T1 is ripped (4100 x 670 x 38 x
    # 600 kg/m³: 62.6 kg). The card once named a blank for each length, which nobody had ordered.
    kitchen = open_kitchen(next(p for p in DEMOS if p.stem == "island"))
    said = by_title(kitchen)["Check the blanks"].lines
    bars = [bar for plan in cut_plans(kitchen).tops for bar in plan.bars]
    for bar, line in zip(bars, said, strict=False):
        assert line.startswith(" and ".join(p.id for p in bar.pieces) + ":")
        assert f", {bar.length:g} long," in line
    assert "T1 and T4: post-formed laminate 38 x 670 both edges, 4100 long, 62.6 kg" in said[0]
    assert said[0].endswith("; T1 ripped to 600")


@pytest.mark.slow
def test_people_on_the_sheet_are_those_of_the_finding():
    # T2 of the quarry weighs 48.6 kg as cut: 3 people; 7 lift the blank that it would take alone, and only that.
    kitchen = open_kitchen(next(p for p in DEMOS if p.stem == "quarry"))
    found = {p.where.subject: int(p.value) for p in people(kitchen)}
    for length in kitchen.lengths:
        assert handling(length).people == found[of_length(length)]
        words = " ".join(w for s in length_sheets(kitchen, length, []) for w, _ in words_on(s))
        assert f"{found[of_length(length)]} people" in words
    assert found[of_length(kitchen.length("T2"))] == 3


def test_an_edge_that_stays_in_sight_is_eased_above_too():
    # A sink under the top has no rim that covers the upper arris (common practice, no source).
    found = by_title(open_kitchen(next(p for p in DEMOS if p.stem == "quarry")))
    assert "of T1/sink above as well" in found["Smooth and dust"].lines[0]
    plain = by_title(open_kitchen(next(p for p in DEMOS if p.stem == "island")))
    assert plain["Smooth and dust"].lines[0].endswith("on the underside only.")
