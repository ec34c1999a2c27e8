"""Jobs: opened, found, shown; kitchens saved and written out; jobs moved between stores."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from countersunk.viewer.commands.console import Command, Day, encoded, example, left_behind
from countersunk.viewer.commands.jobs.keeping import (
    add_entry,
    date_of,
    hand_of,
    hand_option,
    in_words,
    opened_store,
    print_rows,
)

if TYPE_CHECKING:
    from countersunk.takeoff.jobs.diary import Entry
    from countersunk.takeoff.jobs.story import Story


@click.command(cls=Command, epilog=example("countersunk job new --customer 'A. Reader' --street '1 Example Row'"))
@click.option(
    "--customer", multiple=True, required=True, metavar="TEXT", help="A line of name and address; repeat it."
)
@click.option("--street", default="", help="Where the kitchen is.")
@click.option("--note", default="", help="What was asked for.")
@click.option("--date", "day", type=Day(), help="Day of the call; today if left out.")
@hand_option
def new(customer: tuple[str, ...], street: str, note: str, day: datetime | None, hand: str | None) -> None:
    """Open a job; prints its number."""
    from countersunk.takeoff.jobs.diary import JobOpened, said

    event = said(JobOpened, customer=customer, street=street, day=date_of(day), note=note)
    with opened_store() as store:
        click.echo(store.open_job(event, hand_of(hand)))


@click.command(cls=Command, epilog=example("countersunk job list --search reader --state drawn"))
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
    with opened_store() as store:
        heads = store.jobs(search, state, most)
    if as_json:
        click.echo(encoded([vars(head) for head in heads]).decode())
        return
    fields = ("number", "customer", "street", "state", "opened")
    print_rows("Jobs", [{name: getattr(head, name) for name in fields} for head in heads])


@click.command(cls=Command, epilog=example("countersunk job show 2026-0001"))
@click.argument("number")
@click.option("--json", "as_json", is_flag=True, help="Print the diary as JSON.")
def show(number: str, as_json: bool) -> None:
    """Show how far a job is, and its diary."""
    with opened_store() as store:
        diary, story = store.diary(number), store.story(number)
    if as_json:
        click.echo(encoded(_diary_json(number, story, diary)).decode())
        return
    click.echo(f"{number}: {', '.join(story.customer)}; {story.street or 'no street'}; {story.state}")
    rows = [(str(e.number), e.at[:16].replace("T", " "), e.hand, in_words(e.event)) for e in diary]
    print_rows("Diary", [dict(zip(("no.", "when", "by", "what"), row, strict=True)) for row in rows])


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


@click.command(cls=Command, epilog=example("countersunk job save 2026-0001 kitchen.yaml --on 2"))
@click.argument("number")
@click.argument("file")
@click.option(
    "--on", "known", type=click.IntRange(0), help="The revision that the file was made from; the last if left out."
)
@click.option("--note", default="", help="What is new in it.")
@hand_option
def save(number: str, file: str, known: int | None, note: str, hand: str | None) -> None:
    """Keep a kitchen FILE as the next revision of a job, byte for byte.

    Refused where somebody else has saved one since the revision that the file was made from.
    """
    from countersunk.takeoff.jobs.revisions import kitchen_text, save_revision

    with opened_store() as store:
        made = save_revision(store, number, kitchen_text(file), hand_of(hand), known=known, note=note)
        click.echo(f"{number}: revision {made}")


@click.command(cls=Command, epilog=example("countersunk job file 2026-0001 --revision 1 --out kitchen.yaml"))
@click.argument("number")
@click.option("--revision", type=click.IntRange(1), help="Which one; the last if left out.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The file to write.")
def file(number: str, revision: int | None, out: Path) -> None:
    """Write a revision's kitchen file as it was saved, and the catalogue that lay beside it."""
    from countersunk.takeoff.jobs.revisions import revision_files

    with opened_store() as store, left_behind() as change:
        for path, data in revision_files(store, number, revision, out).items():
            path.parent.mkdir(exist_ok=True)
            click.echo(change.file(path, data))


@click.command(cls=Command, epilog=example("countersunk job note 2026-0001 'wants the hob on gas'"))
@click.argument("number")
@click.argument("text")
@hand_option
def note(number: str, text: str, hand: str | None) -> None:
    """Write something into a job's diary."""
    from countersunk.takeoff.jobs.diary import Noted, said

    add_entry(number, said(Noted, note=text), hand)


@click.command(cls=Command, epilog=example("countersunk job close 2026-0001 --lost --note 'moved house'"))
@click.argument("number")
@click.option("--lost", is_flag=True, help="The customer went elsewhere.")
@click.option("--note", default="", help="Why.")
@hand_option
def close(number: str, lost: bool, note: str, hand: str | None) -> None:
    """Close a job: done, or lost."""
    from countersunk.takeoff.jobs.diary import JobClosed, said

    add_entry(number, said(JobClosed, lost=lost, note=note), hand)


@click.command(cls=Command, epilog=example("countersunk job export 2026-0001 --out 2026-0001"))
@click.argument("number")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
def export(number: str, out: Path) -> None:
    """Write a job as a folder: its diary as YAML, and every file that it kept."""
    from countersunk.model.files.manifest import Origin, digest
    from countersunk.takeoff.jobs.archive import DIARY, archive
    from countersunk.takeoff.report.origin import program

    with opened_store() as store, left_behind() as change:
        files = archive(store, number)
        for path in change.folder(
            out, files, Origin("job export", number, digest(files[DIARY]), "", "", program())
        ):
            click.echo(path)


@click.command(cls=Command, epilog=example("countersunk job import 2026-0001"))
@click.argument("folder", type=click.Path(path_type=Path))
def import_job(folder: Path) -> None:
    """Put a job that was exported into this store, with its number, diary and files as they were."""
    from countersunk.takeoff.jobs.archive import bring_in

    with opened_store() as store:
        click.echo(bring_in(store, folder))


@click.command(cls=Command, epilog=example("countersunk job backup jobs-2026-12-01.sqlite"))
@click.argument("path", type=click.Path(path_type=Path))
def backup(path: Path) -> None:
    """Copy the whole store to a new file while others go on working.

    To go back to it, let COUNTERSUNK_STORE name it, or put it in the place of the store.
    """
    with opened_store() as store:
        store.backup(path)
        click.echo(path)
