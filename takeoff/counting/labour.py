"""Labour: operations × minutes, as data, counted by the same measures as materials."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.catalogue.catalogue import Label
from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_checked
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import settled
from countersunk.takeoff.counting.terms import Terms
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.measuring.rules import Saw, Trade, check_measure
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.takeoff.stock.sources import Sources, cited

TERMS = "the terms of the job"


class Operation(Strict):
    """Something that is done; ``minutes`` for each, each metre or square metre, by so many ``people`` at once.

    ``per: minute`` takes the minutes of a measure whose shares are minutes, times ``minutes``. What is done on the
    ``site`` counts for the visits. The minutes come from so many ``jobs`` of one's own, 0 where they are a guess.
    """

    code: Code
    name: Label
    measure: str
    key: str = ""
    per: Literal["each", "m", "m2", "minute"]
    minutes: Annotated[float, Field(gt=0, le=10_000)]
    people: Annotated[int, Field(ge=1, le=6)]
    at: Literal["site", "workshop"] = "site"
    trade: Trade = "units"
    jobs: Annotated[int, Field(ge=0, le=10_000)] = 0
    sources: Sources

    @property
    def basis(self) -> str:
        """Where its minutes are from: jobs of one's own, a trade table, or a guess."""
        if self.jobs:
            return f"{self.jobs} own {'job' if self.jobs == 1 else 'jobs'}"
        return "trade table" if self.sources[0].status in ("seen", "quoted") else "guess"


class LabourRules(Strict):
    """The file labour.yaml."""

    operations: tuple[Operation, ...]


@dataclass(frozen=True)
class Work:
    """An operation in this kitchen: ``amount`` to three decimals, as printed, so that sums agree with print.

    ``things`` says of what, such as ``14 banded edges``; ``shares`` are how much of each of ``ids``.
    Kilometres take no minutes; they are paid for as such.
    """

    code: str
    name: str
    unit: Literal["each", "m", "m2", "minute", "km"]
    amount: Decimal
    minutes_each: Decimal
    people: int
    ids: tuple[str, ...]
    source: str
    things: str
    on_site: bool = True
    trade: Trade = "units"
    shares: tuple[float, ...] = ()

    @property
    def formula(self) -> str:
        """What its money is reckoned from: ``2 exposed edges, 1.2 m × 20 min × 1 person ÷ 60 × rate``."""
        unit = {"m2": "m²"}.get(self.unit, self.unit)
        of = self.things if self.unit == "each" else f"{self.things}, {self.amount.normalize():f} {unit}"
        if self.unit == "km":
            return f"{of} × rate"
        people = "1 person" if self.people == 1 else f"{self.people} people"
        return f"{of} × {self.minutes_each.normalize():f} min × {people} ÷ 60 × rate"

    @property
    def minutes(self) -> Decimal:
        """Of all people together."""
        return self.amount * self.minutes_each * self.people


def load_labour(path: Path = shared.RULES / "labour.yaml") -> LabourRules:
    """Read and check the operations. Raises InputError with file and line."""
    return read_checked(path, LabourRules, _check)


@lru_cache(maxsize=1)
def default_labour() -> LabourRules:
    """The operations that come with the program, read once."""
    return load_labour()


def works(rules: LabourRules, measured: Mapping[str, tuple[Share, ...]]) -> list[Work]:
    """Every operation that this kitchen asks for."""
    found = []
    for operation in rules.operations:
        shares = [s for s in measured[operation.measure] if operation.key in ("", s.key)]
        if shares:
            found.append(_work(operation, shares))
    return found


def ripping(kitchen: Kitchen, plans: Iterable[TopPlan], saw: Saw) -> list[Work]:
    """Sawing along lengths of worktop, as the plans of what is bought take it; nothing where none is ripped."""
    plans = list(plans)
    metres = sum(plan.ripped for plan in plans) / 1000
    if not metres or not saw.rip:
        return []
    narrow = (p.id for plan in plans for bar in plan.bars for p in bar.pieces if p.depth < bar.depth)
    keys = tuple(kitchen.length(id_).key for id_ in narrow)
    return [
        Work(
            "rip", "top ripped to its depth", "m",
            Decimal(f"{settled(metres):.3f}"), Decimal(str(saw.rip)), 1, keys,
            cited(saw.sources), counted(len(keys), "top"), on_site=False, trade="worktops",
        )
    ]  # fmt: skip


def visits_for(terms: Terms, done: Iterable[Work]) -> int:
    """How many visits the work on site takes, and as many at least as the terms say."""
    least, hours = terms.travel.visits, terms.travel.hours
    if hours is None:
        return least
    minutes = sum((work.minutes for work in done if work.on_site), Decimal(0))
    return max(least, math.ceil(minutes / 60 / Decimal(str(hours))))


def travel(terms: Terms, done: Sequence[Work] = ()) -> list[Work]:
    """The time on the road and the kilometres of every visit that what is ``done`` takes; nothing where nobody
    travels.
    """
    visits = tuple(f"visit {i}" for i in range(1, visits_for(terms, done) + 1))
    minutes, km = (Decimal(str(value)) for value in (terms.travel.minutes, terms.travel.km))
    each, said = Decimal(len(visits)), counted(len(visits), "visit")
    time = Work(
        "travel", "travel to the site and back", "each", each, minutes, 1, visits, TERMS, said, trade="site"
    )
    way = Work(
        "distance", "way to the site and back", "km", each * km, Decimal(0), 1, visits, TERMS, said, trade="site"
    )
    return [*([time] if time.minutes else []), *([way] if way.amount else [])]


def _work(operation: Operation, shares: list[Share]) -> Work:
    whole = {"each": 1.0, "minute": 1.0, "m": 1e3, "m2": 1e6}[operation.per]
    total = len(shares) if operation.per == "each" else sum(s.amount for s in shares) / whole
    return Work(
        code=operation.code,
        name=operation.name,
        unit=operation.per,
        amount=Decimal(total) if operation.per == "each" else Decimal(f"{settled(total):.3f}"),
        minutes_each=Decimal(str(operation.minutes)),
        people=operation.people,
        ids=tuple(s.id for s in shares),
        source=cited(operation.sources),
        things=counted(len(shares), MEASURES[operation.measure].noun),
        on_site=operation.at == "site",
        trade=operation.trade,
        shares=tuple(1.0 if operation.per == "each" else s.amount for s in shares),
    )


def _check(rules: LabourRules) -> None:
    seen: set[str] = set()
    for i, operation in enumerate(rules.operations):
        field = f"operations[{i}]"
        check_measure(operation.measure, f"{field}.measure")
        if operation.code in seen:
            raise InputError.at(f"{field}.code", found=f"'{operation.code}' twice", allowed="each code once")
        seen.add(operation.code)
        dimension = MEASURES[operation.measure].dimension
        for per, words, asked in (("m", "metres", "length"), ("m2", "square metres", "area")):
            if operation.per == per and dimension != asked:
                raise InputError.at(f"{field}.per", found=f"{words} of a {dimension}", allowed="each")
