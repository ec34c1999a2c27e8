"""``countersunk app``: the app, served to this machine."""

from __future__ import annotations

import re
from pathlib import Path
from threading import Thread

import click

from countersunk.model.kitchen import Kitchen, kitchen_path
from countersunk.viewer.app.origins import HOSTS, trust_own_pages_only
from countersunk.viewer.commands.console import Command, catalogue_option, example, opened, own_catalogue

HOST = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*", re.IGNORECASE)
"""A host name (RFC 1123, 2.1)."""


def _named_hosts(ctx: click.Context, param: click.Parameter, names: tuple[str, ...]) -> tuple[str, ...]:
    for name in names:
        if not HOST.fullmatch(name):
            raise click.BadParameter(
                f"{ascii(name)[:60]} is no host name, such as kitchens.example.org.", ctx, param
            )
    return names


@click.command(cls=Command, epilog=example("countersunk app corner"))
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
