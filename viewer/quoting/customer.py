"""Customer: the quote as data for its sheet. What is printed adds up: sections to the net sum, rates to the tax."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from hashlib import sha256
from typing import Any

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.accepted import missing
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.counting.terms import Payment
from countersunk.takeoff.stock.money import HUNDRED, RULE, cents
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.viewer.drawing.paper import imprint
from countersunk.viewer.quoting.options import NO_OPTIONS, OfferedVersions, PricedOption
from countersunk.viewer.quoting.views import by_place, by_trade
from countersunk.viewer.quoting.words import scope, two_columns

SECTIONS = {
    "worktop": "Worktop with its finishing",
    "boards": "Units, fronts and fittings",
    "hardware": "Units, fronts and fittings",
    "appliances": "Sink, hob, appliances",
    "work": "Making and fitting",
    "site": "Delivery, travel, clearing up",
    "wear": "Delivery, travel, clearing up",
}
"""What a customer reads for each group of lines."""

ON_THE_ROAD = ("travel", "distance")


@dataclass(frozen=True)
class Job:
    """Whom a quote is for, a line each, on which day it is given, and the musts not met that were ``accepted``.

    What is ordered comes to ``deliver``, a line each, where not to the business, and on the day ``wanted``.
    """

    customer: tuple[str, ...]
    day: date
    accepted: tuple[str, ...] = ()
    deliver: tuple[str, ...] = ()
    wanted: date | None = None


def quote_data(kitchen: Kitchen, takeoff: Takeoff, offer: OfferedVersions, job: Job) -> dict[str, Any]:
    """Everything that the sheet prints."""
    terms, totals, amount, said = takeoff.terms, takeoff.totals, takeoff.money.amount, takeoff.money.day
    with_tax = terms.shows_tax == "with"
    return {
        **head(takeoff, job, quote_reference(kitchen, takeoff, offer)),
        "valid": said(job.day + timedelta(days=terms.validity_days)),
        "tops_from": takeoff.tops_from,
        "scope": two_columns(scope(kitchen)),
        "sections": [{"name": name, "amount": amount(value)} for name, value in sections(takeoff).items()],
        "net": amount(totals.net),
        "taxes": [{"name": f"Tax {t.rate:f} % on {amount(t.base)}", "amount": amount(t.tax)} for t in totals.taxes],
        "gross": amount(totals.gross),
        "tax_shown": "with" if with_tax else "without",
        "price": amount(totals.gross if with_tax else totals.net),
        "trades": _trades(takeoff),
        "places": _places(kitchen, takeoff),
        "options": [_option(i, option, takeoff) for i, option in enumerate(offer.options, start=1)],
        "versions": [
            {"name": v.name, "gross": amount(v.gross), "price": amount(v.gross if with_tax else v.net)}
            for v in offer.versions
            if v.gross is not None and v.net is not None
        ],
        "apart": [v.name for v in offer.versions if v.gross is None],
        "left_out": left_out(takeoff),
        "excluded": list(terms.excluded),
        "payment": payments(totals.gross, terms.payment, takeoff.money),
        "conditions": list(terms.conditions),
        "accepted": list(job.accepted),
        "provisional": provisional(takeoff),
        "cautions": list(terms.cautions),
        "rounding": RULE,
        "prices_note": takeoff.price_note,
        "old_prices": old_prices(takeoff, job.day),
    }


def quote_reference(kitchen: Kitchen, takeoff: Takeoff, offer: OfferedVersions) -> str:
    """What names a quote: its kitchen's imprint, and the mark of its prices."""
    return f"{imprint(kitchen)}-{price_mark(takeoff, offer)}"


def price_mark(takeoff: Takeoff, offer: OfferedVersions = NO_OPTIONS) -> str:
    """Four characters that are others once any line or option costs something else."""
    lines = [(line.charge, line.missing) for line in takeoff.materials]
    lines += [(line.charge, line.missing) for line in takeoff.labour]
    said = [
        f"{takeoff.totals.currency} {takeoff.totals.gross}",
        *(f"{charge.net} {charge.tax}" if charge else missing for charge, missing in lines),
        *(f"{version.name} {version.gross}" for version in offer.versions),
    ]
    return sha256("\n".join(said).encode()).hexdigest()[:4].upper()


def head(takeoff: Takeoff, job: Job, reference: str) -> dict[str, Any]:
    """What stands at the top of every paper."""
    return {
        "business": takeoff.terms.business.model_dump(),
        "customer": list(job.customer),
        "kitchen": takeoff.kitchen,
        "day": takeoff.money.day(job.day),
        "reference": reference,
        "currency": takeoff.totals.currency,
        "around": list(takeoff.money.around),
    }


def sections(takeoff: Takeoff) -> dict[str, Decimal]:
    """Net sums under the words that a customer reads; what has no price adds nothing and is named elsewhere."""
    sums = dict.fromkeys(dict.fromkeys(SECTIONS.values()), Decimal("0.00"))
    for line in takeoff.materials:
        if line.charge:
            sums[SECTIONS[line.quantity.group]] += line.charge.net
    for work in takeoff.labour:
        if work.charge:
            sums[SECTIONS["site" if work.work.code in ON_THE_ROAD else "work"]] += work.charge.net
    return {name: value for name, value in sums.items() if value}


def left_out(takeoff: Takeoff) -> list[str]:
    """What stands on the takeoff without a price, as it is called."""
    names: dict[str, list[str]] = {}
    for line in takeoff.materials:
        names.setdefault(line.quantity.item, []).append(line.quantity.description)
    unknown = {takeoff.terms.rate: ["hours of work"]}
    return [name for code in missing(takeoff) for name in names.get(code) or unknown.get(code, [code])]


def old_prices(takeoff: Takeoff, day: date) -> str:
    """How many prices were listed longer ago than the terms allow, and since when; nothing where none was."""
    hold = takeoff.terms.prices_hold_days
    used = [line.price.date for line in takeoff.materials if line.price and line.charge]
    old = [listed for listed in used if hold and (day - listed).days > hold]
    if not old:
        return ""
    since = takeoff.money.day(min(old))
    return f"{len(old)} of {len(used)} prices were listed more than {hold} days before this quote, on {since}."


def provisional(takeoff: Takeoff) -> list[str]:
    """What is settled by what it really costs, with the sum that stands for it, without tax."""
    sums = {f"extra.{extra.code}": extra for extra in takeoff.terms.extras if extra.provisional}
    lines = [(sums[m.quantity.item], m.charge) for m in takeoff.materials if m.quantity.item in sums]
    return [f"{extra.name}, {takeoff.money.amount(charge.net)}" for extra, charge in lines if charge]


def payments(gross: Decimal, parts: Sequence[Payment], money: MoneyForm) -> list[dict[str, str]]:
    """The parts of the price; the last takes what rounding leaves, so that they add up."""
    shares = [cents(gross * Decimal(str(part.percent)) / HUNDRED) for part in parts]
    rest = [*shares[:-1], gross - sum(shares[:-1], Decimal(0))] if shares else []
    return [
        {"percent": f"{part.percent:g} %", "when": part.when, "amount": money.amount(share)}
        for part, share in zip(parts, rest, strict=True)
    ]


def said(day: date) -> str:
    """``2 January 2026``."""
    return f"{day.day} {day:%B} {day.year}"


def _option(number: int, option: PricedOption, takeoff: Takeoff) -> Mapping[str, Any]:
    before, after = takeoff.totals, option.comparison.after.totals
    price, more = after.gross, option.comparison.gross
    if takeoff.terms.shows_tax == "without":
        price, more = after.net, after.net - before.net
    return {
        "name": option.option.name,
        "note": option.option.note,
        "gross": takeoff.money.amount(after.gross),
        "price": takeoff.money.amount(price),
        "difference": "unknown" if more is None else takeoff.money.signed(more),
        "picture": f"option-{number}",
    }


def _trades(takeoff: Takeoff) -> list[dict[str, str]]:
    if "trades" not in takeoff.terms.views:
        return []
    amount = takeoff.money.amount
    return [
        {"name": name, "supplied": amount(supplied), "done": amount(done), "amount": amount(supplied + done)}
        for name, (supplied, done) in by_trade(takeoff).items()
    ]


def _places(kitchen: Kitchen, takeoff: Takeoff) -> list[dict[str, str]]:
    if "places" not in takeoff.terms.views:
        return []
    return [
        {"name": name, "amount": takeoff.money.amount(sum_)} for name, sum_ in by_place(kitchen, takeoff).items()
    ]
