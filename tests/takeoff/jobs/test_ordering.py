"""Orders of a job: nothing is ordered twice, nothing is left out, and what is short stays to come."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest

from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.jobs.diary import (
    Entry,
    GoodsReceived,
    GoodsReturned,
    JobOpened,
    LineReceived,
    OrderConfirmed,
    OrderLine,
    OrderPlaced,
    QuoteAccepted,
    QuoteSent,
)
from countersunk.takeoff.jobs.ordering import check_received, delivered, gone_back, to_order
from countersunk.takeoff.jobs.story import State, story_of
from countersunk.takeoff.report.orders import orders
from tests.specimens import open_kitchen

DAY = date(2026, 3, 2)


@pytest.fixture(scope="module")
def takeoffs():
    """A kitchen, and the same with fronts in another decor."""
    kitchen = open_kitchen("straight")
    other = build(edited(kitchen.document, {"fronts.decor": "clay"}), kitchen.catalogue)
    return take_off(kitchen), take_off(other)


def told(*events):
    call = JobOpened(customer=("A. Reader",), day=DAY)
    quote = QuoteSent(reference="A", revision=1, day=DAY, valid_until=DAY, currency="EUR", sums=(), papers={})
    yes = QuoteAccepted(quote=1, customer="A. Reader", day=DAY)
    return story_of(Entry(i, "", "", e) for i, e in enumerate((call, quote, yes, *events), start=1))


def placed(lacking, number=1):
    return [
        OrderPlaced(number=f"{number}.{i}", supplier=supplier, revision=1, day=DAY, lines=lines)
        for i, (supplier, lines) in enumerate(lacking.lines.items())
    ]


def test_the_first_order_is_everything(takeoffs):
    lacking = to_order(told(), takeoffs[0])
    printed = {order.supplier: Counter(line.quantity.item for line in order.lines) for order in orders(takeoffs[0])}
    assert {name: Counter(line.code for line in lines) for name, lines in lacking.lines.items()} == printed
    assert lacking.surplus == {}


def test_nothing_is_ordered_twice(takeoffs):
    story = told(*placed(to_order(told(), takeoffs[0])))
    again = to_order(story, takeoffs[0])
    assert (again.lines, again.surplus) == ({}, {})
    assert story.state is State.ORDERED


def test_a_change_orders_what_is_new_and_names_what_is_too_much(takeoffs):
    """Other fronts take other boards and other edge band, and nothing else."""
    old, new = takeoffs
    lacking = to_order(told(*placed(to_order(told(), old))), new)
    ordered = [line.what for lines in lacking.lines.values() for line in lines]
    assert ordered
    assert all("Clay" in what for what in ordered)
    assert all("Dusk blue" in key.what for key in lacking.surplus)
    assert len(ordered) == len(lacking.surplus)
    both = told(*placed(to_order(told(), old)), *placed(lacking, 2))
    assert to_order(both, new).lines == {}


def test_what_went_back_is_ordered_again_if_it_is_needed(takeoffs):
    first = placed(to_order(told(), takeoffs[0]))
    back = GoodsReturned(number=first[0].number, day=DAY, lines=(LineReceived(line=1, good=1),), given="10.00")
    (line,) = [line for lines in to_order(told(*first, back), takeoffs[0]).lines.values() for line in lines]
    assert (line.code, line.packs) == (first[0].lines[0].code, 1)


ORDER = OrderPlaced(
    number="7", supplier="Fallow Board Yard", revision=1, day=DAY,
    lines=(OrderLine(code="pb18", what="chipboard", packs=3), OrderLine(code="strip", what="strip", packs=1)),
)  # fmt: skip


def received(story, *, short=(), bad=()):
    return GoodsReceived(number="7", day=DAY, lines=delivered(story.order("7"), short, bad))


def test_what_is_short_or_bad_stays_to_come():
    story = told(ORDER, OrderConfirmed(number="7", comes=date(2026, 4, 1)))
    assert story.order("7").comes == date(2026, 4, 1)
    story = told(ORDER, first := received(story, short=["1:1"], bad=["2:1:scratched"]))
    assert story.order("7").open == (1, 1)
    story = told(ORDER, first, received(story))
    assert story.order("7").open == (0, 0)
    assert story.state is State.HERE


@pytest.mark.parametrize(("short", "bad", "said"), [
    (["3"], [], "--short: found '3'"), (["9:1"], [], "line: found 9; allowed: 1 to 2"),
    ([], ["1:x:bent"], "--bad: found '1:x:bent'"), (["1:4"], [], "good"),
])  # fmt: skip
def test_what_cannot_have_come_is_refused(short, bad, said):
    with pytest.raises(InputError) as caught:
        delivered(told(ORDER).order("7"), short, bad)
    assert said in str(caught.value)


def test_more_than_was_ordered_is_refused():
    with pytest.raises(InputError, match="at most 3"):
        check_received(told(ORDER).order("7"), (LineReceived(line=1, good=4),))


def test_what_goes_back_is_held_no_more_and_no_more_goes_back_than_is_held():
    order = told(ORDER).order("7")
    check_received(order, gone_back(["1:3"]), back=True)
    with pytest.raises(InputError, match="at most 3"):
        check_received(order, gone_back(["1:4"]), back=True)
    back = GoodsReturned(number="7", day=DAY, lines=gone_back(["1:2"]), given="10.00")
    assert told(ORDER, back).order("7").held == (1, 1)
