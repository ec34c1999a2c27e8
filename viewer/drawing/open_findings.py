"""Open findings: those that must be settled before a length is cut, in short, for its sheets.

An aisle, a socket or a lift of a piece changes no cut: the fit report has those.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from countersunk.model.checks import Finding, Severity, Verdict, things
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.fit_panel import numbers

MOST = 4
"""So many are named on a sheet; of the others it says how many there are."""

CUTTING = ("access", "cutout", "fixing", "hob", "landing", "scribing", "survey", "worktop")
"""Groups of measures that say where a top is cut, or whether the piece can be used."""

NOT_CUTTING = ("worktop.height", "worktop.weight")
"""Measures of these groups that no cut changes."""

OPEN = (Verdict.NOT_MET, Verdict.SHORT, Verdict.NOT_MEASURED)
"""What is not settled."""


def of_length(kitchen: Kitchen, findings: Iterable[Finding], length: Length) -> list[str]:
    """What is open about a length, its cut-outs and its joins, the most serious first."""
    own = {things.of_length(length), *(things.of_cutout(c) for c in kitchen.cutouts if c.length == length.id)}
    joins = {things.of_join(j) for j in kitchen.joins if length.id in (j.female, j.male)}
    return _in_short(f for f in findings if not (own.isdisjoint(f.about) and joins.isdisjoint(f.things)))


def of_join(findings: Iterable[Finding], join: Join) -> list[str]:
    """What is open about a join."""
    return _in_short(f for f in findings if things.of_join(join) in f.things)


def _in_short(findings: Iterable[Finding]) -> list[str]:
    open_ = [f for f in findings if f.verdict in OPEN and f.severity is not Severity.NOTE and _bears_on_cuts(f)]
    more = [f"and {len(open_) - MOST} more, see the fit report"] if len(open_) > MOST else []
    return [*_sentences(open_[:MOST]), *more]


def _bears_on_cuts(finding: Finding) -> bool:
    return finding.measure.split(".")[0] in CUTTING and finding.measure not in NOT_CUTTING


def _sentences(findings: Iterable[Finding]) -> Iterator[str]:
    for f in findings:
        yield f"{f.severity}: {f.question} {f.place}: {f.reason if f.value is None else numbers(f)}"
