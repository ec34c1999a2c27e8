"""Where a join in line may lie: intervals by hand, and against every millimetre tried."""

import numpy as np
import pytest

from countersunk.model.checks import check
from countersunk.model.kitchen import build
from countersunk.model.tops.bands import SHORTEST, Pieces, borne, contains, in_words
from countersunk.model.tops.in_line import allowed, cutout_spans
from tests.lanes import some
from tests.specimens import document

ROOM = {"walls": ({"name": "A", "length": 18_000.0, "corner": 90.0}, {"name": "B", "length": 3000.0})}


def row(*widths, start=500.0, cutouts=(), **top):
    """Doors of these widths from ``start`` on; a family and a width where it is not doors."""
    units = [{"unit": "base-doors", "width": float(w)} if isinstance(w, int) else w for w in widths]
    runs = ({"wall": "A", "start": start, "units": tuple(units)},)
    worktop = {"stock": "pf38.600", "decor": "pale-oak", **top}
    return build(document(room=ROOM, runs=runs, cutouts=cutouts, worktop=worktop))


def only_join(kitchen):
    (join,) = (j for j in kitchen.joins if j.kind == "in line")
    return join


def test_a_row_of_eight_doors():
    # 500 to 5300, so the top lies from 490 to 5310 and 4100 is the longest sold: the join is from 5310 - 4100 =
    # 1210 to 490 + 4100 = 4590. Over a unit it keeps 18 + 65 + 5 = 88 from either side. The unit from 1100 to 1700
    # leaves 1188 to 1612, and of that 1210 to 1612; the one from 4100 to 4700 leaves 4188 to 4612: to 4590.
    band = only_join(row(*[600] * 8)).band
    inner = [(1788, 2212), (2388, 2812), (2988, 3412), (3588, 4012)]
    assert [x for span in band for x in span] == pytest.approx([1210, 1612, *np.ravel(inner), 4188, 4590])
    assert in_words(band[:2]) == "1210 to 1612, 1788 to 2212"


def test_what_bears_no_join_and_what_is_cut_out_leave_less():
    # A dishwasher from 1700 to 2300 bears none. The hob's line, 560 wide over the middle of the unit from 2900 to
    # 3500, lies from 2920 to 3480, and 100 is kept from it: no place below 3580 from 2820 on.
    washer, hob = {"unit": "dishwasher", "width": 600.0}, {"unit": "base-hob", "width": 600.0}
    kitchen = row(
        600, 600, washer, 600, hob, 600, 600, 600, cutouts=({"template": "hob.electric-60", "over": "A5"},)
    )
    (cutout,) = kitchen.cutouts
    low, high = (3200 - cutout.template.line[0] / 2, 3200 + cutout.template.line[0] / 2)
    want = [1210, 1612, 2388, min(2812, low - 100), max(3588, high + 100), 4012, 4188, 4590]
    assert [x for span in only_join(kitchen).band for x in span] == pytest.approx(want)


def test_the_other_joins_stay_where_they_are():
    # Sixteen doors from 500: 490 to 10110. Joins at 3700 and 7300: the first may lie from 7300 - 4100 = 3200 to
    # 490 + 4100 = 4590, over the units that begin at 2900, 3500 and 4100.
    joins = ({"run": "A", "at": 3700.0}, {"run": "A", "at": 7300.0})
    first, second = (j for j in row(*[600] * 16, in_line=joins).joins if j.kind == "in line")
    assert in_words(first.band) == "3200 to 3412, 3588 to 4012, 4188 to 4590"
    assert in_words(second.band) == "6010 to 6412, 6588 to 7012, 7188 to 7612, 7788 to 7800"


def test_nowhere_is_said():
    assert in_words(()) == "nowhere"
    assert in_words(((100.0, 100.0), (200.2, 200.6))) == "100, 200.2 to 200.6"


@pytest.mark.parametrize("seed", some(range(20), 10))
def test_every_place_is_in_the_bands_or_out_of_them(seed):
    """Bands against places 2 mm apart, on which all their ends lie: tried one by one, from either end."""
    lot = np.random.default_rng(seed)
    widths = [int(w) for w in lot.choice([300, 400, 500, 600, 800], 22)]
    widths[2] = 800  # room for the hob
    kitchen = row(*widths[: int(lot.integers(14, 22))], cutouts=({"template": "hob.electric-60", "over": "A3"},))
    whole = kitchen.lengths[0].stretch
    units = [u for length in kitchen.lengths for u in length.stretch.units]
    whole = type(whole)(whole.run, tuple(units))
    extent = (units[0].x - 10, units[-1].right + 10)
    count = len(kitchen.lengths) - 1
    band = allowed(whole, kitchen.document, kitchen.catalogue)
    found = Pieces.of(whole).bands(band, extent, count)

    spans = list(cutout_spans(whole, kitchen.document, kitchen.catalogue))
    places = np.arange(extent[0], extent[1], 2.0)
    bears = np.array([
        any(u.x + 88 <= x <= u.right - 88 and u.family.kind.bears_join for u in units)
        and all(x <= a - 100 or x >= b + 100 for a, b in spans)
        for x in places
    ])  # fmt: skip
    middles = np.array([(u.x + u.right) / 2 for u in units])

    def held(low, highs):
        """Which of ``highs`` end a piece that begins at ``low``."""
        least = middles[middles > low + 1e-6].min(initial=np.inf)
        return (highs - low >= SHORTEST) & (highs - low <= 4100) & (highs >= least)

    left = [held(extent[0], places) & bears]
    right = [np.array([held(x, np.array([extent[1]]))[0] for x in places]) & bears]
    for _ in range(count - 1):
        left.append(np.any([held(x, places) for x in places[left[-1]]], axis=0) & bears)
        before = np.array([np.any(held(x, places[right[-1]])) for x in places])
        right.append(before & bears)
    for i, mine in enumerate(found):
        tried = left[i] & right[count - 1 - i]
        assert [contains(mine, x) for x in places] == tried.tolist()
    assert borne(whole, spans, 100.0) == band


def test_a_finding_says_where_the_join_may_lie():
    # A join 80 from the hob's line, 2920 to 3480 over the fifth unit: at 3560, over the sixth, 60 from its side.
    hob = {"unit": "base-hob", "width": 600.0}
    cutouts = ({"template": "hob.electric-60", "over": "A5"},)
    kitchen = row(600, 600, 600, 600, hob, 600, 600, 600, cutouts=cutouts, in_line=({"run": "A", "at": 3560.0},))
    (found,) = (f for f in check(kitchen) if f.rule == "cutout-to-join" and f.verdict != "met")
    places = "1210 to 1612, 1788 to 2212, 2388 to 2812, 3588 to 4012, 4188 to 4590"
    assert found.advice == f"put the join at {places} along its run, or move the cut-out"
