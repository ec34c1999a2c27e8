"""The commands of ``countersunk``; each stands in a module beside this one, and is loaded when it is called.

Exit 0: all well. 1: a finding says must-not. 2: not done, by the input or by a mistake of the program.
Errors go to stderr, results to stdout.
"""

from __future__ import annotations

import click

from countersunk.viewer.commands.console import Commands, example

COMMANDS = {
    "actuals": ("actuals:actuals", "Compare a finished job with its takeoff."),
    "app": ("serving:app", "Open the app in a browser."),
    "build": ("making:build", "Write the 3D model, pictures, findings and takeoff."),
    "catalogue": ("catalogue:catalogue", "Keep a catalogue of your own."),
    "check": ("check:check", "Measure clearances, and list what is missed."),
    "compare": ("quote:compare_kitchens", "List what a new version costs more or less, line by line."),
    "cure": ("check:cure", "List the smallest changes that put right what is missed."),
    "cut": ("cut:cut", "Plan how to cut any list of pieces."),
    "draw": ("making:draw", "Write drawings and full-size templates to cut from."),
    "fit": ("fit:fit", "Solve the widths that a run leaves out."),
    "job": ("job:job", "Keep jobs, from the first call on."),
    "joins": ("making:joins", "List every way to place the joins of the tops."),
    "mirror": ("making:mirror", "Write the same kitchen mirrored."),
    "photo": ("photo:photo", "Write a photograph of the kitchen in its room."),
    "prices": ("quote:prices", "Keep the price book."),
    "propose": ("propose:propose_layouts", "Propose layouts for a surveyed room."),
    "quote": ("quote:quote", "Write the quote, orders, van list and handover."),
    "saw": ("saw:saw", "Write the order of work as a page for a phone at the saw."),
    "schema": ("making:schema", "Print the JSON Schema of a kitchen file."),
    "show": ("making:show", "Write the kitchen in 3D as one page for the customer."),
    "stock": ("stock:stock", "Keep offcuts, each by a number of its own."),
    "survey": ("survey:survey", "Show what became of the measurements."),
    "takeoff": ("making:takeoff", "Count what the kitchen takes, and what it costs."),
}
"""Where each command is, and what it is for."""


@click.group(
    cls=Commands, homes=COMMANDS, context_settings={"help_option_names": ["-h", "--help"]},
    epilog=example("countersunk app corner"),
)  # fmt: skip
@click.version_option(package_name="countersunk")
def main() -> None:
    """One parametric model of a kitchen: shown in 3D, checked for fit and safety, counted and priced.

    FILE is a kitchen file (YAML), or the name of a demo, such as straight, corner, island or studio.
    """


if __name__ == "__main__":
    main()
