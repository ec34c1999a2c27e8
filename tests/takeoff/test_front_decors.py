"""Fronts in several decors: which part is in which, what is bought of each, and that nothing is lost."""

from collections import defaultdict
from dataclasses import replace
from decimal import Decimal

import pytest

from countersunk.model.checks import check
from countersunk.model.document.schema import Document
from countersunk.model.edit import arrange
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import build, read_kitchen
from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.plans.boards import board_plans
from countersunk.takeoff.report.compare import compare
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import demo_prices
from countersunk.viewer.app.offers import offers
from countersunk.viewer.quoting.words import scope
from countersunk.viewer.scene.materials import decor_finish, finish_of, role_finish
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.properties import SEEDS, drawn
from tests.random_kitchens.rooms import rectangles
from tests.specimens import document

PLAIN, WOOD = ("chalk", "sage", "dusk-blue", "clay"), ("fen-oak", "tarn-walnut")
DECORS = (*PLAIN, *WOOD)


def unit(code, width, **more):
    return {"unit": code, "width": float(width), **more}


RUNS = (
    {
        "wall": "A",
        "start": 500.0,
        "units": (
            unit("end-panel", 18), unit("base-doors", 400), unit("base-sink", 600, fronts="clay"),
            unit("tall-larder", 600), unit("tall-panel", 18),
        ),
    },
    {
        "wall": "A", "level": "upper", "start": 518.0, "cornice": True,
        "units": (unit("wall-doors", 400), unit("wall-open", 300)),
    },
    {
        "wall": "C", "start": 500.0, "fronts": "dusk-blue",
        "units": (unit("base-doors", 600), unit("base-drawers", 600, fronts="sage")),
    },
)  # fmt: skip
MIXED = {"decor": "chalk", "upper": "sage", "tall": "clay"}


@pytest.fixture(scope="module")
def mixed():
    return build(document(runs=RUNS, fronts=MIXED))


@pytest.fixture(scope="module")
def taken(mixed):
    return take_off(mixed)


def bare(row):
    """A row with no word about its own fronts."""
    units = tuple({key: value for key, value in u.items() if key != "fronts"} for u in row["units"])
    return {**{key: value for key, value in row.items() if key != "fronts"}, "units": units}


def decors(kitchen):
    """The decor of every part that has one, by its mark."""
    return {part.mark: kitchen.decor_of(part) for part in kitchen.parts if kitchen.decor_of(part)}


def amounts(taken):
    """What is measured of each article, by its decor."""
    found = defaultdict(dict)
    for q in taken.quantities:
        found[q.item][q.decor] = q.net
    return found


class TestWhichDecor:
    def test_the_nearest_word_counts(self, mixed):
        """A unit's own before its row's, that before its level's, that before the kitchen's."""
        found = decors(mixed)
        assert [found[mark] for mark in ("A1.panel", "A2.door", "A3.door")] == ["chalk", "chalk", "clay"]
        assert [found[mark] for mark in ("A4.door", "A5.panel", "AU1.door")] == ["clay", "clay", "sage"]
        assert [found[mark] for mark in ("C1.door", "C2.drawer-front.1")] == ["dusk-blue", "sage"]
        # an open unit is made of front boards all through
        assert {found[f"AU2.{role}"] for role in ("side.left", "bottom", "top", "back", "shelf.1")} == {"sage"}
        assert {found["T1"], found["T2"]} == {"pale-oak"}
        assert "A2.side.left" not in found

    def test_what_runs_along_a_row_is_in_the_decor_of_the_row(self, mixed):
        """Common practice, no source: one plinth runs before units of two decors, and is in one itself."""
        found = decors(mixed)
        assert [found["A2.plinth"], found["C1.plinth"], found["AU1.cornice"]] == ["chalk", "dusk-blue", "sage"]

    def test_an_island_has_its_own_all_round(self):
        island = {"name": "I", "wall": "A", "along": 800.0, "out": 1500.0, "fronts": "clay", "stock": "pf38.900",
                  "units": (unit("base-doors", 600), unit("base-doors", 600, fronts="sage"))}  # fmt: skip
        found = decors(build(document(islands=(island,))))
        assert {found[f"I1.{role}"] for role in ("door", "panel.back", "plinth")} == {"clay"}
        assert {decor for mark, decor in found.items() if mark.startswith("I2.")} == {"sage"}
        assert {decor for mark, decor in found.items() if mark.startswith("A")} == {"chalk"}

    def test_a_mirrored_kitchen_has_the_same(self, mixed):
        other = build(mirrored(mixed.document))
        assert {u.key: u.fronts for u in other.units} == {u.key: u.fronts for u in mixed.units}
        both = (sorted((p.role, round(p.area), k.decor_of(p)) for p in k.parts) for k in (mixed, other))
        assert next(both) == next(both)

    def test_another_unit_in_its_place_keeps_its_decor(self, mixed):
        family = mixed.catalogue.families["base-drawers"]
        assert arrange.as_family(family, {"unit": "base-sink", "fronts": "clay"})["fronts"] == "clay"


def test_every_unknown_decor_is_named_with_its_line():
    text = """countersunk: 2
kitchen: Two-tone
room: {walls: [{name: A, length: 3000, corner: 90}, {name: B, length: 3000, corner: 90}, {name: C, length: 3000,
  corner: 90}, {name: D, length: 3000, corner: 90}]}
runs:
  - wall: A
    units:
      - {unit: base-doors, width: 400, fronts: pale-oak}
worktop: {stock: pf38.600, decor: pale-oak}
fronts:
  decor: chalk
  upper: sag
"""
    with pytest.raises(InputError) as caught:
        read_kitchen(text.encode(), "two.yaml")
    found = [(p.line, p.field, p.found, p.allowed, p.advice) for p in caught.value.problems]
    allowed = ", ".join(DECORS)
    assert [(line, field, what) for line, field, what, *_ in found] == [
        (12, "fronts.upper", "'sag'"), (8, "runs[0].units[0].fronts", "'pale-oak'"),
    ]  # fmt: skip
    assert found[0][3:] == (allowed, "'sage'")


class TestWhatIsBought:
    def test_boards_and_band_by_hand(self, taken):
        """A front is 3 less than its bay both ways; sizes in m, a panel is 0.58 deep with its front."""
        found = amounts(taken)
        drawers = 0.597 * (0.141 + 0.285 + 0.285)
        open_unit = 2 * 0.720 * 0.302 + 2 * 0.264 * 0.302 + 0.720 * 0.300 + 2 * 0.262 * 0.281
        assert found["front18"] == pytest.approx({
            "chalk": 0.870 * 0.580 + 0.717 * 0.397,
            "clay": 0.717 * 0.597 + 1.975 * 0.597 + 2.128 * 0.580,
            "sage": 0.717 * 0.397 + open_unit + drawers,
            "dusk-blue": 0.717 * 0.597,
        }, abs=1e-6)  # fmt: skip
        # a front has band all round, a panel at its front and both ends, an open unit at what one sees of it; an
        # edge takes 30 mm more
        assert found["band.front18"] == pytest.approx({
            "chalk": (0.870 + 2 * 0.580) + 2 * (0.717 + 0.397) + 7 * 0.03,
            "clay": 2 * (0.717 + 0.597) + 2 * (1.975 + 0.597) + (2.128 + 2 * 0.580) + 11 * 0.03,
            "sage": 2 * (0.717 + 0.397) + 2 * (0.720 + 0.264 + 0.262) + 2 * (3 * 0.597 + 0.711) + 22 * 0.03,
            "dusk-blue": 2 * (0.717 + 0.597) + 4 * 0.03,
        }, abs=1e-6)  # fmt: skip
        assert found["plinth.147"] == pytest.approx({"chalk": 1.6, "dusk-blue": 1.2})
        assert list(found["cornice.50"]) == ["sage"]
        assert list(found["pb18"]) == [""]

    def test_sheets_are_of_one_decor(self, mixed, taken):
        plans = {plan.code: plan for plan in taken.boards}
        assert [code for code in plans if code.startswith("front18")] == [f"front18.{d}" for d in (
            "chalk", "clay", "sage", "dusk-blue")]  # fmt: skip
        for plan in plans.values():
            lying = {mixed.decor_of(mixed.parts_by_id[p.id]) for sheet in plan.sheets for p in sheet.places}
            assert lying == {plan.decor_code}

    def test_an_offcut_is_used_for_its_own_decor(self, mixed):
        kept = [Offcut("blue", "front18", "dusk-blue", 800, 700, 1)]
        used = {plan.code: [s.offcut for s in plan.sheets] for plan in board_plans(mixed, offcuts=kept)}
        assert used["front18.dusk-blue"] == ["blue"]
        assert used["front18.chalk"] == [""]

    def test_a_decor_with_a_price_of_its_own_costs_that(self, mixed, taken):
        book = demo_prices()
        dear = replace(book.prices["front18"], code="front18.clay", price=book.find("front18", "clay").price + 100)
        dearer = take_off(mixed, replace(book, prices={**book.prices, dear.code: dear}))
        both = zip(taken.materials, dearer.materials, strict=True)
        boards = [(old, new) for old, new in both if new.quantity.item == "front18"]
        more = {new.quantity.decor: new.charge.listed - old.charge.listed for old, new in boards}
        sheets = next(q.packs for q in taken.quantities if (q.item, q.decor) == ("front18", "clay"))
        assert more == {"chalk": 0, "clay": sheets * 100, "sage": 0, "dusk-blue": 0}

    def test_two_takeoffs_differ_by_the_sum_of_their_lines(self, taken):
        one = take_off(build(document(runs=tuple(map(bare, RUNS)))))
        found = compare(one, taken)
        assert sum((line.net for line in found.lines), Decimal(0)) == found.net
        assert [line.code for line in found.lines if line.code.startswith("plinth")] == [
            "plinth.147.chalk", "plinth.147.dusk-blue",
        ]  # fmt: skip


def test_sides_that_show_are_of_front_board():
    """A tall unit above a base unit, a wall unit's end; not what a panel, a filler, a wall or a unit hides."""
    floor = {
        "wall": "A", "start": 0.0,
        "units": (unit("filler", 40), unit("base-doors", 600), unit("tall-larder", 600), unit("base-doors", 400),
                  unit("end-panel", 18)),
    }  # fmt: skip
    upper = {"wall": "A", "level": "upper", "start": 200.0, "units": (unit("wall-doors", 400),)}
    plain, clad = (
        build(document(runs=(floor, upper), fronts={"decor": "sage", "sides": word}))
        for word in ("plain", "fronts")
    )
    sides = [p for p in clad.parts if p.role is Role.SIDE and p.material == "front18"]
    assert {p.mark for p in sides} == {"A3.side.left", "A3.side.right", "AU1.side.left"}
    assert {clad.decor_of(p) for p in sides} == {"sage"}
    assert [p.mesh().volume for p in clad.parts] == pytest.approx([p.mesh().volume for p in plain.parts])
    more = amounts(take_off(clad))["front18"]["sage"] - amounts(take_off(plain))["front18"]["sage"]
    assert more == pytest.approx(2 * 1.978 * 0.550 + 0.720 * 0.310)  # carcasses 1978 and 720 high, backs 10 thick
    shown = {f.place: f.value for f in check(plain) if f.rule == "white-side"}
    assert shown == {"A3, left": 1978 - 720, "A3, right": 1978 - 720, "AU1, left": 720}
    assert {f.value for f in check(clad) if f.rule == "white-side"} == {0.0}


def test_trims_and_panels_may_be_in_decors_of_their_own():
    """A row's or a unit's own word goes before that of the panels; plinth and cornice are the same everywhere."""
    own = {"panels": "fen-oak", "plinth": "dusk-blue", "cornice": "clay"}
    kitchen = build(document(runs=RUNS, fronts={**MIXED, **own}))
    found = decors(kitchen)
    assert [found[mark] for mark in ("A1.panel", "A5.panel", "A2.door")] == ["fen-oak", "fen-oak", "chalk"]
    assert [found[mark] for mark in ("A2.plinth", "C1.plinth", "AU1.cornice")] == ["dusk-blue", "dusk-blue", "clay"]
    bought = amounts(take_off(kitchen))
    assert bought["plinth.147"] == pytest.approx({"dusk-blue": 2.8})
    assert list(bought["cornice.50"]) == ["clay"]
    island = {
        "name": "I",
        "wall": "A",
        "along": 500.0,
        "out": 1200.0,
        "stock": "pf38.670",
        "units": (unit("base-doors", 600),),
    }
    backs = [{**island, "fronts": "sage"}, island]
    made = [decors(build(document(islands=(one,), fronts={"decor": "chalk", "panels": "clay"}))) for one in backs]
    assert [found["I1.panel.back"] for found in made] == ["sage", "clay"]


def test_grain_stands_upright_on_doors_and_on_drawers():
    """Common practice, no source. A drawer front is 597 wide, and 141 high along its grain."""
    run = {"wall": "A", "start": 500.0, "units": (unit("base-drawers", 600), unit("base-doors", 400))}
    plain, wood = (build(document(runs=(run,), fronts={"decor": code})) for code in ("chalk", "fen-oak"))
    for kitchen, sizes in ((plain, (597.0, 141.0)), (wood, (141.0, 597.0))):
        front = kitchen.parts_by_mark["A1.drawer-front.1"]
        assert (front.length, front.depth, front.grain) == (*sizes, True)
    assert {abs(round(wood.parts_by_mark[mark].pose.x[2])) for mark in ("A1.drawer-front.1", "A2.door")} == {1}
    assert [p.mesh().volume for p in wood.parts] == pytest.approx([p.mesh().volume for p in plain.parts])
    (sheet,) = (s for plan in board_plans(wood) if plan.decor_code == "fen-oak" for s in plan.sheets)
    assert not any(place.turned for place in sheet.places)


@pytest.mark.parametrize("seed", SEEDS)
def test_any_kitchen_in_any_decors_has_the_boards_of_the_same_in_one(seed):
    """Decors by lot at every place that may name one: the same parts, and sums over decors are those of one."""
    kitchen, lots = drawn(rectangles, seed), Lots(f"fronts {seed}")
    data = kitchen.document.model_dump(exclude_unset=True)

    def maybe(thing):
        return {**thing, "fronts": lots.pick(PLAIN)} if lots.some(0.4) else thing

    for kind in ("runs", "islands", "peninsulas"):
        rows = tuple(data.get(kind, ()))
        data |= {kind: tuple(maybe({**row, "units": tuple(map(maybe, row["units"]))}) for row in rows)}
    data["fronts"] = {level: lots.pick(PLAIN) for level in ("decor", "upper", "tall")}
    other = build(Document.model_validate(data))
    assert [(p.id, p.area, p.pose) for p in other.parts] == [(p.id, p.area, p.pose) for p in kitchen.parts]
    one, many = amounts(estimate(kitchen)), amounts(estimate(other))
    assert list(one) == list(many)
    assert len({d for found in many.values() for d in found}) > len({d for found in one.values() for d in found})
    for item, found in many.items():
        assert sum(found.values()) == pytest.approx(sum(one[item].values()), rel=1e-9), item
    faced = {other.decor_of(p) for p in other.parts if p.material == other.catalogue.unit_boards.front.code}
    assert faced <= set(other.front_decors)


class TestHowItLooksAndReads:
    def test_every_part_looks_as_its_decor(self, mixed):
        known, parts = mixed.catalogue.decors, mixed.parts_by_mark
        assert finish_of(parts["A3.door"], mixed) == decor_finish(known["clay"])
        assert finish_of(parts["AU2.side.left"], mixed) == decor_finish(known["sage"])
        assert finish_of(parts["C1.plinth"], mixed) == role_finish("plinth", known["dusk-blue"])

    def test_fronts_of_several_decors_keep_them_until_one_is_tried_on_all(self, mixed):
        _, fronts = offers(mixed)
        assert (fronts.worn, fronts.choices[0].looks) == ("as-planned", {})
        assert [choice.code for choice in fronts.choices] == ["as-planned", *DECORS]
        _, one = offers(build(document(fronts={"decor": "chalk", "upper": "sage"})))
        assert (one.worn, len(one.choices)) == ("chalk", len(DECORS))

    def test_a_quote_names_what_is_in_each_colour(self, mixed):
        lines = scope(mixed)["Fronts and handles"]
        assert lines[:-2] == [
            "One door, three drawers and cornice in Sage",
            "One door, end panels and plinth in Chalk",
            "Two doors and end panels in Clay",
            "One door and plinth in Dusk blue",
        ]
        assert lines[-2:] == ["Eight handles", "Made as slab; gripped by bar handle 160"]
