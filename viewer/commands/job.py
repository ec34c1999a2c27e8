"""``countersunk job …``: jobs from the first call to the last payment, kept in the store."""

from __future__ import annotations

import click

from countersunk.viewer.commands.console import Commands, example

JOB_COMMANDS = {
    "accept": ("jobs.money:accept_quote", "Record the customer's yes to a quote."),
    "account": ("jobs.money:account", "Show what is agreed, asked for, paid and owed."),
    "backup": ("jobs.diary:backup", "Copy the whole store while others work."),
    "changes": ("jobs.orders:changes", "Show what changed between two revisions, piece by piece."),
    "close": ("jobs.diary:close", "Close a job: done, or lost."),
    "confirm": ("jobs.orders:confirm", "Record a supplier's yes to an order."),
    "credit": ("jobs.money:credit", "Take an invoice back."),
    "cut": ("jobs.orders:cut", "Record that a job is cut, and keep its rests."),
    "export": ("jobs.diary:export", "Write a job as a folder of files."),
    "file": ("jobs.diary:file", "Write the kitchen file of a revision."),
    "import": ("jobs.diary:import_job", "Put in a job that was exported."),
    "invoice": ("jobs.money:invoice", "Ask for the next part of the price."),
    "list": ("jobs.diary:list_jobs", "List jobs, and search them."),
    "new": ("jobs.diary:new", "Open a job."),
    "note": ("jobs.diary:note", "Write something into the diary."),
    "order": ("jobs.orders:order", "Order what is not ordered yet."),
    "orders": ("jobs.orders:orders", "List what is still to come."),
    "paid": ("jobs.money:paid", "Record money that came."),
    "quote": ("jobs.money:quote", "Quote a revision, and keep the papers."),
    "receive": ("jobs.orders:receive", "Tick off a delivery."),
    "reserve": ("jobs.orders:reserve", "Reserve the offcuts that the plan takes."),
    "return": ("jobs.orders:return_goods", "Record packs that go back."),
    "save": ("jobs.diary:save", "Keep a kitchen file as the next revision."),
    "show": ("jobs.diary:show", "Show how far a job is, and its diary."),
    "vary": ("jobs.money:vary", "Record a change agreed after the yes."),
}
"""Where each command is, and what it is for."""


@click.group(cls=Commands, homes=JOB_COMMANDS, epilog=example("countersunk job new --customer 'A. Reader'"))
def job() -> None:
    """Keep jobs: who asked, every revision of the kitchen, and what was done about it.

    The store is a file of yours, made on first use. COUNTERSUNK_STORE names another file, or a database:
    postgresql://user@host/name.
    """
