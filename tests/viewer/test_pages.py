"""No page of a paper ends with a heading alone: read off the positions of the text in the PDF."""

import io
from dataclasses import replace
from datetime import date

import pdfplumber
import pytest

from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.orders import orders
from countersunk.viewer.quoting.customer import Job, quote_data
from countersunk.viewer.quoting.options import NO_OPTIONS
from countersunk.viewer.quoting.typeset import typeset
from countersunk.viewer.quoting.van import van_data
from countersunk.viewer.quoting.workshop import handover_data, orders_data
from tests.lanes import examples
from tests.takeoff.by_hand import small_kitchen

HEADING = (10.9, 14.0)
"""Points: headings of sections are 13 high, those of parts 11; text is 10.5 and less, titles are higher."""

FOOT = 20 / 25.4 * 72
"""Of the page, without its footer, points."""


def alone(pdf):
    """Headings under which nothing stands on their page, each with its page."""
    found = []
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        for number, page in enumerate(book.pages, start=1):
            chars = [c for c in page.chars if c["bottom"] < page.height - FOOT and c["text"].strip()]
            for c in chars:
                is_heading = HEADING[0] <= c["size"] <= HEADING[1]
                column = [d for d in chars if abs(d["x0"] - c["x0"]) < page.width / 4]
                if is_heading and not any(d["top"] > c["bottom"] for d in column):
                    found.append((number, c["text"]))
    return found


@pytest.fixture(scope="module")
def job():
    kitchen = small_kitchen()
    return kitchen, estimate(kitchen), Job(("A. Reader",), date(2026, 3, 2))


@pytest.mark.slow
@pytest.mark.parametrize("more", range(0, 3 * examples(16, 2), 3))
def test_no_heading_of_a_quote_is_alone(job, more):
    """With more and more lines above them, so that each heading comes to the end of a page once."""
    kitchen, taken, whom = job
    lines = tuple(f"Line {i} of what is not included" for i in range(more))
    terms = taken.terms.model_copy(update={"excluded": lines, "conditions": lines[: more // 2]})
    data = quote_data(kitchen, replace(taken, terms=terms), NO_OPTIONS, whom)
    data["scope"][0][0]["lines"] = [f"Line {i}" for i in range(2 * more)]
    assert alone(typeset("quote", {**data, "pictures": []})) == []


@pytest.mark.slow
@pytest.mark.parametrize("more", range(0, 3 * examples(16, 2), 3))
def test_no_heading_of_a_van_list_is_alone(job, more):
    kitchen, taken, whom = job
    data = van_data(kitchen, taken, whom, "R")
    data["groups"][0]["lines"] *= 1 + more
    assert alone(typeset("van-list", data)) == []


@pytest.mark.slow
def test_no_heading_of_orders_and_handover_is_alone(job):
    kitchen, taken, whom = job
    assert alone(typeset("orders", orders_data(taken, orders(taken), whom, "R", "I"))) == []
    assert alone(typeset("handover", handover_data(kitchen, taken, whom, "R"))) == []


def test_a_heading_that_is_alone_is_found():
    import typst

    text = b"#set page(height: 60mm)\n#set text(10pt)\n#v(28mm)\n#text(13pt)[Heading]\n#pagebreak()\nText"
    assert alone(typst.compile(text))[0][0] == 1
