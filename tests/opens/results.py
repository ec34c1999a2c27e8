"""Results: what a version makes of a kitchen, as a table of numbers and without the names of parts or places.

Four kinds of rows, and what stands in a cell of each:

``part ROLE MATERIAL``    how many there are; their volume, cm³; where they are, see `_where`
``rule ID LIMIT``         the values found, in order; "!" before one that misses the limit, "?" for not measured
``order ARTICLE DECOR``   how much is ordered, in the article's unit
``money NAME``            a total of the takeoff as commands print it: boards by their sheets, tops by their plans
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from countersunk.model.checks import Verdict, check
from countersunk.model.checks.finding import Finding
from countersunk.model.geometry import solids
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen, read_kitchen
from countersunk.takeoff.counting.takeoff import Takeoff, take_off
from countersunk.takeoff.plans.cut_plans import cut_plans

Results = Mapping[str, str]

WEIGHTS = (1.0, 2.0, 3.0, 5.0, 7.0, 11.0)
"""Unlike each other, so that no move of a part leaves the weighted sum of its bounds as it was."""

NEAR = {"part": (2e-3, 1e-7), "rule": (0.11, 0.0), "order": (0.0, 1e-6), "money": (0.0, 0.0)}
"""By how much numbers may differ, absolute and relative. Values of rules are rounded to a tenth, up or down by the
last bit."""


def results(raw: bytes, name: str) -> Results:
    """Every row for the kitchen file ``raw``. Raises InputError if it does not open."""
    kitchen = read_kitchen(raw, name)
    plans = cut_plans(kitchen)
    taken = take_off(kitchen, plans=plans.tops, boards=plans.boards)
    return {**_parts(kitchen), **_findings(check(kitchen)), **_orders(taken), **_money(taken)}


def differences(before: Results, now: Results) -> Iterator[str]:
    """Each row that differs, with what it was and what it is."""
    for row in sorted(before.keys() | now.keys()):
        was, is_ = before.get(row, ""), now.get(row, "")
        if not _alike(was.split(), is_.split(), *NEAR[row.split()[0]]):
            yield f"{row}: was {was or 'nothing'}, is {is_ or 'nothing'}"


def read_table(path: Path) -> dict[str, Results]:
    """The results of every kitchen by its name."""
    with path.open(newline="") as stream:
        header, *rows = csv.reader(stream)
    return {name: {r[0]: r[i] for r in rows if r[i]} for i, name in enumerate(header) if i}


def table(found: Mapping[str, Results]) -> list[list[str]]:
    """The rows of the table: names of the kitchens, then each thing with a cell for every kitchen."""
    things = sorted({row for one in found.values() for row in one})
    return [["", *found], *([row, *(one.get(row, "") for one in found.values())] for row in things)]


def _parts(kitchen: Kitchen) -> Results:
    kinds = defaultdict[str, list[Part]](list)
    for part in kitchen.parts:
        kinds[f"part {part.role.split('.')[0]} {part.material}"].append(part)
    return {
        kind: f"{len(some)} {sum(map(solids.volume, some)) / 1e3:.3f} {sum(map(_where, some)):.4f}"
        for kind, some in kinds.items()
    }


def _where(part: Part) -> float:
    """Its bounds (m) as a weighted sum, times its volume (litres): another number if a part moves, grows, or
    changes places with a larger one.
    """
    bounds = zip(WEIGHTS, solids.bounds(part), strict=True)
    return solids.volume(part) / 1e6 * sum(w * x / 1e3 for w, x in bounds)


def _findings(findings: Iterable[Finding]) -> Results:
    rules = defaultdict[str, list[Finding]](list)
    for finding in findings:
        rules[f"rule {finding.rule} {finding.limit:g}"].append(finding)
    return {rule: " ".join(map(_judged, sorted(some, key=_by_value))) for rule, some in rules.items()}


def _by_value(finding: Finding) -> tuple[bool, float]:
    return finding.value is None, finding.value or 0.0


def _judged(finding: Finding) -> str:
    if finding.value is None:
        return "?"
    return f"{'' if finding.verdict is Verdict.MET else '!'}{finding.value:g}"


def _orders(taken: Takeoff) -> Results:
    orders = defaultdict[str, list[float | None]](list)
    for q in taken.quantities:
        orders[f"order {q.item} {q.decor or ''}".strip()].append(q.ordered)
    return {key: " ".join(sorted("?" if x is None else f"{x:.9g}" for x in some)) for key, some in orders.items()}


def _money(taken: Takeoff) -> Results:
    totals = taken.totals
    sums = {"materials": totals.materials, "labour": totals.labour, "net": totals.net, "gross": totals.gross}
    return {f"money {name}": str(value) for name, value in sums.items()}


def _alike(was: list[str], is_: list[str], near: float, share: float) -> bool:
    return len(was) == len(is_) and all(_same(a, b, near, share) for a, b in zip(was, is_, strict=True))


def _same(was: str, is_: str, near: float, share: float) -> bool:
    """Whether two words are the same, or the same number as near as asked, both missed or both met."""
    if was == is_ or "?" in (was, is_):
        return was == is_
    a, b = (float(text.lstrip("!")) for text in (was, is_))
    return was.startswith("!") == is_.startswith("!") and abs(a - b) <= near + share * abs(a)
