"""``countersunk job …``: jobs from the first call on, kept in the store."""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from countersunk.viewer.commands.console import Command, Day, Money, encoded, example, left_behind, steps

if TYPE_CHECKING:
    from rich.table import Table

    from countersunk.takeoff.counting.terms import Terms
    from countersunk.takeoff.jobs.diary import Entry, Event, InvoiceSent
    from countersunk.takeoff.jobs.store import JobHead, Store
    from countersunk.takeoff.jobs.story import Story


@click.group()
def job() -> None:
    """Keep jobs: who asked, every revision of the kitchen, and what was done about it.

    The store is a file of yours, made on first use. COUNTERSUNK_STORE names another file, or a database:
    postgresql://user@host/name.
    """


def _hand_option(command: Callable[..., Any]) -> Callable[..., Any]:
    return click.option("--by", "hand", metavar="NAME", help="Who does this; you, if left out.")(command)


def _hand(name: str | None) -> str:
    try:
        return name or getpass.getuser()
    except (KeyError, OSError):  # a user without a name
        return "somebody"


@contextmanager
def _open_store() -> Iterator[Store]:
    from countersunk.takeoff.jobs.store import opened_store

    with opened_store() as store:
        yield store


def _add(number: str, event: Event, hand: str | None) -> None:
    with _open_store() as store:
        store.add(number, len(store.diary(number)), [event], _hand(hand))
        click.echo(f"{number}: {_in_words(event)}")


@job.command(
    "new", cls=Command, epilog=example("countersunk job new --customer 'A. Reader' --street '1 Example Row'")
)
@click.option(
    "--customer", multiple=True, required=True, metavar="TEXT", help="A line of name and address; repeat it."
)
@click.option("--street", default="", help="Where the kitchen is.")
@click.option("--note", default="", help="What was asked for.")
@click.option("--date", "day", type=Day(), help="Day of the call; today if left out.")
@_hand_option
def new(customer: tuple[str, ...], street: str, note: str, day: datetime | None, hand: str | None) -> None:
    """Open a job; prints its number."""
    from countersunk.takeoff.jobs.diary import JobOpened, said

    event = said(JobOpened, customer=customer, street=street, day=_date(day), note=note)
    with _open_store() as store:
        click.echo(store.open_job(event, _hand(hand)))


@job.command("list", cls=Command, epilog=example("countersunk job list --search reader --state drawn"))
@click.option("--search", default="", metavar="WORDS", help="Words in number, customer or street.")
@click.option(
    "--state", default="", help="Only jobs that are so far: enquiry, drawn, quoted, accepted, done, lost."
)
@click.option("--most", type=click.IntRange(1, 10_000), default=50, show_default=True, help="How many at most.")
@click.option("--json", "as_json", is_flag=True, help="Print them as JSON.")
def list_jobs(search: str, state: str, most: int, as_json: bool) -> None:
    """List jobs, the last changed first."""
    from countersunk.model.errors import InputError
    from countersunk.takeoff.jobs.story import State

    states = [s.value for s in State]
    if state and state not in states:
        raise InputError.unknown("--state", state, states)
    with _open_store() as store:
        heads = store.jobs(search, state, most)
    if as_json:
        click.echo(encoded([vars(head) for head in heads]).decode())
        return
    _print(_list_table(heads))


def _print(table: Table) -> None:
    from rich.console import Console

    Console().print(table)


def _list_table(heads: Sequence[JobHead]) -> Table:
    from rich.table import Table

    table = Table(title="Jobs", title_justify="left")
    for name in ("number", "customer", "street", "state", "opened"):
        table.add_column(name)
    for head in heads:
        table.add_row(head.number, head.customer, head.street, head.state, head.opened)
    return table


@job.command("show", cls=Command, epilog=example("countersunk job show 2026-0001"))
@click.argument("number")
@click.option("--json", "as_json", is_flag=True, help="Print the diary as JSON.")
def show(number: str, as_json: bool) -> None:
    """Show how far a job is, and its diary."""
    with _open_store() as store:
        diary, story = store.diary(number), store.story(number)
    if as_json:
        click.echo(encoded(_diary_json(number, story, diary)).decode())
        return
    click.echo(f"{number}: {', '.join(story.customer)}; {story.street or 'no street'}; {story.state}")
    _print(_diary_table(diary))


def _diary_table(diary: Sequence[Entry]) -> Table:
    from rich.table import Table

    table = Table(title="Diary", title_justify="left")
    for name in ("no.", "when", "by", "what"):
        table.add_column(name)
    for entry in diary:
        table.add_row(str(entry.number), entry.at[:16].replace("T", " "), entry.hand, _in_words(entry.event))
    return table


def _diary_json(number: str, story: Story, diary: Sequence[Entry]) -> dict[str, Any]:
    return {
        "number": number,
        "state": story.state.value,
        "revisions": len(story.revisions),
        "diary": [
            {"number": e.number, "at": e.at, "hand": e.hand, "event": e.event.model_dump(mode="json")}
            for e in diary
        ],
    }


def _in_words(event: Event) -> str:
    from countersunk.takeoff.jobs.wording import in_words

    return in_words(event)


@job.command("save", cls=Command, epilog=example("countersunk job save 2026-0001 kitchen.yaml --on 2"))
@click.argument("number")
@click.argument("file")
@click.option(
    "--on", "known", type=click.IntRange(0), help="The revision that the file was made from; the last if left out."
)
@click.option("--note", default="", help="What is new in it.")
@_hand_option
def save(number: str, file: str, known: int | None, note: str, hand: str | None) -> None:
    """Keep a kitchen FILE as the next revision of a job, byte for byte.

    Refused where somebody else has saved one since the revision that the file was made from.
    """
    from countersunk.takeoff.jobs.revisions import save_revision

    with _open_store() as store:
        made = save_revision(store, number, file, _hand(hand), known=known, note=note)
        click.echo(f"{number}: revision {made}")


@job.command("file", cls=Command, epilog=example("countersunk job file 2026-0001 --revision 1 --out kitchen.yaml"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The file to write.")
def file(number: str, revision: int | None, out: Path) -> None:
    """Write a revision's kitchen file as it was saved, and the catalogue that lay beside it."""
    from countersunk.takeoff.jobs.revisions import revision_files

    with _open_store() as store, left_behind() as change:
        for path, data in revision_files(store, number, revision, out).items():
            path.parent.mkdir(exist_ok=True)
            click.echo(change.file(path, data))


@job.command("quote", cls=Command, epilog=example("countersunk job quote 2026-0001 --out quote-1"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--labour", type=click.Path(path_type=Path), help="Your own minutes (YAML), not the invented ones.")
@click.option("--options", type=click.Path(path_type=Path), help="What the customer may choose instead (YAML).")
@click.option("--accept", multiple=True, metavar="CODE", help="A line that may stand without a price; repeat it.")
@click.option("--date", "day", type=Day(), help="Day of the quote; today if left out.")
@click.option("--stills/--no-stills", default=True, help="Show the kitchen and its options (some seconds each).")
@_hand_option
def quote(
    number: str,
    revision: int | None,
    out: Path,
    prices: Path | None,
    terms: Path | None,
    labour: Path | None,
    options: Path | None,
    accept: tuple[str, ...],
    day: datetime | None,
    stills: bool,
    hand: str | None,
) -> None:
    """Quote a revision: every paper is written, and kept with the job as it was sent."""
    from countersunk.viewer.quoting.quote import Asked
    from countersunk.viewer.quoting.sent import send_quote

    asked = Asked(prices, terms, options, accept, day=_date(day), stills=stills, labour=labour)
    with _open_store() as store, left_behind() as change:
        with steps() as step:
            made_number, made = send_quote(store, number, revision, asked, _hand(hand), step)
        change.folder(out, made.files, made.origin)
        click.echo(f"{number}: quote {made_number}, {made.reference}")
        click.echo(out)


@job.command("accept", cls=Command, epilog=example("countersunk job accept 2026-0001 --customer 'A. Reader'"))
@click.argument("number")
@click.option("--quote", "quote_number", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--choose", "chosen", multiple=True, metavar="NAME", help="An option that was ticked; repeat it.")
@click.option("--customer", required=True, help="Who said yes.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@_hand_option
def accept_quote(
    number: str,
    quote_number: int | None,
    chosen: tuple[str, ...],
    customer: str,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Record the customer's yes to a quote, with what was chosen."""
    from countersunk.takeoff.jobs.diary import QuoteAccepted, said

    with _open_store() as store:
        story = store.story(number)
        story.quote(quote_number).sums_with(chosen)
        which = quote_number or len(story.quotes)
    _add(number, said(QuoteAccepted, quote=which, chosen=chosen, customer=customer, day=_date(day)), hand)


@job.command(
    "vary", cls=Command, epilog=example("countersunk job vary 2026-0001 'a socket more' --net 45.50 --rate 20")
)
@click.argument("number")
@click.argument("what")
@click.option("--net", type=Money(), required=True, help="What it costs more without tax; less than 0 for less.")
@click.option("--rate", type=Money(), required=True, help="Percent of tax.")
@click.option("--customer", required=True, help="Who agreed to it.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@_hand_option
def vary(
    number: str,
    what: str,
    net: Decimal,
    rate: Decimal,
    customer: str,
    terms: Path | None,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Record a change that was agreed after the yes, with its price."""
    from countersunk.takeoff.jobs.diary import InvoiceLine, VariationAgreed, said
    from countersunk.takeoff.jobs.tax import tax_profile

    sums = tax_profile(_terms(terms).invoicing.tax).sums([said(InvoiceLine, text=what, rate=rate, net=net)])
    _add(number, said(VariationAgreed, what=what, sums=sums, customer=customer, day=_date(day)), hand)


@job.command("invoice", cls=Command, epilog=example("countersunk job invoice 2026-0001 --out invoice-1"))
@click.argument("number")
@click.option("--stage", type=click.IntRange(1, 8), help="Which part of the price; the next if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="Day of the invoice; today if left out.")
@_hand_option
def invoice(
    number: str, stage: int | None, out: Path, terms: Path | None, day: datetime | None, hand: str | None
) -> None:
    """Write the invoice of a stage, with the variations agreed since the last, numbered without a gap."""
    from countersunk.takeoff.jobs.invoices import next_stage
    from countersunk.viewer.quoting.sent import send_invoice

    with _open_store() as store:
        which = stage or next_stage(store.story(number))
        _write_invoice(
            store, number, send_invoice(store, number, _terms(terms), which, _date(day), _hand(hand)), out
        )


@job.command(
    "credit", cls=Command, epilog=example("countersunk job credit 2026-0001 2026-0003 --why 'wrong name' --out .")
)
@click.argument("number")
@click.argument("invoice_number")
@click.option("--why", required=True, help="What was wrong with it.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--date", "day", type=Day(), help="Day of the credit note; today if left out.")
@_hand_option
def credit(
    number: str,
    invoice_number: str,
    why: str,
    out: Path,
    terms: Path | None,
    day: datetime | None,
    hand: str | None,
) -> None:
    """Take an invoice back by a credit note of its own number; nothing that was sent is changed."""
    from countersunk.viewer.quoting.sent import send_credit

    with _open_store() as store:
        sent = send_credit(store, number, _terms(terms), invoice_number, why, _date(day), _hand(hand))
        _write_invoice(store, number, sent, out)


def _write_invoice(store: Store, number: str, sent: InvoiceSent, out: Path) -> None:
    from countersunk.takeoff.report.origin import program
    from countersunk.viewer.quoting.sent import paper_origin

    files = {name: store.content(content) for name, content in sent.papers.items()}
    with left_behind() as change:
        for path in change.folder(out, files, paper_origin(f"job {sent.number}", number, program())):
            click.echo(path)
    click.echo(f"{number}: {_in_words(sent)}")


@job.command("paid", cls=Command, epilog=example("countersunk job paid 2026-0001 480.00 --how transfer"))
@click.argument("number")
@click.argument("amount", type=Money())
@click.option("--invoice", "invoice_number", default="", help="The invoice that was paid.")
@click.option("--how", default="", help="How it came.")
@click.option("--date", "day", type=Day(), help="When; today if left out.")
@_hand_option
def paid(
    number: str, amount: Decimal, invoice_number: str, how: str, day: datetime | None, hand: str | None
) -> None:
    """Record money that came."""
    from countersunk.model.errors import InputError
    from countersunk.takeoff.jobs.diary import PaymentReceived, said

    if invoice_number:
        with _open_store() as store:
            known = [sent.number for sent in store.story(number).invoices]
        if invoice_number not in known:
            raise InputError.unknown("--invoice", invoice_number, known or ["none was sent"])
    _add(number, said(PaymentReceived, amount=amount, invoice=invoice_number, how=how, day=_date(day)), hand)


@job.command("account", cls=Command, epilog=example("countersunk job account 2026-0001 --json"))
@click.argument("number")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def account(number: str, as_json: bool) -> None:
    """Show what was accepted, varied, asked for and paid, and what is owed, with tax."""
    from countersunk.takeoff.jobs.invoices import account as account_of

    with _open_store() as store:
        story = store.story(number)
    found = account_of(story)
    rows = {
        "accepted": found.accepted,
        "variations": found.varied,
        "asked for": found.invoiced,
        "paid": found.paid,
        "owed": found.owed,
        "not asked for yet": found.to_invoice,
    }
    if found.rounding:
        rows["tax by invoice, not by line of the quote"] = found.rounding
    if as_json:
        click.echo(encoded({name.replace(" ", "_"): f"{value:f}" for name, value in rows.items()}).decode())
        return
    currency = story.quote(story.agreement.quote).currency if story.agreement else ""
    from rich.table import Table

    table = Table(title=f"Account of {number}, {currency} with tax" if currency else f"Account of {number}")
    table.add_column("what")
    table.add_column("amount", justify="right")
    for name, value in rows.items():
        table.add_row(name, f"{value:,.2f}")
    _print(table)


def _date(day: datetime | None) -> date:
    return (day or datetime.now()).date()


def _terms(path: Path | None) -> Terms:
    from countersunk.takeoff.counting.terms import default_terms, load_terms

    return load_terms(path) if path else default_terms()


@job.command("note", cls=Command, epilog=example("countersunk job note 2026-0001 'wants the hob on gas'"))
@click.argument("number")
@click.argument("text")
@_hand_option
def note(number: str, text: str, hand: str | None) -> None:
    """Write something into a job's diary."""
    from countersunk.takeoff.jobs.diary import Noted, said

    _add(number, said(Noted, note=text), hand)


@job.command("close", cls=Command, epilog=example("countersunk job close 2026-0001 --lost --note 'moved house'"))
@click.argument("number")
@click.option("--lost", is_flag=True, help="The customer went elsewhere.")
@click.option("--note", default="", help="Why.")
@_hand_option
def close(number: str, lost: bool, note: str, hand: str | None) -> None:
    """Close a job: done, or lost."""
    from countersunk.takeoff.jobs.diary import JobClosed, said

    _add(number, said(JobClosed, lost=lost, note=note), hand)


@job.command("export", cls=Command, epilog=example("countersunk job export 2026-0001 --out 2026-0001"))
@click.argument("number")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
def export(number: str, out: Path) -> None:
    """Write a job as a folder: its diary as YAML, and every file that it kept."""
    from countersunk.model.files.manifest import Origin, digest
    from countersunk.takeoff.jobs.archive import DIARY, archive
    from countersunk.takeoff.report.origin import program

    with _open_store() as store, left_behind() as change:
        files = archive(store, number)
        for path in change.folder(
            out, files, Origin("job export", number, digest(files[DIARY]), "", "", program())
        ):
            click.echo(path)


@job.command("import", cls=Command, epilog=example("countersunk job import 2026-0001"))
@click.argument("folder", type=click.Path(path_type=Path))
def import_job(folder: Path) -> None:
    """Put a job that was exported into this store, with its number, diary and files as they were."""
    from countersunk.takeoff.jobs.archive import bring_in

    with _open_store() as store:
        click.echo(bring_in(store, folder))


@job.command("backup", cls=Command, epilog=example("countersunk job backup jobs-2026-12-01.sqlite"))
@click.argument("path", type=click.Path(path_type=Path))
def backup(path: Path) -> None:
    """Copy the whole store to a new file while others go on working.

    To go back to it, let COUNTERSUNK_STORE name it, or put it in the place of the store.
    """
    with _open_store() as store:
        store.backup(path)
        click.echo(path)
