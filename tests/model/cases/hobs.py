"""Cases of a hob.

Hob over a unit of 600 that begins at x: rim 590 from x + 5 to x + 595, line 560 from x + 20 to x + 580. The top is
600 deep, its face 908 high; the electric hob's line begins 55 behind the front edge and is 490 deep. The surface of
the electric hob is 5 above the face, that of the gas hob 8.
"""

import math

from tests.model.cases.table import Naive, of
from tests.model.test_checks import GAS, HOB, kitchen, let_in, run, stocked, unit, walls
from tests.specimens import oblong, square

BASE, TALL, COOKER = unit("base-hob", 600), unit("tall-larder", 600), unit("cooker", 600)
BIG = square(4000)
LEAN = 560 * math.tan(math.radians(1.2))
"""What a wall at 88.8° takes at the front of the rim, 560 out."""


def beside_tall(filler):
    row = run(BASE, unit("base-doors", 200), unit("filler", filler), TALL)
    return kitchen(row, cutouts=(let_in(HOB, "A1"),), room=BIG)


def at_wall(start, template=HOB):
    return kitchen(run(BASE, start=start), cutouts=(let_in(template, "A1"),), room=BIG)


def at_leaning_wall(start):
    return kitchen(run(BASE, start=start), cutouts=(let_in(HOB, "A1"),), room={"walls": walls(A=88.8, B=90.0)})


def between_wall_and_tall(start):
    return kitchen(run(BASE, TALL, start=start), cutouts=(let_in(HOB, "A1"),), room=BIG)


def gas_at_wall(start):
    return at_wall(start, GAS)


def line_back(front, *obstacles):
    return kitchen(cutouts=(let_in(HOB, "A3", from_front=front),), room={**square(3000), "obstacles": obstacles})


def covered(front):
    """A gas hob before a panel of laminate, 10 thick, under a top 650 deep."""
    cover = {"wall": "A", "zone": "behind-hob", "material": "panel.10"}
    top = {"stock": "sq40.650", "decor": "pale-oak"}
    hob = let_in(GAS, "A3", from_front=front)
    shallow = stocked(templates={GAS: {"depth": 30.0}})
    return kitchen(cutouts=(hob,), room=BIG, worktop=top, splashbacks=(cover,), catalogue=shallow)


def island(front):
    catalogue = stocked(templates={HOB: {"depth": 30.0}})
    isle = {"name": "I", "wall": "A", "along": 1000.0, "out": 1200.0, "stock": "pf38.900", "units": (BASE,)}
    return kitchen(islands=(isle,), cutouts=(let_in(HOB, "I1", from_front=front),), catalogue=catalogue)


def beside_opening(kind, at):
    """The specimen with a hob over A3, rim 1505 to 2095, and an opening 800 wide."""
    sill = 1050.0 if kind == "window" else 0.0
    opening = {"kind": kind, "wall": "A", "at": float(at), "width": 800.0, "sill": sill, "head": 2000.0}
    return kitchen(cutouts=(let_in(HOB, "A3"),), room={**BIG, "openings": (opening,)})


def under(family, template, bottom, start=1500.0):
    """The specimen with a hob over A3 and one upper unit of 600 whose underside is at ``bottom``."""
    base = run(unit("base-doors", 400), unit("base-sink", 600), BASE)
    upper = run(unit(family, 600), start=start, level="upper")
    return kitchen(
        base, upper, cutouts=(let_in(template, "A3"),), room={**BIG, "height": 2600.0},
        catalogue=stocked({family: {"bottom": float(bottom)}}),
    )  # fmt: skip


def beside_hood(right):
    """A hood of 600 from 1500 + ``right``; the hob's rim is 590 wide, from 1505 to 2095."""
    return under("hood", HOB, 1700.0, 1500.0 + right)


def under_hood(bottom):
    return under("hood", HOB, bottom)


def under_hood_gas(bottom):
    return under("hood", GAS, bottom)


def under_wall_unit(bottom):
    return under("wall-doors", HOB, bottom)


def beside_wall_unit(bottom):
    return under("wall-doors", GAS, bottom, start=2100)


def window_round_the_corner(start):
    """A hob near wall B, in which there is a window from 100 out."""
    window = {"kind": "window", "wall": "B", "at": 100.0, "width": 800.0, "sill": 1050.0, "head": 2000.0}
    return kitchen(run(BASE, start=start), cutouts=(let_in(HOB, "A1"),), room={**BIG, "openings": (window,)})


def under_slope(eaves):
    """A ceiling that rises from ``eaves`` at wall A to 2600 at 2000 before it."""
    room = {**oblong(4000, 4000), "height": 2600.0, "slopes": ({"wall": "A", "eaves": eaves, "run": 2000.0},)}
    return kitchen(run(BASE), cutouts=(let_in(HOB, "A1"),), room=room)


def cooker(filler):
    """A free-standing cooker, a filler and a tall unit: all of its top is hot."""
    row = run(unit("base-doors", 600), COOKER, unit("filler", filler), unit("base-doors", 200), TALL)
    return kitchen(row, room=BIG)


BOXING = {"kind": "pipe-boxing", "wall": "A", "at": 1450.0, "width": 700.0, "depth": 20.0, "bottom": 870.0}

CASES = [
    # 5 + 200 + filler; from the line to cut there are 15 more.
    *of("hob.to_tall_unit", "hob-to-tall-unit", beside_tall, ok=(100, 305), bad=(94, 299), limit=95,
        naive=Naive((85,), 290, 305, "from the line")),
    # A cooker has no rim of its own: 95 + 200. From a hob of 590 in its middle there would be 5 more.
    *of("hob.to_tall_unit", "hob-to-tall-unit", cooker, ok=(120, 320), bad=(96, 296), limit=100,
        naive=Naive((97,), 297, 302, "as if a hob of 590 stood in it")),
    # start + 5; a wall at 88.8° is nearest at the rim's front.
    *of("hob.to_side_wall", "hob-to-side-wall", at_wall, ok=(200, 205), bad=(144, 149), limit=145, place="left",
        naive=Naive((155,), 160, 145, "from the cabinet beside, 15 further left")),
    *of("hob.to_side_wall", "hob-to-side-wall", at_leaning_wall, ok=(3200, 205 - LEAN), bad=(3254, 151 - LEAN),
        limit=3255 - LEAN, place="right", naive=Naive((3250,), 155 - LEAN, 155, "box to box along the wall")),
    *of("hob.to_side", "hob-electric-to-side", at_wall, ok=(100, 105), bad=(44, 49), limit=45, place="left",
        naive=Naive((3345,), 60 - LEAN, 60, "box to box along the wall", at_leaning_wall, "right")),
    *of("hob.to_farther_side", "hob-electric-to-farther-side", between_wall_and_tall, ok=(296, 301),
        bad=(294, 299), limit=295, naive=Naive((285,), 290, 305, "from the line")),
    # The left burner of the gas hob, 120 across, has its middle 140 left of the hob's: its edge is 100 inside.
    *of("hob.burner_to_side", "hob-gas-burner-to-side", gas_at_wall, ok=(101, 201), bad=(99, 199), limit=100,
        place="left", naive=Naive((150,), 250, 155, "from the rim")),
    # 600 - front - 490; behind a boxing 20 deep that much less.
    *of("hob.line_to_wall_behind", "hob-electric-to-wall-behind", line_back, ok=(55, 55), bad=(61, 49), limit=60,
        naive=Naive((55, BOXING), 35, 55, "to the wall behind the boxing")),
    # The burner behind, 120 across, has its middle 110 behind the hob's: 650 - front - 240 - 110 - 60 - 10.
    *of("hob.burner_to_cover", "hob-gas-to-cover", covered, ok=(25, 205), bad=(60, 170), limit=30,
        naive=Naive((28,), 202, 117, "from the rim")),
    # 900 - front - 490, less the 15 by which the rim covers the top.
    *of("hob.behind_on_island", "hob-behind-on-island", island, ok=(165, 230), bad=(167, 228), limit=166,
        naive=Naive((170,), 225, 240, "from the line")),
    # at - 2095; from middle to middle there are 590 / 2 and 800 / 2 more.
    *of("hob.beside_window", "hob-beside-curtain", lambda at: beside_opening("window", at), ok=(2400, 305),
        bad=(2394, 299), limit=2395, naive=Naive((2300,), 205, 900, "centre to centre")),
    # 4000 - start - 595 across to wall B, whose window begins beside the rim; along its own wall there is none.
    *of("hob.beside_window", "hob-beside-curtain", window_round_the_corner, ok=(3000, 405), bad=(3200, 205),
        limit=3105, naive=Naive((3300,), 105, 600, "only windows of the hob's own wall")),
    *of("hob.beside_window", "hob-under-window", lambda at: beside_opening("window", at), ok=(2100, 5),
        bad=(2094, -1), limit=2095, naive=Naive((1800,), -295, 400, "centre to centre")),
    *of("hob.beside_door", "hob-beside-door", lambda at: beside_opening("door", at), ok=(2400, 305),
        bad=(2394, 299), limit=2395, naive=Naive((2300,), 205, 900, "centre to centre")),
    # bottom - 913.
    # What is past the hood: 1500 + right - 1505.
    *of("hob.beyond_hood", "hob-under-hood", beside_hood, ok=(45, 40), bad=(56, 51), limit=55,
        naive=Naive((250,), 245, 0, "whether a hood is over it at all")),
    *of("hob.to_hood", "hob-to-hood", under_hood, ok=(1600, 687), bad=(1522, 609), limit=1523,
        naive=Naive((1520,), 607, 612, "from the worktop")),
    *of("hob.to_unit_above", "hob-to-bare-surface-above", under_wall_unit, ok=(1700, 787), bad=(1674, 761),
        limit=1675, naive=Naive((1672,), 759, 764, "from the worktop")),
    # The ceiling over the rim's back, 40 before the wall: eaves + (2600 - eaves) · 40 / 2000.
    *of("hob.to_unit_above", "hob-to-bare-surface-above", under_slope, ok=(1700, 1718 - 913),
        bad=(1600, 1620 - 913), limit=(1675 - 52) / 0.98,
        naive=Naive((1600,), 707, 1600 + 300 / 2 - 913, "at the middle of the rim, 300 out")),
    # bottom - 916.
    *of("hob.to_anything_above", "hob-gas-clear-above", under_hood_gas, ok=(1700, 784), bad=(1675, 759),
        limit=1676, naive=Naive((1670,), 754, 762, "from the worktop")),
    # bottom - 908: this one is asked for from the worktop.
    *of("hob.worktop_to_unit_beside", "hob-gas-to-wall-unit-beside", beside_wall_unit, ok=(1408, 500),
        bad=(1367, 459), limit=1368, naive=Naive((1373,), 465, 457, "from the hob's surface")),
]  # fmt: skip
