"""Checking: whose rules are asked, and findings and cures as rows, as text for the terminal and as plain data."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from rich.box import HORIZONTALS
from rich.table import Table

from countersunk.model import checks
from countersunk.model.checks.finding import Finding, Verdict, as_shown
from countersunk.model.checks.rules import Rules, read_rules
from countersunk.model.cures import Cure, NoCure, cure
from countersunk.model.cures.search import MOST_TRIALS
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.app.terminal import Rows, terminal_table

Step = Callable[[str], object]
Cures = Mapping[Finding, Cure | NoCure]

MARKS = {
    Verdict.NOT_MET: "✖",
    Verdict.NOT_MEASURED: "?",
    Verdict.SHORT: "▲",
    Verdict.WATCH: "●",
    Verdict.MET: "✓",
}
"""A sign beside each verdict, so that no colour has to carry it."""


WIDE = (13, None, 9, 9, 7, 3)
"""The columns of findings in a terminal, in letters; the question has the rest."""

CURED = (Verdict.NOT_MET, Verdict.SHORT)
"""A cure is looked for where a must or an advice is missed; a note is for people to look at."""


def asked_of(kitchen: Kitchen, regions: tuple[str, ...], own: Iterable[Path]) -> Rules:
    """The rules to hold a kitchen against: its regions unless others are given, and a firm's own files."""
    rules = checks.default_rules()
    for path in own:
        rules = rules.with_own(read_rules(path))
    return rules.within(regions or kitchen.document.regions)


def cures_of(
    kitchen: Kitchen, findings: Iterable[Finding], rules: Rules, step: Step, most: tuple[int, ...] = MOST_TRIALS
) -> Cures:
    """A cure, or why there is none, for each must and advice that is missed."""
    return {finding: looked_for(kitchen, finding, rules, step, most) for finding in curable(findings)}


def curable(findings: Iterable[Finding]) -> list[Finding]:
    """The musts and advices that are missed, in their order."""
    return [finding for finding in findings if finding.verdict in CURED]


def looked_for(
    kitchen: Kitchen, finding: Finding, rules: Rules, step: Step, most: tuple[int, ...] = MOST_TRIALS
) -> Cure | NoCure:
    """A cure for one finding; every change that is tried is told where somebody watches."""
    step(f"looking for a cure: {finding.question} {finding.place}")
    report = step if sys.stderr.isatty() else lambda _: None
    return cure(kitchen.document, finding, rules=rules, kitchen=kitchen, report=report, most=most)


def wanted(findings: Iterable[Finding], rules: Rules, rule: str, place: str) -> Finding:
    """The most serious finding of a rule, at a place of which ``place`` is part. Raises InputError."""
    known = [r.id for r in rules.rules]
    if rule not in known:
        raise InputError.unknown("--rule", rule, known, "a rule that is asked")
    mine = [finding for finding in findings if finding.rule == rule]
    here = [finding for finding in mine if place in finding.place]
    if not here:
        allowed = "; ".join(f.place for f in mine) or "nothing, since the rule found nothing to look at"
        raise InputError.at("--place" if mine else "--rule", found=f"'{place if mine else rule}'", allowed=allowed)
    return here[0]


def findings_json(findings: Iterable[Finding], cures: Cures) -> dict[str, Any]:
    """Findings with their cures, and the caution that goes with them."""
    some = list(findings)
    plain = [{**entry, **_cure_json(cures.get(f))} for entry, f in zip(checks.as_json(some), some, strict=True)]
    return {"caution": checks.CAUTION, "findings": plain}


def _cure_json(found: Cure | NoCure | None) -> dict[str, Any]:
    if found is None:
        return {}
    return {"cure": {"found": isinstance(found, Cure), "words": found.words, **_made(found)}}


def _made(found: Cure | NoCure) -> dict[str, Any]:
    """How large a cure is, what it sets, and what the rule finds then."""
    if isinstance(found, NoCure):
        return {}
    return {"moves": found.moves, "size": found.size, "changes": dict(found.changes), "value": found.value}


def cures_json(numbered: Mapping[int, Cure | NoCure]) -> dict[str, Any]:
    """Numbered cures, each with the finding that it is for."""
    plain = checks.as_json(found.finding for found in numbered.values())
    pairs = zip(numbered.items(), plain, strict=True)
    cures = [{"number": n, **entry, **_cure_json(found)} for (n, found), entry in pairs]
    return {"caution": checks.CAUTION, "cures": cures}


def cure_lines(cures: Iterable[tuple[int, Cure | NoCure]]) -> list[str]:
    """Two lines for each: its number and what is missed, then what would put it right."""
    return [f"{n:>3}  {_missed(found.finding)}\n       {_said(found)}" for n, found in cures]


def _missed(finding: Finding) -> str:
    return f"{MARKS[finding.verdict]} {finding.verdict}: {finding.question} {finding.place}"


def _said(found: Cure | NoCure) -> str:
    return f"→ {found.words}" if isinstance(found, Cure) else f"– {found.words}"


def findings_table(findings: Sequence[Finding]) -> list[Table | str]:
    """The findings for the terminal, with their sources numbered below so that the table stays narrow."""
    sources = list(dict.fromkeys(f.source for f in findings))
    numbers = {source: str(i) for i, source in enumerate(sources, start=1)}
    rows = [
        {**row, "Question and place": f"{row['Question']} {row['Where']}", "Src": numbers[str(row["Source"])]}
        for row in findings_rows(findings)
    ]
    columns = ["Verdict", "Question and place", "Measured", "Limit", "Margin", "Src"]
    table = terminal_table(rows, "Findings, the most serious first", columns)
    table.box, table.expand = HORIZONTALS, True
    for column, width in zip(table.columns, WIDE, strict=True):
        column.width, column.ratio = width, None if width else 1
    return [table, "Sources", *(f"{i:>3}  {source}" for i, source in enumerate(sources, start=1))]


def findings_rows(findings: Sequence[Finding]) -> Rows:
    """A row for each finding, the most serious first."""
    return [_finding_row(f) for f in findings]


def _finding_row(finding: Finding) -> dict[str, object]:
    measured = finding.reason if finding.value is None else as_shown(finding.value, finding.unit)
    return {
        "Verdict": f"{MARKS[finding.verdict]} {finding.verdict}",
        "Weight": str(finding.severity),
        "Question": finding.question,
        "Where": finding.place,
        "Measured": measured,
        "Limit": f"{finding.sense} {as_shown(finding.limit, finding.unit)}",
        "Margin": "" if finding.margin is None else as_shown(finding.margin, finding.unit),
        "What would help": finding.advice,
        "Parts": ", ".join(finding.ids),
        "Source": finding.source,
    }
