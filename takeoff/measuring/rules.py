"""Rules: which measure brings which article, by which terms; data, and checked as a whole when it is read.

There is no expression language. A share of a measure may be turned into another dimension by one of

each     count  → what one of them takes        steps    length → a number by its size (hinges of a door)
every    length → a number at most so far apart section  length → the volume of a bead

and is then multiplied by ``factor``, ``coats``, ``faces`` and ``thirst``. ``extra`` is added to a length before
all else. ``coverage``, the pack and the unit belong to the article; ``allowance`` is waste as a fraction.
"""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.catalogue.method import Along
from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_checked
from countersunk.model.ties import rounded_up
from countersunk.model.tolerance import CONTACT
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.stock.sources import Citation, Sources
from countersunk.takeoff.stock.units import UNITS, Dimension, UnitCode

Factor = Annotated[float, Field(gt=0, le=1_000)]
Millimetres = Annotated[float, Field(gt=0, le=20_000)]
Group = Literal["worktop", "boards", "hardware", "appliances", "site", "wear"]
"""Site is what others do there: delivery, bags taken away. Wear is of tools: paid for, and never ordered."""
Trade = Literal["units", "worktops", "walls", "appliances", "site"]
"""Whose work something is for; walls are tiles, panels, paint and the floor."""

TRADE_OF: dict[Group, Trade] = {
    "worktop": "worktops", "boards": "units", "hardware": "units", "appliances": "appliances", "site": "site",
    "wear": "site",
}  # fmt: skip
"""Of a rule that does not say it."""

Text = Annotated[str, Field(min_length=1, max_length=300)]


class Bead(Strict):
    """A bead of sealant: ``width`` and ``depth`` in mm; a half round has its width only."""

    shape: Literal["rectangle", "fillet", "half-round"]
    width: Annotated[float, Field(gt=0, le=50)]
    depth: Annotated[float, Field(gt=0, le=50)] | None = None

    @property
    def area(self) -> float:
        """Section, mm²: W·D, a triangular fillet W·D/2, a half round π/8·W² (sealant makers' tables, seen)."""
        depth = self.width if self.depth is None else self.depth
        shapes = {"rectangle": self.width * depth, "fillet": self.width * depth / 2}
        return shapes.get(self.shape, math.pi / 8 * self.width**2)

    def __str__(self) -> str:
        sides = (
            f"{self.width:g}" if self.shape == "half-round" else f"{self.width:g} × {self.depth or self.width:g}"
        )
        return f"{self.shape} {sides} mm ({self.area:.4g} mm²)"


class Each(Strict):
    """What one of the things takes."""

    amount: Factor
    unit: UnitCode


class Tier(Strict):
    """Up to this many mm, so many."""

    to: Millimetres
    take: Annotated[int, Field(ge=1, le=50)]


class Bring(Strict):
    """A measure and the terms by which it brings an article.

    ``comes`` is what brings nothing where it comes along with a carcass that is bought.
    """

    measure: str
    extra: Annotated[float, Field(ge=0, le=1_000)] = 0.0
    each: Each | None = None
    steps: Annotated[tuple[Tier, ...], Field(min_length=1, max_length=12)] | None = None
    every: Millimetres | None = None
    from_end: Annotated[float, Field(ge=0, le=1_000)] = 0.0
    section: Bead | None = None
    factor: Factor = 1.0
    coats: Annotated[int, Field(ge=1, le=6)] = 1
    faces: Annotated[int, Field(ge=1, le=2)] = 1
    thirst: Annotated[float, Field(ge=1, le=5)] = 1.0
    comes: Along | None = None

    @property
    def dimension(self) -> Dimension:
        """What the terms make of the measure."""
        if self.each:
            return UNITS[self.each.unit].dimension
        if self.steps or self.every:
            return "count"
        return "volume" if self.section else MEASURES[self.measure].dimension

    @property
    def multiplier(self) -> float:
        """The product of the terms that only multiply."""
        return self.factor * self.coats * self.faces * self.thirst

    def turned(self, amount: float) -> float:
        """One share after its terms, in the inside unit of `dimension`."""
        return self._converted(amount + self.extra) * self.multiplier

    def _converted(self, amount: float) -> float:
        if self.each:
            return amount * self.each.amount * UNITS[self.each.unit].size
        if self.steps:
            return next((s.take for s in self.steps if amount <= s.to + CONTACT), self.steps[-1].take)
        if self.every:
            return rounded_up(max(0.0, amount - 2 * self.from_end) / self.every) + 1
        return amount * self.section.area if self.section else amount


class TakeoffRule(Strict):
    """What an article is needed for. Either ``item`` names it, or ``items`` is put before each share's key.

    ``trade`` is whose work it is for, where that is not the usual one of its group.
    """

    id: Code
    group: Group
    item: Code | None = None
    items: Annotated[str, Field(max_length=40)] | None = None
    trade: Trade | None = None
    bring: Annotated[tuple[Bring, ...], Field(min_length=1, max_length=12)]
    allowance: Annotated[float, Field(ge=0, le=1)] = 0.0
    note: Annotated[str, Field(max_length=200)] = ""
    sources: Sources

    @property
    def dimension(self) -> Dimension:
        """The same for all that it brings."""
        return self.bring[0].dimension

    def code(self, key: str) -> str:
        """The article that a share with ``key`` asks for."""
        return self.item if self.item is not None else f"{self.items or ''}{key}"


class Saw(Strict):
    """What cutting lengths takes, mm: ``kerf`` between two pieces, ``trim`` once on each stock length. An offcut is
    worth keeping from ``keep`` on, its length and its depth.

    A plan's price has in it ``rip`` minutes for each metre that is sawn along the stock, paid by ``rate`` of the
    price book, and takes off ``worth``, a share of what an offcut that is kept would cost by its area.
    """

    kerf: Annotated[float, Field(ge=0, le=20)]
    trim: Annotated[float, Field(ge=0, le=200)]
    keep: tuple[Millimetres, Millimetres]
    rip: Annotated[float, Field(ge=0, le=120)] = 0.0
    rate: Code = "labour.hour"
    worth: Annotated[float, Field(ge=0, lt=1)] = 0.0
    sources: Sources


class SheetSaw(Strict):
    """What sawing sheets takes, mm: ``kerf`` between two panels, ``trim`` on each side. An offcut is worth keeping
    from ``keep`` on, its longer and its shorter side."""

    kerf: Annotated[float, Field(ge=0, le=20)]
    trim: Annotated[float, Field(ge=0, le=100)]
    keep: tuple[Millimetres, Millimetres]
    sources: Sources

    def is_kept(self, length: float, width: float) -> bool:
        """Whether an offcut of this size is worth keeping."""
        return max(length, width) >= max(self.keep) and min(length, width) >= min(self.keep)


class Lengths(Strict):
    """What is left of lengths and rolls is kept from ``keep`` on, mm."""

    keep: Millimetres
    sources: Sources


USUAL_LENGTHS = Lengths(
    keep=500.0,
    sources=(
        Citation(of="offcuts", status="practice", text="500 still makes a return, a drawer front or a narrow unit"),
    ),
)
"""Where a file of rules says nothing."""


class Heavy(Strict):
    """Mass in kg above which a length is called out for more people."""

    above: Annotated[float, Field(gt=0, le=200)]
    sources: Sources


class Caution(Strict):
    """Said where the measure ``when`` finds anything."""

    when: str
    text: Text


class NotCounted(Strict):
    """What a reader might expect here, and why it is not."""

    what: Text
    why: Text


class TakeoffRules(Strict):
    """The file takeoff.yaml."""

    saw: Saw
    sheets: SheetSaw
    lengths: Lengths = USUAL_LENGTHS
    slabs: SheetSaw
    heavy: Heavy
    rules: Annotated[tuple[TakeoffRule, ...], Field(min_length=1, max_length=200)]
    cautions: tuple[Caution, ...]
    not_counted: tuple[NotCounted, ...]


def load_rules(path: Path = shared.RULES / "takeoff.yaml") -> TakeoffRules:
    """Read and check the rules. Raises InputError with file and line."""
    return read_checked(path, TakeoffRules, _check)


@lru_cache(maxsize=1)
def default_rules() -> TakeoffRules:
    """The rules that come with the program, read once."""
    return load_rules()


def _check(rules: TakeoffRules) -> None:
    for i, caution in enumerate(rules.cautions):
        check_measure(caution.when, f"cautions[{i}].when")
    seen: set[str] = set()
    for i, rule in enumerate(rules.rules):
        _check_rule(rule, f"rules[{i}]", seen)
        seen |= {rule.id, f"item {rule.item}"}


def check_measure(name: str, field: str) -> None:
    """Raises InputError for a measure that the registry does not know."""
    if name not in MEASURES:
        raise InputError.at(field, found=f"'{name}'", allowed=f"a measure: {', '.join(MEASURES)}")


def _check_rule(rule: TakeoffRule, field: str, seen: set[str]) -> None:
    if rule.id in seen:
        raise InputError.at(f"{field}.id", found=f"'{rule.id}' twice", allowed="each rule once")
    if (rule.item is None) == (rule.items is None):
        raise InputError.at(field, found="both or neither of item and items", allowed="one of them")
    if rule.item is not None and f"item {rule.item}" in seen:
        advice = "one rule with several measures under bring, so that packs are filled once"
        raise InputError.at(
            f"{field}.item", found=f"'{rule.item}' twice", allowed="each article once", advice=advice
        )
    for i, bring in enumerate(rule.bring):
        _check_bring(bring, f"{field}.bring[{i}]")
    dimensions = {b.dimension for b in rule.bring}
    if len(dimensions) > 1:
        found = " and ".join(sorted(dimensions))
        raise InputError.at(f"{field}.bring", found=found, allowed="one dimension for one article")


def _check_bring(bring: Bring, field: str) -> None:
    check_measure(bring.measure, f"{field}.measure")
    terms = {"each": bring.each, "steps": bring.steps, "every": bring.every, "section": bring.section}
    given = [name for name, term in terms.items() if term is not None]
    if len(given) > 1:
        raise InputError.at(f"{field}.{given[1]}", found=" and ".join(given), allowed="one of them")
    dimension = MEASURES[bring.measure].dimension
    lengthy = [n for n in ("steps", "every", "section") if n in given] + ["extra"] * bool(bring.extra)
    if lengthy and dimension != "length":
        raise InputError.at(f"{field}.{lengthy[0]}", found=f"a measure of {dimension}", allowed="a length")
    if bring.each and dimension != "count":
        raise InputError.at(f"{field}.each", found=f"a measure of {dimension}", allowed="a count")
    steps = [s.to for s in bring.steps or ()]
    if steps != sorted(set(steps)):
        raise InputError.at(f"{field}.steps", found="steps out of order", allowed="each step higher than the last")
