"""Cases of what lies beneath, of units and of sockets.

Units stand on legs of 150 and reach 870, the top's face is 908 high; carcass boards are 18. A hob's rim lies from
1005 to 1595, a sink's from 1050 to 1550, 40 and 50 before wall A.
"""

import math

from tests.model.cases.table import Naive, of
from tests.model.test_checks import HOB, SINK, kitchen, let_in, run, stocked, unit, walls
from tests.specimens import square

SINE = math.sin(math.radians(67.5))
"""Of half of 135°."""

DOORS, OVEN = unit("base-doors", 600), unit("base-oven")


def over_drawers(depth):
    """The uppermost drawer's box ends 35 under the carcass's top, at 835; its front, beside the hob, at 868.5."""
    catalogue = stocked({"base-drawers": {"rails": "edge"}}, templates={HOB: {"depth": float(depth)}})
    return kitchen(run(unit("base-drawers", 600)), cutouts=(let_in(HOB, "A1"),), catalogue=catalogue)


def over_shelf():
    return kitchen(run(unit("base-hob", 600)), cutouts=(let_in(HOB, "A1"),))


def over_oven(depth):
    """The oven's body begins on its shelf at 280 and is 576 high; its face goes up to 866, before the hob."""
    return kitchen(
        run(OVEN), cutouts=(let_in(HOB, "A1"),), catalogue=stocked(templates={HOB: {"depth": float(depth)}})
    )


def over_dishwasher(depth):
    """A flat hob over an appliance whose body and door end at 865."""
    catalogue = stocked(templates={HOB: {"depth": float(depth)}})
    return kitchen(run(unit("dishwasher", 600)), cutouts=(let_in(HOB, "A1"),), catalogue=catalogue)


def sink_over_shelf(depth):
    """A shelf of 18 in the middle between 168 and 852: its top is at 519."""
    catalogue = stocked(templates={SINK: {"depth": float(depth)}})
    return kitchen(run(unit("base-hob", 600)), cutouts=(let_in(SINK, "A1"),), catalogue=catalogue)


def sink_over_oven(depth):
    """Under a top as thick as 200, so that there can be room at all: the oven's body ends at 856."""
    catalogue = stocked(
        templates={SINK: {"depth": float(depth), "from_front": 45.0}}, stocks={"pf38.600": {"thickness": 200.0}}
    )
    return kitchen(run(OVEN), cutouts=(let_in(SINK, "A1"),), catalogue=catalogue)


def drainer_over_dishwasher():
    """The line, 840 wide, reaches from 580 to 1420; its bowl is left, over the unit, the appliance right."""
    row = run(unit("base-sink", 800), unit("dishwasher", 600))
    return kitchen(row, cutouts=(let_in("sink.bowl-drainer", "A1", shift=100),))


def bowl(shift):
    """440 wide in a unit that is 564 inside; the line is 20 wider on either side."""
    return kitchen(run(unit("base-sink", 600)), cutouts=(let_in(SINK, "A1", shift=shift),))


def beside_wing(angle, start):
    """A square L-shaped corner unit, 900 along either wall and 2 off them, and a unit beside its wing."""
    a = {"wall": "A", "units": (unit("base-doors", 400), {**unit("base-l-corner", 900), "hand": "right"})}
    b = {"wall": "B", "units": (DOORS,), **({} if start is None else {"start": start})}
    return kitchen(a, b, room={"walls": walls(A=angle, B=90.0)})


def bent(apart):
    """Two rows in a corner of 135°, each ``apart`` from where their fronts, 580 off the walls, would meet."""
    short = 580 * math.tan(math.radians(22.5)) + apart
    rows = run(DOORS, start=4000 - 600 - short), run(DOORS, wall="B", start=short)
    return kitchen(*rows, room={"walls": walls(A=135.0, B=90.0)})


def under_ceiling(left, right=None):
    """A box 600 wide that ends at 2368, from 500 to 1100 along a wall whose ceiling was read there."""
    heights = zip((500.0, 1100.0), (left, left if right is None else right), strict=True)
    read = tuple({"wall": "A", "at": at, "height": float(high)} for at, high in heights)
    boxes = {**run(unit("top-box", 600), level="upper"), "to_ceiling": True}
    return kitchen(run(unit("tall-larder", 600)), boxes, room=square(3000.0, height=2450.0, ceiling=read))


def on_legs(legs):
    return kitchen(run(DOORS), catalogue=stocked({"base-doors": {"legs": float(legs)}}))


def wall_unit(**fields):
    catalogue = stocked({"wall-doors": {name: float(size) for name, size in fields.items()}})
    return kitchen(run(DOORS), run(unit("wall-doors", 600), level="upper"), catalogue=catalogue, wheelchair=True)


def lower_neighbour(height):
    low = {**unit("wall-doors", 600), "to_size": True, "height": float(height)}
    return kitchen(run(DOORS), run(unit("wall-doors", 600), low, level="upper"), fronts={"decor": "sage"})


def shelved(depth):
    """Two units of 1000 with nine shelves each, and their bottoms."""
    catalogue = stocked(
        {"base-doors": {"depth": float(depth), "shelves": 9}}, stocks={"pf38.600": {"depth": 650.0}}
    )
    return kitchen(run(*[unit("base-doors", 1000)] * 2), catalogue=catalogue)


def bar(*widths):
    """Knee spaces side by side, each with a panel of 18 at its left."""
    knees = [unit("bar-panel", width) for width in widths]
    return kitchen(
        run(unit("base-doors", 400), *knees, unit("base-doors", 400)), room=square(4000), wheelchair=True
    )


def services(*found):
    return tuple({"kind": "socket", "wall": "A", "at": float(at), "height": float(z)} for at, z in found)


def hob_and_socket(at, height=1100):
    row = run(unit("base-hob", 600), start=1000)
    return kitchen(row, cutouts=(let_in(HOB, "A1"),), room=square(4000, services=services((at, height))))


def cooker_and_socket(at):
    """All of a cooker is hot: from 1000 on, from its back at 2 before the wall."""
    row = run(unit("cooker", 600), DOORS, start=1000)
    return kitchen(row, room=square(4000, services=services((at, 1100))))


def sink_and_socket(at, height=1100):
    row = run(unit("base-sink", 600), start=1000)
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), room=square(4000, services=services((at, height))))


def counter(*at):
    """The top lies from 490 to 1710."""
    return kitchen(run(DOORS, DOORS), room=square(4000, services=services(*((x, 1100) for x in at))))


def socket_at(height):
    return kitchen(run(DOORS), room=square(4000, services=services((1000, height))))


CASES = [
    # 908 - depth - 835.
    *of("beneath.hob_to_drawer", "hob-over-drawer", over_drawers, ok=(50, 23), bad=(54, 19), limit=53,
        naive=Naive((50,), 23, -10.5, "to the highest of the drawer, its front")),
    *of("beneath.hob_to_boards", "hob-ventilation", over_drawers, ok=(50, 23), bad=(54, 19), limit=53,
        naive=Naive((), 858 - 519, -12, "to the highest of the unit, its rails beside the hob", over_shelf)),
    # 908 - depth - 856.
    *of("beneath.hob_to_oven", "hob-over-oven", over_oven, ok=(40, 12), bad=(43, 9), limit=42,
        naive=Naive((40,), 12, 2, "to the oven's face")),
    # 908 - depth - 865; over an oven there is no other appliance.
    *of("beneath.hob_to_appliance", "hob-over-appliance", over_dishwasher, ok=(20, 23), bad=(24, 19), limit=23,
        naive=Naive((45,), None, 908 - 45 - 856, "to any appliance, an oven too", over_oven)),
    # 908 - depth - 519.
    *of("beneath.sink_to_anything", "sink-waste-beneath", sink_over_shelf, ok=(180, 209), bad=(240, 149), limit=239,
        naive=Naive((300,), 89, 351, "from the top's underside")),
    # 1070 - depth - 856. A drainer over a dishwasher is no bowl over it.
    *of("beneath.sink_over_appliance", "sink-over-appliance", sink_over_oven, ok=(60, 154), bad=(65, 149),
        limit=64, naive=Naive((), None, 908 - 180 - 865, "from the bowl's depth anywhere under the rim",
                              drainer_over_dishwasher)),
    # (564 - 440) / 2 - shift.
    *of("beneath.bowl_to_sides", "sink-bowl-to-sides", bowl, ok=(0, 62), bad=(-43, 19), limit=42,
        naive=Naive((30,), 32, 12, "from the line")),
    # 720 + legs.
    *of("units.off_coordinating_height", "unit-coordinating-height", on_legs, ok=None, bad=(151, 1), limit=150,
        naive=Naive((112,), 12, 0, "with the top, 870")),
    *of("units.plinth_height", "unit-plinth-height", on_legs, ok=(150, 150), bad=(99, 99), limit=100,
        naive=Naive((90,), 90, 108, "to the floor of the unit")),
    # A front of 18 before the carcass.
    *of("units.wall_unit_depth", "wall-unit-depth", lambda depth: wall_unit(depth=depth), ok=(320, 338),
        bad=(383, 401), limit=382, naive=Naive((390,), 408, 390, "the carcass")),
    # What of a wall unit 720 high shows above its neighbour, which hangs level with it.
    *of("units.white_side", "white-side", lower_neighbour, place="AU1, right", ok=(700, 20), bad=(400, 320),
        limit=670, naive=Naive((400,), 320, 0, "at the ends of a row alone", place="AU1, right")),
    *of("units.wall_unit_base", "wall-unit-reach", lambda bottom: wall_unit(bottom=bottom), ok=(1150, 1150),
        bad=(1201, 1201), limit=1200, naive=Naive((1300,), 1300, 392, "from the worktop")),
    # 2 · 1000 · 10 · depth / 304.8.
    *of("units.storage_frontage", "storage-small", shelved, ok=(560, 20_000 * 560 / 304.8),
        bad=(540, 20_000 * 540 / 304.8), limit=35_560 * 304.8 / 20_000,
        naive=Naive((560,), 20_000 * 560 / 304.8, 18_000 * 560 / 304.8, "without the bottoms")),
    # width - 18.
    *of("units.knee_space", "knee-space-wheelchair", bar, ok=(800, 782), bad=(779, 761), limit=780,
        naive=Naive((500, 500), 482, 964, "all knee spaces together")),
    # At 90° the wing ends at 902. At 88° the units touch in front, and 20.1 gape behind.
    *of("units.beside_wing", "wedge-beside-wing", beside_wing, ok=((90.0, 903.0), 1), bad=((90.0, 906.0), 4),
        limit=(90.0, 905.0), naive=Naive((88.0, None), 0, 578 * math.sin(math.radians(2)), "behind, at the wall")),
    # The base of a triangle with two sides of that length and 135° between them.
    *of("units.in_bend", "open-bend", bent, ok=(1.5, 3 * SINE), bad=(2, 4 * SINE), limit=1.5 / SINE,
        naive=Naive((1.7,), 3.4 * SINE, 1.7, "along one wall")),
    # The lower end less 2368; one end less the other.
    *of("units.under_ceiling", "ceiling-filler-height", under_ceiling, ok=(2400, 32), bad=(2380, 12), limit=2388,
        naive=Naive((2400, 2380), 12, 22, "in the middle")),
    *of("units.ceiling_falls", "ceiling-falls", under_ceiling, ok=((2400, 2398), 2), bad=((2388, 2400), 12),
        limit=(2400, 2395), naive=Naive((2440, 2440), 0, 10, "below the room's height")),
    # Across to the rim, 40 before the wall, and to a cooker's back, 2 before it.
    *of("services.to_hob", "socket-to-hob", hob_and_socket, ok=(855, math.hypot(150, 40)),
        bad=(865, math.hypot(140, 40)), limit=1005 - math.sqrt(150**2 - 40**2),
        naive=Naive((860,), math.hypot(145, 40), 145, "along the wall")),
    *of("services.to_hob", "socket-to-hob", cooker_and_socket, ok=(800, math.hypot(200, 2)),
        bad=(855, math.hypot(145, 2)), limit=1000 - math.sqrt(150**2 - 2**2),
        naive=Naive((852,), math.hypot(148, 2), 153, "as if a hob of 590 stood in the cooker")),
    *of("services.to_sink", "socket-to-sink", sink_and_socket, ok=(750, math.hypot(300, 50)),
        bad=(760, math.hypot(290, 50)), limit=1050 - math.sqrt(300**2 - 50**2),
        naive=Naive((752,), math.hypot(298, 50), 298, "along the wall")),
    *of("services.low_to_sink", "socket-in-sink-zone", sink_and_socket, ok=(900, math.hypot(150, 50)),
        bad=(1300, 50), limit=1050 - math.sqrt(150**2 - 50**2),
        naive=Naive((1300, 1309), None, 50, "however high over the sink")),
    *of("services.along_counter", "counter-receptacles", counter, ok=((500, 1700), 600), bad=((491, 1711), 610),
        limit=(492, 1710), naive=Naive((600,), 1110, 500, "from the middle of the counter")),
    *of("services.height", "socket-height-high", socket_at, ok=(1100, 1100), bad=(1201, 1201), limit=1200,
        naive=Naive((1250,), 1250, 342, "from the worktop")),
]  # fmt: skip
