"""Folder: every file that belongs to a quote."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report import compare, report
from countersunk.takeoff.report.orders import orders, orders_csv
from countersunk.viewer.drawing.paper import imprint, reference
from countersunk.viewer.drawing.papers import request_pdf
from countersunk.viewer.quoting.customer import Job, quote_data
from countersunk.viewer.quoting.options import OfferedVersions, PricedOption
from countersunk.viewer.quoting.typeset import typeset
from countersunk.viewer.quoting.van import van_data
from countersunk.viewer.quoting.workshop import file_of, handover_data, orders_data, to_measure_data

Pictures = Mapping[str, bytes]


def quote_files(
    kitchen: Kitchen,
    takeoff: Takeoff,
    offer: OfferedVersions,
    job: Job,
    pictures: Pictures,
    step: Callable[[str], object],
) -> dict[str, bytes]:
    """Every paper and table, by name. ``pictures`` holds ``view``, ``option-1`` … as PNG, or nothing."""
    told, found = reference(kitchen), orders(takeoff)
    data = {**quote_data(kitchen, takeoff, offer, job), "pictures": sorted(pictures)}
    papers: dict[str, Callable[[], bytes]] = {
        "quote.pdf": lambda: typeset("quote", data, pictures),
        "quote.json": lambda: _json(takeoff, offer.options, data),
        "takeoff.xlsx": lambda: report.xlsx_bytes(takeoff, {o.option.name: o.comparison for o in offer.options}),
        "takeoff.csv": lambda: report.csv_bytes(takeoff),
        "orders.pdf": lambda: typeset("orders", orders_data(takeoff, found, job, told, imprint(kitchen))),
        "orders.csv": lambda: orders_csv(found, takeoff.money),
        "van-list.pdf": lambda: typeset("van-list", van_data(kitchen, takeoff, job, told)),
        "handover.pdf": lambda: typeset("handover", handover_data(kitchen, takeoff, job, told)),
    }
    for order in found:
        if drawn := to_measure_data(takeoff, order, job, told, imprint(kitchen)):
            papers[file_of(order.supplier)] = partial(typeset, "to-measure", drawn)
    if (request := request_pdf(kitchen)) is not None:
        papers["template-request.pdf"] = lambda: request
    files = {}
    for name, made in papers.items():
        step(f"making {name}")
        files[name] = made()
    return files


def _json(takeoff: Takeoff, options: Sequence[PricedOption], data: Mapping[str, Any]) -> bytes:
    """The quote as printed, every line behind it, and each option's differences."""
    differences = {option.option.name: compare.as_json(option.comparison) for option in options}
    whole = {"quote": data, "takeoff": report.as_json(takeoff), "options": differences}
    return json.dumps(whole, indent=2, ensure_ascii=False, allow_nan=False).encode()
