"""Actuals: what a job really cost, line by line beside its takeoff, and what that teaches about minutes and waste.

A CSV says it: ``kind,code,amount``, where kind is ``hours`` (of all people together, by operation), ``packs``
(used, by article; 0.5 for half of one) or ``trips`` (made beyond those of the takeoff, without a code).

One job proves little, so a figure moves towards what was measured by the number of jobs: Z = n / (n + K) of the
way, which is Bühlmann's credibility (Bühlmann 1967, from memory). K is `WEIGHT`. A job that took more than twice
the figure, or less than half, is odd: it is named, and weighs the less the farther off it is (`odd_weight`).
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from countersunk.model.errors import InputError, Problem
from countersunk.model.files.strict_csv import TableRow, read_rows
from countersunk.takeoff.counting.labour import TERMS, LabourRules, Operation
from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.counting.terms import Terms, Waste
from countersunk.takeoff.stock.money import HUNDRED, cents
from countersunk.takeoff.stock.sources import Citation

COLUMNS = ("kind", "code", "amount")
AMOUNT = re.compile(r"\d{1,5}(\.\d{1,3})?")
KINDS = ("hours", "packs", "trips")

WEIGHT = 3
"""A figure that is nobody's own weighs as much as three jobs: common practice, no source."""

ODD = 2.0
"""A job that differs from the figure by more than this factor is odd: common practice, no source."""

METHOD = (
    f"Z = n / (n + {WEIGHT}) of the way to what was measured in n jobs (credibility, Bühlmann 1967, from memory); "
    f"a job off by more than a factor of {ODD:g} weighs less (weights of Huber 1964 on the ratio, from memory)"
)


@dataclass(frozen=True)
class Spent:
    """What a file says was spent: hours by operation, packs by article, and trips beyond those planned."""

    hours: Mapping[str, Decimal]
    packs: Mapping[str, Decimal]
    trips: Decimal = Decimal(0)


@dataclass(frozen=True)
class SpentLine:
    """A line of the takeoff beside what was spent; money is the cost without mark-up and tax, None if unknown."""

    kind: str
    code: str
    description: str
    planned: Decimal
    spent: Decimal
    planned_cost: Decimal | None
    spent_cost: Decimal | None

    @property
    def more(self) -> Decimal | None:
        """What it cost beyond the takeoff."""
        if self.planned_cost is None or self.spent_cost is None:
            return None
        return self.spent_cost - self.planned_cost


@dataclass(frozen=True)
class Lesson:
    """A new figure: minutes of an operation, or the allowance of a rule in percent. ``jobs`` are one's own, with
    this one; ``certainty`` is the share that they have in the new figure, in percent. ``weight`` is what this job
    counts for, less than 1 where it is odd, and ``basis`` what the old figure rests on.
    """

    kind: str
    code: str
    old: float
    measured: float
    new: float
    jobs: int
    weight: float = 1.0
    basis: str = ""

    @property
    def is_odd(self) -> bool:
        """Whether this job is so far off that it counts less."""
        return self.weight < 1.0

    @property
    def certainty(self) -> float:
        """Percent of the new figure that comes from own jobs."""
        return 100.0 * self.jobs / (self.jobs + WEIGHT)

    @property
    def words(self) -> str:
        """How far to trust it."""
        if self.is_odd:
            return f"an odd job: counted {100 * self.weight:.0f} %, look what happened"
        if self.certainty < 50:
            return "still mostly the old figure"
        return "half from own jobs or more" if self.certainty < 75 else "mostly from own jobs"


@dataclass(frozen=True)
class Actuals:
    """The comparison of a job: every line that was spent on, and what it teaches."""

    lines: tuple[SpentLine, ...]
    lessons: tuple[Lesson, ...]
    currency: str

    @property
    def more(self) -> Decimal:
        """What the lines with a price cost beyond the takeoff."""
        return sum((line.more for line in self.lines if line.more is not None), Decimal(0))


def odd_weight(old: float, measured: float) -> float:
    """Return what a job counts for: 1, or ln `ODD` by the logarithm of how many times it is off (Huber's weights).

    >>> odd_weight(25.0, 40.0), round(odd_weight(25.0, 100.0), 9), round(odd_weight(40.0, 10.0), 9)
    (1.0, 0.5, 0.5)
    """
    if old <= 0.0 or measured <= 0.0:
        return 1.0 if old == measured else 0.5
    off = abs(math.log(measured / old))
    return 1.0 if off <= math.log(ODD) else math.log(ODD) / off


def shrunk(old: float, jobs: int, own: float, more: float = 1, weight: float = WEIGHT) -> float:
    """Return a figure that rests on ``jobs`` of one's own once ``more`` of them have come to ``own`` on average.

    >>> shrunk(20.0, 0, 32.0), shrunk(23.0, 1, 33.0)
    (23.0, 25.0)
    """
    known = weight + jobs
    return (old * known + own * more) / (known + more)


def read_actuals(path: Path, takeoff: Takeoff) -> Spent:
    """Read what was spent on the kitchen of ``takeoff``. Raises InputError with every row that is wrong."""
    rows = read_rows(path, COLUMNS)
    codes = {"hours": [*_works(takeoff)], "packs": [*_articles(takeoff)], "trips": [""]}
    problems = [problem for row in rows for problem in _wrong(row, codes)]
    seen: Counter[tuple[str, str]] = Counter()
    for row in rows:
        key = row.cells["kind"], row.cells["code"]
        seen[key] += 1
        if seen[key] == 2:
            problems.append(
                row.problem("code", f"{key[0]} of '{key[1][:40]}' again", "each once", "add the amounts up")
            )
    if problems:
        raise InputError(problems)
    if not rows:
        allowed = "at least one row of hours, packs or trips"
        raise InputError([Problem("file", "no row", allowed, "type what was spent", path.name)])
    by_kind = {
        k: {r.cells["code"]: Decimal(r.cells["amount"]) for r in rows if r.cells["kind"] == k} for k in KINDS
    }
    return Spent(by_kind["hours"], by_kind["packs"], by_kind["trips"].get("", Decimal(0)))


def compare_actuals(takeoff: Takeoff, spent: Spent, rules: LabourRules) -> Actuals:
    """Every line that something was spent on beside what the takeoff says, and the figures to take from it."""
    works, articles = _works(takeoff), _articles(takeoff)
    lines = [_hours(takeoff, works[code], hours) for code, hours in spent.hours.items()]
    lines += [_packs(code, articles[code], packs) for code, packs in spent.packs.items()]
    lines += [_trips(takeoff, spent.trips)] if spent.trips else []
    lessons = [*_minutes(works, spent, rules), *_allowances(takeoff, articles, spent)]
    return Actuals(tuple(lines), tuple(lessons), takeoff.totals.currency)


def as_json(actuals: Actuals) -> dict[str, Any]:
    """Plain data with stable keys; amounts and money are text."""
    return {
        "currency": actuals.currency,
        "method": METHOD,
        "lines": [
            {
                "kind": line.kind, "code": line.code, "description": line.description,
                "planned": f"{line.planned:f}", "spent": f"{line.spent:f}",
                "planned_cost": _text(line.planned_cost), "spent_cost": _text(line.spent_cost),
                "more": _text(line.more),
            }
            for line in actuals.lines
        ],
        "more": str(actuals.more),
        "lessons": [
            {
                "kind": x.kind, "code": x.code, "old": x.old, "measured": round(x.measured, 3),
                "new": round(x.new, 3), "jobs": x.jobs, "certainty": round(x.certainty, 1), "words": x.words,
                "odd": x.is_odd, "weight": round(x.weight, 3), "basis": x.basis,
            }
            for x in actuals.lessons
        ],
    }  # fmt: skip


def learned(rules: LabourRules, actuals: Actuals) -> LabourRules:
    """The labour table with the new minutes, each saying from how many jobs it comes and what was there before."""
    new = {lesson.code: lesson for lesson in actuals.lessons if lesson.kind == "minutes"}
    return LabourRules(operations=tuple(_learned(o, new.get(o.code)) for o in rules.operations))


def learned_terms(terms: Terms, actuals: Actuals) -> Terms:
    """The terms with the new allowances as waste of their rules, at most 100 %, each with its number of jobs."""
    new = {
        lesson.code: Waste(rule=lesson.code, percent=round(min(100.0, lesson.new), 2), jobs=lesson.jobs)
        for lesson in actuals.lessons
        if lesson.kind == "allowance"
    }
    kept = [new.pop(waste.rule, waste) for waste in terms.waste]
    return terms.model_copy(update={"waste": (*kept, *new.values())})


def terms_yaml(terms: Terms) -> bytes:
    """Terms as a file that `load_terms` reads again: one field a line, what is as usual left out."""
    head = "# Terms of a job. waste: the percent of a rule, and how many jobs of our own it comes from.\n"
    fields = terms.model_dump(mode="json", exclude_defaults=True)
    return (head + "".join(f"{k}: {json.dumps(v, ensure_ascii=False)}\n" for k, v in fields.items())).encode()


def planned_lines(takeoff: Takeoff) -> list[tuple[str, str, str, Decimal]]:
    """Everything that may be said of a job: hours or packs, its code, what it is, and how much was planned."""
    hours = [("hours", code, w.work.name, w.work.minutes / 60) for code, w in _works(takeoff).items()]
    packs = [("packs", c, m.quantity.description, m.paid or Decimal(0)) for c, m in _articles(takeoff).items()]
    return [*hours, *packs]


def labour_yaml(rules: LabourRules) -> bytes:
    """A labour table as a file that `load_labour` reads again: one operation a line."""
    head = "# Operations and their minutes. jobs: how many jobs of our own the minutes come from, as sources say.\n"
    rows = [o.model_dump(mode="json", exclude_defaults=True) for o in rules.operations]
    lines = [f"  - {json.dumps(row, ensure_ascii=False)}\n" for row in rows]
    return (head + "operations:\n" + "".join(lines)).encode()


def _learned(operation: Operation, lesson: Lesson | None) -> Operation:
    if lesson is None:
        return operation
    own = "one own job" if lesson.jobs == 1 else f"{lesson.jobs} own jobs"
    text = f"{own}, {lesson.certainty:.0f} % of the figure; before them an earlier table"
    kept = [s for s in operation.sources if not s.of.startswith("minutes of own jobs")]
    mine = Citation(of="minutes of own jobs", status="seen", text=text)
    return operation.model_copy(
        update={"minutes": round(lesson.new, 3), "jobs": lesson.jobs, "sources": (mine, *kept)[:12]}
    )


def _text(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _wrong(row: TableRow, codes: Mapping[str, Sequence[str]]) -> list[Problem]:
    kind, code, amount = (row.cells[name] for name in COLUMNS)
    if kind not in KINDS:
        return [row.problem("kind", f"'{kind[:40]}'", "hours, packs or trips")]
    found = []
    if code not in codes[kind]:
        near = ", ".join(codes[kind])[:400] or "nothing in this column"
        found.append(row.problem("code", f"'{code[:40]}'", near, "take a code that the takeoff prints"))
    if not AMOUNT.fullmatch(amount):
        allowed = "a number from 0 to 99999 with at most 3 decimals and a point"
        found.append(row.problem("amount", f"'{amount[:40]}'", allowed))
    return found


def _works(takeoff: Takeoff) -> dict[str, LabourLine]:
    """What takes hours, by its code; travel is a matter of trips."""
    return {line.work.code: line for line in takeoff.labour if line.work.source != TERMS}


def _articles(takeoff: Takeoff) -> dict[str, MaterialLine]:
    """Lines by the article's code, and its decor where it comes in several."""
    lines = [
        line for line in takeoff.materials if line.quantity.packs is not None and line.quantity.rule != "extras"
    ]
    count = Counter(line.quantity.item for line in lines)
    decors = [f".{line.quantity.decor}" if count[line.quantity.item] > 1 else "" for line in lines]
    return {f"{line.quantity.item}{decor}": line for line, decor in zip(lines, decors, strict=True)}


def _hours(takeoff: Takeoff, line: LabourLine, hours: Decimal) -> SpentLine:
    work, cost = line.work, line.charge.cost if line.charge else None
    planned = (work.minutes / 60).quantize(Decimal("0.001"))
    rate = takeoff.totals.hourly_rate
    spent = cents(hours * rate) if rate is not None and cost is not None else None
    return SpentLine("hours", work.code, work.name, planned, hours, cost, spent)


def _packs(code: str, line: MaterialLine, packs: Decimal) -> SpentLine:
    q, price, cost = line.quantity, line.price, line.charge.cost if line.charge else None
    spent = cents(packs * price.price * (HUNDRED - line.discount) / HUNDRED) if price and cost is not None else None
    return SpentLine("packs", code, q.description, line.paid or Decimal(0), packs, cost, spent)


def _trips(takeoff: Takeoff, trips: Decimal) -> SpentLine:
    """Trips beyond the planned ones, at what one costs: its time and its way."""
    road = [line for line in takeoff.labour if line.work.source == TERMS]
    planned = Decimal(max((len(line.work.ids) for line in road), default=0))
    costs = [line.charge.cost for line in road if line.charge]
    if not planned or len(costs) < len(road):
        return SpentLine("trips", "", "trips to the site", planned, planned + trips, None, None)
    cost = sum(costs, Decimal(0))
    spent = cost + cents(cost / planned * trips)
    return SpentLine("trips", "", "trips to the site", planned, planned + trips, cost, spent)


def _minutes(works: Mapping[str, LabourLine], spent: Spent, rules: LabourRules) -> Iterable[Lesson]:
    for operation in rules.operations:
        line, hours = works.get(operation.code), spent.hours.get(operation.code)
        if line is not None and hours is not None:
            measured = float(hours * 60 / (line.work.amount * line.work.people))
            weight = odd_weight(operation.minutes, measured)
            new = shrunk(operation.minutes, operation.jobs, measured, weight)
            jobs = operation.jobs + 1
            yield Lesson(
                "minutes", operation.code, operation.minutes, measured, new, jobs, weight, operation.basis
            )  # fmt: skip


def _allowances(takeoff: Takeoff, articles: Mapping[str, MaterialLine], spent: Spent) -> Iterable[Lesson]:
    """By rule, the mean of its lines; what a cutting plan decides has no allowance to learn."""
    known = {waste.rule: waste.jobs for waste in takeoff.terms.waste}
    by_rule: dict[str, list[tuple[float, float]]] = {}
    for code, packs in spent.packs.items():
        q = articles[code].quantity
        if q.share is not None and not q.by_plan and q.net > 0 and q.pack:
            used = max(0.0, float(packs) * q.pack / q.net - 1)
            by_rule.setdefault(q.rule, []).append((q.share, used))
    for rule, found in by_rule.items():
        old, used = found[0][0], sum(u for _, u in found) / len(found)
        jobs = known.get(rule, 0)
        weight = odd_weight(1 + old, 1 + used)
        new = shrunk(old, jobs, used, weight)
        basis = f"{jobs} own {'job' if jobs == 1 else 'jobs'}" if jobs else "the rule"
        yield Lesson("allowance", rule, 100 * old, 100 * used, 100 * new, jobs + 1, weight, basis)
