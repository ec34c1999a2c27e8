"""Cases of worktops: cut-outs, support, stock, what holds them, who lifts them, the way in, wall and survey.

The specimen's row is A1 400, A2 600, A3 600 from x = 500; the top overhangs the free ends by 10, so that it is 1620
long, 600 deep and 38 thick; its face is 908 high. The sink's line is 480 x 480 with corners of 20, its rim 500 x
500; the hob's line is 560 x 490, its rim 590 x 520.
"""

import math
from dataclasses import replace

from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import build
from tests.model.cases.table import Naive, of
from tests.model.test_checks import HOB, SINK, kitchen, let_in, overhang, run, stocked, unit
from tests.specimens import cornered, document, square

DOORS, SINK_UNIT, HOB_UNIT = unit("base-doors", 600), unit("base-sink", 600), unit("base-hob", 600)
DISHWASHER, TALL = unit("dishwasher", 600), unit("tall-larder", 600)
SHALLOW = stocked(templates={SINK: {"depth": 30.0}, HOB: {"depth": 30.0}})
"""Sink and hob that hang no deeper than the top is thick, so that no rail is in their way."""


def two_cutouts(shift):
    row = run(SINK_UNIT, unit("base-doors", 200), HOB_UNIT)
    return kitchen(row, cutouts=(let_in(SINK, "A1", shift=shift), let_in(HOB, "A3")))


def joined(shift, female="B"):
    """A sink in the last unit on wall A (1780 to 2380), next to the join of two tops 600 deep."""
    cutout = {"template": SINK, "over": "A2", "shift": float(shift)}
    return build(edited(cornered(90.0, female=female), {"cutouts": (cutout,)}), SHALLOW)


def line_at(front):
    return kitchen(cutouts=(let_in(HOB, "A3", from_front=front),), catalogue=SHALLOW)


def near_end(shift):
    return kitchen(run(SINK_UNIT, DOORS), cutouts=(let_in(SINK, "A1", shift=shift),))


def round_by(radius):
    return kitchen(cutouts=(let_in(HOB, "A3"),), catalogue=stocked(templates={HOB: {"radius": float(radius)}}))


def typed_by(radius):
    hob = {"kind": "hob", "line": (500.0, 450.0), "radius": float(radius), "depth": 30.0, "over": "A3"}
    return kitchen(cutouts=(hob,))


def over_side(shift):
    return kitchen(cutouts=(let_in(SINK, "A2", shift=shift),))


def on_legs(legs):
    return kitchen(run(DOORS), catalogue=stocked({"base-doors": {"legs": float(legs)}}))


def on_two_legs(first, second=300):
    """Two tops of different heights, on units of two families, for somebody in a wheelchair."""
    legs = {"base-doors": {"legs": float(first)}, "base-drawers": {"legs": float(second)}}
    rows = run(DOORS), run(unit("base-drawers", 600), wall="B", start=1500)
    return kitchen(*rows, catalogue=stocked(legs), wheelchair=True)


def deep(depth):
    return kitchen(catalogue=stocked(stocks={"pf38.600": {"depth": float(depth)}}))


def under_wall_unit(bottom):
    upper = run(unit("wall-doors", 600), start=600, level="upper")
    return kitchen(run(DOORS), upper, catalogue=stocked({"wall-doors": {"bottom": float(bottom)}}))


def hung_over_hob(bottom):
    upper = run(unit("wall-doors", 600), start=500, level="upper")
    catalogue = stocked({"wall-doors": {"bottom": float(bottom)}})
    return kitchen(run(HOB_UNIT), upper, cutouts=(let_in(HOB, "A1"),), catalogue=catalogue)


def ends(past):
    return kitchen(worktop=overhang(ends=past))


def clipped(size):
    """The right end's front corner lies 10 past A3 and 20 before it; a clip takes ``size`` off both edges."""
    return kitchen(worktop={**overhang(), "corners": ({"over": "A3", "end": "right", "clip": float(size)},)})


def dishwasher_at_end():
    return kitchen(run(DISHWASHER, unit("base-doors", 400)))


def shallow(depth):
    return kitchen(run(DOORS, unit("base-doors", 600, depth=depth, to_size=True)))


def low(height, legs=150):
    """A carcass on its legs beside one of 720 on legs of 150, under one top."""
    lower = {"base-hob": {"height": float(height), "legs": float(legs)}}
    return kitchen(run(DOORS, HOB_UNIT), catalogue=stocked(lower))


def front(past):
    return kitchen(worktop=overhang(front=past, stock="pf38.900"))


def island_back(past_front):
    """900 deep over a back of 18, a carcass of 560 and a front of 18: 304 for both overhangs."""
    isle = {
        "name": "I",
        "wall": "A",
        "along": 1000.0,
        "out": 1500.0,
        "stock": "pf38.900",
        "units": (DOORS,),
    }
    return kitchen(run(TALL), islands=(isle,), worktop=overhang(front=past_front))


def over_appliances(*more):
    return kitchen(run(unit("base-doors", 400), DISHWASHER, *more, unit("base-doors", 400)))


def filled(width):
    return over_appliances(unit("filler", width))


def of_stock(longest):
    return kitchen(catalogue=stocked(stocks={"pf38.600": {"lengths": (1000.0, float(longest))}}))


def of_oak(gap):
    """Oak 620 deep: 620 · 0.00365 · 4 is 9.052."""
    return kitchen(run(DOORS), worktop=overhang(stock="oak40.620"), allowances={"expansion": gap})


def engineered(silica):
    """A top of engineered stone whose sheet says how much silica is in it."""
    own = stocked(stocks={"engineered20": {"silica": silica}})
    return kitchen(run(DOORS), worktop=overhang(stock="engineered20"), catalogue=own)


def of_core(core):
    return kitchen(run(DOORS), worktop=overhang(stock=core))


def stone_island(deep):
    """Units 560 deep with a front and a back of 18 under stone that stands 20 past the fronts."""
    island = {"name": "I", "wall": "A", "along": 900.0, "out": 1400.0, "stock": "granite30",
              "top_depth": float(deep), "units": (DOORS, DOORS)}  # fmt: skip
    return kitchen(run(DOORS), islands=(island,))


def join_near_appliance(width):
    """The joint begins at (2400, 600); the dishwasher's right front corner is at (2380 - width, 580)."""
    row = run(DOORS, DISHWASHER, unit("filler", width), start=1180 - width)
    worktop = {**overhang(), "joins": ({"corner": "A-B", "female": "B", "notch": 15.0},)}
    return kitchen(row, run(DOORS, wall="B", start=620), worktop=worktop)


def weighing(mass):
    """The specimen's top, 1620 x 600 x 38, as dense as makes it weigh so much."""
    density = mass / (1.620 * 0.600 * 0.038)
    return kitchen(catalogue=stocked(stocks={"pf38.600": {"density": density}}))


def pierced(density):
    return kitchen(cutouts=(let_in(SINK, "A2"),), catalogue=stocked(stocks={"pf38.600": {"density": density}}))


def cornering(angle):
    return build(cornered(angle))


def screwed(thickness):
    catalogue = stocked(stocks={"pf38.600": {"thickness": float(thickness), "nose": 4.0}})
    return kitchen(run(DOORS), catalogue=catalogue)


def rimmed(width, depth):
    catalogue = stocked(templates={SINK: {"rim": (float(width), float(depth))}})
    return kitchen(run(SINK_UNIT), cutouts=(let_in(SINK, "A1"),), catalogue=catalogue)


def stationed(count):
    """A mitre with so many biscuits and bolts, which lie in turn and begin with a biscuit."""
    built = build(cornered(90.0))
    places = tuple(50.0 + 60.0 * i for i in range(int(count)))
    return replace(built, joins=tuple(replace(join, stations=places) for join in built.joins))


def in_line(at):
    """Three units of 600 from 500 on, their top joined in line; sides of units lie at 1082 to 1118."""
    worktop = {**overhang(), "in_line": ({"run": "A", "at": float(at)},)}
    return kitchen(run(DOORS, DOORS, DOORS), worktop=worktop)


def lifted(density):
    return kitchen(run(DOORS, DOORS), catalogue=stocked(stocks={"pf38.600": {"density": float(density)}}))


def through_a_turn(size):
    """A top ``size`` long, to be carried round a right-angled turn of a corridor 900 wide and 1000 high."""
    units = [unit("base-doors", w) for w in (600, 600, 600, 400)]
    access = (
        {"corridor": {"width": 900.0, "height": 1000.0}},
        {"turn": {"to": "left"}},
        {"corridor": {"width": 900.0, "height": 1000.0}},
    )
    return kitchen(run(*units, unit("filler", size - 2220), start=100), room=square(4000), access=access)


def hollow(deepest):
    """A wall hollow by so much in its middle, at the end of the second of three units."""
    half = deepest / 2
    bow = {"every": 750.0, "offsets": (0.0, half, float(deepest), half, 0.0)}
    wall = {"name": "A", "length": 3000.0, "corner": 90.0, "bow": bow}
    others = ({"name": n, "length": 3000.0, "corner": 90.0} for n in "BCD")
    return build(document(room={"walls": (wall, *others)}))


def in_niche(spare):
    """Units between two walls that lean in at 89.5°, with ``spare`` mm of the wall behind left over."""
    sides = (("Z", 2000.0, 89.5), ("A", 2400.0 + spare, 89.5), ("B", 2000.0, None))
    named = ({"name": n, "length": d, "corner": c} for n, d, c in sides)
    room = {"walls": tuple({k: v for k, v in wall.items() if v is not None} for wall in named)}
    return kitchen(run(*[DOORS] * 4, start=spare / 2), room=room)


def read_twice(spare):
    """The same with the wall behind and both corners read twice."""
    again = (
        {"wall": "A", "length": 2400.0 + spare},
        {"corner": "Z-A", "angle": 89.5},
        {"corner": "A-B", "angle": 89.5},
    )
    return build(edited(in_niche(spare).document, {"room.measured": again}))


def misread(off):
    """A square room with both diagonals, of which wall A is read ``off`` too long."""
    room = square(3000.0, diagonals=tuple({"from": a, "to": b, "length": 3000 * math.sqrt(2)} for a, b in ACROSS))
    walls = tuple({**w, "length": w["length"] + off * (w["name"] == "A")} for w in room["walls"])
    return kitchen(room={**room, "walls": walls})


ACROSS = (("A-B", "C-D"), ("B-C", "D-A"))


def misclosed(off):
    """A square room without diagonals of which wall A is read ``off`` too long."""
    room = square(3000.0)
    walls = tuple({**w, "length": w["length"] + off * (w["name"] == "A")} for w in room["walls"])
    return kitchen(room={**room, "walls": walls})


def on_open_wall(start):
    """Units from ``start`` along a wall of which nothing is known at its left end."""
    return kitchen(run(DOORS, DOORS, start=start), room={"walls": ({"name": "A", "length": 3000.0},)})


LEAN = 2 * 580 / math.tan(math.radians(89.5))
"""What two walls at 89.5° take before the fronts, 580 out."""
PER_DEGREE = 580 / math.sin(math.radians(89.5)) ** 2 * math.pi / 180
DOUBT = 2 * math.hypot(1.5, PER_DEGREE * 0.15, PER_DEGREE * 0.15)
"""± 3 mm along the wall and ± 0.3° at two corners, each taken as two standard deviations."""
HIDES = 4.1321 * 0.15 / math.sqrt(0.5) * PER_DEGREE / 2
"""Of a corner read twice each has half to say and a redundancy of 0.5: 4.132 σ / √0.5 of it is found four times in
five at 0.1 %. The wall's own, 4.132 · 1.5 / √0.5 / 2 = 4.38, is less.
"""
TURN = 2 * (870 * math.sqrt(2) - 68)
"""Longest on edge round the turn: the inner corner is 900·√2 from the outer; a board at 45° whose ends lie 30 off
the outer walls reaches 30·√2 + half its length + 38 from it, and 30 are kept for the hand."""

CASES = [
    # Lines end 60 inside the sink's unit and begin 20 inside the hob's, 200 between; rims are 10 and 15 nearer.
    *of("cutout.to_cutout", "cutout-to-cutout", two_cutouts, ok=(0, 280), bad=(31, 249), limit=30,
        naive=Naive((20,), 260, 235, "from rim to rim")),
    # The male ends at 3000 - 585 = 2415 over most of its depth, the line at 2320 + shift. The female's shoulder
    # begins at (2400, 600), the line's corner is round about (2300, 520): hypot(100, 80) - 20.
    *of("cutout.to_join", "cutout-to-join", joined, ok=(-10, 105), bad=(0, 95), limit=-5,
        naive=Naive((0, "A"), math.hypot(100, 80) - 20, 80, "along the front alone")),
    *of("cutout.to_front_edge", "cutout-to-front-edge", line_at, ok=(55, 55), bad=(49, 49), limit=50,
        naive=Naive((60,), 60, 40, "from the fronts, 20 behind the edge")),
    # 600 - front - 490; the rim is 15 nearer.
    *of("cutout.to_back_edge", "cutout-to-back-edge", line_at, ok=(55, 55), bad=(61, 49), limit=60,
        naive=Naive((55,), 55, 40, "from the rim")),
    # The line begins 60 inside the unit, the top 10 before it.
    *of("cutout.to_end", "cutout-to-end", near_end, ok=(40, 110), bad=(29, 99), limit=30, place="left end",
        naive=Naive((35,), 105, 95, "from the unit's side")),
    *of("cutout.corner_radius", "cutout-corner-radius", round_by, ok=(5, 5), bad=(2.9, 2.9), limit=3,
        naive=Naive((2,), 2, 4, "the drill's diameter")),
    *of("cutout.typed_corner_radius", "cutout-corner-radius-better", typed_by, ok=(12, 12), bad=(9, 9), limit=10,
        naive=Naive((5,), None, 5, "of an article of the catalogue as well", round_by)),
    # 60 to the unit's outside, of which the side takes 18.
    *of("cutout.to_unit_sides", "cutout-over-unit-sides", over_side, ok=(0, 42), bad=(43, -1), limit=42,
        naive=Naive((50,), -8, 10, "to the outside of the unit")),
    # Legs, a carcass of 720 and a top of 38.
    *of("worktop.height", "worktop-height-high", on_legs, ok=(150, 908), bad=(193, 951), limit=192,
        naive=Naive((200,), 958, 920, "the unit without its top")),
    *of("worktop.lowest", "worktop-height-wheelchair", on_two_legs, ok=(100, 858), bad=(106, 864), limit=105,
        naive=Naive((150, 100), 858, 908, "the first top, though one low surface is enough")),
    *of("worktop.depth", "worktop-depth", deep, ok=(616, 616), bad=(599, 599), limit=600,
        naive=Naive((610,), 610, 590, "to the fronts, 20 behind the edge")),
    # bottom - 908.
    *of("worktop.to_wall_unit", "wall-unit-over-worktop", under_wall_unit, ok=(1408, 500), bad=(1357, 449),
        limit=1358, naive=Naive((1340,), 432, 470, "from the top of the unit beneath")),
    *of("worktop.up_to_wall_unit", "wall-unit-within-reach", under_wall_unit, ok=(1358, 450), bad=(1409, 501),
        limit=1408, naive=Naive((1608,), None, 700, "over a hob as well", hung_over_hob)),
    *of("worktop.end_overhang", "worktop-end-overhang-laminate", ends, ok=(10, 10), bad=(151, 151), limit=150,
        place="left end", naive=Naive((), 610, 10, "past the last unit, an appliance that carries nothing",
                                      dishwasher_at_end)),
    *of("worktop.front_overhang", "worktop-front-overhang", front, ok=(140, 140), bad=(151, 151), limit=150,
        naive=Naive((140,), 140, 158, "past the carcass")),
    # 580 - depth: fronts of 18, 2 behind the deepest carcass of 560, and a top of 600.
    *of("worktop.over_shallow_unit", "worktop-over-shallow-unit", shallow, ok=(440.0, 140), bad=(429.0, 151),
        limit=430.0, naive=Naive((440.0,), 140, 158, "past the carcass")),
    *of("worktop.over_low_unit", "worktop-over-low-unit", low, ok=(716, 4), bad=(714, 6), limit=715,
        naive=Naive((712, 158), None, 8, "carcass against carcass, without their legs")),
    # A line x + y = size from the top's corner; the unit's corner has x + y = 30.
    *of("worktop.end_cover", "worktop-covers-ends", clipped, ok=(20, 10 / math.sqrt(2)),
        bad=(44, -14 / math.sqrt(2)), limit=30, place="right end", naive=Naive((34,), -4 / math.sqrt(2), 10,
                                                                 "past the unit's side alone")),
    # 304 - past_front.
    *of("worktop.back_overhang", "island-back-overhang-laminate", island_back, ok=(200, 104), bad=(153, 151),
        limit=154, naive=Naive((160,), 144, 162, "past the carcass and not its back panel")),
    *of("worktop.unsupported_gap", "worktop-gap-over-appliance", filled, ok=(40, 640), bad=(51, 651), limit=50,
        naive=Naive((unit("dishwasher", 450),), 1050, 600, "over one appliance at a time", over_appliances)),
    *of("worktop.spare_of_stock", "worktop-stock-length", of_stock, ok=(1700, 80), bad=(1629, 9), limit=1630,
        naive=Naive((1625,), 5, 25, "less the units without their overhangs")),
    *of("worktop.room_to_move", "worktop-wood-moves", of_oak, ok=(10.0, 0.948), bad=(5.0, -4.052), limit=9.052,
        naive=Naive((9.0,), -0.052, 0.021, "by what is left of the depth")),
    # deep - 616 - deep / 3.
    *of("worktop.past_third", "stone-past-third", stone_island, ok=(900, -16), bad=(960, 24), limit=924,
        naive=Naive((910,), 910 * 2 / 3 - 616, 910 * 2 / 3 - 598, "past the carcass and not its back panel")),
    *of("worktop.silica_of_engineered", "top-engineered-stone", engineered, ok=(0.5, 0.5), bad=(90.0, 90.0),
        limit=0.9, naive=Naive(("granite20",), None, 35.0, "of natural stone too", of_core)),
    # hypot(20 + width, 20).
    *of("worktop.join_to_appliance", "join-off-appliance", join_near_appliance, ok=(50, math.hypot(70, 20)),
        bad=(25, math.hypot(45, 20)), limit=math.sqrt(50**2 - 20**2) - 20,
        naive=Naive((28,), math.hypot(48, 20), 48, "along the front")),
    # The line takes 480 x 480 less its corners, (4 - π) · 20², out of 1620 x 600.
    *of("worktop.weight", "worktop-weight", weighing, ok=(24, 24), bad=(25.1, 25.1), limit=25,
        naive=Naive((690.0,), 690 * 0.038 * (0.972 - 0.2304 + (4 - math.pi) * 0.0004), 690 * 0.038 * 0.972,
                    "without taking out the cut-out", pierced)),
    *of("worktop.join_off_square", "join-off-square", cornering, ok=(91, 1), bad=(93.1, 3.1), limit=93,
        naive=Naive((86.9,), 3.1, -3.1, "with its sign")),
    # Rail of 18, 5 under the face.
    *of("fixing.longest_screw", "screw-from-below", screwed, ok=(38, 51), bad=(16, 29), limit=17,
        naive=Naive((14,), 27, 32, "to the face itself")),
    *of("fixing.rim_cover", "cutout-covered-by-rim", rimmed, ok=((504, 504), 12), bad=((499, 499), 9.5),
        limit=(500, 500), naive=Naive((520, 498), 9, 20, "across alone")),
    # Every second station is a bolt.
    *of("fixing.join_bolts", "join-bolts", stationed, ok=(9, 4), bad=(5, 2), limit=7,
        naive=Naive((5,), 2, 5, "biscuits and bolts together")),
    *of("fixing.join_biscuits", "join-biscuits", stationed, ok=(9, 5), bad=(5, 3), limit=7,
        naive=Naive((5,), 3, 5, "biscuits and bolts together")),
    # A bolt's channel reaches 65 from the joint, so that a board 32 beside it is in the way of all three.
    *of("fixing.bolts_under_units", "join-bolts-within-reach", in_line, ok=None, bad=(1100, 3), limit=1400,
        naive=Naive((1150,), 3, 0, "boards right under the joint")),
    # 1220 x 600 x 38 at 16.43 kg each, see test_people_to_a_piece: 15.6, 33.1 and 32.8 kg.
    *of("lifting.people", "worktop-lifting", lifted, ok=(560, 1), bad=(1190, 3), limit=1180,
        naive=Naive((1190,), 3, 2, "25 kg each, the filter for one lift close to the body")),
    # (TURN - size) / 2 at the turn.
    *of("access.carry_in", "worktop-carry-in", through_a_turn, ok=(TURN - 20, 10), bad=(TURN + 20, -10),
        limit=TURN, naive=Naive((TURN + 40,), -20, (2 * math.sqrt(2) * 900 - 76 - TURN - 40) / 2,
                                "by the formula, with no room for hands")),
    # As deep as the wall is hollow where the top is; half of it at a quarter of the wall.
    *of("scribing.gap_behind", "gap-behind-top", hollow, ok=(2, 2), bad=(4, 4), limit=3,
        naive=Naive((4,), 4, 2.6, "at the top's left end, 490 along")),
    # spare - LEAN - DOUBT.
    *of("survey.left_of_run", "run-fits-survey", in_niche, ok=(20, 20 - LEAN - DOUBT), bad=(15, 15 - LEAN - DOUBT),
        limit=LEAN + DOUBT, naive=Naive((15,), 15 - LEAN - DOUBT, 15 - LEAN, "by readings that are never off")),
    # spare - LEAN - HIDES.
    *of("survey.left_if_wrong", "run-survey-mistake", read_twice, ok=(20, 20 - LEAN - HIDES),
        bad=(12, 12 - LEAN - HIDES), limit=LEAN + HIDES,
        naive=Naive((12,), 12 - LEAN - HIDES, 12 - LEAN, "with every reading right")),
    # The wall alone: two diagonals and the wall opposite tell it from all others.
    *of("survey.contradicted", "survey-agrees", misread, ok=None, bad=(20, 1), limit=0,
        naive=Naive((25,), 1, 0, "by a gap of less than 30")),
    # Wall A or the wall opposite: χ² of a room of four walls and corners is over 7.81 and under 16.27. Of the gap
    # the walls explain 1.5 each, and the two corners of 0.15° each 7.85 over 3000 mm: all in all 8.1 for 24.
    *of("survey.doubted", "survey-doubtful", misclosed, ok=None, bad=(25, 2), limit=0,
        naive=Naive((25,), 2, 0, "by a gap of less than 30")),
    # Overhang of 10 - start.
    *of("survey.past_survey", "top-past-survey", on_open_wall, ok=None, bad=(0, 10), limit=10,
        naive=Naive((4,), 6, -4, "by its units")),
]  # fmt: skip
