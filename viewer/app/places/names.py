"""Names: what the places and their views are called. A place is loaded once it is shown, so they stand apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

DESIGN = {
    "Units": "rows_form", "Room": "room_form", "Propose": "propose_form", "Sink, hob, appliances": "set_in_form",
    "Top and fronts": "top_form", "Job": "job_form",
}  # fmt: skip
"""The forms of the designer, each with its module."""

FIT = ("Findings", "Drawings", "Papers to take along")
COUNT = ("Takeoff", "Cutting plans", "Prices", "Quote and orders", "What it took")

PLACES: Mapping[str, tuple[str, Sequence[str]]] = {
    "Design": ("form", tuple(DESIGN)), "Show": ("", ()), "Fit": ("fit", FIT), "Count": ("count", COUNT),
    "Jobs": ("", ()),
}  # fmt: skip
"""Of each place the key of the choice of its views, and the views; both empty where it has one view."""
