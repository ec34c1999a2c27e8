"""Rules: what is asked, of which measure, with which limit, and on whose word. Data, read strictly.

A rule without a source does not load. Limits that are published in inches stand in millimetres, rounded to the
side of caution by less than a millimetre, with the inches beside them.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

import shared
from model.checks.finding import Sense, Severity, Unit
from model.checks.registry import MEASURES
from model.document import Code, Strict
from model.errors import InputError
from model.strict_yaml import read_checked

Phrase = Annotated[str, Field(min_length=1, max_length=200)]
Status = Literal["seen", "quoted", "memory", "practice"]

STATUS: dict[Status, str] = {
    "seen": "seen",
    "quoted": "quoted by others, not seen",
    "memory": "from memory, not seen",
    "practice": "common practice, no source",
}


class Source(Strict):
    """Where a limit is from. ``status`` tells how far that was looked up."""

    name: Phrase
    edition: Annotated[str, Field(max_length=60)] = ""
    status: Status
    note: Annotated[str, Field(max_length=300)] = ""

    def __str__(self) -> str:
        named = ", ".join(part for part in (self.name, self.edition) if part)
        return f"{named} ({STATUS[self.status]}){self.note and ': '}{self.note}"


class AppliesTo(Strict):
    """What a rule is for: hobs of one fuel, or kitchens in which so many cook (first and last, both included)."""

    fuel: Literal["electric", "gas"] | None = None
    cooks: tuple[Annotated[int, Field(ge=1)], Annotated[int, Field(ge=1)]] | None = None

    def takes_fuel(self, fuel: str | None) -> bool:
        """A hob whose fuel nobody told is looked at under the rules of both."""
        return self.fuel is None or fuel in (None, self.fuel)

    def takes_cooks(self, cooks: int) -> bool:
        """Whether the rule is for a kitchen in which ``cooks`` people cook."""
        return self.cooks is None or self.cooks[0] <= cooks <= self.cooks[1]


class Rule(Strict):
    """One question. ``measure`` names a function of the registry; ``regions`` are country codes (ISO 3166-1)."""

    id: Code
    question: Phrase
    measure: Annotated[str, Field(pattern=r"^[a-z]+\.[a-z_]+$")]
    sense: Sense
    limit: Annotated[float, Field(ge=0, le=20_000)]
    unit: Unit
    severity: Annotated[Severity, Field(strict=False)]
    regions: tuple[Annotated[str, Field(pattern=r"^[A-Z]{2}$")], ...] = ()
    applies_to: AppliesTo = AppliesTo()
    advice: Annotated[str, Field(max_length=200)] = ""
    source: Source


class Rules(Strict):
    """The file checks.yaml."""

    rules: Annotated[tuple[Rule, ...], Field(min_length=1, max_length=400)]

    def within(self, regions: Collection[str]) -> Rules:
        """Only the rules that name no region or one of ``regions``."""
        return Rules(rules=tuple(r for r in self.rules if not r.regions or set(r.regions) & set(regions)))


def load_rules(path: Path = shared.RULES / "checks.yaml") -> Rules:
    """Read and check the rules. Raises InputError with file and line."""
    return read_checked(path, Rules, _check)


@lru_cache(maxsize=1)
def default_rules() -> Rules:
    """The rules that come with the program, read once."""
    return load_rules()


def _check(rules: Rules) -> None:
    seen: set[str] = set()
    for i, rule in enumerate(rules.rules):
        if rule.id in seen:
            raise InputError.at(f"rules[{i}].id", found=f"'{rule.id}' twice", allowed="each rule once")
        seen.add(rule.id)
        if rule.measure not in MEASURES:
            raise InputError.unknown(f"rules[{i}].measure", rule.measure, MEASURES, "a measure")
        unit = MEASURES[rule.measure].unit
        if rule.unit != unit:
            raise InputError.at(f"rules[{i}].unit", found=rule.unit, allowed=f"{unit}, as {rule.measure} measures")
