"""Cases of the floor: work centres, ways, aisles, doors and what opens, seats.

Tops are 600 deep over units whose fronts are 580 out and stand in a room whose wall A is y = 0; an island's top
begins 20 before its units. Handles stand out by 28; an oven's door is 585 high.
"""

import math

from tests.model.cases.table import Naive, of
from tests.model.test_checks import HOB, SINK, kitchen, let_in, run, stocked, unit, walls
from tests.specimens import oblong, square

DOORS, FRIDGE, OVEN = unit("base-doors", 600), unit("tall-fridge"), unit("base-oven")
SINK_UNIT, HOB_UNIT, DISHWASHER = unit("base-sink", 600), unit("base-hob", 600), unit("dishwasher", 600)
TALL = unit("tall-larder", 600)


def filled(width):
    return unit("filler", width)


def isle(out, along=1000.0, units=(DOORS,), stock="pf38.670", **more):
    return {
        "name": "I", "wall": "A", "along": float(along), "out": float(out), "stock": stock, "units": units, **more,
    }  # fmt: skip


def dishwasher_from_sink(filler):
    row = run(SINK_UNIT, unit("base-doors", 800), filled(filler), DISHWASHER)
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), room=square(5000))


def in_a_row(filler, *widths, past=(1000,)):
    """Sink, ``widths`` with a filler, hob, ``past`` and a refrigerator in one row."""
    between = [*(unit("base-doors", w) for w in widths), filled(filler)]
    row = run(SINK_UNIT, *between, HOB_UNIT, *(unit("base-doors", w) for w in past), FRIDGE, start=100)
    cutouts = (let_in(SINK, "A1"), let_in(HOB, f"A{2 + len(between)}"))
    return kitchen(row, cutouts=cutouts, room=oblong(8000, 4000))


def long_row(filler):
    return in_a_row(filler, 1000, past=(1000, 600))


def across_island(depth):
    """Sink and refrigerator on A, the hob straight across on C; an island from 790 to 2010, 1480 to 2150 out."""
    return kitchen(
        run(SINK_UNIT, FRIDGE, start=1100), run(HOB_UNIT, wall="C", start=3300),
        islands=(isle(1500, 800, (DOORS, DOORS)),), cutouts=(let_in(SINK, "A1"), let_in(HOB, "C1")),
        room=oblong(5000, depth),
    )  # fmt: skip


def along_island(filler):
    """Sink on D and hob on B at 1800 from wall A; the way between crosses an island, 200 + filler + 20 long."""
    units = (unit("base-doors", 200), filled(filler))
    return kitchen(
        run(SINK_UNIT, wall="D", start=1900), run(HOB_UNIT, wall="B", start=1500), run(FRIDGE, start=3000),
        islands=(isle(1500, 2000, units),), cutouts=(let_in(SINK, "D1"), let_in(HOB, "B1")),
        room=oblong(5000, 4000),
    )  # fmt: skip


def parted_by(*units):
    row = run(SINK_UNIT, unit("base-doors", 1000), *units, FRIDGE, start=100)
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), room=oblong(6000, 4000))


DOOR = {"kind": "door", "wall": "C", "at": 2000.0, "width": 900.0}


def behind_island(out):
    """A sink right behind the middle of a long island."""
    row = run(DOORS, SINK_UNIT, DOORS, start=1500)
    return kitchen(
        row, islands=(isle(out, 1200, (DOORS,) * 4),), cutouts=(let_in(SINK, "A2"),),
        room=oblong(5000, 4000, openings=(DOOR,)),
    )  # fmt: skip


def fridge_in_recess(out):
    """A refrigerator whose front stands 18 behind the tops to its left and right, an island before it."""
    row = run(unit("base-doors", 1000), FRIDGE, unit("base-doors", 1000), start=500)
    return kitchen(
        row, islands=(isle(out, 400, (unit("base-doors", 1000),) * 3),), room=oblong(6000, 5000, openings=(DOOR,))
    )


def narrow_room(width):
    """A row along all of wall A."""
    return kitchen(run(*[DOORS] * 5, start=0), room=oblong(3000, width), wheelchair=True)


def open_corner():
    """A row along half of wall A: the room is 1600 deep beside it."""
    return kitchen(run(DOORS, DOORS, start=0), room=oblong(4000, 1600), wheelchair=True)


def island_before(out):
    return kitchen(run(DOORS, DOORS), islands=(isle(out),))


def island_at_leaning_wall(out):
    """Wall B meets A at 88.8°; an island along it, 1690 from the corner and 650 deep."""
    along_b = {**isle(out, 1700), "wall": "B"}
    return kitchen(run(*[DOORS] * 4, start=1000), islands=(along_b,), room={"walls": walls(A=88.8, B=90.0)})


def u_shape(width):
    """Arms on A and C, and B between them."""
    arms = [run(DOORS, wall="A", start=1000), run(DOORS, wall="C", start=2400)]
    base = run(unit("base-doors", 500), wall="B", start=(width - 500) / 2)
    return kitchen(*arms, base, room=oblong(4000, width), wheelchair=True)


def island_beside_wall(along):
    """It faces wall A: whoever stands before its fronts has wall D at the right hand."""
    return kitchen(run(DOORS, DOORS), islands=(isle(1700, along),))


def doorway(width, swing="none"):
    door = {"kind": "door", "wall": "C", "at": 100.0, "width": float(width), "swing": swing}
    return kitchen(run(DOORS), room=square(4000, openings=(door,)))


def before_door(at):
    """A row along A up to its corner with B, its top 600 before a door in B, 900 wide from ``at``."""
    door = {"kind": "door", "wall": "B", "at": float(at), "width": 900.0}
    return kitchen(run(DOORS, DOORS, start=3800), room=oblong(5000, 4000, openings=(door,)))


def near_corner(filler, angle=90.0):
    """A dishwasher, 450, a filler, 20, and the front of a long row on wall B."""
    shoulder = max(600.0, 600 / math.tan(math.radians(angle / 2))) + 20
    row = run(DOORS, DISHWASHER, unit("base-doors", 450), filled(filler), start=4000 - shoulder - 1650 - filler)
    return kitchen(row, run(*[DOORS] * 4, wall="B", start=shoulder), room={"walls": walls(A=angle, B=90.0)})


def oven_before_island(out):
    """The oven's door comes out to 580 + 585, the island's handle stands 28 before its fronts."""
    return kitchen(run(OVEN, start=1000), islands=(isle(out),), room=square(5000))


def drawers_in_corner(start):
    """B's fronts stand at 3000 - 580 = 2420; A's handle from 2354 to 2366, 608 out: 54 before the drawers."""
    return kitchen(run(DOORS, start=1800), run(unit("base-drawers", 600), wall="B", start=start))


def door_and_tall_unit(at, swing):
    """Wall D runs towards wall A; the larder, 100 off D, reaches to 2422 along D, its handle to 2394."""
    door = {"kind": "door", "wall": "D", "at": float(at), "width": 900.0, "swing": swing}
    return kitchen(run(TALL, start=100), room=square(3000, openings=(door,)))


def hinged_near(at):
    return door_and_tall_unit(at, "right")


def seated(seats, depth=900.0, out=1500.0):
    catalogue = stocked(stocks={"pf38.900": {"depth": float(depth)}})
    island = isle(out, units=(DOORS, DOORS), stock="pf38.900", seats=int(seats))
    return kitchen(run(DOORS), islands=(island,), room=square(5000), catalogue=catalogue)


def knees(depth):
    return seated(2, depth)


def sat_behind(out):
    return seated(2, 900, out)


BEND = math.hypot(300, 18)
"""Round the end of the top to a refrigerator whose front, at 582, stands back from it."""
ROUND = math.hypot(610, 880) + 670
"""From the sink, 610 aside and 880 out, and along the island's end."""
LONG_WAY = ROUND + math.hypot(610, 3900 - 600 - 2150)
FAR_WAY = ROUND + math.hypot(610, 4700 - 600 - 2150)
FAR_SUM = FAR_WAY + (300 + BEND) + math.hypot(10, 1480 - 582) + 670 + math.hypot(610, 1950)
FAR_STRAIGHT = 3500 + math.hypot(600, 18) + math.hypot(600, 4100 - 582)

CASES = [
    # 50 + 800 + filler.
    *of("centres.dishwasher_to_sink", "dishwasher-to-sink", dishwasher_from_sink, ok=(60, 910), bad=(65, 915),
        limit=64, naive=Naive((20,), 870, 300 + 820 + 300, "centre to centre")),
    # 300 + widths + filler + 300 along the front. Round an island where straight through it were 2700.
    *of("centres.triangle_leg", "triangle-leg-short", in_a_row, ok=((100, 800), 1500), bad=((20, 500), 1120),
        limit=(20, 600), place="sink to hob", naive=Naive((100, 800), 1500, 955, "from rim to rim")),
    *of("centres.triangle_leg", "triangle-leg-long", in_a_row, ok=((100, 1000, 1000), 2700),
        bad=((200, 1000, 1000), 2800), limit=(143, 1000, 1000), place="sink to hob",
        naive=Naive((3900,), LONG_WAY, 2700, "straight through an island", across_island)),
    # Twice from the sink's middle to the end of the top, 300 + 1000 + filler + 600 + 1600, and twice BEND.
    *of("centres.triangle_sum", "triangle-sum", long_row, ok=(100, 7200 + 2 * BEND), bad=(200, 7400 + 2 * BEND),
        limit=(7924 - 7000 - 2 * BEND) / 2,
        naive=Naive((4700,), FAR_SUM, FAR_STRAIGHT, "straight through an island", across_island)),
    # 220 + filler; the top passes its units by 10 at either end.
    *of("centres.triangle_through_island", "triangle-through-island", along_island, ok=(50, 270), bad=(85, 305),
        limit=84, place="sink to hob", naive=Naive((85,), 305, 285, "the units without their top")),
    *of("centres.tall_between", "tall-unit-between", parted_by, ok=None, bad=(TALL, 1), limit=(),
        naive=Naive((unit("tall-panel", 18),), 0, 1, "a panel beside the refrigerator as well")),
    # out - 20 - 600.
    *of("routes.to_work_centre", "route-to-work-centre", behind_island, ok=(1700, 1080), bad=(1534, 914),
        limit=1535, naive=Naive((1500,), 880, 920, "from unit to unit")),
    *of("routes.to_work_centre", "route-to-work-centre", fridge_in_recess, ok=(1700, 1080), bad=(1534, 914),
        limit=1535, naive=Naive((1525,), 905, 923, "from the refrigerator's own front")),
    # width - 600.
    *of("routes.turning_circle", "turning-circle", narrow_room, ok=(2150, 1550), bad=(2099, 1499), limit=2100,
        naive=Naive((), 1600, 1000, "the aisle", open_corner)),
    *of("walkways.aisle", "aisle-one-cook", island_before, ok=(1700, 1080), bad=(1686, 1066), limit=1687,
        place="before A1 to T2",
        naive=Naive((1200,), 1690 * math.sin(math.radians(88.8)) - 1850 * math.cos(math.radians(88.8)) - 600, 1090,
                    "along the wall that leans", island_at_leaning_wall, "to T2")),
    # width - 2 · 600.
    *of("walkways.between_arms", "aisle-wheelchair-u-shape", u_shape, ok=(2800, 1600), bad=(2724, 1524),
        limit=2725, naive=Naive((2700,), 1500, 1540, "from front to front, under the tops")),
    # along - 10.
    *of("walkways.around_island", "walkway-around-island", island_beside_wall, ok=(1000, 990), bad=(924, 914),
        limit=925, place="right end", naive=Naive((920,), 910, 920, "from the units")),
    # A door that swings takes 51 of its width.
    *of("walkways.doorway", "doorway-width", doorway, ok=(900, 900), bad=(812, 812), limit=813,
        naive=Naive((838, "left"), 787, 838, "with the leaf in it")),
    *of("walkways.doorway", "doorway-width", lambda width: doorway(width, "out"), ok=(900, 849), bad=(863, 812),
        limit=864, naive=Naive((850,), 799, 850, "with the leaf in it")),
    # at + 900 - 600.
    *of("walkways.left_of_doorway", "doorway-left-by-units", before_door, ok=(320, 620), bad=(290, 590), limit=300,
        naive=Naive((200,), 500, 900, "as it was surveyed")),
    # 450 + filler + 20; at 88° the front leans in over the 600 in which one stands.
    *of("walkways.beside_dishwasher", "dishwasher-standing-room", near_corner, ok=(100, 570), bad=(63, 533),
        limit=64, naive=Naive((70, 88.0), 540 - 600 * math.tan(math.radians(2)), 540, "along the front")),
    # out - 1193.
    *of("swings.appliance_door", "appliance-opens", oven_before_island, ok=(1300, 107), bad=(1192, -1), limit=1193,
        naive=Naive((1180,), -13, 15, "to the fronts, without their handles")),
    # start - 608, and once it strikes only the 54 up to it.
    *of("swings.door_or_drawer", "doors-and-drawers-open", drawers_in_corner, ok=(620, 12), bad=(607, 54 - 500),
        limit=608, place="drawers of B1 to A1", naive=Naive((600,), 54 - 500, 20, "from front to front")),
    *of("swings.before_open_appliance", "open-appliance-room", oven_before_island, ok=(1600, 407), bad=(1592, 399),
        limit=1593, naive=Naive((1500,), 307, 892, "with the door shut")),
    # 2394 - at - 900 where it is hinged near the larder; else its leaf comes round at 900 from the hinge. It
    # strikes the handle 100 + 554 before wall D, of the leaf's 900.
    *of("swings.room_door", "room-door-swing", hinged_near, ok=(1430, 64), bad=(1495, 654 - 900), limit=1494,
        naive=Naive((1500, "left"), math.hypot(922, 100) - 900, -6, "the square about its leaf",
                    door_and_tall_unit)),
    # 1220 shared.
    *of("seats.width_each", "seat-width", seated, ok=(1, 1220), bad=(3, 1220 / 3), limit=2,
        naive=Naive((2,), 610, 600, "the units without their top")),
    # Less the overhang of 20, front and carcass of 578, and the panel of 18 behind.
    *of("seats.knee_depth", "seat-knees-middle", knees, ok=(1020, 404), bad=(996, 380), limit=997,
        naive=Naive((985,), 369, 387, "to the carcass, without its back panel")),
    # 5000 - out - 880; the back overhangs by 284.
    *of("seats.behind", "behind-seats", sat_behind, ok=(3000, 1120), bad=(3308, 812), limit=3307,
        naive=Naive((3320,), 800, 1084, "from the panel behind the units")),
]  # fmt: skip
