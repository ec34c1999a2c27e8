"""Cases of pipes, of doors beside walls, of taps under slopes and of low sills.

A sink over a unit of 600 from 1000 has its middle at 1300, 300 before wall A; its bowl hangs down to 728, and its
trap's outlet is at 578. Backs stand 2 before the wall.
"""

from tests.model.cases.table import Naive, of
from tests.model.test_checks import SINK, kitchen, let_in, run, unit
from tests.specimens import square

DOORS, BOWL = unit("base-doors", 600), unit("base-sink", 600)


def surveyed(*found, size=6000, **room):
    """A room with services on wall A: kind, how far along, how high."""
    there = ({"kind": kind, "wall": "A", "at": float(at), "height": float(z)} for kind, at, z in found)
    return square(size, services=tuple(there), **room)


def sink_and_waste(at, height=300):
    return kitchen(run(BOWL, start=1000), cutouts=(let_in(SINK, "A1"),), room=surveyed(("waste", at, height)))


def dishwasher_and_water(at):
    """The middle of its back is at 800."""
    return kitchen(run(unit("dishwasher", 600), DOORS), room=surveyed(("water", at, 400)))


def dishwasher_beside_sink():
    """Its side is at 1100, the sink's line begins 60 inside the next unit."""
    row = run(unit("dishwasher", 600), BOWL)
    return kitchen(row, cutouts=(let_in(SINK, "A2"),), room=surveyed(("water", 4000, 400)))


def cooker_and_outlet(at, *more):
    return kitchen(run(unit("cooker", 600), DOORS), room=surveyed(("cooker-outlet", at, 400), *more))


def fridge_at_wall(start, hand="left"):
    return kitchen(run(unit("tall-fridge", hand=hand), DOORS, start=start), room=square(4000))


def tap_under(eaves):
    """The tap is 1204 high, its post 74 to 106 before the wall: the ceiling there is eaves + (2600 - eaves)
    0.037.
    """
    slope = {"wall": "A", "eaves": float(eaves), "run": 2000.0}
    room = square(4000, height=2600.0, slopes=(slope,))
    return kitchen(run(BOWL, start=1000), cutouts=(let_in(SINK, "A1"),), room=room)


def sill(height):
    window = {"kind": "window", "wall": "A", "at": 800.0, "width": 900.0, "sill": float(height), "head": 2000.0}
    return kitchen(run(DOORS, DOORS), room=square(4000, openings=(window,)))


CASES = [
    # |at - 1300| + 300.
    *of("pipes.waste_run", "waste-run", sink_and_waste, ok=(2000, 1000), bad=(5100, 4100), limit=5000,
        naive=Naive((5050,), 4050, 3750, "along the wall alone")),
    # (578 - height) on 1 m.
    *of("pipes.waste_fall", "waste-fall-uk", sink_and_waste, ok=((2000, 500), 78), bad=((2000, 570), 8),
        limit=(2000, 560), naive=Naive((2000, 565), 13, 163, "from the bowl, without its trap")),
    # at - 800 + 2.
    *of("pipes.hose", "machine-hose", dishwasher_and_water, ok=(1500, 702), bad=(2400, 1602), limit=2298,
        naive=Naive((), 60, 3202, "to the water alone", dishwasher_beside_sink)),
    *of("pipes.to_connection", "cooker-connection", cooker_and_outlet, ok=(2000, 1202), bad=(2900, 2102),
        limit=2798, naive=Naive((2900, ("gas", 900, 400)), 2102, 102, "to the nearest of any kind")),
    # To the wall on the side of the hinges.
    *of("swings.beyond_square", "fridge-opens-wide", fridge_at_wall, ok=(80, 80), bad=(30, 30), limit=50,
        naive=Naive((10, "right"), None, 10, "whichever side the hinges are on")),
    *of("cutout.tap_below", "tap-under-slope", tap_under, ok=(1300, 144.1), bad=(1180, 28.5),
        limit=(1254 - 96.2) / 0.963, naive=Naive((1210,), 57.4, 6, "at the wall")),
    # sill - 908.
    *of("units.under_sill", "worktop-under-sill", sill, ok=(950, 42), bad=(800, -108), limit=908,
        naive=Naive((890,), -18, 20, "to the carcass under the top")),
]  # fmt: skip
