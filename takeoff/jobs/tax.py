"""Tax: how a country counts it and what an invoice says there, as data.

A default to begin with. The law of the place and the firm's accountant decide.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_DOWN, ROUND_HALF_DOWN, ROUND_HALF_UP, Decimal
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.document.schema import Code
from countersunk.model.errors import InputError
from countersunk.model.files.strict import Strict
from countersunk.model.files.strict_yaml import read_file
from countersunk.takeoff.jobs.diary import InvoiceLine, Line, Lines, Taxed
from countersunk.takeoff.stock.money import CENT, HUNDRED

ROUNDING = {"half-up": ROUND_HALF_UP, "half-down": ROUND_HALF_DOWN, "down": ROUND_DOWN}


class TaxProfile(Strict):
    """How tax is counted in a country. ``word`` is what it is called, ``number`` the firm's number for it.

    Tax is reckoned per ``line`` of an invoice, or on the ``total`` at each rate; less than a cent is rounded as
    ``rounding`` says. ``shows`` is what an invoice must carry, ``source`` where all of this is from.
    """

    code: Code
    name: Line
    word: Line
    invoice: Line
    number: Line
    per: Literal["line", "total"]
    rounding: Literal["half-up", "half-down", "down"]
    rates: Annotated[tuple[Annotated[float, Field(ge=0, le=100)], ...], Field(min_length=1, max_length=8)]
    shows: Lines
    source: Line

    def rounded(self, amount: Decimal) -> Decimal:
        """A tax to the cent; what is owed back as what is owed.

        >>> tax_profile("au").rounded(Decimal("0.105")), tax_profile("nz").rounded(Decimal("0.105"))
        (Decimal('0.11'), Decimal('0.10'))
        """
        return amount.quantize(CENT, ROUNDING[self.rounding])

    def sums(self, lines: Iterable[InvoiceLine]) -> tuple[Taxed, ...]:
        """The sum of lines at each rate, the highest rate first, with the tax on it."""
        by_rate: dict[Decimal, list[Decimal]] = {}
        for line in lines:
            by_rate.setdefault(line.rate, []).append(line.net)
        return tuple(self._taxed(rate, nets) for rate, nets in sorted(by_rate.items(), reverse=True))

    def _taxed(self, rate: Decimal, nets: list[Decimal]) -> Taxed:
        net = sum(nets, Decimal("0.00"))
        parts = nets if self.per == "line" else [net]
        return Taxed(
            rate=rate, net=net, tax=sum((self.rounded(n * rate / HUNDRED) for n in parts), Decimal("0.00"))
        )

    def within(self, gross: Decimal, rate: Decimal) -> Decimal:
        """The tax in a price that has it: rate ÷ (100 + rate) of it.

        >>> tax_profile("gb").within(Decimal(120), Decimal(20))
        Decimal('20.00')
        """
        return self.rounded(gross * rate / (HUNDRED + rate))


class TaxProfiles(Strict):
    """The file tax.yaml."""

    profiles: Annotated[tuple[TaxProfile, ...], Field(min_length=1, max_length=40)]


@lru_cache(maxsize=4)
def tax_profiles(path: Path = shared.PRICES / "tax.yaml") -> dict[str, TaxProfile]:
    """Every profile by its code. Raises InputError with file and line."""
    return {profile.code: profile for profile in read_file(path, TaxProfiles)[0].profiles}


def tax_profile(code: str) -> TaxProfile:
    """The profile of that code. Raises InputError for one that there is not."""
    known = tax_profiles()
    if code not in known:
        raise InputError.unknown("tax", code, known, "a country")
    return known[code]
