"""What is made of one kitchen: ``countersunk build | takeoff | joins | draw | show | mirror | schema``."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click
from rich.console import Console

from countersunk.model import checks
from countersunk.model.document.schema import Document
from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.errors import InputError
from countersunk.viewer.commands.console import (
    Command,
    catalogue_option,
    encoded,
    example,
    left_behind,
    opened,
    steps,
)
from countersunk.viewer.commands.cut import offcut_options


@click.command(cls=Command, epilog=example("countersunk build corner --out corner-build"))
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
    from countersunk.viewer.photo.photo import lacking, photograph
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
                if missing := lacking():
                    step(f"view.png serves as the photograph: {missing}")
                else:
                    files["photo.png"] = photograph(kitchen, step).png
            paths = change.folder(
                out,
                files,
                kitchen_origin("build", kitchen),
            )
        for path in sorted(paths):
            click.echo(path)


@click.command(cls=Command, epilog=example("countersunk takeoff corner --json"))
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


@click.command(cls=Command, epilog=example("countersunk joins corner --pin cheapest --out pinned.yaml"))
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
        for table in join_command.tables(plans, document.worktop.joins_by):
            console.print(table, highlight=False)


@click.command(cls=Command, epilog=example("countersunk draw corner --out corner-papers"))
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


@click.command(cls=Command, epilog=example("countersunk show corner --out kitchen.html"))
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


@click.command(cls=Command, epilog=example("countersunk mirror corner --out mirrored.yaml"))
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


@click.command(cls=Command, epilog=example("countersunk schema > kitchen.schema.json"))
def schema() -> None:
    """Print the JSON Schema of a kitchen file, for an editor to complete and check it."""
    click.echo(
        encoded(
            {"$schema": "https://json-schema.org/draft/2020-12/schema", **Document.model_json_schema()}
        ).decode()
    )
