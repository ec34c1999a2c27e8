"""Lines of the firm, overhead, the least charge, articles from stock, and visits by hours: each worked by hand."""

from decimal import Decimal

import pytest

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.labour import Work, travel, visits_for
from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.counting.terms import Extra, Travel, Waste
from countersunk.takeoff.report.orders import orders
from countersunk.takeoff.report.report import csv_bytes
from countersunk.viewer.quoting.customer import provisional, sections
from tests.takeoff.by_hand import small_kitchen, terms

WAY = Travel(rate="travel.km", visits=2, hours=16.0, km=10.0, minutes=30.0)


@pytest.fixture(scope="module")
def kitchen():
    return small_kitchen()


@pytest.fixture(scope="module")
def plain(kitchen):
    return estimate(kitchen, terms=terms(15.0))


def line(taken, item):
    (found,) = (m for m in taken.materials if m.quantity.item == item)
    return found


def extra(code, price, **more):
    return Extra.model_validate({"code": code, "name": code, "price": price, "tax": 20.0, **more})


# A lump sum, three doors at 12.50, and 1.2 m of exposed edge at 9.99, 11.988 → 11.99: no mark-up on any of them.
def test_lines_of_the_firm_cost_what_the_terms_say(kitchen, plain):
    asked = terms(15.0, extras=(
        extra("skip", 180.0), extra("door", 12.5, per="doors"), extra("edge", 9.99, per="exposed-edges", unit="m"),
    ))  # fmt: skip
    taken = estimate(kitchen, terms=asked)
    nets = {code: str(line(taken, f"extra.{code}").charge.net) for code in ("skip", "door", "edge")}
    assert nets == {"skip": "180.00", "door": "37.50", "edge": "11.99"}
    assert taken.totals.net - plain.totals.net == Decimal("229.49")
    assert taken.totals.tax - plain.totals.tax == Decimal("36.00") + Decimal("7.50") + Decimal("2.40")
    assert line(taken, "extra.door").quantity.formula == "3 doors × 12.5"
    assert not [m for order in orders(taken) for m in order.lines if m.quantity.item.startswith("extra.")]
    assert sum(sections(taken).values()) == taken.totals.net
    assert b"extra.skip" in csv_bytes(taken)


def test_what_a_kitchen_has_none_of_is_no_line(kitchen):
    taken = estimate(kitchen, terms=terms(extras=(extra("upstand", 5.0, per="upstands"),)))
    assert not [m for m in taken.materials if m.quantity.item == "extra.upstand"]


def test_a_measure_that_there_is_not(kitchen):
    with pytest.raises(InputError, match=r"extras\[0\].per: found 'dors'"):
        estimate(kitchen, terms=terms(extras=(extra("door", 5.0, per="dors"),)))
    with pytest.raises(InputError, match=r"extras\[0\].unit: found m2 of a length; allowed: each, or m"):
        estimate(kitchen, terms=terms(extras=(extra("door", 5.0, per="doors", unit="m2"),)))


def test_a_provisional_sum_is_called_so(kitchen):
    taken = estimate(kitchen, terms=terms(extras=(extra("floor", 250.0, provisional=True), extra("skip", 90.0))))
    assert line(taken, "extra.floor").quantity.description == "floor (provisional sum)"
    assert provisional(taken) == ["floor, 250.00"]


# 8 % of everything without tax, taxed as the hour is; the least charge takes what is then short.
def test_overhead_is_on_all_lines_and_the_least_charge_after_it(kitchen, plain):
    taken = estimate(kitchen, terms=terms(15.0, overhead=8.0))
    over = (plain.totals.net * 8 / 100).quantize(Decimal("0.01"))
    assert line(taken, "overhead").charge.net == over
    assert taken.totals.net == plain.totals.net + over
    least = estimate(kitchen, terms=terms(15.0, overhead=8.0, least_charge=9_000.0))
    assert least.totals.net == Decimal("9000.00")
    enough = estimate(kitchen, terms=terms(15.0, least_charge=10.0))
    assert enough.totals == plain.totals


# Bands of 8.648 m with 5 % are 9.0804 m of a roll of 50: 0.1816 of one, to four decimals, half up; 0.1816 × 9.90.
def test_what_is_from_stock_is_paid_for_as_it_is_used_and_not_ordered(kitchen, plain):
    bought = line(plain, "band.pb18")
    taken = estimate(kitchen, terms=terms(15.0, from_stock=("band.pb18",)))
    used = line(taken, "band.pb18")
    share = Decimal("0.1816")
    assert bought.quantity.pack == 50.0
    assert used.paid == share
    assert used.charge.listed == (share * used.price.price).quantize(Decimal("0.01")) < bought.charge.listed
    assert (used.quantity.packs, used.quantity.surplus) == (0, 0.0)
    ordered = {m.quantity.item for order in orders(taken) for m in order.lines}
    assert "band.pb18" not in ordered
    assert "band.front18" in ordered


def test_a_waste_on_boards_that_would_do_nothing_is_refused(kitchen):
    asked = terms(waste=(Waste(rule="boards", percent=35.0),))
    assert estimate(kitchen, terms=asked)
    with pytest.raises(InputError, match=r"waste\[0\]: found 35 % on boards, which are cut from whole sheets"):
        take_off(kitchen, terms=asked)
    assert take_off(kitchen, terms=terms(waste=(Waste(rule="boards", percent=20.0),)))


# 35.5 hours on site, 16 in a visit: 2.2, so three; 3 in the workshop besides count for none.
def test_visits_follow_the_hours_on_site():
    def work(hours, *, on_site):
        return Work("x", "x", "each", Decimal(1), Decimal(str(hours)) * 60, 1, (), "s", "1 x", on_site)

    done = [work(35.5, on_site=True), work(30.0, on_site=False)]
    asked = terms(travel=WAY)
    assert visits_for(asked, done) == 3
    assert visits_for(asked, [work(32.0, on_site=True)]) == 2
    assert visits_for(terms(travel=WAY.model_copy(update={"hours": None})), done) == 2
    road, way = travel(asked, done)
    assert (road.amount, way.amount) == (3, 30)
