"""A year of an invented firm: jobs quoted, ordered, delivered short, varied, invoiced and paid; ledgers balance."""

from __future__ import annotations

import random
from datetime import date, timedelta
from decimal import Decimal

from countersunk.takeoff.jobs.archive import archive, bring_in
from countersunk.takeoff.jobs.diary import (
    GoodsReceived,
    JobOpened,
    OrderLine,
    OrderPlaced,
    PaymentReceived,
    PaymentStage,
    QuoteAccepted,
    QuoteSent,
    RevisionSaved,
    Taxed,
    VariationAgreed,
    gross,
)
from countersunk.takeoff.jobs.invoices import account, credit_note, next_stage, stage_invoice
from countersunk.takeoff.jobs.ordering import delivered
from countersunk.takeoff.jobs.store import opened_store
from countersunk.takeoff.jobs.tax import tax_profile
from countersunk.takeoff.stock.money import HUNDRED, cents
from tests.lanes import examples

JOBS = examples(120, 6)
STAGES = tuple(
    PaymentStage(percent=Decimal(p), when=when) for p, when in ((40, "now"), (50, "on delivery"), (10, "after"))
)
TAX = tax_profile("gb")


class Year:
    """The firm's year, as chance has it."""

    def __init__(self, store, seed: int) -> None:
        self.store, self.chance = store, random.Random(seed)
        self.day = date(2026, 1, 5)

    def add(self, job: str, *events: object) -> None:
        self.store.add(job, len(self.store.diary(job)), events, self.chance.choice(["designer", "fitter"]))

    def story(self, job: str):
        return self.store.story(job)

    def sums(self, most: int) -> tuple[Taxed, ...]:
        rates = (Decimal(20), Decimal(5))[: self.chance.randint(1, 2)]
        nets = {rate: Decimal(self.chance.randint(1, most)) / 100 for rate in rates}
        return tuple(Taxed(rate=rate, net=net, tax=cents(net * rate / HUNDRED)) for rate, net in nets.items())

    def quoted(self, job: str) -> None:
        """Revisions and quotes, each frozen."""
        for number in range(self.chance.randint(1, 5)):
            text = self.store.keep(f"kitchen: {job}.{number}\n".encode())
            self.add(job, RevisionSaved(name="k.yaml", text=text))
            if self.chance.random() < 0.7 or not number:
                paper = self.store.keep(f"the quote of {job}.{number}".encode())
                revision = len(self.story(job).revisions)
                self.add(job, QuoteSent(
                    reference=f"{job}.{number}", revision=revision, day=self.day, valid_until=self.day,
                    currency="GBP", sums=self.sums(900_000), stages=STAGES, papers={"quote.pdf": paper},
                ))  # fmt: skip

    def delivered(self, job: str) -> None:
        """An order that comes in parts, until nothing of it is to come."""
        lines = tuple(
            OrderLine(code=f"a{i}", what=f"article {i}", packs=self.chance.randint(1, 9)) for i in range(5)
        )
        self.add(job, OrderPlaced(number=f"{job}.1", supplier="Yard", revision=1, day=self.day, lines=lines))
        while any(left := self.story(job).orders[-1].open):
            short = [f"{i}:{self.chance.randint(0, packs)}" for i, packs in enumerate(left, start=1) if packs]
            lines = delivered(self.story(job).orders[-1], short, [])
            if lines:
                self.add(job, GoodsReceived(number=f"{job}.1", day=self.day, lines=lines))

    def invoiced(self, job: str) -> None:
        """Stages with variations between them, one of them taken back now and then, most of them paid."""
        for stage in (1, 2, 3):
            if self.chance.random() < 0.4:
                self.add(job, VariationAgreed(
                    what="a change", sums=self.sums(20_000), customer="A. Reader", day=self.day
                ))  # fmt: skip
            self.send(job, self.next_invoice)
            if self.chance.random() < 0.15:
                last = self.story(job).standing_invoices[-1].number
                self.send(job, lambda number, story, last=last: credit_note(story, last, number, self.day, "wrong"))
                self.send(job, self.next_invoice)
            if self.chance.random() < 0.9:
                self.add(job, PaymentReceived(amount=account(self.story(job)).owed, day=self.day))
            assert stage == 3 or next_stage(self.story(job)) == stage + 1

    def next_invoice(self, number: str, story):
        return stage_invoice(story, number, next_stage(story), self.day, 14, TAX)

    def send(self, job: str, make) -> None:
        story = self.story(job)
        known = len(self.store.diary(job))
        self.store.add_numbered(job, known, "invoice", lambda count: make(str(count), story), "estimator")

    def job(self) -> str:
        job = self.store.open_job(JobOpened(customer=("A. Reader",), day=self.day), "designer")
        self.quoted(job)
        if self.chance.random() < 0.75:
            quote = self.chance.randint(1, len(self.story(job).quotes))
            self.add(job, QuoteAccepted(quote=quote, customer="A. Reader", day=self.day))
            self.delivered(job)
            self.invoiced(job)
        self.day += timedelta(2)
        return job


def test_every_ledger_of_a_year_balances(store, tmp_path):
    year = Year(store, 2026)
    jobs = [year.job() for _ in range(JOBS)]
    numbers = []
    for job in jobs:
        story = store.story(job)
        numbers += [int(invoice.number) for invoice in story.invoices]
        found = account(story)
        assert found.owed == sum((gross(i.sums) for i in story.invoices), Decimal(0)) - sum(
            (p.amount for p in story.payments), Decimal(0)
        )
        if story.agreement:
            agreed = sum((s.net for v in (story.agreement, *story.variations) for s in v.sums), Decimal(0))
            asked = sum((s.net for i in story.invoices for s in i.sums), Decimal(0))
            assert asked == agreed
            assert abs(found.rounding) <= Decimal("0.01") * 2 * (3 + len(story.variations))
            assert not any(story.orders[0].open)
    assert sorted(numbers) == list(range(1, len(numbers) + 1))
    with opened_store(str(tmp_path / "again.sqlite")) as again:
        for number, job in enumerate(jobs):
            folder = tmp_path / str(number)
            folder.mkdir()
            for name, data in archive(store, job).items():
                (folder / name).write_bytes(data)
            assert bring_in(again, folder) == job
            assert archive(again, job) == archive(store, job)
