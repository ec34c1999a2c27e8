"""Cases of landings and of worktop that serves several.

A sink's rim keeps 50 from the sides of its unit of 600, a hob's 5. The top passes free ends by what ``ends`` says,
else by 10.
"""

from tests.model.cases.table import Naive, of
from tests.model.test_checks import GAS, HOB, SINK, kitchen, let_in, overhang, run, stocked, unit
from tests.specimens import oblong, square

DOORS, FRIDGE, OVEN = unit("base-doors", 600), unit("tall-fridge"), unit("tall-oven", 600)
SINK_UNIT, HOB_UNIT, PANEL = unit("base-sink", 600), unit("base-hob", 600), unit("tall-panel", 18)
BIG = oblong(6000, 4000)


def filled(width):
    return unit("filler", width)


def hob_and(filler):
    """A hob, and to its right 300 and a filler up to the end of the top."""
    row = run(HOB_UNIT, unit("base-doors", 300), filled(filler))
    return kitchen(row, cutouts=(let_in(HOB, "A1"),), worktop=overhang(ends=0), room=BIG)


def between(template, width, ends=0.0):
    """A sink or hob between 1000 on its left and ``width`` on its right."""
    family = SINK_UNIT if template == SINK else HOB_UNIT
    row = run(unit("base-doors", 1000), family, unit("base-doors", width))
    return kitchen(row, cutouts=(let_in(template, "A2"),), worktop=overhang(ends=ends), room=BIG)


def beside_hob(width):
    return between(HOB, width)


def beside_sink(ends):
    return between(SINK, 400, ends)


def sink_and(width, ends, *obstacles):
    """A sink and ``width`` on its right up to the end."""
    row = run(SINK_UNIT, unit("base-doors", width))
    room = {**BIG, "obstacles": obstacles}
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), worktop=overhang(ends=ends), room=room)


def sink_500(ends):
    return sink_and(500, ends)


def sink_800(ends):
    return sink_and(800, ends)


def sink_near_corner(beyond):
    """A sink whose rim ends 250 from its row's end, 20 before the front of 200 and ``beyond`` on wall B."""
    row = run(SINK_UNIT, unit("base-doors", 200), start=2380)
    return kitchen(
        row, run(unit("base-doors", 200), filled(beyond), wall="B", start=620), cutouts=(let_in(SINK, "A1"),),
        room=square(3800), worktop={**overhang(), "joins": ({"corner": "A-B", "female": "A"},)},
    )  # fmt: skip


def cooker_beside(filler):
    """A cooker with 1000 on its left, on its right 200 and a filler."""
    row = run(unit("base-doors", 1000), unit("cooker", 600), unit("base-doors", 200), filled(filler))
    return kitchen(row, worktop=overhang(ends=0), room=BIG)


def cooker_at_end():
    return kitchen(run(unit("base-doors", 1000), unit("cooker", 600)), room=BIG)


def joined_in_line(ends):
    """A sink and 800, joined in line in the middle of what lies beside it."""
    row = run(SINK_UNIT, unit("base-doors", 400), unit("base-doors", 400))
    worktop = {**overhang(ends=ends), "in_line": ({"run": "A", "at": 1300.0},)}
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), worktop=worktop, room=BIG)


def sink_to_hob(filler):
    row = run(SINK_UNIT, unit("base-doors", 200), filled(filler), HOB_UNIT)
    return kitchen(row, cutouts=(let_in(SINK, "A1"), let_in(HOB, "A4")), room=BIG)


def sink_to_cooker(filler):
    row = run(SINK_UNIT, unit("base-doors", 200), filled(filler), unit("cooker", 600))
    return kitchen(row, cutouts=(let_in(SINK, "A1"),), room=BIG)


def fridge_and(filler):
    """The grip is on the right."""
    return kitchen(run(FRIDGE, unit("base-doors", 300), filled(filler)), room=BIG)


def behind_hinges():
    return kitchen(run(unit("base-doors", 1000), FRIDGE), room=BIG)


def over_oven(filler):
    """A hob over the oven leaves 5 of its own top on either side; the best stretch ends at the oven's side."""
    row = run(unit("base-oven"), unit("base-doors", 200), filled(filler), start=0)
    catalogue = stocked(templates={GAS: {"depth": 40.0}})
    return kitchen(row, cutouts=(let_in(GAS, "A1"),), worktop=overhang(ends=95.0), catalogue=catalogue)


def microwave_and(filler):
    row = run(unit("tall-oven-microwave", 600), unit("base-doors", 300), filled(filler))
    return kitchen(row, room=BIG)


def microwave_across(out):
    """An island whose top begins 20 before ``out``, across from a front at 582."""
    isle = {"name": "I", "wall": "A", "along": 500.0, "out": float(out), "stock": "pf38.670", "units": (DOORS,)}
    return kitchen(run(unit("tall-oven-microwave", 600)), islands=(isle,), room=square(5000))


def sink_up_to(tall):
    def scene(filler):
        return kitchen(run(SINK_UNIT, DOORS, filled(filler), tall), cutouts=(let_in(SINK, "A1"),), room=BIG)

    return scene


def hob_up_to(tall):
    def scene(filler):
        return kitchen(run(HOB_UNIT, DOORS, filled(filler), tall), cutouts=(let_in(HOB, "A1"),), room=BIG)

    return scene


def fridge_to_oven(filler):
    return kitchen(run(FRIDGE, PANEL, DOORS, filled(filler), PANEL, OVEN), room=BIG)


def frontage(filler):
    """600 with a rim of 500, 3600, the filler, and 100 past either end."""
    units = (SINK_UNIT, *[unit("base-doors", 1000)] * 3, DOORS, filled(filler))
    catalogue = stocked(stocks={"pf38.600": {"lengths": (6000.0,)}})
    worktop = overhang(ends=100.0)
    return kitchen(run(*units), cutouts=(let_in(SINK, "A1"),), worktop=worktop, catalogue=catalogue, room=BIG)


BOXING = {"kind": "pipe-boxing", "wall": "A", "at": 1500.0, "width": 160.0, "depth": 120.0, "bottom": 870.0}
COLUMN = {**BOXING, "kind": "column", "depth": 240.0}

CASES = [
    # 5 + 300 + filler; without the 5 of the hob's own unit, from box to box, less.
    *of("landing.beside_hob_longer", "hob-landing-longer", hob_and, ok=(100, 405), bad=(75, 380), limit=76,
        naive=Naive((78,), 383, 378, "the units beside")),
    *of("landing.beside_hob_shorter", "hob-landing-shorter", beside_hob, ok=(400, 405), bad=(200, 205), limit=300,
        naive=Naive((), 0, 1010, "the better side of a cooker that ends its row", cooker_at_end)),
    # 200 + filler, of a cooker.
    *of("landing.beside_hob_shorter", "hob-landing-shorter", cooker_beside, ok=(120, 320), bad=(104, 304),
        limit=105, naive=Naive((101,), 301, 306, "as if a hob of 590 stood in it")),
    # 50 + 500 + ends.
    *of("landing.beside_sink_longer", "sink-landing-longer", sink_500, ok=(70, 620), bad=(59, 609), limit=60,
        naive=Naive((500, 70, COLUMN), 447, 620, "past a column 240 deep, from 1500 less 3 of play",
                    sink_and)),
    # Up to the corner 50 + 200 + 20, on the return from there 20 + 200 + beyond and 10 past the end.
    *of("landing.beside_sink_longer", "sink-landing-longer", sink_near_corner, ok=(150, 650), bad=(50, 550),
        limit=110, naive=Naive((150,), 650, 270, "up to the corner alone")),
    *of("landing.beside_sink_shorter", "sink-landing-shorter", beside_sink, ok=(20, 470), bad=(7, 457), limit=8,
        naive=Naive((20,), 470, 420, "the unit beside")),
    # 50 + 800 + ends, 600 deep all along; a boxing 120 deep leaves 480.
    *of("landing.preparation", "sink-preparation", sink_800, ok=(70, 920), bad=(64, 914), limit=65,
        naive=Naive((800, 70, BOXING), 447, 920, "along the front, past a boxing", sink_and)),
    *of("landing.preparation", "sink-preparation", joined_in_line, ok=(70, 920), bad=(64, 914), limit=65,
        naive=Naive((70,), 920, 250, "the length of top that the sink is in")),
    # 50 + 200 + filler + 5.
    *of("landing.sink_to_hob", "sink-to-hob", sink_to_hob, ok=(100, 355), bad=(44, 299), limit=45,
        naive=Naive((30,), 285, 310, "from line to line")),
    *of("landing.sink_to_hob", "sink-to-hob", sink_to_cooker, ok=(100, 350), bad=(49, 299), limit=50,
        naive=Naive((47,), 297, 302, "as if a hob of 590 stood in the cooker")),
    # 300 + filler + 10.
    *of("landing.beside_fridge", "fridge-landing", fridge_and, ok=(100, 410), bad=(70, 380), limit=71,
        naive=Naive((), 0, 1010, "on the side of its hinges", behind_hinges)),
    # 5 + 200 + filler + 95.
    *of("surfaces.beside_oven", "oven-landing", over_oven, ok=(100, 400), bad=(80, 380), limit=81,
        naive=Naive((50,), 350, 945, "the whole top, rim and all")),
    # 300 + filler + 10.
    *of("surfaces.beside_microwave", "microwave-landing", microwave_and, ok=(100, 410), bad=(70, 380), limit=71,
        naive=Naive((1840,), 0, 620, "an island 1220 before a top's edge at 600, but 1238 before the front at 582",
                    microwave_across)),
    # 50 + 600 + filler; from the line 10 more.
    *of("surfaces.sink_to_fridge", "sink-to-fridge-shared-landing", sink_up_to(FRIDGE), ok=(150, 800),
        bad=(111, 761), limit=112, naive=Naive((105,), 755, 765, "from the line")),
    *of("surfaces.sink_to_oven", "sink-to-oven-shared-landing", sink_up_to(OVEN), ok=(150, 800), bad=(111, 761),
        limit=112, naive=Naive((105,), 755, 765, "from the line")),
    # 5 + 600 + filler; from the line 15 more.
    *of("surfaces.hob_to_fridge", "hob-to-fridge-shared-landing", hob_up_to(FRIDGE), ok=(100, 705), bad=(80, 685),
        limit=81, naive=Naive((70,), 675, 690, "from the line")),
    *of("surfaces.hob_to_oven", "hob-to-oven-shared-landing", hob_up_to(OVEN), ok=(100, 705), bad=(80, 685),
        limit=81, naive=Naive((70,), 675, 690, "from the line")),
    # 600 + filler between panels of 18.
    *of("surfaces.fridge_to_oven", "fridge-to-oven-shared-landing", fridge_to_oven, ok=(100, 700), bad=(85, 685),
        limit=86, naive=Naive((70,), 670, 706, "from unit to unit, past the panels")),
    # 600 + 3600 + filler + 200 - 500.
    *of("surfaces.frontage", "worktop-frontage", frontage, ok=(150, 4050), bad=(113, 4013), limit=114,
        naive=Naive((50,), 3950, 4450, "with the rim")),
]  # fmt: skip
