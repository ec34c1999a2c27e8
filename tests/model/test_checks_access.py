"""The way in as a file tells it, what is refused of it, and the finding that is made of it."""

import pytest

from countersunk import shared
from countersunk.model.carry import longest, passes
from countersunk.model.checks import check
from countersunk.model.document.stages import Stage
from countersunk.model.errors import InputError
from countersunk.model.kitchen import read_kitchen
from tests.model.test_checks import kitchen, measured, run, unit, verdicts
from tests.specimens import open_kitchen, square

HALL = (
    {"door": {"width": 838.0, "height": 1981.0}},
    {"corridor": {"width": 900.0}},
    {"turn": {"to": "left"}},
    {"corridor": {"width": 900.0}},
)
DOORS = unit("base-doors", 600)


def way(*stages):
    return tuple(Stage.model_validate(stage) for stage in stages)


def test_without_a_way_in_nothing_is_asked():
    assert verdicts("worktop-carry-in", kitchen(run(DOORS, DOORS))) == []


def test_each_length_is_held_against_the_way_in():
    # T1, 1,820 long and 38 thick, on edge with 30 on every side. The inner corner of the turn is 900·√2 from the
    # outer corner; a board at 45° whose ends lie on lines 30 off the outer walls reaches 30·√2 + 1820 / 2 + 38
    # from it. T2, 620 long, has more room there than in the door: 838 − 38 − 60.
    room = square(4000)
    built = kitchen(run(DOORS, DOORS, DOORS), run(DOORS, wall="C"), room=room, access=HALL)
    assert measured("access.carry_in", built) == {
        "T1, on edge, at the turn to the left (stage 3), 30 hand room": pytest.approx(
            900 * 2**0.5 - (30 * 2**0.5 + 1820 / 2 + 38) - 30, abs=0.1
        ),
        "T2, on edge, at the door (stage 1), 30 hand room": pytest.approx(740.0),
    }
    assert verdicts("worktop-carry-in", built) == ["met", "met"]


def test_what_does_not_come_in_falls_short_and_says_what_would():
    room = square(4000)
    built = kitchen(run(*[DOORS] * 5), room=room, access=HALL)
    (found,) = [f for f in check(built) if f.rule == "worktop-carry-in"]
    assert (found.verdict, found.severity, found.ids) == ("falls short", "should", ("T1",))
    most = longest(600.0, 38.0, way(*HALL))
    assert 2200 < most < 3020
    assert found.advice.startswith(f"up to {most:.0f} long comes in: one more join, cut before it is carried; or ")


def test_where_nothing_so_deep_comes_in_no_length_is_advised():
    narrow = ({"door": {"width": 400.0, "height": 500.0}},)
    (found,) = [f for f in check(kitchen(run(DOORS), access=narrow)) if f.rule == "worktop-carry-in"]
    assert found.advice.startswith("nothing 600 deep comes in this way; ")


def test_nobody_needs_a_way_where_nothing_is_in_the_way():
    passage = passes(kitchen(run(DOORS)).lengths[0].part.outline, 38.0, ())
    assert passage.ok
    assert passage.sentence == "nothing is in the way"


def test_the_demo_tells_how_its_tops_come_in():
    built = open_kitchen(shared.KITCHENS / "corner.yaml")
    found = {f.ids[0]: f for f in check(built) if f.rule == "worktop-carry-in"}
    assert set(found) == {length.id for length in built.lengths}


CORNER = (shared.KITCHENS / "corner.yaml").read_text().split("access:")[0]
LINE = CORNER.count("\n") + 2
STAGES = "door, corridor, lift, window, hoist, stairs, turn"


@pytest.mark.parametrize(
    ("access", "message"),
    [
        (
            "  - door: {width: 838, hight: 1981}\n",
            f"my.yaml:{LINE}: access[0].door.hight: found an unknown key; allowed: width, height, wall, beyond. "
            "Try: 'height'.",
        ),
        (
            "  - door: {width: 83.8}\n",
            f"my.yaml:{LINE}: access[0].door.width: found 83.8; allowed: a number from 300 to 6000.",
        ),
        (
            "  - corridor: {length: 4000}\n",
            f"my.yaml:{LINE}: access[0].corridor.width: found nothing; allowed: a number from 300 to 20000. "
            "Try: add 'width'.",
        ),
        (
            "  - corridor: {width: 900}\n  - turn: {to: leftt}\n  - corridor: {width: 900}\n",
            f"my.yaml:{LINE + 1}: access[1].turn.to: found \"leftt\"; allowed: left, right. Try: 'left'.",
        ),
        (
            "  - ladder: {width: 900}\n",
            f"my.yaml:{LINE}: access[0].ladder: found an unknown key; allowed: {STAGES}.",
        ),
        (
            "  - {}\n",
            f"my.yaml:{LINE}: access[0]: found nothing; allowed: one of {STAGES}. "
            "Try: begin a new item of the list for each of them.",
        ),
        (
            "  - {door: {width: 800}, corridor: {width: 900}}\n",
            f"my.yaml:{LINE}: access[0]: found corridor and door; allowed: one of {STAGES}. "
            "Try: begin a new item of the list for each of them.",
        ),
        (
            "  - turn: {to: left}\n  - corridor: {width: 900}\n",
            f"my.yaml:{LINE}: access[0]: found a turn between nothing and a corridor; allowed: a turn between two "
            "corridors, or a corridor and a door. Try: add the hall or corridor in which one turns, and the door "
            "or opening that ends it.",
        ),
        (
            "  - corridor: {width: 900}\n  - turn: {to: left}\n  - turn: {to: left}\n  - door: {width: 800}\n",
            f"my.yaml:{LINE + 1}: access[1]: found a turn between a corridor and a turn; allowed: ",
        ),
        (
            "  - door: {width: 800}\n  - turn: {to: left}\n  - door: {width: 800}\n",
            f"my.yaml:{LINE + 1}: access[1]: found a turn between a door and a door; allowed: ",
        ),
    ],
)
def test_a_way_in_that_cannot_be_is_refused_with_its_line(access, message):
    with pytest.raises(InputError) as caught:
        read_kitchen((CORNER + "access:\n" + access).encode(), "my.yaml")
    assert str(caught.value).startswith(message)


def carried(*access, units=5):
    """The finding of the one top of so many units, 600 deep, 38 thick."""
    (found,) = [
        f for f in check(kitchen(run(*[DOORS] * units), room=square(4000), access=access))
        if f.rule == "worktop-carry-in"
    ]  # fmt: skip
    return found


def test_a_window_is_passed_on_edge_as_a_door_is():
    """600 deep, with 30 for hands above and below, it is just on edge in 660. In 400 it leans at asin(340 / 601)
    less 4°, about 31°, and is 600 cos 31° or 514 wide: more than 340.
    """
    assert carried({"window": {"width": 1200.0, "height": 660.0}}).value == pytest.approx(0.0)
    low = carried({"window": {"width": 400.0, "height": 400.0}})
    assert low.verdict == "falls short"
    assert low.advice.endswith("it does not pass the window (stage 1), however it is held")


def test_a_piece_lies_wholly_on_a_hoist():
    """3,020 long (five units of 600 and 10 at either end) and 38 thick, on a platform 300 wide, 240 less hands: it
    lies at asin((240 − 38) / 3020), 3.83°, and takes 3020 cos 3.83° + 38 sin 3.83° + 60, or 3,075.8, of its length.
    It is too low over the platform for one end to go up.
    """
    assert carried({"hoist": {"width": 300.0, "length": 3077.0, "height": 661.0}}).verdict == "met"
    assert carried({"hoist": {"width": 300.0, "length": 3074.0, "height": 661.0}}).verdict == "falls short"


def test_straight_stairs_are_a_corridor_and_winding_ones_are_not_proven():
    straight, winding = ({"stairs": {"width": 800.0, "winding": winds}} for winds in (False, True))
    assert carried(straight).value == pytest.approx(800.0 - 38.0 - 60.0)
    found = carried(winding)
    assert (found.verdict, found.value) == ("not measured", None)
    assert (
        found.reason == "not proven: the stairs (stage 1) wind; try them with a batten as long, held the same way"
    )
    narrow = carried({"stairs": {"width": 400.0, "height": 500.0, "winding": True}})
    assert narrow.verdict == "falls short"


def test_a_no_says_whether_it_is_certain():
    """Round the turn of the hall it may come in held in another way; through a door of 500 by 500 never."""
    assert carried(*HALL).advice.endswith("it might come in if you change how it is held half-way round")
    door = ({"corridor": {"width": 900.0}}, {"turn": {"to": "left"}}, {"door": {"width": 838.0}})
    assert carried(*door).advice.endswith("measure how far the floor is free beyond the door (stage 3)")
    shut = carried({"door": {"width": 500.0, "height": 500.0}})
    assert shut.advice.endswith("this is certain: it does not pass the door (stage 1), however it is held")
