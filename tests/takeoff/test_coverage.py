"""Nothing forgotten: every kind of part that the catalogue can make, and what holds and finishes it."""

from dataclasses import replace

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import build
from countersunk.model.tops.plain_cutouts import OWN
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.uncounted import uncounted
from countersunk.takeoff.stock.articles import default_articles
from countersunk.takeoff.stock.prices import demo_prices
from tests.specimens import DEMOS, SOME_DEMOS, everything, open_kitchen

# What a line must name for each kind of part, or its first word, by the first word of an article's code; common
# practice of the trade, no source. The demo kitchens have every family of units, to which another test holds them.
BOARD = {"delivery", "wear"}
BROUGHT = {
    "arm": {"arm", "screw"},
    "back": {*BOARD, "screw"},
    "basket": {"basket"},
    "bin": {"bin"},
    "bracket": {"bracket"},
    "driver": {"driver"},
    "floating-shelf": {"shelf"},
    "lift": {"frame", "screw"},
    "light": {"profile", "strip"},
    "plate-rack": {"rack"},
    "tambour": {"tambour"},
    "bottom": {*BOARD, "confirmat"},
    "ceiling-filler": {*BOARD, "band"},
    "cornice": {"cornice", "screw"},
    "divider": {*BOARD, "band", "confirmat"},
    "door": {*BOARD, "band", "hinge", "screw"},
    "drawer": BOARD,
    "drawer-front": {*BOARD, "band", "runner", "screw"},
    "face-frame": {*BOARD, "band"},
    "filler": {*BOARD, "band"},
    "frame": {*BOARD, "band"},
    "front.fridge": {*BOARD, "band"},
    "front.blank": {*BOARD, "band", "screw"},
    "front.blind": {*BOARD, "band", "screw"},
    "handle": {"handle"},
    "hanger": {"hanger", "plug"},
    "infill": {"delivery", "infill"},
    "joint-strip": {"joint-strip", "masking", "screw"},
    "leaf": {*BOARD, "band", "hinge", "screw"},
    "leg": {"leg", "screw"},
    "pane": {"glass"},
    "panel": {*BOARD, "band"},
    "pelmet": {"pelmet", "screw"},
    "plinth": {"clip", "delivery", "plinth", "screw"},
    "post": {"post", "screw"},
    "pull-out": {"pull-out"},
    "pull-out.front": {*BOARD, "band", "screw"},
    "rack": {*BOARD, "confirmat"},
    "rail": {*BOARD, "confirmat"},
    "waterfall": {"waterfall"},
    "reveal": {"delivery", "infill", "sealer", "silicone"},
    "shelf": BOARD,
    "side": BOARD,
    "splashback": {"adhesive", "delivery", "silicone"},
    "top": {*BOARD, "confirmat"},
    "upstand": {"adhesive", "delivery", "silicone", "upstand"},
    "worktop": {"bag", "delivery", "packer"},
}


@pytest.fixture(scope="module", params=[*SOME_DEMOS, None], ids=lambda p: p.stem if p else "everything")
def counted(request):
    """A kitchen and, for each part, the first words of the articles whose lines name it."""
    kitchen = open_kitchen(request.param) if request.param else build(everything())
    found = {}
    for quantity in estimate(kitchen).quantities:
        for id_ in quantity.ids:
            found.setdefault(id_, set()).add(quantity.item.split(".")[0])
    return kitchen, found


def entry(part):
    """The part's entry of the table above; a pull-out is a frame with its hardware, and a front."""
    return "pull-out.front" if part.role is Role.PULL_OUT and part.layer is Layer.FRONTS else part.role


def is_carried(part, kitchen):
    """Whether it is an appliance or hangs on one, and comes with what holds it."""
    appliances = {unit.key for unit in kitchen.units if unit.family.construction == "appliance"}
    return part.layer is Layer.APPLIANCES or part.owner in appliances or part.role == "front.fridge"


def test_every_kind_of_part_brings_what_holds_and_finishes_it(counted):
    kitchen, found = counted
    for part in kitchen.parts:
        if part.id in kitchen.made_to_measure:
            assert kitchen.made_to_measure[part.id].code in found[part.id], part.id
        elif not is_carried(part, kitchen):
            lacking = BROUGHT[entry(part)] - found.get(part.id, set())
            allowed = {"band"} if not part.banded else set()
            assert lacking <= allowed, f"{part.id} ({part.role}) brings no {', '.join(sorted(lacking))}"


def test_every_board_and_band_is_of_its_own_material(counted):
    kitchen, _ = counted
    lines = {q.item: set(q.ids) for q in estimate(kitchen).quantities}
    for part in kitchen.parts:
        if part.material in kitchen.catalogue.boards and part.role != "plinth":
            assert part.id in lines[part.material]
            assert not part.banded or part.id in lines[f"band.{part.material}"]


def test_every_loose_shelf_lies_on_four_pins_and_every_fixed_one_is_screwed(counted):
    kitchen, found = counted
    for part in kitchen.parts:
        if part.role == "shelf":
            assert len({"pin", "confirmat"} & found[part.id]) == 1, part.id


def test_every_cutout_and_appliance_is_ordered(counted):
    kitchen, found = counted
    ordered = {q.item for q in estimate(kitchen).quantities}
    made = {length.id for length in kitchen.lengths if length.run.stock.made_by}
    for cutout in kitchen.cutouts:
        assert cutout.length not in made or "slab-cutout" in found[cutout.key]
    for cutout in kitchen.cut_here.cutouts:
        assert cutout.template.code.startswith(OWN) or cutout.template.code in ordered
        assert cutout.template.kind != "sink" or {"silicone", "trap"} <= found[cutout.key]
        assert cutout.template.kind != "hob" or "tape.heat" in ordered
    assert {bought.code for unit in kitchen.units for bought in unit.family.appliances} <= ordered


def test_a_part_is_not_counted_by_an_article_whose_code_only_begins_alike():
    kitchen = build(everything())
    side = next(part for part in kitchen.parts if part.role == "side")
    other = replace(kitchen, parts=(replace(side, material=side.material[:-1]),))
    (left,) = uncounted(other, estimate(kitchen).quantities)
    assert (left.item, left.ids, left.problem) == (side.material[:-1], (side.id,), "no rule counts side")


def test_every_kind_that_stands_here_is_in_some_kitchen_and_no_other():
    kitchens = [build(everything()), *map(open_kitchen, DEMOS)]
    seen = {entry(p) for kitchen in kitchens for p in kitchen.parts if p.layer != Layer.APPLIANCES}
    assert seen == set(BROUGHT)


@pytest.mark.parametrize("catalogue", [default_catalogue(), inch_catalogue()], ids=["metric", "inch"])
def test_every_article_that_the_catalogue_can_ask_for_is_known_and_has_a_demo_price(catalogue):
    known, prices = default_articles(), demo_prices()
    for stock in catalogue.stocks.values():
        bought = [stock.code] if stock.slab else [f"{stock.code}.{length:g}" for length in stock.lengths]
        assert all(map(prices.find, bought)), stock.code
        strips = set() if stock.material.glue else {f"joint-strip.{stock.thickness:g}"}
        strips |= {f"edging.{stock.thickness:g}"} if stock.core == "particleboard" else set()
        strips |= {f"infill.{stock.thickness:g}"} if stock.nose == 0 else set()
        assert strips <= set(known), stock.code
        assert all(map(prices.find, strips)), stock.code
    for board in catalogue.boards.values():
        assert board.use == "back" or f"band.{board.code}" in known
    bought = {
        *catalogue.boards,
        *catalogue.templates,
        *(code for code, u in catalogue.upstands.items() if not u.of_top),
    }
    bought |= {kind.code for family in catalogue.families.values() for kind in family.appliances}
    assert not [code for code in bought if not prices.find(code)]
    assert not [code for code in known if not prices.find(code)]
