"""The offcuts of a store: each has its own number, nobody reserves what another has, and the ledger balances."""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from decimal import Decimal

import pytest

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.jobs.diary import JobOpened, Noted
from countersunk.takeoff.jobs.engine import StoreError, connect
from countersunk.takeoff.jobs.migrations import bring_up_to_date
from countersunk.takeoff.jobs.offcut_stock import Standing, offcut_id, offcut_stock
from countersunk.takeoff.jobs.store import Store, opened_store
from countersunk.takeoff.stock.offcuts import Offcut
from tests.specimens import open_kitchen

SHEET = Offcut("any", "pb18", "", 1400.0, 1000.0, 2, Decimal("4.50"))


@pytest.fixture
def stock(store):
    return offcut_stock(store)


def balanced(stock):
    """Every offcut stands where its last movement says, and its movements are numbered from 1."""
    last = {m.offcut: m for m in stock.movements()}
    counted = Counter(m.offcut for m in stock.movements())
    assert all(counted[number] == m.number for number, m in last.items())
    return {k.number: k.standing for k in stock.kept()} == {number: m.standing for number, m in last.items()}


def test_two_offcuts_of_one_size_have_two_numbers(stock):
    assert stock.put_in([SHEET], "fitter") == (1, 2)
    first, second = stock.kept()
    assert (first.offcut.id, second.offcut.id) == ("k1", "k2")
    assert (first.offcut.length, first.offcut.price, first.offcut.quantity) == (1400.0, Decimal("4.50"), 1)


def test_what_one_job_reserves_no_other_is_offered(stock):
    stock.put_in([SHEET], "fitter")
    stock.reserve("2026-0001", ["k1"], "fitter")
    assert [o.id for o in stock.available("2026-0001")] == ["k1", "k2"]
    assert [o.id for o in stock.available("2026-0002")] == ["k2"]
    with pytest.raises(StoreError, match="offcut 1 is not free any more"):
        stock.reserve("2026-0002", ["k1", "k2"], "fitter")
    assert [o.id for o in stock.available("2026-0002")] == ["k2"]
    assert balanced(stock)


def test_a_plan_run_twice_takes_nothing_twice(stock):
    stock.put_in([SHEET], "fitter")
    for _ in range(2):
        stock.reserve("2026-0001", ["k1"], "fitter")
    assert [m.standing for m in stock.movements(1)] == [Standing.FREE, Standing.RESERVED]
    stock.reserve("2026-0001", ["k2"], "fitter")
    assert [k.number for k in stock.kept([Standing.RESERVED])] == [2]
    assert balanced(stock)


def test_a_job_that_is_cut_takes_what_it_reserved_and_leaves_its_rests_once(stock):
    stock.put_in([SHEET], "fitter")
    stock.reserve("2026-0001", ["k1"], "fitter")
    assert stock.cut("2026-0001", [Offcut("x", "pb18", "", 700.0, 300.0)], "fitter") == (3,)
    assert {k.number: k.standing for k in stock.kept()} == {1: Standing.TAKEN, 2: Standing.FREE, 3: Standing.FREE}
    with pytest.raises(InputError, match="cut before"):
        stock.cut("2026-0001", [SHEET], "fitter")
    assert balanced(stock)


def test_a_job_that_left_nothing_is_cut_once_too(stock):
    stock.put_in([SHEET], "fitter")
    stock.reserve("2026-0001", ["k1"], "fitter")
    assert stock.cut("2026-0001", [], "fitter") == ()
    with pytest.raises(InputError, match="cut before"):
        stock.cut("2026-0001", [SHEET], "fitter")


def test_a_count_puts_the_books_right(stock):
    stock.put_in([SHEET, SHEET], "fitter")
    stock.scrap(4, "fitter", "swollen")
    assert stock.take_stock([1, 4], "fitter") == ([2, 3], [4])
    assert [k.number for k in stock.kept([Standing.FREE])] == [1, 4]
    with pytest.raises(InputError, match="found 9"):
        stock.take_stock([9], "fitter")
    assert balanced(stock)


def test_six_takers_of_thirty_reserve_each_once(place):
    with opened_store(place) as store:
        offcut_stock(store).put_in([Offcut("x", "pb18", "", 700.0, 300.0, 30)], "fitter")

    def take(hand: int) -> list[str]:
        mine: list[str] = []
        with opened_store(place) as own:
            stock = offcut_stock(own)
            while free := stock.kept([Standing.FREE]):
                wanted = free[hand % len(free)].offcut.id
                try:
                    stock.reserve(f"job {hand}", [*mine, wanted], str(hand))
                    mine.append(wanted)
                except StoreError:
                    continue
        return mine

    with ThreadPoolExecutor(6) as pool:
        taken = [id_ for mine in pool.map(take, range(6)) for id_ in mine]
    assert sorted(taken) == sorted(map(offcut_id, range(1, 31)))
    with opened_store(place) as store:
        assert balanced(offcut_stock(store))


def test_a_store_of_the_first_step_keeps_its_jobs_when_offcuts_come(place):
    engine = connect(place)
    bring_up_to_date(engine, 1)
    old = Store(engine)
    job = old.open_job(JobOpened(customer=("A. Reader",), day=date(2026, 3, 2)), "d")
    old.add(job, 1, [Noted(note="before")], "d")
    before = old.diary(job)
    engine.close()
    with opened_store(place) as store:
        assert store.diary(job) == before
        assert offcut_stock(store).put_in([SHEET], "d") == (1, 2)


@pytest.mark.slow
def test_a_kitchen_is_cut_from_the_stock_and_the_material_balances(stock):
    """A second kitchen of the same kind takes what the first left, and buys no more than the first."""
    kitchen = open_kitchen("straight")
    first = take_off(kitchen)
    stock.reserve("one", list(first.cut.used), "d")
    stock.cut("one", first.cut.left, "d")
    second = take_off(kitchen, offcuts=stock.available("two"))
    stock.reserve("two", list(second.cut.used), "d")
    stock.cut("two", second.cut.left, "d")
    taken = {k.offcut.id for k in stock.kept([Standing.TAKEN], "two")}
    assert taken == set(second.cut.used)
    assert taken
    assert sum(p.bought for p in second.boards) <= sum(p.bought for p in first.boards)
    assert balanced(stock)
