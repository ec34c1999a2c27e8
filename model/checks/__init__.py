"""Checks: what a fitter is asked to prove of a kitchen, measured and held against a published limit or a custom.

finding    what one rule says about one place          registry   every measure by name
rules      limits as data, each with its source        floor      the free floor, and ways over it
cooking    hobs let in and those of cookers             counters   worktop in line, and what breaks its front
hob        beside, behind and above a hob               cutout     what stays standing round a line to cut
landing    worktop to put things down on               surfaces   worktop that serves several
beneath    under a sink or a hob                       fixing     screws, bolts, biscuits, rims
centres    between sink, hob, refrigerator, dishwasher  routes     from the door, and room to turn
walkways   aisles, ways round islands, doors           swings     what opens, and what it sweeps
worktop    support, weight, height, stock              lifting    how many people lift a piece
units      coordinating sizes, reach, storage          seats      at the back of an island
services   sockets and switches                        survey     whether runs fit a survey a little off
pipes      to water, waste, gas and outlets
boiler     room round a boiler                           ducts      how air drawn off gets out
nearby     stoves and meters in the room                 roof       windows in a sloping ceiling
access     whether tops can be carried in               scribing   the gap behind tops at hollow walls
covers     what covers the wall over the tops
lift       tops that move up and down
hung       what brackets and walls of studs carry
things     what findings are about, by sort and key     phrases    how each kind of place is said
wording    the words of a place, made from its values
accepted   musts that somebody accepts, and refusal of those that nobody does

Limits stand in ``shared/rules/checks``: ``plain.yaml`` holds everywhere, the others in a region. The modules here
only measure.

*Thing*: a unit, a wall, a join …, by its key. *Place*: where a measure looked, in things and numbers, with the
value found there. *Finding*: a place held against the limit of a rule.
A finding that is *met* says that one number is on the right side of one limit. No finding, and no set of them,
approves a kitchen: that is for the people and papers that `CAUTION` names.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from countersunk.model.checks.finding import SHOWN, Finding, Place, Severity, Stop, Verdict, Where
from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.rules import FREE, Rule, Rules, default_rules
from countersunk.model.checks.things import Thing, free_standing
from countersunk.model.checks.wording import in_words, names_of
from countersunk.model.geometry.profile import plan_points
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import rounded

__all__ = ["CAUTION", "Checked", "Finding", "Severity", "Verdict", "as_json", "check", "default_rules", "examine"]

CAUTION = (
    "Measured on the model, not on site. Local codes, the makers' sheets of the appliances and licensed gas, "
    "electrical and building trades decide; this is not an approval of the kitchen or of any part of it."
)
"""Goes with every list of findings."""

SEVERITIES = list(Severity)


@dataclass(frozen=True)
class Checked:
    """All findings, the most serious first, and the rules that found nothing to look at."""

    findings: tuple[Finding, ...]
    not_applicable: tuple[Rule, ...]


def check(kitchen: Kitchen, rules: Rules | None = None) -> tuple[Finding, ...]:
    """Every rule at every place that it is for, the most serious first.

    Without ``rules``, those of the program for the kitchen's regions, or of every region where it names none. A
    finding that is met approves nothing.

    >>> from countersunk import check, open_kitchen
    >>> [finding.rule for finding in check(open_kitchen("straight")) if finding.serious]
    []
    """
    return examine(kitchen, rules).findings


def examine(kitchen: Kitchen, rules: Rules | None = None) -> Checked:
    """Like `check`, and which rules found nothing to look at: no hob, no island, another fuel."""
    asked = (default_rules().within(kitchen.document.regions) if rules is None else rules).rules
    own = [rule for rule in asked if rule.applies_to.takes_kitchen(kitchen)]
    places = {name: tuple(MEASURES[name].take(kitchen)) for name in {rule.measure for rule in own}}
    found = [
        _finding(kitchen, r, p) for r in own for p in places[r.measure] if r.applies_to.takes_place(kitchen, p)
    ]
    looked = {finding.rule for finding in found}
    return Checked(tuple(sorted(found, key=_seriousness)), tuple(rule for rule in asked if rule.id not in looked))


def as_json(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """Findings as plain data: millimetres in room coordinates, values rounded as they were judged."""
    return [_plain(finding) for finding in findings]


def _finding(kitchen: Kitchen, rule: Rule, place: Place) -> Finding:
    found = Finding(
        rule=rule.id, measure=rule.measure, question=_said(rule.question, kitchen, place),
        where=place.where, place=in_words(kitchen, place.where),
        value=None if place.value is None else rounded(place.value, SHOWN),
        limit=rule.limit, unit=rule.unit, sense=rule.sense, severity=rule.severity,
        source=str(rule.source), region=rule.region or "own",
        about=place.about, ids=names_of(kitchen, place.about),
        volume=place.volume, segment=place.segment, reason=place.reason,
        advice=place.advice or _said(rule.advice, kitchen, place),
    )  # fmt: skip
    return replace(found, advice="") if found.verdict is Verdict.MET else found


def _said(text: str, kitchen: Kitchen, place: Place) -> str:
    return text.replace(FREE, free_standing(kitchen, place.about)) if FREE in text else text


def _seriousness(finding: Finding) -> tuple[bool, int, bool, float]:
    """Sorts what is met to the end; then by severity, what was not measured after what was missed, then by margin.

    The margin counts in proportion to the limit, the least first.
    """
    met, unknown = finding.verdict is Verdict.MET, finding.value is None
    return met, SEVERITIES.index(finding.severity), unknown, finding.share


def _plain(finding: Finding) -> dict[str, Any]:
    volume, segment = finding.volume, finding.segment
    return {
        "rule": finding.rule,
        "measure": finding.measure,
        "question": finding.question,
        "place": finding.place,
        **_located(finding.where),
        "verdict": finding.verdict.value,
        "severity": finding.severity.value,
        "serious": finding.serious,
        "value": finding.value,
        "sense": finding.sense,
        "limit": finding.limit,
        "margin": finding.margin,
        "unit": finding.unit,
        "reason": finding.reason,
        "source": finding.source,
        "region": finding.region,
        "ids": list(finding.ids),
        "advice": finding.advice,
        "volume": volume and {"plan": _points(volume), "low": _tidy(volume.low), "high": _tidy(volume.high)},
        "segment": segment and [[_tidy(c) for c in point] for point in segment],
    }


def _located(where: Where) -> dict[str, Any]:
    """The place in values: what it is known by, then the figures that its words have."""
    return {
        "subject": _named(where.subject),
        "side": where.side and where.side.value,
        "against": _named(where.against),
        "figures": {figure.what.value: _tidy(figure.value) for figure in where.figures},
    }


def _named(thing: Thing | Stop | None) -> dict[str, str] | None:
    """A thing by its sort and key; what ends a worktop and is no thing has no key."""
    if isinstance(thing, Thing):
        return {"sort": thing.sort.value, "key": thing.key}
    return {"sort": "stop", "key": thing.value} if thing else None


def _points(volume: Volume) -> list[list[float]]:
    """The plan's outline, not closed."""
    return [[_tidy(x), _tidy(y)] for x, y in plan_points(volume.plan.exterior)[:-1]]


def _tidy(coordinate: float) -> float:
    return round(coordinate, 3) + 0.0
