"""A plain kitchen of each region, as a good fitter would sign it: no must is missed, and two shoulds at most.

They are ordinary: an L or a straight run in a room of its own, a window over the sink, one door. What is asked
elsewhere is not asked of them.
"""

import pytest

from countersunk.model.checks import check
from countersunk.model.checks.finding import Severity, Verdict
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import build
from tests.model.test_checks import unit
from tests.specimens import demo, oblong


def services(*found):
    return tuple({"kind": k, "wall": w, "at": float(at), "height": float(z)} for k, w, at, z in found)


def window(at, width, wall="A", sill=1080.0):
    return {"kind": "window", "wall": wall, "at": float(at), "width": float(width), "sill": sill, "head": 2100.0}


def door(at, wall="C"):
    return {"kind": "door", "wall": wall, "at": float(at), "width": 850.0, "swing": "out"}


def british():
    """Gas hob with an oven under it, integrated machines either side of the sink, wall units at 1408."""
    return {
        "regions": ("uk",),
        "room": oblong(
            4400, 3400, height=2400.0, openings=(window(1900, 1000), door(900)),
            services=services(
                ("water", "A", 2300, 450), ("waste", "A", 2500, 300), ("gas", "B", 1500, 300),
                ("socket", "A", 1200, 1150), ("socket", "B", 2500, 1150),
            ),
        ),
        "runs": (
            {"wall": "A", "start": 80.0, "units": (
                unit("tall-fridge"), unit("end-panel"), unit("base-drawers", 900), unit("base-washer"),
                unit("base-sink", 600), unit("dishwasher", 450), unit("base-corner", 1100, hand="right"),
            )},
            {"wall": "B", "start": 600.0, "units": (
                unit("filler", 70), unit("base-drawers", 500), unit("base-hob", 600), unit("base-drawers", 800),
                unit("base-doors", 600), unit("end-panel"),
            )},
            {"wall": "A", "level": "upper", "start": 700.0, "units": (unit("wall-doors", 1000),)},
            {"wall": "B", "level": "upper", "start": 1170.0, "units": (
                unit("hood", 600, bottom=1680.0), unit("wall-filler", 100), unit("wall-doors", 600),
            )},
        ),
        "worktop": {"stock": "pf38.600", "decor": "pale-oak", "joins": ({"corner": "A-B", "female": "A"},)},
        "cutouts": ({"template": "sink.one-bowl", "over": "A5"}, {"template": "hob.gas-60", "over": "B3"}),
    }  # fmt: skip


def continental():
    """Electric hob over drawers, an oven at breast height beside the fridge's housing, hood up to the ceiling."""
    return {
        "regions": ("eu",),
        "room": oblong(
            4600, 3600, height=2500.0, openings=(window(2200, 1000), door(1200)),
            services=services(
                ("water", "A", 2600, 450), ("waste", "A", 2700, 350), ("cooker-outlet", "B", 1700, 300),
            ),
        ),
        "runs": (
            {"wall": "A", "start": 60.0, "units": (
                unit("tall-panel"), unit("tall-fridge-housing"), unit("tall-oven"), unit("base-drawers", 900),
                unit("base-sink", 600), unit("dishwasher", 600), unit("base-corner", 1100, hand="right"),
            )},
            {"wall": "B", "start": 600.0, "units": (
                unit("filler", 70), unit("base-drawers", 600), unit("base-drawers", 800),
                unit("base-drawers", 800), unit("end-panel"),
            )},
            {"wall": "B", "level": "upper", "start": 1220.0, "units": (
                unit("hood", 900, bottom=1600.0, to_ceiling=True),
            )},
            {"wall": "A", "level": "upper", "start": 1300.0, "units": (unit("wall-doors", 800),)},
        ),
        "worktop": {"stock": "pf38.600", "decor": "pale-oak", "joins": ({"corner": "A-B", "female": "A"},)},
        "cutouts": (
            {"template": "sink.one-bowl", "over": "A5"}, {"template": "hob.electric-80", "over": "B3"},
        ),
    }  # fmt: skip


def antipodean():
    """A fridge of 900, a gas hob well off the wall with a hood at 700, a pantry at the end."""
    return {
        "regions": ("au-nz",),
        "room": oblong(
            5100, 3600, height=2550.0, openings=(window(2600, 1200), door(1200)),
            services=services(
                ("water", "A", 3000, 450), ("waste", "A", 3100, 350), ("gas", "B", 1700, 300),
            ),
        ),
        "runs": (
            {"wall": "A", "start": 62.0, "units": (
                unit("tall-panel"), unit("tall-larder", 600), unit("fridge-french"), unit("end-panel"),
                unit("base-drawers", 900), unit("base-sink", 800), unit("dishwasher", 600),
                unit("base-corner", 1100, hand="right"),
            )},
            {"wall": "B", "start": 600.0, "units": (
                unit("filler", 70), unit("base-drawers", 800), unit("base-oven"), unit("base-drawers", 800),
                unit("end-panel"),
            )},
            {"wall": "B", "level": "upper", "start": 1470.0, "units": (unit("hood", 600, bottom=1640.0),)},
        ),
        "worktop": {"stock": "pf38.600", "decor": "pale-oak", "joins": ({"corner": "A-B", "female": "A"},)},
        "cutouts": ({"template": "sink.one-bowl", "over": "A6"}, {"template": "hob.gas-60", "over": "B3"}),
    }  # fmt: skip


@pytest.mark.parametrize("region", [british, continental, antipodean, "maple"], ids=["uk", "eu", "au-nz", "us"])
def test_a_plain_kitchen_gives_no_must_and_two_shoulds_at_most(region):
    plain = {"kitchen": "plain", "fronts": {"decor": "chalk"}}
    kitchen = demo(region) if isinstance(region, str) else build(Document.model_validate({**plain, **region()}))
    missed = [f for f in check(kitchen) if f.verdict is not Verdict.MET]
    assert [f"{f.rule}: {f.place}" for f in missed if f.severity is Severity.MUST] == []
    shoulds = [f"{f.rule}: {f.place}, {f.value}" for f in missed if f.severity is Severity.SHOULD]
    assert len(shoulds) <= 2, shoulds
