"""Part page: everything about one part in words: size, material, edges, where it is cut from, its takeoff lines.

Takes a reading and says what is there; nothing is reckoned here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator

from countersunk.model.checks.finding import Verdict
from countersunk.model.geometry.part import Part
from countersunk.takeoff.plans.boards import BoardPlan, sheet_parts
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.takeoff.stock.units import amount
from countersunk.viewer.app.checking import MARKS
from countersunk.viewer.app.reading import KitchenReading, keys_of, parts_behind
from countersunk.viewer.scene.labels import part_label

Fact = tuple[str, tuple[str, ...]]
"""What is told, and the lines that tell it."""

FEW = 4
"""A finding about more things than these says nothing about one part of them."""

NOT_LAID_OUT = "not laid out on sheets yet: Count, Cutting plans does that"


def facts(part: Part, reading: KitchenReading) -> list[Fact]:
    """Only what applies to the part."""
    found: dict[str, Iterable[str]] = {
        "What": [part_label(part, reading.kitchen)],
        "Size": [f"{part.length:.0f} × {part.depth:.0f} × {part.thickness:g} mm"],
        "Material": _material(part, reading),
        "Edges": _edges(part),
        "Cut from": cut_from(part, reading),
        **_takeoff(part, reading),
        "Findings": _findings(part, reading),
    }
    told = [(name, tuple(lines)) for name, lines in found.items()]
    return [fact for fact in told if fact[1]]


def _material(part: Part, reading: KitchenReading) -> Iterator[str]:
    """The name in the catalogue; for what is bought whole there is none beyond what it is."""
    catalogue = reading.kitchen.catalogue
    decor = catalogue.decors.get(reading.kitchen.decor_of(part))
    if board := catalogue.boards.get(part.material):
        yield ", ".join(
            (
                board.name,
                *([decor.name] if decor else []),
                f"{'grain along its length' if part.grain else 'no grain'}",
            )
        )
    if (stock := catalogue.stocks.get(part.material)) and decor:
        yield f"{stock.name}, {decor.name}"


def _edges(part: Part) -> Iterator[str]:
    """Of a board those that get band, of a worktop what each stretch of its boundary meets."""
    if part.banded:
        yield f"band on {', '.join(part.banded)}"
    lengths: Counter[str] = Counter()
    for edge in part.edges:
        lengths[edge.condition.value] += round(edge.length)
    yield from (f"{condition} {length} mm" for condition, length in lengths.items())


def cut_from(part: Part, reading: KitchenReading) -> Iterator[str]:
    """Its place on the cutting plan: which length or sheet, where on it, and what else is cut from that."""
    for plan in reading.takeoff.plans:
        yield from _on_length(part, plan)
    for sheets in reading.takeoff.boards:
        yield from _on_sheet(part, sheets)
    if not reading.takeoff.boards and any(p is part for p in sheet_parts(reading.kitchen)):
        yield NOT_LAID_OUT


def _on_length(part: Part, plan: TopPlan) -> Iterator[str]:
    for number, bar in enumerate(plan.bars, start=1):
        ids = [piece.id for piece in bar.pieces]
        if part.mark in ids:
            others = [id_ for id_ in ids if id_ != part.mark]
            beside = f", with {', '.join(others)}" if others else ", alone"
            yield f"length {number} of {len(plan.bars)}, {bar.length:.0f} mm of {bar.stock}{beside}"


def _on_sheet(part: Part, plan: BoardPlan) -> Iterator[str]:
    for number, sheet in enumerate(plan.sheets, start=1):
        for place in sheet.places:
            if place.id == part.id:
                turned = ", turned" if place.turned else ""
                at = f"{place.x:.0f} along and {place.y:.0f} across from its corner{turned}"
                yield f"sheet {number} of {len(plan.sheets)} of {plan.name}, {at}"


def _takeoff(part: Part, reading: KitchenReading) -> dict[str, Iterable[str]]:
    """The lines that count the part, its edges, and the joins and cut-outs of a length.

    Of what is bought whole, and so is not counted by parts, those of the unit or cut-out that it belongs to.
    """
    own = list(_lines({part.id, *(edge.id for edge in part.edges)}, reading))
    others = _made_in(part, reading) if own else {part.called: {part.owner}}
    return {
        "On the takeoff": own,
        **{f"On the takeoff, for {name}": _lines(ids, reading) for name, ids in others.items()},
    }


def _made_in(part: Part, reading: KitchenReading) -> dict[str, set[str]]:
    """The joins and cut-outs that are made in a length, by name."""
    kitchen = reading.kitchen
    joins = {f"join {join.id}": {join.key} for join in kitchen.joins if part.mark in (join.female, join.male)}
    return {**joins, **{c.name: {c.key} for c in kitchen.cutouts if c.length == part.mark}}


def _lines(own: Collection[str], reading: KitchenReading) -> Iterator[str]:
    """What of each line is for these."""
    for line in reading.takeoff.materials:
        shares = [share.amount for share in line.quantity.contributions if share.id in own]
        if shares:
            yield f"{line.quantity.description}: {amount(sum(shares), line.quantity.unit)}"


def _findings(part: Part, reading: KitchenReading) -> Iterator[str]:
    """What is not as it should be about this part and few others."""
    for finding in reading.findings:
        missed = finding.verdict != Verdict.MET and len(finding.ids) <= FEW
        if missed and part.id in parts_behind(reading, keys_of(finding)):
            yield f"{MARKS[finding.verdict]} {finding.question} {finding.place}"
