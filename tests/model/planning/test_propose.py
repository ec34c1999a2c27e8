"""Proposals: every one builds, misses no must, differs from the others, and says what it trades away."""

import pytest

from countersunk.model.checks import check
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.differ import LEAST
from countersunk.model.planning.explain import SHORTFALLS
from countersunk.model.planning.hung import LEAST_FILLER
from countersunk.model.planning.propose import propose
from countersunk.model.planning.score import WEIGHT
from tests.lanes import some
from tests.model.planning.rooms import NO_CLOCK, brief, by_lot

WINDOW = {"kind": "window", "wall": "A", "at": 1200.0, "width": 1200.0, "sill": 1050.0, "head": 2100.0}
DOOR = {"kind": "door", "wall": "C", "at": 2300.0, "width": 850.0, "swing": "left"}
PIPES = (
    {"kind": "water", "wall": "A", "at": 1700.0, "height": 500.0},
    {"kind": "waste", "wall": "A", "at": 1900.0, "height": 300.0},
    {"kind": "cooker-outlet", "wall": "B", "at": 1600.0, "height": 600.0},
)


@pytest.fixture(scope="module")
def ordinary():
    return propose(brief(openings=(WINDOW, DOOR), services=PIPES), seconds=NO_CLOCK)


def sink_and_units(proposal):
    kitchen = proposal.kitchen
    sink = next(c for c in kitchen.cutouts if c.template.kind == "sink")
    over = next(c.over for c in kitchen.document.cutouts if c.template.startswith("sink"))
    return sink, next(u for u in kitchen.units if u.key == over)


def test_three_that_differ(ordinary):
    assert len(ordinary.shown) == 3
    assert len({p.name for p in ordinary.shown}) == 3
    assert ordinary.left == 0
    scores = [p.found.points for p in ordinary.shown]
    assert scores == sorted(scores)


def test_the_sink_stands_at_the_window(ordinary):
    for proposal in ordinary.shown:
        _, unit = sink_and_units(proposal)
        assert 1200.0 <= unit.x + unit.width / 2 <= 2400.0


def test_the_fridge_stands_at_an_end(ordinary):
    for proposal in ordinary.shown:
        run = next(r for r in proposal.kitchen.runs if any(u.family.code == "tall-fridge" for u in r.units))
        codes = [u.family.code for u in run.units]
        assert "tall-fridge" in (codes[1], codes[-2])  # a tall panel is outside of it


def test_each_says_how_it_differs_and_does(ordinary):
    first, *others = ordinary.shown
    assert first.differs == ""
    for proposal in others:
        assert proposal.difference >= LEAST
        assert proposal.differs.startswith("Beside proposal ")


def test_points_are_told_with_what_they_are_lost_for(ordinary):
    for proposal in ordinary.shown:
        lost = {name: WEIGHT[name] * mm for name, mm in proposal.terms.items() if name in SHORTFALLS and mm}
        told = [int(t.rsplit(": ", 1)[1].removesuffix(" points")) for t in proposal.trades if t.endswith("points")]
        assert sorted(told) == sorted(lost.values())
        assert proposal.found.points == sum(told) + sum(
            WEIGHT[name] * mm for name, mm in proposal.terms.items() if name not in SHORTFALLS
        )


def test_wall_units_go_round_the_corner(ordinary):
    shaped = [p for p in ordinary.shown if p.found.plan.shape.kind in ("L", "U")]
    assert shaped
    for proposal in shaped:
        corners = [u for u in proposal.kitchen.units if u.family.code == "wall-l-corner"]
        assert len(corners) == len(proposal.found.plan.shape.arms) - 1


def test_wall_units_stand_beside_the_hood_with_no_gap_that_a_filler_could_close(ordinary):
    for proposal in ordinary.shown:
        upper = [u for r in proposal.kitchen.runs if r.level == "upper" for u in r.units]
        hood = next(u for u in upper if u.family.code == "hood")
        wall = next(r.wall for r in proposal.kitchen.runs if hood in r.units)
        beside = [u for r in proposal.kitchen.runs if r.level == "upper" and r.wall == wall for u in r.units]
        assert any(u.right == pytest.approx(hood.x, abs=LEAST_FILLER) for u in beside)
        assert any(u.x == pytest.approx(hood.right, abs=LEAST_FILLER) for u in beside)


def test_what_is_short_is_said(ordinary):
    for proposal in ordinary.shown:
        lacking = proposal.terms["legs of the triangle"]
        assert any(f"{lacking} mm too short or too long" in t for t in proposal.trades) == (lacking > 0)
        advice = {f.question for f in proposal.findings if f.verdict.value == "falls short"}
        assert advice == {t.removeprefix("advice not kept: ") for t in proposal.trades if t.startswith("advice")}


@pytest.mark.slow
def test_the_same_room_gives_the_same_proposals(ordinary):
    again = propose(brief(openings=(WINDOW, DOOR), services=PIPES), seconds=NO_CLOCK)
    assert [p.document for p in again.shown] == [p.document for p in ordinary.shown]


@pytest.mark.slow
@pytest.mark.parametrize("seed", some(range(6), 6))
def test_rooms_by_lot(seed):
    wanted = by_lot(seed)
    found = propose(wanted, seconds=NO_CLOCK)
    assert len(found.shown) == 3
    for proposal in found.shown:
        kitchen = build(proposal.document)
        assert not any(f.serious for f in check(kitchen))
        codes = [u.family.code for u in kitchen.units]
        assert codes.count("tall-fridge") == 1
        assert codes.count("tall-larder") == wanted.wishes.larders
        assert codes.count("dishwasher") == (wanted.wishes.dishwasher != "none")
        assert codes.count("tall-oven") + codes.count("base-oven") == (wanted.wishes.oven != "none")
        _, unit = sink_and_units(proposal)
        assert unit.family.code == "base-sink"


def test_one_wall_gives_other_orders():
    alone = Brief.model_validate({"kitchen": "Trial", "room": {"walls": ({"name": "A", "length": 4800.0},)}})
    found = propose(alone, seconds=NO_CLOCK)
    assert len(found.shown) >= 2
    assert len({tuple(u.unit for u in p.document.runs[0].units) for p in found.shown}) == len(found.shown)


def one_wall(length, **wishes):
    room = {"walls": ({"name": "A", "length": length},)}
    return Brief.model_validate({"kitchen": "Trial", "room": room, "wishes": wishes})


def test_wishes_that_stand_in_the_way_are_named_and_giving_one_up_lets_a_layout_in():
    # the row of 3071 (see below) and a larder of 600 in the fridge's block are 3671, and the wall is 3600
    with pytest.raises(InputError) as caught:
        propose(one_wall(3600.0, larders=1), seconds=NO_CLOCK)
    named = {p.field: p for p in caught.value.problems}
    assert "0, with which a layout fits" in named["wishes.larders"].allowed
    assert propose(one_wall(3600.0, larders=0), seconds=NO_CLOCK).shown


def test_several_wishes_in_the_way_are_named_together():
    # 4071 with a larder and a drainer on 2900: no single wish makes place
    with pytest.raises(InputError) as caught:
        propose(one_wall(2900.0, larders=1, sink="bowl-drainer"), seconds=NO_CLOCK)
    fields = [p.field.removeprefix("wishes.") for p in caught.value.problems]
    changes = {"larders": 0, "sink": "one-bowl", "dishwasher": "none", "fridge": False}
    assert 1 < len(fields) <= len(changes)
    fewer = {"larders": 1, "sink": "bowl-drainer", **{name: changes[name] for name in fields}}
    assert propose(one_wall(2900.0, **fewer), seconds=NO_CLOCK).shown


def test_tall_units_stand_at_the_other_end_where_the_wished_one_takes_none():
    # a ceiling that falls to 1200 over wall D leaves no height for a fridge at the left end of A
    walls = ({"name": "D", "length": 3000.0, "corner": 90.0}, {"name": "A", "length": 4600.0})
    room = {"walls": walls, "slopes": ({"wall": "D", "eaves": 1200.0, "run": 900.0},)}
    wished = {"tall_at": "left", "wall_units": False}
    found = propose(Brief.model_validate({"kitchen": "Trial", "room": room, "wishes": wished}), seconds=NO_CLOCK)
    along_a = [p for p in found.shown if p.document.runs[0].wall == "A"]
    assert along_a
    for proposal in along_a:
        end = proposal.found.plan.shape.fridge_end
        assert proposal.terms["tall units where wished"] == (600 if end.side == "right" else 0)


@pytest.mark.slow
def test_a_room_too_small_says_which_wall_lacks_how_much():
    # sink 600 with 300 beside it, dishwasher 600 (also the 300 to the hob), hob 600, 300 at its other side; a
    # fridge with two panels 636, 10 at its wall; 5 and a filler of 20 at the other: 3071;
    # the walls are 1500 and 1450 long
    with pytest.raises(InputError) as caught:
        propose(brief(1500.0, 1450.0), NO_CLOCK)
    fields = [p.field for p in caught.value.problems]
    assert fields == [f"room.walls[{i}]" for i in range(4)]
    assert "3071 mm for all that is wished in one straight run, 1571 mm are lacking" in str(caught.value)
    assert "1621 mm are lacking" in str(caught.value)


def test_time_too_short_is_told_and_no_fault_of_the_room():
    with pytest.raises(InputError, match=r"seconds: found 0, in which 0 of \d+ shapes were seen"):
        propose(brief(openings=(WINDOW, DOOR), services=PIPES), seconds=0)


def test_pipes_too_short_say_so():
    water = {"kind": "water", "wall": "A", "at": 100.0, "height": 500.0}
    far = (water, {**water, "kind": "waste", "wall": "C"})
    with pytest.raises(InputError, match=r"wishes\.pipes: found 500, from which no place reaches water and waste"):
        propose(brief(services=far, wishes={"pipes": 500.0}), NO_CLOCK)


@pytest.mark.parametrize(("wishes", "field"), [
    ({"hob": {"width": 800}}, "wishes.oven"),
    ({"hob": {"width": 800, "fuel": "gas"}, "oven": "none"}, "wishes.hob.width"),
])  # fmt: skip
def test_wishes_that_contradict_each_other(wishes, field):
    with pytest.raises(InputError) as caught:
        propose(brief(wishes=wishes))
    assert caught.value.problems[0].field == field
    assert caught.value.problems[0].advice
