"""Rules: what is asked, of which measure, with which limit, and on whose word. Data, read strictly.

One file for each region, and one for what holds everywhere. A firm's own file adds rules, or takes the place of
those with the same id. A rule without a source does not load. Limits that are published in inches stand in
millimetres, rounded to the side of caution by less than a millimetre, with the inches beside them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.catalogue.catalogue import Core, Mount
from countersunk.model.checks.finding import Place, Sense, Severity, Unit
from countersunk.model.checks.registry import MEASURES
from countersunk.model.checks.things import of_cutout, tops_at
from countersunk.model.document.schema import Code, Region, Strict, Work
from countersunk.model.errors import InputError
from countersunk.model.facts.status import Status
from countersunk.model.files.strict_yaml import read_checked
from countersunk.model.kitchen import Kitchen

Wording = Annotated[str, Field(min_length=1, max_length=200)]
Band = tuple[Annotated[float, Field(ge=0)], Annotated[float, Field(ge=0)]]
Holds = Literal["uk", "us", "au-nz", "eu", "plain", "own"]
"""Where a rule holds: in a region, or everywhere, as common practice or as a firm's own rule."""

EVERYWHERE = ("plain", "own")
REGIONS: dict[Region, str] = {
    "uk": "the United Kingdom",
    "us": "the United States",
    "au-nz": "Australia and New Zealand",
    "eu": "the European Union",
}

FREE = "{island}"
"""In the words of a rule: the word for what stands free at the place, island or peninsula."""

STATUS: dict[Status, str] = {
    "seen": "seen",
    "quoted": "quoted by others, not seen",
    "memory": "from memory, not seen",
    "practice": "common practice, no source",
}


class LimitSource(Strict):
    """Where a limit is from. ``status`` tells how far that was looked up."""

    name: Wording
    edition: Annotated[str, Field(max_length=60)] = ""
    status: Status
    note: Annotated[str, Field(max_length=300)] = ""

    def __str__(self) -> str:
        named = ", ".join(part for part in (self.name, self.edition) if part)
        return f"{named} ({STATUS[self.status]}){self.note and ': '}{self.note}"


class AppliesTo(Strict):
    """What a rule is for. Bands include their first and last number.

    ``fuel``: hobs of one fuel. ``cooker``: those of cookers, or only those let in. ``top``: places at worktops of
    such heights (mm). ``cooks``: kitchens in which so many cook. ``floor``: rooms of such a floor area (m²).
    ``wheelchair``: kitchens for somebody who uses one. ``work``: new work, or a replacement like for like.
    ``core``: places at tops of these materials, as thick as ``thick`` (mm). ``mount``: sinks and hobs set so.
    """

    fuel: Literal["electric", "gas"] | None = None
    cooker: bool | None = None
    top: Band | None = None
    cooks: tuple[Annotated[int, Field(ge=1)], Annotated[int, Field(ge=1)]] | None = None
    floor: Band | None = None
    wheelchair: bool = False
    work: Work | None = None
    core: tuple[Core, ...] = ()
    thick: Band | None = None
    mount: Mount | None = None

    def takes_place(self, kitchen: Kitchen, place: Place) -> bool:
        """A hob whose fuel nobody told is looked at under the rules of both."""
        fuel = self.fuel is None or place.fuel in (None, self.fuel)
        stands = self.cooker is None or place.cooker in (None, self.cooker)
        seat = place.top is None or _within(place.top, self.top)
        return fuel and stands and seat and self._takes_top(kitchen, place)

    def _takes_top(self, kitchen: Kitchen, place: Place) -> bool:
        """Whether the top at the place, and what is let in there, are what the rule is for."""
        if self.mount is not None:
            mounts = {of_cutout(cutout): cutout.template.mount for cutout in kitchen.cutouts}
            if mounts.get(place.where.subject) != self.mount:
                return False
        if not self.core and self.thick is None:
            return True
        stocks = tops_at(kitchen)
        stock = next((stocks[t] for t in (place.where.subject, *place.about) if t in stocks), None)
        return (
            stock is not None
            and stock.core in (self.core or (stock.core,))
            and _within(stock.thickness, self.thick)
        )

    def takes_kitchen(self, kitchen: Kitchen) -> bool:
        """Whether the rule is for such a kitchen; one whose floor was not measured all round has no area."""
        document, outline = kitchen.document, kitchen.survey.outline
        area = None if outline is None else outline.area * 1e-6
        floor = self.floor is None or (area is not None and _within(area, self.floor))
        person = _within(document.cooks, self.cooks) and (document.wheelchair or not self.wheelchair)
        return person and floor and self.work in (None, document.work)


class Rule(Strict):
    """One question. ``measure`` names a function of the registry; ``region`` is that of its file unless given.

    ``{island}`` in question or advice is said as island or as peninsula, whichever the place is at.
    """

    id: Code
    question: Wording
    measure: Annotated[str, Field(pattern=r"^[a-z]+\.[a-z_]+$")]
    sense: Sense
    limit: Annotated[float, Field(ge=0, le=100_000)]
    unit: Unit
    severity: Annotated[Severity, Field(strict=False)]
    region: Holds | None = None
    applies_to: AppliesTo = AppliesTo()
    advice: Annotated[str, Field(max_length=200)] = ""
    source: LimitSource


class RuleFile(Strict):
    """A file of rules. ``region`` is where they hold; left out, they are a firm's own and hold everywhere."""

    region: Holds | None = None
    rules: Annotated[tuple[Rule, ...], Field(min_length=1, max_length=400)]


@dataclass(frozen=True)
class Rules:
    """Rules to hold a kitchen against, each with its region."""

    rules: tuple[Rule, ...]

    def within(self, regions: Collection[str]) -> Rules:
        """Only those of ``regions`` and those that hold everywhere; every rule where no region is named."""
        return Rules(tuple(r for r in self.rules if not regions or r.region in (*EVERYWHERE, *regions)))

    def with_own(self, own: RuleFile) -> Rules:
        """A firm's own rules added, or in the place of those with the same id, whose region they keep if silent."""
        known = {rule.id: rule for rule in self.rules}
        for rule in own.rules:
            before = known.get(rule.id)
            region = rule.region or own.region or (before and before.region) or "own"
            known[rule.id] = rule.model_copy(update={"region": region})
        return Rules(tuple(known.values()))


def where_from(regions: Collection[str]) -> str:
    """Whose rules a kitchen is held against, in a sentence."""
    if not regions:
        return "No region is chosen, so the rules of every region were asked; your own may ask for less or more."
    named = ", ".join(REGIONS[name] for name in REGIONS if name in regions)
    return f"Held against what is known here of {named}, and common practice; it is not the whole of any code."


def read_rules(path: Path) -> RuleFile:
    """Read and check one file of rules. Raises InputError with file and line."""
    return read_checked(path, RuleFile, _check)


def load_rules(paths: Iterable[Path]) -> Rules:
    """The rules of several files together; a later one takes the place of an earlier one with its id."""
    rules = Rules(())
    for path in paths:
        rules = rules.with_own(read_rules(path))
    return rules


@lru_cache(maxsize=1)
def default_rules() -> Rules:
    """The rules that come with the program, those that hold everywhere first, read once."""
    return load_rules(shared.RULES / "checks" / f"{name}.yaml" for name in ("plain", *REGIONS))


def _within(number: float, band: tuple[float, float] | None) -> bool:
    return band is None or band[0] <= number <= band[1]


def _check(file: RuleFile) -> None:
    seen: set[str] = set()
    for i, rule in enumerate(file.rules):
        if rule.id in seen:
            raise InputError.at(f"rules[{i}].id", found=f"'{rule.id}' twice", allowed="each rule once")
        seen.add(rule.id)
        if rule.measure not in MEASURES:
            raise InputError.unknown(f"rules[{i}].measure", rule.measure, MEASURES, "a measure")
        _check_said(rule, f"rules[{i}]")
        unit = MEASURES[rule.measure].unit
        if rule.unit != unit:
            raise InputError.at(f"rules[{i}].unit", found=rule.unit, allowed=f"{unit}, as {rule.measure} measures")


def _check_said(rule: Rule, field: str) -> None:
    """Words that say something, and bands that go upwards."""
    for name, words in (("question", rule.question), ("source.name", rule.source.name)):
        if not words.strip():
            raise InputError.at(
                f"{field}.{name}", found="only blanks", allowed="words", advice="say where it is from"
            )
    for name in ("top", "cooks", "floor"):
        band = getattr(rule.applies_to, name)
        if band and band[0] > band[1]:
            found, allowed = f"{band[0]:g} to {band[1]:g}", "the smaller number first"
            raise InputError.at(f"{field}.applies_to.{name}", found=found, allowed=allowed)
