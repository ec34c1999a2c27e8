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
            "  - stairs: {width: 900}\n",
            f"my.yaml:{LINE}: access[0].stairs: found an unknown key; allowed: door, corridor, lift, turn.",
        ),
        (
            "  - {}\n",
            f"my.yaml:{LINE}: access[0]: found nothing; allowed: one of door, corridor, lift, turn. "
            "Try: begin a new item of the list for each of them.",
        ),
        (
            "  - {door: {width: 800}, corridor: {width: 900}}\n",
            f"my.yaml:{LINE}: access[0]: found corridor and door; allowed: one of door, corridor, lift, turn. "
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
