"""Options sheet: every line that an option changes, live: prices, rates and amounts are those of the other sheets.

A line that the kitchen has as well takes its price from there; what only the option has, has a price of its own.
Visits, overhead and the least charge follow from what the option changes, as they do in the takeoff.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from openpyxl.worksheet.worksheet import Worksheet

from countersunk.takeoff.counting.labour import TERMS, Work
from countersunk.takeoff.counting.pricing import Charge, LabourLine, MaterialLine
from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report import line_formulas as formulas
from countersunk.takeoff.report.compare import Comparison, Difference, LineState
from countersunk.takeoff.report.comparison_sheet import TOGETHER
from countersunk.takeoff.report.sheets import (
    AMOUNT,
    HEAD,
    MONEY,
    OVER_SUM,
    Book,
    Live,
    Row,
    Value,
    add_sheet,
    set_format,
)

COLUMNS = {
    "Version": 24, "Code": 20, "Description": 44, "Before": 30, "After": 30, "Net before": 11, "Net after": 11,
    "Tax before": 11, "Tax after": 11, "More or less with tax": 14, "Amount": 10, "Allowance": 10, "Packs": 7,
    "Pack holds": 8, "Minutes each": 10, "People": 8, "Price": 9, "Discount %": 10, "Tax %": 7, "Listed": 10,
    "Cost": 10, "More hours on site": 10,
}  # fmt: skip
ABSENT: list[Value] = [None] * 12
LUMPS = ("overhead", "least-charge")
"""Lines that are reckoned from all others, and so stand last."""


@dataclass(frozen=True)
class Places:
    """Rows of the sheets Takeoff (by quantity) and Labour (by work); the last row of Takeoff; the last of Labour
    that is not on the road, and the last.
    """

    material: Mapping[Quantity, int]
    work: Mapping[Work, int]
    last: int
    last_done: int
    last_work: int

    @property
    def hours_on_site(self) -> str:
        """The formula of all hours worked on site; those on the road follow from it."""
        return f'SUMIF(Labour!L2:L{self.last_done},"site",Labour!G2:G{self.last_done})'

    def visits(self, takeoff: Takeoff, hours: str) -> Value | Live:
        """The number of visits, which follows the hours on site where the terms say so."""
        known = {w.source: len(w.ids) for w in self.work}
        travel = takeoff.terms.travel
        count = known.get(TERMS, travel.visits)
        return Live(f"={formulas.visits(travel.visits, travel.hours, hours)}", count) if travel.hours else count

    def way(self, takeoff: Takeoff, work: Work, visits: str) -> str:
        """The amount of time or of kilometres on the road for so many visits."""
        return f"{visits}*{takeoff.terms.travel.km:g}" if work.unit == "km" else f"{visits}"


def add_options(book: Book, takeoff: Takeoff, places: Places, options: Mapping[str, Comparison]) -> Worksheet:
    """A block for each option under its name: its lines, and what they come to together."""
    rows: list[Row] = []
    for name, comparison in options.items():
        rows += _Block(takeoff, places, name, comparison, len(rows) + 2).rows()
    sheet = add_sheet(book, "Options", COLUMNS, rows)
    set_format(sheet, MONEY, "FGHIJQTU")
    set_format(sheet, AMOUNT, "KLNOV")
    for cells in sheet.iter_rows(min_row=2):
        if cells[1].value is None:
            for cell in cells:
                cell.font, cell.border = HEAD, OVER_SUM
    return sheet


@dataclass(frozen=True)
class _Block:
    """The rows of one option, the first of which stands at ``first``."""

    takeoff: Takeoff
    places: Places
    name: str
    comparison: Comparison
    first: int

    def rows(self) -> list[Row]:
        """What changes, then what is reckoned from that, then the sums."""
        lines = self.comparison.lines
        own = [d for d in self.comparison.changed if not _on_the_road(d) and not _lump(d)]
        road = [d for d in lines if _on_the_road(d)] if own else []
        lumps = [d for d in lines if _lump(d)] if own else []
        made = [self._row(d, self.first + i) for i, d in enumerate(own)]
        made += [self._road(d, self.first + len(made) + i, len(own)) for i, d in enumerate(road)]
        made += [self._lump(d, self.first + len(made) + i) for i, d in enumerate(lumps)]
        return [*made, self._sums(len(made))]

    def _row(self, line: Difference, row: int) -> Row:
        after = _line(line.after)
        if after is None:
            return self._side_by_side(line, row, 0, 0, [*ABSENT[:-1], self._hours(line, row)])
        rest = self._material(line, row, after) if isinstance(after, MaterialLine) else self._work(line, row, after)
        net = self._net(row, after)
        return self._side_by_side(line, row, net, self._tax(row, after.charge), rest)

    def _side_by_side(
        self, line: Difference, row: int, net: Value | Live, tax: Value | Live, rest: Row, words: str = ""
    ) -> Row:
        before, after = line.before, line.after
        more = None if line.net is None or line.tax is None else line.net + line.tax
        return [
            self.name,
            line.code,
            words or line.description,
            before.amount if before else "none",
            after.amount if after else "none",
            self._before(line, {"Takeoff": "P", "Labour": "H"}, before.net if before else None, formulas.NO_PRICE),
            net,
            self._before(line, {"Takeoff": "R", "Labour": "J"}, before.tax if before else None, formulas.NO_TAX),
            tax,
            Live(
                f'=IF(OR(ISTEXT(F{row}),ISTEXT(G{row})),"unknown",{_more(row)})',
                formulas.UNKNOWN if more is None else more,
            ),
            *rest,
        ]

    def _before(
        self, line: Difference, columns: Mapping[str, str], known: Decimal | None, gap: str
    ) -> Value | Live:
        place = self._place(line)
        if place is None:
            return 0
        sheet, row = place
        return Live(f"={sheet}!{columns[sheet]}{row}", gap if known is None else known)

    def _place(self, line: Difference) -> tuple[str, int] | None:
        """Sheet and row where the line stands as it is without the option."""
        before = _line(line.before)
        if isinstance(before, MaterialLine):
            return "Takeoff", self.places.material[before.quantity]
        return None if before is None else ("Labour", self.places.work[before.work])

    def _net(self, row: int, after: MaterialLine | LabourLine) -> Live:
        money = after.charge.net if after.charge else formulas.NO_PRICE
        if isinstance(after, LabourLine) or after.quantity.rule == "extras":
            return Live(f"=U{row}", money)
        uplift = formulas.uplift(self.takeoff.totals.uplift.kind, f"U{row}")
        return Live(f'=IF(ISNUMBER(U{row}),U{row}+{uplift},"no price")', money)

    def _tax(self, row: int, charge: Charge | None) -> Live:
        return Live(f"={formulas.tax(f'G{row}', f'S{row}')}", charge.tax if charge else formulas.NO_TAX)

    def _material(self, line: Difference, row: int, after: MaterialLine) -> Row:
        q, c = after.quantity, after.charge
        allowance = q.allowance if q.share is None else Live(f"=K{row}*{round(q.share, 9):g}", q.allowance)
        packs = formulas.packs(after, f"K{row}", f"L{row}", f"N{row}")
        return [
            q.net,
            allowance,
            Live(f"={packs}", formulas.UNKNOWN if after.paid is None else after.paid),
            q.pack,
            None,
            None,
            *self._prices(line, after),
            Live(f"={formulas.listed(f'M{row}', f'Q{row}')}", c.listed if c else formulas.NO_PRICE),
            Live(f"={formulas.cost(f'T{row}', f'R{row}')}", c.cost if c else formulas.NO_PRICE),
            None,
        ]

    def _prices(self, line: Difference, after: MaterialLine) -> Iterator[Value | Live]:
        """Price, discount and tax rate: those of the kitchen as it is, where it buys the same at the same price."""
        before, place = _line(line.before), self._place(line)
        price = after.price.price if after.price and after.charge else None
        values = (price, after.discount, after.charge.rate if after.charge else None)
        same = isinstance(before, MaterialLine) and before.charge and before.price == after.price
        for value, column in zip(values, "KMQ", strict=True):
            yield Live(f"=Takeoff!{column}{place[1]}", value) if place and same else value

    def _work(self, line: Difference, row: int, after: LabourLine, amount: Value | Live = None) -> Row:
        work, c, place = after.work, after.charge, self._place(line)
        at, known = (f"=Labour!{{}}{place[1]}", True) if place else ("", False)
        by_km = work.unit == "km"
        money = formulas.way(f"K{row}") if by_km else formulas.work(f"K{row}", f"O{row}", f"P{row}")
        rate = self.takeoff.totals.kilometre if by_km else self.takeoff.totals.hourly_rate
        tax = c.rate if c else None
        return [
            work.amount if amount is None else amount,
            None,
            None,
            None,
            Live(at.format("E"), work.minutes_each) if known else work.minutes_each,
            Live(at.format("F"), work.people) if known else work.people,
            Live(f"={formulas.KM_CELL if by_km else formulas.RATE_CELL}", 0 if rate is None else rate),
            None,
            Live(at.format("I"), 0 if tax is None else tax) if known else tax,
            None,
            Live(f"={money}", c.cost if c else formulas.NO_PRICE),
            self._hours(line, row),
        ]

    def _hours(self, line: Difference, row: int) -> Value | Live:
        """Hours more on site, by which visits follow; nothing for what is no work there."""
        sides = [_line(side) for side in (line.before, line.after)]
        work = [s.work if isinstance(s, LabourLine) and s.work.on_site else None for s in sides]
        if not any(work) or _on_the_road(line):
            return None
        old, new = (w.minutes / 60 if w else Decimal(0) for w in work)
        place = self._place(line)
        gone = f"-Labour!G{place[1]}" if work[0] and place else ""
        return Live(f"={f'K{row}*O{row}*P{row}/60' if work[1] else '0'}{gone}", new - old)

    def _road(self, line: Difference, row: int, count: int) -> Row:
        after = _line(line.after)
        if not isinstance(after, LabourLine):
            return self._row(line, row)
        every = f"{self.places.hours_on_site}+SUM(V{self.first}:V{self.first + count - 1})"
        visits = self.places.visits(self.comparison.after, every)
        amount: Value | Live = after.work.amount
        if isinstance(visits, Live):
            amount = Live(f"={self.places.way(self.takeoff, after.work, visits.formula[1:])}", after.work.amount)
        rest = self._work(line, row, after, amount)
        return self._side_by_side(line, row, self._net(row, after), self._tax(row, after.charge), rest)

    def _lump(self, line: Difference, row: int) -> Row:
        place, side = self._place(line), line.after or line.before
        found = side.line.charge if side else None
        base = place[1] if place else self.places.last + 1
        sums = (
            f"SUM(Takeoff!P2:P{base - 1})+SUM(Labour!H2:H{self.places.last_work})"
            f"+SUM(G{self.first}:G{row - 1})-SUM(F{self.first}:F{row - 1})"
        )
        overhead = line.code == "overhead"
        money = line.after.net if line.after else Decimal(0)
        net = Live(f"={formulas.with_overhead(sums) if overhead else formulas.up_to_least(sums)}", money)
        rest = [*ABSENT[:8], found.rate if found else None, *ABSENT[9:]]
        tax = Live(f"={formulas.tax(f'G{row}', f'S{row}')}", line.after.tax if line.after else Decimal(0))
        words = "overhead on all lines" if overhead else "what is short of the least charge"
        return self._side_by_side(line, row, net, tax, rest, words)

    def _sums(self, count: int) -> Row:
        """The last row of a block; the sums of no lines are nothing."""
        if not count:
            return [self.name, None, TOGETHER, None, None, 0, 0, 0, 0, 0, *ABSENT]
        lines = [*self.comparison.changed, *(d for d in self.comparison.lines if _follows(d) and not d.changed)]
        known = [
            sum((m for s in sides if s and (m := getattr(s, money)) is not None), Decimal(0))
            for money in ("net", "tax")
            for sides in ([d.before for d in lines], [d.after for d in lines])
        ]
        row = self.first + count
        sums = [Live(f"=SUM({c}{self.first}:{c}{row - 1})", v) for c, v in zip("FGHI", known, strict=True)]
        more = known[1] + known[3] - known[0] - known[2]
        return [self.name, None, TOGETHER, None, None, *sums, Live(f"={_more(row)}", more), *ABSENT]


def _line(side: LineState | None) -> MaterialLine | LabourLine | None:
    return side.line if side else None


def _on_the_road(line: Difference) -> bool:
    side: LineState | None = line.after or line.before
    return side is not None and isinstance(side.line, LabourLine) and side.line.work.source == TERMS


def _lump(line: Difference) -> bool:
    return line.code in LUMPS


def _follows(line: Difference) -> bool:
    return _on_the_road(line) or _lump(line)


def _more(row: int) -> str:
    return f"G{row}+I{row}-F{row}-H{row}"
