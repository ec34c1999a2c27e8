"""Tops on what is bought or kept: the cheapest, proven, and checked by a verifier that knows nothing of plans."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import Kitchen, build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.cut_order import cut_order
from countersunk.takeoff.plans.strips import StripPiece
from countersunk.takeoff.plans.tops import Bar, Laid, TopPlan, plan_together, plan_tops, shape_on
from countersunk.takeoff.stock.offcuts import Offcut, new_offcut
from countersunk.takeoff.stock.prices import demo_prices, price_book
from tests.lanes import tries
from tests.specimens import SOME_DEMOS, cornered, document, open_kitchen
from tests.takeoff.by_hand import HEADER, small_kitchen

SAW = default_rules().saw
BOOK = demo_prices()


def faults(plan: TopPlan, kitchen: Kitchen):
    """What is wrong with a plan, from the parts of the kitchen and the catalogue alone."""
    lengths = {length.id: length for length in kitchen.lengths}
    held = [p.id for bar in plan.bars for p in bar.pieces] + [p.id for p in plan.unplaced]
    yield from (f"{id_} is cut {held.count(id_)} times" for id_ in held if held.count(id_) != 1)
    for bar in plan.bars:
        stock = kitchen.catalogue.stocks[bar.stock]
        if not bar.offcut and (bar.length not in stock.lengths or bar.depth != stock.depth):
            yield f"{bar.stock} is not sold as {bar.length} x {bar.depth}"
        shapes = [where_it_lies(p, lengths[p.id]) for p in bar.pieces]
        for piece, shape in zip(bar.pieces, shapes, strict=True):
            wanted = lengths[piece.id].run.stock
            if (stock.thickness, stock.nose, stock.core) != (wanted.thickness, wanted.nose, wanted.core):
                yield f"{piece.id} is of another section"
            x0, y0, x1, y1 = shape.bounds
            if x0 < -1e-6 or x1 > bar.length + 1e-6 or y0 < -0.02 or y1 > bar.depth + 0.02:
                yield f"{piece.id} is not inside its length"
            front = y0 if piece.turned else bar.depth - y1
            if abs(front) > 0.02 or (piece.turned and not stock.both_edges):
                yield f"the front of {piece.id} is not on a finished edge"
            if wanted.both_edges and (not stock.both_edges or abs(wanted.depth - stock.depth) > 0.01):
                yield f"the back of {piece.id} is not on a finished edge"
        if not can_be_parted(shapes, SAW.kerf):
            yield f"no straight cuts part the pieces on {bar.stock}"


def where_it_lies(piece: Laid, length):
    """The outline of the part itself, moved to where the plan puts it, within the extent that the plan gives it."""
    shape = shape_on(length, piece, SAW.kerf, 12.7)
    assert length.part.outline.bounds[3] == pytest.approx(length.run.stock.depth, abs=1e-6)
    assert shape.area == pytest.approx(Polygon(length.part.outline.exterior).area)
    assert Polygon(piece.corners).buffer(0.03, join_style="mitre").covers(shape)
    return shape


def can_be_parted(shapes, kerf):
    """Whether a straight cut parts them in two heaps, and so on: heaps are tried in order along and across."""
    if len(shapes) < 2:
        return True
    for axis in (0, 1):
        ordered = sorted(shapes, key=lambda s: s.centroid.coords[0][axis])
        for i in range(1, len(ordered)):
            heaps = [unary_union(some).convex_hull for some in (ordered[:i], ordered[i:])]
            if heaps[0].distance(heaps[1]) >= kerf - 0.02:
                return can_be_parted(ordered[:i], kerf) and can_be_parted(ordered[i:], kerf)
    return False


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_every_demo_has_a_plan_that_can_be_sawn_and_is_proven(path):
    kitchen = open_kitchen(path)
    plans = plan_tops(kitchen, SAW, BOOK)
    assert [fault for plan in plans for fault in faults(plan, kitchen)] == []
    assert all(plan.at_bound and not plan.unplaced for plan in plans)
    assert sorted(p.id for q in plans for bar in q.bars for p in bar.pieces) == sorted(
        x.id for x in kitchen.lengths
    )


def top_of(*widths, stock="pf38.600", **changes):
    """Tops over rows of one unit each on walls of their own: as long as the unit and 20 more."""
    places = [("A", 100.0), ("C", 100.0), ("A", 1400.0), ("C", 1400.0)]
    runs = tuple(
        {"wall": wall, "start": start, "units": ({"unit": "base-doors", "width": float(width)},)}
        for (wall, start), width in zip(places, widths, strict=False)
    )
    return build(document(runs=runs, worktop={"stock": stock, "decor": "pale-oak"}, **changes))


def book_of(**prices):
    """Prices of lengths, such as ``pf38_600_2400=68``."""
    rows = [f"{code.replace('_', '.')},top,m,1,{price},EUR,2026-01-02,20" for code, price in prices.items()]
    return price_book((HEADER + "\n".join(rows)).encode(), "test.csv")


def bought(plans):
    return sorted((bar.stock, bar.length) for plan in plans for bar in plan.bars)


def test_price_decides_and_not_length():
    # two tops of 1020: 2400 holds both by length; where 3000 is on offer at less it is bought
    kitchen = top_of(1000, 1000)
    assert bought(plan_tops(kitchen, SAW, BOOK)) == [("pf38.600", 2400.0)]
    offer = book_of(pf38_600_2400=68, pf38_600_3000=60, pf38_600_3600=110, pf38_600_4100=120)
    (plan,) = plan_tops(kitchen, SAW, offer)
    assert (bought([plan]), plan.cost, plan.at_bound) == ([("pf38.600", 3000.0)], Decimal(60), True)


def test_a_deeper_stock_of_the_same_section_is_taken_where_it_is_cheaper():
    kitchen = top_of(1000)
    cheap = book_of(pf38_600_2400=68, pf38_600_3000=85, pf38_600_3600=102, pf38_600_4100=116, pf38_616_3000=50)
    (plan,) = plan_tops(kitchen, SAW, cheap)
    assert bought([plan]) == [("pf38.616", 3000.0)]
    line = estimate(kitchen, cheap, plans=[plan]).quantities[0]
    assert "instead of pf38.600, of the same section" in line.note
    assert "T1 ripped from a depth of 616" in line.note
    assert list(faults(plan, kitchen)) == []


def wide(kitchen, depth=1204.0):
    """The kitchen with a stock of two finished edges that is so deep in its catalogue."""
    stock = kitchen.catalogue.stocks["pf38.900"].model_copy(update={"code": "pf38.wide", "depth": depth})
    stocks = {**kitchen.catalogue.stocks, "pf38.wide": stock}
    return replace(kitchen, catalogue=replace(kitchen.catalogue, stocks=stocks))


WIDE = book_of(pf38_600_2400=68, pf38_600_3000=85, pf38_600_3600=102, pf38_600_4100=116, pf38_wide_2400=100)


def test_two_tops_come_from_one_depth_with_two_finished_edges():
    # by hand: four tops of 1020 take 2 x 1020 + 4 + 10 = 2054 in two rows, one length of 100 where 4100 costs 116
    kitchen = wide(top_of(1000, 1000, 1000, 1000))
    (plan,) = plan_tops(kitchen, SAW, WIDE)
    assert (bought([plan]), plan.cost) == ([("pf38.wide", 2400.0)], Decimal(100))
    assert sorted((p.x, p.turned) for p in plan.bars[0].pieces) == [
        (5, False),
        (5, True),
        (1029, False),
        (1029, True),
    ]
    assert list(faults(plan, kitchen)) == []
    line = estimate(kitchen, WIDE, plans=[plan]).quantities[0]
    assert line.formula.startswith("T1 1020 + ")
    assert " | " in line.formula
    # a millimetre less and no cut parts two rows: two lengths of 68
    narrow = wide(top_of(1000, 1000, 1000, 1000), 1203.0)
    assert bought(plan_tops(narrow, SAW, WIDE)) == [("pf38.600", 2400.0), ("pf38.600", 2400.0)]


def test_what_is_left_of_a_row_is_worth_keeping():
    # 2020 beside 1020: behind the short one 2020 - 1020 - 4 = 996 x 600 is left with its own edge
    unit = {"unit": "base-doors", "width": 1000.0}
    runs = ({"wall": "A", "start": 100.0, "units": (unit, unit)}, {"wall": "C", "start": 100.0, "units": (unit,)})
    kitchen = wide(build(document(runs=runs, worktop={"stock": "pf38.600", "decor": "pale-oak"})))
    (plan,) = plan_tops(kitchen, SAW, WIDE)
    assert bought([plan]) == [("pf38.wide", 2400.0)]
    assert plan.bars[0].left == (new_offcut("pf38.wide", "pale-oak", 996, 600),)
    # a top of 1020 alone leaves 2400 - 10 - 1020 - 4 = 1366 behind it, and all of its other row beside it
    (plan,) = plan_tops(wide(top_of(1000)), SAW, book_of(pf38_600_2400=68, pf38_wide_2400=50))
    assert [(o.length, o.width) for o in plan.bars[0].left] == [(1366, 1204), (1020, 600)]


def test_offcuts_are_taken_first_and_the_smallest_that_will_do():
    kitchen = small_kitchen()  # one top of 1620
    kept = [
        Offcut("long", "pf38.600", "pale-oak", 2000, 600, 1),
        Offcut("short", "pf38.600", "pale-oak", 1630, 600, 1),
        Offcut("other", "pf38.600", "smoked-ash", 1630, 600, 1),
        Offcut("narrow", "pf38.600", "pale-oak", 1630, 599, 1),
    ]
    (plan,) = plan_tops(kitchen, SAW, BOOK, kept)
    assert [(bar.offcut, plan.cost) for bar in plan.bars] == [("short", Decimal(0))]
    taken = estimate(kitchen, offcuts=kept)
    line = taken.quantities[0]
    assert (line.item, line.packs, line.group) == ("offcut.short", 1, "worktop")
    assert line.description == "offcut short, post-formed laminate 38 x 600 x 1630, Pale oak"
    assert not taken.missing
    without = estimate(kitchen)
    assert taken.totals.net < without.totals.net


def test_an_offcut_less_deep_than_its_stock_says_how_deep_it_is():
    kept = [Offcut("ripped", "pf38.616", "pale-oak", 1630, 605, 1)]
    line = estimate(small_kitchen(), offcuts=kept).quantities[0]
    assert line.description == "offcut ripped, post-formed laminate 38 x 616 x 1630, 605 deep, Pale oak"


def test_an_offcut_with_a_price_of_its_own_is_taken_where_it_is_cheaper():
    dear = [Offcut("dear", "pf38.600", "pale-oak", 2000, 600, 1, Decimal(70))]
    assert bought(plan_tops(small_kitchen(), SAW, BOOK, dear)) == [("pf38.600", 2400.0)]
    cheap = [replace(dear[0], price=Decimal(20))]
    (plan,) = plan_tops(small_kitchen(), SAW, BOOK, cheap)
    assert (plan.bars[0].offcut, plan.cost) == ("dear", Decimal(20))


def test_without_prices_tops_are_planned_by_area_and_said_so():
    (plan,) = plan_tops(small_kitchen(), SAW, book_of(other=1))
    assert (bought([plan]), plan.priced, plan.bars[0].price) == ([("pf38.600", 2400.0)], False, None)
    assert "no price is known, so by area" in estimate(small_kitchen(), book_of(other=1)).quantities[0].formula


def test_a_top_that_leaves_less_than_the_trim_takes_a_length_for_itself():
    kitchen = small_kitchen()
    (plan,) = plan_tops(kitchen, SAW.model_copy(update={"trim": 2485.0}), BOOK)  # 4100 - 2485 = 1615
    assert (bought([plan]), plan.bars[0].pieces[0].x) == ([("pf38.600", 2400.0)], 0.0)


def test_two_tops_that_leave_less_than_the_trim_come_from_one_depth_with_two_finished_edges():
    # by hand: tops of 2 x 1000 + 20 on lengths of 2025, of which the trim leaves 2015: two rows of one for 100
    unit = {"unit": "base-doors", "width": 1000.0}
    runs = tuple({"wall": wall, "start": 100.0, "units": (unit, unit)} for wall in "AC")
    kitchen = wide(build(document(runs=runs, worktop={"stock": "pf38.600", "decor": "pale-oak"})))
    stocks = {code: s.model_copy(update={"lengths": (2025.0,)}) for code, s in kitchen.catalogue.stocks.items()}
    kitchen = replace(kitchen, catalogue=replace(kitchen.catalogue, stocks=stocks))
    (plan,) = plan_tops(kitchen, SAW, book_of(pf38_600_2025=68, pf38_wide_2025=100))
    assert (bought([plan]), plan.cost, plan.bound) == ([("pf38.wide", 2025.0)], Decimal(100), Decimal(100))
    assert sorted((p.x, p.turned) for p in plan.bars[0].pieces) == [(0, False), (0, True)]


def test_the_saw_cuts_are_told_in_their_order():
    # 2020 beside 1020 on 1204: square the end, cut the stretch off at 5 + 2020, rip the front row at 600, then the
    # shorter one of the other row off at 5 + 1020.
    unit = {"unit": "base-doors", "width": 1000.0}
    runs = ({"wall": "A", "start": 100.0, "units": (unit, unit)}, {"wall": "C", "start": 100.0, "units": (unit,)})
    kitchen = wide(build(document(runs=runs, worktop={"stock": "pf38.600", "decor": "pale-oak"})))
    (plan,) = plan_tops(kitchen, SAW, WIDE)
    cuts = [(c.kind, c.at, c.pieces) for c in cut_order(plan.bars[0], 4.0)]
    assert cuts == [
        ("square", 5.0, ()), ("across", 2025.0, ("T1", "T2")), ("rip", 600.0, ("T1",)), ("across", 1025.0, ("T2",)),
    ]  # fmt: skip
    (plan,) = plan_tops(top_of(1000, 1000), SAW, BOOK)
    cuts = [(c.kind, c.at, c.pieces) for c in cut_order(plan.bars[0], 4.0)]
    assert cuts == [("square", 5.0, ()), ("across", 1025.0, ("T1",)), ("across", 2049.0, ("T2",))]


def test_a_plan_has_the_work_of_ripping_and_the_worth_of_offcuts_in_its_price():
    # One top of 1020 from a depth of 616 for 50: ripped 1.02 m at 5 minutes and 48 an hour, 4 a metre, is 4.08.
    # Behind it 3000 - 10 - 1020 - 4 = 1966 x 616 is kept: a tenth of 50 x 1966 / 2990 = 3.29.
    rates = book_of(pf38_600_2400=68, pf38_600_3000=85, pf38_600_3600=102, pf38_600_4100=116, pf38_616_3000=50)
    book = replace(rates, prices={**rates.prices, "labour.hour": BOOK.prices["labour.hour"]})
    (plan,) = plan_tops(top_of(1000), SAW, book)
    assert (plan.cost, plan.labour, plan.worth) == (Decimal(50), Decimal("4.08"), Decimal("3.29"))
    assert (plan.price, plan.at_bound) == (Decimal("50.79"), True)
    (line,) = (w for w in estimate(top_of(1000), book).labour if w.work.code == "rip")
    assert (line.work.amount, str(line.charge.net)) == (Decimal("1.020"), "4.08")
    assert line.work.formula == "1 top, 1.02 m × 5 min × 1 person ÷ 60 × rate"
    assert not [w for w in estimate(top_of(1000)).labour if w.work.code == "rip"]


class TestOtherPlans:
    """A plan may come from elsewhere; it must hold the kitchen's own lengths."""

    def test_is_taken_as_it_is(self):
        laid = Laid("T1", 5.0, 0.0, 1620.0, 600.0, False, ())
        own = TopPlan(("pf38.600",), (Bar("pf38.600", 4100.0, 600.0, (laid,)),), Decimal(117), Decimal(68))
        line = estimate(small_kitchen(), plans=[own]).quantities[0]
        assert (line.item, line.packs, line.ordered) == ("pf38.600.4100", 1, 4.1)
        assert line.formula.endswith("below 68.00 is impossible, a cheaper plan may exist)")

    def test_that_forgets_a_length_is_refused(self):
        with pytest.raises(ValueError, match=r"the plans hold \[\] where the kitchen has \['T1'\]"):
            estimate(small_kitchen(), plans=[])

    def test_that_cannot_place_a_length_says_so(self):
        own = TopPlan(("pf38.600",), (), Decimal(0), Decimal(0), unplaced=(StripPiece("T1", 1620.0),))
        taken = estimate(small_kitchen(), plans=[own])
        assert taken.missing == ("pf38.600: T1 longer than the longest stock, 4100",)


# Two tops of a mirrored kitchen in inches, as they came out of the model. In whole hundredths the left end of the
# second, which bends by a hair half a millimetre from the back, bends the other way.
BULGING = (
    (2093.6510298134563, 0.0), (1372.566591285714, 1.0), (1317.1270308461653, 0.0), (0.0, 0.0), (0.0, 660.4),
    (2090.9191518676544, 660.4),
)  # fmt: skip
KINKED = (
    (1.5257690098455408, 2.86e-11), (1.523575130893023, 0.5165916187111844),
    (1.5116128281081083, 97.67741698225927), (1.4996505253231853, 194.83824234587428),
    (1.4876872225470188, 291.9990677052424), (1.4757249197630053, 389.1598930688574),
    (1.4571646764745574, 486.3206904121132), (0.6438895997373302, 583.4781127332369),
    (0.0, 660.4), (996.495922002975, 660.4), (996.495922002975, 0.7167995191278479), (722.2400547172604, 3.0),
)  # fmt: skip


def outlined(kitchen, *outlines):
    """The kitchen with tops of these outlines."""
    pairs = zip(kitchen.lengths, outlines, strict=True)
    lengths = tuple(replace(x, part=replace(x.part, outline=Polygon(outline))) for x, outline in pairs)
    return replace(kitchen, lengths=lengths)


def test_an_end_hollowed_by_rounding_is_nested_by_its_hull():
    kitchen = outlined(top_of(36 * 25.4, 36 * 25.4, stock="sq-26in", catalogue="inch"), BULGING, KINKED)
    (plan,) = plan_tops(kitchen, SAW, BOOK)
    assert list(faults(plan, kitchen)) == []
    assert sum(len(bar.pieces) for bar in plan.bars) == 2


def cost(plans):
    return sum((plan.cost for plan in plans), Decimal(0))


@st.composite
def metric(draw):
    """A demo with stock in millimetres."""
    return draw(st.sampled_from([p for p in SOME_DEMOS if open_kitchen(p).document.catalogue == "metric"]))


@settings(max_examples=tries(20), deadline=None)
@given(metric(), metric())
def test_the_tops_of_two_kitchens_together_never_cost_more_than_apart(one, other):
    pair = [open_kitchen(one), open_kitchen(other)]
    together = plan_together(pair, SAW, BOOK)
    assert all(plan.at_bound for plan in together)
    assert cost(together) <= sum(cost(plan_tops(kitchen, SAW, BOOK)) for kitchen in pair)


class TestRoomForTheRouter:
    """Ends that are routed after a rough cut lie a cutter apart, 12.7 by the allowances; others a saw cut, 4."""

    def gaps(self, kitchens, router=12.7):
        """Between neighbours of each bar: how far apart they are, and how many of their two ends are routed."""
        lengths = {t.id: t for k in kitchens for t in k.lengths}
        for plan in plan_together(kitchens, SAW, BOOK):
            for bar in plan.bars:
                shapes = [shape_on(lengths[p.id], p, SAW.kerf, router) for p in bar.pieces]
                for (one, left), (other, right) in pairwise(zip(bar.pieces, shapes, strict=True)):
                    ends = [(one, "left" if one.turned else "right"), (other, "right" if other.turned else "left")]
                    joints = [getattr(lengths[piece.id], side).joint for piece, side in ends]
                    yield left.distance(right), sum(joint is not None for joint in joints)

    def test_mitred_ends_lie_a_cutter_apart(self):
        found = list(self.gaps([build(cornered(90.0))]))
        assert found
        for apart, routed in found:
            assert apart >= 4.0 + routed * (12.7 - 4.0) / 2 - 0.05

    def test_the_room_is_data(self):
        found = list(self.gaps([build(edited(cornered(90.0), {"allowances": {"router": 30.0}}))], 30.0))
        assert found
        for apart, routed in found:
            assert apart >= 4.0 + routed * 13.0 - 0.05

    def test_a_piece_as_long_as_its_stock_needs_no_room(self):
        # In line on 4100 of stock: the left length is 4100 long, and its joint is routed at its very end.
        units = ({"unit": "base-doors", "width": 1000.0},) * 5
        room = {"walls": ({"name": "A", "length": 6000.0},)}
        top = {"stock": "pf38.600", "decor": "pale-oak", "in_line": ({"run": "A", "at": 4590.0},)}
        built = build(document(room=room, runs=({"wall": "A", "start": 500.0, "units": units},), worktop=top))
        assert built.lengths[0].part.length == pytest.approx(4100.0)
        plans = plan_together([built], SAW, BOOK)
        assert not any(plan.unplaced for plan in plans)
