"""Rules, articles and labour as data: what loads, what is refused, and how packs are filled."""

from dataclasses import replace
from pathlib import Path

import pytest

from countersunk import shared
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.labour import default_labour, load_labour
from countersunk.takeoff.counting.quantities import unused_measures
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import Waste, default_terms
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.measuring.rules import default_rules, load_rules
from countersunk.takeoff.stock.articles import default_articles, load_articles
from countersunk.takeoff.stock.units import UNITS
from tests.specimens import SOME_DEMOS, cornered, open_kitchen
from tests.takeoff.by_hand import ids_of, small_kitchen

RULES = (shared.RULES / "takeoff.yaml").read_text(encoding="utf-8")
CUT = ("worktops", "edging", "plinths", "upstands", "wall-trims", "joint-strip", "hanging-rails")
"""Rules whose articles are cut from lengths, of which more than one may be begun."""

CONSUMABLES = (shared.CATALOGUE / "consumables.yaml").read_text(encoding="utf-8")


@pytest.fixture(scope="module", params=SOME_DEMOS, ids=lambda p: p.stem)
def demo(request):
    return open_kitchen(request.param)


def refused(tmp_path: Path, load, text: str) -> str:
    path = tmp_path / "takeoff.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as error:
        load(path)
    return str(error.value)


def _articles(path: Path) -> None:
    load_articles(path.rename(path.with_name("consumables.yaml")).parent)


class TestData:
    def test_every_rule_names_a_measure_that_exists(self):
        assert {b.measure for r in default_rules().rules for b in r.bring} <= set(MEASURES)

    def test_every_measure_is_used(self):
        works = [o.measure for o in default_labour().operations]
        also = ["worktop-lengths", "worktop-mass"]  # the worktop plan, and the caution on weight
        assert unused_measures(default_rules(), [*works, *also]) == set()

    def test_every_named_article_exists(self):
        assert {r.item for r in default_rules().rules if r.item} <= set(default_articles())

    def test_every_figure_has_its_source(self):
        sources = [s for r in default_rules().rules for s in r.sources]
        assert all(s.of and s.text for s in sources)
        assert all(a.sources for a in default_articles().values() if a.coverage)


class TestTraceability:
    def test_everything_on_a_line_comes_from_the_kitchen(self, demo):
        known = ids_of(demo)
        for quantity in estimate(demo).quantities:
            assert quantity.ids, quantity.item
            assert set(quantity.ids) <= known, quantity.item

    def test_contributions_add_up_to_what_was_measured(self, demo):
        for quantity in estimate(demo).quantities:
            total = sum(c.amount for c in quantity.contributions)
            assert total == pytest.approx(quantity.net, rel=1e-9), quantity.item
            assert quantity.net > 0

    def test_what_is_ordered_covers_what_is_needed_and_no_whole_pack_more(self, demo):
        for q in estimate(demo).quantities:
            assert q.ordered >= q.needed - 1e-9, q.item
            if q.pack_name and q.rule not in CUT:
                assert q.surplus < q.pack, q.item

    def test_each_article_is_ordered_once(self, demo):
        items = [q.item for q in estimate(demo).quantities]
        assert len(items) == len(set(items))

    def test_demo_kitchens_are_priced_whole(self, demo):
        taken = estimate(demo)
        assert taken.missing == ()
        assert all(q.packs and not q.problem for q in taken.quantities)

    def test_nothing_claims_that_a_kitchen_complies(self, demo):
        taken = estimate(demo)
        texts = [*taken.cautions, *(q.formula + q.note + q.source for q in taken.quantities)]
        assert not [t for t in texts if "compl" in t.lower()]


class TestWhatIsUnknownIsSaid:
    def test_article_missing(self):
        articles = {c: a for c, a in default_articles().items() if c != "band.pb18"}
        taken = estimate(small_kitchen(), consumables=articles)
        band = next(q for q in taken.quantities if q.item == "band.pb18")
        assert (band.packs, band.ordered, band.surplus) == (None, None, None)
        assert band.net == pytest.approx(8.648)
        assert band.problem == "no article 'band.pb18' in the catalogue"
        assert taken.missing == ("band.pb18: no article 'band.pb18' in the catalogue",)

    def test_coverage_unknown(self):
        sealer = default_articles()["sealer"].model_copy(update={"coverage": None})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "sealer": sealer})
        line = next(q for q in taken.quantities if q.item == "sealer")
        assert (line.unit, line.problem) == ("m2", "the coverage of 'sealer' is unknown")
        assert line.net == pytest.approx(1.033, abs=1e-3)
        assert not taken.totals.complete

    def test_sold_by_another_measure(self):
        silicone = default_articles()["silicone"].model_copy(update={"unit": "m"})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "silicone": silicone})
        line = next(q for q in taken.quantities if q.item == "silicone")
        assert line.problem == "'silicone' is sold by length, and the rule measures volume"

    def test_a_strip_shorter_than_the_edge(self):
        strip = default_articles()["edging.38"].model_copy(update={"pack": 0.6})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "edging.38": strip})
        line = next(q for q in taken.quantities if q.item == "edging.38")
        assert line.problem == "a piece is longer than a roll of 0.6 m"

    def test_two_strips_that_one_roll_cannot_hold_take_two(self):
        # Two pieces of 650 are 1.3 m, but no roll of 1.2 m holds more than one of them whole.
        strip = default_articles()["edging.38"].model_copy(update={"pack": 1.2})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "edging.38": strip})
        assert next(q.packs for q in taken.quantities if q.item == "edging.38") == 2

    def test_a_plinth_longer_than_its_length_is_joined(self):
        # 1600 from lengths of 0.7 m: two whole ones and 200 of a third.
        plinth = default_articles()["plinth.147"].model_copy(update={"pack": 0.7})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "plinth.147": plinth})
        assert next(q.packs for q in taken.quantities if q.item == "plinth.147") == 3
        # with 40 % for waste they are 2.24 m, which three of them do not hold
        wasted = default_terms().model_copy(update={"waste": (Waste(rule="plinths", percent=40.0),)})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "plinth.147": plinth}, terms=wasted)
        assert next(q.packs for q in taken.quantities if q.item == "plinth.147") == 4


class TestCautions:
    def test_a_long_top_is_called_heavy(self):
        # 38 × 600 weighs 13.7 kg/m (density table above), so 3168 less two cut-outs is well over 25 kg.
        taken = estimate(open_kitchen(shared.KITCHENS / "straight.yaml"))
        assert any(c.startswith("T1 weighs ") for c in taken.cautions)

    def test_a_short_one_is_not(self):
        assert not [c for c in estimate(small_kitchen()).cautions if "weighs" in c]

    def test_a_screw_that_would_reach_the_decor(self):
        # Practice: never longer than rail + top - 5; 18 + 38 - 5 = 51.
        long = default_articles()["screw.4x30"].model_copy(update={"length": 52.0})
        taken = estimate(small_kitchen(), consumables={**default_articles(), "screw.4x30": long})
        assert "screw.4x30 is 52 long, too long for T1, 38 thick: it would reach the decor." in taken.cautions

    def test_a_board_larger_than_a_sheet(self):
        kitchen = small_kitchen()
        boards = {c: b.model_copy(update={"sheet": (700.0, 700.0)}) for c, b in kitchen.catalogue.boards.items()}
        taken = estimate(replace(kitchen, catalogue=replace(kitchen.catalogue, boards=boards)))
        assert "A1.side.left is 720 × 550, larger than a sheet of 700 × 700: divide it." in taken.cautions

    def test_trades_that_need_a_licence_are_named_where_there_is_work_for_them(self):
        with_sink = " ".join(estimate(small_kitchen()).cautions)
        assert "licensed person" in with_sink
        assert "local codes" in with_sink
        without = " ".join(estimate(small_kitchen(cutouts=())).cautions)
        assert "licensed" not in without


class TestRefused:
    def test_rule_without_a_source(self, tmp_path):
        first = RULES.index("    sources:", RULES.index("- id: taps"))
        end = RULES.index("\n", first)
        text = refused(tmp_path, load_rules, RULES[:first] + RULES[end + 1 :])
        assert text.endswith(".sources: found nothing; allowed: a list of 1 to 12 items. Try: add 'sources'.")

    def test_unknown_measure(self, tmp_path):
        line = next(i for i, t in enumerate(RULES.splitlines(), start=1) if "measure: handles" in t)
        text = refused(tmp_path, load_rules, RULES.replace("measure: handles", "measure: handels"))
        assert text.startswith(f"takeoff.yaml:{line}: rules[")
        assert ".bring[0].measure: found 'handels'; allowed: a measure: worktop-lengths, " in text

    def test_same_article_by_two_rules(self, tmp_path):
        text = refused(tmp_path, load_rules, RULES.replace("item: hanger\n", "item: packer\n"))
        assert "item: found 'packer' twice; allowed: each article once. Try: one rule with several measures" in text

    @pytest.mark.parametrize(
        ("old", "new", "said"),
        [
            ("item: hanger\n", "item: hanger\n    items: x.\n", "both or neither of item and items"),
            (
                "measure: drawers, comes: runners}",
                "measure: drawers, comes: runners, every: 300}",
                "a measure of count; allowed: a length",
            ),
            ("measure: plinths}", "measure: plinths, every: 9, section: {shape: fillet, width: 6}}", "one of them"),
            (
                "measure: drawers, comes: runners}",
                "measure: drawers}, {measure: plinths}",
                "count and length; allowed: one dim",
            ),
            ("measure: plinths}", "measure: plinths, each: {amount: 2, unit: each}}", "allowed: a count"),
            ("{to: 900, take: 2}", "{to: 1900, take: 2}", "steps out of order"),
            ("id: hangers", "id: hinges", "'hinges' twice"),
            ("when: taps", "when: tap", "found 'tap'; allowed: a measure"),
            ("kerf: 4", "kerf: four", 'saw.kerf: found "four"; allowed: a number from 0 to 20'),
        ],
    )
    def test_rule_at_fault(self, tmp_path, old, new, said):
        assert old in RULES
        assert said in refused(tmp_path, load_rules, RULES.replace(old, new, 1))

    @pytest.mark.parametrize(
        ("old", "new", "said"),
        [
            ("code: hinge,", "code: sealer,", "found 'sealer' twice; allowed: each code once"),
            ("unit: each, pack: 2,", "unit: each, pieces: whole, pack: 2,", "found pieces of each"),
            ("unit: pair", "unit: dozen", "allowed: mm, m, mm2, m2, mL, L, kg, each, pair"),
        ],
    )
    def test_article_at_fault(self, tmp_path, old, new, said):
        assert old in CONSUMABLES
        assert said in refused(tmp_path, _articles, CONSUMABLES.replace(old, new, 1))

    @pytest.mark.parametrize(
        ("old", "new", "said"),
        [
            ("measure: runs, per: each", "measure: runs, per: m", "metres of a count; allowed: each"),
            ("measure: walls", "measure: wall", "found 'wall'; allowed: a measure"),
            ("code: clean", "code: place", "found 'place' twice"),
        ],
    )
    def test_labour_at_fault(self, tmp_path, old, new, said):
        labour = (shared.RULES / "labour.yaml").read_text(encoding="utf-8")
        assert old in labour
        assert said in refused(tmp_path, load_labour, labour.replace(old, new, 1))


def test_butt_join_is_taken_off_with_strip_and_short_screws():
    items = {q.item: q for q in estimate(build(cornered(90.0, kind="butt"))).quantities}
    # 600 + 10 to cut it square; screws 50 from the ends, at most 150 apart: 500 / 150, so 4 spaces and 5 screws.
    assert items["joint-strip.38"].net == pytest.approx(0.610)
    assert items["screw.4x16"].net == 5
    assert not {"bolt.joint", "biscuit.20", "glue.pva", "compound"} & set(items)


def test_mitre_is_taken_off_with_bolts_biscuits_glue_and_compound():
    items = {q.item: q for q in estimate(build(cornered(90.0))).quantities}
    # A mitre 600 deep with its shoulder: 3 bolts, 4 biscuits; glue 4 × 2 × 56 × 23 × 2 ÷ 8 m²/L.
    assert (items["bolt.joint"].net, items["biscuit.20"].net) == (3, 4)
    assert items["glue.pva"].net == pytest.approx(4 * 2 * 56 * 23 * 2 / 8 * 1e-6)
    # shoulder 15·√2 = 21.2 and 585 along the female: 606.2 × 14.14 mm²
    assert items["compound"].net == pytest.approx((15 * 2**0.5 + 585) * 14.137 / 1000, rel=1e-3)


@pytest.mark.parametrize(
    ("count", "noun", "text"),
    [
        (1, "door", "1 door"),
        (2, "door", "2 doors"),
        (2, "length of worktop", "2 lengths of worktop"),
        (4, "rail on edge", "4 rails on edge"),
        (3, "loose shelf", "3 loose shelves"),
    ],
)
def test_things_are_counted_in_words(count, noun, text):
    assert counted(count, noun) == text


def test_units_of_measured_quantities(demo):
    expected = {"length": "m", "area": "m2", "volume": "L", "count": "each", "mass": "kg"}
    for quantity in estimate(demo).quantities:
        rule = next((r for r in default_rules().rules if r.id == quantity.rule), None)
        if rule is None:
            assert quantity.unit == "m"
            continue
        have = UNITS[quantity.unit].dimension
        assert have == rule.dimension or (rule.dimension, have) == ("area", "volume")
        assert quantity.unit in (expected[have], "mL", "pair")
