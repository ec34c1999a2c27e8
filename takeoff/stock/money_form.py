"""Money form: how the papers of a firm print money and days, by its locale, from the CLDR data of Babel.

Amounts are rounded half up to cents before they are printed, and always have two decimals, so that they add up.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.numbers import format_currency, get_decimal_symbol, get_group_symbol, parse_pattern

from countersunk.takeoff.stock.money import cents


@dataclass(frozen=True)
class MoneyForm:
    """How money of a ``currency`` (ISO 4217) is printed in a ``locale`` such as ``de_CH``; where it is empty with a
    point, commas at the thousands and the currency's code behind it.
    """

    currency: str
    locale: str = ""

    def amount(self, value: Decimal) -> str:
        """Money without its currency.

        >>> MoneyForm("EUR").amount(Decimal("12345.6")), MoneyForm("EUR", "de_DE").amount(Decimal("12345.605"))
        ('12,345.60', '12.345,61')
        """
        value = cents(value)
        if not self.locale:
            return f"{value:,.2f}"
        whole, part = divmod(int(abs(value) * 100), 100)
        return f"{'-' if value < 0 else ''}{self._grouped(f'{whole}')}{self.decimal}{part:02}"

    def whole(self, value: Decimal) -> str:
        """Money with its currency, on the side where the locale has it.

        >>> MoneyForm("EUR").whole(Decimal("5")), MoneyForm("USD", "en_US").whole(Decimal("5"))
        ('5.00 EUR', '$5.00')
        """
        before, after = self.around
        return f"{'−' if value < 0 else ''}{before}{self.amount(abs(value))}{after}"

    def signed(self, value: Decimal) -> str:
        """A difference with its sign, without its currency: ``+12.50``, ``−3.00``, ``0.00``."""
        sign = "+" if value > 0 else "−" if value < 0 else ""
        return f"{sign}{self.amount(abs(value))}"

    def day(self, day: date) -> str:
        """A day as it is written in full.

        >>> MoneyForm("EUR").day(date(2026, 1, 2)), MoneyForm("EUR", "de_DE").day(date(2026, 1, 2))
        ('2 January 2026', '2. Januar 2026')
        """
        return format_date(day, "long", self.locale) if self.locale else f"{day.day} {day:%B} {day.year}"

    @cached_property
    def around(self) -> tuple[str, str]:
        """What stands before an amount and behind it, its blank included."""
        if not self.locale:
            return "", f" {self.currency}"
        pattern = str(Locale.parse(self.locale).currency_formats["standard"].pattern).split(";")[0]
        one = re.sub("[#,0.]+", "0", pattern)
        shown = format_currency(1, self.currency, locale=self.locale, format=one, currency_digits=False)
        before, _, after = shown.partition("1")
        return before, after

    @cached_property
    def decimal(self) -> str:
        """What parts cents from the rest: a point or a comma."""
        return get_decimal_symbol(self.locale) if self.locale else "."

    @property
    def parting(self) -> str:
        """What parts the columns of a table as text, so that a spreadsheet of the locale opens it."""
        return ";" if self.decimal == "," else ","

    def cell(self, number: str) -> str:
        """A plain number for such a table."""
        return number.replace(".", self.decimal)

    @cached_property
    def workbook(self) -> str:
        """The number format of money in a workbook, which a spreadsheet shows by its reader's own settings."""
        if not self.locale:
            return "#,##0.00"
        before, after = (f'"{text}"' if text else "" for text in self.around)
        return f"{before}#,##0.00{after}"

    def _grouped(self, digits: str) -> str:
        """Whole digits parted at the thousands, or wherever else the locale parts them."""
        first, then = parse_pattern(Locale.parse(self.locale).decimal_formats[None].pattern).grouping
        symbol = get_group_symbol(self.locale).replace("'", "\u2019")
        groups, rest = [digits[-first:]], digits[:-first]
        while rest:
            groups, rest = [rest[-then:], *groups], rest[:-then]
        return symbol.join(groups)


def is_locale(text: str) -> bool:
    """Whether there is such a locale."""
    try:
        Locale.parse(text)
    except (UnknownLocaleError, ValueError, TypeError):
        return False
    return True
