"""A quote with a gap is refused by name; what was accepted stays named; no part is ever left out unseen."""

from dataclasses import replace

import pytest
from shapely import box

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Component, PartKey, Role, Which
from countersunk.model.geometry.part import Layer
from countersunk.takeoff.counting.accepted import check_priced
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.stock.articles import default_articles
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from tests.takeoff.by_hand import small_kitchen, terms


def without(*codes):
    rest = {code: price for code, price in demo_prices().prices.items() if code not in codes}
    return PriceBook("mine.csv", "", "EUR", rest)


def test_everything_priced_passes():
    check_priced(estimate(small_kitchen()))


def test_every_gap_is_named_in_one_message():
    taken = estimate(small_kitchen(), without("hinge", "tap", "labour.hour"))
    with pytest.raises(InputError) as error:
        check_priced(taken)
    assert [p.field for p in error.value.problems] == ["hinge", "tap", "labour.hour"]
    assert str(error.value).splitlines()[0] == (
        "hinge: found no price in mine.csv; allowed: a line with its price. "
        "Try: mend the price book, catalogue or rules, or leave it out by name: --accept hinge."
    )


def test_accepted_by_name_in_the_command_or_in_the_terms():
    taken = estimate(small_kitchen(), without("hinge", "tap"), terms=terms(accept=("tap",)))
    check_priced(taken, ["hinge"])
    with pytest.raises(InputError, match="hinge"):
        check_priced(taken, ["hing"])
    assert not taken.totals.complete


def test_no_coverage():
    sealer = default_articles()["sealer"].model_copy(update={"coverage": None})
    taken = estimate(small_kitchen(), consumables={**default_articles(), "sealer": sealer})
    with pytest.raises(InputError, match="sealer: found the coverage of 'sealer' is unknown"):
        check_priced(taken)


def test_what_the_customer_has_is_not_ordered_and_no_gap():
    own = {"kind": "sink", "line": (480.0, 480.0), "over": "A2"}
    taken = estimate(small_kitchen(cutouts=(own,)))
    check_priced(taken)
    codes = {q.item for q in taken.quantities}
    assert "trap" in codes
    assert not {code for code in codes if code.startswith(("sink", "own", "tap."))}


def test_a_part_that_no_rule_counts_is_a_line_without_a_price():
    kitchen = small_kitchen()
    side = kitchen.parts_by_mark["A1.side.left"]
    odd = replace(
        side,
        key=PartKey(side.owner, Role.APPLIANCE, Which(component=Component.KNOB)),
        material="gadget.oak",
        layer=Layer.FRONTS,
        outline=box(0, 0, 400, 60),
    )
    taken = estimate(replace(kitchen, parts=(*kitchen.parts, odd)))
    line = next(q for q in taken.quantities if q.item == "gadget.oak")
    assert (line.net, line.packs, line.problem, line.ids) == (1, None, "no rule counts appliance", (odd.id,))
    with pytest.raises(InputError, match=r"gadget\.oak: found no rule counts appliance"):
        check_priced(taken)
