"""Cases of what walls carry, and of windows: floating shelves on their brackets, wall units on walls of studs.

A floating shelf is 250 deep and 40 thick of 350 kg/m³, so 3.5 kg a metre, and 20 kg a metre stand on it; its
brackets are 100 from its ends and at most 400 apart. A wall unit of 600 weighs 21.147 kg: sides 5.223, bottom and
top 4.091,
back 3.024, shelves 3.801, door 5.008; its three levels of 564 by 320 hold 35.194 kg at 65 kg/m².
"""

from countersunk.model.catalogue.family import FloatingShelf, LiftingFrame
from tests.model.cases.table import Naive, of
from tests.model.test_checks import kitchen, run, stocked, unit
from tests.specimens import SQUARE_ROOM, square


def room(kind):
    return {"walls": ({**SQUARE_ROOM[0], "kind": kind}, *SQUARE_ROOM[1:])}


def shelf(width, kind="solid", solid=15.0):
    catalogue = stocked({"floating-shelf": {"floats": FloatingShelf(solid=solid)}})
    hung = run(unit("floating-shelf", width), level="upper")
    return kitchen(run(unit("base-doors", 600)), hung, room=room(kind), catalogue=catalogue)


def hung(kind, height=720.0):
    wall_unit = unit("wall-doors", 600, to_size=height != 720.0, height=height if height != 720.0 else None)
    return kitchen(run(unit("base-doors", 600)), run(wall_unit, level="upper"), room=room(kind))


def bar(carries=40.0, reach=240.0, stock="pf38.900"):
    """An island of 1200 with a top 1220 long and 284 past the panel behind its units."""
    isle = {"name": "I", "wall": "A", "along": 800.0, "out": 1500.0, "stock": stock, "arms": "arm.240",
            "units": (unit("base-doors", 600),) * 2}  # fmt: skip
    arms = {"arm.240": {"carries": float(carries), "reach": float(reach)}}
    return kitchen(run(unit("base-doors", 600)), islands=(isle,), catalogue=stocked(arms=arms))


def off_wall(out=1000):
    """A wall unit 600 wide, ``out`` before wall A and over a breast 400 deep."""
    breast = {"kind": "chimney-breast", "wall": "A", "at": 1500.0, "width": 1000.0, "depth": 400.0}
    upper = {**run(unit("wall-doors", 600), level="upper", start=1700), "out": float(out)}
    return kitchen(run(unit("base-doors", 600)), upper, room=square(3000.0, obstacles=(breast,)))


FULL = 650 * 0.018 * (
    2 * 0.720 * 0.310 + 2 * 0.564 * 0.310 + 2 * 0.562 * 0.289 + 0.597 * 0.717 + 0.600 * 0.720
) + 700 * 0.010 * 0.600 * 0.720 + 3 * 65 * 0.564 * 0.320  # fmt: skip
"""A full wall unit with a panel behind it, kg: sides, bottom and top, shelves, door, panel; back; three levels."""


def reveal(sill, swing="left"):
    """A top 38 thick over units of 870 that runs into the reveal of a window."""
    window = {"kind": "window", "wall": "A", "at": 700.0, "width": 600.0, "sill": float(sill), "head": 2000.0,
              "swing": swing, "reveal": 120.0, "top_in": True}  # fmt: skip
    units = (unit("base-doors", 600),) * 3
    return kitchen(run(*units), room={**room("solid"), "openings": (window,)})


def lifted(width=1200, bottom=1408, carries=100.0):
    """A top 20 longer than its frame, 600 deep and 38 thick, under a wall unit; it goes up to 950 underneath."""
    lifts = LiftingFrame(carries=float(carries))
    catalogue = stocked({"top-lift": {"lifts": lifts}, "wall-doors": {"bottom": float(bottom)}})
    return kitchen(run(unit("top-lift", width)), run(unit("wall-doors", 600), level="upper"), catalogue=catalogue)


def tiled(width, ceiling=2400):
    """Tiles of 600 by 300 from the left, ``width`` along a wall and from the top at 908 to the ceiling."""
    zone = {"wall": "A", "zone": "full-height", "material": "tile.600x300", "start": 500.0, "datum": "left"}
    cover = {**zone, "end": 500.0 + width}
    walls = {"walls": SQUARE_ROOM, "height": float(ceiling)}
    return kitchen(run(*(unit("base-doors", 600),) * 3), room=walls, splashbacks=(cover,))


def pane(at, up=1600):
    """Glass of 6 from 500 to 1500 along a wall with a socket ``at`` mm from its left edge."""
    cover = {"wall": "A", "zone": "full-height", "material": "pane.6", "start": 500.0, "end": 1500.0}
    socket = {"kind": "socket", "wall": "A", "at": 500.0 + at, "height": float(up)}
    walls = {"walls": SQUARE_ROOM, "services": (socket,)}
    return kitchen(run(*(unit("base-doors", 600),) * 3), room=walls, splashbacks=(cover,))


CASES = [
    # Two tiles and a joint are 1202. 102 more are a strip of 100, in each of five rows; the fifth is 284 high.
    *of("covers.slivers", "tile-slivers", tiled, ok=None, bad=((1304,), 5), limit=(1202,),
        naive=Naive((1202, 2196), 2, 0, "along the wall alone")),
    # A box of 68 and 12 for glass of 6.
    *of("covers.hole_spare", "glass-holes", pane, ok=((100,), 54), bad=((40,), -6), limit=(46,),
        naive=Naive((40,), -6, 28, "from the middle of the hole")),
    # 1220 by 600 by 38 of 600 kg/m³ less two noses of 7.7 mm² are 16.68 kg, and 36.6 kg are on it.
    *of("lift.spare", "lift-carries", lifted, ok=((), 46.72), bad=((1200, 1408, 50), -3.28),
        limit=(1200, 1408, 53.28),
        naive=Naive((1200, 1408, 50), -3.28, 50 - 16.68, "the top alone")),
    # Its face goes up to 988.
    *of("lift.clear_above", "lift-clear-above", lifted, ok=((1200, 1408), 420), bad=((1200, 1100), 112),
        limit=(1200, 1108),
        naive=Naive((1200, 1100), 112, 1100 - 908, "the height at which it is drawn")),
    # A sash begins 60 over the sill, and the face of the top is at 908.
    *of("units.under_sash", "reveal-under-sash", reveal, ok=((860,), 12), bad=((840,), -8), limit=(853,),
        naive=Naive((840, "out"), None, -8, "a sash that opens outwards")),
    # What is on the breast hangs from no ceiling.
    *of("hung.from_ceiling", "hung-from-ceiling", off_wall, ok=None, bad=((), FULL), limit=400,
        naive=Naive((410,), 0, FULL, "whatever is off its wall, before a breast too")),
    # The top past the units, 1220 by 284 by 38 of 600 kg/m³, is 7.90 kg, and 61 kg lean on it. Three arms, at 150,
    # 600 and 1050, carry 22.97 each.
    *of("hung.arm_spare", "top-arms-carry", bar, ok=((), 17.03), bad=((20,), -2.97), limit=(22.97,),
        naive=Naive((), 17.03, 40.0 - 68.9, "all of it on one arm")),
    # 600 long: two brackets with (2.1 + 12) / 2 = 7.05 each. 900 long: three with (3.15 + 18) / 3 = 7.05.
    *of("hung.bracket_spare", "shelf-brackets-carry", shelf, ok=((600,), 7.95), bad=((600, "stud"), -1.05),
        limit=(600, "solid", 7.05),
        naive=Naive((900,), 7.95, 15.0 - 21.15, "the whole shelf on one bracket")),
    # 100 kg a metre are 60 on 600; 40 are 24. Each mm of height is 0.018439 kg more, so that 918.4 are 60.0 kg.
    *of("hung.wall_spare", "stud-wall-carries", hung, ok=(("boarded",), 3.659), bad=(("stud",), -32.341),
        limit=("boarded", 918.4),
        naive=Naive(("stud",), -32.341, 24.0 - 21.147, "the empty unit")),
]  # fmt: skip
