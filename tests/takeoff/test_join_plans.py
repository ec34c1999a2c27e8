"""Join plans: every way is listed, the others with why not, the best first by the price of the whole kitchen."""

from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner

from countersunk import shared
from countersunk.model.document.schema import Document
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build, open_kitchen
from countersunk.model.tops.bands import contains, in_words
from countersunk.takeoff.counting.join_plan import pinned, unpinned
from countersunk.takeoff.counting.join_plans import cheapest, is_less, join_plans
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.plans.boards import board_plans
from countersunk.viewer.commands.joins import chosen, saving, tables
from countersunk.viewer.commands.main import main
from tests.lanes import some, tries
from tests.specimens import cornered, document

LONG = ({"name": "A", "length": 6500.0, "corner": 90.0}, {"name": "B", "length": 3000.0})


ROW = {"wall": "A", "start": 500.0}


def corner(**changes):
    free = unpinned(cornered(90.0)).model_dump(exclude_unset=True)
    return Document.model_validate({**free, **changes})


def long_row(*units, **changes):
    runs = ({"wall": "A", "start": 500.0, "units": units},)
    return document(room={"walls": LONG}, runs=runs, **changes)


def doors(count):
    return ({"unit": "base-doors", "width": 600.0},) * count


def test_a_corner_has_five_ways():
    plans = join_plans(corner())
    said = {(p.corners[0].kind, p.corners[0].female) for p in plans}
    assert said == {("mitre", "A"), ("mitre", "B"), ("butt", "A"), ("butt", "B"), ("full-mitre", "A")}
    assert all(p.admissible for p in plans)


def test_what_the_file_says_is_kept():
    (plan,) = join_plans(cornered(90.0, "B", kind="butt", notch=None))
    assert (plan.corners[0].kind, plan.corners[0].female) == ("butt", "B")


def test_the_programs_own_comes_first_and_the_others_by_the_price_of_the_whole_kitchen():
    plans = [p for p in join_plans(corner()) if p.admissible]
    assert [p.own for p in plans] == [True, False, False, False, False]
    totals = [p.total for p in plans[1:]]
    assert totals == sorted(totals)
    assert cheapest(plans).total == min(p.total for p in plans)
    for plan in plans:
        kitchen = build(pinned(corner(), plan))
        assert take_off(kitchen, boards=board_plans(kitchen)).totals.net == plan.total


@pytest.mark.slow
def test_a_price_is_that_of_the_quote_and_inches_have_their_own_catalogue():
    # Boards by their area cost other sums than boards by their sheets: the quarry's plans once were 77.90 dearer
    # than its quote; those of a kitchen in inches were refused for a stock that its own catalogue has.
    for name in ("quarry", "cottonwood"):
        kitchen = open_kitchen(shared.KITCHENS / f"{name}.yaml")
        own = next(p for p in join_plans(kitchen.document) if p.admissible)
        quoted = take_off(build(pinned(kitchen.document, own)), boards=board_plans(kitchen)).totals
        assert own.total == quoted.net


# Eight units of 600 from 500 make 4820 of top, the stock is 4100 long: one join. Over the first or the last unit it
# leaves a piece of 4510; over the dishwasher (A4) it is not borne; the hob's line over A6 is in its way.
@pytest.mark.slow
def test_a_long_row_says_of_every_unit_why_or_why_not():
    hob, washer = {"unit": "base-hob", "width": 600.0}, {"unit": "dishwasher", "width": 600.0}
    row = long_row(
        *doors(3), washer, *doors(1), hob, *doors(2), cutouts=({"template": "hob.electric-60", "over": "A6"},)
    )
    plans = join_plans(row)
    why = {p.in_line[0].at: p.reasons for p in plans}
    assert why[800.0] == ("a worktop 4510 long in one piece",)
    assert why[5000.0] == (*why[800.0], "a piece from 5000 to 5310 over the middle of no unit")
    assert why[2600.0] == ("over A4, integrated dishwasher, which does not bear it",)
    assert why[3800.0] == ("0 from a line to cut, 3520 to 4080; at least 100",)
    assert why[1700.0] == tuple(f"0 from the side of {unit}; at least 88" for unit in ("A2", "A3"))
    # Bands end 88 from the sides, 100 from the line, or 4100, the longest sold, from an end of the row.
    bands = {"1210 to 1612, 1788 to 2212, 2988 to 3412, 4188 to 4590"}
    good = {at for at, reasons in why.items() if not reasons}
    assert {in_words(band) for p in plans for band in p.bands} == bands
    assert good >= {1210.0, 1400.0, 1612.0, 1788.0, 2000.0, 2212.0, 2988.0, 3200.0, 3412.0, 4188.0, 4400.0, 4590.0}
    assert len(plans) == len(good) + 7 + 8 - 4  # sides and middles, of which four are good


@pytest.mark.parametrize("seed", some(range(40), 40))
def test_what_the_program_does_by_itself_is_first_and_no_place_beats_the_cheapest(seed):
    """Rows of one or two joins with a sink somewhere; the cheapest listed costs the least that any place does."""
    lot = np.random.default_rng(seed)
    widths = [float(w) for w in lot.choice([300, 400, 500, 600, 800, 1000], int(lot.integers(8, 13)))]
    units = [{"unit": "base-doors", "width": w} for w in widths]
    at = int(lot.integers(0, len(units)))
    units[at] = {"unit": "base-sink", "width": 1000.0}
    room = {"walls": ({"name": "A", "length": 15_000.0},)}
    runs = ({**ROW, "units": tuple(units)},)
    cutouts = ({"template": "sink.bowl-drainer", "over": f"A{at + 1}"},)
    free = document(room=room, runs=runs, cutouts=cutouts)
    plans = [p for p in join_plans(free) if p.admissible]
    (own,) = (p for p in plans if p.own)
    assert [j.at for j in build(free).joins] == pytest.approx([j.at for j in own.in_line])
    assert plans[0] is own
    if len(own.in_line) == 1:
        (band,) = own.bands
        tried = [x for x in lot.uniform(band[0][0], band[-1][1], 12) if contains(band, x)]
        totals = [take_off(build(at_only(free, x))).totals.net for x in tried]
        assert min(totals) >= cheapest(plans).total


def at_only(free, x):
    wish = {**free.worktop.model_dump(exclude_unset=True), "in_line": ({"run": "A", "at": x},)}
    return Document.model_validate({**free.model_dump(exclude_unset=True), "worktop": wish})


@pytest.mark.slow
def test_a_short_piece_in_line_is_refused():
    # 300, six of 600 and 300 from 500: parted over the first unit, at 650, the left piece is 10 and 150 long.
    narrow = {"unit": "base-doors", "width": 300.0}
    plans = join_plans(long_row(narrow, *doors(6), narrow))
    why = {p.in_line[0].at: p.reasons for p in plans}
    assert why[650.0] == ("a piece 160 long; at least 300",)
    assert why[1100.0] == ()


# Four units of 600 from 500, then a sink of 1000 whose line of 840 lies from 2980 to 3820, then 300, 600 and 600.
# The middle of the unit of 300, 4050, is 230 from the line; its left side, 3900, is 80 from it.
def test_a_join_near_a_sink_is_noted_and_one_hard_by_it_refused():
    sink, slim = {"unit": "base-sink", "width": 1000.0}, {"unit": "base-doors", "width": 300.0}
    cutouts = ({"template": "sink.bowl-drainer", "over": "A5"},)

    def parted(at):
        wish = {"stock": "pf38.600", "decor": "pale-oak", "in_line": ({"run": "A", "at": at},)}
        return join_plans(long_row(*doors(4), sink, slim, *doors(2), cutouts=cutouts, worktop=wish))

    (near,) = parted(4050.0)
    assert near.notes == ("J1 lies 230 from sink; 300 is often asked, and the sink's weight hangs beside it",)
    (hard_by,) = parted(3900.0)
    assert hard_by.reasons[-1] == "J1 lies 80 from the line of sink; at least 100"


def test_a_top_that_is_short_by_itself_is_a_plan():
    # A row of one unit of 200 was taken for a piece too short to be joined, and the list was empty.
    (plan,) = join_plans(long_row({"unit": "base-doors", "width": 200.0}))
    assert plan.own
    assert plan.words == "no joins"


def test_where_nothing_can_be_carried_in_whole_rows_are_parted():
    narrow = {"corridor": {"width": 700.0}}
    access = ({"door": {"width": 800.0, "height": 2000.0}}, narrow, {"turn": {"to": "left"}}, narrow)
    plans = join_plans(document(access=access, runs=({"wall": "A", "start": 20.0, "units": doors(4)},)))
    best = plans[0]
    assert best.admissible
    assert len(best.in_line) == 1
    (whole,) = [p for p in plans if not p.in_line]
    assert "cannot be carried in" in whole.reasons[0]


def test_too_many_ways_are_refused(monkeypatch):
    monkeypatch.setattr("countersunk.takeoff.counting.join_plans.MOST", 3)
    with pytest.raises(InputError, match="5 ways to place the joins"):
        join_plans(corner())


@pytest.mark.slow
def test_a_row_of_many_pieces_has_the_best_of_each_set_of_lengths():
    # 20 units of 500: 10020 of top, three pieces. No two plans buy the same three lengths.
    units = ({"unit": "base-doors", "width": 500.0},) * 20
    free = document(room={"walls": ({"name": "A", "length": 11000.0},)}, runs=({**ROW, "units": units},))
    sold = (2400.0, 3000.0, 3600.0, 4100.0)
    plans = [p for p in join_plans(free) if not p.own]
    bought = [tuple(sorted(min(s for s in sold if s >= t.length - 1e-6) for t in p.pieces)) for p in plans]
    assert {len(p.pieces) for p in plans} == {3}
    assert len(set(bought)) == len(bought) >= 3


@pytest.mark.slow
def test_the_command_lists_and_pins(tmp_path):
    listed = CliRunner().invoke(main, ["joins", "corner", "--free", "--json"])
    assert listed.exit_code == 0
    assert listed.stdout.count('"number"') == 5
    out = tmp_path / "pinned.yaml"
    assert (
        CliRunner().invoke(main, ["joins", "corner", "--free", "--pin", "cheapest", "--out", str(out)]).exit_code
        == 0
    )
    assert open_kitchen(out).joins[0].kind in ("mitre", "butt", "full mitre")
    assert (
        open_kitchen(out).document.worktop.joins
        != open_kitchen(shared.KITCHENS / "corner.yaml").document.worktop.joins
    )
    refused = CliRunner().invoke(main, ["joins", "corner", "--pin", "9", "--out", str(out)])
    assert refused.exit_code == 2
    assert "allowed: 1 to 1, or cheapest" in refused.stderr


def test_what_the_cheapest_plan_saves_against_the_programs_own_is_said():
    own = next(p for p in join_plans(corner()) if p.own)
    dearer = [own, replace(own, own=False, total=own.total + 1)]
    assert saving(dearer, "order").endswith("None is cheaper")
    cheaper = [*dearer[:1], replace(own, own=False, total=own.total - 59), *dearer[1:]]
    assert saving(cheaper, "order").endswith("No. 2 is the cheapest and saves 59.00: --pin cheapest --out FILE")
    (table, *_) = tables(cheaper, "order")
    assert list(table.columns[5].cells) == ["", "-59.00", "+1.00"]
    assert chosen(cheaper, "cheapest") is cheaper[1]
    assert saving([replace(own, own=False)], "order") is None
    with pytest.raises(InputError, match="1 to 3, or cheapest"):
        chosen(cheaper, "0")


def by_stock(kitchen):
    return edited(unpinned(kitchen), {"worktop.joins_by": "stock"})


# Units of 600 from 620 off the corner, tops that overhang 10 at free ends and are mitred with a notch of 15. A
# top that runs through over n units is 620 + 600 n + 10 long, one that ends on it 600 - 15 less. With 3 and 2
# units, A through takes 2430 and 1245, of 3000 and 2400; B through 1830 and 1845, of 2400 and 2400.
@pytest.mark.parametrize(("on_a", "on_b", "female", "lengths"), [
    (3, 2, "B", {1845, 1830}), (2, 3, "A", {1830, 1845}), (2, 2, "A", {1830, 1245}),
])  # fmt: skip
def test_joins_by_stock_go_the_way_that_needs_less(on_a, on_b, female, lengths):
    walls = ({"name": "A", "length": 4000.0, "corner": 90.0}, {"name": "B", "length": 4000.0})
    runs = (
        {"wall": "A", "start": 4000.0 - 620.0 - 600.0 * on_a, "units": doors(on_a)},
        {"wall": "B", "start": 620.0, "units": doors(on_b)},
    )
    kitchen = build(by_stock(corner(room={"walls": walls}, runs=runs)))
    (join,) = kitchen.joins
    assert kitchen.length(join.female).run.name == female
    assert {round(length.part.length) for length in kitchen.lengths} == lengths
    assert kitchen.document.worktop.joins == ()  # what was typed stays as it was


@pytest.mark.slow
@pytest.mark.parametrize("name", ["corner", "cottonwood", "farmhouse", "maple", "studio", "terrace"])
def test_by_stock_the_programs_own_is_first_and_none_needs_less(name):
    kitchen = open_kitchen(shared.KITCHENS / f"{name}.yaml")
    assert_own_is_least(by_stock(kitchen.document), kitchen.catalogue)


@pytest.mark.slow
def test_no_demo_is_cheaper_by_another_plan_of_its_own_list():
    """Of studio the program's own cannot be carried in, which its findings say."""
    for path in sorted(shared.KITCHENS.glob("*.yaml")):
        kitchen = open_kitchen(path)
        plans = join_plans(kitchen.document, kitchen.catalogue)
        own = next(plan for plan in plans if plan.own)
        assert cheapest(plans).total == own.total or (path.stem == "studio" and not own.admissible), path.stem


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(tries(20)))
def test_by_stock_none_needs_less_in_random_corners(seed):
    """Two rows of which one is parted now and then, in a corner of about a right angle, with a sink on either."""
    lot = np.random.default_rng(seed)
    rows = [[float(w) for w in lot.choice([300, 400, 500, 600, 800], count)] for count in lot.integers(2, 6, 2)]
    rows = [[*row[:1], 1000.0, *row[1:]] for row in rows]
    walls = ({"name": "A", "length": 7000.0, "corner": float(lot.uniform(88, 92))}, {"name": "B", "length": 7000.0})
    runs = (
        {"wall": "A", "start": 7000.0 - 640.0 - sum(rows[0]), "units": units_of(rows[0])},
        {"wall": "B", "start": 640.0, "units": units_of(rows[1])},
    )
    cutouts = ({"template": "sink.bowl-drainer", "over": f"{lot.choice(['A', 'B'])}2"},)
    assert assert_own_is_least(mitred(corner(room={"walls": walls}, runs=runs, cutouts=cutouts)))


def mitred(free):
    return edited(free, {"worktop.joins_by": "stock", "worktop.joins": ({"corner": "A-B", "kind": "mitre"},)})


def units_of(widths):
    return tuple({"unit": "base-sink" if w == 1000 else "base-doors", "width": w} for w in widths)


def assert_own_is_least(free, catalogue=None):
    """Whether there was anything to choose from; fails where the program chose otherwise."""
    plans = join_plans(free, catalogue)
    own = next(plan for plan in plans if plan.own)
    choice = [plan for plan in plans if plan.admissible and plan.kinds == own.kinds]
    assert choice == [] or choice[0] is own is plans[0]
    assert not [plan.words for plan in choice if is_less(plan, own)]
    return len(choice) > 1
