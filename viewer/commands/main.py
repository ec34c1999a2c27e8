"""The commands of ``countersunk``; those with much to do of their own stand in modules beside this one.

Exit 0: all well. 1: a finding says must-not. 2: not done, by the input or by a mistake of the program.
Errors go to stderr, results to stdout.
"""

from __future__ import annotations

import re
from pathlib import Path
from threading import Thread
from typing import Literal

import click
from rich.console import Console

from countersunk.model import checks
from countersunk.model.document.schema import Document
from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, kitchen_path
from countersunk.viewer.app.origins import HOSTS, trust_own_pages_only
from countersunk.viewer.commands.actuals import actuals
from countersunk.viewer.commands.catalogue import catalogue
from countersunk.viewer.commands.check import check, cure
from countersunk.viewer.commands.console import (
    Command,
    Commands,
    catalogue_option,
    encoded,
    example,
    left_behind,
    opened,
    own_catalogue,
    steps,
)
from countersunk.viewer.commands.cut import cut, offcut_options
from countersunk.viewer.commands.fit import fit
from countersunk.viewer.commands.job import job
from countersunk.viewer.commands.propose import propose_layouts
from countersunk.viewer.commands.quote import compare_kitchens, prices, quote
from countersunk.viewer.commands.saw import saw
from countersunk.viewer.commands.survey import survey

HOST = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*", re.IGNORECASE)
"""A host name (RFC 1123, 2.1)."""


@click.group(
    cls=Commands, context_settings={"help_option_names": ["-h", "--help"]}, epilog=example("countersunk app corner")
)
@click.version_option(package_name="countersunk")
def main() -> None:
    """One parametric model of a kitchen: shown in 3D, checked for fit and safety, counted and priced.

    FILE is a kitchen file (YAML), or the name of a demo, such as straight, corner, island or studio.
    """


@main.command(cls=Command, epilog=example("countersunk build corner --out corner-build"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--stills/--no-stills", default=True, help="Render pictures too (some seconds).")
@click.option(
    "--mesh",
    type=click.Choice(["stl", "obj", "ply", "3mf"]),
    multiple=True,
    help="Write the solids as well, mm, for other programs; repeat it.",
)
@catalogue_option
def build(file: str, out: Path, stills: bool, mesh: tuple[str, ...]) -> None:
    """Write the 3D model, pictures, findings and takeoff of a kitchen."""
    from countersunk.model.geometry.meshes import meshes_file
    from countersunk.takeoff.counting.takeoff import take_off
    from countersunk.takeoff.report import report
    from countersunk.takeoff.report.origin import kitchen_origin
    from countersunk.viewer.scene.scene import scene
    from countersunk.viewer.stills.stills import render_stills

    kitchen = opened(file)
    files: dict[str, bytes] = {}
    with left_behind() as change:
        with steps() as step:
            step("making the 3D model")
            files["kitchen.glb"] = scene(kitchen).glb
            for kind in mesh:
                step(f"making the solids as {kind}")
                files[f"kitchen.{kind}"] = meshes_file(kitchen.parts, kind)
            step("checking clearances")
            findings = checks.as_json(checks.check(kitchen))
            files["findings.json"] = encoded({"caution": checks.CAUTION, "findings": findings})
            step("counting and pricing")
            taken = take_off(kitchen)
            files |= {"takeoff.csv": report.csv_bytes(taken), "takeoff.xlsx": report.xlsx_bytes(taken)}
            if stills:
                step("rendering pictures")
                files |= render_stills(kitchen)
            paths = change.folder(
                out,
                files,
                kitchen_origin("build", kitchen),
            )
        for path in sorted(paths):
            click.echo(path)


@main.command(cls=Command, epilog=example("countersunk takeoff corner --json"))
@click.argument("file")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--labour", type=click.Path(path_type=Path), help="Your own minutes (YAML), not the invented ones.")
@offcut_options
@click.option("--json", "as_json", is_flag=True, help="Print every line as JSON.")
@catalogue_option
def takeoff(
    file: str,
    prices: Path | None,
    terms: Path | None,
    labour: Path | None,
    offcuts: Path | None,
    keep: Path | None,
    as_json: bool,
) -> None:
    """Count what the kitchen takes, what to order, and what it costs."""
    from countersunk.takeoff.counting.labour import load_labour
    from countersunk.takeoff.counting.takeoff import take_off
    from countersunk.takeoff.counting.terms import load_terms
    from countersunk.takeoff.report import report
    from countersunk.takeoff.stock.offcuts import after, offcuts_csv, read_offcuts
    from countersunk.takeoff.stock.prices import read_prices
    from countersunk.viewer.app.tables import takeoff_tables

    kitchen = opened(file)
    book, agreed = read_prices(prices) if prices else None, load_terms(terms) if terms else None
    stock = read_offcuts(offcuts) if offcuts else ()
    rules = load_labour(labour) if labour else None
    taken = take_off(kitchen, book, labour=rules, terms=agreed, offcuts=stock)
    with left_behind() as change:
        if keep:
            change.file(keep, offcuts_csv(after(stock, taken.cut.used, taken.cut.left)))
        if as_json:
            click.echo(encoded(report.as_json(taken)).decode())
            return
        console = Console()
        for table in takeoff_tables(taken):
            console.print(table)


@main.command(cls=Command, epilog=example("countersunk joins corner --pin cheapest --out pinned.yaml"))
@click.argument("file")
@click.option("--pin", metavar="NUMBER|cheapest", help="The plan to write into a kitchen file.")
@click.option("--out", type=click.Path(path_type=Path), help="Kitchen file to write the pinned plan to.")
@click.option("--free", is_flag=True, help="Include arrangements that the file rules out.")
@click.option("--json", "as_json", is_flag=True, help="Print every plan as JSON.")
@catalogue_option
def joins(file: str, pin: str | None, out: Path | None, free: bool, as_json: bool) -> None:
    """List every way to place the joins of the tops, with its price, or why it cannot be.

    First comes what the program does by itself, marked with a star; the others follow by price. What the file says
    of its joins is kept unless --free is given. --pin writes a plan into a kitchen file.
    """
    from countersunk.takeoff.counting.join_plan import pinned, unpinned
    from countersunk.takeoff.counting.join_plans import join_plans
    from countersunk.viewer.commands import joins as join_command

    if (pin is None) != (out is None):
        raise InputError.at("--pin", found="one of --pin and --out", allowed="both of them, or neither")
    kitchen = opened(file)
    read = kitchen.document
    document = unpinned(read) if free else read
    with steps() as step:
        plans = join_plans(document, kitchen.catalogue, progress=lambda i, n: step(f"building plan {i} of {n}"))
    if pin is not None and out is not None:
        made = pinned(read, join_command.chosen(plans, pin))
        with left_behind() as change:
            click.echo(change.file(out, kitchen_file(file).saying(made).raw))
    elif as_json:
        click.echo(encoded({"plans": join_command.as_json(plans)}).decode())
    else:
        console = Console()
        for table in join_command.tables(plans):
            console.print(table, highlight=False)


@main.command(cls=Command, epilog=example("countersunk draw corner --out corner-papers"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option(
    "--templates",
    type=click.Choice(["a4", "a3"]),
    default="a4",
    show_default=True,
    help="Pages that the full-size templates are printed on.",
)
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--offcuts", type=click.Path(path_type=Path), help="What the firm has, taken from first (CSV).")
@catalogue_option
def draw(
    file: str, out: Path, templates: Literal["a4", "a3"], prices: Path | None, offcuts: Path | None
) -> None:  # fmt: skip
    """Write the papers to cut from: drawings and full-size templates (PDF, DXF, SVG).

    Prices and offcuts decide what the tops are cut from. Sheets that an earlier run wrote there and that are no
    longer drawn are removed; the folder is changed over as one.
    """
    from countersunk.takeoff.plans.cut_plans import cut_plans
    from countersunk.takeoff.report.origin import kitchen_origin
    from countersunk.takeoff.stock.offcuts import read_offcuts
    from countersunk.takeoff.stock.prices import read_prices
    from countersunk.viewer.drawing.papers import all_papers

    kitchen = opened(file)
    book, stock = read_prices(prices) if prices else None, read_offcuts(offcuts) if offcuts else ()
    with left_behind() as change:
        with steps() as step:
            step("laying out what is cut")
            files = all_papers(kitchen, step, on=templates, plans=cut_plans(kitchen, book, stock))
            origin = kitchen_origin("draw", kitchen, prices)
            written = change.folder(out, files, origin)
        for path in written:
            click.echo(path)


@main.command(cls=Command, epilog=example("countersunk show corner --out kitchen.html"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="HTML file to write.")
@click.option("--beside", metavar="FILE", help="A second version, shown beside the first.")
@catalogue_option
def show(file: str, out: Path, beside: str | None) -> None:
    """Write the kitchen in 3D as one page for the customer: it opens from disk, without a network."""
    from countersunk.viewer.app.customer_html import customer_html

    second = opened(beside) if beside else None
    with left_behind() as change:
        click.echo(change.file(out, customer_html(opened(file), second)))


@main.command(cls=Command, epilog=example("countersunk mirror corner --out mirrored.yaml"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Kitchen file to write.")
@catalogue_option
def mirror(file: str, out: Path) -> None:
    """Write the kitchen file of the same kitchen mirrored: left for right, walls, runs, hands and all.

    What is bought is not mirrored; a sink with its bowl on the left keeps it there.
    """
    from countersunk.model.edit.mirror import reflected

    made = reflected(opened(file))
    with left_behind() as change:
        click.echo(change.file(out, kitchen_file(file).saying(made).raw))


@main.command(cls=Command, epilog=example("countersunk schema > kitchen.schema.json"))
def schema() -> None:
    """Print the JSON Schema of a kitchen file, for an editor to complete and check it."""
    click.echo(
        encoded(
            {"$schema": "https://json-schema.org/draft/2020-12/schema", **Document.model_json_schema()}
        ).decode()
    )


def _named_hosts(ctx: click.Context, param: click.Parameter, names: tuple[str, ...]) -> tuple[str, ...]:
    for name in names:
        if not HOST.fullmatch(name):
            raise click.BadParameter(
                f"{ascii(name)[:60]} is no host name, such as kitchens.example.org.", ctx, param
            )
    return names


@main.command(cls=Command, epilog=example("countersunk app corner"))
@click.argument("file", required=False)
@click.option("--port", type=click.IntRange(1, 65535), default=8501, help="Port on this machine.")
@click.option("--browser/--no-browser", default=True, help="Open a browser window.")
@click.option("--host", "hosts", multiple=True, metavar="NAME", callback=_named_hosts,
              help="A name under which a reverse proxy on this machine serves it too; repeat it.")  # fmt: skip
@catalogue_option
def app(file: str | None, port: int, browser: bool, hosts: tuple[str, ...]) -> None:
    """Open the app in a browser, on a demo kitchen or a kitchen file.

    Only this machine reaches it. Whoever does may read and change what is open: a proxy must ask who it is.
    """
    from streamlit.web import cli

    kitchen = opened(file or "corner")
    Thread(target=_prepare, args=[kitchen], daemon=True).start()
    own = own_catalogue()
    trust_own_pages_only()
    cli.main(server_arguments(file, port, browser, own.folder if own else None, hosts))


def _prepare(kitchen: Kitchen) -> None:
    """Have what the first page shows while the server starts and the browser comes: both share it."""
    from countersunk.viewer.app import way  # noqa: F401
    from countersunk.viewer.app.places import design, rows_form  # noqa: F401
    from countersunk.viewer.app.reading import read

    read(kitchen.document, b"", kitchen.catalogue)


def server_arguments(
    file: str | None, port: int, browser: bool, catalogue: Path | None = None, hosts: tuple[str, ...] = ()
) -> list[str]:
    """What the framework's command is told: bound to this machine, nothing sent anywhere, no chrome of its own."""
    settings = {
        "server.port": port,
        "server.address": "localhost",
        "server.headless": str(not browser).lower(),
        "server.maxUploadSize": 1,
        "server.fileWatcherType": "none",
        "server.showEmailPrompt": "false",
        "browser.gatherUsageStats": "false",
        "client.toolbarMode": "minimal",
        "client.showErrorDetails": "none",
        "theme.light.primaryColor": "#77420f",
        "theme.dark.primaryColor": "#e0a064",
        "theme.light.baseRadius": "4px",
        "theme.dark.baseRadius": "4px",
    }
    flags = [f"--{name}={value}" for name, value in settings.items()]
    flags += [f"--server.allowedHosts={name}" for name in (*HOSTS, *hosts)]
    script = Path(__file__).parents[1] / "app" / "app.py"
    chosen = [str(kitchen_path(file or "corner").resolve())] if file or catalogue else []
    chosen += [str(catalogue.resolve())] if catalogue else []
    return ["run", str(script), *flags, "--", *chosen]


for command in (
    actuals,
    catalogue,
    check,
    cure,
    cut,
    fit,
    job,
    propose_layouts,
    quote,
    compare_kitchens,
    prices,
    saw,
    survey,
):
    main.add_command(command)

if __name__ == "__main__":
    main()
