"""Rules, findings and the order of findings; and what the other tests of checks build kitchens with."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from countersunk.model.catalogue.catalogue import Catalogue, default_catalogue
from countersunk.model.checks import CAUTION, as_json, check, default_rules, examine
from countersunk.model.checks.finding import Finding, Severity, Verdict, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.rules import REGIONS, load_rules, read_rules
from countersunk.model.checks.things import WHOLE
from countersunk.model.checks.wording import in_words
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, build
from tests.lanes import tries
from tests.specimens import CORNER_DEMO, SOME_DEMOS, document, open_kitchen
from tests.strategies import kitchens

SINK, GAS, HOB = "sink.one-bowl", "hob.gas-60", "hob.electric-60"


def unit(family: str, width: float | None = None, **more: Any) -> dict[str, Any]:
    """An item of a run."""
    return {"unit": family, **({} if width is None else {"width": float(width)}), **more}


def run(*units: dict[str, Any], wall: str = "A", start: float = 500.0, level: str = "floor") -> dict[str, Any]:
    """A run, on wall A from 500 unless said."""
    return {"wall": wall, "start": float(start), "level": level, "units": units}


def let_in(template: str, over: str, **more: Any) -> dict[str, Any]:
    """A cut-out over a unit."""
    return {"template": template, "over": over, **{key: float(value) for key, value in more.items()}}


def overhang(front: float = 20.0, ends: float = 10.0, stock: str = "pf38.600") -> dict[str, Any]:
    """The worktop of the specimen with other overhangs."""
    return {"stock": stock, "decor": "pale-oak", "overhang": {"front": float(front), "ends": float(ends)}}


def walls(**corners: float) -> tuple[dict[str, Any], ...]:
    """An open survey: walls 4000 long, each with its corner; the last corner is left out."""
    found = [{"name": name, "length": 4000.0, "corner": corner} for name, corner in corners.items()]
    found[-1].pop("corner")
    return tuple(found)


def stocked(families: dict[str, dict[str, Any]] | None = None, **tables: dict[str, dict[str, Any]]) -> Catalogue:
    """The catalogue with some fields of some entries changed: ``stocked({"hood": {"bottom": 1500.0}})``."""
    catalogue = default_catalogue()
    for table, changes in {"families": families or {}, **tables}.items():
        known = dict(getattr(catalogue, table))
        for code, fields in changes.items():
            known[code] = known[code].model_copy(update=fields)
        catalogue = replace(catalogue, **{table: known})
    return catalogue


def kitchen(*runs: dict[str, Any], catalogue: Catalogue | None = None, **changes: Any) -> Kitchen:
    """The specimen's square room of 3000 with these runs."""
    return build(document(**({"runs": runs} if runs else {}), **changes), catalogue)


def measured(measure: str, built: Kitchen) -> dict[str, float | None]:
    """What a measure finds, by place."""
    return {in_words(built, place.where): place.value for place in MEASURES[measure].take(built)}


def value(measure: str, built: Kitchen) -> float:
    """The one value that a measure finds."""
    (found,) = measured(measure, built).values()
    assert found is not None
    return found


def verdicts(rule: str, built: Kitchen) -> list[str]:
    """The verdicts of a rule of the program, wherever it looks."""
    return [f.verdict.value for f in check(built) if f.rule == rule]


def verdict(rule: str, built: Kitchen) -> str:
    """The one verdict of a rule."""
    (found,) = verdicts(rule, built)
    return found


def finding(**changes: Any) -> Finding:
    """A must of at least 100 mm, met with 120."""
    fields = {
        "rule": "r", "measure": "m.m", "question": "q", "where": Where(Phrase.LOWEST, WHOLE), "place": "p",
        "value": 120.0, "limit": 100.0, "unit": "mm", "sense": "at least", "severity": Severity.MUST,
        "source": "s", "region": "plain", "about": (), "ids": ("A1",),
        "volume": None, "segment": None, "reason": "", "advice": "",
    }  # fmt: skip
    return Finding(**{**fields, **changes})


@pytest.mark.parametrize(
    ("changes", "margin", "outcome"),
    [
        ({}, 20.0, "met"),
        ({"value": 100.0}, 0.0, "met"),
        ({"value": 99.9}, -0.1, "not met"),
        ({"value": 99.9, "severity": Severity.SHOULD}, -0.1, "falls short"),
        ({"value": 99.9, "severity": Severity.NOTE}, -0.1, "worth a look"),
        ({"sense": "at most"}, -20.0, "not met"),
        ({"sense": "at most", "value": 100.0}, 0.0, "met"),
        ({"value": None, "reason": "why"}, None, "not measured"),
    ],
)
def test_a_finding_judges_its_value(changes, margin, outcome):
    found = finding(**changes)
    assert (found.margin, found.verdict) == (margin, outcome)
    assert found.serious == (outcome == "not met")


def test_every_rule_names_a_measure_and_every_measure_is_asked_for():
    assert {rule.measure for rule in default_rules().rules} == set(MEASURES)
    assert len(default_rules().rules) >= 25


@pytest.mark.parametrize("measure", MEASURES.values(), ids=MEASURES)
def test_every_measure_is_defined_in_words(measure):
    assert len(measure.definition) > 20


RULE = """rules:
  - id: one
    question: Is it wide?
    measure: walkways.doorway
    sense: at least
    limit: 800
    unit: mm
    severity: must
    source: {name: a book, status: memory}
"""


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "    source: {name: a book, status: memory}\n",
            "",
            "checks.yaml:2: rules[0].source: found nothing; allowed: a mapping with the keys name, edition, "
            "status, note. Try: add 'source'.",
        ),
        (
            "walkways.doorway",
            "walkways.dorway",
            "checks.yaml:4: rules[0].measure: found 'walkways.dorway'; allowed: a measure: ",
        ),
        (
            "unit: mm",
            "unit: kg",
            "checks.yaml:7: rules[0].unit: found kg; allowed: mm, as walkways.doorway measures.",
        ),
        (
            "{name: a book,",
            "{name: '  ',",
            "checks.yaml:9: rules[0].source.name: found only blanks; allowed: words.",
        ),
        ("Is it wide?", "' '", "checks.yaml:3: rules[0].question: found only blanks; allowed: words."),
        (
            "    severity: must\n",
            "    severity: must\n    applies_to: {floor: [9, 4]}\n",
            "checks.yaml:9: rules[0].applies_to.floor: found 9 to 4; allowed: the smaller number first.",
        ),
        ("limit: 800", "limit: .nan", "checks.yaml:6: rules[0].limit: found"),
        ("rules:", "region: france\nrules:", 'checks.yaml:1: region: found "france"; allowed: uk, us, au-nz, eu, '),
        ("status: memory", "status: sure", "checks.yaml:9: rules[0].source.status: found"),
        ("severity: must", "severity: may", "checks.yaml:8: rules[0].severity: found"),
        ("limit: 800", "limit: about 800", "checks.yaml:6: rules[0].limit: found"),
        (
            "    unit: mm\n",
            "    unit: mm\n    colour: red\n",
            "checks.yaml:8: rules[0].colour: found an unknown key",
        ),
    ],
)
def test_a_rule_that_is_wrong_does_not_load(tmp_path, old, new, message):
    assert old in RULE
    path = tmp_path / "checks.yaml"
    path.write_text(RULE.replace(old, new))
    with pytest.raises(InputError) as caught:
        read_rules(path)
    assert str(caught.value).startswith(message)


def test_a_rule_given_twice_does_not_load(tmp_path):
    path = tmp_path / "checks.yaml"
    path.write_text(RULE + RULE.removeprefix("rules:\n"))
    with pytest.raises(InputError, match=r"checks.yaml:10: rules\[1\].id: found 'one' twice"):
        read_rules(path)


def test_own_rules_take_the_place_of_those_of_the_program(tmp_path):
    path = tmp_path / "checks.yaml"
    path.write_text(RULE)
    found = check(open_kitchen(CORNER_DEMO), load_rules([path]))
    assert {f.rule for f in found} == {"one"}
    assert found[0].source == "a book (from memory, not seen)"
    assert found[0].region == "own"


@pytest.mark.parametrize("region", REGIONS)
def test_regions_choose_rules(region):
    asked = {r.id: r.region for r in default_rules().within([region]).rules}
    assert set(asked.values()) == {"plain", region}
    assert {r.id for r in default_rules().rules if r.region in ("plain", region)} == set(asked)


def test_a_kitchen_that_names_no_region_is_held_against_the_rules_of_all():
    every = examine(kitchen())
    assert {f.region for f in every.findings} | {r.region for r in every.not_applicable} == {"plain", *REGIONS}
    british = examine(kitchen(regions=("uk",)))
    assert {f.region for f in british.findings} | {r.region for r in british.not_applicable} == {"plain", "uk"}


def test_rules_for_wheelchair_users_wait_until_they_are_asked_for():
    asked = {f.rule for f in check(kitchen(wheelchair=True))}
    assert asked - {f.rule for f in check(kitchen())} >= {"aisle-england-wheelchair", "worktop-height-accessible"}


def own(tmp_path, text):
    path = tmp_path / "firm.yaml"
    path.write_text(text)
    return default_rules().with_own(read_rules(path))


def test_a_firms_rule_takes_the_place_of_one_and_its_region(tmp_path):
    text = RULE.replace("id: one", "id: hob-gas-to-side").replace("limit: 800", "limit: 900")
    rules = own(tmp_path, text)
    (rule,) = [r for r in rules.rules if r.id == "hob-gas-to-side"]
    assert (rule.limit, rule.region) == (900, "uk")
    assert [r.id for r in rules.rules] == [r.id for r in default_rules().rules]
    assert "hob-gas-to-side" not in {r.id for r in rules.within(["us"]).rules}


def test_a_firms_new_rule_holds_everywhere(tmp_path):
    rules = own(tmp_path, RULE)
    assert rules.rules[-1].region == "own"
    assert "one" in {r.id for r in rules.within(["us"]).rules}


def test_a_firms_rule_may_name_its_region(tmp_path):
    rules = own(tmp_path, "region: us\n" + RULE)
    assert "one" in {r.id for r in rules.within(["us"]).rules} - {r.id for r in rules.within(["uk"]).rules}


ORDER = [
    ("not met", "must"), ("not measured", "must"), ("falls short", "should"), ("not measured", "should"),
    ("worth a look", "note"), ("not measured", "note"), ("met", "must"), ("met", "should"), ("met", "note"),
]  # fmt: skip


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_findings_stand_with_the_most_serious_first(path):
    ranks = [ORDER.index((f.verdict, f.severity)) for f in check(open_kitchen(path))]
    assert ranks == sorted(ranks)


def test_what_was_not_measured_stands_after_what_was_missed():
    row = run(unit("base-hob", 600), unit("tall-larder", 600), start=40)
    built = kitchen(row, cutouts=(let_in(HOB, "A1"),), room={"walls": walls(A=90.0, B=90.0)})
    ranks = [ORDER.index((f.verdict, f.severity)) for f in check(built)]
    assert ranks == sorted(ranks)
    assert {ORDER.index(("not met", "must")), ORDER.index(("not measured", "should"))} <= set(ranks)


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_every_rule_has_findings_or_is_said_to_find_nothing(path):
    built = open_kitchen(path)
    checked, asked = examine(built), default_rules().within(built.document.regions)
    found, nothing = {f.rule for f in checked.findings}, {r.id for r in checked.not_applicable}
    assert found | nothing == {r.id for r in asked.rules}
    assert not found & nothing


def test_rules_of_the_other_fuel_and_of_more_cooks_find_nothing_to_look_at():
    built = kitchen(cutouts=(let_in(HOB, "A3"),))
    nothing = {r.id for r in examine(built).not_applicable}
    assert {"hob-gas-to-side", "aisle-several-cooks", "walkway-around-island", "sink-landing-longer"} <= nothing
    assert not {"hob-electric-to-side", "aisle-one-cook", "hob-landing-longer"} & nothing


def test_a_hob_of_unknown_fuel_is_looked_at_under_the_rules_of_both():
    catalogue = stocked(templates={HOB: {"fuel": None}})
    rules = {f.rule for f in check(kitchen(cutouts=(let_in(HOB, "A3"),), catalogue=catalogue))}
    assert {"hob-electric-to-side", "hob-gas-to-side"} <= rules


def test_json_says_all_that_a_finding_says():
    built = kitchen(cutouts=(let_in(HOB, "A3"),))
    data = as_json(check(built))
    entry = next(e for e in data if e["rule"] == "cutout-to-end")
    # The line of 560 over A3 (1500 to 2100) ends at 2080, the top at 2110.
    assert entry == {
        "rule": "cutout-to-end",
        "measure": "cutout.to_end",
        "question": "Is there enough top between the cut-out and the end?",
        "place": "hob to the right end of T1, exposed",
        "subject": {"sort": "cut-out", "key": built.cutouts[0].key},
        "side": "right end",
        "against": {"sort": "length", "key": built.lengths[0].key},
        "figures": {},
        "verdict": "not met",
        "severity": "must",
        "serious": True,
        "value": 30.0,
        "sense": "at least",
        "limit": 100.0,
        "margin": -70.0,
        "unit": "mm",
        "reason": "",
        "source": "a guide to solid timber tops (quoted by others, not seen)",
        "region": "plain",
        "ids": ["hob", "T1"],
        "advice": "move the cut-out away from the end",
        "volume": entry["volume"],
        "segment": entry["segment"],
    }
    assert [entry["volume"]["low"], entry["volume"]["high"]] == [870.0, 908.0]
    assert {x for x, _, _ in entry["segment"]} == {2080.0, 2110.0}
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_the_caution_defers_and_nothing_approves():
    assert "Local codes" in CAUTION
    assert "makers' sheets" in CAUTION
    assert "licensed" in CAUTION
    words = json.dumps([rule.model_dump(mode="json") for rule in default_rules().rules]).lower() + CAUTION.lower()
    assert not [w for w in ("complies", "compliant", "is safe", "approved by", "certified") if w in words]


def sound(built: Kitchen) -> None:
    """What holds of every finding of every kitchen."""
    findings = check(built)
    for f in findings:
        assert {thing.key for thing in f.about} <= set(built.parts_of) | set(built.parts_by_id), f
        assert set(f.ids) <= {p.called for p in built.parts} | set(built.parts_by_mark), f
        assert f.place
        assert (f.value is None) == bool(f.reason), f
        assert f.volume is None or (
            f.volume.plan.is_valid and f.volume.plan.area > 0 and f.volume.low <= f.volume.high
        )
        assert f.advice == "" or f.verdict is not Verdict.MET
    json.dumps(as_json(findings), allow_nan=False)
    assert check(built) == findings


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_findings_of_the_demos_are_sound(path):
    sound(open_kitchen(path))


@settings(max_examples=tries(60), deadline=None, suppress_health_check=list(HealthCheck))
@given(kitchens())
def test_findings_of_random_kitchens_are_sound(data):
    try:
        built = build(Document.model_validate(data))
    except InputError:
        return
    sound(built)


def test_an_empty_list_of_rules_is_refused(tmp_path):
    path = tmp_path / "checks.yaml"
    path.write_text("rules: []\n")
    with pytest.raises(InputError, match=r"checks.yaml:1: rules: found a list of 0; allowed: a list of 1 to 400"):
        read_rules(path)
