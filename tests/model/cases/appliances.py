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
