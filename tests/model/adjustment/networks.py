"""The networks of textbooks, as their readings stand there. East and north in metres."""

from countersunk.model.adjustment.least_squares import Network
from countersunk.model.adjustment.observations import Angle, Distance, Rise


def _network(fixed, start, observations):
    places = {**fixed, **start}
    keys = {(p, axis): v for p, at in places.items() for axis, v in zip("xy", at, strict=True)}
    return Network(keys, frozenset((p, a) for p in fixed for a in "xy"), tuple(observations))


def dms(text):
    d, m, s = (float(part) for part in text.split())
    return d + m / 60 + s / 3600


def _angle(points, text, seconds):
    corner, left, right = points.split()
    return Angle(points, dms(text), seconds / 3600, corner, left, right)


def _distance(pair, length, sigma):
    return Distance(pair, length, sigma, *pair)


def level_net():
    """Ghilani, Adjustment Computations, 5th ed., example 12.6, as one of GNU Gama's test files has it."""
    heights = {("A", "z"): 437.596, ("B", "z"): 448.0, ("C", "z"): 453.0, ("D", "z"): 445.0}
    rises = (
        ("AB", 10.509, 6), ("BC", 5.360, 4), ("CD", -8.523, 5), ("DA", -7.348, 3), ("BD", -3.167, 4),
        ("AC", 15.881, 12),
    )  # fmt: skip
    observed = tuple(Rise(pair, dh, mm / 1000, *pair) for pair, dh, mm in rises)
    return Network(heights, frozenset({("A", "z")}), observed)


def trilateration():
    """The same, example 14.5: five distances, one of them a blunder, and one more than needed."""
    fixed = {"K": (2411820.0, 386881.222), "G": (2410000.0, 390000.0)}
    start = {"W": (2415776.8, 391043.5), "C": (2416892.7, 387603.5)}
    lengths = (("GW", 5870.302), ("GC", 7297.588), ("WC", 3616.434), ("WK", 5742.878), ("CK", 5123.760))
    return _network(fixed, start, (_distance(pair, d, 0.01) for pair, d in lengths))


def link_traverse():
    """The same, example 16.1."""
    fixed = {"Q": (1000.0, 800.0), "R": (1000.0, 1000.0), "S": (1223.0, 1186.5), "T": (1400.0, 1186.5)}
    observed = (
        _distance("RU", 200.00, 0.05), _distance("US", 100.00, 0.08), _angle("R Q U", "240 0 0", 30),
        _angle("U R S", "150 0 0", 30), _angle("S U T", "240 1 0", 30),
    )  # fmt: skip
    return _network(fixed, {"U": (1173.0, 1100.0)}, observed)


def quadrilateral():
    """The same, example 21.10: with both diagonals, one angle a blunder."""
    fixed = {"A": (5600.544, 4966.236), "B": (6061.624, 8043.173)}
    start = {"C": (9787.823, 8038.529), "D": (9260.886, 4843.911)}
    lengths = (
        ("AB", 3111.291, 10), ("BC", 3726.220, 12), ("CD", 3237.783, 10), ("DA", 3662.372, 12),
        ("AC", 5193.471, 16), ("BD", 4524.471, 14),
    )  # fmt: skip
    angles = (
        ("A B C", "45 12 34"), ("A C D", "38 10 54"), ("B C D", "44 55 43"), ("B D A", "53 31 23"),
        ("C D A", "44 21 59"), ("C A B", "36 20 26"), ("D A B", "43 6 11"), ("D B C", "54 22 0"),
    )  # fmt: skip
    distances = (_distance(pair, d, mm / 1000) for pair, d, mm in lengths)
    return _network(fixed, start, (*distances, *(_angle(a, text, 2.1) for a, text in angles)))


def weak_distance():
    """Benning, Statistik in Geodäsie (2011), example 8-8: the last of five distances is hardly checked."""
    fixed = {
        "1": (3000.0, 2000.0), "2": (1000.0, 2000.0), "3": (3000.0, 2100.0), "4": (1000.0, 2100.0),
        "5": (2000.0, 1000.0),
    }  # fmt: skip
    lengths = zip("12345", (1000.0, 1000.0, 1005.0, 1005.0, 1000.0), strict=True)
    return _network(fixed, {"6": (2000.0, 1990.0)}, (_distance(p + "6", d, 0.02) for p, d in lengths))
