"""Invoices: what is asked for at each stage of the price, what was paid, and the account of a job."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.diary import (
    InvoiceLine,
    InvoiceSent,
    Taxed,
    gross,
    said,
)
from countersunk.takeoff.jobs.story import Agreement, Story
from countersunk.takeoff.jobs.tax import TaxProfile
from countersunk.takeoff.stock.money import HUNDRED, cents

NOTHING = Decimal("0.00")


def stage_lines(agreement: Agreement, stage: int) -> tuple[InvoiceLine, ...]:
    """A line for each rate of tax: the share of a stage, counted from 1.

    Shares are cut from the running total, so that those of all stages add up to the price to the cent, whatever
    rounding does to each. Raises InputError for a stage that there is not.

    >>> from countersunk.takeoff.jobs.diary import PaymentStage
    >>> sums = (Taxed(rate=Decimal(20), net=Decimal("18000.00"), tax=Decimal("3600.00")),)
    >>> stages = tuple(PaymentStage(percent=Decimal(p), when="then") for p in ("95", "2.5", "2.5"))
    >>> [line.net for i in (1, 2, 3) for line in stage_lines(Agreement(1, sums, stages), i)]
    [Decimal('17100.00'), Decimal('450.00'), Decimal('450.00')]
    """
    stages = agreement.stages
    if not 1 <= stage <= len(stages):
        allowed = f"1 to {len(stages)}" if stages else "terms that name parts of the price"
        raise InputError.at("stage", found=str(stage), allowed=allowed)
    before = sum((s.percent for s in stages[: stage - 1]), NOTHING)
    here = stages[stage - 1]
    words = f"{here.percent.normalize():f} % {here.when}, of quote {agreement.quote}"
    return tuple(
        InvoiceLine(
            text=f"{words} at {taxed.rate.normalize():f} %" if len(agreement.sums) > 1 else words,
            rate=taxed.rate,
            net=_share(taxed.net, before + here.percent) - _share(taxed.net, before),
        )
        for taxed in agreement.sums
    )


def _share(net: Decimal, percent: Decimal) -> Decimal:
    return cents(net * percent / HUNDRED)


def variation_lines(story: Story) -> tuple[InvoiceLine, ...]:
    """A line for each rate of every variation of which no invoice has asked yet."""
    return tuple(
        InvoiceLine(text=f"variation {number}: {variation.what}"[:240], rate=taxed.rate, net=taxed.net)
        for number, variation in story.variations_open()
        for taxed in variation.sums
    )


def next_stage(story: Story) -> int:
    """The first stage of which no invoice has asked, or of which all was credited. Raises InputError for none."""
    asked = {invoice.stage for invoice in story.standing_invoices if invoice.stage}
    stages = range(1, len(story.agreed.stages) + 1)
    left = [stage for stage in stages if stage not in asked]
    if not left:
        raise InputError.at(
            "stage", found="an invoice for every stage", allowed="a stage that is open",
            advice="countersunk job account shows what is owed",
        )  # fmt: skip
    return left[0]


def stage_invoice(story: Story, number: str, stage: int, day: date, days: int, tax: TaxProfile) -> InvoiceSent:
    """The invoice of a stage, with what variations came to so far in it, due after so many days.

    Raises InputError where nothing was accepted, or the stage was asked for already.
    """
    if any(invoice.stage == stage for invoice in story.standing_invoices):
        raise InputError.at(
            "stage", found=f"{stage}, of which an invoice has asked", allowed="a stage that is open"
        )
    lines = (*stage_lines(story.agreed, stage), *variation_lines(story))
    open_numbers = tuple(n for n, _ in story.variations_open())
    return said(
        InvoiceSent, number=number, day=day, due=day + timedelta(days), stage=stage, lines=lines,
        sums=tax.sums(lines), variations=open_numbers,
    )  # fmt: skip


def credit_note(story: Story, credited: str, number: str, day: date, why: str) -> InvoiceSent:
    """The paper that takes an invoice back, whole: its lines and its tax with the sign turned.

    Raises InputError for an invoice that there is not, or that was taken back already.
    """
    standing = {invoice.number: invoice for invoice in story.standing_invoices}
    if credited not in standing:
        raise InputError.unknown("invoice", credited, standing or ["none is open"])
    old = standing[credited]
    lines = tuple(
        InvoiceLine(text=f"{why}: {line.text}"[:240], rate=line.rate, net=-line.net) for line in old.lines
    )
    sums = tuple(Taxed(rate=s.rate, net=-s.net, tax=-s.tax) for s in old.sums)
    return said(InvoiceSent, number=number, day=day, due=day, lines=lines, sums=sums, credits=credited)


@dataclass(frozen=True)
class Account:
    """Where the money of a job stands, with tax; ``rounding`` is what tax by invoice differs by from tax as quoted,
    once every stage was asked for.
    """

    accepted: Decimal
    varied: Decimal
    invoiced: Decimal
    paid: Decimal
    rounding: Decimal | None

    @property
    def owed(self) -> Decimal:
        """Of what was asked for; less than 0 where too much was paid."""
        return self.invoiced - self.paid

    @property
    def to_invoice(self) -> Decimal:
        """What was agreed and not asked for yet."""
        return NOTHING if self.rounding is not None else self.accepted + self.varied - self.invoiced


def account(story: Story) -> Account:
    """The account of a job now."""
    accepted = gross(story.agreement.sums) if story.agreement else NOTHING
    varied = sum((gross(v.sums) for v in story.variations), NOTHING)
    invoiced = sum((gross(i.sums) for i in story.invoices), NOTHING)
    rounding = invoiced - accepted - varied if _all_invoiced(story) else None
    return Account(accepted, varied, invoiced, sum((p.amount for p in story.payments), NOTHING), rounding)


def _all_invoiced(story: Story) -> bool:
    if not story.agreement or story.variations_open():
        return False
    return {i.stage for i in story.standing_invoices if i.stage} == set(range(1, len(story.agreement.stages) + 1))
