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

CUTTING = frozenset((
    "access.carry_in", "scribing.gap_behind", "survey.contradicted", "survey.doubted", "survey.left_of_run",
    "survey.left_if_wrong", "survey.past_survey",
    "cutout.to_cutout", "cutout.to_join", "cutout.to_front_edge", "cutout.to_back_edge", "cutout.to_end",
    "cutout.corner_radius", "cutout.typed_corner_radius", "cutout.to_unit_sides", "cutout.tap_below",
    "fixing.rim_cover", "fixing.join_bolts", "fixing.join_biscuits", "fixing.bolts_under_units",
    "hob.to_tall_unit", "hob.to_side_wall", "hob.to_side", "hob.to_farther_side", "hob.burner_to_side",
    "hob.line_to_wall_behind", "hob.behind_on_island", "hob.beside_window", "hob.beside_door",
    "landing.beside_hob_longer", "landing.beside_hob_shorter", "landing.beside_sink_longer",
    "landing.beside_sink_shorter", "landing.preparation", "landing.sink_to_hob",
    "worktop.depth", "worktop.end_overhang", "worktop.front_overhang", "worktop.end_cover", "worktop.back_overhang",
    "worktop.unsupported_gap", "worktop.spare_of_stock", "worktop.join_off_square", "worktop.join_to_appliance",
))  # fmt: skip
"""Measures that say where a top is cut, how a cut-out or a join lies in it, or whether the piece can be used."""

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
    return finding.measure in CUTTING


def _sentences(findings: Iterable[Finding]) -> Iterator[str]:
    for f in findings:
        yield f"{f.severity}: {f.question} {f.place}: {f.reason if f.value is None else numbers(f)}"
