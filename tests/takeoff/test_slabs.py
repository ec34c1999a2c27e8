"""Tops that are made to measure from slabs: as they are laid, counted and asked for, worked by hand.

Masses: a slab of engineered stone 3030 x 1430 x 20 weighs 189 to 210 kg, a sintered one 3150 x 1400 x 12 weighs
141 kg (makers' sheets, seen). All else here is common practice, no source.
"""

from itertools import chain

import pytest
from shapely import box as rectangle
from shapely import union_all

from countersunk.model.catalogue.catalogue import Stock, default_catalogue
from countersunk.model.checks import check
from countersunk.model.checks import default_rules as default_checks
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.slabs import SlabPiece, _planned, slab_plans
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.papers import has_templates
from countersunk.viewer.drawing.request_sheets import request_sheets
from countersunk.viewer.drawing.shapes import Text
from tests.model.test_checks import kitchen, run, unit

METRIC = default_catalogue()


def top(stock="granite20", **own):
    """1220 long over two units of 600, both ends free, 20 past the fronts."""
    return {"stock": stock, "decor": "salt-terrazzo", "overhang": {"front": 20.0, "ends": 10.0}, **own}


def on_wall(cutouts=(), **own):
    row = run(unit("base-doors", 600), unit("base-sink", 600), start=500)
    return kitchen(row, worktop=top(**own), cutouts=cutouts)


SINK = {"kind": "sink", "line": (400.0, 360.0), "radius": 20.0, "depth": 200.0, "over": "A2", "from_front": 110.0}


def lines(kitchen):
    return {q.item: q for q in take_off(kitchen).quantities}


@pytest.mark.parametrize(("code", "low", "high"), [("engineered20", 189.0, 210.0), ("porcelain12", 139.5, 142.0)])
def test_a_slab_weighs_what_makers_say(code, low, high):
    stock = METRIC.stocks[code]
    assert low <= stock.slab[0] * stock.slab[1] * stock.thickness * stock.density * 1e-9 <= high


def test_a_top_of_stone_is_counted_by_slab_edge_and_visit_and_not_sawn_here():
    found = lines(on_wall())
    assert (found["granite20"].packs, found["granite20"].net) == (1, pytest.approx(1.22 * 0.62))
    assert [piece.size for piece in found["granite20"].pieces] == ["1220 × 620 × 20 mm"]
    assert found["slab-edge.mason.20"].net == pytest.approx(1.22 + 2 * 0.62)  # front and two ends
    assert found["slab-visit.mason"].packs == 2
    assert not {"sealer", "screw.4x16", "adhesive.seam", "wear.blade", "edging.20"} & set(found)
    assert "lengths-laid" not in {w.work.code for w in take_off(on_wall()).labour}


def test_a_top_of_a_slab_is_as_deep_as_is_typed_and_one_by_the_length_is_not():
    (length,) = on_wall(depth=655.0).lengths
    assert (length.part.depth, length.mass) == (pytest.approx(655.0), pytest.approx(1.22 * 0.655 * 0.02 * 2700))
    with pytest.raises(InputError, match="600 deep as it is bought"):
        on_wall(stock="pf38.600", depth=655.0)
    with pytest.raises(InputError, match="at most 1600, the width of the slab"):
        on_wall(depth=1650.0)


def test_grooves_and_a_flush_rim_are_milled_out_of_the_slab():
    plain = solids.volume(on_wall(cutouts=({**SINK, "mount": "under"},)).lengths[0].part)
    assert plain == pytest.approx((1220 * 620 - 400 * 360 + (4 - 3.14159) * 20**2) * 20, abs=2e3)
    grooved = on_wall(cutouts=({**SINK, "mount": "under", "grooves": True, "drainer": "left"},))
    assert plain - solids.volume(grooved.lengths[0].part) == pytest.approx(5 * 380 * 8 * 5)
    # A rim of 420 x 380, 2 high, with 1 all round, over a line of 400 x 360.
    flush = on_wall(cutouts=({**SINK, "mount": "flush"},))
    ledge = 422 * 382 - 400 * 360 + (4 - 3.14159) * 20**2
    assert plain - solids.volume(flush.lengths[0].part) == pytest.approx(ledge * 2, rel=1e-3)
    counted = lines(grooved)
    assert (counted["slab-cutout.under"].packs, counted["slab-grooves"].packs) == (1, 1)
    assert lines(flush)["slab-cutout.flush"].packs == 1


@pytest.mark.parametrize(
    ("stock", "said", "why"),
    [
        ("pf38.600", {"mount": "flush"}, "in a top that a rim may be let into"),
        ("solid30.650", {"mount": "under", "grooves": True}, "from a slab"),
        ("porcelain12", {"mount": "under", "grooves": True}, "15 thick or more"),
        ("granite20", {"grooves": True}, "beside a sink under the top"),
        ("granite20", {"mount": "under", "grooves": True}, "of top all round them"),
    ],
)
def test_what_cannot_be_milled_is_refused(stock, said, why):
    with pytest.raises(InputError, match=why):
        on_wall(stock=stock, cutouts=({**SINK, **said},))


def test_slabs_are_pieces_cut_outs_offcuts_and_kerf():
    sizes = [(2628, 640), (1600, 640), (1878, 640), (2114, 100), (2498, 100), (1200, 900), (700, 500)]
    pieces = tuple(SlabPiece(f"p{i}", rectangle(0, 0, *size)) for i, size in enumerate(sizes))
    holed = SlabPiece("holed", rectangle(0, 0, 1800, 620).difference(rectangle(300, 100, 800, 500)))
    saw = default_rules().slabs
    plan = _planned(METRIC.stocks["granite20"], "", (*pieces, holed), saw)
    a = plan.areas
    assert a.slabs == len(plan.slabs) * 2800 * 1600
    assert a.pieces == pytest.approx(sum(x * y for x, y in sizes) + 1800 * 620 - 500 * 400)
    assert (a.cut_outs, a.shaped) == (pytest.approx(500 * 400), pytest.approx(0.0))
    # The saw by another way: strips as wide as the kerf along every cut, less what lies beyond the slab.
    strips = [
        rectangle(x.at, x.begin, x.at + saw.kerf, x.end)
        if x.across
        else rectangle(x.begin, x.at, x.end, x.at + saw.kerf)
        for x in chain.from_iterable(sheet.lines for sheet in plan.slabs)
    ]  # fmt: skip
    sawn = sum(strip.intersection(rectangle(0, 0, 2800, 1600)).area for strip in strips)
    assert a.kerf == pytest.approx(sawn, abs=1.0)
    assert a.slabs == pytest.approx(a.pieces + a.cut_outs + a.shaped + a.offcuts + a.waste + sawn, abs=1.0)
    for sheet in plan.slabs:
        laid = [rectangle(p.x, p.y, p.x + p.length, p.y + p.width) for p in sheet.places]
        assert union_all(laid).area == pytest.approx(sum(r.area for r in laid))
    assert plan.bound <= len(plan.slabs) <= 3


@pytest.mark.parametrize(
    ("stock", "rules"),
    [
        ("granite20", {"stone-20-back": "missed", "island-back-overhang": "met"}),
        ("granite30", {"stone-30-back": "met", "island-back-overhang": "met"}),
        ("pf38.900", {"island-back-overhang-laminate": "missed", "island-back-overhang": "met"}),
    ],
)
def test_overhang_is_asked_by_what_the_top_is_of_and_how_thick(stock, rules):
    """800 deep: 800 - 560 - 2 · 18 - 20 are 184 past the back: 20 may stand out 150, 30 may stand out 250."""
    depth = {} if stock == "pf38.900" else {"top_depth": 800.0}
    island = {"name": "I", "wall": "A", "along": 800.0, "out": 1400.0, "stock": stock, **depth,
              "units": (unit("end-panel", 18), unit("base-doors", 800))}  # fmt: skip
    built = kitchen(run(unit("base-doors", 600)), islands=(island,))
    found = {f.rule: f.verdict.value for f in check(built) if f.measure == "worktop.back_overhang"}
    assert {rule: "met" if verdict == "met" else "missed" for rule, verdict in found.items()} == rules


def test_engineered_stone_is_refused_in_australia_alone():
    built = on_wall(stock="engineered20")
    everywhere = [f for f in check(built) if f.rule == "top-engineered-stone"]
    assert [(f.value, f.severity.value, f.serious, f.region) for f in everywhere] == [(90.0, "must", True, "au-nz")]
    assert "1 July 2024" in everywhere[0].source
    elsewhere = check(on_wall(stock="engineered20"), default_checks().within(("uk",)))
    assert [f for f in elsewhere if f.rule == "top-engineered-stone"] == []
    assert not [f for f in check(on_wall(stock="low-silica20")) if f.rule == "top-engineered-stone" and f.serious]


def test_veined_pieces_lie_along_the_slab_and_what_fits_none_is_a_problem():
    tall = (SlabPiece("tall", rectangle(0, 0, 1200, 2000)),)
    saw = default_rules().slabs
    assert _planned(METRIC.stocks["porcelain12"], "", tall, saw).unplaced == ("tall",)
    assert _planned(METRIC.stocks["granite20"], "", tall, saw).unplaced == ()


def test_tops_from_slabs_and_others_are_not_joined():
    with pytest.raises(InputError, match="slabs of one kind for tops that are joined"):
        kitchen(
            run(unit("base-doors", 600), unit("base-doors", 600), unit("base-doors", 600), start=600),
            worktop=top(),
            peninsulas=(
                {"name": "P", "wall": "A", "along": 1100.0, "out": 640.0, "facing": "right", "stock": "solid30.900",
                 "units": (unit("filler", 60), unit("base-doors", 600))},
            ),
        )  # fmt: skip


def test_a_stock_is_as_long_as_its_slab():
    stock = Stock(code="s", name="s", thickness=20.0, depth=600.0, nose=0.0, core="granite", density=2700.0,
                  slab=(2800.0, 1600.0))  # fmt: skip
    assert (stock.lengths, stock.made_by) == ((2800.0,), "mason")
    assert METRIC.stocks["compact12.650"].made_by == METRIC.stocks["solid30.650"].made_by == ""


def test_the_mason_gets_a_request_and_the_fitter_no_saw_cut():
    built = on_wall(cutouts=({**SINK, "mount": "under", "grooves": True, "drainer": "left"},))
    first, piece = request_sheets(built)
    words = " ".join(m.words for view in (*first.views, *piece.views) for m in view.marks if isinstance(m, Text))
    for said in ("TEMPLATE REQUEST for the mason", "T1: 1220 x 620 x 20, granite 20", "2.46 m finished", "silica",
                 "line 400 x 360 R20", "Grooves on the left: 5 of 8 wide", "1 of 2800 x 1600"):  # fmt: skip
        assert said in words, said
    assert not has_templates(built)
    titles = [step.title for step in steps(built)]
    assert "Tops made by the mason" in titles
    assert not {"Mark and cut to length", "Cut the cut-outs", "Seal every raw edge"} & set(titles)
    assert slab_plans(kitchen(run(unit("base-doors", 600)))) == ()
    assert estimate(built).missing == ()
