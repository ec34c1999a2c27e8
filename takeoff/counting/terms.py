"""Terms: how a business prices a job and on what conditions, as a file of its own, read strictly.

Mark-up and margin are two things. A *mark-up* of p % is added to the cost: price = cost × (1 + p ÷ 100). A *margin*
of p % is a share of the price: price = cost ÷ (1 − p ÷ 100). So a mark-up of 25 % is a margin of 20 %.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk import shared
from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_checked
from countersunk.model.tolerance import EQUAL
from countersunk.takeoff.measuring.rules import TakeoffRule, TakeoffRules
from countersunk.takeoff.stock.money import HUNDRED, cents
from countersunk.takeoff.stock.money_form import is_locale

Percent = Annotated[float, Field(ge=0, le=100)]
Name = Annotated[str, Field(min_length=1, max_length=80)]
Sentence = Annotated[str, Field(min_length=1, max_length=240)]
Sentences = Annotated[tuple[Sentence, ...], Field(max_length=20)]


class Business(Strict):
    """Who quotes. ``contact`` holds a line of address or telephone each, ``deliver`` where goods are brought to."""

    name: Name
    line: Annotated[str, Field(max_length=120)] = ""
    contact: Annotated[tuple[Sentence, ...], Field(max_length=8)] = ()
    deliver: Annotated[tuple[Sentence, ...], Field(max_length=8)] = ()


class Uplift(Strict):
    """What is added to the cost of what is bought, ``percent`` of the cost (markup) or of the price (margin)."""

    kind: Literal["markup", "margin"]
    percent: Annotated[float, Field(ge=0, le=500)]

    @property
    def rate(self) -> Decimal:
        """Percent, exactly as it was typed."""
        return Decimal(str(self.percent))

    def on(self, cost: Decimal) -> Decimal:
        """What is added to ``cost``, half up to cents.

        >>> Uplift(kind="markup", percent=25.0).on(Decimal(80)), Uplift(kind="margin", percent=20.0).on(Decimal(80))
        (Decimal('20.00'), Decimal('20.00'))
        """
        if self.kind == "markup":
            return cents(cost * self.rate / HUNDRED)
        return cents(cost * HUNDRED / (HUNDRED - self.rate)) - cost

    @property
    def name(self) -> str:
        """``mark-up on materials, 15 % of cost`` or ``margin on materials, 20 % of price``."""
        word = "mark-up" if self.kind == "markup" else "margin"
        return f"{word} on materials, {self.percent:g} % of {self.base}"

    @property
    def base(self) -> str:
        """What the percentage is of."""
        return "cost" if self.kind == "markup" else "price"


class Discount(Strict):
    """Off a supplier's listed prices."""

    supplier: Name
    percent: Percent


class Waste(Strict):
    """Waste in place of the allowance that a rule has of its own, from so many ``jobs`` of one's own."""

    rule: Code
    percent: Percent
    jobs: Annotated[int, Field(ge=0, le=10_000)] = 0


class Extra(Strict):
    """A line that the firm adds to every job, such as a skip, at ``price`` without tax as the customer pays it.

    ``per`` names a measure of takeoff rules, such as ``doors`` or ``exposed-edges``; without it the price is for
    the job. It is the price of each that the measure finds, or in another ``unit`` of a metre, a square metre or
    a kilogram of them. What is ``provisional`` is settled by what it really costs, and the quote says so.
    """

    code: Code
    name: Name
    price: Annotated[float, Field(ge=0, le=100_000)]
    tax: Percent
    per: Code | None = None
    unit: Literal["each", "m", "m2", "kg"] = "each"
    provisional: bool = False


class Travel(Strict):
    """Visits to the site, each there and back: ``km`` at the price of ``rate``, ``minutes`` at the hourly rate.

    ``visits`` is the least; where ``hours`` of work on site, of all people together, go into one visit, there are
    as many as the work takes.
    """

    rate: Code
    visits: Annotated[int, Field(ge=0, le=100)]
    hours: Annotated[float, Field(gt=0, le=100)] | None = None
    km: Annotated[float, Field(ge=0, le=2_000)]
    minutes: Annotated[float, Field(ge=0, le=2_000)]


class Payment(Strict):
    """A part of the price and when it is due."""

    percent: Percent
    when: Name


class Invoicing(Strict):
    """How invoices are written: by the ``tax`` profile of a country, with the firm's ``number`` for it, due after
    so many ``days``, numbered by the year and a count behind ``series``; ``pay`` says how to pay, a line each.
    """

    tax: Code = "gb"
    number: Annotated[str, Field(max_length=40)] = ""
    days: Annotated[int, Field(ge=0, le=365)] = 14
    series: Annotated[str, Field(max_length=12, pattern=r"^([A-Za-z0-9]+[-/]?)?$")] = "INV-"
    pay: Annotated[tuple[Sentence, ...], Field(max_length=8)] = ()


class Handover(Strict):
    """What the customer keeps: how to care for the surface, what to avoid, and about what to call whom."""

    care: Sentences
    avoid: Sentences
    call: Sentences


class Terms(Strict):
    """The file terms.yaml. ``rate`` is the code of an hour's price; ``accept`` names lines that may lack one.

    Prices listed more than ``prices_hold_days`` ago are named on the quote. Articles ``from_stock`` are paid for as
    they are used, and not ordered. ``overhead`` is percent of all lines, and a job costs ``least_charge`` at least,
    both without tax.

    Papers and tables print money and days as in ``locale`` (such as ``de_DE``); a quote first shows the price with
    tax or without it (``shows_tax``), and has the ``views`` of it that are named.
    """

    business: Business
    validity_days: Annotated[int, Field(ge=1, le=365)]
    uplift: Uplift
    discounts: Annotated[tuple[Discount, ...], Field(max_length=100)] = ()
    waste: Annotated[tuple[Waste, ...], Field(max_length=100)] = ()
    rate: Code
    locale: Annotated[str, Field(max_length=20)] = ""
    shows_tax: Literal["with", "without"] = "with"
    views: Annotated[tuple[Literal["trades", "places"], ...], Field(max_length=2)] = ()
    travel: Travel
    prices_hold_days: Annotated[int, Field(ge=1, le=3_650)] | None = None
    from_stock: Annotated[tuple[Code, ...], Field(max_length=400)] = ()
    extras: Annotated[tuple[Extra, ...], Field(max_length=40)] = ()
    overhead: Percent = 0.0
    least_charge: Annotated[float, Field(ge=0, le=1_000_000)] = 0.0
    payment: Annotated[tuple[Payment, ...], Field(max_length=8)] = ()
    invoicing: Invoicing = Invoicing()
    excluded: Sentences = ()
    conditions: Sentences = ()
    cautions: Sentences = ()
    van: Sentences = ()
    handover: Handover
    accept: Annotated[tuple[Code, ...], Field(max_length=100)] = ()

    def discount(self, supplier: str) -> Decimal:
        """Percent off what ``supplier`` lists; nothing for one without a discount."""
        return next((Decimal(str(d.percent)) for d in self.discounts if d.supplier == supplier), Decimal(0))


def load_terms(path: Path = shared.PRICES / "terms.yaml") -> Terms:
    """Read and check the terms. Raises InputError with file and line."""
    return read_checked(path, Terms, _check)


@lru_cache(maxsize=1)
def default_terms() -> Terms:
    """The invented terms that come with the program, read once."""
    return load_terms()


BOARDS = "boards"
"""The rule whose waste holds only while boards are counted by their area."""


def refuse_idle_waste(rules: TakeoffRules, terms: Terms) -> None:
    """Raises InputError for a waste on boards other than the rule's own, where boards are planned on sheets."""
    own = next((rule.allowance for rule in rules.rules if rule.id == BOARDS), 0.0)
    for i, waste in enumerate(terms.waste):
        if waste.rule == BOARDS and abs(waste.percent / 100 - own) > EQUAL:
            raise InputError.at(
                f"waste[{i}]",
                found=f"{waste.percent:g} % on boards, which are cut from whole sheets by a plan",
                allowed=f"{own * 100:g} %, which estimates by area have, or no line",
                advice="take the line out: the plan has every saw cut and offcut",
            )


def with_waste(rules: TakeoffRules, terms: Terms) -> TakeoffRules:
    """``rules`` with the allowances that ``terms`` set. Raises InputError for a rule that there is not."""
    shares = {w.rule: w.percent / 100 for w in terms.waste}
    known = [rule.id for rule in rules.rules]
    for i, waste in enumerate(terms.waste):
        if waste.rule not in known:
            raise InputError.unknown(f"waste[{i}].rule", waste.rule, known, "a rule")
    return rules.model_copy(update={"rules": tuple(_allowing(rule, shares.get(rule.id)) for rule in rules.rules)})


def _allowing(rule: TakeoffRule, allowance: float | None) -> TakeoffRule:
    return rule if allowance is None else rule.model_copy(update={"allowance": allowance})


def _check(terms: Terms) -> None:
    if terms.uplift.kind == "margin" and terms.uplift.percent >= 100:
        found, advice = f"{terms.uplift.percent:g}", "kind: markup, which is a percentage of the cost"
        raise InputError.at(
            "uplift.percent", found=found, allowed="a margin below 100 % of the price", advice=advice
        )
    paid = sum((Decimal(str(p.percent)) for p in terms.payment), Decimal(0))
    if terms.payment and paid != HUNDRED:
        raise InputError.at("payment", found=f"{paid.normalize():f} % in all", allowed="parts that add up to 100 %")
    if terms.locale and not is_locale(terms.locale):
        raise InputError.at(
            "locale",
            found=f"'{terms.locale}'",
            allowed="a language and a country, such as en_GB, de_CH or fr_CA, or nothing",
        )
    _check_once("views", list(terms.views))
    _check_once("discounts", [d.supplier for d in terms.discounts])
    _check_once("waste", [w.rule for w in terms.waste])
    _check_once("from_stock", list(terms.from_stock))
    _check_once("extras", [extra.code for extra in terms.extras])


def _check_once(field: str, names: list[str]) -> None:
    for i, name in enumerate(names):
        if name in names[:i]:
            raise InputError.at(f"{field}[{i}]", found=f"'{name}' twice", allowed="each once")
