"""Cases of what draws off over a hob, and of boilers.

The top's face is 908 high. A boiler stands in a place of 450 from 1408 to 2128, its face 320 before the wall; in a
housing its case is 400 wide, 300 deep and from 1520 to 2220 high.
"""

from tests.model.cases.table import Naive, of
from tests.model.test_checks import HOB, kitchen, let_in, run, stocked, unit
from tests.specimens import oblong, square

DOORS = unit("base-doors", 600)
BASES = run(DOORS, DOORS)


def under_microwave(bottom):
    """A hob over A1 and a microwave oven over it in place of a hood; the hob's surface is 913 high."""
    catalogue = stocked({"hood": {"bottom": float(bottom), "height": 420.0, "appliance": "microwave.over-range"}})
    base = run(unit("base-hob", 600))
    upper = run(unit("hood", 600), level="upper")
    return kitchen(base, upper, cutouts=(let_in(HOB, "A1"),), catalogue=catalogue)


def duct(length, *bends, diameter=150):
    """A hood with a duct that ends in the wall."""
    way = {"length": float(length), "diameter": float(diameter), "bends": tuple(map(float, bends))}
    return kitchen(BASES, run(unit("hood", 600, duct=way), level="upper"))


def drawing(airflow, length=3000):
    """A hood with a fan and a duct that ends in the wall."""
    way = {"length": float(length), "airflow": float(airflow)}
    return kitchen(BASES, run(unit("hood", 600, duct=way), level="upper"))


def fanned(*airflows, duct=None, height=2000.0):
    """Fans in wall A, and a hood with a duct where one is given."""
    fans = [
        {"kind": "fan", "wall": "A", "at": 1500.0 + 300 * i, "height": float(height), "airflow": float(airflow)}
        for i, airflow in enumerate(airflows)
    ]
    upper = run(unit("hood", 600, **({"duct": duct} if duct else {})), level="upper")
    return kitchen(BASES, upper, room=square(4000, services=tuple(fans)))


def standing(kind, at, *more, size=4000, bottom=1000.0, width=200.0, **fields):
    """Base units from 500 to 1700 on wall A, their top to 1710, and something of a kind at 150 from the wall."""
    thing = {"kind": kind, "wall": "A", "at": float(at), "width": width, "depth": 150.0, "bottom": bottom,
             "top": 1400.0, **fields}  # fmt: skip
    return kitchen(BASES, room=oblong(4000, size, obstacles=(thing, *more)))


def facing_units(kind, size):
    """A meter opposite a base unit on wall C, whose top comes 600 out."""
    thing = {
        "kind": kind,
        "wall": "A",
        "at": 3000.0,
        "width": 200.0,
        "depth": 150.0,
        "bottom": 1000.0,
        "top": 1400.0,
    }
    return kitchen(BASES, run(DOORS, wall="C", start=700), room=oblong(4000, size, obstacles=(thing,)))


def meters(at, bottom=1000.0):
    """A gas meter from 3000 to 3200 along wall A, 1000 to 1400 high, and an electricity meter."""
    other = {"kind": "electricity-meter", "wall": "A", "at": float(at), "width": 200.0, "depth": 150.0,
             "bottom": float(bottom), "top": float(bottom) + 400.0}  # fmt: skip
    return standing("gas-meter", 3000, other)


def column(at, out):
    """A column that stands free before wall A."""
    return {"kind": "column", "wall": "A", "at": float(at), "width": 100.0, "depth": 100.0, "out": float(out)}


def at_sash(out, at=3000):
    """A window from 3000 to 3600 along wall A, hinged on its left, and a column before it."""
    window = {"kind": "window", "wall": "A", "at": 3000.0, "width": 600.0, "sill": 1000.0, "head": 2000.0}
    room = square(4000, openings=({**window, "swing": "left"},), obstacles=(column(at, out),))
    return kitchen(BASES, room=room)


def at_machine(out, at=700, hand="left"):
    """A washing machine from 500 to 1100 along wall A, its face 562 before it, and a column before that."""
    machine = unit("washer", 600, hand=hand)
    return kitchen(run(machine, DOORS), room=square(4000, obstacles=(column(at, out),)))


def under_roof(sill):
    """A roof of 45° over wall A with a window 1000 high, and a tall unit on wall C, its front 1422 off wall A."""
    window = {"at": 900.0, "width": 800.0, "sill": float(sill), "head": sill + 1000.0}
    slope = {"wall": "A", "eaves": 1200.0, "run": 2000.0, "windows": (window,)}
    room = oblong(4000, 2000, height=3200.0, slopes=(slope,))
    return kitchen(BASES, run(unit("tall-larder", 600), wall="C", start=2400), room=room)


def boiler(family="boiler", width=450, room=None, **fields):
    """A boiler on wall A, over base units."""
    changes = {family: {"widths": (float(width),), **{name: float(size) for name, size in fields.items()}}}
    upper = run(unit(family, width), level="upper")
    return kitchen(BASES, upper, room=room or square(4000), catalogue=stocked(changes))


def facing_tall(size):
    """A tall unit on wall C, its front 578 before it, straight opposite."""
    tall = run(unit("tall-larder", 600), wall="C", start=2000)
    return kitchen(BASES, run(unit("boiler", 450), level="upper"), tall, room=oblong(3000, size))


CASES = [
    # bottom - 913.
    *of("hob.to_microwave", "hob-to-microwave", under_microwave, ok=(1250, 337), bad=(1243, 330), limit=1244,
        naive=Naive((1240,), 327, 332, "from the worktop")),
    # In feet: 40 for the cap, 15 for a bend of 90°, 9 for one of 45°, and 30 of pipe are 9144.
    *of("ducts.equivalent_length", "duct-length", duct, ok=((18000,), 30192), bad=((22000, 90, 90), 43336),
        limit=(21336, 90, 90), naive=Naive((20000, 90, 90, 45), 44079.2, 20000, "the pipe alone")),
    *of("ducts.equivalent_length", "duct-length-every-maker", duct, ok=((3000, 90, 90), 24336),
        bad=((10000, 90, 90), 31336), limit=(9144, 90, 90),
        naive=Naive((9000, 90, 90, 45), 33079.2, 9000, "the pipe alone")),
    *of("ducts.diameter", "duct-diameter", lambda size: duct(2000, diameter=size), ok=(160, 160), bad=(149, 149),
        limit=150, naive=Naive((125,), 125, 150, "of the hood's collar")),
    # 3000 of pipe and 12192 for the cap are shorter than 30480. 40000 make 52192: 120 × √(30480/52192) = 91.7.
    *of("ducts.airflow", "airflow-uk", drawing, ok=((200,), 200), bad=((100,), 100), limit=(108,),
        naive=Naive((120, 40000), 120 * (30480 / 52192) ** 0.5, 120, "by the sheet of the fan alone")),
    # Two fans of 60 and a hood of 40: 40 + 60. One that ends in the room is no hood: 216 are asked of the fans.
    *of("ducts.airflow", "airflow-uk", lambda *fans: fanned(*fans, duct={"length": 500.0, "airflow": 40.0}),
        ok=((80, 70), 115), bad=((60, 60), 100), limit=(136,), naive=Naive((100,), 90, 140, "all of the fan")),
    *of("ducts.fan_airflow", "fan-uk", fanned, ok=((150, 100), 250), bad=((150, 50), 200), limit=(216,),
        naive=Naive((60,), 60, 660, "what a hood moves that ends in the room",
                    lambda fan: fanned(fan, duct={"length": 0.0, "ends": "room", "airflow": 600.0}))),
    *of("ducts.fan_below_ceiling", "fan-below-ceiling", lambda height: fanned(200, height=height), ok=(2100, 300),
        bad=(1900, 500), limit=2000, naive=Naive((1950,), 450, 360, "to its upper edge")),
    # 400 cfm are 679.6. 700 through the long duct come to 534.9, and make-up air is asked by what the fan can draw.
    *of("ducts.rated_airflow", "make-up-air", drawing, ok=((500,), 500), bad=((800,), 800), limit=(679,),
        naive=Naive((700, 40000), 700, 534.9, "what the duct lets through")),
    # From the top's end at 1710. One that would hang over the top touches it in the plan.
    *of("nearby.stove_to_anything", "stove-to-units", lambda at: standing("stove", at), ok=(2300, 590),
        bad=(2100, 390), limit=2210, naive=Naive((2205,), 495, 505, "to the units, whose top overhangs by 10")),
    # The room less 150; low units opposite lie below a meter, but stand in the working space before live parts.
    *of("nearby.before_meter", "meter-access", lambda size: standing("gas-meter", 3000, size=size), ok=(1000, 850),
        bad=(700, 550), limit=750, naive=Naive((1300,), 1150, 550, "to low units",
                                               lambda size: facing_units("gas-meter", size))),
    *of("nearby.before_electricity_meter", "meter-access-us",
        lambda size: standing("electricity-meter", 3000, size=size), ok=(1200, 1050), bad=(1000, 850), limit=1065,
        naive=Naive((1600,), 850, 1450, "at its height alone",
                    lambda size: facing_units("electricity-meter", size))),
    # From 3200. One that is 140 aside and begins 100 above it is √(140² + 100²) away.
    *of("nearby.gas_meter_to_electricity", "gas-meter-to-electricity", meters, ok=(3400, 200), bad=(3300, 100),
        limit=3350, naive=Naive((3340, 1500), 172.05, 140, "in the plan")),
    # Straight before its hinge a sash of 600 leaves the rest. At 500 aside and 400 out √(500² + 400²) less 600.
    *of("swings.sash", "sash-opens", at_sash, ok=(700, 100), bad=(580, -20), limit=600,
        naive=Naive((400, 3500), 40.31, -200, "as far out as it is wide, all along")),
    # The round door, 0.58 of 600 wide, begins 126 from the side: 562 + 348 at its hinge, if that is on the left.
    *of("swings.machine_door", "machine-opens", lambda out: at_machine(out, 600), place="A1",
        ok=(1000, 90), bad=(900, -10), limit=910,
        naive=Naive((1000, 600), 90, -162, "of the whole machine's width", at_machine)),
    # Square to a roof of 45° the upper edge hangs as high as the lower one lay: the sill, less 2128 of the unit.
    *of("roof.sash", "roof-window-opens", under_roof, ok=(2150, 22), bad=(2050, -78), limit=2128,
        naive=Naive((2100,), -28, 494, "of a sash that is shut")),
    # Half of what a housing between boards of 18 leaves beside 400.
    *of("boiler.beside", "boiler-beside", lambda width: boiler("wall-boiler", width), place="left",
        ok=(500, 32), bad=(440, 2), limit=446, naive=Naive((444,), 4, 22, "to the outside of the housing")),
    # The room less 320.
    *of("boiler.before", "boiler-access", lambda size: boiler(room=oblong(3000, size)), ok=(1000, 680),
        bad=(900, 580), limit=920, naive=Naive((1400,), 502, 1080, "to the wall behind the unit", facing_tall)),
    # The ceiling less 2128, or of one in a housing less 2220.
    *of("boiler.above", "boiler-above", lambda height: boiler(room=square(4000, height=float(height))),
        ok=(2300, 172), bad=(2270, 142), limit=2278,
        naive=Naive((2400,), 180, 30, "from the housing's top",
                    lambda height: boiler("wall-boiler", 500, square(4000, height=float(height))))),
    *of("boiler.below", "boiler-below", lambda bottom: boiler(bottom=bottom), ok=(1100, 192), bad=(1050, 142),
        limit=1058, naive=Naive((1030,), 122, 160, "to the carcass under the top")),
]  # fmt: skip
