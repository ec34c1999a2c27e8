"""What holds whatever the figures: less room never cures, and what moves together keeps its distances."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.checks import check
from model.kitchen import build, open_kitchen
from tests.model.test_checks import HOB, SINK, kitchen, let_in, overhang, run, stocked, unit
from tests.specimens import DEMOS

DOORS = unit("base-doors", 600)
LONG = {"walls": tuple({"name": n, "length": 6000.0, "corner": 90.0} for n in "ABCD")}
QUICK = settings(max_examples=15, deadline=None)


def at_wall(room):
    return kitchen(run(unit("base-hob", 600), start=room), cutouts=(let_in(HOB, "A1"),), room=LONG)


def between_wall_and_tall(room):
    row = run(unit("base-hob", 600), unit("tall-larder", 600), start=room)
    return kitchen(row, cutouts=(let_in(HOB, "A1"),), room=LONG)


def before_island(room):
    island = {
        "name": "I",
        "wall": "A",
        "along": 1000.0,
        "out": 620.0 + 2 * room,
        "stock": "pf38.670",
        "units": (DOORS,),
    }
    return kitchen(run(DOORS, DOORS), islands=(island,), room=LONG, wheelchair=True)


def beside_island(room):
    island = {"name": "I", "wall": "A", "along": 60.0 + room, "out": 2000.0, "stock": "pf38.670", "units": (DOORS,)}
    return kitchen(run(DOORS), islands=(island,), room=LONG)


def between_cutouts(room):
    row = run(
        unit("base-sink", 600), unit("filler", 20 + room / 10), unit("base-doors", 200), unit("base-hob", 600)
    )
    return kitchen(row, cutouts=(let_in(SINK, "A1"), let_in(HOB, "A4")), room=LONG)


def to_end(room):
    return kitchen(run(unit("base-sink", 600)), cutouts=(let_in(SINK, "A1", shift=room / 20 - 10),), room=LONG)


def under_hood(room):
    base, hood = run(unit("base-hob", 600)), run(unit("hood", 600), level="upper")
    catalogue = stocked({"hood": {"bottom": 1300.0 + room, "height": 100.0}})
    return kitchen(base, hood, cutouts=(let_in(HOB, "A1"),), room=LONG, catalogue=catalogue)


def under_wall_unit(room):
    uppers = run(unit("wall-doors", 600), level="upper")
    catalogue = stocked({"wall-doors": {"bottom": 1300.0 + room, "height": 100.0}})
    return kitchen(run(unit("base-hob", 600)), uppers, cutouts=(let_in(HOB, "A1"),), room=LONG, catalogue=catalogue)


def less_overhang(room):
    return kitchen(run(DOORS), worktop=overhang(ends=300.0 - 0.3 * room))


def shorter_landing(room):
    right = (unit("base-doors", 200), unit("filler", 20 + room / 10))
    row = run(unit("base-doors", 900), unit("base-hob", 600), *right)
    return kitchen(row, cutouts=(let_in(HOB, "A2"),), room=LONG)


def longer_landing(room):
    row = run(unit("base-hob", 600), unit("base-doors", 300), unit("filler", 20 + room / 10))
    return kitchen(row, cutouts=(let_in(HOB, "A1"),), room=LONG)


def shorter_gap(room):
    return kitchen(run(DOORS, unit("dishwasher", 600), unit("filler", 150 - room / 10), DOORS), room=LONG)


def before_oven(room):
    island = {
        "name": "I", "wall": "A", "along": 500.0, "out": 1000.0 + room, "stock": "pf38.670", "units": (DOORS,),
    }  # fmt: skip
    return kitchen(run(unit("base-oven")), islands=(island,), room=LONG)


def out_of_corner(room):
    square = {"walls": tuple({"name": n, "length": 4000.0, "corner": 90.0} for n in "ABCD")}
    start = 600.0 + room / 50
    return kitchen(run(DOORS, start=2800), run(unit("base-drawers", 600), wall="B", start=start), room=square)


def way_in(room):
    door = {"kind": "passage", "wall": "C", "at": 3000.0, "width": 900.0}
    square = {"walls": tuple({"name": n, "length": 4000.0, "corner": 90.0} for n in "ABCD"), "openings": (door,)}
    island = {
        "name": "I", "wall": "A", "along": 15.0, "out": 1200.0 + room, "stock": "pf38.670", "units": (DOORS,) * 5,
    }  # fmt: skip
    row = run(unit("base-sink", 600), start=500)
    return kitchen(row, islands=(island,), cutouts=(let_in(SINK, "A1"),), room=square, wheelchair=True)


def under_hob(room):
    catalogue = stocked({"base-drawers": {"rails": "edge"}}, templates={HOB: {"depth": 73.0 - room / 20}})
    return kitchen(run(unit("base-drawers", 600)), cutouts=(let_in(HOB, "A1"),), room=LONG, catalogue=catalogue)


def past_socket(room):
    where = {**LONG, "services": ({"kind": "socket", "wall": "A", "at": 500.0 - room / 5, "height": 1100.0},)}
    return kitchen(run(unit("base-hob", 600)), cutouts=(let_in(HOB, "A1"),), room=where)


def for_knees(room):
    catalogue = stocked(stocks={"pf38.900": {"depth": 900.0 + room / 5}})
    island = {
        "name": "I", "wall": "A", "along": 500.0, "out": 2000.0, "stock": "pf38.900", "units": (DOORS,), "seats": 1,
    }  # fmt: skip
    return kitchen(run(DOORS), islands=(island,), room=LONG, catalogue=catalogue)


# What grows with the room, the rules that it matters to, and which of their places it is.
ROOMIER = [
    (at_wall, ["hob-electric-to-side", "hob-to-side-wall"], "wall D"),
    (between_wall_and_tall, ["hob-electric-to-farther-side"], ""),
    (before_island, ["aisle-one-cook", "aisle-england-accessible", "aisle-wheelchair-pass-through"], "T2"),
    (beside_island, ["walkway-around-island"], "wall D"),
    (between_cutouts, ["cutout-to-cutout", "sink-to-hob", "hob-landing-longer", "sink-landing-longer"], ""),
    (to_end, ["cutout-to-end"], "left end"),
    (under_hood, ["hob-to-hood"], ""),
    (under_wall_unit, ["hob-to-bare-surface-above", "wall-unit-over-worktop"], ""),
    (less_overhang, ["worktop-end-overhang-laminate", "worktop-end-overhang"], ""),
    (shorter_landing, ["hob-landing-shorter"], ""),
    (longer_landing, ["hob-landing-longer"], ""),
    (shorter_gap, ["worktop-gap-over-appliance"], ""),
    (before_oven, ["appliance-opens", "open-appliance-room"], ""),
    (out_of_corner, ["doors-and-drawers-open"], "drawers"),
    (way_in, ["route-to-work-centre"], ""),
    (under_hob, ["hob-over-drawer", "hob-ventilation"], ""),
    (past_socket, ["socket-to-hob", "socket-to-hob-usual"], ""),
    (for_knees, ["seat-knees-middle"], ""),
]


def margins(built, rules, place):
    """The least margin of each rule at the places named."""
    found = {rule: [f.margin for f in check(built) if f.rule == rule and place in f.place] for rule in rules}
    return {rule: min(values) for rule, values in found.items()}


@pytest.mark.parametrize(("roomier", "rules", "place"), ROOMIER, ids=[r[0].__name__ for r in ROOMIER])
@QUICK
@given(st.tuples(st.floats(0, 1000), st.floats(0, 1000)).map(sorted))
def test_less_room_never_turns_a_miss_into_a_pass(roomier, rules, place, rooms):
    less, more = (margins(roomier(room), rules, place) for room in rooms)
    assert all(less[rule] <= more[rule] for rule in rules)


@pytest.mark.parametrize(("roomier", "rules", "place"), ROOMIER, ids=[r[0].__name__ for r in ROOMIER])
def test_the_range_of_room_holds_misses_and_passes(roomier, rules, place):
    little, much = (margins(roomier(room), rules, place) for room in (0.0, 1000.0))
    assert min(little.values()) < 0 <= max(much.values())


def row(start):
    units = (
        unit("base-sink", 600), unit("dishwasher", 600), unit("base-doors", 400), unit("base-hob", 600),
        unit("base-doors", 500), unit("tall-larder", 600), unit("tall-fridge"),
    )  # fmt: skip
    uppers = (unit("wall-doors", 600), unit("wall-doors", 600))
    return kitchen(
        run(*units, start=start), run(*uppers, start=start + 400, level="upper"),
        cutouts=(let_in(SINK, "A1"), let_in(HOB, "A4")), room=LONG,
    )  # fmt: skip


def within(built):
    """Findings whose places name no wall of the room."""
    return {
        (f.rule, f.place): (f.value, f.verdict)
        for f in check(built)
        if "wall " not in f.place.replace("wall unit", "")
    }


@QUICK
@given(st.floats(650, 1450))
def test_a_row_moved_along_its_wall_keeps_its_distances(start):
    assert within(row(start)) == within(row(1000.0))
    assert len(within(row(start))) > 40


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
@pytest.mark.parametrize("turn", [1, 2, 3])
def test_a_kitchen_looked_at_from_another_wall_has_the_same_values(path, turn):
    """The room's frame begins at the first wall, so that naming another first turns and moves everything in it."""
    before = open_kitchen(path)
    room = before.document.room
    walls = room.walls[turn:] + room.walls[:turn]
    after = build(before.document.model_copy(update={"room": room.model_copy(update={"walls": walls})}))
    ours, theirs = (Counter((f.rule, f.verdict) for f in check(built)) for built in (before, after))
    assert ours == theirs
    values = [sorted(round(f.value or 0.0, 1) for f in check(built)) for built in (before, after)]
    assert values[0] == pytest.approx(values[1], abs=1.1)
