"""Offcut stock: every offcut that the firm keeps, each by a number of its own, and a ledger that only grows.

An offcut is free, reserved for a job, taken by it, or scrapped. Every change is a line of the ledger with its job
and hand; where an offcut stands is what its last line says.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.engine import Engine, StoreError
from countersunk.takeoff.jobs.store import Store
from countersunk.takeoff.stock.offcuts import Offcut


class Standing(StrEnum):
    """Where an offcut stands."""

    FREE = "free"
    RESERVED = "reserved"
    TAKEN = "taken"
    SCRAPPED = "scrapped"


@dataclass(frozen=True)
class KeptOffcut:
    """One offcut: its number, on its label too, what it is, where it stands, and the job that it stands for."""

    number: int
    offcut: Offcut
    standing: Standing
    job: str


@dataclass(frozen=True)
class Movement:
    """A line of the ledger."""

    offcut: int
    number: int
    at: str
    hand: str
    standing: Standing
    job: str
    why: str


COLUMNS = "number, material, decor, length, width, price, standing, job"


@dataclass(frozen=True)
class OffcutStock:
    """The offcuts of a store. What a method has returned from is on disk; after an error nothing was changed."""

    engine: Engine
    clock: Callable[[], str]
    next_in: Callable[[str], int]

    def put_in(self, offcuts: Iterable[Offcut], hand: str, job: str = "", why: str = "") -> tuple[int, ...]:
        """Put offcuts into stock, each piece by itself; returns their numbers."""
        with self.engine.changing():
            return self._put_in(offcuts, hand, job, why)

    def _put_in(self, offcuts: Iterable[Offcut], hand: str, job: str, why: str) -> tuple[int, ...]:
        pieces = [o for o in offcuts for _ in range(o.quantity)]
        return tuple(self._new(o, hand, job, why) for o in pieces)

    def _new(self, offcut: Offcut, hand: str, job: str, why: str) -> int:
        number = self.next_in("offcut")
        sizes = (offcut.material, offcut.decor, f"{offcut.length:g}", f"{offcut.width:g}", f"{offcut.price:f}")
        self.engine.run(
            f"INSERT INTO offcut ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, '')",
            [number, *sizes, Standing.FREE.value],
        )
        self._note(number, Standing.FREE, hand, job, why)
        return number

    def kept(self, standings: Collection[Standing] = tuple(Standing), job: str | None = None) -> list[KeptOffcut]:
        """Offcuts that stand so, those for one job if given, in the order of their numbers."""
        marks = ", ".join("?" for _ in standings)
        rows = self.engine.run(
            f"SELECT {COLUMNS} FROM offcut WHERE standing IN ({marks}){' AND job = ?' if job is not None else ''}"
            " ORDER BY number",
            [*(s.value for s in standings), *([job] if job is not None else [])],
        )
        return [_kept(*row) for row in rows]

    def available(self, job: str) -> tuple[Offcut, ...]:
        """What a plan for a job may take: what is free, and what is reserved for it."""
        found = self.kept([Standing.FREE]) + self.kept([Standing.RESERVED], job)
        return tuple(k.offcut for k in sorted(found, key=lambda k: k.number))

    def reserve(self, job: str, ids: Collection[str], hand: str) -> list[int]:
        """Reserve these for a job, and set free what it had reserved besides: asking twice changes nothing.

        Returns their numbers.

        Raises StoreError where one is not free any more.
        """
        with self.engine.changing():
            wanted = {k.number for k in self.kept() if k.offcut.id in ids}
            had = {k.number for k in self.kept([Standing.RESERVED], job)}
            for number in sorted(had - wanted):
                self._move(number, (Standing.RESERVED, job), (Standing.FREE, ""), hand, "not needed by the plan")
            for number in sorted(wanted - had):
                self._move(number, (Standing.FREE, ""), (Standing.RESERVED, job), hand, "")
        return sorted(wanted)

    def cut(self, job: str, left: Iterable[Offcut], hand: str) -> tuple[int, ...]:
        """A job is cut: what was reserved for it is taken, and what it leaves is put in; returns these numbers.

        Raises InputError where the job was cut before, so that nothing is put in twice.
        """
        with self.engine.changing():
            before = "SELECT 1 FROM movement WHERE job = ? AND (why = ? OR standing = ?)"
            if self.engine.run(before, [job, LEFT, Standing.TAKEN.value]):
                raise InputError.at("job", found=f"{job}, which was cut before", allowed="a job that is cut once")
            for kept in self.kept([Standing.RESERVED], job):
                self._move(kept.number, (Standing.RESERVED, job), (Standing.TAKEN, job), hand, "")
            return self._put_in(left, hand, job, LEFT)

    def scrap(self, number: int, hand: str, why: str) -> None:
        """Scrap what is free. Raises StoreError where it is not."""
        with self.engine.changing():
            self._move(number, (Standing.FREE, ""), (Standing.SCRAPPED, ""), hand, why)

    def take_stock(self, present: Collection[int], hand: str) -> tuple[list[int], list[int]]:
        """Put the books right by a count of what lies there: what is missing is scrapped, what was scrapped and is
        there is free again. Returns the numbers of both. Raises InputError for a number that there never was.
        """
        with self.engine.changing():
            known = {k.number: k for k in self.kept()}
            for number in present:
                if number not in known:
                    raise InputError.at("number", found=str(number), allowed=f"1 to {len(known)}")
            gone = [n for n, k in known.items() if k.standing is Standing.FREE and n not in present]
            back = [n for n, k in known.items() if k.standing is Standing.SCRAPPED and n in present]
            for number in gone:
                self._move(number, (Standing.FREE, ""), (Standing.SCRAPPED, ""), hand, "missing when counted")
            for number in back:
                self._move(number, (Standing.SCRAPPED, ""), (Standing.FREE, ""), hand, "found when counted")
        return gone, back

    def movements(self, number: int | None = None) -> tuple[Movement, ...]:
        """The ledger, of one offcut if given, in its order."""
        rows = self.engine.run(
            "SELECT offcut, number, at, hand, standing, job, why FROM movement"
            f"{' WHERE offcut = ?' if number is not None else ''} ORDER BY offcut, number",
            [number] if number is not None else [],
        )
        return tuple(Movement(o, n, at, hand, Standing(s), job, why) for o, n, at, hand, s, job, why in rows)

    def _move(
        self, number: int, now: tuple[Standing, str], then: tuple[Standing, str], hand: str, why: str
    ) -> None:
        moved = self.engine.run(
            "UPDATE offcut SET standing = ?, job = ? WHERE number = ? AND standing = ? AND job = ?"
            " RETURNING number",
            [then[0].value, then[1], number, now[0].value, now[1]],
        )
        if not moved:
            raise StoreError(f"offcut {number} is not {now[0].value} any more; plan again")
        self._note(number, then[0], hand, then[1], why)

    def _note(self, offcut: int, standing: Standing, hand: str, job: str, why: str) -> None:
        ((last,),) = self.engine.run("SELECT coalesce(max(number), 0) FROM movement WHERE offcut = ?", [offcut])
        self.engine.run(
            "INSERT INTO movement (offcut, number, at, hand, standing, job, why) VALUES (?, ?, ?, ?, ?, ?, ?)",
            [offcut, last + 1, self.clock(), hand, standing.value, job, why],
        )


def _kept(
    number: int, material: str, decor: str, length: str, width: str, price: str, standing: str, job: str
) -> KeptOffcut:
    offcut = Offcut(offcut_id(number), material, decor, float(length), float(width), 1, Decimal(price))
    return KeptOffcut(number, offcut, Standing(standing), job)


LEFT = "left over"
"""Why an offcut of a job that was cut came into stock."""

PREFIX = "k"


def offcut_id(number: int) -> str:
    """What a plan calls the offcut of that number: ``k12``."""
    return f"{PREFIX}{number}"


def offcut_stock(store: Store) -> OffcutStock:
    """The offcuts of a store."""
    return OffcutStock(store.engine, store.clock, store.next_in)
