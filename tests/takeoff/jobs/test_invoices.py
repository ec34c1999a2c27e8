"""Tax, stages, credit notes and the account, against published examples and by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.diary import (
    Entry,
    InvoiceLine,
    JobOpened,
    PaymentReceived,
    PaymentStage,
    QuoteAccepted,
    QuotedChoice,
    QuoteSent,
    Taxed,
    VariationAgreed,
    gross,
)
from countersunk.takeoff.jobs.invoices import account, credit_note, next_stage, stage_invoice, stage_lines
from countersunk.takeoff.jobs.story import Agreement, State, Story, story_of
from countersunk.takeoff.jobs.tax import tax_profile, tax_profiles

DAY = date(2026, 3, 2)
D = Decimal


def lines(rate: str, *nets: str) -> list[InvoiceLine]:
    return [InvoiceLine(text="line", rate=D(rate), net=D(net)) for net in nets]


# Own sums by the rules of VATREC12010 to 12030 (UK), GST Act s 9-90 (Australia) and GST Act s 19O (New Zealand).
@pytest.mark.parametrize(("code", "per", "rate", "nets", "tax"), [
    ("gb", "line", "20", ["33.33"] * 3, "20.01"),
    ("gb", "total", "20", ["33.33"] * 3, "20.00"),
    ("gb", "line", "20", ["0.13"] * 3, "0.09"),
    ("gb", "total", "20", ["0.13"] * 3, "0.08"),
    ("au", "total", "10", ["0.14", "0.35", "0.25"], "0.07"),
    ("au", "line", "10", ["0.14", "0.35", "0.25"], "0.08"),
    ("au", "total", "10", ["1.05"], "0.11"),
    ("nz", "total", "10", ["1.05"], "0.10"),
    ("au", "total", "10", ["2132.12"], "213.21"),
])  # fmt: skip
def test_tax_is_rounded_as_the_country_says(code, per, rate, nets, tax):
    profile = tax_profile(code).model_copy(update={"per": per})
    assert [s.tax for s in profile.sums(lines(rate, *nets))] == [D(tax)]


def test_uk_prices_without_tax_may_go_down_to_a_penny():
    down = tax_profile("gb").model_copy(update={"rounding": "down"})
    assert down.sums(lines("20", "0.13", "0.13", "0.13"))[0].tax == D("0.07")


# 120 at 20 %, 115 at 15 % and 80 at 5 %: 20, 15 and 3.81 (examples of the UK tax office, quoted, not seen).
@pytest.mark.parametrize(
    ("price", "rate", "tax"), [("120", "20", "20.00"), ("115", "15", "15.00"), ("80", "5", "3.81")]
)
def test_tax_within_a_price(price, rate, tax):
    assert tax_profile("gb").within(D(price), D(rate)) == D(tax)


def test_every_profile_names_its_source_and_what_an_invoice_shows():
    assert all(profile.source and profile.shows for profile in tax_profiles().values())
    with pytest.raises(InputError, match="'atlantis'"):
        tax_profile("atlantis")


def test_two_rates_are_summed_apart_the_highest_first():
    found = tax_profile("gb").sums([*lines("5", "80.00"), *lines("20", "100.00"), *lines("5", "20.00")])
    assert [(s.rate, s.net, s.tax) for s in found] == [
        (D(20), D("100.00"), D("20.00")),
        (D(5), D("100.00"), D("5.00")),
    ]


@given(
    st.lists(st.integers(1, 60), min_size=1, max_size=7),
    st.lists(st.decimals("0.01", "99999.99", places=2), min_size=1, max_size=3),
)
def test_stages_add_up_to_the_price_to_the_cent(parts, nets):
    parts = [*parts, 1000 - sum(parts)]
    stages = tuple(PaymentStage(percent=D(part) / 10, when="then") for part in parts)
    sums = tuple(Taxed(rate=D(rate), net=net, tax=D("0.00")) for rate, net in enumerate(nets))
    agreement = Agreement(1, sums, stages)
    asked = [line for i in range(1, len(stages) + 1) for line in stage_lines(agreement, i)]
    for taxed in sums:
        assert sum(line.net for line in asked if line.rate == taxed.rate) == taxed.net


SUMS = (Taxed(rate=D(20), net=D("1000.01"), tax=D("200.00")),)
QUOTE = QuoteSent(
    reference="A1B2C3-00FF", revision=1, day=DAY, valid_until=date(2026, 4, 1), currency="GBP", sums=SUMS,
    choices=(QuotedChoice(names=("Oak top",), sums=(Taxed(rate=D(20), net=D("1200.00"), tax=D("240.00")),)),),
    stages=tuple(PaymentStage(percent=D(p), when=w) for p, w in ((40, "now"), (50, "on delivery"), (10, "after"))),
    papers={},
)  # fmt: skip
YES = QuoteAccepted(quote=1, customer="A. Reader", day=DAY)
MORE = VariationAgreed(
    what="a socket more", sums=(Taxed(rate=D(20), net=D("45.50"), tax=D("9.10")),), customer="A. Reader", day=DAY
)


def told(*events: object) -> Story:
    call = JobOpened(customer=("A. Reader",), day=DAY)
    return story_of(Entry(i, "", "", event) for i, event in enumerate((call, *events), start=1))


def test_a_job_is_invoiced_stage_by_stage_to_the_last_cent():
    """By hand: 400.00, 500.01, 100.00 of 1,000.01, the second with 45.50 varied; tax 80.00, 109.10, 20.00."""
    events = [QUOTE, YES]
    for number, more in ((1, []), (2, [MORE]), (3, [])):
        events += more
        story = told(*events)
        events.append(stage_invoice(story, f"2026-{number}", next_stage(story), DAY, 14, tax_profile("gb")))
    invoices = told(*events).invoices
    assert [[line.net for line in i.lines] for i in invoices] == [
        [D("400.00")],
        [D("500.01"), D("45.50")],
        [D("100.00")],
    ]
    assert [gross(i.sums) for i in invoices] == [D("480.00"), D("654.61"), D("120.00")]
    assert invoices[0].due == date(2026, 3, 16)
    found = account(told(*events, PaymentReceived(amount=D("480.00"), day=DAY)))
    assert (found.accepted, found.varied, found.invoiced, found.owed) == (
        D("1200.01"), D("54.60"), D("1254.61"), D("774.61")
    )  # fmt: skip
    assert (found.rounding, found.to_invoice) == (D("0.00"), D("0.00"))
    with pytest.raises(InputError, match="an invoice for every stage"):
        next_stage(told(*events))


def test_what_was_chosen_is_what_is_owed():
    story = told(QUOTE, YES.model_copy(update={"chosen": ("Oak top",)}))
    assert story.state is State.ACCEPTED
    assert account(story).accepted == D("1440.00")
    with pytest.raises(InputError, match="Oak top"):
        QUOTE.sums_with(["Gold top"])


def test_a_credit_note_takes_an_invoice_back_whole_and_opens_its_stage():
    first = stage_invoice(told(QUOTE, YES, MORE), "1", 1, DAY, 14, tax_profile("gb"))
    credit = credit_note(told(QUOTE, YES, MORE, first), "1", "2", DAY, "wrong address")
    story = told(QUOTE, YES, MORE, first, credit)
    assert account(story).invoiced == D("0.00")
    assert next_stage(story) == 1
    assert [number for number, _ in story.variations_open()] == [1]
    with pytest.raises(InputError, match="'1'"):
        credit_note(story, "1", "3", DAY, "again")


def test_no_stage_is_asked_for_twice_and_none_before_the_yes():
    first = stage_invoice(told(QUOTE, YES), "1", 1, DAY, 14, tax_profile("gb"))
    with pytest.raises(InputError, match="of which an invoice has asked"):
        stage_invoice(told(QUOTE, YES, first), "2", 1, DAY, 14, tax_profile("gb"))
    with pytest.raises(InputError, match="whose quote was accepted"):
        stage_invoice(told(QUOTE), "1", 1, DAY, 14, tax_profile("gb"))
