"""What the families of units bring to the order, counted by hand."""

import math

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from tests.lanes import some
from tests.specimens import alone, document

METRIC, INCH = default_catalogue(), inch_catalogue()
FAMILIES = [*METRIC.families.values(), *INCH.families.values()]


def counted(code, **given):
    """Measured amounts by article, of one unit in a kitchen and of what that kitchen needs besides."""
    return {q.item: q.net for q in estimate(build(alone(METRIC.families[code], **given))).quantities}


def own(code, measure, **given):
    """Shares of the unit itself."""
    kitchen = build(alone(METRIC.families[code], **given))
    unit = next(u for u in kitchen.units if u.family.code == code)
    return [s for s in measured(kitchen)[measure] if kitchen.owners.get(s.id, s.id) == unit.key]


@pytest.mark.parametrize("family", some(FAMILIES, 3), ids=lambda f: f"{f.code}-{f.depth:g}")
def test_every_family_is_ordered_whole_and_with_prices(family):
    taken = estimate(build(alone(family)))
    assert [q.item for q in taken.quantities if q.problem] == []
    assert taken.totals.complete


@pytest.mark.parametrize(
    ("code", "article", "amount"),
    [
        ("base-l-corner", "hinge.fold", 2),  # the leaf of 717 on the hung one
        ("base-pull-out", "basket", 2),
        ("tall-pull-out", "basket", 5),
        ("base-pull-out", "pull-out", 1),
        ("bar-posts", "post.870", 2),
        ("base-diagonal", "infill.40", 1),
        ("tall-oven-microwave", "oven.built-in", 1),
        ("tall-oven-microwave", "microwave", 1),
        ("tall-oven-microwave", "runner.500", 2),
        ("tall-fridge-housing", "fridge.built-in", 1),
        ("cooker", "cooker", 1),
        ("washer", "washer", 1),
    ],
)
def test_what_it_brings(code, article, amount):
    assert counted(code)[article] == pytest.approx(amount)


@pytest.mark.parametrize(
    ("code", "hinges"),
    [
        ("tall-oven", 2),  # one door of 794 - 3 above the oven, up to 900
        ("tall-larder", 4),  # one of 1978 - 3, up to 2000
        ("wall-glazed", 2),  # a door of 717, and its pane and frame are no doors
        ("base-l-corner", 2),  # the hung leaf; the other one hangs on it
        ("base-diagonal", 2),
        ("base-pull-out", 0),
        ("tall-fridge-housing", 2),  # the upper door; that of the fridge hangs on the fridge
    ],
)
def test_hinges_by_the_height_of_what_hangs_on_the_carcass(code, hinges):
    steps = [(900, 2), (1600, 3), (2000, 4)]
    heights = [share.amount for share in own(code, "doors")]
    assert sum(next(take for to, take in steps if height <= to) for height in heights) == hinges


def test_glass_by_its_area():
    # A door of 600 - 3 by 720 - 3 in a frame of 70: 457 × 577 mm.
    (pane,) = own("wall-glazed", "panes", width=600.0)
    assert (pane.amount, pane.key) == (pytest.approx(457 * 577), "glass.4")


def test_band_of_an_l_shaped_board_is_that_of_its_two_front_edges():
    bands = [s.amount for s in own("base-l-corner", "banded-edges") if s.id.endswith(".bottom")]
    assert bands == [pytest.approx(2 * (340 - 18))]


def test_fixed_shelves_need_no_pins():
    assert own("base-open-end", "loose-shelves") == []
    assert own("base-wine", "loose-shelves") == []
    assert len(own("base-open", "loose-shelves")) == 2


def test_cornice_and_pelmet_with_their_returns():
    upper = {
        "wall": "A", "level": "upper", "start": 500.0, "cornice": True, "pelmet": True, "returns": "left",
        "units": ({"unit": "wall-doors", "width": 600.0}, {"unit": "wall-panel"}),
    }  # fmt: skip
    base = {"wall": "C", "start": 500.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    taken = estimate(build(document(runs=(upper, base))))
    net = {q.item: q.net for q in taken.quantities}
    # Along the fronts 618, with 20 past the left end; the return from the wall to 20 before the fronts of 338. Each
    # piece is cut 50 longer for its mitre.
    assert net["cornice.50"] == pytest.approx((638 + 50 + 358 + 50) / 1000)
    assert net["pelmet.45"] == pytest.approx((618 + 50 + 338 + 50) / 1000)


def test_a_panel_between_wall_units_needs_no_hanger():
    units = ({"unit": "wall-panel"}, {"unit": "wall-doors", "width": 300.0})
    upper = {"wall": "A", "level": "upper", "start": 500.0, "units": units}
    base = {"wall": "C", "start": 500.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    kitchen = build(document(runs=(upper, base)))
    assert [kitchen.marks[s.id] for s in measured(kitchen)["units-hung"]] == ["AU2"]


def test_area_of_a_diagonal_bottom():
    # Worked: the square of 900 - 18 - 10 less the triangle before the front, whose legs are 340 - 18 - 18 each but
    # for what the sides take: from (18, 560 + 18) to (340 - 18, 900 - 18) along 45°.
    kitchen = build(alone(METRIC.families["base-diagonal"]))
    bottom = next(p for p in kitchen.parts if p.role == "bottom" and p.called == "A2")
    leg = 900 - 18 - (560 + 18)
    assert bottom.area == pytest.approx((900 - 18 - 10) ** 2 - leg**2 / 2)
    assert bottom.along("inner") == pytest.approx(leg * math.sqrt(2))
